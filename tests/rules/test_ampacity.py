"""Wires that must carry more than they may: NEC 310.16, 210.19(A)(1), 430.22, 440.4(B)."""

from __future__ import annotations

import pytest

from tests.rules.circuits import MOTOR, one_load, outdoor_unit, outlet, two_loads, valves
from tests.rules.hands import COOLING, STAIR, own, reported, seen
from wirecheck.rules.ampacity import RULE, NotChecked


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("current", "raised"),
    [
        (16.0, False),  # 16 x 1.25 = 20 A, the ampacity of 12 AWG in NM cable
        (16.1, True),
        (17.0, True),  # Table 430.248: 3 hp at 230 V, 17 A; 17 x 1.25 = 21.25 A (430.22)
    ],
)
def test_a_motor_counts_125_percent(current: float, raised: bool) -> None:
    part = f"motor with current {current} A, voltage 120 V"
    found = seen(RULE, one_load("12/2 NM-B 20 ft", part, "20 A", screws=MOTOR))
    assert len(found) == raised
    for one in found:
        assert one.worst.demand.amps == pytest.approx(1.25 * current)
        assert (one.worst.steps.result, one.size) == (20, "10")
        assert (one.severity, one.stage, one.subject, one.at.span.line) == ("violation", "rough-in", "W1", 7)


@pytest.mark.parametrize(("watts", "raised"), [(1440, False), (1450, True)])
def test_a_continuous_load_counts_125_percent(watts: float, raised: bool) -> None:
    # 210.19(A)(1): 1440 W at 120 V is 12 A, x 1.25 = 15 A, all that 14 AWG in NM cable may carry.
    found = seen(RULE, one_load(part=f"baseboard-heater {watts} W 120 V"))
    assert len(found) == raised
    for one in found:
        assert one.worst.demand.amps == pytest.approx(1450 / 120 * 1.25, abs=0.01)


@pytest.mark.parametrize(("watts", "severity"), [(1850, "hazard"), (1790, "violation")])
def test_an_overloaded_wire_behind_a_breaker_that_holds_is_a_hazard(watts: float, severity: str) -> None:
    # 15 A at 120 V is 1800 W; a little more, for what the wire itself loses.
    (one,) = seen(RULE, one_load(part=f"baseboard-heater {watts} W 120 V", breaker="30 A"))
    assert one.severity == severity


@pytest.mark.parametrize(
    ("ambient", "watts", "raised"), [(65, 1260, False), (76, 1220, False), (76, 1260, True)]
)
def test_hot_surroundings_take_ampacity_away(ambient: float, watts: float, raised: bool) -> None:
    # 90 C insulation at 65 C: x 0.65; 14 AWG: 25 x 0.65 = 16.25, capped at 15. At 76 C: x 0.41 = 10.25 A.
    # That is held against the load as it is, 210.19(A)(1)(b); 125 % of it against the 15 A before, (a).
    found = seen(RULE, one_load(part=f"baseboard-heater {watts} W 120 V", ambient=ambient))
    assert len(found) == raised
    for one in found:
        assert one.worst.steps.result == one.worst.may == pytest.approx(10.25)
        assert one.worst.needs == pytest.approx(watts / 120) and not one.worst.first


@pytest.mark.parametrize(("watts", "raised"), [(1440, False), (1450, True)])
def test_what_runs_for_hours_counts_more_before_the_heat_takes_from_it(watts: float, raised: bool) -> None:
    # At 68 C 14 AWG has 25 x 0.58 = 14.5 A, above 12 A; before that 15 A, for 1.25 x 12 A.
    found = seen(RULE, one_load(part=f"baseboard-heater {watts} W 120 V", ambient=68))
    assert len(found) == raised
    for one in found:
        assert (one.worst.first, one.worst.may) == (True, 15)
        assert one.worst.needs == pytest.approx(1.25 * watts / 120)
        # 12 AWG has 20 A before, and 17.4 A after.
        assert one.size == "12"


def test_above_its_own_temperature_a_wire_may_carry_nothing() -> None:
    (one,) = seen(RULE, one_load(ambient=95))
    assert (one.worst.steps.result, one.worst.share, one.size) == (0, float("inf"), None)


@pytest.mark.parametrize(("mca", "raised"), [(20, False), (20.1, True)])
def test_a_nameplate_asks_for_its_minimum_circuit_ampacity(mca: float, raised: bool) -> None:
    found = seen(RULE, outdoor_unit(30, "12/2 NM-B", mca=mca))
    assert len(found) == raised
    for one in found:
        # The nameplate allows the breaker, so that the wire alone decides.
        assert (one.size, one.severity) == ("10", "violation")


