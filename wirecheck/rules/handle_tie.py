"""A handle tie joins two breakers that are not side by side, and reaches neither.

A listed tie is a clip or a pin over the handles of breakers that are next to each other. Past another
breaker, or to the other side of the panel, there is none: the two handles are as good as loose.

Source: common practice
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.multiwire import handles
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.side_by_side import side_by_side
from wirecheck.model.board import Breaker


class OutOfReach(Problem):
    """`breaker` is said to be tied to `other`, and no breaker tied to both fills the space between."""

    breaker: Breaker
    other: Breaker


def find(case: Case) -> Iterator[OutOfReach]:
    """Each tie of which the breakers, with those that the same tie takes, do not lie in one row."""
    breakers, together = case.board.breakers, handles(case)
    tied = grouped((together[name], breaker) for name, breaker in breakers.items())
    for one, other in case.board.handle_ties:
        if not side_by_side(tied[together[one]]):
            breaker = breakers[one]
            yield OutOfReach(
                at=spot(breaker),
                about=breaker,
                severity="violation",
                stage="rough-in",
                breaker=breaker,
                other=breakers[other],
            )


def words(problem: OutOfReach, case: Case) -> Words:
    """Which two, and where a tie would reach."""
    one, other = problem.breaker, problem.other
    if one.panel != other.panel:
        message = f"{one.name} and {other.name} are said to be tied, and they are in two panels."
    else:
        message = f"{one.name} and {other.name} are said to be tied, and they are not side by side."
    return Words(
        message=f"{message} A handle tie reaches no farther than the next one of the same side.",
        help=f"Move {one.name} to the space beside {other.name}, if its leg is the right one. Tie it there.",
        stands=True,
        source="common practice",
        also=(Note(f"{other.name} is the other", other.span),),
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
