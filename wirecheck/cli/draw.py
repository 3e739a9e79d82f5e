"""`wirecheck draw`: the picture of a board, of its states, of a whole folder of boards."""

from __future__ import annotations

import os
from contextlib import closing
from typing import TYPE_CHECKING, NamedTuple

import click

from wirecheck.cli import FAILED
from wirecheck.cli._attempts import Done, Ended, Limits, Refused, complaint, finished, limit_options
from wirecheck.cli._screen import effort_option, progress
from wirecheck.cli._sources import PATH, Shelf, content, named, parts_option, shelf, spare, write
from wirecheck.cli._states import (
    assembled,
    case_of,
    made,
    moved,
    needed,
    say_left_out,
    state_options,
    usage,
)
from wirecheck.inputs import is_beside_boards, shown_path
from wirecheck.picture import Colors, Kind, Paper, Picture, ending_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from wirecheck.circuit.call import CallPlayed
    from wirecheck.circuit.settle import Settled
    from wirecheck.drawing.gallery import Exhibit
    from wirecheck.drawing.steps import Shot
    from wirecheck.judge.finding import Finding
    from wirecheck.model.board import Board


@click.command(short_help="Draw a board, or a folder of boards.")
@click.argument("file", type=PATH)
@click.option(
    "-o",
    "--output",
    required=True,
    type=PATH,
    help="Write to this file: .svg .png .pdf or .dot; .html for a page with the insides of equipment, for "
    "--steps and for a folder; - writes SVG on standard output.",
)
@click.option(
    "--kind",
    type=click.Choice(["wiring", "ladder"]),
    default="wiring",
    help="wiring: where things are. ladder: how it works.",
)
@click.option("--open", "inside", metavar="NAME", help="Draw what is inside this device, wired.")
@parts_option
@state_options
@click.option("--steps", is_flag=True, help="Make a page that steps through the call, from rest to rest.")
@click.option(
    "--page",
    type=click.Choice(["letter", "a4"]),
    help="Lay the picture out for paper: one sheet, or several that join.",
)
@click.option("--dark", is_flag=True, help="Draw light on dark.")
@click.option("--bare", is_flag=True, help="Leave out the flags.")
@click.option("--blank", is_flag=True, help="Leave out the wires: a handout, to be wired by pencil.")
@effort_option
@limit_options(several=True)
@click.pass_context
def command(
    ctx: click.Context,
    file: str,
    output: str,
    kind: Kind,
    inside: str | None,
    own: str | None,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    steps: bool,
    page: Paper | None,
    dark: bool,
    bare: bool,
    blank: bool,
    effort: int,
    limits: Limits,
) -> None:
    """Draw the board in FILE: boxes, devices, cables, and wires in their colors. Findings are numbered flags.

    Where a mistake is found, its flag is on what you would change. A small flag of the same number is on what
    suffers from it.

    With --set or --call, the picture shows that state: what is live, what carries current, what runs.
    A defrost, which its clock ends by itself, is shown at its beginning.
    With --steps, it is a page that steps through the call. A folder becomes one page with all its boards,
    and a board that could not be drawn is on it as not-checked.

    With --open, it is the inside of one device, as on the diagram in a cabinet's door: line voltage
    apart from 24 V, each screw at the edge, and every wire behind it. An .html file holds both diagrams
    and the inside of each piece of equipment, one to be chosen.

    With --blank, it is a handout: the places, the devices and the cables where the whole picture has them,
    and no wire. The same command without --blank draws its answer sheet.
    """
    folder = file != "-" and os.path.isdir(file)
    colors: Colors = "dark" if dark else "paper"
    if inside is not None and (folder or steps):
        raise click.UsageError("--open is for one board, and without --steps.")
    if blank and (folder or steps or inside or settings or calls or kind != "wiring" or _is_html(output)):
        raise click.UsageError("--blank is for the wiring of one board at rest, as .svg .png .pdf or .dot")
    if not folder:
        spare(output, [file], own)
    if folder:
        _ends_in_html(output, "the page of a folder")
        if settings or calls or steps:
            raise click.UsageError("--set, --call and --steps are for one board, and this is a folder.")
        if not _gallery(file, own, output, colors, page or "letter", not bare, effort, limits):
            ctx.exit(FAILED)
    elif steps:
        _ends_in_html(output, "a page of steps")
        write(output, finished(file, limits, _steps, file, own, settings, calls, colors))
    elif _is_html(output):
        asked = (file, own, settings, calls, kind, inside, colors, page, not bare, effort)
        write(output, finished(file, limits, _opened, *asked))
    else:
        with usage():
            ending = ".svg" if output == "-" else ending_of(output)
        asked = (file, own, settings, calls, kind, inside, colors, page, not bare, effort)
        write(output, finished(file, limits, _picture, *asked, blank, ending))


def _is_html(output: str) -> bool:
    return os.path.splitext(output)[1].lower() == ".html"


def _ends_in_html(output: str, what: str) -> None:
    if not _is_html(output):
        raise click.UsageError(f"{what} must end in .html")


