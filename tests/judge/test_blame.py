"""Which join on a way is to blame, found by eye on small boards."""

from __future__ import annotations

from tests.rules.hands import COOLING, LIGHT, STAIR, case, changed
from tests.samples import fed
from wirecheck.judge import blame, ways
from wirecheck.judge.case import Case
from wirecheck.judge.ways import Way
from wirecheck.model.board import Join


def made(join: Join | None) -> list[str]:
    """What is joined, by name."""
    return [] if join is None else [member.name for member in join.members]


def to(board: Case, origin: str, *targets: str) -> Way:
    """The way from one point to another, whatever is open on it."""
    way = ways.way(board, [origin], targets)
    assert way is not None
    return way


def test_the_first_join_of_two_kinds_is_at_fault() -> None:
    board = case(
        changed(LIGHT, ("W1.white -- W2.white", "W1.white -- W2.black"), ("  W2.black -- S1.load\n", ""))
    )
    way = to(board, "LP.neutral", "L1.hot")
    assert made(blame.at_fault(way.joins, board.board)) == ["W1.white", "W2.black"]
    assert made(blame.culprit(way, board.board)) == ["W1.white", "W2.black"]


def test_where_all_belongs_together_the_last_join_is_at_fault() -> None:
    board = case(LIGHT)
    assert made(blame.at_fault(to(board, "LP.3", "L1.hot").joins, board.board)) == ["W2.black", "L1.hot"]
    assert blame.at_fault((), board.board) is None


TWO_HOTS = (
    "breaker LP.2 15 A 2-pole",
    "box A device 40 cu in",
    "box B device 40 cu in",
    "cable W1 12/3 NM-B 20 ft from LP to A",
    "cable W2 12/3 NM-B 20 ft from A to B",
    "at LP",
    "W1.black -- LP.2.a",
    "W1.red -- LP.2.b",
    "at A",
    "W1.black -- W2.black",
    "W1.red -- W2.red",
    "at B",
    "W2.black -- W2.red",
)


def test_a_way_that_turns_back_is_wrong_where_it_turns() -> None:
    """Two hots out in one cable and joined at its end: by their colors they may well be joined."""
    board = case(fed(*TWO_HOTS))
    way = to(board, "LP.2.a", "LP.2.b")
    assert made(blame.culprit(way, board.board)) == ["W2.black", "W2.red"]
    assert made(blame.at_fault(way.joins, board.board)) == ["W1.red", "LP.2.b"]


def test_a_way_that_goes_on_to_another_place_does_not_turn_back() -> None:
    lines = [line for line in TWO_HOTS if "W2.red" not in line and "W1.red" not in line]
    board = case(fed(*lines))
    assert made(blame.culprit(to(board, "LP.2.a", "W2.black@B"), board.board)) == ["W1.black", "W2.black"]


def test_a_switch_between_two_wires_of_a_cable_is_no_turn() -> None:
    """Out on the white of a switch loop and back on its black: what lies between is the switch."""
    lines = (
        "box A device 40 cu in",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        "S1 is single-pole-switch in A",
        "at LP",
        "W1.white marked black -- LP.3",
        "at A",
        "W1.white marked black -- S1.line",
        "W1.black -- S1.load",
    )
    board = case(fed(*lines))
    assert made(blame.culprit(to(board, "LP.3", "W1.black@LP"), board.board)) == ["W1.black", "S1.load"]


def test_out_and_home_through_a_thermostat_is_no_turn() -> None:
    """A call goes out on R and comes home on Y in one cable; joined at F.Y and OW.red it goes on."""
    board = case(COOLING)
    way = ways.way(board, ["F.R"], ["CU.Y"])
    assert way is not None
    assert made(blame.culprit(way, board.board)) == ["OW.red", "CU.Y"]
    jumped = case(
        changed(COOLING, ("  TW.red -- TS.R\n", ""), ("TW.yellow -- TS.Y", "TW.red -- TW.yellow -- TS.Y"))
    )
    way = ways.way(jumped, ["F.R"], ["F.Y"], ways.nothing)
    assert way is not None
    assert made(blame.culprit(way, jumped.board)) == ["TW.red", "TW.yellow", "TS.Y"]


