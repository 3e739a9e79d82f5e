"""A contactor that opens one hot of a load while the other goes past the pole that it has for it."""

from __future__ import annotations

import pytest

from tests.rules.hands import STAIR, at, changed, own, reported, seen
from wirecheck import files
from wirecheck.rules.hot_past_contactor import RULE

BOARDS = files.folder("boards")
RIGHT, WRONG, HEATED, WITH_START_RELAY = (
    (BOARDS / "rules" / rule / f"{name}.wire").read_text(encoding="utf-8")
    for rule, name in (
        ("hot-past-contactor", "right"),
        ("hot-past-contactor", "wrong"),
        ("resting-heater", "right"),
        ("start-relay", "right"),
    )
)


@pytest.mark.parametrize("text", [STAIR, RIGHT, HEATED, WITH_START_RELAY])
def test_right_boards_are_right(text: str) -> None:
    """A crankcase heater is ahead of the contactor by both its leads."""
    assert not seen(RULE, text)


def test_a_lead_of_the_compressor_on_the_line_side() -> None:
    (found,) = seen(RULE, WRONG)
    assert ([load.name for load in found.loads], found.points) == (["C"], ("C.b",))
    assert (found.subject, found.load, found.moves) == ("K", "K.load-2", ("B2",))
    assert (found.severity, found.stage) == ("fault", "final")
    assert at(WRONG, found).startswith("A2 -- B2 --")


@pytest.mark.slow
def test_it_is_the_only_one_there() -> None:
    """The empty screw is no other."""
    assert reported(WRONG) == ["hot-past-contactor"]


@pytest.mark.slow
def test_a_capacitor_ahead_of_the_contactor() -> None:
    text = changed(
        WITH_START_RELAY,
        ("C.load-1 -- pigtail -- RC.a -- pigtail -- SC.a", "C.load-1 -- pigtail -- RC.a"),
        ("C.line-1 -- pigtail", "C.line-1 -- pigtail -- SC.a -- pigtail"),
    )
    (found,) = seen(RULE, text)
    assert (found.points, found.load, found.moves) == (("SC.a",), "C.load-1", ("SC.a",))


@pytest.mark.slow
@pytest.mark.parametrize(
    "edits",
    [
        # A contactor of one pole leaves the other hot.
        (("K.line-2", "B2"), ("  B2 -- K.load-2\n", "")),
        # The pole has a straight piece over it, by choice.
        (("K.line-2", "K.line-2 -- pigtail -- K.load-2 -- pigtail -- B2"), ("  B2 -- K.load-2\n", "")),
    ],
)
def test_a_hot_that_no_pole_is_there_for(edits: tuple[tuple[str, str], ...]) -> None:
    assert not seen(RULE, changed(RIGHT, *edits))


@pytest.mark.slow
@pytest.mark.parametrize(("volts", "found"), [("120 V", 0), ("240 V", 1)])
def test_a_pole_that_is_there_for_another_load(volts: str, found: int) -> None:
    """It switches a fan of one hot; a fan of both belongs behind it, and so does the compressor then."""
    other = "AG" if volts == "120 V" else "K.load-1"
    text = changed(
        WRONG,
        ("C is compressor", f"FM is fan-motor 1 A {volts} in CB\nC is compressor"),
        ("  B1 -- K.load-1", f"  K.load-2 -- FM.a\n  FM.b -- {other}\n  B1 -- K.load-1"),
    )
    assert len(seen(RULE, text)) == found


def test_a_line_of_a_motor_on_three_phases_that_a_button_starts() -> None:
    """No call runs it, and no line of the board has to say what does."""
    starter = changed(own("grounding-conductor-size", "thin-bond"), ("wire xb 16", "wire xb 14")).replace(
        "expect", "# expect"
    )
    assert not seen(RULE, starter)
    text = changed(starter, ("  k3 -- M.T3\n", "  k3 -- M.L3\n"))
    (found,) = seen(RULE, text)
    assert (found.points, found.load, at(text, found)) == (("MT.T3",), "M.T3", "k3 -- M.L3")
    assert found.moves == ("k3",)
    # NEC 430.84: a controller need not open every line of a motor.
    assert found.severity == "advice"
