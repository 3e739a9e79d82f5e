"""`wirecheck draw`: the picture of a board, of its states, of a whole folder of boards."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from wirecheck import NotABoard
from wirecheck.cli import FAILED
from wirecheck.cli._sources import Shelf, Unreadable, content, named, shown_path, write
from wirecheck.cli._states import case_of, made, moved, state_options

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from wirecheck.circuit.call import CallPlayed
    from wirecheck.circuit.settle import Settled
    from wirecheck.drawing.gallery import Exhibit
    from wirecheck.drawing.steps import Shot
    from wirecheck.judge.case import Case
    from wirecheck.judge.finding import Finding
    from wirecheck.model.board import Board

ENDINGS = (".svg", ".png", ".pdf", ".dot")


@click.command(short_help="Draw a board, or a folder of boards.")
@click.argument("file", type=click.Path())
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(),
    help="The picture's file, ending in .svg .png .pdf or .dot; .html for --steps and for a folder; "
    "- is SVG on standard output.",
)
@click.option(
    "--kind",
    type=click.Choice(["wiring", "ladder"]),
    default="wiring",
    help="Where things are, or how it works.",
)
@state_options
@click.option("--steps", is_flag=True, help="A page that steps through the call, from rest to rest.")
@click.option("--page", type=click.Choice(["letter", "a4"]), help="Fit the picture to one page.")
@click.option("--dark", is_flag=True, help="Light on dark.")
@click.option("--bare", is_flag=True, help="Leave out the flags of the findings.")
@click.pass_context
def command(
    ctx: click.Context,
    file: str,
    output: str,
    kind: str,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    steps: bool,
    page: str | None,
    dark: bool,
    bare: bool,
) -> None:
    """Draw FILE: boxes, devices, cables, wires in their colors; findings are numbered flags.

    With --set or --call it is drawn in that state: what is live, what carries current, what runs.
    With --steps, as one page that steps through the call. A folder is drawn as one page of all its boards.
    """
    ending = os.path.splitext(output)[1].lower() if output != "-" else ".svg"
    folder = file != "-" and os.path.isdir(file)
    wanted = (".html",) if folder or steps else ENDINGS
    if ending not in wanted:
        what = "the page of a folder" if folder else "a page of steps" if steps else output
        raise click.UsageError(
            f"{what} must end in {'one of: ' if len(wanted) > 1 else ''}{' '.join(wanted)}"
        )
    colors = "dark" if dark else "paper"
    if folder:
        if settings or calls or steps:
            raise click.UsageError("--set, --call and --steps are for one board, and this is a folder.")
        if not _gallery(file, output, colors, page or "letter", flagged=not bare):
            ctx.exit(FAILED)
    elif steps:
        write(output, _steps(file, settings, calls, colors))
    elif settings or calls:
        case = case_of(file)
        state = case.standing(moved(case, settings), made(case, calls))
        found = () if bare else _found(case)
        write(output, picture(case.board, found, ending, page, kind, colors, state))
    else:
        board, found = examined(file, flagged=not bare)
        write(output, picture(board, found, ending, page, kind, colors))


def examined(file: str, flagged: bool) -> tuple[Board, Sequence[Finding]]:
    """The board in a file, and its findings where they are wanted."""
    from wirecheck import assemble
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case

    try:
        _, board = assemble(content(file), shown_path(file), Shelf().beside(file))
    except NotABoard as error:
        raise Unreadable(f"{file} is not a board: {error}.") from error
    return board, findings(Case(board)) if flagged else ()


def picture(
    board: Board,
    found: Sequence[Finding],
    ending: str,
    page: str | None = None,
    kind: str = "wiring",
    colors: str = "paper",
    state: Settled | None = None,
) -> str | bytes:
    """A board's picture as what the ending says."""
    from wirecheck.drawing.picture import dot, draw
    from wirecheck.drawing.render import to_pdf, to_png

    if ending == ".dot":
        return dot(board, found, kind, colors, page, state)
    svg = draw(board, found, kind, colors, page, state)
    if ending == ".png":
        return to_png(svg)
    return to_pdf(svg) if ending == ".pdf" else svg


def _found(case: Case) -> Sequence[Finding]:
    from wirecheck.findings import findings

    return findings(case)


def _steps(file: str, settings: Sequence[str], calls: Sequence[str], colors: str) -> str:
    """The page that steps through a call."""
    from wirecheck.circuit.call import play_call
    from wirecheck.drawing.steps import steps_page

    case = case_of(file)
    held, called = moved(case, settings), made(case, calls)
    if not called:
        offer = f" This board has: {', '.join(case.calls)}." if case.calls else " This board has none."
        raise click.UsageError(f"Name a call to step through, as --call heat.{offer}")
    played = play_call(case.circuit, called, held)
    words = [" and ".join(called), *(f"{name} held {value}" for name, value in held.items())]
    return steps_page(case.board, f"{case.board.title}: {', '.join(words)}", list(_shots(played)), colors)


def _shots(played: CallPlayed) -> Iterator[Shot]:
    """Each step of a call with its moment and its words, the board at rest first."""
    from wirecheck.drawing.steps import Shot
    from wirecheck.report.sequence import clock, events

    yield Shot("before", ["at rest"], played.before)
    for step in played.steps:
        yield Shot(clock(step.time), [event.text for event in events(step)], step.settled)


def _gallery(folder: str, output: str, colors: str, page: str, flagged: bool) -> bool:
    """Write the page of every board in a folder; whether all of them are on it."""
    from wirecheck.drawing.gallery import gallery_page

    left_out: list[Unreadable] = []
    exhibits = [
        exhibit
        for path, _ in named([folder], left_out.append)
        for exhibit in _exhibits(path, os.path.relpath(path, folder), flagged, left_out)
    ]
    for error in left_out:
        error.show()
    if exhibits:
        name = os.path.basename(os.path.abspath(folder))
        write(output, gallery_page(f"The boards in {shown_path(name)}", exhibits, colors, page))
    return not left_out


def _exhibits(path: str, name: str, flagged: bool, left_out: list[Unreadable]) -> Iterator[Exhibit]:
    """The board in a file; a part is none, and what cannot be read is left out."""
    from wirecheck.cli._sources import part_name
    from wirecheck.drawing.gallery import Exhibit

    try:
        data = content(path)
        if part_name(data):
            return
        board, found = examined(path, flagged)
    except Unreadable as error:
        left_out.append(error)
        return
    lines = data.decode("utf-8", "replace").splitlines()
    expects = [
        " ".join(line.partition("#")[0].strip() for line in lines[each.span.line - 1 : each.span.end_line])
        for each in board.expectations
    ]
    yield Exhibit(shown_path(name), board, expects, found)
