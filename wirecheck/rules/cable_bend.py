"""A cable is bent more tightly than it may be.

In a tight bend the jacket kinks and the insulation inside is crushed against the wire next to it, where
nobody sees it. The inside of a bend must have a radius of so many diameters of the cable: five for the
common ones. Lay a tape along the inside of the bend for its radius, and across the cable for its diameter:
over the wider side of a flat one. A bend is judged where both are said.

Source: NEC 334.24, 340.24, 338.24, 320.24, 330.24(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Spot, Words
from wirecheck.judge.rule import rule
from wirecheck.judge.support import power_ends
from wirecheck.judge.tape import INCH, shorter
from wirecheck.language.quantity import inches
from wirecheck.model.board import Run, RunEnd
from wirecheck.tables.bends import Bend, bend


class TightBend(Problem):
    """The inside of a bend at one end of a run has a radius below the least, in meters."""

    run: Run
    end: RunEnd
    radius: float
    diameter: float
    limit: Bend

    @property
    def least(self) -> float:
        """The least radius."""
        return self.limit.diameters * self.diameter


def find(case: Case) -> Iterator[TightBend]:
    """Each bend whose radius is said, of a cable whose diameter is said at one end of it or the other."""
    for run, end in power_ends(case):
        limit = bend(run.kind, code=case.code) if run.jacketed else None
        diameter = next((one.diameter for one in (end, *run.ends) if one.diameter is not None), None)
        if limit is None or end.bend is None or diameter is None:
            continue
        if shorter(end.bend, limit.diameters * diameter):
            yield TightBend(
                at=Spot(end.spans["bend"], end),
                about=run,
                severity="violation",
                stage="rough-in",
                copper=frozenset(case.uses.piece[one] for wire in run.conductors for one in wire.ends),
                run=run,
                end=end,
                radius=end.bend,
                diameter=diameter,
                limit=limit,
            )


def words(problem: TightBend, case: Case) -> Words:
    """What the tape shows, and what it should show."""
    least = inches(problem.least, beside=problem.radius)
    return Words(
        message=f"{problem.run.name} is bent to {inches(problem.radius, beside=problem.least)} near "
        f"{problem.end.place}. It is {inches(problem.diameter)} across, and the inside of its bend must have "
        f"{problem.limit.diameters:g} times that, {least} or more, or the insulation is crushed inside.",
        help=f"Ease the bend to a radius of {least} or more. Where the jacket has kinked, run a new cable.",
        source=problem.limit.source,
        value=problem.radius / INCH,
        limit=problem.least / INCH,
        unit="in",
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
