"""What may be over a tub or in a shower: NEC 404.4(C), 406.9(C), 410.10(D)."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, seen
from tests.rules.rooms import dwelling, words
from wirecheck.rules.tub_and_shower import RULE, DryLight, Misplaced

SPACES = ("tub", "shower")


def light(room: str, more: str, light: str = "luminaire 12 W") -> str:
    return dwelling(room).replace("L1 is lampholder 60 W", f"L1 is {light}{more}")


@pytest.mark.parametrize("room", SPACES)
@pytest.mark.parametrize(
    ("place", "subject", "section", "called"),
    [("A", "R1", "406.9(C)", "receptacle"), ("B", "S1", "404.4(C)", "switch")],
)
def test_no_switch_and_no_receptacle(room: str, place: str, subject: str, section: str, called: str) -> None:
    text = dwelling(f"{room} {place}")
    (one,) = seen(RULE, text)
    assert isinstance(one, Misplaced) and (one.subject, one.severity) == (place, "violation")
    assert [each.name for each in one.devices] == [subject]
    assert at(text, one).startswith(f"box {place}")
    assert f"{subject} is in a {room}, where no {called} may be." in words(RULE, text)


def test_of_two_in_a_box_each_kind_is_said_once() -> None:
    text = dwelling("shower A").replace("R1 is", "S2 is 3-way-switch in A\nS3 is dimmer in A\nR1 is")
    found = [one for one in seen(RULE, text) if isinstance(one, Misplaced)]
    assert [[each.name for each in one.devices] for one in found] == [["S2", "S3"], ["R1"]]


@pytest.mark.parametrize("part", ["luminaire", "lampholder", "recessed-luminaire", "multi-lamp-luminaire"])
@pytest.mark.parametrize(("label", "count"), [("", 1), (" damp-rated", 0), (" wet-rated", 0)])
def test_a_light_is_marked_for_it(part: str, label: str, count: int) -> None:
    found = seen(RULE, light("shower C", label, part))
    assert len(found) == count and all(isinstance(one, DryLight) and one.subject == "L1" for one in found)


@pytest.mark.parametrize("room", ["bath", "outdoors", "kitchen", "mechanical-room"])
def test_in_other_places_it_is_not_asked(room: str) -> None:
    assert not seen(RULE, dwelling(f"{room} A, B, C"))
