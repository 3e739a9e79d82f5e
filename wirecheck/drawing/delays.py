"""What a delay relay waits for: told from the moves of its own state, whatever the part calls them.

A delay on make closes some time after its call has come, a delay on break not before some time after its
call has gone. So the trade calls the two; the second keeps a compressor from starting against its own
pressure (common practice).
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact
from wirecheck.language.syntax import AllOf, AnyOf, Condition, IsState, Negation

VALUES = 3
"""How many values such a state has: at rest, waiting, and with its time over."""


class Delay(NamedTuple):
    """How a contact waits: on `make` or on `break`, and for how many seconds; by which state."""

    on: str
    seconds: float
    state: str


def delay(circuit: Circuit, contact: Contact) -> Delay | None:
    """The delay of a contact that a state of its own device moves by time alone; None of any other.

    Such a state has three values, and goes from one of them to another by itself. It comes into that
    one, open, with the call or with the call's end; in the second case nothing else ends it.
    """
    for state in circuit.devices[contact.scope].part.states:
        closed = _closed(contact.when, state.name, frozenset(state.values))
        if closed is None or len(state.values) != VALUES:
            continue
        moves = [move for move in circuit.moves if move.variable == f"{contact.scope}.{state.name}"]
        waits = [move for move in moves if move.after]
        if len(waits) != 1 or waits[0].when is not None or closed.intersection(waits[0].origins):
            continue
        (wait,) = waits
        before = {one for move in moves if move.target in wait.origins for one in move.origins}
        ends_else = any(move is not wait and set(move.origins) & set(wait.origins) for move in moves)
        if before and before <= closed and not ends_else:
            return Delay("break", wait.after, state.name)
        if before and not before & closed and wait.target in closed:
            return Delay("make", wait.after, state.name)
    return None


def runs_down(circuit: Circuit, device: str, position: str) -> float:
    """After how many seconds a device leaves a position by itself, as a timer that a hand winds; else 0."""
    moves = (move for move in circuit.moves if move.variable == device and move.when is None)
    return next((move.after for move in moves if position in move.origins), 0.0)


def _closed(condition: Condition, state: str, values: frozenset[str]) -> frozenset[str] | None:
    """The values of a state in which a condition holds; None where it looks at something else as well."""
    match condition:
        case IsState(name, value):
            return frozenset([value.text]) if name.text == state else None
        case Negation(fact):
            one = _closed(fact, state, values)
            return None if one is None else values - one
        case AllOf(facts) | AnyOf(facts):
            found = [_closed(fact, state, values) for fact in facts]
            held = [each for each in found if each is not None]
            if len(held) < len(found):
                return None
            return frozenset.intersection(*held) if isinstance(condition, AllOf) else frozenset.union(*held)
        case _:
            return None
