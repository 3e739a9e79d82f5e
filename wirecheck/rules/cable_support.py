"""A cable is not held near enough to its box, or its supports are too far apart.

A pull on a cable that nothing holds goes straight to the joints in the box.

Source: NEC 334.30, 314.17(B)(2), 320.30, 330.30
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Spot, Words
from wirecheck.judge.rule import rule
from wirecheck.judge.support import Held, held, power_ends
from wirecheck.judge.tape import INCH, longer
from wirecheck.language.quantity import feet, inches
from wirecheck.model.board import Run, RunEnd


class LooseMeasure(Problem):
    """A measure at one end of a cable, in meters, and how the cable is to be held there."""

    run: Run
    end: RunEnd
    measure: float
    held: Held


class FarFirstSupport(LooseMeasure):
    """The first support is too far from the box."""


class WideSpacing(LooseMeasure):
    """The supports are too far apart."""


def find(case: Case) -> Iterator[LooseMeasure]:
    """Each measure by its own words. A measure that was not taken is no mistake."""
    for run, end in power_ends(case):
        rules = held(case, run, end)
        if rules is None:
            continue
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
                at=Spot(end.spans["every"], end),
                about=run,
                severity="violation",
                stage="rough-in",
                run=run,
                end=end,
                measure=end.every,
                held=rules,
            )


def words(problem: LooseMeasure, case: Case) -> Words:
    """What the tape shows, and what it may show at most."""
    run, place, rules = problem.run.name, problem.end.place, problem.held
    wide = isinstance(problem, WideSpacing)
    limit, source = rules.every if wide else rules.within, rules.source
    there, most = inches(problem.measure, beside=limit), inches(limit, beside=problem.measure)
    if wide:
        message = (
            f"The supports of {run} are {there} apart. They may be at most {most} ({feet(limit)}) "
            "apart, so that the cable does not sag."
        )
        remedy = "Add supports along the cable. A bored hole in a stud counts as one."
    else:
        why = ""
        if rules.by_staple_only:
            why = f" {place} is a nonmetallic single-gang box without clamps, so only the staple holds it."
            source = case.code.section("cable at a nonmetallic single-gang box") + f"; {source}"
        message = (
            f"{run} is first held {there} from {place}. It must be held within {most}.{why} A pull "
            "on a loose cable goes to the joints."
        )
        remedy = (
            f"Put a staple within {inches(limit)} of {place}, measured along the cable, and drive it snug, "
            "not tight."
        )
    return Words(
        message=message,
        help=remedy,
        source=source,
        value=problem.measure / INCH,
        limit=limit / INCH,
        unit="in",
    )


RULE = rule(__name__, "rough-in", find=find, words=words)
