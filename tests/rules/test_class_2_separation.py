"""Class 2 cable and power in one place; NEC 2023 725.136."""

from __future__ import annotations

from pathlib import Path

import pytest

import wirecheck
from tests.rules.hands import COOLING, LOOP, STAIR, changed, said, seen
from wirecheck.rules.class_2_separation import RULE

BOARDS = Path(__file__).parent / "boards"
AT_DEVICE = (BOARDS / "class-2-separation" / "at-device.wire").read_text(encoding="utf-8")
PLACES = (BOARDS / "class-2-separation" / "places.wire").read_text(encoding="utf-8")
ON_POWER = (BOARDS / "class-2-supply" / "on-power.wire").read_text(encoding="utf-8")

THROUGH = """\
board "Thermostat cable through a box"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A junction 42 cu in
box B junction 42 cu in
L1 is luminaire 14 W in B
raceway P1 EMT 1/2 in 11 ft from A to B
cable W1 14/2 NM-B 11 ft from LP to A
wire H1 14 THHN black 11 ft from A to B in P1
wire N1 14 THHN white 11 ft from A to B in P1
wire G1 14 THHN green 11 ft from A to B in P1
cable C1 18/2 CL2 20 ft from {one} to {other}
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- H1
  W1.white -- N1
  W1.bare -- G1
at B
  H1 -- L1.hot
  N1 -- L1.neutral
  G1 -- L1.ground
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_in_a_box_it_is_a_violation() -> None:
    text = THROUGH.format(one="A", other="A")
    (found,) = seen(RULE, text)
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "C1")
    assert (found.place.name, found.power.name, found.device) == ("A", "W1.black", None)
    assert text.splitlines()[found.at.span.line - 1].startswith("cable C1")


def test_it_is_at_the_end_of_the_cable_that_is_in_the_place() -> None:
    """There the hand changes something, whichever end the cable's line names first."""
    for one, other in (("LP", "A"), ("A", "B")):
        found = seen(RULE, THROUGH.format(one=one, other=other))
        assert found
        for each in found:
            assert each.at.of in each.run.ends and each.at.of.place == each.place.name
    (passing,) = (each for each in seen(RULE, PLACES) if each.place.name == "P1")
    assert passing.at.of == passing.run


def test_each_place_counts() -> None:
    assert [one.place.name for one in seen(RULE, PLACES)] == ["A", "LP", "P1"]
    assert [one.place.name for one in seen(RULE, THROUGH.format(one="A", other="LP"))] == ["A", "LP"]


def test_in_a_box_with_a_device_of_both_it_is_advice() -> None:
    (found,) = seen(RULE, AT_DEVICE)
    assert (found.severity, found.device.name) == ("advice", "T1")


@pytest.mark.parametrize(
    ("part", "advice"),
    [
        ("class-2-transformer 40 VA", True),
        # The one role or the other alone needs no meeting.
        ("duplex-receptacle", False),
        ("heat-only-thermostat", False),
        ("solenoid-valve", False),
    ],
)
def test_which_devices_stand_on_both(part: str, advice: bool) -> None:
    text = THROUGH.format(one="A", other="A").replace("raceway", f"X is {part} in A\nraceway")
    (found,) = seen(RULE, text)
    assert (found.severity == "advice") is advice
    # In another box it is no reason.
    (found,) = seen(RULE, text.replace(" in A\nraceway", " in B\nraceway"))
    assert found.severity == "violation"


RELAY = """\
board "A fan on a 24 V relay"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
box RB junction 64 cu in
box XB junction 64 cu in
X is class-2-transformer in XB
Y is class-2-transformer in XB
K is relay-spst in RB
M is bath-fan
T is heat-only-thermostat
V is solenoid-valve
cable W1 14/2 NM-B 20 ft from LP to XB
cable W2 14/2 NM-B 4 ft from XB to RB
cable W3 14/2 NM-B 8 ft from RB to M
cable XW 18/2 CL2 4 ft from XB to RB
cable TW 18/2 CL2 25 ft from RB to T
cable YW 18/2 CL2 25 ft from XB to RB
cable VW 18/2 CL2 25 ft from RB to V
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at XB
  W1.black -- W2.black -- X.primary-hot -- Y.primary-hot
  W1.white -- W2.white -- X.primary-neutral -- Y.primary-neutral
  W1.bare -- W2.bare -- X.ground -- Y.ground
  XW.red -- X.secondary-r
  XW.white -- X.secondary-c
  YW.red -- Y.secondary-r
  YW.white -- Y.secondary-c
at RB
  W2.black -- K.common
  W3.black -- K.no
  W2.white -- W3.white
  W2.bare -- W3.bare
  XW.red -- TW.red
  TW.white -- K.coil-a
  XW.white -- K.coil-b
  YW.red -- VW.red
  YW.white -- VW.white
at M
  W3.black -- M.hot
  W3.white -- M.neutral
  W3.bare -- M.ground
at T
  TW.red -- T.R
  TW.white -- T.W
at V
  VW.red -- V.a
  VW.white -- V.b
"""


