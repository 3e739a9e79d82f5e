"""A cable or a raceway is not held near enough to its box, or its supports are too far apart.

A pull on a cable that nothing holds goes straight to the joints in the box.

Source: NEC 334.30, 314.17(B)(2), 320.30, 330.30, 342.30, 344.30, 352.30, 358.30
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Spot, Words
from wirecheck.judge.rule import rule
from wirecheck.judge.support import Held, held, held_raceways, power_ends
from wirecheck.judge.tape import INCH, longer
from wirecheck.language.quantity import feet, inches
from wirecheck.model.board import Raceway, Run, RunEnd


class LooseMeasure(Problem):
    """A measure at one end of a cable or a raceway, in meters, and how that is to be held there."""

    run: Run | Raceway
    end: RunEnd
    measure: float
    held: Held


class FarFirstSupport(LooseMeasure):
    """The first support is too far from the box."""


class WideSpacing(LooseMeasure):
    """The supports are too far apart."""


def find(case: Case) -> Iterator[LooseMeasure]:
    """Each measure by its own words. A measure that was not taken is no mistake."""
    ends: list[tuple[Run | Raceway, RunEnd, Held]] = [*_cables(case), *held_raceways(case)]
    for run, end, rules in ends:
        if end.secured is not None and longer(end.secured, rules.within):
            yield FarFirstSupport(
                at=Spot(end.spans["secured"], end),
                about=run,
                severity="violation",
                stage="rough-in",
                run=run,
                end=end,
                measure=end.secured,
                held=rules,
            )
        if end.every is not None and longer(end.every, rules.every):
            yield WideSpacing(
                at=Spot(end.spans["every"], run),
                about=run,
                severity="violation",
                stage="rough-in",
                run=run,
                end=end,
                measure=end.every,
                held=rules,
            )


def _cables(case: Case) -> Iterator[tuple[Run, RunEnd, Held]]:
    """Both ends of every cable that is held by a section of its own."""
    for run, end in power_ends(case):
        if (rules := held(case, run, end)) is not None:
            yield run, end, rules


def words(problem: LooseMeasure, case: Case) -> Words:
    """What the tape shows, and what it may show at most."""
    run, place, rules = problem.run.name, problem.end.place, problem.held
    raceway = isinstance(problem.run, Raceway)
    what = "raceway" if raceway else "cable"
    wide = isinstance(problem, WideSpacing)
    limit, source = rules.every if wide else rules.within, rules.source
    there, most = inches(problem.measure, beside=limit), inches(limit, beside=problem.measure)
    if wide:
        message = (
            f"The supports of {run} are {there} apart. They may be at most {most} ({feet(limit)}) "
            f"apart, so that the {what} does not sag."
        )
        remedy = f"Add supports along the {what}. A bored hole in a stud counts as one."
    else:
        why = ""
        if rules.by_staple_only:
            why = f" {place} is a nonmetallic single-gang box without clamps, so only the staple holds it."
            source = case.code.section("cable at a nonmetallic single-gang box") + f"; {source}"
        message = (
            f"{run} is first held {there} from {place}. It must be held within {most}.{why} A pull "
            f"on a loose {what} goes to {'its connector' if raceway else 'the joints'}."
        )
        hold, how = ("strap", "") if raceway else ("staple", ", and drive it snug, not tight")
        remedy = f"Put a {hold} within {inches(limit)} of {place}, measured along the {what}{how}."
    return Words(
        message=message,
        help=remedy,
        stands=True,
        source=source,
        value=problem.measure / INCH,
        limit=limit / INCH,
        unit="in",
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
