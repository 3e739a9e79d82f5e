"""A student's marks: what the newest attempt at each stage came to, and beside it what was judged by eye."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from wirecheck.grading.sheet import Sheet, StageScore
from wirecheck.judge.finding import STAGES, Stage

_SPACES = re.compile(r"\s+")


class Attempt(NamedTuple):
    """A work that was graded once.

    Attributes
    ----------
    run : the number of the run that graded it
    at : when, in UTC
    version : of wirecheck
    exercise_digest : of what it was graded by
    stage : the one that was asked for; None is all of them
    effort : with how much it was looked for the fewest mistakes
    file, digest : the work, and the digest of its bytes
    sheet : what it came to
    """

    run: int
    at: str
    version: str
    exercise_digest: str
    stage: Stage | None
    effort: int
    file: str
    digest: str
    sheet: Sheet


class ByEye(NamedTuple):
    """A stage that the instructor judged by eye, and the note that she made of it."""

    at: str
    student: str
    exercise: str
    stage: Stage
    points: float
    note: str


class Scored(NamedTuple):
    """What one attempt came to at one stage."""

    at: str
    student: str
    exercise: str
    file: str
    score: StageScore


class Mark(NamedTuple):
    """A student's stage: the newest attempt at it, if any, and what was judged by eye, the newest last."""

    student: str
    exercise: str
    stage: Stage
    scored: Scored | None
    by_eye: tuple[ByEye, ...] = ()

    @property
    def counts(self) -> float | None:
        """What counts: the newest that was judged by eye, or else what wirecheck has."""
        if self.by_eye:
            return self.by_eye[-1].points
        return self.scored.score.score if self.scored else None


def alike(name: str) -> str:
    """A name whatever its capitals and spaces are: two that differ in nothing else are of one student.

    >>> alike(" Ana  Ruiz") == alike("ana ruiz")
    True
    """
    return _SPACES.sub(" ", name).strip().casefold()


def marks(scored: Iterable[Scored], by_eye: Iterable[ByEye] = ()) -> tuple[Mark, ...]:
    """The marks of all students, in order of their names, the exercises and the stages.

    Parameters
    ----------
    scored, by_eye : both in the order in which they came

    Examples
    --------
    >>> score = StageScore("trim", 30, 20, False)
    >>> tool = Scored("2026-01-05T08:00:00Z", "Ana", "Shed", "ana.wire", score)
    >>> eye = ByEye("2026-01-05T09:00:00Z", "ana", "Shed", "trim", 25, "neat work")
    >>> [(mark.student, mark.scored.score.score, mark.counts) for mark in marks([tool], [eye])]
    [('Ana', 20, 25)]
    """
    found: dict[tuple[str, str, Stage], Mark] = {}
    for one in scored:
        key = (alike(one.student), alike(one.exercise), one.score.stage)
        found[key] = Mark(one.student, one.exercise, one.score.stage, one)
    for entry in by_eye:
        key = (alike(entry.student), alike(entry.exercise), entry.stage)
        mark = found.get(key) or Mark(entry.student, entry.exercise, entry.stage, None)
        found[key] = mark._replace(by_eye=(*mark.by_eye, entry))
    order = sorted(found, key=lambda key: (key[0], key[1], STAGES.index(key[2])))
    return tuple(found[key] for key in order)
