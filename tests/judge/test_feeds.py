"""Which wires under a screw bring a hot of their own."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, HALVES, LIGHT, case, changed
from wirecheck.judge.feeds import fed_twice


def feeds(text: str) -> list[tuple[str, str, bool, int]]:
    """The wire, the leg, whether it is switched, and the line: of every feed of a screw that has several."""
    return [
        (one.wire.name, one.leg.name, one.switched, one.join.span.line)
        for told in fed_twice(case(text)).values()
        for one in told
    ]


def test_an_unswitched_hot_and_a_switched_one() -> None:
    assert feeds(HALVES) == [("W2.black", "LP.leg-b", False, 20), ("W2.red", "LP.leg-b", True, 21)]
    assert list(fed_twice(case(HALVES))) == ["R1.hot"]


def test_two_wires_in_one_line() -> None:
    text = changed(HALVES, ("  W2.black -- R1.hot\n  W2.red -- R1.hot\n", "  W2.black -- W2.red -- R1.hot\n"))
    assert [wire for wire, *_ in feeds(text)] == ["W2.black", "W2.red"]


def test_a_pigtail_brings_what_its_splice_has() -> None:
    text = changed(
        HALVES,
        ("cable W2 14/3", "cable W3 14/2 NM-B 9 ft from B to A\ncable W2 14/3"),
        ("  W2.black -- R1.hot\n", "  W2.black -- W3.black -- pigtail -- R1.hot\n"),
    )
    assert [wire for wire, *_ in feeds(text)] == ["W2.black", "W2.red"]


def test_two_legs_without_a_switch() -> None:
    text = changed(
        HALVES,
        ("LP.3 15 A", "LP.3 15 A\nbreaker LP.5 15 A"),
        ("  W2.red -- S1.load\n", "  cap W2.red\n"),
        ("  W2.red -- R1.hot\n", "  W3.black -- R1.hot\n  cap W2.red\n"),
        ("cable W2 14/3", "cable W3 14/2 NM-B 9 ft from LP to B\ncable W2 14/3"),
        ("at A\n", "  W3.black -- LP.5\nat A\n"),
    )
    assert [one[1:3] for one in feeds(text)] == [("LP.leg-b", False), ("LP.leg-a", False)]


@pytest.mark.parametrize(
    ("part", "screw"),
    [("split-receptacle", "hot-top"), ("single-receptacle", "hot"), ("lampholder 60 W", "hot")],
)
def test_a_screw_that_serves_one_outlet_or_none_has_no_tab(part: str, screw: str) -> None:
    text = changed(HALVES, ("duplex-receptacle 15 A" if " " in part else "duplex-receptacle", part))
    assert not feeds(text.replace("R1.hot", f"R1.{screw}"))


def test_a_wire_that_goes_on_to_others_is_no_feed() -> None:
    """Not when it reaches a load, whose other side is at the neutral bar, nor when it is capped."""
    on = changed(HALVES, ("  W2.red -- S1.load\n", "  W2.red -- L1.hot\n  W2.white -- L1.neutral\n")).replace(
        "R1 is", "L1 is lampholder 60 W in A\nR1 is", 1
    )
    assert not feeds(on)
    assert not feeds(changed(HALVES, ("  W2.red -- S1.load\n", "  cap W2.red\n")))


def test_a_hot_that_comes_back_by_another_way_is_one_feed() -> None:
    """Both unswitched and of one leg: the screw only passes on what it has."""
    text = changed(
        HALVES, ("  W1.black -- W2.black -- pigtail", "  W1.black -- W2.black -- W2.red -- pigtail")
    )
    assert not feeds(text.replace("  W2.red -- S1.load\n", ""))


@pytest.mark.parametrize("text", [LIGHT, CHAIN])
def test_right_boards_have_none(text: str) -> None:
    assert not feeds(text)
