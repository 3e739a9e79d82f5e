"""The heat where a fault lets current through: a joint that is poor, a short that has ohms."""

from __future__ import annotations

from collections.abc import Iterable

from wirecheck.circuit.fault import Fault, PoorJoint, Short
from wirecheck.circuit.faulted import path_of
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case


def given_off(case: Case, states: Iterable[Settled]) -> dict[Fault, float]:
    """The most watts (I^2 R) that each fault gives off in some states, but for those of a start."""
    ohms = {path.name: path.ohms for path in case.circuit.resistors}
    paths = {path_of(number): fault for number, fault in enumerate(case.faults, 1) if path_of(number) in ohms}
    lasting = [settled for settled in states if not settled.starts] if paths else []
    return {
        fault: max((abs(one.amps.get(path, 0.0)) for one in lasting), default=0.0) ** 2 * ohms[path]
        for path, fault in paths.items()
    }


def place_of(fault: Fault, case: Case) -> str:
    """Where it is that a fault gives off heat."""
    match fault:
        case PoorJoint(point, _) | Short(point, _, _):
            return case.circuit.point[point].place
    raise AssertionError(fault)
