"""What a machine's loads wait for: the calls, and the screws by which they come, that each runs by.

A furnace's gas valve waits for its control, that for the inducer, and that for 24 V on W. A line that
names the blower alone needs not name all that comes before it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.judge import ways
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.source import bars
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
)
from wirecheck.model.devices import every_device

# What lies on screws of these roles is power and no call.
POWER = ("hot", "line", "neutral", "ground", "class-2-common")
# A second stage is called for with its first.
FIRST_STAGE = {"second-heat": "heat", "second-cool": "cool"}


class _State(NamedTuple):
    """A variable of a machine where it stands, or (None) anywhere but at `value`."""

    variable: str
    value: str
    elsewhere: bool = False


def of_one_sequence(case: Case, load: Load, wanted: Load, called: tuple[str, ...]) -> bool:
    """Whether a load of the same machine belongs with one that calls should run.

    It waits for one of these calls, by itself or on the screw that carries it, and needs no wire that
    they give nothing on, as that of a second stage. Where no screw says what it carries, it waits for just
    what the other waits for.
    """
    around = case.circuit.devices
    if around[load.device].outer != around[wanted.device].outer:
        return False
    waits = waits_for(case, load)
    screws = [screw for name in waits if (screw := case.board.terminals.get(name))]
    carried = {screw.spec.carries for screw in screws} - {None}
    if carried:
        meant = _meant(case, called)
        late = carried - meant - _given(case, called)
        return not carried.isdisjoint(meant) and not (late and late & _needed(case, load))
    return not waits.isdisjoint(_meant(case, called)) or (bool(screws) and waits == waits_for(case, wanted))


def _meant(case: Case, called: tuple[str, ...]) -> frozenset[str]:
    """Calls without the thermostats that make them; a second stage comes with its first."""
    calls = {
        call
        for device in every_device(case.board.devices)
        for call in device.part.calls
        if call in called or f"{device.name}.{call}" in called
    }
    return frozenset(calls | {FIRST_STAGE[call] for call in calls & FIRST_STAGE.keys()})


def waits_for(case: Case, load: Load) -> frozenset[str]:
    """The calls and the screws of its own machine that a load runs by, by name."""
    asked = _waits(case)
    if load.name not in asked:
        asked[load.name] = _waits_of(case, load)
    return asked[load.name]


@question
def _waits(case: Case) -> dict[str, frozenset[str]]:
    """What loads wait for, as far as it was asked."""
    return {}


def _waits_of(case: Case, load: Load) -> frozenset[str]:
    outer = case.circuit.devices[load.device].outer
    waiting: list[Load | _State | str] = [load]
    seen: set[Load | _State | str] = set()
    told: set[str] = set()
    while waiting:
        one = waiting.pop()
        if one in seen:
            continue
        seen.add(one)
        if isinstance(one, _State):
            conditions = list(_brought_to(case, one, waiting))
        else:
            conditions = []
            for point in (one.a, one.b) if isinstance(one, Load) else (one,):
                screw, closing = _fed(case, outer, point)
                told.update(screw)
                conditions += closing
        for condition, scope in conditions:
            told.update(_called(condition))
            waiting += _before(case, condition, scope)
    return frozenset(told)


def _given(case: Case, called: tuple[str, ...]) -> frozenset[str]:
    """What the wires carry on which calls give 24 V."""
    carried = set()
    for device in every_device(case.board.devices):
        calls = {call for call in device.part.calls if call in called or f"{device.name}.{call}" in called}
        for contact in device.part.contacts:
            if contact.when is not None and not calls.isdisjoint(_called(contact.when)):
                ends = (device.part.terminals.get(end) for end in (contact.a, contact.b))
                carried |= {end.carries for end in ends if end is not None and end.carries}
    return frozenset(carried)


def _needed(case: Case, load: Load) -> frozenset[str]:
    """What the screws carry without which a load cannot run, whatever else happens."""
    screws = (case.board.terminals.get(name) for name in needs(case, load))
    return frozenset(screw.spec.carries for screw in screws if screw is not None and screw.spec.carries)


def needs(case: Case, load: Load) -> frozenset[str]:
    """The calls and screws of its own machine that a load needs in every way in which it may come to run."""
    outer = case.circuit.devices[load.device].outer
    machine = _machines(case).setdefault(outer, _Needs(case, outer))
    return machine.settled(load) or frozenset()


@question
def _machines(case: Case) -> dict[str, _Needs]:
    """What is known of what the loads of each machine need, as far as it was asked."""
    return {}


class _Needs:
    """What each load, state and screw of a machine needs; None where no way to it is known yet.

    States wait for one another in circles. So each is asked anew until nothing changes: a way that goes
    in a circle never becomes one.
    """

    def __init__(self, case: Case, outer: str) -> None:
        self._case = case
        self._outer = outer
        self._told: dict[Load | _State | str, frozenset[str] | None] = {}
        self._fed: dict[str, tuple[list[str], list[tuple[Condition, str]]]] = {}

    def settled(self, load: Load) -> frozenset[str] | None:
        if self._told.get(load) is not None:
            return self._told[load]
        self.of(load)
        before: dict[Load | _State | str, frozenset[str] | None] = {}
        while before != self._told:
            before = dict(self._told)
            self._case.work.spend(len(before))
            for one in before:
                self._told[one] = self._of_state(one) if isinstance(one, _State) else self._of_points(one)
        return self._told[load]

    def of(self, one: Load | _State | str) -> frozenset[str] | None:
        return self._told.setdefault(one, None)

    def _of_points(self, one: Load | str) -> frozenset[str] | None:
        """Of a load at both of its ends, or of a point that should have volts."""
        told: list[frozenset[str] | None] = []
        for point in (one.a, one.b) if isinstance(one, Load) else (one,):
            if point not in self._fed:
                self._fed[point] = _fed(self._case, self._outer, point)
            screw, closing = self._fed[point]
            told.append(frozenset(screw))
            told += (self._of_condition(when, scope) for when, scope in closing)
        return _all(told)

    def _of_state(self, state: _State) -> frozenset[str] | None:
        """Nothing where it begins so; else what is in common to all that brings it there."""
        begins = self._case.circuit.variables[state.variable].values[0]
        if (begins == state.value) is not state.elsewhere:
            return frozenset()
        ways_there = []
        for move in self._case.circuit.moves:
            if move.variable == state.variable and (move.target == state.value) is not state.elsewhere:
                from_there = [self.of(_State(state.variable, origin)) for origin in move.origins]
                when = self._of_condition(move.when, move.scope) if move.when else frozenset()
                ways_there.append(_all([_any(from_there), when]))
        return _any(ways_there)

    def _of_condition(self, condition: Condition, scope: str) -> frozenset[str] | None:
        match condition:
            case AllOf(facts):
                return _all([self._of_condition(fact, scope) for fact in facts])
            case AnyOf(facts):
                return _any([self._of_condition(fact, scope) for fact in facts])
        before = list(_before(self._case, condition, scope))
        return _all([frozenset(_called(condition)), *map(self.of, before)])


def _all(told: list[frozenset[str] | None]) -> frozenset[str] | None:
    """What is needed where all of these must be so."""
    known = [one for one in told if one is not None]
    return frozenset().union(*known) if len(known) == len(told) else None


def _any(told: list[frozenset[str] | None]) -> frozenset[str] | None:
    """What is needed where one of these will do; nothing where there is none."""
    known = [one for one in told if one is not None]
    if not told:
        return frozenset()
    return frozenset.intersection(*known) if known else None


def _brought_to(
    case: Case, state: _State, waiting: list[Load | _State | str]
) -> Iterator[tuple[Condition, str]]:
    """What moves a variable to where it should be; from where it comes is waited for too."""
    for move in case.circuit.moves:
        if move.variable == state.variable and (move.target == state.value) is not state.elsewhere:
            waiting += [_State(state.variable, origin) for origin in move.origins]
            if move.when is not None:
                yield move.when, move.scope


def _fed(case: Case, outer: str, point: str) -> tuple[list[str], list[tuple[Condition, str]]]:
    """The last screw of a machine on the way from a source to a point, if a call comes by it.

    And what closes the contacts that come after it.
    """
    terminals = case.board.terminals
    circuit = case.circuit
    sources = [leg.point for leg in circuit.legs] + [
        end for winding in circuit.windings for end in winding.secondary
    ]
    # What no hot comes to, as where hot and neutral are swapped, is fed from the other side all the same.
    way = ways.way(case, sources, [point]) or ways.way(case, bars(case, "neutral"), [point])
    if way is None:
        return [], []
    conditions: list[tuple[Condition, str]] = []
    for at, of in zip(reversed(way.points), (*reversed(way.elements), None), strict=True):
        screw = terminals.get(at)
        if screw is not None and screw.owner == outer:
            call = screw.spec.role not in POWER and screw.spec.carries != "power"
            return [at] if call else [], conditions
        if isinstance(of, Contact):
            conditions.append((of.when, of.scope))
    return [], conditions


def _called(condition: Condition) -> Iterator[str]:
    match condition:
        case AllOf(facts) | AnyOf(facts):
            for fact in facts:
                yield from _called(fact)
        case Called(call):
            yield call.text


def _before(case: Case, condition: Condition, scope: str) -> Iterator[Load | _State | str]:
    """What has to be so first; that something is not so is waited for by nothing."""
    match condition:
        case AllOf(facts) | AnyOf(facts):
            for fact in facts:
                yield from _before(case, fact, scope)
        case Runs():
            load = case.circuit.meant(condition, scope)
            yield from () if load is None else (load,)
        case HasVoltage(terminal):
            yield f"{scope}.{terminal.text}"
        case InPosition(position):
            yield _State(scope, position.text)
        case IsState(name, state):
            yield _State(f"{scope}.{name.text}", state.text)
        case Negation(IsState(name, state)):
            yield _State(f"{scope}.{name.text}", state.text, elsewhere=True)