def test_the_size_that_would_do_is_one_that_the_breaker_allows() -> None:
    # 16.25 A would do on 12 AWG, and behind 30 A the wire must be 10 AWG (240.4(D)).
    text = one_load(part="motor with current 13 A, voltage 120 V", breaker="30 A", screws=MOTOR)
    motor = text.replace(
        "at B\n", "L1 is lampholder 60 W in B\nat B\n  H1.a -- L1.hot\n  H1.b -- L1.neutral\n"
    )
    (one,) = seen(RULE, motor)
    assert one.size == "10"
    (one,) = seen(RULE, motor.replace("LP.3 30 A", "LP.3 20 A"))
    assert one.size == "12"


def test_the_worst_run_of_a_circuit_stands_for_all() -> None:
    text = two_loads("baseboard-heater 120 W 120 V", "baseboard-heater 1560 W 120 V")
    (one,) = seen(RULE, text)
    # 17.5 A and 16.25 A on 15 A of ampacity.
    assert (one.subject, [other.conductor.run for other in one.others]) == ("W1", ["W2"])
    thin = text.replace("W2 14/2", "W2 16/2")
    (one,) = seen(RULE, thin)
    assert (one.subject, [other.conductor.run for other in one.others]) == ("W2", ["W1"])
    (alone,) = seen(RULE, text.replace("W2 14/2", "W2 12/2"))
    assert (alone.subject, alone.others) == ("W1", ())


def test_the_worst_conductor_of_a_run_stands_for_it() -> None:
    # The neutral of a multiwire circuit carries the unbalance alone.
    (one,) = seen(RULE, one_load(part="baseboard-heater 1500 W 120 V"))
    assert one.worst.conductor.name == "W1.black"
    assert one.copper


def test_what_no_table_holds_is_told_and_not_guessed() -> None:
    (one,) = seen(RULE, one_load("14/2 NM-B aluminum 20 ft"))
    assert isinstance(one, NotChecked)
    assert (one.severity, one.stage, one.subject) == ("advice", "rough-in", "W1")
    assert "aluminum" in one.reason and one.copper


def test_a_spare_wire_of_no_table_is_nobodys() -> None:
    spare = STAIR + "cable W9 14/2 NM-B aluminum 9 ft from LP to B\nat LP\n  cap W9.bare\n"
    assert not seen(RULE, spare)


def test_a_wire_behind_a_breaker_without_a_load_is_looked_up_too() -> None:
    (one,) = seen(RULE, outlet("duplex-receptacle 15 A", "15 A", "14/2 NM-B aluminum 20 ft"))
    assert isinstance(one, NotChecked)


@pytest.mark.parametrize(("watts", "raised"), [(110, False), (120, True)])
def test_a_wire_that_no_breaker_protects_is_judged_by_itself(watts: float, raised: bool) -> None:
    # Behind a transformer: 120 W at 24 V is 5 A, x 1.25 = 6.25 A; 18 AWG may carry 6 A (Table 402.5).
    text = valves("class-2-transformer 150 VA", 10).replace("C0 18/2 CL2", "C0 18/2 NM-B")
    text = text.replace("C0.red", "C0.black")
    text = text.replace("V0 is solenoid-valve with capacity 10 VA", f"V0 is heater {watts} W 24 V")
    found = seen(RULE, text)
    assert len(found) == raised
    for one in found:
        assert (one.subject, one.size) == ("C0", "16")
        assert one.worst.demand.amps == pytest.approx(1.25 * watts / 24)


def test_it_is_reported_in_the_rough_in() -> None:
    assert reported(outdoor_unit(25, "12/2 UF-B", mca=21.4), stage="rough-in") == ["ampacity"]


def test_what_asks_for_a_larger_breaker_asks_for_its_wire_too() -> None:
    text = one_load(part="baseboard-heater 1500 W 120 V")
    assert len(seen(RULE, text)) == 1
    told = reported(text)
    assert "overcurrent-protection" in told and "ampacity" not in told
    # Wire that is overloaded as it stands is told for itself.
    hot = one_load(part="baseboard-heater 1500 W 120 V", ambient=76)
    assert {"overcurrent-protection", "ampacity"} <= set(reported(hot))
    # And so is wire on another circuit.
    motor = "motor with current 17 A, voltage 120 V"
    assert "ampacity" in reported(one_load("12/2 NM-B 20 ft", motor, "20 A", screws=MOTOR))


def test_a_control_of_a_machine_is_not_asked_for_what_its_circuit_carries() -> None:
    """NEC 2023 440.4(B): the minimum circuit ampacity is that of the circuit that feeds it, 18.3 A here."""
    control = own("overcurrent-protection", "thin-control")
    assert not seen(RULE, control)
    (found,) = seen(RULE, control.replace("W3 10/2 NM-B", "W3 14/2 NM-B"))
    assert (found.worst.conductor.run, found.worst.needs) == ("W3", pytest.approx(18.3))
