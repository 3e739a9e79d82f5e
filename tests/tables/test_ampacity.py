"""Ampacity against the physics that the tables rest on, and against worked examples."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.tables.ampacity import (
    ambient_correction,
    ampacity,
    bunching_adjustment,
    conductor_ampacity,
    fixture_wire_ampacity,
    insulation,
    insulations,
)
from wirecheck.tables.code import edition
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import size_at_least

NEC = edition(2023)

LARGER = [row for row in NEC.rows("ampacity") if size_at_least(row["size"], "8")]
LISTED = [row["size"] for row in NEC.rows("ampacity") if row["copper_60"]]


def test_310_16_runs_upwards_in_every_direction() -> None:
    rows = [row for row in NEC.rows("ampacity") if row["copper_60"]]
    for metal in ("copper", "aluminum"):
        for column in ("60", "75", "90"):
            values = [float(row[f"{metal}_{column}"]) for row in rows if row[f"{metal}_{column}"]]
            assert all(low < high for low, high in pairwise(values))
    for row in rows:
        for metal in ("copper", "aluminum"):
            if row[f"{metal}_60"]:
                assert float(row[f"{metal}_60"]) < float(row[f"{metal}_75"]) < float(row[f"{metal}_90"])
        if row["aluminum_60"]:
            assert all(float(row[f"aluminum_{c}"]) < float(row[f"copper_{c}"]) for c in ("60", "75", "90"))


@pytest.mark.parametrize("row", LARGER, ids=lambda row: row["size"])
@pytest.mark.parametrize(("metal", "zero"), [("copper", 234.5), ("aluminum", 228.1)])
def test_columns_differ_as_neher_and_mcgrath_have_it(row: dict[str, str], metal: str, zero: float) -> None:
    """J. H. Neher, M. H. McGrath, AIEE Trans. 76 (1957): I^2 R(Tc) goes with Tc - Ta, and R with zero + Tc.

    The table is rounded to 5 A, so each value may be 2.5 A off.
    """
    for low, high in ((60, 75), (75, 90)):
        ratio = math.sqrt((high - 30) / (low - 30) * (zero + low) / (zero + high))
        expected = float(row[f"{metal}_{low}"]) * ratio
        assert float(row[f"{metal}_{high}"]) == pytest.approx(
            expected, abs=2.5 + 2.5 * ratio + 0.01 * expected
        )


@pytest.mark.parametrize("row", LARGER, ids=lambda row: row["size"])
def test_aluminum_carries_as_its_resistivity_allows(row: dict[str, str]) -> None:
    """The same heat in aluminum: the current falls by sqrt(0.61), its conductivity to copper's."""
    expected = float(row["copper_75"]) * math.sqrt(0.61)
    assert float(row["aluminum_75"]) == pytest.approx(expected, abs=5, rel=0.09)


@pytest.mark.parametrize("rating", [60, 75, 90])
def test_correction_is_the_root_of_the_temperature_rises(rating: int) -> None:
    """NEC 310.15(B), Equation 310.15(B)(1): sqrt((Tc - Ta') / (Tc - Ta)), to the two digits of the table."""
    for row in NEC.rows("ambient_correction"):
        hottest = float(row["up_to"])
        expected = math.sqrt((rating - hottest) / (rating - 30)) if hottest < rating else 0.0
        assert ambient_correction(rating, hottest, code=NEC) == pytest.approx(expected, abs=0.0051)


def test_correction_between_rows_takes_the_hotter_one() -> None:
    assert ambient_correction(90, 30.1, code=NEC) == ambient_correction(90, 35, code=NEC)
    assert ambient_correction(75, -40, code=NEC) == 1.20


def test_adjustment_of_310_15_c_1() -> None:
    """NEC Table 310.15(C)(1)."""
    published = {
        1: 100,
        3: 100,
        4: 80,
        6: 80,
        7: 70,
        9: 70,
        10: 50,
        20: 50,
        21: 45,
        30: 45,
        31: 40,
        40: 40,
        41: 35,
    }
    for count, percent in published.items():
        assert bunching_adjustment(count, code=NEC) == percent / 100


