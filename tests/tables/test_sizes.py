"""Sizes against ASTM B258 and the published circular mils."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.tables.code import edition
from wirecheck.tables.sizes import (
    CIRCULAR_MIL,
    UnknownSize,
    area,
    metric_sizes,
    next_larger,
    size_at_least,
    trade_size,
    trade_sizes,
)

NEC = edition(2023)

# NEC Chapter 9 Table 8, column "circular mils".
CIRCULAR_MILS = {
    "18": 1620, "16": 2580, "14": 4110, "12": 6530, "10": 10380, "8": 16510, "6": 26240, "4": 41740,
    "3": 52620, "2": 66360, "1": 83690, "1/0": 105600, "2/0": 133100, "3/0": 167800, "4/0": 211600,
    "250 kcmil": 250000, "500 kcmil": 500000, "2000 kcmil": 2000000,
}  # fmt: skip

# ASTM B258: nominal diameters of solid wire in inches, as printed in the standard's table.
DIAMETERS = {
    "4/0": 0.4600,
    "1/0": 0.3249,
    "8": 0.1285,
    "10": 0.1019,
    "12": 0.0808,
    "14": 0.0641,
    "18": 0.0403,
}


@pytest.mark.parametrize(("size", "mils"), CIRCULAR_MILS.items())
def test_circular_mils_are_those_of_chapter_9_table_8(size: str, mils: int) -> None:
    assert area(size) / CIRCULAR_MIL == pytest.approx(mils, rel=0.003)


@pytest.mark.parametrize(("size", "inches"), DIAMETERS.items())
def test_diameters_are_those_of_astm_b258(size: str, inches: float) -> None:
    assert math.sqrt(4 * area(size) / math.pi) / 0.0254 == pytest.approx(inches, abs=0.00006)


def test_three_gauges_double_the_area_nearly() -> None:
    """Common practice: three gauge numbers make twice the area, since 92^(6/39) is 2.005."""
    for number in range(1, 38):
        assert area(str(number)) / area(str(number + 3)) == pytest.approx(92 ** (6 / 39))


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("14", "14"),
        ("14 AWG", "14"),
        ("#14", "14"),
        ("4/0", "4/0"),
        ("0", "1/0"),
        ("000", "3/0"),
        ("500", "500 kcmil"),
        ("500 MCM", "500 kcmil"),
        ("500kcmil", "500 kcmil"),
        ("2.5 mm2", "2.5 mm2"),
        ("2.50 mm²", "2.5 mm2"),
        ("16mm2", "16 mm2"),
    ],
)
def test_a_size_has_one_name(written: str, name: str) -> None:
    assert trade_size(written) == name
    assert trade_size(name) == name


@pytest.mark.parametrize(
    "text",
    ["", "5/0", "0/0", "41", "212", "100 AWG", "14 kcmil", "2.5", "-14", "14/2", "1e3", "0 mm2", "9" * 50],
)
def test_what_is_no_size_is_refused(text: str) -> None:
    with pytest.raises(UnknownSize):
        trade_size(text)


def test_the_series_run_upwards() -> None:
    for series in (trade_sizes(code=NEC), metric_sizes()):
        areas = [area(size) for size in series]
        assert areas == sorted(areas)
        for size, larger in pairwise(series):
            assert next_larger(size, code=NEC) == larger
        assert next_larger(series[-1], code=NEC) is None


@given(
    st.sampled_from(trade_sizes(code=NEC) + metric_sizes()),
    st.sampled_from(trade_sizes(code=NEC) + metric_sizes()),
)
def test_order_is_total(first: str, second: str) -> None:
    assert size_at_least(first, second) or size_at_least(second, first)
    if first == second:
        assert size_at_least(first, second)


def test_metric_sizes_beside_their_gauges() -> None:
    """IEC 60228 against ASTM B258: 2.5 mm2 lies between 14 and 12 AWG, 4 mm2 between 12 and 10."""
    assert size_at_least("2.5 mm2", "14") and not size_at_least("2.5 mm2", "12")
    assert size_at_least("4 mm2", "12") and not size_at_least("4 mm2", "10")
