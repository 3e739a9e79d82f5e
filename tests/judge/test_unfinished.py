"""What is not judged when a board's work ends, whenever that is: it is named."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from tests.samples import board
from wirecheck import files
from wirecheck.circuit.work import Work, WorkEnds
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.judge.unfinished import unfinished
from wirecheck.language.syntax import Span
from wirecheck.model.board import Board
from wirecheck.report.report import Report
from wirecheck.report.verdict import clean, not_judged

HEAT_PUMP = (files.folder("boards") / "heat-pump" / "right.wire").read_text(encoding="utf-8")
OUTDOOR = (files.folder("boards") / "heat-pump" / "wrong-outdoor-common-left-off.wire").read_text(
    encoding="utf-8"
)


@cache
def made(text: str) -> Board:
    return board(text)


@cache
def whole(text: str) -> set[tuple[str, Span]]:
    """What is found where the work lasts."""
    return {(one.rule, one.span) for one in findings(Case(made(text)))}


def judged(text: str, steps: int) -> tuple[Case, Report]:
    """A board judged with so many steps of work."""
    case = Case(made(text), Work(steps))
    return case, Report("-", "", text, findings(case), (), not case.whole, unfinished=unfinished(case, text))


def test_all_is_judged_where_the_work_lasts() -> None:
    case, told = judged(HEAT_PUMP, 400_000)
    assert case.all_left() == {} and told.unfinished == ()
    assert clean(told) == "No problem found."


def test_lines_calls_and_rules_are_named() -> None:
    _, told = judged(HEAT_PUMP, 1_500)
    assert clean(told) == "No problem found in what was judged."
    said = not_judged(told)
    assert "The board takes more work than is spent on one. Divide it into several." in said
    assert "Not judged: expect " in said
    assert "Not played to the end: " in said


def test_what_is_dead_is_found_where_the_work_ends_before_its_reason_is() -> None:
    found = [judged(OUTDOOR, steps)[1].findings for steps in (10_000, 100_000)]
    cut, whole = ([one.message for one in told if one.rule == "call-continuity"] for told in found)
    assert any("too much work to find where the path" in message for message in cut)
    assert any("goes no further" in message for message in whole)


@settings(max_examples=8)
@given(some.sampled_from([HEAT_PUMP, OUTDOOR]), some.integers(0, 60_000))
def test_whenever_the_work_ends_what_is_left_is_said(text: str, steps: int) -> None:
    case, told = judged(text, steps)
    assert case.work.spent <= 1.5 * steps + 5_000
    if {(one.rule, one.span) for one in told.findings} != whole(text):
        assert told.unfinished or told.sampled
        assert not_judged(told)


def test_a_share_ends_sooner_and_leaves_the_rest() -> None:
    work = Work(1_000)
    with pytest.raises(WorkEnds), work.share(0.25):
        work.spend(251)
    work.spend(700)
    assert not work.over
    with pytest.raises(WorkEnds):
        work.spend(50)
    assert work.over


def test_what_a_share_ended_in_is_begun_again_with_more_room_and_not_before() -> None:
    """To say why, little may be spent: whether it is so is judged all the same."""
    case = Case(made(HEAT_PUMP), Work(200_000))
    for room in (400, 700):
        spent = case.work.spent
        with pytest.raises(WorkEnds), case.work.share(room / 200_000):
            case.played(["heat"])
    # 700 steps are not twice 400: nothing is tried with them.
    assert case.work.spent == spent
    assert case.played(["heat"]).rest.running