def test_a_relay_needs_both_but_the_cable_of_another_transformer_only_passes() -> None:
    """725.136(D): introduced solely to connect the equipment that is on both circuits."""
    found = {one.place.name: one for one in seen(RULE, RELAY)}
    assert (found["RB"].severity, found["RB"].run.name, found["RB"].device) == ("violation", "YW", None)
    past = changed(
        RELAY,
        ("25 ft from XB to RB\ncable VW", "25 ft from XB to V\ncable VW"),
        ("cable VW 18/2 CL2 25 ft from RB to V\n", ""),
        ("  YW.red -- VW.red\n  YW.white -- VW.white\n", ""),
        ("  VW.red -- V.a\n  VW.white -- V.b\n", "  YW.red -- V.a\n  YW.white -- V.b\n"),
    )
    found = {one.place.name: one for one in seen(RULE, past)}
    assert (found["RB"].severity, found["RB"].run.name, found["RB"].device.name) == ("advice", "XW", "K")
    # A relay that only carries 24 V on both sides is no reason.
    only = changed(past, ("W2.black -- K.common\n  W3.black -- K.no\n", "W2.black -- W3.black\n"))
    found = {one.place.name: one for one in seen(RULE, only)}
    assert (found["RB"].severity, found["RB"].run.name, found["RB"].device) == ("violation", "XW", None)


def test_a_ground_is_no_power_conductor() -> None:
    """The green wire may lie with thermostat cable, even where it brings current back by mistake."""
    text = THROUGH.format(one="A", other="A").replace("from A to A", "from D to D")
    text = changed(
        text,
        ("box B", "box D junction 42 cu in\nbox B"),
        ("wire G1 14 THHN green 11 ft from A to B in P1\n",
         "wire G1 14 THHN green 11 ft from D to B\nwire G2 14 THHN green 11 ft from D to LP\n"),
        ("  W1.bare -- G1\n", ""),
        ("  N1 -- L1.neutral\n  G1 -- L1.ground\n", "  G1 -- L1.neutral\n"),
    )  # fmt: skip
    text += "at D\n  G1 -- G2\nat LP\n  G2 -- LP.ground\n"
    assert not seen(RULE, text)
    # A black or a white one is.
    for color in ("black", "white"):
        (found,) = seen(RULE, text.replace("G2 14 THHN green", f"G2 14 THHN {color}"))
        assert (found.place.name, found.power.name) == ("D", "G2")


def test_power_that_comes_to_no_source_is_none_yet() -> None:
    text = changed(THROUGH.format(one="A", other="A"), ("  W1.black -- LP.3\n", "  cap W1.black\n"))
    assert not seen(RULE, text)


def test_thermostat_cable_on_power_is_another_mistake() -> None:
    """In box A one cable is Class 2 and another, of the same kind, is on a breaker: that is what is wrong."""
    (found,) = seen(RULE, ON_POWER)
    assert (found.place.name, found.run.name, found.power.run) == ("A", "W3", "W1")
    rules = [one.rule for one in wirecheck.check(ON_POWER).findings]
    assert "class-2-supply" in rules
    assert "class-2-separation" not in rules


def test_beside_power_cable_it_is_a_mistake_of_its_own() -> None:
    text = changed(ON_POWER, ("breaker LP.3 15 A", "breaker LP.3 15 A\nbreaker LP.5 15 A"))
    text += "cable W9 14/2 NM-B 22 ft from LP to A\nat LP\n  W9.black -- LP.5\n"
    (found,) = (one for one in seen(RULE, text) if one.place.name == "A")
    assert found.power.run == "W9"
    assert "class-2-separation" in [one.rule for one in wirecheck.check(text).findings]


def test_the_spare_of_a_cable_is_not_beside_another_cable() -> None:
    text = changed(ON_POWER, ("cable W1 18/2", "cable W1 18/3"))
    assert [(one.place.name, one.run.name, one.power.run) for one in seen(RULE, text)] == [("A", "W1", "W2")]


