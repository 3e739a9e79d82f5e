"""The one search through copper: held to networkx on graphs of any shape, and to boards by hand."""

from __future__ import annotations

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as some

from tests.rules.hands import COOLING, LIGHT, STAIR, case
from wirecheck.circuit.circuit import Contact, Protection, Wire
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.work import Work
from wirecheck.judge import ways
from wirecheck.judge.ways import cheapest, spread
from wirecheck.model.board import Join

EDGES = some.lists(some.tuples(some.integers(0, 9), some.integers(0, 9), some.integers(0, 3)), max_size=25)
ENDS = some.sets(some.integers(0, 9), max_size=3)


def steps_of(edges: list[tuple[int, int, int]]):
    """The edges as steps from a node, in order."""
    return lambda node: [(cost, b, (a, b)) for a, b, cost in edges if a == node]


@given(EDGES, ENDS, ENDS)
def test_the_cheapest_way_costs_what_networkx_finds(
    edges: list[tuple[int, int, int]], origins: set[int], targets: set[int]
) -> None:
    graph = networkx.DiGraph()
    graph.add_nodes_from(range(10))
    for a, b, cost in sorted(edges, key=lambda edge: -edge[2]):
        graph.add_edge(a, b, weight=cost)
    far = networkx.multi_source_dijkstra_path_length(graph, origins) if origins else {}
    found = cheapest(sorted(origins), targets, steps_of(edges), Work(10_000))
    reached = {node: far[node] for node in targets if node in far}
    if not reached:
        assert found is None
        return
    assert found is not None
    begin, steps = found
    assert begin in origins
    assert [step.origin for step in steps] == [begin, *(step.target for step in steps)][:-1]
    assert all(step.tie == (step.origin, step.target) for step in steps)
    end = steps[-1].target if steps else begin
    assert far[end] == min(reached.values()) == (steps[-1].cost if steps else 0)


@given(EDGES, ENDS)
def test_steps_that_cost_the_same_go_breadth_first(
    edges: list[tuple[int, int, int]], origins: set[int]
) -> None:
    alike = [(a, b, 1) for a, b, _ in edges]
    order = sorted(origins)
    for node in order:
        order += dict.fromkeys(b for a, b, _ in alike if a == node and b not in order)
    assert [node for node, _ in spread(sorted(origins), steps_of(alike), Work(10_000))] == order


def test_of_two_ways_that_cost_the_same_the_one_found_first_is_taken() -> None:
    steps = {"a": [(1, "b", 1), (1, "c", 2)], "b": [(1, "d", 3)], "c": [(1, "d", 4)]}
    found = cheapest(["a"], ["d"], lambda node: steps.get(node, []), Work(10_000))
    assert found is not None
    assert [step.tie for step in found[1]] == [1, 3]


# ------------------------------------------------------------------- points


def test_a_way_from_the_leg_to_the_lamp() -> None:
    board = case(LIGHT)
    way = ways.way(board, [leg.point for leg in board.circuit.legs], ["L1.hot"])
    assert way is not None
    assert [type(of) for of in way.elements] == [
        Protection, Join, Wire, Join, Contact, Join, Wire, Join,
    ]  # fmt: skip
    leg = way.points[0]
    assert board.circuit.point[leg].kind == "leg"
    assert way.points == (
        leg, "LP.3", "W1.black@LP", "W1.black@A", "S1.line", "S1.load", "W2.black@A", "W2.black@B", "L1.hot",
    )  # fmt: skip
    assert len(way.joins) == 4 and [one.scope for one in way.contacts] == ["S1"]
    assert ways.named(way, board) == f"{leg} to LP.3 to W1.black to S1.line to S1.load to W2.black to L1.hot"


