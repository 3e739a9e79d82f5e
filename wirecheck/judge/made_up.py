"""What is made up where: the join of each point, and the ends that are joined to nothing."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import Spot, spot
from wirecheck.judge.question import question
from wirecheck.model.board import Box, Breaker, Conductor, Device, Join, Member, Panel, RunEnd, Terminal


@question
def joins(case: Case) -> Mapping[str, tuple[tuple[Join, Member], ...]]:
    """The joins that each point takes part in, and the member that it is there; in order of the text."""
    return grouped(
        (member.point, (join, member)) for join in case.board.joins for member in join.members if member.point
    )


def join_at(case: Case, point: str) -> Join | None:
    """The first join that a point takes part in, or None where it is joined to nothing."""
    there = joins(case).get(point)
    return there[0][0] if there else None


def is_loose(case: Case, end: str) -> bool:
    """Whether a conductor's end is joined to nothing and not capped."""
    return end not in joins(case) and end not in case.board.capped


@question
def loose_ends(case: Case) -> tuple[tuple[Conductor, int], ...]:
    """Every conductor's end that is loose: the conductor, and which of its two ends (0 or 1)."""
    return tuple(
        (conductor, which)
        for conductor in case.board.conductors.values()
        for which, end in enumerate(conductor.ends)
        if is_loose(case, end)
    )


def run_end(case: Case, conductor: Conductor, which: int) -> RunEnd:
    """The end of its cable at which a conductor's end lies."""
    return case.board.runs[conductor.run].ends[which]


def owner_of(case: Case, terminal: Terminal) -> Panel | Breaker | Box | Device:
    """The panel, breaker, box or device that a screw belongs to."""
    board = case.board
    owner = terminal.owner
    return (
        board.panels.get(owner) or board.breakers.get(owner) or board.boxes.get(owner) or board.devices[owner]
    )


def at_screw(case: Case, terminal: Terminal) -> Spot:
    """The line that says what is on a screw; else the one that declares what the screw belongs to."""
    join = join_at(case, terminal.name)
    return spot(owner_of(case, terminal) if join is None else join)
