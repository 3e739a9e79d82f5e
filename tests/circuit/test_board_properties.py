"""What every board obeys: conservation, superposition, and that names, order and splices mean nothing."""

from __future__ import annotations

import random as chance
import re

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from tests.circuit.boards import RandomBoard, boards, text_of
from tests.circuit.networks import secondary_amps
from tests.samples import board, fed, wired
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.network import Branch, Impedance, Network, Source, Transformer
from wirecheck.circuit.phasor import solve
from wirecheck.circuit.settle import Settled, network, resting, settle

quick = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def settled_text(text: str, positions: dict[str, str]) -> Settled:
    made = board(text)
    assert not made.problems, made.problems
    wiring = circuit(made)
    settled = settle(wiring, resting(wiring, positions))
    if settled.chattering:
        reject()
    return settled


def settled_board(random: RandomBoard) -> Settled:
    return settled_text(*text_of(random))


def ports(settled: Settled, branch: Branch) -> list[tuple[int, int, complex]]:
    """Each pair of ends of a branch with the amperes from the first to the second through it."""
    amps = settled.amps[branch.name]
    if isinstance(branch, Transformer):
        # It gives the ratio of turns times its primary current out of s1: without loss of amperes.
        return [(branch.p1, branch.p2, amps), (branch.s2, branch.s1, amps * branch.ratio)]
    return [(branch.a, branch.b, amps)]


@quick
@given(boards())
def test_kirchhoff_tellegen_and_power(random: RandomBoard) -> None:
    """Currents at every point add up to nothing; volt-amperes over the board too; power in is power out."""
    settled = settled_board(random)
    plan = network(settled)
    volts = settled.volts
    at = [0j] * plan.nodes
    through = [0.0] * plan.nodes
    total, size, given_out, used = 0j, 0.0, 0j, 0j
    for branch in plan.branches:
        for a, b, amps in ports(settled, branch):
            at[a] += amps
            at[b] -= amps
            through[a] += abs(amps)
            through[b] += abs(amps)
            power = (volts[a] - volts[b]) * amps.conjugate()
            total += power
            size += abs(power)
            if isinstance(branch, Source):
                given_out -= power
            else:
                used += power
    # Earth is node 0, and takes part: what leaves a source comes back to it.
    for flow, most in zip(at, through, strict=True):
        assert abs(flow) <= 1e-9 * most + 1e-12
    assert abs(total) <= 1e-9 * size
    assert abs(given_out - used) <= 1e-9 * size


@quick
@given(boards())
def test_what_a_transformer_takes_it_gives_but_for_its_own_loss(random: RandomBoard) -> None:
    settled = settled_board(random)
    solution = solve(network(settled))
    for branch in network(settled).branches:
        if isinstance(branch, Transformer):
            amps = secondary_amps(branch, solution)
            taken = (solution.volts[branch.p1] - solution.volts[branch.p2]) * solution.amps[
                branch.name
            ].conjugate()
            given_out = (solution.volts[branch.s1] - solution.volts[branch.s2]) * amps.conjugate()
            assert abs(taken - given_out - abs(amps) ** 2 * branch.ohms) <= 1e-9 * (abs(taken) + 1e-9)


@quick
@given(boards())
def test_superposition_on_a_linear_board(random: RandomBoard) -> None:
    """The volts of all legs together are the sum of those of each leg alone, the others at nothing."""
    settled = settled_board(random)
    plan = network(settled)
    linear = [branch for branch in plan.branches if isinstance(branch, Impedance | Source | Transformer)]
    together = solve(Network(plan.nodes, tuple(linear)))
    added = [0j] * plan.nodes
    for leg in settled.circuit.legs:
        alone = tuple(
            branch._replace(volts=0j) if isinstance(branch, Source) and branch.name != leg.name else branch
            for branch in linear
        )
        added = [a + b for a, b in zip(added, solve(Network(plan.nodes, alone)).volts, strict=True)]
    for one, other in zip(together.volts, added, strict=True):
        assert abs(one - other) < 1e-7


