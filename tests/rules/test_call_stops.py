"""A call that should stop something, and leaves it running."""

from __future__ import annotations

from tests.rules.hands import at, case, changed, said, seen
from wirecheck import files
from wirecheck.rules.call_stops import RULE

BOARDS = files.folder("boards")
RIGHT = (BOARDS / "rules" / "call-stops" / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "rules" / "call-stops" / "wrong.wire").read_text(encoding="utf-8")
COOLER = (BOARDS / "pump-down-cooler" / "right.wire").read_text(encoding="utf-8")


def test_a_fan_that_is_fed_past_the_clock_runs_on() -> None:
    (problem,) = seen(RULE, WRONG)
    assert [load.name for load in problem.loads] == ["EF"] and problem.other == ""
    assert at(WRONG, problem).startswith("W1.black -- EF.a")
    (finding,) = said(RULE, WRONG)
    assert finding.message == "With defrost called EF runs on, and should stop."


def test_a_fan_that_comes_back_when_the_defrost_has_ended_has_stopped() -> None:
    """The clock's cooling contact closes again, though its tripper still calls."""
    played = case(RIGHT).played(["defrost"])
    assert "EF" in played.rest.running and "HT" not in played.rest.running
    assert seen(RULE, RIGHT) == []


def test_what_stops_only_together_with_the_heaters_has_run_through_the_defrost() -> None:
    """Behind the cold side it stops when the coil is warm: then the heaters stop too."""
    late = changed(
        WRONG,
        ("W1.black -- EF.a -- pigtail", "W1.black -- pigtail"),
        ("  TM.defrost -- HT.a\n", "  TM.defrost -- HT.a\n  TT.cold-side -- EF.a\n"),
    )
    assert [one.loads[0].name for one in seen(RULE, late)] == ["EF"]


def test_what_runs_in_another_call_is_asked_there() -> None:
    """With cooling called and then a defrost, the solenoid must close."""
    clock = changed(
        COOLER,
        ("TH is cooling-thermostat in CP\n", "TH is cooling-thermostat in CP\nTM is defrost-timer in CP\n"),
        ("pigtail -- TH.a -- pigtail -- HP.a", "pigtail -- TM.feed -- pigtail -- HP.a"),
        ("  TH.b -- EC.red\n", "  TM.cool -- TH.a\n  TH.b -- EC.red\n"),
        ("pigtail -- K.coil-b\n", "pigtail -- K.coil-b -- pigtail -- TM.common\n"),
        ("expect idle", "expect defrost stops LLS, COMP\nexpect idle"),
    )
    assert seen(RULE, clock) == []
    past = changed(
        clock,
        ("  TM.cool -- TH.a\n", ""),
        ("pigtail -- TM.feed --", "pigtail -- TH.a -- pigtail -- TM.feed --"),
    )
    (problem,) = seen(RULE, past)
    assert ([load.name for load in problem.loads], problem.other) == (["LLS", "COMP"], "cool")
    (finding,) = said(RULE, past)
    assert finding.message.startswith("With defrost called, after cool, LLS and COMP run on")


def test_what_never_runs_is_not_what_the_call_leaves_on() -> None:
    assert seen(RULE, changed(WRONG, ("W1.black -- EF.a -- pigtail", "W1.black -- pigtail"))) == []


def test_a_safety_is_not_asked_here() -> None:
    assert seen(RULE, COOLER) == []


def test_a_line_that_costs_too_much_is_not_judged() -> None:
    board = case(WRONG)
    board.circuit.work.most = board.circuit.work.spent + 1
    assert list(RULE.find(board)) == []
    assert list(board.left["line"])
