"""The breaker of a heating appliance is larger than the appliance may have, whatever the wire would bear.

An element that grounds or a control that fails inside it draws more than it should, and less than a large
breaker takes to open. So an appliance without a motor may have 150 % of its current, or the next standard
rating up, and 20 A where it draws 13.3 A or less. What is marked on it comes first.

Source: NEC 422.11(E)(2), 422.11(E)(3)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.drawing import draws
from wirecheck.judge.finding import Note
from wirecheck.judge.guard_words import begun, kind
from wirecheck.judge.guards import Guarded, copper, guarded
from wirecheck.judge.inside import loads_of, outlets_of
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.serving import on_circuit
from wirecheck.language.quantity import amps, percent
from wirecheck.model.board import Device
from wirecheck.tables.overcurrent import next_standard

# What heats without a motor, by what it serves.
WITHOUT_MOTOR = ("water-heating", "microwave-cooking")


class TooLargeForIt(Problem):
    """A breaker or fuse that one appliance has to itself, of `current` amperes, and the `limit` of it."""

    guard: Guarded
    appliance: Device
    current: float
    limit: float


def find(case: Case) -> Iterator[TooLargeForIt]:
    """Each breaker and fuse that feeds such an appliance and nothing else."""
    for guard in guarded(case):
        # A clock or an eye on the circuit draws next to nothing.
        there = [one for one in on_circuit(case, guard) if _works(case, one)]
        if len(there) != 1 or there[0].part.serves not in WITHOUT_MOTOR or guard.outlets:
            continue
        current = _current(case, there[0])
        limit = _limit(case, current, guard.fuse)
        if limit is not None and over(guard.amps, limit):
            yield TooLargeForIt(
                at=spot(guard.holder),
                about=guard.protection,
                severity="violation",
                stage="rough-in",
                copper=copper(case, guard),
                guard=guard,
                appliance=there[0],
                current=current,
                limit=limit,
            )


def _works(case: Case, device: Device) -> bool:
    loads = (load for load in loads_of(case, device) if "standby" not in load.flags)
    return any(loads) or bool(outlets_of(case, device))


def _current(case: Case, appliance: Device) -> float:
    """The most that its loads draw at once, by their ratings."""
    loads = loads_of(case, appliance)
    return max(sum(one.amps for one in loads if draws(one, state.load_amps(one))) for state in case.steady)


def _limit(case: Case, current: float, fuse: bool) -> float | None:
    """The largest protection of an appliance of that current; None for one that draws nothing."""
    if not current:
        return None
    if not over(current, case.code.limit("appliance of little current")):
        return case.code.limit("protection of an appliance of little current")
    share = case.code.limit("protection of an appliance without a motor")
    return next_standard(share * current, fuse, code=case.code)


def words(problem: TooLargeForIt, case: Case) -> Words:
    """Its rating, what the appliance draws, and what it may have."""
    guard, name = problem.guard, problem.appliance.name
    current, limit = amps(problem.current), amps(problem.limit, beside=guard.amps)
    small = not over(problem.current, case.code.limit("appliance of little current"))
    matter = (
        "protection of an appliance of little current"
        if small
        else "protection of an appliance without a motor"
    )
    share = percent(case.code.limit("protection of an appliance without a motor"))
    why = "" if small else f"{share} of that, and the next standard rating up: {limit}. "
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps, beside=problem.limit)}, and {name} behind "
        f"it draws {current}: it may have {limit} at most. With more, a fault inside it can burn on.",
        help=f"{why}Thicker wire does not raise this limit. Put in a {limit} {kind(guard.protection)}.",
        source=case.code.section(matter),
        value=guard.amps,
        limit=problem.limit,
        unit="A",
        also=(Note(f"{name} is here", problem.appliance.span),),
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
