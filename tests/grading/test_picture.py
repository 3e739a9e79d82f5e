"""The picture on a sheet tells no more than the sheet does."""

import pytest

from tests.grading.stair import RIGHT, TEXT, stair, with_changes
from wirecheck import shipped_parts
from wirecheck.grading.judging import Judging
from wirecheck.grading.pages import student_page
from wirecheck.grading.scoring import graded

SWAPPED = with_changes(
    ("W3.black -- L1.hot", "W3.black -- L1.neutral"), ("W3.white -- L1.neutral", "W3.white -- L1.hot")
)


@pytest.mark.parametrize("shown", ["as questions", "in full", "not"])
def test_flags_tell_what_the_exercise_lets_them(shown):
    judging = Judging(shipped_parts(), None, 100, shown, {}, {})
    words = {
        "as questions": "show mends as questions",
        "in full": "show mends in full",
        "not": "show no mends",
    }
    given = stair(TEXT.replace("show mends as questions", words[shown]))
    done = graded(given, SWAPPED, "a.wire", "Ana", judging)
    assert 'id="finding-1"' in done.picture.whole and done.sheet.taken[0].flag == 1
    # Neither the mend, nor the lines of a text that is not hers.
    assert "swapped" not in done.picture.whole and "line 1" not in done.picture.whole
    page = student_page(done.sheet, done.picture)
    assert ("swapped" in page) == (shown == "in full")
    assert "flag 1" in page


def test_a_right_board_has_no_flag():
    done = graded(stair(), RIGHT, "a.wire", "Ana", Judging(shipped_parts(), None, 0, "as questions", {}, {}))
    assert done.picture.whole and "finding-1" not in done.picture.whole
