"""A hookup lacks a wire, and something that the devices could do will not work.

Without a common a thermostat lives on its batteries; without the fan's wire no
call for the fan reaches the blower; without a feed no control closes anything.
It may be meant so: then there is nothing to do.

Source: common practice for 24 V controls
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge import calls
from wirecheck.judge.ahead import Ahead, ahead_of
from wirecheck.judge.case import Case
from wirecheck.judge.closed_by import closed_by
from wirecheck.judge.control_wires import alike
from wirecheck.judge.grouped import grouped
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import is_class_2
from wirecheck.judge.question import question
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Device, Terminal
from wirecheck.parts.part import TRIED
from wirecheck.tables.thermostat_colors import usual_colors

# What brings power, and no call.
FEEDS = ("power", "common")


class Empty(Problem):
    """A terminal of control wiring without a wire."""

    terminal: Terminal


class Unpowered(Empty):
    """`load` stands by in its device and has no power without it; `offers` is where power may come from."""

    load: Load
    offers: Terminal | None


class Unheard(Empty):
    """A thermostat's call does not reach the terminal that waits for it."""

    call: str
    waits: Terminal


class Unsent(Empty):
    """What a control sends to another machine at some moment does not reach the terminal that hears it."""

    hears: Terminal


class Unused(Empty):
    """A screw that its part needs has no wire, whatever it is for.

    `ahead` is what hangs on another screw of its device instead, ahead of what opens there.
    """

    ahead: Ahead | None


Kind = Unpowered | Unheard | Unsent | Unused


def find(case: Case) -> Iterator[Kind]:
    """Each terminal without a wire for want of which something does not work, or that its part needs."""
    # A jumper that was put in is a wire, too.
    jumpered = {point for one in case.board.altered if one.act == "jumper" for point in one.points}
    for device in case.board.devices.values():
        terminals = (case.board.terminals[f"{device.name}.{name}"] for name in device.part.terminals)
        bare = (terminal for terminal in terminals if join_at(case, terminal.name) is None)
        empty = [terminal for terminal in bare if terminal.name not in jumpered]
        told = tuple(_in_control_wiring(case, device, empty))
        yield from told
        known = [one.terminal for one in told]
        yield from _unused(case, device, [terminal for terminal in empty if terminal not in known])


def _in_control_wiring(case: Case, device: Device, every: list[Terminal]) -> Iterator[Kind]:
    """The terminals of control wiring for want of which something does not work."""
    empty = [terminal for terminal in every if terminal.spec.role in ("class-2", "class-2-common")]
    for terminal in empty:
        yield from _unpowered(case, device, terminal)
    if device.part.calls:
        yield from _unheard(case, device, empty)
    else:
        yield from _unsent(case, device, empty)


def _unused(case: Case, device: Device, empty: list[Terminal]) -> Iterator[Unused]:
    """The screws that their part does not call optional.

    Of grounds and of leads others speak, and what a thermostat can call for is asked for by the equipment.
    Of a changeover contact that moves by itself, one side may be what the control is there for.
    """
    for terminal in empty:
        spec = terminal.spec
        asked_for = device.part.calls and spec.carries not in (None, *FEEDS)
        by_choice = spec.role == "ground" or asked_for or _other_side(case, device, terminal, empty)
        if spec.flags.isdisjoint(("optional", "lead")) and not by_choice:
            ahead = ahead_of(case, device, terminal)
            yield Unused(
                at=spot(ahead.join if ahead else device),
                about=terminal,
                severity="advice",
                stage="final",
                copper=frozenset((case.uses.piece[terminal.name],)),
                terminal=terminal,
                ahead=ahead,
            )


def _other_side(case: Case, device: Device, terminal: Terminal, empty: list[Terminal]) -> bool:
    """Whether a terminal is one side of a changeover that moves by itself, and the other has a wire."""
    own = case.circuit.contacts_in.get(device.name, ()) if device.part.moved_by not in TRIED else ()
    sides = [ends for one in own for ends in ((one.a, one.b), (one.b, one.a))]
    commons = {common for common, side in sides if side == terminal.name}
    bare = {one.name for one in empty}
    return any(
        common in commons and side != terminal.name and bare.isdisjoint((common, side))
        for common, side in sides
    )


def _unpowered(case: Case, device: Device, terminal: Terminal) -> Iterator[Unpowered]:
    running = case.standing({}).running if device.part.loads else frozenset[str]()
    for spec in device.part.loads:
        load = case.circuit.load.get(f"{device.name}.{spec.name}")
        if (
            load is not None
            and load.device == device.name
            and "standby" in load.flags
            and terminal.name in (load.a, load.b)
            and load.name not in running
        ):
            yield Unpowered(
                at=spot(device),
                about=terminal,
                # What has no batteries does nothing at all.
                severity="advice" if "optional" in terminal.spec.flags else "fault",
                stage="final",
                copper=frozenset((case.uses.piece[terminal.name],)),
                terminal=terminal,
                load=load,
                offers=_elsewhere(case, device, terminal),
            )


