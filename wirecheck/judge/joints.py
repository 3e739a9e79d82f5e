"""What a joint that is missing would do, tried: whether it helps, and what has to come off before.

What closes the path of one call may run the load without that call, or feed one side of a source to
the other. Such a joint is no remedy.
"""

from __future__ import annotations

from wirecheck.circuit.work import WorkEnds
from wirecheck.judge import calls
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NotJoined, NotLookedFor, WithoutCall
from wirecheck.judge.made_up import joins
from wirecheck.judge.question import question
from wirecheck.language.syntax import Span
from wirecheck.model.board import Join, Member, Point

# The most that one joint may take of the work that is left.
SHARE = 0.25


def safe(case: Case, joint: NotJoined) -> NotJoined | WithoutCall | NotLookedFor:
    """The joint, with the wires that come off first; no joint, where it would run something by itself.

    Where the work ends before that is known, no joint is named either.
    """
    known = _known(case)
    if joint not in known:
        known[joint] = _safe(case, joint)
    return known[joint]


@question
def _known(case: Case) -> dict[NotJoined, NotJoined | WithoutCall | NotLookedFor]:
    """The joints that were asked for: the same one stops several calls."""
    return {}


def _safe(case: Case, joint: NotJoined) -> NotJoined | WithoutCall | NotLookedFor:
    try:
        with case.work.reason(SHARE):
            for tried in (joint, *_with_more_off(case, joint)):
                if not _harms(case, made(case, tried)):
                    return tried
    except WorkEnds:
        return NotLookedFor()
    return WithoutCall(joint.here, joint.on)


def _with_more_off(case: Case, joint: NotJoined) -> list[NotJoined]:
    """The same with a wire of it taken off what it is on now."""
    there = joins(case)
    ends = [point.owner for point in (joint.on, joint.here) if point.kind == "end" and point.name in there]
    wires = [case.board.conductors[name] for name in ends]
    return [joint._replace(off=(*joint.off, wire)) for wire in wires if wire not in joint.off]


def _harms(case: Case, tried: Case) -> bool:
    """Whether something runs or opens, in a call or in none, that should not and does not without it."""
    return not _unasked(tried) <= _unasked(case)


@question
def _unasked(case: Case) -> set[tuple[Span | None, str]]:
    """What the calls of a line run and should not, or find running, and what opens in them or in none."""
    told: set[tuple[Span | None, str]] = set()
    for line in calls.asked(case):
        steps = calls.played(case, line).steps
        told |= {(line.span, load.name) for load in (*calls.extra(case, line), *calls.unmoved(case, line))}
        told |= {(line.span, one.name) for step in steps for one in step.settled.opened}
    return told | {(None, one.name) for state in case.states for one in state.opened}


# -------------------------------------------------------------- made by hand


def made(case: Case, joint: NotJoined) -> Case:
    """The board with a joint made, and with the wires taken off that come off first."""
    board, place = case.board, joint.here.place
    off = {wire.name for wire in joint.off}
    kept = [
        join._replace(
            members=tuple(one for one in join.members if join.place != place or one.name not in off)
        )
        for join in board.joins
    ]
    members = tuple(_member(point, board.span) for point in (joint.here, joint.on))
    return Case(board._replace(joins=(*kept, Join(place, members, (), {}, board.span))), case.work)


def _member(point: Point, span: Span) -> Member:
    end = point.kind == "end"
    return Member(point.kind, point.owner if end else point.name, point.name, None, span)
