"""Two hots on a receptacle with its tab, and what becomes of them."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, HALVES, LIGHT, changed, reported, seen
from wirecheck.rules.tab_in_place import RULE

LEGS = changed(
    HALVES,
    ("LP.3 15 A", "LP.3 15 A 2-pole"),
    ("W1 14/2", "W1 14/3"),
    ("  W1.black -- LP.3\n", "  W1.black -- LP.3.a\n  W1.red -- LP.3.b\n"),
    ("  W1.black -- W2.black -- pigtail -- S1.line\n", "  W1.black -- W2.black\n"),
    ("  W2.red -- S1.load\n", "  W1.red -- W2.red\n"),
)


@pytest.mark.parametrize("text", [LIGHT, CHAIN])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(("text", "severity", "legs"), [(HALVES, "fault", "b"), (LEGS, "hazard", "ab")])
def test_two_hots_of_one_leg_or_of_two(text: str, severity: str, legs: str) -> None:
    """NEC 2023 210.7: a yoke with two circuits."""
    (found,) = seen(RULE, text)
    assert (found.severity, found.stage, found.subject) == (severity, "trim", "R1")
    assert found.terminal.name == "R1.hot"
    assert [feed.wire.name for feed in found.feeds] == ["W2.black", "W2.red"]
    assert {leg.name for leg in found.legs} == {f"LP.leg-{leg}" for leg in legs}
    assert text.splitlines()[found.at.span.line - 1].strip() == "W2.red -- R1.hot"


def test_one_mistake_is_reported_once() -> None:
    """Two wires under the screw of a tab are not a crowded screw as well."""
    assert reported(HALVES) == ["tab-in-place"]


def test_the_short_between_two_legs_is_the_same_mistake() -> None:
    assert reported(LEGS) == ["tab-in-place"]
    short = changed(
        LEGS,
        ("  W1.white -- W2.white\n", "  W1.white -- W2.white -- pigtail -- S1.load -- S1.line\n"),
        ("  W1.black -- W2.black\n", "  W1.black -- W2.black -- pigtail -- S1.line\n"),
    )
    assert set(reported(short)) >= {"tab-in-place", "short-circuit"}


def test_a_crowded_screw_elsewhere_is_reported_too() -> None:
    text = changed(HALVES, ("  W1.bare -- W2.bare -- pigtail", "  W1.bare -- W2.bare"))
    assert sorted(reported(text)) == ["tab-in-place", "terminal-crowding"]
