"""A wire and the raceway that it is in cannot be as long as the board says.

A wire that is shorter than its raceway does not come out of it. One that is much longer is most often a slip
in the number: it is then cut too long, and its drop of voltage is worked out for a way that is not there.

Source: common practice: what is pulled is as long as its raceway, and the few feet to make up at each end
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.tape import INCH, longer, shorter
from wirecheck.language.listing import listed
from wirecheck.language.quantity import feet
from wirecheck.model.board import Raceway, Run

FOOT = 12 * INCH
# What is left at the two ends to make up, at most, as a panel's wires go around in it (common practice); and
# the share of a long raceway by which it may be measured short.
MADE_UP = 10 * FOOT
SHARE = 0.25
# More wires than this in a message tell a reader nothing.
MOST_NAMED = 4


class OtherLength(Problem):
    """`runs` are in `raceway` from end to end, and not as long as it."""

    runs: tuple[Run, ...]
    raceway: Raceway


class TooShort(OtherLength):
    """They do not reach from end to end."""


class MuchLonger(OtherLength):
    """They are longer by more than is made up at its ends."""


def find(case: Case) -> Iterator[OtherLength]:
    """Each raceway whose wires, or some of them, are of another length; its own line where all are."""
    for raceway in case.board.raceways.values():
        inside = [run for name in raceway.runs if _joins(run := case.board.runs[name], raceway)]
        short = tuple(run for run in inside if shorter(run.length, raceway.length))
        most = raceway.length + max(MADE_UP, SHARE * raceway.length)
        # A cable may have a raceway for a part of its way.
        long = tuple(run for run in inside if not run.jacketed and longer(run.length, most))
        for kind, runs in ((TooShort, short), (MuchLonger, long)):
            if runs:
                thing = raceway if 1 < len(runs) == len(inside) else runs[0]
                yield kind(
                    at=spot(thing),
                    about=thing,
                    severity="fault" if kind is TooShort else "advice",
                    stage="rough-in",
                    copper=frozenset(
                        case.uses.piece[end] for run in runs for one in run.conductors for end in one.ends
                    ),
                    runs=runs,
                    raceway=raceway,
                )


def _joins(run: Run, raceway: Raceway) -> bool:
    """Whether a run has its ends where the raceway has them."""
    return {end.place for end in run.ends} == set(raceway.places)


def words(problem: OtherLength, case: Case) -> Words:
    """Both lengths, and what to measure."""
    runs, raceway, short = problem.runs, problem.raceway, isinstance(problem, TooShort)
    several = len(runs) > 1
    lengths = sorted({run.length for run in runs})
    which = listed([run.name for run in runs], most=MOST_NAMED)
    how_long = feet(lengths[0]) if len(lengths) == 1 else f"{feet(lengths[0])} to {feet(lengths[-1])}"
    message = (
        f"{which} {'are' if several else 'is'} {how_long} long, and {'their' if several else 'its'} raceway "
        f"{raceway.name} is {feet(raceway.length)}."
    )
    if short:
        begin, end = raceway.places
        message += f" {'They do' if several else 'It does'} not reach from {begin} to {end}."
        remedy = (
            "Measure again. What is too short comes out, and one piece is pulled in its place: a splice does "
            "not belong in a raceway."
        )
    else:
        message += " A few feet are made up at each end, and no more."
        remedy = "Look for a slip in one of the two numbers."
    return Words(
        message=message,
        help=remedy,
        stands=True,
        source="common practice: as long as the raceway, and the few feet to make up at each end",
        value=lengths[0] / FOOT if short else None,
        limit=raceway.length / FOOT if short else None,
        unit="ft" if short else None,
        also=tuple(_notes(problem)),
    )


def _notes(problem: OtherLength) -> Iterator[Note]:
    """The other lines of it, each with its length."""
    things: tuple[Raceway | Run, ...] = (problem.raceway, *problem.runs)
    for thing in things:
        if thing is not problem.about:
            yield Note(f"{thing.name} is {feet(thing.length)}", thing.span)


RULE = rule(__name__, "rough-in", severities=("fault", "advice"), find=find, words=words)
