"""Tables of a class for a gradebook: a row for each work, for each mark, or for each attempt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wirecheck.grading.marks import Attempt, ByEye, Mark, alike
from wirecheck.grading.sheet import Sheet
from wirecheck.judge.finding import STAGES, Stage
from wirecheck.report.spreadsheet import Cell, Row


def gradebook(sheets: Iterable[Sheet], by_eye: Iterable[ByEye] = ()) -> Iterator[Row]:
    """A row of headings, then one for each work, and one for each student of whom no work is there.

    A stage has the points that wirecheck gives, and beside them those that the instructor gave by eye, of
    which the newest counts. `score` is what wirecheck gives for all stages; in `total`, what was judged by
    eye takes its place.

    Parameters
    ----------
    sheets : of a class's works
    by_eye : in the order in which it was entered; what belongs to other exercises or stages is left out

    Examples
    --------
    >>> from wirecheck.grading.sheet import StageScore
    >>> from wirecheck.report.spreadsheet import cells
    >>> ana = Sheet("ana.wire", "Ana", "Shed", (StageScore("trim", 30, 20, False),))
    >>> entry = ByEye("2026-01-05T09:00:00Z", "Ana", "Shed", "trim", 25, "neat work")
    >>> print(cells(gradebook([ana], [entry])))
    student,file,exercise,trim,trim by eye,trim note,score,total,of,mistakes,refused
    Ana,ana.wire,Shed,20,25,neat work,20,25,30,0,
    <BLANKLINE>
    """
    works = list(sheets)
    own = {one.stage for sheet in works for one in sheet.stages}
    stages = [stage for stage in STAGES if stage in own]
    exercises = {alike(sheet.exercise) for sheet in works}
    judged: dict[tuple[str, str], dict[Stage, ByEye]] = {}
    for entry in by_eye:
        if entry.stage in own and alike(entry.exercise) in exercises:
            judged.setdefault(_who(entry), {})[entry.stage] = entry
    beside = [text for stage in stages for text in (stage, f"{stage} by eye", f"{stage} note")]
    yield "student", "file", "exercise", *beside, "score", "total", "of", "mistakes", "refused"
    for sheet in works:
        yield _row(sheet, judged.get(_who(sheet), {}), stages)
    there = {_who(sheet) for sheet in works}
    for who in sorted(judged.keys() - there):
        entry = next(iter(judged[who].values()))
        row = _row(Sheet("", entry.student, entry.exercise, ()), judged[who], stages)
        yield *row[:-5], None, row[-4], None, None, None


def _who(one: Sheet | ByEye) -> tuple[str, str]:
    return alike(one.student), alike(one.exercise)


def _row(sheet: Sheet, judged: dict[Stage, ByEye], stages: list[Stage]) -> Row:
    """A work, with what was judged of it by eye."""
    scores = {one.stage: one.score for one in sheet.stages}
    beside: list[Cell] = []
    total = 0.0
    for stage in stages:
        entry = judged.get(stage)
        beside += [scores.get(stage), entry.points if entry else None, entry.note if entry else None]
        total += entry.points if entry else scores.get(stage, 0.0)
    summed = (sheet.score, total, sheet.points, len(sheet.taken), sheet.refused)
    return sheet.student, sheet.file, sheet.exercise, *beside, *summed


def marks_rows(marks: Iterable[Mark]) -> Iterator[Row]:
    """A row of headings, then one for each mark: the newest of each student, exercise and stage."""
    yield "student", "exercise", "stage", "points", "by eye", "note", "counts", "of", "file", "at"
    for mark in marks:
        tool = mark.scored
        newest = mark.by_eye[-1] if mark.by_eye else None
        yield (
            mark.student,
            mark.exercise,
            mark.stage,
            tool.score.score if tool else None,
            newest.points if newest else None,
            newest.note if newest else None,
            mark.counts,
            tool.score.points if tool else None,
            tool.file if tool else None,
            max(one.at for one in (tool, newest) if one),
        )


def history(attempts: Iterable[Attempt], by_eye: Iterable[ByEye] = ()) -> Iterator[Row]:
    """A row of headings, then one for each stage of every attempt, and one for each that was judged by eye.

    They stand in order of time. `judged by` is the version of wirecheck, or the eye.
    """
    yield "at", "student", "exercise", "stage", "points", "of", "judged by", "note", "run", "file", "digest"
    rows: list[tuple[str, Row]] = []
    for one in attempts:
        sheet = one.sheet
        by = f"wirecheck {one.version}"
        after = (by, sheet.refused, one.run, one.file, one.digest)
        for score in sheet.stages:
            said = (sheet.student, sheet.exercise, score.stage, score.score, score.points)
            rows.append((one.at, (*said, *after)))
    for entry in by_eye:
        judged = (entry.student, entry.exercise, entry.stage, entry.points, None, "eye", entry.note)
        rows.append((entry.at, (*judged, None, None, None)))
    rows.sort(key=lambda row: row[0])
    for at, row in rows:
        yield at, *row
