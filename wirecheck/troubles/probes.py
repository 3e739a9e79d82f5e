"""Where a meter's two leads can be put: pairs of points in one place that are worth a reading."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.settle import Settled
from wirecheck.model.devices import every_device

# What a lead is put on as the other side of a reading: so many points of one place at most on each side.
MOST_RETURNS = 4
MOST_SOURCES = 4
# Of a source a point has at least this share of the volts that the place has at most.
OF_A_SOURCE = 0.9


class Probe(NamedTuple):
    """Two points in one place."""

    a: str
    b: str
    place: str


def probes(good: Circuit, standing: Settled) -> tuple[Probe, ...]:
    """The pairs of points that are worth a reading of volts.

    Across each load, contact, fuse and joint, and from each point of a place, and each wire's end, to what is
    a return or a source of its own circuit there, in the board without a fault.

    Parameters
    ----------
    standing : the state in which it is measured
    """
    found: dict[frozenset[str], Probe] = {}
    circuits = _circuits(good)
    earth = good.wired[0]

    def in_one(point: str, end: str) -> bool:
        one, other = (good.wired[good.node[each]] for each in (point, end))
        return earth in (one, other) or circuits[one] == circuits[other]

    for place, points in places(good).items():
        here = set(points)
        firsts = _firsts(good, points)
        returns, sources = _ends(good, standing, firsts)
        # A wire's end may be off, and is then no longer one with its screw.
        touched = dict.fromkeys((*firsts, *(point for point in points if good.point[point].kind == "end")))
        to_ends = ((point, end) for point in touched for end in (*returns, *sources) if in_one(point, end))
        for a, b in chain(across(good, here), _joints(good, place), to_ends):
            if a != b:
                found.setdefault(frozenset((a, b)), Probe(a, b, place))
    return tuple(found.values())


def places(good: Circuit) -> dict[str, list[str]]:
    """The points of each place that a lead can touch, screws before wires' ends."""
    sealed = frozenset(_sealed(good))
    told: dict[str, list[str]] = {}
    for name, point in good.point.items():
        if name in good.node and point.owner not in sealed:
            told.setdefault(point.place, []).append(name)
    for points in told.values():
        points.sort(key=lambda name: good.point[name].kind == "end")
    return told


def _sealed(good: Circuit) -> Iterator[str]:
    """What no lead comes to: what is in a compressor's windings, which is welded shut, or in electronics."""
    for load in good.loads:
        yield from (good.point[end].owner for end in set(load.ends).difference(*load.plug))
    shut = {load.device for load in good.loads if "hermetic" in load.flags}
    inside = {one.name: one for name in shut for one in good.devices[name].children}
    yield from (one.name for one in every_device(inside))


def _circuits(good: Circuit) -> Mapping[int, int]:
    """For each piece of wires, its circuit: what contacts, fuses and loads join behind a breaker.

    Earth, and the neutral with it, is of every circuit, and joins none.
    """
    wired, node = good.wired, good.node
    behind = [one for one in good.protections if one.name in good.board.breakers]
    pairs = chain(
        ((one.a, one.b) for one in good.contacts),
        (pair for one in good.protections if one.name not in good.board.breakers for pair in one.pairs),
        (pair for load in good.loads for pair in load.pairs),
        # The poles of one breaker feed one circuit.
        ((one.pairs[0][1], pair[1]) for one in behind for pair in one.pairs[1:]),
    )
    joined = ((wired[node[a]], wired[node[b]]) for a, b in pairs)
    return pieces(dict.fromkeys(wired.values()), (both for both in joined if wired[0] not in both))


def _firsts(good: Circuit, points: list[str]) -> list[str]:
    """One point of each node."""
    return list({good.node[point]: point for point in reversed(points)}.values())[::-1]


def _ends(good: Circuit, standing: Settled, points: list[str]) -> tuple[list[str], list[str]]:
    """The points of a place that are returns, and those that are sources.

    A return is one with earth or with the return of a transformer by wires alone, whatever is closed.
    """
    wired, node = good.wired, good.node
    back = {wired[0]} | {wired[node[winding.secondary[1]]] for winding in good.windings}
    out = {wired[node[winding.secondary[0]]] for winding in good.windings}
    most = max((abs(standing.volts[node[point]]) for point in points), default=0.0)

    def is_source(point: str) -> bool:
        here = abs(standing.volts[node[point]])
        return wired[node[point]] in out or here >= OF_A_SOURCE * most > 0

    returns = [point for point in points if wired[node[point]] in back]
    sources = [point for point in points if wired[node[point]] not in back and is_source(point)]
    return returns[:MOST_RETURNS], sources[:MOST_SOURCES]


def across(good: Circuit, here: set[str]) -> Iterator[tuple[str, str]]:
    """Both ends of what is in a place, by its points: loads, contacts, fuses and breakers, windings."""
    pairs = chain(
        (pair for load in good.loads for pair in load.plug),
        ((one.a, one.b) for one in good.contacts),
        (pair for one in good.protections for pair in one.pairs),
        (pair for one in good.windings for pair in (one.primary, one.secondary)),
    )
    return (pair for pair in pairs if pair[0] in here and pair[1] in here)


def _joints(good: Circuit, place: str) -> Iterator[tuple[str, str]]:
    """Each wire's end, with something else that is joined to it there."""
    for join in good.board.joins:
        if join.place != place:
            continue
        points = [member.point for member in join.members if member.kind != "pigtail"]
        for number, point in enumerate(points):
            if good.point[point].kind == "end" and len(points) > 1:
                yield point, points[number - 1]
