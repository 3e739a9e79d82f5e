"""A thermostat's wires: what each carries at its two ends, which are crossed, and their usual colors."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.pieces import pieces
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import join_at
from wirecheck.judge.purpose import is_class_2
from wirecheck.judge.question import question
from wirecheck.model.board import Board, Conductor, Join, Terminal
from wirecheck.parts.part import Carried
from wirecheck.tables.thermostat_colors import usual_colors, usually_carries

# The stages of one call.
STAGES = ({"heat", "second-heat"}, {"cool", "second-cool"})


def carrying(join: Join, board: Board) -> tuple[Terminal, ...]:
    """The terminals in a join whose part says what they carry."""
    screws = (board.terminals[member.name] for member in join.members if member.kind == "terminal")
    return tuple(screw for screw in screws if screw.spec.carries is not None)


def alike(case: Case, owner: str, terminal: Terminal) -> Terminal | None:
    """The terminal of a device that carries the same as a terminal of another one; None where it has none.

    Of several, as RC and RH, the first to which no wire comes from its like: the others have theirs.
    """
    carried = terminal.spec.carries
    names = (f"{owner}.{name}" for name in case.board.devices[owner].part.terminals)
    screws = [
        screw for screw in map(case.board.terminals.__getitem__, names) if screw.spec.carries == carried
    ]
    if len(screws) > 1:
        screws.sort(key=lambda screw: carried in carried_to(case, screw))
    return screws[0] if screws else None


class Crossing(NamedTuple):
    """A wire whose two ends are on terminals that carry different things.

    `here` is the terminal that it is on in `join`, the odd one of the two; `origin` the one at its
    other end; `meant` the terminal of the device here that carries what `origin` carries, if there is one.
    `spliced` is whether another wire goes on from it to there.
    """

    conductor: Conductor
    join: Join
    here: Terminal
    origin: Terminal
    meant: Terminal | None
    spliced: bool = False


def carried_to(case: Case, terminal: Terminal) -> frozenset[Carried | None]:
    """What the terminals carry that the other ends of the wires on a terminal are on."""
    join = join_at(case, terminal.name)
    wires = {member.name for member in join.members if member.kind == "end"} if join else set()
    return frozenset(
        screw.spec.carries
        for other in case.board.joins
        if other is not join and not wires.isdisjoint(member.name for member in other.members)
        for screw in carrying(other, case.board)
    )


@question
def crossings(case: Case) -> tuple[Crossing, ...]:
    """The crossed wires, in order of the text; two that are spliced to each other alone are one wire.

    A wire's color says which of its ends is the odd one; where it does not, the equipment's end is. A
    second stage goes on the only stage that a device has.
    """
    chain = _chains(case)
    landed: dict[str, list[tuple[Join, Terminal, str]]] = {}
    for join in case.board.joins:
        screws = carrying(join, case.board)
        if len(screws) == 1:
            for member in join.members:
                if member.kind == "end":
                    landed.setdefault(chain[member.name], []).append((join, screws[0], member.name))
    told = []
    for ends in landed.values():
        if len(ends) != 2 or ends[0][1].spec.carries == ends[1][1].spec.carries:
            continue
        (_, first, one), (_, second, other) = ends
        if _only_stages(case, first, second):
            continue
        equipment = not case.board.devices[first.owner].part.calls
        odd_first = _usual(case, one) == second.spec.carries or (
            _usual(case, other) != first.spec.carries and equipment
        )
        (join, here, name), (_, origin, _) = ends if odd_first else ends[::-1]
        conductor = case.board.conductors[name]
        told.append(Crossing(conductor, join, here, origin, alike(case, here.owner, origin), one != other))
    return tuple(told)


def _only_stages(case: Case, one: Terminal, other: Terminal) -> bool:
    """Whether two terminals are stages of one call, and each device has no other stage of it."""
    pair = {one.spec.carries, other.spec.carries}
    single = alike(case, one.owner, other) is None and alike(case, other.owner, one) is None
    return pair in STAGES and single


def _usual(case: Case, conductor: str) -> str | None:
    return usually_carries(case.board.conductors[conductor].color)


def _chains(case: Case) -> Mapping[str, str]:
    """The first wire of each row of wires that are spliced end to end, by the name of each of them."""
    splices = [
        (join.members[0].name, join.members[1].name)
        for join in case.board.joins
        if len(join.members) == 2 and all(member.kind == "end" for member in join.members)
    ]
    return pieces(case.board.conductors, splices)


class OddColor(NamedTuple):
    """A wire that is not of a color that is usual for its terminal, in a cable that has such a wire.

    `terminal` is on it in `join`; `better` is the wire of the usual color.
    """

    conductor: Conductor
    join: Join
    terminal: Terminal
    better: Conductor


def odd_colors(case: Case) -> Iterator[OddColor]:
    """The wires of Class 2 cables, once each, that have another color than is usual (common practice)."""
    for run in case.board.runs.values():
        for conductor in filter(is_class_2, run.conductors):
            odd = (
                OddColor(conductor, join, screw, better)
                for end in conductor.ends
                if (join := join_at(case, end)) is not None
                for screw, usual in _with_usual(join, case.board)[:1]
                for color in usual
                for better in run.conductors
                if better.color == color and conductor.color not in usual
            )
            yield from itertools.islice(odd, 1)


def _with_usual(join: Join, board: Board) -> list[tuple[Terminal, tuple[str, ...]]]:
    """The terminals in a join that a color is usual for, with their colors."""
    colors = ((screw, usual_colors(screw.spec.carries)) for screw in carrying(join, board))
    return [(screw, usual) for screw, usual in colors if usual]
