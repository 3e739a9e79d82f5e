"""Neutrals that come back on a ground, with current and without, and grounds that stand on a neutral."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import CHAIN, COOLING, LIGHT, STAIR, at, case, changed, own, reported, said, seen
from wirecheck import files
from wirecheck.rules.ground_as_neutral import (
    RULE,
    CurrentOnGround,
    GroundAtNeutralBar,
    GroundOnNeutral,
    NeutralJoinedToGround,
    NeutralOnGround,
)

WRONG = files.rule_board("ground-as-neutral", "wrong")
BAR = own("ground-as-neutral", "neutral-on-the-ground-bar")


@pytest.mark.parametrize("text", [STAIR, COOLING, LIGHT, CHAIN])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_current_that_comes_back_on_the_bare_wire() -> None:
    stray, joined = seen(RULE, WRONG)
    assert isinstance(stray, CurrentOnGround)
    # Three copper paths of one length share the lamp's half ampere: white alone, bare alone.
    assert stray.amps == pytest.approx(0.25, rel=0.02)
    assert at(WRONG, stray).startswith("W1.white -- W1.bare")
    assert (stray.severity, stray.stage, stray.subject) == ("hazard", "trim", "W1.bare")
    assert stray.conductor.name == "W1.bare"
    # What will carry current is hidden by what carries it now.
    assert isinstance(joined, NeutralJoinedToGround)
    assert reported(WRONG).count("ground-as-neutral") == 1


# Common practice: what a lamp leaks, or a meter's error, is less than 10 mA.
@pytest.mark.parametrize(("watts", "carries"), [(2.2, False), (2.6, True), (24, True)])
def test_the_least_current_that_counts(watts: float, carries: bool) -> None:
    """Half of the lamp's amperes come back on the bare wire: 2.4 W are 20 mA at 120 V."""
    found = seen(RULE, changed(WRONG, ("lampholder 60 W", f"lampholder {watts} W")))
    amps = [one.amps for one in found if isinstance(one, CurrentOnGround)]
    assert amps == ([pytest.approx(watts / 240, rel=0.02)] if carries else [])


def test_current_that_only_a_switch_makes_is_found_in_that_position() -> None:
    text = changed(
        LIGHT,
        ("  W1.white -- W2.white\n", "  W1.bare -- W2.white\n  cap W1.white\n"),
        ("W1.bare -- W2.bare", "W2.bare"),
    )
    found = [one for one in seen(RULE, text) if isinstance(one, CurrentOnGround)]
    assert [(one.conductor.name, one.settled.positions["S1"], at(text, one)) for one in found] == [
        ("W1.bare", "on", "W1.bare -- W2.white")
    ]
    assert found[0].amps == pytest.approx(0.5, rel=0.02)


def test_where_no_join_mixes_them_it_is_at_the_first_that_the_ground_is_in() -> None:
    """A blue wire brings the neutral to the grounds, in the panel."""
    text = changed(
        own("ground-as-neutral", "blue-on-the-ground-bar"),
        ("R1 is duplex-receptacle", "L1 is lampholder 60 W in B\nR1 is duplex-receptacle"),
        ("  H -- R1.hot\n", "  H -- R1.hot -- pigtail -- L1.hot\n"),
        ("  N -- R1.neutral\n", "  N -- G -- R1.neutral -- pigtail -- L1.neutral\n"),
        ("  G -- R1.ground\n", "  R1.ground -- L1.ground\n"),
    )
    stray = next(one for one in seen(RULE, text) if isinstance(one, CurrentOnGround))
    assert at(text, stray) == "N -- G -- R1.neutral -- pigtail -- L1.neutral"


