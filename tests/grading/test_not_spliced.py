"""A rough-in earns nothing for splices that are not there, whatever stages are graded with it.

Worked out by hand: the exercise has 30 points for the rough-in; a splice that is not made is a violation, 5.
"""

from __future__ import annotations

import re

import pytest

from tests.grading.stair import RIGHT, scores, sheet, with_changes

HEAD = RIGHT[: RIGHT.index("at TP")]
ONE_JOIN = f"{HEAD}at TP\n  W1.black -- TP.1\n"
# The two boxes have a splice each, of grounds; in the first, one of the neutrals too.
FOOT = "at FOOT\n  W1.bare -- W2.bare -- pigtail\n  W1.white -- W2.white\n"
AT_HEAD = "at HEAD\n  W2.bare -- W3.bare -- pigtail\n  W2.white -- W3.white\n"


@pytest.mark.parametrize("stage", [None, "rough-in"])
def test_one_join_has_nothing_of_the_rough_in(stage) -> None:
    done = sheet(ONE_JOIN, stage=stage, effort=0)
    assert scores(done)[0] == 0 and done.score == 0
    assert done.taken[0].message == "What belongs in one splice in FOOT and HEAD is not spliced yet."


@pytest.mark.slow
@pytest.mark.parametrize("stage", [None, "rough-in"])
@pytest.mark.parametrize(
    ("joined", "left"),
    [
        (FOOT + AT_HEAD, 30),
        (FOOT, 25),
        (AT_HEAD, 25),
        # A black on a black is no splice that the rough-in asks for.
        ("at FOOT\n  W1.black -- W2.black\nat HEAD\n  W2.red -- W3.black\n", 0),
        (f"{FOOT}at HEAD\n  W2.red -- W3.black\n", 25),
    ],
)
def test_each_box_without_a_splice_costs_what_it_does_in_the_rough_in_alone(joined, left, stage) -> None:
    assert scores(sheet(ONE_JOIN + joined, stage=stage, effort=0))[0] == left


@pytest.mark.slow
def test_a_splice_that_cannot_be_read_is_not_missing_as_well() -> None:
    done = sheet(ONE_JOIN + FOOT + AT_HEAD.replace("W3.", "W3,"), effort=0)
    assert not any("one splice" in one.message for one in done.taken)


@pytest.mark.slow
def test_one_mistake_in_a_splice_costs_once() -> None:
    right = re.findall(r"^  (?:W\d\.\w+ -- ){2}.*$|^  W\d\.bare -- W\d\.bare.*$", RIGHT, re.M)
    assert right
    for line in right:
        first, _, rest = line.strip().partition(" -- ")
        done = sheet(with_changes((line, f"  {rest}")), effort=0)
        assert scores(done)[0] == 30, (first, done.taken)
    assert scores(sheet(RIGHT)) == [30, 30, 40]
