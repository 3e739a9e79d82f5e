"""`wirecheck labels`: labels for the wires and the screws of a board, to print and stick on."""

from __future__ import annotations

import click

from wirecheck.cli._attempts import Limits, finished, limit_options
from wirecheck.cli._screen import format_option
from wirecheck.cli._sources import PATH, Shelf, parts_option, spare, write
from wirecheck.cli._states import assembled, say_left_out
from wirecheck.inputs import shown_path

FORMATS = ("html", "csv")


@click.command(short_help="Make labels for the wires and the screws of a board.")
@click.argument("path", metavar="FILE", type=PATH)
@format_option(FORMATS)
@click.option("-o", "--output", type=PATH, help="Write the labels to this file.")
@parts_option
@limit_options()
def command(path: str, form: str, output: str | None, own: str | None, limits: Limits) -> None:
    """Make labels for the board in FILE: two for each wire, one for each screw that a wire goes to.

    A wire's label has its number, where its end goes, and where the other end is. The page is to print and
    to cut out; csv is for a printer of labels. A board is labeled as it is written; where the check finds
    mistakes on it, that is said.
    """
    spare(output, [path], own)
    write(output or "-", finished(path, limits, _made, path, form, own))


def _made(path: str, form: str, own: str | None) -> str:
    """The labels of the board in a file."""
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case
    from wirecheck.report.labels import labels, page, rows
    from wirecheck.report.numbers import counted
    from wirecheck.report.plain import plain
    from wirecheck.report.spreadsheet import cells

    _, board = assembled(path, Shelf(own).beside(path))
    say_left_out(board, path)
    found = len([one for one in findings(Case(board)) if one.severity != "advice"])
    problems = counted(found, "problem")
    notes = (
        [f"The check finds {problems} on {shown_path(path)}. Mend it before you label it."] if found else []
    )
    if form == "html":
        return page(labels(board), notes)
    for note in notes:
        click.echo(f"wirecheck: {plain(note)}", err=True)
    return cells(rows(labels(board)))
