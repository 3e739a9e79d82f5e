"""Whose current it is that flows in a conductor, a contact or the pole of a breaker."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.circuit.routes import Routes, routes
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.question import question


class Drawer(NamedTuple):
    """What draws current: a load, or the primary of a transformer, with its two points."""

    of: Load | Winding
    a: str
    b: str


class Share(NamedTuple):
    """The part of a current that is drawn by `of`, along an element from its first end."""

    of: Load | Winding
    amps: complex


@question
def drawers(case: Case) -> tuple[Drawer, ...]:
    """All that draws current on the board."""
    loads = (Drawer(load, load.a, load.b) for load in case.circuit.loads)
    return (*loads, *(Drawer(winding, *winding.primary) for winding in case.circuit.windings))


def shares(case: Case, settled: Settled) -> Mapping[str, Sequence[Share]]:
    """Whose current flows in each conductor, contact and pole in a state, by the route back to the source.

    Current that takes more than one way is put on the one of least impedance: the shares of a
    conductor may then differ from what flows in it.
    """
    known = _known(case)
    if id(settled) not in known:
        told: dict[str, list[Share]] = {}
        for name, share in _along(case, settled, routes(case.circuit, settled)):
            told.setdefault(name, []).append(share)
        known[id(settled)] = settled, told
    return known[id(settled)][1]


@question
def _known(case: Case) -> dict[int, tuple[Settled, Mapping[str, Sequence[Share]]]]:
    """The states that were asked for, each with its answer; a state that is kept keeps its identity."""
    return {}


def _along(case: Case, settled: Settled, ways: Routes) -> Iterator[tuple[str, Share]]:
    for drawer in drawers(case):
        if current := settled.amps.get(drawer.of.name):
            for point, sense in ((drawer.a, 1), (drawer.b, -1)):
                for step in ways.back(case.circuit.node[point]):
                    yield step.name, Share(drawer.of, sense * step.sign * current)
