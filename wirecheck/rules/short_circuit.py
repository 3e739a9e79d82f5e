"""Copper leads from one side of a source to the other with nothing between to use the power.

Nothing but the wire itself then limits the current: hundreds or thousands of amperes flow until a
breaker or fuse opens, and a poor joint on the way may arc and burn before it does.

Source: Ohm's law; NEC 110.10, 240.4
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Leg, Winding
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge import blame, ways
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.ways import Passes, Way
from wirecheck.language.quantity import amps, volts
from wirecheck.language.syntax import Span
from wirecheck.model.board import Join


class Short(Problem):
    """`way` leads from one side of `source` to the other, or to the leg `other`.

    `amps` flow before anything opens; `opens` is what then does.
    """

    source: Leg | Winding
    other: Leg | None
    way: Way
    amps: float
    settled: Settled
    opens: Opening | None


# What becomes of that which opens on a short.
AFTER = {
    "overload": "opens, if it works as it should",
    "ground-fault": "trips on the ground fault",
    "burned": "burns out",
    "limited": "shuts itself off, as a power-limited source should",
}


def find(case: Case) -> Iterator[Short]:
    """Each join that makes a short, in the first state in which it does."""
    told: set[Span] = set()
    for settled in case.states:
        for problem in _shorts(case, settled):
            if problem.at.span not in told:
                told.add(problem.at.span)
                yield problem


def _shorts(case: Case, state: Settled) -> Iterator[Short]:
    """Each source that is shorted before anything opens."""
    circuit = case.circuit
    settled = state.first or state
    head = copper(settled)
    passes = ways.conducting(settled)
    opens = next(iter(state.opened), None)
    for source, other, begin, ends in _sides(case):
        if all(head[circuit.node[begin]] != head[circuit.node[end]] for end in ends):
            continue
        flows = abs(settled.amps.get(source.name, 0))
        if isinstance(source, Winding):
            flows *= source.primary_volts / source.open_volts
        for way, join in _ways(case, begin, ends, passes):
            yield Short(
                at=spot(case.board if join is None else join),
                about=source,
                severity="fault" if isinstance(source, Winding) else "hazard",
                stage="trim",
                copper=frozenset(case.uses.piece[point] for point in way.points),
                source=source,
                other=other,
                way=way,
                amps=flows,
                settled=settled,
                opens=opens,
            )


def _ways(case: Case, begin: str, ends: tuple[str, ...], passes: Passes) -> Iterator[tuple[Way, Join | None]]:
    """The ways from one side to the other, each with the join to blame; none through the join of another."""
    blamed: set[str] = set()
    while (way := ways.way(case, [begin], ends, passes, blamed)) is not None:
        join = blame.culprit(way, case.board)
        yield way, join
        if join is None:
            return
        blamed |= {member.point for member in join.members if member.point}


def _sides(case: Case) -> Iterator[tuple[Leg | Winding, Leg | None, str, tuple[str, ...]]]:
    """Each source, the other leg where it is one, a point of its one side and those of the other."""
    legs = case.circuit.legs
    for index, leg in enumerate(legs):
        yield leg, None, leg.point, (f"{leg.panel}.neutral", f"{leg.panel}.ground")
        for other in legs[index + 1 :]:
            if other.volts != leg.volts:
                yield leg, other, leg.point, (other.point,)
    for winding in case.circuit.windings:
        yield winding, None, winding.secondary[0], winding.secondary[1:]


def words(problem: Short, case: Case) -> Words:
    """What is joined to what, how many amperes flow, what opens, and the copper to follow."""
    source = problem.source
    if isinstance(source, Winding):
        what = f"the two sides of {source.name}'s {volts(source.secondary_volts)} winding"
    else:
        what = "two hots of different legs" if problem.other else "a hot and the neutral or ground"
    after = f" {problem.opens.name} {AFTER[problem.opens.kind]}." if problem.opens else ""
    return Words(
        message=f"Short circuit{case.when(problem.settled)}: {what} are joined with no load between, "
        f"and about {amps(problem.amps)} flows.{after}",
        help=f"Turn the power off. Follow the copper: {ways.named(problem.way, case)}. Take apart the join "
        "where two kinds of wire meet that do not belong together.",
        source=case.code.section("fault current that equipment stands"),
        value=problem.amps,
        unit="A",
    )


RULE = rule(__name__, "trim", find=find, words=words)
