"""A breaker or fuse carries more than its rating, and opens.

A breaker that opens is doing its work; the circuit is what is wrong. Too
much is plugged in or wired to it, or current leaves by a way it should not.
How long it holds depends on how much too much it is: at twice its rating
seconds to minutes, a little above it an hour or more.

Source: UL 489: carries its rating, opens at 135 % within the hour; NEC 210.23
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from wirecheck.circuit.circuit import Load, Protection
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.routes import OVERCURRENT
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.currents import shares
from wirecheck.judge.guard_words import begun, kind, opens
from wirecheck.judge.guards import holder
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.supply import LEAKS
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, rounded, shown
from wirecheck.tables.published import NotInTable
from wirecheck.tables.trips import trip_seconds

# A breaker is not called overloaded until its current is that much of its rating (common practice).
HOLDS = 1.01
# The share of a current that loads must account for; the rest of it is a short circuit's (common practice).
BY_LOADS = 0.5
# The most that a leak may be above what all loads draw, in amperes; beyond it is a short circuit's.
GROUND_FAULT = 0.1
MOST_FED = 6
MOST_STOPPED = 4
# From so many seconds on a time is told in minutes.
MINUTES_FROM = 120


class Opens(Problem):
    """A breaker or fuse that opens in a state, and the loads that stop with it."""

    protection: Protection
    state: Settled
    stops: tuple[Load, ...]


class Overload(Opens):
    """Its loads put `flows` amperes through a pole; `fed` are they and what each draws, the largest first."""

    flows: float
    fed: tuple[tuple[Load, float], ...]


class Leak(Opens):
    """Current of its loads comes back by another way, more than it lets pass."""

    opening: Opening


def find(case: Case) -> Iterator[Overload | Leak]:
    """Each breaker and fuse where its loads put the most through it, and each that a leak opens."""
    states = (*case.steady, case.heaviest)
    yield from _overloads(case, states)
    yield from _leaks(case, states)


def _overloads(case: Case, states: Iterable[Settled]) -> Iterator[Overload]:
    worst: dict[str, tuple[float, Protection, Settled]] = {}
    for settled in states:
        state = settled.first or settled
        for protection in case.circuit.protections:
            if protection.kind not in OVERCURRENT:
                continue
            for number in range(len(protection.pairs)):
                pole = protection.pole(number)
                flows = abs(state.amps.get(pole, 0))
                known = worst[protection.name][0] if protection.name in worst else HOLDS * protection.amps
                # What loads do not draw is a short circuit's: it is no load that is too much.
                if flows > known and _drawn(case, state, pole) >= BY_LOADS * flows:
                    worst[protection.name] = flows, protection, settled
    for flows, protection, settled in worst.values():
        yield _overload(case, protection, flows, settled)


def _drawn(case: Case, state: Settled, pole: str) -> float:
    """How much of the current in a pole is that of loads and transformers."""
    return abs(sum(share.amps for share in shares(case, state).get(pole, ())))


def _overload(case: Case, protection: Protection, flows: float, settled: Settled) -> Overload:
    state = settled.first or settled
    fed = {
        load.name: (load, state.load_amps(load))
        for zone in case.zones
        if zone.protection is protection
        for load in zone.loads
    }
    opens = any(opening.name == protection.name for opening in settled.opened)
    return Overload(
        at=spot(holder(case, protection)),
        about=protection,
        severity="fault",
        stage="final",
        copper=_copper(case, protection),
        protection=protection,
        state=settled,
        stops=_stops(case, settled) if opens else (),
        flows=flows,
        fed=tuple(sorted(fed.values(), key=lambda one: -one[1])),
    )


def _leaks(case: Case, states: Iterable[Settled]) -> Iterator[Leak]:
    protections = {protection.name: protection for protection in case.circuit.protections}
    told: dict[str, Leak] = {}
    for settled in states:
        state = settled.first or settled
        drawn = sum(state.load_amps(load) for load in case.circuit.loads)
        for opening in settled.opened:
            if opening.kind == "ground-fault" and opening.amps <= drawn + GROUND_FAULT:
                protection = protections[opening.name]
                leak = Leak(
                    at=spot(holder(case, protection)),
                    about=protection,
                    severity="fault",
                    stage="final",
                    copper=_copper(case, protection),
                    protection=protection,
                    state=settled,
                    stops=_stops(case, settled),
                    opening=opening,
                )
                told.setdefault(opening.name, leak)
    yield from told.values()


def _stops(case: Case, settled: Settled) -> tuple[Load, ...]:
    """The loads that ran before something opened and do not run after."""
    state = settled.first or settled
    return tuple(case.circuit.load[name] for name in sorted(state.running - settled.running))


def _copper(case: Case, protection: Protection) -> frozenset[int]:
    return frozenset(case.uses.piece[point] for pair in protection.pairs for point in pair)


def words(problem: Overload | Leak, case: Case) -> Words:
    """What goes through it against its rating, how soon it opens, and what to do."""
    match problem:
        case Overload():
            return _words_of_overload(problem, case)
        case Leak(protection=protection, opening=opening):
            stops = f" {_stop(problem)}." if problem.stops else ""
            return Words(
                message=f"{protection.name} trips{case.when(problem.state, protection.name)}: "
                f"{amps(opening.amps, beside=opening.limit)} of what goes out through it comes back by "
                f"another way. It trips at {amps(opening.limit)}.{stops}",
                help="The current comes back on another neutral or on a ground. Bring the neutral of each "
                "load back to the device that feeds it.",
                source="UL 943",
                value=opening.amps,
                limit=opening.limit,
                unit="A",
            )


def _words_of_overload(problem: Overload, case: Case) -> Words:
    protection, flows = problem.protection, problem.flows
    fed = [f"{load.name} {amps(drawn)}" for load, drawn in problem.fed if drawn > LEAKS]
    feeds = f"It feeds {listed(fed, MOST_FED)}. " if fed else ""
    return Words(
        message=f"{begun(protection)} carries {amps(flows, beside=protection.amps)}"
        f"{case.when(problem.state, protection.name)} and is rated {amps(protection.amps)}. It "
        f"{opens(protection)} {_how_soon(protection, flows)}"
        + (f", and {_stop(problem)}." if problem.stops else "."),
        help=f"{feeds}Move part of the load to another circuit. A larger {kind(protection)} is no "
        "remedy: the wire is sized for this one.",
        source="UL 248-14"
        if protection.kind == "fuse"
        else f"UL 489; {case.code.section('loads of a circuit')}",
        value=flows,
        limit=protection.amps,
        unit="A",
    )


def _stop(problem: Opens) -> str:
    names = listed([load.name for load in problem.stops], MOST_STOPPED)
    return f"{names} {'stops' if len(problem.stops) == 1 else 'stop'}"


def _how_soon(protection: Protection, flows: float) -> str:
    try:
        _, latest = trip_seconds(protection.kind, protection.amps, flows)
    except NotInTable:
        return "before long"
    if math.isinf(latest):
        return "sooner or later, though it need not within the hour"
    if latest < MINUTES_FROM:
        return f"within {shown(latest, 'time')}"
    return f"within {rounded(latest / 60)} min"


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
