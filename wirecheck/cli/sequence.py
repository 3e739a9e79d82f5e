"""`wirecheck sequence`: a call played out in time."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from wirecheck.cli._attempts import Limits, finished, limit_options
from wirecheck.cli._screen import color_option, format_option, paint, say
from wirecheck.cli._sources import PATH, parts_option, spare, write
from wirecheck.cli._states import fault_options, faulty, moved, needed, state_options, usage

if TYPE_CHECKING:
    from wirecheck.picture import Paper
    from wirecheck.report.looks import Paint


@click.command(short_help="Play a call, step by step in time.")
@click.argument("path", metavar="FILE", type=PATH)
@parts_option
@state_options
@fault_options
@click.option(
    "--off-after",
    "off_after",
    metavar="TIME",
    help="How long the call lasts, such as '10 min'. Default: until all is at rest, and one minute more.",
)
@format_option(("text", "json"))
@click.option(
    "-o",
    "--output",
    type=PATH,
    help="Also draw the timing chart, in a file that ends in .svg .png .pdf or .dot.",
)
@click.option(
    "--page",
    type=click.Choice(["letter", "a4"]),
    help="Lay the chart out for paper: one sheet, or several that join.",
)
@color_option
@limit_options()
def command(
    path: str,
    own: str | None,
    wrong: tuple[str, ...],
    listed: str | None,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    off_after: str | None,
    form: str,
    output: str | None,
    page: Paper | None,
    color: str,
    limits: Limits,
) -> None:
    """Play a call on the board in FILE, and show what happens and when, to the end of the call.

    What --set names is held there the whole time: --set F.limit=open shows what a safety does, and
    --set F.pressure-switch=open shows why a furnace locks out.
    """
    from wirecheck.picture import ending_of

    with usage():
        ending = ending_of(output) if output else ""
    lasts = _seconds(off_after)
    spare(output, [path, *filter(None, (listed,))], own)
    text, chart = finished(
        path,
        limits,
        _played,
        path,
        own,
        wrong,
        listed,
        settings,
        calls,
        lasts,
        form,
        paint(color),
        ending,
        page,
    )
    if output:
        write(output, chart)
    say(text)


def _played(
    path: str,
    own: str | None,
    wrong: tuple[str, ...],
    listed: str | None,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    lasts: float | None,
    form: str,
    looks: Paint,
    ending: str,
    page: Paper | None,
) -> tuple[str, bytes]:
    """What happens in a call, in words or as data; and its chart, where a picture has an ending."""
    import json

    from wirecheck.caution import CAUTION
    from wirecheck.circuit.call import play_call
    from wirecheck.report import sequence
    from wirecheck.report.paragraphs import wrapped

    case = faulty(path, own, wrong, listed)
    held, called = moved(case, settings), needed(case, calls, "play")
    played = play_call(case.circuit, called, held, lasts)
    chart = b""
    if ending:
        from wirecheck.drawing.timing import timing_sheet
        from wirecheck.picture import Picture

        title = f"{case.board.title}: {' and '.join(called)}"
        chart = Picture(timing_sheet(played, title), page).data(ending)
    if form == "json":
        return json.dumps(sequence.as_data(case, played), indent=2) + "\n", chart
    return f"{sequence.text(case, played, looks)}\n{wrapped(CAUTION, '')}\n", chart


def _seconds(text: str | None) -> float | None:
    """The seconds of a time as a user writes it."""
    from wirecheck.circuit.play import MOST_SECONDS
    from wirecheck.language.quantity import quantity
    from wirecheck.language.syntax import Span

    if text is None:
        return None
    try:
        value = quantity(text, Span(1, 1, 1, len(text) + 1))
    except ValueError as error:
        raise click.UsageError(f"--off-after {text}: {error}.") from error
    if value.dimension != "time":
        raise click.UsageError(f"--off-after {text}: write a time with its unit, as 90 s, 10 min or 1 h.")
    if value.value > MOST_SECONDS:
        raise click.UsageError(f"--off-after {text}: a call is played for {MOST_SECONDS / 3600:g} h at most.")
    return value.value