class _Shown(NamedTuple):
    """The board in a file, what was found on it, and the state that is asked for."""

    board: Board
    findings: Sequence[Finding]
    state: Settled | None


def _shown(
    file: str, own: str | None, settings: Sequence[str], calls: Sequence[str], flagged: bool, effort: int
) -> _Shown:
    from wirecheck import arguments
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case
    from wirecheck.mend.explained import explained

    library = Shelf(own).beside(file)
    syntax, board = assembled(file, library)
    if settings or calls:
        say_left_out(board, file)
    case = Case(board)
    state = arguments.state(case, moved(case, settings), made(case, calls))
    found = findings(case) if flagged else ()
    return _Shown(board, explained(found, case, syntax, library, "final", effort).findings, state)


def _picture(
    file: str,
    own: str | None,
    settings: Sequence[str],
    calls: Sequence[str],
    kind: Kind,
    inside: str | None,
    colors: Colors,
    page: Paper | None,
    flagged: bool,
    effort: int,
    blank: bool,
    ending: str,
) -> bytes:
    """The picture of the board in a file, in the state that is asked for, as a file's content."""
    from wirecheck.drawing.picture import sheet

    flagged = flagged and kind == "wiring" and inside is None
    board, found, state = _shown(file, own, settings, calls, flagged, effort)
    with usage():
        drawn = sheet(board, found, kind, colors, page, state, inside=inside, unwired=blank)
    return Picture(drawn, page).data(ending)


def _opened(
    file: str,
    own: str | None,
    settings: Sequence[str],
    calls: Sequence[str],
    kind: Kind,
    inside: str | None,
    colors: Colors,
    page: Paper | None,
    flagged: bool,
    effort: int,
) -> str:
    """The page of the board in a file, with the insides of its equipment."""
    from wirecheck.arguments import one_of
    from wirecheck.drawing.opened import equipment, leaves, opened_page

    board, found, state = _shown(file, own, settings, calls, flagged, effort)
    with usage():
        if inside is not None:
            one_of(inside, [device.name for device in equipment(board)], "equipment")
    pictures = leaves(board, found, kind, colors, state, page or "letter", inside)
    return opened_page(board, pictures, inside, colors, page or "letter", state)


def _steps(file: str, own: str | None, settings: Sequence[str], calls: Sequence[str], colors: str) -> str:
    """The page that steps through a call."""
    from wirecheck.circuit.call import play_call
    from wirecheck.drawing.steps import steps_page

    case = case_of(file, own)
    held, called = moved(case, settings), needed(case, calls, "step through")
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


def _gallery(
    folder: str,
    own: str | None,
    output: str,
    colors: str,
    page: str,
    flagged: bool,
    effort: int,
    limits: Limits,
) -> bool:
    """Write the page of every board in a folder; whether all of them are on it."""
    from wirecheck.cli._workers import in_workers
    from wirecheck.drawing.gallery import gallery_page, not_drawn
    from wirecheck.report.plain import plain
    from wirecheck.report.report import not_checked
    from wirecheck.report.verdict import passed_by

    left_out: list[click.ClickException] = []
    skipped: list[str] = []
    exhibits: list[Exhibit] = []
    inside = [path for path, _ in named([folder], left_out.append)]
    spare(output, inside, own)
    names = [os.path.relpath(path, folder) for path in inside]
    work = [
        (path, name, own, flagged, effort, colors, page) for path, name in zip(inside, names, strict=True)
    ]
    with closing(in_workers(_exhibit, work, limits)) as outcomes, progress(names, "Drawing") as going:
        for name in going:
            match next(outcomes):
                case Done(None):
                    skipped.append(os.path.join(folder, name))
                case Done(shown):
                    exhibits.append(shown)
                case Refused(error):
                    left_out.append(error)
                case Ended(message, to_do) as ended:
                    left_out.append(complaint(name, ended))
                    exhibits.append(not_drawn(shown_path(name), not_checked(message, to_do)))
    for each in left_out:
        each.show()
    if skipped:
        click.echo(f"wirecheck: {plain(passed_by(skipped))}", err=True)
    if exhibits:
        name = os.path.basename(os.path.abspath(folder))
        write(output, gallery_page(f"The boards in {shown_path(name)}", exhibits, colors, page))
    return not left_out


def _exhibit(
    path: str, name: str, own: str | None, flagged: bool, effort: int, colors: str, page: str
) -> Exhibit | None:
    """The board in a file, drawn; None for a part."""
    from wirecheck.drawing.gallery import exhibit
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case
    from wirecheck.judge.unjudged import unjudged
    from wirecheck.language.reader import on_one_line
    from wirecheck.mend.explained import explained

    data = content(path)
    if is_beside_boards(data):
        return None
    library = shelf(own).beside(path)
    syntax, board = assembled(path, library, data)
    expects = [on_one_line(syntax.text, each.span) for each in board.expectations]
    case = Case(board)
    found, left = (findings(case), unjudged(case)) if flagged else ((), ())
    found = explained(found, case, syntax, library, "final", effort).findings
    return exhibit(shown_path(name), board, expects, found, left, colors, page)
