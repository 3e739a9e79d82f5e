"""An end of a wire as a list of faults names it: by its place, or by what it is on where both are in one."""

from __future__ import annotations

from wirecheck.model.board import Board, Conductor


def end_at(conductor: Conductor, at: str, board: Board) -> str | None:
    """The point of a conductor's end in a place, the first where both are there; None where neither is.

    Of a wire that stays in one place, `at` may be a screw or a wire that the end is joined with.
    """
    if conductor.stays:
        joined = (end for end in conductor.ends if at in _beside(end, board))
        return next(joined, conductor.end_in(at))
    return conductor.end_in(at)


def at_end(end: str, conductor: Conductor, board: Board) -> str:
    """The place of an end, or what tells it from the other end of its wire there: its screw before a wire.

    The first end goes by its place where nothing tells the two from each other.
    """
    here = conductor.ends.index(end)
    if not conductor.stays:
        return conductor.places[here]
    other = _beside(conductor.ends[1 - here], board)
    return next((one for one in _beside(end, board) if one not in other), conductor.places[here])


def _beside(end: str, board: Board) -> list[str]:
    """The screws that an end is joined with, and then the wires."""
    members = [join.members for join in board.joins if any(one.point == end for one in join.members)]
    beside = [one for each in members for one in each if one.point != end and one.kind != "pigtail"]
    return [one.screw or one.name for one in sorted(beside, key=lambda one: one.kind == "end")]
