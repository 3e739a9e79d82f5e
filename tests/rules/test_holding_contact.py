"""Start and stop buttons, and the contact that holds what they start."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import changed, reported, said, seen
from tests.rules.motors import STARTER
from wirecheck import check, files
from wirecheck.rules import safety_bypass
from wirecheck.rules.holding_contact import RULE, Jogs, NeverStarts, Overrides, RunsOn

START, STOP = "expect START starts M\n", "expect STOP stops M\n"
LEFT_OFF = ("  C3 -- K3 -- C.14\n", "  C3 -- K3\n")
# The holding contact across the stop button: 13 on the line, 14 behind the button.
ACROSS_STOP = (
    ("  C2 -- C.13\n", "  C2 -- C.14\n"),
    ("  C3 -- K3 -- C.14\n", "  C3 -- K3\n"),
    ("  K1 -- C1\n", "  K1 -- C1 -- C.13\n"),
)
ACROSS_BOTH = ("  C1 -- STOP.a\n  STOP.b -- C2 -- START.a\n", "  C1 -- C2 -- STOP.a\n  STOP.b -- START.a\n")


def test_the_right_one() -> None:
    assert seen(RULE, STARTER) == []
    assert seen(safety_bypass.RULE, STARTER) == []


@pytest.mark.slow
@pytest.mark.parametrize("line", [START, ""])
def test_without_its_holding_contact_it_jogs(line: str) -> None:
    """With the line that asks for it, and without: a stop button says that it is no jog button."""
    text = changed(STARTER, LEFT_OFF, (START, line))
    (one,) = seen(RULE, text)
    assert isinstance(one, Jogs)
    assert one.holder is not None and one.holder.name == "C"
    assert one.contact is not None and {one.contact.a, one.contact.b} == {"C.13", "C.14"}
    assert reported(text) == ["holding-contact"]


@pytest.mark.slow
def test_a_holding_contact_across_the_stop_button() -> None:
    text = changed(STARTER, *ACROSS_STOP)
    (one,) = seen(RULE, text)
    assert isinstance(one, Jogs)
    assert one.across is not None and one.across.name == "STOP"
    assert "is across STOP, and not across START" in said(RULE, text)[0].message


@pytest.mark.slow
def test_a_jog_button_alone_is_no_mistake() -> None:
    """Without a stop button and with no line that asks for more, a motor may run while a button is held."""
    text = changed(
        STARTER,
        LEFT_OFF,
        (START, ""),
        (STOP, ""),
        ("STOP is stop-button in B\n", ""),
        ("  C1 -- STOP.a\n  STOP.b -- C2 -- START.a\n", "  C1 -- C2 -- START.a\n"),
    )
    assert seen(RULE, text) == []


@pytest.mark.slow
def test_what_no_stop_button_stops() -> None:
    """With the line that asks for it, and without."""
    asked = changed(STARTER, ACROSS_BOTH)
    assert seen(RULE, asked) == []
    (bypassed,) = seen(safety_bypass.RULE, asked)
    assert bypassed.safety.name == "STOP" and bypassed.load.name == "M"
    (one,) = seen(RULE, changed(asked, (STOP, "")))
    assert isinstance(one, RunsOn)
    assert [stop.name for stop in one.stops] == ["STOP"]
    assert one.severity == "hazard"


@pytest.mark.slow
def test_one_that_never_starts() -> None:
    text = changed(STARTER, ("  K2 -- OL.96\n", "  cap K2\n"))
    (one,) = seen(RULE, text)
    assert isinstance(one, NeverStarts)
    assert "holding-contact" not in reported(text)  # its coil without power says why


@pytest.mark.slow
def test_an_overload_relay_that_does_not_stop_its_motor() -> None:
    text = changed(STARTER, ("  C.A2 -- OL.95\n  K2 -- OL.96\n", "  C.A2 -- K2\n"))
    (one,) = seen(safety_bypass.RULE, text)
    assert one.safety.name == "OL" and "once START was pressed" in said(safety_bypass.RULE, text)[0].message


@pytest.mark.slow
def test_an_overload_relay_that_no_line_names_and_that_guards_nothing() -> None:
    text = changed(
        STARTER,
        ("  C.A2 -- OL.95\n  K2 -- OL.96\n", "  C.A2 -- K2 -- OL.95 -- OL.96\n"),
        ("expect OL stops M\n", ""),
    )
    assert [type(one) for one in seen(safety_bypass.RULE, text)] == [safety_bypass.GuardsNothing]


# The line comes in behind the stop button, which is in the way of the holding contact alone.
BEHIND = (("  K1 -- C1\n", "  K1 -- C2\n"), ("  C2 -- C.13\n", "  C1 -- C.13\n"))


def test_a_stop_button_in_the_way_of_the_holding_contact_alone() -> None:
    text = changed(STARTER, *BEHIND)
    (one,) = seen(RULE, text)
    assert isinstance(one, Overrides)
    told = (one.severity, one.load.name, one.button.name, one.stop.name)
    assert told == ("violation", "C", "START", "STOP")
    # It does stop the motor once START is let go: it is no button without effect, and bypasses nothing.
    assert reported(text) == ["holding-contact"]


BOARDS = Path(__file__).parents[1] / "mend" / "boards"


@pytest.mark.slow
def test_what_is_on_the_alarm_contact_of_an_overload_belongs_on_the_one_that_opens() -> None:
    """IEC 60947-4-1 (from memory): 95 and 96 open as it trips, 97 and 98 close."""
    (one,) = (
        each
        for each in check(BOARDS / "alarm-contact-of-the-overload.wire", effort=400).findings
        if each.severity != "advice"
    )
    assert (one.rule, [each.rule for each in one.follows]) == ("holding-contact", ["switch-without-effect"])
    assert [mend.mistake for mend in one.mends] == [
        "At E, what is on OL.97 and OL.98 belongs on OL.95 and OL.96."
    ]
    assert one.mends[0].remedy == "Move what is on OL.97 to OL.95 and what is on OL.98 to OL.96."


@pytest.mark.slow
@pytest.mark.parametrize(
    ("board", "mistake"),
    [
        ("coil-off-an-idle-fuse", "At E, F2.load and K.A2 are joined to nothing, and belong together."),
        ("coil-on-the-other-fuse", "At E, the jumper to K.A2 is on F1.load, and belongs on F2.load."),
    ],
)
def test_the_far_side_of_a_coil_goes_to_the_fuse_that_nothing_is_on(board: str, mistake: str) -> None:
    """And not past that fuse to a line of the motor."""
    (one,) = (
        each for each in check(BOARDS / f"{board}.wire", effort=400).findings if each.severity != "advice"
    )
    assert [mend.mistake for mend in one.mends] == [mistake]


def test_of_two_start_buttons_the_one_that_jogs_is_named() -> None:
    board = files.folder("boards") / "reversing-starter" / "wrong-holding-contact-left-off.wire"
    (finding,) = said(RULE, board.read_text("utf-8"))
    assert finding.message.startswith(
        "Started by REV, M runs only while it is pressed, and stops when it is let"
    )
