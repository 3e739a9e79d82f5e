"""Contacts against their own rating: NEC 404.14(A), 404.14(F), 110.3(B), 430.110(A), 440.12(A)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import CHAIN, COOLING, STAIR, case, changed, reported, seen
from wirecheck import files
from wirecheck.rules.contact_rating import RULE, DisconnectTooSmall, MotorOnSwitch, OutletsBehind, Overloaded

BOARDS = Path(__file__).parent / "boards" / "contact-rating"
MOTOR = (files.folder("boards") / "rules" / "contact-rating" / "wrong.wire").read_text(encoding="utf-8")
LAMP, OUTLET, HEATERS, DISCONNECT = (
    (BOARDS / f"{name}.wire").read_text(encoding="utf-8")
    for name in ("lamps-on-a-switch", "outlets", "thermostat", "disconnect")
)
BOTH = changed(
    MOTOR,
    ("M1 is motor", "L1 is lampholder 60 W in B\nM1 is motor"),
    ("W2.black -- M1.a", "W2.black -- M1.a -- L1.hot"),
    ("W2.white -- M1.b", "W2.white -- M1.b -- L1.neutral"),
)
RELAY = """\
board "A relay and what it switches"
panel LP 120/240 V, 10 kA available
breaker LP.3 20 A
T1 is class-2-transformer
RL is relay-spst
B1 is push-button
M1 is motor with current 11 A, voltage 120 V
cable W1 12/2 NM-B 20 ft from LP to T1
cable W2 12/2 NM-B 5 ft from T1 to RL
cable W3 12/2 NM-B 5 ft from RL to M1
cable C1 18/2 CL2 5 ft from T1 to B1
cable C2 18/2 CL2 5 ft from B1 to RL
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at T1
  W1.black -- W2.black -- T1.primary-hot
  W1.white -- W2.white -- T1.primary-neutral
  W1.bare -- W2.bare -- T1.ground
  C1.red -- T1.secondary-r
  C1.white -- T1.secondary-c
at B1
  C1.red -- B1.a
  C2.red -- B1.b
  C1.white -- C2.white
at RL
  C2.red -- RL.coil-a
  C2.white -- RL.coil-b
  W2.black -- RL.common
  W3.black -- RL.no
  W2.white -- W3.white
  W2.bare -- W3.bare
at M1
  W3.black -- M1.a
  W3.white -- M1.b
  cap W3.bare
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, CHAIN, RELAY])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("switch", "motor", "limit"),
    # 404.14(A)(3): 80 % of 15 A is 12 A, of 20 A is 16 A.
    [("15 A", 12, None), ("15 A", 12.1, 12), ("20 A", 16, None), ("20 A", 16.1, 16)],
)
def test_a_wall_switch_carries_motors_up_to_80_percent(
    switch: str, motor: float, limit: float | None
) -> None:
    text = changed(MOTOR, ("15 A in A", f"{switch} in A"), ("current 13.8 A", f"current {motor} A"))
    found = seen(RULE, text)
    assert [type(one) for one in found] == ([MotorOnSwitch] if limit else [])
    for one in found:
        assert (one.amps, one.limit) == (pytest.approx(motor), pytest.approx(limit))
        assert (one.subject, one.severity, one.stage, one.at.span.line) == ("S1", "violation", "final", 8)
        assert (one.rating, one.device.name, one.carried.loads) == (float(switch.split()[0]), "S1", ("M1",))
        assert one.copper


def test_beside_a_motor_a_lamp_counts_to_the_rating_and_not_to_the_motors() -> None:
    # 12 A and 3 A are the switch's 15 A; 11 A and 4.1 A are over it; of 12.1 A and 2.5 A it is the motor.
    def with_both(motor: float, lamp: float) -> list[type]:
        text = changed(BOTH, ("current 13.8 A", f"current {motor} A"), ("60 W", f"{lamp * 120:.0f} W"))
        return [type(one) for one in seen(RULE, text)]

    assert with_both(12, 3) == []
    assert with_both(11, 4.1) == [Overloaded]
    assert with_both(12.1, 2.5) == [MotorOnSwitch]


