"""What a device of the board has in it, at any depth: its loads, its outlets, its transformers."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck.circuit.circuit import Load, Outlet, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.question import question
from wirecheck.model.board import Device


def loads_of(case: Case, device: Device) -> tuple[Load, ...]:
    """The loads of a device and of all that is inside it."""
    return _loads(case).get(device.name, ())


def outlets_of(case: Case, device: Device) -> tuple[Outlet, ...]:
    """The outlets of a device and of all that is inside it."""
    return _outlets(case).get(device.name, ())


def windings_of(case: Case, device: Device) -> tuple[Winding, ...]:
    """The transformers of a device and of all that is inside it."""
    return _windings(case).get(device.name, ())


@question
def _loads(case: Case) -> Mapping[str, tuple[Load, ...]]:
    return grouped((case.circuit.devices[one.device].outer, one) for one in case.circuit.loads)


@question
def _outlets(case: Case) -> Mapping[str, tuple[Outlet, ...]]:
    return grouped((case.circuit.devices[one.device].outer, one) for one in case.circuit.outlets)


@question
def _windings(case: Case) -> Mapping[str, tuple[Winding, ...]]:
    return grouped((case.circuit.devices[one.device].outer, one) for one in case.circuit.windings)
