"""Receptacles that are made for their place: NEC 406.9(A), (B), 406.12."""

from __future__ import annotations

import pytest

from tests.rules.hands import seen
from tests.rules.rooms import dwelling
from wirecheck.rules.receptacle_for_place import RULE

TAMPER = "with shutters tamper-resistant"
WEATHER = "with weather weather-resistant"
BOTH = f"{TAMPER}, weather weather-resistant"


@pytest.mark.parametrize("room", ["kitchen", "bath", "bedroom", "hall", "garage", "basement"])
def test_in_a_dwelling_they_are_tamper_resistant(room: str) -> None:
    (one,) = seen(RULE, dwelling(f"{room} A, B, C"))
    assert (one.subject, one.severity, one.mark) == ("R1", "violation", "tamper-resistant")
    assert not seen(RULE, dwelling(f"{room} A, B, C", part=f"duplex-receptacle 15 A {TAMPER}"))


@pytest.mark.parametrize("room", ["attic", "mechanical-room", "stairs", "crawl-space"])
def test_elsewhere_it_is_not_asked(room: str) -> None:
    assert not seen(RULE, dwelling(f"{room} A"))
    assert not seen(RULE, dwelling())


def test_one_for_a_single_plug_may_stand_behind_a_machine() -> None:
    assert not seen(RULE, dwelling("kitchen A", part="single-receptacle 15 A"))


@pytest.mark.parametrize(
    ("settings", "marks"),
    [
        ("", ["tamper-resistant", "weather-resistant"]),
        (TAMPER, ["weather-resistant"]),
        (WEATHER, ["tamper-resistant"]),
        (BOTH, []),
    ],
)
def test_outdoors_they_stand_the_weather_too(settings: str, marks: list[str]) -> None:
    found = seen(RULE, dwelling("outdoors A", part=f"duplex-receptacle 15 A {settings}"))
    assert [one.mark for one in found] == marks


def test_all_of_a_board_are_told_at_once() -> None:
    text = dwelling("hall A", "bedroom D").replace(
        "S1 is", "box D device 20.3 cu in\nR2 is duplex-receptacle 15 A in D\nS1 is"
    )
    (one,) = seen(RULE, text)
    assert [device.name for device in one.devices] == ["R1", "R2"]
