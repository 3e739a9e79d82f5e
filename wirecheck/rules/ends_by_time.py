"""What a call starts is ended by its time limit, though what should end it has had its say.

A defrost clock ends a defrost when the coil is warm; its fail-safe is for the day on which that fails. Where
the termination thermostat is wired so that its warm side brings the clock nothing, each defrost lasts until
the fail-safe, and the box gets warm.

Source: common practice: temperature ends a defrost, and the fail-safe only where that has failed
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wirecheck.circuit.by_itself import LED
from wirecheck.circuit.circuit import Move
from wirecheck.circuit.play import Play
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.conditions import words as condition_words
from wirecheck.language.quantity import minutes
from wirecheck.language.syntax import HasVoltage, Runs


class EndsByTime(Problem):
    """With `call` made, `by_time` ends what `move` should have ended once `control` had moved to `stands`."""

    call: str
    by_time: Move
    move: Move
    control: str
    stands: str


def find(case: Case) -> Iterator[EndsByTime]:
    """Each call whose play comes to a time limit after something that moves by itself has moved."""
    limits = list(_limits(case.circuit.moves))
    for call in case.heard if limits else ():
        for play in case.tried([call]):
            found = _by_time(case, play, limits)
            if found is not None:
                by_time, move, control, stands = found
                device = case.circuit.around[control][0]
                yield EndsByTime(
                    at=spot(device),
                    about=case.circuit.around[by_time.scope][0],
                    severity="fault",
                    stage="final",
                    copper=frozenset(
                        case.uses.piece[f"{device.name}.{end}"] for end in device.part.terminals
                    ),
                    call=call,
                    by_time=by_time,
                    move=move,
                    control=control,
                    stands=stands,
                )


def _limits(moves: Sequence[Move]) -> Iterator[tuple[Move, Move]]:
    """Each move by time alone, with each that goes the same way when its own wiring brings it power."""
    by_wiring: dict[tuple[str, str, str], list[Move]] = {}
    for move in moves:
        if isinstance(move.when, Runs | HasVoltage):
            by_wiring.setdefault((move.variable, move.target, move.scope), []).append(move)
    for move in moves:
        if move.when is None and move.after > 0:
            for other in by_wiring.get((move.variable, move.target, move.scope), ()):
                if {*other.origins} & {*move.origins}:
                    yield move, other


def _by_time(case: Case, play: Play, limits: list[tuple[Move, Move]]) -> tuple[Move, Move, str, str] | None:
    """The time limit that a play comes to, and what had moved by itself before that without an answer.

    Of several that moved it is the one whose wires lead to what should have ended it; else the last.
    """
    moved: dict[str, str] = {}
    since: dict[str, float] = {}
    for step in play.steps:
        changes = [change for change in step.changes if change.kind == "moves"]
        for by_time, move in limits:
            waited = step.time - since.get(by_time.variable, 0.0)
            ends = any((one.name, one.now) == (by_time.variable, by_time.target) for one in changes)
            if ends and moved and waited >= by_time.after:
                control = next((one for one in reversed(moved) if _leads_to(case, one, move)), [*moved][-1])
                return by_time, move, control, moved[control]
        for change in changes:
            since[change.name] = step.time
            if case.circuit.variables[change.name].moved_by not in LED and step.settled.calls:
                moved.pop(change.name, None)
                moved[change.name] = change.now
    return None


def _leads_to(case: Case, control: str, move: Move) -> bool:
    """Whether a contact of a control is on a wire to what a move waits for, and not on a feed of it."""
    circuit, piece = case.circuit, case.uses.piece
    coil = circuit.meant(move.when, move.scope) if isinstance(move.when, Runs) else None
    wired = {piece[end] for end in (coil.a, coil.b) if not case.uses.direct[piece[end]]} if coil else set()
    scope = circuit.variables[control].device
    own = (end for one in circuit.contacts if one.scope == scope for end in (one.a, one.b))
    return any(piece[end] in wired for end in own)


def words(problem: EndsByTime, case: Case) -> Words:
    """What ended it, what should have, and where to look."""
    limit, move, control = problem.by_time, problem.move, problem.control
    assert move.when is not None
    return Words(
        message=f"With {problem.call} called, {control} goes to {problem.stands} and nothing answers: "
        f"{limit.variable} goes to {limit.target} only after its time limit, {minutes(limit.after)}.",
        help=f"It should go there when {condition_words(move.when, move.scope)}. Follow the wire from "
        f"{control} to {move.scope}, and the feed of {control}: it must be live as long as {problem.call}.",
        look=f"Follow the wire from {control} to {move.scope}, with the power off, and the feed of "
        f"{control}, which must be live as long as {problem.call}.",
        source="common practice",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
