"""No disconnect in sight of the equipment opens all of its hots, or one is within reach of the water.

Whoever works on a motor, a compressor or a heater turns it off and must see that nobody turns it on
again. A switch that opens one hot of two leaves it live. A line may say what can be seen from where
(`D is disconnect-2-pole 30 A, 6 ft from CU`, `within sight of CU`). Where none does, what is more than
50 ft of wire away counts as out of sight, and so does what lies behind a switch that a line says is. A
breaker indoors can hardly be seen from a unit that stands outdoors, so a line must say it of that. A time
clock is no disconnect: it closes by itself. The one for a spa is out of reach of who sits in the water: 5 ft
from it at least, where a line says how far it is.

Source: NEC Article 100, 422.30, 422.31, 424.19, 430.103, 440.14, 680.13
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Load, Wire
from wirecheck.circuit.routes import nameplate
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.left_live import left_live
from wirecheck.judge.limit import over
from wirecheck.judge.made_up import at_screw
from wirecheck.judge.multiwire import handles
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.question import question
from wirecheck.judge.rule import rule
from wirecheck.judge.source import bars, buses
from wirecheck.judge.switch_poles import are_apart
from wirecheck.judge.voltages import is_line
from wirecheck.judge.ways import Element, neighbors, spread
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shown
from wirecheck.language.syntax import AnyOf, Called, InPosition, Sight
from wirecheck.model.board import Breaker, Device, Terminal

FOOT = 0.3048
# Whole millimeters, to count the length of a way in.
PER_METER = 1000
# What a hand sets, or a wall thermostat that opens every hot in its off position (424.20(A)).
SET_BY_HAND = (InPosition, AnyOf, Called)


class Opener(NamedTuple):
    """What a hand opens in one stroke: a switch, a breaker, or breakers whose handles are tied.

    `points` are its screws on the board, `contacts` the names of what it opens, `sights` what lines say of
    what can be seen from there.
    """

    name: str
    of: Device | Breaker
    points: tuple[str, ...]
    contacts: frozenset[str]
    sights: tuple[Sight, ...]

    @property
    def switch(self) -> bool:
        """Whether it is no breaker."""
        return isinstance(self.of, Device)


class OpensOneHot(Problem):
    """`switch`, which stands in the way of `unit`, opens one of its two hots; `screw` stays live."""

    unit: Device
    switch: Device
    screw: Terminal


class OutOfSight(Problem):
    """The `nearest` that opens all hots of `unit` is `distance` meters away, of wire unless a line says it.

    `distance` is None where a line says in words that it is out of sight. `lock` is whether a lock on it
    would do in place of sight.
    """

    unit: Device
    nearest: Opener
    distance: float | None
    lock: bool
    said: bool


class BreakerAlone(Problem):
    """Breakers alone open all hots of `unit`, which stands outdoors; no line says that one is in sight."""

    unit: Device
    nearest: Opener


class InReach(Problem):
    """By its line `near` is `distance` meters from the water of `unit`, and no more."""

    unit: Device
    near: Opener
    distance: float


Kind = OpensOneHot | OutOfSight | BreakerAlone | InReach


def find(case: Case) -> Iterator[Kind]:
    """Each piece of equipment with a motor or a heater that is no small one; what is near a spa's water."""
    yield from _in_reach(case)
    for unit, loads in _units(case).items():
        near = _distances(case, loads)
        around = [one for one in _openers(case) if any(point in near for point in one.points)]
        whole = [one for one in around if all(_opens(case, one, load) == "all" for load in loads)]
        one_hot = next(_one_hot(case, loads, around), None)
        if one_hot is not None and not any(one.switch for one in whole):
            switch, screw = one_hot
            yield OpensOneHot(
                at=at_screw(case, case.board.terminals[switch.points[0]]),
                about=switch.of,
                severity="hazard",
                stage="trim",
                copper=frozenset(case.uses.piece[point] for point in (*switch.points, screw.name)),
                unit=case.board.devices[unit],
                switch=case.board.devices[switch.name],
                screw=screw,
            )
        elif whole:
            yield from _in_sight(case, case.board.devices[unit], whole, near)


def _in_reach(case: Case) -> Iterator[InReach]:
    """What a hand opens or closes so near to water that people sit in."""
    least = case.code.limit("disconnect from the water of a spa")
    for unit in case.board.devices.values():
        for one in _openers(case) if unit.part.serves == "bathing" else ():
            away = [sight.away for sight in one.sights if sight.of.text in (unit.name, unit.place)]
            told = next((each.value for each in away if each is not None), None)
            if told is not None and over(least, told):
                yield InReach(
                    at=spot(one.of),
                    about=one.of,
                    severity="violation",
                    stage="trim",
                    copper=frozenset(case.uses.piece[point] for point in one.points),
                    unit=unit,
                    near=one,
                    distance=told,
                )


class Away(NamedTuple):
    """How far something is from a unit, in meters, and whether that is in sight; `said` by a line or not."""

    in_sight: bool
    distance: float | None
    said: bool


