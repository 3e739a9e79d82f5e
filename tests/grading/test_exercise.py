"""What an exercise says, and every mistake in one."""

import pytest

from tests.grading.classroom import ANSWERS, answer, exercise_file
from tests.grading.stair import scores, sheet, stair
from wirecheck import shipped_parts
from wirecheck.grading.exercise import NotAnExercise, exercise
from wirecheck.language.reader import read

HEAD = 'exercise "Shed"\nstage final 40 points\n'


def problems(text):
    with pytest.raises(NotAnExercise) as caught:
        exercise(text, "-", shipped_parts())
    return [(one.span.line, one.message) for one in caught.value.problems]


def test_it_says_what_is_handed_out_asked_and_worth():
    given = stair()
    assert given.title == "Stair light from two landings"
    assert [(one.stage, one.points) for one in given.stages] == [
        ("rough-in", 30),
        ("trim", 30),
        ("final", 40),
    ]
    assert (given.prices["hazard"], given.prices["box-fill"], given.shown) == (None, 3, "as questions")
    assert [(one.text, one.costs.points) for one in given.asked] == [("expect L1 from S1, S2", 20)]
    assert len(given.handed_out) == 12


def test_how_a_call_ends_is_asked_and_not_handed_out():
    given = exercise(f"{HEAD}expect end of cool stops LLS, then COMP costs 5 points\nexpect cool runs COMP")
    assert [one.text for one in given.asked] == [
        "expect end of cool stops LLS, then COMP",
        "expect cool runs COMP",
    ]
    assert given.handed_out == ()


@pytest.mark.parametrize(
    ("lines", "line", "said"),
    [
        ("stage finnal 40 points", 3, "finnal is no stage."),
        ("stage final 30 points", 3, "final has its points already."),
        ("stage trim 0 points", 3, "A stage that is worth nothing cannot be graded."),
        ("box-fil costs 3 points", 3, "box-fil is no severity and no rule."),
        ("a hazard costs 3 points\na hazard costs the stage", 4, "What hazard costs is said already."),
        ('exercise "Barn"', 3, "An exercise has one title, and this is a second one."),
        ('student "Ana"', 3, "This belongs in a student's work, and this file is an exercise."),
        ("S1 is singel-pole-switch", 3, "There is no part called singel-pole-switch in the library."),
        ("expect L1 live", 3, "The outlet L1 is not on this board."),
        ("a hazard costs 0.3 points", 3, "0.3 points are not given"),
        ("a hazard costs 5 A", 3, 'the line ends too soon: expected "points"'),
        ("stage trim 2000 points", 3, "2000 points are not given"),
        ("positions on, off", 3, "This belongs in the file of a part, and this file describes a board."),
    ],
)
def test_each_mistake_is_said_with_its_line(lines, line, said):
    found = problems(HEAD + lines)
    assert any(at == line and message.startswith(said[:20]) for at, message in found), found


def test_all_of_its_mistakes_are_said_in_one_run():
    assert [
        line for line, _ in problems(HEAD + "stage finnal 3 points\nbox A octagn\nbox-fil costs 3 points")
    ] == [
        3,
        4,
        5,
    ]


@pytest.mark.parametrize("text", ["", 'board "Shed"', "hello"])
def test_what_is_none_is_said_to_be_none(text):
    with pytest.raises(NotAnExercise, match="no exercise is begun in it"):
        exercise(text)


def test_without_a_stage_nothing_can_be_graded():
    assert problems('exercise "Shed"') == [(1, "The exercise has no stage that is worth points.")]


@pytest.mark.parametrize("name", ANSWERS)
def test_the_right_board_of_each_that_ships_has_all_points(name):
    given = exercise(exercise_file(name).read_text("utf-8"), name, shipped_parts())
    done = sheet(answer(name).text(), given, effort=0)
    assert (done.taken, done.score, done.refused) == ((), given.points, "")


def test_what_belongs_to_a_stage_that_is_not_there_counts_at_the_next_or_the_last():
    early = exercise('exercise "Shed"\nstage rough-in 40 points')
    late = exercise('exercise "Shed"\nstage final 40 points')
    assert [early.stage_of[one] for one in ("rough-in", "trim", "final")] == ["rough-in"] * 3
    assert [late.stage_of[one] for one in ("rough-in", "trim", "final")] == ["final"] * 3


def test_a_board_with_the_lines_of_an_exercise_says_so():
    from wirecheck import check

    report = check('board "Shed"\nstage final 3 points\na hazard costs the stage\nshow no mends')
    assert {one.message for one in report.findings} == {
        "This belongs in an exercise, and this file describes a board."
    }


def test_a_price_on_an_expectation_is_left_out_of_what_is_asked():
    given = exercise(HEAD + "panel LP 120 V\nexpect idle runs nothing   costs  the   stage")
    assert [(one.text, one.costs.points) for one in given.asked] == [("expect idle runs nothing", None)]
    assert read(given.asked[0].text).problems == ()


def test_a_work_of_one_stage_is_graded_at_that_stage_alone():
    done = sheet(answer("stair-light").text(), stage="trim", effort=0)
    assert [one.stage for one in done.stages] == ["trim"] and scores(done) == [30]
