"""A ticket: one fault that shows, hidden on a board, to be found with looks and readings for points."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from random import Random
from typing import NamedTuple

from wirecheck.circuit.fault import Fault
from wirecheck.faults.suspects import Suspect
from wirecheck.findings import findings
from wirecheck.tables.faults import odds
from wirecheck.troubles.course import Complaint, Course, alike, complaints, courses, seen_with
from wirecheck.troubles.shop import Shop
from wirecheck.troubles.trials import Seen

MOST_SUSPECTS = 1_500
"""The most faults that a board for tickets may have."""
EFFORT = 300
"""How many thousand steps are spent on faults, beside what those that show allow: half a second or so."""


class NoTicket(ValueError):
    """There is no such ticket to be had; the message says why."""


class Ticket(NamedTuple):
    """A fault to find.

    Attributes
    ----------
    shop : the board, with all of its suspects
    truth : what is wrong
    complaints : what is seen to be wrong, state by state
    course : the best readings to it
    alike : all that is seen as it is, itself among them
    """

    shop: Shop
    truth: Suspect
    complaints: tuple[Complaint, ...]
    course: Course
    alike: tuple[Suspect, ...]


class Shown(NamedTuple):
    """A fault that shows, what is seen of it, and the best readings to it."""

    suspect: Suspect
    complaints: tuple[Complaint, ...]
    course: Course


def shown(shop: Shop, effort: int = EFFORT) -> dict[Suspect, tuple[Suspect, ...]]:
    """The faults that show, each with all that are seen as it is.

    Parameters
    ----------
    effort : as in `course.seen_with`; how many suspects it ended before is then the shop's `untried`

    Raises
    ------
    NoTicket
        The board is too large or wrong already, or nothing that can be wrong on it shows.
    """
    need_few(shop)
    need_right(shop)
    tried = tuple(seen_with(shop, shop.suspects, effort))
    shop.untried = len(shop.suspects) - len(tried)
    return grouped(tried, shop.untried)


def need_few(shop: Shop) -> None:
    """Nothing, where the faults of a board can be tried one by one.

    Raises
    ------
    NoTicket
        It has too many.
    """
    if len(shop.suspects) > MOST_SUSPECTS:
        raise NoTicket(
            f"{len(shop.suspects)} things can be wrong on this board, and {MOST_SUSPECTS} are the most that "
            "are tried: take a part of it."
        )


def need_right(shop: Shop) -> None:
    """Nothing, where a board is safe and does what it should: then what is wrong on it is the ticket's alone.

    What else the code asks of it, as the volume of a box, is no matter of a ticket, and is not counted.

    Raises
    ------
    NoTicket
        It has mistakes of its own.
    """
    own = [one for one in findings(shop.good.case) if one.severity in ("hazard", "fault")]
    if own:
        raise NoTicket(
            f"this board is wrong before a fault is hidden on it. On line {own[0].span.line}: "
            f"{own[0].message} Put the board right first."
        )


def grouped(
    tried: Iterable[tuple[Suspect, tuple[Seen, ...] | None]], untried: int = 0
) -> dict[Suspect, tuple[Suspect, ...]]:
    """Faults that were tried, each that shows with all that are seen as it is.

    Parameters
    ----------
    untried : how many were not

    Raises
    ------
    NoTicket
        None shows.
    """
    told = {one: group for _, group in alike(tried) for one in group}
    if not told and untried:
        raise NoTicket(f"nothing that was tried on this board shows. {left_untried(untried)}")
    if not told:
        raise NoTicket("nothing that can be wrong on this board shows in a call or at a switch.")
    return told


def left_untried(untried: int) -> str:
    """What the effort ended before, in a sentence.

    >>> left_untried(1)
    '1 of the faults that it can have was not tried: --effort tries more of them.'
    """
    were = "was" if untried == 1 else "were"
    return f"{untried} of the faults that it can have {were} not tried: --effort tries more of them."


def ticket(
    shop: Shop,
    seed: int,
    readings: int | None = None,
    among: Sequence[Fault] | None = None,
    known: Mapping[Suspect, tuple[Suspect, ...]] | None = None,
    effort: int = EFFORT,
) -> Ticket:
    """A ticket on a board: the same seed gives the same.

    Parameters
    ----------
    readings : how many the best way to it needs; any number, if None
    among : the faults that may be chosen; all that the board can have, if None
    known : the faults that show, where they are known already: finding them takes most of the work
    effort : as in `shown`

    Raises
    ------
    NoTicket
        Nothing that may be chosen shows, or is as hard as that.
    """
    groups = dict(known) if known is not None else shown(shop, effort)
    if among is not None:
        groups |= {one: (one,) for one in _others(shop, among, effort)}
        groups = {one: group for one, group in groups.items() if one.fault in among}
        if not groups:
            raise NoTicket("none of these faults shows in a call or at a switch.")
    dice = Random(seed)
    left = list(groups)
    ways: dict[Suspect, Course] = {}
    while left:
        one = dice.choices(left, [odds(each.kind).weight for each in left])[0]
        if one not in ways:
            ways |= courses(shop, groups[one])
        way = ways[one]
        if readings is None or len(way.readings) == readings:
            return Ticket(shop, one, complaints(shop, (one,)), way, groups[one])
        left.remove(one)
    raise NoTicket(f"no fault of this board takes {readings} readings.")


def _others(shop: Shop, among: Sequence[Fault], effort: int) -> list[Suspect]:
    """Faults of a list that are none of those that the board was tried with, and show."""
    have = {one.fault: one for one in shop.suspects}
    was_tried = {one.fault for one in shop.suspects[: len(shop.suspects) - shop.untried]}
    others = [have.get(fault, Suspect(fault, "nothing", "")) for fault in among if fault not in was_tried]
    seen = seen_with(shop, others, effort)
    return [one for one, shows in seen if shows is not None and complaints(shop, (one,))]


def sheet(shop: Shop, effort: int = EFFORT) -> tuple[Shown, ...]:
    """All faults that show, for the instructor; `effort` is as in `shown`.

    Raises
    ------
    NoTicket
        As of `shown`.
    """
    rows = []
    for group in dict.fromkeys(shown(shop, effort).values()):
        # What is seen of them is alike, which makes them a group.
        seen, ways = complaints(shop, (group[0],)), courses(shop, group)
        rows += [Shown(one, seen, ways[one]) for one in group]
    return tuple(rows)
