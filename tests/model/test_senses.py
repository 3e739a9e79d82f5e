"""The lines that say what acts on a control: names known, kinds that fit, and what is said of the others."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import case, flawed
from wirecheck.language.reader import read
from wirecheck.model.build import build

HEAD = """\
board "Controls"
panel LP 120/240 V, 10 kA available
box B junction 400 cu in
COMP is compressor in B
LLS is solenoid-valve 240 V in B
CF is fan-motor in B
CH is crankcase-heater in B
L1 is lampholder 60 W in B
LPC is low-pressure-control in B
TH is cooling-thermostat in B
W is walk-in-cooler
S1 is single-pole-switch in B
"""


def test_each_thing_is_taken_for_what_it_does() -> None:
    sensed = case(HEAD + "LPC senses COMP, LLS, W.solenoid\nTH senses W\n").board.sensed
    assert sensed["LPC"].loads == {"compressor": ("COMP",), "valve": ("LLS", "W.solenoid")}
    assert sensed["LPC"].things == ("COMP", "LLS", "W")
    assert sensed["TH"].loads == {"compressor": ("W.compressor",), "valve": ("W.solenoid",)}


@pytest.mark.parametrize(
    ("line", "rule", "message"),
    [
        ("LP1 senses COMP", "unknown-name", "The control LP1 is not on this board."),
        ("LPC senses CMP", "unknown-name", "What is sensed, CMP is not on this board."),
        ("LPC senses L1", "syntax", "LPC is low-pressure-control, and L1 does not act on it."),
        ("LPC senses CF", "syntax", "LPC is low-pressure-control, and CF does not act on it."),
        ("TH senses CH", "syntax", "TH is cooling-thermostat, and CH does not act on it."),
        ("LPC senses LPC", "syntax", "LPC is low-pressure-control, and LPC does not act on it."),
        ("S1 senses L1", "syntax", "S1 is single-pole-switch, and nothing on the board acts on that."),
        (
            "W.low-pressure senses COMP",
            "syntax",
            "W.low-pressure is inside W, whose part says what moves it.",
        ),
        (
            "LPC senses W.contactor.coil",
            "syntax",
            "LPC is low-pressure-control, and W.contactor.coil does not act on it.",
        ),
    ],
)
def test_what_fits_not_is_said_at_its_word(line: str, rule: str, message: str) -> None:
    (problem,) = flawed(f"{HEAD}{line}\n").board.problems
    assert (problem.rule, problem.message) == (rule, message)
    assert problem.span.line == 13
    assert problem.help


def test_what_could_not_be_read_is_not_complained_of_again() -> None:
    board = flawed(HEAD + "X is\nY is nothing-known in B\nLPC senses X, Y\nX senses COMP\n").board
    assert not [one for one in board.problems if one.span.line > 14]


def test_a_device_that_is_not_in_yet_is_not_asked_for_at_the_rough_in() -> None:
    (problem,) = flawed(HEAD + "LPC senses C2\n").board.problems
    assert problem.later


@pytest.mark.slow
def test_what_a_board_of_few_lines_can_say_has_a_bound() -> None:
    many = ", ".join(["COMP"] * 5)
    assert case(f"{HEAD}LPC senses {many}\n").board.sensed["LPC"].loads == {"compressor": ("COMP",)}
    others = "".join(f"C{at} is compressor in B\n" for at in range(80))
    heavy = "".join(f"P{at} is low-pressure-control in B\n" for at in range(60))
    names = ", ".join(f"C{at}" for at in range(80))
    lines = "".join(f"P{at} senses {names}\n" for at in range(60))
    board = build(read(HEAD + others + heavy + lines, "test.wire"), wirecheck.shipped_parts())
    assert any("more than a board of so few lines can say" in one.message for one in board.problems)
