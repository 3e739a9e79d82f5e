"""What holds wires together on their way from one place to another: a raceway, or a cable by itself.

A raceway's runs are one bundle, whatever cables they are. Single wires outside of a raceway that go
between the same two places are taken as lying side by side. Class 2 wires are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.model.board import Board, Conductor, Raceway, Run


class Lying(NamedTuple):
    """A conductor in a bundle: `sense` is 1 where it leads from the first end to the other, else -1."""

    conductor: Conductor
    sense: int


class Bundle(NamedTuple):
    """`of` is the raceway or the cable, or the first of some wires that lie side by side in none."""

    of: Raceway | Run
    places: tuple[str, str]
    lying: tuple[Lying, ...]

    @property
    def name(self) -> str:
        """How the board calls it."""
        return self.of.name


@question
def bundles(case: Case) -> tuple[Bundle, ...]:
    """Every bundle that leads from one place to another, with its power and grounding conductors."""
    return tuple(bundle for bundle in _bundles(case) if bundle.lying and len({*bundle.places}) > 1)


def _bundles(case: Case) -> Iterator[Bundle]:
    board = case.board
    for raceway in board.raceways.values():
        runs = [board.runs[name] for name in raceway.runs]
        yield Bundle(raceway, raceway.places, tuple(_lying(case, raceway.places, runs)))
    single: dict[frozenset[str], list[Run]] = {}
    for run in board.runs.values():
        places = _places(run)
        if run.raceway is None and run.jacketed:
            yield Bundle(run, places, tuple(_lying(case, places, [run])))
        elif run.raceway is None:
            single.setdefault(frozenset(places), []).append(run)
    for beside in single.values():
        places = _places(beside[0])
        yield Bundle(beside[0], places, tuple(_lying(case, places, beside)))


def _places(run: Run) -> tuple[str, str]:
    return run.ends[0].place, run.ends[1].place


def _lying(case: Case, places: tuple[str, str], runs: Iterable[Run]) -> Iterator[Lying]:
    for run in runs:
        first, second = _places(run)
        # A raceway may begin or end on the way of what is in it: one end in common says which way it goes.
        sense = -1 if first == places[1] or second == places[0] else 1
        for conductor in run.conductors:
            if not purpose.is_class_2(conductor) and case.uses.of(conductor.ends[0]) != "class-2":
                yield Lying(conductor, sense)


@question
def bundle_of(case: Case) -> dict[str, Bundle]:
    """The bundle that each power and grounding conductor lies in, by the conductor's name."""
    return {one.conductor.name: bundle for bundle in bundles(case) for one in bundle.lying}


@question
def in_loops(case: Case) -> tuple[Bundle, ...]:
    """The bundles beside which there may be another way home, by other bundles.

    All others are the only tie between what lies before them and what lies behind: whatever goes out
    in such a bundle comes back in it. The sources of a board count as one place, since earth ties them.
    """
    ties: dict[tuple[str, frozenset[str]], None] = {}
    for bundle in bundles(case):
        for one in bundle.lying:
            ties[bundle.name, frozenset(_spot(case.board, place) for place in one.conductor.places)] = None
    at: dict[str, set[tuple[str, frozenset[str]]]] = {}
    for tie in ties:
        for place in tie[1]:
            at.setdefault(place, set()).add(tie)
    # What hangs on by one tie alone is taken off, again and again: the rest lies in loops or between them.
    waiting = [place for place, there in at.items() if len(there) == 1]
    for place in waiting:
        for tie in tuple(at[place]):
            for end in tie[1]:
                at[end].discard(tie)
                if len(at[end]) == 1:
                    waiting.append(end)
    left = {name for there in at.values() for name, _ in there}
    return tuple(bundle for bundle in bundles(case) if bundle.name in left)


def _spot(board: Board, place: str) -> str:
    return "" if place in board.panels and not board.panels[place].fed else place
