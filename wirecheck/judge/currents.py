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
    """What draws current: a load, one winding of it on three phases, or the primary of a transformer.

    `name` is that of its branch in a solution, `a` and `b` are its two points.
    """

    of: Load | Winding
    name: str
    a: str
    b: str


class Share(NamedTuple):
    """The part of a current that is drawn by `of`, along an element from its first end."""

    of: Load | Winding
    amps: complex


@question
def drawers(case: Case) -> tuple[Drawer, ...]:
    """All that draws current on the board."""
    loads = (
        Drawer(load, load.winding(position), *pair)
        for load in case.circuit.loads
        for position, pair in enumerate(load.pairs)
    )
    return (*loads, *(Drawer(winding, winding.name, *winding.primary) for winding in case.circuit.windings))


def shares(case: Case, settled: Settled) -> Mapping[str, Sequence[Share]]:
    """Whose current flows in each conductor, contact and pole in a state, by the route back to the source.

    Current that takes more than one way is put on the one of least impedance: the shares of a
    conductor may then differ from what flows in it.
    """
    known = _known(case)
    if id(settled) not in known:
        told: dict[str, dict[str, Share]] = {}
        for name, share in _along(case, settled, routes(case.circuit, settled)):
            there = told.setdefault(name, {})
            # Of a load on three phases a line carries what two of its windings draw.
            before = there.get(share.of.name)
            there[share.of.name] = share._replace(amps=before.amps + share.amps) if before else share
        known[id(settled)] = settled, {name: tuple(there.values()) for name, there in told.items()}
    return known[id(settled)][1]


@question
def _known(case: Case) -> dict[int, tuple[Settled, Mapping[str, Sequence[Share]]]]:
    """The states that were asked for, each with its answer; a state that is kept keeps its identity."""
    return {}


def _along(case: Case, settled: Settled, ways: Routes) -> Iterator[tuple[str, Share]]:
    for drawer in drawers(case):
        if current := settled.amps.get(drawer.name):
            for point, sense in ((drawer.a, 1), (drawer.b, -1)):
                for step in ways.back(case.circuit.node[point]):
                    yield step.name, Share(drawer.of, sense * step.sign * current)
