"""From text to volts: random boards against a network built a second way, solved by others.

The board is read, built, made a circuit and settled as a user's is. Beside it
the same board is built from values typed in `rebuilt.py` and solved by ngspice,
a general circuit simulator, and by a sparse tableau under scipy: every point of
the board and every branch must agree.
"""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path

import networkx
import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from tests.circuit.boards import MOST_POINTS, RandomBoard, Run, Tap, boards, text_of
from tests.circuit.rebuilt import Rebuilt, rebuild
from tests.circuit.spice import run_spice
from tests.circuit.tableau import solve_tableau
from tests.samples import board
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.network import Network, Transformer
from wirecheck.circuit.settle import Settled, network, resting, settle

Answer = tuple[list[complex], dict[str, complex]]

# What ngspice itself rounds off: it stores ohms and megohms in one sum.
SPICE_VOLTS = 2e-6
SPICE_AMPS = 5e-9

PATIENT = settings(
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example],
)


def settled_board(random: RandomBoard) -> tuple[Settled, Rebuilt]:
    """A board read, built and settled, and its network built a second time."""
    text, positions = text_of(random)
    made = board(text)
    assert not made.problems, made.problems
    wiring = circuit(made)
    assert len(wiring.node) <= MOST_POINTS
    settled = settle(wiring, resting(wiring, positions))
    if settled.chattering:
        reject()
    return settled, rebuild(made, settled)


def islands(plan: Network) -> list[int]:
    """For each node, the first node of the part that it hangs together with."""
    graph = networkx.Graph()
    graph.add_nodes_from(range(plan.nodes))
    for branch in plan.branches:
        if isinstance(branch, Transformer):
            graph.add_edges_from([(branch.p1, branch.p2), (branch.s1, branch.s2)])
        else:
            graph.add_edge(branch.a, branch.b)
    first = list(range(plan.nodes))
    for piece in networkx.connected_components(graph):
        for node in piece:
            first[node] = min(piece)
    return first


def agree(settled: Settled, built: Rebuilt, answer: Answer, share: float, volts: float, amps: float) -> None:
    """Hold every point and every branch to the answer of the network that was built a second time."""
    told_volts, told_amps = answer
    first = islands(built.network)
    point_of = {node: point for point, node in reversed(built.node.items())}
    node = settled.circuit.node
    for point in node.keys() & built.node.keys():
        mine = settled.volts[node[point]]
        other = told_volts[built.node[point]]
        leader = first[built.node[point]]
        if leader:
            # A part that floats has volts within itself only.
            mine -= settled.volts[node[point_of[leader]]]
            other -= told_volts[leader]
        assert abs(mine - other) <= share * abs(other) + volts, point
    assert settled.amps.keys() == told_amps.keys()
    for name, other in told_amps.items():
        assert abs(settled.amps[name] - other) <= share * abs(other) + amps, name


def agree_with_spice(randoms: Sequence[RandomBoard]) -> None:
    pairs = [settled_board(random) for random in randoms]
    with tempfile.TemporaryDirectory() as folder:
        answers = run_spice([built.network for _, built in pairs], Path(folder))
    for (settled, built), answer in zip(pairs, answers, strict=True):
        agree(settled, built, answer, 1e-6, SPICE_VOLTS, SPICE_AMPS)


@settings(PATIENT, max_examples=40)
@given(boards())
def test_every_point_is_the_tableaus(random: RandomBoard) -> None:
    settled, built = settled_board(random)
    agree(settled, built, solve_tableau(built.network), 1e-8, 1e-9, 1e-9)


@pytest.mark.ngspice
@settings(PATIENT, max_examples=5)
@given(st.lists(boards(), min_size=8, max_size=8))
def test_40_boards_agree_with_ngspice(batch: list[RandomBoard]) -> None:
    agree_with_spice(batch)


@pytest.mark.slow
@pytest.mark.ngspice
@settings(PATIENT, max_examples=30)
@given(st.lists(boards(most=6, repeat=2, circuits=8), min_size=8, max_size=8))
def test_240_more_agree_with_ngspice(batch: list[RandomBoard]) -> None:
    agree_with_spice(batch)


@pytest.mark.slow
@pytest.mark.ngspice
@settings(PATIENT, max_examples=30)
@given(boards(most=6, repeat=20, circuits=12))
def test_30_large_boards_agree_with_ngspice(random: RandomBoard) -> None:
    agree_with_spice([random])


def test_the_largest_boards_have_2000_terminals() -> None:
    """A board as large as the generator makes them, and never larger."""
    tap = Tap("lamp", 5.0, 10, "on")
    run = Run("branch", 0, "12", (tap,) * 6, 20, None, None, (True,), False, False)
    settled, built = settled_board(RandomBoard("120/240", 10.0, 30, (run,) * 6))
    assert MOST_POINTS * 0.9 < len(settled.circuit.node) <= MOST_POINTS
    agree(settled, built, solve_tableau(built.network), 1e-8, 1e-9, 1e-9)


@settings(PATIENT, max_examples=15)
@given(boards())
def test_the_state_can_be_solved_again_from_its_network(random: RandomBoard) -> None:
    """`settle.network` is what was solved: the tableau of it gives the same state."""
    settled, built = settled_board(random)
    plan = network(settled)
    assert len(plan.branches) == len(built.network.branches)
    assert {branch.name for branch in plan.branches} == set(settled.amps)
