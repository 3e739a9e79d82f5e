"""What comes to the lugs of a subpanel: a leg to each, and the volts that the panel is made for."""

from __future__ import annotations

import pytest

from tests.rules.hands import case, seen
from tests.subpanels import workshop
from wirecheck import check
from wirecheck.judge.feeders import feeders
from wirecheck.model.board import Join
from wirecheck.rules.subpanel_lugs import RULE, DeadLugs, WrongLegs

NO_RED = (("6/3 NM-B", "6/2 NM-B"), ("  FD.red -- LP.2.b\n", ""), ("  FD.red -- SP.b\n", ""))
ONE_POLE = (
    ("breaker LP.2 60 A 2-pole", "breaker LP.2 60 A"),
    ("  FD.black -- LP.2.a\n  FD.red -- LP.2.b\n", "  FD.black -- FD.red -- pigtail -- LP.2\n"),
)


def told(*changes: tuple[str, str]) -> list[str]:
    return [one.rule for one in check(workshop(*changes), effort=0).findings]


def test_a_leg_at_each_lug_is_right() -> None:
    assert not seen(RULE, workshop())
    (feeder,) = feeders(case(workshop())).values()
    assert {leg: source and source.name for leg, source in feeder.legs.items()} == {
        "a": "LP.leg-a",
        "b": "LP.leg-b",
    }
    assert feeder.ahead is not None and feeder.ahead.name == "LP.2"
    assert feeder.main is not None and feeder.main.name == "SP.main"
    assert [one.name for one in feeder.hots] == ["FD.black", "FD.red"]


def test_a_breaker_that_is_fed_backward_is_a_main() -> None:
    text = workshop(
        ("60 A main, 100 A bus", "100 A bus"),
        ("breaker SP.1 15 A", "breaker SP.6 60 A 2-pole\nbreaker SP.1 15 A"),
        ("FD.black -- SP.a", "FD.black -- SP.6.a"),
        ("FD.red -- SP.b", "FD.red -- SP.6.b"),
    )
    (feeder,) = feeders(case(text)).values()
    assert feeder.main is not None and feeder.main.name == "SP.6"
    assert feeder.protects is not None and check(text, effort=0).findings == ()


def test_a_dead_lug() -> None:
    (found,) = seen(RULE, workshop(*NO_RED))
    assert isinstance(found, DeadLugs)
    assert (found.severity, found.stage, found.lugs, found.dead) == (
        "fault",
        "trim",
        ("SP.b",),
        ("SP.3", "SP.2"),
    )
    # What hangs on it follows.
    assert told(*NO_RED) == ["subpanel-lugs"]


def test_a_loose_hot_is_told_by_itself() -> None:
    assert told(("  FD.red -- SP.b\n", "")) == ["loose-conductor"]


@pytest.mark.slow
def test_a_lug_that_no_breaker_needs_may_be_empty() -> None:
    here = (
        ("breaker SP.3 20 A", "breaker SP.3 20 A leg a"),
        ("breaker SP.2 30 A 2-pole\n", ""),
        ("  W4.black -- SP.2.a\n  W4.white marked red -- SP.2.b\n", "  cap W4.black\n  cap W4.white\n"),
    )
    assert not seen(RULE, workshop(*NO_RED, *here))


def test_two_lugs_on_one_leg() -> None:
    (found,) = seen(RULE, workshop(*ONE_POLE))
    assert isinstance(found, WrongLegs)
    assert (found.one, found.other, found.present, found.meant) == ("SP.a", "SP.b", 0, 240)
    assert told(*ONE_POLE) == ["subpanel-lugs"]
    # The line is that of the pole, where the hand changes something.
    assert isinstance(found.at.of, Join) and found.at.of.place == "LP"


def test_two_legs_of_a_wye_are_no_240_volts() -> None:
    wye = ("panel LP 120/240", "panel LP 208Y/120")
    (found,) = seen(RULE, workshop(wye))
    assert found.present == pytest.approx(207.8, abs=0.1)
    # A panel for three legs, of which no breaker needs the third, has what it needs.
    assert not seen(RULE, workshop(wye, ("subpanel SP 120/240", "subpanel SP 208Y/120")))


@pytest.mark.slow
def test_two_breakers_on_one_leg_are_told_by_themselves() -> None:
    changes = (
        ("breaker LP.2 60 A 2-pole", "breaker LP.2 60 A\nbreaker LP.6 60 A"),
        ("FD.black -- LP.2.a", "FD.black -- LP.2"),
        ("FD.red -- LP.2.b", "FD.red -- LP.6"),
    )
    assert told(*changes)[0] == "multiwire-circuit" and "subpanel-lugs" not in told(*changes)
