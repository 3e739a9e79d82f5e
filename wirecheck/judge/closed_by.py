"""Which contacts of a thermostat a call closes, with nothing else called."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact
from wirecheck.circuit.settle import View, holds
from wirecheck.judge.case import Case
from wirecheck.model.board import Device


def closed_by(case: Case, device: Device, call: str) -> Iterator[Contact]:
    """The contacts of a device that a call alone closes, while the device has its power."""
    running = frozenset(load.name for load in case.circuit.loads if load.device == device.name)
    view = View(case.circuit, {}, frozenset((call,)), running, (), frozenset(), {})
    for contact in case.circuit.contacts_in.get(device.name, ()):
        if holds(contact.when, contact.scope, view):
            yield contact
