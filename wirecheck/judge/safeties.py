"""What a board's safeties are worth: each is opened in every state of every call, alone and beside one fault.

A fault is another safety that is stuck closed, a contact that is welded, or a
jumper between two screws of one device. The safety's own contact is not among
them: a safety that is stuck closed itself, or wired around, guards nothing.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

from wirecheck.circuit.by_itself import at_once
from wirecheck.circuit.circuit import Circuit, Contact, Load, Variable
from wirecheck.circuit.faulted import ALWAYS
from wirecheck.circuit.play import Act, Play, play
from wirecheck.circuit.settle import Settled
from wirecheck.judge.buttons import buttons, pressed, push
from wirecheck.judge.case import Case
from wirecheck.language.syntax import ExpectStops
from wirecheck.model.board import Terminal

# How a position is called in which nothing is let through.
OPEN = ("open", "off", "out")
CLOSED = "closed"


# ------------------------------------------------------------------ opening


def opened_position(safety: Variable) -> str:
    """The position of a safety in which it has tripped: the open one, or else the last."""
    return next((position for position in OPEN if position in safety.values), safety.values[-1])


class Opened(NamedTuple):
    """A state of a call, the same after a safety has opened in it, and the loads in question that ran."""

    call: str
    before: Settled
    after: Settled
    ran: tuple[Load, ...]

    @property
    def runs_on(self) -> tuple[Load, ...]:
        """The loads that do not stop."""
        return tuple(load for load in self.ran if load.name in self.after.running)


def opened(
    circuit: Circuit, plays: Mapping[str, Play], safety: Variable, loads: Iterable[Load]
) -> Iterator[Opened]:
    """A safety opened in each state of each call in which some loads run.

    Parameters
    ----------
    plays : the play of each call and of each button by its name; no call under no name.
    """
    asked = tuple({load.name: load for load in loads}.values())
    seen: set[tuple[object, ...]] = set()
    for call, played in plays.items():
        for step in played.steps:
            before = step.settled
            ran = tuple(load for load in asked if load.name in before.running)
            mark = (tuple(before.positions.values()), before.calls, before.running)
            if ran and mark not in seen:
                seen.add(mark)
                yield Opened(call, before, at_once(before, safety, opened_position(safety)), ran)


def played(
    case: Case, asked: Iterable[str] | None = None, fixed: Mapping[str, str] | None = None
) -> dict[str, Play]:
    """The play of each call, of no call under no name, and of each start button; or of those asked for."""
    known = buttons(case.circuit)
    asked = ("", *case.heard, *starters(case.circuit)) if asked is None else asked
    return {
        call: pressed(case, known[call], fixed)
        if call in known
        else case.played([call] if call else [], fixed)
        for call in asked
    }


def lasts(case: Case, opened: Opened, fixed: Mapping[str, str], safety: Variable, load: Load) -> bool:
    """Whether a load that runs on as a safety opens still does when the controls had their time.

    A control may need a moment to see it: played from the start of a call, the load must not run at all.
    That a pressure or a room comes round in time is no such moment: what senses them stands as it stood.
    What a button has started is held in by itself, and must let go later.
    """
    value = opened_position(safety)
    button = buttons(case.circuit).get(opened.call)
    if button is not None:
        acts = [*push(button), Act(moved=((safety.name, value),))]
        return load.name in play(case.circuit, acts, dict(fixed)).rest.running
    sensing = {name: at for name, at in opened.before.positions.items() if name in case.board.sensed}
    held = {**sensing, **fixed, safety.name: value}
    return load.name in case.played([opened.call] if opened.call else [], held).started()


def starters(circuit: Circuit) -> tuple[str, ...]:
    """The buttons that close as they are pressed."""
    return tuple(name for name, button in buttons(circuit).items() if button.closes)


def during(circuit: Circuit, call: str) -> str:
    """In what a state is found, in words that follow on: in a call, or once a button has been pressed."""
    if call in buttons(circuit):
        return f" once {call} was pressed"
    return f" during a call for {call}" if call else ""


# ------------------------------------------------------------------- faults


class Stuck(NamedTuple):
    """A safety that does not open."""

    safety: Variable


class Welded(NamedTuple):
    """A contact of a relay, contactor or control that does not open."""

    contact: Contact


class Jumper(NamedTuple):
    """A wire between two control screws of one device, where someone with a jumper stands."""

    one: Terminal
    other: Terminal


Fault = Stuck | Welded | Jumper


class Proof(NamedTuple):
    """What is known of one safety and the loads that it should stop.

    `states` counts the states of all `calls` in which a load ran and the safety was opened, `runs_on`
    the loads that did not stop in one of them. `defeated` are the single faults under which it stops
    them no more, `tried` how many of such faults there are.
    """

    safety: Variable
    loads: tuple[Load, ...]
    calls: tuple[str, ...]
    states: int
    runs_on: tuple[Load, ...]
    defeated: tuple[Fault, ...]
    tried: int


class _Faulty(NamedTuple):
    """A circuit with a fault, and the variables that it holds."""

    fault: Fault
    circuit: Circuit
    held: Mapping[str, str]


def proofs(case: Case, safeties: Collection[str] | None = None, faults: bool = True) -> Iterator[Proof]:
    """A proof for each `expect ... stops ...` line of a board, in its order.

    Parameters
    ----------
    safeties : those to prove; all that the board names, where none are given.
    faults : whether each is tried beside every single fault too, which takes a second or so.
    """
    circuit = case.circuit
    lines: dict[str, list[Load]] = {}
    for line in case.board.expectations:
        name = line.safety.text if isinstance(line, ExpectStops) else ""
        if isinstance(line, ExpectStops) and name in circuit.variables and name in (safeties or (name,)):
            named = (circuit.load.get(word.text) for word in line.loads)
            lines.setdefault(name, []).extend(load for load in named if load)
    whole = played(case)
    guarded = {load.name for loads in lines.values() for load in loads}
    ran = tuple(call for call, calls_play in whole.items() if guarded & calls_play.started().keys())
    under = [
        (one, {call: _play(one, call) for call in dict.fromkeys(("", *ran))})
        for one in (_faulty(circuit) if faults and lines else ())
    ]
    for name, loads in lines.items():
        safety = circuit.variables[name]
        states = tuple(opened(circuit, whole, safety, loads))
        against = [(one, plays) for one, plays in under if not _own(circuit, one.fault, name)]
        yield Proof(
            safety=safety,
            loads=tuple(loads),
            calls=tuple(dict.fromkeys(state.call for state in states)),
            states=len(states),
            runs_on=tuple(dict.fromkeys(load for state in states for load in state.runs_on)),
            defeated=tuple(
                one.fault
                for one, plays in against
                if any(state.runs_on for state in opened(one.circuit, plays, safety, loads))
            ),
            tried=len(against),
        )


def _play(faulty: _Faulty, call: str) -> Play:
    button = buttons(faulty.circuit).get(call)
    acts = push(button) if button else [Act(), Act(frozenset((call,)))] if call else [Act()]
    return play(faulty.circuit, acts, faulty.held)


def _own(circuit: Circuit, fault: Fault, safety: str) -> bool:
    """Whether it is the safety itself that does not open, or its own screws or leads that are tied."""
    match fault:
        case Stuck(one):
            return one.name == safety
        case Welded(contact):
            return contact.scope == safety
        case Jumper(one, other):
            ends = {
                circuit.node[end] for contact in circuit.contacts_in[safety] for end in (contact.a, contact.b)
            }
            return one.owner == safety or {circuit.node[one.name], circuit.node[other.name]} <= ends


def _faulty(circuit: Circuit) -> Iterator[_Faulty]:
    """The circuit with each single fault."""
    for variable in circuit.variables.values():
        if variable.safety and CLOSED in variable.values:
            yield _Faulty(Stuck(variable), circuit, {variable.name: CLOSED})
    for contact in circuit.contacts:
        # What a hand, a call or a safety moves does not weld.
        moved = circuit.variables.get(contact.scope)
        if not (moved and moved.safety) and not circuit.devices[contact.scope].part.calls:
            contacts = tuple(
                each._replace(when=ALWAYS) if each is contact else each for each in circuit.contacts
            )
            yield _Faulty(Welded(contact), replace(circuit, contacts=contacts), {})
    terminals = circuit.board.terminals
    for device in circuit.board.devices.values():
        screws = [
            terminals[f"{device.name}.{name}"]
            for name, spec in device.part.terminals.items()
            if spec.role in ("class-2", "class-2-common", "contact")
        ]
        for one, other in itertools.combinations(screws, 2):
            a, b = sorted((circuit.node[one.name], circuit.node[other.name]))
            if a != b:
                node = {point: a if number == b else number for point, number in circuit.node.items()}
                yield _Faulty(Jumper(one, other), replace(circuit, node=node), {})
