"""What is worked out of an exercise: what a student begins with, and what a work is worth, as by `grade`."""

from __future__ import annotations

import os
from collections.abc import Sequence
from itertools import islice
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.inputs import shown_path
from wirecheck.judge.finding import Stage

if TYPE_CHECKING:
    from wirecheck.grading.exercise import Exercise
    from wirecheck.grading.marks import ByEye
    from wirecheck.grading.scoring import Graded
    from wirecheck.grading.sheet import Sheet
    from wirecheck.parts.library import Library, PartFile
    from wirecheck.record import Task

MOST_PARTS = 200
"""The most part files beside an exercise, as for `grade`."""
COSTS = ("hazard", "violation", "fault", "change")
"""The prices that every exercise has."""


class Begun(NamedTuple):
    """An exercise as its page shows it.

    Attributes
    ----------
    title : its title
    stages : what each is worth, in words, by its name
    costs : what mistakes cost, in sentences
    asked : the lines of what the board should do
    start : what a student begins with
    wrong : why it cannot be used; nothing where it can
    """

    title: str
    stages: tuple[tuple[Stage, str], ...] = ()
    costs: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    start: str = ""
    wrong: str = ""


class Work(NamedTuple):
    """A work to be graded by an exercise: whose it is, and the one stage that counts; None is all of them."""

    exercise: bytes
    text: bytes
    name: str
    stage: Stage | None


class Told(NamedTuple):
    """What a work came to, and what was done for the record."""

    graded: Graded
    task: Task


def begun(path: str, text: bytes) -> Begun:
    """What the page of an exercise shows.

    Parameters
    ----------
    path : where it is, beside which its own parts may lie
    text : what is in it
    """
    from wirecheck.grading.exercise import NotAnExercise
    from wirecheck.grading.sheet import points
    from wirecheck.grading.starting import starting

    try:
        given, library, _ = _exercise(path, text)
    except NotAnExercise as error:
        return Begun("", wrong=str(error))
    return Begun(
        given.title,
        tuple((one.stage, f"{points(one.points)} points") for one in given.stages),
        tuple(_cost(name, given.prices[name]) for name in COSTS),
        tuple(one.text for one in given.asked),
        starting(given, library),
    )


def told(path: str, work: Work) -> Told:
    """What a work is worth, with its sheet and its picture, as `grade --pages` has them.

    Raises
    ------
    NotAnExercise
        What is in the exercise's file is none, or has mistakes.
    """
    from wirecheck.grading.judging import Judging
    from wirecheck.grading.scoring import graded
    from wirecheck.page.answers import EFFORT
    from wirecheck.record import Task, exercise_digest

    given, library, parts = _exercise(path, work.exercise)
    judging = Judging(library, work.stage, EFFORT, given.shown, {}, {})
    file = f"{work.name}.wire"
    done = graded(given, work.text, file, work.name, judging)
    task = Task(given.title, exercise_digest(work.exercise, parts), work.stage, EFFORT, (file,))
    return Told(done, task)


def class_sheet(
    path: str,
    text: bytes,
    stage: Stage | None,
    sheets: Sequence[Sheet],
    pages: dict[str, str],
    by_eye: Sequence[ByEye],
) -> str:
    """The page of a class, as `grade --pages` writes it.

    Parameters
    ----------
    stage : the one that counts; all of them, if None
    sheets : of the works. Those of an earlier text of the exercise, worth something else, are left out
    pages : the address of a work's own page, by its file
    """
    from wirecheck.grading.exercise import NotAnExercise
    from wirecheck.grading.pages import class_page
    from wirecheck.grading.whole_class import whole_class
    from wirecheck.page.views import wrong_page
    from wirecheck.rules import manuals

    try:
        given, _, _ = _exercise(path, text)
    except NotAnExercise as error:
        return wrong_page("This exercise has a mistake", f"{error}")
    worth = [(one.stage, one.points) for one in given.stages if stage in (None, one.stage)]
    alike = [one for one in sheets if [(each.stage, each.points) for each in one.stages] == worth]
    return class_page(whole_class(given, alike, manuals()), pages, by_eye)


def _exercise(path: str, text: bytes) -> tuple[Exercise, Library, tuple[tuple[str, PartFile], ...]]:
    """An exercise with its library: the part files beside it, and those that ship."""
    from wirecheck.assembly import shipped_parts
    from wirecheck.grading.exercise import exercise
    from wirecheck.parts.folder import NO_PART, PartFolder
    from wirecheck.parts.library import Library

    folder = PartFolder(os.path.dirname(path), beside=True)
    looked_at = ((name, folder.find(name)) for name in folder.names())
    found = ((name, file) for name, file in looked_at if file is not None and file.unread != NO_PART)
    parts = dict(islice(found, MOST_PARTS))
    library = Library(parts.get, lambda: parts, shipped_parts())
    return exercise(text, shown_path(path), library), library, tuple(parts.items())


def _cost(name: str, price: float | None) -> str:
    from wirecheck.grading.sheet import points

    what = "A change of what was handed out" if name == "change" else f"A {name}"
    if price is None:
        return f"{what} costs all points of its stage."
    return f"{what} costs {points(price)} points." if price else f"{what} costs nothing."
