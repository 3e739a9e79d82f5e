"""What a leg still comes to while some contacts are open."""

from __future__ import annotations

from typing import cast

from wirecheck.judge.case import Case
from wirecheck.judge.source import legs
from wirecheck.judge.ways import pieces_reached


def left_live(case: Case, opened: frozenset[str] = frozenset()) -> frozenset[int]:
    """The copper that some leg comes to with some contacts and protection open, and all else closed."""
    key = (left_live, opened)
    if key not in case.answers:
        origins = (case.uses.piece[leg] for leg in legs(case))
        case.answers[key] = pieces_reached(case, origins, lambda of: of.name not in opened)
    return cast(frozenset[int], case.answers[key])