WHIP = (BOARDS / "class-2-separation" / "single-wires.wire").read_text(encoding="utf-8")
ONE_CABLE = (BOARDS / "class-2-separation" / "one-cable.wire").read_text(encoding="utf-8")
GIVEN_UP = (BOARDS / "class-2-separation" / "given-up.wire").read_text(encoding="utf-8")


def test_single_wires_of_a_class_2_circuit_in_a_whip() -> None:
    """725.136(A): what makes it Class 2 is its source."""
    (found,) = seen(RULE, WHIP)
    assert (found.severity, found.place.name, found.subject, found.power.name) == (
        "violation",
        "WH",
        "Y1",
        "K1",
    )
    assert (found.low.cable, found.low.whole) == (False, False)
    assert WHIP.splitlines()[found.at.span.line - 1].startswith("wire Y1")


def test_outside_the_whip_they_are_right() -> None:
    assert not seen(RULE, WHIP.replace("yellow 5 ft from D to CU in WH", "yellow 5 ft from D to CU").replace(
        "blue 5 ft from D to CU in WH", "blue 5 ft from D to CU"))  # fmt: skip


def test_a_wire_that_comes_to_no_source_is_of_no_circuit_yet() -> None:
    assert not seen(RULE, changed(WHIP, ("  OW.red -- Y1\n", ""), ("  OW.white -- C1\n", "")))


def test_a_larger_transformer_is_no_class_2_source() -> None:
    """Its circuit is a Class 1 circuit, and goes with power."""
    hundred, more = (
        GIVEN_UP.replace("class-2-transformer", f"class-2-transformer {va} VA") for va in (100, 101)
    )
    assert seen(RULE, hundred)
    assert not seen(RULE, more)


def test_both_in_one_power_cable() -> None:
    found = [one for one in seen(RULE, ONE_CABLE) if one.severity == "violation"]
    ((one,),) = [found]
    assert (one.place.name, one.low.conductor.name, one.power.name) == ("W2", "W2.red", "W2.black")
    assert "cable" in said(RULE, ONE_CABLE)[0].message


def test_a_circuit_that_is_wired_as_power_all_the_way_may_give_up_its_class() -> None:
    found = seen(RULE, GIVEN_UP)
    assert {one.severity for one in found} == {"advice"}
    assert {one.place.name for one in found} == {"C", "R1", "R2"}
    assert all(one.low.whole for one in found)
    # Not where any of it is thermostat cable still.
    mixed = changed(
        GIVEN_UP,
        ("R3 -- T.secondary-r", "R3 -- Q.red -- T.secondary-r"),
        ("raceway R1", "cable Q 18/2 CL2 9 ft from A to V\nV is solenoid-valve\nraceway R1"),
    )
    assert {one.severity for one in seen(RULE, mixed) if one.place.name != "A"} == {"violation"}


def test_wire_for_power_may_lie_beside_power_at_a_device_of_both() -> None:
    """725.136(D)(2): box B has the relay, and box A the transformer."""
    assert {"A", "B"}.isdisjoint(one.place.name for one in seen(RULE, GIVEN_UP))


def test_what_was_given_up_comes_after_what_was_not() -> None:
    """In box C another circuit passes in thermostat cable, declared last."""
    text = changed(
        GIVEN_UP,
        ("raceway R1", "U is class-2-transformer\nV is solenoid-valve\nraceway R1"),
        ("at LP\n", "cable Q 18/2 CL2 9 ft from U to C\ncable Q2 18/2 CL2 9 ft from C to V\nat LP\n"),
        ("  R3 -- R4\n", "  R3 -- R4\n  Q.red -- Q2.red\n"),
    ) + "at U\n  Q.red -- U.secondary-r\nat V\n  Q2.red -- V.a\n"  # fmt: skip
    (found,) = (one for one in seen(RULE, text) if one.place.name == "C")
    assert (found.severity, found.subject) == ("violation", "Q")


WAITS = (BOARDS / "class-2-separation" / "waits.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("old", "new", "severity"),
    [
        ("", "", "advice"),
        ("at TS\n", "at A\n  cap C1.red\n  cap C1.white\nat TS\n", "violation"),
        ("at TS\n", "at A\n  cap W1.black\n  cap W1.white\nat TS\n", "violation"),
        ("TS is", "S1 is single-pole-switch in A\nTS is", "violation"),
    ],
    ids=["wires of both wait", "none of Class 2", "none of power", "for a device of one"],
)
def test_in_a_rough_in_a_device_of_both_may_still_come(old: str, new: str, severity: str) -> None:
    (found,) = seen(RULE, WAITS.replace(old, new, 1))
    assert found.severity == severity
    assert found.waits == (severity == "advice")
