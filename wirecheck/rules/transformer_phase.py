"""Two transformers are tied together on their low side.

In phase, each feeds the other: with one of them off, its primary screws
still stand at line voltage. Out of phase, they are a short circuit for each
other, and both burn. Tied on one side only, they are a wire away from that.

Source: common practice for thermostats with RC and RH; NEC 450.7, 725.60(B) (from memory)
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wirecheck.circuit.circuit import Winding
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.ways import Way, conducting, named, way
from wirecheck.language.quantity import amps, volts
from wirecheck.model.board import Join

# From this share of their rated volts on, what two windings differ by is taken for the wrong phase: what
# they differ by in their make is a few per cent (common practice).
OPPOSED = 0.25
# The node of the bars, where two low sides may well meet.
EARTH = 0


class Tied(Problem):
    """Two transformers whose low sides meet in a state."""

    one: Winding
    other: Winding
    state: Settled


class OutOfPhase(Tied):
    """On both sides, so that `drives` volts drive `flows` amperes around through the two."""

    drives: float
    flows: float


class FedBackward(Tied):
    """On both sides and in phase."""


class TiedOnOneSide(Tied):
    """On one side, by copper that no earth explains."""

    by: Way | None


def find(case: Case) -> Iterator[Tied]:
    """Each pair of transformers, in the first state in which they meet on both sides or on one."""
    told: set[tuple[str, str, bool]] = set()
    for settled in case.states if len(case.circuit.windings) > 1 else ():
        state = settled.first or settled
        piece = copper(state)
        for one, other in itertools.combinations(case.circuit.windings, 2):
            first, second = (
                [piece[case.circuit.node[end]] for end in winding.secondary] for winding in (one, other)
            )
            common = set(first) & set(second)
            whole = len(common) == 2
            if (one.name, other.name, whole) in told:
                continue
            if whole:
                told.add((one.name, other.name, whole))
                yield _on_both_sides(case, state, one, other, first == second)
            elif common and piece[EARTH] not in common:
                told.add((one.name, other.name, whole))
                yield _on_one_side(case, state, one, other)


def _on_both_sides(
    case: Case, state: Settled, one: Winding, other: Winding, straight: bool
) -> OutOfPhase | FedBackward:
    by = way(case, one.secondary, other.secondary, conducting(state))
    at = spot(by.joins[-1] if by is not None and by.joins else other)
    touched = _copper(case, one, other)
    against = _own_volts(one, state) - (1 if straight else -1) * _own_volts(other, state)
    if abs(against) > OPPOSED * one.secondary_volts:
        return OutOfPhase(
            at=at,
            about=other,
            severity="hazard",
            stage="final",
            copper=touched,
            one=one,
            other=other,
            state=state,
            drives=abs(against),
            flows=abs(against) / abs(one.ohms + other.ohms),
        )
    return FedBackward(
        at=at,
        about=other,
        severity="hazard",
        stage="final",
        copper=touched,
        one=one,
        other=other,
        state=state,
    )


def _own_volts(winding: Winding, state: Settled) -> complex:
    """What a transformer gives by itself at the volts of its primary, with no load on it."""
    a, b = (state.volts[state.circuit.node[end]] for end in winding.primary)
    return (a - b) * winding.open_volts / winding.primary_volts


def _on_one_side(case: Case, state: Settled, one: Winding, other: Winding) -> TiedOnOneSide:
    by = way(case, one.secondary, other.secondary, conducting(state))
    joins = by.joins if by is not None else ()
    # A jumper is a join of screws alone; the wires on either side of it are where they belong.
    at: Join | Winding = next((join for join in joins if _is_jumper(join)), joins[-1] if joins else other)
    return TiedOnOneSide(
        at=spot(at),
        about=other,
        severity="violation",
        stage="final",
        copper=_copper(case, one, other),
        one=one,
        other=other,
        state=state,
        by=by,
    )


def _is_jumper(join: Join) -> bool:
    return all(member.kind == "terminal" for member in join.members)


def _copper(case: Case, one: Winding, other: Winding) -> frozenset[int]:
    return frozenset(case.uses.piece[end] for end in (*one.secondary, *other.secondary))


def words(problem: Tied, case: Case) -> Words:
    """What the two do to each other, and how to keep them apart."""
    both = f"{problem.one.name} and {problem.other.name} are tied together"
    when = case.when(problem.state)
    apart = "Keep the two apart: on a thermostat with RC and RH, take out the jumper between them"
    also = (Note("the other transformer", problem.one.span),)
    parallel = f"common practice; {case.code.section('transformers in parallel')}"
    match problem:
        case OutOfPhase():
            return Words(
                message=f"{both} out of phase{when}: {volts(problem.drives)} drives about "
                f"{amps(problem.flows)} around through both, and they burn out.",
                help=f"{apart}, and bring the common of one only to the thermostat.",
                source=parallel,
                value=problem.flows,
                unit="A",
                also=also,
            )
        case TiedOnOneSide():
            path = f" The copper that ties them: {named(problem.by, case)}." if problem.by else ""
            return Words(
                message=f"{both} on one side{when}. It works until their other sides meet too. Then each "
                "feeds the other, or they burn out.",
                help=f"{apart}.{path}",
                source=f"{case.code.section('outputs of Class 2 sources kept apart')} (from memory)",
                also=also,
            )
    return Words(
        message=f"{both}{when}. With one of them off, the other feeds it backward, and its line-voltage "
        "screws stay live.",
        help=f"{apart}, and bring the common of one only to the thermostat.",
        source=parallel,
        also=also,
    )


RULE = rule(__name__, "final", severities=("hazard", "violation"), find=find, words=words, of_ties=True)
