"""A load gets its power by way of a motor's run capacitor.

Beyond a run capacitor is the start winding, whose volts are neither those of the line nor in step with it. A
fan or a coil there takes the start winding's current away from it: the compressor starts hard and runs hot,
and the load has volts that it is not made for.

Source: common practice: beyond its run capacitor is the start winding alone
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge.case import Case
from wirecheck.judge.lasting import lasting
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs

# What belongs beside a start winding: a winding, and the coil that feels its volts.
BESIDE = {"winding", "auxiliary", "senses"}


class Behind(Problem):
    """A load with an end on the start winding's side of `capacitor`, in a state that lasts."""

    load: Load
    capacitor: Load
    winding: Load
    state: Settled


def find(case: Case) -> Iterator[Behind]:
    """Each load that draws, where calls and buttons end."""
    windings = [load for load in case.circuit.loads if "auxiliary" in load.flags]
    capacitors = [load for load in case.circuit.loads if load.kind == "capacitor"]
    if not windings or not capacitors:
        return
    for load in case.circuit.loads:
        if load.kind == "capacitor" or BESIDE & load.flags:
            continue
        # A motor whose own leads are exchanged is another mistake.
        others = [winding for winding in windings if winding.device != load.device]
        found = next(_behind(case, load, others, capacitors), None)
        if found is not None:
            yield found


def _behind(case: Case, load: Load, windings: list[Load], capacitors: list[Load]) -> Iterator[Behind]:
    """The states in which it draws from where a capacitor meets a start winding, and no supply."""
    node = case.circuit.node
    for state in (one.first or one for one in lasting(case)):
        if not state.load_amps(load):
            continue
        piece = copper(state)
        supply = {piece[0], *(piece[node[leg]] for leg in legs(case))}
        for end in load.ends:
            there = piece[node[end]]
            winding, capacitor = (
                next((one for one in some if there in {piece[node[each]] for each in one.ends}), None)
                for some in (windings, capacitors)
            )
            if there not in supply and winding is not None and capacitor is not None:
                yield Behind(
                    at=spot(join_at(case, end) or case.circuit.around[load.device][0]),
                    about=load,
                    severity="fault",
                    stage="final",
                    copper=frozenset(case.uses.piece[each] for each in load.ends),
                    load=load,
                    capacitor=capacitor,
                    winding=winding,
                    state=state,
                )


def words(problem: Behind, case: Case) -> Words:
    """What it has there, and where it belongs."""
    name, capacitor, winding = problem.load.name, problem.capacitor.name, problem.winding.name
    return Words(
        message=f"{name} gets its power by way of {capacitor}{case.when(problem.state, name)}, beside the "
        f"start winding {winding}. It has not the volts of the line there, and takes from the current of "
        f"{winding}.",
        help=f"Bring {name} to the line on the other side of {capacitor}: here belongs {winding} alone.",
        source="common practice: beyond its run capacitor is the start winding alone",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
