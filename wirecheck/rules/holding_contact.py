"""A start button does not start its motor, it stops when that is let go, or no stop button surely stops it.

A contactor that a start button pulls in must hold itself in: a contact of its own stands across the
start button, and the stop button stands ahead of both. Left off, or put across the stop button, the motor
runs only while the start button is pressed. Put across both, it holds the coil in whatever the stop
button does. With the stop button in the way of the holding contact alone, a motor whose start button
somebody leans on, or that is stuck, does not stop.

Source: common practice: three-wire control; IEC 60204-1, from memory: a stop overrides a start; the board's
own `expect` lines
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.by_itself import at_once
from wirecheck.circuit.circuit import COILS, Contact, Load
from wirecheck.circuit.settle import Settled
from wirecheck.judge.buttons import Button, Pushed, buttons, pushes
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import Stop, of_load, why_no_volts
from wirecheck.judge.finding import Note
from wirecheck.judge.judged import judged
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.stop_words import remedy, said
from wirecheck.language.listing import listed
from wirecheck.language.syntax import ExpectStarts, ExpectStops
from wirecheck.model.board import Device


class OfStart(Problem):
    """What is wrong with what a start button does for a load; `line` is the one that asks for it, if any."""

    button: Button
    load: Load
    line: ExpectStarts | None


class NeverStarts(OfStart):
    """It does not run while the button is pressed; `why` is where the path to it stops."""

    why: Stop | None


class Jogs(OfStart):
    """It runs only while the button is pressed.

    `holder` is what pulls in for it, and `contact` the one of its contacts that should hold it in, across the
    start button; `across` the button that the contact is across instead.
    """

    holder: Device | None
    contact: Contact | None
    across: Button | None


class RunsOn(OfStart):
    """Once the button was pressed it runs, and none of the `stops` stops it."""

    stops: tuple[Button, ...]
    contact: Contact | None


class Overrides(OfStart):
    """It does not stop when `stop` is pressed as long as the start button is."""

    stop: Button


Kind = NeverStarts | Jogs | RunsOn | Overrides


def find(case: Case) -> Iterator[Kind]:
    """Each load that a line wants a button to start, and each coil between a start and a stop button."""
    lines = [line for line in case.board.expectations if isinstance(line, ExpectStarts)]
    yield from judged(case, lines, _of_line)
    named = {line.button.text for line in lines}
    for pushed in pushes(case):
        yield from _of_button(case, pushed, pushed.button.name in named)


def _of_line(case: Case, line: ExpectStarts) -> Iterator[NeverStarts | Jogs]:
    pushed = next((one for one in pushes(case) if one.button.name == line.button.text), None)
    for word in line.loads:
        load = case.circuit.load.get(word.text)
        if load is None or pushed is None:
            continue
        if load.name not in pushed.held.running:
            why = why_no_volts(case, pushed.held, of_load(load))
            yield NeverStarts(
                at=why.at or Spot(line.span, line),
                about=load,
                severity="fault",
                stage="final",
                copper=_copper(case, load),
                button=pushed.button,
                load=load,
                line=line,
                why=why,
            )
        elif load.name not in pushed.after.running:
            yield _jogs(case, pushed, load, line)


def _of_button(case: Case, pushed: Pushed, named: bool) -> Iterator[Jogs | RunsOn | Overrides]:
    """What a button does to the coils that it pulls in, beside the stop buttons that they feel."""
    rest = case.at_rest.running
    asked = {line.safety.text for line in case.board.expectations if isinstance(line, ExpectStops)}
    for load in case.circuit.loads:
        if load.kind not in COILS or load.name in rest or load.name not in pushed.held.running:
            continue
        stops = _stops(case, load)
        if not stops:
            continue
        state = pushed.after if load.name in pushed.after.running else pushed.held
        halting = [stop for stop in stops if load.name not in _stopped(case, state, stop).running]
        if load.name not in pushed.after.running:
            if halting and not named:
                yield _jogs(case, pushed, load, None)
        elif not halting and asked.isdisjoint(stop.name for stop in stops):
            contact = _auxiliary(case, load, pushed.after)
            join = join_at(case, contact.a) if contact is not None else None
            yield RunsOn(
                at=spot(join or case.circuit.around[load.device][0]),
                about=load,
                severity="hazard",
                stage="final",
                copper=_copper(case, load),
                button=pushed.button,
                load=load,
                line=None,
                stops=stops,
                contact=contact,
            )
        else:
            over = (stop for stop in halting if load.name in _stopped(case, pushed.held, stop).running)
            yield from (_overrides(case, pushed, load, stop) for stop in over)


def _overrides(case: Case, pushed: Pushed, load: Load, stop: Button) -> Overrides:
    ends = (stop.contact.a, stop.contact.b, pushed.button.contact.a, pushed.button.contact.b)
    return Overrides(
        at=spot(case.circuit.around[stop.name][0]),
        about=load,
        severity="violation",
        stage="final",
        copper=frozenset(case.uses.piece[end] for end in ends),
        button=pushed.button,
        load=load,
        line=None,
        stop=stop,
    )


def _stops(case: Case, load: Load) -> tuple[Button, ...]:
    """The stop buttons of the group that a load is in."""
    group = next((one for one in case.groups if load.name in one.loads), None)
    known = buttons(case.circuit)
    there = (known[name] for name in (group.switches if group else ()) if name in known)
    return tuple(button for button in there if not button.closes)


def _stopped(case: Case, state: Settled, stop: Button) -> Settled:
    """A state once a stop button is pressed in it."""
    return at_once(state, case.circuit.variables[stop.name], stop.pressed)


def _jogs(case: Case, pushed: Pushed, load: Load, line: ExpectStarts | None) -> Jogs:
    """A load that a button runs only while it is pressed, with the contact that should hold it."""
    dropped = pushed.held.running - pushed.after.running
    coils = [one for one in case.circuit.loads if one.kind in COILS and one.name in dropped]
    contact = next((one for coil in coils if (one := _auxiliary(case, coil, pushed.held)) is not None), None)
    holder = case.circuit.around[coils[0].device][0] if coils else None
    ends = (contact.a, contact.b) if contact is not None else ()
    joins = [join for end in ends if (join := join_at(case, end)) is not None]
    return Jogs(
        at=spot(joins[0] if joins else holder or case.circuit.devices[pushed.button.name]),
        about=load,
        severity="fault",
        stage="final",
        copper=_copper(case, load),
        button=pushed.button,
        load=load,
        line=line,
        holder=holder,
        contact=contact,
        across=_across(case, contact, pushed.button) if contact is not None else None,
    )


def _auxiliary(case: Case, coil: Load, held: Settled) -> Contact | None:
    """A contact that a coil closes and that is on the way of nothing but coils: it may hold the coil in."""
    loads = (one for one in case.circuit.loads if one.kind not in COILS)
    ways = (case.routes.back(case.circuit.node[end]) for load in loads for end in load.ends)
    carries = {step.name for way in ways for step in way}
    return next(
        (
            contact
            for contact in case.circuit.contacts_in.get(coil.device, ())
            if contact.name in held.closed - case.at_rest.closed and contact.name not in carries
        ),
        None,
    )


def _across(case: Case, contact: Contact, start: Button) -> Button | None:
    """The other button that a contact is across."""
    piece = case.uses.piece
    ends = {piece[contact.a], piece[contact.b]}
    return next(
        (
            button
            for button in buttons(case.circuit).values()
            if button.name != start.name and {piece[button.contact.a], piece[button.contact.b]} == ends
        ),
        None,
    )


def _copper(case: Case, load: Load) -> frozenset[int]:
    return frozenset(case.uses.piece[end] for end in load.ends)


def _other_starts(problem: Jogs, case: Case) -> bool:
    """Whether another button starts the load too: then it runs on without this one."""
    starts = (one for one in case.board.expectations if isinstance(one, ExpectStarts))
    others = (word.text for one in starts if one.button.text != problem.button.name for word in one.loads)
    return any(case.circuit.load.get(name) == problem.load for name in others)


def words(problem: Kind, case: Case) -> Words:
    """What the button does, what holds the coil or does not, and where its contact belongs."""
    start, load = problem.button.name, problem.load.name
    line = problem.line
    elsewhere = line is not None and line.span != problem.at.span
    also = (Note("what the board should do", line.span),) if line is not None and elsewhere else ()
    match problem:
        case NeverStarts(why=why):
            return Words(
                message=f"{load} does not run with {start} pressed."
                + (f" {said(why, case)}" if why is not None else ""),
                help=remedy(why) if why is not None else f"Follow the wires from {start} on, screw by screw.",
                source="the board's expect line",
                also=also,
            )
        case Jogs():
            runs = f"{load} runs only while {start}"
            if _other_starts(problem, case):
                runs = f"Started by {start}, {load} runs only while it"
            return Words(
                message=f"{runs} is pressed, and stops when it is let go: {_not_held(problem)}.",
                help=_hold(problem),
                source="common practice: the holding contact of a contactor stands across its start button",
                also=also,
            )
        case RunsOn(stops=stops, contact=contact):
            names = listed(stop.name for stop in stops)
            through = f" through {_named(contact)}" if contact is not None else ""
            return Words(
                message=f"Once {start} was pressed, {load} holds itself in{through}, and {names} does not "
                "let it go: nothing stops it but the disconnect.",
                help=f"Feed the holding contact from behind {names}: that comes first, and then {start} "
                "with the holding contact across it.",
                source="common practice: a stop button stands ahead of start button and holding contact",
                also=also,
            )

        case Overrides(stop=stop):
            return Words(
                message=f"With {start} pressed, {stop.name} does not stop {load}: {stop.name} is in the way "
                "of the holding contact alone. A start button that sticks takes the stop from everybody.",
                help=f"Feed {start} from behind {stop.name} too: that comes first, and then {start} with the "
                "holding contact across it.",
                source="IEC 60204-1 (from memory): a stop overrides a start",
                also=also,
            )


def _named(contact: Contact) -> str:
    return f"the contact from {contact.a} to {contact.b}"


def _not_held(problem: Jogs) -> str:
    """What does not hold it in."""
    if problem.across is not None:
        return f"the holding contact is across {problem.across.name}, and not across {problem.button.name}"
    what = problem.holder.name if problem.holder is not None else "it"
    return f"no contact of its own holds {what} in"


def _hold(problem: Jogs) -> str:
    """Where the holding contact belongs."""
    if problem.contact is None:
        return "Put in a contactor with a holding contact, and wire that across the start button."
    start = problem.button.contact
    return (
        f"Wire {_named(problem.contact)} across {problem.button.name}: one side to {start.a}, the other to "
        f"{start.b}."
    )


RULE = rule(
    __name__, "final", severities=("hazard", "violation", "fault"), find=find, words=words, of_ties=True
)
