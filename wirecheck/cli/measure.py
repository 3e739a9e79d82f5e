"""`wirecheck measure`: what a meter shows between two points."""

from __future__ import annotations

import click

from wirecheck.arguments import POWERS, QUANTITIES, Power, Quantity
from wirecheck.cli._attempts import Limits, finished, limit_options
from wirecheck.cli._screen import say
from wirecheck.cli._sources import PATH, Unreadable, parts_option
from wirecheck.cli._states import case_of, made, moved, state_options, usage


@click.command(short_help="Read a meter: volts, ohms or amps.")
@click.argument("path", metavar="FILE", type=PATH)
@click.argument("quantity", metavar="|".join(QUANTITIES), type=click.Choice(QUANTITIES))
@click.argument("points", metavar="POINT...", nargs=-1, required=True)
@parts_option
@state_options
@click.option("--power", type=click.Choice(POWERS), help="Default: on for volts and amps, off for ohms.")
@click.option(
    "--lift",
    "lifted",
    multiple=True,
    metavar="END",
    help="Measure with a wire's end off its screw, such as W1.white@A. Can be repeated.",
)
@limit_options()
def command(
    path: str,
    own: str | None,
    quantity: Quantity,
    points: tuple[str, ...],
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    power: Power | None,
    lifted: tuple[str, ...],
    limits: Limits,
) -> None:
    """Show what a meter reads on the board in FILE.

    volts and ohms take two points: a screw, such as S1.common, or a wire's end in its place,
    such as W1.black@A. amps takes one conductor, load or breaker. Ohms are measured with the power off.
    Lift a wire's end to measure what it is on by itself, without what else it leads to.
    """
    say(finished(path, limits, _measured, path, own, quantity, points, settings, calls, power, lifted))


def _measured(
    path: str,
    own: str | None,
    quantity: Quantity,
    points: tuple[str, ...],
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    power: Power | None,
    lifted: tuple[str, ...],
) -> str:
    """What the meter shows, in words."""
    from wirecheck import PowerOn, arguments
    from wirecheck.report.readings import said

    case = case_of(path, own)
    set_to, called = moved(case, settings), made(case, calls)
    try:
        with usage():
            reading, settled = arguments.reading(case, quantity, points, set_to, called, power, lifted)
    except PowerOn as error:
        raise Unreadable(str(error)) from error
    return said(reading, points, settled)
