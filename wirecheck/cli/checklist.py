"""`wirecheck checklist`: a list to print and take to the board."""

from __future__ import annotations

import os

import click

from wirecheck.cli._screen import color_option, paint, say, stage_option
from wirecheck.cli._sources import spare, write
from wirecheck.cli._states import case_of
from wirecheck.judge.finding import Stage

ENDINGS = (".html", ".txt")


def _output(_ctx: click.Context, _param: click.Parameter, value: str | None) -> str | None:
    if value not in (None, "-") and not str(value).endswith(ENDINGS):
        raise click.BadParameter(f"{value} must end in .html or .txt.")
    return value


@click.command(short_help="Make a list to print and take to the board.")
@click.argument("path", metavar="FILE", type=click.Path())
@stage_option("The last stage on the list.")
@click.option(
    "-o", "--output", type=click.Path(), callback=_output, help="Write to this file: .html to print, or .txt."
)
@color_option
def command(path: str, stage: Stage, output: str | None, color: str) -> None:
    """List what to look at on the board in FILE, stage by stage: what is there, the limit, and a box to tick.

    The readings of the last stage are the ones that the circuit should give.
    """
    from wirecheck.report import checklist, checklist_html

    spare(output, [path])
    case = case_of(path)
    sections = checklist.checklist(case, stage)
    if output is not None and output.endswith(".html"):
        name = os.path.basename(path) if path != "-" else ""
        write(output, checklist_html.render(case.board.title, name, sections))
        return
    if output is None or output == "-":
        say(checklist.render(case.board.title, sections, paint(color)))
    else:
        write(output, checklist.render(case.board.title, sections))
