"""Arc-fault protection by the kind of place: NEC 210.12."""

from __future__ import annotations

import pytest

from tests.rules.hands import changed, seen
from tests.rules.rooms import dwelling
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
