"""`wirecheck trouble`: a hidden fault to find with looks and a meter."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from wirecheck.cli._screen import format_option, say
from wirecheck.cli._session import PROMPT, VERBS, ask, questions, script_option, silent
from wirecheck.cli._sources import PATH, Unreadable, parts_option, spare, write
from wirecheck.cli._states import case_of, chosen, fault_options

if TYPE_CHECKING:
    from wirecheck.circuit.fault import Fault
    from wirecheck.judge.case import Case
    from wirecheck.language.asking import Asked
    from wirecheck.troubles.ticket import Ticket


@click.command(short_help="Find a hidden fault with looks and a meter.")
@click.argument("path", metavar="FILE", type=PATH)
@parts_option
@fault_options
@click.option("--seed", type=click.IntRange(0, 10**9), help="Which ticket: the same seed gives the same.")
@click.option("--readings", type=click.IntRange(0, 50), help="How many readings the best way to it needs.")
@click.option(
    "--effort",
    type=click.IntRange(1, 100_000),
    metavar="N",
    help="How long faults are tried, to find those that show. More tries more of a large board's.",
)
@click.option("--sheet", is_flag=True, help="Instead, list all faults that show: for the instructor.")
@click.option("-o", "--output", type=PATH, help="Where the sheet goes: .html to print, else text.")
@script_option
@format_option(("text", "json"))
def command(
    path: str,
    own: str | None,
    wrong: tuple[str, ...],
    listed: str | None,
    seed: int | None,
    readings: int | None,
    effort: int | None,
    sheet: bool,
    output: str | None,
    script: str | None,
    form: str,
) -> None:
    """Hide one fault on the board in FILE, tell what its owner complains of, and let it be found.

    Ask for looks, calls and readings, and name what is wrong: diagnose F.fuse blown. "help" says how each is
    written. The fewer readings and ways it takes, the more points there are.

    The fault is one that the board can have and that shows; of --faults, one of that list; or the one that
    --fault names.
    """
    spare(output, [path, *filter(None, (listed, script))], own)
    case = case_of(path, own)
    if sheet:
        _put_sheet(case, output, form, effort)
        return
    if output is not None:
        raise click.UsageError("--output is for --sheet.")
    given = _ticket(case, chosen(case, wrong, listed), seed, readings, effort)
    _find(given, script, form)


def _put_sheet(case: Case, output: str | None, form: str, effort: int | None) -> None:
    """The instructor's sheet."""
    from wirecheck.report.tickets import sheet_data, sheet_page, sheet_text
    from wirecheck.troubles.shop import Shop
    from wirecheck.troubles.ticket import EFFORT, NoTicket, sheet

    shop = Shop(case.board)
    try:
        rows = sheet(shop, effort or EFFORT)
    except NoTicket as error:
        raise Unreadable(str(error)) from error
    if form == "json":
        write(output or "-", json.dumps(sheet_data(shop, rows), indent=1) + "\n")
    elif output is not None and output.endswith(".html"):
        write(output, sheet_page(shop, rows))
    else:
        write(output or "-", sheet_text(shop, rows))


def _ticket(
    case: Case, among: tuple[Fault, ...] | None, seed: int | None, readings: int | None, effort: int | None
) -> Ticket:
    """The ticket that is asked for; without a seed, any."""
    from random import SystemRandom

    from wirecheck.troubles.shop import Shop
    from wirecheck.troubles.ticket import EFFORT, NoTicket, ticket

    if seed is None:
        seed = SystemRandom().randrange(10**6)
        click.echo(f"wirecheck: this is ticket --seed {seed}.", err=True)
    try:
        return ticket(Shop(case.board), seed, readings, among, effort=effort or EFFORT)
    except NoTicket as error:
        raise Unreadable(str(error)) from error


def _find(given: Ticket, script: str | None, form: str) -> None:
    """Answer what is asked until the fault is found, or nothing more is asked."""
    from wirecheck.report import bench as words
    from wirecheck.report.search import Search
    from wirecheck.report.tickets import closed, opened

    search = Search(given)
    text = form == "text"
    shown = say if text else silent

    def answer(one: Asked) -> str:
        return words.helped((*VERBS, "diagnose")) if one.verb == "help" else search.answer(one)

    shown(opened(given) + "\n")
    for line in questions(script):
        if script is not None and line.strip():
            shown(f"{PROMPT}{line.strip()}\n")
        if not ask(line, answer, shown) or search.found:
            break
    result = search.score()
    shown(closed(given, result, search.found))
    if not text:
        say(json.dumps(_data(given, search.answers, result._asdict(), search.found), indent=1) + "\n")


def _data(
    given: Ticket, answers: list[dict[str, Any]], result: dict[str, Any], found: bool
) -> dict[str, Any]:
    from wirecheck.faults.words import said
    from wirecheck.report.tickets import complaints_data, of_fault

    told: dict[str, Any] = {"board": given.shop.board.title, "answers": answers}
    told["untried"] = given.shop.untried
    told["complaints"] = complaints_data(given.complaints)
    told["dangers"] = list(of_fault(given.shop, given.truth, given.complaints))
    told |= {"found": found, "fault": said(given.truth.fault, given.shop.good.circuit)}
    return told | (result if found else {"points": 0})
