"""Whole boards against worked examples and formulas of the trade, each with its source."""

from __future__ import annotations

import math
from cmath import rect

import pytest

from tests.samples import board
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.settle import Settled, resting, settle

PANELS = {
    "120/240": "panel LP 120/240 V, {ka} kA available",
    "208Y/120": "panel LP 208Y/120 V, {ka} kA available",
}


def powered(system: str, *lines: str, ka: float = 200, **moved: str) -> Settled:
    """A board on a stiff source, settled."""
    text = "\n".join(('board "From a handbook"', PANELS[system].format(ka=ka), *lines, ""))
    made = board(text)
    assert not made.problems, made.problems
    wiring = circuit(made)
    return settle(wiring, resting(wiring, moved))


def volts(settled: Settled, load: str) -> float:
    return settled.load_volts(settled.circuit.load[load])


def amps(settled: Settled, load: str) -> float:
    return settled.load_amps(settled.circuit.load[load])


def wye(a: float, b: float, c: float, *, neutral: bool = True) -> Settled:
    """Three heaters from line to neutral, in watts at 120 V, on short thick wire."""
    lines = ["box B junction 200 cu in"]
    for n, (leg, watts) in enumerate(zip("abc", (a, b, c), strict=True)):
        lines += [f"breaker LP.{4 * n + 1} 60 A leg {leg}", f"wire H{leg} 4/0 THHN black 1 ft from LP to B"]
        lines += [f"X{leg} is heater with power {watts} W, voltage 120 V in B"]
        lines += ["at LP", f"H{leg} -- LP.{4 * n + 1}", "at B", f"H{leg} -- X{leg}.a"]
    lines += ["wire N 4/0 THHN white 1 ft from LP to B", "at LP", "N -- LP.neutral" if neutral else "cap N"]
    lines += ["at B", "N -- Xa.b -- Xb.b -- Xc.b"]
    return powered("208Y/120", *lines)


def test_open_neutral_of_a_multiwire_circuit_with_unequal_loads() -> None:
    """Series voltage divider (any text on circuits, as OpenStax University Physics 2, 10.2).

    A 100 W and a 40 W lamp are 144 and 360 ohms; with the neutral open they share 240 V: 68.6 and 171.4 V.
    """
    settled = powered(
        "120/240",
        "breaker LP.2 15 A 2-pole",
        "box B junction 40 cu in",
        "cable W1 14/3 NM-B 5 ft from LP to B",
        "L1 is lampholder 100 W in B",
        "L2 is lampholder 40 W in B",
        "at LP",
        "W1.black -- LP.2.a",
        "W1.red -- LP.2.b",
        "cap W1.white",
        "at B",
        "W1.black -- L1.hot",
        "W1.red -- L2.hot",
        "L1.neutral -- W1.white -- L2.neutral",
    )
    assert volts(settled, "L1") == pytest.approx(68.6, abs=0.1)
    assert volts(settled, "L2") == pytest.approx(171.4, abs=0.1)


def transformer(*more: str) -> Settled:
    return powered(
        "120/240",
        "breaker LP.3 15 A",
        "T1 is class-2-transformer 40 VA",
        "cable P 12/2 NM-B 3 ft from LP to T1",
        "at LP",
        "P.black -- LP.3",
        "P.white -- LP.neutral",
        "P.bare -- LP.ground",
        "at T1",
        "P.black -- T1.primary-hot",
        "P.white -- T1.primary-neutral",
        "P.bare -- T1.ground",
        *more,
    )


def test_a_loaded_transformer() -> None:
    """IEC 61558-1 (from memory): rated secondary volts are those at rated load; amps go by the turns.

    40 W at 24 V are 1.667 A; the primary has 1.667 x 27.6 / 120 = 0.383 A; open, 27.6 V stand there.
    """
    settled = transformer(
        "H1 is heater with power 40 W, voltage 24 V in T1", "T1.secondary-r -- H1.a", "T1.secondary-c -- H1.b"
    )
    assert volts(settled, "H1") == pytest.approx(24, rel=1e-3)
    assert amps(settled, "H1") == pytest.approx(1.667, rel=1e-3)
    assert abs(settled.amps["T1"]) == pytest.approx(0.3833, rel=1e-3)
    assert transformer().across("T1.secondary-r", "T1.secondary-c") == pytest.approx(27.6, rel=1e-3)


