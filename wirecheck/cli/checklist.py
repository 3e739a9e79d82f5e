"""`wirecheck checklist`: a list to print and take to the board."""

from __future__ import annotations

import os

import click

from wirecheck.cli._attempts import Limits, finished, limit_options
from wirecheck.cli._screen import color_option, effort_option, paint, say, stage_option
from wirecheck.cli._sources import PATH, Shelf, parts_option, spare, write
from wirecheck.cli._states import assembled, say_left_out
from wirecheck.inputs import shown_path
from wirecheck.judge.finding import Stage
from wirecheck.report.looks import Paint, unpainted

ENDINGS = (".html", ".txt")


def _output(_ctx: click.Context, _param: click.Parameter, value: str | None) -> str | None:
    if value not in (None, "-") and not str(value).endswith(ENDINGS):
        raise click.BadParameter(f"{value} must end in .html or .txt.")
    return value


@click.command(short_help="Make a list to print and take to the board.")
@click.argument("path", metavar="FILE", type=PATH)
@parts_option
@stage_option("The last stage on the list.")
@click.option(
    "-o", "--output", type=PATH, callback=_output, help="Write to this file: .html to print, or .txt."
)
@effort_option
@color_option
@limit_options()
def command(
    path: str, own: str | None, stage: Stage, output: str | None, effort: int, color: str, limits: Limits
) -> None:
    """List what to look at on the board in FILE, stage by stage: what is there, the limit, and a box to tick.

    The readings of the last stage are the ones that the circuit should give.
    """
    spare(output, [path], own)
    shown = output is None or output == "-"
    page = not shown and str(output).endswith(".html")
    looks = paint(color) if shown else unpainted
    text = finished(path, limits, _listed, path, own, stage, page, effort, looks)
    if output is None or shown:
        say(text)
    else:
        write(output, text)


def _listed(path: str, own: str | None, stage: Stage, page: bool, effort: int, looks: Paint) -> str:
    """The list of a board, as text or as a page to print."""
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case
    from wirecheck.mend.explained import explained
    from wirecheck.report import checklist, checklist_html

    library = Shelf(own).beside(path)
    syntax, board = assembled(path, library)
    say_left_out(board, path)
    case = Case(board)
    found = explained(findings(case), case, syntax, library, "final", effort).findings
    sections = checklist.checklist(case, stage, found)
    if not page:
        return checklist.render(board.title, sections, looks)
    name = shown_path(os.path.basename(path)) if path != "-" else ""
    return checklist_html.render(board.title, name, sections)
