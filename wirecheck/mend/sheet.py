"""A board's text as lines that can be rewritten, what was changed in it, and the text that results.

A `Sheet` never changes; an edit gives another. Only what was rewritten is read again, so that a
try costs the check of the board and not the reading of its text.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from wirecheck.language.names import of_end, second_end
from wirecheck.language.reader import read
from wirecheck.language.rewriting import TextEdit, end_of_row, rewritten, whole_rows
from wirecheck.language.syntax import (
    AtStatement,
    CableStatement,
    CapStatement,
    FillsStatement,
    JoinStatement,
    Span,
    Statement,
    Syntax,
    WireStatement,
    Word,
)

Names = tuple[tuple[str | None, str | None], ...]
"""The members of a join: each one's name and what it is marked; of a pigtail None, and its size."""

INDENT = "  "
_NOWHERE = Span(1, 1, 1, 1)


class Line(NamedTuple):
    """One statement. `origin` is its number in the text, None if it is new; `written` is None as it was."""

    statement: Statement
    origin: int | None
    written: str | None = None


class Sheet(NamedTuple):
    """The statements as they stand now, and the text that they come from.

    `staying` are the cables and wires that have both their ends in one place.
    """

    syntax: Syntax
    lines: tuple[Line, ...]
    staying: frozenset[str] = frozenset()

    @property
    def now(self) -> Syntax:
        """What the sheet says now; what was rewritten keeps the place of what it was."""
        return self.syntax._replace(statements=tuple([line.statement for line in self.lines]))

    def joins(self, place: str) -> Iterator[tuple[int, JoinStatement, Names]]:
        """Each join that is made in a place, with its number on the sheet and its members by their ends."""
        for number, said, members in self._said(place):
            if isinstance(said, JoinStatement):
                yield number, said, members

    def caps(self, place: str) -> Iterator[tuple[int, str]]:
        """Each end that is capped in a place, with the number of its line on the sheet."""
        for number, said, ((name, _), *_) in self._said(place):
            if isinstance(said, CapStatement) and name is not None:
                yield number, name

    def beside(self, place: str, name: str) -> tuple[str, ...]:
        """What an end or a screw is joined with in a place, line by line."""
        joined = ([one for one, _ in members if one is not None] for *_, members in self.joins(place))
        return tuple([one for listed in joined if name in listed for one in listed if one != name])

    def _said(self, place: str) -> Iterator[tuple[int, JoinStatement | CapStatement, Names]]:
        """What is said in a place; a wire that stays there is named by its second end from then on."""
        met: set[str] = set()
        for number, line in self.inside(place):
            said = line.statement
            if not isinstance(said, JoinStatement | CapStatement):
                continue
            members = names(said) if isinstance(said, JoinStatement) else ((said.name.text, None),)
            if self.staying:
                members = tuple([(self._end(name, met), mark) for name, mark in members])
            yield number, said, members

    def _end(self, name: str | None, met: set[str]) -> str | None:
        if name is None or run_of(name) not in self.staying:
            return name
        end = second_end(name) if name in met else name
        met.add(name)
        return end

    def inside(self, place: str) -> Iterator[tuple[int, Line]]:
        """What is said under `at` that place."""
        here = False
        for number, line in enumerate(self.lines):
            if isinstance(line.statement, AtStatement):
                here = line.statement.place.text == place
            elif here and isinstance(line.statement, JoinStatement | CapStatement):
                yield number, line

    def changed(self, number: int, written: str | None) -> Sheet:
        """The sheet with one statement written anew, or taken out.

        Raises
        ------
        ValueError
            Where what is written cannot be read as one statement.
        """
        lines = list(self.lines)
        if written is None:
            del lines[number]
        else:
            old = lines[number]
            lines[number] = Line(statement(written, old.statement.span), old.origin, written)
        return self._replace(lines=tuple(lines))

    def added(self, place: str, written: str) -> Sheet:
        """The sheet with one more statement under `at` that place, after what is there."""
        lines = list(self.lines)
        numbers = [
            number
            for number, line in enumerate(lines)
            if isinstance(line.statement, AtStatement) and line.statement.place.text == place
        ]
        if numbers:
            last = max([numbers[0], *(number for number, _ in self.inside(place))])
            new = [Line(statement(written, lines[last].statement.span), None, INDENT + written)]
        else:
            last = max(
                (
                    number
                    for number, line in enumerate(lines)
                    if isinstance(line.statement, AtStatement | JoinStatement | CapStatement)
                ),
                default=len(lines) - 1,
            )
            at, span = f"at {place}", lines[last].statement.span
            new = [
                Line(statement(at, span), None, at),
                Line(statement(written, span), None, INDENT + written),
            ]
        lines[last + 1 : last + 1] = new
        return self._replace(lines=tuple(lines))

    @property
    def meaning(self) -> frozenset[object]:
        """What it says, whatever the order of its joins and of what is in them, and what tails these have."""
        said: set[object] = set()
        place = ""
        for line in self.lines:
            if isinstance(line.statement, AtStatement):
                place = line.statement.place.text
            elif isinstance(line.statement, JoinStatement):
                members = frozenset(one for one in names(line.statement) if one[0] is not None)
                said.add((place, members, how(line.statement)))
            elif line.written is not None or line.origin is None:
                said.add((place, line.written))
        return frozenset(said)

    def edits(self) -> tuple[TextEdit, ...]:
        """What to change in the text so that it says what the sheet does, in order of place.

        No two are at one place, so that whoever makes them needs no order.
        """
        edits: list[TextEdit] = []
        kept = {line.origin for line in self.lines}
        text = self.syntax.text
        for number, was in enumerate(self.syntax.statements):
            if number not in kept:
                edits.append(TextEdit(whole_rows(text, was.span), ""))
        after = Span(1, 1, 1, 1)
        added: dict[Span, str] = {}
        for line in self.lines:
            if line.origin is None:
                spot = end_of_row(text, after)
                added[spot] = added.get(spot, "") + f"\n{line.written}"
                continue
            was = self.syntax.statements[line.origin]
            if line.written is not None:
                edits.append(TextEdit(was.span, line.written))
            after = was.span
        edits += (TextEdit(spot, written) for spot, written in added.items())
        return tuple(sorted(edits, key=lambda edit: edit.span))

    def text(self) -> str:
        """The text with its edits made."""
        return rewritten(self.syntax.text, self.edits())


