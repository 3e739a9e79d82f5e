"""What each breaker and fuse of a panel's circuits protects, and the largest that it may be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Outlet, Protection, Winding
from wirecheck.circuit.routes import Zone, equipment, nameplate
from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.limit import over
from wirecheck.judge.question import question
from wirecheck.judge.record import Record
from wirecheck.judge.sizing import Largest, carries, may_have
from wirecheck.model.board import Breaker, Conductor, Device
from wirecheck.tables.ampacity import Ampacity
from wirecheck.tables.motors import motor_protection
from wirecheck.tables.published import NotInTable


class Guarded(Record):
    """A breaker or fuse at line voltage with all its poles, and the conductors that it protects.

    `holder` is what of the board holds it: the breaker itself, or the device that a fuse is in.
    """

    protection: Protection
    holder: Breaker | Device
    zones: tuple[Zone, ...]
    conductors: tuple[Conductor, ...]

    @property
    def name(self) -> str:
        """How the board calls it."""
        return self.protection.name

    @property
    def amps(self) -> float:
        """Its rating."""
        return self.protection.amps

    @property
    def fuse(self) -> bool:
        """Whether it is a fuse."""
        return self.protection.kind == "fuse"

    @cached_property
    def runs(self) -> dict[str, tuple[Conductor, ...]]:
        """Its conductors by cable, or each wire by itself."""
        return grouped((conductor.run, conductor) for conductor in self.conductors)

    @cached_property
    def outlets(self) -> tuple[Outlet, ...]:
        """What cords are plugged into on its circuit."""
        return tuple({outlet.name: outlet for zone in self.zones for outlet in zone.outlets}.values())

    @cached_property
    def drawers(self) -> tuple[Load | Winding, ...]:
        """The loads and transformers on its circuit."""
        told: dict[str, Load | Winding] = {}
        for zone in self.zones:
            told.update((load.name, load) for load in zone.loads)
            told.update((winding.name, winding) for winding in zone.windings)
        return tuple(told.values())

    @cached_property
    def faces(self) -> int:
        """How many plugs go in: what a device gives at two voltages, as a range's does, is one plug's."""
        told: dict[str, Counter[float]] = {}
        for outlet in self.outlets:
            told.setdefault(outlet.device, Counter())[outlet.volts] += 1
        return sum(max(count.values()) for count in told.values())


class Allowed(NamedTuple):
    """The largest protection that a run may have, by the conductor of it that allows the least."""

    limit: Largest
    conductor: Conductor
    steps: Ampacity


class Plate(NamedTuple):
    """Equipment that has a circuit to itself, and the most that its nameplate allows (its MOCP), in A."""

    equipment: Device
    most: float


@question
def guarded(case: Case) -> tuple[Guarded, ...]:
    """Every breaker and fuse that is fed from a panel, with its conductors."""
    together: dict[Protection, list[Zone]] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg":
            together.setdefault(zone.protection, []).append(zone)
    return tuple(
        Guarded(
            protection=protection,
            holder=holder(case, protection),
            zones=tuple(zones),
            conductors=tuple(_conductors(zones)),
        )
        for protection, zones in together.items()
    )


def holder(case: Case, protection: Protection) -> Breaker | Device:
    """What of the board a breaker or fuse is in."""
    return case.board.breakers.get(protection.name) or case.circuit.around[protection.device][0]


def _conductors(zones: Iterable[Zone]) -> Iterable[Conductor]:
    conductors = (conductor for zone in zones for conductor in (*zone.hots, *zone.returns))
    return {conductor.name: conductor for conductor in conductors if purpose.is_power(conductor)}.values()


@question
def guards(case: Case) -> dict[str, Guarded]:
    """The breaker or fuse that protects each conductor, by the conductor's name."""
    return {conductor.name: guard for guard in guarded(case) for conductor in guard.conductors}


def plate(case: Case, guard: Guarded) -> Plate | None:
    """The one equipment on a circuit with its MOCP; None where there is none, or something beside it."""
    owners: dict[str, Device | None] = {}
    for drawer in guard.drawers:
        around = equipment(case.circuit, drawer.device)
        owners[around.name if around else ""] = around
    alone = next(iter(owners.values())) if len(owners) == 1 and not guard.outlets else None
    most = nameplate(alone, "mocp") if alone is not None else None
    return Plate(alone, most) if alone is not None and most is not None else None


def largest(case: Case, guard: Guarded, steps: Ampacity) -> Largest:
    """The largest breaker or fuse of this kind that wire of an ampacity may have on this circuit.

    The next standard rating up will not do where several cords are plugged in (240.4(B)(1)); a circuit
    that serves one motor and nothing else goes by the motor (430.52).
    """
    limit = may_have(steps, guard.faces <= 1, code=case.code)
    motor = _motor_limit(case, guard)
    return motor if motor is not None and motor.amps > limit.amps else limit


def _motor_limit(case: Case, guard: Guarded) -> Largest | None:
    if len(guard.drawers) != 1 or guard.outlets:
        return None
    (motor,) = guard.drawers
    if not isinstance(motor, Load) or motor.kind != "motor":
        return None
    kind = "dual_element_fuse" if guard.fuse else "inverse_time_breaker"
    most = motor_protection(motor.amps, kind, code=case.code)
    return Largest(most, "motor", case.code.section("protection of one motor"))


def fits(case: Case, guard: Guarded, steps: Ampacity) -> bool:
    """Whether wire of an ampacity may be on this breaker or fuse; a nameplate settles that by itself."""
    return plate(case, guard) is not None or not over(guard.amps, largest(case, guard, steps).amps)


def allowed(case: Case, guard: Guarded) -> Iterator[Allowed]:
    """The largest protection of each run behind a breaker or fuse; what no table holds is left out."""
    for conductors in guard.runs.values():
        told = []
        for conductor in conductors:
            try:
                steps = carries(case, conductor, guard.amps)
            except NotInTable:
                continue
            told.append(Allowed(largest(case, guard, steps), conductor, steps))
        if told:
            yield min(told, key=lambda one: one.limit.amps)


def copper(case: Case, guard: Guarded) -> frozenset[int]:
    """The pieces of copper of the conductors that it protects."""
    return frozenset(case.uses.piece[end] for conductor in guard.conductors for end in conductor.ends)
