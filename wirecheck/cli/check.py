"""`wirecheck check`: every rule on every file."""

from __future__ import annotations

import click

from wirecheck import NotABoard
from wirecheck.cli import FAILED, FINDINGS
from wirecheck.cli._screen import (
    color_option,
    format_option,
    paint,
    progress,
    quiet_option,
    say,
    stage_option,
)
from wirecheck.cli._sources import Named, Shelf, Unreadable, content, named, shown_path, spare, write
from wirecheck.files import part_name
from wirecheck.judge.finding import Stage
from wirecheck.report.formats import FORMATS
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.report import Report


@click.command(short_help="Check boards: every rule on every file.")
@click.argument("paths", metavar="FILE...", nargs=-1, required=True, type=click.Path())
@format_option(FORMATS)
@stage_option("How far the board is built. What belongs to a later stage is not checked.")
@click.option("-o", "--output", type=click.Path(), help="Write the report to this file.")
@quiet_option
@color_option
@click.pass_context
def command(
    ctx: click.Context,
    paths: tuple[str, ...],
    form: str,
    stage: Stage,
    output: str | None,
    quiet: bool,
    color: str,
) -> None:
    """Check every FILE: ampacity, overcurrent protection, voltage drop, control calls, and the rest.

    A folder means all .wire files in it, except those that hold a part; - is standard input. A bad file
    does not stop the others.
    """
    bad: list[Unreadable] = []

    def complain(error: Unreadable) -> None:
        bad.append(error)
        error.show()

    inputs = named(paths, complain)
    spare(output, [each.path for each in inputs])
    reports: list[Report] = []
    shelf = Shelf()
    with progress(inputs, "Checking", quiet) as going:
        for each in going:
            try:
                report = _report(each, shelf, stage)
            except Unreadable as error:
                complain(error)
            else:
                reports.extend([report] if report else [])
    if not reports and not bad:
        complain(Unreadable("there is no board here, only parts."))
    text = _rendered(reports, form, quiet, paint(color) if output is None else unpainted)
    if output is None:
        say(text)
    else:
        write(output, text)
    if bad:
        ctx.exit(FAILED)
    ctx.exit(0 if all(report.passes for report in reports) else FINDINGS)


def _report(each: Named, shelf: Shelf, stage: Stage) -> Report | None:
    """The report of a file, or None for a part in a folder of boards."""
    from wirecheck import check

    data = content(each.path)
    if not each.asked and part_name(data):
        return None
    try:
        return check(data, file=shown_path(each.path), library=shelf.beside(each.path), stage=stage)
    except NotABoard as error:
        raise Unreadable(f"{each.path} is not a board: {error}.") from error


def _rendered(reports: list[Report], form: str, quiet: bool, looks: Paint) -> str:
    from wirecheck.report.formats import render
    from wirecheck.rules import manuals

    known = manuals() if any(report.findings for report in reports) else {}
    if form != "text":
        return render(form, reports, known)
    from wirecheck.report.formats import text

    if not reports:
        return ""
    return text.findings_only(reports, known, looks) if quiet else text.render(reports, known, looks)