def test_a_24_volt_run_of_150_ft_of_18_awg_with_a_contactors_inrush() -> None:
    """Ohm's law in phasors; NEC Chapter 9 Table 8: 18 AWG solid 7.77 ohm/kft at 75 C.

    35 VA at 24 V and 70 % while it pulls in, 8 VA at 50 % when it is in; 40 VA behind 15 %.
    """
    long = transformer(
        "K1 is contactor",
        "cable Q 18/2 CL2 150 ft from T1 to K1",
        "Q.red -- T1.secondary-r",
        "Q.white -- T1.secondary-c",
        "at K1",
        "Q.red -- K1.coil-a",
        "Q.white -- K1.coil-b",
    )
    run = 2 * 0.150 * 7.77 * (1 + 0.00323 * (30 - 75))
    winding = 0.15 * 24**2 / 40
    pulling, holding = rect(24**2 / 35, math.acos(0.7)), rect(24**2 / 8, math.acos(0.5))
    there = {name: 27.6 * abs(z / (z + run + winding)) for name, z in (("in", holding), ("out", pulling))}
    # It gets 23.2 V while it pulls in: above 19.2 V, so it does; then 26.8 V.
    assert there["out"] == pytest.approx(23.2, abs=0.1) and there["in"] == pytest.approx(26.8, abs=0.1)
    assert "K1" in long.running
    assert volts(long, "K1") == pytest.approx(there["in"], rel=1e-3)
    # By the same arithmetic it does not pull in at 600 ft.
    far = 27.6 * abs(pulling / (pulling + 4 * run + winding))
    assert far < 19.2
    stuck = transformer(
        "K1 is contactor",
        "cable Q 18/2 CL2 600 ft from T1 to K1",
        "Q.red -- T1.secondary-r",
        "Q.white -- T1.secondary-c",
        "at K1",
        "Q.red -- K1.coil-a",
        "Q.white -- K1.coil-b",
    )
    assert "K1" not in stuck.running and volts(stuck, "K1") == pytest.approx(far, rel=1e-3)


def test_line_current_of_a_balanced_wye() -> None:
    """P = sqrt(3) V I, as in any handbook of the trade: 3,600 W at 208 V are 10 A."""
    settled = wye(1200, 1200, 1200)
    assert abs(settled.amps["Ha"]) == pytest.approx(3600 / (math.sqrt(3) * 208), rel=2e-3)
    assert abs(settled.amps["N"]) < 1e-6


@pytest.mark.parametrize("watts", [(1200, 600, 300), (2400, 2400, 0.1), (960, 0.1, 0.1), (1800, 1200, 1500)])
def test_neutral_current_of_an_unbalanced_wye(watts: tuple[float, float, float]) -> None:
    """N = sqrt(A2 + B2 + C2 - AB - BC - CA), common in handbooks: three phasors at 120 degrees."""
    settled = wye(*watts)
    a, b, c = (power / 120 for power in watts)
    expected = math.sqrt(a * a + b * b + c * c - a * b - b * c - c * a)
    assert abs(settled.amps["N"]) == pytest.approx(expected, rel=2e-3)


def test_an_open_neutral_of_a_wye_is_millmans() -> None:
    """J. Millman, "A useful network theorem", Proc. IRE 28, 1940: the star is at sum(V Y) / sum(Y)."""
    settled = wye(1200, 600, 300, neutral=False)
    legs = [rect(120, math.radians(angle)) for angle in (0, -120, 120)]
    siemens = [watts / 120**2 for watts in (1200, 600, 300)]
    star = sum(v * y for v, y in zip(legs, siemens, strict=True)) / sum(siemens)
    for leg, v in zip("abc", legs, strict=True):
        assert volts(settled, f"X{leg}") == pytest.approx(abs(v - star), rel=2e-3)


