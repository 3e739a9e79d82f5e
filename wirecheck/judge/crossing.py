"""What a member of a join says that it is for, and what reversals explain of the colors."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.old_blame import GROUND_COLORS, NEUTRAL_COLORS
from wirecheck.judge.reversals import reversals
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


def explained(case: Case) -> tuple[frozenset[int], frozenset[str]]:
    """What reversals explain of the colors: pieces on the hot's way, wires on the neutral's."""
    pieces: set[int] = set()
    wires: set[str] = set()
    for one in reversals(case):
        pieces |= {case.uses.piece[point] for point in one.hot.before}
        if one.neutral is not None:
            wires |= {case.circuit.point[point].owner for point in one.neutral.before}
    return frozenset(pieces), frozenset(wires)
