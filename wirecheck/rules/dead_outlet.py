"""An outlet or a load never has power, wherever the switches stand and whatever is called.

What never works was never tested; and the wire that should feed it may end somewhere else, live.
Loads inside equipment count too, but for those whose terminals were left empty by choice.

Source: common practice: prove every outlet before the board is handed over
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge import joints, made_up, ways
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NotJoined, Stop, Wanted, of_load, why_no_volts
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import bars, legs
from wirecheck.judge.stop_words import remedy, said
from wirecheck.judge.unfed import DEAD_VOLTS, Side, supplied, unfed
from wirecheck.judge.voltages import is_line
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import ExpectEnd, ExpectFrom, ExpectLive, ExpectRuns
from wirecheck.model.board import Device, Terminal

# More loads of one device than this in a sentence tell a reader nothing.
MOST_NAMED = 4


class NeverLive(Problem):
    """What has no power in any state: a device, or one load or outlet of it; and where its path stops.

    `others` are in the same device and dead for the same reason.
    """

    device: Device
    wanted: Wanted
    stop: Stop
    others: tuple[Wanted, ...] = ()


class OnOneSide(Problem):
    """What has both its sides on one leg, or both on the neutral; `others` in its device have it too."""

    device: Device
    wanted: Wanted
    side: Side
    others: tuple[Wanted, ...] = ()


class BoardWithoutPower(Problem):
    """A control that should wait for calls, and has too few volts while nothing is called."""

    load: Load
    volts: float


class CommonOnCall(Problem):
    """A thermostat's common that comes to no common, and the terminals that it is on instead."""

    terminal: Terminal
    on: tuple[Terminal, ...]


def find(case: Case) -> Iterator[NeverLive | OnOneSide | BoardWithoutPower | CommonOnCall]:
    """Each device that is never live, each control without power, each common that is on a call."""
    if case.board.panels:
        yield from _never_live(case)
        yield from _without_power(case)
        yield from _on_calls(case)


def surely(case: Case, before: object) -> bool:
    """Whether something has no power, that no switch or call should run."""
    asked = _asked(case)
    return bool(case.board.panels) and any(
        one.present < DEAD_VOLTS and asked.isdisjoint((one.device, one.wanted.of.name)) for one in unfed(case)
    )


def _never_live(case: Case) -> Iterator[NeverLive | OnOneSide]:
    """What takes power and gets none; what a switch or a call should run is judged by that."""
    asked = _asked(case)
    dead: dict[str, list[tuple[Wanted, Stop | Side]]] = {}
    for name, wanted, why in _dead(case):
        if asked.isdisjoint((name, wanted.of.name)):
            dead.setdefault(name, []).append((wanted, why))
    for outer, found in dead.items():
        device = case.board.devices[outer]
        if 1 < len(found) == sum(one.device == outer for one in supplied(case)):
            # Of all that a device has, the device itself is told.
            wanted, why = found[0]
            yield _told(case, device, [wanted._replace(of=device)], why)
            continue
        together: dict[object, tuple[Stop | Side, list[Wanted]]] = {}
        for wanted, why in found:
            together.setdefault(_cause(why), (why, []))[1].append(wanted)
        for why, these in together.values():
            yield _told(case, device, these, why)


def _cause(why: Stop | Side) -> object:
    """What is alike where several loads are dead for one reason."""
    match why:
        case Stop(end=NotJoined(here)):
            return here
        case Stop():
            return why.end
    return why


def _dead(case: Case) -> Iterator[tuple[str, Wanted, Stop | Side]]:
    """What has no power in any state, with the outermost device that it is in, and why.

    What only waits for heat, water or a machine is not dead, unless the board expects it to be live.
    """
    rest, contacts = case.at_rest, frozenset(contact.name for contact in case.circuit.contacts)
    told = set()
    for one in unfed(case):
        if one.present < DEAD_VOLTS:
            told.add(one.wanted.of.name)
            # No contact is what it lacks: with all of them closed the path still stops.
            all_closed = (rest.first or rest)._replace(closed=contacts)
            yield one.device, one.wanted, one.both or why_no_volts(case, all_closed, one.wanted)
    expected = frozenset(_expected_live(case))
    for device, wanted, _ in supplied(case):
        name = wanted.of.name
        if name in expected and name not in told and _never(case, wanted.a, wanted.b):
            yield device, wanted, why_no_volts(case, rest.first or rest, wanted)


def _expected_live(case: Case) -> Iterator[str]:
    """The names of the loads and outlets that the board expects to be live."""
    for one in case.board.expectations:
        if isinstance(one, ExpectLive):
            load = case.circuit.load.get(one.outlet.text)
            yield from (load.name,) if load is not None else ()
            yield from (outlet.name for outlet in case.circuit.outlets_of(one.outlet.text))


def _never(case: Case, a: str, b: str) -> bool:
    """Whether no switch and no call brings volts between two points, before anything opens."""
    called = (step.settled for call in case.heard for step in case.played([call]).steps)
    states = (*case.survey.states, *called)
    return all((state.first or state).across(a, b) < DEAD_VOLTS for state in states)


