"""What each word of a text is, so that an editor can color it; a wire has its own color's name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal, NamedTuple

from wirecheck.drawing.colors import INSULATION
from wirecheck.editor.opened import Opened
from wirecheck.language.grammar import keywords
from wirecheck.language.mentions import Kind, Mention
from wirecheck.language.reader import MOST_COLUMNS, comment_begins

Role = Literal[
    "comment", "string", "number", "keyword", "operator", "namespace", "variable", "class", "property", "type"
]
ROLES: tuple[Role, ...] = (
    *("comment", "string", "number", "keyword", "operator"),
    *("namespace", "variable", "class", "property", "type"),
)
"""The protocol's own names: a place is a `namespace`, a cable or a wire a `variable`, a device a `class`,
a screw or one wire of a cable a `property`, a part or another word of the trade a `type`."""
COLORS = tuple(INSULATION)
MODIFIERS = ("declaration", *COLORS)

_OF_KIND: dict[Kind, Role] = {
    "panel": "namespace",
    "box": "namespace",
    "breaker": "class",
    "device": "class",
    "connector": "class",
    "cable": "variable",
    "wire": "variable",
    "raceway": "variable",
}
_UNITS = r"(?:[ \t]*(?:cu[ ]in|mm2|kcmil|kohm|Mohm|[A-Za-z%]{1,3}))?"
_PIECE = re.compile(
    rf"""(?P<string>"[^"]*"?)|(?P<operator>--)|(?P<number>(?:\d+[ ])?[\d./]*\d{_UNITS}(?![\w.-]))"""
    r"""|(?P<word>[A-Za-z0-9_][\w.-]*)""",
    re.ASCII,
)


_PIECES: dict[str, Role] = {"string": "string", "operator": "operator", "number": "number"}


class Token(NamedTuple):
    """A stretch of one row; `marks` are some of `MODIFIERS`."""

    line: int
    column: int
    length: int
    role: Role
    marks: tuple[str, ...] = ()


def tokens(now: Opened) -> tuple[Token, ...]:
    """What each piece of the text is, in order of place; none of them overlap.

    >>> from wirecheck.assembly import shipped_parts
    >>> from wirecheck.editor.opened import opened
    >>> text = "cable W1 14/2 NM-B 9 ft from A to B\\nat A\\n  W1.black -- W1.white  # no"
    >>> found = tokens(opened(text, "-", shipped_parts()))
    >>> [(one.column, one.role, *one.marks) for one in found if one.line == 3][:3]
    [(3, 'variable'), (6, 'property', 'black'), (12, 'operator')]
    """
    named: dict[int, list[Mention]] = {}
    for one in now.mentions:
        named.setdefault(one.span.line, []).append(one)
    words = frozenset(keywords().values())
    singles = {}
    if now.board is not None:
        singles = {wire.name: wire.color for wire in now.board.conductors.values() if wire.name == wire.run}
    return tuple(
        token
        for number, row in enumerate(now.syntax.text.split("\n") if now.syntax.text else (), 1)
        if len(row) <= MOST_COLUMNS
        for token in _of_row(number, row, named.get(number, []), words, singles)
    )


def _of_row(
    number: int, row: str, named: list[Mention], words: frozenset[str], singles: dict[str, str]
) -> Iterator[Token]:
    end = comment_begins(row)
    for match in _PIECE.finditer(row, 0, end):
        begin = match.start() + 1
        within = [one for one in named if begin <= one.span.column < match.end() + 1]
        if within:
            yield from _of_name(begin, match[0], within, singles)
        else:
            role = _PIECES.get(match.lastgroup or "") or ("keyword" if match[0] in words else "type")
            yield Token(number, begin, len(match[0]), role)
    if end < len(row):
        yield Token(number, end + 1, len(row) - end, "comment")


def _of_name(begin: int, word: str, within: list[Mention], singles: dict[str, str]) -> Iterator[Token]:
    """The things that a word calls by name, and what it calls inside the last of them."""
    for one in within:
        color = singles.get(one.name, "")
        marks = (*(("declaration",) if one.makes else ()), *((color,) if color in COLORS else ()))
        length = one.span.end_column - one.span.column
        yield Token(one.span.line, one.span.column, length, _OF_KIND[one.kind], marks)
    last = within[-1]
    rest = last.span.end_column + 1
    inside = word[rest - begin :]
    if inside:
        yield Token(last.span.line, rest, len(inside), "property", (inside,) if inside in COLORS else ())
