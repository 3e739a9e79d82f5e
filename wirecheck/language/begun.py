"""A statement that is begun: what is written of it so far, and what may come next."""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from lark.exceptions import UnexpectedInput

from wirecheck.language.grammar import keywords, parser
from wirecheck.language.quantity import SYMBOLS
from wirecheck.language.reader import MOST_COLUMNS, MOST_LINES, comment_begins

_WORD = re.compile(r"[A-Za-z0-9_][\w.-]*$", re.ASCII)
_NUMBER = re.compile(r"(?:^|(?<=[\s(]))(?:\d+(?:[ -]\d+/\d+|\.\d+|/\d+)?)[ \t]*$")
_UNIT = re.compile(r"[A-Za-z%]*$")


class Begun(NamedTuple):
    """A place in a statement.

    `words` are the tokens before the one that is being written, each after the name of its kind; `prefix`
    is what is written of that one, from `column` on. `may` are the kinds of tokens that may stand there,
    `number` is whether a number without a unit stands before it.
    """

    words: tuple[tuple[str, str], ...]
    prefix: str
    column: int
    may: frozenset[str]
    number: bool

    @property
    def last(self) -> str:
        """The word before, nothing at the beginning."""
        return self.words[-1][1] if self.words else ""

    @property
    def first(self) -> str:
        """The word that begins it, nothing at the beginning."""
        return self.words[0][1] if self.words else ""

    def keywords(self) -> list[str]:
        """The words of the language that may stand there."""
        return sorted(
            word for name, word in keywords().items() if name in self.may and (word.isalpha() or word == "--")
        )


def begun(lines: list[str], line: int, column: int) -> Begun | None:
    """What is begun before a place, or None in a comment, in a quote, and where nothing can be read.

    Parameters
    ----------
    lines : the rows of the text
    line, column : the place, each counted from 1

    Examples
    --------
    >>> now = begun(["cable W1 14/2 NM-B 22 ft from L"], 1, 32)
    >>> now.first, now.last, now.prefix, now.column, sorted(now.may)
    ('cable', 'from', 'L', 31, ['NAME'])
    >>> begun(["at A  # the sw"], 1, 14) is None
    True
    """
    if not 1 <= line <= len(lines):
        return None
    row = lines[line - 1][: column - 1]
    if len(row) > MOST_COLUMNS or comment_begins(row) < len(row) or row.count('"') % 2:
        return None
    above = _above(lines, line)
    unit = _UNIT.search(row)
    stem = row[: unit.start()] if unit else row
    if _NUMBER.search(stem) and _is_begun_unit(row[len(stem) :]):
        here = _next(above + stem, row[len(stem) :], len(stem) + 1, number=True)
        if here is not None and here.words[-1][0] == "AMOUNT":
            return here
    match = _WORD.search(row)
    before = row[: match.start()] if match else row
    return _next(above + before, row[len(before) :], len(before) + 1, number=False)


def _next(code: str, prefix: str, column: int, number: bool) -> Begun | None:
    """What may follow a statement's first words, or None where they are none."""
    try:
        interactive: Any = parser().parse_interactive(code)
        tokens = interactive.exhaust_lexer()
        may = frozenset(interactive.accepts())
    except UnexpectedInput:
        return None
    return Begun(tuple((token.type, str(token)) for token in tokens), prefix, column, may, number)


def _is_begun_unit(letters: str) -> bool:
    return any(unit[: len(letters)] == letters for unit in SYMBOLS)


def _above(lines: list[str], line: int) -> str:
    """What a statement has in the rows above, where those go on to this one."""
    rows: list[str] = []
    for number in range(line - 2, max(line - 2 - MOST_LINES, -1), -1):
        row = lines[number]
        code = row[: comment_begins(row)].rstrip()
        if not code and row.strip():
            continue
        if not code.endswith((",", "--")) or len(row) > MOST_COLUMNS:
            break
        rows.append(code + "\n")
    return "".join(reversed(rows))
