"""What the board shall do, with every name in it known."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.language import syntax
from wirecheck.language.syntax import Statement, Word
from wirecheck.model.board import Device, Expectation
from wirecheck.model.devices import every_device
from wirecheck.model.draft import Draft


def known_expectations(statements: tuple[Statement, ...], draft: Draft) -> Iterator[Expectation]:
    """The expectations whose every name is known; the others are problems."""
    devices = {device.name: device for device in every_device(draft.devices)}
    loads = set(_load_names(devices))
    outlets = set(_outlet_names(devices))
    movable = {name for name, device in devices.items() if device.part.positions}
    made = {call for device in devices.values() for call in device.part.calls}
    made |= {f"{device.name}.{call}" for device in devices.values() for call in device.part.calls}

    def all_known(words: tuple[Word, ...], names: set[str], what: str) -> bool:
        wrong = [word for word in words if word.text not in names]
        for word in wrong:
            if word.text.partition(".")[0] in draft.broken:
                continue
            owner = word.text.partition(".")[0]
            near = [name for name in names if name.startswith(owner)] or list(names)
            draft.unknown(word, what, near, later=owner not in draft.declared)
        return not wrong

    for statement in statements:
        if isinstance(statement, syntax.ExpectFrom):
            one = all_known((statement.load,), loads | outlets, "The load or outlet")
            if all_known(statement.switches, movable, "The switch") and one:
                yield statement
        elif isinstance(statement, syntax.ExpectLive):
            if all_known((statement.outlet,), loads | outlets, "The outlet"):
                yield statement
        elif isinstance(statement, syntax.ExpectRuns):
            one = all_known(statement.calls, made | {"idle"}, "The call")
            if all_known(tuple(word for word, _ in statement.steps), loads | outlets, "The load") and one:
                yield statement
        elif isinstance(statement, syntax.ExpectStops):
            one = all_known((statement.safety,), movable | _opening(devices), "The safety")
            if all_known(statement.loads, loads, "The load") and one:
                yield statement


def _opening(devices: dict[str, Device]) -> set[str]:
    return {name for name, device in devices.items() if device.part.protections}


def _load_names(devices: dict[str, Device]) -> Iterator[str]:
    for device in devices.values():
        for load in device.part.loads:
            yield f"{device.name}.{load.name}"
        if len(device.part.loads) == 1:
            yield device.name


def _outlet_names(devices: dict[str, Device]) -> Iterator[str]:
    for device in devices.values():
        for outlet in device.part.outlets:
            yield f"{device.name}.{outlet.name}"
        if device.part.outlets:
            yield device.name
