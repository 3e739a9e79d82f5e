"""Calls of different devices that are made together, two and two.

Two thermostats on one machine, or a heater and a compressor on one breaker: what each
call does alone says nothing of what both do. Only those pairs are listed that can feel
each other: that move the same piece of the circuit, or load the same breaker or fuse.
Calls of one thermostat are its own matter: most of them exclude each other.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.positions import Group
from wirecheck.circuit.routes import Zone

# The most nodes that are solved for the pairs of a board, once for each; large boards are sampled sooner.
MOST_SOLVED = 10_000
# So many are played on a board of any size: three thermostats of two calls each.
LEAST_PAIRS = 24


def pairs(
    circuit: Circuit,
    callers: Mapping[str, tuple[str, ...]],
    groups: Iterable[Group],
    zones: Sequence[Zone],
) -> tuple[tuple[tuple[str, str], ...], bool]:
    """The pairs of calls, the first of which is made first, and whether all are there.

    Parameters
    ----------
    callers : each call with the devices that make it; what several make is made by all of them at once.

    Returns
    -------
    Both orders of each pair: which came first may matter. Beyond the bound only the first of them.
    """
    alone = {call: makers[0] for call, makers in callers.items() if len(makers) == 1}
    if len(set(alone.values())) < 2:
        return (), True
    circuits = _circuits(circuit, set(alone.values()), groups, zones)
    most = max(LEAST_PAIRS, MOST_SOLVED // circuit.nodes)
    every = (
        pair
        for one, other in itertools.combinations(alone, 2)
        if alone[one] != alone[other] and not circuits[alone[one]].isdisjoint(circuits[alone[other]])
        for pair in ((one, other), (other, one))
    )
    told = tuple(itertools.islice(every, most + 1))
    return told[:most], len(told) <= most


def _circuits(
    circuit: Circuit, makers: Iterable[str], groups: Iterable[Group], zones: Sequence[Zone]
) -> dict[str, frozenset[int | str]]:
    """For each device that makes calls, the groups that its contacts move, and what protects their loads."""
    told: dict[str, set[int | str]] = {maker: set() for maker in makers}
    nodes: dict[str, set[int]] = {maker: set() for maker in told}
    for contact in circuit.contacts:
        if contact.scope in nodes:
            nodes[contact.scope] |= {circuit.node[contact.a], circuit.node[contact.b]}
    for number, group in enumerate(groups):
        guards = {
            zone.protection.name for zone in zones if any(load.name in group.loads for load in zone.loads)
        }
        for maker, touched in nodes.items():
            if not touched.isdisjoint(group.nodes):
                told[maker] |= {number} | guards
    return {maker: frozenset(touched) for maker, touched in told.items()}
