"""Parts that the library does not have."""

from __future__ import annotations

from tests.rules.hands import LOOP, changed, flawed, seen
from wirecheck.rules.unknown_part import RULE


def test_a_right_board_has_parts_of_the_library() -> None:
    assert not seen(RULE, LOOP)


def test_a_device_without_its_part() -> None:
    (found,) = RULE.find(flawed(changed(LOOP, ("is lampholder", "is lampholdr"))))
    assert (found.severity, found.stage, found.subject) == ("fault", "rough-in", "line 9")


def test_names_and_lines_are_not_its_matter() -> None:
    text = changed(LOOP, ("11 ft from", "11 from"), ("W2.black -- S1.load", "W2.black -- S1.lode"))
    assert not list(RULE.find(flawed(text)))
