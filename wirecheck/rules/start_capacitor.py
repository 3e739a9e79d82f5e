"""A start capacitor stays in once the motor turns, or is never in.

It is made to carry current for a second or two. A start relay takes it out as the motor comes up to speed;
wired past the relay, or with the relay's coil where it sees no volts, it stays in, boils, and bursts. One
that is never in helps no motor to start.

Source: common practice: a start capacitor is rated for 3 s on in a minute
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.lasting import lasting
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import amps, volts


class StaysIn(Problem):
    """A start capacitor that carries current in a state that lasts."""

    capacitor: Load
    state: Settled


class NeverIn(Problem):
    """A start capacitor that carries no current in any state."""

    capacitor: Load


def find(case: Case) -> Iterator[StaysIn | NeverIn]:
    """Each start capacitor in the end of each call and of each button, with no call, and in all states."""
    capacitors = [
        load for load in case.circuit.loads if load.kind == "capacitor" and "starting" in load.flags
    ]
    if not capacitors:
        return
    for load in capacitors:
        state = next((one for one in lasting(case) if load.name in (one.first or one).running), None)
        join = join_at(case, load.b) or join_at(case, load.a)
        if state is None:
            if not any(load.name in (one.first or one).running for one in case.states):
                yield NeverIn(
                    at=spot(join or case.circuit.around[load.device][0]),
                    about=load,
                    severity="fault",
                    stage="final",
                    copper=frozenset(case.uses.piece[end] for end in load.ends),
                    capacitor=load,
                )
            continue
        yield StaysIn(
            at=spot(join or case.circuit.around[load.device][0]),
            about=load,
            severity="hazard",
            stage="final",
            copper=frozenset(case.uses.piece[end] for end in load.ends),
            capacitor=load,
            state=state.first or state,
        )


def words(problem: StaysIn | NeverIn, case: Case) -> Words:
    """What it carries, and where its relay belongs."""
    name = problem.capacitor.name
    if isinstance(problem, NeverIn):
        return Words(
            message=f"{name} is a start capacitor and is never in: it does not help its motor to start.",
            help=f"Put {name} between run and start of its motor, in series with the contact of its relay.",
            source="common practice",
        )
    state = problem.state
    return Words(
        message=f"{name} is a start capacitor and stays in{case.when(state, name)}: it carries "
        f"{amps(state.load_amps(problem.capacitor))} at {volts(state.load_volts(problem.capacitor))} without "
        "end. It boils and can burst.",
        help=f"Put {name} behind the contact of a start relay, which takes it out as the motor turns: the "
        "coil of a potential relay goes from start to common, that of a current relay into the line to run. "
        "Discharge the capacitor through a resistor before you touch it, and replace it: it is spent.",
        source="common practice: a start capacitor is rated for 3 s on in a minute",
    )


RULE = rule(__name__, "final", severities=("hazard", "fault"), find=find, words=words, of_ties=True)
