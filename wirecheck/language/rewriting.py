"""Changes of a text as editors take them: a stretch of it, and what goes in its place."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate
from typing import NamedTuple

from wirecheck.language.syntax import Span


class TextEdit(NamedTuple):
    """A stretch of the text, which may be empty, and what goes in its place."""

    span: Span
    text: str


def offsets(text: str, span: Span) -> tuple[int, int]:
    r"""Where a span begins and ends in a text, counted from 0.

    >>> offsets("one\ntwo", Span(2, 1, 2, 4))
    (4, 7)
    """
    begins = _begins(text)
    begin = begins[span.line - 1] + span.column - 1
    end = begins[span.end_line - 1] + span.end_column - 1
    return begin, min(end, len(text))


@lru_cache(maxsize=2)
def _begins(text: str) -> tuple[int, ...]:
    """Where each row begins: of one text a search for mistakes asks it ten thousand times."""
    return tuple(accumulate((len(row) + 1 for row in text.split("\n")), initial=0))


def covered(text: str, span: Span) -> str:
    r"""What a span covers.

    >>> covered("one\ntwo", Span(1, 2, 2, 2))
    'ne\nt'
    """
    begin, end = offsets(text, span)
    return text[begin:end]


def rewritten(text: str, edits: Iterable[TextEdit]) -> str:
    r"""A text with edits made, each counted in the text as it was; they may not overlap.

    >>> rewritten("one\ntwo", (TextEdit(Span(1, 1, 1, 4), "1"), TextEdit(Span(2, 4, 2, 4), "\nthree")))
    '1\ntwo\nthree'
    """
    pieces, done = [], 0
    for edit in sorted(edits, key=lambda edit: edit.span):
        begin, end = offsets(text, edit.span)
        pieces += [text[done:begin], edit.text]
        done = max(done, end)
    return "".join([*pieces, text[done:]])


def end_of_row(text: str, span: Span) -> Span:
    r"""Where the row ends in which a span does: nothing, before the newline.

    >>> end_of_row("one # first\ntwo", Span(1, 1, 1, 4))
    Span(line=1, column=12, end_line=1, end_column=12)
    """
    column = len(text.split("\n")[span.end_line - 1]) + 1
    return Span(span.end_line, column, span.end_line, column)


def whole_rows(text: str, span: Span) -> Span:
    r"""A statement with its rows, where nothing but a comment stands there beside it.

    >>> whole_rows("  one # first\ntwo", Span(1, 3, 1, 6))
    Span(line=1, column=1, end_line=2, end_column=1)
    >>> whole_rows("one\ntwo", Span(2, 1, 2, 4))
    Span(line=2, column=1, end_line=2, end_column=4)
    """
    rows = text.split("\n")
    before = rows[span.line - 1][: span.column - 1]
    after = rows[span.end_line - 1][span.end_column - 1 :].strip()
    if before.strip() or (after and after[0] != "#") or span.end_line == len(rows):
        return span
    return Span(span.line, 1, span.end_line + 1, 1)
