"""Capacitors, and motors that start with them, against formulas and a worked example."""

from __future__ import annotations

import cmath
import math

import pytest

from tests.rules.hands import case
from tests.rules.test_start_capacitor import RIGHT

WINDING = """\
part winding "A winding at standstill"
rating draws 100 VA
rating factor 80 %
terminal a line, sizes 18 to 4/0, rated 75 C
terminal b line, sizes 18 to 4/0, rated 75 C
load winding heater from a to b, draws at 220 V, power-factor factor
"""
BENCH = """\
board "A capacitor-start motor at standstill"
panel LP 120/240 V, 300 kA available
breaker LP.2 200 A 2-pole
box B junction 400 cu in
cable W1 4/0/3 SER 1 ft from LP to B
MAIN is winding with draws {main} VA, factor {main_factor} % in B
AUX is winding with draws {aux} VA, factor {aux_factor} % in B
SC is start-capacitor with capacitance {capacitance} uF in B
at LP
  W1.black -- LP.2.a
  W1.red -- LP.2.b
at B
  W1.black -- MAIN.a -- SC.a
  SC.b -- AUX.a
  W1.red -- MAIN.b -- AUX.b
"""


def bench(main: complex, aux: complex, capacitance: float) -> str:
    """Two windings of these ohms, the second behind a capacitor, on a stiff source."""
    return BENCH.format(
        main=220**2 / abs(main),
        main_factor=100 * math.cos(cmath.phase(main)),
        aux=220**2 / abs(aux),
        aux_factor=100 * math.cos(cmath.phase(aux)),
        capacitance=capacitance,
    )


def test_a_capacitor_that_puts_the_currents_in_quadrature() -> None:
    """A board examination's problem (pinoybix.org): main 3.5 + j2.5 ohm, auxiliary 8.6 + j2.5 ohm, 60 Hz.

    182.43 uF places the currents of the main and the auxiliary winding 90 degrees apart at starting.
    """
    state = case(bench(3.5 + 2.5j, 8.6 + 2.5j, 182.43), winding=WINDING).at_rest
    turn = cmath.phase(state.amps["AUX"] / state.amps["MAIN"])
    assert math.degrees(turn) == pytest.approx(90, abs=0.3)


@pytest.mark.slow
def test_another_motor_in_quadrature() -> None:
    """Fitzgerald, Kingsley, Umans, Electric Machinery, Example 9.1 (from memory): 177 uF.

    Main 4.5 + j3.7 ohm, auxiliary 9.5 + j3.5 ohm: the capacitor has 3.5 + 9.5 x 4.5 / 3.7 = 15.05 ohm.
    """
    state = case(bench(4.5 + 3.7j, 9.5 + 3.5j, 177), winding=WINDING).at_rest
    turn = cmath.phase(state.amps["AUX"] / state.amps["MAIN"])
    assert math.degrees(turn) == pytest.approx(90, abs=0.5)


@pytest.mark.slow
@pytest.mark.parametrize(("capacitance", "sign"), [(170, 1), (195, -1)])
def test_another_capacitor_does_not(capacitance: float, sign: int) -> None:
    state = case(bench(3.5 + 2.5j, 8.6 + 2.5j, capacitance), winding=WINDING).at_rest
    turn = math.degrees(cmath.phase(state.amps["AUX"] / state.amps["MAIN"]))
    assert sign * (turn - 90) > 0.5


@pytest.mark.slow
def test_what_a_run_capacitor_carries() -> None:
    """I = 2 pi f C V: the check of a run capacitor under load, uF = 2,652 x A / V (common practice)."""
    told = case(RIGHT).played(["cool"]).rest
    capacitor = told.circuit.load["RC"]
    assert 2652 * told.load_amps(capacitor) / told.load_volts(capacitor) == pytest.approx(35, rel=1e-3)


@pytest.mark.slow
def test_the_start_capacitor_is_in_for_a_moment() -> None:
    played = case(RIGHT).played(["cool"])
    times = {
        change.kind: step.time for step in played.steps for change in step.changes if change.name == "SC"
    }
    assert times == {"runs": 0.0, "stops": 0.5}
