"""The file that a student begins with."""

import pytest

from tests.grading.classroom import ANSWERS, answer, exercise_file
from tests.grading.stair import TEXT, sheet, stair
from wirecheck import files, shipped_parts
from wirecheck.grading.exercise import exercise
from wirecheck.grading.starting import not_said, starting
from wirecheck.language.reader import read
from wirecheck.language.tidy import file_tidied

LIBRARY = shipped_parts()


def begun(name):
    given = exercise(exercise_file(name).read_text("utf-8"), name, LIBRARY)
    return given, starting(given, LIBRARY)


@pytest.mark.parametrize("name", ANSWERS)
def test_it_reads_and_holds_all_that_is_handed_out(name):
    given, text = begun(name)
    assert read(text).problems == () and file_tidied(text)
    for statement in given.handed_out:
        assert given.line(statement) in text
    # Its comments tell of them; no statement does.
    statements = [line.partition("#")[0] for line in text.split("\n")]
    assert not any("costs" in line or "stage" in line for line in statements)
    assert all(asked.text in text for asked in given.asked)


@pytest.mark.parametrize("name", ANSWERS)
def test_as_it_is_it_has_nothing(name):
    given, text = begun(name)
    done = sheet(text, given, effort=0)
    assert (done.score, done.refused) == (0, "Nothing is joined in it yet.")


@pytest.mark.parametrize("name", ANSWERS)
def test_with_the_joins_of_the_right_board_it_has_all_points(name):
    given, text = begun(name)
    right = (files.folder("boards") / ANSWERS[name] / "right.wire").read_text("utf-8")
    made_up = right[right.index("\nat ") : right.index("\nexpect ")]
    if name == "kitchen-multiwire":
        made_up = f"\nbreaker TP.13 20 A\nbreaker TP.15 20 A tied to TP.13\n{made_up}"
    done = sheet(text + made_up, given, effort=0)
    # Without the measures of the cables' ends they are not judged, and nothing is taken for them.
    assert (done.score, done.taken) == (given.points, ())


def test_each_place_lists_what_there_is_to_join():
    text = starting(stair(), LIBRARY)
    at = text[text.index("at FOOT") :].split("\n")
    assert at[1] == "  # wires: W1.black, W1.white, W1.bare, W2.black, W2.red, W2.white and W2.bare"
    assert at[2] == "  # screws: S1.common, S1.traveler-1, S1.traveler-2 and S1.ground"


def test_a_place_that_is_made_up_already_lists_only_what_is_left():
    given = stair(TEXT + "\nat TP\n  W1.black -- TP.1  # done for you\n  W1.white -- TP.neutral\n")
    text = starting(given, LIBRARY)
    at = text[text.index("at TP") :].split("\n")
    assert at[1] == "  W1.black -- TP.1  # done for you"
    assert at[3:5] == ["  # wires: W1.bare", "  # screws: TP.ground"]
    assert text.count("at TP") == 1


def test_what_is_made_up_already_is_put_back():
    given = stair(TEXT + "\nat TP\n  W1.black -- TP.1\n  W1.white -- TP.neutral\n  W1.bare -- TP.ground\n")
    right = answer("stair-light").text()
    assert sheet(right, given, effort=0).score == 100
    without = right.replace("  W1.white -- TP.neutral\n", "")
    done = sheet(without, given, effort=0)
    assert [one.message for one in done.taken] == [
        "W1.white -- TP.neutral was handed out, and is not in the work. It is judged with it."
    ]


def test_what_costs_a_whole_stage_is_said_to_the_instructor_where_the_file_does_not_say_it():
    bare = TEXT.replace(" A hazard costs the stage.", "")
    given = stair(bare.replace("costs 20 points", "costs the stage"))
    said = not_said(given, starting(given, LIBRARY))
    assert "a hazard and expect L1 from S1, S2. The file does not say so." in said
    assert not_said(stair(), starting(stair(), LIBRARY)) == ""
    mild = stair(bare.replace("a hazard costs the stage", "a hazard costs 15 points"))
    assert not_said(mild, starting(mild, LIBRARY)) == ""
