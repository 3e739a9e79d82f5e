"""Where power comes from and goes back to: the legs of the panels, and their bars."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from wirecheck.circuit.circuit import Leg
from wirecheck.judge.case import Case
from wirecheck.judge.question import question


@question
def legs(case: Case) -> Mapping[str, Leg]:
    """The legs of every panel, by their points."""
    return {leg.point: leg for leg in case.circuit.legs}


def bars(case: Case, *roles: Literal["neutral", "ground"]) -> frozenset[str]:
    """The bars of every panel that are for one of these, by name."""
    return frozenset(
        terminal.name
        for terminal in case.board.terminals.values()
        if terminal.owner in case.board.panels and terminal.spec.role in roles
    )
