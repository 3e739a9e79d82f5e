"""Units against conversion factors published elsewhere, and the door back to the trade."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.language.quantity import (
    HORSEPOWER,
    SYMBOLS,
    amps,
    feet,
    figure,
    gauge_area,
    inches,
    percent,
    quantity,
    reading,
    rounded,
    shown,
    spaced,
    trade_value,
    volts,
)
from wirecheck.language.syntax import Span

HERE = Span(1, 1, 1, 2)

# NIST Special Publication 811 (2008), Appendix B.8, "Factors for units listed
# alphabetically", as printed there, to the digits printed there (from memory; the
# foot, inch, yard and electric horsepower are exact and in bold type).
NIST_SP_811 = [
    ("1 ft", "length", 3.048e-01),
    ("1 in", "length", 2.54e-02),
    ("1 yd", "length", 9.144e-01),
    ("1 cu in", "volume", 1.638706e-05),
    ("1 hp", "horsepower", 7.46e02),
    ("1000 kcmil", "area", 1e6 * 5.067075e-10),
    ("1 h", "time", 3.6e03),
    ("1 min", "time", 6.0e01),
]


@pytest.mark.parametrize(("text", "dimension", "factor"), NIST_SP_811)
def test_factors_of_nist_sp_811(text, dimension, factor):
    value = quantity(text, HERE)
    assert value.dimension == dimension
    assert value.value == pytest.approx(factor, rel=5e-7)


# Fixed points of the two scales: NIST SP 811, B.8: t/C = (t/F - 32) / 1.8.
@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (86, 30), (140, 60), (194, 90)])
def test_fahrenheit(fahrenheit, celsius):
    assert quantity(f"{fahrenheit} F", HERE).value == pytest.approx(celsius, abs=1e-12)
    assert quantity(f"{celsius} C", HERE).value == celsius


# SI prefixes: NIST SP 330 (2019), Table 7.
@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("15 A", "current", 15),
        ("25 mA", "current", 0.025),
        ("10 kA", "current", 10_000),
        ("120 V", "voltage", 120),
        ("30 mV", "voltage", 0.03),
        ("7.2 kV", "voltage", 7_200),
        ("60 W", "power", 60),
        ("4.5 kW", "power", 4_500),
        ("40 VA", "apparent-power", 40),
        ("25 kVA", "apparent-power", 25_000),
        ("7 m", "length", 7),
        ("30 cm", "length", 0.3),
        ("21 mm", "length", 0.021),
        ("333 cm3", "volume", 333e-6),
        ("2.5 mm2", "area", 2.5e-6),
        ("5 ohm", "resistance", 5),
        ("2 kohm", "resistance", 2_000),
        ("10 Mohm", "resistance", 10e6),
        ("17 s", "time", 17),
        ("16 ms", "time", 0.016),
        ("60 Hz", "frequency", 60),
        ("6 %", "percent", 0.06),
        ("6 x", "ratio", 6),
        ("3", "number", 3),
    ],
)
def test_units(text, dimension, value):
    got = quantity(text, HERE)
    assert (got.dimension, got.text, got.span) == (dimension, text, HERE)
    assert got.value == pytest.approx(value, rel=1e-12)
    assert quantity(text.replace(" ", ""), HERE).text == text


@pytest.mark.parametrize(
    ("text", "same_as"),
    [
        ("22 feet", "22 ft"),
        ("1 foot", "1 ft"),
        ("8 inches", "8 in"),
        ("3 yards", "3 yd"),
        ("7 metres", "7 m"),
        ("15 amps", "15 A"),
        ("120 volts", "120 V"),
        ("60 watts", "60 W"),
        ("5 ohms", "5 ohm"),
        ("3 seconds", "3 s"),
        ("3 minutes", "3 min"),
        ("2 hours", "2 h"),
        ("6 percent", "6 %"),
        ("30 °C", "30 C"),
        ("86 °F", "86 F"),
        ("20.3cu  in", "20.3 cu in"),
        ("20.3 cuin", "20.3 cu in"),
        ("12 ft 6 in", "12.5 ft"),
        ("12ft 6-1/2 in", "150.5 in"),
        ("12 feet 6 inches", "150 in"),
    ],
)
def test_words_and_compounds(text, same_as):
    spoken, written = quantity(text, HERE), quantity(same_as, HERE)
    assert spoken.dimension == written.dimension
    assert spoken.value == pytest.approx(written.value, rel=1e-12)


@given(st.integers(0, 99), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]), st.sampled_from(" -"))
def test_mixed_fractions(whole, above, below, between):
    written = quantity(f"{whole}{between}{above}/{below} in", HERE)
    assert written.value == pytest.approx((whole + above / below) * 0.0254, rel=1e-12)
    assert quantity(f"{above}/{below} in", HERE).value == pytest.approx(above / below * 0.0254, rel=1e-12)


@pytest.mark.parametrize(
    "text",
    [
        *("1/0 in", "1-1/0 ft", "9" * 400 + " A", "1" + "0" * 25 + "/7 in", "9999999 ft", "1e300 A"),
        *("5 parsec", "5 xyz", "", "A", "-5 V", "5 0/0 AWG", "5 AWG 3", "55 AWG", "9/0 AWG"),
    ],
)
def test_what_cannot_be_meant_is_refused_in_words(text):
    with pytest.raises(ValueError, match=r"unit|fraction|slip|gauge") as refused:
        quantity(text, HERE)
    assert len(str(refused.value)) < 140


@given(st.text(max_size=30) | st.from_regex(r"[\d/. -]{0,12}(ft|in|cu in|A|AWG|F)?", fullmatch=True))
def test_any_text_is_a_quantity_or_a_value_error(text):
    try:
        value = quantity(text, HERE)
    except ValueError:
        return
    assert math.isfinite(value.value)


# Diameters in mils as ASTM B258 prints them, to a tenth of a mil (from memory).
@pytest.mark.parametrize(
    ("gauge", "mils"),
    [("18", 40.3), ("14", 64.1), ("12", 80.8), ("10", 101.9), ("6", 162.0), ("1/0", 324.9), ("4/0", 460.0)],
)
def test_wire_gauges(gauge, mils):
    diameter = math.sqrt(gauge_area(gauge) * 4 / math.pi) / 25.4e-6
    assert diameter == pytest.approx(mils, abs=0.0501)
    assert quantity(f"{gauge} AWG", HERE).value == gauge_area(gauge)


def test_horsepower_is_the_electric_one():
    assert HORSEPOWER == 746
    assert quantity("1/3 hp", HERE).value == pytest.approx(746 / 3)


# --------------------------------------------------------- back to the trade


@given(st.floats(1.0, 1e6), st.integers(1, 4))
def test_rounding_keeps_so_many_digits(value, digits):
    assert float(rounded(value, digits)) == pytest.approx(value, rel=0.5000001 * 10 ** (1 - digits))
    assert "e" not in rounded(value, digits)


@given(
    st.floats(-1e6, 1e6), st.sampled_from(["V", "A", "%", "ohm", "W", "VA", "C", "s", "cu in", "sq in", ""])
)
def test_a_reading_has_three_figures_or_is_exact(value, unit):
    """Three figures, or the last digit of a meter's smallest range, which is 0.1 at the coarsest."""
    number = figure(value, unit)
    assert abs(number - value) <= max(0.005000001 * abs(value), 0.05)
    text = reading(value, unit)
    assert "e" not in text and not text.startswith(("-0 ", "."))
    figures = text.removesuffix(unit).strip("- mA").replace(".", "").strip("0")
    assert len(figures) <= 3 or value == round(value * 4) / 4