@pytest.mark.parametrize(("watts", "kind"), [(1800, None), (1812, Overloaded)])
def test_a_switch_carries_its_rating(watts: int, kind: type | None) -> None:
    found = seen(RULE, changed(LAMP, ("1860 W", f"{watts} W")))
    assert [type(one) for one in found] == ([kind] if kind else [])
    for one in found:
        assert (one.amps, one.limit, one.rating) == (pytest.approx(watts / 120), 15, 15)


def test_low_volts_hide_no_overload() -> None:
    (one,) = seen(RULE, changed(LAMP, ("12/2 NM-B 18 ft", "12/2 NM-B 300 ft"), ("1860 W", "1812 W")))
    assert one.amps == pytest.approx(15.1)
    state = one.carried.state
    assert abs(state.amps[one.contact.name]) < 15


def test_on_more_volts_what_flows_counts() -> None:
    text = changed(
        HEATERS, ("voltage 240 V\nBB2", "voltage 208 V\nBB2"), ("3 kW", "2600 W"), ("2400 W", "2000 W")
    )
    (one,) = seen(RULE, text)
    # 2,600 W at 208 V is 16.6 ohms: near 14.4 A at 240 V, beside 8.3 A; by the ratings it were 20.8 A.
    assert one.amps == pytest.approx(22.5, abs=0.1)


@pytest.mark.parametrize(("watts", "kind"), [(2280, None), (2290, Overloaded)])
def test_the_poles_of_a_thermostat_are_one_choice(watts: int, kind: type | None) -> None:
    # 22 A at 240 V are 5,280 W.
    found = seen(RULE, changed(HEATERS, ("2400 W", f"{watts} W")))
    assert [(type(one), one.subject) for one in found] == ([(kind, "T1")] if kind else [])
    for one in found:
        assert one.at.span.line == 8 and one.carried.loads == ("BB1.element", "BB2.element")
        assert one.carried.motors == 0


def test_contacts_that_carry_what_is_in_their_own_device_are_its_makers_matter() -> None:
    """The limit inside a large baseboard heater is rated less here than its element draws."""
    text = changed(HEATERS, ("2400 W", "100 W"), ("3 kW", "4 kW"))
    assert not seen(RULE, text)


@pytest.mark.parametrize(("amps", "kind"), [(26, None), (26.2, DisconnectTooSmall)])
def test_a_disconnect_of_a_motor_is_rated_115_percent(amps: float, kind: type | None) -> None:
    # 430.110(A), 440.12(A)(1): 30 A / 1.15 = 26.09 A.
    found = seen(RULE, changed(DISCONNECT, ("27 A", f"{amps} A")))
    assert [type(one) for one in found] == ([kind] if kind else [])
    for one in found:
        assert (one.amps, one.limit) == (pytest.approx(amps), pytest.approx(30 / 1.15))
        assert (one.subject, one.rating, one.carried.motors) == ("D", 30, pytest.approx(amps))


@pytest.mark.slow
@pytest.mark.parametrize(("amps", "kind"), [(25.5, None), (26.2, DisconnectTooSmall)])
def test_a_start_winding_is_in_the_rated_load_that_a_disconnect_is_for(
    amps: float, kind: type | None
) -> None:
    """NEC 440.12(A)(1), with the start winding and the run capacitor that the 13.6 A hold already."""
    text = (files.folder("boards") / "capacitor-compressor" / "right.wire").read_text(encoding="utf-8")
    other = ("CP is capacitor-compressor in E", f"CP is capacitor-compressor {amps} A in E")
    assert [type(one) for one in seen(RULE, changed(text, other))] == ([kind] if kind else [])


