"""`wirecheck demo`: the main job, on a board that travels with the package."""

from __future__ import annotations

import click

from wirecheck import files, inputs
from wirecheck.cli._screen import EFFORT, color_option, paint, say
from wirecheck.cli._sources import write

BOARD = "demo.wire"
PICTURE = "demo.svg"


@click.command(short_help="Check a board that ships, and draw it here.")
@color_option
def command(color: str) -> None:
    """Check a board with mistakes in it, and draw it into the current folder.

    The mistakes are meant to be there, so the exit status is 0.
    """
    from wirecheck import Picture, assemble, check
    from wirecheck.drawing.picture import sheet
    from wirecheck.report.formats.text import render
    from wirecheck.rules import manuals

    path = files.folder("boards") / BOARD
    data = inputs.read_board(path)
    report = check(data, file=BOARD, effort=EFFORT)
    _, board = assemble(data, BOARD)
    write(PICTURE, Picture(sheet(board, report.findings)).data(".svg"))
    say(render([report], manuals(), paint=paint(color)))
    say(f"\nThe board is {path}\nIts picture is {PICTURE} here; its flags are the findings above.\n")
