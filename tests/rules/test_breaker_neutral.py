"""Neutrals of ground- and arc-fault breakers; NEC 2023 110.3(B), UL 943, UL 1699."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import COOLING, LIGHT, LOOP, STAIR, at, case, changed, reported, said, seen
from wirecheck import files
from wirecheck.rules import breaker_trips
from wirecheck.rules.breaker_neutral import RULE, NeutralOnAnother, NeutralOnBar

BOARDS = Path(__file__).parent / "boards" / "breaker-neutral"
ONE = """\
board "One receptacle"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
breaker LP.3 15 A gfci
box A device 20.3 cu in
cable W1 14/2 NM-B 11 ft from LP to A
R1 is duplex-receptacle 15 A in A
at LP
  W1.black -- LP.3
  W1.white -- LP.3.neutral
  W1.bare -- LP.ground
at A
  W1.black -- R1.hot
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""
SPLICED = """\
  W2.black -- LP.3
  W2.white -- LP.neutral
at B
  W1.black -- W2.black
  W1.white -- W2.white
"""


def board(name: str) -> str:
    return (BOARDS / f"{name}.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, ONE])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize("kind", ["gfci", "afci"])
def test_on_the_bar_it_is_a_fault(kind: str) -> None:
    text = changed(ONE, ("W1.white -- LP.3.neutral", "W1.white -- LP.neutral"), ("15 A gfci", f"15 A {kind}"))
    (found,) = seen(RULE, text)
    assert type(found) is NeutralOnBar
    assert (found.severity, found.stage, found.subject) == ("fault", "trim", "LP.3")
    assert (found.conductor.name, found.own.name, found.screw.name) == (
        "W1.white",
        "LP.3.neutral",
        "LP.neutral",
    )
    assert found.others == ()
    assert text.splitlines()[found.at.span.line - 1] == "  W1.white -- LP.neutral"


def test_a_breaker_without_a_neutral_screw_has_its_white_on_the_bar() -> None:
    text = changed(
        ONE,
        ("W1.white -- LP.3.neutral", "W1.white -- LP.neutral"),
        ("15 A gfci", "15 A afci no-neutral"),
    )
    assert not seen(RULE, text)
    assert "LP.3.neutral" not in case(text).board.terminals


@pytest.mark.parametrize(("kind", "offered"), [("gfci", False), ("afci", True), ("gfci afci", False)])
def test_a_ground_fault_breaker_has_the_screw_whatever_the_line_says(kind: str, offered: bool) -> None:
    text = changed(ONE, ("W1.white -- LP.3.neutral", "W1.white -- LP.neutral"), ("15 A gfci", f"15 A {kind}"))
    (words,) = said(RULE, text)
    assert words.help is not None
    assert ("no-neutral" in words.help) is offered


LIT = changed(
    ONE,
    ("R1 is duplex-receptacle 15 A in A", "R1 is lampholder 60 W in A"),
)


@pytest.mark.parametrize(("kind", "limit"), [("gfci", 0.005), ("afci", 0.05)])
def test_what_lights_at_once_trips_it(kind: str, limit: float) -> None:
    """The solved state says so, and the white on the bar is why: one finding."""
    right = LIT.replace("15 A gfci", f"15 A {kind}")
    assert not case(right).standing({}).opened
    text = changed(right, ("W1.white -- LP.3.neutral", "W1.white -- LP.neutral"))
    (opening,) = case(text).standing({}).opened
    assert (opening.name, opening.kind, opening.limit) == ("LP.3", "ground-fault", limit)
    assert opening.amps == pytest.approx(0.5, rel=0.01)
    assert seen(breaker_trips.RULE, text)
    assert reported(text) == ["breaker-neutral"]
    assert not case(text.replace(kind, f"{kind} no-neutral")).standing({}).opened or kind == "gfci"


def test_a_switched_light_that_trips_it_is_no_matter_of_the_switch() -> None:
    text = changed(
        LIGHT + "expect L1 from S1\n",
        ("breaker LP.3 15 A", "breaker LP.3 15 A afci"),
    )
    assert [at(text, one) for one in seen(RULE, text)] == ["W1.white -- LP.neutral"]
    assert reported(text) == ["breaker-neutral"]


def test_what_is_wired_in_the_panel_comes_back_to_the_screw_too() -> None:
    text = changed(
        ONE,
        ("R1 is duplex", "L1 is lampholder 60 W in LP\nR1 is duplex"),
        ("W1.black -- LP.3", "W1.black -- L1.hot -- LP.3"),
        ("W1.white -- LP.3.neutral", "W1.white -- L1.neutral -- LP.3.neutral"),
    )
    assert not case(text).standing({}).opened
    to_bar = changed(
        text,
        ("W1.white -- L1.neutral -- LP.3.neutral", "W1.white -- LP.3.neutral\n  L1.neutral -- LP.neutral"),
    )
    assert [one.name for one in case(to_bar).standing({}).opened] == ["LP.3"]


def test_on_another_breaker_it_is_a_fault() -> None:
    first, second, third = seen(RULE, board("another"))
    assert (type(first), first.severity, first.breaker.name) == (NeutralOnAnother, "fault", "LP.1")
    assert (first.own.name, first.screw.name) == ("LP.1.neutral", "LP.3.neutral")
    # A plain breaker has no screw for it: its neutral goes on the bar.
    assert (type(second), second.breaker.name, second.own) == (NeutralOnAnother, "LP.2", None)
    assert (type(third), third.breaker.name) == (NeutralOnBar, "LP.3")


def test_a_plain_breaker_has_its_neutral_on_the_bar() -> None:
    text = changed(ONE, ("W1.white -- LP.3.neutral", "W1.white -- LP.neutral"), ("15 A gfci", "15 A"))
    assert not seen(RULE, text)


def test_a_neutral_that_comes_to_no_panel_is_not_judged() -> None:
    """It is spliced on the way: the wire that comes to the panel is judged, and no other."""
    text = changed(
        ONE,
        ("box A", "box B junction 20 cu in\nbox A"),
        ("from LP to A", "from B to A\ncable W2 14/2 NM-B 5 ft from LP to B"),
        ("  W1.black -- LP.3\n  W1.white -- LP.3.neutral\n  W1.bare -- LP.ground\n", SPLICED),
    )
    (found,) = seen(RULE, text)
    assert found.conductor.name == "W2.white"


def test_a_ground_is_no_neutral() -> None:
    """Current on it is another rule's matter."""
    text = changed(
        ONE,
        ("  W1.white -- LP.3.neutral\n", "  cap W1.white\n"),
        ("  W1.white -- R1.neutral\n", "  cap W1.white\n"),
        ("W1.bare -- R1.ground", "W1.bare -- pigtail -- R1.neutral -- pigtail -- R1.ground"),
        ("W1.bare -- LP.ground", "W1.bare -- LP.neutral"),
    )
    assert not seen(RULE, text)


def test_a_shared_neutral_belongs_on_neither() -> None:
    (found,) = seen(RULE, board("shared"))
    assert (type(found), found.breaker.name) == (NeutralOnAnother, "LP.3")
    assert [one.name for one in found.others] == ["LP.1"]
    (words,) = said(RULE, board("shared"))
    assert words.help is not None
    assert "Move" not in words.help


def test_on_the_bar_a_shared_neutral_is_a_fault_of_both() -> None:
    text = changed(board("shared"), ("W1.white -- LP.1.neutral", "W1.white -- LP.neutral"))
    found = seen(RULE, text)
    assert [(type(one), one.subject) for one in found] == [(NeutralOnBar, "LP.1"), (NeutralOnBar, "LP.3")]


def test_a_device_in_the_panel_is_no_place_to_land_on() -> None:
    """Its own screw may be called neutral: the wire is on the bar by way of it."""
    text = changed(
        ONE,
        ("R1 is duplex", "L1 is lampholder 60 W in LP\nR1 is duplex"),
        ("W1.white -- LP.3.neutral", "W1.white -- L1.neutral"),
    )
    assert not seen(RULE, text)


def test_a_white_on_the_ground_bar_is_another_mistake() -> None:
    assert not seen(RULE, changed(ONE, ("W1.white -- LP.3.neutral", "W1.white -- LP.ground")))


def test_a_fuse_has_no_neutral_of_its_own() -> None:
    text = changed(
        ONE,
        ("box A", "box B junction 20 cu in\nF1 is fuse 10 A in B\nbox A"),
        ("from LP to A", "from B to A\ncable W2 14/2 NM-B 5 ft from LP to B"),
        ("  W1.black -- LP.3\n  W1.white -- LP.3.neutral\n  W1.bare -- LP.ground\n", SPLICED),
        ("  W1.black -- W2.black\n", "  W1.black -- F1.load\n  W2.black -- F1.line\n"),
    )
    assert not seen(RULE, text)


def test_a_wire_that_is_marked_as_a_hot_is_no_neutral() -> None:
    text = (files.folder("boards") / "well-pump" / "wrong-one-hot-on-neutral.wire").read_text(
        encoding="utf-8"
    )
    (one,) = said(RULE, text)
    assert one.message == (
        "W1.white is marked as a hot of TP.28, and is on the neutral: what needs 240 V gets 120 V. TP.28 "
        "misses that current on its other pole, and trips."
    )
