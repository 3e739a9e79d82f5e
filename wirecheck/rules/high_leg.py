"""A circuit of one pole, or a panel that is not made for it, hangs on the high leg of a delta.

Where one winding of a delta has its middle grounded, two legs have 120 V to the neutral and the third, the
high leg, has 208 V. Between any two there are 240 V. So breakers of one pole stay off every third space of
such a panel: what is made for 120 V burns out there. The high leg is the middle one of the three in every
panel, and its wires are orange, so that nobody takes it for another.

Source: NEC 110.15, 240.85, 408.3(E)(1)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.routes import Zone
from wirecheck.judge.case import Case
from wirecheck.judge.feeders import feeders
from wirecheck.judge.limit import over
from wirecheck.judge.made_up import at_screw, join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import volts
from wirecheck.model.board import Breaker, Panel

# Between the volts of the two kinds of legs, as a part of the lower (1.73 to 1).
HIGH = 1.4
# What takes so much more than its volts is made for these (common practice).
TAKES = 1.15


class HighLegElsewhere(Problem):
    """The high leg, `leg`, comes to a lug of a subpanel that is made for less; it has `present` volts."""

    panel: Panel
    lug: str
    leg: str
    present: float


class OnHighLeg(Problem):
    """A breaker of one pole on the high leg of its panel, with a wire on it, at `present` volts."""

    panel: Panel
    breaker: Breaker
    leg: str
    present: float


def find(case: Case) -> Iterator[HighLegElsewhere | OnHighLeg]:
    """Each subpanel with the high leg at a lug that is for another; each breaker of one pole on it."""
    for feeder in feeders(case).values():
        panel = feeder.panel
        for leg, source in feeder.legs.items():
            if source is not None and abs(source.volts) > HIGH * abs(panel.legs[leg]):
                lug = panel.lug(leg)
                yield HighLegElsewhere(
                    at=at_screw(case, case.board.terminals[lug]),
                    about=panel,
                    severity="hazard",
                    stage="trim",
                    copper=frozenset(case.uses.piece[panel.lug(each)] for each in panel.legs),
                    panel=panel,
                    lug=lug,
                    leg=source.name,
                    present=abs(source.volts),
                )
    yield from _breakers(case)


def _breakers(case: Case) -> Iterator[OnHighLeg]:
    for breaker in case.board.breakers.values():
        panel = case.board.panels[breaker.panel]
        (screw, leg), *others = breaker.poles
        present = abs(panel.legs[leg])
        if others or leg in _low(panel) or join_at(case, screw) is None:
            continue
        zones = [zone for zone in case.zones if zone.protection.name == breaker.name]
        made = [one for zone in zones for one in _made_for(zone)]
        if not made or any(over(present, TAKES * one) for one in made):
            yield OnHighLeg(
                at=spot(breaker),
                about=breaker,
                severity="hazard",
                stage="rough-in",
                copper=frozenset((case.uses.piece[screw],)),
                panel=panel,
                breaker=breaker,
                leg=leg,
                present=present,
            )


def _low(panel: Panel) -> list[str]:
    """The legs of a panel that are not the high one."""
    least = min(map(abs, panel.legs.values()))
    return [leg for leg, there in panel.legs.items() if abs(there) <= HIGH * least]


def _made_for(zone: Zone) -> Iterator[float]:
    """The volts that what hangs on a breaker is made for."""
    yield from (load.volts for load in zone.loads)
    yield from (outlet.volts for outlet in zone.outlets)
    yield from (winding.primary_volts for winding in zone.windings)


def words(problem: HighLegElsewhere | OnHighLeg, case: Case) -> Words:
    """Which leg it is, what it has to the neutral, and where to go."""
    panel = problem.panel
    low = _low(panel)
    if isinstance(problem, OnHighLeg):
        return Words(
            message=f"{problem.breaker.name} has one pole, and is on leg {problem.leg}, the high leg of "
            f"{panel.name}. Between it and the neutral there are {volts(problem.present)}.",
            help=f"Move it to a space on leg {' or '.join(low)}. Every third space is for breakers of two "
            "and three poles alone.",
            source=case.code.section("order of the legs in a panel", "breakers suit the volts of their leg"),
            value=problem.present,
            limit=min(map(abs, panel.legs.values())),
            unit="V",
        )
    high = [panel.lug(leg) for leg in panel.legs if leg not in low]
    return Words(
        message=f"{problem.lug} is on {problem.leg}, the high leg: it has {volts(problem.present)} to the "
        f"neutral, and what hangs on it in {panel.name} is made for 120 V.",
        help=f"Bring the high leg to {' or '.join(high)}, in orange, and the other two to the lugs beside it."
        if high
        else f"Feed {panel.name} from the two legs that have 120 V to the neutral.",
        source=case.code.section("high leg is orange", "order of the legs in a panel"),
        value=problem.present,
        limit=abs(panel.legs[next(leg for leg in panel.legs if panel.lug(leg) == problem.lug)]),
        unit="V",
    )


RULE = rule(__name__, "rough-in", "trim", severities=("hazard",), find=find, words=words)
