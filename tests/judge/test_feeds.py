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


@pytest.mark.parametrize("spliced", ["W2.black -- W3.black", "W3.black -- W2.black"])
def test_a_pigtail_brings_what_its_splice_has(spliced: str) -> None:
    """And the wire that brings it there is named, not the one that goes on."""
    text = changed(
        HALVES,
        ("cable W2 14/3", "cable W3 14/2 NM-B 9 ft from B to A\ncable W2 14/3"),
        ("  W2.black -- R1.hot\n", f"  {spliced} -- pigtail -- R1.hot\n"),
    )
    assert [wire for wire, *_ in feeds(text)] == ["W2.black", "W2.red"]


def test_two_hots_in_one_splice_are_no_matter_of_the_tab() -> None:
    text = changed(
        HALVES, ("  W2.black -- R1.hot\n  W2.red -- R1.hot\n", "  W2.black -- W2.red -- pigtail -- R1.hot\n")
    )
    assert not feeds(text)


def test_a_jumper_from_a_switch_in_the_same_box_brings_a_hot_too() -> None:
    text = changed(
        HALVES,
        ("S1 is single-pole-switch in A", "S1 is single-pole-switch in B"),
        (
            "  W1.black -- W2.black -- pigtail -- S1.line\n  W2.red -- S1.load\n",
            "  W1.black -- W2.black -- W2.red\n",
        ),
        ("  W1.bare -- W2.bare -- pigtail -- S1.ground\n", "  W1.bare -- W2.bare\n"),
        ("  W2.red -- R1.hot\n", "  W2.red -- S1.line\n  S1.load -- R1.hot\n"),
    )
    assert [one[:3] for one in feeds(text)] == [
        ("W2.black", "LP.leg-b", False),
        ("S1.load", "LP.leg-b", True),
    ]


def test_other_screws_in_the_same_line_are_passed_over() -> None:
    text = changed(
        HALVES,
        ("R1 is", "L1 is lampholder 60 W in B\nR1 is"),
        ("  W2.red -- R1.hot\n", "  W2.red -- pigtail -- L1.hot -- pigtail -- R1.hot\n"),
    )
    assert [wire for wire, *_ in feeds(text)] == ["W2.black", "W2.red"]


@pytest.mark.parametrize("bar", ["neutral", "ground"])
def test_no_feed_comes_by_a_bar(bar: str) -> None:
    """Not even where a switch joins a hot to it."""
    text = changed(
        HALVES,
        ("S1 is", "S2 is single-pole-switch in A\ncable W3 14/3 NM-B 9 ft from LP to A\nS1 is"),
        ("at A\n", f"  W3.red -- LP.{bar}\n  W3.black -- LP.3\n  W3.white -- LP.{bar}\nat A\n"
                   "  W3.black -- S2.line\n  W3.red -- S2.load\n  W2.red -- W3.white\n"),
        ("  W2.red -- S1.load\n", ""),
    )  # fmt: skip
    assert not feeds(text)


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
