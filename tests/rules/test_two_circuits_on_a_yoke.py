"""Two circuits on one yoke; NEC 2023 210.7."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import COOLING, HALVES, LOOP, STAIR, at, changed, reported, said, seen
from wirecheck import files
from wirecheck.rules.two_circuits_on_a_yoke import RULE, TwoCircuits

BOARDS = Path(__file__).parent / "boards"
FOLDER = files.folder("boards") / "rules" / "two-circuits-on-a-yoke"
WRONG = (FOLDER / "wrong.wire").read_text(encoding="utf-8")
RIGHT = (FOLDER / "right.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, HALVES, RIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_two_breakers_at_one_switch() -> None:
    (found,) = seen(RULE, WRONG)
    assert type(found) is TwoCircuits
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "S1")
    assert (found.one.name, found.other.name) == ("LP.1", "LP.3")
    ((device, screws),) = found.fed
    assert (device.name, [screw.name for screw in screws]) == ("S1", ["S1.line-1", "S1.line-2"])
    assert at(WRONG, found).startswith("breaker LP.3 15 A")
    assert reported(WRONG) == ["two-circuits-on-a-yoke"]
    (words,) = said(RULE, WRONG)
    assert [note.span.line for note in words.also] == [3, 12]


def test_one_circuit_at_both_poles_is_one() -> None:
    assert not seen(RULE, changed(WRONG, ("W2.black -- LP.3", "W2.black -- LP.1")))


def test_a_two_pole_breaker_is_one_handle() -> None:
    text = changed(
        WRONG,
        ("breaker LP.1 15 A\n", "breaker LP.1 15 A 2-pole\n"),
        ("breaker LP.3 15 A  # finds: two-circuits-on-a-yoke\n", ""),
        ("W1.black -- LP.1", "W1.black -- LP.1.a"),
        ("W2.black -- LP.3", "W2.black -- LP.1.b"),
    )
    assert not seen(RULE, text)


def test_two_yokes_of_the_same_two_breakers_are_one_finding() -> None:
    more = """box D device 25 cu in
cable W5 14/2 NM-B 9 ft from B to D
cable W6 14/2 NM-B 9 ft from C to D
S2 is double-pole-switch 20 A in D
at B
  W5.black -- W3.black
at C
  W6.black -- W4.black
at D
  W5.black -- S2.line-1
  W6.black -- S2.line-2
"""
    (found,) = seen(RULE, WRONG + more)
    assert [fed.device.name for fed in found.fed] == ["S1", "S2"]


def test_a_switch_before_the_yoke_changes_nothing() -> None:
    """Half of a receptacle on one circuit, the other half behind the switch of another."""
    text = (BOARDS / "two-circuits-on-a-yoke" / "halves.wire").read_text(encoding="utf-8")
    (found,) = seen(RULE, text)
    assert [screw.name for screw in found.fed[0].screws] == ["R1.hot-top", "R1.hot-bottom"]


def test_what_stands_on_no_yoke_is_another_matter() -> None:
    text = changed(
        WRONG,
        ("S1 is double-pole-switch 20 A in A", "H1 is baseboard-heater 1000 W 240 V in A"),
        ("W1.black -- S1.line-1", "W1.black -- H1.L1"),
        ("  W3.black -- S1.load-1\n", ""),
        ("W2.black -- S1.line-2", "W2.black -- H1.L2"),
        ("  W4.black -- S1.load-2\n", ""),
        ("-- pigtail -- S1.ground", "-- pigtail -- H1.ground"),
    )
    assert not seen(RULE, text)


@pytest.mark.parametrize("screw", ["S1.line-2", "S1.line-1"])
def test_a_second_circuit_in_the_box_that_comes_to_no_screw(screw: str) -> None:
    text = changed(
        WRONG, ("W2.black -- S1.line-2", "W2.black -- W4.black"), ("  W4.black -- S1.load-2\n", "")
    )
    text = text.replace("S1.line-1", screw).replace("S1.load-1", screw.replace("line", "load"))
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("name", "rule"),
    [
        ("multiwire-circuit/one-cable", "multiwire-circuit"),
        ("multiwire-circuit/two-feeds", "multiwire-circuit"),
        ("backfeed/switched", "backfeed"),
    ],
)
def test_one_mistake_is_one_finding(name: str, rule: str) -> None:
    text = (BOARDS / f"{name}.wire").read_text(encoding="utf-8")
    assert seen(RULE, text)
    assert rule in reported(text)
    assert "two-circuits-on-a-yoke" not in reported(text)


def test_a_heater_between_the_two_is_one_finding() -> None:
    text = (BOARDS / "two-circuits-on-a-yoke" / "between.wire").read_text(encoding="utf-8")
    assert seen(RULE, text)
    assert reported(text) == ["multiwire-circuit"]
