"""`wirecheck parts`: the library."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from wirecheck.cli._screen import color_option, paint, say
from wirecheck.cli._sources import Shelf, Unreadable, content
from wirecheck.files import part_name

if TYPE_CHECKING:
    from wirecheck.parts.library import Library
    from wirecheck.parts.part import Part


def _known(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    return [name for name in Shelf().beside("-").names() if name.startswith(incomplete)]


@click.command(short_help="List the parts, or show one.")
@click.argument("name", metavar="[PART]", required=False, shell_complete=_known)
@click.option(
    "--table",
    type=click.Choice(("equipment", "safeties")),
    help="Print a Markdown table: equipment with calls, safeties and boards; or the proof of each safety.",
)
@color_option
def command(name: str | None, table: str | None, color: str) -> None:
    """List the parts. With PART, show its terminals, ratings, loads, contacts and sequence.

    Your own part files in the current folder are listed too. PART may also be the path of a part file.
    """
    from wirecheck.report import catalog

    if table:
        say(_table(table))
        return
    library = Shelf().beside(name if name and os.path.isfile(name) else "-")
    if name is None:
        say(catalog.listing(part for each in library.names() if (part := library.part(each))))
        return
    part = _part(name, library)
    inside = {child.part: found for child in part.children if (found := library.part(child.part))}
    say(catalog.page(part, inside, paint(color)))


def _table(which: str) -> str:
    """A table of what ships: the library, and the boards that are right."""
    from wirecheck import assemble, files, shipped_parts
    from wirecheck.judge.case import Case
    from wirecheck.report import equipment

    library = shipped_parts()
    cases = {
        path.parent.name: Case(assemble(files.read_board(path), path.name, library)[1])
        for path in sorted(files.folder("boards").glob("*/right.wire"))
    }
    return equipment.equipment(library, cases) if which == "equipment" else equipment.safeties(cases)


def _part(name: str, library: Library) -> Part:
    """The part of a name, or in the file of that name."""
    from wirecheck.language.words import nearest

    wanted = name
    if name.endswith(".wire") or os.path.isfile(name):
        inside = part_name(content(name))
        if inside is None:
            raise Unreadable(f"{name} is not a part: a part's file begins with: part NAME")
        wanted = inside
    part = library.part(wanted)
    if part is None:
        near = nearest(name, library.names())
        raise click.UsageError(
            f"There is no part called {name}." + (f" Did you mean {near}?" if near else "")
        )
    return part
