"""The screw of a machine by which something inside it is fed, where hands can reach it."""

from __future__ import annotations

from wirecheck.judge.case import Case


def machine_screw(case: Case, point: str) -> str:
    """The terminal of the outermost device that copper and contacts tie a point inside to; else the point."""
    circuit = case.circuit
    outer = circuit.point[point].outer
    device = case.board.devices.get(outer)
    screws = [f"{outer}.{name}" for name in device.part.terminals] if device is not None else []
    if point in screws:
        return point
    copper = circuit.copper(frozenset(contact.name for contact in circuit.contacts))
    here = copper[circuit.node[point]]
    return next((screw for screw in screws if copper[circuit.node[screw]] == here), point)
