"""What acts on a control of the board, put in the place of what its part says of it.

A part of its own knows only kinds: `when compressor runs and not valve runs`. A line of the board names them:
`LPC senses COMP, LLS`. Where no line does, nothing that is sensed moves the part: it stands where a hand or
a test puts it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from wirecheck.language.conditions import named
from wirecheck.language.syntax import AllOf, AnyOf, Condition, IsState, Negation, Runs, Word
from wirecheck.model.board import Board, Device
from wirecheck.parts.part import MISSING, CallEnd, Transition


class Placed(NamedTuple):
    """A condition with the board's own loads in it, or whether it always or never holds there."""

    condition: Condition | None
    always: bool = False


def moved(device: Device, board: Board) -> Iterator[tuple[Transition, Condition | None]]:
    """What moves a device on its board, each with its condition; what cannot happen there is left out."""
    for each in device.part.transitions:
        placed = _on_board(each.when, device, board) if each.when is not None else Placed(None, True)
        if placed is not None and (placed.always or placed.condition is not None):
            yield each, placed.condition


def ended(device: Device, board: Board) -> Iterator[tuple[CallEnd, Condition]]:
    """How what a thermostat senses ends its calls on its board; what it does not sense ends none."""
    for each in device.part.ends:
        placed = _on_board(each.when, device, board) if each.when is not None else None
        if placed is not None and placed.condition is not None:
            yield each, placed.condition


def _on_board(condition: Condition, device: Device, board: Board) -> Placed | None:
    """A condition on the board; None where nothing acts on a device whose condition asks for that."""
    senses = device.part.senses
    if not senses or not any(name in senses for name in named(condition)):
        return Placed(condition)
    sensed = board.sensed.get(device.name)
    return _placed(condition, senses, sensed.loads) if sensed is not None else None


def _placed(condition: Condition, senses: tuple[str, ...], loads: Mapping[str, tuple[str, ...]]) -> Placed:
    match condition:
        case Runs(name) if name.text in senses:
            return _any([Placed(Runs(Word(load, name.span), True)) for load in loads.get(name.text, ())])
        case IsState(name, state) if name.text in senses and state.text == MISSING:
            return Placed(None, name.text not in loads)
        case Negation(fact):
            within = _placed(fact, senses, loads)
            if within.condition is None:
                return Placed(None, not within.always)
            return Placed(Negation(within.condition))
        case AnyOf(facts):
            return _any([_placed(fact, senses, loads) for fact in facts])
        case AllOf(facts):
            return _all([_placed(fact, senses, loads) for fact in facts])
    return Placed(condition)


def _any(facts: list[Placed]) -> Placed:
    """One of several that must hold."""
    left = tuple(fact.condition for fact in facts if fact.condition is not None)
    if any(fact.always for fact in facts) or not left:
        return Placed(None, any(fact.always for fact in facts))
    return Placed(left[0] if len(left) == 1 else AnyOf(left))


def _all(facts: list[Placed]) -> Placed:
    """All of several that must hold."""
    left = tuple(fact.condition for fact in facts if fact.condition is not None)
    never = any(fact.condition is None and not fact.always for fact in facts)
    if never or not left:
        return Placed(None, not never)
    return Placed(left[0] if len(left) == 1 else AllOf(left))
