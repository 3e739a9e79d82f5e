"""A call comes and goes, and what ran before it does not run again.

A thermostat holds the fans until the coil is cold. What makes the coil cold, the compressor or the liquid
solenoid, is fed behind it by mistake: it waits for the cold that it alone can bring. After the first defrost
the box stays warm. Nothing shows it before that.

Source: common practice: when a defrost ends, cooling goes on as before
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.play import Act, play
from wirecheck.circuit.settle import Settled
from wirecheck.circuit.work import WorkEnds
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import PLAYS_SHARE, Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed


class NoWayBack(Problem):
    """`loads` run with `call`, and not once `other` has come and gone; `stands` are controls that stay."""

    call: str
    other: str
    loads: tuple[Load, ...]
    stands: tuple[tuple[str, str], ...]


def find(case: Case) -> Iterator[NoWayBack]:
    """Of each two calls on a board whose controls sense something, the first that leaves the other undone."""
    told: set[frozenset[str]] = set()
    for pair in case.pairs[0] if case.board.sensed else ():
        for call, other in (pair, pair[::-1]):
            if frozenset(pair) in told:
                continue
            try:
                with case.work.share(PLAYS_SHARE):
                    found = _left_undone(case, call, other)
            except WorkEnds:
                case.leave("calls", (call, other))
                continue
            if found is not None:
                told.add(frozenset(pair))
                yield found


def _left_undone(case: Case, call: str, other: str) -> NoWayBack | None:
    """What a call runs that it does not run any more once another call has come and gone."""
    before = case.played([call])
    if before.bounded or before.rest.opened:
        return None
    one, both = frozenset([call]), frozenset([call, other])
    again = play(case.circuit, [Act(), Act(one), Act(both), Act(one)])
    lost = before.rest.running - again.rest.running
    loads = tuple(load for load in case.circuit.loads if load.name in lost and load.kind in WORKING)
    if again.bounded or again.rest.opened or not loads:
        return None
    stands = tuple(_moved(before.rest, again.rest, case))
    control = case.board.devices[stands[0][0]] if stands else case.circuit.around[loads[0].device][0]
    return NoWayBack(
        at=spot(control),
        about=loads[0],
        severity="fault",
        stage="final",
        copper=frozenset(case.uses.piece[end] for load in loads for end in load.ends),
        call=call,
        other=other,
        loads=loads,
        stands=stands,
    )


def _moved(before: Settled, after: Settled, case: Case) -> Iterator[tuple[str, str]]:
    """The controls that sense something and were moved, and stand elsewhere than before."""
    for name, stands in after.positions.items():
        moved = stands not in (before.positions[name], case.circuit.variables[name].values[0])
        if moved and name in case.board.sensed:
            yield name, stands


def words(problem: NoWayBack, case: Case) -> Words:
    """What does not run any more, and what stays where it is."""
    loads = listed(load.name for load in problem.loads)
    does = "does" if len(problem.loads) == 1 else "do"
    where: dict[str, list[str]] = {}
    for name, stands in problem.stands:
        where.setdefault(stands, []).append(name)
    why = listed(
        f"{listed(names)} {'stays' if len(names) == 1 else 'stay'} {stands}"
        for stands, names in where.items()
    )
    return Words(
        message=f"With {problem.call} called, {loads} {does} not run again once {problem.other} has come and "
        f"gone{f': {why}' if why else ''}.",
        help=_past(problem),
        source="common practice",
    )


def _past(problem: NoWayBack) -> str:
    """What to feed ahead of the controls that stay, where they are known."""
    if not problem.stands:
        return "Find what waits there for the very thing that it keeps from running, and feed that past it."
    controls = listed(name for name, _ in problem.stands)
    them = "it" if len(problem.stands) == 1 else "them"
    return f"Whatever moves {controls} back must not wait for {them}: feed that ahead of {controls}."


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
