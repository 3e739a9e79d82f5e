"""`wirecheck energize`: what is live and what runs."""

from __future__ import annotations

import click

from wirecheck.cli._screen import color_option, say
from wirecheck.cli._states import case_of, made, moved, state_options


@click.command(short_help="Put power on: what is live and what runs.")
@click.argument("path", metavar="FILE", type=click.Path())
@state_options
@click.option(
    "-f", "--format", "form", type=click.Choice(("text", "json")), default="text", help="How to say it."
)
@color_option
def command(path: str, settings: tuple[str, ...], calls: tuple[str, ...], form: str, color: str) -> None:
    """Put power on the board in FILE, in thought, and show what is live and what runs.

    With --set or --call, that one state in full; with neither, every position of the switches and
    every call in a table.
    """
    from wirecheck.report import energized, light_up
    from wirecheck.report.report import CAUTION
    from wirecheck.report.text import wrapped

    case = case_of(path)
    positions, called = moved(case, settings), made(case, calls)
    asked = bool(settings or calls)
    if form == "json":
        import json

        if asked:
            settled = case.standing(positions, called)
            states = {case.when(settled).removeprefix(" with ") or "at rest": settled}
        else:
            states = case.named_states()
        say(json.dumps(energized.as_data(case, states), indent=2) + "\n", "never")
        return
    text = energized.one_state(case, case.standing(positions, called)) if asked else light_up.render(case)
    say(f"{text}\n{wrapped(CAUTION, '')}\n", color)
