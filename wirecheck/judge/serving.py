"""What the code asks of a machine or an outlet by what it serves: the matters, and what is on its circuit."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck.judge.case import Case
from wirecheck.judge.guards import Guarded
from wirecheck.model.board import Device

CONTINUOUS: Mapping[str, str] = {
    "water-heating": "storage water heater runs for hours",
    "vehicle-charging": "charging of a vehicle runs for hours",
}
"""By what a machine serves: the matter that says that it counts as a load that runs for hours."""


def on_circuit(case: Case, guard: Guarded) -> tuple[Device, ...]:
    """The devices that draw on a circuit, or that cords are plugged into, in the order of the board."""
    names = {case.circuit.devices[one.device].outer for one in (*guard.drawers, *guard.outlets)}
    return tuple(device for name, device in case.board.devices.items() if name in names)
