"""Two speed taps of one motor that have power at once."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import at, case, changed, reported, seen
from wirecheck import files
from wirecheck.rules.both_taps import RULE, BothTaps

BOARDS = files.folder("boards")
RIGHT = (BOARDS / "rules" / "both-taps" / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "rules" / "both-taps" / "wrong.wire").read_text(encoding="utf-8")
FURNACE = (BOARDS / "furnace-on-a-sequencer" / "right.wire").read_text(encoding="utf-8")
PAST_THE_RELAY = changed(
    FURNACE,
    ("  FR.nc -- SQ.m1\n", ""),
    ("-- pigtail -- SQ.m3 --", "-- pigtail -- SQ.m1 -- pigtail -- SQ.m3 --"),
)


def test_a_changeover_switch_gives_one_tap_power_at_a_time() -> None:
    assert not seen(RULE, RIGHT)


def test_two_switches_give_both_taps_power() -> None:
    (one,) = seen(RULE, WRONG)
    assert isinstance(one, BothTaps)
    assert one.taps == ("M.low-tap", "M.high-tap")
    assert {one.state.positions["S1"], one.state.positions["S2"]} == {"on"}
    assert at(WRONG, one).startswith("W2.black -- M.low-tap")
    assert reported(WRONG) == ["both-taps"]


def test_one_switch_that_feeds_one_tap_alone() -> None:
    assert not seen(RULE, changed(WRONG, ("  W2.red -- S2.load\n", "  cap W2.red\n")))


def test_a_lead_that_is_open_leaves_the_winding_without_power() -> None:
    assert not seen(RULE, changed(WRONG, ("  W2.white -- M.b\n", "  cap W2.white\n")))


@pytest.mark.slow
def test_two_calls_of_one_thermostat_that_a_line_makes_together() -> None:
    """Heat alone and the fan alone give one tap power each; the switch of the fan can be on as it heats."""
    assert not seen(RULE, FURNACE)
    (one,) = seen(RULE, PAST_THE_RELAY)
    assert one.state.calls == {"heat", "fan"}
    assert at(PAST_THE_RELAY, one) == "SQ.m2 -- BL.low-tap"
    assert reported(PAST_THE_RELAY) == ["both-taps"]
    unasked = changed(PAST_THE_RELAY, ("expect heat and fan runs BL.high-speed, then H1, H2\n", ""))
    assert not seen(RULE, unasked)


ELECTRONIC = """\
part electronic-taps "A motor whose electronics are told by line voltage on a lead how fast to turn"
source "invented"
terminal low-tap line, lead, sizes 18 to 10, rated 75 C "low speed"
terminal high-tap line, lead, sizes 18 to 10, rated 75 C "high speed"
terminal b line, lead, sizes 18 to 10, rated 75 C "the other side"
terminal ground ground, green screw, sizes 18 to 10, rated 75 C "ground"
load low-speed motor from low-tap to b, 80 W at 120 V, constant-power
load high-speed motor from high-tap to b, 500 W at 120 V, constant-power
"""


def test_taps_that_only_tell_electronics_how_fast_to_turn() -> None:
    """The same board with a motor whose speeds draw constant power is passed."""
    rated = "M is two-speed-motor with low 3.1 A, high 4.6 A, voltage 120 V"
    electronic = changed(WRONG, (rated, "M is electronic-taps"))
    assert not list(RULE.find(case(electronic, **{"electronic-taps": ELECTRONIC})))


@pytest.mark.slow
def test_two_motors_on_one_feed_are_no_taps() -> None:
    cooler = (BOARDS / "pump-down-cooler" / "right.wire").read_text(encoding="utf-8")
    assert not seen(RULE, cooler)


def test_where_no_mend_is_found_it_says_what_to_follow() -> None:
    text = (BOARDS / "furnace-on-a-sequencer" / "wrong-low-speed-past-the-relay.wire").read_text("utf-8")
    (one,) = (each for each in wirecheck.check(text, effort=0).findings if each.rule == "both-taps")
    assert one.look.startswith("Follow the feed of each of BL.low-tap and BL.high-tap back")
