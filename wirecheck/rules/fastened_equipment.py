"""Equipment that is fastened in place takes more than half of a circuit that has lights or receptacles too.

Nobody knows what will be plugged in. So the code leaves half of such a circuit for it: on 15 A and 20 A
circuits, equipment that stays where it is may take the other half at most. What takes more wants a circuit
of its own.

Source: NEC 210.23(B)(2)
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Outlet, Winding
from wirecheck.circuit.routes import Zone
from wirecheck.judge.case import Case
from wirecheck.judge.drawing import draws
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.guards import Guarded, copper, guarded
from wirecheck.judge.heating import heats
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, percent
from wirecheck.model.board import Device

# The circuits that the code says it of, in amperes.
CIRCUITS = (15.0, 20.0)
# How many devices one message names.
MOST_NAMED = 4


class Fastened(NamedTuple):
    """A device that is fastened in place, and what its loads draw at once by their ratings, in A."""

    device: Device
    amps: float


class OverHalf(Problem):
    """The `fastened` equipment of a circuit takes `total` amperes of it, beside lights or receptacles."""

    guard: Guarded
    fastened: tuple[Fastened, ...]
    total: float
    limit: float
    beside: Load | Outlet


def find(case: Case) -> Iterator[OverHalf]:
    """Each circuit of such a rating that feeds both. The legs of a multiwire circuit are a circuit each."""
    for guard in guarded(case):
        if guard.amps in CIRCUITS:
            yield from itertools.islice(
                (one for zone in guard.zones for one in _on_leg(case, guard, zone)), 1
            )


def _on_leg(case: Case, guard: Guarded, zone: Zone) -> Iterator[OverHalf]:
    fastened = tuple(_fastened(case, zone))
    own = {one.device.name for one in fastened}
    beside = next((one for one in _beside(zone) if _outer(case, one) not in own), None)
    # Central heating has its own rule for what may be on its circuit (422.12).
    if beside is None or not fastened or any(heats(case, one.device) for one in fastened):
        return
    total = sum(one.amps for one in fastened)
    limit = guard.amps * case.code.limit("share of equipment fastened in place")
    if over(total, limit):
        most = max(fastened, key=lambda one: one.amps).device
        yield OverHalf(
            at=spot(most),
            about=most,
            severity="violation",
            stage="trim",
            copper=copper(case, guard),
            guard=guard,
            fastened=fastened,
            total=total,
            limit=limit,
            beside=beside,
        )


def _outer(case: Case, of: Load | Winding | Outlet) -> str:
    return case.circuit.devices[of.device].outer


def _beside(zone: Zone) -> Iterator[Load | Outlet]:
    """The receptacles of a circuit, and its lights."""
    yield from zone.outlets
    yield from (load for load in zone.loads if load.gives_light)


def _fastened(case: Case, zone: Zone) -> Iterator[Fastened]:
    """The devices that are wired in and are no lights, each with the most that it draws at once."""
    drawers: tuple[Load | Winding, ...]
    drawers = (*(load for load in zone.loads if not load.gives_light), *zone.windings)
    for name, those in grouped((_outer(case, one), one) for one in drawers).items():
        loads = [one for one in those if isinstance(one, Load)]
        windings = sum(one.capacity / one.primary_volts for one in those if isinstance(one, Winding))
        most = max(
            sum(load.amps for load in loads if draws(load, state.load_amps(load))) for state in case.steady
        )
        yield Fastened(case.board.devices[name], most + windings)


def words(problem: OverHalf, case: Case) -> Words:
    """What takes how much of which circuit, and what else is on it."""
    guard, total, limit = problem.guard, problem.total, problem.limit
    names = listed((one.device.name for one in problem.fastened if one.amps), MOST_NAMED)
    beside = _outer(case, problem.beside)
    share = percent(case.code.limit("share of equipment fastened in place"))
    return Words(
        message=f"{names} can draw {amps(total, beside=limit)} of {guard.name}, a {amps(guard.amps)} circuit "
        f"that feeds {beside} too. What is fastened in place may take {share} of it, {amps(limit)}: the rest "
        "is for lights and for what is plugged in.",
        help=f"Give {problem.subject} a circuit of its own.",
        stands=True,
        source=case.code.section("share of equipment fastened in place"),
        value=total,
        limit=limit,
        unit="A",
        also=(Note(f"{beside} is on the same circuit", case.board.devices[beside].span),),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)