@pytest.mark.parametrize(("position", "through"), [("on", True), ("off", False)])
def test_a_way_that_conducts_in_a_state(position: str, through: bool) -> None:
    board = case(LIGHT)
    legs = [leg.point for leg in board.circuit.legs]
    settled = board.settled({"S1": position})
    assert (ways.way(board, legs, ["L1.hot"], ways.conducting(settled)) is not None) == through
    assert ways.way(board, legs, ["LP.3"], ways.conducting(settled)) is not None
    assert ways.way(board, legs, ["LP.3"], ways.nothing) is None
    assert ways.way(board, ["LP.3"], ["S1.line"], ways.nothing) is not None


def test_a_breaker_that_has_opened_conducts_no_more() -> None:
    board = case(LIGHT)
    legs = [leg.point for leg in board.circuit.legs]
    settled = board.settled({})
    opened = settled._replace(opened=(Opening("LP.3", "overload", 100.0, 15.0),))
    assert ways.way(board, legs, ["LP.3"], ways.conducting(settled)) is not None
    assert ways.way(board, legs, ["LP.3"], ways.conducting(opened)) is None


def test_a_way_goes_to_a_stop_and_not_beyond() -> None:
    board = case(LIGHT)
    assert ways.way(board, ["LP.3"], ["S1.load"], stops=["S1.line"]) is None
    assert ways.way(board, ["LP.3"], ["S1.line"], stops=["S1.line"]) is not None


def test_what_has_no_way_and_what_is_there_already() -> None:
    board = case(LIGHT)
    assert ways.way(board, ["LP.3"], ["L1.neutral"]) is None
    here = ways.way(board, ["LP.3"], ["LP.3"])
    assert here is not None and (here.points, here.elements) == (("LP.3",), ())


def test_the_neighbors_of_a_point() -> None:
    """A splice with a pigtail joins its wires and the screw at the pigtail's other end, each with each."""
    board = case(STAIR)
    near = ways.neighbors(board)
    ground = dict(near["S1.ground"])
    assert set(ground) == {"W1.bare@A", "W2.bare@A"} and all(isinstance(of, Join) for of in ground.values())
    bare = dict(near["W1.bare@A"])
    assert set(bare) == {"W2.bare@A", "S1.ground", "W1.bare@LP"} and isinstance(bare["W1.bare@LP"], Wire)
    assert dict(near["LP.ground"])["LP.neutral"] is None
    assert isinstance(dict(near["S1.common"])["S1.traveler-1"], Contact)
    for point, there in near.items():
        assert all((point, of) in near[other] for other, of in there)


def test_a_wire_that_is_named_once_and_inner_wiring() -> None:
    """Inside a furnace the transformer's common is tied to C: copper that is no join of the board."""
    board = case(COOLING)
    way = ways.way(board, ["TS.C"], ["CU.C"], ways.nothing)
    assert way is not None
    assert ways.named(way, board) == "TS.C to TW.blue to OW.white to CU.C"


# ------------------------------------------------------------------- pieces


def test_the_pieces_that_are_come_to() -> None:
    board = case(STAIR)
    piece = board.uses.piece
    legs = [piece[leg.point] for leg in board.circuit.legs]
    hot = {piece[name] for name in ("LP.3", "W2.black@A", "W2.red@A", "L1.hot")}
    reached = ways.pieces_reached(board, legs)
    assert reached == hot | set(legs)
    assert ways.pieces_reached(board, legs, ways.nothing) == set(legs)
    assert ways.pieces_reached(board, legs, lambda of: isinstance(of, Protection)) == {piece["LP.3"], *legs}
    stopped = ways.pieces_reached(board, [piece["L1.hot"]], stops={piece["W2.black@A"], piece["W2.red@A"]})
    assert stopped == {piece[name] for name in ("L1.hot", "W2.black@A", "W2.red@A")}
    near = ways.next_pieces(board)
    assert {of.name for _, of in near[piece["LP.3"]]} == {
        "LP.3", "S1.common--traveler-1", "S1.common--traveler-2",
    }  # fmt: skip
