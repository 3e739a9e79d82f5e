"""What a class did: its scores, which mistake was made how often and by whom, and what to teach again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from wirecheck.grading.exercise import Exercise
from wirecheck.grading.marks import alike
from wirecheck.grading.sheet import Sheet, points
from wirecheck.judge.finding import Stage
from wirecheck.judge.rule import Manual
from wirecheck.language.listing import listed

BINS = 10
"""The parts into which the points are divided for the plot."""


class Common(NamedTuple):
    """A mistake of some students: `points` is what it took from all of them."""

    mistake: str
    rule: str
    students: tuple[str, ...]
    points: float


class Lesson(NamedTuple):
    """What to teach again: a rule, what it is about, and who broke it."""

    rule: str
    summary: str
    students: tuple[str, ...]
    mistakes: int


class Alike(NamedTuple):
    """Works that say the same, and what they have in common that a right work need not have."""

    students: tuple[str, ...]
    shared: tuple[str, ...]


class OneName(NamedTuple):
    """Several works that say that they are of one student."""

    student: str
    files: tuple[str, ...]


class StageMean(NamedTuple):
    """How a class did at a stage."""

    stage: Stage
    points: float
    mean: float
    full: int


class WholeClass(NamedTuple):
    """A class's works by one exercise.

    Attributes
    ----------
    sheets : one for each work, in the order in which they were given
    stages : how the class did at each
    mean, median : of the scores of all works
    bins : how many works have so many tenths of the points: the last takes those that have all
    common : the mistakes, those of most students first
    lessons : the rules, those that most students broke first
    alike : near copies, to be looked at: no verdict
    one_name : the works that share a student's name, of whom one may have written another's
    """

    exercise: str
    points: float
    sheets: tuple[Sheet, ...]
    stages: tuple[StageMean, ...]
    mean: float
    median: float
    bins: tuple[int, ...]
    common: tuple[Common, ...]
    lessons: tuple[Lesson, ...]
    alike: tuple[Alike, ...]
    one_name: tuple[OneName, ...]


def whole_class(exercise: Exercise, sheets: Iterable[Sheet], manuals: Mapping[str, Manual]) -> WholeClass:
    """What a class did.

    Parameters
    ----------
    sheets : of its works by the exercise
    manuals : what each rule is about

    Examples
    --------
    >>> from wirecheck.grading.exercise import exercise
    >>> from wirecheck.grading.sheet import StageScore
    >>> shed = exercise('exercise "Shed"\\nstage final 40 points')
    >>> scores = [StageScore("final", 40, score, False) for score in (40, 30, 5)]
    >>> done = whole_class(shed, [Sheet("", "", "Shed", (one,)) for one in scores], {})
    >>> done.mean, done.median, done.bins
    (25.0, 30, (0, 1, 0, 0, 0, 0, 0, 1, 0, 1))
    """
    from statistics import fmean, median

    listed_sheets = tuple(sheets)
    scores = [one.score for one in listed_sheets]
    whole = listed_sheets[0].points if listed_sheets else exercise.points
    bins = [0] * BINS
    for score in scores:
        bins[min(int(score / whole * BINS), BINS - 1)] += 1
    return WholeClass(
        exercise.title,
        whole,
        listed_sheets,
        tuple(_stages(listed_sheets)),
        fmean(scores) if scores else 0.0,
        median(scores) if scores else 0.0,
        tuple(bins),
        tuple(_common(listed_sheets)),
        tuple(_lessons(listed_sheets, manuals)),
        tuple(_alike(listed_sheets)),
        tuple(_one_name(listed_sheets)),
    )


def _stages(sheets: Sequence[Sheet]) -> list[StageMean]:
    found: dict[Stage, list[float]] = {}
    worth: dict[Stage, float] = {}
    for sheet in sheets:
        for one in sheet.stages:
            found.setdefault(one.stage, []).append(one.score)
            worth[one.stage] = one.points
    return [
        StageMean(stage, worth[stage], sum(scores) / len(scores), scores.count(worth[stage]))
        for stage, scores in found.items()
    ]


def _common(sheets: Sequence[Sheet]) -> list[Common]:
    """The mistakes, each with who made it, those of most first."""
    who: dict[tuple[str, str], dict[str, None]] = {}
    cost: dict[tuple[str, str], float] = {}
    for sheet in sheets:
        for one in sheet.taken:
            key = (one.rule, one.mistake)
            who.setdefault(key, {})[sheet.student] = None
            cost[key] = cost.get(key, 0.0) + one.points
    found = [Common(key[1], key[0], tuple(students), cost[key]) for key, students in who.items()]
    return sorted(found, key=lambda one: (-len(one.students), -one.points, one.rule, one.mistake))


def _lessons(sheets: Sequence[Sheet], manuals: Mapping[str, Manual]) -> list[Lesson]:
    who: dict[str, dict[str, None]] = {}
    count: dict[str, int] = {}
    for sheet in sheets:
        for one in sheet.taken:
            if one.rule in manuals:
                who.setdefault(one.rule, {})[sheet.student] = None
                count[one.rule] = count.get(one.rule, 0) + 1
    found = [
        Lesson(rule, manuals[rule].summary, tuple(students), count[rule]) for rule, students in who.items()
    ]
    return sorted(found, key=lambda one: (-len(one.students), -one.mistakes, one.rule))


def _alike(sheets: Sequence[Sheet]) -> list[Alike]:
    """Works that say the same, where they share more than that they are right."""
    groups: dict[str, list[Sheet]] = {}
    for sheet in sheets:
        if sheet.trace.same:
            groups.setdefault(sheet.trace.same, []).append(sheet)
    found = []
    for group in groups.values():
        shared = _shared(group)
        if len(group) > 1 and shared:
            found.append(Alike(tuple(one.student for one in group), tuple(shared)))
    return sorted(found, key=lambda one: (-len(one.shared), -len(one.students), one.students))


def _one_name(sheets: Sequence[Sheet]) -> list[OneName]:
    found: dict[str, list[Sheet]] = {}
    for sheet in sheets:
        found.setdefault(alike(sheet.student), []).append(sheet)
    return [
        OneName(group[0].student, tuple(one.file for one in group))
        for group in found.values()
        if len(group) > 1
    ]


def _shared(group: Sequence[Sheet]) -> list[str]:
    first = group[0]
    shared = [f"the mistake: {one.mistake}" for one in first.taken]
    comments = [
        comment for comment in first.trace.comments if all(comment in one.trace.comments for one in group)
    ]
    if comments:
        shared.append(f"the comments: {'; '.join(comments)}")
    if first.trace.names and all(one.trace.names == first.trace.names for one in group):
        shared.append(f"names of their own: {listed(first.trace.names)}")
    return shared


def in_a_line(sheet: Sheet) -> str:
    """A work in one line: each stage, and the whole.

    >>> from wirecheck.grading.sheet import StageScore
    >>> in_a_line(Sheet("", "", "", (StageScore("trim", 30, 25, False), StageScore("final", 70, 70, False))))
    'trim 25/30, final 70/70: 95 of 100'
    """
    stages = ", ".join(f"{one.stage} {points(one.score)}/{points(one.points)}" for one in sheet.stages)
    return f"{stages}: {points(sheet.score)} of {points(sheet.points)}"
