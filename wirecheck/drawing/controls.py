"""Which contacts follow a coil or an input by way of a control that looks at it.

The relay that a thermostat pulls in may have no contact of its own in the machine's wires: the control sees
that it has pulled in, and moves its contacts. So may a screw with a call on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain

from wirecheck.circuit.circuit import COILS, Circuit
from wirecheck.language.syntax import AllOf, AnyOf, Condition, HasVoltage, IsState, Negation, Runs


def by_control(circuit: Circuit) -> Mapping[str, Mapping[str, frozenset[str]]]:
    """For each coil, and each input by its point, the controls that look at it, each with its contacts.

    A control is called by its device's name and its own; one that has no name, and a contact that looks at
    the input itself, by the device's.

    Examples
    --------
    >>> import wirecheck
    >>> from wirecheck.circuit.circuit import circuit
    >>> told = circuit(wirecheck.assemble('board "Oil"\\nF is oil-furnace')[1])
    >>> {name: sorted(by_control(told)["F.call-relay"][name]) for name in by_control(told)["F.call-relay"]}
    {'F.control': ['F.limit.b--burner-motor.a', 'F.limit.b--ignition.a', 'F.limit.b--oil-valve.a']}
    """
    ends = {each.name: (circuit.node[each.a], circuit.node[each.b]) for each in circuit.contacts}
    contacts: dict[str, set[str]] = {}
    direct: dict[str, dict[str, set[str]]] = {}
    for contact in circuit.contacts:
        for kind, name in _looked_at(circuit, contact.when, contact.scope):
            if kind == "state":
                contacts.setdefault(name, set()).add(contact.name)
            elif kind == "input":
                direct.setdefault(name, {}).setdefault(contact.scope, set()).add(contact.name)
    first: dict[str, set[str]] = {}
    onward: dict[str, set[str]] = {}
    for move in circuit.moves:
        # What is a device is moved by the machine, as a fan switch is by heat: no control looks at that.
        if move.when is None or move.variable in circuit.devices:
            continue
        for kind, name in _looked_at(circuit, move.when, move.scope):
            (onward if kind == "state" else first).setdefault(name, set()).add(move.variable)
    found: dict[str, dict[str, frozenset[str]]] = {}
    for name in {**first, **direct}:
        moved = {control: set(each) for control, each in direct.get(name, {}).items()}
        for control in sorted(first.get(name, set()) & contacts.keys()):
            behind = [control]
            for one in behind:
                behind += sorted(onward.get(one, set()).difference(behind))
            own = set(chain.from_iterable(contacts.get(one, ()) for one in behind))
            if not _feeds(circuit, own, name, ends):
                moved.setdefault(control, set()).update(own)
        found[name] = {control: frozenset(each) for control, each in moved.items() if each}
    return found


def _feeds(circuit: Circuit, contacts: set[str], name: str, ends: Mapping[str, tuple[int, int]]) -> bool:
    """Whether one of these contacts stands before a coil: their control moves that, and looks if it has."""
    load = circuit.load_of.get(name)
    sides = {circuit.node[load.a], circuit.node[load.b]} if load is not None else set()
    return any(not sides.isdisjoint(ends[each]) for each in contacts)


def _looked_at(circuit: Circuit, condition: Condition, scope: str) -> Iterator[tuple[str, str]]:
    """What a condition looks at: the coils that run, the inputs, the states, each with its whole name."""
    match condition:
        case Runs():
            load = circuit.meant(condition, scope)
            if load is not None and load.kind in COILS:
                yield "coil", load.name
        case HasVoltage(terminal):
            yield "input", f"{scope}.{terminal.text}"
        case IsState(name):
            yield "state", f"{scope}.{name.text}"
        case Negation(fact):
            yield from _looked_at(circuit, fact, scope)
        case AllOf(facts) | AnyOf(facts):
            for fact in facts:
                yield from _looked_at(circuit, fact, scope)
