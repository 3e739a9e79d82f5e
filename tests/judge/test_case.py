"""The states of a board by name, and which state it is in words."""

from __future__ import annotations

from tests.circuit.houses import rooms
from tests.rules.hands import COOLING, STAIR, case
from tests.samples import fed
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName

OUTLET = (
    "box A device 40 cu in",
    "box B device 20.3 cu in",
    "cable W1 12/2 NM-B 20 ft from LP to A",
    "cable W2 12/2 NM-B 20 ft from A to B",
    "S1 is single-pole-switch in A",
    "R1 is duplex-receptacle in B",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "at A",
    "W1.black -- S1.line",
    "W2.black -- S1.load",
    "W1.white -- W2.white",
    "at B",
    "W2.black -- R1.hot",
    "W2.white -- R1.neutral",
)


def test_every_position_and_every_call_has_a_name_and_its_state() -> None:
    board = case(STAIR)
    states = board.named_states()
    assert set(states) == {
        StateName(),
        StateName((("S1", "down"),)),
        StateName((("S2", "down"),)),
        StateName((("S1", "down"), ("S2", "down"))),
    }
    for name, settled in states.items():
        assert board.name_of(settled) == name
        lit = "L1" in settled.running
        assert lit == (len(name.moved) != 1)
    called = case(COOLING).named_states()
    assert called[StateName(calls=("cool",))].calls == {"cool"}
    assert "CU.compressor" in called[StateName(calls=("cool",))].running


def test_of_a_large_board_the_positions_are_those_of_the_survey(monkeypatch) -> None:
    board = case(STAIR)
    (group,) = (one for one in board.groups if one.switches)
    alone = board.exact_rows(group)
    assert [row.moved for row in alone] == [row.moved for row in board.rows(group)]
    large = case(STAIR)
    monkeypatch.setitem(large.__dict__, "one_by_one", False)
    assert large.exact_rows(group) == large.rows(group)


def test_only_switches_that_it_feels_are_named() -> None:
    board = Case(case(rooms(2)).board)
    both = board.settled(
        {
            name: values.values[-1]
            for name, values in board.circuit.variables.items()
            if values.moved_by == "hand"
        }
    )
    every = board.name_of(both)
    assert len(every.moved) == 2
    for load in board.circuit.loads:
        (felt,) = board.name_of(both, load.name).moved
        assert felt in every.moved
        assert board.when(both, load.name) == f" with {felt[0]} {felt[1]}"


def test_an_outlet_feels_its_own_switch() -> None:
    board = case(
        fed(
            *OUTLET[:-1],
            OUTLET[-1],
            "box C device 20.3 cu in",
            "S2 is single-pole-switch in C",
            "cable W3 12/2 NM-B 20 ft from A to C",
            "box D octagon 15.5 cu in",
            "L1 is lampholder 60 W in D",
            "cable W4 12/2 NM-B 20 ft from C to D",
            "at C",
            "W3.black -- S2.line",
            "W4.black -- S2.load",
            "W3.white -- W4.white",
            "at D",
            "W4.black -- L1.hot",
            "W4.white -- L1.neutral",
        )
    )
    moved = {name: one.values[-1] for name, one in board.circuit.variables.items() if one.moved_by == "hand"}
    both = board.settled(moved)
    assert [name for name, _ in board.name_of(both, "R1.top").moved] == ["S1"]
    assert [name for name, _ in board.name_of(both, "R1").moved] == ["S1"]
    assert [name for name, _ in board.name_of(both, "W4.black").moved] == ["S2"]
    assert [name for name, _ in board.name_of(both, "R1.hot", "W4.black").moved] == ["S1", "S2"]
