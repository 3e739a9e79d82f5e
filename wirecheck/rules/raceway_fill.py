"""More wire is in a raceway than it may hold.

Wires that fill a conduit are skinned as they are pulled in, and cannot get rid of their heat.

Source: NEC Chapter 9 Table 1, Table 4, Table 5
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.raceway import conductors_in, filling, is_over, size_that_holds, uncounted
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.language.listing import listed
from wirecheck.language.quantity import percent, rounded
from wirecheck.model.board import Conductor, Raceway, Run
from wirecheck.tables.published import NotInTable
from wirecheck.tables.raceways import SQUARE_INCH, Fill, raceway_sizes

# More runs than this in a message tell a reader nothing.
MOST_NAMED = 6


class UnknownFill(Problem):
    """A raceway whose fill no table tells, for a conductor in it, or for its own kind and size (None)."""

    raceway: Raceway
    conductor: Conductor | None


class Overfilled(Problem):
    """A raceway with too much in it."""

    raceway: Raceway
    runs: tuple[Run, ...]
    fill: Fill


def find(case: Case) -> Iterator[UnknownFill | Overfilled]:
    """Each raceway by its own line."""
    for raceway in case.board.raceways.values():
        runs = tuple(case.board.runs[name] for name in raceway.runs)
        # A cable counts by its own outside measure, which a board does not give: no number, no finding.
        if not runs or any(run.jacketed for run in runs):
            continue
        try:
            fill = filling(case, raceway)
        except NotInTable:
            yield UnknownFill(
                at=spot(raceway),
                about=raceway,
                severity="advice",
                stage="rough-in",
                raceway=raceway,
                conductor=uncounted(case, raceway),
            )
            continue
        if is_over(fill):
            yield Overfilled(
                at=spot(raceway),
                about=raceway,
                severity="violation",
                stage="rough-in",
                raceway=raceway,
                runs=runs,
                fill=fill,
            )


def words(problem: UnknownFill | Overfilled, case: Case) -> Words:
    """How full it is, how full it may be, and the size that would do."""
    match problem:
        case UnknownFill(raceway=raceway, conductor=conductor):
            sizes = raceway_sizes(raceway.kind, code=case.code)
            if conductor is not None:
                what = f"of {gauge(conductor.size)} {conductor.insulation} wire"
            else:
                what = f"of {raceway.size_text} {raceway.kind}"
            return Words(
                message=f"How full {raceway.name} is was not checked: the tables here do not have the area "
                f"{what}.",
                help="Look the area up yourself, or use what the tables have."
                + (f" {raceway.kind} comes in {listed(sizes)} in." if sizes and conductor is None else ""),
                source=case.code.section("areas of raceways", "areas of conductors"),
            )
        case Overfilled(raceway=raceway, fill=fill, runs=runs):
            count = len(conductors_in(case, raceway))
            size = size_that_holds(case, raceway)
            return Words(
                message=f"{raceway.name} is {percent(fill.fraction, beside=fill.limit)} full. Its {count} "
                f"{'wires take' if count > 1 else 'wire takes'} {_square(fill.area)}, and "
                f"{_square(fill.allowed)} may be filled: {percent(fill.limit)} of "
                f"{raceway.size_text} {raceway.kind}. Wires get skinned when they are pulled in, and run "
                "hot.",
                help="Use a larger raceway, or a second one."
                + (f" {size} in {raceway.kind} holds them." if size is not None else ""),
                source=case.code.section("raceway fill", "areas of raceways", "areas of conductors"),
                value=100 * fill.fraction,
                limit=100 * fill.limit,
                unit="%",
                also=tuple(Note(f"{run.name} runs in it", run.span) for run in runs[:MOST_NAMED]),
            )


def _square(surface: float) -> str:
    return f"{rounded(surface / SQUARE_INCH)} sq in"


RULE = rule(__name__, "rough-in", severities=("violation", "advice"), find=find, words=words)
