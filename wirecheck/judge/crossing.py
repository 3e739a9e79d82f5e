"""What a member of a join says that it is for."""

from __future__ import annotations

from wirecheck.judge.old_blame import GROUND_COLORS, NEUTRAL_COLORS
from wirecheck.model.board import Board, Member

HOT_ROLES = frozenset(("hot", "switched"))


def meant_for(member: Member, board: Board) -> str | None:
    """What a member of a join says that it is for: hot, neutral or ground; None where it does not say.

    Bare and green stay grounds whatever is wound around them: 250.119.
    """
    if member.kind == "terminal":
        role = board.terminals[member.name].spec.role
        return "hot" if role in HOT_ROLES else role if role in ("neutral", "ground") else None
    conductor = board.conductors.get(member.name)
    if conductor is None:
        return None
    color = conductor.color if conductor.color in GROUND_COLORS else member.marked or conductor.color
    return "ground" if color in GROUND_COLORS else "neutral" if color in NEUTRAL_COLORS else "hot"
