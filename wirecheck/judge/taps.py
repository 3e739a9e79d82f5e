"""Thin wires that are tapped from a feeder and end, after a short way, in a breaker or fuses of their own.

The breaker ahead of the feeder opens on a short in them, and the one that they end in keeps them from
being overloaded: so they may be thinner than the breaker ahead asks for (240.21(B)(1), (2)). What a line
does not tell, as that they lie in a raceway, is not looked at.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from wirecheck.circuit.circuit import Protection
from wirecheck.circuit.routes import OVERCURRENT
from wirecheck.judge.case import Case
from wirecheck.judge.limit import over
from wirecheck.model.board import Conductor
from wirecheck.tables.sizes import area


class Tap(NamedTuple):
    """Wires of one run that are tapped from larger ones: what they end in, and what holds for their length.

    `share` is the least part of the rating ahead of the feeder that their ampacity may be, by `section`.
    """

    ends_in: Protection
    share: float
    section: str


def tap(case: Case, ahead: Protection, feeder: Sequence[Conductor], run: Sequence[Conductor]) -> Tap | None:
    """What holds for a run behind a breaker or fuse as a tap, or None where it is none.

    Parameters
    ----------
    feeder : all wires that the breaker or fuse protects.
    """
    code = case.code
    length = max(conductor.length for conductor in run)
    if over(length, code.limit("long tap of a feeder")):
        return None
    names = {conductor.name for conductor in run}
    ends = [_ends_in(case, ahead, one, feeder, names) for one in run]
    if ends[0] is None or len({one and (one.device, one.amps) for one in ends}) > 1:
        return None
    short = "ampacity of a short tap", "short tap of a feeder"
    long = "ampacity of a long tap", "long tap of a feeder"
    share, within = long if over(length, code.limit(short[1])) else short
    return Tap(ends[0], code.limit(share), code.section(within, share))


def _ends_in(
    case: Case, ahead: Protection, wire: Conductor, feeder: Sequence[Conductor], run: set[str]
) -> Protection | None:
    """What a wire ends in, if its other end is joined to a larger wire of the feeder."""
    node = case.circuit.node
    for begin, end in (wire.ends, wire.ends[::-1]):
        larger = any(
            other.name not in run
            and area(other.size) > area(wire.size)
            and node[begin] in (node[other.ends[0]], node[other.ends[1]])
            for other in feeder
        )
        if larger:
            others = (one for one in case.circuit.protections if one is not ahead)
            return next((one for one in others if node[end] in _nodes(case, one)), None)
    return None


def _nodes(case: Case, protection: Protection) -> set[int]:
    """The nodes at which a wire ends in a breaker or fuse, past the switch of a disconnect in front of fuses.

    At a panel's neutral bar it ends in its main.
    """
    if protection.kind not in OVERCURRENT:
        return set()
    points = [point for pair in protection.pairs for point in pair]
    breaker = case.board.breakers.get(protection.name)
    panel = case.board.subpanels.get(breaker.panel) if breaker is not None else None
    if panel is not None and any(panel.lug(leg) in points for leg in panel.legs):
        points.append(f"{panel.name}.neutral")
    nodes, around = {case.circuit.node[point] for point in points}, case.circuit.devices
    for contact in case.circuit.contacts:
        mine = breaker is None and around[contact.scope].outer == around[protection.device].outer
        ends = {case.circuit.node[contact.a], case.circuit.node[contact.b]}
        if mine and "disconnect" in contact.flags and not ends.isdisjoint(nodes):
            nodes |= ends
    return nodes
