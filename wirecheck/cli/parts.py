"""`wirecheck parts`: the library."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from wirecheck.cli._manual import pages_option, put_pages
from wirecheck.cli._screen import color_option, paint, say
from wirecheck.cli._sources import Shelf, Unreadable, content, parts_option
from wirecheck.inputs import part_name

if TYPE_CHECKING:
    from wirecheck.parts.library import Library


def _known(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    # Of the files here only those that hold a part, which is seen when they are opened; few begin so.
    library = Shelf().beside("-")
    return [name for name in library.names() if name.startswith(incomplete) and library.part(name)]


@click.command(short_help="List the parts, or show one.")
@click.argument("name", metavar="[PART]", required=False, shell_complete=_known)
@click.option(
    "--table",
    type=click.Choice(("equipment", "safeties")),
    help="Print a Markdown table: equipment with calls, safeties and boards; or the proof of each safety.",
)
@click.option("--words", is_flag=True, help="Print every word of a part file, and what it means.")
@pages_option
@parts_option
@color_option
def command(
    name: str | None, table: str | None, words: bool, output: str | None, own: str | None, color: str
) -> None:
    """List the parts. With PART, show its terminals, ratings, loads, contacts and sequence.

    Your own part files in the current folder are listed too. A part is in the file of its name: chime in
    chime.wire. PART may also be the path of a part file. With -o, write all of it as pages, with those of the
    rules.
    """
    from wirecheck.report import catalog

    if output is not None and (name or table or words):
        raise click.UsageError("--output writes the pages of all parts: leave PART, --table and --words out.")
    if table:
        say(_table(table))
        return
    if words:
        from wirecheck import files
        from wirecheck.report import part_words

        say(part_words.page(files.grammar_text(), paint(color)))
        return
    library = Shelf(own).beside("-")
    if name is None:
        if output is None:
            say(catalog.listing(part for each in library.names() if (part := library.part(each))))
        else:
            put_pages(output, library, own)
        for each in library.names():
            _remark(each, library)
        return
    if name.endswith(".wire") or os.path.isfile(name):
        name, library = _in_file(name)
    part = library.part(name)
    if part is None:
        message, advice = library.missing(name)
        raise Unreadable(f"{message} {advice}" if advice else message)
    inside = {child.part: found for child in part.children if (found := library.part(child.part))}
    say(catalog.page(part, inside, paint(color)))
    _remark(name, library)


def _remark(name: str, library: Library) -> None:
    """Say of a part's file that it is not used, where that is so."""
    from wirecheck.parts.folder import NO_PART
    from wirecheck.parts.library import not_used
    from wirecheck.report.plain import plain

    unread, passed_over = library.unread(name), library.passed_over(name)
    if unread is not None and unread.unread != NO_PART:
        click.echo(f"wirecheck: {plain(library.missing(name)[0])}", err=True)
    if passed_over is not None:
        click.echo(f"wirecheck: {plain(not_used(*passed_over))}", err=True)


TABLE_STEPS = 50_000_000
"""What a board may cost for a table of all that ships: every safety is opened in every call."""


def _table(which: str) -> str:
    """A table of what ships: the library, and the boards that are right."""
    from wirecheck import assemble, files, inputs, shipped_parts
    from wirecheck.circuit.work import Work
    from wirecheck.judge.case import Case
    from wirecheck.report import equipment

    library = shipped_parts()
    cases = {
        path.parent.name: Case(assemble(inputs.read_board(path), path.name, library)[1], Work(TABLE_STEPS))
        for path in sorted(files.folder("boards").glob("*/right.wire"))
    }
    return equipment.equipment(library, cases) if which == "equipment" else equipment.safeties(cases)


def _in_file(path: str) -> tuple[str, Library]:
    """The name of the part in the file of a path, and a library that has it, whatever else has its name."""
    from wirecheck.assembly import parts_of

    inside = part_name(content(path))
    if inside is None:
        raise Unreadable(f"{path} is not a part: a part's file begins with: part NAME")
    name, ending = os.path.splitext(os.path.basename(path))
    if ending != ".wire":
        raise Unreadable(f"{path} is not found by its name: a part's file is called NAME.wire")
    return name, parts_of(os.path.dirname(path))
