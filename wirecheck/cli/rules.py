"""`wirecheck rules`: what is checked, and why."""

from __future__ import annotations

import click

from wirecheck.cli._manual import pages_option, put_pages, rule_page
from wirecheck.cli._screen import color_option, paint, say
from wirecheck.cli._sources import Shelf


def _known(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    from wirecheck.rules import manuals

    return [name for name in sorted(manuals()) if name.startswith(incomplete)]


@click.command(short_help="List the rules, or explain one.")
@click.argument("name", metavar="[RULE]", required=False, shell_complete=_known)
@pages_option
@color_option
def command(name: str | None, output: str | None, color: str) -> None:
    """List the rules. With RULE, show why it is there, its source, where the editions of the code differ, a
    wrong board and a right one. With -o, write all of it as pages, with those of the parts that ship."""
    from wirecheck.language.words import nearest
    from wirecheck.report import manual
    from wirecheck.rules import manuals

    known = manuals()
    if output is not None:
        if name is not None:
            raise click.UsageError("--output writes the pages of all rules: leave RULE out.")
        put_pages(output, Shelf().first())
    elif name is None:
        say(manual.listing(known))
    elif name in known:
        each = rule_page(known[name])
        say(manual.page(each.manual, each.wrong, each.right, paint(color), each.differences))
    else:
        near = nearest(name, list(known))
        raise click.UsageError(
            f"There is no rule called {name}." + (f" Did you mean {near}?" if near else "")
        )
