"""Motors on three phases against the formulas of the trade and a worked example of Article 430."""

from __future__ import annotations

import cmath
import math

import pytest

from tests.rules.hands import case, changed, reported, said
from tests.rules.motors import SMALL, STARTER
from tests.samples import board
from wirecheck.circuit import meter
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.settle import Settled, resting, settle, starting
from wirecheck.judge.demand import demands
from wirecheck.judge.guards import guarded, motor_of
from wirecheck.rules import multiwire_circuit

STIFF = changed(SMALL, ("10 kA available", "300 kA available"))


def settled(text: str = STIFF, **moved: str) -> Settled:
    wiring = circuit(board(text))
    return settle(wiring, resting(wiring, moved))


def test_its_lines_carry_its_nameplate_and_add_up_to_nothing() -> None:
    """P = 1.732 x V x I x power factor, in each line a third of a turn apart (any text on circuits)."""
    state = settled()
    motor = state.circuit.load["M"]
    lines = state.line_amps(motor)
    assert [abs(amps) for amps in lines] == pytest.approx([4.4] * 3, rel=1e-3)
    assert abs(sum(lines)) < 1e-6
    assert motor.apparent == pytest.approx(math.sqrt(3) * 208 * 4.4)
    turns = sorted(cmath.phase(amps / lines[0]) for amps in lines)
    assert turns == pytest.approx([-math.tau / 3, 0, math.tau / 3], abs=1e-3)
    for wire, amps in zip(("W2.black", "W2.red", "W2.white"), lines, strict=True):
        assert abs(state.amps[wire]) == pytest.approx(abs(amps))


def test_its_power_factor_is_that_of_its_nameplate() -> None:
    """The complex power of the two-wattmeter method: V12 x I1* - V23 x I3* (any text on power)."""
    state = settled()
    motor = state.circuit.load["M"]
    one, two, three = (state.volts[state.circuit.node[end]] for end in motor.ends)
    first, _, third = state.line_amps(motor)
    power = (one - two) * first.conjugate() + (three - two) * third.conjugate()
    assert math.cos(cmath.phase(power)) == pytest.approx(0.8, abs=1e-3)


def test_standing_still_it_draws_its_locked_rotor_current() -> None:
    state = settled()
    assert starting(state).load_amps(state.circuit.load["M"]) == pytest.approx(6 * 4.4, rel=0.04)


@pytest.mark.parametrize(
    ("system", "least", "most"),
    [("480Y/277 V", 479, 481), ("120/240 V delta", 239, 241), ("208Y/120 V", 207, 208.5)],
)
def test_the_lines_of_each_source_stand_alike(system: str, least: float, most: float) -> None:
    """A wye has 1.732 times its volts to neutral between two lines; a delta those of its windings."""
    state = settled(changed(STIFF, ("208Y/120 V", system)), D="off")
    ends = [f"SP.leg-{leg}" for leg in "abc"]
    for a, b in ((0, 1), (1, 2), (2, 0)):
        assert least < state.across(ends[a], ends[b]) < most


def test_the_high_leg_has_208_v_to_the_neutral() -> None:
    """NEC 408.3(E)(1), (F)(1): phase B is the high one, with 208 V to ground: half a winding times 1.732."""
    state = settled(changed(STIFF, ("208Y/120 V", "120/240 V delta")), D="off")
    volts = [state.across(f"SP.leg-{leg}", "SP.neutral") for leg in "abc"]
    assert volts == pytest.approx([120, 207.8, 120], abs=0.1)


@pytest.mark.slow
def test_what_is_made_for_120_v_gets_208_v_on_the_high_leg() -> None:
    text = """board "A lamp on the high leg"
panel SP 120/240 V delta, 10 kA available
breaker SP.3 15 A
L1 is lampholder 60 W
cable W1 14/2 NM-B 20 ft from SP to L1
at SP
  W1.black -- SP.3
  W1.white -- SP.neutral
  W1.bare -- SP.ground
at L1
  W1.black -- L1.hot
  W1.white -- L1.neutral
  W1.bare -- L1.ground
expect L1 live
"""
    assert "high-leg" in reported(text)
    assert reported(changed(text, ("breaker SP.3 15 A", "breaker SP.3 15 A leg c"))) == []


@pytest.mark.slow
def test_a_single_phase_motor_by_article_430() -> None:
    """ecmweb.com (motor calculations, part 2): 1 hp at 115 V: 16 A x 1.25 = 20 A, a breaker of 40 A."""
    text = """board "A motor of one horsepower"
panel LP 120/240 V, 10 kA available
breaker LP.1 40 A
M is capacitor-start-motor 1 hp with current 14 A
cable W1 12/2 NM-B 20 ft from LP to M
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at M
  W1.black -- M.L1
  W1.white -- M.L2
  W1.bare -- M.ground
expect M live
"""
    judged = case(text)
    assert demands(judged)["W1.black"].amps == pytest.approx(20)
    assert "overcurrent-protection" not in reported(text) and "ampacity" not in reported(text)
    assert "overcurrent-protection" in reported(changed(text, ("40 A", "45 A")))
    assert "ampacity" in reported(changed(text, ("12/2", "14/2")))


@pytest.mark.slow
def test_a_motor_circuit_by_article_430() -> None:
    """A public worked example: 7-1/2 hp, 230 V, three phases, nameplate 20 A: wires for 22 A x 1.25 = 27.5 A.

    Its largest breaker, by the same tables: 22 A x 2.5 = 55 A, next standard rating 60 A.
    """
    text = changed(
        STARTER,
        ("panel SP 208Y/120 V", "panel SP 120/240 V delta"),
        ("coil 208 V", "coil 240 V"),
        ("trips 19 A", "trips 25 A"),
        ("5 hp with current 16.1 A, voltage 208 V", "7-1/2 hp with current 20 A"),
    )
    judged = case(text)
    assert demands(judged)["M1"].amps == pytest.approx(27.5, abs=0.05)
    (guard,) = guarded(judged)
    limit = motor_of(judged, guard)
    assert limit is not None and limit.most == 60


@pytest.mark.slow
def test_the_control_circuit_is_not_counted_beside_the_motor() -> None:
    judged = case(STARTER)
    (guard,) = guarded(judged)
    limit = motor_of(judged, guard)
    # 5 hp at 208 V counts 16.7 A (Table 430.250): x 2.5 = 41.75 A, next standard rating 45 A.
    assert limit is not None and limit.most == 45 and limit.amps == 16.7


@pytest.mark.slow
def test_three_breakers_that_do_not_open_together() -> None:
    text = changed(
        SMALL,
        ("breaker SP.1 15 A 3-pole", "breaker SP.1 15 A\nbreaker SP.3 15 A\nbreaker SP.5 15 A"),
        ("SP.1.a", "SP.1"),
        ("SP.1.b", "SP.3"),
        ("SP.1.c", "SP.5"),
    )
    told = said(multiwire_circuit.RULE, text)
    assert told and all(one.help is not None and "three-pole breaker" in one.help for one in told)


def test_a_clamp_shows_what_a_line_carries() -> None:
    assert meter.amps(settled(), "M").value == pytest.approx(4.4, rel=1e-3)
