"""Lines of three that cross on the way to a motor, or are one: by the order that things have them in.

What is on their screws decides, and not what the problem points at: that is the motor, at the far end.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wirecheck.judge.grouped import grouped
from wirecheck.language.names import alike
from wirecheck.mend.candidate import Candidate
from wirecheck.mend.edits import Exchange, Tail
from wirecheck.model.board import Board, Conductor, Device

# How likely two lines are swapped that cross, and how much less at the end where they bear the number.
CROSSED = 4.0
BY_NUMBER = 0.5
# How likely a contactor that should reverse a motor lacks the usual crossing.
UNCROSSED = 3.5
PHASES = 3


def crossed(board: Board) -> Iterator[Candidate]:
    """Two wires that lead from two screws in their order to two others against it, swapped at either end."""
    rank = _ranks(board)
    on = {
        member.point: [each.name for each in join.members if each.name in rank]
        for join in board.joins
        for member in join.members
    }
    lines: list[tuple[Conductor, tuple[str, ...]]] = []
    for wire in board.conductors.values():
        screws = [on.get(end, []) for end in wire.ends]
        if all(len(each) == 1 for each in screws):
            lines.append((wire, tuple(each[0] for each in screws)))
    ways = grouped((tuple(rank[screw][0] for screw in screws), (wire, screws)) for wire, screws in lines)
    for way in ways.values():
        for (one, first), (other, second) in itertools.combinations(way, 2):
            near, far = (rank[a][1] - rank[b][1] for a, b in zip(first, second, strict=True))
            if one.places == other.places and near * far < 0:
                ends = zip(one.places, one.by_place, other.by_place, first, second, strict=True)
                for place, end, of_other, a, b in ends:
                    numbered = alike(end, a) + alike(of_other, b)
                    yield Candidate(Exchange(place, end, of_other), CROSSED - BY_NUMBER * numbered)


def uncrossed(device: Device, board: Board) -> Iterator[Candidate]:
    """The first and the third line of a contactor, swapped on the side of the motor.

    Common practice: the contactor that reverses exchanges lines 1 and 3, on its load side (from memory).
    """
    load = [name for name, (side, _) in _ranks(board).items() if side == (device.name, "switched")]
    if len(load) == PHASES:
        yield Candidate(Exchange(device.place, load[0], load[-1]), UNCROSSED)


def doubled(board: Board) -> Iterator[Candidate]:
    """A line of a side that is on the hot of another one, with the tail to the splice of its own number."""
    rank = _ranks(board)
    named = ((join.place, [one.by_place for one in join.members]) for join in board.joins)
    joins = grouped((place, [name for name in names if name in rank]) for place, names in named)
    for place, there in joins.items():
        for one, other in (pair for lines in there for pair in itertools.permutations(lines, 2)):
            if rank[one][0] != rank[other][0]:
                continue
            for lines in there:
                numbered = [name for name in lines if alike(name, one)]
                if one not in lines and numbered:
                    tail = Tail(place, numbered[0], one, leaves=other, lead=True)
                    yield Candidate(tail, CROSSED + BY_NUMBER * len(numbered))


def _ranks(board: Board) -> dict[str, tuple[tuple[str, str], int]]:
    """Which of the lines of its side each screw of a device or breaker is, by its name, with that side."""
    sides = grouped(
        ((terminal.owner, terminal.spec.role), terminal.name)
        for terminal in board.terminals.values()
        if terminal.spec.role in ("hot", "switched", "line")
    )
    return {name: (side, number) for side, names in sides.items() for number, name in enumerate(names)}
