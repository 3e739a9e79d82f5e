"""A start winding is on the line for good, with no run capacitor in its way, or its run capacitor drops out.

A run capacitor holds the current of a start winding down and out of step with the run winding's. Without one,
the winding stands the line for the seconds of a start, until a start relay takes it out. Straight on the line
it overheats and burns, and the motor with it. Where a start relay takes the run capacitor out with the start
capacitor, the motor runs on its run winding alone: it draws more, has less strength, and gets hot.

Source: common practice: a start winding has a run capacitor in series, or a start relay; a start relay takes
out the start capacitor alone
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge.case import Case
from wirecheck.judge.lasting import lasting
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.ways import way
from wirecheck.language.quantity import volts
from wirecheck.model.board import Join


class Straight(Problem):
    """A start winding that has the line's volts by copper alone in a state that lasts."""

    winding: Load
    state: Settled


class DropsOut(Problem):
    """A start winding and its run `capacitor`, out in a state that lasts in which its `motor` runs."""

    winding: Load
    motor: Load
    capacitor: Load
    state: Settled


def find(case: Case) -> Iterator[Straight | DropsOut]:
    """Each start winding, where calls and buttons end, and in each position of the switches."""
    for load in case.circuit.loads:
        if "auxiliary" not in load.flags:
            continue
        state = next(_on_the_line(case, load), None)
        if state is None:
            yield from itertools.islice(_out(case, load), 1)
            continue
        yield Straight(
            at=spot(_where_it_is_fed(case, load) or case.circuit.around[load.device][0]),
            about=load,
            severity="hazard",
            stage="final",
            copper=frozenset(case.uses.piece[end] for end in load.ends),
            winding=load,
            state=state,
        )


def _out(case: Case, winding: Load) -> Iterator[DropsOut]:
    """The states that last in which its motor runs, and it is out with a run capacitor that was in."""
    motors = [one for one in case.circuit.loads if one.device == winding.device and one.kind == "motor"]
    capacitors = [
        one
        for one in case.circuit.loads
        if one.kind == "capacitor"
        and "starting" not in one.flags
        and any(one.name in state.running for state in case.states)
    ]
    for motor, state in itertools.product(motors, lasting(case) if capacitors else ()):
        state = state.first or state
        out = [one for one in capacitors if one.name not in state.running]
        if motor.name in state.running and winding.name not in state.running and out:
            yield DropsOut(
                at=spot(join_at(case, out[0].b) or case.circuit.around[out[0].device][0]),
                about=winding,
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[end] for end in winding.ends),
                winding=winding,
                motor=motor,
                capacitor=out[0],
                state=state,
            )


def _on_the_line(case: Case, winding: Load) -> Iterator[Settled]:
    """The states that last in which a winding is straight on the line."""
    yield from (state for one in lasting(case) if _is_straight(case, winding, state := one.first or one))
    for group in case.groups:
        for row in case.rows(group):
            # Only where it may be so are the switches played out, until a start relay has had its time.
            if row.moved and _is_straight(case, winding, row.settled):
                rest = case.standing(row.moved)
                if _is_straight(case, winding, state := rest.first or rest):
                    yield state


def _is_straight(case: Case, winding: Load, state: Settled) -> bool:
    """Whether a winding works, and each end has its own wire of the supply: no load is in the way."""
    if winding.name not in state.running:
        return False
    piece, node = copper(state), case.circuit.node
    supply = {piece[0], *(piece[node[leg]] for leg in legs(case))}
    one, other = (piece[node[end]] for end in winding.ends)
    return one != other and {one, other} <= supply


def _where_it_is_fed(case: Case, winding: Load) -> Join | None:
    """Where its wire comes to a capacitor's screw, or meets several; else the join at its lead."""
    screws = {end for load in case.circuit.loads if load.kind == "capacitor" for end in load.ends}
    back = way(case, [winding.a], legs(case))
    joins = back.joins if back is not None else ()
    meets = (join for join in joins if len(join.members) > 2 or not screws.isdisjoint(join.under))
    return next(meets, join_at(case, winding.a))


def words(problem: Straight | DropsOut, case: Case) -> Words:
    """What it has, and what belongs in its way."""
    name, state = problem.winding.name, problem.state
    if isinstance(problem, DropsOut):
        motor, capacitor = problem.motor.name, problem.capacitor.name
        return Words(
            message=f"{motor} runs{case.when(state, motor)}, and its start winding {name} is out, with the "
            f"run capacitor {capacitor}. It draws more than it should, and gets hot.",
            help=f"Join {capacitor} with {name} past the contact of the start relay: that takes out the "
            "start capacitor alone.",
            source="common practice: a run capacitor stays in as long as its motor runs",
        )
    present = volts(state.load_volts(problem.winding))
    return Words(
        message=f"{name} has {present}{case.when(state, name)}, straight from the line: no run capacitor is "
        "in its way, and no start relay takes it out. The start winding burns.",
        help=f"Feed {name} by way of its run capacitor, or of the contact of a start relay, which takes it "
        "out as the motor turns.",
        source="common practice: a start winding has a run capacitor in series, or a start relay",
    )


RULE = rule(__name__, "final", severities=("hazard", "fault"), find=find, words=words, of_ties=True)
