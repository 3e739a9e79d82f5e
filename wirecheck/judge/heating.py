"""What is central heating: a furnace or a boiler that a thermostat calls, and that burns."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.inside import loads_of, windings_of
from wirecheck.judge.voltages import is_line
from wirecheck.model.board import Device


def heats(case: Case, device: Device) -> bool:
    """Whether it takes line voltage and a call for heat, and has no electric element of its own."""
    inside = loads_of(case, device)
    carries = {spec.carries for spec in device.part.terminals.values()}
    line = any(is_line(case, load.volts) for load in inside)
    line = line or any(is_line(case, winding.primary_volts) for winding in windings_of(case, device))
    return (
        "heat" in carries and not device.part.calls and line and all(one.kind != "heater" for one in inside)
    )
