"""What moves by itself: pressure controls, limits, float switches and doors, each tried in each position.

A hand moves a switch and a call a thermostat; a pressure, the heat of a furnace or the
water in a pan moves the rest, when it will. One moves at a time, and the controls do
in answer what they do without delay.

Only what can bring something new is solved. A contact that closes does so where it kept
volts apart. One that opens only takes current away, and does so where something waits
for just that: a relay's closed contact, a control that turns to something else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from wirecheck.circuit.circuit import MOST_REMEMBERED, Variable
from wirecheck.circuit.settle import Settled, View, holds, settle
from wirecheck.language.syntax import AllOf, AnyOf, Carries, Condition, HasVoltage, IsState, Negation, Runs
from wirecheck.parts.part import TRIED

# What is tried in every position in any case, and what an overload or a control of its own moves.
LED = (*TRIED, "overcurrent", "state")
# No control makes more moves than this without waiting for anything.
MOST_MOVES = 20
# Below these volts across an open contact, or amperes through a closed one, it changes nothing by moving;
# an input of a control takes more (common practice).
NO_VOLTS, NO_AMPS = 1e-6, 1e-6
# Volts that differ by less are the same.
ALIKE = 10.0


def moved_alone(lasting: Iterable[Settled], passing: Iterable[Settled]) -> Iterator[Settled]:
    """States with one thing moved that moves by itself: each, wherever that can bring something new.

    Parameters
    ----------
    lasting : states that stand for long: there each is moved.
    passing : states on the way: there what closes is moved, where it keeps volts apart that it did not
        keep apart before.
    """
    tried: set[tuple[str, str, int]] = set()
    for settled in lasting:
        answers: bool | None = None
        for variable, value, opens, apart in _moves(settled):
            if opens and not apart:
                answers = _answers(settled) if answers is None else answers
            if apart or answers:
                tried.add((variable.name, value, apart))
                yield from answers_to(settled, variable, value)
    for settled in passing:
        for variable, value, _, apart in _moves(settled):
            if apart and (variable.name, value, apart) not in tried:
                tried.add((variable.name, value, apart))
                yield from answers_to(settled, variable, value)


def _moves(settled: Settled) -> Iterator[tuple[Variable, str, bool, int]]:
    """What can move, and to what: whether something opens that carries current, and what closes apart.

    That is the most volts that a contact kept apart which closes, in steps of `ALIKE`, from 1; or 0.
    """
    circuit, node, volts = settled.circuit, settled.circuit.node, settled.volts
    for name, contacts in circuit.contacts_of.items():
        variable = circuit.variables.get(name)
        if variable is None or variable.moved_by in LED:
            continue
        for value in variable.values:
            if value == settled.positions[name]:
                continue
            moved = settled.view._replace(positions={**settled.positions, name: value})
            opens, apart = False, 0.0
            for contact in contacts:
                if holds(contact.when, contact.scope, moved) == (contact.name in settled.closed):
                    continue
                if contact.name in settled.closed:
                    opens |= abs(settled.amps.get(contact.name, 0)) > NO_AMPS
                else:
                    apart = max(apart, abs(volts[node[contact.a]] - volts[node[contact.b]]))
            if opens or apart > NO_VOLTS:
                yield variable, value, opens, 1 + int(apart / ALIKE) if apart > NO_VOLTS else 0


def _answers(settled: Settled) -> bool:
    """Whether some contact can close because something stops."""
    circuit, view = settled.circuit, settled.view
    where = {name: {value} for name, value in settled.positions.items()}
    moved = True
    while moved:
        moved = False
        for move in circuit.moves:
            if (
                move.after == 0
                and move.target not in where[move.variable]
                and (not move.origins or not where[move.variable].isdisjoint(move.origins))
                and (move.when is None or _can(move.when, move.scope, view, where))
            ):
                where[move.variable].add(move.target)
                moved = True
    return any(
        contact.name not in settled.closed and _can(contact.when, contact.scope, view, where)
        for contact in circuit.contacts
    )


def _can(
    condition: Condition, scope: str, view: View, where: Mapping[str, set[str]], to: bool = True
) -> bool:
    """Whether a condition can be true (or false, where that is `to`) once something has stopped."""
    match condition:
        case Negation(fact):
            return _can(fact, scope, view, where, not to)
        case AllOf(facts) | AnyOf(facts):
            every = all if isinstance(condition, AllOf) == to else any
            return every(_can(fact, scope, view, where, to) for fact in facts)
        case IsState(name, state):
            stands = where.get(f"{scope}.{name.text}", set())
            return state.text in stands if to else stands != {state.text}
        case Runs() | HasVoltage() | Carries():
            return not to or holds(condition, scope, view)
    return holds(condition, scope, view) == to


def at_once(before: Settled, moved: Variable, value: str) -> Settled:
    """The state after something has moved and the controls have done what they do without delay."""
    return answers_to(before, moved, value)[-1]


def answers_to(before: Settled, moved: Variable, value: str) -> tuple[Settled, ...]:
    """The state in which something has moved, and those that the controls make of it without delay.

    Several rules ask for the same, and get the same states.
    """
    circuit, key = before.circuit, (id(before), moved.name, value)
    known = circuit.answers.get(key)
    if known is None:
        known = before, tuple(_answers_to(before, moved, value))
        if len(circuit.answers) * circuit.nodes < MOST_REMEMBERED:
            circuit.answers[key] = known
    return known[1]


def _answers_to(before: Settled, moved: Variable, value: str) -> Iterator[Settled]:
    circuit = before.circuit
    positions = {**before.positions, moved.name: value}
    settled = settle(circuit, positions, before.calls, before)
    yield settled
    for _ in range(MOST_MOVES):
        move = next(
            (
                move
                for move in circuit.moves
                if move.after == 0
                and move.variable != moved.name
                and move.when is not None
                and positions[move.variable] != move.target
                and (not move.origins or positions[move.variable] in move.origins)
                and holds(move.when, move.scope, settled.view)
            ),
            None,
        )
        if move is None:
            return
        positions = {**positions, move.variable: move.target}
        settled = settle(circuit, positions, settled.calls, settled)
        yield settled