def test_it_is_at_the_join_that_mixes_them_and_not_at_the_first_ground() -> None:
    text = changed(
        LIGHT,
        ("  W2.white -- L1.neutral\n", "  cap W2.white\n"),
        ("W2.bare -- L1.ground", "W2.bare -- L1.neutral"),
    )
    (stray,) = [one for one in seen(RULE, text) if isinstance(one, CurrentOnGround)]
    assert at(text, stray) == "W2.bare -- L1.neutral"
    # A mistake in the panel, without current, is another one.
    more = "box D device 20.3 cu in\ncable W8 14/2 NM-B 9 ft from LP to D\n"
    ends = "at D\n  cap W8.black\n  cap W8.white\n  cap W8.bare\nat LP\n  cap W8.black\n  cap W8.bare\n"
    both = (
        changed(text, ("S1 is", f"{more}S1 is"), ("W1.bare -- LP.ground", "W1.bare -- W8.white -- LP.ground"))
        + ends
    )
    (stray,) = [one for one in seen(RULE, both) if isinstance(one, CurrentOnGround)]
    assert at(both, stray) == "W2.bare -- L1.neutral"


def test_what_brings_a_hot_to_the_ground_is_to_blame_for_its_current_too() -> None:
    """The way back of a lamp that stands between two hots of 240 V is a ground: no neutral is near."""
    text = changed(
        LIGHT,
        ("  W2.white -- L1.neutral\n", "  W2.black -- L1.neutral\n"),
        ("  W2.black -- L1.hot\n", "  W2.white -- L1.hot\n"),
    )
    text = changed(
        text,
        ("  W2.black -- S1.load\n", "  W2.white -- S1.load\n"),
        ("  W1.white -- W2.white\n", "  cap W1.white\n"),
        ("W1.bare -- W2.bare", "W2.black -- W1.bare -- W2.bare"),
    )
    (stray,) = [one for one in seen(RULE, text) if isinstance(one, CurrentOnGround)]
    assert at(text, stray) == "W2.black -- W1.bare -- W2.bare -- pigtail -- S1.ground"


def test_the_ground_that_carries_the_most_is_named() -> None:
    """Beyond the join the current takes the shorter way."""
    text = changed(
        WRONG,
        (
            "cable W1 14/2 NM-B 11 ft from LP to B\n",
            "cable W1 14/2 NM-B 11 ft from LP to B\nwire G 10 THHN green 9 ft from LP to B\n",
        ),
        ("  W1.bare -- LP.ground\n", "  W1.bare -- LP.ground\n  G -- LP.ground\n"),
        ("  W1.bare -- L1.ground", "  W1.bare -- G -- L1.ground"),
    )
    stray = next(one for one in seen(RULE, text) if isinstance(one, CurrentOnGround))
    assert stray.conductor.name == "G"


def test_a_state_in_which_something_opened_is_passed_over() -> None:
    """The bare wire carries a short's current only until the breaker opens."""
    text = changed(
        WRONG,
        ("  W1.black -- L1.hot\n", "  W1.black -- W1.bare -- L1.hot\n"),
        ("W1.white -- W1.bare -- L1.neutral", "W1.white -- L1.neutral"),
    )
    assert not [one for one in seen(RULE, text) if isinstance(one, CurrentOnGround)]


def test_a_bare_wire_that_serves_as_a_hot_is_reported_as_that() -> None:
    text = changed(
        LIGHT,
        ("  W2.black -- S1.load\n", "  W2.bare -- S1.load\n  cap W2.black\n"),
        ("W1.bare -- W2.bare", "W1.bare"),
        ("  W2.black -- L1.hot\n", "  W2.bare -- L1.hot\n  cap W2.black\n"),
        ("  W2.bare -- L1.ground\n", ""),
    )
    (stray,) = seen(RULE, text)
    assert isinstance(stray, CurrentOnGround)
    assert "ground-as-neutral" not in reported(text)
    assert "conductor-color" in reported(text)
    live = changed(text, ("W2.bare -- L1.hot", "W2.bare -- L1.hot -- L1.ground"))
    assert "ground-as-neutral" not in reported(live)
    assert "energized-metal" in reported(live)


