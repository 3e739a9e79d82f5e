"""`wirecheck measure`: what a meter shows between two points."""

from __future__ import annotations

import click

from wirecheck.cli import FAILED
from wirecheck.cli._states import case_of, made, moved, state_options


@click.command(short_help="Read a meter: volts, ohms or amps.")
@click.argument("path", metavar="FILE", type=click.Path())
@click.argument("what", type=click.Choice(("volts", "ohms", "amps")))
@click.argument("points", metavar="POINT...", nargs=-1, required=True)
@state_options
@click.option(
    "--power", type=click.Choice(("on", "off")), default=None, help="On for volts and amps, off for ohms."
)
@click.pass_context
def command(
    ctx: click.Context,
    path: str,
    what: str,
    points: tuple[str, ...],
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    power: str | None,
) -> None:
    """Show what a meter shows on the board in FILE.

    volts A B and ohms A B take two points: a screw, as S1.common, or a wire's end in its place, as
    W1.black@A. amps takes one conductor, load or breaker. Ohms are measured with the power off.
    """
    from wirecheck.circuit import meter
    from wirecheck.report.readings import told

    case = case_of(path)
    if len(points) != (1 if what == "amps" else 2):
        raise click.UsageError(f"{what} takes {'one name' if what == 'amps' else 'two points'}.")
    positions, called = moved(case, settings), made(case, calls)
    power = power or ("off" if what == "ohms" else "on")
    if power == "off":
        off = {p.name: "off" for p in case.circuit.protections if p.name in case.board.breakers}
        positions = {**off, **positions} if what != "ohms" else {**positions, **off}
    settled = case.standing(positions, called)
    try:
        if what == "amps":
            reading = meter.amps(settled, points[0])
        else:
            a, b = (meter.point(case.circuit, name) for name in points)
            reading = (meter.volts if what == "volts" else meter.ohms)(settled, a, b)
    except meter.Ambiguous as error:
        offer = " Near it: " + ", ".join(error.choices) + "." if error.choices else ""
        raise click.UsageError(f"{error}{offer}") from error
    except meter.PowerOn:
        click.echo(
            "There is power between these points. An ohmmeter on a live circuit shows nothing true and can "
            "burst in your hand: de-energize, lock out, prove absence of voltage, and then measure ohms.",
            err=True,
        )
        ctx.exit(FAILED)
    click.echo(told(reading, what, points, settled), nl=False)
