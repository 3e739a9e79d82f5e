"""No receptacle is near heating, cooling or refrigerating equipment.

Whoever services it needs light and power for a vacuum pump or a meter. Without a receptacle, a cord is laid
through the house, over wet ground or up a ladder.

Source: NEC 210.63(A): within 25 ft, on the same level. It is asked only where a `room` line says what kind of
place it is, and is advice, since a receptacle may be there that the board does not show.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.heating import heats
from wirecheck.judge.inside import loads_of
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import feet
from wirecheck.model.board import Device, Room


class NoReceptacle(Problem):
    """Equipment, and the room that it is in, where the board has no receptacle."""

    equipment: Device
    room: Room


def find(case: Case) -> Iterator[NoReceptacle]:
    """Each room, at the first equipment in it."""
    told: set[Room] = set()
    for device in case.board.devices.values() if case.board.rooms else ():
        room = case.board.rooms.get(device.place)
        if room is None or room in told or room.receptacles or not _serviced(case, device):
            continue
        told.add(room)
        yield NoReceptacle(
            at=spot(room), about=device, severity="advice", stage="trim", equipment=device, room=room
        )


def _serviced(case: Case, device: Device) -> bool:
    """Whether it is a furnace or a boiler, or has a compressor."""
    return heats(case, device) or any("hermetic" in load.flags for load in loads_of(case, device))


def words(problem: NoReceptacle, case: Case) -> Words:
    """What has no receptacle near it."""
    far = feet(case.code.limit("receptacle for service"))
    return Words(
        message=f"The board shows no receptacle near {problem.equipment.name}. One is needed within {far}, "
        "on the same level, for whoever services it.",
        help=f"Put one there, not behind the disconnect of {problem.equipment.name}, or see that there is "
        "one.",
        source=case.code.section("receptacle for service"),
    )


RULE = rule(__name__, "trim", severities=("advice",), find=find, words=words)
