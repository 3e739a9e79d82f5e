"""What can hurt somebody on a board in a state, by its solution: live though off, too many volts, heat, fuel.

What a board without its faults has as well, as the one hot that a contactor of one pole leaves on its load,
is no news and is not told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple, TypeVar

from wirecheck.circuit.circuit import Circuit, Move, Outlet
from wirecheck.circuit.fault import Fault
from wirecheck.circuit.play import Step
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.judge.voltages import LIVE_VOLTS
from wirecheck.language.syntax import AllOf, AnyOf, Condition, Runs
from wirecheck.parts.part import FLAME
from wirecheck.tables.heat import watts
from wirecheck.troubles.heat import given_off

# What has less than this share of its volts does nothing (common practice).
NOTHING = 0.1
# More than this share of its volts is more than what a transformer without a load gives (common practice).
OVER = 1.15
# The longest that a burner's control lets fuel in to see whether it lights: 30 s for oil, less for gas
# (UL 296 and ANSI Z21.20, from memory).
LONGEST_TRIAL = 30.0


class Heats(NamedTuple):
    """Where a fault lets current through, so many watts are given off."""

    fault: Fault
    watts: float


class OverVolts(NamedTuple):
    """A load or an outlet has more volts than it is made for."""

    name: str
    volts: float
    rated: float


class InSeries(NamedTuple):
    """Outlets on two hots share a neutral that is joined to nothing: what is plugged in shares the volts."""

    names: tuple[str, ...]
    volts: float


class LiveThoughOff(NamedTuple):
    """What does not run is live all the same: the volts to ground are the most of any of it."""

    names: tuple[str, ...]
    volts: float


class LiveMetal(NamedTuple):
    """Ground screws and metal boxes are live: the volts to ground are the most of any of them."""

    names: tuple[str, ...]
    volts: float


class Unlit(NamedTuple):
    """A valve lets fuel in for so many seconds with no flame; None for as long as the call stands."""

    valve: str
    seconds: float | None


Danger = Heats | OverVolts | InSeries | LiveThoughOff | LiveMetal | Unlit


K = TypeVar("K")
T = TypeVar("T")


class _Found(NamedTuple):
    """What is dangerous in a state, by name, whether or not a fault makes it so."""

    over: dict[str, OverVolts]
    series: dict[tuple[str, ...], InSeries]
    off: dict[str, float]
    metal: dict[str, float]
    unlit: dict[str, Unlit]


def dangers(case: Case, state: StateName, sound: Case | None = None) -> tuple[Danger, ...]:
    """What can hurt somebody in a state; of a board with faults, what cannot on the same board without them.

    Parameters
    ----------
    sound : the board without its faults, where it is known already

    Examples
    --------
    >>> from wirecheck.assembly import assemble
    >>> dangers(Case(assemble('board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A')[1]), StateName())
    ()
    """
    here = _found(case, state)
    told: list[Danger] = list(_heats(case, _steps(case, state)))
    if case.faults:
        there = _found(sound or case.sound, state)
        here = _Found(
            _new(here.over, there.over),
            _new(here.series, there.series),
            _new(here.off, there.off),
            _new(here.metal, there.metal),
            _new(here.unlit, there.unlit),
        )
        told += (LiveThoughOff(names, most) for names, most in _together(here.off))
    told += here.over.values()
    told += here.series.values()
    told += (LiveMetal(names, most) for names, most in _together(here.metal))
    told += here.unlit.values()
    return tuple(told)


def _new(here: Mapping[K, T], there: Mapping[K, T]) -> dict[K, T]:
    return {name: one for name, one in here.items() if name not in there}


def _together(volts: Mapping[str, float]) -> Iterator[tuple[tuple[str, ...], float]]:
    """All of it at once, with the most volts."""
    if volts:
        yield tuple(volts), max(volts.values())


def _found(case: Case, state: StateName) -> _Found:
    steps = _steps(case, state)
    settled = steps[-1].settled
    over = {one.name: one for step in steps for one in _over_volts(step.settled)}
    off = {name: volts for name, volts in _off(settled) if volts > LIVE_VOLTS}
    grounds = (point.name for point in case.board.terminals.values() if point.spec.role == "ground")
    metal = {name: volts for name in grounds if (volts := _to_ground(settled, name)) > LIVE_VOLTS}
    series = {one.names: one for one in _in_series(settled)}
    return _Found(over, series, off, metal, {one.valve: one for one in _unlit(case.circuit, steps)})


def _steps(case: Case, state: StateName) -> tuple[Step, ...]:
    """What the board goes through."""
    moved = dict(state.moved)
    if case.circuit.moves:
        return case.played(state.calls, moved).steps
    return (Step(0.0, (), case.settled(moved, state.calls)),)


def _heats(case: Case, steps: Sequence[Step]) -> Iterator[Heats]:
    for fault, most in given_off(case, (step.settled for step in steps)).items():
        if most >= watts("warm"):
            yield Heats(fault, most)


def _over_volts(settled: Settled) -> Iterator[OverVolts]:
    for load in settled.circuit.loads:
        most = max(settled.pair_volts(load))
        if most > max(load.works_to, OVER * load.volts):
            yield OverVolts(load.name, most, load.volts)
    for outlet in settled.circuit.outlets:
        volts = settled.across(outlet.hot, outlet.neutral)
        if volts > OVER * outlet.volts:
            yield OverVolts(outlet.name, volts, outlet.volts)


def _in_series(settled: Settled) -> Iterator[InSeries]:
    node = settled.circuit.node
    lost: dict[int, list[Outlet]] = {}
    for outlet in settled.circuit.outlets:
        if node[outlet.neutral] in settled.floating and node[outlet.hot] not in settled.floating:
            lost.setdefault(settled.islands[node[outlet.neutral]], []).append(outlet)
    for outlets in lost.values():
        most = max(settled.across(outlets[0].hot, other.hot) for other in outlets)
        if most > OVER * outlets[0].volts:
            yield InSeries(tuple(outlet.name for outlet in outlets), most)


def _off(settled: Settled) -> Iterator[tuple[str, float]]:
    """What gets nothing that it can use, with the most volts to ground of its ends."""
    circuit = settled.circuit
    for load in circuit.loads:
        if load.name in circuit.dead or settled.load_volts(load) < NOTHING * load.volts:
            yield load.name, max(_to_ground(settled, end) for pair in load.plug for end in pair)
    for outlet in circuit.outlets:
        if settled.across(outlet.hot, outlet.neutral) < NOTHING * outlet.volts:
            yield outlet.name, max(_to_ground(settled, end) for end in (outlet.hot, outlet.neutral))


def _to_ground(settled: Settled, point: str) -> float:
    """The volts to ground of a point; 0 where it hangs on nothing."""
    node = settled.circuit.node[point]
    return 0.0 if node in settled.floating else abs(settled.volts[node])


def _unlit(circuit: Circuit, steps: Sequence[Step]) -> Iterator[Unlit]:
    """The valves that let fuel in for longer than any trial for ignition, with no flame."""
    for move in circuit.moves:
        if not _lights(circuit, move):
            continue
        for valve in dict.fromkeys(_fuel(circuit, move)):
            seconds = _longest(steps, valve, move.variable)
            if seconds is None or seconds > LONGEST_TRIAL:
                yield Unlit(valve, seconds)


def _lights(circuit: Circuit, move: Move) -> bool:
    """Whether it is the move in which a burner lights."""
    variable = circuit.variables[move.variable]
    states = circuit.devices[move.scope].part.states
    known = any(one.name == FLAME and f"{move.scope}.{FLAME}" == move.variable for one in states)
    return known and move.target != variable.values[0]


def _fuel(circuit: Circuit, move: Move) -> Iterator[str]:
    """The valves that must be open for it."""
    waiting: list[Condition] = [] if move.when is None else [move.when]
    while waiting:
        match waiting.pop():
            case AllOf(facts) | AnyOf(facts):
                waiting += facts
            case Runs() as fact:
                load = circuit.meant(fact, move.scope)
                if load is not None and load.kind == "valve":
                    yield load.name


def _longest(steps: Sequence[Step], valve: str, flame: str) -> float | None:
    """The longest that a valve is open with no flame; None where it is so in the end."""
    longest, since = 0.0, None
    for step in steps:
        unlit = valve in step.settled.running and not _burns(step.settled, flame)
        if unlit and since is None:
            since = step.time
        elif not unlit and since is not None:
            longest, since = max(longest, step.time - since), None
    return longest if since is None else None


def _burns(settled: Settled, flame: str) -> bool:
    return settled.positions[flame] != settled.circuit.variables[flame].values[0]
