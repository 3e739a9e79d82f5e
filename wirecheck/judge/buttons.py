"""Push buttons: what runs while one is pressed, and what runs on once it is let go."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact
from wirecheck.circuit.play import Act, Play, play
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.language.syntax import InPosition


class Button(NamedTuple):
    """A device that a hand presses: its contact, where it stands by itself, and where while it is pressed.

    `closes` tells a start button, which closes as it is pressed, from a stop button.
    """

    name: str
    contact: Contact
    released: str
    pressed: str
    closes: bool


class Pushed(NamedTuple):
    """What comes of a button: the board in the end while it is pressed, and once it has been let go."""

    button: Button
    held: Settled
    after: Settled


def buttons(circuit: Circuit) -> dict[str, Button]:
    """The push buttons of a circuit, by name."""
    told: dict[str, Button] = {}
    for contact in circuit.contacts:
        variable = circuit.variables.get(contact.scope)
        if "momentary" in contact.flags and variable is not None and isinstance(contact.when, InPosition):
            released, pressed = variable.values[0], variable.values[-1]
            closes = contact.when.position.text == pressed
            told.setdefault(variable.name, Button(variable.name, contact, released, pressed, closes))
    return told


def push(button: Button) -> list[Act]:
    """Rest, the button pressed, and the button let go."""
    return [Act(), Act(moved=((button.name, button.pressed),)), Act(moved=((button.name, button.released),))]


def pressed(case: Case, button: Button, fixed: Mapping[str, str] | None = None) -> Play:
    """A button pressed from rest and let go, played out in time, with some variables held."""
    known = _plays(case)
    key = button.name, tuple(sorted((fixed or {}).items()))
    if key not in known:
        known[key] = play(case.circuit, push(button), dict(fixed or {}))
    return known[key]


@question
def _plays(case: Case) -> dict[tuple[str, tuple[tuple[str, str], ...]], Play]:
    """The plays that were asked for."""
    return {}


@question
def pushes(case: Case) -> tuple[Pushed, ...]:
    """What comes of each button that closes."""
    told = []
    for button in buttons(case.circuit).values():
        if button.closes:
            whole = pressed(case, button)
            states = [step.settled for step in whole.steps]
            held = [state for state in states if state.positions[button.name] == button.pressed]
            told.append(Pushed(button, (held or states)[-1], whole.rest))
    return tuple(told)
