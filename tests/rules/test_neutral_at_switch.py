"""Whether a neutral comes to the switches of lights; NEC 2023 404.2(C)."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed, seen
from wirecheck.rules.neutral_at_switch import RULE

LAMP = "L1 is lampholder 60 W in B"


def test_it_is_advice_at_the_switch() -> None:
    (found,) = seen(RULE, LOOP)
    assert (found.severity, found.stage, found.subject) == ("advice", "rough-in", "A")
    assert [one.name for one in found.boxes] == ["A"]
    assert [one.name for one in found.switches] == ["S1"]
    assert [one.name for one in found.lights] == ["L1"]


@pytest.mark.parametrize(
    ("room", "severity"),
    [
        # 404.2(C): rooms that people live in, halls, stairs and baths; a garage or an attic is none of them.
        ("hall", "violation"),
        ("stairs", "violation"),
        ("bath", "violation"),
        ("bedroom", "violation"),
        ("garage", None),
        ("attic", None),
        ("outdoors", None),
    ],
)
def test_the_room_of_the_switch_decides(room: str, severity: str | None) -> None:
    found = seen(RULE, f"{LOOP}room {room} A\n")
    assert [one.severity for one in found] == ([severity] if severity else [])
    # Where the light hangs is not asked.
    assert [one.severity for one in seen(RULE, f"{LOOP}room {room} B\n")] == ["advice"]


def test_a_box_that_a_cable_can_be_added_to_needs_none() -> None:
    box = "box A device 20.3 cu in"
    assert not seen(RULE, changed(f"{LOOP}room hall A\n", (box, f"{box} accessible")))


def test_one_box_with_a_neutral_is_enough() -> None:
    assert not seen(RULE, STAIR)
    assert not seen(RULE, COOLING)


def test_an_led_light_is_a_light() -> None:
    (found,) = seen(RULE, changed(LOOP, (LAMP, "L1 is luminaire 14 W in B")))
    assert [one.name for one in found.lights] == ["L1"]


def test_what_gives_no_light_needs_none() -> None:
    fan = changed(LOOP, (LAMP, "L1 is bath-fan in B"))
    assert not seen(RULE, fan)
    alarm = changed(LOOP, (LAMP, "L1 is smoke-alarm in B"), (" -- pigtail -- L1.ground", ""))
    assert not seen(RULE, alarm)


def test_a_raceway_lets_one_be_pulled_in_later() -> None:
    text = changed(
        LOOP,
        ("cable W2 14/2 NM-B 12 ft from B to A\n",
         "raceway P1 EMT 1/2 in 12 ft from B to A\nwire H1 14 THHN black 12 ft from B to A in P1\n"
         "wire H2 14 THHN red 12 ft from B to A in P1\nwire G1 14 THHN green 12 ft from B to A in P1\n"),
        ("  W1.black -- W2.white marked black\n  W2.black -- L1.hot\n", "  W1.black -- H1\n  H2 -- L1.hot\n"),
        ("W1.bare -- W2.bare -- pigtail", "W1.bare -- G1 -- pigtail"),
        ("  W2.white marked black -- S1.line\n  W2.black -- S1.load\n  W2.bare -- S1.ground\n",
         "  H1 -- S1.line\n  H2 -- S1.load\n  G1 -- S1.ground\n"),
    )  # fmt: skip
    assert not seen(RULE, text)
    assert seen(RULE, text.replace(" in P1", ""))


def test_a_switch_in_no_box_is_not_judged() -> None:
    text = changed(
        LOOP, ("box A device 20.3 cu in\n", ""), ("S1 is single-pole-switch in A", "A is single-pole-switch")
    )
    text = text.replace("S1.", "A.")
    assert not seen(RULE, text)


@pytest.mark.parametrize(("volts", "found"), [(49, 0), (50, 1)])
def test_a_light_on_low_voltage_needs_none(volts: float, found: int) -> None:
    glow = f"""part glow "A lamp"
terminal hot hot, brass screw
terminal neutral neutral, silver screw
terminal ground ground, green screw
load lamp lamp from hot to neutral, 20 W at {volts} V
"""
    text = changed(LOOP, (LAMP, "L1 is glow in B"))
    assert len(list(RULE.find(case(text, glow=glow)))) == found


def test_a_switch_of_nothing_is_not_judged() -> None:
    assert not seen(RULE, changed(LOOP, ("  W2.black -- L1.hot\n", "  cap W2.black\n")))


def test_the_switch_of_a_part_is_in_no_box_of_its_own() -> None:
    """A light with a chain: what is inside a part is not in the box that the part hangs from."""
    chained = """part chained "A lampholder with a switch of its own"
terminal hot hot, brass screw
terminal neutral neutral, silver screw
terminal ground ground, green screw
chain is single-pole-switch
hot -- chain.line
load lamp lamp from chain.load to neutral, 60 W at 120 V
"""
    board = case(changed(LOOP, (LAMP, "L1 is chained in B")), chained=chained)
    (found,) = RULE.find(board)
    assert [one.name for one in found.switches] == ["S1"]
