"""How many wires a screw holds, and which line put one too many there."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, changed, seen
from wirecheck.rules.terminal_crowding import RULE


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# NEC 2023 110.14(A): one conductor a screw unless marked for more.
@pytest.mark.parametrize(
    ("old", "new", "screw", "purposes"),
    [
        (
            "W1.bare -- W2.bare -- pigtail -- S1.ground",
            "W1.bare -- W2.bare -- S1.ground",
            "S1.ground",
            "ground",
        ),
        ("  W1.white -- W2.white\n", "  W1.white -- W2.white -- S1.common\n", "S1.common", "hot neutral"),
        ("  W2.red -- S1.traveler-2\n", "  W2.red -- S1.traveler-1\n", "S1.traveler-1", "hot"),
        ("  W3.bare -- L1.ground\n", "  W3.bare -- L1.neutral\n", "L1.neutral", "ground neutral"),
    ],
)
def test_two_wires_under_one_screw(old: str, new: str, screw: str, purposes: str) -> None:
    text = changed(STAIR, (old, new))
    (found,) = [one for one in seen(RULE, text) if one.subject == screw]
    assert (found.terminal.spec.holds, found.severity, found.stage) == (1, "violation", "trim")
    assert found.purposes == set(purposes.split())
    assert screw in text.splitlines()[found.at.span.line - 1]


def test_bars_give_each_join_a_screw_of_its_own() -> None:
    """NEC 2023 408.41: one neutral a screw; grounds as the bar's own marking allows, two here."""
    more = "cable W8 14/2 NM-B 9 ft from LP to B\n"
    each = more + "at LP\n  W8.white -- LP.neutral\n  W8.bare -- LP.ground\n"
    assert not seen(RULE, STAIR + each)
    both = changed(
        STAIR,
        ("  W1.white -- LP.neutral\n", "  W1.white -- W8.white -- LP.neutral\n"),
        ("  W1.bare -- LP.ground\n", "  W1.bare -- W8.bare -- LP.ground\n"),
    )
    (found,) = seen(RULE, both + more)
    assert found.subject == "LP.neutral"
    assert len(found.under) == 2
