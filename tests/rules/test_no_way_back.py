"""A call that another one leaves undone."""

from __future__ import annotations

from tests.rules.hands import at, case, changed, said, seen
from wirecheck import files
from wirecheck.rules.no_way_back import RULE

BOARDS = files.folder("boards") / "rules" / "no-way-back"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")


def test_cooling_that_waits_for_the_cold_it_brings_never_comes_back() -> None:
    (problem,) = seen(RULE, WRONG)
    assert (problem.call, problem.other) == ("cool", "defrost")
    assert [load.name for load in problem.loads] == ["COMP", "EF"]
    assert problem.stands == (("FD", "warm"), ("DT", "warm"))
    assert at(WRONG, problem).startswith("FD is")
    (finding,) = said(RULE, WRONG)
    assert finding.message == (
        "With cool called, COMP and EF do not run again once defrost has come and gone: FD and DT stay warm."
    )


def test_a_thermostat_that_senses_its_room_has_no_position_to_stay_in() -> None:
    (problem,) = seen(RULE, changed(WRONG, ("FD senses", "TH senses COMP\nFD senses")))
    assert problem.stands == (("FD", "warm"), ("DT", "warm"))


def test_fans_that_wait_for_a_cold_coil_come_back() -> None:
    assert seen(RULE, RIGHT) == []


def test_without_what_it_senses_nothing_is_known_of_it() -> None:
    assert seen(RULE, changed(WRONG, ("FD senses HT, COMP\n", ""), ("DT senses HT, COMP\n", ""))) == []


def test_what_goes_round_and_round_is_not_held_to_its_rest() -> None:
    """Where the fan-delay senses the heater alone, it is cold again by itself."""
    assert seen(RULE, changed(WRONG, ("FD senses HT, COMP\n", "FD senses HT\n"))) == []


def test_calls_that_cost_too_much_are_named_as_not_judged() -> None:
    board = case(WRONG)
    assert board.pairs
    board.played(["cool"])
    board.work.most = board.work.spent + 1
    assert list(RULE.find(board)) == []
    assert set(board.left["calls"]) == {("cool", "defrost"), ("defrost", "cool")}