def _told(case: Case, device: Device, found: list[Wanted], why: Stop | Side) -> NeverLive | OnOneSide:
    """What is dead in one device for one reason."""
    first, *others = found
    copper = _up_to_its_feed(case, first.a, first.b)
    if isinstance(why, Stop):
        if isinstance(why.end, NotJoined):
            why = why._replace(end=joints.safe(case, why.end))
        return NeverLive(
            at=why.at or spot(device),
            about=first.of,
            severity="fault",
            stage="final",
            copper=copper,
            device=device,
            wanted=first,
            stop=why,
            others=tuple(others),
        )
    # A hot that is missing is looked for on the side of the hot, a second one on the other.
    astray, ends = (first.b, legs(case)) if why == "hot" else (first.a, bars(case, "neutral"))
    back = ways.way(case, [astray], ends)
    return OnOneSide(
        at=spot(back.joins[-1] if back is not None and back.joins else device),
        about=first.of,
        severity="fault",
        stage="final",
        copper=copper,
        device=device,
        wanted=first,
        side=why,
        others=tuple(others),
    )


def _without_power(case: Case) -> Iterator[BoardWithoutPower]:
    """The control boards fed from another's transformer that have no power at rest, when they should wait."""
    devices = case.circuit.devices
    feeding = {devices[winding.device].outer for winding in case.circuit.windings}
    for load in case.circuit.loads:
        device = case.board.devices.get(load.device)
        if (
            device is not None
            and "standby" in load.flags
            and load.kind == "electronics"
            and not is_line(case, load.volts)
            # Where a transformer of its own is dead, that is the matter.
            and device.name not in feeding
            and (not device.part.calls or _lives_on_it(case, load))
            and (present := case.at_rest.load_volts(load)) < load.works
        ):
            join = made_up.join_at(case, load.a) or made_up.join_at(case, load.b)
            stop = why_no_volts(case, case.at_rest, of_load(load)) if device.part.calls else None
            yield BoardWithoutPower(
                at=(stop.at if stop is not None else None) or spot(device if join is None else join),
                about=load,
                severity="fault",
                stage="final",
                copper=_up_to_its_feed(case, load.a, load.b),
                load=load,
                volts=present,
            )


def _lives_on_it(case: Case, load: Load) -> bool:
    """Whether a thermostat without batteries has wires on both sides, and some transformer gives its volts.

    Where it has none, or the transformer is dead, that is the matter.
    """
    screws = (case.board.terminals[end] for end in load.ends)
    return all(
        "optional" not in screw.spec.flags and made_up.join_at(case, screw.name) is not None
        for screw in screws
    ) and any(case.at_rest.across(*winding.secondary) >= load.works for winding in case.circuit.windings)


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


def _asked(case: Case) -> frozenset[str]:
    """The names of which `expect` lines say by what switch or call they work: they are judged by that."""
    told: set[str] = set()
    for one in case.board.expectations:
        match one:
            case ExpectFrom():
                told.add(one.load.text)
            case ExpectRuns() | ExpectEnd():
                told.update(word.text for word, _ in one.steps)
    loads = (case.circuit.load.get(name) for name in told)
    return frozenset(told) | {load.name for load in loads if load is not None}


def _up_to_its_feed(case: Case, *points: str) -> frozenset[int]:
    """The copper on two sides of a thing, and beyond contacts and protection as far as what is always fed."""
    uses = case.uses
    fed = {piece for piece, feeds in uses.direct.items() if feeds}
    return ways.pieces_reached(case, (uses.piece[point] for point in points), stops=fed)


# -------------------------------------------------------------------- words


def words(problem: NeverLive | OnOneSide | BoardWithoutPower | CommonOnCall, case: Case) -> Words:
    """What has no power, where the path to it stops, and what to do there."""
    match problem:
        case NeverLive(stop=stop):
            return _words_of_dead(
                problem, f"no power{_in_any_position(case)}. {said(stop, case)}", remedy(stop)
            )
        case OnOneSide(side="hot"):
            return _words_of_dead(
                problem,
                "both sides on one leg of the panel, so there is no voltage between them.",
                "Follow both wires back to the panel. Each should come from a leg of its own, or one of "
                "them from the neutral.",
            )
        case OnOneSide():
            return _words_of_dead(
                problem,
                "both sides on the neutral or the ground, so there is no voltage between them.",
                "Bring the hot to its hot side.",
            )
        case BoardWithoutPower(load=load, volts=present):
            dark = "is dark" if case.board.devices[load.device].part.calls else "has no power of its own"
            return Words(
                message=f"{load.device} {dark} while nothing is called: "
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


def _in_any_position(case: Case) -> str:
    """That no switch helps, where the board has one."""
    return " in any position of the switches" if any(group.switches for group in case.groups) else ""


def _words_of_dead(problem: NeverLive | OnOneSide, what: str, to_do: str) -> Words:
    """What has no power, with what else in its device has none for the same reason."""
    wanted, device, others = problem.wanted, problem.device, problem.others
    also = f" The same goes for {listed((one.of.name for one in others), MOST_NAMED)}." if others else ""
    return Words(
        message=f"{wanted.of.name} has {what}{also}",
        help=to_do,
        source="common practice",
        value=0.0,
        limit=wanted.volts,
        unit="V",
        also=()
        if problem.at.span == device.span
        else (Note(f"{device.name} is declared here", device.span),),
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, surely=surely, of_ties=True)
