"""`wirecheck sequence`: a call played out in time."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from wirecheck.cli._screen import color_option, paint, say
from wirecheck.cli._sources import write
from wirecheck.cli._states import case_of, made, moved, state_options

if TYPE_CHECKING:
    from wirecheck.drawing.sheet import Sheet

ENDINGS = (".svg", ".png", ".pdf", ".dot")


@click.command(short_help="Play a call out in time.")
@click.argument("path", metavar="FILE", type=click.Path())
@state_options
@click.option(
    "--off-after",
    "off_after",
    metavar="TIME",
    help="How long the call stands, as '10 min'. Without it: until nothing more happens, and a minute on.",
)
@click.option(
    "-f", "--format", "form", type=click.Choice(("text", "json")), default="text", help="How to say it."
)
@click.option(
    "-o",
    "--output",
    type=click.Path(),
    help="Draw the timing chart too, into a file that ends in .svg .png .pdf or .dot.",
)
@click.option("--page", type=click.Choice(["letter", "a4"]), help="Fit the chart to one page.")
@color_option
def command(
    path: str,
    settings: tuple[str, ...],
    calls: tuple[str, ...],
    off_after: str | None,
    form: str,
    output: str | None,
    page: str | None,
    color: str,
) -> None:
    """Make a call on the board in FILE, in thought, and tell what happens and when, to the end of the call.

    What --set names is held there all the while: --set F.limit=open shows what a safety does, and
    --set F.pressure-switch=open why a furnace locks out.
    """
    from wirecheck.caution import CAUTION
    from wirecheck.circuit.call import play_call
    from wirecheck.report import sequence
    from wirecheck.report.text import wrapped

    ending = os.path.splitext(output)[1].lower() if output else ""
    if output and ending not in ENDINGS:
        raise click.UsageError(f"{output} must end in one of: {' '.join(ENDINGS)}")
    lasts = _seconds(off_after)
    case = case_of(path)
    held, called = moved(case, settings), made(case, calls)
    if not called:
        offer = f" This board has: {', '.join(case.calls)}." if case.calls else " This board has none."
        raise click.UsageError(f"Name a call to play, as --call heat.{offer}")
    played = play_call(case.circuit, called, held, lasts)
    if output:
        from wirecheck.drawing.timing import timing_sheet

        title = f"{case.board.title}: {' and '.join(called)}"
        write(output, _picture(timing_sheet(played, title), ending, page))
    if form == "json":
        import json

        say(json.dumps(sequence.as_data(case, played), indent=2) + "\n")
    else:
        say(f"{sequence.text(case, played, paint(color))}\n{wrapped(CAUTION, '')}\n")


def _picture(sheet: Sheet, ending: str, page: str | None) -> str | bytes:
    """The chart as what the ending says."""
    from wirecheck.drawing.render import to_pdf, to_png, to_svg
    from wirecheck.drawing.sheet import dot_source

    source = dot_source(sheet)
    if ending == ".dot":
        return source
    svg = to_svg(source, page)
    if ending == ".png":
        return to_png(svg)
    return to_pdf(svg) if ending == ".pdf" else svg


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
