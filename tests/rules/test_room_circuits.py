"""Circuits for the receptacles of a room: NEC 210.11(C), 210.52(B)."""

from __future__ import annotations

import pytest

from tests.judge.test_guards import RANGE
from tests.rules.hands import at, case, changed, seen
from tests.rules.rooms import dwelling, words
from wirecheck.rules.room_circuits import RULE, OneCircuit, WrongCircuit

ROOMS = ("kitchen", "dining-room", "bath", "laundry", "garage")


@pytest.mark.parametrize("room", ROOMS)
def test_its_receptacles_are_on_20_a(room: str) -> None:
    (one,) = seen(RULE, dwelling(f"{room} A"))
    assert isinstance(one, WrongCircuit) and one.severity == "violation" and one.guard.amps == 15


@pytest.mark.parametrize("room", ["kitchen", "dining-room", "laundry", "garage"])
def test_no_light_is_on_it(room: str) -> None:
    (one,) = seen(RULE, dwelling(f"{room} A, B, C", breaker="20 A"))
    assert isinstance(one, WrongCircuit) and [each.name for each in one.strangers] == ["L1"]
    assert one.subject == "L1"
    assert "L1 is on LP.5 with R1" in words(RULE, dwelling(f"{room} A", breaker="20 A"))


def test_a_bath_may_have_its_light_on_it() -> None:
    # 210.11(C)(3), exception: a circuit that serves a single bath may feed what else is in it.
    assert not seen(RULE, dwelling("bath A, B, C", breaker="20 A"))
    (one,) = seen(RULE, dwelling("bath A", "hall C", breaker="20 A"))
    assert [each.name for each in one.strangers] == ["L1"]


@pytest.mark.parametrize("room", ["bedroom", "hall", "basement", "outdoors", "attic"])
def test_of_other_rooms_it_is_not_asked(room: str) -> None:
    assert not seen(RULE, dwelling(f"{room} A, B, C"))


def test_a_machine_of_a_kitchen_may_have_a_circuit_of_its_own() -> None:
    # 210.52(B)(1), exception 2: a circuit of 15 A for a refrigerator alone.
    text = dwelling("kitchen A", part="single-receptacle 15 A")
    lone = text.replace("L1 is lampholder 60 W in C\n", "").replace("expect L1 from S1\n", "")
    lone = "\n".join(line for line in lone.splitlines() if "L1." not in line)
    assert not seen(RULE, lone)


def second(text: str) -> str:
    """A second receptacle, on the cable to B, in the place of the switch and the light."""
    lines = [line for line in text.splitlines() if "W3" not in line and "L1" not in line]
    changed_lines = [
        line.replace("S1 is single-pole-switch", "R2 is duplex-receptacle 15 A")
        .replace("S1.line", "R2.hot")
        .replace("S1.ground", "R2.ground")
        for line in lines
    ]
    at = next(number for number, line in enumerate(changed_lines) if "R2.hot" in line)
    return "\n".join(
        [
            *changed_lines[: at + 1],
            "  W2.white -- R2.neutral",
            "  W2.bare -- R2.ground",
            *changed_lines[at + 1 :],
        ]
    )


def test_a_kitchen_has_two_of_them() -> None:
    (one,) = seen(RULE, second(dwelling("kitchen A, B", breaker="20 A")))
    assert isinstance(one, OneCircuit) and one.severity == "advice"
    assert not seen(RULE, second(dwelling("laundry A, B", breaker="20 A")))
    (other,) = seen(RULE, second(dwelling("kitchen A", "bedroom B", breaker="20 A")))
    assert isinstance(other, WrongCircuit) and [each.name for each in other.strangers] == ["R2"]
    assert not seen(RULE, changed(second(dwelling("kitchen A", "dining-room B", breaker="20 A"))))


def test_a_range_or_a_dryer_is_none_of_the_small_appliances() -> None:
    text = changed(RANGE, ("panel LP", "room kitchen B\npanel LP"))
    assert not seen(RULE, text)
    assert not seen(RULE, text.replace("room kitchen", "room laundry"))


def test_a_cabinet_is_no_part_of_the_counter() -> None:
    # 210.52(C): what is inside of one serves no counter; 210.52(B)(2): nor is it on a counter's circuit.
    assert not seen(RULE, dwelling("kitchen-cabinet A"))
    (one,) = seen(RULE, second(dwelling("kitchen A", "kitchen-cabinet B", breaker="20 A")))
    assert isinstance(one, WrongCircuit) and [each.name for each in one.strangers] == ["R2"]
    assert not seen(RULE, second(dwelling("kitchen-cabinet A, B", breaker="20 A")))
    assert "210.52(B)(2)" in one.source


def test_it_is_found_at_the_cable_that_goes_on() -> None:
    text = dwelling("kitchen A, C", breaker="20 A")
    (one,) = seen(RULE, text)
    assert one.subject == "L1" and at(text, one).startswith("cable W2")
    (note,) = RULE.words(one, case(text)).also
    assert note.message == "L1 is here"


def test_in_one_box_it_is_found_at_the_joint() -> None:
    """The switch stands beside the receptacle, and its cable brings nothing that is not for the light."""
    text = changed(
        dwelling("kitchen A, C", breaker="20 A"),
        ("in B\n", "in A\n"),
        ("cable W3 12/2 NM-B 8 ft from B", "cable W3 12/2 NM-B 8 ft from A"),
        ("W1.black -- W2.black -- pigtail -- R1.hot", "W1.black -- S1.line -- R1.hot\n  W3.black -- S1.load"),
        ("W1.white -- W2.white", "W1.white -- W3.white"),
        ("W1.bare -- W2.bare", "W1.bare -- W3.bare"),
    )
    lines = text.splitlines()
    begin, end = lines.index("at B"), lines.index("at C")
    text = "\n".join(line for line in (*lines[:begin], *lines[end:]) if not line.startswith("cable W2"))
    (one,) = seen(RULE, text)
    assert at(text, one).startswith("W1.black -- S1.line -- R1.hot")


@pytest.mark.parametrize(
    ("breaker", "subject", "said"),
    [
        ("20 A", "R1", "R1 is on LP.5 with R2 in the bath."),
        ("15 A", "R2", "R2 in the bath is on LP.5, a 15 A circuit that feeds R1 too."),
    ],
)
def test_on_a_circuit_of_other_rooms_the_rooms_own_is_wrong(breaker: str, subject: str, said: str) -> None:
    text = second(dwelling("bedroom A", "bath B", breaker=breaker))
    (one,) = seen(RULE, text)
    assert one.subject == subject and said in words(RULE, text)
    assert at(text, one).startswith("cable W2" if subject == "R2" else "W1.black -- W2.black")


@pytest.mark.parametrize("space", ["tub", "shower"])
def test_a_light_in_its_shower_may_be_on_the_circuit_of_a_bath(space: str) -> None:
    assert not seen(RULE, dwelling("bath A, B", f"{space} C", breaker="20 A"))
    assert len(seen(RULE, dwelling("kitchen A, B", f"{space} C", breaker="20 A"))) == 1
