"""A circuit feeds living rooms from a breaker that does not see arcs.

A nail through a cable or a loose screw makes an arc that glows for hours and draws less than the breaker's
rating. An arc-fault breaker knows it by its shape and opens before the wall burns.

Source: NEC 210.12. It is asked only where a `room` line says what kind of place it is.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Protection
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.inside import loads_of, outlets_of, windings_of
from wirecheck.judge.problem import Words, spot
from wirecheck.judge.room_words import where
from wirecheck.judge.rule import rule
from wirecheck.judge.shock_and_arc import Unprotected, without_arc_fault
from wirecheck.judge.voltages import is_line, takes_two_hots
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps
from wirecheck.model.board import Device, Room
from wirecheck.tables.rooms import asked

# How many things one message names.
MOST_NAMED = 4
# The screws between which a switch of a power circuit opens.
SWITCHED = {"hot", "switched"}


class NoArcFault(Unprotected):
    """A breaker without arc-fault protection, and what it feeds in rooms that ask for it."""

    devices: tuple[Device, ...]
    room: Room
    source: str


def find(case: Case) -> Iterator[NoArcFault]:
    """Each breaker of a 120 V circuit that is no larger than the code says."""
    if not case.board.rooms:
        return
    bare = grouped(
        (protection.device, device)
        for device in case.board.devices.values()
        if _asks(case, device) and (protection := _passed(case, device)) is not None
    )
    largest = case.code.limit("rating of circuits with arc-fault protection")
    for name, devices in bare.items():
        breaker = case.board.breakers[name]
        if breaker.amps <= largest:
            room = case.board.rooms[devices[0].place]
            yield NoArcFault(
                at=spot(breaker),
                about=breaker,
                severity="violation",
                stage="trim",
                breaker=breaker,
                devices=tuple(devices),
                room=room,
                source=asked(room.kind, code=case.code).arc_fault,
            )


def _asks(case: Case, device: Device) -> bool:
    room = case.board.rooms.get(device.place)
    return room is not None and bool(asked(room.kind, code=case.code).arc_fault)


def _passed(case: Case, device: Device) -> Protection | None:
    """The breaker that feeds an outlet, a load or a switch of a device past every arc-fault device."""
    points: list[str] = []
    for outlet in outlets_of(case, device):
        if not takes_two_hots(outlet.volts):
            points += (outlet.hot, outlet.neutral)
    for load in loads_of(case, device):
        if is_line(case, load.volts) and not takes_two_hots(load.volts):
            points += (load.a, load.b)
    for winding in windings_of(case, device):
        if not takes_two_hots(winding.primary_volts):
            points += winding.primary
    found = without_arc_fault(case, points)
    if found is not None:
        return found
    for contact in device.part.contacts:
        screws = [spec for end in (contact.a, contact.b) if (spec := device.part.terminals.get(end))]
        if contact.when is not None and screws and {spec.role for spec in screws} <= SWITCHED:
            points += (f"{device.name}.{contact.a}", f"{device.name}.{contact.b}")
    found = without_arc_fault(case, points)
    return found if found is not None and _has_a_neutral(case, found) else None


def _has_a_neutral(case: Case, protection: Protection) -> bool:
    """Whether a breaker's circuit has 120 V: it has one pole, or something behind its poles takes that."""
    if len(case.board.breakers[protection.device].poles) == 1:
        return True
    behind = [zone for zone in case.zones if zone.protection.device == protection.device]
    made_for = [load.volts for zone in behind for load in zone.loads]
    made_for += [outlet.volts for zone in behind for outlet in zone.outlets]
    made_for += [one.primary_volts for zone in behind for one in zone.windings]
    return any(is_line(case, volts) and not takes_two_hots(volts) for volts in made_for)


def words(problem: NoArcFault, case: Case) -> Words:
    """The breaker, and what in which room asks for another."""
    breaker = problem.subject
    rating = amps(problem.breaker.amps) if problem.breaker is not None else ""
    largest = amps(case.code.limit("rating of circuits with arc-fault protection"))
    named = listed((one.name for one in problem.devices), MOST_NAMED)
    return Words(
        message=f"{breaker} feeds {named} {where(problem.room.kind)}, and has no arc-fault protection. "
        f"Circuits of 120 V, up to {largest}, that feed outlets or switches there need it.",
        help=f"Put in an arc-fault breaker, and write: breaker {breaker} {rating} afci. The "
        "circuit's white goes on its own screw where it has one.",
        source=problem.source,
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)
