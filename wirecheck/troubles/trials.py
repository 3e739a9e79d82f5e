"""What is tried on a board before a meter is out: calls made, switches moved, and what is seen then."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Load
from wirecheck.circuit.fault import Fault
from wirecheck.circuit.meter import Reading
from wirecheck.circuit.settle import Settled
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.model.board import Board
from wirecheck.troubles.signs import POWERS, Sign, lasting, signs

MOST_TRIALS = 24
"""The most states of a board that are tried."""


class Seen(NamedTuple):
    """What eyes and ears find in a state: what ran at any time of it, what runs in its end, what has opened.

    An outlet with power counts as what runs. `signs` are what shows beside, in the end, and at any time of
    what never ran.
    """

    ran: frozenset[str]
    runs: frozenset[str]
    opened: frozenset[str]
    signs: frozenset[Sign] = frozenset()

    @property
    def half(self) -> frozenset[str]:
        """What does some of its work: one may say that it runs, and that it does not."""
        return frozenset(sign.name for sign in self.signs if sign.works)


class Tried:
    """A board as it is with some faults, in each state that it is tried in; each is worked out once.

    `good` is its circuit without them, where it is at hand.
    """

    def __init__(self, board: Board, faults: tuple[Fault, ...] = (), good: Circuit | None = None) -> None:
        self.case = Case(board, None, faults, good)
        self.readings: dict[object, Reading | None] = {}
        self._seen: dict[StateName, Seen] = {}

    @property
    def circuit(self) -> Circuit:
        """Its circuit."""
        return self.case.circuit

    def settled(self, state: StateName) -> Settled:
        """The board in a state."""
        return self.case.standing(dict(state.moved), state.calls, state.after)

    def seen(self, state: StateName) -> Seen:
        """What is seen in a state."""
        known = self._seen.get(state)
        if known is None:
            known = self._seen[state] = self._look(state)
        return known

    def _look(self, state: StateName) -> Seen:
        settled = self.settled(state)
        runs = (settled.running & self.watched) | frozenset(_powered(settled))
        ran, shown, passed = runs, signs(settled), [settled]
        if self.circuit.moves:
            played = self.case.until(state.calls, dict(state.moved), state.after)
            passed = [step.settled for step in played.steps]
            ran |= self.watched.intersection(played.started())
            never = self.watched - ran
            weak = (signs(each) for each in passed) if never else ()
            shown = shown.union(sign for each in weak for sign in each if sign.name in never)
        shown = shown.union(lasting(self.case, passed))
        return Seen(ran, runs, frozenset(opening.name for opening in settled.opened), shown)

    def pulled(self, state: StateName) -> frozenset[str]:
        """The relays and contactors that are pulled in, which one sees and hears with the cover off."""
        return self.settled(state).running & self.relays

    @cached_property
    def relays(self) -> frozenset[str]:
        """The coils of relays and contactors."""
        coils = (load for load in self.circuit.loads if load.kind == "coil" and load.inrush is not None)
        return frozenset(load.name for load in coils if not is_seen(load))

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
    """What is seen to be wrong, by its kind, and what works.

    `signs` are those that a board without the fault does not show.
    """

    missing: tuple[str, ...]
    stopping: tuple[str, ...]
    extra: tuple[str, ...]
    staying: tuple[str, ...]
    opening: tuple[str, ...]
    works: tuple[str, ...]
    signs: tuple[Sign, ...] = ()

    def __bool__(self) -> bool:
        """Whether anything is seen to be wrong."""
        return any(self._replace(works=()))


def differences(good: Seen, bad: Seen) -> Differences:
    """What is seen on a board with a fault, against what is seen without it."""
    shown = bad.signs - good.signs
    half = frozenset(sign.name for sign in shown if sign.works)
    signed = frozenset(sign.name for sign in shown)
    missing = (good.ran | good.half) - bad.ran - bad.half - signed
    stopping = (good.runs - bad.runs - half) & bad.ran
    extra = bad.ran - good.ran - good.half
    staying = (bad.runs - good.runs) & good.ran
    works = (good.ran & bad.ran) - stopping - staying - signed
    return Differences(
        _in_order(missing),
        _in_order(stopping),
        _in_order(extra),
        _in_order(staying),
        _in_order(bad.opened - good.opened),
        _in_order(works),
        tuple(sorted(shown)),
    )


def _in_order(names: frozenset[str]) -> tuple[str, ...]:
    return tuple(sorted(names))
