"""Worked examples and formulas of the trade's books, each with its source.

Books are quoted from memory; where a number of the book is checked, the formula
beside it gives the same number.
"""

from __future__ import annotations

from cmath import phase, rect
from math import acos, cos, degrees, pi, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.circuit.networks import secondary_amps
from wirecheck.circuit.network import (
    Branch,
    ConstantCurrent,
    ConstantPower,
    Impedance,
    Network,
    Solution,
    Source,
    Transformer,
)
from wirecheck.circuit.phasor import solve

STIFF = 1e-9  # ohms of a source that the book takes as ideal
PHASES = [rect(120, radians(angle)) for angle in (0, -120, 120)]


def solved(*branches: Branch) -> Solution:
    nodes = 1 + max(
        max(b.p1, b.p2, b.s1, b.s2) if isinstance(b, Transformer) else max(b.a, b.b) for b in branches
    )
    return solve(Network(nodes, branches))


def test_open_neutral_of_a_multiwire_circuit() -> None:
    # 240 V across two unequal loads in series: the voltage divider of Nilsson and Riedel, "Electric
    # Circuits", section 3.3. 100 W and 1000 W lamps (144 and 14.4 ohms): 218.18 V and 21.82 V.
    solution = solved(
        Source("a", 1, 0, 120, STIFF),
        Source("b", 2, 0, -120, STIFF),
        Impedance("small", 1, 3, 144),
        Impedance("large", 2, 3, 14.4),
    )
    assert abs(solution.volts[1] - solution.volts[3]) == pytest.approx(218.1818, abs=1e-4)
    assert abs(solution.volts[2] - solution.volts[3]) == pytest.approx(21.8182, abs=1e-4)


def test_neutral_carries_only_the_unbalance_of_two_legs() -> None:
    # NFPA 70 (2023) 310.15(E)(1): a neutral of such a circuit carries the difference. 10 A and 4 A: 6 A.
    # With both hots on one leg it carries the sum, 14 A.
    def neutral(second_leg: float) -> float:
        solution = solved(
            Source("a", 1, 0, 120, STIFF),
            Source("b", 2, 0, second_leg, STIFF),
            ConstantCurrent("ten", 1, 3, 10, 0, 100),
            ConstantCurrent("four", 2, 3, 4, 0, 100),
            Impedance("neutral", 3, 0, 0.01),
        )
        return abs(solution.amps["neutral"])

    assert neutral(-120) == pytest.approx(6, rel=1e-9)
    assert neutral(120) == pytest.approx(14, rel=1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.1, 50), st.floats(0.1, 50), st.floats(0.1, 50))
def test_neutral_of_a_wye(a: float, b: float, c: float) -> None:
    # Neutral current of line-to-neutral loads of one power factor: the root of
    # A2 + B2 + C2 - AB - BC - CA (American Electricians' Handbook).
    loads = [Impedance(f"r{k}", k + 1, 4, 120 / amps) for k, amps in enumerate((a, b, c))]
    sources = [Source(f"v{k}", k + 1, 0, volts, STIFF) for k, volts in enumerate(PHASES)]
    solution = solved(*sources, *loads, Impedance("neutral", 4, 0, STIFF))
    expected = sqrt(max(0.0, a * a + b * b + c * c - a * b - b * c - c * a))
    assert abs(solution.amps["neutral"]) == pytest.approx(expected, rel=1e-6, abs=1e-6)


def test_208y_120_is_root_three() -> None:
    # 120 V to neutral is 207.85 V from line to line, 30 degrees ahead (any text on three-phase circuits,
    # e.g. Nilsson and Riedel, chapter 11).
    solution = solved(*[Source(f"v{k}", k + 1, 0, volts, 0.01) for k, volts in enumerate(PHASES)])
    line = solution.volts[1] - solution.volts[2]
    assert abs(line) == pytest.approx(207.846, abs=1e-3)
    assert degrees(phase(line)) == pytest.approx(30)


def test_delta_draws_as_a_wye_of_a_third() -> None:
    # Nilsson and Riedel, section 9.6: balanced Z(wye) = Z(delta) / 3; line current is root 3 of the delta's.
    delta = 30 + 12j
    sources = [Source(f"v{k}", k + 1, 0, volts, 0.05 + 0.02j) for k, volts in enumerate(PHASES)]
    around = [Impedance(f"d{k}", k + 1, (k + 1) % 3 + 1, delta) for k in range(3)]
    star = [Impedance(f"y{k}", k + 1, 4, delta / 3) for k in range(3)]
    one, other = solved(*sources, *around), solved(*sources, *star)
    for k in range(3):
        assert one.amps[f"v{k}"] == pytest.approx(other.amps[f"v{k}"], rel=1e-9)
        assert abs(one.amps[f"v{k}"]) == pytest.approx(sqrt(3) * abs(one.amps[f"d{k}"]), rel=1e-9)


