"""A contactor opens one hot of a load, and has a pole for the other, which goes past it.

The load stops when the contactor lets go, and is live all the same: whoever takes that for off gets a shock.
A lead in the wrong joint does it, and so does a motor's capacitor that is fed ahead of the contactor. The
code lets a contactor leave a hot, as one of a single pole does. One that has a pole for it was meant to open
it. Of a motor that a button starts it is advice: with its disconnect open every line of it is dead.

Source: common practice; NEC 430.84 (from memory): a contactor need not open every hot
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge import ways
from wirecheck.judge.behind import Past, behind, past
from wirecheck.judge.case import Case
from wirecheck.judge.machine_screw import machine_screw
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Runs
from wirecheck.model.board import Device, Join

# What belongs to a motor's windings.
BESIDE = {"winding", "auxiliary", "senses"}


class HotPast(Problem):
    """`loads` take in a hot at `points` past `device`, which opens their other one.

    `load` is the screw of its pole that this hot belongs on. Of the join on its line side `moves` go to them.
    """

    device: Device
    loads: tuple[Load, ...]
    points: tuple[str, ...]
    load: str
    moves: tuple[str, ...]


def find(case: Case) -> Iterator[HotPast]:
    """Each join by which a hot goes past a contactor, with all that it keeps live."""
    together: dict[object, HotPast] = {}
    for one in past(case):
        found = _found(case, one)
        if found is not None:
            first = together.setdefault((found.at.span, found.device.name), found)
            if first is not found:
                together[found.at.span, found.device.name] = first.but(
                    loads=(*first.loads, *found.loads),
                    points=tuple(dict.fromkeys((*first.points, *found.points))),
                    moves=tuple(dict.fromkeys((*first.moves, *found.moves))),
                )
    yield from together.values()


def _found(case: Case, one: Past) -> HotPast | None:
    """What goes past a pole that a coil moves, and that is there for this load or for nothing."""
    pole, device = one.pole, case.board.devices.get(one.device)
    wired, node = case.circuit.wired, case.circuit.node
    if device is None or not isinstance(pole.when, Runs) or wired[node[pole.a]] == wired[node[pole.b]]:
        return None
    passes = _all_but(case, one)
    way = ways.way(case, [one.point], legs(case), passes)
    if way is None:
        return None
    fed = {wired[node[point]] for point in way.points}
    line, load = (pole.a, pole.b) if wired[node[pole.a]] in fed else (pole.b, pole.a)
    # On the copper of the line screw: the join beside the contactor, or else the load's way to it.
    joins = [
        (join, point)
        for point, join in zip(way.points, way.elements, strict=False)
        if isinstance(join, Join) and wired[node[point]] == wired[node[line]] and point != line
    ]
    beside = [found for found in joins if found[0].place == device.place]
    if not joins or not _is_for(case, one, load):
        return None
    here, moves = beside[-1] if beside else joins[0]
    moved = next((member.name for member in here.members if member.point == moves), moves)
    return HotPast(
        at=spot(here),
        about=device,
        severity="fault" if one.called else "advice",
        stage="final",
        copper=frozenset((case.uses.piece[one.point],)),
        device=device,
        loads=(one.load,),
        points=(machine_screw(case, one.point),),
        load=load,
        moves=(moved,),
    )


def _all_but(case: Case, one: Past) -> ways.Passes:
    """Every contact and all protection but the contacts of the contactor."""
    own = frozenset(each.name for each in case.circuit.contacts_in[one.device])
    return lambda of: of.name not in own


def _is_for(case: Case, one: Past, screw: str) -> bool:
    """Whether the load screw of a pole has nothing on it, or what should have two hots of the contactor."""
    piece = case.uses.piece
    there = ways.pieces_reached(case, [piece[screw]], _all_but(case, one))
    fed = [load for load in case.circuit.loads if any(piece[end] in there for end in load.ends)]
    return all(
        load.kind == "capacitor"
        or BESIDE & load.flags
        or load == one.load
        or behind(case).get((load.name, one.device), 0) > 1
        for load in fed
    )


def words(problem: HotPast, case: Case) -> Words:
    """What stays live where, and which screw its hot belongs on."""
    device = problem.device.name
    names, screws = listed(load.name for load in problem.loads), listed(problem.points)
    stop = "stop but stay" if len(problem.loads) > 1 else "stops but stays"
    source = "common practice: what a contactor has a pole for, it opens"
    if problem.severity == "advice":
        source += f"; {case.code.section('a controller may leave a line')} lets it leave one"
    return Words(
        message=f"With {device} open, {names} {stop} live: the hot on {screws} comes from ahead of {device}.",
        help=f"Move {listed(problem.moves)} from the line side of {device} to {problem.load}.",
        source=source,
    )


RULE = rule(__name__, "final", severities=("fault", "advice"), find=find, words=words)
