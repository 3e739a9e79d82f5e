"""A receptacle or a machine stands where people are wet or barefoot, and no ground-fault device is before it.

Current that goes through a person to earth is too small for a breaker to notice. A ground-fault device
compares what leaves with what comes back, and opens at 4 to 6 mA, before the heart is in danger.

Source: NEC 210.8(A), 210.8(F); UL 943. It is asked only where a `room` line says what kind of place it is.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load, Outlet
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.inside import outlets_of
from wirecheck.judge.problem import Words, spot
from wirecheck.judge.room_words import where
from wirecheck.judge.rule import rule
from wirecheck.judge.sealed import has_compressor
from wirecheck.judge.shock_and_arc import Unprotected, feeder, without_ground_fault
from wirecheck.judge.voltages import is_line
from wirecheck.model.board import Device, Room
from wirecheck.tables.rooms import asked

OUTDOORS = ("outdoors", "roof")


class OpenReceptacle(Unprotected):
    """A receptacle in a room that asks for protection; `where` says for which, if not for all.

    `half` is the outlet that has none where another one on its face has it.
    """

    device: Device
    half: Outlet | None
    room: Room
    source: str
    where: str


class OpenEquipment(Unprotected):
    """Equipment outdoors that is wired in; `sealed` is whether it is a heat pump or an air conditioner."""

    device: Device
    room: Room
    sealed: bool


def find(case: Case) -> Iterator[OpenReceptacle | OpenEquipment]:
    """Each device in a room, once."""
    if not case.board.rooms:
        return
    told: set[str] = set()
    for guard in guarded(case):
        for outlet in guard.outlets:
            device = case.board.devices[case.circuit.devices[outlet.device].outer]
            room = case.board.rooms.get(device.place)
            if room is None or device.name in told:
                continue
            found = _receptacle(case, outlet, device, room)
            if found is not None:
                told.add(device.name)
                yield found
        yield from _equipment(case, guard, told)


def _receptacle(case: Case, outlet: Outlet, device: Device, room: Room) -> OpenReceptacle | None:
    needs = asked(room.kind, code=case.code)
    most = case.code.limit("volts of receptacles with ground-fault protection")
    # A range's outlet has 120 V and 240 V on one face.
    volts = max(one.volts for one in outlets_of(case, device))
    if not needs.ground_fault or volts > most:
        return None
    if not without_ground_fault(case, (outlet.hot, outlet.neutral)):
        return None
    return OpenReceptacle(
        at=spot(device),
        about=device,
        # Which of them serve what they are asked for no line of a board says.
        severity="advice" if needs.where else "violation",
        stage="trim",
        copper=frozenset((case.uses.piece[outlet.hot],)),
        breaker=feeder(case, (outlet.hot, outlet.neutral)),
        device=device,
        half=outlet if _guarded_beside(case, outlet, device) else None,
        room=room,
        source=needs.ground_fault,
        where=needs.where,
    )


def _guarded_beside(case: Case, outlet: Outlet, device: Device) -> bool:
    """Whether another outlet of a receptacle has the protection that one lacks."""
    others = (one for one in outlets_of(case, device) if one != outlet)
    return any(not without_ground_fault(case, (one.hot, one.neutral)) for one in others)


def _equipment(case: Case, guard: Guarded, told: set[str]) -> Iterator[OpenEquipment]:
    """What is wired in outdoors on a circuit that is no larger than the code says; lights are let be."""
    if guard.amps > case.code.limit("rating of outdoor circuits with ground-fault protection"):
        return
    loads = [one for one in guard.drawers if isinstance(one, Load) and is_line(case, one.volts)]
    for name, those in grouped((case.circuit.devices[load.device].outer, load) for load in loads).items():
        device = case.board.devices[name]
        room = case.board.rooms.get(device.place)
        if room is None or room.kind not in OUTDOORS or name in told or any(one.gives_light for one in those):
            continue
        hots = [f"{name}.{screw}" for screw in device.part.terminals]
        if without_ground_fault(case, hots):
            told.add(name)
            sealed = has_compressor(case, device)
            yield OpenEquipment(
                at=spot(device),
                about=device,
                severity="advice" if sealed else "violation",
                stage="trim",
                breaker=feeder(case, hots),
                device=device,
                room=room,
                sealed=sealed,
            )


def words(problem: OpenReceptacle | OpenEquipment, case: Case) -> Words:
    """What is not protected, where it is, and what protects it."""
    device, room = problem.device, problem.room
    if isinstance(problem, OpenEquipment):
        message = f"{device.name} is outdoors, and no ground-fault device is before it."
        remedy = "Feed it from a breaker with ground-fault protection that its maker allows."
        if problem.sealed:
            message += (
                " The code asks for one. How far it does for air conditioners differs from place to place."
            )
            remedy = f"Ask your inspector, and read what the maker of {device.name} says of it."
        return Words(
            message=message,
            help=remedy,
            stands=True,
            source=case.code.section("rating of outdoor circuits with ground-fault protection"),
        )
    place = where(room.kind)
    has = "it has none" if problem.half is None else f"{problem.half.name} has none"
    message = f"{device.name} is {place}, where receptacles need ground-fault protection, and {has}."
    if problem.where:
        message = (
            f"{device.name} is {place} and has no ground-fault protection. The receptacles {problem.where} "
            "need it."
        )
    return Words(
        message=message,
        help=f"Put a GFCI receptacle here or before it with {device.name} on its load side, or feed the "
        "circuit from a GFCI breaker.",
        stands=True,
        source=problem.source,
    )


RULE = rule(__name__, "trim", severities=("violation", "advice"), find=find, words=words)
