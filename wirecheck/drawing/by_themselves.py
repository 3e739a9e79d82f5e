"""What begins and what ends a stand of a control that no rung of the sheet moves, in a few words.

A heat pump begins its defrost by a cold coil and by time. No call does that, and no coil: it has to be told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Move
from wirecheck.circuit.controls import Control
from wirecheck.drawing.condition_words import short_words
from wirecheck.language.conditions import each_fact
from wirecheck.language.listing import either
from wirecheck.language.quantity import minutes
from wirecheck.language.syntax import Condition, IsState


class Stand(NamedTuple):
    """A value of a control, with the words of what begins it and of what ends it; empty where none does."""

    value: str
    begins: str
    ends: str


def stands(circuit: Circuit, control: Control, values: Collection[str]) -> Iterator[Stand]:
    """What begins and what ends each of these values of a control.

    That one of them begins as another ends goes unsaid, and so does what sends it to rest from any.

    Examples
    --------
    >>> import wirecheck
    >>> from wirecheck.circuit.circuit import circuit
    >>> told = circuit(wirecheck.assemble('board "Heat"\\nHP is heat-pump')[1])
    >>> defrosting, resting = stands(told, Control("HP", "control"), ["defrosting", "resting"])
    >>> defrosting.begins, defrosting.ends.partition(", ")[2]
    ('coil-sensor cold and contactor pulled in for 90 min', 'coil-sensor warm or after 10 min')
    >>> resting
    Stand(value='resting', begins='contactor dropped out', ends='after 3 min')
    """
    moves = [each for each in circuit.moves if each.variable == control.name]
    for value in values:
        first = [each for each in moves if each.target == value and not set(each.origins) <= set(values)]
        last = [each for each in moves if value in each.origins and each.target != value]
        yield Stand(value, _words(circuit, first), _words(circuit, last))


def values_of(condition: Condition, own: str) -> Iterator[str]:
    """The values of a control that a condition names."""
    for fact in each_fact(condition):
        if isinstance(fact, IsState) and fact.name.text == own:
            yield fact.state.text


def _words(circuit: Circuit, moves: list[Move]) -> str:
    """What makes a control go, each way with how long that takes."""
    return either(list(dict.fromkeys(_way(circuit, move) for move in moves)))


def _way(circuit: Circuit, move: Move) -> str:
    after = minutes(move.after) if move.after else ""
    if move.when is None:
        return f"after {after}"
    words = short_words(move.when, circuit.devices[move.scope].part)
    return f"{words} for {after}" if after else words
