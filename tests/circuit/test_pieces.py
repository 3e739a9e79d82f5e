"""What hangs together, against scipy's connected components."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from tests.samples import SAMPLES, wired
from wirecheck.circuit.pieces import pieces


@given(
    st.integers(1, 40).flatmap(
        lambda n: st.tuples(
            st.just(n), st.lists(st.tuples(st.integers(0, n - 1), st.integers(0, n - 1)), max_size=60)
        )
    )
)
def test_pieces_are_connected_components(case: tuple[int, list[tuple[int, int]]]) -> None:
    count, pairs = case
    ones = [1] * len(pairs)
    matrix = coo_array((ones, ([a for a, _ in pairs], [b for _, b in pairs])), shape=(count, count))
    number, labels = connected_components(matrix, directed=False)
    found = pieces(range(count), pairs)
    assert len(set(found.values())) == number
    for a in range(count):
        assert found[a] == min(b for b in range(count) if labels[b] == labels[a])


def test_a_boards_nets_are_the_components_of_its_graph() -> None:
    """The points that copper ties, by scipy.sparse.csgraph on the circuit's elements."""
    for name in ("stair-light", "cooling-call"):
        circuit = wired((SAMPLES / f"{name}.wire").read_text())
        points = list(circuit.node)
        place = {point: index for index, point in enumerate(points)}
        ties = [(a, b) for a, b, _ in circuit.bonds] + [(wire.a, wire.b) for wire in circuit.wires]
        ties += (pair for protection in circuit.protections for pair in protection.pairs)
        edges = [(place[a], place[b]) for a, b in ties]
        rows, columns = zip(*edges, strict=True)
        matrix = coo_array(([1] * len(edges), (rows, columns)), shape=(len(points), len(points)))
        _, labels = connected_components(matrix, directed=False)
        net = circuit.copper()
        for a in points:
            for b in points:
                same = labels[place[a]] == labels[place[b]]
                assert same == (net[circuit.node[a]] == net[circuit.node[b]]), (a, b)
