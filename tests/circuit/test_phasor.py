"""The phasor solution against the sparse tableau, and against what every network obeys."""

from __future__ import annotations

import subprocess
import sys
from cmath import rect
from math import radians

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.circuit.networks import RandomBoard, as_impedances, boards, network_of, secondary_amps
from tests.circuit.tableau import reference_nodes, solve_tableau
from wirecheck.circuit.network import (
    ConstantCurrent,
    ConstantPower,
    Impedance,
    Network,
    Solution,
    Source,
    Transformer,
)
from wirecheck.circuit.phasor import NoSolution, load_amps, solve

quick = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)

HEATER = Impedance("heater", 1, 0, 12)
SOURCE = Source("LP", 1, 0, 120, 0.012)


def flows(network: Network, solution: Solution) -> list[tuple[int, int, complex]]:
    """From node, to node, amps: of every branch, and of both windings of a transformer."""
    out = []
    for branch in network.branches:
        if isinstance(branch, Transformer):
            out.append((branch.p1, branch.p2, solution.amps[branch.name]))
            out.append((branch.s2, branch.s1, secondary_amps(branch, solution)))
        else:
            out.append((branch.a, branch.b, solution.amps[branch.name]))
    return out


@quick
@given(boards(taps=40))
def test_every_volt_and_ampere_is_the_tableaus(board: RandomBoard) -> None:
    network = network_of(board)
    solution = solve(network)
    volts, amps = solve_tableau(as_impedances(network, solution))
    for mine, other in zip(solution.volts, volts, strict=True):
        assert abs(mine - other) <= 1e-9 * abs(other) + 1e-8
    for name, other in amps.items():
        assert abs(solution.amps[name] - other) <= 1e-6 * abs(other) + 1e-13


@quick
@given(boards(taps=40))
def test_kirchhoff_holds_at_every_node(board: RandomBoard) -> None:
    network = network_of(board)
    total = [0j] * network.nodes
    size = [0.0] * network.nodes
    for a, b, amp in flows(network, solve(network)):
        total[a] += amp
        total[b] -= amp
        size[a] += abs(amp)
        size[b] += abs(amp)
    for node in range(network.nodes):
        assert abs(total[node]) <= 1e-9 * size[node] + 1e-12


@quick
@given(boards(taps=40))
def test_loads_draw_what_they_say(board: RandomBoard) -> None:
    network = network_of(board)
    solution = solve(network)
    for branch in network.branches:
        if not isinstance(branch, ConstantPower | ConstantCurrent):
            continue
        volts = solution.volts[branch.a] - solution.volts[branch.b]
        amps = solution.amps[branch.name]
        assert abs(amps - load_amps(branch, volts)) <= 1e-9 * abs(amps) + 1e-12
        if abs(volts) < branch.floor:
            continue
        if isinstance(branch, ConstantPower):
            assert abs(volts * amps.conjugate() - branch.power) <= 1e-9 * abs(branch.power)
        else:
            assert abs(amps) == pytest.approx(branch.amps, rel=1e-9)


@quick
@given(boards(taps=40))
def test_power_in_is_power_out(board: RandomBoard) -> None:
    # Tellegen's theorem: the complex power of all branches adds up to nothing.
    network = network_of(board)
    solution = solve(network)
    given_by_sources = 0j
    taken = 0j
    for branch in network.branches:
        amps = solution.amps[branch.name]
        match branch:
            case Source(volts=volts, ohms=ohms):
                given_by_sources -= volts * amps.conjugate()
                taken += abs(amps) ** 2 * ohms
            case Impedance(ohms=ohms):
                taken += abs(amps) ** 2 * ohms
            case Transformer(p1=p1, p2=p2, ohms=ohms, magnetizing_ohms=magnetizing):
                taken += abs(secondary_amps(branch, solution)) ** 2 * ohms
                if magnetizing is not None:
                    across = solution.volts[p1] - solution.volts[p2]
                    taken += abs(across) ** 2 / complex(magnetizing).conjugate()
            case _:
                taken += (solution.volts[branch.a] - solution.volts[branch.b]) * amps.conjugate()
    assert abs(given_by_sources - taken) <= 1e-9 * abs(given_by_sources) + 1e-9


@pytest.mark.slow
@quick
@given(boards(taps=30))
def test_sources_superpose(board: RandomBoard) -> None:
    network = network_of(board, linear=True)
    whole = solve(network)
    sums = [0j] * network.nodes
    sources = [branch for branch in network.branches if isinstance(branch, Source)]
    for kept in sources:
        branches = tuple(
            branch._replace(volts=0) if isinstance(branch, Source) and branch is not kept else branch
            for branch in network.branches
        )
        for node, volts in enumerate(solve(Network(network.nodes, branches)).volts):
            sums[node] += volts
    for one, other in zip(whole.volts, sums, strict=True):
        assert abs(one - other) <= 1e-9 * abs(one) + 1e-9


