"""What a state is called."""

from __future__ import annotations

from wirecheck.judge.state_name import StateName

SIX = StateName(tuple((f"S{number}", "off") for number in range(1, 7)), ("heat",))


def test_all_that_is_moved_is_named_where_no_number_is_given() -> None:
    assert SIX.words() == "S1 off and S2 off and S3 off and S4 off and S5 off and S6 off and heat called"


def test_of_more_than_that_and_one_the_first_are_named() -> None:
    assert SIX.words(5).startswith("S1 off") and "more" not in SIX.words(5)
    assert SIX.words(4) == "S1 off and S2 off and S3 off and S4 off and 2 more moved and heat called"
    assert StateName().words(2) == "at rest"
