"""What feeds each subpanel: the breaker or fuse ahead of it, its own main, and the wires between them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Leg, Protection, Wire
from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.guards import holder
from wirecheck.judge.question import question
from wirecheck.judge.source import leg_of
from wirecheck.model.board import Breaker, Conductor, Panel


class Feeder(NamedTuple):
    """The feeder of one subpanel.

    `legs` gives each of its legs the one of a source that it hangs on, or None. `ahead` is the protection
    of another panel or of a disconnect that all of it is behind, `main` that of the panel itself, which
    may be a breaker that is fed backward. `hots` are the wires between the two.
    """

    panel: Panel
    legs: Mapping[str, Leg | None]
    ahead: Protection | None
    main: Protection | None
    hots: tuple[Conductor, ...]

    @property
    def fed(self) -> bool:
        """Whether any leg comes to the panel."""
        return any(self.legs.values())

    @property
    def protects(self) -> Protection | None:
        """What of the two protects the bus: the smaller."""
        there = [one for one in (self.main, self.ahead) if one is not None]
        return min(there, key=lambda one: one.amps, default=None)


@question
def feeders(case: Case) -> Mapping[str, Feeder]:
    """The feeder of each subpanel, by the panel's name."""
    return {name: _feeder(case, panel) for name, panel in case.board.subpanels.items()}


def _feeder(case: Case, panel: Panel) -> Feeder:
    ahead = main = None
    hots: dict[str, Conductor] = {}
    for leg in panel.legs:
        for step in reversed(case.routes.back(case.circuit.node[panel.on_bus(leg)])):
            if isinstance(step.of, Wire):
                hots[step.name] = step.of.conductor
            elif isinstance(step.of, Protection):
                held = holder(case, step.of)
                if not isinstance(held, Breaker) or held.panel != panel.name:
                    ahead = ahead or step.of
                    break
                main = main or step.of
    legs = {leg: leg_of(case, panel.on_bus(leg)) for leg in panel.legs}
    return Feeder(panel, legs, ahead, main, tuple(hots.values()))


@question
def grounds(case: Case) -> Mapping[str, tuple[Conductor, ...]]:
    """The grounding conductors that come to each subpanel from a place whose ground is not its own."""
    board, told = case.board, dict[str, list[Conductor]]()
    for conductor in board.conductors.values():
        if not purpose.is_grounding(conductor):
            continue
        for place, end in zip(conductor.places, conductor.ends, strict=True):
            bar = f"{place}.ground"
            if place in board.subpanels and case.circuit.node[end] == case.circuit.node[bar]:
                other = next((one for one in conductor.places if one != place), place)
                if other in board.panels:
                    told.setdefault(place, []).append(conductor)
    return {place: tuple(conductors) for place, conductors in told.items()}
