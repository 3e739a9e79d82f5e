"""Ties between handles that no listed tie joins (common practice: it lies over handles side by side)."""

from __future__ import annotations

import pytest

from tests.rules.hands import seen
from wirecheck import check, files
from wirecheck.rules.handle_tie import RULE

LINES = """board "Handles"
panel LP 120/240 V, 10 kA available
"""


@pytest.mark.parametrize(
    ("breakers", "found"),
    [
        (("1", "3 tied to 1"), 0),
        (("3", "1 tied to 3"), 0),
        (("2", "4 tied to 2"), 0),
        (("5A", "5B tied to 5A"), 0),
        (("5", "7A tied to 5"), 0),
        # One tie over three handles, whichever line says it.
        (("1", "3 tied to 1", "5 tied to 3"), 0),
        (("1", "3 tied to 1", "5 tied to 1"), 0),
        (("1", "5 tied to 1"), 1),
        (("1", "3", "5 tied to 1"), 1),
        (("1", "2 tied to 1"), 1),
        (("1", "7 tied to 1"), 1),
        (("4", "1 tied to 4"), 1),
    ],
)
def test_a_tie_reaches_the_next_handle_alone(breakers: tuple[str, ...], found: int) -> None:
    text = LINES
    for one in breakers:
        space, *tie = one.split(" tied to ")
        text += f"breaker LP.{space} 15 A" + (f" tied to LP.{tie[0]}" if tie else "") + "\n"
    assert len(seen(RULE, text)) == found


def test_a_tie_to_another_panel_is_none() -> None:
    text = LINES + "subpanel SP 120/240 V\nbreaker LP.1 15 A\nbreaker SP.1 15 A tied to LP.1\n"
    (one,) = seen(RULE, text)
    assert (one.breaker.name, one.other.name) == ("SP.1", "LP.1")


@pytest.mark.parametrize(
    ("tie", "says"),
    [("LP.9", "The breaker LP.9 is not on this board."), ("LP.3", "LP.3 can't be tied to itself.")],
)
def test_a_tie_to_nothing_or_to_itself(tie: str, says: str) -> None:
    found = check(f"{LINES}breaker LP.1 15 A\nbreaker LP.3 15 A tied to {tie}\n").findings
    assert [one.message for one in found] == [says]


def test_the_mend_is_the_space_beside_with_the_wires_of_the_breaker() -> None:
    (one,) = check(files.rule_board("handle-tie", "wrong"), effort=100).findings
    (mend,) = one.mends
    assert mend.mistake == "Breaker LP.5 should be in space 3, beside LP.1."
    assert sorted(edit.text.strip() for edit in mend.edits) == [
        "W2.black -- LP.3",
        "breaker LP.3 15 A tied to LP.1",
    ]


def test_either_of_the_two_may_go_to_the_other() -> None:
    """No leg is wrong: the breaker that the other's line names is in the wrong space as well."""
    text = files.rule_board("handle-tie", "wrong")
    filled = text.replace("breaker LP.2 15 A", "breaker LP.3 15 A")
    (one,) = check(filled, effort=100).findings
    assert one.mends[0].mistake == "Breaker LP.1 should be in space 7, beside LP.5."
