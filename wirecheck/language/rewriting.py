"""Changes of a text as editors take them: a stretch of it, and what goes in its place."""

from __future__ import annotations

from collections.abc import Iterable
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
    rows = text.split("\n")
    begin = sum(len(row) + 1 for row in rows[: span.line - 1]) + span.column - 1
    end = sum(len(row) + 1 for row in rows[: span.end_line - 1]) + span.end_column - 1
    return begin, min(end, len(text))


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
