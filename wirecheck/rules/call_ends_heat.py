"""A call ends the heat that it should begin.

Of a defrost clock one side is closed between defrosts, for the solenoid and the fans, and the other in a
defrost, for the heaters. With the two exchanged the coil is heated all day, and cooled in a defrost: the
box is warm, and the ice stays.

Source: common practice: heaters that a coil's thermostat feels heat in the call of their clock, and at no
other time
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge import calls, made_up
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Device, Join


class EndsHeat(Problem):
    """`clock` starts none of `heaters` in `call`, though each runs in some state; `on` are on at rest."""

    heaters: tuple[Load, ...]
    on: tuple[Load, ...]
    call: str
    clock: Device


def find(case: Case) -> Iterator[EndsHeat]:
    """Each call that no line asks about, of a clock whose own coil ends it, where a heater is felt."""
    asked = {call for line in calls.asked(case) for call in calls.made(line)}
    felt = _felt(case) if case.board.sensed else []
    for call in case.heard if felt else ():
        clock = next((case.board.devices.get(name) for name in case.callers[call]), None)
        if clock is None or call in asked or not any(one.kind == "coil" for one in clock.part.loads):
            continue
        rest, steps = case.played([]).rest, [one.settled for one in case.played([call]).steps]
        begun = [settled for settled in steps if call in settled.calls]
        started = {name for settled in begun for name in settled.running - rest.running}
        if started.isdisjoint(load.name for load in felt):
            closed = rest.closed - frozenset.intersection(*(one.closed for one in begun))
            yield EndsHeat(
                at=spot(_line(case, clock, closed) or clock),
                about=clock,
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[end] for load in felt for end in load.ends),
                heaters=tuple(felt),
                on=tuple(load for load in felt if load.name in rest.running),
                call=call,
                clock=clock,
            )


def _felt(case: Case) -> list[Load]:
    """The heaters that a control of the board feels, and that have their volts in some state."""
    names = {name for one in case.board.sensed.values() for loads in one.loads.values() for name in loads}
    works = {name for state in case.states for name in state.running}
    return [one for one in case.circuit.loads if one.kind == "heater" and one.name in names & works]


def _line(case: Case, clock: Device, closed: frozenset[str]) -> Join | None:
    """The line of the screw that a clock takes the feed from in its call."""
    contacts = (one for one in case.circuit.contacts_in.get(clock.name, ()) if one.name in closed)
    return next((join for one in contacts if (join := made_up.join_at(case, one.b)) is not None), None)


def words(problem: EndsHeat, case: Case) -> Words:
    """What heats when it should not, and where its feed belongs."""
    names, clock, call = listed(load.name for load in problem.heaters), problem.clock.name, problem.call
    what = f"{clock} starts nothing that heats when it begins {call}"
    if problem.on:
        on = listed(load.name for load in problem.on)
        what = f"{on} {'runs' if len(problem.on) == 1 else 'run'} with no call, and {what}"
    return Words(
        message=f"{what}.",
        help=f"Feed {names} from the screw of {clock} that is live in {call}, and what should rest then from "
        "the other.",
        stands=True,
        source="common practice",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words)
