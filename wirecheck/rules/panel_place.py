"""A panel hangs where none may be: in a bath, in a clothes closet, over stairs.

Whoever resets a breaker stands wet in a bath, among clothes that burn in a closet, and on a step over stairs.

Source: NEC 240.24(D), 240.24(E), 240.24(F) (from memory). It is asked only where a `room` line says what
kind of place it is.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.room_words import where
from wirecheck.judge.rule import rule
from wirecheck.model.board import Panel, Room
from wirecheck.tables.rooms import asked


class Misplaced(Problem):
    """A panel, and the room that it may not be in by `source`."""

    panel: Panel
    room: Room
    source: str


def find(case: Case) -> Iterator[Misplaced]:
    """Each panel that a line puts into a room."""
    for panel in case.board.panels.values():
        room = case.board.rooms.get(panel.name)
        source = asked(room.kind, code=case.code).no_panel if room is not None else ""
        if room is not None and source:
            yield Misplaced(
                at=spot(room),
                about=panel,
                severity="violation",
                stage="rough-in",
                panel=panel,
                room=room,
                source=source,
            )


def words(problem: Misplaced, case: Case) -> Words:
    """Where it is."""
    return Words(
        message=f"{problem.panel.name} is {where(problem.room.kind)}, where no panel may be.",
        help="Hang it elsewhere, where a person stands dry and on the floor.",
        stands=True,
        source=problem.source,
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