def test_a_neutral_on_the_ground_bar_will_carry_current() -> None:
    (found,) = seen(RULE, BAR)
    assert isinstance(found, NeutralJoinedToGround)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "R1.neutral")
    assert at(BAR, found) == "W1.white -- LP.ground"
    assert found.copper == {case(BAR).uses.piece["LP.ground"]}
    jumper = own("ground-as-neutral", "bonded-at-the-receptacle")
    (found,) = seen(RULE, jumper)
    assert at(jumper, found) == "W1.bare -- R1.ground -- R1.neutral"


def test_a_neutral_that_comes_to_the_ground_bar_in_another_color() -> None:
    text = own("ground-as-neutral", "blue-on-the-ground-bar")
    (found,) = seen(RULE, text)
    assert isinstance(found, NeutralOnGround)
    assert (found.severity, found.stage, found.subject, found.neutral_too) == (
        "hazard",
        "trim",
        "R1.neutral",
        False,
    )
    assert at(text, found) == "N -- R1.neutral"
    both = own("ground-as-neutral", "blue-and-red-on-both-bars")
    (found,) = seen(RULE, both)
    assert found.neutral_too


def test_a_neutral_that_is_hot_or_nowhere_is_no_matter_of_the_ground() -> None:
    assert not seen(RULE, changed(BAR, ("  W1.white -- LP.ground\n", "  cap W1.white\n")))
    assert not seen(
        RULE,
        changed(
            BAR,
            ("  W1.white -- LP.ground\n", "  W1.white -- LP.3\n"),
            ("  W1.black -- LP.3\n", "  cap W1.black\n"),
        ),
    )
    shorted = changed(
        BAR,
        ("W1.black -- R1.hot", "W1.black -- W1.white -- R1.hot"),
        ("  W1.white -- R1.neutral\n", "  W1.bare -- R1.neutral\n"),
        ("  W1.bare -- R1.ground\n", ""),
    )
    # That is a short.
    assert not seen(RULE, shorted)


GFCI = """\
board "Behind a ground-fault breaker"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A gfci
box B device 20.3 cu in
cable W1 14/2 NM-B 11 ft from LP to B
R1 is duplex-receptacle 15 A in B
at LP
  W1.black -- LP.3
  W1.white -- LP.3.neutral
  W1.bare -- LP.ground
at B
  W1.black -- R1.hot
  W1.white -- R1.neutral -- R1.ground
  cap W1.bare
"""


def test_the_screw_of_a_device_is_named_before_that_of_a_breaker() -> None:
    text = changed(GFCI, ("R1.ground\n  cap W1.bare", "W1.bare -- R1.ground"))
    (found,) = [one for one in seen(RULE, text) if isinstance(one, NeutralJoinedToGround)]
    assert found.terminal.name == "R1.neutral"
    alone = changed(
        GFCI, ("  W1.white -- R1.neutral -- R1.ground\n  cap W1.bare\n", "  W1.white -- W1.bare\n")
    )
    (found,) = [one for one in seen(RULE, alone) if isinstance(one, NeutralJoinedToGround)]
    assert found.terminal.name == "LP.3.neutral"


def test_what_lies_behind_a_ground_fault_device_comes_back_to_the_same_join() -> None:
    text = changed(
        own("ground-as-neutral", "neutral-on-the-ground-bar"),
        ("duplex-receptacle 15 A", "gfci-receptacle"),
        ("R1.hot", "R1.line-hot"),
        ("R1.neutral", "R1.line-neutral"),
    )
    assert {type(one) for one in seen(RULE, text)} == {NeutralJoinedToGround, NeutralOnGround}
    assert reported(text).count("ground-as-neutral") == 1


def test_a_ground_on_the_neutral_bar() -> None:
    text = own("ground-as-neutral", "ground-on-the-neutral-bar")
    (found,) = seen(RULE, text)
    assert isinstance(found, GroundOnNeutral)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "R1.ground")
    assert at(text, found) == "W1.bare -- LP.neutral"
    assert [one.name for one in found.found] == ["R1.ground", "W1.bare"]
    assert found.copper == {case(text).uses.piece["LP.neutral"]}
    # The open ground is the same mistake.
    assert reported(text) == ["ground-as-neutral"]


