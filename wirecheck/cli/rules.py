"""`wirecheck rules`: what is checked, and why."""

from __future__ import annotations

import click

from wirecheck.cli._screen import color_option, paint, say


def _known(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    from wirecheck.rules import manuals

    return [name for name in sorted(manuals()) if name.startswith(incomplete)]


@click.command(short_help="List the rules, or explain one.")
@click.argument("name", metavar="[RULE]", required=False, shell_complete=_known)
@color_option
def command(name: str | None, color: str) -> None:
    """List the rules. With RULE, show why it is there, its source, where the editions of the code differ, a
    wrong board and a right one."""
    from wirecheck import files
    from wirecheck.judge.finding import NOT_CHECKED
    from wirecheck.language.words import nearest
    from wirecheck.report import manual
    from wirecheck.rules import manuals
    from wirecheck.tables.editions import differences

    known = manuals()
    if name is None:
        say(manual.listing(known))
    elif name in known:
        wrong, right = (
            "" if name == NOT_CHECKED else files.rule_board(name, which) for which in ("wrong", "right")
        )
        found = differences(known[name].source)
        say(manual.page(known[name], wrong, right, paint(color), found))
    else:
        near = nearest(name, list(known))
        raise click.UsageError(
            f"There is no rule called {name}." + (f" Did you mean {near}?" if near else "")
        )
