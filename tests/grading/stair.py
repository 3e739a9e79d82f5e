"""The exercise of a stair light, its right work, and the grading of works of it."""

from __future__ import annotations

from tests.grading.classroom import exercise_file
from wirecheck import files, shipped_parts
from wirecheck.grading.exercise import Exercise, exercise
from wirecheck.grading.judging import Judging
from wirecheck.grading.scoring import graded
from wirecheck.grading.sheet import Sheet
from wirecheck.judge.finding import Stage

TEXT = exercise_file("stair-light").read_text("utf-8")
RIGHT = (files.folder("boards") / "stair-light" / "right.wire").read_text("utf-8")
KEPT: dict[tuple[Stage | None, int], Judging] = {}


def stair(text: str = TEXT) -> Exercise:
    """The exercise."""
    return exercise(text, "exercise.wire", shipped_parts())


def with_changes(*changes: tuple[str, str], text: str = RIGHT) -> str:
    """A text with each of these exchanged for another; it must be there."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def sheet(text: str, given: Exercise | None = None, stage: Stage | None = None, effort: int = 400) -> Sheet:
    """A work's sheet."""
    judging = KEPT.setdefault((stage, effort), Judging(shipped_parts(), stage, effort, None, {}, {}))
    return graded(given or stair(), text, "work.wire", "work", judging).sheet


def scores(one: Sheet) -> list[float]:
    """What is left of each stage."""
    return [each.score for each in one.stages]
