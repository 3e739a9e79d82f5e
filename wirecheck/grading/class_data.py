"""A class's works as plain data, for programs: what `wirecheck grade --format json` prints."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from wirecheck.grading.marks import Attempt, Mark
from wirecheck.grading.plain import plain_sheet
from wirecheck.grading.sheet import Sheet
from wirecheck.grading.whole_class import WholeClass

VERSION = 1


def class_data(done: WholeClass) -> dict[str, Any]:
    """A class as plain data: every sheet, and what the class did.

    >>> from wirecheck.grading.exercise import exercise
    >>> from wirecheck.grading.whole_class import whole_class
    >>> class_data(whole_class(exercise('exercise "Shed"\\nstage final 40 points'), [], {}))["points"]
    40.0
    """
    return {
        "version": VERSION,
        "exercise": done.exercise,
        "points": done.points,
        "works": [_work(sheet) for sheet in done.sheets],
        "class": {
            "works": len(done.sheets),
            "mean": done.mean,
            "median": done.median,
            "bins": list(done.bins),
            "stages": [one._asdict() for one in done.stages],
            "mistakes": [one._asdict() for one in done.common],
            "lessons": [one._asdict() for one in done.lessons],
            "alike": [one._asdict() for one in done.alike],
            "one_name": [one._asdict() for one in done.one_name],
        },
    }


def marks_data(exercise: str, marks: Sequence[Mark], attempts: Sequence[Attempt]) -> dict[str, Any]:
    """The marks of a record as plain data, and every attempt.

    >>> marks_data("Shed", [], [])
    {'version': 1, 'exercise': 'Shed', 'marks': [], 'attempts': []}
    """
    return {
        "version": VERSION,
        "exercise": exercise,
        "marks": [_mark(one) for one in marks],
        "attempts": [{**one._asdict(), "sheet": _work(one.sheet)} for one in attempts],
    }


def _mark(mark: Mark) -> dict[str, Any]:
    scored = mark.scored
    return {
        "student": mark.student,
        "stage": mark.stage,
        "counts": mark.counts,
        "scored": scored and {"at": scored.at, "file": scored.file, **scored.score._asdict()},
        "by_eye": [{"at": one.at, "points": one.points, "note": one.note} for one in mark.by_eye],
    }


def _work(sheet: Sheet) -> dict[str, Any]:
    data = plain_sheet(sheet)
    del data["exercise"], data["trace"]
    return {"score": sheet.score, "points": sheet.points, **data}
