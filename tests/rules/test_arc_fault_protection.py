"""Arc-fault protection by the kind of place: NEC 210.12."""

from __future__ import annotations

import pytest

from tests.rules.hands import changed, seen
from tests.rules.rooms import dwelling
from tests.samples import fed
from wirecheck.rules.arc_fault_protection import RULE

# 210.12: rooms whose outlets and devices are in it, and rooms that it does not name.
NAMED = ("kitchen", "laundry", "bedroom", "living-room", "dining-room", "hall", "closet")
OTHERS = ("bath", "garage", "outdoors", "attic", "basement", "crawl-space", "stairs", "roof")


@pytest.mark.parametrize(("code", "section"), [(2017, "210.12(A)"), (2020, "210.12(A)"), (2023, "210.12(B)")])
@pytest.mark.parametrize("room", NAMED)
def test_a_circuit_that_feeds_such_a_room_needs_it(room: str, code: int, section: str) -> None:
    (one,) = seen(RULE, dwelling(f"{room} A", code=code))
    assert (one.subject, one.severity, one.at.span.line) == ("LP.5", "violation", 4)
    assert one.source == f"NEC {code} {section}"
    assert [device.name for device in one.devices] == ["R1"]


@pytest.mark.parametrize("room", OTHERS)
def test_in_other_rooms_it_is_not_asked_for(room: str) -> None:
    assert not seen(RULE, dwelling(f"{room} A, B, C"))


def test_a_switch_and_a_light_there_ask_for_it_too() -> None:
    for place, device in (("B", "S1"), ("C", "L1")):
        (one,) = seen(RULE, dwelling(f"hall {place}", "garage A"))
        assert [each.name for each in one.devices] == [device]
    (one,) = seen(RULE, dwelling("hall A, B, C"))
    assert [each.name for each in one.devices] == ["R1", "S1", "L1"]


@pytest.mark.parametrize(
    ("breaker", "asked"),
    [("15 A", 1), ("20 A", 1), ("25 A", 0), ("15 A afci", 0), ("15 A gfci", 1), ("15 A gfci afci", 0)],
)
def test_by_the_breaker(breaker: str, asked: int) -> None:
    assert len(seen(RULE, dwelling("bedroom A, B, C", breaker=breaker))) == asked


def test_a_heater_between_two_hots_is_not_in_it() -> None:
    text = changed(
        dwelling("bedroom A"),
        ("breaker LP.5 15 A", "breaker LP.5 15 A 2-pole"),
        ("R1 is duplex-receptacle 15 A in A", "R1 is single-receptacle-240 15 A in A"),
    )
    assert not seen(RULE, text.split("S1 is")[0])


@pytest.mark.parametrize(("volts", "asked"), [(240, 0), (120, 1)])
def test_a_switch_on_two_poles_asks_for_it_where_something_there_takes_120_volts(
    volts: int, asked: int
) -> None:
    """210.12 is for circuits of 120 V, also of two poles: heat of 240 V with its thermostat is none."""
    fan = "F1 is bath-fan in B\nat B\n  W2.black -- F1.hot\n  W2.bare -- F1.neutral\n"
    text = fed(
        "breaker LP.2 20 A 2-pole",
        "box A device 20.3 cu in",
        "box B device 20.3 cu in",
        "cable W1 12/2 NM-B 20 ft from LP to A",
        "cable W2 12/2 NM-B 9 ft from A to B",
        "TH is line-voltage-thermostat in A",
        "H1 is heater 1500 W in B",
        "at LP",
        "  W1.black -- LP.2.a",
        "  W1.white marked black -- LP.2.b",
        "at A",
        "  W1.black -- TH.line-1",
        "  W1.white -- TH.line-2",
        "  W2.black -- TH.load-1",
        "  W2.white -- TH.load-2",
        "at B",
        "  W2.black -- H1.a",
        "  W2.white -- H1.b",
        "room bedroom A",
    )
    assert len(seen(RULE, text + fan * (volts == 120))) == asked
