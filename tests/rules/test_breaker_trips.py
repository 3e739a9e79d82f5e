"""Breakers and fuses that their loads open, and ground-fault devices that a leak opens."""

from __future__ import annotations

import pytest

from tests.rules.circuits import LAMP, one_load, two_loads, valves
from tests.rules.hands import CHAIN, COOLING, STAIR, case, changed, reported, seen
from wirecheck.rules.breaker_trips import RULE, Leak, Overload

LAMP_OUT = ("R1 is duplex-receptacle 20 A in B", "L1 is lampholder 600 W in B")
# The lamp's neutral comes back beside the ground-fault receptacle and not through it.
LEAKING = (
    CHAIN.replace(*LAMP_OUT)
    .replace("  W2.white -- G1.load-neutral\n", "")
    .replace("W1.white -- G1.line-neutral", "W1.white -- W2.white -- pigtail -- G1.line-neutral")
    .replace("R1.", "L1.")
)
# No load at all: the protected hot leads over a very long wire to the ground.
FAR = """\
board "A leak over a long wire"
panel LP 120/240 V, 10 kA available
breaker LP.3 20 A
box A device 22.5 cu in
box B device 20.3 cu in
cable W1 12/2 NM-B 20 ft from LP to A
cable W2 22/2 NM-B 36000 ft from A to B
G1 is gfci-receptacle with current 20 A in A
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- G1.line-hot
  W1.white -- G1.line-neutral
  W2.black -- G1.load-hot
  cap W2.white
  W1.bare -- W2.bare -- pigtail -- G1.ground
at B
  W2.black -- W2.bare
  cap W2.white
"""

