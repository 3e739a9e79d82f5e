"""`wirecheck energize`: what is live and what runs."""

from __future__ import annotations

import click

from wirecheck.cli._attempts import Limits, finished, limit_options
from wirecheck.cli._screen import color_option, format_option, paint, say
from wirecheck.cli._sources import PATH, parts_option
from wirecheck.cli._states import fault_options, faulty, made, moved, state_options
from wirecheck.report.looks import Paint


@click.command(short_help="Work out what is live and what runs.")
@click.argument("path", metavar="FILE", type=PATH)
@parts_option
@state_options
@fault_options
@click.option("--starting", is_flag=True, help="Show the moment when the motors start.")
@format_option(("text", "json"))
@color_option
@limit_options()
def command(
    path: str,
    own: str | None,
    wrong: tuple[str, ...],
    listed: str | None,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    starting: bool,
    form: str,
    color: str,
    limits: Limits,
) -> None:
    """Work out what is live and what runs with the power on.

    With --set, --call or --starting, it shows that one state in full. With none of them, it shows
    every position of the switches and every call in a table.
    """
    say(
        finished(
            path, limits, _energized, path, own, wrong, listed, settings, calls, starting, form, paint(color)
        )
    )


def _energized(
    path: str,
    own: str | None,
    wrong: tuple[str, ...],
    listed: str | None,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    starting: bool,
    form: str,
    looks: Paint,
) -> str:
    """The state that is asked for, or the table of all of them."""
    import json

    from wirecheck.caution import CAUTION
    from wirecheck.report import energized, position_table
    from wirecheck.report.paragraphs import wrapped

    case = faulty(path, own, wrong, listed)
    asked_for = bool(settings or calls or starting)
    one = energized.energized(case, moved(case, settings), made(case, calls), starting)
    if form == "json":
        states = (one,) if asked_for else energized.every_state(case)
        return json.dumps(energized.as_data(case, states), indent=2) + "\n"
    if asked_for:
        return one.render(looks)
    return f"{position_table.render(case, looks)}\n{wrapped(CAUTION, '')}\n"
