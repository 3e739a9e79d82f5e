"""What a wire is used for, against the graph library's connectivity and against boards read by eye."""

from __future__ import annotations

import networkx
import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed
from wirecheck.circuit.uses import uses


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_pieces_are_connected_components_of_joins_and_wires(text: str) -> None:
    circuit = case(text).circuit
    graph = networkx.Graph()
    graph.add_nodes_from(circuit.node)
    bars = {frozenset((f"{panel}.neutral", f"{panel}.ground")) for panel in circuit.board.panels}
    graph.add_edges_from((a, b) for a, b, _ in circuit.bonds if frozenset((a, b)) not in bars)
    graph.add_edges_from((wire.a, wire.b) for wire in circuit.wires)
    piece = uses(circuit).piece
    expected = {frozenset(one & set(piece)) for one in networkx.connected_components(graph)} - {frozenset()}
    told: dict[int, set[str]] = {}
    for point, number in piece.items():
        told.setdefault(number, set()).add(point)
    assert {frozenset(points) for points in told.values()} == expected


# Read by eye from the boards.
@pytest.mark.parametrize(
    ("text", "point", "use"),
    [
        (STAIR, "S1.common", "hot"),
        (STAIR, "W2.red@C", "switched"),
        (STAIR, "L1.hot", "switched"),
        (STAIR, "L1.neutral", "neutral"),
        (STAIR, "L1.ground", "ground"),
        (LOOP, "W2.white@A", "hot"),
        (LOOP, "W2.black@B", "switched"),
        (COOLING, "CU.L1", "switched"),
        (COOLING, "TW.yellow@TS", "class-2"),
        (COOLING, "F.C", "class-2"),
    ],
)
def test_what_a_point_is_used_for(text: str, point: str, use: str) -> None:
    assert case(text).uses.of(point) == use


def test_mistakes_show_in_the_use() -> None:
    crossed = changed(
        LOOP, ("W1.black -- LP.3", "W1.black -- LP.neutral"), ("W1.white -- LP.neutral", "W1.white -- LP.3")
    )
    told = case(crossed).uses
    assert (told.of("L1.neutral"), told.of("L1.hot"), told.of("S1.line")) == (
        "hot",
        "switched-neutral",
        "neutral",
    )
    assert case(changed(LOOP, ("W1.black -- LP.3", "W1.black -- LP.neutral"))).uses.of("LP.3") == "hot"
    short = changed(LOOP, ("W1.white -- L1.neutral", "W1.white -- W1.black -- L1.neutral"))
    assert case(short).uses.of("L1.neutral") == "mixed"
    loose = changed(LOOP, ("  W1.white -- L1.neutral\n", ""))
    assert case(loose).uses.of("L1.neutral") == "none"


def test_protection_taken_as_open_parts_its_sides() -> None:
    circuit = case(LOOP).circuit
    assert uses(circuit).of("S1.line") == "hot"
    assert uses(circuit, without=["LP.3"]).of("S1.line") == "none"
    assert uses(circuit).legs("L1.hot") == {"LP.leg-b"}
