"""Overcurrent protection against NEC 240, 250.122, 210 and worked examples."""

from hypothesis import given
from hypothesis import strategies as st

from wirecheck.tables.ampacity import ampacity
from wirecheck.tables.code import edition
from wirecheck.tables.overcurrent import (
    grounding_conductor,
    largest_protection,
    next_standard,
    previous_standard,
    receptacle_plug_load,
    receptacle_ratings,
    small_conductor_limit,
    standard_ratings,
)
from wirecheck.tables.sizes import area, trade_sizes

NEC = edition(2023)

# NEC 2023 Table 240.6(A), whole.
STANDARD = [
    10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400,
    450, 500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
]  # fmt: skip


def test_standard_ratings() -> None:
    assert list(standard_ratings(code=NEC)) == STANDARD
    assert set(standard_ratings(fuse=True, code=NEC)) - set(STANDARD) == {1, 3, 6, 601}


@given(st.floats(0.1, 6000))
def test_next_and_previous_enclose(amps: float) -> None:
    above, below = next_standard(amps, code=NEC), previous_standard(amps, code=NEC)
    assert above is not None and above >= amps * (1 - 1e-9)
    assert below is None or below <= amps * (1 + 1e-9)
    assert below is None or not any(below < one < above for one in STANDARD)


def test_small_conductors() -> None:
    """NEC 2023 240.4(D)."""
    copper = {"18": 7, "16": 10, "14": 15, "12": 20, "10": 30}
    assert {size: small_conductor_limit(size, code=NEC).amps for size in copper} == copper
    assert small_conductor_limit("12", "aluminum", code=NEC).amps == 15
    assert small_conductor_limit("10", "copper-clad aluminum", code=NEC).amps == 25
    assert small_conductor_limit("14", "copper-clad aluminum", code=NEC).amps == 10
    assert small_conductor_limit("14", "aluminum", code=NEC) is None
    assert small_conductor_limit("8", code=NEC) is None


def test_small_conductor_limits_lie_within_the_ampacity() -> None:
    for size in ("14", "12", "10"):
        assert (
            small_conductor_limit(size, code=NEC).amps
            == ampacity(size, "copper", 60, terminal_c=None, code=NEC).result
        )


def test_next_size_up() -> None:
    """NEC 240.4(B), by hand: 8 AWG copper of 33.5 A may have 35 A; none is rounded above 800 A."""
    assert largest_protection("8", "copper", 33.5, code=NEC).amps == 35
    assert largest_protection("8", "copper", 40, code=NEC) == (40, "NEC 2023 240.4")
    assert largest_protection("1000 kcmil", "copper", 810, code=NEC).amps == 810
    assert largest_protection("14", "copper", 25, code=NEC).amps == 15
    assert largest_protection("14", "copper", 25, small_conductors=False, code=NEC).amps == 25
    assert largest_protection("12", "copper", 0, code=NEC).amps == 0


def test_grounding_conductors() -> None:
    """NEC 2023 Table 250.122; 30 and 40 A take the row of 60 A."""
    copper = {
        15: "14",
        20: "12",
        30: "10",
        40: "10",
        60: "10",
        61: "8",
        100: "8",
        200: "6",
        400: "3",
        6000: "800 kcmil",
    }
    assert {amps: grounding_conductor(amps, code=NEC) for amps in copper} == copper
    assert grounding_conductor(100, "aluminum", code=NEC) == "6"
    assert grounding_conductor(7000, code=NEC) is None
    for row in NEC.rows("grounding_conductors"):
        # Aluminum is two gauges larger, as its conductivity of 61 % asks, or more.
        assert area(row["aluminum"]) / area(row["copper"]) > 1.4
        assert row["copper"] in trade_sizes(code=NEC)


def test_branch_circuits() -> None:
    """NEC 210.21(B)(2), (B)(3) and 210.18."""
    assert [receptacle_ratings(amps, code=NEC) for amps in (15, 20, 30, 40, 50)] == [
        (15,),
        (15, 20),
        (30,),
        (40, 50),
        (50,),
    ]
    assert [receptacle_plug_load(amps, code=NEC) for amps in (15, 20, 30)] == [12, 16, 24]
    assert receptacle_ratings(60, code=NEC) == receptacle_ratings(10, code=NEC) == ()
    for row in NEC.rows("branch_circuits"):
        if row["plug_load"]:
            assert float(row["plug_load"]) == 0.8 * float(row["receptacles"].split()[-1])
