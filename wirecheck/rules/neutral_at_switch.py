"""No neutral comes to a box where a switch controls lights.

Timers, sensors and dimmers need a neutral. Where none is in the box, somebody will one day use the
ground for it.

Source: NEC 404.2(C). It asks for a neutral in rooms that people live in, halls, stairs and bathrooms.
Where a `room` line says that a box is in one of them, it is a violation, elsewhere nothing; without the
line it is advice. A box that is `accessible`, and a raceway, let a neutral be added later.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.room_words import called
from wirecheck.judge.rule import rule
from wirecheck.judge.voltages import is_line
from wirecheck.language.listing import listed
from wirecheck.model.board import Box, Device
from wirecheck.tables.rooms import asked


class NoNeutral(Problem):
    """The switches that control lights, and their boxes, none of which has a neutral.

    `room` is the kind of place of the first box that says it.
    """

    room: str
    boxes: tuple[Box, ...]
    switches: tuple[Device, ...]
    lights: tuple[Load, ...]


def find(case: Case) -> Iterator[NoNeutral]:
    """Each group of switches, at its first box.

    One box with a neutral serves where several switches control the same light; a raceway lets
    one be pulled in later.
    """
    board = case.board
    served: set[str] = set()
    cabled: set[str] = set()
    for conductor in board.conductors.values():
        for place, end in zip(conductor.places, conductor.ends, strict=True):
            if conductor.raceway is None:
                cabled.add(place)
            if case.uses.of(end) == "neutral":
                served.add(place)
    for group in case.groups:
        lights = tuple(
            load
            for load in case.circuit.loads
            if load.name in group.loads and load.gives_light and is_line(case, load.volts)
        )
        switches = tuple(board.devices[name] for name in group.switches if name in board.devices)
        places = dict.fromkeys(switch.place for switch in switches)
        boxes = tuple(board.boxes[place] for place in places if place in board.boxes)
        if lights and boxes and all(box.name in cabled - served and not box.accessible for box in boxes):
            kinds = [board.rooms[box.name].kind for box in boxes if box.name in board.rooms]
            if kinds and not any(asked(kind, code=case.code).switch_neutral for kind in kinds):
                continue
            yield NoNeutral(
                at=spot(boxes[0]),
                about=boxes[0],
                severity="violation" if kinds else "advice",
                stage="rough-in",
                room=next((kind for kind in kinds if asked(kind, code=case.code).switch_neutral), ""),
                boxes=boxes,
                switches=switches,
                lights=lights,
            )


def words(problem: NoNeutral, case: Case) -> Words:
    """Which switches lack it, and how it comes there."""
    names = [switch.name for switch in problem.switches]
    needs = "Most rooms, halls, stairs and bathrooms need one there"
    if problem.room:
        of = "stairs" if problem.room == "stairs" else f"a {called(problem.room)}"
        needs = f"The switches of {of} need one there"
    return Words(
        message=f"No neutral comes to {listed(box.name for box in problem.boxes)}, where {listed(names)} "
        f"{'control' if len(names) > 1 else 'controls'} {listed(load.name for load in problem.lights)}. "
        f"{needs}, for the sensors, timers and dimmers to come.",
        help="Run a cable with one more conductor to it. Splice its white to the neutrals where the cable "
        "comes from, and cap it at the switch if nothing needs it yet. Ask your instructor or inspector "
        "which exceptions hold where you work.",
        source=case.code.section("neutral at a switch of lights"),
        also=tuple(Note(f"{box.name} has none either", box.span) for box in problem.boxes[1:]),
    )


RULE = rule(__name__, "rough-in", severities=("violation", "advice"), find=find, words=words)
