"""What a class did, from its sheets."""

import csv
import io
import json
import statistics

import pytest

from tests.cli.boards import wirecheck
from tests.grading.classroom import ANSWERS, answer, exercise_file, works
from tests.grading.stair import sheet, stair, with_changes
from wirecheck.grading.whole_class import whole_class
from wirecheck.rules import manuals

RIGHT = answer("stair-light").text()
SWAPPED = (
    ("W1.black -- S1.common", "W1.black -- S1.traveler-1"),
    ("W2.black -- S1.traveler-1", "W2.black -- S1.common"),
)


def named(text, who, effort=400):
    return sheet(text.replace("code nec", f'student "{who}"\ncode nec'), effort=effort)


def test_mistakes_are_counted_with_whose_they_are():
    wrong = with_changes(*SWAPPED, text=RIGHT)
    done = whole_class(stair(), [named(RIGHT, "Ada"), named(wrong, "Ben"), named(wrong, "Cleo")], manuals())
    assert (done.mean, done.median) == (pytest.approx(260 / 3), 80)
    (common,) = done.common
    assert (common.students, common.points) == (("Ben", "Cleo"), 40)
    assert common.mistake == "At FOOT, W1.black and W2.black are swapped."
    (lesson,) = done.lessons
    assert (lesson.rule, lesson.students) == ("switching", ("Ben", "Cleo"))
    assert [(one.stage, round(one.mean, 1), one.full) for one in done.stages] == [
        ("rough-in", 30, 3),
        ("trim", 30, 3),
        ("final", 26.7, 1),
    ]


def test_near_copies_are_named_with_what_they_share():
    noted = with_changes(*SWAPPED, ("at FOOT", "at FOOT  # my own words"), text=RIGHT)
    other = noted.replace("  W1.white -- W2.white", "  W2.white  --  W1.white")
    done = whole_class(stair(), [named(RIGHT, "Ada"), named(noted, "Ben"), named(other, "Cleo")], {})
    (alike,) = done.alike
    assert alike.students == ("Ben", "Cleo")
    assert alike.shared == (
        "the mistake: At FOOT, W1.black and W2.black are swapped.",
        "the comments: my own words",
    )


def test_right_works_are_alike_and_that_is_no_matter():
    done = whole_class(stair(), [named(RIGHT, "Ada", 0), named(RIGHT, "Ben", 0)], {})
    assert done.alike == ()


def test_copies_are_known_under_other_names():
    """Of what a student adds herself the names are her own."""
    spare = "cable {0} 14/2 NM-B 5 ft from TP to FOOT\ncable W2"
    joins = "at TP\n  cap {0}.black\n  cap {0}.white\n  {0}.bare -- TP.ground\n\nat FOOT\n  cap {0}.black"
    more = ("at TP\n", joins + "\n  cap {0}.white\n  cap {0}.bare\n\nat TP\n")
    text = with_changes(("cable W2", spare), more, text=RIGHT)
    one, other = (named(text.replace("{0}", name), who, 0) for name, who in (("X1", "Ada"), ("MINE", "Ben")))
    assert one.trace.same == other.trace.same
    assert (one.trace.names, other.trace.names) == (("X1",), ("MINE",))
    assert one.trace.same != named(text.replace("{0}", "X1").replace("5 ft", "6 ft"), "Ada", 0).trace.same


@pytest.mark.slow
@pytest.mark.parametrize("name", ANSWERS)
def test_a_class_of_each_exercise_is_graded_by_one_command(name, tmp_path):
    folder = tmp_path / "works"
    folder.mkdir()
    for file, text in works(name, 30, seed=5):
        (folder / file).write_text(text, encoding="utf-8")
    common = ("grade", exercise_file(name), folder, "--pages", tmp_path / "pages")
    done = wirecheck(*common, "-f", "json", timeout=300)
    assert (done.returncode, done.stderr) == (0, b"")
    marks = json.loads(done.stdout)
    scores = [one["score"] for one in marks["works"]]
    assert len(scores) == 30 and 8 <= sum(bool(one["taken"]) for one in marks["works"]) <= 22
    assert marks["class"]["mean"] == pytest.approx(statistics.fmean(scores))
    assert sum(marks["class"]["bins"]) == 30
    for one in marks["works"]:
        for stage in one["stages"]:
            taken = sum(each["points"] for each in one["taken"] if each["stage"] == stage["stage"])
            assert stage["score"] + taken == stage["points"]
    assert len(list((tmp_path / "pages").glob("0*.html"))) == 30
    page = (tmp_path / "pages" / "class.html").read_text("utf-8")
    assert all(one["student"] in page for one in marks["works"])
    rows = list(csv.DictReader(io.StringIO(wirecheck(*common[:3], "-f", "csv", timeout=300).stdout.decode())))
    assert [float(one["score"]) for one in rows] == scores
