"""A defrost clock whose two sides are exchanged: common practice, heaters heat in a defrost alone."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, changed, reported, seen, shipped
from wirecheck import check
from wirecheck.rules.call_ends_heat import RULE

RIGHT, WRONG = (shipped("call-ends-heat", which) for which in ("right", "wrong"))
LINES = "expect defrost runs HT\n"


def test_heaters_on_the_other_side_of_their_clock_are_told_without_a_line() -> None:
    assert not seen(RULE, RIGHT)
    (problem,) = seen(RULE, WRONG)
    assert (problem.subject, problem.call, [one.name for one in problem.heaters]) == ("TM", "defrost", ["HT"])
    assert (problem.severity, problem.stage) == ("fault", "final")
    assert at(WRONG, problem).startswith("TM.cool -- pigtail -- HT.a")
    assert reported(WRONG) == ["call-ends-heat"]


def test_a_line_that_asks_about_the_call_tells_it_itself() -> None:
    assert not seen(RULE, WRONG + LINES)
    assert reported(WRONG + LINES)


def test_a_heater_that_nothing_feels_may_be_on_all_day() -> None:
    """As one of a door's frame, that the clock takes off in a defrost."""
    assert not seen(RULE, changed(WRONG, ("TT senses HT\n", "")))


def test_another_heater_that_comes_on_in_the_call_is_enough() -> None:
    drain = changed(
        WRONG,
        ("HT is heater", "H2 is heater 1200 W with voltage 240 V in CP\nHT is heater"),
        ("  TM.defrost -- EF.a\n", "  TM.defrost -- pigtail -- EF.a -- pigtail -- H2.a\n"),
        ("pigtail -- HT.b\n", "pigtail -- HT.b -- pigtail -- H2.b\n"),
        ("TT senses HT\n", "TT senses HT, H2\n"),
    )
    assert not seen(RULE, drain)


@pytest.mark.slow
def test_the_mend_exchanges_the_two_sides() -> None:
    (told,) = check(WRONG, effort=400).findings
    assert [mend.mistake for mend in told.mends] == [
        "At CP, what is on TM.cool and what is on TM.defrost are swapped."
    ]
