"""The reading that is suggested tells what information theory says that it tells."""

from __future__ import annotations

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.troubles.next_reading import outcomes, told

ODDS = st.lists(st.floats(0.01, 10), min_size=2, max_size=12)


@given(ODDS)
def test_readings_that_are_all_apart_tell_all_that_there_is(odds: list[float]) -> None:
    """Shannon's entropy: the sum of p log2 1/p, by scipy."""
    from scipy.stats import entropy

    volts = [3.0 * 2**number for number in range(len(odds))]
    assert told(volts, odds) == pytest.approx(entropy(odds, base=2))


@given(ODDS)
def test_the_same_reading_for_all_tells_nothing(odds: list[float]) -> None:
    assert told([24.0] * len(odds), odds) == 0


def test_a_half_and_a_half_are_one_bit() -> None:
    assert told([0, 0, 24, 24], [1, 1, 1, 1]) == 1
    assert told([0, 24, 24, 24], [1, 1, 1, 1]) == pytest.approx(0.25 * log2(4) + 0.75 * log2(4 / 3))


@given(st.lists(st.floats(0, 480), min_size=1, max_size=20))
def test_each_suspect_has_one_outcome(volts: list[float]) -> None:
    groups = outcomes(volts)
    assert sorted(place for group in groups for place in group) == list(range(len(volts)))
    tops = [max(volts[place] for place in group) for group in groups]
    assert tops == sorted(tops)
