"""Tables for a spreadsheet and for a gradebook, in which no cell can be a formula.

What a spreadsheet takes for a formula begins with one of = + - @, or with a full-width or other form of them,
and may have spaces or quotes before it. Such a text gets an apostrophe, which makes it a text everywhere. So
does one behind a semicolon or an upright line, where spreadsheets of some countries begin a new cell. A tab,
the end of a line, and all that hides was made something that is seen before (`plain`). Numbers stay numbers.

Source: RFC 4180, "Common Format and MIME Type for CSV Files": commas, doubled quotes, lines end in CR LF;
OWASP, "CSV Injection": the characters, and the apostrophe
"""

from __future__ import annotations

import csv
import io
import math
import unicodedata
from collections.abc import Iterable, Iterator

from wirecheck.grading.marks import Attempt, ByEye, Mark, alike
from wirecheck.grading.sheet import Sheet, points
from wirecheck.judge.finding import STAGES, Stage
from wirecheck.report.plain import plain

Cell = str | float | None
Row = tuple[Cell, ...]

_FORMULA = "=+-@\N{MINUS SIGN}"
_BLANK = '"\N{REPLACEMENT CHARACTER}'
_NEXT = ";|"


def cells(rows: Iterable[Row]) -> str:
    r"""Rows as text, with commas between the cells and a line for each row, to be written as UTF-8.

    >>> cells([("student", "trim"), ("Ruiz, Ana", 27.5), ("Bo", None)])
    'student,trim\r\n"Ruiz, Ana",27.5\r\nBo,\r\n'
    """
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\r\n")
    for row in rows:
        table.writerow([_cell(cell) for cell in row])
    return text.getvalue()


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, int):
        return str(cell)
    if isinstance(cell, float) and math.isfinite(cell):
        return points(cell)
    return no_formula(str(cell))


def no_formula(text: str) -> str:
    """A text that no spreadsheet takes for a formula, whatever it takes for the end of a cell.

    >>> no_formula(" @SUM(A1)"), no_formula("a;=1"), no_formula("a-b")
    ("' @SUM(A1)", "a;'=1", 'a-b')
    """
    shown: list[str] = []
    begin: int | None = 0
    for char in plain(text):
        form = char if char.isascii() else unicodedata.normalize("NFKC", char)[0]
        if form in _NEXT:
            shown.append(char)
            begin = len(shown)
            continue
        if begin is not None and not (form.isspace() or form in _BLANK):
            if form in _FORMULA:
                shown.insert(begin, "'")
            begin = None
        shown.append(char)
    return "".join(shown)


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
