"""The states of a board by name, and which state it is in words."""

from __future__ import annotations

from tests.circuit.houses import rooms
from tests.rules.hands import COOLING, STAIR, case
from tests.samples import fed
from wirecheck import files
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


PUMP_DOWN = """board "A compressor on its low-pressure control"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A 2-pole
box A junction 300 cu in
cable W 12/2 NM-B 20 ft from LP to A
C1 is line-contactor in A
LPC is low-pressure-control in A
M1 is compressor with current 9 A in A
at LP
  W.black -- LP.1.a
  W.white -- LP.1.b
at A
  W.black -- C1.line-1 -- LPC.a
  LPC.b -- C1.coil-a
  W.white -- C1.coil-b -- C1.line-2
  C1.load-1 -- M1.a
  C1.load-2 -- M1.b
"""


def test_what_moves_by_itself_is_moved_and_named() -> None:
    board = case(PUMP_DOWN)
    rest, closed = board.states
    assert "M1" not in rest.running and "M1" in closed.running
    assert board.name_of(closed) == StateName((("LPC", "closed"),))
    assert board.when(closed, "M1") == " with LPC closed"
    assert board.most["C1.line-1--load-1"] is closed


def test_what_its_machine_moves_in_a_call_is_not_named() -> None:
    board = case((files.folder("boards") / "walk-in-cooler" / "right.wire").read_text(encoding="utf-8"))
    cooling = board.played(["cool"]).rest
    assert cooling.positions["W.low-pressure"] == "closed"
    assert board.name_of(cooling) == StateName(calls=("cool",))
    alone = [board.name_of(one) for one in board.states if not one.calls]
    assert alone == [StateName(), StateName((("W.low-pressure", "closed"),))]
    # A state that is held there by a hand says nothing of what the machine does.
    board.played(["cool"], {"W.high-pressure": "open"})
    tripped = board.settled({"W.high-pressure": "open"}, ["cool"])
    assert board.name_of(tripped) == StateName((("W.high-pressure", "open"),), ("cool",))


def test_states_in_which_the_same_conducts_are_one() -> None:
    board = case(COOLING)
    steps = [step.settled for call in board.calls for step in board.played([call]).steps]
    assert len(board.states) < len(steps)
    marks = [(one.closed, one.running, one.opened, one.chattering) for one in board.states]
    assert len(set(marks)) == len(marks)
    assert {(one.closed, one.running, one.opened, one.chattering) for one in steps} <= set(marks)


def test_what_is_shorted_is_not_tried_further() -> None:
    text = PUMP_DOWN.replace("  LPC.b -- C1.coil-a\n", "  LPC.b -- C1.coil-a\n  W.white -- W.black\n")
    board = case(text)
    assert all(one.opened for one in board.states) and len(board.states) == 1
