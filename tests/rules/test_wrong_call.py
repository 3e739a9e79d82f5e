"""A machine's call terminal on power, or on the wire of another call."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, STAIR, at, changed, own, reported, seen
from wirecheck import files
from wirecheck.rules.wrong_call import RULE, OnAnother, OnPower

BOARDS = files.folder("boards")
RIGHT, WRONG = (
    (BOARDS / "rules" / "wrong-call" / f"{name}.wire").read_text(encoding="utf-8")
    for name in ("right", "wrong")
)
WITH_THE_FAN = own("wrong-call", "with-the-fan")


@pytest.mark.parametrize("text", [STAIR, COOLING, RIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_compressor_that_is_called_by_power() -> None:
    (found,) = seen(RULE, WRONG)
    assert isinstance(found, OnPower)
    assert (found.subject, found.power.name, found.join.place) == ("HP.Y", "A.R", "A")
    assert (found.severity, found.stage) == ("fault", "final")
    assert at(WRONG, found).startswith("TO.yellow -- A.R")


def test_a_compressor_that_is_called_with_the_fan() -> None:
    (found,) = seen(RULE, WITH_THE_FAN)
    assert isinstance(found, OnAnother)
    assert (found.subject, found.instead.name, found.meant.name) == ("HP.Y", "T.G", "T.Y")
    assert at(WITH_THE_FAN, found).startswith("TT.green -- TO.yellow")


@pytest.mark.slow
@pytest.mark.parametrize("text", [WRONG, WITH_THE_FAN], ids=["power", "fan"])
def test_it_is_the_only_one_there(text: str) -> None:
    """The color, which is right at the other end, is no other."""
    assert reported(text) == ["wrong-call"]


JUMPER = ("  TT.red -- T.R\n", "  TT.red -- pigtail 18 -- T.R -- pigtail 18 -- T.Y -- TT.yellow\n")


@pytest.mark.slow
def test_a_jumper_at_the_thermostat_is_the_line() -> None:
    text = changed(RIGHT, JUMPER, ("  TT.yellow -- T.Y\n", ""))
    (found,) = seen(RULE, text)
    assert (found.subject, found.join.place) == ("HP.Y", "T")


@pytest.mark.slow
@pytest.mark.parametrize(
    "edits",
    [
        # For want of a wire the fan runs with the compressor.
        (
            ("  TT.green -- A.G\n", "  cap TT.green\n"),
            ("TT.yellow -- TO.yellow", "TT.yellow -- TO.yellow -- A.G"),
        ),
        # Both calls come to both terminals.
        (
            ("TT.yellow -- TO.yellow", "TT.yellow -- TO.yellow -- TT.white -- A.W2"),
            ("  TT.white -- A.W2\n", ""),
        ),
        # No thermostat makes the call that is tied to power.
        (
            ("T is heat-pump-thermostat", "T is heat-only-thermostat"),
            ("  TT.yellow -- TO.yellow\n", "  TO.yellow -- A.R\n"),
        ),
    ],
    ids=["fan", "two calls", "no thermostat"],
)
def test_what_may_be_meant_so(edits: tuple[tuple[str, str], ...]) -> None:
    lines = changed(RIGHT, *edits)
    if "heat-only" in lines:
        at_t = lines.index("at T\n")
        lines = lines[:at_t] + "at T\n  TT.red -- T.R\n  TT.white -- T.W\n"
    assert not seen(RULE, lines)