@pytest.mark.parametrize(
    ("number", "unit", "text"),
    [
        *(
            (119.93, "V", "120 V"),
            (119.4, "V", "119 V"),
            (23.97, "V", "24 V"),
            (21.25, "V", "21.3 V"),
            (-21.25, "V", "-21.3 V"),
            (21.249, "V", "21.2 V"),
            (4.2, "V", "4.2 V"),
        ),
        *((208.0, "V", "208 V"), (0.36, "V", "0.36 V"), (0.0049, "V", "0 V"), (0.0051, "V", "0.01 V")),
        *((7.66e-32, "V", "0 V"), (7.66e-8, "V", "0 V"), (-0.001, "V", "0 V"), (-12.04, "V", "-12 V")),
        *((1027.4, "A", "1030 A"), (1027.0, "A", "1027 A"), (10_000.0, "A", "10000 A"), (0.1, "A", "0.1 A")),
        *((0.145, "A", "0.145 A"), (0.0999, "A", "99.9 mA"), (0.0062, "A", "6.2 mA"), (0.00004, "A", "0 A")),
        *((0.00006, "A", "0.1 mA"), (-0.0062, "A", "-6.2 mA"), (0.0, "A", "0 A"), (0.25, "A", "0.25 A")),
        *((0.0952, "%", "0.1 %"), (0.04, "%", "0 %"), (3.14, "%", "3.1 %"), (12.34, "%", "12.3 %")),
        *((0.0553, "ohm", "0.06 ohm"), (1440.0, "W", "1440 W"), (36.46, "VA", "36.5 VA")),
        *((20.25, "cu in", "20.25 cu in"), (20.3, "cu in", "20.3 cu in"), (20.8125, "cu in", "20.8 cu in")),
        *((0.0133, "sq in", "0.0133 sq in"), (12.5, "sq in", "12.5 sq in"), (30.04, "C", "30 C")),
        *((1.5, "in", "1-1/2 in"), (0.25, "in", "1/4 in"), (6.0, "in", "6 in"), (0.0, "in", "0 in")),
        *((5.9055, "in", "5.91 in"), (5.0625, "in", "5-1/16 in"), (5.03125, "in", "5.03 in")),
        *((4.5, "ft", "4-1/2 ft"), (22.966, "ft", "23 ft"), (0.75, "ft", "3/4 ft"), (4.125, "ft", "4.13 ft")),
        *((5.587, "s", "5.59 s"), (0.0254, "s", "0.025 s"), (90.0, "s", "90 s"), (3600.0, "s", "3600 s")),
        *(
            (1234.0, "", "1234"),
            (1234.5, "", "1230"),
            (1235.5, "", "1240"),
            (0.8165, "", "0.817"),
            (0.00004, "", "0"),
        ),
        *((math.inf, "V", "inf V"), (math.nan, "in", "nan in")),
    ],
)
def test_readings(number, unit, text):
    """At most three figures, noise is 0, and what is exact stays."""
    assert reading(number, unit) == text


