"""What dimmers, speed controls and electronic switches may feed; NEC 2023 404.14(E)."""

from __future__ import annotations

import pytest

from tests.rules.hands import LIGHT, at, changed, said, seen
from wirecheck import files
from wirecheck.rules.dimmer_load import RULE

BOARDS = files.folder("boards") / "rules" / "dimmer-load"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")

ONE = """\
board "One control, one thing behind it"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A device 34 cu in
box B octagon 15.5 cu in
cable W1 14/2 NM-B 22 ft from LP to A
cable W2 14/2 NM-B 11 ft from A to B
C is {control} in A
X is {fed} in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- C.line
  W2.black -- C.load
  W1.white -- W2.white{neutral}
  W1.bare -- W2.bare -- pigtail -- C.ground
at B
  W2.black -- X.hot
  W2.white -- X.neutral
  W2.bare -- X.ground
"""
LAMP, LED, FAN, OUTLET = "lampholder 60 W", "luminaire 14 W", "bath-fan", "duplex-receptacle 15 A"


def board(control: str, fed: str) -> str:
    lives = control in ("occupancy-sensor", "digital-timer")
    return ONE.format(control=control, fed=fed, neutral=" -- C.neutral" if lives else "")


@pytest.mark.parametrize("text", [RIGHT, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("control", "fed", "right"),
    [
        ("dimmer", LAMP, True),
        ("dimmer", LED, True),
        ("dimmer", FAN, False),
        ("dimmer", OUTLET, False),
        ("fan-control", FAN, True),
        ("fan-control", LED, False),
        ("fan-control", OUTLET, False),
        ("occupancy-sensor", LED, True),
        ("occupancy-sensor", FAN, True),
        ("occupancy-sensor", OUTLET, False),
        ("digital-timer", OUTLET, False),
        ("single-pole-switch", OUTLET, True),
        ("timer-switch", OUTLET, True),
    ],
)
def test_what_each_may_feed(control: str, fed: str, right: bool) -> None:
    assert bool(seen(RULE, board(control, fed))) != right


def test_it_is_found_at_the_control() -> None:
    dimmer, speed = seen(RULE, WRONG)
    assert (dimmer.severity, dimmer.stage, dimmer.subject) == ("violation", "trim", "DM")
    assert at(WRONG, dimmer).startswith("DM is")
    assert [one.name for one in dimmer.fed] == ["CF.motor"]
    assert [one.name for one in speed.fed] == ["CF.light"]
    assert dimmer.copper


def test_its_words_say_what_will_be_plugged_in() -> None:
    (words,) = said(RULE, board("dimmer", OUTLET))
    assert "Nobody knows what will be plugged in there" in words.message
    (words,) = said(RULE, board("occupancy-sensor", OUTLET))
    assert "electronic switch" in words.message and words.source == "NEC 2023 404.14(E), 110.3(B)"
    (words,) = said(RULE, board("fan-control", OUTLET))
    assert "speed control of a fan" in words.message


def test_a_transformer_is_no_light() -> None:
    text = changed(
        board("dimmer", "doorbell-transformer"),
        ("X.hot", "X.primary-hot"),
        ("X.neutral", "X.primary-neutral"),
    )
    (found,) = seen(RULE, text)
    assert found.subject == "C"
