"""The neutral of a subpanel is tied to its enclosure or to its grounds.

Neutral and ground meet once, at the service. Where they meet again in a subpanel, the current of its
loads comes home by the neutral and by the ground of the feeder at once: every metal part on the way is
part of the circuit. Where the feeder's neutral opens, all of it goes that way. A bonding screw or strap
that came with the panel is taken out. Where the feeder has no neutral, as that of an old heater, the strap
sends all of the current over the ground, and the remedy is a feeder with one more wire.

Source: NEC 250.24, 250.142(B), 408.40
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.feeders import feeders, grounds
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import amps
from wirecheck.model.board import Conductor, Join, Panel

# Amperes on a ground that no meter's error explains (common practice).
STRAY_AMPS = 0.01


class BondedSubpanel(Problem):
    """A subpanel's neutral is tied to its ground, by its own bond or by the join `by`.

    `ground` is the grounding conductor of its feeder, if it has one, and carries `amps` in `settled`. With
    `alone` the feeder brings no neutral beside it.
    """

    panel: Panel
    by: Join | None
    ground: Conductor | None
    amps: float
    settled: Settled
    alone: bool


def find(case: Case) -> Iterator[BondedSubpanel]:
    """Each subpanel whose two bars are one piece of copper in the panel itself."""
    node = case.circuit.node
    for panel in case.board.subpanels.values():
        bars = f"{panel.name}.neutral", f"{panel.name}.ground"
        by = _strap(case, bars)
        if not panel.bonded and by is None:
            continue
        carrying = max(
            (
                (abs(case.most[one.name].amps[one.name]), one, case.most[one.name])
                for one in grounds(case).get(panel.name, ())
                if one.name in case.most
            ),
            key=lambda one: one[0],
            default=(0.0, next(iter(grounds(case).get(panel.name, ())), None), case.at_rest),
        )
        yield BondedSubpanel(
            at=spot(panel if by is None else by),
            about=panel,
            severity="hazard",
            stage="trim",
            copper=frozenset(
                case.uses.piece[point] for point in node if node[point] in {node[bar] for bar in bars}
            ),
            panel=panel,
            by=by,
            ground=carrying[1],
            amps=carrying[0],
            settled=carrying[2],
            alone=_alone(case, panel),
        )


def _alone(case: Case, panel: Panel) -> bool:
    """Whether no neutral comes to the panel with the hots of its feeder."""
    node = case.circuit.node
    beside = {
        place for hot in feeders(case)[panel.name].hots if panel.name in hot.places for place in hot.places
    }
    return bool(beside) and not any(
        beside == {*one.places}
        and not is_grounding(one)
        and (end := one.end_in(panel.name)) is not None
        and node[end] == node[f"{panel.name}.neutral"]
        for one in case.board.conductors.values()
    )


def _strap(case: Case, bars: tuple[str, str]) -> Join | None:
    """The join that ties the two bars to one another."""
    for join in case.board.joins:
        if {*bars} <= {member.point for member in join.members}:
            return join
    return None


def words(problem: BondedSubpanel, case: Case) -> Words:
    """What ties the two, the current that goes over the ground, and what a meter shows."""
    panel, ground = problem.panel.name, problem.ground
    out = f"Take the bonding screw or strap out of {panel}."
    if problem.by is not None:
        out = f"Take that join out of {panel}."
    follows = "Where its neutral opens, every metal part behind it stands at line voltage."
    meter = ""
    if ground is not None and problem.amps > STRAY_AMPS:
        shows = f"{amps(problem.amps)}{case.when(problem.settled, ground.name)}"
        follows = f"What it feeds comes home over {ground.name} too: a clamp meter around it shows {shows}."
        meter = f" The clamp meter must then show nothing at {ground.name}, whatever runs."
    elif ground is not None:
        follows = f"What it feeds comes home over {ground.name} too, on metal that people touch."
    if problem.alone and ground is not None:
        return Words(
            message=f"The feeder of {panel} brings no neutral, and its neutral bar is tied to its ground: "
            f"all that comes back from its 120 V circuits goes home over {ground.name}. Where that opens, "
            "every metal part behind it stands at line voltage.",
            help=f"Turn {panel} off. Run a feeder with a neutral and a ground of its own to it, and only "
            "then take its strap out: without both, two of its circuits stand in series across both hots.",
            source=case.code.section("neutral and ground meet at the service", "neutral grounds no metal"),
            value=problem.amps if meter else None,
            limit=0.0 if meter else None,
            unit="A" if meter else None,
        )
    return Words(
        message=f"The neutral and the ground of {panel} are tied together, and {panel} is fed from another "
        f"panel. {follows}",
        help=f"{out} Keep its neutrals on one bar and its grounds on another, each with a wire of its own "
        f"back to where {panel} is fed.{meter}",
        source=case.code.section(
            "neutral and ground meet at the service",
            "neutral grounds no metal",
            "grounds have a bar of their own",
        ),
        value=problem.amps if meter else None,
        limit=0.0 if meter else None,
        unit="A" if meter else None,
    )


RULE = rule(__name__, "trim", severities=("hazard",), find=find, words=words)
