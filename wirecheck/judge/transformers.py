"""What a transformer feeds, and the most that it has to give at once."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.drawing import drawing

# Of a supply of 24 V the least to be trusted is 20 V (common practice).
TRUSTED = 20 / 24


class Drawn(NamedTuple):
    """What draws from a transformer at once: the loads, their VA by their ratings, and the state of that."""

    apparent: float
    loads: tuple[Load, ...]
    settled: Settled


def on_secondary(case: Case, winding: Winding) -> tuple[Load, ...]:
    """The loads that a transformer feeds when every contact is closed."""
    ends = {case.circuit.node[end] for end in winding.secondary}
    told = []
    for load in case.circuit.loads:
        origins = [case.routes.origins.get(case.circuit.node[point]) for point in load.ends]
        if all(origin is not None and origin.node in ends for origin in origins):
            told.append(load)
    return tuple(told)


def most_drawn(case: Case, winding: Winding) -> Drawn:
    """The most that draws from a transformer at once, in any position and call."""
    fed = on_secondary(case, winding)
    told = []
    for settled in (*case.steady, case.heaviest):
        loads = drawing(fed, settled)
        told.append(Drawn(sum(load.apparent for load in loads), loads, settled))
    return max(told, key=lambda drawn: drawn.apparent)


def is_class_2(case: Case, winding: Winding) -> bool:
    """Whether it can be a Class 2 source of a control circuit."""
    return winding.secondary_volts <= case.code.limit(
        "volts of a Class 2 source"
    ) and winding.capacity <= case.code.limit("capacity of a Class 2 source")
