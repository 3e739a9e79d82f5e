"""Class 2 cable and power in one place; NEC 2023 725.136."""

from __future__ import annotations

from pathlib import Path

import pytest

import wirecheck
from tests.rules.hands import COOLING, LOOP, STAIR, changed, seen
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
