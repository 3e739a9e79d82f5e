"""A time limit that ends what something else should have ended."""

from __future__ import annotations

from tests.rules.hands import at, case, changed, reported, said, seen
from wirecheck import files
from wirecheck.rules.ends_by_time import RULE

BOARDS = files.folder("boards")
RIGHT = (BOARDS / "rules" / "ends-by-time" / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "rules" / "ends-by-time" / "wrong.wire").read_text(encoding="utf-8")
FREEZER = (BOARDS / "walk-in-freezer" / "right.wire").read_text(encoding="utf-8")


def test_a_termination_that_is_fed_only_while_it_cools_ends_no_defrost() -> None:
    (problem,) = seen(RULE, WRONG)
    assert (problem.call, problem.control, problem.stands) == ("defrost", "TT", "warm")
    assert (problem.by_time.after, problem.move.target) == (1800, "ended")
    assert at(WRONG, problem).startswith("TT is")
    (finding,) = said(RULE, WRONG)
    assert finding.message == (
        "With defrost called, TT goes to warm and nothing answers: TM.clock goes to ended only after its "
        "time limit, 30 min."
    )


def test_of_two_that_get_warm_the_one_whose_wire_should_end_it_is_told() -> None:
    """The fan's delay warms up too, and as late; it has no wire to the clock."""
    delayed = changed(
        WRONG,
        ("EF is fan-motor", "FD is termination-thermostat in CP\nEF is fan-motor"),
        ("  EF.a -- pigtail -- TM.cool", "  FD.cold-side -- EF.a\n  FD.common -- pigtail -- TM.cool"),
        ("TT senses HT\n", "TT senses HT\nFD senses HT\n"),
    )
    (problem,) = seen(RULE, delayed)
    assert (problem.control, problem.stands) == ("TT", "warm")
    assert at(delayed, problem).startswith("TT is")
    # Of a wire that leads to neither the last to move is told.
    (problem,) = seen(RULE, changed(delayed, ("  TT.warm-side -- TM.release\n", "")))
    assert problem.control == "FD"


def test_one_that_answers_ends_it_before_the_limit() -> None:
    assert seen(RULE, RIGHT) == [] and seen(RULE, FREEZER) == []
    assert case(RIGHT).played(["defrost"]).rest.positions["TM.clock"] == "ended"


def test_the_limit_may_be_shorter_than_the_coil_takes() -> None:
    """At 20 min the coil of 25 min is still cold: the fail-safe does what it is for."""
    slow = changed(
        RIGHT,
        ("TM is defrost-timer", "TM is defrost-timer with fail-safe 20 min"),
        ("TT is termination-thermostat", "TT is termination-thermostat with warms-in 25 min"),
    )
    assert seen(RULE, slow) == []


def test_what_moves_nothing_shows_nothing() -> None:
    assert seen(RULE, changed(WRONG, ("TT senses HT\n", ""))) == []


def test_a_short_limit_is_told_in_seconds() -> None:
    clock = files.part_text("defrost-timer") or ""
    quick = changed(
        WRONG,
        ("TM is defrost-timer", "TM is quick-clock"),
        ("termination-thermostat", "termination-thermostat with warms-in 30 s"),
    )
    part = changed(
        clock,
        ("part defrost-timer", "part quick-clock"),
        ("rating fail-safe 30 min or 20 min or 45 min", "rating fail-safe 90 s"),
    )
    board = case(quick, **{"quick-clock": part})
    (problem,) = RULE.find(board)
    assert "its time limit, 90 s." in RULE.finding(problem, board).message


def test_a_release_without_power_is_said_where_its_path_stops() -> None:
    off = changed(WRONG, ("  TT.warm-side -- TM.release\n", ""))
    assert reported(off) == ["dead-outlet"]
