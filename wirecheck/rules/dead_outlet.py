"""An outlet or a load never has power, wherever the switches stand.

What never works was never tested; and the wire that should feed it may end somewhere else, live.

Source: common practice: prove every outlet before the board is handed over
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.judge import made_up, ways
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import HeldOpen, Stop, Wanted, of_load, why_no_volts
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.stop_words import remedy, said
from wirecheck.judge.voltages import is_line
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import ExpectFrom, ExpectLive, ExpectRuns, InPosition
from wirecheck.model.board import Device, Terminal

# Below this an outlet is dead, and no meter says otherwise (common practice).
DEAD_VOLTS = 5.0


class NeverLive(Problem):
    """What has no power in any state: a device, or one load or outlet of it; and where its path stops."""

    device: Device
    wanted: Wanted
    stop: Stop


class BoardWithoutPower(Problem):
    """A control that should wait for calls, and has too few volts while nothing is called."""

    load: Load
    volts: float


class CommonOnCall(Problem):
    """A thermostat's common that comes to no common, and the terminals that it is on instead."""

    terminal: Terminal
    on: tuple[Terminal, ...]


def find(case: Case) -> Iterator[NeverLive | BoardWithoutPower | CommonOnCall]:
    """Each device that is never live, each control without power, each common that is on a call."""
    if case.board.panels:
        yield from _never_live(case)
        yield from _without_power(case)
        yield from _on_calls(case)


def _never_live(case: Case) -> Iterator[NeverLive]:
    """What takes power from the wiring and gets none; what an `expect` line names is judged by that."""
    asked = _asked(case)
    dead: dict[str, list[Wanted]] = {}
    for name, wanted in _supplied(case):
        if name in case.board.devices and asked.isdisjoint((name, wanted.of.name)) and _is_dead(case, wanted):
            dead.setdefault(name, []).append(wanted)
    for name, found in dead.items():
        device, wanted = case.board.devices[name], found[0]
        if len(found) > 1:
            wanted = wanted._replace(of=device)
        stop = _stop(case, wanted)
        if stop is None:
            continue
        yield NeverLive(
            at=stop.at or spot(device),
            about=wanted.of,
            severity="fault",
            stage="final",
            copper=_up_to_its_feed(case, wanted.a, wanted.b),
            device=device,
            wanted=wanted,
            stop=stop,
        )


def _is_dead(case: Case, wanted: Wanted) -> bool:
    """Whether something of the line has no power in any state, before anything opens."""
    return is_line(case, wanted.volts) and all(
        (state.first or state).across(wanted.a, wanted.b) < DEAD_VOLTS for state in case.states
    )


def _stop(case: Case, wanted: Wanted) -> Stop | None:
    """Where the path stops with all that waits for heat, water or a machine put where it conducts.

    None where it has power then.
    """
    moved: dict[str, str] = {}
    while True:
        state = case.settled(moved)
        state = state.first or state
        if state.across(wanted.a, wanted.b) >= DEAD_VOLTS:
            return None
        stop = why_no_volts(case, state, wanted)
        match stop.end:
            case HeldOpen(Contact(when=InPosition(position), scope=scope)) if scope not in moved:
                moved[scope] = position.text
            case _:
                return stop


def _without_power(case: Case) -> Iterator[BoardWithoutPower]:
    """The control boards fed from another's transformer that have no power at rest, when they should wait."""
    devices = case.circuit.devices
    feeding = {devices[winding.device].outer for winding in case.circuit.windings}
    for load in case.circuit.loads:
        device = case.board.devices.get(load.device)
        if (
            device is not None
            and "standby" in load.flags
            and not is_line(case, load.volts)
            # Where a transformer of its own is dead, that is the matter.
            and device.name not in feeding
            # A thermostat without its power makes no call, or lives on its batteries.
            and not device.part.calls
            and (present := case.states[0].load_volts(load)) < load.works
        ):
            join = made_up.join_at(case, load.a) or made_up.join_at(case, load.b)
            yield BoardWithoutPower(
                at=spot(device if join is None else join),
                about=load,
                severity="fault",
                stage="final",
                copper=_up_to_its_feed(case, load.a, load.b),
                load=load,
                volts=present,
            )


