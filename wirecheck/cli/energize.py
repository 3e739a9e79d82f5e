"""`wirecheck energize`: what is live and what runs."""

from __future__ import annotations

import click

from wirecheck.cli._screen import color_option, paint, say
from wirecheck.cli._states import case_of, made, moved, state_options


@click.command(short_help="Put power on: what is live and what runs.")
@click.argument("path", metavar="FILE", type=click.Path())
@state_options
@click.option(
    "--starting", is_flag=True, help="The moment at which the motors start, and draw locked-rotor current."
)
@click.option(
    "-f", "--format", "form", type=click.Choice(("text", "json")), default="text", help="How to say it."
)
@color_option
def command(
    path: str, settings: tuple[str, ...], calls: tuple[str, ...], starting: bool, form: str, color: str
) -> None:
    """Put power on the board in FILE, in thought, and show what is live and what runs.

    With --set, --call or --starting, that one state in full; with none of them, every position of the
    switches and every call in a table.
    """
    import json

    from wirecheck.caution import CAUTION
    from wirecheck.circuit import settle
    from wirecheck.report import energized, position_table
    from wirecheck.report.text import wrapped

    case = case_of(path)
    positions, called = moved(case, settings), made(case, calls)
    if not (settings or calls or starting):
        if form == "json":
            say(json.dumps(energized.as_data(case, case.named_states()), indent=2) + "\n")
        else:
            say(f"{position_table.render(case, paint(color))}\n{wrapped(CAUTION, '')}\n")
        return
    settled = case.standing(positions, called)
    name = case.when(settled).removeprefix(" with ") or "at rest"
    motors = frozenset[str]()
    if starting:
        motors = energized.motors(settled)
        settled, name = settle.starting(settled), f"{name}, as the motors start"
    if form == "json":
        say(json.dumps(energized.as_data(case, {name: settled}), indent=2) + "\n")
    else:
        say(f"{energized.one_state(case, settled, motors, paint(color))}\n{wrapped(CAUTION, '')}\n")
