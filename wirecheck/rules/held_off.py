"""A call that should take over from another never gets its turn: what the other runs holds it off.

A defrost clock opens a contact of its own in a defrost, so that the compressor pumps down and the heaters may
come on. A thermostat that is fed around that contact keeps the compressor on, and the coil ices up.

Source: common practice: a defrost clock ends refrigeration before its heaters come on
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.play import Play
from wirecheck.circuit.settle import Settled
from wirecheck.judge import calls
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.swaps import Misplaced, made, to_empty
from wirecheck.language.listing import listed
from wirecheck.model.board import Device


class HeldOff(Problem):
    """`call`, which `maker` makes, runs `loads` alone, and does not while `other` is called.

    `swap` is the wire that would let them run, put on an empty screw, if there is one.
    """

    call: str
    maker: Device
    other: str
    loads: tuple[Load, ...]
    swap: Misplaced | None


def find(case: Case) -> Iterator[HeldOff]:
    """Each call that opens a contact of its own device, and that another call holds off all the same."""
    told: set[str] = set()
    for other, call in case.pairs[0]:
        loads = () if call in told or not _takes_over(case, call) else _held_off(case, other, call)
        if not loads:
            continue
        told.add(call)
        maker = case.circuit.devices[case.callers[call][0]]
        machines = {case.circuit.around[one.device][0].name: None for one in loads} | {maker.outer: None}
        swap = _mends(case, other, call, loads, machines)
        yield HeldOff(
            at=spot(swap.join if swap else case.circuit.around[loads[0].device][0]),
            about=loads[0],
            severity="fault",
            stage="final",
            copper=frozenset(case.uses.piece[end] for load in loads for end in load.ends),
            call=call,
            maker=maker,
            other=other,
            loads=loads,
            swap=swap,
        )


def _takes_over(case: Case, call: str) -> bool:
    """Whether what makes a call opens a contact of its own with it: it is there to end something."""
    maker = case.callers[call][0]
    closed = [step.settled.closed for step in case.played([call]).steps]
    own = (one.name for one in case.circuit.contacts if one.scope == maker)
    return any(name in closed[0] and any(name not in then for then in closed) for name in own)


def _held_off(case: Case, other: str, call: str) -> tuple[Load, ...]:
    """What does work for a call alone, and never once it is made while the other call stands."""
    alone, together = case.played([call]), case.played((other, call))
    if together.bounded or any(one.opened for one in _called(together, call)):
        return ()
    ran = frozenset[str]().union(*(one.running for one in _called(together, call)))
    return _working(case, calls.begins(alone).keys() - ran)


def _called(play: Play, call: str) -> Iterator[Settled]:
    """The states of a play in which a call is made."""
    return (step.settled for step in play.steps if call in step.settled.calls)


def _working(case: Case, names: Collection[str]) -> tuple[Load, ...]:
    """Those of some loads that do work, in order of the text."""
    return tuple(load for load in case.circuit.loads if load.name in names and load.kind in calls.WORKING)


def _mends(
    case: Case, other: str, call: str, loads: tuple[Load, ...], machines: Iterable[str]
) -> Misplaced | None:
    """The wire that, on an empty screw of one of the machines, lets the loads run, and the other call too."""
    before = [case.played(those).rest.running for those in ([], [other])]
    for name in machines:
        for swap in to_empty(case, case.board.devices[name]):
            tried = made(case, swap)
            run = calls.begins(tried.played([call])).keys()
            if (
                run >= {load.name for load in loads}
                and not _held_off(tried, other, call)
                and [tried.played(those).rest.running for those in ([], [other])] == before
                and calls.all_right(tried)
            ):
                return swap
    return None


def words(problem: HeldOff, case: Case) -> Words:
    """What does not run, and why; the wire to move, or where it should be fed."""
    names = [load.name for load in problem.loads]
    message = (
        f"While {problem.other} is called, {problem.call} does not run {listed(names)}. What "
        f"{problem.other} runs should stop first, and goes on."
    )
    guess = ""
    if problem.swap is not None:
        wire, here, there = problem.swap.member.name, problem.swap.here.name, problem.swap.meant.name
        guess = f"{wire} is on {here}. It belongs on {there}."
        remedy = f"Move {wire} from {here} to {there}."
    else:
        remedy = (
            f"Feed what {problem.other} runs through the contact of {problem.maker.name} that opens when "
            f"{problem.call} is called."
        )
    return Words(message=message, help=remedy, source="common practice", guess=guess)


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
