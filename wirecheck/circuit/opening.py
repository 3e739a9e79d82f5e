"""What opens by itself: of breakers, fuses, ground-fault devices and windings the one that opens first."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from wirecheck.parts.part import WATCHERS

if TYPE_CHECKING:
    from wirecheck.circuit.circuit import Protection
    from wirecheck.circuit.settle import Settled

# A breaker or fuse must open at 135 % of its rating within the hour (UL 489, UL 248-14).
OPENS_AT = 1.35
# A transformer without protection of its own does not live long above twice its rating (common practice).
BURNS_AT = 2.0
# What takes so many seconds to open holds through a motor's start (common practice).
START = 1.0
# The most an inherently limited Class 2 source gives after a minute: NEC Chapter 9 Table 11(A), to 30 V.
LIMITED_TO = 8.0


class Opening(NamedTuple):
    """What opened by itself, and the amperes that made it.

    `kind` is overload, ground-fault, burned (a winding that nothing protects)
    or limited (a winding that takes itself off, as a Class 2 source must).
    """

    name: str
    kind: str
    amps: float
    limit: float


def next_opening(settled: Settled) -> Opening | None:
    """What opens first: a ground-fault device, then the soonest of breakers and fuses, then a winding."""
    circuit = settled.circuit
    broken = {opening.name for opening in settled.opened}
    due: list[tuple[tuple[float, float], Opening]] = []
    for protection in circuit.protections:
        if protection.name in broken:
            continue
        if protection.trips is not None:
            leaking = difference(settled, protection)
            if leaking > protection.trips:
                return Opening(protection.name, "ground-fault", leaking, protection.trips)
        if protection.kind in WATCHERS:
            # The breaker ahead of it watches the load.
            continue
        poles = range(len(protection.pairs))
        amps = max(abs(settled.amps.get(protection.pole(pole), 0)) for pole in poles)
        if amps >= OPENS_AT * protection.amps:
            # Of two that may open at once, the one that is the more overloaded does.
            order = (_opens_in(protection, amps), -amps / protection.amps)
            if settled.starts and order[0] >= START:
                continue
            due.append((order, Opening(protection.name, "overload", amps, protection.amps)))
    if due:
        return min(due)[1]
    for winding in circuit.windings:
        if winding.name not in broken:
            amps = abs(settled.amps.get(winding.name, 0)) * winding.primary_volts / winding.open_volts
            inherent = "inherently-limited" in winding.flags
            limit = LIMITED_TO if inherent else winding.capacity / winding.secondary_volts
            if amps > (limit if inherent else BURNS_AT * limit):
                return Opening(winding.name, "limited" if inherent else "burned", amps, limit)
    return None


def _opens_in(protection: Protection, amps: float) -> float:
    """The soonest, in seconds, that a breaker or fuse opens at that current."""
    # A short is rare, and the tables of opening times are read when there is one.
    from wirecheck.tables.published import NotInTable
    from wirecheck.tables.trips import trip_seconds

    kind = "fuse" if protection.kind in ("fuse", "supplementary") else "breaker"
    try:
        return trip_seconds(kind, protection.amps, amps)[0]
    except NotInTable:
        return 0.0


def difference(settled: Settled, protection: Protection) -> float:
    """The current that goes out and does not come back the same way.

    A receptacle's device sees its own pairs, a breaker its poles and what comes to its own neutral screw.
    """
    out = sum(settled.amps.get(protection.pole(pole), 0) for pole in range(len(protection.pairs)))
    screw = settled.circuit.own_neutrals.get(protection.name, frozenset())
    back = 0j
    for name, a, b in settled.circuit.ends if screw else ():
        back += settled.amps.get(name, 0) * ((b in screw) - (a in screw))
    return abs(out - back)
