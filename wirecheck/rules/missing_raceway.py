"""A single wire runs from place to place outside a raceway.

Single wires have no jacket. Only a raceway keeps nails, edges and feet off them. Cable has a
jacket of its own.

Source: NEC 300.3(A)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Raceway, Run

# More wires than this in a message tell a reader nothing.
MOST_NAMED = 3
# Made to lie in the earth or on a wall by themselves: Article 338 holds them for cables.
OF_THEMSELVES = frozenset(("USE", "USE-2"))


class OutsideRaceway(Problem):
    """Wires between the same two places that are in no raceway, or in one that does not join these."""

    runs: tuple[Run, ...]
    raceway: Raceway | None


def find(case: Case) -> Iterator[OutsideRaceway]:
    """The wires of power between two places, those with the same way together."""
    together: dict[tuple[frozenset[str], str | None], list[Run]] = {}
    for run in case.board.runs.values():
        places = frozenset(end.place for end in run.ends)
        if len(places) < 2 or not _needs_raceway(case, run):
            continue
        raceway = case.board.raceways.get(run.raceway or "")
        if raceway is None or places != frozenset(raceway.places):
            together.setdefault((places, run.raceway), []).append(run)
    for runs in together.values():
        yield OutsideRaceway(
            at=spot(runs[0]),
            about=runs[0],
            severity="violation",
            stage="rough-in",
            runs=tuple(runs),
            raceway=case.board.raceways.get(runs[0].raceway or ""),
        )


def _needs_raceway(case: Case, run: Run) -> bool:
    """Whether it is a single wire of power. A ground may run by itself in places (300.3(B)(2))."""
    if run.jacketed or run.kind in OF_THEMSELVES:
        return False
    (conductor,) = run.conductors
    uses = {case.uses.of(end) for end in conductor.ends}
    return purpose.is_power(conductor) and "class-2" not in uses


def words(problem: OutsideRaceway, case: Case) -> Words:
    """Which wires, from where to where, and what they need."""
    runs, raceway = problem.runs, problem.raceway
    names = listed([run.name for run in runs], most=MOST_NAMED)
    one, other = (end.place for end in runs[0].ends)
    several = len(runs) > 1
    what = f"{names} {'are single wires' if several else 'is a single wire'} from {one} to {other}"
    if raceway is None:
        message = f"{what}, in no raceway. {'They have' if several else 'It has'} no jacket against damage."
        remedy = f"Put a raceway between {one} and {other} and write `in` with its name, or run a cable."
    else:
        begin, end = raceway.places
        message = (
            f"{what}, and {raceway.name} runs from {begin} to {end}. It must hold "
            f"{'them' if several else 'it'} all the way."
        )
        remedy = f"Run a raceway from {one} to {other}, or end the wires where {raceway.name} ends."
    return Words(
        message=message,
        help=remedy,
        stands=True,
        source=case.code.section("single conductors are in a raceway"),
        also=tuple(Note(f"{run.name} is beside it", run.span) for run in runs[1:]),
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)