def test_wye_that_lost_its_neutral() -> None:
    # J. Millman, "A useful network theorem", Proc. IRE 28, 1940: V = sum(E Y) / sum(Y).
    ohms = [12, 24 + 6j, 60 + 45j]
    sources = [Source(f"v{k}", k + 1, 0, volts, STIFF) for k, volts in enumerate(PHASES)]
    loads = [Impedance(f"z{k}", k + 1, 4, z) for k, z in enumerate(ohms)]
    solution = solved(*sources, *loads)
    expected = sum(e / z for e, z in zip(PHASES, ohms, strict=True)) / sum(1 / z for z in ohms)
    assert abs(solution.volts[4] - expected) < 1e-6


def test_24_volt_run_with_a_contactors_inrush() -> None:
    # NFPA 70 (2023), Chapter 9 Table 8: 18 AWG solid uncoated copper is 7.77 ohm/kft. 150 ft out and back is
    # 2.331 ohm. A coil of 60 VA inrush at 24 V is 9.6 ohm; at power factor 0.5 it is 4.8 + j8.314 ohm. With
    # 7.131 + j8.314 = 10.953 ohm: 2.1912 A, and 21.036 V at the coil. A 40 VA transformer of 5 % (0.72 ohm
    # of resistance) under it: 11.435 ohm, 2.0988 A, 20.149 V.
    coil = rect(24**2 / 60, acos(0.5))
    wire = 7.77 * 0.150
    run = (Impedance("out", 1, 2, wire), Impedance("coil", 2, 3, coil), Impedance("back", 3, 0, wire))
    stiff = solved(Source("R", 1, 0, 24, STIFF), *run)
    assert abs(stiff.amps["coil"]) == pytest.approx(2.1912, abs=1e-4)
    assert abs(stiff.volts[2] - stiff.volts[3]) == pytest.approx(21.036, abs=1e-3)
    fed = solved(
        Source("LP", 4, 0, 120, STIFF),
        Transformer("T", 4, 0, 1, 5, 5, 0.05 * 24**2 / 40),
        run[0],
        run[1],
        Impedance("back", 3, 5, wire),
    )
    assert abs(fed.amps["coil"]) == pytest.approx(2.0988, abs=1e-4)
    assert abs(fed.volts[2] - fed.volts[3]) == pytest.approx(20.149, abs=1e-3)


@pytest.mark.parametrize(("factor", "regulation"), [(0.8, 2.1), (1.0, 1.28), (-0.8, -0.062)])
def test_regulation_of_a_15_kva_transformer(factor: float, regulation: float) -> None:
    # S. J. Chapman, "Electric Machinery Fundamentals", example 2-5: 15 kVA, 2300/230 V, 0.0445 + j0.0645 ohm
    # on the low side, full load at 230 V: 2.1 % lagging, 1.28 % at unity, -0.062 % leading.
    amps = 15000 / 230
    angle = acos(abs(factor)) * (1 if factor > 0 else -1)
    ohms = 0.0445 + 0.0645j
    needed = abs(230 + ohms * rect(amps, -angle))
    coil = Transformer("T", 1, 0, 2, 0, 10, ohms, 105e3 * 11e3j / (105e3 + 11e3j))
    solution = solved(
        Source("V", 1, 0, 10 * needed, STIFF), coil, ConstantCurrent("load", 2, 0, amps, angle, 100)
    )
    assert abs(solution.volts[2]) == pytest.approx(230, rel=1e-8)
    assert (needed / abs(solution.volts[2]) - 1) * 100 == pytest.approx(regulation, abs=0.01)
    assert abs(secondary_amps(coil, solution)) == pytest.approx(65.2, abs=0.05)


def test_transformer_loaded_to_its_rating() -> None:
    # An ideal transformer's currents are as its turns upside down (Nilsson and Riedel, section 9.11):
    # 40 VA at 24 V is 1.667 A, at 120 V 0.333 A.
    coil = Transformer("T", 1, 0, 2, 3, 5, STIFF)
    solution = solved(Source("LP", 1, 0, 120, STIFF), coil, Impedance("load", 2, 3, 24**2 / 40))
    assert abs(solution.amps["T"]) == pytest.approx(40 / 120, rel=1e-6)
    assert abs(secondary_amps(coil, solution)) == pytest.approx(40 / 24, rel=1e-6)


@pytest.mark.parametrize(("second", "amps"), [(24, 0), (26, 1.0), (-24, 24.0)])
def test_transformers_in_parallel(second: float, amps: float) -> None:
    # The circulating current is the difference of the open volts over both impedances
    # (Chapman, section on transformers in parallel). 2 V over 2 ohm; out of phase, 48 V over 2 ohm.
    solution = solved(
        Source("LP", 1, 0, 120, STIFF),
        Transformer("RC", 1, 0, 2, 3, 5, 1),
        Transformer("RH", 1, 0, 4, 5, 120 / second, 1),
        Impedance("jumper", 2, 4, STIFF),
        Impedance("commons", 3, 5, STIFF),
    )
    assert abs(solution.amps["jumper"]) == pytest.approx(amps, rel=1e-6, abs=1e-6)