def _on_calls(case: Case) -> Iterator[CommonOnCall]:
    """The commons of thermostats that come to calls alone, and to no common."""
    together: dict[int, list[Terminal]] = {}
    for terminal in case.board.terminals.values():
        if terminal.spec.role in ("class-2", "class-2-common"):
            together.setdefault(case.uses.piece[terminal.name], []).append(terminal)
    for piece, terminals in together.items():
        for terminal in terminals:
            device = case.board.devices.get(terminal.owner)
            others = tuple(one for one in terminals if one is not terminal)
            if (
                device is not None
                and device.part.calls
                and terminal.spec.role == "class-2-common"
                and others
                and all(one.spec.role == "class-2" for one in others)
            ):
                yield CommonOnCall(
                    at=made_up.at_screw(case, terminal),
                    about=terminal,
                    severity="fault",
                    stage="final",
                    copper=frozenset((piece,)),
                    terminal=terminal,
                    on=others,
                )


def _supplied(case: Case) -> Iterator[tuple[str, Wanted]]:
    """What takes power from the wiring by itself, each with its device."""
    for outlet in case.circuit.outlets:
        yield outlet.device, Wanted(outlet, outlet.hot, outlet.neutral, outlet.volts)
    for load in case.circuit.loads:
        yield load.device, of_load(load)
    for winding in case.circuit.windings:
        yield winding.device, Wanted(winding, *winding.primary, winding.primary_volts)


def _asked(case: Case) -> frozenset[str]:
    """The names that `expect` lines judge: whether that works is told of them."""
    told: set[str] = set()
    for one in case.board.expectations:
        match one:
            case ExpectFrom():
                told.add(one.load.text)
            case ExpectLive():
                told.add(one.outlet.text)
            case ExpectRuns():
                told.update(word.text for word, _ in one.steps)
    loads = (case.circuit.load.get(name) for name in told)
    return frozenset(told) | {load.name for load in loads if load is not None}


def _up_to_its_feed(case: Case, *points: str) -> frozenset[int]:
    """The copper on two sides of a thing, and beyond contacts and protection as far as what is always fed."""
    uses = case.uses
    fed = {piece for piece, feeds in uses.direct.items() if feeds}
    return ways.pieces_reached(case, (uses.piece[point] for point in points), stops=fed)


# -------------------------------------------------------------------- words


def words(problem: NeverLive | BoardWithoutPower | CommonOnCall, case: Case) -> Words:
    """What has no power, where the path to it stops, and what to do there."""
    match problem:
        case NeverLive(wanted=wanted, device=device, stop=stop):
            return Words(
                message=f"{wanted.of.name} has no power in any position of the switches. {said(stop, case)}",
                help=remedy(stop),
                source="common practice",
                value=0.0,
                limit=wanted.volts,
                unit="V",
                also=(Note(f"{device.name} is declared here", device.span),) if stop.at else (),
            )
        case BoardWithoutPower(load=load, volts=present):
            return Words(
                message=f"{load.device} has no power of its own while nothing is called: "
                f"{volts(present, beside=load.works)} between {load.a} and {load.b}. It needs "
                f"{volts(load.works, beside=present)}.",
                help="Bring both sides of the transformer there, from each letter to the same letter at the "
                "other end of the cable.",
                source="common practice",
                value=present,
                limit=load.works,
                unit="V",
            )
        case CommonOnCall(terminal=terminal, on=others):
            if any(other.spec.carries == "power" for other in others):
                effect = "The thermostat is then on one side of the transformer alone, and dark."
            else:
                effect = (
                    "What the thermostat itself draws then goes through what is on that wire, and the "
                    "thermostat goes dark with that call."
                )
            return Words(
                message=f"{terminal.name} comes to no common: its wire is on "
                f"{listed(other.name for other in others)}. {effect}",
                help=f"Move the other end of the wire on {terminal.name} to a common.",
                source="common practice",
            )


RULE = rule(__name__, "final", find=find, words=words)
