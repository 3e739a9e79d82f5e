"""A sheet and a class as text, to read in a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from wirecheck.caution import CAUTION
from wirecheck.grading.marks import ByEye, Mark, alike
from wirecheck.grading.sheet import Sheet, Taken, points
from wirecheck.grading.whole_class import Alike, Common, Lesson, WholeClass
from wirecheck.judge.finding import STAGES
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shortened
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.numbers import counted
from wirecheck.report.paragraphs import columns, wrapped
from wirecheck.report.plain import plain

MOST_NAMED = 8
MOST_LISTED = 12
BAR = 40
"""The columns of the longest bar."""
ONE_NAME = "Several works say that they are of one student. Look whose each is:"
NO_VERDICT = "These works say the same. That is a matter to look at, and no verdict:"


def sheets(done: Iterable[Sheet], paint: Paint = unpainted) -> str:
    """Sheets, one after the other, and the caution."""
    told = [sheet_text(one, paint) for one in done]
    return "\n".join([*told, wrapped(CAUTION, "")]) + "\n"


def sheet_text(sheet: Sheet, paint: Paint = unpainted) -> str:
    """A student's sheet."""
    head = f"{plain(sheet.student)}: {points(sheet.score)} of {points(sheet.points)} points"
    lines = [paint(head, "heading"), wrapped(plain(f"{sheet.exercise} ({sheet.file})"), "")]
    if sheet.refused:
        lines.append(wrapped(plain(f"Not graded, and worth nothing: {sheet.refused}"), "  "))
        return "\n".join(lines) + "\n"
    for stage in sheet.stages:
        lines.append(f"\n{stage.stage}: {points(stage.score)} of {points(stage.points)}")
        for one in sheet.taken:
            if one.stage == stage.stage:
                lines += _taken(one, paint)
    lines += [wrapped(plain(remark), "") for remark in sheet.remarks]
    return "\n".join(lines) + "\n"


def _taken(one: Taken, paint: Paint) -> Iterator[str]:
    where = f", line {one.line}" if one.line else f", asked: {one.asked}" if one.asked else ""
    rule = f" ({one.rule}{where})" if one.rule else ""
    yield wrapped(plain(f"{price(one)}: {one.message}{rule}"), "  ")
    for number, todo in enumerate(one.to_do):
        yield wrapped(plain(f"{'Or: ' if number else ''}{todo}"), "      ")
    for follows in one.follows:
        yield wrapped(plain(f"From the same mistake: {follows}"), "      ")


def price(one: Taken) -> str:
    """What a mistake takes, as a sheet says it.

    >>> from wirecheck.grading.sheet import Taken
    >>> lost = Taken("trim", 30.0, None, "", "hazard", None, "", "", (), (), "", "")
    >>> five = lost._replace(points=5.0, costs=5.0)
    >>> price(lost), price(five), price(five._replace(points=2.0))
    ('-30, all of the stage', '-5', '-2 of 5, since no more is left of the stage')
    >>> price(five._replace(points=0.0)), price(lost._replace(points=0.0))
    ('0 of 5, since nothing is left of the stage', '0, since nothing is left of the stage')
    """
    told = taken(one)
    of = "" if one.costs is None else f" of {points(one.costs)}"
    if not one.points:
        return f"{told}{of}, since nothing is left of the stage"
    if one.costs is None:
        return f"{told}, all of the stage"
    return f"{told}{of}, since no more is left of the stage" if one.points < one.costs else told


def taken(one: Taken) -> str:
    """The points that a mistake takes, as a number.

    >>> from wirecheck.grading.sheet import Taken
    >>> taken(Taken("trim", 2.5, None, "", "hazard", None, "", "", (), (), "", ""))
    '-2.5'
    """
    return f"-{points(one.points)}" if one.points else "0"


