"""What is tied to what by wires and joins, whichever wire does it: what most of what a circuit does hangs on.

Two edits after which the same screws are tied, and the same is declared, are one for every rule that asks
only how a circuit works (`Rule.of_ties`): where it refused the one, it refuses the other.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.pieces import pieces
from wirecheck.judge.grouped import grouped
from wirecheck.language.syntax import AtStatement, CapStatement, JoinStatement
from wirecheck.mend.sheet import Sheet
from wirecheck.model.board import Board

Ties = tuple[frozenset[frozenset[str]], frozenset[tuple[int | None, str | None]]]
"""The screws that are tied to others, each with all of those; and the declaring lines that are changed."""


def ties(board: Board, sheet: Sheet) -> Ties:
    """What is tied on the board that a sheet says, and what of it is not declared as in its text."""
    together = pieces((), _pairs(board))
    screws = grouped((head, point) for point, head in together.items() if point in board.terminals)
    tied = frozenset(frozenset(each) for each in screws.values() if len(each) > 1)
    changed: set[tuple[int | None, str | None]] = {
        (line.origin, line.written)
        for line in sheet.lines
        if line.written is not None and _declares(line.statement)
    }
    kept = {line.origin for line in sheet.lines}
    changed |= {
        (number, None)
        for number, said in enumerate(sheet.syntax.statements)
        if number not in kept and _declares(said)
    }
    return tied, frozenset(changed)


def _pairs(board: Board) -> Iterator[tuple[str, str]]:
    for conductor in board.conductors.values():
        first, second = conductor.ends
        yield first, second
    for join in board.joins:
        points = [member.point for member in join.members if member.kind != "pigtail"]
        for point in points[1:]:
            yield points[0], point


def _declares(said: object) -> bool:
    return not isinstance(said, AtStatement | JoinStatement | CapStatement)