@quick
@given(boards(taps=30), st.randoms(use_true_random=False))
def test_networks_are_reciprocal(board: RandomBoard, random) -> None:
    # A source moved into any other branch gives there what that branch gave here.
    network = network_of(board, linear=True)
    dead = [b._replace(volts=0) if isinstance(b, Source) else b for b in network.branches]
    places = [k for k, b in enumerate(dead) if isinstance(b, Impedance | Source)]
    one, other = random.choice(places), random.choice(places)

    def amps(at: int, read: int) -> complex:
        branch = dead[at]
        driven = [*dead]
        driven[at] = Source(branch.name, branch.a, branch.b, 120, branch.ohms)
        return solve(Network(network.nodes, tuple(driven))).amps[dead[read].name]

    forth, back = amps(one, other), amps(other, one)
    assert abs(forth - back) <= 1e-9 * abs(forth) + 1e-12


@quick
@given(boards(taps=20))
def test_floating_parts_are_told(board: RandomBoard) -> None:
    network = network_of(board)
    solution = solve(network)
    firsts = reference_nodes(network)
    assert sorted(set(solution.islands)) == firsts
    assert solution.floating == {node for node, first in enumerate(solution.islands) if first}
    assert all(solution.volts[first] == 0 for first in firsts)


@pytest.mark.slow
@quick
@given(boards(taps=20), st.randoms(use_true_random=False))
def test_order_of_branches_means_nothing(board: RandomBoard, random) -> None:
    network = network_of(board, linear=True)
    shuffled = list(network.branches)
    random.shuffle(shuffled)
    one, other = solve(network), solve(Network(network.nodes, tuple(shuffled)))
    assert one.amps.keys() == other.amps.keys()
    for name, amps in one.amps.items():
        assert abs(amps - other.amps[name]) <= 1e-9 * abs(amps) + 1e-13


def test_meter_beside_milliohms_keeps_its_digits() -> None:
    # 200 wires of 1 milliohm between two meters of 10 megohms: the same microamperes in all of them.
    wires = [Impedance(f"w{k}", k + 2, k + 3, 1e-3) for k in range(200)]
    meters = [Impedance("up", 1, 2, 1e7), Impedance("down", 202, 0, 1e7)]
    solution = solve(Network(203, (SOURCE, *meters, *wires)))
    amps = 120 / (2e7 + 0.2 + 0.012)
    for wire in wires:
        assert abs(solution.amps[wire.name] - amps) <= 1e-14 * amps
    assert abs(solution.volts[100] - 60) <= 1e-6


def test_dead_end_carries_nothing() -> None:
    solution = solve(Network(3, (SOURCE, HEATER, Impedance("end", 1, 2, 1e-3))))
    assert abs(solution.amps["end"]) < 1e-20
    assert abs(solution.volts[2] - solution.volts[1]) < 1e-12


def test_open_primary_over_open_secondary_stands_at_nothing() -> None:
    # A lost neutral on an unloaded transformer: no volts across it, and both its primary leads live.
    coil = Transformer("T", 1, 2, 3, 4, ratio=5, ohms=0.8 + 0.4j)
    solution = solve(Network(5, (SOURCE, HEATER, coil)))
    assert abs(solution.volts[1] - solution.volts[2]) < 1e-6
    assert abs(solution.volts[3] - solution.volts[4]) < 1e-6
    assert solution.amps["heater"] == pytest.approx(120 / 12.012, rel=1e-9)
    assert solution.floating == {3, 4}


def test_transformers_without_load_keep_their_ratio() -> None:
    coil = Transformer("T", 1, 0, 2, 3, ratio=5, ohms=0.8)
    chained = Transformer("U", 2, 3, 4, 5, ratio=0.2, ohms=30)
    solution = solve(Network(6, (SOURCE, coil, chained)))
    assert abs(solution.volts[2] - solution.volts[3]) == pytest.approx(24, rel=1e-9)
    assert abs(solution.volts[4] - solution.volts[5]) == pytest.approx(120, rel=1e-9)
    assert abs(solution.amps["T"]) < 1e-12


