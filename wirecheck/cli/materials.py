"""`wirecheck materials`: what to buy and to cut for a board, or for a class that builds it."""

from __future__ import annotations

from collections.abc import Callable, Generator
from contextlib import closing
from typing import TYPE_CHECKING, NamedTuple

import click

from wirecheck.cli import FAILED
from wirecheck.cli._attempts import (
    Done,
    Ended,
    Limits,
    Outcome,
    Refused,
    attempt,
    complaint,
    limit_options,
    many,
)
from wirecheck.cli._screen import color_option, format_option, paint, progress, say
from wirecheck.cli._sources import PATH, Named, Unreadable, content, named, parts_option, shelf, spare, write
from wirecheck.cli._states import assembled
from wirecheck.inputs import is_beside_boards, shown_path
from wirecheck.report.looks import unpainted

if TYPE_CHECKING:
    from wirecheck.report.materials import Item

FORMATS = ("text", "csv", "html")
SLACK = 10
"""What is bought over what is cut where nobody says it, in percent: common practice."""


class Taken(NamedTuple):
    """What one board takes, and what to know before anything is bought for it."""

    title: str
    items: tuple[Item, ...]
    notes: tuple[str, ...]


@click.command(short_help="List what to buy and to cut for a board or a class.")
@click.argument("paths", metavar="FILE...", nargs=-1, required=True, type=PATH)
@click.option(
    "--class",
    "boards",
    type=click.IntRange(1, 1000),
    default=1,
    metavar="N",
    help="List what N of each board take.",
)
@click.option(
    "--slack",
    type=click.FloatRange(0, 100),
    default=SLACK,
    show_default=True,
    metavar="PERCENT",
    help="Buy so much more cable, wire and raceway than is cut.",
)
@format_option(FORMATS)
@click.option("-o", "--output", type=PATH, help="Write the list to this file.")
@parts_option
@color_option
@limit_options(several=True)
@click.pass_context
def command(
    ctx: click.Context,
    paths: tuple[str, ...],
    boards: int,
    slack: float,
    form: str,
    output: str | None,
    own: str | None,
    color: str,
    limits: Limits,
) -> None:
    """List what to buy and to cut for the board in FILE: boxes, devices, breakers, connectors, cable, marks.

    A folder means all boards in it, added up in one list. A board is counted as it is written; where the
    check finds mistakes on it, the list says so.
    """
    from wirecheck.report import materials, materials_html
    from wirecheck.report.plain import plain
    from wirecheck.report.spreadsheet import cells

    bad: list[click.ClickException] = []

    def complain(error: click.ClickException) -> None:
        bad.append(error)
        error.show()

    files = named(paths, complain)
    spare(output, [each.path for each in files], own)
    taken = _all_taken(files, own, limits, complain)
    if taken:
        items = materials.added((item for one in taken for item in one.items), boards)
        notes = tuple(note for one in taken for note in one.notes)
        titles = tuple(one.title for one in taken)
        listing = materials.Listing(titles, boards, items, notes, slack)
        if form == "text":
            text = materials.render(listing, unpainted if output else paint(color))
        elif form == "html":
            text = materials_html.render(listing)
        else:
            text = cells(materials.rows(items, slack))
            for note in notes:
                click.echo(f"wirecheck: {plain(note)}", err=True)
        if output is None and form == "text":
            say(text)
        else:
            # A program reads UTF-8, whatever a terminal here would show.
            write(output or "-", text)
    elif not bad:
        complain(Unreadable("there is no board here, only parts."))
    if bad:
        ctx.exit(FAILED)


def _all_taken(
    files: list[Named], own: str | None, limits: Limits, complain: Callable[[click.ClickException], None]
) -> list[Taken]:
    """What the board of each file takes; a file that has none is said, and stops no other."""
    taken: list[Taken] = []
    outcomes = _outcomes(files, own, limits)
    with closing(outcomes), progress(files, "Listing") as going:
        for each in going:
            match next(outcomes):
                case Done(Taken() as one, said):
                    click.echo(said, nl=False, err=True)
                    taken.append(one)
                case Refused(error):
                    complain(error)
                case Ended() as ended:
                    complain(complaint(each.path, ended))
    return taken


def _outcomes(
    files: list[Named], own: str | None, limits: Limits
) -> Generator[Outcome[Taken | None], None, None]:
    """What each file came to, in their order: in processes of their own where there are several."""
    work = [(each, own) for each in files]
    if not many(files, limits):
        yield from (attempt(_taken, *args) for args in work)
        return
    from wirecheck.cli._workers import in_workers

    given = content("-") if any(each.path == "-" for each in files) else b""
    yield from in_workers(_taken, work, limits, given)


def _taken(each: Named, own: str | None) -> Taken | None:
    """What the board of a file takes; None for a part in a folder of boards."""
    from wirecheck.assembly import left_out
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case
    from wirecheck.report.materials import materials
    from wirecheck.report.numbers import counted

    data = content(each.path)
    if not each.asked and is_beside_boards(data):
        return None
    _, board = assembled(each.path, shelf(own).beside(each.path), data)
    name = shown_path(each.path)
    unread = left_out(board, name)
    notes = [f"{unread[:1].upper()}{unread[1:]}"] if unread else []
    found = len([one for one in findings(Case(board)) if one.severity != "advice"])
    if found:
        notes.append(f"The check finds {counted(found, 'problem')} on {name}. Mend it before you buy for it.")
    return Taken(board.title, materials(board), tuple(notes))
