"""A switch changes nothing, or nothing turns off what is there to be turned on and off.

Somebody will look for what that switch does. What it should turn off cannot be turned off, and is
worked on live. So it is with a load that is always on, with its switched wire capped beside it, and with
a valve on the 24 V of a furnace for good: its water runs day and night. A motor whose start button
changes nothing starts by itself when the power comes back, with hands in the machine.

Source: common practice: every switch is tried in every position; OSHA 29 CFR 1910.213(b)(3), from memory: no
restart by itself where it could injure
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge import calls, made_up, ways
from wirecheck.judge.ahead import ahead_of
from wirecheck.judge.buttons import buttons
from wirecheck.judge.case import Case
from wirecheck.judge.effects import idle_switches
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.screws_on import screws_on
from wirecheck.judge.voltages import is_line
from wirecheck.language.listing import listed
from wirecheck.language.syntax import ExpectFrom, ExpectLive
from wirecheck.model.board import Conductor, Device, Terminal


class Idle(Problem):
    """`device` changes nothing. `nowhere` is a screw of it whose wire leads to nothing, if there is one.

    `runs` is what does work with no call where it is a start button, until a stop button is pressed.
    """

    device: Device
    nowhere: Terminal | None
    runs: tuple[Load, ...]


class AlwaysOn(Problem):
    """No switch turns `load` off, and `wire`, which is switched, ends capped in its box."""

    load: Load
    wire: Conductor


class OpenForGood(Problem):
    """The valve `load` hangs on the transformer of `machine`, and nothing opens its path."""

    load: Load
    machine: str


def find(case: Case) -> Iterator[Idle | AlwaysOn | OpenForGood]:
    """Each switch that nothing feels; each load that no switch turns off, with a switched wire beside it."""
    if not case.board.panels:
        return
    for device in (*idle_switches(case), *_unheard(case)):
        nowhere, runs = _nowhere(case, device), _by_itself(case, device)
        yield Idle(
            at=spot(device) if nowhere is None else made_up.at_screw(case, nowhere),
            about=device,
            # A thermostat may wait for what it should switch: no change is tried to give it something to do.
            severity="hazard" if runs else "advice" if device.part.calls else "fault",
            stage="final",
            copper=frozenset(case.uses.piece[f"{device.name}.{screw}"] for screw in device.part.terminals),
            device=device,
            nowhere=nowhere,
            runs=runs,
        )
    yield from _always_on(case)
    yield from _open_for_good(case)


def _unheard(case: Case) -> Iterator[Device]:
    """The thermostats of which one side leads to nothing, and something hangs on the other, ahead of them."""
    makers = {name for call in case.heard for name in case.callers[call]}
    for device in case.board.devices.values():
        nowhere = _nowhere(case, device) if device.part.calls and device.name not in makers else None
        if nowhere is not None and ahead_of(case, device, nowhere, spliced=True) is not None:
            yield device


def _by_itself(case: Case, device: Device) -> tuple[Load, ...]:
    """What does work at rest and stops with a stop button, where a device is a start button."""
    known = buttons(case.circuit)
    if device.name not in known or not known[device.name].closes:
        return ()
    rest = case.standing({}).running
    stops = [one for one in known.values() if not one.closes]
    on = [case.settled({one.name: one.pressed}).running for one in stops]
    stopped = {name for name in rest if any(name not in running for running in on)}
    return tuple(one for one in case.circuit.loads if one.name in stopped and one.kind in calls.WORKING)


def _nowhere(case: Case, device: Device) -> Terminal | None:
    """A screw of a switch whose copper comes to no source, no other screw and no other contact."""
    pieces = case.uses.piece
    for name, spec in device.part.terminals.items():
        screw = f"{device.name}.{name}"
        alone = len(screws_on(case)[pieces[screw]]) == 1
        if spec.role != "ground" and not case.uses.direct[pieces[screw]] and alone:
            return case.board.terminals[screw]
    return None


def _always_on(case: Case) -> Iterator[AlwaysOn]:
    """The loads on a hot that no switch turns off, in a box in which a switched wire is capped."""
    capped = {
        conductor.places[which]: (conductor, end)
        for conductor in case.board.conductors.values()
        for which, end in enumerate(conductor.ends)
        if end in case.board.capped and case.uses.of(end) == "switched"
    }
    asked = {
        (one.load if isinstance(one, ExpectFrom) else one.outlet).text
        for one in case.board.expectations
        if isinstance(one, ExpectFrom | ExpectLive)
    }
    judged = {load.name for name in asked if (load := case.circuit.load.get(name)) is not None}
    for load in case.circuit.loads if capped else ():
        device = case.board.devices.get(load.device)
        if (
            device is not None
            and device.place in capped
            and load.name not in judged
            and load.kind in calls.WORKING
            and is_line(case, load.volts)
            and {case.uses.of(load.a), case.uses.of(load.b)} == {"hot", "neutral"}
        ):
            wire, end = capped[device.place]
            yield AlwaysOn(
                at=Spot(case.board.capped[end], wire),
                about=load,
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[point] for point in (load.a, load.b, end)),
                load=load,
                wire=wire,
            )


def _open_for_good(case: Case) -> Iterator[OpenForGood]:
    """The valves with no contact between them and the transformer of a machine, where no line says so."""
    if any(not calls.made(line) for line in calls.asked(case)):
        return
    named = {one.outlet.text for one in case.board.expectations if isinstance(one, ExpectLive)}
    # A bare transformer may be there for the valve alone.
    windings = {
        one.name: one for one in case.circuit.windings if case.circuit.devices[one.device].outer != one.device
    }
    for load in case.circuit.loads if windings else ():
        device = case.board.devices.get(load.device)
        if load.kind != "valve" or device is None or not named.isdisjoint((load.name, device.name)):
            continue
        one, other = (_windings(case, end) & windings.keys() for end in (load.a, load.b))
        winding = next((windings[name] for name in sorted(one & other)), None)
        if winding is not None and load.name in case.standing({}).running:
            back = ways.way(case, [load.a], {*winding.secondary})
            join = back.joins[-1] if back is not None and back.joins else None
            yield OpenForGood(
                at=spot(device if join is None else join),
                about=load,
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[end] for end in (load.a, load.b)),
                load=load,
                machine=case.circuit.devices[winding.device].outer,
            )


def _windings(case: Case, point: str) -> set[str]:
    """The windings of Class 2 that a point hangs on in every position, by name."""
    return {feed.name for feed in case.uses.direct[case.uses.piece[point]] if feed.kind == "class-2"}


def words(problem: Idle | AlwaysOn | OpenForGood, case: Case) -> Words:
    """Which switch changes nothing, or which load no switch turns off, and where to look."""
    if isinstance(problem, OpenForGood):
        name = problem.load.name
        remedy = f"Bring the power of {name} through what should open and close it."
        return Words(
            message=f"{name} has its power all the time: nothing stands between it and the transformer of "
            f"{problem.machine}. A valve is there to be opened and closed.",
            help=remedy,
            look=remedy,
            source="common practice",
        )
    if isinstance(problem, AlwaysOn):
        load, wire = problem.load, problem.wire
        return Words(
            message=f"{load.name} is always on: its hot comes from ahead of every switch. {wire.name} is "
            "switched, and ends capped beside it.",
            help=f"If {load.name} should be switched, put {wire.name} on its hot side in place of the hot "
            "that is there, and cap that one. If it should be live always, say so with an expect line.",
            source="common practice",
            also=(Note(f"{load.name} is here", load.span),),
        )
    name, nowhere = problem.device.name, problem.nowhere
    why = ""
    remedy = (
        f"Bring the feed to one side of {name}, and take from its other side the wire to what it should turn "
    )
    remedy += "on and off."
    if nowhere is not None:
        wired = made_up.join_at(case, nowhere.name) is not None
        why = f" What is on {nowhere.name} leads to nothing." if wired else f" Nothing is on {nowhere.name}."
        ahead = ahead_of(case, problem.device, nowhere, spliced=bool(problem.device.part.calls))
        if ahead is not None:
            names = listed(load.name for load in ahead.loads)
            hang = "hangs" if len(ahead.loads) == 1 else "hang"
            why += f" {names} {hang} on the wire of {ahead.screw}, ahead of it."
            remedy = f"Take the hot of {names} off the wire of {ahead.screw}, and bring it to {nowhere.name}."
    if problem.runs:
        several = len(problem.runs) > 1
        run, start, own = ("run", "start", "themselves") if several else ("runs", "starts", "itself")
        names = listed(load.name for load in problem.runs)
        why += f" {names} {run} as soon as there is power, and {start} again by {own} after a power cut, "
        why += "and as soon as the stop button is let go: whoever has a hand in the machine can be hurt."
    return Words(
        message=f"{name} changes nothing: nothing gains or loses its power with it, however the other "
        f"switches stand.{why}",
        help=remedy,
        source="OSHA 29 CFR 1910.213(b)(3) in spirit (from memory)" if problem.runs else "common practice",
        also=(Note(f"{name} is declared here", problem.device.span),)
        if problem.at.span != problem.device.span
        else (),
    )


RULE = rule(__name__, "final", severities=("hazard", "fault", "advice"), find=find, words=words, of_ties=True)
