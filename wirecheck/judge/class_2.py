"""Which transformers feed Class 2 cable, behind which protection, and which of it is on a power circuit."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Protection, Winding, Wire
from wirecheck.judge.case import Case
from wirecheck.judge.purpose import is_class_2, is_grounding
from wirecheck.judge.question import question
from wirecheck.model.board import Conductor


class Powered(NamedTuple):
    """A breaker or fuse of a panel's leg, and one conductor of each Class 2 cable that is on its circuit."""

    protection: Protection
    conductors: tuple[Conductor, ...]


@question
def on_power(case: Case) -> tuple[Powered, ...]:
    """The Class 2 cable on each breaker and fuse of a panel's leg; nothing of one that has none."""
    protections: dict[str, Protection] = {}
    cables: dict[str, dict[str, Conductor]] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg":
            for conductor in (*zone.hots, *zone.returns):
                if is_class_2(conductor):
                    protections[zone.protection.name] = zone.protection
                    cables.setdefault(zone.protection.name, {}).setdefault(conductor.run, conductor)
    return tuple(Powered(protections[name], tuple(runs.values())) for name, runs in cables.items())


@question
def power_conductors(case: Case) -> Mapping[str, Conductor]:
    """Every conductor on the circuit of a panel's leg but the grounding conductors, by name."""
    return {
        conductor.name: conductor
        for zone in case.zones
        if zone.origin.kind == "leg"
        for conductor in (*zone.hots, *zone.returns)
        if not is_grounding(conductor)
    }


def fed_from(case: Case, winding: Winding) -> tuple[Wire, ...]:
    """The wires of Class 2 cable that a transformer's secondary feeds; none on a side that is earthed."""
    return tuple(_wires(case, {case.circuit.node[end] for end in winding.secondary} - {0}))


def secondary_protection(case: Case, winding: Winding) -> float | None:
    """The largest protection of the Class 2 cable of a secondary, in amperes.

    Wires of one side are protected by what is in the other. None where there is no protection, or
    wires of both sides have none.
    """
    unprotected: set[int] = set()
    found: list[float] = []
    for wire in _wires(case, {case.circuit.node[end] for end in winding.secondary}):
        node = case.circuit.node[wire.a]
        guards = [step.of.amps for step in case.routes.back(node) if isinstance(step.of, Protection)]
        if guards:
            found.append(min(guards))
        else:
            unprotected.add(case.routes.origins[node].node)
    return None if len(unprotected) > 1 or not found else max(found)


def _wires(case: Case, origins: Collection[int]) -> Iterator[Wire]:
    """The wires of Class 2 cable that come from one of some nodes of a source."""
    for wire in case.circuit.wires:
        origin = case.routes.origins.get(case.circuit.node[wire.a])
        if is_class_2(wire.conductor) and origin is not None and origin.node in origins:
            yield wire
