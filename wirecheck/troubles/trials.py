"""What is tried on a board before a meter is out: calls made, switches moved, and what is seen then."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Load
from wirecheck.circuit.fault import Fault
from wirecheck.circuit.settle import Settled
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.model.board import Board

MOST_TRIALS = 24
"""The most states of a board that are tried."""

# An outlet that has less of its volts gives no power to what is plugged in (common practice).
POWERS = 0.8


class Seen(NamedTuple):
    """What eyes and ears find in a state: what ran at any time of it, what runs in its end, what has opened.

    An outlet with power counts as what runs.
    """

    ran: frozenset[str]
    runs: frozenset[str]
    opened: frozenset[str]


class Tried:
    """A board as it is with some faults, in each state that it is tried in; each is worked out once."""

    def __init__(self, board: Board, faults: tuple[Fault, ...] = ()) -> None:
        self.case = Case(board, None, faults)
        self._seen: dict[StateName, Seen] = {}

    @property
    def circuit(self) -> Circuit:
        """Its circuit."""
        return self.case.circuit

    def settled(self, state: StateName) -> Settled:
        """The board in a state, when its controls have had their time."""
        return self.case.standing(dict(state.moved), state.calls)

    def seen(self, state: StateName) -> Seen:
        """What is seen in a state."""
        known = self._seen.get(state)
        if known is None:
            known = self._seen[state] = self._look(state)
        return known

    def _look(self, state: StateName) -> Seen:
        settled = self.settled(state)
        runs = (settled.running & self.watched) | frozenset(_powered(settled))
        ran = runs
        if self.circuit.moves:
            played = self.case.played(state.calls, dict(state.moved))
            ran |= self.watched.intersection(played.started())
        return Seen(ran, runs, frozenset(opening.name for opening in settled.opened))

    @cached_property
    def watched(self) -> frozenset[str]:
        """The loads that one sees or hears run."""
        return frozenset(load.name for load in self.circuit.loads if is_seen(load))


def trials(case: Case) -> tuple[StateName, ...]:
    """The states in which a board is tried: at rest, each position of its switches, and each call.

    No more than `MOST_TRIALS` of them.
    """
    return tuple(case.named_states())[:MOST_TRIALS]


def is_seen(load: Load) -> bool:
    """Whether one sees or hears that a load runs: it does somebody's work or gives light."""
    return load.gives_light or (load.kind in WORKING and "standby" not in load.flags)


def _powered(settled: Settled) -> Iterator[str]:
    for outlet in settled.circuit.outlets:
        if settled.across(outlet.hot, outlet.neutral) >= POWERS * outlet.volts:
            yield outlet.name


class Differences(NamedTuple):
    """What is seen to be wrong, by its kind, and what works."""

    missing: tuple[str, ...]
    stopping: tuple[str, ...]
    extra: tuple[str, ...]
    staying: tuple[str, ...]
    opening: tuple[str, ...]
    works: tuple[str, ...]

    def __bool__(self) -> bool:
        """Whether anything is seen to be wrong."""
        return any(self[:-1])


def differences(good: Seen, bad: Seen) -> Differences:
    """What is seen on a board with a fault, against what is seen without it."""
    missing = good.ran - bad.ran
    stopping = (good.runs - bad.runs) & bad.ran
    extra = bad.ran - good.ran
    staying = (bad.runs - good.runs) & good.ran
    works = (good.ran & bad.ran) - stopping - staying
    sets = (missing, stopping, extra, staying, bad.opened - good.opened, works)
    return Differences(*(tuple(sorted(one)) for one in sets))