def test_two_idle_transformers_in_series_share_the_line() -> None:
    coils = [Transformer("T", 1, 2, 3, 4, 5, 0.8), Transformer("U", 2, 0, 5, 6, 5, 0.8)]
    solution = solve(Network(7, (SOURCE, *coils)))
    assert abs(solution.volts[2]) == pytest.approx(60, rel=1e-6)
    assert abs(solution.volts[5] - solution.volts[6]) == pytest.approx(12, rel=1e-6)


def test_network_without_branches_is_dead() -> None:
    solution = solve(Network(3, ()))
    assert solution.volts == (0, 0, 0)
    assert solution.floating == {1, 2}


def test_load_of_no_power_is_an_open_circuit() -> None:
    solution = solve(Network(3, (SOURCE, ConstantPower("idle", 1, 2, 0, 90))))
    assert solution.amps["idle"] == 0
    assert solution.floating == {2}


@pytest.mark.parametrize("ohms", [0.005, 0.05, 0.5])
def test_load_that_stands_at_its_floor_settles(ohms: float) -> None:
    # Two legs with a lost neutral: what one load sheds when it starves lifts the other over its floor.
    other = Source("leg-c", 2, 0, rect(120, radians(120)), 0.0055)
    loads = (
        ConstantCurrent("M1", 4, 5, 5.0, 0.927, 84),
        ConstantPower("P", 4, 5, 40 + 19.4j, 84),
        ConstantCurrent("M2", 3, 5, 5.0, 0.927, 84),
    )
    wires = (Impedance("a", 1, 3, ohms), Impedance("c", 2, 4, ohms))
    solution = solve(Network(6, (Source("leg-a", 1, 0, 120, 0.0055), other, *wires, *loads)))
    assert abs(solution.amps["M2"]) == pytest.approx(5)
    for load in loads:
        volts = solution.volts[load.a] - solution.volts[load.b]
        assert solution.amps[load.name] == pytest.approx(load_amps(load, volts), rel=1e-9)


def test_resonance_without_damping_has_no_solution() -> None:
    with pytest.raises(NoSolution, match="cancels out") as caught:
        solve(Network(2, (Source("LP", 1, 0, 120, 1j), Impedance("C1", 1, 0, -1j))))
    assert caught.value.branch == "LP"


def test_resonance_inside_a_sound_network_is_solved() -> None:
    # A coil and a capacitor of the same reactance in series are a wire; in parallel, nothing.
    series = solve(
        Network(4, (SOURCE, Impedance("L", 1, 2, 30j), Impedance("C", 2, 3, -30j), Impedance("R", 3, 0, 12)))
    )
    assert series.amps["R"] == pytest.approx(120 / 12.012, rel=1e-9)
    parallel = solve(
        Network(3, (SOURCE, Impedance("R", 1, 2, 12), Impedance("L", 2, 0, 30j), Impedance("C", 2, 0, -30j)))
    )
    assert abs(parallel.volts[2] - 120) < 1e-9
    assert parallel.amps["L"] == pytest.approx(-4j, rel=1e-9)


@pytest.mark.parametrize(
    ("branch", "word"),
    [
        (Impedance("bad", 1, 0, 0), "ohms"),
        (Impedance("bad", 1, 0, float("nan")), "ohms"),
        (Impedance("bad", 1, 0, float("inf")), "ohms"),
        (Source("bad", 1, 0, 120, 0), "ohms"),
        (Source("bad", 1, 0, float("nan"), 1), "volts"),
        (Transformer("bad", 1, 0, 1, 0, 0, 1), "ratio"),
        (ConstantPower("bad", 1, 0, 100, 0), "floor"),
        (ConstantPower("bad", 1, 0, float("inf"), 90), "draws"),
        (ConstantCurrent("bad", 1, 0, 5, float("nan"), 90), "draws"),
        (Impedance("bad", 1, 2, 1), "node"),
        (Impedance("bad", -1, 0, 1), "node"),
        (Impedance("heater", 1, 0, 1), "one name"),
    ],
)
def test_what_cannot_be_solved_is_refused(branch, word: str) -> None:
    with pytest.raises(ValueError, match=word):
        solve(Network(2, (SOURCE, HEATER, branch)))


def test_small_networks_need_no_numpy() -> None:
    program = (
        "import sys\n"
        "from wirecheck.circuit.network import Impedance, Network, Source\n"
        "from wirecheck.circuit.phasor import solve\n"
        "wires = [Impedance(str(k), k, k + 1, 1) for k in range(1, 500)]\n"
        "solve(Network(501, (Source('LP', 1, 0, 120, 1), *wires, Impedance('R', 500, 0, 1))))\n"
        "sys.exit('numpy' in sys.modules or 'scipy' in sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", program], check=True)