def test_where_a_way_changes_what_it_is_for() -> None:
    """At A the hot goes over to the white, and at B it is on the neutral screw: one change, at A."""
    board = case(
        changed(
            STAIR,
            ("W1.black -- S1.common", "W1.black -- W2.white"),
            ("W1.white -- W2.white", "W1.white -- S1.common"),
        )
    )
    way = to(board, "LP.3", "L1.neutral")
    (change,) = blame.changes(way, board)
    assert made(change.join) == ["W1.black", "W2.white"]
    assert change.before == way.points[: way.points.index("W2.white@A")]
    assert blame.changes(to(case(STAIR), "LP.3", "L1.hot"), case(STAIR)) == ()


def test_a_mark_at_one_end_of_a_wire_alone_is_no_change_at_a_join() -> None:
    """The white is marked at the panel and not at the switch: no two wires are joined wrongly."""
    lines = (
        "box A device 40 cu in",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        "S1 is single-pole-switch in A",
    )
    joins = ("at LP", "W1.white marked black -- LP.3", "at A", "W1.white -- S1.line")
    board = case(fed(*lines, *joins))
    (change,) = blame.changes(to(board, "LP.3", "S1.line"), board)
    assert made(change.join) == ["W1.white", "S1.line"]
    bare = case(fed(*lines, *joins[:3]))
    assert blame.changes(to(bare, "LP.3", "W1.white@A"), bare) == ()


def test_the_joins_that_hold_a_neutral_and_a_ground() -> None:
    board = case(
        changed(
            LIGHT,
            ("  W2.bare -- L1.ground\n", ""),
            ("W2.white -- L1.neutral", "W2.white -- W2.bare -- L1.neutral"),
        )
    )
    piece = board.uses.piece["L1.neutral"]
    assert [made(join) for join in blame.neutral_meets_ground(board, piece)] == [
        ["W2.white", "W2.bare", "L1.neutral"]
    ]
    assert not list(blame.neutral_meets_ground(board, board.uses.piece["L1.hot"]))


def test_a_way_through_two_kinds_in_one_join_alone_is_wrong_there() -> None:
    """Three wires of two kinds under one connector: at fault is that one, though the way does not turn."""
    board = case(fed(*TWO_HOTS[:-3], "W1.red -- W2.red -- W1.white", "at B", "W2.red -- W2.white"))
    way = to(board, "LP.2.b", "W1.white@LP")
    assert made(blame.culprit(way, board.board)) == ["W1.red", "W2.red", "W1.white"]


def test_what_a_way_is_for_is_kept_where_a_point_does_not_say() -> None:
    """Through a switch, whose screws say nothing of hot or neutral, a hot goes on as a hot."""
    lines = (
        "box A device 40 cu in",
        "box B device 40 cu in",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        "cable W2 14/2 NM-B 20 ft from A to B",
        "X1 is junction in A",
        "L1 is lampholder 60 W in B",
        "at LP",
        "W1.black -- LP.3",
        "at A",
        "W1.black -- X1.a",
        "W2.white -- X1.b",
        "at B",
        "W2.white -- L1.neutral",
    )
    board = case(fed(*lines))
    changes = blame.changes(to(board, "LP.3", "L1.neutral"), board)
    assert [made(one.join) for one in changes] == [["W2.white", "X1.b"]]


def test_two_kinds_in_one_join_are_at_fault_before_a_turn() -> None:
    """Out on the black and home on the red, whose joint may well be meant; the red on a white may not."""
    board = case(fed(*TWO_HOTS[:-3], "W2.red -- W1.white", "at B", "W2.black -- W2.red"))
    way = to(board, "LP.2.a", "W1.white@LP")
    assert made(blame.culprit(way, board.board)) == ["W2.red", "W1.white"]