def _away(case: Case, one: Opener, unit: Device, near: Mapping[str, int]) -> Away:
    most = case.code.limit("in sight")
    # What is said of the unit itself counts before what is said of its box.
    for name in (unit.name, unit.place):
        for sight in one.sights:
            if sight.of.text == name:
                told = sight.away.value if sight.away is not None else None
                return Away(bool(sight.seen) if told is None else not over(told, most), told, True)
    wire = _wire(one, near)
    return Away(not over(wire, most), wire, False)


def _turns_on_by_itself(one: Opener) -> bool:
    """Whether a clock moves it: who works on what it feeds sees nobody turn it on."""
    return isinstance(one.of, Device) and any("clock" in load.flags for load in one.of.part.loads)


def _wire(one: Opener, near: Mapping[str, int]) -> float:
    """How much wire lies between it and the unit, in meters."""
    return min(near[point] for point in one.points if point in near) / PER_METER


def _in_sight(
    case: Case, unit: Device, whole: list[Opener], near: Mapping[str, int]
) -> Iterator[OutOfSight | BreakerAlone]:
    found = [(one, _away(case, one, unit, near)) for one in whole]
    hidden = [_wire(one, near) for one, away in found if away.said and not away.in_sight]
    # Of what lies behind a switch that is out of sight, wire tells nothing: it would take a line too.
    found = [one for one in found if one[1].said or all(_wire(one[0], near) < each for each in hidden)]
    found = [one for one in found if not _turns_on_by_itself(one[0])] or found
    nearest, away = min(found, key=lambda one: (not one[1].in_sight, one[1].distance or 0.0))
    # Refrigerating equipment is in sight of its disconnect whatever locks that has: 440.14.
    lock = nameplate(unit, "rla") is None
    locked = any(isinstance(one.of, Breaker) and "lockable" in one.of.flags for one in whole)
    if away.in_sight:
        alone = not any(one.switch or told.said for one, told in found)
        if not lock and alone and unit.part.outdoors:
            yield BreakerAlone(
                at=spot(unit),
                about=unit,
                severity="advice",
                stage="trim",
                copper=frozenset(case.uses.piece[point] for point in nearest.points),
                unit=unit,
                nearest=nearest,
            )
    elif not (lock and locked):
        yield OutOfSight(
            at=spot(nearest.of if nearest.switch else unit),
            about=unit,
            severity="advice" if lock else "violation",
            stage="trim",
            copper=frozenset(case.uses.piece[point] for point in nearest.points),
            unit=unit,
            nearest=nearest,
            distance=away.distance,
            lock=lock,
            said=away.said,
        )


def _units(case: Case) -> Mapping[str, tuple[Load, ...]]:
    """The equipment whose motors and heaters draw more together than a breaker alone may disconnect."""
    devices = case.circuit.devices
    units = grouped(
        (devices[load.device].outer, load)
        for load in case.circuit.loads
        if load.kind in ("motor", "heater") and is_line(case, load.volts)
    )
    small = case.code.limit("appliance that its breaker alone disconnects")
    return {
        name: fed
        for name, loads in units.items()
        if over(sum(load.apparent for load in loads), small)
        and (fed := tuple(load for load in loads if _hots(case, load)))
    }


def _hots(case: Case, load: Load) -> frozenset[int]:
    return frozenset(case.uses.piece[end] for end in load.ends) & left_live(case)


@question
def _openers(case: Case) -> tuple[Opener, ...]:
    """Every switch and breaker of the board that opens hots."""
    board = case.board
    contacts = grouped((one.scope, one) for one in case.circuit.contacts if _by_hand(case, one))
    switches = [
        Opener(
            name,
            board.devices[name],
            tuple(_screws(case, poles)),
            frozenset(one.name for one in poles),
            board.devices[name].sights,
        )
        for name, poles in contacts.items()
        if are_apart(poles)
    ]
    handle = handles(case)
    tied = grouped((handle[one.name], one) for one in board.breakers.values())
    breakers = [
        Opener(
            listed(one.name for one in together),
            together[0],
            tuple(screw for one in together for screw, _ in one.poles),
            frozenset(one.name for one in together),
            tuple(sight for one in together for sight in one.sights),
        )
        for together in tied.values()
    ]
    return (*switches, *breakers)


def _by_hand(case: Case, contact: Contact) -> bool:
    """Whether a contact is a pole of a switch, or of a line voltage thermostat, for a hot."""
    device = case.board.devices.get(contact.scope)
    ends = (case.board.terminals.get(end) for end in (contact.a, contact.b))
    roles = {end.spec.role for end in ends if end is not None}
    return (
        device is not None
        and device.part.moved_by == "hand"
        and isinstance(contact.when, SET_BY_HAND)
        and bool(roles)
        and roles <= {"hot", "switched"}
    )


