"""What a call starts stops again in the same moment, every time: it never does its work.

A control ends what it began when something tells it that the work is done. Where that has power from the
beginning, a defrost ends before the heaters are warm, and the coil ices up.

Source: common practice: what ends a call's work gets power when the work is done, and not before
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Move
from wirecheck.circuit.play import Play, Step
from wirecheck.circuit.settle import holds
from wirecheck.judge import calls, swap_words
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.question import question
from wirecheck.judge.rule import rule
from wirecheck.judge.swaps import Misplaced, made, onto_empty
from wirecheck.language.conditions import words as condition_words
from wirecheck.language.listing import listed
from wirecheck.language.syntax import HasVoltage, Runs


class EndsAtOnce(Problem):
    """`call` starts `loads`, and `move` stops them in the same moment.

    `swap` is the wire that would let them run, put on an empty screw of the device that it comes from,
    if there is one.
    """

    call: str
    loads: tuple[Load, ...]
    move: Move
    swap: Misplaced | None


class _Ended(NamedTuple):
    """What stops loads: what moved, and the point from which that was told to."""

    move: Move
    point: str | None


def find(case: Case) -> Iterator[EndsAtOnce]:
    """For each call what it starts and stops in one moment, if nothing ever runs that for longer."""
    for call in case.heard:
        play = case.played([call])
        loads = _flashing(case, play)
        ended = _ended(loads[0], play) if loads else None
        if ended is None:
            continue
        swap = _mends(case, call, loads, ended)
        join = swap.join if swap else join_at(case, ended.point) if ended.point else None
        yield EndsAtOnce(
            at=spot(join or case.circuit.around[ended.move.scope][0]),
            about=loads[0],
            severity="fault",
            stage="final",
            copper=frozenset(case.uses.piece[end] for load in loads for end in load.ends),
            call=call,
            loads=loads,
            move=ended.move,
            swap=swap,
        )


def _flashing(case: Case, play: Play) -> tuple[Load, ...]:
    """What does work in a play for no time at all, and in no other play or position either."""
    steps = [step.settled for step in play.steps]
    ran = frozenset[str]().union(*(one.running for one in steps)) - _lasting(play)
    working = [load for load in case.circuit.loads if load.name in ran and load.kind in calls.WORKING]
    if not working or any(one.opened for one in steps):
        return ()
    return tuple(load for load in working if load.name not in _works(case))


def _lasting(play: Play) -> frozenset[str]:
    """What runs in a play for longer than a moment."""
    last = [one.settled.running for one, other in itertools.pairwise(play.steps) if other.time > one.time]
    return play.rest.running.union(*last)


@question
def _works(case: Case) -> frozenset[str]:
    """What runs for longer than a moment: in some position of the switches, in a call, or in two."""
    plays = (case.played(made) for made in (*([call] for call in case.heard), *case.pairs[0]))
    standing = (one.running for one in case.survey.states)
    return frozenset[str]().union(*standing, *map(_lasting, plays))


def _ended(load: Load, play: Play) -> _Ended | None:
    """What moved as a load stopped that it had made run."""
    for before, step in itertools.pairwise(play.steps):
        if load.name in before.settled.running and load.name not in step.settled.running:
            for change in step.changes:
                for move in step.settled.circuit.moves if change.kind == "moves" else ():
                    if (move.variable, move.target) == (change.name, change.now) and (
                        move.when is not None and holds(move.when, move.scope, before.settled.view)
                    ):
                        return _Ended(move, _told_from(move, play, before))
    return None


def _told_from(move: Move, play: Play, step: Step) -> str | None:
    """Of the two points whose volts a move waits for, the one that got its own with the call."""
    circuit, rest = step.settled.circuit, play.steps[0].settled
    match move.when:
        case Runs():
            load = circuit.load[move.when.named(move.scope)]
            points = load.a, load.b
        case HasVoltage(terminal, _, reference):
            points = f"{move.scope}.{terminal.text}", f"{move.scope}.{reference.text}"
        case _:
            return None

    def changed(point: str) -> float:
        node = circuit.node[point]
        return abs(step.settled.volts[node] - rest.volts[node])

    return max(points, key=changed)


def _mends(case: Case, call: str, loads: tuple[Load, ...], ended: _Ended) -> Misplaced | None:
    """The screw on that copper whose wire, put on an empty screw of the same device, lets the loads run."""
    here = case.uses.piece.get(ended.point or "")
    for terminal in case.board.terminals.values() if here is not None else ():
        if case.uses.piece[terminal.name] == here and terminal.name != ended.point:
            for swap in onto_empty(case, terminal):
                tried = made(case, swap)
                run = _lasting(tried.played([call]))
                if (
                    run.issuperset(load.name for load in loads)
                    and tried.played([]).rest.running == case.played([]).rest.running
                    and calls.all_right(tried)
                ):
                    return swap
    return None


def words(problem: EndsAtOnce, case: Case) -> Words:
    """What stops as it starts, what stops it, and the wire to move."""
    names = [load.name for load in problem.loads]
    move = problem.move
    assert move.when is not None
    stop, they = ("stops", "it") if len(names) == 1 else ("stop", "they")
    start = "starts" if len(names) == 1 else "start"
    why = condition_words(move.when, move.scope)
    message = (
        f"With {problem.call} called, {listed(names)} {stop} in the moment that {they} {start}: "
        f"{move.variable} goes to {move.target} at once, because {why} from the beginning."
    )
    guess = ""
    if problem.swap is not None:
        guess = swap_words.seen(problem.swap)
        remedy = swap_words.remedy(problem.swap)
    else:
        remedy = f"Find why {why} so soon. That should come only when the work is done."
    return Words(message=message, help=remedy, source="common practice", value=0.0, unit="s", guess=guess)


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
