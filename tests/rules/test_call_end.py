"""What a call ran stops in its order when the call ends, and for good."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, case, changed, own, reported, said, seen
from wirecheck import files
from wirecheck.rules.call_end import RULE, NeverStops, NotOn, StopsTooSoon

BOARDS = files.folder("boards")
RIGHT = (BOARDS / "rules" / "call-end" / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "rules" / "call-end" / "wrong.wire").read_text(encoding="utf-8")
LINE = "expect end of cool stops LLS, then COMP"


def test_a_compressor_that_stops_with_the_solenoid_stops_too_soon() -> None:
    (problem,) = seen(RULE, WRONG)
    assert isinstance(problem, StopsTooSoon)
    assert (problem.loads[0].name, problem.first.name) == ("COMP", "LLS")
    assert (problem.stops, problem.first_stops) == (0, 0)
    assert at(WRONG, problem).startswith(LINE)


def test_it_may_stop_with_it_where_the_line_does_not_say_then() -> None:
    assert seen(RULE, changed(WRONG, ("stops LLS, then COMP", "stops LLS, COMP"))) == []
    assert seen(RULE, changed(RIGHT, ("stops LLS, then COMP", "stops COMP, LLS"))) == []


def test_all_that_is_named_after_then_waits_for_all_before_it() -> None:
    """The condenser's fan on the solenoid's wire stops with it, while the compressor still pumps down."""
    cooler = (BOARDS / "pump-down-cooler" / "right.wire").read_text(encoding="utf-8")
    fan = changed(
        cooler, ("COMP.a -- CF.a", "COMP.a"), ("  TH.b -- EC.red\n", "  EC.red -- CF.a -- pigtail -- TH.b\n")
    )
    assert [problem.loads[0].name for problem in seen(RULE, fan)] == ["CF"]
    two = changed(fan, ("stops LLS, then COMP, CF", "stops LLS, CF, then COMP"))
    assert seen(RULE, two) == []


def test_a_line_the_wrong_way_round_says_both_times() -> None:
    (problem,) = seen(RULE, own("call-end", "later"))
    assert isinstance(problem, StopsTooSoon)
    assert (problem.loads[0].name, problem.stops, problem.first_stops) == ("LLS", 0, 60)


def test_what_a_jumper_keeps_on_never_stops() -> None:
    (problem,) = seen(RULE, own("call-end", "never"))
    assert isinstance(problem, NeverStops) and [one.name for one in problem.loads] == ["COMP"]
    # Where a line says that nothing runs at rest, that it runs then is the mistake.
    assert reported(own("call-end", "never") + "expect idle runs nothing\n") == [
        "bridged-control",
        "call-crosstalk",
    ]


def test_what_starts_again_and_again_never_stops() -> None:
    """A control that senses its compressor alone closes again by itself, for ever."""
    again = changed(RIGHT, ("LPC senses COMP, LLS", "LPC senses COMP"))
    assert [type(one) for one in seen(RULE, again)] == [NeverStops]


def test_what_does_not_run_has_nothing_to_stop_unless_another_line_asks_for_it() -> None:
    off = own("call-end", "not-on")
    (problem,) = seen(RULE, off)
    assert isinstance(problem, NotOn) and [one.name for one in problem.loads] == ["COMP"]
    assert seen(RULE, f"{off}expect cool runs COMP\n") == []
    assert [type(one) for one in seen(RULE, f"{off}expect cool runs LLS\n")] == [NotOn]
    assert [type(one) for one in seen(RULE, f"{off}expect idle runs COMP\n")] == [NotOn]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (WRONG, "COMP stops in the same moment as LLS. COMP should run on"),
        (own("call-end", "later"), "LLS stops after 0 s, and COMP only after 60 s"),
        (own("call-end", "never"), "When the call for cool ends, COMP never stops"),
        (own("call-end", "not-on"), "COMP does not run: there is nothing to stop"),
    ],
)
def test_it_says_what_is_seen(text: str, words: str) -> None:
    (finding,) = said(RULE, text)
    assert words in finding.message
    assert "!" not in finding.message


def test_a_line_that_costs_too_much_is_not_judged() -> None:
    board = case(WRONG)
    board.circuit.work.most = board.circuit.work.spent + 1
    assert list(RULE.find(board)) == []
    assert list(board.left["line"])
