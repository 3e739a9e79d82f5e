"""The way to a fault: the readings that tell most, one after another, from what is seen to what is wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wirecheck.circuit.work import WorkEnds
from wirecheck.faults.suspects import Suspect
from wirecheck.judge.state_name import StateName
from wirecheck.troubles.diagnosis import weight
from wirecheck.troubles.moments import later
from wirecheck.troubles.next_reading import Column, Suggestion, best, columns, outcomes
from wirecheck.troubles.shop import Shop
from wirecheck.troubles.trials import Differences, Seen, differences

EARNED = 30_000
"""How many more steps may be spent for each fault that shows; on boards that ship, one takes half of it."""


class Course(NamedTuple):
    """The readings from a complaint to a fault.

    `left` are the suspects that no reading of volts tells from it, itself among them.
    """

    readings: tuple[Suggestion, ...]
    left: tuple[Suspect, ...]

    @property
    def effort(self) -> float:
        """What all of it takes."""
        return sum(one.effort for one in self.readings)


class Complaint(NamedTuple):
    """What is seen to be wrong in a state."""

    state: StateName
    seen: Differences


def complaints(shop: Shop, wrong: tuple[Suspect, ...]) -> tuple[Complaint, ...]:
    """In which of the states that are tried something is seen to be wrong, and what is."""
    told = []
    for state in shop.trials:
        seen = differences(shop.good.seen(state), shop.tried(wrong).seen(state))
        if seen:
            told.append(Complaint(state, seen))
    return tuple(told)


def seen_with(
    shop: Shop, some: Sequence[Suspect], effort: int | None = None
) -> Iterator[tuple[Suspect, tuple[Seen, ...] | None]]:
    """What is seen of each of some suspects in all states that are tried; None of those that do not show.

    Parameters
    ----------
    effort : how many thousand steps are spent before the rest is left untried, with `EARNED` more for each
        that shows; as many as it takes, if None
    """
    states = shop.trials
    good = tuple(shop.good.seen(state) for state in states)
    left = None if effort is None else 1_000 * effort
    for suspect in some:
        if left is not None and left <= 0:
            return
        tried = shop.tried((suspect,))
        before = tried.case.work.spent
        try:
            seen = tuple(tried.seen(state) for state in states)
        except WorkEnds:
            seen = good
        if left is not None:
            left -= tried.case.work.spent - before
            left += EARNED if seen != good else 0
        yield suspect, None if seen == good else seen


def alike(
    tried: Iterable[tuple[Suspect, tuple[Seen, ...] | None]],
) -> Iterator[tuple[tuple[Seen, ...], tuple[Suspect, ...]]]:
    """The suspects that show, by what is seen of them in all states that are tried."""
    groups: dict[tuple[Seen, ...], list[Suspect]] = {}
    for suspect, seen in tried:
        if seen is not None:
            groups.setdefault(seen, []).append(suspect)
    for seen, group in groups.items():
        yield seen, tuple(group)


def table_of(shop: Shop, group: Sequence[Suspect], states: Sequence[StateName]) -> tuple[Column, ...]:
    """The readings of volts that part some suspects: in the end of each state, and else at a moment of it."""
    tried = [shop.tried((one,)) for one in group]
    table = columns(tried, shop.good, states)
    return (*table, *later(table, tried, shop.good, states))


def courses(shop: Shop, group: Sequence[Suspect], alone: bool = False) -> dict[Suspect, Course]:
    """The way to each of some suspects, by the readings that tell most for their effort.

    Parameters
    ----------
    group : the suspects that are seen alike
    alone : whether readings alone are counted, and all places are as near
    """
    states = [one.state for one in complaints(shop, (group[0],))]
    table = table_of(shop, group, states)
    odds = [weight((one,)) for one in group]
    told: dict[Suspect, Course] = {}
    waiting: list[tuple[list[int], tuple[Suggestion, ...], str | None]] = [
        (list(range(len(group))), (), None)
    ]
    while waiting:
        left, readings, at = waiting.pop()
        one = best(table, odds, left, None if alone else shop.board, at) if len(left) > 1 else None
        if one is None:
            here = Course(readings, tuple(group[place] for place in left))
            told |= dict.fromkeys(here.left, here)
            continue
        for parted in outcomes([one.column.volts[place] for place in left]):
            waiting.append(([left[number] for number in parted], (*readings, one), one.probe.place))
    return told
