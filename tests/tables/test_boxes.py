"""Boxes against Table 314.16(A)'s own counts and worked examples."""

from fractions import Fraction
from math import floor, prod

import pytest

from wirecheck.tables.boxes import CUBIC_INCH, allowances, box_fill, box_sizes, box_volume, conductor_volume
from wirecheck.tables.code import edition
from wirecheck.tables.published import NotInTable

NEC = edition(2023)

SIZES = ("18", "16", "14", "12", "10", "8", "6")

# NEC Table 314.16(A), right half: the most conductors of one size, 18 to 6 AWG.
COUNTS = {
    ("octagon", "4 x 1-1/4"): (8, 7, 6, 5, 5, 4, 2),
    ("octagon", "4 x 1-1/2"): (10, 8, 7, 6, 6, 5, 3),
    ("octagon", "4 x 2-1/8"): (14, 12, 10, 9, 8, 7, 4),
    ("square", "4 x 1-1/4"): (12, 10, 9, 8, 7, 6, 3),
    ("square", "4 x 1-1/2"): (14, 12, 10, 9, 8, 7, 4),
    ("square", "4 x 2-1/8"): (20, 17, 15, 13, 12, 10, 6),
    ("square", "4-11/16 x 1-1/4"): (17, 14, 12, 11, 10, 8, 5),
    ("square", "4-11/16 x 1-1/2"): (19, 16, 14, 13, 11, 9, 5),
    ("square", "4-11/16 x 2-1/8"): (28, 24, 21, 18, 16, 14, 8),
    ("device", "3 x 2 x 1-1/2"): (5, 4, 3, 3, 3, 2, 1),
    ("device", "3 x 2 x 2"): (6, 5, 5, 4, 4, 3, 2),
    ("device", "3 x 2 x 2-1/4"): (7, 6, 5, 4, 4, 3, 2),
    ("device", "3 x 2 x 2-1/2"): (8, 7, 6, 5, 5, 4, 2),
    ("device", "3 x 2 x 2-3/4"): (9, 8, 7, 6, 5, 4, 2),
    ("device", "3 x 2 x 3-1/2"): (12, 10, 9, 8, 7, 6, 3),
    ("device", "4 x 2-1/8 x 1-1/2"): (6, 5, 5, 4, 4, 3, 2),
    ("device", "4 x 2-1/8 x 1-7/8"): (8, 7, 6, 5, 5, 4, 2),
    ("device", "4 x 2-1/8 x 2-1/8"): (9, 8, 7, 6, 5, 4, 2),
    ("masonry", "3-3/4 x 2 x 2-1/2"): (9, 8, 7, 6, 5, 4, 2),
    ("masonry", "3-3/4 x 2 x 3-1/2"): (14, 12, 10, 9, 8, 7, 4),
}


def test_volumes_give_the_tables_own_counts() -> None:
    listed = {(row["kind"], row["trade_size"]) for row in NEC.rows("box_volumes")}
    assert listed == set(COUNTS)
    for (kind, size), counts in COUNTS.items():
        volume = box_volume(kind, size, code=NEC)
        assert tuple(floor(volume / conductor_volume(wire, code=NEC) + 1e-9) for wire in SIZES) == counts


def test_no_box_holds_more_than_its_outside() -> None:
    for row in NEC.rows("box_volumes"):
        sides = [
            float(sum(Fraction(part) for part in side.split("-"))) for side in row["trade_size"].split(" x ")
        ]
        outside = prod(sides) * (sides[0] if len(sides) == 2 else 1)
        # A trade size is a name: a 3 x 2 x 2-1/4 box is a little deeper than it says.
        assert float(row["cubic_inches"]) < outside * 1.03


@pytest.mark.parametrize("written", ["4 x 1-1/2", "4 x 1-1/2 in", "4x1-1/2", "4 X 1 1/2 in.", "4×1-1/2"])
def test_a_trade_size_may_be_written_in_several_ways(written: str) -> None:
    assert box_volume("square", written, code=NEC) == pytest.approx(21.0 * CUBIC_INCH)


def test_an_unnamed_kind_takes_the_least() -> None:
    assert box_volume("junction", "4 x 1-1/2", code=NEC) == pytest.approx(15.5 * CUBIC_INCH)
    assert box_sizes("junction", code=NEC) == ()
    with pytest.raises(NotInTable, match="3 x 2 x 3-1/2"):
        box_volume("device", "9 x 9 x 9", code=NEC)


def test_receptacle_on_two_cables() -> None:
    """Two 12/2 cables, clamps and a duplex receptacle: 4 + 1 + 1 + 2 allowances of 2.25 are 18.0 cu in."""
    fill = box_fill(allowances(["12"] * 4, ["12"] * 2, [("12", 1)], clamps=True, code=NEC), code=NEC)
    assert fill == pytest.approx(18.0 * CUBIC_INCH)


def test_mixed_sizes() -> None:
    """By hand from 314.16(B): 3 x 2.00 + 4 x 2.25, clamp 2.25, grounds 2.25, yoke on 14 AWG 4.00: 23.5."""
    fill = box_fill(
        allowances(["14"] * 3 + ["12"] * 4, ["14", "12", "12"], [("14", 1)], clamps=True, code=NEC), code=NEC
    )
    assert fill == pytest.approx(23.5 * CUBIC_INCH)


def test_grounds_past_four_count_a_quarter_each() -> None:
    """NEC 314.16(B)(5): four grounds of 14 AWG are 2.00 cu in; six are 3.00."""
    assert box_fill(allowances([], ["14"] * 4, code=NEC), code=NEC) == pytest.approx(2.0 * CUBIC_INCH)
    assert box_fill(allowances([], ["14"] * 6, code=NEC), code=NEC) == pytest.approx(3.0 * CUBIC_INCH)
    assert box_fill(allowances([], code=NEC), code=NEC) == 0


def test_two_gangs_take_four() -> None:
    assert box_fill(allowances([], [], [("12", 2)], code=NEC), code=NEC) == pytest.approx(9.0 * CUBIC_INCH)


def test_sizes_that_the_table_does_not_count() -> None:
    assert conductor_volume("2.5 mm2", code=NEC) == conductor_volume("12", code=NEC)
    for size in ("4", "22", "16 mm2"):
        with pytest.raises(NotInTable):
            conductor_volume(size, code=NEC)
