"""What of a place is not wired yet: the wires that are on nothing, and the screws with nothing under them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from wirecheck.language.syntax import AtStatement, Syntax
from wirecheck.model.board import Board, Conductor, Terminal


def place_at(source: Syntax, line: int) -> str:
    """The place in which a join on a line is made, nothing where none is begun above it.

    >>> from wirecheck.language.reader import read
    >>> place_at(read("at A\\n\\nat B\\n"), 2), place_at(read("at A"), 1)
    ('A', '')
    """
    place = ""
    for statement in source.statements:
        if statement.span.line >= line:
            break
        if isinstance(statement, AtStatement):
            place = statement.place.text
    return place


def loose_wires(board: Board, place: str, line: int) -> Iterator[Conductor]:
    """The wires with an end in a place that is on nothing, as far as the other lines say."""
    taken = {member.point for join in board.joins for member in join.members if member.span.line != line}
    taken |= {point for point, span in board.capped.items() if span.line != line}
    for wire in board.conductors.values():
        if any(
            there == place and end not in taken for there, end in zip(wire.places, wire.ends, strict=True)
        ):
            yield wire


def free_screws(board: Board, place: str, line: int) -> Iterator[Terminal]:
    """The screws in a place that have room for a wire, as far as the other lines say.

    A bar has room always; a screw that is one of several as long as one of them has none.
    """
    taken = Counter(
        member.point
        for join in board.joins
        for member in join.members
        if member.kind == "terminal" and member.span.line != line
    )
    taken.update(point for point, span in board.capped.items() if span.line != line)
    for terminal in board.terminals.values():
        spec = terminal.spec
        if terminal.place == place and ("bar" in spec.flags or taken[terminal.name] < spec.screws):
            yield terminal
