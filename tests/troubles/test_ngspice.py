"""The volts of boards with faults in them, against ngspice, a general circuit simulator.

The fault is made a second time, in the list of the branches of the board without it: a branch is taken
out, or moved, or another is put in. Which contacts are closed, and what constant loads draw, is taken
from the state that is judged; the network of it is ngspice's to solve.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import pytest

from tests.circuit.spice import run_spice
from wirecheck import files
from wirecheck.assembly import assemble
from wirecheck.circuit.circuit import CONTACT_OHMS, Circuit, circuit
from wirecheck.circuit.fault import Broken, Exchanged, Fault, Off, Open, PoorJoint, Short
from wirecheck.circuit.machine import speeds
from wirecheck.circuit.network import (
    Branch,
    ConstantCurrent,
    ConstantPower,
    Impedance,
    Network,
    Transformer,
)
from wirecheck.circuit.phasor import MAGNETIZING
from wirecheck.circuit.settle import Settled, network
from wirecheck.faults.suspects import suspects
from wirecheck.judge.case import Case

BOARDS = sorted(path.parent.name for path in files.folder("boards").glob("*/right.wire"))
EVERY = 19
"""Every so manieth fault of a board, and the first."""


def faulty_states(name: str) -> Iterator[tuple[Circuit, Fault, Settled]]:
    """Some faults of a board, each in the end of the first call that the board has, or at rest."""
    _, board = assemble((files.folder("boards") / name / "right.wire").read_bytes())
    good = circuit(board)
    for suspect in islice(suspects(good), 0, None, EVERY):
        case = Case(board, None, (suspect.fault,))
        settled = case.standing({}, case.calls[:1])
        # A relay that finds no rest has no volts that stay.
        if not settled.chattering:
            yield good, suspect.fault, settled


def linear(branch: Branch, settled: Settled) -> Branch:
    """A branch as an impedance that draws what it does in the state; a winding with what magnetizes it.

    Without that a transformer that is open on both sides has no volts at all to ngspice.
    """
    if isinstance(branch, Transformer):
        return branch._replace(magnetizing_ohms=branch.ratio**2 * branch.ohms / MAGNETIZING)
    if not isinstance(branch, ConstantCurrent | ConstantPower):
        return branch
    volts = settled.volts[branch.a] - settled.volts[branch.b]
    amps = settled.amps[branch.name]
    return Impedance(branch.name, branch.a, branch.b, volts / amps if volts and amps else 1e12)


def second_time(good: Circuit, fault: Fault, settled: Settled) -> Network:
    """The network of the good board in that state, with the fault made in its branches."""
    whole = network(settled._replace(circuit=good, positions=settled.positions))
    load = {winding for one in good.loads for winding in (one.winding(k) for k in range(len(one.pairs)))}
    # A motor with its electronics in it burns out as one, whatever its speed.
    burns = {one.name: {one.name} for one in good.loads}
    burns |= {one.name: {each.name for each in loads} for loads in speeds(good).values() for one in loads}
    branches: list[Branch] = []
    for branch in whole.branches:
        name = branch.name
        wire = next((one for one in good.wires if one.conductor.name == name), None)
        match fault:
            case Off(end) if wire is not None and end in (wire.a, wire.b):
                continue
            case Broken(conductor) if name == conductor:
                continue
            case Open(burnt) if name == burnt or (
                name in load and good.load_of[name].name in burns.get(burnt, ())
            ):
                continue
            case PoorJoint(end, ohms) if wire is not None and end in (wire.a, wire.b):
                branch = branch._replace(ohms=branch.ohms + ohms)
            case Exchanged((one, other)) if wire is not None and {wire.a, wire.b} & {one, other}:
                now = {one: good.node[other], other: good.node[one]}
                a, b = (now.get(end, good.node[end]) for end in (wire.a, wire.b))
                branch = branch._replace(a=a, b=b)
        branches.append(branch)
    if isinstance(fault, Short) and good.node[fault.a] != good.node[fault.b]:
        ohms = max(fault.ohms, CONTACT_OHMS)
        branches.append(Impedance("short", good.node[fault.a], good.node[fault.b], ohms))
    return Network(good.nodes, tuple(branches))


def agree(states: list[tuple[Circuit, Fault, Settled]]) -> int:
    """Hold each screw of each state to ngspice's volts there; how many faults were."""
    networks = []
    for good, fault, settled in states:
        # What constant loads draw is taken from the state; a load may stand in it at other nodes.
        plan = second_time(good, fault, settled)
        told = {branch.name: branch for branch in network(settled).branches}
        made = []
        for branch in plan.branches:
            same = linear(told[branch.name], settled) if branch.name in told else branch
            ohms = isinstance(branch, ConstantCurrent | ConstantPower) and isinstance(same, Impedance)
            if isinstance(branch, Transformer):
                branch = linear(branch, settled)
            made.append(Impedance(branch.name, branch.a, branch.b, same.ohms) if ohms else branch)
        networks.append(Network(plan.nodes, tuple(made)))
    with tempfile.TemporaryDirectory() as folder:
        answers = run_spice(networks, Path(folder))
    held = 0
    for (good, fault, settled), (volts, _) in zip(states, answers, strict=True):
        earthed = {node for node, first in enumerate(settled.islands) if first == 0}
        for point, node in settled.circuit.node.items():
            # The metal of an end that is off, or behind a poor joint, is a node that the good board lacks.
            if point in ends(fault) or node not in earthed:
                continue
            mine, other = settled.volts[node], volts[good.node[point]]
            assert abs(mine - other) <= 2e-5 * abs(other) + 1e-4, (good.board.title, fault, point)
        held += 1
    return held


def ends(fault: Fault) -> tuple[str, ...]:
    match fault:
        case Off(end) | PoorJoint(end, _):
            return (end,)
        case Exchanged(both):
            return both
    return ()


@pytest.mark.ngspice
def test_some_faults_agree_with_ngspice() -> None:
    assert agree([state for name in BOARDS[::9] for state in islice(faulty_states(name), 3)])


@pytest.mark.slow
@pytest.mark.ngspice
def test_three_hundred_faults_agree_with_ngspice() -> None:
    assert agree([state for name in BOARDS for state in faulty_states(name)]) >= 300
