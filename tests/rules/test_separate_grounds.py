"""Grounds in a box that are not joined to each other; NEC 2023 250.148."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, changed, seen
from wirecheck.rules.separate_grounds import RULE

TWO = """\
board "Two circuits"
panel LP 120/240 V
box A device 34 cu in 2-gang
cable W1 14/2 NM-B 11 ft from LP to A
cable W2 14/2 NM-B 12 ft from LP to A
R1 is duplex-receptacle 15 A in A
R2 is duplex-receptacle 15 A in A
at LP
  W1.bare -- LP.ground
  W2.bare -- LP.ground
at A
  W1.bare -- R1.ground
  W2.bare -- R2.ground
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_it_is_found_at_the_second_one() -> None:
    (found,) = seen(RULE, TWO)
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "A")
    assert TWO.splitlines()[found.at.span.line - 1] == "  W2.bare -- R2.ground"
    lines = [TWO.splitlines()[made.span.line - 1].strip() for _, made in found.parts]
    assert lines == ["W1.bare -- R1.ground", "W2.bare -- R2.ground"]


@pytest.mark.parametrize(("hot", "count"), [("  W2.black -- R2.hot\n", 1), ("  cap W2.black\n", 0)])
def test_one_is_capped_whose_cable_is_used_or_is_a_spare(hot: str, count: int) -> None:
    """A spare cable waits with all its wires capped; the ground of one in use belongs to the others."""
    text = changed(TWO, ("  W2.bare -- R2.ground\n", "  cap W2.bare\n" + hot))
    found = seen(RULE, text)
    assert len(found) == count
    for one in found:
        assert text.splitlines()[one.at.span.line - 1] == "  cap W2.bare"


def test_joined_they_are_one() -> None:
    text = changed(
        TWO,
        (
            "  W1.bare -- R1.ground\n",
            "  W1.bare -- W2.bare -- pigtail -- R1.ground -- pigtail -- R2.ground\n",
        ),
        ("  W2.bare -- R2.ground\n", ""),
    )
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # Open in the box, or open at the panel: it is no ground then, and other rules say so.
        ("  W2.bare -- R2.ground\n", ""),
        ("  W2.bare -- R2.ground\n", "  cap W2.bare\n"),
        ("  W2.bare -- LP.ground\n", ""),
    ],
)
def test_a_ground_that_is_open_is_another_matter(old: str, new: str) -> None:
    assert not seen(RULE, changed(TWO, (old, new)))


def test_neutrals_may_be_apart() -> None:
    text = TWO.replace("bare", "white").replace(".ground", ".neutral")
    assert not seen(RULE, text)


def test_what_comes_to_a_device_or_a_panel_is_not_in_a_box() -> None:
    text = changed(TWO, ("box A device 34 cu in 2-gang\n", "")).replace(" to A\n", " to D\n")
    text = text.replace("R1 is duplex-receptacle 15 A in A\nR2 is duplex-receptacle 15 A in A\n",
                        "D is disconnect-2-pole 30 A\n").replace("at A", "at D")  # fmt: skip
    text = text.replace("W1.bare -- R1.ground\n", "W1.bare -- D.ground\n").replace(
        "W2.bare -- R2.ground", "W2.black -- D.line-1"
    )
    assert not seen(RULE, text)


def test_a_jumper_within_the_box_joins_what_is_at_its_ends() -> None:
    """250.148 asks that they be joined within the box: a wire from one to the other does that."""
    text = changed(
        TWO,
        ("at LP\n", "wire G 14 THHN green 1 ft from A to A\nat LP\n"),
        ("  W1.bare -- R1.ground\n", "  W1.bare -- G -- pigtail -- R1.ground\n"),
        ("  W2.bare -- R2.ground\n", "  W2.bare -- pigtail -- R2.ground\n  G -- pigtail\n"),
    )
    assert len(seen(RULE, text)) == 1
    joined = changed(
        text, ("W2.bare -- pigtail -- R2.ground\n  G -- pigtail\n", "W2.bare -- G -- pigtail -- R2.ground\n")
    )
    assert not seen(RULE, joined)
