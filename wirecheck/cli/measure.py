"""`wirecheck measure`: what a meter shows between two points."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from wirecheck.arguments import POWERS, QUANTITIES, Power, Quantity, need_end, seconds
from wirecheck.cli._attempts import Limits, finished, limit_options
from wirecheck.cli._screen import format_option, say
from wirecheck.cli._session import readings, script_option
from wirecheck.cli._sources import PATH, Unreadable, parts_option
from wirecheck.cli._states import fault_options, faulty, made, moved, state_options, usage

if TYPE_CHECKING:
    from wirecheck.judge.case import Case
    from wirecheck.troubles.bench import Bench


@click.command(short_help="Read a meter: volts, ohms or amps.")
@click.argument("path", metavar="FILE", type=PATH)
@click.argument(
    "quantity", metavar=f"[{'|'.join(QUANTITIES)}]", type=click.Choice(QUANTITIES), required=False
)
@click.argument("points", metavar="[POINT...]", nargs=-1)
@parts_option
@state_options
@fault_options
@click.option(
    "--after", metavar="TIME", help="So long after the call is made, such as '20 s'. Default: in the end."
)
@click.option("--power", type=click.Choice(POWERS), help="Default: on for volts and amps, off for ohms.")
@click.option(
    "--lift",
    "lifted",
    multiple=True,
    metavar="END",
    help="Measure with a wire's end off its screw, such as W1.white@A. Can be repeated.",
)
@script_option
@format_option(("text", "json"))
@limit_options()
def command(
    path: str,
    own: str | None,
    wrong: tuple[str, ...],
    listed: str | None,
    quantity: Quantity | None,
    points: tuple[str, ...],
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    after: str | None,
    power: Power | None,
    lifted: tuple[str, ...],
    script: str | None,
    form: str,
    limits: Limits,
) -> None:
    """Show what a meter reads on the board in FILE.

    volts and ohms take two points: a screw, such as S1.common, or a wire's end in its place,
    such as W1.black@A. amps takes one conductor, load or breaker. Ohms are measured with the power off.
    Lift a wire's end to measure what it is on by itself, without what else it leads to.

    An igniter has power for seconds only: --after '20 s' measures at that moment of a call.

    Without a quantity it takes one reading after another, as they are typed or as --script lists them,
    and calls, switches and the power between them. "help" says how each is written.
    """
    with usage("--after"):
        moment = None if after is None else seconds(after)
    if quantity is None:
        if limits.asked:
            raise click.UsageError("--seconds and --megabytes are for one reading.")
        if moment is not None:
            raise click.UsageError("--after is for one reading: among several, ask to wait.")
        bench = _bench(faulty(path, own, wrong, listed), settings, calls, power, lifted)
        say(readings(bench, script, form))
        return
    if script is not None or form != "text":
        raise click.UsageError("--script and --format are for several readings: name no quantity.")
    if not points:
        raise click.UsageError("Name the points to measure between, as F.R F.C.")
    say(
        finished(
            path,
            limits,
            _measured,
            path,
            own,
            wrong,
            listed,
            quantity,
            points,
            settings,
            calls,
            power,
            lifted,
            moment,
        )
    )


def _bench(
    case: Case,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    power: Power | None,
    lifted: tuple[str, ...],
) -> Bench:
    """The board in the state that the options ask for, to begin with."""
    from wirecheck.troubles.bench import Bench

    bench = Bench(case)
    bench.moved, bench.calls = moved(case, settings), made(case, calls)
    bench.power = power or "on"
    for end in lifted:
        with usage("--lift"):
            need_end(case, end)
        bench.lifted[end] = None
    return bench


def _measured(
    path: str,
    own: str | None,
    wrong: tuple[str, ...],
    listed: str | None,
    quantity: Quantity,
    points: tuple[str, ...],
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    power: Power | None,
    lifted: tuple[str, ...],
    after: float | None,
) -> str:
    """What the meter shows, in words."""
    from wirecheck import PowerOn, arguments
    from wirecheck.judge.state_name import StateName
    from wirecheck.report.dangers import told
    from wirecheck.report.paragraphs import wrapped
    from wirecheck.report.readings import said

    case = faulty(path, own, wrong, listed)
    set_to, called = moved(case, settings), made(case, calls)
    try:
        with usage():
            reading, settled = arguments.reading(case, quantity, points, set_to, called, power, lifted, after)
    except PowerOn as error:
        raise Unreadable(str(error)) from error
    text = said(reading, points, settled)
    off = (power or ("off" if quantity == "ohms" else "on")) == "off"
    # What is dangerous is told of the board as it stands, and not with a wire lifted.
    if off or lifted or not case.faults:
        return text
    state = StateName(tuple(set_to.items()), called)
    return text + "".join(wrapped(danger, "  ") + "\n" for danger in told(case, [state]))
