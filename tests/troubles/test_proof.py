"""How many readings the suggestions take, against the best there are, and whether two faults are found."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from tests.troubles.proof import Counts, counted
from tests.troubles.test_diagnosis import BOARDS, followed, looks, shop_of
from wirecheck.faults.words import said
from wirecheck.troubles.course import alike, seen_with
from wirecheck.troubles.shop import Shop
from wirecheck.troubles.trials import Tried

# What the suggestions may take more than the best tree of readings, where that can be computed.
OF_THE_BEST = 1.2
PAIRS_ON = (
    *("stair-light", "walk-in-cooler", "heater-contactor", "kitchen-multiwire", "half-switched-receptacles"),
    *("fan-and-light", "doorbell", "heating-call", "walk-in-freezer", "pump-down-cooler"),
)
PAIRS = 20
FIRST = 5


def held(told: Counts) -> Counts:
    """Hold the figures of a board to what is asked of them."""
    assert told.ours_there <= OF_THE_BEST * told.best
    assert told.best <= told.ours_there * (1 + 1e-9)
    assert told.ours <= told.random * (1 + 1e-9)
    return told


@pytest.mark.parametrize("name", ["stair-light", "half-switched-receptacles"])
def test_the_suggestions_are_near_the_best_tree_of_readings(name: str) -> None:
    assert held(counted(shop_of(name))).exact


@pytest.mark.slow
@pytest.mark.parametrize("name", BOARDS)
def test_the_suggestions_are_near_the_best_tree_of_readings_on_every_board(
    name: str, record_property: Callable[[str, object], None]
) -> None:
    told = counted(shop_of(name))
    record_property("readings proof", told.figures())
    assert held(told).faults


def pairs_found(name: str, count: int) -> tuple[int, list[str]]:
    """How many of some pairs of faults are among the first explanations, and the others in words.

    Two of which one hides the other look like one, and the one is told: those are not asked here.
    """
    shop = shop_of(name)
    faults = [one for _, group in alike(seen_with(shop, shop.suspects)) for one in group]
    dice = Random(name)
    found, missed = 0, []
    while found + len(missed) < count:
        both = tuple(one.fault for one in dice.sample(faults, 2))
        if one_explains(shop, Tried(shop.board, both)):
            continue
        told, _ = followed(shop, both)
        if set(both) in [set(one.faults) for one in told.explanations[:FIRST]]:
            found += 1
        else:
            missed.append(" and ".join(said(one, shop.good.circuit) for one in both))
    return found, missed


def one_explains(shop: Shop, bad: Tried) -> bool:
    seen = looks(shop, bad)
    return any(all(shop.shows(wrong, one) for one in seen) for wrong in ((), *((x,) for x in shop.suspects)))


@pytest.mark.slow
def test_two_faults_are_among_the_first_explanations() -> None:
    found, missed = pairs_found("half-switched-receptacles", 4)
    assert not missed and found == 4


@pytest.mark.slow
def test_of_two_hundred_pairs_nine_in_ten_are_among_the_first_explanations() -> None:
    told = [pairs_found(name, PAIRS) for name in PAIRS_ON]
    missed = [words for _, others in told for words in others]
    assert sum(found for found, _ in told) >= 0.9 * PAIRS * len(PAIRS_ON), missed
