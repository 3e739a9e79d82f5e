"""Which contacts follow a coil or an input by way of a control that looks at it.

The relay that a thermostat pulls in may have no contact of its own in the machine's wires: the control sees
that it has pulled in, and moves its contacts. So may a screw with a call on it. One board of a machine may
hold several controls, as one for the burner and one for the fan: each is named, for its contacts are.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import COILS, Circuit, Contact, Load, Move
from wirecheck.language.conditions import each_fact
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Condition,
    HasVoltage,
    IsState,
    Negation,
    Runs,
    WasState,
)

CONTROL = "control"
"""What the control of a machine is called where it has several, the one that its sequence is told of."""

Step = tuple[str, str]
"""From which of its values to which a control goes."""


class Control(NamedTuple):
    """What moves contacts of a device: by its own name there, empty where it has none."""

    scope: str
    own: str

    @property
    def name(self) -> str:
        """Its name on the board."""
        return f"{self.scope}.{self.own}" if self.own else self.scope


class Heed(NamedTuple):
    """The control that looks at a coil or an input, and the contacts that move with this, by theirs."""

    by: Control
    contacts: Mapping[Control, frozenset[str]]


def by_control(circuit: Circuit) -> Mapping[str, Heed]:
    """For each coil, and each input by its point, the control that looks at it, and what moves with it.

    A control is called by its device's name and its own; one that has no name, and a contact that looks at
    the input itself, by the device's. A contact is called as the first control is that it follows, though
    another that this one looks at has moved it. One moves with an input only where a step that this makes a
    control take opens or closes it: that a heat pump is told to cool begins no defrost.

    Examples
    --------
    >>> import wirecheck
    >>> from wirecheck.circuit.circuit import circuit
    >>> told = by_control(circuit(wirecheck.assemble('board "Oil"\\nF is oil-furnace')[1]))
    >>> sorted(told["F.call-relay"].contacts[Control("F", "control")])
    ['F.limit.b--burner-motor.a', 'F.limit.b--ignition.a', 'F.limit.b--oil-valve.a']
    >>> told = by_control(circuit(wirecheck.assemble('board "Gas"\\nF is gas-furnace')[1]))
    >>> [(told[name].by.name, [each.name for each in told[name].contacts]) for name in ("F.W", "F.G")]
    [('F.control', ['F.control', 'F.fan']), ('F.fan', ['F.fan'])]
    """
    following: dict[str, list[Contact]] = {}
    direct: dict[str, dict[Control, set[str]]] = {}
    known = {
        each.name: each
        for device in circuit.devices.values()
        for each in (Control(device.name, state.name) for state in device.part.states)
    }
    for contact in circuit.contacts:
        for kind, name in _looked_at(circuit, contact.when, contact.scope):
            if kind == "state":
                following.setdefault(name, []).append(contact)
            elif kind == "input" or "senses" in circuit.load_of[name].flags:
                direct.setdefault(name, {}).setdefault(named(circuit, contact), set()).add(contact.name)
    moves: dict[str, list[Move]] = {}
    onward: dict[str, list[Move]] = {}
    for move in circuit.moves:
        # What is a device is moved by the machine, as a fan switch is by heat: no control looks at that.
        if move.when is None or move.variable in circuit.devices:
            continue
        for kind, name in _looked_at(circuit, move.when, move.scope):
            (onward if kind == "state" else moves).setdefault(name, []).append(move)
    found: dict[str, Heed] = {}
    for name in {**moves, **direct}:
        moved = {control: set(each) for control, each in direct.get(name, {}).items()}
        lookers = dict.fromkeys(moved)
        for control in dict.fromkeys(move.variable for move in moves.get(name, ())):
            own = [move for move in moves[name] if move.variable == control]
            steps = _steps(circuit, control, own, onward)
            told = [
                contact
                for one, taken in steps.items()
                for contact in following.get(one, ())
                if any(_differs(contact.when, contact.scope, one, step) for step in taken)
            ]
            if told and not _feeds(circuit, told, name):
                for contact in told:
                    moved.setdefault(named(circuit, contact), set()).add(contact.name)
            if control in following and not _feeds(circuit, following[control], name):
                lookers.setdefault(known[control])
        if lookers:
            by = min(lookers, key=lambda each: (each.own != CONTROL, each.own != "", each.own))
            found[name] = Heed(by, {control: frozenset(each) for control, each in moved.items()})
    return found


def only_ways(circuit: Circuit) -> frozenset[str]:
    """The coils and inputs by which alone a control is moved from outside: it looks at nothing else.

    >>> import wirecheck
    >>> from wirecheck.circuit.circuit import circuit
    >>> only_ways(circuit(wirecheck.assemble('board "Ice"\\nM is ice-machine')[1]))
    frozenset({'M.curtain.b'})
    """
    ways: dict[Control, list[str]] = {}
    for name, heed in by_control(circuit).items():
        for control in heed.contacts:
            ways.setdefault(control, []).append(name)
    return frozenset(names[0] for names in ways.values() if len(names) == 1)


def beginning(circuit: Circuit) -> frozenset[str]:
    """The inputs that by themselves begin what a control does: the volts there alone take it from its rest.

    >>> import wirecheck
    >>> from wirecheck.circuit.circuit import circuit
    >>> sorted(beginning(circuit(wirecheck.assemble('board "Heat"\\nAH is air-handler')[1])))
    ['AH.G', 'AH.sequencer.m2']
    """
    found: set[str] = set()
    for move in circuit.moves:
        rest = circuit.variables[move.variable].values[0]
        if move.target != rest and rest in (move.origins or (rest,)):
            ways = move.when.facts if isinstance(move.when, AnyOf) else (move.when,)
            found.update(f"{move.scope}.{way.terminal.text}" for way in ways if isinstance(way, HasVoltage))
    return frozenset(found)


def named(circuit: Circuit, contact: Contact) -> Control:
    """The control that a contact is told by: the first of its device's own that it looks at."""
    own = {each.name for each in circuit.devices[contact.scope].part.states}
    return Control(contact.scope, next((name for name in looked_at(contact.when) if name in own), ""))


