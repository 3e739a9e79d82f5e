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


class _State(NamedTuple):
    """A variable of a machine where it stands, or (None) anywhere but at `value`."""

    variable: str
    value: str
    elsewhere: bool = False


def of_one_sequence(case: Case, load: Load, wanted: Load, called: tuple[str, ...]) -> bool:
    """Whether a load of the same machine belongs with one that calls should run.

    It waits for one of these calls, by itself or on the screw that carries it. Where no screw says what
    it carries, it waits for just what the other waits for.
    """
    around = case.circuit.devices
    if around[load.device].outer != around[wanted.device].outer:
        return False
    waits = waits_for(case, load)
    screws = [screw for name in waits if (screw := case.board.terminals.get(name))]
    carried = {screw.spec.carries for screw in screws} - {None}
    if carried:
        return not carried.isdisjoint(_meant(case, called))
    return not waits.isdisjoint(_meant(case, called)) or (bool(screws) and waits == waits_for(case, wanted))


def _meant(case: Case, called: tuple[str, ...]) -> frozenset[str]:
    """Calls without the thermostats that make them."""
    return frozenset(
        call
        for device in every_device(case.board.devices)
        for call in device.part.calls
        if call in called or f"{device.name}.{call}" in called
    )


def waits_for(case: Case, load: Load) -> frozenset[str]:
    """The calls and the screws of its own machine that a load runs by, by name."""
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
    way = ways.way(case, sources, [point])
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
        case Runs(name):
            load = case.circuit.load.get(f"{scope}.{name.text}")
            yield from () if load is None else (load,)
        case HasVoltage(terminal):
            yield f"{scope}.{terminal.text}"
        case InPosition(position):
            yield _State(scope, position.text)
        case IsState(name, state):
            yield _State(f"{scope}.{name.text}", state.text)
        case Negation(IsState(name, state)):
            yield _State(f"{scope}.{name.text}", state.text, elsewhere=True)
