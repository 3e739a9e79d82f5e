"""The breaker ahead of a panel is larger than the rating of its bus.

All that the breakers of a panel carry goes through its bus. Nothing else watches that current than the
main breaker of the panel, or the breaker that its feeder comes from.

Source: NEC 408.36
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Protection
from wirecheck.judge.case import Case
from wirecheck.judge.feeders import feeders
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import amps
from wirecheck.model.board import Panel


class BusTooSmall(Problem):
    """A panel whose bus is rated below `amps`, that of its own main or of the breaker `ahead` of it."""

    panel: Panel
    amps: float
    bus: float
    ahead: Protection | None


def find(case: Case) -> Iterator[BusTooSmall]:
    """Each panel that says what its bus is rated."""
    for panel in case.board.panels.values():
        feeder = feeders(case).get(panel.name)
        protects = feeder.protects if feeder is not None else None
        main = protects.amps if protects is not None else panel.main
        if panel.bus is not None and main is not None and over(main, panel.bus):
            yield BusTooSmall(
                at=spot(panel),
                about=panel,
                severity="violation",
                stage="rough-in",
                copper=frozenset(case.uses.piece[panel.on_bus(leg)] for leg in panel.legs),
                panel=panel,
                amps=main,
                bus=panel.bus,
                ahead=protects if protects is not None and protects.name in case.board.breakers else None,
            )


def words(problem: BusTooSmall, case: Case) -> Words:
    """The two ratings, and the main that would do."""
    panel, bus = problem.panel.name, amps(problem.bus)
    by = "its main breaker" if problem.ahead is None else f"breaker {problem.ahead.name}"
    return Words(
        message=f"The bus of {panel} is rated {bus}, and {by}, which protects it, is {amps(problem.amps)}: "
        "it can burn before that trips.",
        help=f"Put a main breaker of {bus} or less in {panel}, or feed it from one, or put in a panel with a "
        f"bus of {amps(problem.amps)}.",
        source=case.code.section("protection of a panelboard"),
        value=problem.amps,
        limit=problem.bus,
        unit="A",
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
