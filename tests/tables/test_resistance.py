"""Resistance against NBS Handbook 100, physics and IEC 60228; impedance against Table 9's own effective Z."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.files import table_rows
from wirecheck.tables.code import edition
from wirecheck.tables.published import NotInTable
from wirecheck.tables.resistance import KILOFOOT, impedance, resistance
from wirecheck.tables.sizes import CIRCULAR_MIL, area, metric_sizes

NEC = edition(2023)

# NBS Handbook 100, Copper Wire Tables (1966): ohms per 1000 ft of solid annealed copper at 20 C.
HANDBOOK_100 = {"18": 6.385, "14": 2.525, "12": 1.588, "10": 0.9989}

SOLID = [row["size"] for row in NEC.rows("conductor_resistance") if row["copper_solid"]]
STRANDED = [row["size"] for row in NEC.rows("conductor_resistance")]


def _last_digit(written: str) -> float:
    """Half of the last digit that the table prints."""
    return 0.5 * 10.0 ** -len(written.partition(".")[2])


@pytest.mark.parametrize(("size", "ohms"), HANDBOOK_100.items())
def test_copper_at_20_c_is_that_of_handbook_100(size: str, ohms: float) -> None:
    # Table 8 prints three digits: 1.21 may be off by 0.4 %.
    assert resistance(size, stranded=False, temperature=20, code=NEC) * KILOFOOT == pytest.approx(
        ohms, rel=0.0045
    )


@pytest.mark.parametrize("size", SOLID)
def test_solid_conductors_are_as_physics_has_them(size: str) -> None:
    """Annealed copper, IEC 60028: 1.7241e-8 ohm m and 0.00393 per C at 20 C; aluminum conducts 61 % as well.

    Table 8 rests on circular mils rounded to three or four digits, so 0.3 % is left for that.
    """
    row = next(row for row in NEC.rows("conductor_resistance") if row["size"] == size)
    copper = 1.7241e-8 * (1 + 0.00393 * 55) / area(size) * KILOFOOT
    assert float(row["copper_solid"]) == pytest.approx(
        copper, rel=0.003, abs=_last_digit(row["copper_solid"])
    )
    aluminum = 1.7241e-8 / 0.61 * (1 + 0.00403 * 55) / area(size) * KILOFOOT
    assert float(row["aluminum_solid"]) == pytest.approx(
        aluminum, rel=0.005, abs=_last_digit(row["aluminum_solid"])
    )


@pytest.mark.parametrize("size", STRANDED)
def test_strands_are_two_percent_longer(size: str) -> None:
    """ASTM B8: the lay of concentric strands adds 2 % (common practice)."""
    row = next(row for row in NEC.rows("conductor_resistance") if row["size"] == size)
    copper = 1.02 * 1.7241e-8 * (1 + 0.00393 * 55) / area(size) * KILOFOOT
    assert float(row["copper_stranded"]) == pytest.approx(
        copper, rel=0.007, abs=_last_digit(row["copper_stranded"])
    )
    aluminum = 1.02 * 2.8264e-8 * (1 + 0.00403 * 55) / area(size) * KILOFOOT
    assert float(row["aluminum_stranded"]) == pytest.approx(aluminum, rel=0.008)


def test_thermostat_wire_below_the_table_follows_the_gauge() -> None:
    """NBS Handbook 100: 20 AWG is 10.15 and 22 AWG 16.14 ohm per 1000 ft at 20 C."""
    assert resistance("20", temperature=20, code=NEC) * KILOFOOT == pytest.approx(10.15, rel=0.001)
    assert resistance("22", temperature=20, code=NEC) * KILOFOOT == pytest.approx(16.14, rel=0.001)


@pytest.mark.parametrize("row", table_rows("iec_60228"), ids=lambda row: row["size"])
def test_metric_limits_leave_room_for_lay_and_tolerance(row: dict[str, str]) -> None:
    for column, resistivity in (("copper", 17.241), ("aluminum", 28.264)):
        for grade in ("1", "2"):
            if written := row[f"{column}_class_{grade}"]:
                ideal = resistivity / (area(row["size"]) * 1e6)
                assert (
                    1.05 <= float(written) / ideal <= 1.14 or ideal * 0.999 <= float(written) <= ideal * 1.14
                )


def test_metric_values() -> None:
    """IEC 60228, Table 1: 1.5 mm2 12.1, 2.5 mm2 7.41, 4 mm2 4.61 ohm per km at 20 C."""
    assert resistance("1.5 mm2", temperature=20, code=NEC) == pytest.approx(0.0121)
    assert resistance("2.5 mm2", temperature=20, code=NEC) == pytest.approx(0.00741)
    assert resistance("4 mm2", temperature=20, code=NEC) == pytest.approx(0.00461)
    assert resistance("2.5 mm2", temperature=70, code=NEC) == pytest.approx(0.00741 * (1 + 0.00393 * 50))


def test_the_handbook_form_of_voltage_drop() -> None:
    """Common practice: drop is 2 K I L / CM with K = 12.9 ohm circular mils per foot of copper at 75 C."""
    for size in SOLID:
        k = resistance(size, stranded=True, code=NEC) * 0.3048 * area(size) / CIRCULAR_MIL
        assert k == pytest.approx(12.9, rel=0.01)


@pytest.mark.parametrize("row", NEC.rows("conductor_impedance"), ids=lambda row: row["size"])
def test_table_9_agrees_with_table_8(row: dict[str, str]) -> None:
    """Alternating current never meets less resistance than direct current, but for the printed digits."""
    for column in (
        "copper_pvc",
        "copper_aluminum",
        "copper_steel",
        "aluminum_pvc",
        "aluminum_aluminum",
        "aluminum_steel",
    ):
        if row[column]:
            direct = resistance(row["size"], column.partition("_")[0], True, code=NEC) * KILOFOOT
            assert float(row[column]) >= direct - 0.051 * direct - _last_digit(row[column])
    assert 1.2 <= float(row["x_steel"]) / float(row["x_pvc"]) <= 1.3


# NEC Chapter 9 Table 9, columns "effective Z at 0.85 PF": copper in PVC, aluminum conduit, steel.
EFFECTIVE_Z = {
    "1/0": (0.13, 0.13, 0.13),
    "3/0": (0.088, 0.092, 0.094),
    "4/0": (0.074, 0.078, 0.080),
    "250": (0.066, 0.070, 0.073),
    "350": (0.053, 0.058, 0.060),
    "500": (0.043, 0.048, 0.050),
    "750": (0.036, 0.040, 0.043),
    "1000": (0.032, 0.036, 0.040),
}


@pytest.mark.parametrize(("size", "published"), EFFECTIVE_Z.items())
def test_effective_impedance_is_that_of_table_9(size: str, published: tuple[float, ...]) -> None:
    for raceway, ohms in zip(("PVC", "aluminum", "EMT"), published, strict=True):
        z = impedance(size, "copper", raceway, code=NEC) * KILOFOOT
        effective = z.real * 0.85 + z.imag * math.sin(math.acos(0.85))
        assert effective == pytest.approx(ohms, abs=0.0013 if ohms < 0.1 else 0.006)


@given(
    st.sampled_from(STRANDED[:21] + list(metric_sizes()[:19])),
    st.floats(-20, 90),
    st.sampled_from(["PVC", "EMT", "NM-B"]),
)
def test_impedance_holds_its_resistance(size: str, temperature: float, raceway: str) -> None:
    z = impedance(size, "copper", raceway, temperature, code=NEC)
    direct = resistance(size, "copper", None, temperature, code=NEC)
    assert direct * 0.96 <= z.real <= direct * 1.25
    assert 0 <= z.imag <= 0.073 / KILOFOOT
    assert resistance(size, "aluminum", None, temperature, code=NEC) > direct


def test_heat_raises_resistance_and_limits_are_kept() -> None:
    assert resistance("12", temperature=90, code=NEC) > resistance("12", temperature=30, code=NEC)
    with pytest.raises(NotInTable):
        resistance("12", temperature=1000, code=NEC)
    with pytest.raises(NotInTable):
        resistance("12", "iron", code=NEC)
    with pytest.raises(NotInTable):
        impedance("2000", code=NEC)
