"""An electric heating element stays on when its blower has stopped.

Without air the element glows until its limit opens, at the end of each call, until the limit or the element
burns out. Of a sequencer's contacts the first to close is the last to open: it belongs to the blower.

Only elements and motors in one cabinet are looked at: a baseboard elsewhere needs no blower.

Source: NEC 424.63; common practice: the blower first on and last off
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import cast

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.circuit.play import Act, Play, play
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.voltages import is_line
from wirecheck.judge.ways import conducting, way
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shown


class NoAir(Problem):
    """After `call` the `heater` is on for `alone` seconds with `blowers`, which ran with it, at rest."""

    call: str
    heater: Load
    blowers: tuple[Load, ...]
    alone: float


def find(case: Case) -> Iterator[NoAir]:
    """Each element of a board of small parts that a call runs with a motor, once."""
    heaters = [load for load in case.circuit.loads if load.kind == "heater" and is_line(case, load.volts)]
    told: set[str] = set()
    for call in case.heard if heaters else ():
        running = case.played([call]).rest.running
        for heater in heaters:
            blowers = _with(case, heater, running)
            if heater.name not in running or heater.name in told or not blowers:
                continue
            alone = _alone(_ended(case, call), heater, blowers)
            if alone > 0:
                told.add(heater.name)
                yield NoAir(
                    at=_contact(case, heater, case.played([call]).rest),
                    about=heater,
                    severity="fault",
                    stage="final",
                    copper=frozenset((case.uses.piece[heater.a], case.uses.piece[heater.b])),
                    call=call,
                    heater=heater,
                    blowers=blowers,
                    alone=alone,
                )


def _with(case: Case, heater: Load, running: frozenset[str]) -> tuple[Load, ...]:
    """The motors in a heater's cabinet that run with it, where neither ran before the call."""
    idle, devices = case.standing({}).running, case.circuit.devices
    place = devices[heater.device].place
    if heater.name in idle or devices[heater.device].outer != heater.device:
        return ()
    return tuple(
        load
        for load in case.circuit.loads
        if load.kind == "motor" and load.name in running - idle and devices[load.device].place == place
    )


def _ended(case: Case, call: str) -> Play:
    """A call that is made, played to its rest, and ended."""
    key = (_ended, call)
    if key not in case.answers:
        case.answers[key] = play(case.circuit, [Act(), Act(calls=frozenset((call,))), Act()])
    return cast(Play, case.answers[key])


def _alone(ended: Play, heater: Load, blowers: tuple[Load, ...]) -> float:
    """For how long a heater runs on at the end of a call with none of some motors running."""
    last = max(index for index, step in enumerate(ended.steps) if step.settled.calls)
    after = ended.steps[last + 1 :]
    alone = 0.0
    for step, following in itertools.pairwise(after):
        running = step.settled.running
        if heater.name not in running:
            break
        if not any(blower.name in running for blower in blowers):
            alone += following.time - step.time
    return alone


def _contact(case: Case, heater: Load, rest: Settled) -> Spot:
    """Where the heater's wire is on the contact that the call closes."""
    idle = case.standing({}).closed
    for end in (heater.a, heater.b):
        back = way(case, [end], legs(case), conducting(rest))
        for near, of in zip(back.points, back.elements, strict=False) if back is not None else ():
            join = join_at(case, near)
            if isinstance(of, Contact) and of.name not in idle and join is not None:
                return spot(join)
    return spot(case.circuit.devices[heater.device])


def words(problem: NoAir, case: Case) -> Words:
    """How long the element is on without air, and which contact the blower belongs on."""
    heater = problem.heater.name
    blowers = listed(load.name for load in problem.blowers)
    stop = "stop" if len(problem.blowers) > 1 else "stops"
    return Words(
        message=f"When the call for {problem.call} ends, {blowers} {stop} and {heater} stays on for another "
        f"{shown(problem.alone, 'time')}. It glows without air.",
        help=f"Put {blowers} on the contact that closes first and opens last, and {heater} on the other.",
        source=case.code.section("fan of a duct heater"),
        value=problem.alone,
        limit=0.0,
        unit="s",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
