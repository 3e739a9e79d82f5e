"""Which neutrals bring back the current of which breakers and fuses, and which of those open together."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Outlet, Protection, Winding, Wire
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.routes import Zone
from wirecheck.judge.case import Case
from wirecheck.judge.guards import holder
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.question import question
from wirecheck.model.board import Breaker, Conductor, Device

# What a circuit feeds.
Taker = Load | Outlet | Winding


class Returning(NamedTuple):
    """A conductor, and the zones of a panel's circuits whose current it brings back."""

    conductor: Conductor
    zones: tuple[Zone, ...]


class Sharing(NamedTuple):
    """Two hots and the neutrals that bring back the current of both.

    `in_one_cable` is whether each of those lies in one cable or raceway with both hots, as in a
    circuit that is meant so; `joined` whether the two hots are joined, through a switch or not.
    """

    one: Zone
    other: Zone
    neutrals: tuple[Conductor, ...]
    in_one_cable: bool
    joined: bool


class Between(NamedTuple):
    """Two hots of different legs, and what is connected between them."""

    one: Zone
    other: Zone
    takers: tuple[Taker, ...]
    joined: bool


@question
def returning(case: Case) -> tuple[Returning, ...]:
    """Every conductor that brings back the current of breakers and fuses of a panel's circuits."""
    conductors: dict[str, Conductor] = {}
    zones: dict[str, list[Zone]] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg":
            for conductor in zone.returns:
                if not is_grounding(conductor):
                    conductors[conductor.name] = conductor
                    zones.setdefault(conductor.name, []).append(zone)
    return tuple(Returning(conductors[name], tuple(one)) for name, one in zones.items())


@question
def sharing(case: Case) -> tuple[Sharing, ...]:
    """Every two hots that share a neutral."""
    pairs: dict[tuple[str, str], tuple[Zone, Zone]] = {}
    neutrals: dict[tuple[str, str], list[Conductor]] = {}
    for conductor, zones in returning(case):
        for one, other in itertools.combinations(zones, 2):
            pair = (_pole(one), _pole(other))
            pairs[pair] = one, other
            neutrals.setdefault(pair, []).append(conductor)
    return tuple(
        Sharing(
            one,
            other,
            tuple(neutrals[pair]),
            _in_one_cable(case, one, other, neutrals[pair]),
            _joined(one, other),
        )
        for pair, (one, other) in pairs.items()
    )


@question
def between(case: Case) -> tuple[Between, ...]:
    """Every two hots of different legs that something is connected between."""
    fed: dict[str, tuple[Taker, list[Zone]]] = {}
    for zone in case.zones:
        if zone.protection.name in case.board.breakers:
            fed_by: tuple[Taker, ...] = (*zone.loads, *zone.outlets, *zone.windings)
            for taker in fed_by:
                fed.setdefault(taker.name, (taker, []))[1].append(zone)
    pairs: dict[tuple[str, str], tuple[Zone, Zone]] = {}
    takers: dict[tuple[str, str], list[Taker]] = {}
    for taker, zones in fed.values():
        for one, other in itertools.combinations(zones, 2):
            if one.origin != other.origin:
                pair = (_pole(one), _pole(other))
                pairs[pair] = one, other
                takers.setdefault(pair, []).append(taker)
    return tuple(
        Between(one, other, tuple(takers[pair]), _joined(one, other)) for pair, (one, other) in pairs.items()
    )


def open_together(case: Case, one: Protection, other: Protection) -> bool:
    """Whether one handle opens both: that of one breaker, of two that are tied, or of a disconnect."""
    first, second = holder(case, one), holder(case, other)
    if isinstance(first, Breaker) and isinstance(second, Breaker):
        handle = handles(case)
        return handle[first.name] == handle[second.name]
    return one is other or (first is second and _has_handle(first))


@question
def handles(case: Case) -> dict[str, str]:
    """For each breaker the first of those whose handles are tied, each to the next, with its own."""
    return pieces(case.board.breakers, case.board.handle_ties)


def _has_handle(of: Breaker | Device) -> bool:
    return isinstance(of, Device) and bool(of.part.positions) and of.part.moved_by == "hand"


def _pole(zone: Zone) -> str:
    return zone.protection.pole(zone.pole)


def _in_one_cable(case: Case, one: Zone, other: Zone, neutrals: Iterable[Conductor]) -> bool:
    both = {_bundle(hot) for hot in _from_source(case, one)} & {
        _bundle(hot) for hot in _from_source(case, other)
    }
    return all(_bundle(neutral) in both for neutral in neutrals)


def _from_source(case: Case, zone: Zone) -> Iterator[Conductor]:
    """The hots of a zone, and those that bring its breaker or fuse what it gives."""
    yield from zone.hots
    for point in zone.protection.pairs[zone.pole]:
        for step in case.routes.back(case.circuit.node[point]):
            if isinstance(step.of, Wire):
                yield step.of.conductor


def _bundle(conductor: Conductor) -> str:
    """The raceway or the cable that it lies in."""
    return conductor.raceway or conductor.run


def _joined(one: Zone, other: Zone) -> bool:
    return not {hot.name for hot in one.hots}.isdisjoint(hot.name for hot in other.hots)
