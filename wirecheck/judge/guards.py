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
from wirecheck.judge.motor_control import tapped_limit
from wirecheck.judge.motor_limit import MotorLimit, motor_limit
from wirecheck.judge.question import question
from wirecheck.judge.record import Record
from wirecheck.judge.sizing import BY_MOTOR, Largest, carries, may_have
from wirecheck.model.board import Breaker, Conductor, Device
from wirecheck.tables.ampacity import Ampacity
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


# What the limit of a conductor takes, in steps of work.
LOOKS = 3


@question
def guards(case: Case) -> dict[str, Guarded]:
    """The breaker or fuse that protects each conductor, by the conductor's name."""
    return {conductor.name: guard for guard in guarded(case) for conductor in guard.conductors}


def plates(case: Case, guard: Guarded) -> tuple[Plate, ...]:
    """Each equipment on a circuit with its MOCP."""
    owners = (equipment(case.circuit, drawer.device) for drawer in guard.drawers)
    there = {around.name: around for around in owners if around is not None}
    mocp = ((around, nameplate(around, "mocp")) for around in there.values())
    return tuple(Plate(around, most) for around, most in mocp if most is not None)


def plate(case: Case, guard: Guarded) -> Plate | None:
    """The one equipment on a circuit with its MOCP; None where there is none, or something beside it."""
    told = plates(case, guard)
    if len(told) != 1 or guard.outlets:
        return None
    others = (equipment(case.circuit, drawer.device) for drawer in guard.drawers)
    return told[0] if all(around is told[0].equipment for around in others) else None


def largest(case: Case, guard: Guarded, steps: Ampacity) -> Largest:
    """The largest breaker or fuse of this kind that wire of an ampacity may have on this circuit.

    The next standard rating up will not do where several cords are plugged in (240.4(B)(1)). A circuit of
    one motor goes by the motor, whether the wire would bear more or less (430.52, 440.22(A)); a small motor
    may be on a circuit for several outlets as well, as its wire allows (430.53(A)).
    """
    wire = may_have(steps, guard.faces <= 1, code=case.code)
    motor = motor_of(case, guard)
    if motor is None:
        return wire
    if motor.most > min(wire.amps, motor.shared):
        return Largest(motor.most, motor.by, motor.source)
    if wire.amps <= motor.shared:
        return wire
    return Largest(motor.shared, motor.by, case.code.section("small motor on a shared circuit"))


def motor_of(case: Case, guard: Guarded) -> MotorLimit | None:
    """What a circuit's one motor or its compressor allows; None where it is no such circuit."""
    return None if guard.outlets else motor_limit(case, guard.drawers, guard.fuse)


def _tapped(case: Case, guard: Guarded, conductor: Conductor) -> Largest | None:
    """What a conductor of a motor's control circuit, tapped from the motor's own, may be protected at."""
    motor = any(isinstance(one, Load) and one.kind == "motor" for one in guard.drawers)
    most = tapped_limit(case, conductor) if motor else None
    return Largest(most, "motor control", case.code.section("motor control circuits")) if most else None


def fits(case: Case, guard: Guarded, steps: Ampacity) -> bool:
    """Whether wire of an ampacity may be on this breaker or fuse; a nameplate or a motor settles that."""
    if plate(case, guard) is not None:
        return True
    limit = largest(case, guard, steps)
    return limit.by in BY_MOTOR or not over(guard.amps, limit.amps)


def allowed(case: Case, guard: Guarded) -> Iterator[Allowed]:
    """The largest protection of each run behind a breaker or fuse; what no table holds is left out."""
    for conductors in guard.runs.values():
        case.work.spend(LOOKS * len(conductors))
        told = []
        for conductor in conductors:
            try:
                steps = carries(case, conductor, guard.amps)
            except NotInTable:
                continue
            told.append(
                Allowed(_tapped(case, guard, conductor) or largest(case, guard, steps), conductor, steps)
            )
        if told:
            yield min(told, key=lambda one: one.limit.amps)


def copper(case: Case, guard: Guarded) -> frozenset[int]:
    """The pieces of copper of the conductors that it protects."""
    return frozenset(case.uses.piece[end] for conductor in guard.conductors for end in conductor.ends)
