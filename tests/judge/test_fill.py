"""What is counted in a box, and by which wire."""

from __future__ import annotations

import pytest

from tests.rules.hands import case
from wirecheck.judge.fill import Filling, fillings
from wirecheck.tables.boxes import CUBIC_INCH

PANEL = 'board "One box"\npanel LP 120/240 V\n'
HOOK = """\
part hook "A luminaire on a stud with a hickey"
terminal hot hot, lead, sizes 18 to 12
terminal neutral neutral, lead, sizes 18 to 12
fills 2 fitting
"""


def filling(text: str) -> Filling:
    (one,) = fillings(case(PANEL + text))
    return one


def counted(one: Filling) -> list[tuple[str, int, str, float]]:
    return [(item.of, item.count, item.size, item.number) for item in one.allowances]


def test_an_empty_box_needs_nothing() -> None:
    one = filling("box A square 4 cu in clamps\nR1 is duplex-receptacle in A\n")
    assert (one.fill, one.allowances, one.yokes, one.over) == (0, (), (), False)


def test_what_is_not_known_is_none() -> None:
    one = filling("box A junction\ncable W1 14/2 NM-B 20 ft from LP to A\n")
    assert one.volume is None
    assert not one.over
    assert filling("box A device 3 x 2 x 9 in\n").volume is None
    one = filling("box A junction 1 cu in\ncable W1 2/2 SER 20 ft from LP to A\n")
    assert one.fill is None
    assert not one.over


@pytest.mark.parametrize(("volume", "over"), [(5.99, True), (6.0, False), (6.01, False)])
def test_exactly_full_is_not_over(volume: float, over: bool) -> None:
    one = filling(f"box A junction {volume} cu in\ncable W1 14/2 NM-B 20 ft from LP to A\n")
    assert one.fill == pytest.approx(6 * CUBIC_INCH)
    assert one.over is over


def test_a_conductor_counts_where_it_enters_and_at_both_its_ends() -> None:
    text = """box A junction 20 cu in
box B junction 20 cu in
cable W1 14/2 NM-B 20 ft from A to B
wire J1 12 THHN black 6 in from A to A
"""
    one, other = fillings(case(PANEL + text))
    assert counted(one) == counted(other) == [("wires", 2, "14", 2), ("grounds", 1, "14", 1)]


@pytest.mark.parametrize(
    ("join", "size"),
    [
        ("W1.black -- R1.hot", "14"),
        ("W2.black -- R1.hot", "12"),
        # A pigtail is as large as the largest wire of its splice.
        ("W1.black -- W2.black -- pigtail -- R1.hot", "12"),
        ("W1.black -- W3.black -- pigtail -- R1.hot", "14"),
        # That of a ground needs to be no larger than the smallest.
        ("W1.bare -- W2.bare -- pigtail -- R1.ground\n  W1.black -- R1.hot", "14"),
        ("W1.bare -- R1.ground\n  W2.bare -- W3.bare", "14"),
        ("W2.bare -- R1.ground", "12"),
        # Nothing is on it yet: by the largest wire in the box.
        ("W1.black -- W3.black", "12"),
    ],
)
def test_a_yoke_goes_by_the_largest_wire_on_it(join: str, size: str) -> None:
    one = filling(
        "box A device 20 cu in\nR1 is duplex-receptacle in A\n"
        "cable W1 14/2 NM-B 20 ft from LP to A\ncable W2 12/2 NM-B 20 ft from LP to A\n"
        f"cable W3 14/2 NM-B 20 ft from LP to A\nat A\n  {join}\n"
    )
    assert ("yoke", 1, size, 2) in counted(one)
    assert [device.name for device in one.yokes] == ["R1"]


def test_a_device_counts_in_its_own_box_by_its_own_yoke() -> None:
    text = """box A device 20 cu in
box B device 20 cu in
cable W1 14/2 NM-B 20 ft from LP to A
S1 is single-pole-switch in A
L1 is lampholder 60 W in A
R1 is range-receptacle in B
"""
    one, other = fillings(case(PANEL + text))
    assert [device.name for device in one.yokes] == ["S1"]
    # The lampholder beside it has no yoke, no stud and no hickey.
    assert counted(one) == [("wires", 2, "14", 2), ("yoke", 1, "14", 2), ("grounds", 1, "14", 1)]
    assert other.yokes == ()


def test_studs_and_hickeys_take_one_each() -> None:
    """NEC 314.16(B)(3)."""
    text = PANEL + "box A octagon 8 cu in\ncable W1 14/2 NM-B 20 ft from LP to A\nL1 is hook in A\n"
    (one,) = fillings(case(text, hook=HOOK))
    assert ("fittings", 2, "14", 2) in counted(one)
    assert one.fill == pytest.approx(10 * CUBIC_INCH)
    assert one.over


def test_a_green_thermostat_wire_is_no_ground() -> None:
    one = filling("box A junction 20 cu in\ncable T1 18/4 CL2 20 ft from LP to A\n")
    assert counted(one) == [("wires", 4, "18", 4)]


@pytest.mark.parametrize(
    ("kind", "size", "volume"), [("octagon", "4 x 1-1/2", 15.5), ("square", "4 x 1-1/2", 21.0)]
)
def test_a_size_is_that_of_the_boxs_own_kind(kind: str, size: str, volume: float) -> None:
    """Table 314.16(A)."""
    one = filling(f"box A {kind} {size} in\n")
    assert one.volume is not None and one.volume / CUBIC_INCH == pytest.approx(volume)
