"""How full a raceway is, and which size would hold what is in it."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.limit import over
from wirecheck.judge.tape import INCH, longer
from wirecheck.model.board import Conductor, Raceway
from wirecheck.tables.published import NotInTable, mixed
from wirecheck.tables.raceways import Fill, conductor_area, raceway_fill, raceway_sizes


def conductors_in(case: Case, raceway: Raceway) -> tuple[Conductor, ...]:
    """The conductors in a raceway."""
    return tuple(conductor for run in raceway.runs for conductor in case.board.runs[run].conductors)


def filling(case: Case, raceway: Raceway, size: float | None = None) -> Fill:
    """How full a raceway is, or would be in another trade size, in meters.

    Raises
    ------
    NotInTable
        For a kind or a size of raceway, or for a conductor, that the tables do not hold.
    """
    return raceway_fill(
        raceway.kind,
        raceway.size if size is None else size,
        [(_insulation(one), one.size) for one in conductors_in(case, raceway)],
        not longer(raceway.length, case.code.limit("nipple")),
        code=case.code,
    )


def is_over(fill: Fill) -> bool:
    """Whether more is in a raceway than it may hold."""
    return over(fill.area, fill.allowed)


def size_that_holds(case: Case, raceway: Raceway) -> str | None:
    """The smallest trade size of the same kind, in inches, that holds what is in a raceway."""
    for size in raceway_sizes(raceway.kind, code=case.code):
        if not is_over(filling(case, raceway, mixed(size) * INCH)):
            return size
    return None


def uncounted(case: Case, raceway: Raceway) -> Conductor | None:
    """The first conductor in a raceway whose area no table has."""
    for conductor in conductors_in(case, raceway):
        try:
            conductor_area(_insulation(conductor), conductor.size, code=case.code)
        except NotInTable:
            return conductor
    return None


def _insulation(conductor: Conductor) -> str:
    """What the table of areas calls it."""
    return "bare" if conductor.color == "bare" else conductor.insulation
