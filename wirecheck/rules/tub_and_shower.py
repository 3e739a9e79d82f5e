"""Inside of a tub's or a shower's space is a switch, a receptacle, or a light that must stay dry.

Whoever stands there is wet from head to foot, and so is what the spray and the steam come to. No switch and
no receptacle may be there, and a light is one that is marked for it: for damp places, or for wet ones where
the spray can hit it. The space is what is over the tub or the shower itself, up to 8 ft above its rim or
threshold. A switch that is made as a part of the tub or the shower is no device of a box.

Source: NEC 404.4(C), 406.9(C), 410.10(D). It is asked only where a `room` line says that something is there.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.room_words import where
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Word
from wirecheck.model.board import Device, Room
from wirecheck.parts.part import TRIED
from wirecheck.tables.rooms import SPACES

# The rating that says what a light is marked for, and what it is where nothing is marked.
LABEL, UNMARKED = "label", "dry"
# How many devices one message names.
MOST_NAMED = 4


class Misplaced(Problem):
    """Switches or receptacles in one place of `room`, where none may be, as `matter` says."""

    devices: tuple[Device, ...]
    room: Room
    called: str
    matter: str


class DryLight(Problem):
    """A light in `room` that is marked for no such place."""

    device: Device
    room: Room


def find(case: Case) -> Iterator[Misplaced | DryLight]:
    """Each place in a tub or a shower, by what is there; a switch with a receptacle is a receptacle."""
    board = case.board
    wet = (one for one in board.devices.values() if one.place in board.rooms)
    there = [(one, board.rooms[one.place]) for one in wet if board.rooms[one.place].kind in SPACES]
    wrong = grouped(((one.place, *_called(one, room)), one) for one, room in there)
    for (place, called, matter), devices in wrong.items():
        if called:
            box = board.boxes.get(place, devices[0])
            yield Misplaced(
                at=spot(box),
                about=box,
                severity="violation",
                stage="trim",
                devices=tuple(devices),
                room=board.rooms[place],
                called=called,
                matter=matter,
            )
    for device, room in there:
        label = device.values.get(LABEL)
        if isinstance(label, Word) and label.text == UNMARKED:
            yield DryLight(
                at=spot(device), about=device, severity="violation", stage="trim", device=device, room=room
            )


def _called(device: Device, room: Room) -> tuple[str, str]:
    """What a device is called that may not be there, and the matter that says so; nothing of others."""
    if device.name in room.receptacles:
        return "receptacle", "no receptacle in a tub or a shower"
    if device.part.positions and device.part.moved_by in TRIED:
        return "switch", "no switch in a tub or a shower"
    return "", ""


def words(problem: Misplaced | DryLight, case: Case) -> Words:
    """What it is, and where it goes or what comes in its place."""
    place = where(problem.room.kind)
    if isinstance(problem, Misplaced):
        devices = problem.devices
        are = "is" if len(devices) == 1 else "are"
        return Words(
            message=f"{listed((one.name for one in devices), MOST_NAMED)} {are} {place}, where no "
            f"{problem.called} may be. Whoever reaches for it is wet.",
            help=f"Move {problem.subject} out of the {problem.room.kind}.",
            source=case.code.section(problem.matter),
            also=tuple(Note(f"{one.name} is here", one.span) for one in devices if one is not problem.about),
        )
    return Words(
        message=f"{problem.subject} is {place}, and nothing says that it is marked for damp or wet places. "
        "Steam and spray get into it.",
        help="Put in a light that is marked for wet places, and say so: wet-rated. Where no spray can hit "
        "it, damp-rated does.",
        source=case.code.section("lights in a tub or a shower are marked for it"),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)
