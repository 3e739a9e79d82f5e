"""Motors on three phases that lack a line."""

from __future__ import annotations

import math

import pytest

from tests.rules.hands import at, changed, reported, said, seen
from tests.rules.motors import SMALL, STARTER
from wirecheck import files
from wirecheck.model.board import Join
from wirecheck.rules.phase_loss import RULE, FromOneLeg, OnTwoLines

LOST = changed(SMALL, ("  W2.red -- D.load-2\n", "  cap W2.red\n"))
ONE_LEG = changed(
    SMALL,
    ("  W1.red -- SP.1.b\n  W1.white marked blue -- SP.1.c\n", "  W1.red -- SP.1.b -- W1.white\n"),
)


@pytest.mark.slow
def test_a_motor_with_its_three_lines() -> None:
    assert seen(RULE, SMALL) == seen(RULE, STARTER) == []


def test_a_lost_line_is_found_where_it_ends() -> None:
    (one,) = seen(RULE, LOST)
    assert isinstance(one, OnTwoLines)
    assert one.end == "M.T2"
    assert at(LOST, one) == "cap W2.red"
    assert reported(LOST) == ["phase-loss"]


@pytest.mark.slow
def test_what_it_draws_standing_still() -> None:
    """By hand: two windings in series beside a third take 1.5 times what one does, a line's by the root of 3.

    So it is half the root of 3 of the locked-rotor current, 6 x 4.4 A, less what the wire takes.
    """
    (one,) = seen(RULE, LOST)
    assert one.stalled == pytest.approx(math.sqrt(3) / 2 * 6 * 4.4, rel=0.03)
    (told,) = said(RULE, LOST)
    assert "7.62 A or more" in told.message  # 1.73 x 4.4 A


@pytest.mark.slow
@pytest.mark.parametrize(
    ("trips", "told"),
    [
        ("19 A", "OL trips at 19 A and stops it in a while."),
        ("27.8 A", "OL trips at 27.8 A and stops it in a while."),
        ("28 A", "OL trips at 28 A only, and lets it burn."),
    ],
)
def test_what_its_overload_relay_does_then(trips: str, told: str) -> None:
    """By hand: 1.73 x 16.1 A is 27.9 A."""
    lost = changed(STARTER, ("  P3 -- C.L3\n", "  cap P3\n"), ("trips 19 A", f"trips {trips}"))
    (one,) = said(RULE, lost)
    assert one.message.count(told) == 1
    assert "trips" not in said(RULE, LOST)[0].message


@pytest.mark.slow
def test_two_lines_on_one_leg() -> None:
    (one,) = seen(RULE, ONE_LEG)
    assert isinstance(one, FromOneLeg)
    assert set(one.ends) == {"M.T2", "M.T3"}
    assert "phase-loss" in reported(ONE_LEG)
    assert "dead-outlet" not in reported(ONE_LEG)
    assert "of its three lines" not in said(RULE, ONE_LEG)[0].message


@pytest.mark.slow
def test_a_motor_that_is_dead_has_not_lost_a_line() -> None:
    dead = changed(LOST, ("  W2.black -- D.load-1\n", "  cap W2.black\n"))
    assert seen(RULE, dead) == []


@pytest.mark.slow
@pytest.mark.parametrize(
    "gone", ["  A3 -- SP.1.c\n", "  P3 -- C.L3\n", "  C.T3 -- OL.L3\n", "  M3 -- M.T3\n"]
)
def test_a_line_lost_anywhere_on_its_way(gone: str) -> None:
    (one,) = seen(RULE, changed(STARTER, (gone, "")))
    assert one.end == "M.T3"


def test_two_lines_on_one_leg_are_told_where_their_ways_come_together() -> None:
    text = (files.folder("boards") / "reversing-starter" / "wrong-one-line-twice.wire").read_text("utf-8")
    (one,) = seen(RULE, text)
    assert isinstance(one.at.of, Join)
    assert {"R.L1", "R.L2"} <= {member.screw or member.name for member in one.at.of.members}


@pytest.mark.parametrize("size", ["12", "10"])
def test_of_states_that_are_alike_the_plain_call_is_named(size: str) -> None:
    """The size of a neutral moves the volts by less than a meter shows, and must not choose the state."""
    text = (files.folder("boards") / "rack-compressor" / "wrong-a-line-left-off.wire").read_text("utf-8")
    (one,) = said(RULE, changed(text, ("wire AN 10 THHN", f"wire AN {size} THHN")))
    assert "of its three lines with cool called" in one.message
