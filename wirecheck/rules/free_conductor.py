"""Too little wire, or too little jacket, is left in a box.

Short wires cannot be made up outside the box: joints are made blind, and whoever changes the
device later has nothing to hold. A jacket that ends outside the box leaves thin insulation against
the edge of the opening.

Source: NEC 300.14, 314.17(B)(2), 334.19
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Spot, Words
from wirecheck.judge.rule import rule
from wirecheck.judge.support import power_ends, sheathed
from wirecheck.judge.tape import INCH, shorter
from wirecheck.language.quantity import inches
from wirecheck.model.board import Run, RunEnd


class ShortMeasure(Problem):
    """A measure at one end of a run and the least that it may be, in meters."""

    run: Run
    end: RunEnd
    measure: float
    least: float


class ShortWire(ShortMeasure):
    """Too little free wire in a box."""


class ShortJacket(ShortMeasure):
    """Too little jacket in a box or a panel."""


def find(case: Case) -> Iterator[ShortMeasure]:
    """Each measure by its own words. A measure that was not taken is no mistake."""
    free, jacket = case.code.limit("free conductor"), case.code.limit("jacket in the box")
    for run, end in power_ends(case):
        # A panel is no outlet, junction or switch point, but a jacket must enter it all the same.
        if end.place not in case.board.panels and end.free is not None and shorter(end.free, free):
            yield ShortWire(
                at=Spot(end.spans["free"], end),
                about=run,
                severity="violation",
                stage="rough-in",
                run=run,
                end=end,
                measure=end.free,
                least=free,
            )
        if sheathed(run) and end.jacket is not None and shorter(end.jacket, jacket):
            yield ShortJacket(
                at=Spot(end.spans["jacket"], end),
                about=run,
                severity="violation",
                stage="rough-in",
                run=run,
                end=end,
                measure=end.jacket,
                least=jacket,
            )


def words(problem: ShortMeasure, case: Case) -> Words:
    """What the tape shows, and what it should show."""
    run, place = problem.run.name, problem.end.place
    there = inches(problem.measure, beside=problem.least)
    least = inches(problem.least, beside=problem.measure)
    if isinstance(problem, ShortWire):
        outside = inches(case.code.limit("free conductor outside the opening"))
        opening = inches(case.code.limit("small opening"))
        message = (
            f"{run} has {there} of free wire in {place}. It needs at least {least}, measured from where the "
            "wire leaves the jacket. Shorter wires cannot be made up outside the box."
        )
        remedy = (
            f"Pull more cable into {place}, or run a new one. Where the opening is smaller than {opening}, "
            f"the wire must also reach {outside} out of it."
        )
        source = case.code.section("free conductor")
    else:
        message = (
            f"The jacket of {run} comes {there} into {place}. At least {least} must come in, past any "
            "clamp, so that no edge rubs on the wires."
        )
        remedy = "Push the cable in until its jacket shows inside the box, then fasten it again."
        source = case.code.section("jacket in the box")
    return Words(
        message=message,
        help=remedy,
        stands=True,
        source=source,
        value=problem.measure / INCH,
        limit=problem.least / INCH,
        unit="in",
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
