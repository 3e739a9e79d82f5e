"""`wirecheck check`: every rule on every file."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from contextlib import closing
from dataclasses import replace

import click

from wirecheck import NotABoard, WrongArgument
from wirecheck.cli import FAILED, FINDINGS
from wirecheck.cli._attempts import (
    Done,
    Ended,
    Limits,
    Outcome,
    Refused,
    attempt,
    limit_options,
    many,
    show_traceback,
)
from wirecheck.cli._screen import (
    color_option,
    effort_option,
    format_option,
    paint,
    progress,
    quiet_option,
    say,
    stage_option,
)
from wirecheck.cli._sources import (
    PATH,
    Named,
    Shelf,
    Unreadable,
    content,
    named,
    parts_option,
    shelf,
    spare,
    write,
)
from wirecheck.inputs import is_beside_boards, shown_path
from wirecheck.judge.finding import Stage, in_plain_values
from wirecheck.report.formats import FORMATS
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.report import Report, unfinished


@click.command(short_help="Check boards: every rule on every file.")
@click.argument("paths", metavar="FILE...", nargs=-1, required=True, type=PATH)
@format_option(FORMATS)
@stage_option("How far the board is built. What belongs to a later stage is not checked.")
@click.option("-o", "--output", type=PATH, help="Write the report to this file.")
@parts_option
@quiet_option
@color_option
@effort_option
@click.option(
    "--try",
    "tried",
    type=click.IntRange(1),
    metavar="N",
    help="Print the board with mend N of the report made. No file is changed.",
)
@limit_options(several=True)
@click.pass_context
def command(
    ctx: click.Context,
    paths: tuple[str, ...],
    form: str,
    stage: Stage,
    output: str | None,
    own: str | None,
    quiet: bool,
    color: str,
    effort: int,
    tried: int | None,
    limits: Limits,
) -> None:
    """Check every FILE: ampacity, overcurrent protection, voltage drop, control calls, and the rest.

    A folder means all .wire files in it; those that hold a part are skipped, and named. - is standard input.
    A bad file does not stop the others: several are checked side by side, each within limits of time and
    memory, and what could not be checked is reported as not-checked.
    """
    bad: list[click.ClickException] = []

    def complain(error: click.ClickException) -> None:
        bad.append(error)
        error.show()

    boards = named(paths, complain)
    spare(output, [each.path for each in boards], own)
    reports: list[Report] = []
    skipped: list[str] = []
    outcomes = _outcomes(boards, stage, own, effort, limits)
    with closing(outcomes), progress(boards, "Checking", quiet) as going:
        for each in going:
            match next(outcomes):
                case Done(None):
                    skipped.append(shown_path(each.path))
                case Done(Report() as report):
                    reports.append(report)
                case Refused(error):
                    complain(error)
                case Ended() as ended:
                    show_traceback(ended)
                    reports.append(unfinished(shown_path(each.path), ended.message, ended.help))
    if not reports and not bad:
        complain(Unreadable("there is no board here, only parts."))
    if tried is not None:
        _print_mended(reports, tried, output)
        return
    text = _rendered(reports, skipped, form, quiet, paint(color) if output is None else unpainted)
    if output is None and form == "text":
        say(text)
    else:
        # A program reads UTF-8, whatever a terminal here would show.
        write(output or "-", text)
    if bad or not all(report.checked for report in reports):
        ctx.exit(FAILED)
    ctx.exit(0 if all(report.passes for report in reports) else FINDINGS)


def _print_mended(reports: list[Report], number: int, output: str | None) -> None:
    """The one board with a mend made."""
    if len(reports) != 1:
        raise click.UsageError("--try takes one board.")
    try:
        text = reports[0].mended(number)
    except WrongArgument as error:
        raise Unreadable(f"{reports[0].file}: {error}.") from error
    write(output or "-", text)


def _outcomes(
    files: Sequence[Named], stage: Stage, own: str | None, effort: int, limits: Limits
) -> Generator[Outcome[Report | None], None, None]:
    """What each file came to, in their order: in processes of their own where there are several."""
    if not many(files, limits):
        yield from (attempt(_report, each, stage, effort, Shelf(own)) for each in files)
        return
    from wirecheck import check
    from wirecheck.cli._workers import in_workers

    # What a board needs is loaded here once, and not in each process.
    check('board "None"')
    given = content("-") if any(each.path == "-" for each in files) else b""
    yield from in_workers(_plain_report, [(each, stage, own, effort) for each in files], limits, given)


def _report(each: Named, stage: Stage, effort: int, parts: Shelf) -> Report | None:
    """The report of a file, or None for a part in a folder of boards."""
    from wirecheck import check

    data = content(each.path)
    if not each.asked and is_beside_boards(data):
        return None
    try:
        return check(
            data, file=shown_path(each.path), library=parts.beside(each.path), stage=stage, effort=effort
        )
    except NotABoard as error:
        raise Unreadable(f"{each.path} is not a board: {error}.") from error


def _plain_report(each: Named, stage: Stage, own: str | None, effort: int) -> Report | None:
    """The report of a file without the board's own objects, to go from process to process."""
    report = _report(each, stage, effort, shelf(own))
    return report and replace(report, findings=in_plain_values(report.findings))


def _rendered(reports: list[Report], skipped: list[str], form: str, quiet: bool, looks: Paint) -> str:
    from wirecheck.report.formats import render
    from wirecheck.rules import manuals

    known = manuals() if any(report.findings for report in reports) else {}
    if form != "text":
        return render(form, reports, known, skipped)
    from wirecheck.report.formats import text

    if not reports:
        return ""
    shown = text.findings_only if quiet else text.render
    return shown(reports, known, skipped, looks)
