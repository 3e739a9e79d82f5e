"""Wires that lie level between screws cross seldom, and turn close by what they join."""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import combinations, permutations
from pathlib import Path

import pytest

from tests.drawing.test_wiring import of_text
from wirecheck import files
from wirecheck.drawing.levels import APART, BESIDE, Level, height_of, heights, stacked
from wirecheck.drawing.picture import sheet

RIGHT = sorted(files.folder("boards").rglob("right.wire"))


def some_levels(seed: int, count: int) -> list[Level]:
    chance = random.Random(seed)
    places = chance.sample(range(0, 600, 7), 2 * count)
    sides = [chance.choice(((0, 2), (1, 1), (2, 0))) for _ in range(count)]
    return [
        Level(tuple(ends[:up]), tuple(ends[up:]))
        for ends, (up, _) in zip(zip(places[::2], places[1::2], strict=True), sides, strict=True)
    ]


def crossings(levels: Sequence[Level], at: Sequence[float]) -> int:
    """How often they cross, each at its height, counted from the lowest."""
    crossed = 0
    for one, other in permutations(range(len(levels)), 2):
        down = [x for x in levels[one].down if at[one] > at[other]]
        up = [x for x in levels[one].up if at[one] < at[other]]
        ends = levels[other].up + levels[other].down
        crossed += sum(min(ends) < x < max(ends) for x in (*down, *up))
    return crossed


@pytest.mark.parametrize("seed", range(20))
def test_they_cross_as_seldom_as_they_can(seed: int) -> None:
    levels = some_levels(seed, 4)
    least = min(crossings(levels, order) for order in permutations(range(4)))
    assert crossings(levels, stacked(levels)) == least


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("over", [False, True])
def test_those_that_share_a_height_lie_apart_and_all_have_their_room(seed: int, over: bool) -> None:
    levels = some_levels(seed, 9)
    at = heights(levels, 100.0, over)
    assert all(100 < y < 100 + height_of(9) for y in at)
    for (one, y), (other, z) in combinations(zip(levels, at, strict=True), 2):
        left, right = sorted((sorted(one.up + one.down), sorted(other.up + other.down)))
        assert abs(y - z) > APART - 0.01 or (y == z and right[0] - left[1] >= BESIDE)


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * bool(n % 40)) for n, path in enumerate(RIGHT)],
    ids=lambda path: path.parent.name,
)
def test_what_joins_screws_close_by_turns_close_by_them(path: Path) -> None:
    """Of two jumpers on one side of the wires, one within the other, it is the nearer to their screws."""
    drawn = sheet(of_text(path.read_text("utf-8")))
    jumpers = [line.pieces[0] for line in drawn.lines if line.kind.startswith("jumper ")]
    level = [
        (one[0][1] - one[1][1], sorted((one[1], one[2])), one[0][1])
        for one in jumpers
        if one[0][1] == one[3][1]
    ]
    for (deep, (left, right), edge), (other, (start, end), its) in permutations(level, 2):
        if edge == its and deep * other > 0 and left[0] < start[0] and end[0] < right[0]:
            assert abs(other) < abs(deep), (left, right, start, end)
