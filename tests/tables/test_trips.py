"""Opening times against the calibration points of UL 489, UL 248-14, SAE J1284 and UL 943."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.tables.published import NotInTable
from wirecheck.tables.trips import trip_seconds

RATINGS = {"breaker": 225.0, "fuse": 60.0, "time-delay-fuse": 30.0, "blade-fuse": 40.0}


def test_breakers_as_ul_489_calibrates_them() -> None:
    """UL 489: 100 % holds; 135 % within 1 h, 2 h over 50 A; 200 % within 2 min, 4 over 30 A, 6 over 50 A."""
    assert trip_seconds("breaker", 20, 20) == (math.inf, math.inf)
    assert trip_seconds("breaker", 50, 50 * 1.35)[1] == 3600
    assert trip_seconds("breaker", 60, 60 * 1.35)[1] == 7200
    assert [trip_seconds("breaker", amps, 2 * amps)[1] for amps in (15, 30, 40, 50, 60, 100)] == [
        120,
        120,
        240,
        240,
        360,
        360,
    ]


def test_fuses_as_ul_248_14_tests_them() -> None:
    """UL 248-14: 135 % within 1 h, 200 % within 2 min; time-delay fuses hold 200 % for 5 s or 12 s."""
    assert trip_seconds("fuse", 3, 3 * 1.35)[1] == 3600
    assert trip_seconds("fuse", 3, 6)[1] == 120
    assert trip_seconds("time-delay-fuse", 3, 6) == (5, 120)
    assert trip_seconds("time-delay-fuse", 5, 10) == (12, 120)


def test_blade_fuses_as_sae_j1284_tests_them() -> None:
    """SAE J1284 (from memory): 200 % opens in 0.15 to 5 s; 110 % holds 100 h."""
    assert trip_seconds("blade-fuse", 3, 6) == (0.15, 5)
    assert trip_seconds("blade-fuse", 5, 5.5)[0] == 360000


def test_between_points_bounds_hold() -> None:
    """A load of 25 A on a 15 A breaker lies between 135 and 200 %: open within the hour, not before 8 s."""
    assert trip_seconds("breaker", 15, 25) == (8, 3600)
    assert trip_seconds("breaker", 15, 16) == (30, math.inf)


@given(st.sampled_from(list(RATINGS)), st.floats(0.01, 1), st.floats(0, 50), st.floats(0, 50))
def test_more_current_never_opens_later(kind: str, part: float, first: float, second: float) -> None:
    rating = RATINGS[kind] * part
    low, high = sorted((first, second))
    soon, late = trip_seconds(kind, rating, rating * low)
    sooner, later = trip_seconds(kind, rating, rating * high)
    assert sooner <= soon and later <= late
    assert soon <= late


def test_unknown_devices_are_refused() -> None:
    with pytest.raises(NotInTable):
        trip_seconds("wire", 15, 20)
    with pytest.raises(NotInTable):
        trip_seconds("breaker", 4000, 20)
    with pytest.raises(NotInTable):
        trip_seconds("breaker", 0, 20)
