"""The high leg of a delta: NEC 110.15, 240.85, 408.3(E)(1)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import changed, said, seen
from wirecheck import check
from wirecheck.rules.high_leg import RULE, HighLegElsewhere, OnHighLeg

BY_HAND = Path(__file__).parents[1] / "boards" / "by_hand" / "subpanels"
SHOP = (BY_HAND / "high-leg.wire").read_text(encoding="utf-8")
RIGHT = changed(SHOP, ("breaker SP.4 20 A", "breaker SP.6 20 A"), ("-- SP.4 ", "-- SP.6 "))
# The two hots that are at each other's lug.
AT_C = (("  FB -- SP.b\n", "  FC -- SP.b\n"), ("  FC -- SP.c\n", "  FB -- SP.c\n"))


def test_a_breaker_of_one_pole_on_the_high_leg() -> None:
    (found,) = seen(RULE, SHOP)
    assert isinstance(found, OnHighLeg)
    assert (found.breaker.name, found.severity, round(found.present)) == ("SP.4", "hazard", 208)
    (words,) = said(RULE, SHOP)
    assert words.help is not None and words.help.startswith("Move it to a space on leg a or c.")


def test_on_another_leg_it_is_right() -> None:
    assert not seen(RULE, RIGHT)


def test_what_follows_from_it_is_not_told_again() -> None:
    for text in (SHOP, changed(SHOP, ("expect RC live\n", ""))):
        assert [one.rule for one in check(text, effort=0).findings] == ["high-leg"]


@pytest.mark.slow
def test_the_breaker_is_what_moves() -> None:
    """And no hot of the feeder, which would bring the high leg to other spaces."""
    (found,) = check(SHOP, effort=200).findings
    assert [mend.mistake for mend in found.mends] == ["Breaker SP.4 should be on leg c."]


def test_a_breaker_with_no_wire_waits_for_one() -> None:
    assert not seen(RULE, changed(RIGHT, ("breaker SP.6 20 A", "breaker SP.3 20 A\nbreaker SP.6 20 A")))


def test_what_is_made_for_208_v_may_hang_there() -> None:
    heater = changed(SHOP, ("RC is duplex-receptacle 20 A", "RC is single-receptacle-240 20 A"))
    heater = heater.replace("RC.hot", "RC.hot-1").replace("RC.neutral", "RC.hot-2")
    assert not seen(RULE, heater)


def test_the_high_leg_at_another_lug() -> None:
    text = changed(RIGHT, *AT_C)
    (found,) = seen(RULE, text)
    assert isinstance(found, HighLegElsewhere)
    assert (found.lug, found.leg, found.severity) == ("SP.c", "LP.leg-b", "hazard")
    assert text.splitlines()[found.at.span.line - 1].strip() == "FB -- SP.c"
    assert {one.rule for one in check(text, effort=0).findings} == {"high-leg"}


def test_a_panel_of_one_phase_that_is_fed_from_it() -> None:
    """Between the high leg and another there are 240 V, as it is made for; to the neutral there are 208 V."""
    text = """board "A subpanel on the wrong two legs"
panel LP 120/240 V delta, 10 kA available
breaker LP.SPACE 40 A 2-pole
subpanel SP 120/240 V
breaker SP.1 20 A
cable FD 8/3 NM-B 60 ft from LP to SP
at LP
  FD.black -- LP.SPACE.a
  FD.red -- LP.SPACE.b
  FD.white -- LP.neutral
  FD.bare -- LP.ground
at SP
  FD.black -- SP.a
  FD.red -- SP.b
  FD.white -- SP.neutral
  FD.bare -- SP.ground
"""
    (found,) = seen(RULE, text.replace("SPACE", "1"))
    assert (found.lug, found.leg) == ("SP.b", "LP.leg-b")
    assert not seen(RULE, text.replace("SPACE", "5"))
