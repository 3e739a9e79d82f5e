"""What is worked out of a ticket: which fault it hides, and what comes of all that was asked so far.

A ticket is its number and the list of what was asked. It is asked anew from the beginning each time, so that
no process has to remember it. Which fault a number hides is told by a secret of the server's.
"""

from __future__ import annotations

import time
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

from wirecheck.page.question import Question

if TYPE_CHECKING:
    from wirecheck.circuit.fault import Fault
    from wirecheck.faults.suspects import Suspect
    from wirecheck.judge.case import Case
    from wirecheck.report.search import Search
    from wirecheck.troubles.course import Complaint, Course
    from wirecheck.troubles.shop import Shop
    from wirecheck.troubles.trials import Seen

MEASURED = ("volts", "ohms", "amps")
AT_ONCE = 1.5
"""The seconds in which a portion of a board's faults is tried: less than what counts as long."""


class Board(NamedTuple):
    """The board of a ticket, its file's name and text; and the list of faults to choose from, if any."""

    file: str
    text: bytes
    faults: bytes | None


Groups: TypeAlias = "dict[Suspect, tuple[Suspect, ...]]"
"""Faults, each with all that are seen as it is."""


class Hidden(NamedTuple):
    """What a ticket hides, as `wirecheck.troubles.ticket` has it without its shop."""

    truth: Suspect
    complaints: tuple[Complaint, ...]
    course: Course
    alike: tuple[Suspect, ...]


class NoTicketHere(NamedTuple):
    """Why there is no such ticket."""

    why: str


class Answered(NamedTuple):
    """What a ticket's page is told, as JSON has it, and how far it is: `points` is none while it is open."""

    told: dict[str, Any]
    steps: int
    points: int | None


class Portion(NamedTuple):
    """Some of a board's faults, each with what is seen of it, if it shows; `of` is how many there can be."""

    tried: tuple[tuple[Suspect, tuple[Seen, ...] | None], ...]
    of: int


def portion(path: str, board: Board, begin: int) -> Portion | NoTicketHere:
    """What is seen of a board's faults, from one on, as many as there is time for.

    It is most of the work on a board's tickets, and the same for all of them. In portions it can be told
    how far it is, and a large board on a machine that has much to do takes longer instead of being stopped.

    Parameters
    ----------
    path : where the board's file is, beside which its own parts may lie
    begin : how many were tried before
    """
    from wirecheck.assembly import NotABoard
    from wirecheck.circuit.work import WorkEnds
    from wirecheck.page.answers import TOO_MUCH
    from wirecheck.troubles.course import seen_with
    from wirecheck.troubles.ticket import NoTicket, need_few, need_right

    until = time.monotonic() + AT_ONCE
    tried = []
    try:
        shop = _shop(path, board)
        need_few(shop)
        if begin == 0:
            need_right(shop)
        for one in seen_with(shop, shop.suspects[begin:]):
            tried.append(one)
            if time.monotonic() > until:
                break
    except NotABoard as error:
        return NoTicketHere(f"This is no board: {error}.")
    except NoTicket as error:
        return NoTicketHere(f"There is no ticket: {error}")
    except WorkEnds:
        return NoTicketHere(TOO_MUCH)
    return Portion(tuple(tried), len(shop.suspects))


def showing(portions: Iterable[Portion]) -> Groups | NoTicketHere:
    """The faults of a board that show, each with all that are seen as it is."""
    from wirecheck.troubles.ticket import NoTicket, grouped

    try:
        return grouped(one for portion in portions for one in portion.tried)
    except NoTicket as error:
        return NoTicketHere(f"There is no ticket: {error}")


def hidden(path: str, board: Board, known: Groups, seed: int, readings: int | None) -> Hidden | NoTicketHere:
    """What a ticket hides: the same seed hides the same.

    Parameters
    ----------
    known : the faults of the board that show
    readings : how many the best way to it needs; any number, if None
    """
    from wirecheck.arguments import WrongArgument
    from wirecheck.circuit.work import WorkEnds
    from wirecheck.page.answers import TOO_MUCH
    from wirecheck.troubles.ticket import NoTicket, ticket

    try:
        shop = _shop(path, board)
        one = ticket(shop, seed, readings, _among(board, shop.good.case), known)
    except (NoTicket, WrongArgument) as error:
        return NoTicketHere(f"There is no ticket: {error}")
    except WorkEnds:
        return NoTicketHere(TOO_MUCH)
    return Hidden(one.truth, one.complaints, one.course, one.alike)


