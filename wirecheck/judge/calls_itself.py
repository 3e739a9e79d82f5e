"""Whether a screw of control wiring gives a call and waits for none."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.model.board import Terminal


def calls_itself(case: Case, terminal: Terminal) -> bool:
    """Whether a terminal gives a call and waits for none: a contact inside brings it power."""
    device = case.board.devices.get(terminal.owner)
    if device is None:
        return False
    power = {name for name, spec in device.part.terminals.items() if spec.carries == "power"}
    contacts = (contact for contact in device.part.contacts if contact.when is not None)
    return any(
        terminal.spec.name in (one.a, one.b) and not power.isdisjoint((one.a, one.b)) for one in contacts
    )