def class_text(done: WholeClass, paint: Paint = unpainted, by_eye: Sequence[ByEye] = ()) -> str:
    """What a class did: the table, the distribution, the mistakes, what to teach again, near copies."""
    heads = [("student", *(one.stage for one in done.stages), "total", "mistakes")]
    rows = [
        (
            plain(shortened(one.student)),
            *(points(each.score) for each in one.stages),
            points(one.score),
            "not graded" if one.refused else str(len(one.taken)),
        )
        for one in done.sheets
    ]
    blocks = [
        paint(plain(f"{done.exercise}: {counted(len(done.sheets), 'work')}"), "heading"),
        _table([*heads, *rows]),
        f"mean {points(round(done.mean, 1))}, median {points(round(done.median, 1))} "
        f"of {points(done.points)} points\n" + _plot(done),
    ]
    refused = [one for one in done.sheets if one.refused]
    if refused:
        told = [wrapped(plain(f"{one.student} ({one.file}): {one.refused}"), "  ") for one in refused]
        blocks.append("Not graded:\n" + "\n".join(told))
    judged = judged_by_eye(done, by_eye)
    if judged:
        rows = [
            (plain(shortened(one.student)), one.stage, points(one.points), plain(one.note)) for one in judged
        ]
        blocks.append("Judged by eye:\n" + _table([("student", "stage", "points", "note"), *rows]))
    if done.common:
        blocks.append("Mistakes, those of most students first:\n" + _common(done.common))
    if done.lessons:
        blocks.append("To teach again, what most students have wrong first:\n" + _lessons(done.lessons))
    if done.alike:
        blocks.append(f"{NO_VERDICT}\n" + "\n".join(_alike(one) for one in done.alike))
    if done.one_name:
        told = [wrapped(plain(f"{one.student}: {listed(one.files)}"), "  ") for one in done.one_name]
        blocks.append(f"{ONE_NAME}\n" + "\n".join(told))
    return "\n\n".join([*blocks, wrapped(CAUTION, "")]) + "\n"


def judged_by_eye(done: WholeClass, by_eye: Sequence[ByEye]) -> list[ByEye]:
    """What was judged by eye of the students and the stages of a class, in the order of its works."""
    order = {alike(one.student): number for number, one in reversed(list(enumerate(done.sheets)))}
    stages = {one.stage for one in done.stages}
    own = [
        one
        for one in by_eye
        if alike(one.exercise) == alike(done.exercise) and alike(one.student) in order and one.stage in stages
    ]
    return sorted(own, key=lambda one: (order[alike(one.student)], STAGES.index(one.stage)))


def marks_text(exercise: str, marks: Sequence[Mark]) -> str:
    """The marks that are in a record: wirecheck's beside those by eye.

    >>> print(marks_text("Shed", []), end="")
    Shed: nothing is recorded
    """
    if not marks:
        return f"{plain(exercise)}: nothing is recorded\n"
    rows = [("student", "stage", "wirecheck", "by eye", "counts", "note")]
    for one in marks:
        tool = one.scored.score if one.scored else None
        rows.append(
            (
                plain(shortened(one.student)),
                one.stage,
                f"{points(tool.score)} of {points(tool.points)}" if tool else "-",
                ", ".join(points(each.points) for each in one.by_eye) or "-",
                points(one.counts or 0.0),
                plain("; ".join(each.note for each in one.by_eye if each.note)),
            )
        )
    return f"{plain(exercise)}\n\n{_table(rows)}\n"


def _table(rows: Sequence[tuple[str, ...]]) -> str:
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = []
    for row in rows:
        cells = [row[0].ljust(widths[0])]
        cells += [cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True)]
        lines.append("  ".join(cells))
    return "\n".join(lines)


def _plot(done: WholeClass) -> str:
    most = max(done.bins, default=0) or 1
    step = done.points / len(done.bins)
    rows = []
    for number, count in enumerate(done.bins):
        least, last = points(number * step), points((number + 1) * step)
        bar = "#" * round(count * BAR / most) if count else ""
        rows.append((f"{least} to {last}", f"{bar} {count}" if count else ""))
    return "\n".join(f"{label.rjust(12)}  {bar}".rstrip() for label, bar in rows)


def _common(common: tuple[Common, ...]) -> str:
    told = [
        wrapped(
            plain(f"{len(one.students)}x  {one.mistake} {_rule(one.rule)}{listed(one.students, MOST_NAMED)}"),
            "  ",
        )
        for one in common[:MOST_LISTED]
    ]
    if len(common) > MOST_LISTED:
        told.append(f"  and {len(common) - MOST_LISTED} more")
    return "\n".join(told)


def _rule(rule: str) -> str:
    return f"({rule}) " if rule else ""


def _lessons(lessons: tuple[Lesson, ...]) -> str:
    rows = [(one.rule, f"{students(len(one.students))}. {one.summary}") for one in lessons[:MOST_LISTED]]
    return columns(rows)


def students(count: int) -> str:
    """How many students, in words.

    >>> students(1), students(12)
    ('1 student', '12 students')
    """
    return f"{count} student{'' if count == 1 else 's'}"


def _alike(one: Alike) -> str:
    return wrapped(plain(f"{listed(one.students)} share {'; '.join(one.shared)}"), "  ")
