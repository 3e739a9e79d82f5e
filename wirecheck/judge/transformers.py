"""What a transformer feeds, and the most that it has to give at once."""

from __future__ import annotations

from collections.abc import Mapping
from operator import itemgetter
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.drawing import drawing
from wirecheck.judge.question import question

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
    there = (one for end in ends for one in _by_origin(case).get(end, ()))
    return tuple(load for _, load, origins in sorted(there, key=itemgetter(0)) if origins <= ends)


@question
def _by_origin(case: Case) -> Mapping[int, tuple[tuple[int, Load, frozenset[int]], ...]]:
    """The loads whose ends all come from somewhere, by where the first does: number, load, all origins."""
    told: dict[int, list[tuple[int, Load, frozenset[int]]]] = {}
    for number, load in enumerate(case.circuit.loads):
        found = (case.routes.origins.get(case.circuit.node[point]) for point in load.ends)
        origins = [None if origin is None else origin.node for origin in found]
        nodes = [node for node in origins if node is not None]
        if nodes and len(nodes) == len(origins):
            told.setdefault(nodes[0], []).append((number, load, frozenset(nodes)))
    return {node: tuple(loads) for node, loads in told.items()}


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
