"""What is reported of all that the rules see: a problem that follows from another goes under it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wirecheck.causes.table import TABLE
from wirecheck.circuit.work import WorkEnds
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import Problem


def causes(problems: Sequence[Problem], case: Case) -> tuple[Problem | None, ...]:
    """For each problem the first one that it follows from, by the table; None where it stands by itself.

    A cause may itself follow from another: then both are hidden by what they come from.
    """
    kinds = grouped((type(problem), problem) for problem in problems)
    return tuple(_cause(problem, kinds, case) for problem in problems)


def _cause(problem: Problem, kinds: Mapping[type[Problem], Sequence[Problem]], case: Case) -> Problem | None:
    """The first that a problem follows from; None too where the work ends before it is found."""
    try:
        for row in TABLE:
            if row.effect is type(problem):
                for cause in kinds.get(row.cause, ()):
                    case.work.spend(1)
                    if cause is not problem and row.related(cause, problem, case):
                        return cause
    except WorkEnds:
        case.leave("causes")
    return None
