"""Which contacts can be closed together: of each changeover one throw."""

from __future__ import annotations

import pytest

from tests.rules.hands import STAIR, case
from wirecheck.judge.closed_at_once import MOST, closed_at_once

RELAY = """\
board "Relays"
panel LP 120/240 V
box A square 42 cu in
S1 is single-pole-switch in A
{}
"""


@pytest.mark.parametrize(("relays", "ways"), [(0, 1), (1, 2), (2, 4), (9, MOST)])
def test_each_changeover_stands_one_way_or_the_other(relays: int, ways: int) -> None:
    text = RELAY.format("\n".join(f"K{one} is relay-dpdt in A" for one in range(relays)))
    board = case(text)
    told = list(closed_at_once(board, board.board.devices))
    assert len(set(told)) == len(told) == ways
    # What is asked of one of them alone is told of that one, however many there are.
    assert len(list(closed_at_once(board, {"K0"}))) == min(ways, 2)
    # The switch is in each, and of a relay with two poles both of one throw.
    assert {len(one) for one in told} == {1 + 2 * relays}


def test_a_three_way_switch_is_a_changeover() -> None:
    board = case(STAIR)
    told = list(closed_at_once(board, board.board.devices))
    assert len(told) == 4
    assert {len(one) for one in told} == {2}


def test_a_contact_that_is_always_closed_does_not_bring_both_throws_in() -> None:
    board = case(RELAY.format("OL is overload-relay 19 A in A"))
    for closed in closed_at_once(board, {"OL"}):
        assert not {"OL.95--96", "OL.97--98"} <= closed
