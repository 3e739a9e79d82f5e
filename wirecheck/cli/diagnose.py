"""`wirecheck diagnose`: what explains what was found, and where to measure next."""

from __future__ import annotations

import click

from wirecheck.cli._attempts import Limits, finished, limit_options
from wirecheck.cli._screen import format_option, say
from wirecheck.cli._sources import PATH, Unreadable, content, parts_option
from wirecheck.cli._states import case_of
from wirecheck.inputs import shown_path


@click.command(short_help="Say what is wrong, from what was found.")
@click.argument("path", metavar="FILE", type=PATH)
@click.argument("report", metavar="FOUND", type=PATH)
@parts_option
@click.option("--out", is_flag=True, help="Say of each other suspect why it is out.")
@format_option(("text", "json"))
@limit_options()
def command(path: str, report: str, own: str | None, out: bool, form: str, limits: Limits) -> None:
    """Say which faults of the board in FILE explain what is in FOUND, and what to measure next.

    Each has its odds against the others. FOUND is a file such as:

    \b
    found on "Gas furnace in the shop"
    with heat
    saw F.inducer run
    saw F.blower not run
    saw F.control locked-out
    read 26.2 V from F.R to F.C
    read OL from F.fuse.line to F.fuse.load, power off
    with heat, after 20 s
    read 120 V from F.igniter.a to F.N
    """
    if path == "-" == report:
        raise click.UsageError("FOUND: the board and the report cannot both come from standard input.")
    say(finished(path, limits, _diagnosed, path, report, own, out, form))


def _diagnosed(path: str, report: str, own: str | None, out: bool, form: str) -> str:
    """What explains the report, in words or as data."""
    import json

    from wirecheck.report import diagnosed
    from wirecheck.troubles.diagnosis import diagnosis
    from wirecheck.troubles.found import found
    from wirecheck.troubles.shop import Shop

    case = case_of(path, own)
    told = found(content(report), case, shown_path(report))
    if told.problems:
        first = told.problems[0]
        help_ = f" {first.help}" if first.help else ""
        raise Unreadable(f"{report}, line {first.span.line}: {first.message}{help_}")
    if not told.observations:
        raise Unreadable(f"{report}: nothing was found on the board. Write what was seen: saw L1 not run")
    shop = Shop(case.board)
    result = diagnosis(shop, told.observations, told.place)
    if form == "json":
        return json.dumps(diagnosed.as_data(shop, result), indent=1) + "\n"
    return diagnosed.text(shop, result, out)