def answered(
    path: str, board: Board, given: Hidden, lines: tuple[str, ...], asked: Question | None
) -> Answered:
    """What comes of all that was asked on a ticket.

    Parameters
    ----------
    lines : what was asked, each as on the command line
    asked : how the board is drawn; None where it was drawn before
    """
    from wirecheck.report.search import Search
    from wirecheck.report.tickets import by_owner, closed
    from wirecheck.troubles.ticket import Ticket

    shop = _shop(path, board)
    one = Ticket(shop, *given)
    search = Search(one)
    said: list[dict[str, str]] = []
    stopped = False
    for line in lines:
        if search.found or stopped:
            break
        says, stopped = _said(search, line)
        said.append({"asked": line, "says": says})
    told: dict[str, Any] = {
        "complaints": by_owner(one),
        "said": said,
        "state": search.bench.words(),
        "readings": sum(each["asked"][0] in MEASURED for each in search.answers),
        "effort": search.taken,
        "over": search.found or stopped,
    }
    points = None
    if search.found or stopped:
        result = search.score()
        points = result.points if search.found else 0
        told["outcome"] = closed(one, result, search.found)
    if asked is not None:
        told |= _offers(shop, asked)
    return Answered(told, len(said), points)


def _said(search: Search, line: str) -> tuple[str, bool]:
    """What is said to one line, and whether it ends the search."""
    from wirecheck.arguments import WrongArgument
    from wirecheck.circuit.work import WorkEnds
    from wirecheck.language.asking import FORMS, NotUnderstood, asked
    from wirecheck.page.answers import TOO_MUCH
    from wirecheck.report.bench import helped

    try:
        one = asked(line)
        if one is None or one.verb == "help":
            return helped(FORMS), False
        if one.verb == "stop":
            return "", True
        return search.answer(one), False
    except (NotUnderstood, WrongArgument) as error:
        return f"{error}\n", False
    except WorkEnds:
        return f"{TOO_MUCH}\n", False


def _shop(path: str, board: Board) -> Shop:
    from wirecheck.assembly import assemble, library_beside
    from wirecheck.troubles.shop import Shop

    return Shop(assemble(board.text, board.file, library_beside(path))[1])


def _among(board: Board, case: Case) -> tuple[Fault, ...] | None:
    """The faults of the list, where there is one."""
    from wirecheck.arguments import listed_faults

    return None if board.faults is None else tuple(listed_faults(case, board.faults, "The list").values())


def _offers(shop: Shop, asked: Question) -> dict[str, Any]:
    """What can be done and named on the board, which is wired right, and its picture."""
    from wirecheck.drawing.picture import sheet
    from wirecheck.drawing.render import to_svg
    from wirecheck.drawing.sheet import dot_source
    from wirecheck.faults.words import said
    from wirecheck.page.answers import area_of, sized

    good, case = shop.good.circuit, shop.good.case
    wrong: dict[str, list[str]] = {}
    for one in shop.suspects:
        wrong.setdefault(one.place, []).append(said(one.fault, good))
    drawn = sheet(shop.board, (), "wiring", asked.colors, None, None, listed=False, fit=area_of(asked))
    return {
        "title": shop.board.title,
        "controls": {
            one.name: list(one.values) for one in good.variables.values() if one.moved_by != "state"
        },
        "calls": list(case.calls),
        "points": list(good.point),
        "carriers": [*shop.board.conductors, *good.load, *shop.board.breakers],
        "ends": [name for name, point in good.point.items() if point.kind == "end"],
        "opens": list(dict.fromkeys(one.name for one in good.protections)),
        "wrong": wrong,
        "picture": sized(to_svg(dot_source(drawn))),
    }