@pytest.mark.parametrize(("watts", "kind"), [(7200, None), (7250, Overloaded)])
def test_a_disconnect_of_heat_alone_carries_its_rating(watts: int, kind: type | None) -> None:
    text = changed(
        DISCONNECT, ("compressor with current 27 A", f"heater with power {watts} W, voltage 240 V")
    )
    assert [type(one) for one in seen(RULE, text)] == ([kind] if kind else [])


def test_currents_are_added_as_the_code_adds_them() -> None:
    """430.110(C): the sum of all currents, though those of a motor and of heat are apart in phase."""
    text = changed(
        DISCONNECT,
        ("CMP is compressor with current 27 A in B", "CMP is compressor with current 13 A in B"),
        ("at LP", "H1 is heater with power 3168 W, voltage 240 V in B\nat LP"),
        ("PD.black -- CMP.a", "PD.black -- CMP.a -- H1.a"),
        ("PD.white marked red -- CMP.b", "PD.white marked red -- CMP.b -- H1.b"),
    )
    (one,) = seen(RULE, text)
    assert one.amps == pytest.approx(26.2) and one.carried.motors == pytest.approx(13)


@pytest.mark.parametrize(("amps", "kind"), [(12, None), (12.1, Overloaded)])
def test_a_relay_carries_motors_up_to_its_rating(amps: float, kind: type | None) -> None:
    text = changed(RELAY, ("current 11 A", f"current {amps} A"))
    found = seen(RULE, text)
    # Beside the relay, nothing on the board is rated for less.
    assert [(type(one), one.subject) for one in found] == ([(kind, "RL")] if kind else [])


def test_a_contact_of_no_rating_is_not_judged() -> None:
    part = """\
part plain "A switch of no rating"
terminal line hot
terminal load switched
terminal ground ground
positions on, off
line -- load when on
"""
    text = changed(LAMP, ("S1 is single-pole-switch 15 A in A", "S1 is plain in A"))
    assert not list(RULE.find(case(text, plain=part)))


@pytest.mark.parametrize(
    ("breaker", "switch", "kind"),
    # 404.14(F): no less than what protects the receptacles.
    [("20 A", "15 A", OutletsBehind), ("15 A", "15 A", None), ("20 A", "20 A", None)],
)
def test_who_plugs_in_behind_a_switch_may_draw_what_the_breaker_gives(
    breaker: str, switch: str, kind: type | None
) -> None:
    found = seen(RULE, changed(OUTLET, ("LP.7 20 A", f"LP.7 {breaker}"), ("15 A in A", f"{switch} in A")))
    assert [type(one) for one in found] == ([kind] if kind else [])
    for one in found:
        assert (one.subject, one.severity, one.stage, one.at.span.line) == ("S1", "violation", "trim", 8)
        assert [outlet.name for outlet in one.outlets] == ["R1.top", "R1.bottom"]
        assert (one.guard.amps, one.rating) == (20, 15)
        assert one.copper


def test_outlets_ahead_of_a_switch_do_not_draw_through_it() -> None:
    ahead = changed(
        OUTLET,
        ("W2.black -- S1.load", "W2.black -- W1.black -- pigtail -- S1.line\n  cap W2.white"),
        ("  W1.black -- S1.line\n", ""),
        ("W1.white -- W2.white", "cap W1.white"),
    )
    assert not seen(RULE, ahead)


def test_what_is_plugged_in_is_no_second_mistake_beside_an_overload() -> None:
    both = changed(
        LAMP,
        ("at LP", "R1 is duplex-receptacle 20 A in B\nat LP"),
        ("W2.black -- L1.hot", "W2.black -- L1.hot -- R1.hot"),
        ("W2.white -- L1.neutral", "W2.white -- L1.neutral -- R1.neutral"),
    )
    assert [type(one) for one in seen(RULE, both)] == [Overloaded]


def test_a_load_on_the_wrong_volts_is_the_one_mistake() -> None:
    text = changed(HEATERS, ("3 kW, voltage 240 V", "2 kW, voltage 120 V"))
    assert "contact-rating" not in reported(text) and "wrong-voltage" in reported(text)
