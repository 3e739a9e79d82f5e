"""A motor as a ladder shows it: nothing that nobody finds in it is switched there.

What a winding on a lead of its own draws changes as the rotor comes up to speed. A part says that with a
state of its rotor and with contacts that follow it. Nobody finds these in the machine: each lead goes on to
its winding. Nor does anybody find a contact in the electronics of a motor that a signal starts: its line is
always on, and its speeds are one motor.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wirecheck.circuit.circuit import Circuit, Contact, Load
from wirecheck.circuit.pieces import pieces
from wirecheck.language.syntax import IsState


def as_wound(circuit: Circuit) -> Circuit:
    """A circuit without contacts that nobody finds in the machine, with each winding and each motor once."""
    moved = unseen(circuit)
    if not moved:
        return circuit
    again = {name for names in windings_again(circuit).values() for name in names}
    plugged = speeds(circuit)
    again |= {one.name for loads in plugged.values() for one in loads} - plugged.keys()
    return replace(
        circuit,
        node=_node(circuit, moved),
        contacts=tuple(each for each in circuit.contacts if each not in moved),
        loads=tuple(
            _plugged(each, plugged.get(each.name, ())) for each in circuit.loads if each.name not in again
        ),
    )


def speeds(circuit: Circuit) -> Mapping[str, tuple[Load, ...]]:
    """For each load with electronics in it, by the first of its names, the loads that it is: one a speed."""
    found: dict[tuple[str, str, tuple[tuple[str, str], ...]], list[Load]] = {}
    for load in circuit.loads:
        if load.gate is not None:
            found.setdefault((load.device, load.kind, load.plug), []).append(load)
    return {loads[0].name: tuple(loads) for loads in found.values()}


def _plugged(load: Load, speeds: tuple[Load, ...]) -> Load:
    """A load as a picture shows it, with its electronics in it: from the points that a meter comes to."""
    a, b = load.plug[0]
    return load._replace(a=a, b=b, c=load.c and load.plug[1][1], speeds=speeds)


def windings_again(circuit: Circuit) -> Mapping[str, tuple[str, ...]]:
    """For each motor of such a device, the loads that its winding is while its rotor does not turn."""
    node = _node(circuit, turning(circuit))
    motors = [load for load in circuit.loads if load.device in circuit.wound and load.kind == "motor"]
    return {
        motor.name: tuple(
            load.name
            for load in circuit.loads
            if load.device == motor.device
            and load.kind != "motor"
            and {node[end] for end in load.ends} == {node[end] for end in motor.ends}
            and {circuit.node[end] for end in load.ends} != {circuit.node[end] for end in motor.ends}
        )
        for motor in motors
    }


def turning(circuit: Circuit) -> tuple[Contact, ...]:
    """The contacts that follow the rotor of such a device: wire in the machine that one takes apart."""
    wound = circuit.wound
    return tuple(each for each in circuit.contacts if each.scope in wound and isinstance(each.when, IsState))


def unseen(circuit: Circuit) -> tuple[Contact, ...]:
    """The contacts that are wire to who looks: those that follow a rotor, those of electronics in a load."""
    return (*turning(circuit), *(each for each in circuit.contacts if "in-electronics" in each.flags))


def _node(circuit: Circuit, moved: tuple[Contact, ...]) -> dict[str, int]:
    """The node of each point where such contacts are wire: screws first, which a meter comes to."""
    ties = ((circuit.node[each.a], circuit.node[each.b]) for each in moved)
    one = pieces(range(circuit.nodes), ties)
    points = sorted(circuit.node, key=lambda point: point not in circuit.board.terminals)
    return {point: one[circuit.node[point]] for point in points}