def test_a_240_volt_heater_on_208_volts_gives_three_quarters() -> None:
    """Power goes with the square of the volts: (208 / 240)2 = 75.1 %, as heater makers' tables say."""
    settled = powered(
        "208Y/120",
        "breaker LP.2 30 A 2-pole",
        "box B junction 40 cu in",
        "cable W1 10/2 NM-B 5 ft from LP to B",
        "H1 is heater with power 4500 W, voltage 240 V in B",
        "at LP",
        "W1.black -- LP.2.a",
        "W1.white marked red -- LP.2.b",
        "at B",
        "W1.black -- H1.a",
        "W1.white marked red -- H1.b",
    )
    power = volts(settled, "H1") * amps(settled, "H1")
    assert power / 4500 == pytest.approx((208 / 240) ** 2, rel=5e-3)


def run_of(cable: str, feet: int, *load: str, ka: float = 200, ambient: str = "30 C") -> Settled:
    return powered(
        "120/240",
        f"ambient {ambient}",
        "breaker LP.3 20 A",
        "box B junction 40 cu in",
        f"cable W1 {cable} {feet} ft from LP to B",
        "at LP",
        "W1.black -- LP.3",
        "W1.white -- LP.neutral",
        "W1.bare -- LP.ground",
        "at B",
        *load,
        ka=ka,
    )


def test_lamps_in_series() -> None:
    """Series resistances: 60 W and 100 W lamps are 240 and 144 ohms, and share 120 V as 75 and 45."""
    settled = run_of(
        "12/2 NM-B", 1, "L1 is lampholder 60 W in B", "L2 is lampholder 100 W in B",
        "W1.black -- L1.hot", "L1.neutral -- L2.hot", "L2.neutral -- W1.white",
    )  # fmt: skip
    assert volts(settled, "L1") == pytest.approx(75, abs=0.1)
    assert volts(settled, "L2") == pytest.approx(45, abs=0.1)


@pytest.mark.parametrize(("cable", "mils"), [("14/2 NM-B", 4110), ("12/2 NM-B", 6530), ("10/2 NM-B", 10380)])
def test_voltage_drop_by_2_k_i_l_over_circular_mils(cable: str, mils: int) -> None:
    """2 K I L / CM, K = 12.9 ohm-mils a foot for copper at 75 C (common practice): 5 A over 100 ft."""
    settled = run_of(
        cable, 100, "M1 is motor with current 5 A, voltage 120 V, power-factor 100 % in B",
        "W1.black -- M1.a", "W1.white -- M1.b", ambient="75 C",
    )  # fmt: skip
    drop = sum(settled.across(f"W1.{color}@LP", f"W1.{color}@B") for color in ("black", "white"))
    assert drop == pytest.approx(2 * 12.9 * 5 * 100 / mils, rel=0.03)


@pytest.mark.parametrize(("cable", "c"), [("14/2 NM-B", 389), ("12/2 NM-B", 617), ("10/2 NM-B", 981)])
def test_fault_current_at_the_end_of_a_run_by_the_point_to_point_method(cable: str, c: float) -> None:
    """The point-to-point method, its published C values from memory, to neutral: f = 2 L I / (C E).

    10 kA at the panel, 50 ft: what is left is 1 / (1 + f) of it. C is not of 30 C copper: within 5 %.
    """
    settled = run_of(cable, 50, "W1.black -- W1.white", ka=10)
    f = 2 * 50 * 10_000 / (c * 120)
    assert settled.opened[0].amps == pytest.approx(10_000 / (1 + f), rel=0.05)


def test_the_current_of_a_motor_and_a_heater_is_their_vector_sum() -> None:
    """I = sqrt((10 + 5.4)2 + 4.763 2): 1,200 W beside 7.2 A at 75 %, not 17.2 A (any text on AC circuits)."""
    settled = run_of(
        "12/2 NM-B", 1, "M1 is motor with current 7.2 A, voltage 120 V in B",
        "H1 is heater with power 1200 W, voltage 120 V in B",
        "W1.black -- M1.a -- H1.a", "W1.white -- M1.b -- H1.b",
    )  # fmt: skip
    expected = math.hypot(10 + 7.2 * 0.75, 7.2 * math.sin(math.acos(0.75)))
    assert expected == pytest.approx(16.12, abs=0.01)
    assert abs(settled.amps["W1.black"]) == pytest.approx(expected, rel=3e-3)