@pytest.mark.parametrize(
    ("one", "other", "unit", "texts"),
    [
        (15.02, 15.0, "A", ("15.02 A", "15 A")),
        (15.2, 15.0, "A", ("15.2 A", "15 A")),
        (20.3, 20.31, "cu in", ("20.3 cu in", "20.31 cu in")),
        (20.3, 20.25, "cu in", ("20.3 cu in", "20.25 cu in")),
        (3.02, 3.0, "%", ("3.02 %", "3 %")),
        (3.0000000001, 3.0, "%", ("3 %", "3 %")),
        (119.96, 119.94, "V", ("120 V", "119.9 V")),
        (119.96, 120.0, "V", ("119.96 V", "120 V")),
        (0.00504, 0.005, "A", ("5.04 mA", "5 mA")),
        (5.999, 6.0, "in", ("5.999 in", "6 in")),
        (0.002, 0.0, "V", ("0.002 V", "0 V")),
    ],
)
def test_what_is_compared_reads_apart(one, other, unit, texts):
    assert (reading(one, unit, beside=other), reading(other, unit, beside=one)) == texts


@given(st.floats(0.01, 1e4), st.floats(1e-6, 0.01), st.sampled_from(["V", "A", "%", "in", "ft", "cu in", ""]))
def test_a_number_over_its_limit_never_reads_as_the_limit(limit, over, unit):
    value = limit * (1 + over)
    assert reading(value, unit, beside=limit) != reading(limit, unit, beside=value)
    assert figure(value, unit, beside=limit) > figure(limit, unit, beside=value)


def test_a_mark_of_the_tape_is_exact_for_programs_too():
    assert [figure(number, "in") for number in (12.0625, 12.07, 0.25, 5.9055)] == [12.0625, 12.1, 0.25, 5.91]
    assert [figure(number, unit) for number, unit in ((4.25, "ft"), (20.25, "cu in"))] == [4.25, 20.25]


def test_shown_values():
    assert feet(22 * 0.3048) == "22 ft"
    assert inches(0.75 * 0.0254) == "3/4 in"
    assert inches(5.999 * 0.0254) == "6 in" and inches(5.999 * 0.0254, beside=6 * 0.0254) == "5.999 in"
    assert shown(15.5 * 0.0254**3, "volume") == "15.5 cu in"
    assert [amps(value) for value in (0.0, 0.005, 0.25, 4.1666, 10_000.0)] == [
        *("0 A", "5 mA", "0.25 A", "4.17 A", "10000 A")
    ]
    assert [volts(value) for value in (23.97, 0.8, 119.96)] == ["24 V", "0.8 V", "120 V"]
    assert volts(119.96, beside=120) == "119.96 V" and amps(20.02, beside=20) == "20.02 A"
    assert percent(0.0307) == "3.1 %" and percent(0.0302, beside=0.03) == "3.02 %"
    assert shown(3.0, "number") == "3"
    assert shown(-0.5, "current") == "-0.5 A"
    assert shown(8.37, "time", 2) == "8.4 s"


@pytest.mark.parametrize("symbol", sorted(set(SYMBOLS) - {"AWG", "F"}))
def test_there_and_back(symbol):
    value = quantity(f"3 {symbol}", HERE)
    number, unit = trade_value(value.value, value.dimension)
    again = quantity(f"{number:.12f} {unit}", HERE)
    assert again.dimension == value.dimension
    assert again.value == pytest.approx(value.value, rel=1e-6, abs=1e-12)


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_a_space_is_put_before_a_unit(symbol):
    assert spaced(f"12{symbol}") == f"12 {symbol}"
    assert spaced(f"S1.12{symbol}") == f"S1.12{symbol}"
    assert spaced(f"12{symbol}-x") == f"12{symbol}-x"
