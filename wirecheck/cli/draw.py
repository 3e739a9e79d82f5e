"""`wirecheck draw`: the picture of a board."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from wirecheck import NotABoard
from wirecheck.cli._sources import Shelf, Unreadable, content, shown_path, write

if TYPE_CHECKING:
    from collections.abc import Sequence

    from wirecheck.model.board import Board
    from wirecheck.rules.finding import Finding

ENDINGS = (".svg", ".png", ".pdf", ".dot")


@click.command(short_help="Draw a board.")
@click.argument("file", type=click.Path())
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(),
    help="The picture's file, ending in .svg .png .pdf or .dot; - is SVG on standard output.",
)
@click.option("--page", type=click.Choice(["letter", "a4"]), help="Fit the picture to one page.")
@click.option("--bare", is_flag=True, help="Leave out the flags of the findings.")
def command(file: str, output: str, page: str | None, bare: bool) -> None:
    """Draw FILE as wired: boxes, devices, cables, wires in their colors; findings are numbered flags."""
    ending = os.path.splitext(output)[1].lower() if output != "-" else ".svg"
    if ending not in ENDINGS:
        raise click.UsageError(f"{output} must end in one of: {' '.join(ENDINGS)}")
    board, found = examined(file, flagged=not bare)
    write(output, picture(board, found, ending, page))


def examined(file: str, flagged: bool) -> tuple[Board, Sequence[Finding]]:
    """The board in a file, and its findings where they are wanted."""
    from wirecheck import assemble
    from wirecheck.rules import findings
    from wirecheck.rules.case import Case

    try:
        _, board = assemble(content(file), shown_path(file), Shelf().beside(file))
    except NotABoard as error:
        raise Unreadable(f"{file} is not a board: {error}.") from error
    return board, findings(Case(board)) if flagged else ()


def picture(board: Board, found: Sequence[Finding], ending: str, page: str | None = None) -> str | bytes:
    """A board's picture as what the ending says."""
    from wirecheck.draw.picture import dot, draw
    from wirecheck.draw.render import to_pdf, to_png

    if ending == ".dot":
        return dot(board, found)
    svg = draw(board, found, page=page)
    if ending == ".png":
        return to_png(svg)
    return to_pdf(svg) if ending == ".pdf" else svg