def _unheard(case: Case, device: Device, empty: list[Terminal]) -> Iterator[Unheard]:
    """The calls that no line asks for, and that run nothing."""
    expected = {word.text for line in calls.asked(case) for word in line.calls}
    for call in device.part.calls if empty else ():
        own = f"{device.name}.{call}"
        # Where several thermostats make a call, each makes it under its own name too.
        name = own if own in case.calls else call
        if not expected.isdisjoint((call, name)) or _runs_something(case, name):
            continue
        ends = dict.fromkeys(end for one in closed_by(case, device, call) for end in (one.a, one.b))
        screws = [case.board.terminals[end] for end in ends if end in case.board.terminals]
        called = [screw for screw in screws if screw.spec.carries not in FEEDS]
        waiting = [(screw, _elsewhere(case, device, screw)) for screw in called]
        # Where another screw of the call has nothing that waits for it, the call is not for this board.
        heard = [(screw, waits) for screw, waits in waiting if waits is not None and _waits(case, waits)]
        for screw, waits in heard if len(heard) == len(waiting) else ():
            if screw in empty:
                yield Unheard(
                    at=spot(device),
                    about=screw,
                    severity="advice",
                    stage="final",
                    copper=frozenset((case.uses.piece[screw.name],)),
                    terminal=screw,
                    call=call,
                    waits=waits,
                )


def _unsent(case: Case, device: Device, empty: list[Terminal]) -> Iterator[Unsent]:
    sends = {end for one in device.part.contacts if one.when is not None for end in (one.a, one.b)}
    for terminal in empty:
        hears = _elsewhere(case, device, terminal)
        if (
            terminal.spec.name in sends
            and terminal.spec.carries not in FEEDS
            and "optional" not in terminal.spec.flags
            and hears is not None
            and join_at(case, hears.name) is not None
        ):
            yield Unsent(
                at=spot(device),
                about=terminal,
                severity="advice",
                stage="final",
                copper=frozenset((case.uses.piece[terminal.name],)),
                terminal=terminal,
                hears=hears,
            )


def _runs_something(case: Case, call: str) -> bool:
    """Whether a call makes something do work that does none without it."""
    if call not in case.heard:
        return False
    ran = case.played([call]).started()
    at_rest = case.standing({}).running
    return any(case.circuit.load[name].kind in calls.WORKING and name not in at_rest for name in ran)


def _elsewhere(case: Case, device: Device, terminal: Terminal) -> Terminal | None:
    """The terminal of the equipment that carries the same, where the wire would come from."""
    others = _equipment(case).get(terminal.spec.carries or "", ())
    found = (alike(case, other.name, terminal) for other in others if other is not device)
    return next((screw for screw in found if screw is not None), None)


@question
def _equipment(case: Case) -> dict[str, tuple[Device, ...]]:
    """For each thing that control wires carry, the devices with a terminal for it that make no calls."""
    return grouped(
        (carried, device)
        for device in case.board.devices.values()
        if not device.part.calls
        for carried in dict.fromkeys(spec.carries for spec in device.part.terminals.values())
        if carried is not None
    )


def _waits(case: Case, terminal: Terminal) -> bool:
    """Whether a control looks for volts at a terminal."""
    return any(terminal.name in pair for pair in case.circuit.inputs)


def _by_wire(case: Case, terminal: Terminal, other: Terminal) -> str:
    """How a wire comes from a terminal to another: one that is capped there, else a spare, else a new one."""
    capped, piece = case.board.capped, case.uses.piece
    usual = usual_colors(terminal.spec.carries)
    wires = [one for one in case.board.conductors.values() if is_class_2(one)]
    wires.sort(key=lambda one: one.color not in usual)
    for screw, far in ((terminal, other), (other, terminal)):
        for one in wires:
            ends = zip(one.places, one.ends, strict=True)
            if any(
                place == screw.place and end in capped and piece[end] == piece[far.name]
                for place, end in ends
            ):
                comes = f"it comes from {far.name}, and is capped in {screw.place}"
                return f"put {one.name} on {screw.name}: {comes}."
    for one in wires:
        if {*one.places} == {terminal.place, other.place} and capped.keys() >= {*one.ends}:
            return f"bring {one.name}, which is a spare, from {terminal.name} to {other.name}."
    return f"bring a wire from {terminal.name} to {other.name}."


def _capital(remedy: str) -> str:
    return remedy[0].upper() + remedy[1:]


def words(problem: Kind, case: Case) -> Words:
    """What does not work for want of the wire, and where a wire would go."""
    terminal, device = problem.terminal.name, problem.terminal.owner
    match problem:
        case Unpowered(offers=offers):
            optional = "optional" in problem.terminal.spec.flags
            lives = "lives on its batteries alone, and stops when they are empty"
            told = f"{device} {lives if optional else 'has no power at all'}."
            if offers is not None:
                remedy = _capital(_by_wire(case, offers, problem.terminal))
                remedy += " Or change the batteries every year." if optional else ""
            else:
                remedy = "No terminal of the equipment has it to give. "
                remedy += "Change the batteries every year." if optional else "Use a device that needs none."
        case Unheard(call=call, waits=waits):
            told = f"a call for {call} reaches nothing. {waits.name} waits for it and never hears it."
            remedy = f"If {call} should work, {_by_wire(case, problem.terminal, waits)}"
        case Unsent(hears=hears):
            told = f"{hears.name} never hears {device}. It is for this: {problem.terminal.spec.text}."
            remedy = _capital(_by_wire(case, problem.terminal, hears))
        case Unused(ahead=ahead):
            told = f"nothing goes through it. It is for this: {problem.terminal.spec.text}."
            remedy = f"If {device} should do that here, bring its wire to {terminal}."
            if ahead is not None:
                names = listed(load.name for load in ahead.loads)
                hang, them = ("hang", "them") if len(ahead.loads) > 1 else ("hangs", "it")
                told += (
                    f" {names} {hang} on {ahead.screw}, ahead of that: what opens there does not stop {them}."
                )
                remedy = f"If {device} should start and stop {names}, "
                remedy += f"move {ahead.wire} from {ahead.screw} to {terminal}."
    return Words(message=f"No wire is on {terminal}: {told}", help=remedy, source="common practice")


RULE = rule(__name__, "final", severities=("fault", "advice"), find=find, words=words)
