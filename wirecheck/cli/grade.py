"""`wirecheck grade`: the works of a class by an exercise."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from hashlib import sha256
from typing import TYPE_CHECKING

import click

from wirecheck import inputs
from wirecheck.cli import FAILED
from wirecheck.cli._attempts import Ended, Limits, limit_options
from wirecheck.cli._class import Asked, exercise_of, outcomes, parts_beside, result, student_of, works_of
from wirecheck.cli._screen import EFFORT, color_option, format_option, paint, progress, say
from wirecheck.cli._sources import (
    PATH,
    Named,
    Unreadable,
    content,
    make_folder,
    rewrite,
    spare,
    spare_each,
    write,
)
from wirecheck.judge.finding import STAGES, Stage
from wirecheck.report.looks import unpainted

if TYPE_CHECKING:
    from wirecheck.grading.exercise import Exercise
    from wirecheck.grading.marks import ByEye
    from wirecheck.grading.scoring import Graded
    from wirecheck.grading.sheet import Sheet
    from wirecheck.record import Run

CLASS_PAGE = "class.html"
FORMATS = ("text", "json", "csv")


@click.command(short_help="Grade students' works by an exercise.")
@click.argument("exercise", metavar="EXERCISE", type=PATH)
@click.argument("works", metavar="WORK...", nargs=-1, type=PATH)
@click.option("--start", is_flag=True, help="Print the file that a student begins with, and grade nothing.")
@format_option(FORMATS)
@click.option(
    "--stage",
    type=click.Choice(STAGES),
    help="The boards are built so far, and this stage alone is graded. Without it, all stages are.",
)
@click.option("-o", "--output", type=PATH, help="Write to this file.")
@click.option(
    "--pages",
    type=PATH,
    metavar="FOLDER",
    help="Write a page for each work and one for the class (class.html) into this folder.",
)
@click.option(
    "--effort",
    type=click.IntRange(0, 100_000),
    default=EFFORT,
    show_default=True,
    help="How many changes are tried on a wrong board, to find the mistake. 0: each finding counts.",
)
@click.option(
    "--record",
    type=PATH,
    metavar="FILE",
    help="Add the attempts to this record (SQLite). A run that was ended goes on where it was.",
)
@click.option(
    "--by-eye",
    metavar="STUDENT",
    multiple=True,
    help="Enter in the record what you judged yourself of this student's --stage.",
)
@click.option("--points", type=click.FloatRange(0, 1000), metavar="N", help="The points for --by-eye.")
@click.option("--note", default="", metavar="TEXT", help="A note for --by-eye.")
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Grade on the Dask cluster whose scheduler has this address, as tcp://192.168.0.7:8786.",
)
@color_option
@limit_options(several=True)
@click.pass_context
def command(
    ctx: click.Context,
    exercise: str,
    works: tuple[str, ...],
    start: bool,
    form: str,
    stage: Stage | None,
    output: str | None,
    pages: str | None,
    effort: int,
    record: str | None,
    by_eye: tuple[str, ...],
    points: float | None,
    note: str,
    cluster: str | None,
    color: str,
    limits: Limits,
) -> None:
    """Grade every WORK by an EXERCISE: what each is worth, and why, and what the class has wrong.

    A folder means all .wire files in it. A work is judged with what was handed out put back and with what the
    exercise asks; its parts are those that ship and those beside the exercise. A mistake costs once. A work
    that cannot be graded has no points, with the reason, and stops no other. With a record and no works, what
    is in the record is shown.
    """
    if works and (start or by_eye):
        raise click.UsageError(f"{'--start' if start else '--by-eye'} grades nothing: leave the works out.")
    text = content(exercise)
    files = works_of(exercise, works) if works else []
    asked = Asked(exercise, text, parts_beside(exercise, text, files), stage, effort, pages is not None)
    given, judging = exercise_of(asked)
    if start:
        from wirecheck.grading.starting import not_said, starting
        from wirecheck.report.plain import plain

        begun = starting(given, judging.library)
        warning = not_said(given, begun)
        if warning:
            click.echo(f"wirecheck: {plain(warning)}", err=True)
        if output and output.lower().endswith(".wire") and not os.path.lexists(output):
            rewrite(output, begun)  # It is a board, in the place of none.
        else:
            spare(output, [exercise])
            write(output or "-", begun)
        return
    if by_eye:
        _enter(given, record, by_eye, stage, points, note)
        return
    if not works:
        if record is None:
            raise click.UsageError("Name the works to grade, or --start, or a --record.")
        _show_record(given, record, form, output)
        return
    read = [exercise, *(each.path for each in files)]
    spare(output, read)
    _spare_record(output, record, pages)
    if pages is not None:
        named = (_page_name(number, each) for number, each in enumerate(files))
        spare_each((os.path.join(pages, name) for name in (CLASS_PAGE, *named)), read)
        make_folder(pages)
    with _run(record, given, asked, files) as run:
        sheets, addresses, whole = _graded_all(files, given, asked, limits, cluster, pages, run)
        if run is not None:
            run.finish()
    by_eye_too = _by_eye(record) if record is not None else ()
    _show(given, sheets, by_eye_too, addresses, form, output, pages, color)
    if not whole:
        ctx.exit(FAILED)


def _graded_all(
    files: Sequence[Named],
    given: Exercise,
    asked: Asked,
    limits: Limits,
    cluster: str | None,
    pages: str | None,
    run: Run | None,
) -> tuple[list[Sheet], dict[str, str], bool]:
    """The sheets of all works in their order, the pages that were written, and whether each was graded whole.

    What a run of the record has done already is not done again.
    """
    from wirecheck.report.plain import plain
    from wirecheck.report.verdict import passed_by

    digests = [_digest(each) if run is not None else "" for each in files]
    done = [_done(run, each, digests[number], number, pages) for number, each in enumerate(files)]
    left = [each for each, sheet in zip(files, done, strict=True) if sheet is None]
    going_on = outcomes(left, asked, limits, cluster)
    sheets: list[Sheet] = []
    addresses: dict[str, str] = {}
    whole = True
    skipped: list[str] = []
    with closing(going_on), progress(files, "Grading") as going:
        for number, each in enumerate(going):
            sheet = done[number]
            if sheet is None:
                worked = next(going_on)
                graded = result(each, worked, given, asked.stage)
                if graded is None:
                    skipped.append(each.path)
                    continue
                sheet = graded.sheet
                if pages is not None:
                    _put_page(pages, number, each, graded)
                # What the machine could not do is tried again by the next run.
                if isinstance(worked.outcome, Ended):
                    whole = False
                elif run is not None:
                    run.add(sheet.file, digests[number], sheet)
            sheets.append(sheet)
            if pages is not None:
                addresses[sheet.file] = _page_name(number, each)
    if skipped:
        click.echo(f"wirecheck: {plain(passed_by(skipped))}", err=True)
    return sheets, addresses, whole


def _done(run: Run | None, each: Named, digest: str, number: int, pages: str | None) -> Sheet | None:
    """The sheet of a work that a run which was ended has graded already, and written the page of."""
    if run is None:
        return None
    if pages is not None and not os.path.exists(os.path.join(pages, _page_name(number, each))):
        return None
    return run.done.get((inputs.shown_path(each.path), digest))


def _digest(each: Named) -> str:
    """What a work is known by in the record: the digest of its bytes; nothing where it cannot be read."""
    if each.path == "-":
        return ""
    try:
        return sha256(inputs.read_board(each.path)).hexdigest()
    except (OSError, ValueError):
        return ""


def _show(
    given: Exercise,
    sheets: list[Sheet],
    by_eye: tuple[ByEye, ...],
    addresses: dict[str, str],
    form: str,
    output: str | None,
    pages: str | None,
    color: str,
) -> None:
    """Show what the works came to."""
    from wirecheck.grading.whole_class import whole_class
    from wirecheck.rules import manuals

    summed = whole_class(given, sheets, manuals())
    if pages is not None:
        from wirecheck.grading.pages import class_page

        write(os.path.join(pages, CLASS_PAGE), class_page(summed, addresses, by_eye))
    if form == "text":
        from wirecheck.grading import words

        looks = paint(color) if output is None else unpainted
        shown = words.sheets(sheets, looks) if len(sheets) == 1 else words.class_text(summed, looks, by_eye)
        if output is None:
            say(shown)
        else:
            write(output, shown)
    elif form == "json":
        from wirecheck.grading.class_data import class_data

        write(output or "-", json.dumps(class_data(summed), indent=1, ensure_ascii=False) + "\n")
    else:
        from wirecheck.grading.gradebook import gradebook
        from wirecheck.report.spreadsheet import cells

        write(output or "-", cells(gradebook(sheets, by_eye)))


@contextmanager
def _run(record: str | None, given: Exercise, asked: Asked, files: Sequence[Named]) -> Iterator[Run | None]:
    """The run that the attempts are added to, where there is a record."""
    if record is None:
        yield None
        return
    from wirecheck.record import Task, exercise_digest, opened

    digest = exercise_digest(asked.text, asked.parts)
    names = tuple(inputs.shown_path(each.path) for each in files)
    task = Task(given.title, digest, asked.stage, asked.effort, names)
    with _recorded(), opened(record) as kept:
        yield kept.begin(task, datetime.now(UTC))


@contextmanager
def _recorded() -> Iterator[None]:
    """Say in a sentence what keeps a file from being the record."""
    from wirecheck.record import NoRecord

    try:
        yield
    except NoRecord as error:
        raise Unreadable(str(error)) from error


def _spare_record(output: str | None, record: str | None, pages: str | None = None) -> None:
    """Refuse an output that would land on the record, or pages that could."""
    if output and record and inputs.same(output, record):
        raise click.UsageError("--output: the record stays what it is. Name another file.")
    a_page = record and os.path.splitext(record)[1] == ".html"
    if pages and record and a_page and inputs.same(pages, os.path.dirname(record) or "."):
        raise click.UsageError("--pages: the record stays what it is. Name another folder.")
    if pages and output and inputs.same(output, os.path.join(pages, CLASS_PAGE)):
        raise click.UsageError("--output: the page of the class goes there. Name another file.")


def _enter(
    given: Exercise,
    record: str | None,
    names: Sequence[str],
    stage: Stage | None,
    points: float | None,
    note: str,
) -> None:
    """Enter in the record what the instructor judged by eye.

    What is entered stays. So a name that is nobody's, and nearly somebody's, has to be given twice.
    """
    from wirecheck.grading.marks import alike
    from wirecheck.language.words import nearest
    from wirecheck.record import opened
    from wirecheck.report.plain import plain

    if record is None or stage is None or points is None:
        raise click.UsageError("--by-eye needs --record, --stage and --points.")
    worth = next((one.points for one in given.stages if one.stage == stage), None)
    if worth is None:
        raise click.UsageError(f"--stage: the exercise has no stage {stage}.")
    if not 0 <= points <= worth:
        raise click.UsageError(f"--points: {stage} is worth {worth:g} points.")
    student, *again = names
    if not all(name.strip() for name in names):
        raise click.UsageError("--by-eye: name the student.")
    if any(name != student for name in again):
        raise click.UsageError("--by-eye: name one student.")
    with _recorded(), opened(record) as kept:
        marks = kept.marks()
        known = {alike(one.student) for one in marks if alike(one.exercise) == alike(given.title)}
        named = {alike(one.student): one.student for one in marks}
        near = nearest(student, named.values()) if alike(student) not in named and not again else None
        if near is not None:
            raise click.UsageError(
                f"--by-eye: nothing of {plain(student)} is in {plain(record)}, and nothing was entered. "
                f"Did you mean {plain(near)}? If not, give the name twice: --by-eye NAME --by-eye NAME"
            )
        kept.by_eye(student, given.title, stage, points, note, datetime.now(UTC))
    click.echo(plain(f"{student}, {stage}: {points:g} of {worth:g} points by eye."))
    if alike(student) not in known:
        click.echo(plain(f"wirecheck: nothing of {student} was in {record} before."), err=True)


def _by_eye(record: str) -> tuple[ByEye, ...]:
    """All that was judged by eye and is in the record."""
    from wirecheck.record import opened

    with _recorded(), opened(record, new=False) as kept:
        return kept.judged_by_eye()


def _show_record(given: Exercise, record: str, form: str, output: str | None) -> None:
    """Show the marks of the exercise that are in the record."""
    from wirecheck.grading.class_data import marks_data
    from wirecheck.grading.gradebook import marks_rows
    from wirecheck.grading.marks import alike
    from wirecheck.grading.words import marks_text
    from wirecheck.record import opened
    from wirecheck.report.spreadsheet import cells

    _spare_record(output, record)
    with _recorded(), opened(record, new=False) as kept:
        marks = [one for one in kept.marks() if alike(one.exercise) == alike(given.title)]
        attempts = [one for one in kept.attempts() if alike(one.sheet.exercise) == alike(given.title)]
    if form == "text":
        write(output or "-", marks_text(given.title, marks))
    elif form == "json":
        write(
            output or "-",
            json.dumps(marks_data(given.title, marks, attempts), indent=1, ensure_ascii=False) + "\n",
        )
    else:
        write(output or "-", cells(marks_rows(marks)))


def _put_page(folder: str, number: int, each: Named, done: Graded) -> None:
    """Write the page of a work."""
    from wirecheck.grading.pages import student_page

    write(os.path.join(folder, _page_name(number, each)), student_page(done.sheet, done.picture))


def _page_name(number: int, each: Named) -> str:
    """The file of a work's page, which is made of letters and digits alone, whatever the work's is called."""
    safe = (char if char.isascii() and char.isalnum() else "-" for char in student_of(each.path))
    return f"{number + 1:03}-{''.join(safe)[:60]}.html"
