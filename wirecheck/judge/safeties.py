"""What a board's safeties are worth: each is opened in every state of every call, alone and beside one fault.

A fault is another safety that is stuck closed, a contact that is welded, or a
jumper between two screws of one device. The safety's own contact is not among
them: a safety that is stuck closed itself, or wired around, guards nothing.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact, Load
from wirecheck.circuit.play import Act, Play, play
from wirecheck.circuit.settle import Settled, holds, settle
from wirecheck.judge.case import Case
from wirecheck.language.syntax import AllOf, ExpectStops

# What is always so.
ALWAYS = AllOf(())
OPEN, CLOSED = "open", "closed"
# No control makes more moves than this without waiting for anything.
MOST_MOVES = 20


class Proof(NamedTuple):
    """What is known of one safety and the loads that it shall stop.

    `states` counts the states of all calls in which a load ran and the safety
    was opened, `runs_on` the loads that did not stop in one of them. `stuck`,
    `welded` and `jumpers` name the single faults under which it stops them no
    more, `tried` how many of such faults there are.
    """

    safety: str
    loads: tuple[str, ...]
    calls: tuple[str, ...]
    states: int
    runs_on: tuple[str, ...]
    stuck: tuple[str, ...]
    welded: tuple[str, ...]
    jumpers: tuple[str, ...]
    tried: int


def proofs(case: Case, safeties: Iterable[str] | None = None, faults: bool = True) -> Iterator[Proof]:
    """A proof for each `expect ... stops ...` line of a board, in its order.

    Parameters
    ----------
    safeties: those to prove; all that the board names, where none are given.
    faults: whether each is tried beside every single fault too, which takes a second or so.
    """
    circuit = case.circuit
    lines: dict[str, list[Load]] = {}
    for expectation in case.board.expectations:
        if isinstance(expectation, ExpectStops) and expectation.safety.text in circuit.variables:
            named = (circuit.load.get(word.text) for word in expectation.loads)
            lines.setdefault(expectation.safety.text, []).extend(load for load in named if load)
    if safeties is not None:
        lines = {name: loads for name, loads in lines.items() if name in set(safeties)}
    whole = _plays(circuit, ("", *case.calls), {})
    guarded = {load.name for loads in lines.values() for load in loads}
    ran = tuple(call for call, played in whole.items() if guarded & played.started().keys())
    under = [
        (kind, name, changed, _plays(changed, ("", *ran), held))
        for kind, name, changed, held in (
            [*_stuck(circuit), *_welded(circuit), *_jumpers(circuit)] if faults and lines else []
        )
    ]
    for safety, loads in lines.items():
        calls, states, runs_on = _opened(circuit, whole, safety, loads)
        defeated: dict[str, list[str]] = {"stuck": [], "welded": [], "jumper": []}
        tried = 0
        for kind, name, changed, plays in under:
            if name == safety or _own(changed, name, safety):
                continue
            tried += 1
            if _opened(changed, plays, safety, loads)[2]:
                defeated[kind].append(name)
        yield Proof(
            safety,
            tuple(load.name for load in loads),
            calls,
            states,
            runs_on,
            tuple(defeated["stuck"]),
            tuple(defeated["welded"]),
            tuple(defeated["jumper"]),
            tried,
        )


def _own(circuit: Circuit, name: str, safety: str) -> bool:
    """Whether a contact or a jumper is that of the safety itself."""
    return name in {
        *(contact.name for contact in circuit.contacts if contact.scope == safety),
        *(
            _jumper(f"{safety}.{a}", b)
            for a, b in itertools.combinations(circuit.devices[safety].part.terminals, 2)
        ),
    }


def _plays(circuit: Circuit, calls: Iterable[str], held: dict[str, str]) -> dict[str, Play]:
    """Each call played with some variables held; no call under no name."""
    return {
        call: play(circuit, [Act(), Act(frozenset((call,)))] if call else [Act()], held) for call in calls
    }


def _opened(
    circuit: Circuit, plays: dict[str, Play], safety: str, loads: list[Load]
) -> tuple[tuple[str, ...], int, tuple[str, ...]]:
    """The calls and states in which loads ran, and which of them ran on when the safety opened."""
    calls: dict[str, None] = {}
    runs_on: dict[str, None] = {}
    states = 0
    seen: set[tuple[object, ...]] = set()
    names = {load.name for load in loads}
    for call, played in plays.items():
        for step in played.steps:
            settled = step.settled
            ran = names & settled.running
            mark = (tuple(settled.positions.values()), settled.calls, settled.running)
            if not ran or mark in seen:
                continue
            seen.add(mark)
            states += 1
            calls[call or "no call"] = None
            after = _at_once(circuit, settled, safety)
            runs_on |= dict.fromkeys(sorted(ran & after.running))
    return tuple(calls), states, tuple(runs_on)


def _at_once(circuit: Circuit, before: Settled, safety: str) -> Settled:
    """The state after a safety has opened and the controls have done what they do without delay."""
    positions = {**before.positions, safety: OPEN}
    settled = settle(circuit, positions, before.calls, before)
    for _ in range(MOST_MOVES):
        view = settled.view._replace(positions=positions)
        move = next(
            (
                move
                for move in circuit.moves
                if move.after == 0
                and move.variable != safety
                and move.when is not None
                and positions[move.variable] != move.target
                and (not move.origins or positions[move.variable] in move.origins)
                and holds(move.when, move.scope, view)
            ),
            None,
        )
        if move is None:
            break
        positions = {**positions, move.variable: move.target}
        settled = settle(circuit, positions, settled.calls, settled)
    return settled


Fault = tuple[str, str, Circuit, dict[str, str]]


def _stuck(circuit: Circuit) -> Iterator[Fault]:
    for variable in circuit.variables.values():
        if variable.safety and CLOSED in variable.values:
            yield "stuck", variable.name, circuit, {variable.name: CLOSED}


def _welded(circuit: Circuit) -> Iterator[Fault]:
    """Contacts of relays, contactors and controls: what a hand, a call or a safety moves is none of them."""
    for contact in circuit.contacts:
        variable = circuit.variables.get(contact.scope)
        if (variable is not None and variable.safety) or circuit.devices[contact.scope].part.calls:
            continue
        contacts = tuple(
            Contact(each.name, each.a, each.b, ALWAYS, each.scope, each.span) if each is contact else each
            for each in circuit.contacts
        )
        yield "welded", contact.name, replace(circuit, contacts=contacts), {}


def _jumpers(circuit: Circuit) -> Iterator[Fault]:
    """A wire between two control screws of one device, where someone with a jumper stands."""
    for device in circuit.board.devices.values():
        screws = [
            name
            for name, spec in device.part.terminals.items()
            if spec.role in ("class-2", "class-2-common", "contact")
        ]
        for one, other in itertools.combinations(screws, 2):
            a, b = sorted(circuit.node[f"{device.name}.{screw}"] for screw in (one, other))
            if a != b:
                node = {point: a if number == b else number for point, number in circuit.node.items()}
                yield "jumper", _jumper(f"{device.name}.{one}", other), replace(circuit, node=node), {}


def _jumper(one: str, other: str) -> str:
    return f"{one} to {other}"
