"""What of the text could not be made out, and what could and is still worth knowing."""

from __future__ import annotations

import pytest

from tests.rules.hands import LOOP, changed, flawed, seen
from wirecheck.rules.syntax import RULE, Remark, Unreadable


def test_a_right_board_is_read() -> None:
    assert not seen(RULE, LOOP)


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("W1 14/2 NM-B 11 ft", "W1 14/2 NM-B 11", 6),
        ("box A device", "box A devise", 4),
        ("S1 is single-pole-switch", "W1 is single-pole-switch", 6),
    ],
)
def test_a_line_that_cannot_be_so_is_a_fault_of_every_stage(old: str, new: str, line: int) -> None:
    found = list(RULE.find(flawed(changed(LOOP, (old, new)))))
    (one,) = [one for one in found if one.at.span.line == line]
    assert type(one) is Unreadable
    assert (one.severity, one.stage, one.subject) == ("fault", "rough-in", f"line {line}")


def test_names_that_name_nothing_are_not_its_matter() -> None:
    assert not list(RULE.find(flawed(changed(LOOP, ("W2.black -- S1.load", "W2.black -- S1.lode")))))


def test_another_edition_is_worth_a_word() -> None:
    text = changed(LOOP, ("panel LP", "code nec 2014\npanel LP"))
    (one,) = RULE.find(flawed(text))
    assert type(one) is Remark
    assert (one.severity, one.stage, one.subject) == ("advice", "rough-in", "line 2")
