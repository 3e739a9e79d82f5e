"""Where power comes from and goes back to: the legs of the panels, and their bars."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from wirecheck.circuit.circuit import Leg, Protection
from wirecheck.judge.case import Case
from wirecheck.judge.question import question


@question
def legs(case: Case) -> Mapping[str, Leg]:
    """The legs of every panel, by their points."""
    return {leg.point: leg for leg in case.circuit.legs}


def leg_of(case: Case, point: str) -> Leg | None:
    """The leg that a point hangs on with everything closed, as the bus of a subpanel on its feeder's."""
    origin = case.routes.origins.get(case.circuit.node[point])
    return next((leg for leg in case.circuit.legs if origin is not None and leg.name == origin.name), None)


@question
def buses(case: Case) -> frozenset[str]:
    """The points behind the breakers of every panel, the legs of a source among them."""
    return frozenset(panel.on_bus(leg) for panel in case.board.panels.values() for leg in panel.legs)


def is_backfed(case: Case, protection: Protection, pole: int) -> bool:
    """Whether a pole of a breaker brings power to its panel's bus and not from there, as a main's does."""
    bus = case.circuit.node[protection.pairs[pole][0]]
    step = case.routes.steps.get(bus)
    return step is not None and step.of is protection


def bars(case: Case, *roles: Literal["neutral", "ground"]) -> frozenset[str]:
    """The bars of every panel that are for one of these, by name."""
    return frozenset(
        terminal.name
        for terminal in case.board.terminals.values()
        if terminal.owner in case.board.panels and terminal.spec.role in roles
    )
