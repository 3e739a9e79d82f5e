"""Switches in the neutral, and those that may be there."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, LIGHT, LOOP, STAIR, changed, reported, seen
from tests.samples import board
from wirecheck.judge.case import Case
from wirecheck.rules.switched_neutral import RULE

WIRES = "  W1.black -- S1.line\n  W2.black -- S1.load\n  W1.white -- W2.white\n"
NEUTRAL = changed(LIGHT, (WIRES, "  W1.white -- S1.line\n  W2.white -- S1.load\n  W1.black -- W2.black\n"))
TWO_POLES = changed(
    LIGHT,
    ("S1 is single-pole-switch", "S1 is double-pole-switch"),
    (WIRES, "  W1.black -- S1.line-1\n  W2.black -- S1.load-1\n"
            "  W1.white -- S1.line-2\n  W2.white -- S1.load-2\n"),
)  # fmt: skip


@pytest.mark.parametrize("text", [STAIR, LOOP, CHAIN, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_switch_in_the_white_wire() -> None:
    """NEC 2023 404.2(B)."""
    (found,) = seen(RULE, NEUTRAL)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "S1")
    assert (found.near, found.far, [load.name for load in found.loads]) == ("S1.line", "S1.load", ["L1"])
    assert NEUTRAL.splitlines()[found.at.span.line - 1] == "  W1.white -- S1.line"
    assert len(found.copper) == 2
    assert reported(NEUTRAL) == ["switched-neutral"]


def test_what_is_no_switch_is_passed_over() -> None:
    text = changed(NEUTRAL, ("S1 is", "TH is line-voltage-thermostat in A\nS1 is"))
    assert [found.subject for found in seen(RULE, text)] == ["S1"]


def test_a_light_on_the_whole_neutral_is_not_behind_the_switch() -> None:
    text = changed(
        NEUTRAL,
        ("  W1.white -- S1.line\n", "  W1.white -- pigtail -- L2.neutral -- pigtail -- S1.line\n"),
        ("  W1.black -- W2.black\n", "  W1.black -- W2.black -- pigtail -- L2.hot\n"),
        ("S1 is", "L2 is lampholder 60 W in A\nS1 is"),
    )
    (found,) = seen(RULE, text)
    assert [load.name for load in found.loads] == ["L1"]


def test_a_light_without_a_hot_is_not_live() -> None:
    assert not seen(RULE, changed(NEUTRAL, ("W2.black -- L1.hot", "cap W2.black")))


def test_either_screw_may_be_the_one_at_the_neutral() -> None:
    turned = NEUTRAL.replace("S1.line", "S1.x").replace("S1.load", "S1.line").replace("S1.x", "S1.load")
    (found,) = seen(RULE, turned)
    assert (found.near, found.far) == ("S1.load", "S1.line")


def test_two_switches_in_one_neutral_name_what_is_behind_each() -> None:
    text = changed(
        NEUTRAL,
        ("  W1.black -- W2.black\n", "  W1.black -- W2.black -- W3.black\n  W3.white -- S2.load\n"),
        ("  W1.white -- S1.line\n", "  W1.white -- pigtail -- S1.line -- pigtail -- S2.line\n"),
        ("S1 is", "box C octagon 15.5 cu in\ncable W3 14/2 NM-B 4 ft from A to C\n"
                  "S2 is single-pole-switch in A\nL2 is lampholder 60 W in C\nS1 is"),
    ) + "at C\n  W3.black -- L2.hot\n  W3.white -- L2.neutral\n"  # fmt: skip
    assert [(one.subject, [load.name for load in one.loads]) for one in seen(RULE, text)] == [
        ("S2", ["L2"]),
        ("S1", ["L1"]),
    ]


def test_three_way_switches_in_the_neutral_are_one_problem_each() -> None:
    """Only the one that the neutral comes to: the other gets it through a switch."""
    text = changed(
        STAIR,
        ("  W1.black -- S1.common\n", "  W1.white -- S1.common\n"),
        ("  W1.white -- W2.white\n", "  W1.black -- W2.white\n"),
        ("  W3.black -- S2.common\n", "  W3.white -- S2.common\n"),
        ("  W2.white -- W3.white\n", "  W2.white -- W3.black\n"),
    )
    (found,) = seen(RULE, text)
    assert (found.subject, found.near, [load.name for load in found.loads]) == ("S1", "S1.common", ["L1"])


def test_a_two_pole_switch_may_open_both() -> None:
    """NEC 2023 404.2(B), exception: all conductors at once."""
    assert not seen(RULE, TWO_POLES)


def test_two_poles_that_do_not_open_together_may_not() -> None:
    part = (
        'part crossed-switch "Two poles, each closed while the other is open"\nsource "a test"\n'
        "terminal line-1 hot\nterminal load-1 switched\nterminal line-2 hot\nterminal load-2 switched\n"
        "terminal ground ground\npositions on, off\nline-1 -- load-1 when on\nline-2 -- load-2 when off\n"
    )
    text = TWO_POLES.replace("double-pole-switch", "crossed-switch")
    made = board(text, {"crossed-switch": part})
    assert not made.problems
    assert [found.subject for found in RULE.find(Case(made))] == ["S1"]


def test_a_switch_in_a_neutral_that_nothing_uses_is_none() -> None:
    text = changed(
        NEUTRAL, ("  W2.black -- L1.hot\n  W2.white -- L1.neutral\n", "  cap W2.black\n  cap W2.white\n")
    )
    assert not seen(RULE, text)


def test_a_control_circuit_may_switch_its_common() -> None:
    """24 V: no hand is hurt there."""
    text = changed(
        NEUTRAL,
        ("L1 is lampholder 60 W in B", "L1 is bell in B"),
    )
    part = (
        'part bell "A bell of a low voltage"\nsource "a test"\nterminal hot hot\nterminal neutral neutral\n'
        "terminal ground ground\nload bell lamp from hot to neutral, 5 W at {volts} V\n"
    )
    for volts, told in ((49, 0), (50, 1)):
        made = board(text, {"bell": part.format(volts=volts)})
        assert not made.problems
        assert len(list(RULE.find(Case(made)))) == told


def test_what_follows_from_swapped_wires_is_reported_there() -> None:
    text = changed(
        LIGHT,
        ("  W1.black -- LP.3\n  W1.white -- LP.neutral\n", "  W1.white -- LP.3\n  W1.black -- LP.neutral\n"),
    )
    assert [one.subject for one in seen(RULE, text)] == ["S1"]
    assert reported(text) == ["reversed-polarity"]


def test_beside_a_reversed_light_a_right_one_is_still_told_of() -> None:
    """One of two lights is swapped: the switch opens the neutral of the other all the same."""
    text = changed(
        NEUTRAL,
        ("  W2.black -- L1.hot\n  W2.white -- L1.neutral\n",
         "  W2.black -- W3.black -- pigtail -- L1.hot\n  W2.white -- W3.white -- pigtail -- L1.neutral\n"),
        ("S1 is", "box C octagon 15.5 cu in\ncable W3 14/2 NM-B 4 ft from B to C\n"
                  "L2 is lampholder 60 W in C\nS1 is"),
    ) + "at C\n  W3.white -- L2.hot\n  W3.black -- L2.neutral\n  W3.bare -- L2.ground\n"  # fmt: skip
    (found,) = seen(RULE, text)
    assert [load.name for load in found.loads] == ["L2", "L1"]
    assert {"reversed-polarity", "switched-neutral"} <= set(reported(text))
