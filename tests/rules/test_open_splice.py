"""What the rough-in owes in splices, and what may wait for the trim."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import COOLING, LIGHT, LOOP, STAIR, changed, flawed, seen
from wirecheck.rules.open_splice import RULE, OpenGrounds, OpenNeutrals

# The same house in its rough-in: splices made, and every wire of a device waiting.
ROUGH = changed(
    LIGHT,
    ("  W1.black -- S1.line\n  W2.black -- S1.load\n", ""),
    ("pigtail -- S1.ground", "pigtail"),
    ("  W2.black -- L1.hot\n  W2.white -- L1.neutral\n  W2.bare -- L1.ground\n", "  cap W2.white\n"),
)
GROUNDS = "  W1.bare -- W2.bare -- pigtail\n"
NEUTRALS = "  W1.white -- W2.white\n"


@pytest.mark.parametrize("text", [ROUGH, LIGHT, STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("made", "loose"),
    [
        ("", ["W1.bare", "W2.bare"]),
        ("  cap W1.bare\n", ["W2.bare"]),
        ("  W1.bare -- S1.ground\n", ["W2.bare"]),
        # A cap on each is no splice: who caps all wires has made up nothing.
        ("  cap W1.bare\n  cap W2.bare\n", ["W1.bare", "W2.bare"]),
    ],
)
def test_grounds_that_are_not_all_joined(made: str, loose: list[str]) -> None:
    """NEC 2023 250.148."""
    (found,) = seen(RULE, changed(ROUGH, (GROUNDS, made)))
    assert type(found) is OpenGrounds
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", loose[0])
    assert found.box.name == "A"
    assert [one.name for one, _ in found.loose] == loose
    assert [one.name for one, _ in found.whole] == ["W1.bare", "W2.bare"]
    assert found.at.span.line == (6 if loose[0] == "W1.bare" else 7)
    assert len(found.copper) == len(loose)


def test_a_spare_is_capped_beside_a_ground_that_is_joined() -> None:
    assert not seen(RULE, changed(ROUGH, (GROUNDS, "  W1.bare -- S1.ground\n  cap W2.bare\n")))


def test_the_only_ground_of_a_box_waits_for_its_device() -> None:
    assert "W2.bare -- L1" not in ROUGH
    assert not seen(RULE, ROUGH)


def test_at_the_panel_grounds_are_not_spliced() -> None:
    """They go to the bar, each by itself, and that is no matter of the rough-in."""
    assert not seen(RULE, changed(ROUGH, ("  W1.bare -- LP.ground\n", "")))


def test_thermostat_wires_have_no_grounds() -> None:
    text = changed(
        COOLING,
        ("F is", "box A device 20.3 cu in\nF is"),
        (
            "cable OW 18/2 CL2 55 ft from F to CU",
            "cable OW 18/5 CL2 55 ft from A to CU\ncable XW 18/5 CL2 5 ft from F to A",
        ),
        ("  TW.yellow -- OW.red -- F.Y\n", "  TW.yellow -- F.Y\n"),
        ("  TW.blue -- OW.white -- F.C\n", "  TW.blue -- F.C\n"),
    )
    assert not seen(RULE, text)


def test_a_neutral_that_does_not_go_through() -> None:
    (found,) = seen(RULE, changed(ROUGH, (NEUTRALS, "")))
    assert type(found) is OpenNeutrals
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "W1.white")
    assert [(one.name, which) for one, which in found.loose] == [("W1.white", 1), ("W2.white", 0)]
    assert found.whole == found.loose
    assert found.at.span.line == 6


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # A device that takes a neutral, here or yet to come; no device in yet.
        ("S1 is single-pole-switch in A", "S1 is duplex-receptacle in A"),
        ("S1 is single-pole-switch in A", "S1 is single-pole-switch in A\nR1 is duplex-receptacle in A"),
        ("S1 is single-pole-switch in A\n", ""),
        # Not fed yet, or nothing beyond it.
        ("  W1.white -- LP.neutral\n", ""),
        ("  cap W2.white\n", ""),
        # Capped for now.
        ("at A\n", "at A\n  cap W1.white\n"),
    ],
)
def test_neutrals_that_may_wait(old: str, new: str) -> None:
    assert not seen(RULE, changed(ROUGH, (NEUTRALS, ""), (old, new)))


def test_nothing_in_a_junction_box_takes_a_neutral() -> None:
    text = changed(ROUGH, (NEUTRALS, ""), ("S1 is single-pole-switch in A\n", ""), ("A device", "A junction"))
    (found,) = seen(RULE, text)
    assert type(found) is OpenNeutrals


def test_a_device_that_is_named_and_not_in_yet_may_take_the_neutral() -> None:
    text = changed(ROUGH, (NEUTRALS, "  W1.white -- R1.neutral\n"))
    assert not list(RULE.find(flawed(text)))
    junction = changed(text, ("S1 is single-pole-switch in A\n", ""), ("A device", "A junction"))
    assert list(RULE.find(flawed(junction)))


def told(text: str, stage: wirecheck.Stage = "rough-in") -> set[str]:
    return {each.rule for each in wirecheck.check(text, stage=stage).findings if each.severity != "advice"}


def test_a_line_that_could_not_be_read_may_be_the_one_that_joins_it() -> None:
    assert told(changed(ROUGH, (GROUNDS, ""))) == {"open-splice"}
    assert told(changed(ROUGH, (GROUNDS, "  W1.bare -- W2.baer -- pigtail\n"))) == {"unknown-name"}
    assert told(changed(ROUGH, (GROUNDS, ""), ("12 ft from A", "12 from A"))) == {"syntax"}


def test_later_stages_ask_another_rule() -> None:
    text = changed(ROUGH, (GROUNDS, ""))
    assert "open-splice" not in told(text, "trim") | told(text, "final")
