"""Star-mesh elimination by itself: against SuperLU, on meshes, and where it cannot answer."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import wirecheck.circuit.elimination as elimination
from wirecheck.circuit.elimination import Frame, Reduction, Undetermined
from wirecheck.circuit.network import Impedance, Network, Source
from wirecheck.circuit.phasor import solve


def grid(side: int) -> list[dict[int, complex]]:
    """A square grid of random coils, earthed at a corner: as far from a tree as wiring could be."""
    draw = random.Random(side)
    mesh: list[dict[int, complex]] = [{} for _ in range(side * side + 1)]

    def join(a: int, b: int) -> None:
        mesh[a][b] = mesh[b][a] = 1 / complex(draw.uniform(1e-3, 10), draw.uniform(0, 10))

    join(0, 1)
    for row in range(side):
        for column in range(side):
            node = row * side + column + 1
            if column:
                join(node, node - 1)
            if row:
                join(node, node - side)
    return mesh


def copied(mesh: list[dict[int, complex]]) -> list[dict[int, complex]]:
    return [dict(row) for row in mesh]


@pytest.mark.parametrize("side", [3, 12, 30])
def test_injected_currents_come_back(side: int) -> None:
    mesh = grid(side)
    draw = random.Random(7)
    amps = [0j] + [complex(draw.uniform(-9, 9), draw.uniform(-9, 9)) for _ in mesh[1:]]
    volts = Reduction(copied(mesh)).volts(amps)
    for node in range(1, len(mesh)):
        out = sum(y * (volts[node] - volts[other]) for other, y in mesh[node].items())
        assert abs(out - amps[node]) < 1e-7


@settings(max_examples=20, deadline=None)
@given(st.integers(3, 9), st.integers(0, 1000))
def test_branches_added_to_a_frame(side: int, seed: int) -> None:
    """The nodes that are kept get branches afterwards; the volts are those of all at once."""
    mesh = grid(side)
    draw = random.Random(seed)
    amps = [0j] + [complex(draw.uniform(-9, 9)) for _ in mesh[1:]]
    kept = draw.sample(range(1, len(mesh)), 3)
    frame = Frame(copied(mesh), kept)
    assert {0, *kept} <= set(frame.nodes)
    added, left = 2 + 1j, copied(frame.mesh)
    for node in kept:
        place = frame.nodes.index(node)
        for rows, here in ((mesh, node), (left, place)):
            rows[here][0] = rows[0][here] = rows[here].get(0, 0) + added
    whole = Reduction(mesh).volts(amps)
    inflow = frame.inward(amps)
    volts = frame.outward(inflow, Reduction(left).volts([inflow[node] for node in frame.nodes]))
    largest = max(map(abs, whole))
    assert all(abs(a - b) <= 1e-10 * largest for a, b in zip(whole, volts, strict=True))


@settings(max_examples=20, deadline=None)
@given(st.integers(4, 14), st.integers(0, 1000))
def test_superlu_core_agrees(side: int, seed: int) -> None:
    mesh = grid(side)
    draw = random.Random(seed)
    amps = [0j] + [complex(draw.uniform(-9, 9)) for _ in mesh[1:]]
    plain = Reduction(copied(mesh)).volts(amps)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(elimination, "CORE_NODES", 4)
        patch.setattr(elimination, "CORE_NEIGHBOURS", 3)
        split = Reduction(copied(mesh))
        cored = split.volts(amps)
    assert split._core
    largest = max(map(abs, plain))
    assert all(abs(a - b) <= 1e-10 * largest for a, b in zip(plain, cored, strict=True))


@pytest.mark.slow
def test_dense_mesh_goes_to_superlu_and_is_solved() -> None:
    # 200 panels each tied to 30 others.
    draw = random.Random(3)
    ties = [
        Impedance(f"t{a}.{k}", a, 1 + (a + draw.randrange(1, 200) - 1) % 200, draw.uniform(0.01, 1))
        for a in range(1, 201)
        for k in range(30)
    ]
    network = Network(201, (Source("LP", 1, 0, 120, 0.01), *ties, Impedance("R", 200, 0, 12)))
    with pytest.MonkeyPatch.context() as patch:
        cores: list[int] = []
        factor = Reduction._factor_core
        patch.setattr(
            Reduction,
            "_factor_core",
            lambda self, mesh, core: (cores.append(len(core)), factor(self, mesh, core)),
        )
        solution = solve(network)
    assert cores and cores[0] >= elimination.CORE_NODES
    total = [0j] * 201
    for branch in network.branches:
        total[branch.a] += solution.amps[branch.name]
        total[branch.b] -= solution.amps[branch.name]
    assert max(map(abs, total[1:])) < 1e-9
    assert abs(solution.amps["R"]) == pytest.approx(abs(solution.amps["LP"]), rel=1e-9)


def test_what_cancels_is_named() -> None:
    with pytest.raises(Undetermined) as caught:
        Reduction([{1: 1j, 2: 1j}, {0: 1j, 2: -1j}, {0: 1j, 1: -1j}], wary=True)
    assert caught.value.node == 1
