"""What each breaker and fuse of a panel's circuits protects, and the largest that it may be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Outlet, Protection, Winding
from wirecheck.circuit.routes import Zone, equipment, nameplate
from wirecheck.judge import made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.limit import over
from wirecheck.judge.motor_control import tapped_limit
from wirecheck.judge.motor_feeder import motor_feeders
from wirecheck.judge.motor_limit import MotorLimit, motor_limit
from wirecheck.judge.question import question
from wirecheck.judge.record import Record
from wirecheck.judge.sizing import BY_MOTOR, Largest, carries, may_have
from wirecheck.judge.taps import Tap, tap
from wirecheck.model.board import Breaker, Conductor, Device, Join
from wirecheck.tables.ampacity import Ampacity
from wirecheck.tables.overcurrent import grounding_conductor
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import size_at_least


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


# A breaker for three phases has so many poles.
MOST_POLES = 3
NO_LINE = ("ground", "class-2", "class-2-common")
# What the limit of a conductor takes, in steps of work.
LOOKS = 3


@question
def guards(case: Case) -> dict[str, Guarded]:
    """The breaker or fuse that protects each conductor, by the conductor's name."""
    return {conductor.name: guard for guard in guarded(case) for conductor in guard.conductors}


def behind(case: Case, join: Join, screw: str) -> Guarded | None:
    """The largest breaker or fuse of the wires that a join brings to a screw; None where there is none."""
    there = (guards(case).get(member.name) for member in (*join.under.get(screw, ()), *join.splice))
    return max((one for one in there if one is not None), key=lambda one: one.amps, default=None)


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
    may be on a circuit for several outlets as well, as its wire allows (430.53(A)). A feeder for motors may
    have more than its wire bears, so that the largest of them starts, if the wire carries them (430.62(A)).
    """
    wire = may_have(steps, guard.faces <= 1, code=case.code)
    motor = motor_of(case, guard)
    if motor is None:
        feeder = motor_feeders(case).get(guard.name)
        if feeder is not None and feeder.most > wire.amps and not over(feeder.must, steps.result):
            return Largest(
                feeder.most, "motor feeder", case.code.section("protection of a feeder for motors")
            )
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


def may_wait(case: Case, guard: Guarded, steps: Ampacity) -> bool:
    """Whether wire of an ampacity may be right on a circuit that nothing is on yet, for what is to come.

    A motor, or equipment with a nameplate, that stands where the circuit can lead and has no line joined
    yet sets the breaker once it is in, and asks the wire for a quarter more than its current (430.22).
    """
    if guard.drawers or guard.outlets:
        return False
    reached = _led_to(case, guard)
    return any(
        least <= steps.result and not over(guard.amps, most)
        for device, least, most in _waiting(case, guard)
        if device.place in reached
    )


def _waiting(case: Case, guard: Guarded) -> Iterator[tuple[Device, float, float]]:
    """What has no line joined yet: the least ampacity and the most protection that it asks for, in A."""
    loads = grouped((case.circuit.devices[load.device].outer, load) for load in case.circuit.loads)
    for name, device in case.board.devices.items():
        drawers = loads.get(name, ())
        three = any(load.c is not None for load in drawers)
        if three != (len(guard.zones) == MOST_POLES) or _has_line(case, device):
            continue
        least, most = nameplate(device, "mca"), nameplate(device, "mocp")
        if least is not None and most is not None:
            yield device, least, most
        elif (motor := motor_limit(case, drawers, guard.fuse)) is not None:
            yield device, (1 + case.code.limit("extra for the largest motor")) * motor.amps, motor.most


def _has_line(case: Case, device: Device) -> bool:
    """Whether a screw of a device is joined that is for neither a ground nor Class 2."""
    names = (name for name, spec in device.part.terminals.items() if spec.role not in NO_LINE)
    return any(f"{device.name}.{name}" in made_up.joins(case) for name in names)


def _led_to(case: Case, guard: Guarded) -> frozenset[str]:
    """Every place that cables and wires for power lead to from those of a circuit, through no panel."""
    panels = case.board.panels
    reached = {place for conductor in guard.conductors for place in conductor.places} - panels.keys()
    power = [one for one in case.board.conductors.values() if purpose.is_power(one)]
    waiting = list(reached)
    while waiting:
        place = waiting.pop()
        for conductor in power:
            case.work.spend(1)
            if place in conductor.places:
                further = set(conductor.places) - panels.keys() - reached
                reached |= further
                waiting += further
    return frozenset(reached)


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
        tapped = _tap(case, guard, conductors)
        told = []
        for conductor in conductors:
            try:
                steps = carries(case, conductor, guard.amps)
            except NotInTable:
                continue
            if _is_enough_of_a_neutral(case, guard, conductor, steps):
                continue
            limit = _tapped(case, guard, conductor) or largest(case, guard, steps)
            if tapped is not None and not over(tapped.ends_in.amps, steps.result):
                limit = max(
                    limit,
                    Largest(steps.result / tapped.share, "tap", tapped.section),
                    key=lambda one: one.amps,
                )
            told.append(Allowed(limit, conductor, steps))
        if told:
            yield min(told, key=lambda one: one.limit.amps)


def _is_enough_of_a_neutral(case: Case, guard: Guarded, conductor: Conductor, steps: Ampacity) -> bool:
    """Whether a wire is the neutral of a feeder, carries all that can come back on it, and may be so thin.

    It has to be no more than the unbalanced load asks (220.61), and the ground's size at least (215.2(B)).
    """
    panels = {name for zone in guard.zones for name in zone.feeds}
    mine = any(conductor in zone.returns for zone in guard.zones)
    if not panels or not mine or guard.drawers or guard.outlets:
        return False
    least = grounding_conductor(guard.amps, conductor.material, code=case.code)
    if least is None or not size_at_least(conductor.size, least):
        return False
    back = sum(_comes_back(case, panel) for panel in panels)
    back += sum(
        other.amps
        for other in guarded(case)
        if other is not guard and any(conductor in zone.returns for zone in other.zones)
    )
    return not over(min(back, guard.amps), steps.result)


def _comes_back(case: Case, panel: str) -> float:
    """The most that the breakers of a subpanel let come back on its neutral: what those of one leg let by."""
    by_leg: Counter[str] = Counter()
    lug = case.board.panels[panel].lug
    for breaker in case.board.breakers.values():
        if breaker.panel != panel or any(screw == lug(leg) for screw, leg in breaker.poles):
            continue
        zones = [zone for zone in case.zones if zone.protection.name == breaker.name]
        between_hots = any(zone.loads or zone.outlets or zone.windings for zone in zones)
        back = any(zone.returns or zone.feeds for zone in zones)
        if len(breaker.poles) == 1 or back or not between_hots:
            by_leg.update({leg: breaker.amps for _, leg in breaker.poles})
    return max(by_leg.values(), default=0.0)


def _tap(case: Case, guard: Guarded, run: tuple[Conductor, ...]) -> Tap | None:
    """What a run is as a tap of a feeder, where it is one."""
    if len(guard.runs) < 2 or not (set(_downstream(case)) - {guard.name}):
        return None
    return tap(case, guard.protection, guard.conductors, run)


@question
def _downstream(case: Case) -> frozenset[str]:
    """The mains of subpanels and the breakers and fuses in devices: what a tap may end in."""
    board = case.board
    told = {one.name for one in case.circuit.protections if one.name not in board.breakers}
    return frozenset(told | {one.name for one in board.breakers.values() if board.panels[one.panel].fed})


def copper(case: Case, guard: Guarded) -> frozenset[int]:
    """The pieces of copper of the conductors that it protects."""
    return frozenset(case.uses.piece[end] for conductor in guard.conductors for end in conductor.ends)