def test_wheatstone_bridge() -> None:
    # Nilsson and Riedel, section 3.6: balanced, nothing flows in the detector. Unbalanced, Thevenin's volts
    # over Thevenin's ohms and the detector's: arms 100, 200, 150, 330 ohm on 10 V give 0.2083 V behind
    # 66.667 + 103.125 ohm.
    def detector(unknown: float) -> complex:
        return solved(
            Source("battery", 1, 0, 10, STIFF),
            Impedance("r1", 1, 2, 100),
            Impedance("r2", 2, 0, 200),
            Impedance("r3", 1, 3, 150),
            Impedance("rx", 3, 0, unknown),
            Impedance("detector", 3, 2, 50),
        ).amps["detector"]

    assert abs(detector(300)) < 1e-12
    volts = 10 * 330 / 480 - 10 * 200 / 300
    assert detector(330) == pytest.approx(volts / (200 / 3 + 103.125 + 50), rel=1e-7)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.1, 10), st.floats(-10, 10), st.floats(0.2, 3), st.floats(-3, 3))
def test_most_power_goes_to_the_conjugate(r: float, x: float, scale: float, shift: float) -> None:
    # Nilsson and Riedel, section 10.5: E2 / 4R into the conjugate of the source's ohms, and less into others.
    def watts(ohms: complex) -> float:
        amps = solved(Source("E", 1, 0, 120, complex(r, x)), Impedance("load", 1, 0, ohms)).amps["load"]
        return abs(amps) ** 2 * ohms.real

    most = watts(complex(r, -x))
    assert most == pytest.approx(120**2 / (4 * r), rel=1e-9)
    assert watts(complex(r * scale, shift - x)) <= most * (1 + 1e-12)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.01, 1), st.floats(0, 1), st.floats(1, 20), st.floats(-0.5, 1.2))
def test_drop_by_the_exact_formula(r: float, x: float, amps: float, angle: float) -> None:
    # IEEE Std 141 (Red Book), section 3.11: drop = es + I R cos + I X sin - sqrt(es2 - (I X cos - I R sin)2).
    solution = solved(
        Source("es", 1, 0, 120, STIFF),
        Impedance("wire", 1, 2, complex(r, x)),
        ConstantCurrent("load", 2, 0, amps, angle, 20),
    )
    along = amps * (r * cos(angle) + x * sin(angle))
    across = amps * (x * cos(angle) - r * sin(angle))
    drop = 120 + along - sqrt(120**2 - across**2)
    assert 120 - abs(solution.volts[2]) == pytest.approx(drop, rel=1e-6, abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.01, 0.5), st.floats(0, 0.5), st.floats(10, 3000), st.floats(0, 1500))
def test_volts_at_a_load_of_constant_power(r: float, x: float, watts: float, reactive: float) -> None:
    # Two-bus power flow in closed form: V4 + (2 (R P + X Q) - E2) V2 + Z2 S2 = 0, the upper root
    # (P. Kundur, "Power System Stability and Control", section 14.1).
    middle = 120**2 - 2 * (r * watts + x * reactive)
    root = middle**2 - 4 * (r * r + x * x) * (watts**2 + reactive**2)
    solution = solved(
        Source("E", 1, 0, 120, STIFF),
        Impedance("wire", 1, 2, complex(r, x)),
        ConstantPower("load", 2, 0, complex(watts, reactive), 50),
    )
    upper = sqrt((middle + sqrt(root)) / 2) if middle > 0 and root > 0 else 0.0
    if upper >= 50.001:
        assert abs(solution.volts[2]) == pytest.approx(upper, rel=1e-6)
    elif upper < 49.999:
        below = 50**2 / complex(watts, -reactive)
        assert abs(solution.volts[2]) == pytest.approx(120 * abs(below / (below + complex(r, x))), rel=1e-6)


def test_fault_at_the_end_of_a_branch_circuit() -> None:
    # Ohm's law over the whole loop: 10 kA available is 12 milliohm; 50 ft of 12 AWG out and back at
    # 1.93 ohm/kft (NFPA 70 (2023), Chapter 9 Table 8) is 0.193 ohm: 585.4 A.
    solution = solved(Source("LP", 1, 0, 120, 0.012), Impedance("loop", 1, 0, 0.193))
    assert abs(solution.amps["loop"]) == pytest.approx(585.37, abs=0.01)


def test_meter_on_a_dead_wire_beside_a_live_one() -> None:
    # Ghost volts: 100 pF/m of cable (common practice) over 10 m to a meter of 10 megohm at 60 Hz, a divider
    # of Xc = 1 / (2 pi f C) = 2.6526 megohm: 120 * 10 / sqrt(10^2 + 2.6526^2) = 115.99 V. A 2 kilohm load
    # on the wire pulls it to 0.09 V.
    reactance = -1j / (2 * pi * 60 * 1e-9)
    wire = (Source("LP", 1, 0, 120, 0.012), Impedance("cable", 1, 2, reactance))
    alone = solved(*wire, Impedance("meter", 2, 0, 1e7))
    assert abs(alone.volts[2]) == pytest.approx(115.99, abs=0.01)
    loaded = solved(*wire, Impedance("meter", 2, 0, 1e7), Impedance("load", 2, 0, 2000))
    assert abs(loaded.volts[2]) == pytest.approx(0.0905, abs=1e-3)
