"""Names that name nothing, and names of what may still come."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import LOOP, changed, flawed, seen
from wirecheck.rules.unknown_name import RULE


def test_a_right_board_names_only_what_is_there() -> None:
    assert not seen(RULE, LOOP)


@pytest.mark.parametrize(
    ("new", "stage"),
    [
        # A wire that is not there, a screw that a device does not have, a screw in another box.
        ("W2.red -- S1.load", "rough-in"),
        ("W2.black -- S1.lode", "rough-in"),
        ("W2.black -- L1.hot", "rough-in"),
        # A device that the trim may bring.
        ("W2.black -- S2.load", "trim"),
    ],
)
def test_a_name_is_unknown_from_the_stage_that_brings_it(new: str, stage: str) -> None:
    text = changed(LOOP, ("W2.black -- S1.load", new))
    (found,) = RULE.find(flawed(text))
    assert (found.severity, found.stage, found.subject) == ("fault", stage, "line 21")
    told = [one.rule for one in wirecheck.check(text, stage="rough-in").findings]
    assert ("unknown-name" in told) is (stage == "rough-in")


def test_what_cannot_be_read_is_not_its_matter() -> None:
    assert not list(RULE.find(flawed(changed(LOOP, ("11 ft from", "11 from")))))
