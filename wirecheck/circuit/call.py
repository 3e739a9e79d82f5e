"""One call from beginning to end: rest, the call made, its work, the call taken away, rest again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.play import MOST_EVENTS, MOST_SECONDS, Act, Play, Step, play
from wirecheck.circuit.settle import Settled
from wirecheck.model.devices import in_turn

# How long a call stands when all that it starts has started, where nobody says otherwise.
STANDS_ON = 60.0


class CallPlayed(NamedTuple):
    """The steps of a call, in seconds from the moment it was made.

    `before` is the board at rest; `ends` the moment at which the call is
    taken away, or None where it is not. `bound` says what stopped the play
    before it came to rest: `events`, `time`, or nothing. Where it was going
    round and round, `steps` ends with the first round, and `period` is how
    long one takes, in seconds.
    """

    calls: tuple[str, ...]
    fixed: Mapping[str, str]
    before: Settled
    steps: tuple[Step, ...]
    ends: float | None
    bound: str
    period: float | None = None

    @property
    def rest(self) -> Settled:
        """The last state."""
        return self.steps[-1].settled if self.steps else self.before


def play_call(
    circuit: Circuit,
    calls: Iterable[str],
    fixed: Mapping[str, str] | None = None,
    off_after: float | None = None,
) -> CallPlayed:
    """Play calls from rest to idle.

    Parameters
    ----------
    calls : the calls that are made: those of one device at once, those of another after them.
    fixed : variables that stay where they are put, as a safety held open.
    off_after : seconds from the last call being made to all being taken away; without it they stand until
        the room that a thermostat senses has come to what it asks for, or until nothing more happens, and a
        minute on.

    Returns
    -------
    Its steps. Where the call finds no rest by itself and `off_after` is not
    given, it is not taken away either, and `bound` says so.
    """
    made = tuple(dict.fromkeys(calls))
    stands = in_turn(circuit.board, made)
    acts = [Act(), *map(Act, stands)]
    if not made:
        return _told(made, dict(fixed or {}), play(circuit, acts, fixed))
    if off_after is None:
        reached = play(circuit, [*acts[:-1], acts[-1]._replace(satisfied=True)], fixed)
        if reached.bounded or not reached.rest.calls:
            return _told(made, dict(fixed or {}), reached)
        off_after = _since_the_last_call(reached) + STANDS_ON
    last = Act(stands[-1], (), off_after, satisfied=True)
    played = play(circuit, [*acts[:-1], last, Act()], fixed)
    return _told(made, dict(fixed or {}), played)


def _told(made: tuple[str, ...], fixed: dict[str, str], played: Play) -> CallPlayed:
    steps = _from_the_call(played) if made else list(played.steps)
    earlier = played.steps[: len(played.steps) - len(steps)]
    before = (earlier or played.steps)[-1].settled
    bound = "" if not played.bounded else "events" if len(steps) >= MOST_EVENTS else "time"
    period = None
    found = _round(steps) if bound else None
    if found is not None:
        start, length = found
        period = steps[start + length].time - steps[start].time
        steps = steps[: start + length]
        # A round is played twice, and would go on to the one bound or the other.
        bound = "events" if period * MOST_EVENTS < MOST_SECONDS * length else "time"
    ends = next((step.time for step in steps if _calls(step, "off") or _satisfied(step)), None)
    return CallPlayed(made, fixed, before, tuple(steps), ends, bound, period)


def _round(steps: list[Step]) -> tuple[int, int] | None:
    """Where a play begins to go round, and how many steps a round has; all that follows is held to it."""
    marks = [(step.changes, tuple(step.settled.positions.values()), step.settled.running) for step in steps]
    for length in range(1, len(steps) // 2 + 1):
        start = len(steps) - 2 * length
        if marks[start : start + length] != marks[start + length :]:
            continue
        # Back to where it began, as far as each step is the one a round later.
        while start > 0 and marks[start - 1] == marks[start - 1 + length]:
            start -= 1
        waits = [steps[i + length].time - steps[i].time for i in range(start, len(steps) - length)]
        if max(waits) - min(waits) < 1e-6:
            return start, length
    return None


def _from_the_call(played: Play) -> list[Step]:
    """The steps from the one in which the call is made, in seconds from it."""
    for index, step in enumerate(played.steps):
        if _calls(step, "on"):
            return [Step(each.time - step.time, each.changes, each.settled) for each in played.steps[index:]]
    return []


def _since_the_last_call(played: Play) -> float:
    """The seconds from the moment in which the last call is made to the last step."""
    return played.steps[-1].time - max(step.time for step in played.steps if _calls(step, "on"))


def _satisfied(step: Step) -> bool:
    """Whether thermostats have ended all the calls that were made."""
    return not step.settled.calls and any(change.kind == "satisfied" for change in step.changes)


def _calls(step: Step, now: str) -> bool:
    """Whether a call is made in a step, or taken away."""
    return any(change.kind == "call" and change.now == now for change in step.changes)