def test_where_white_and_bare_are_swapped_that_is_one_mistake() -> None:
    text = changed(BAR, ("W1.bare -- LP.ground", "W1.bare -- LP.neutral"))
    assert {type(one) for one in seen(RULE, text)} == {NeutralJoinedToGround, GroundOnNeutral}
    assert reported(text).count("ground-as-neutral") == 1
    ends = changed(
        WRONG,
        ("  W1.white -- W1.bare -- L1.neutral", "  W1.bare -- L1.neutral"),
        ("  W1.bare -- L1.ground", "  W1.white -- L1.ground"),
    )
    assert {type(one) for one in seen(RULE, ends)} == {
        CurrentOnGround,
        NeutralJoinedToGround,
        GroundOnNeutral,
    }
    assert reported(ends).count("ground-as-neutral") == 1


def test_two_mistakes_in_two_places_are_two() -> None:
    """One box has its neutral on the ground, another its ground on the neutral."""
    more = (
        "box D device 20.3 cu in\ncable W8 14/2 NM-B 9 ft from LP to D\nR8 is duplex-receptacle 15 A in D\n"
    )
    text = changed(BAR, ("cable W1", f"{more}cable W1")) + (
        "at D\n  W8.black -- R8.hot\n  W8.white -- R8.ground -- R8.neutral\n  cap W8.bare\n"
        "at LP\n  W8.black -- LP.3\n  W8.white -- LP.neutral\n  cap W8.bare\n"
    )
    assert reported(text).count("ground-as-neutral") == 2


def test_a_ground_that_a_blue_wire_brings_to_the_neutral_bar_is_at_its_screw() -> None:
    text = changed(
        own("ground-as-neutral", "blue-on-the-ground-bar"),
        ("  N -- LP.ground\n", "  N -- LP.neutral\n"),
        ("  N -- R1.neutral\n", ""),
        ("  G -- R1.ground\n", "  N -- R1.ground\n  cap G\n"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, GroundOnNeutral)
    assert at(text, found) == "N -- R1.ground"
    wire = changed(text, ("  N -- R1.ground\n  cap G\n", "  N -- G\n"), ("  G -- LP.ground\n", "  cap G\n"))
    (found,) = seen(RULE, wire)
    assert at(wire, found).startswith("wire G")


def test_a_ground_on_the_neutral_bar_whose_box_has_another_on_the_ground_bar() -> None:
    text = own("ground-as-neutral", "ground-on-both-bars")
    (found,) = seen(RULE, text)
    assert isinstance(found, GroundAtNeutralBar)
    assert (found.conductor.name, found.bar.name) == ("W1.bare", "LP.neutral")
    assert at(text, found).startswith("W1.bare -- LP.neutral")
    assert reported(text) == ["ground-as-neutral"]
    assert not seen(RULE, changed(text, ("W1.bare -- LP.neutral", "W1.bare -- LP.ground")))


def test_a_bare_wire_that_joins_no_metal_makes_none_live() -> None:
    text = (files.folder("boards") / "old-dryer-outlet" / "wrong-hot-on-the-neutral-screw.wire").read_text(
        "utf-8"
    )
    assert [one.message for one in said(RULE, text)] == [
        "W1.bare is on the neutral, not on the ground: current comes back over it, and people take it for "
        "a ground."
    ]


def test_a_green_wire_that_carries_a_call_and_touches_no_metal_is_no_ground() -> None:
    """Bare, or with the ground of a box on it, it is one."""
    path = Path(__file__).parents[1] / "boards" / "right" / "kit-and-float-in-single-wires.wire"
    text = path.read_text("utf-8")
    assert seen(RULE, text) == []
    (one,) = seen(RULE, changed(text, ("wire SG 18 THHN green", "wire SG 18 THHN bare")))
    assert isinstance(one, CurrentOnGround) and one.conductor.name == "SG"
