"""`wirecheck rules`: what is checked, and why."""

from __future__ import annotations

import click

from wirecheck.cli._screen import color_option, say


@click.command(short_help="List the rules, or explain one.")
@click.argument("name", metavar="[RULE]", required=False)
@color_option
def command(name: str | None, color: str) -> None:
    """List the rules; with RULE, say why it is there, its source, a wrong board and the right one."""
    from wirecheck.report import manual
    from wirecheck.rules import manuals

    known = manuals()
    if name is None:
        say(manual.listing(known), color)
    elif name in known:
        say(manual.page(known[name]), color)
    else:
        raise click.UsageError(unknown(f"There is no rule called {name}.", name, known))


def unknown(said: str, name: str, known: dict[str, object] | list[str] | tuple[str, ...]) -> str:
    """What is said of an unknown name, with the near one."""
    from wirecheck.language.words import nearest

    near = nearest(name, list(known))
    return f"{said} Did you mean {near}?" if near else said
