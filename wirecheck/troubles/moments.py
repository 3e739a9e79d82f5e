"""Readings at a moment of a call, where none in its end tells some suspects apart.

What has power for seconds only, as an igniter, reads the same before and after, whatever is wrong with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from wirecheck.judge.state_name import StateName
from wirecheck.troubles.next_reading import LEAST_BITS, Column, outcomes, told
from wirecheck.troubles.probes import Probe, probes
from wirecheck.troubles.trials import Tried

# What lasts less is over before the leads are on and the display stands still, in seconds (common practice).
LEAST_SECONDS = 5.0
MOST_MOMENTS = 12
"""The most moments of one call that are looked at."""

Place = tuple[StateName, Probe]


def later(
    table: Sequence[Column], suspects: Sequence[Tried], good: Tried, states: Iterable[StateName]
) -> tuple[Column, ...]:
    """The readings at moments of calls that part what the readings of a table do not part.

    Parameters
    ----------
    table : the readings in the end of each state
    suspects, good, states : as in `next_reading.columns`
    """
    waiting = [left for left in _unparted(table, len(suspects)) if len(left) > 1]
    places = list(_places(good, states)) if waiting else []
    found: list[Column] = []
    while waiting:
        left = waiting.pop()
        one = _best([suspects[number] for number in left], places)
        if one is not None:
            state, probe = one
            volts = tuple(tried.settled(state).across(probe.a, probe.b) for tried in suspects)
            found.append(Column(state, probe, volts))
            waiting += (part for part in _parted(found[-1], left) if len(part) > 1)
    return tuple(found)


def _unparted(table: Sequence[Column], count: int) -> list[list[int]]:
    """The suspects that no reading of a table tells apart, by number."""
    groups = [list(range(count))]
    for column in table:
        groups = [part for left in groups for part in (_parted(column, left) if len(left) > 1 else [left])]
    return groups


def _parted(column: Column, left: Sequence[int]) -> list[list[int]]:
    return [[left[place] for place in part] for part in outcomes([column.volts[number] for number in left])]


def moments(good: Tried, state: StateName) -> tuple[StateName, ...]:
    """A state of a board without a fault at the middle of each part of its sequence that lasts."""
    if state.after is not None or not (state.calls and good.circuit.moves):
        return ()
    steps = good.case.played(state.calls, dict(state.moved)).steps
    called = max(step.time for step in steps if any(one.kind == "call" for one in step.changes))
    times = [step.time - called for step in steps if step.time >= called]
    long = [(one, other) for one, other in pairwise(times) if other - one >= LEAST_SECONDS]
    return tuple(state._replace(after=float(int((one + other) / 2))) for one, other in long[:MOST_MOMENTS])


def _places(good: Tried, states: Iterable[StateName]) -> Iterator[Place]:
    for state in states:
        for moment in moments(good, state):
            for probe in probes(good.circuit, good.settled(moment)):
                yield moment, probe


def _best(suspects: Sequence[Tried], places: Sequence[Place]) -> Place | None:
    """The reading that tells most of some suspects, each as likely as another; None where none does."""
    standing = {moment: [tried.settled(moment) for tried in suspects] for moment in dict(places)}
    even = [1.0] * len(suspects)
    best, most = None, LEAST_BITS
    for moment, probe in places:
        bits = told([settled.across(probe.a, probe.b) for settled in standing[moment]], even)
        if bits > most + LEAST_BITS:
            best, most = (moment, probe), bits
    return best
