"""Hots on the neutral's side: each line that causes it, once, with every device beyond."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import CHAIN, LIGHT, LOOP, STAIR, at, case, changed, reported, said, seen
from wirecheck import files
from wirecheck.rules.reversed_polarity import RULE, Reversed, SometimesHot

BEFORE = changed(
    CHAIN,
    ("  W1.black -- G1.line-hot\n  W1.white -- G1.line-neutral\n",
     "  W1.white -- G1.line-hot\n  W1.black -- G1.line-neutral\n"),
)  # fmt: skip


def blamed(text: str, found: Reversed) -> str:
    return text.splitlines()[found.at.span.line - 1].strip()


@pytest.mark.parametrize("text", [STAIR, LOOP, CHAIN, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("one", "other", "line"),
    [
        # At the device itself, and at the panel: everything beyond is reversed, and it is one problem.
        ("W2.black -- L1.hot", "W2.white -- L1.neutral", "W2.black -- L1.neutral"),
        ("W1.black -- LP.3", "W1.white -- LP.neutral", "W1.white -- LP.3"),
    ],
)
def test_a_swap_is_one_finding_at_the_line_that_causes_it(one: str, other: str, line: str) -> None:
    """NEC 2023 200.10(C), 200.11."""
    (wire, screw), (second, at) = one.split(" -- "), other.split(" -- ")
    text = changed(LIGHT, (one, f"{second} -- {screw}"), (other, f"{wire} -- {at}"))
    (found,) = seen(RULE, text)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "L1")
    assert blamed(text, found) == line
    assert reported(text) == ["reversed-polarity"]


def test_swapped_before_two_devices_is_one_problem_of_both() -> None:
    (found,) = seen(RULE, BEFORE)
    assert blamed(BEFORE, found) == "W1.black -- G1.line-neutral"
    assert [one.device.name for one in found.reversals] == ["G1", "R1"]


def test_swapped_at_two_devices_is_two_problems() -> None:
    text = changed(
        CHAIN,
        ("  W1.black -- G1.line-hot\n", "  W1.black -- W2.black -- pigtail -- G1.line-neutral\n"),
        ("  W1.white -- G1.line-neutral\n", "  W1.white -- W2.white -- pigtail -- G1.line-hot\n"),
        ("  W2.black -- G1.load-hot\n  W2.white -- G1.load-neutral\n", ""),
        ("W2.black -- R1.hot", "W2.black -- R1.neutral"),
        ("W2.white -- R1.neutral", "W2.white -- R1.hot"),
    )
    assert [found.subject for found in seen(RULE, text)] == ["G1", "R1"]


def test_a_hot_on_both_screws_is_reversed_too() -> None:
    text = changed(
        LIGHT, ("W2.black -- L1.hot", "W2.black -- L1.hot -- L1.neutral"), ("  W2.white -- L1.neutral\n", "")
    )
    (found,) = seen(RULE, text)
    assert found.subject == "L1"
    assert not found.wires


def test_that_it_is_dead_with_a_hot_on_both_is_the_same_mistake() -> None:
    """To join the neutral there as well would make a short."""
    text = changed(
        LIGHT,
        ("W2.black -- L1.hot", "W2.black -- pigtail -- L1.hot -- pigtail -- L1.neutral"),
        ("W2.white -- L1.neutral", "cap W2.white"),
    )
    assert reported(text) == ["reversed-polarity"]
    elsewhere = changed(text, ("S1 is", "R2 is duplex-receptacle 15 A in A\nS1 is"))
    assert sorted(reported(elsewhere)) == ["dead-outlet", "open-ground", "reversed-polarity"]


def test_it_knows_the_copper_of_the_hot_and_the_wires_of_the_neutral() -> None:
    """Beyond where it goes over, a color that says something else is no mistake of its own."""
    (found,) = seen(RULE, BEFORE)
    piece = case(BEFORE).uses.piece
    assert found.copper == {piece[one] for one in ("G1.line-neutral", "G1.load-neutral")}
    assert found.wires >= {"W2.black"}
    assert not found.wires & {"W1.black", "W1.white"}


TRAVELERS = (Path(__file__).parent / "boards" / "reversed-polarity" / "travelers.wire").read_text()


def test_a_shell_that_is_hot_in_some_positions() -> None:
    """Each 3-way picks hot or neutral for one side of the lamp: it lights, and its shell is hot."""
    (one,) = seen(RULE, TRAVELERS)
    assert isinstance(one, SometimesHot)
    assert (one.subject, one.screw.name, one.switches) == ("L1", "L1.neutral", ("S2",))
    assert (one.severity, one.stage, bool(one.copper)) == ("hazard", "trim", True)
    assert at(TRAVELERS, one) == "W3.black -- L1.neutral"


def test_a_shell_that_a_switch_ties_to_the_neutral_alone_is_another_matter() -> None:
    text = changed(
        TRAVELERS,
        ("  W3.red -- S2.traveler-1\n", "  cap W3.red\n"),
        ("  W2.red -- W3.red\n", "  W2.red -- W3.red\n"),
    )
    assert not seen(RULE, text)


def test_a_device_is_told_once() -> None:
    part = (
        'part lamp "Two lamps"\nterminal hot hot\nterminal n1 neutral\nterminal n2 neutral\n'
        "load one lamp from hot to n1, 60 W at 120 V\nload two lamp from hot to n2, 60 W at 120 V\n"
    )
    text = TRAVELERS.replace("L1 is lampholder 60 W", "L1 is lamp").replace(" -- pigtail -- L1.ground", "")
    text = changed(text, ("W3.black -- L1.neutral", "W3.black -- pigtail -- L1.n1 -- pigtail -- L1.n2"))
    assert [one.screw.name for one in RULE.find(case(text, lamp=part))] == ["L1.n1"]


def test_the_frame_of_what_is_plugged_into_three_wires_is_live_at_once() -> None:
    text = (files.folder("boards") / "old-dryer-outlet" / "wrong-hot-on-the-neutral-screw.wire").read_text(
        "utf-8"
    )
    (one,) = said(RULE, text)
    assert one.message.endswith(
        "An outlet of three wires ties that screw to the frame of what is plugged in: the metal of what is "
        "plugged into D1 is live at once."
    )
