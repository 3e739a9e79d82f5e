"""Which devices that make calls are heard: their contacts can change something that is not their own."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Circuit
from wirecheck.model.devices import every_device


def heard(circuit: Circuit) -> frozenset[str]:
    """The devices whose calls something can feel, by name.

    What a device opens and closes is felt where two of the pieces of copper on it lead to something
    else: a load, a contact, a source. On one alone, or on none, nothing ever flows through it.
    """
    net = circuit.copper()
    at: dict[int, set[str]] = {}
    for owner, point in _ends(circuit):
        at.setdefault(net[circuit.node[point]], set()).add(owner)
    at.setdefault(net[0], set()).add("")
    told = set()
    for device in every_device(circuit.board.devices):
        if device.part.calls:
            screws = (name for name, spec in device.part.terminals.items() if spec.role != "ground")
            there = {net[circuit.node[f"{device.name}.{screw}"]] for screw in screws}
            if sum(bool(at.get(piece, set()) - {device.name}) for piece in there) > 1:
                told.add(device.name)
    return frozenset(told)


def _ends(circuit: Circuit) -> Iterator[tuple[str, str]]:
    """The points that something of the circuit stands between, each with the device that it is in."""
    for leg in circuit.legs:
        yield "", leg.point
    for contact in circuit.contacts:
        yield from ((contact.scope, end) for end in (contact.a, contact.b))
    for load in circuit.loads:
        yield from ((load.device, end) for end in load.ends)
    for winding in circuit.windings:
        yield from ((winding.device, end) for end in (*winding.primary, *winding.secondary))
    for outlet in circuit.outlets:
        yield from ((outlet.device, end) for end in (outlet.hot, outlet.neutral))
    for pair in circuit.inputs:
        yield from ((circuit.point[end].owner, end) for end in pair)
