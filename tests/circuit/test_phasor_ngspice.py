"""The phasor solution against ngspice, at every node and branch of random boards."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.circuit.networks import MOST_NODES, RandomBoard, as_impedances, boards, network_of
from tests.circuit.spice import run_spice
from wirecheck.circuit.network import Network
from wirecheck.circuit.settle import solved

BATCH = 8

# What ngspice itself rounds off, where only a meter's or a leak's microsiemens tie a part to earth.
# The sparse tableau is held to 1e-9 in test_phasor.py.
SPICE_VOLTS = 2e-5
SPICE_AMPS = 1e-10


def check_against_spice(networks: list[Network]) -> None:
    # As boards are solved: two equal constant currents in series past an open neutral have an answer only
    # once one of them starves.
    solutions = [solved(network) for network in networks]
    assert not any(solution.left_out for solution in solutions)
    plain = [as_impedances(n, s) for n, s in zip(networks, solutions, strict=True)]
    with tempfile.TemporaryDirectory() as folder:
        answers = run_spice(plain, Path(folder))
    for solution, (volts, amps) in zip(solutions, answers, strict=True):
        for mine, other in zip(solution.volts, volts, strict=True):
            assert abs(mine - other) <= 1e-6 * abs(other) + SPICE_VOLTS
        assert solution.amps.keys() == amps.keys()
        for name, other in amps.items():
            assert abs(solution.amps[name] - other) <= 1e-6 * abs(other) + SPICE_AMPS


@pytest.mark.ngspice
@settings(
    max_examples=5,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example],
)
@given(st.lists(boards(taps=20), min_size=BATCH, max_size=BATCH))
def test_40_small_boards_agree_with_ngspice(batch: list[RandomBoard]) -> None:
    check_against_spice([network_of(board) for board in batch])


@pytest.mark.slow
@pytest.mark.ngspice
@settings(
    max_examples=36,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example],
)
@given(st.lists(boards(taps=20), min_size=BATCH, max_size=BATCH))
def test_288_small_boards_agree_with_ngspice(batch: list[RandomBoard]) -> None:
    check_against_spice([network_of(board) for board in batch])


@pytest.mark.slow
@pytest.mark.ngspice
@settings(
    max_examples=24,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(boards(taps=100))
def test_24_large_boards_agree_with_ngspice(board: RandomBoard) -> None:
    network = network_of(board)
    assert network.nodes <= MOST_NODES
    check_against_spice([network])