IRON = """\
part iron "A large transformer"
terminal primary-hot hot
terminal primary-neutral line
terminal ground ground
terminal secondary-r line
terminal secondary-c line
transforms 120 V from primary-hot to primary-neutral into 24 V from secondary-r to secondary-c,
  capacity 5 kVA, impedance 2 %
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, CHAIN])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(("watts", "raised"), [(2432, False), (2436, True)])
def test_a_hundredth_above_its_rating_is_an_overload(watts: float, raised: bool) -> None:
    # 20.2 A through 20 A: what the panel and 5 ft of 10 AWG lose leaves 2434 W there.
    found = seen(RULE, one_load("10/2 NM-B 5 ft", f"baseboard-heater {watts} W 120 V", "20 A"))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, Overload)
        assert one.flows == pytest.approx(20.2, abs=0.03)
        assert (one.subject, one.severity, one.stage, one.at.span.line) == ("LP.3", "fault", "final", 4)
        # It need not open within the hour: nothing stops yet.
        assert one.stops == ()
        assert [(load.name, round(drawn, 1)) for load, drawn in one.fed] == [("H1.element", 20.2)]
        assert one.copper


def test_an_overload_tells_what_stops() -> None:
    (one,) = seen(RULE, one_load("10/2 NM-B 5 ft", "baseboard-heater 3600 W 120 V", "20 A"))
    # By hand: 4 ohm of heater behind 2 x 5 ft of 10 AWG (1.21 ohm/kft) and the panel's 12 milliohm.
    assert one.flows == pytest.approx(120 / (4 + 0.012 + 0.0121), rel=0.01)
    assert [load.name for load in one.stops] == ["H1.element"]


def test_what_it_feeds_is_told_the_largest_first() -> None:
    (one,) = seen(RULE, two_loads("baseboard-heater 600 W 120 V", "baseboard-heater 1800 W 120 V"))
    assert [load.name for load, _ in one.fed] == ["H2.element", "H1.element"]


def test_the_state_with_most_current_stands_for_all() -> None:
    text = two_loads("baseboard-heater 1900 W 120 V", "baseboard-heater 600 W 120 V", breaker="15 A")
    text = text.replace("box A junction", "S1 is single-pole-switch in B\nbox A junction")
    text = text.replace("  W2.black -- H2.L1\n", "  W2.black -- S1.line\n  S1.load -- H2.L1\n")
    (one,) = seen(RULE, text)
    assert one.state.positions["S1"] == "on"
    assert one.flows == pytest.approx(20.6, abs=0.3)


def test_each_pole_of_a_breaker_is_looked_at() -> None:
    text = one_load("12/2 NM-B 5 ft", "baseboard-heater 2600 W 120 V", "20 A 2-pole")
    for pole in ("LP.3.a", "LP.3.b"):
        (one,) = seen(RULE, text.replace("W1.black -- LP.3", f"W1.black -- {pole}"))
        assert one.subject == "LP.3"


@pytest.mark.parametrize(("watts", "raised"), [(2500, False), (3600, True)])
def test_current_that_no_load_draws_is_a_short_circuits(watts: float, raised: bool) -> None:
    # Beside the heater some 22 A go round through 1000 ft of 14 AWG: more than the heater draws, or less.
    text = one_load("10/2 NM-B 5 ft", f"baseboard-heater {watts} W 120 V", "20 A")
    text = text.replace(
        "at LP\n", "box C junction 42 cu in\ncable W2 14/2 NM-B 1000 ft from B to C\nat LP\n", 1
    )
    text = text.replace("W1.black -- H1.L1", "W1.black -- W2.black -- pigtail -- H1.L1")
    text = text.replace("W1.white -- H1.L2", "W1.white -- W2.white -- pigtail -- H1.L2")
    text += "  cap W2.bare\nat C\n  W2.black -- W2.white\n  cap W2.bare\n"
    assert len(seen(RULE, text)) == raised


def test_a_short_circuit_is_another_rules() -> None:
    text = one_load(part="lampholder 60 W", screws=LAMP)
    text = text.replace("W1.black -- H1.hot", "W1.black -- W1.white -- H1.hot")
    assert not seen(RULE, text)
    assert "short-circuit" in reported(text)


def test_a_transformers_primary_is_a_load_too() -> None:
    # 2400 W at 24 V are 20 A at 120 V.
    text = valves("iron", 10).replace("V0 is solenoid-valve with capacity 10 VA", "V0 is heater 2400 W 24 V")
    (one,) = RULE.find(case(text, iron=IRON))
    assert (one.subject, one.fed) == ("LP.3", ())
    assert one.flows > 15


def test_a_fuse_is_looked_at_and_a_ground_fault_device_is_not() -> None:
    fused = one_load("14/2 NM-B 5 ft", "baseboard-heater 600 W 120 V").replace(
        "at B\n  W1.black -- H1.L1\n", "F is fuse 3 A in B\nat B\n  W1.black -- F.line\n  F.load -- H1.L1\n"
    )
    (one,) = seen(RULE, fused)
    assert (one.subject, one.protection.kind) == ("F", "fuse")
    # 2640 W through the 20 A of a ground-fault receptacle, on a breaker that holds: no overcurrent device.
    text = (
        CHAIN.replace(*LAMP_OUT)
        .replace("R1.", "L1.")
        .replace("600 W", "2640 W")
        .replace("LP.3 20 A", "LP.3 30 A")
    )
    assert not seen(RULE, text)


# -------------------------------------------------------------------- leaks


def test_current_that_comes_back_another_way_opens_a_ground_fault_device() -> None:
    (one,) = seen(RULE, LEAKING)
    assert isinstance(one, Leak)
    assert (one.subject, one.severity, one.stage) == ("G1", "fault", "final")
    assert one.opening.amps == pytest.approx(5, rel=0.02)
    assert one.opening.limit == 0.005
    assert [load.name for load in one.stops] == ["L1"]
    assert (one.at.span.line, bool(one.copper)) == (8, True)


def test_it_is_told_once() -> None:
    text = LEAKING.replace("L1 is lamp", "S1 is single-pole-switch in B\nL1 is lamp")
    text = text.replace("W2.black -- L1.hot", "W2.black -- S1.line\n  S1.load -- L1.hot")
    assert len(seen(RULE, text)) == 1


@pytest.mark.parametrize(("feet", "raised"), [(35000, False), (38000, True)])
def test_more_than_all_loads_draw_is_a_short_circuits(feet: int, raised: bool) -> None:
    # 22 AWG has 16.5 ohm a 1000 ft: out and back 120 V drive 0.104 A or 0.096 A; a tenth may be a leak.
    found = seen(RULE, changed(FAR, ("36000 ft", f"{feet} ft")))
    assert [type(one) for one in found] == [Leak] * raised


def test_a_load_on_too_many_volts_is_what_trips_its_breaker() -> None:
    text = changed(
        one_load("12/2 NM-B 20 ft", "baseboard-heater 1500 W 120 V", "20 A 2-pole"),
        ("W1.black -- LP.3", "W1.black -- LP.3.a"),
        ("W1.white -- LP.neutral", "W1.white marked red -- LP.3.b"),
        ("W1.white -- H1", "W1.white marked red -- H1"),
    )
    assert len(seen(RULE, text)) == 1
    told = reported(text)
    assert "wrong-voltage" in told and "breaker-trips" not in told
    # A second load that overloads the breaker by itself is another matter.
    assert "breaker-trips" in reported(one_load("12/2 NM-B 20 ft", "baseboard-heater 2600 W 120 V", "20 A"))


HEATED_AND_COOLED = """\
board "A heater and a compressor on one circuit"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A 2-pole
box A junction 300 cu in
cable W 12/2 NM-B 20 ft from LP to A
TH is line-voltage-thermostat in A
TC is cooling-thermostat in A
H1 is heater with power {watts} W, voltage 240 V in A
C1 is line-contactor in A
M1 is compressor with current 9.6 A in A
at LP
  W.black -- LP.1.a
  W.white -- LP.1.b
at A
  W.black -- TH.line-1 -- C1.line-1 -- TC.a
  W.white -- TH.line-2 -- C1.line-2 -- C1.coil-b
  TH.load-1 -- H1.a
  TH.load-2 -- H1.b
  TC.b -- C1.coil-a
  C1.load-1 -- M1.a
  C1.load-2 -- M1.b
"""


def test_two_calls_that_nothing_keeps_apart_are_made_together() -> None:
    """9.6 A of the compressor and 12.3 A of the heater, each well below 20 A alone."""
    (found,) = seen(RULE, HEATED_AND_COOLED.format(watts=2950))
    assert isinstance(found, Overload) and found.subject == "LP.1"
    assert found.state.calls == {"heat", "cool"}
    assert found.flows == pytest.approx(21.5, abs=0.5)
    assert not seen(RULE, HEATED_AND_COOLED.format(watts=2000))
