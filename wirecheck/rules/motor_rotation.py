"""A motor on three phases turns backward: two of its lines are exchanged. Or a starter does not reverse it.

It turns the way in which the volts of its three lines follow each other. Two lines that are exchanged turn it
around. A pump then moves next to nothing, a fan blows a part of its air the wrong way, and a scroll
compressor is ruined. Of two contactors that lock each other out, one must exchange two lines: where both pass
them in one order, the motor turns one way, whichever button is pressed. Where two hots of a feeder are
exchanged at a subpanel, every motor on three phases behind it turns backward.

Source: NEC 408.3(E)(1); NEMA MG 1: on lines 1, 2, 3 in their order at T1, T2, T3 it turns forward (from
memory)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from wirecheck.circuit.circuit import Contact, Load, Protection
from wirecheck.circuit.routes import Routes, routes
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.feeders import feeders
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import holder
from wirecheck.judge.machine_screw import machine_screw
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.turning import follow, forward, motors
from wirecheck.language.listing import listed
from wirecheck.model.board import Breaker, Device, Panel


class Backward(Problem):
    """It turns backward in every state in which it runs. `legs` are those of its `ends`, in their order.

    `others` are in the same machine and do so too, or behind the same `panel`: the legs at its lugs do not
    follow each other as those of its source do.
    """

    motor: Load
    ends: tuple[str, ...]
    legs: tuple[str, ...]
    state: Settled
    panel: Panel | None
    others: tuple[Load, ...] = ()


class SameWay(Problem):
    """It turns the same way by the contactor called `one` and by the `other`, which lock each other out.

    The mistake is at the other: the first one keeps its lines, and is none of what the problem points at.
    """

    motor: Load
    one: str
    other: Device


def find(case: Case) -> Iterator[Backward | SameWay]:
    """Each motor on three phases that never turns forward; one that a starter reverses does in some state.

    Those of a machine that its feed turns are one mistake.
    """
    yield from _same_way(case)
    together: dict[object, Backward] = {}
    for found in _backward(case):
        machine = (case.circuit.around[found.motor.device][0].name, found.ends)
        one = machine if found.panel is None else found.panel.name
        first = together.setdefault(one, found)
        if first is not found:
            together[one] = first.but(others=(*first.others, found.motor))
    yield from together.values()


def _backward(case: Case) -> Iterator[Backward]:
    states = [state.first or state for state in case.states]
    for load in motors(case.circuit):
        running = [state for state in states if load.name in state.running]
        if not running or any(forward(state, load) for state in running):
            continue
        ends = tuple(machine_screw(case, end) for end in load.ends)
        panel, astray = _out_of_order(case, load), []
        if panel is not None:
            ends = tuple(panel.lug(leg) for leg in panel.legs)
            astray = [
                panel.lug(leg)
                for leg, one in feeders(case)[panel.name].legs.items()
                if one and one.letter != leg
            ]
        join = next((made for end in (*astray, *ends) if (made := join_at(case, end)) is not None), None)
        yield Backward(
            at=spot(join or case.circuit.around[load.device][0]),
            about=load,
            severity="fault",
            stage="final",
            copper=frozenset(case.uses.piece[end] for end in (*load.ends, *ends)),
            motor=load,
            ends=ends,
            legs=tuple(_leg(case, running[0], end) for end in ends),
            state=running[0],
            panel=panel,
        )


def _out_of_order(case: Case, load: Load) -> Panel | None:
    """The first subpanel on the way to a motor whose legs follow each other the other way round."""
    for end in load.ends:
        for step in case.routes.back(case.circuit.node[end]):
            breaker = holder(case, step.of) if isinstance(step.of, Protection) else None
            panel = case.board.subpanels.get(breaker.panel) if isinstance(breaker, Breaker) else None
            if panel is None or len(panel.legs) != len(load.ends):
                continue
            there = [leg.volts for leg in feeders(case)[panel.name].legs.values() if leg is not None]
            if len(there) == len(load.ends) and follow(*there) != follow(*panel.legs.values()):
                return panel
    return None


def _same_way(case: Case) -> Iterator[SameWay]:
    """Each motor that two contactors bring the same lines, in one order, though each locks the other out."""
    for load in motors(case.circuit):
        ways: dict[str, tuple[bool, frozenset[str]]] = {}
        for state in case.states:
            if load.name in state.running and not state.opened:
                there = routes(case.circuit, state)
                feeding = _contactors(case, there, load.ends)
                origins = (there.origins.get(case.circuit.node[end]) for end in load.ends)
                legs = frozenset(origin.name for origin in origins if origin is not None)
                if len(feeding) == 1:
                    ways.setdefault(next(iter(feeding)), (forward(state, load), legs))
        for one, other in combinations(sorted(ways), 2):
            if ways[one] == ways[other] and _locked_out(case, one, other) and _locked_out(case, other, one):
                yield SameWay(
                    at=spot(case.circuit.around[other][0]),
                    about=load,
                    severity="fault",
                    stage="final",
                    copper=frozenset(case.uses.piece[end] for end in load.ends),
                    motor=load,
                    one=one,
                    other=case.circuit.around[other][0],
                )


def _contactors(case: Case, ways: Routes, ends: Iterable[str]) -> frozenset[str]:
    """The devices with a coil whose contacts are on the way to some points."""
    scopes = {
        step.of.scope
        for end in ends
        for step in ways.back(case.circuit.node[end])
        if isinstance(step.of, Contact)
    }
    return frozenset(scope for scope in scopes if any(one.device == scope for one in _coils(case)))


def _locked_out(case: Case, one: str, other: str) -> bool:
    """Whether the coil of one device has its power through a contact of the other."""
    return any(
        other in _contactors(case, case.routes, coil.ends) for coil in _coils(case) if coil.device == one
    )


def _coils(case: Case) -> Iterator[Load]:
    return (one for one in case.circuit.loads if one.kind == "coil")


def _leg(case: Case, state: Settled, end: str) -> str:
    """The leg whose volts an end has."""
    there = state.volts[state.circuit.node[end]]
    return min(case.circuit.legs, key=lambda leg: abs(leg.volts - there)).name


def words(problem: Backward | SameWay, case: Case) -> Words:
    """Which end is on which leg, and which two lines are swapped, or are not."""
    motor = problem.motor
    if isinstance(problem, SameWay):
        one, other = problem.one, problem.other.name
        return Words(
            message=f"{motor.name} turns the same way by {one} and by {other}: both bring it its lines in "
            "one order, and nothing reverses it.",
            help=f"With the power off, swap two of the three lines behind {other}, and leave the third and "
            f"all of {one} as they are.",
            source="common practice: a reversing contactor exchanges two of three lines",
            also=(Note(f"{one} is here", case.circuit.around[one][0].span),),
        )
    others = tuple(Note(f"{one.name} turns backward too", one.span) for one in problem.others)
    ends = listed(f"{end} is on {leg}" for end, leg in zip(problem.ends, problem.legs, strict=True))
    if problem.panel is not None:
        panel = problem.panel.name
        return Words(
            message=f"{motor.name} turns backward{case.when(problem.state, motor.name)}, since the legs of "
            f"{panel} are out of their order: {ends}.",
            help=f"With the power off, swap two hots of the feeder at {panel}, and leave the motor's lines "
            "as they are. Then let it turn for a moment and look, before it drives anything.",
            source=case.code.section("order of the legs in a panel"),
            also=others,
        )
    return Words(
        message=f"{motor.name} turns backward{case.when(problem.state, motor.name)}: {ends}.",
        help="With the power off, swap two of its three lines. Then let it turn for a moment and look, "
        "before it drives anything.",
        source="NEMA MG 1 (from memory)",
        also=others,
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words)