def same(one: Settled, other: Settled, name=lambda point: point) -> None:
    """Every point of the first has the same volts in the second, where it is called `name(point)`."""
    assert {name(load) for load in one.running} == set(other.running)
    assert {name(opening.name) for opening in one.opened} == {opening.name for opening in other.opened}
    for point, node in one.circuit.node.items():
        there = other.circuit.node[name(point)]
        assert (node in one.floating) == (there in other.floating)
        if node not in one.floating:
            assert abs(one.volts[node] - other.volts[there]) < 1e-8, point


@pytest.mark.slow
@quick
@given(boards())
def test_a_wire_joined_to_nothing_changes_nothing(random: RandomBoard) -> None:
    text, positions = text_of(random)
    more = "box SPARE junction 20 cu in\ncable SP1 14/3 NM-B 30 ft from LP to SPARE\n"
    more += "wire SP2 12 THHN black 20 ft from LP to SPARE\nat SPARE\nSP1.black -- SP2\n"
    same(settled_text(text, positions), settled_text(text + more, positions))


@pytest.mark.slow
@quick
@given(boards(), st.integers(0, 2**32))
def test_the_order_of_statements_changes_nothing(random: RandomBoard, seed: int) -> None:
    """Declarations anywhere; joins in any order, each with its place ahead of it."""
    text, positions = text_of(random)
    title, *lines = text.splitlines()
    place, declared, joins = "", [], []
    for line in lines:
        if line.startswith("at "):
            place = line
        elif " -- " in line or line.startswith("cap "):
            joins.append(f"{place}\n{line}")
        else:
            declared.append(line)
    order = chance.Random(seed)
    mixed = [*declared, *joins]
    order.shuffle(mixed)
    same(settled_text(text, positions), settled_text("\n".join([title, *mixed]) + "\n", positions))


@pytest.mark.slow
@quick
@given(boards())
def test_names_change_nothing(random: RandomBoard) -> None:
    text, positions = text_of(random)

    def renamed(told: str) -> str:
        return re.sub(r"\bLP\b", "MAIN", re.sub(r"\bN(?=\d)", "Room_", told))

    new = {renamed(name): value for name, value in positions.items()}
    same(settled_text(text, positions), settled_text(renamed(text), new), renamed)


def lamp_at(*cables: str, watts: int = 60) -> Circuit:
    """A lamp behind cables that are spliced one to the next."""
    lines = []
    before = "LP"
    for index, cable in enumerate(cables):
        lines += [f"box B{index} junction 40 cu in", f"cable W{index} {cable} from {before} to B{index}"]
        lines += [f"at {before}"]
        if index:
            lines += [f"W{index - 1}.{color} -- W{index}.{color}" for color in ("black", "white", "bare")]
        else:
            lines += ["W0.black -- LP.3", "W0.white -- LP.neutral", "W0.bare -- LP.ground"]
        before = f"B{index}"
    last = f"W{len(cables) - 1}"
    lines += [f"L1 is lampholder {watts} W in {before}", f"at {before}"]
    lines += [f"{last}.black -- L1.hot", f"{last}.white -- L1.neutral"]
    return wired(fed(*lines))


def volts_at_the_lamp(circuit: Circuit) -> float:
    return settle(circuit, resting(circuit)).load_volts(circuit.load["L1"])


@quick
@given(
    st.integers(1, 200), st.integers(1, 200), st.sampled_from(["14/2 NM-B", "12/2 UF-B", "8/2 NM-B aluminum"])
)
def test_a_cable_cut_in_two_and_spliced_is_the_same_cable(one: int, other: int, kind: str) -> None:
    whole = volts_at_the_lamp(lamp_at(f"{kind} {one + other} ft"))
    cut = volts_at_the_lamp(lamp_at(f"{kind} {one} ft", f"{kind} {other} ft"))
    assert cut == pytest.approx(whole, rel=1e-12)


@quick
@given(st.integers(5, 150), st.sampled_from(["14/2 NM-B", "10/2 UF-B"]))
def test_twice_the_length_drops_twice_the_volts_of_a_small_load(feet: int, kind: str) -> None:
    here, short, long = (
        volts_at_the_lamp(lamp_at(f"{kind} {n} ft", watts=1)) for n in (1e-3, feet, 2 * feet)
    )
    assert here - long == pytest.approx(2 * (here - short), rel=1e-3)