def never_opens(circuit: Circuit, contact: Contact) -> bool:
    """Whether a contact conducts in every state of the one that it is told by: a coil of thick wire does."""
    match contact.when:
        case AnyOf(facts):
            told = {(fact.name.text, fact.state.text) for fact in facts if isinstance(fact, IsState)}
            states = circuit.devices[contact.scope].part.states
            own = [each for each in states if {(each.name, value) for value in each.values} == told]
            return len(told) == len(facts) and bool(own)
        case _:
            return False


def looked_at(condition: Condition) -> Iterator[str]:
    """The states that a condition looks at, as they stand or as they stood."""
    for fact in each_fact(condition):
        if isinstance(fact, IsState | WasState):
            yield fact.name.text


def _steps(
    circuit: Circuit, control: str, own: list[Move], onward: Mapping[str, list[Move]]
) -> dict[str, set[Step]]:
    """The steps that these moves are, and those of each control that looks at this one and steps with it."""
    steps = {control: set(_taken(circuit, own))}
    waiting = [control]
    for one in waiting:
        for move in onward.get(one, ()):
            if any(_differs(move.when, move.scope, one, step) for step in steps[one]):
                taken = set(_taken(circuit, [move]))
                if not taken <= steps.setdefault(move.variable, set()):
                    steps[move.variable] |= taken
                    waiting.append(move.variable)
    return steps


def _taken(circuit: Circuit, moves: list[Move]) -> Iterator[Step]:
    for move in moves:
        for origin in move.origins or circuit.variables[move.variable].values:
            if origin != move.target:
                yield origin, move.target


def _differs(condition: Condition | None, scope: str, control: str, step: Step) -> bool:
    """Whether a condition asks for something else before a step of a control than after it."""
    if condition is None:
        return False
    before, after = (_with(condition, scope, control, value) for value in step)
    return before != after


def _with(condition: Condition, scope: str, control: str, value: str) -> Condition | bool:
    """What is left of a condition where a control stands so."""
    match condition:
        case IsState(name, state) if f"{scope}.{name.text}" == control:
            return state.text == value
        case Negation(fact):
            return _not(_with(fact, scope, control, value))
        case AllOf(facts):
            return _all([_with(fact, scope, control, value) for fact in facts])
        case AnyOf(facts):
            return _not(_all([_not(_with(fact, scope, control, value)) for fact in facts]))
        case _:
            return condition


def _not(left: Condition | bool) -> Condition | bool:
    return not left if isinstance(left, bool) else Negation(left)


def _all(facts: list[Condition | bool]) -> Condition | bool:
    """What is left of facts that must all hold."""
    left = tuple(fact for fact in facts if not isinstance(fact, bool))
    return False if False in facts else AllOf(left) if left else True


def _feeds(circuit: Circuit, contacts: list[Contact], name: str) -> bool:
    """Whether one of these contacts stands before a coil: their control moves that, and looks if it has.

    What only listens is fed by no contact.
    """
    load = circuit.load_of.get(name)
    if load is None or "senses" in load.flags:
        return False
    sides = {circuit.node[load.a], circuit.node[load.b]}
    return any(not sides.isdisjoint((circuit.node[each.a], circuit.node[each.b])) for each in contacts)


def listening(circuit: Circuit, one: str, other: str) -> Iterator[Load]:
    """What listens between two screws: a load of their device that is there to sense the volts."""
    for load in circuit.loads:
        if "senses" in load.flags and {load.a, load.b} == {one, other}:
            yield load


def _looked_at(circuit: Circuit, condition: Condition, scope: str) -> Iterator[tuple[str, str]]:
    """What a condition looks at: the coils that run, the inputs, the states, each with its whole name.

    The volts between two screws are also what listens between them.
    """
    for fact in each_fact(condition):
        match fact:
            case Runs():
                load = circuit.meant(fact, scope)
                if load is not None and load.kind in COILS:
                    yield "coil", load.name
            case HasVoltage(terminal, _, reference):
                yield "input", f"{scope}.{terminal.text}"
                for load in listening(circuit, f"{scope}.{terminal.text}", f"{scope}.{reference.text}"):
                    yield "coil", load.name
            case IsState(name):
                yield "state", f"{scope}.{name.text}"
