"""Circuits that two breakers feed."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, at, changed, own, seen
from wirecheck import files
from wirecheck.rules.backfeed import RULE

TIED = files.rule_board("backfeed", "wrong")


@pytest.mark.parametrize("text", [STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_two_breakers_of_one_leg_tied_together() -> None:
    (tied,) = seen(RULE, TIED)
    assert at(TIED, tied).startswith("W1.black -- W2.black")
    assert (tied.one.breaker.name, tied.other.breaker.name, tied.subject) == ("LP.1", "LP.5", "LP.5")
    assert (tied.severity, tied.stage) == ("hazard", "trim")
    assert (tied.way.points[0], tied.way.points[-1]) == ("LP.1", "LP.5")
    assert len(tied.copper) == 1


def test_two_breakers_of_different_legs_are_a_short_instead() -> None:
    assert not seen(RULE, changed(TIED, ("breaker LP.5 15 A", "breaker LP.5 15 A leg b")))


def test_a_breaker_of_two_poles_does_not_feed_itself_twice() -> None:
    text = changed(
        TIED,
        ("breaker LP.1 15 A\nbreaker LP.5 15 A", "breaker LP.1 15 A 2-pole"),
        ("LP.1\n  W2", "LP.1.a\n  W2"),
        ("LP.5\n", "LP.1.b\n"),
    )
    assert not seen(RULE, text)


def test_a_switch_that_ties_them_is_to_blame_on_its_line() -> None:
    text = own("backfeed", "switched")
    (tied,) = seen(RULE, text)
    assert at(text, tied) == "W1.red -- S1.traveler-2"
    assert tied.settled.positions["S1"] == "down"


def test_a_tie_in_the_panel_is_at_the_breaker() -> None:
    text = own("backfeed", "in-the-panel")
    (tied,) = seen(RULE, text)
    assert at(text, tied) == "breaker LP.7 15 A"


def test_each_pair_is_found_once() -> None:
    """In both positions of a switch that has nothing to do with it; three breakers are two pairs."""
    more = changed(
        TIED,
        ("breaker LP.5 15 A\n", "breaker LP.5 15 A\nbreaker LP.9 15 A\n"),
        ("at A\n", "  W3.black -- LP.9\n  W3.white -- LP.neutral\n  W3.bare -- LP.ground\nat A\n"),
        ("cable W2", "cable W3 14/2 NM-B 9 ft from LP to A\ncable W2"),
        ("W1.black -- W2.black", "W1.black -- W2.black -- W3.black -- pigtail -- S1.line"),
        ("W1.white -- W2.white", "W1.white -- W2.white -- W3.white"),
        ("W1.bare -- W2.bare", "W1.bare -- W2.bare -- W3.bare -- pigtail -- S1.ground"),
        ("at LP", "S1 is single-pole-switch in A\nat LP"),
    )
    pairs = [(tied.one.breaker.name, tied.other.breaker.name) for tied in seen(RULE, more)]
    assert pairs == [("LP.1", "LP.5"), ("LP.1", "LP.9")]