def _screws(case: Case, poles: tuple[Contact, ...]) -> Iterator[str]:
    yield from (end for pole in poles for end in (pole.a, pole.b) if end in case.board.terminals)


def _distances(case: Case, loads: tuple[Load, ...]) -> Mapping[str, int]:
    """How much wire lies between the hot ends of loads and each point of their circuit, in millimeters."""
    near, stops = neighbors(case), {*buses(case), *bars(case, "neutral", "ground")}

    def steps(point: str) -> Iterator[tuple[int, str, Element]]:
        for neighbor, of in near.get(point, ()) if point not in stops else ():
            yield round(of.conductor.length * PER_METER) if isinstance(of, Wire) else 0, neighbor, of

    ends = [end for load in loads for end in load.ends if case.uses.piece[end] in left_live(case)]
    return {point: last[point].cost if point in last else 0 for point, last in spread(ends, steps, case.work)}


def _opens(case: Case, opener: Opener, load: Load) -> str:
    """Which of the hots of a load something opens: all, some or none."""
    hots = _hots(case, load)
    left = hots & left_live(case, opener.contacts)
    return "none" if left == hots else "some" if left else "all"


def _one_hot(case: Case, loads: tuple[Load, ...], around: list[Opener]) -> Iterator[tuple[Opener, Terminal]]:
    """Each switch of one pole that stops a load and leaves it live, with the unit's screw that is live."""
    for one in around:
        stopped = next((load for load in loads if _opens(case, one, load) == "some"), None)
        if one.switch and len(one.contacts) == 1 and stopped is not None and isinstance(one.of, Device):
            left = left_live(case, one.contacts)
            unit = case.circuit.devices[stopped.device].outer
            screws = (screw for screw in case.board.terminals.values() if screw.owner == unit)
            live = next((screw for screw in screws if case.uses.piece[screw.name] in left), None)
            if live is not None and one.of.part.positions:
                yield one, live


def words(problem: Kind, case: Case) -> Words:
    """What is live with the switch off, or how far away the nearest disconnect is."""
    unit = problem.unit.name
    if isinstance(problem, OpensOneHot):
        switch = problem.switch.name
        return Words(
            message=f"{switch} opens one of the two hots of {unit}. With {switch} off {unit} stops, and "
            f"{problem.screw.name} is still live.",
            help=f"Put a switch or a disconnect of two poles in place of {switch}, and bring both hots "
            "through it.",
            stands=True,
            source=case.code.section("disconnect opens every hot", "disconnect of a motor opens every hot"),
        )
    if isinstance(problem, InReach):
        least = case.code.limit("disconnect from the water of a spa")
        name = problem.near.name
        remedy = (
            f"Move {name} to where it can be seen from {unit}, {shown(least, 'length')} from the water at "
            "least. A wall or a fence between them that makes the way to it as long does as well."
        )
        return Words(
            message=f"{name} is {shown(problem.distance, 'length', beside=least)} from {unit}: whoever is in "
            "the water can reach it with a wet hand.",
            help=remedy,
            stands=True,
            source=case.code.section("disconnect from the water of a spa"),
            value=problem.distance / FOOT,
            limit=least / FOOT,
            unit="ft",
        )
    limit = case.code.limit("in sight")
    nearest = problem.nearest
    what = "" if nearest.switch else "breaker "
    if isinstance(problem, BreakerAlone):
        return Words(
            message=f"{unit} stands outdoors, and {what}{nearest.name} alone opens all of its hots. No line "
            f"says that {nearest.name} can be seen from {unit}.",
            help=f"Put a disconnect beside {unit}. If {nearest.name} is in sight of it, "
            f"{shown(limit, 'length')} at most, say so on its line: , within sight of {unit}",
            stands=True,
            source=case.code.section("disconnect of refrigerating equipment", "in sight"),
        )
    remedy = (
        f"Put a disconnect for {unit} where it can be seen from {unit}, {shown(limit, 'length')} at most."
    )
    if problem.lock and not nearest.switch:
        remedy += f" Or give {nearest.name} a lock-off that stays on it, and say so on its line: lockable"
    return Words(
        message=f"The nearest switch that opens all hots of {unit} is {what}{nearest.name}, "
        f"{_far(problem, limit)}. Whoever works on {unit} can't see who closes it.",
        help=remedy,
        stands=True,
        source=case.code.section(
            "in sight",
            "disconnect of an appliance" if problem.lock else "disconnect of refrigerating equipment",
        ),
        value=problem.distance / FOOT if problem.distance is not None else None,
        limit=limit / FOOT if problem.distance is not None else None,
        unit="ft" if problem.distance is not None else None,
    )


def _far(problem: OutOfSight, limit: float) -> str:
    """How far away it is: by its line, or by its wire."""
    if problem.distance is None:
        return "out of sight by its line"
    return f"{shown(problem.distance, 'length', beside=limit)} {'' if problem.said else 'of wire '}away"


RULE = rule(__name__, "trim", severities=("hazard", "violation", "advice"), find=find, words=words)
