"""How many readings finding a fault takes, against what information theory allows and against other ways."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import chain
from math import log2
from random import Random

from wirecheck.troubles.course import alike, complaints, courses, seen_with, table_of
from wirecheck.troubles.diagnosis import weight
from wirecheck.troubles.next_reading import Column, outcomes
from wirecheck.troubles.shop import Shop

MOST_EXACT = 12
"""So many suspects are few enough to try every tree of readings."""


@dataclass
class Counts:
    """Mean numbers of readings over the faults of a board, each by its odds, from the complaint on.

    `best` is over the groups that are few enough, and `ours_there` what the suggestions take over the same.
    """

    boards: int = 0
    faults: int = 0
    weight: float = 0.0
    ours: float = 0.0
    bits: float = 0.0
    halves: float = 0.0
    random: float = 0.0
    exact: float = 0.0
    best: float = 0.0
    ours_there: float = 0.0

    def figures(self) -> str:
        """The sums as text, so that a worker's can be added to the others'."""
        return json.dumps({**vars(self), "boards": 1})

    def add(self, figures: str) -> None:
        """Take in the sums of a board."""
        for name, value in json.loads(figures).items():
            setattr(self, name, getattr(self, name) + value)

    def table(self) -> str:
        """The means, as the README has them."""
        rows = {
            "the bits there are to find out, as many as readings of yes or no": (self.bits, self.weight),
            "the readings that are suggested": (self.ours, self.weight),
            "half-splitting": (self.halves, self.weight),
            "any reading that tells something": (self.random, self.weight),
            "of few suspects, the best tree of readings": (self.best, self.exact),
            "of the same, the readings that are suggested": (self.ours_there, self.exact),
        }
        lines = [
            f"| {self.faults:,} faults on {self.boards} boards | readings, on the average |",
            "|---|---|",
        ]
        lines += (f"| {name} | {total / over:.2f} |" for name, (total, over) in rows.items() if over)
        return "\n".join(lines)


def counted(shop: Shop) -> Counts:
    """The figures of a board, as every place costs the same: what is counted are readings."""
    told = Counts()
    for _, group in alike(seen_with(shop, shop.suspects)):
        states = [one.state for one in complaints(shop, (group[0],))]
        table = table_of(shop, group, states)
        odds = [weight((one,)) for one in group]
        whole = sum(odds)
        ends = classes(table, range(len(group)))
        told.faults += len(group)
        told.weight += whole
        shares = [sum(odds[place] for place in end) / whole for end in ends]
        told.bits += whole * -sum(share * log2(share) for share in shares)
        ours = sum(
            odds[place] * len(way.readings)
            for place, way in enumerate(map(courses(shop, group, alone=True).__getitem__, group))
        )
        told.ours += ours
        told.halves += expected(table, odds, halves)
        told.random += sum(expected(table, odds, by_chance(seed)) for seed in range(5)) / 5
        if len(group) <= MOST_EXACT and len(ends) > 1:
            told.exact += whole
            told.best += optimal(table, odds)
            told.ours_there += ours
    return told


Choice = Callable[[Sequence[Column], Sequence[int]], Column]


def classes(table: Sequence[Column], places: Sequence[int]) -> list[tuple[int, ...]]:
    """The suspects that no reading of the table tells apart."""
    left = [tuple(places)]
    for column in table:
        left = list(chain.from_iterable(parted(column, each) for each in left))
    return left


def parted(column: Column, left: Sequence[int]) -> list[tuple[int, ...]]:
    groups = outcomes([column.volts[place] for place in left])
    return [tuple(left[number] for number in group) for group in groups]


def expected(table: Sequence[Column], odds: Sequence[float], choose: Choice) -> float:
    """The readings that a way of choosing takes, by the odds of each suspect, times them all."""
    total = 0.0
    waiting: list[tuple[int, ...]] = [tuple(range(len(odds)))]
    while waiting:
        left = waiting.pop()
        useful = [column for column in table if len(parted(column, left)) > 1]
        if len(left) < 2 or not useful:
            continue
        total += sum(odds[place] for place in left)
        waiting += parted(choose(useful, left), left)
    return total


def halves(useful: Sequence[Column], left: Sequence[int]) -> Column:
    """Half-splitting: the reading after which the larger part is the smallest, whatever the odds."""
    return min(useful, key=lambda one: max(map(len, parted(one, left))))


def by_chance(seed: int) -> Choice:
    """Any reading that tells something."""
    dice = Random(seed)
    return lambda useful, left: dice.choice(list(useful))


def optimal(table: Sequence[Column], odds: Sequence[float]) -> float:
    """The least that any tree of readings takes, by trying all of them."""

    @cache
    def least(left: tuple[int, ...]) -> float:
        ways = {tuple(sorted(tuple(sorted(part)) for part in parted(column, left))) for column in table}
        ways = {way for way in ways if len(way) > 1}
        if len(left) < 2 or not ways:
            return 0.0
        here = sum(odds[place] for place in left)
        return here + min(sum(least(part) for part in way) for way in ways)

    return least(tuple(range(len(odds))))
