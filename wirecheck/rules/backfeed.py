"""A circuit stays live when its own breaker is off, because another feeds it.

Whoever turns off one breaker and starts work on what it names is working on a live circuit.

Source: NEC 110.22, 210.7; OSHA 29 CFR 1910.147
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Leg
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge import blame, ways
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import is_backfed, leg_of
from wirecheck.judge.ways import Way
from wirecheck.model.board import Breaker


class Pole(NamedTuple):
    """One pole of a breaker: the breaker, the leg that it hangs on and the screw that it feeds."""

    breaker: Breaker
    leg: Leg
    screw: str


class FedTwice(Problem):
    """Two breakers feed the same copper in a state; `way` leads from the one to the other."""

    one: Pole
    other: Pole
    settled: Settled
    way: Way


def find(case: Case) -> Iterator[FedTwice]:
    """Each pair of breakers of one leg whose circuits are tied, in the first state in which they are."""
    circuit = case.circuit
    poles = [
        Pole(case.board.breakers[protection.name], leg, screw)
        for protection in circuit.protections
        if protection.name in case.board.breakers
        for number, (bus, screw) in enumerate(protection.pairs)
        if (leg := leg_of(case, bus)) is not None and not is_backfed(case, protection, number)
    ]
    told: set[tuple[str, str]] = set()
    for settled in case.states:
        off = _breakers_off(case, settled)
        pieces = copper(off)
        owners: dict[int, Pole] = {}
        for pole in poles:
            first = owners.setdefault(pieces[circuit.node[pole.screw]], pole)
            pair = (first.breaker.name, pole.breaker.name)
            if first.breaker is not pole.breaker and pair not in told and first.leg.volts == pole.leg.volts:
                told.add(pair)
                yield from _tied(case, off, first, pole)


def _breakers_off(case: Case, settled: Settled) -> Settled:
    """A state with every breaker off, and whatever opened by itself closed again."""
    opened = (Opening(name, "off", 0.0, one.amps) for name, one in case.board.breakers.items())
    return settled._replace(opened=tuple(opened))


def _tied(case: Case, off: Settled, one: Pole, other: Pole) -> Iterator[FedTwice]:
    """The copper that ties two poles while all breakers are off."""
    way = ways.way(case, [one.screw], [other.screw], ways.conducting(off))
    if way is not None:
        outside = [join for join in way.joins if join.place not in case.board.panels]
        join = blame.at_fault(outside, case.board)
        yield FedTwice(
            at=spot(other.breaker if join is None else join),
            about=other.breaker,
            severity="hazard",
            stage="trim",
            copper=frozenset(case.uses.piece[point] for point in way.points),
            one=one,
            other=other,
            settled=off,
            way=way,
        )


def words(problem: FedTwice, case: Case) -> Words:
    """Which two breakers feed one circuit, and the copper that ties them."""
    one, other = problem.one.breaker.name, problem.other.breaker.name
    return Words(
        message=f"{one} and {other} feed the same wires{case.when(problem.settled)}: "
        f"with {other} off, its circuit stays live through {one}.",
        help=f"Turn both breakers off. This copper ties them: {ways.named(problem.way, case)}. "
        "Take the two circuits apart there.",
        source=case.code.section("breakers name what they turn off") + "; OSHA 29 CFR 1910.147",
    )


RULE = rule(__name__, "trim", severities=("hazard",), find=find, words=words)