def sheet(syntax: Syntax) -> Sheet:
    """The sheet of a text, with nothing changed yet."""
    staying = frozenset(
        one.name.text
        for one in syntax.statements
        if isinstance(one, CableStatement | WireStatement)
        and one.ends[0].place.text == one.ends[1].place.text
    )
    return Sheet(
        syntax, tuple([Line(each, number) for number, each in enumerate(syntax.statements)]), staying
    )


def statement(written: str, span: Span) -> Statement:
    """The statement that some words are, as if it stood at that place.

    Raises
    ------
    ValueError
        Where it is not one statement.
    """
    said = read(written)
    if len(said.statements) != 1 or said.problems:
        raise ValueError(f"{written!r} is not one statement")
    (one,) = said.statements
    if isinstance(one, CableStatement | FillsStatement):
        return replace(one, span=span)
    return one._replace(span=span)


def names(join: JoinStatement) -> Names:
    """The members of a join by name and mark, or size."""
    said = ((end.name, end.marked if end.name else end.size) for end in join.ends)
    return tuple((name and name.text, more and more.text) for name, more in said)


def run_of(end: str) -> str:
    """The cable or wire that an end is of, by the name that it has in a join.

    >>> run_of("W1.black"), run_of("N5'")
    ('W1', 'N5')
    """
    return Word(of_end(end), _NOWHERE).path[0]


def how(join: JoinStatement, without: str = "") -> str:
    """What a join says of how it is made, as its line ends: its connector, or that wires are pushed in."""
    options = [(each.name, each.value) for each in join.options if each.name.text != without]
    return "".join(f", {name.text} {value.text}" if value else f", {name.text}" for name, value in options)


def as_join(members: Names, made: str = "") -> str:
    """A join in words; `made` is how it is made, as `how` says it. A line names an end by its wire.

    >>> as_join((("W1.white", "black"), (None, None), ("S1.line", None)))
    'W1.white marked black -- pigtail -- S1.line'
    """
    said = []
    for name, mark in members:
        if name is None:
            said.append(f"pigtail {mark}" if mark else "pigtail")
        else:
            said.append(f"{of_end(name)} marked {mark}" if mark else of_end(name))
    return " -- ".join(said) + made