def test_worked_examples() -> None:
    """By hand from the tables: value x correction x adjustment, against the terminals' column."""
    # 8 THHN copper, 9 current-carrying, 43 C, 75 C terminals: 55 x 0.87 x 0.70 = 33.5 A, below 50 A.
    steps = ampacity("8", "copper", 90, 43, 9, 75, code=NEC)
    assert (steps.table, steps.correction, steps.adjustment, steps.cap) == (55, 0.87, 0.70, 50)
    assert steps.result == pytest.approx(33.495)
    assert steps.source == "NEC 2023 Table 310.16, 310.15(B)(1), 310.15(C)(1)"
    # 12 THHN copper, 3 current-carrying, 30 C, 60 C terminals: 30 A held to 20 A.
    assert ampacity("12", "copper", 90, 30, 3, 60, code=NEC).result == 20
    assert ampacity("12", "copper", 90, 30, 3, 60, code=NEC).source == "NEC 2023 Table 310.16, 110.14(C)"
    # 14/2 NM-B in a 50 C attic: 25 x 0.82 = 20.5 A from the 90 C column, held to 15 A of 60 C (334.80).
    assert (
        conductor_ampacity("NM-B", "14", ambient=50, current_carrying=2, terminal_c=75, code=NEC).result == 15
    )
    # 4/0 aluminum SER to a 200 A panel with 75 C lugs: 180 A.
    assert conductor_ampacity("SER", "4/0", "aluminum", terminal_c=75, code=NEC).result == 180
    # Hotter than its insulation: none.
    assert conductor_ampacity("TW", "12", ambient=61, code=NEC).result == 0


def test_thermostat_cable() -> None:
    """NEC Table 402.5: 18 AWG 6 A, 16 AWG 8 A, 12 AWG 23 A."""
    assert conductor_ampacity("CL2", "18", current_carrying=2, code=NEC).result == 6
    assert fixture_wire_ampacity("16", code=NEC).result == 8
    assert fixture_wire_ampacity("12", code=NEC).result == 23
    with pytest.raises(NotInTable):
        fixture_wire_ampacity("22", code=NEC)


def test_fixture_wires_stay_near_310_16() -> None:
    for row in NEC.rows("fixture_wire"):
        if row["size"] in LISTED:
            listed = next(one for one in NEC.rows("ampacity") if one["size"] == row["size"])
            assert float(listed["copper_60"]) * 0.9 < float(row["amps"]) < float(listed["copper_75"])


def test_types() -> None:
    """NEC Table 310.4(1): THHN is not for wet places, THWN-2 is; XHHW falls to 75 C there."""
    assert insulation("THHN", code=NEC).wet is None
    assert insulation("thwn-2", code=NEC).wet == 90
    assert (insulation("XHHW", code=NEC).dry, insulation("XHHW", code=NEC).wet) == (90, 75)
    with pytest.raises(NotInTable, match="not for wet places"):
        conductor_ampacity("THHN", "12", wet=True, code=NEC)
    with pytest.raises(NotInTable, match="THWN-2"):
        insulation("THHHN", code=NEC)


def test_what_310_16_does_not_have_is_refused() -> None:
    for size, metal in (("14", "aluminum"), ("20", "copper"), ("2.5 mm2", "copper")):
        with pytest.raises(NotInTable):
            ampacity(size, metal, 90, code=NEC)
    with pytest.raises(NotInTable):
        ampacity("12", "copper", 105, code=NEC)


@given(
    st.sampled_from(LISTED),
    st.sampled_from([60, 75, 90]),
    st.floats(-20, 100),
    st.integers(0, 60),
    st.sampled_from([None, 60, 75, 90]),
)
def test_result_is_the_least_of_its_steps(
    size: str, rating: int, ambient: float, count: int, terminal: int | None
) -> None:
    steps = ampacity(size, "copper", rating, ambient, count, terminal, code=NEC)
    assert steps.corrected == steps.table * steps.correction * steps.adjustment
    assert steps.result == min(steps.corrected, steps.cap if steps.cap is not None else steps.corrected)
    hotter = ampacity(size, "copper", rating, ambient + 7, count + 4, terminal, code=NEC)
    assert hotter.result <= steps.result


def test_every_type_has_an_ampacity() -> None:
    for kind in insulations(code=NEC):
        size = "18" if insulation(kind, code=NEC).fixture else "12"
        assert conductor_ampacity(kind, size, code=NEC).result > 0
