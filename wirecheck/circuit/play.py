"""A call played out in time: each event solves the network anew, contacts move, timers run.

Between two events nothing changes, so time jumps from one to the next. A move
(`control goes from A to B after T when ...`) is made when its state has stood
in an origin and its condition has held, both for T without a break.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Ending, Move
from wirecheck.circuit.settle import Settled, holds, resting, settle
from wirecheck.model.devices import callers

# Hours of furnace, seconds of work: nothing that the trade waits for takes longer than this.
MOST_SECONDS = 6 * 3600.0
MOST_EVENTS = 400
# So many rounds are played of what goes round and round.
ROUNDS = 2


class Act(NamedTuple):
    """What someone does: makes calls, moves a hand; then it is played to rest, or for `lasts` seconds.

    With `satisfied` a thermostat whose room has come to what it asks for ends its call by itself.
    """

    calls: frozenset[str] = frozenset()
    moved: tuple[tuple[str, str], ...] = ()
    lasts: float | None = None
    satisfied: bool = False


class Change(NamedTuple):
    """`kind` is call, satisfied, moves, runs, stops or opens; `was` and `now` are positions of what moves.

    A thermostat that is satisfied has in `was` the call that it ends.
    """

    kind: str
    name: str
    was: str
    now: str


class Step(NamedTuple):
    """What changed at one moment, `time` seconds after the first act, and the state after it."""

    time: float
    changes: tuple[Change, ...]
    settled: Settled


class Play(NamedTuple):
    """A whole play. `bounded` says that it found no rest: it goes round, or it is at a bound."""

    steps: tuple[Step, ...]
    bounded: bool

    @property
    def rest(self) -> Settled:
        """The last state."""
        return self.steps[-1].settled

    def started(self) -> dict[str, float]:
        """When each load first ran, in order of time."""
        times: dict[str, float] = {}
        for step in self.steps:
            for change in step.changes:
                if change.kind == "runs":
                    times.setdefault(change.name, step.time)
        return times


def play(
    circuit: Circuit,
    acts: Sequence[Act],
    fixed: Mapping[str, str] | None = None,
    most_seconds: float = MOST_SECONDS,
) -> Play:
    """Play acts one after another, each until nothing more happens.

    Parameters
    ----------
    acts : what is done; the first is done at time 0 to a board at rest.
    fixed : variables that stay where they are put, whatever would move them
        (a safety held open, a contact stuck closed).
    most_seconds : the bound on the time of each act.

    Returns
    -------
    The steps in order of time. The same acts give the same steps.
    """
    held = dict(fixed or {})
    positions = resting(circuit, held)
    counts: dict[tuple[str, str], int] = {}
    since: dict[int, float] = {}
    steps: list[Step] = []
    time = 0.0
    before: Settled | None = None
    bounded = False
    for act in acts:
        changes: list[Change] = []
        was = before.calls if before else frozenset()
        for call in sorted(act.calls - was):
            changes.append(Change("call", call, "off", "on"))
        for call in sorted(was - act.calls):
            changes.append(Change("call", call, "on", "off"))
        for name, value in act.moved:
            if name not in held and positions[name] != value:
                changes.append(Change("moves", name, positions[name], value))
                positions = positions | {name: value}
        calls = act.calls
        end = time + (act.lasts if act.lasts is not None else most_seconds)
        passed: dict[object, int] = {}
        for _ in range(MOST_EVENTS):
            circuit.work.spend(circuit.look)
            settled = settle(circuit, positions, calls, before, counts)
            changes += _changes(before, settled)
            if changes or not steps:
                steps.append(Step(time, tuple(changes), settled))
            before = settled
            due = _due(circuit, positions, settled, counts, since, time, held, act.satisfied)
            if due is None:
                break
            moment, moves, endings = due
            if moment > end:
                time = end
                bounded = act.lasts is None
                break
            time = max(time, moment)
            if act.lasts is None:
                # Where all of it comes round again, it goes on so for ever: two whole rounds show it.
                whole = _whole(positions, settled, counts, since, moment)
                passed[whole] = passed.get(whole, 0) + 1
                if passed[whole] > ROUNDS:
                    bounded = True
                    break
            changes = []
            positions = dict(positions)
            for move in moves:
                changes.append(Change("moves", move.variable, positions[move.variable], move.target))
                positions[move.variable] = move.target
                _count(circuit, counts, move)
            for ending in endings:
                calls = _without(calls, ending, circuit)
                changes.append(Change("satisfied", ending.scope, ending.call, ""))
            # What has moved waits anew; what was due after the act's end goes on waiting.
            gone = {move.variable for move in moves}
            since = {
                index: began
                for index, began in since.items()
                if index >= len(circuit.moves) or circuit.moves[index].variable not in gone
            }
        else:
            bounded = True
        if act.lasts is not None:
            time = end
    return Play(tuple(steps), bounded)


def _whole(
    positions: Mapping[str, str],
    settled: Settled,
    counts: Mapping[tuple[str, str], int],
    since: Mapping[int, float],
    time: float,
) -> object:
    """All that what comes next depends on: positions, counts, what is in or open, and how long moves wait."""
    waits = tuple((index, round(time - began, 6)) for index, began in sorted(since.items()))
    openings = tuple(opening.name for opening in settled.opened)
    return (
        tuple(positions.values()),
        frozenset(counts.items()),
        settled.running,
        settled.calls,
        openings,
        waits,
    )


def _count(circuit: Circuit, counts: dict[tuple[str, str], int], move: Move) -> None:
    """Count the entry; a state that is back where it begins forgets its counts."""
    if move.target == circuit.variables[move.variable].values[0]:
        for key in [key for key in counts if key[0] == move.variable]:
            del counts[key]
    else:
        key = (move.variable, move.target)
        counts[key] = counts.get(key, 0) + 1


def _changes(before: Settled | None, settled: Settled) -> Iterable[Change]:
    was = before.running if before else frozenset()
    for load in settled.circuit.loads:
        if load.name in settled.running and load.name not in was:
            yield Change("runs", load.name, "off", "on")
        elif load.name in was and load.name not in settled.running:
            yield Change("stops", load.name, "on", "off")
    known = {opening.name for opening in before.opened} if before else set()
    for opening in settled.opened:
        if opening.name not in known:
            yield Change("opens", opening.name, "closed", "open")


def _due(
    circuit: Circuit,
    positions: Mapping[str, str],
    settled: Settled,
    counts: Mapping[tuple[str, str], int],
    since: dict[int, float],
    time: float,
    held: Mapping[str, str],
    satisfied: bool,
) -> tuple[float, list[Move], list[Ending]] | None:
    """The next moment at which something moves, and what moves then: the first due move of each variable.

    And the calls that end then, where thermostats that are `satisfied` end them.
    """
    view = settled.view._replace(positions=positions, counts=counts)
    moments: dict[int, float] = {}
    for index, move in enumerate(circuit.moves):
        stands = positions.get(move.variable)
        if (
            move.variable in held
            or stands is None
            or stands == move.target
            or (move.origins and stands not in move.origins)
            or (move.when is not None and not holds(move.when, move.scope, view))
        ):
            since.pop(index, None)
            continue
        began = since.setdefault(index, time)
        moments[index] = began + move.after
    for index, ending in enumerate(circuit.endings if satisfied else (), len(circuit.moves)):
        if _makes(ending, settled.calls) and holds(ending.when, ending.scope, view):
            moments[index] = since.setdefault(index, time) + ending.after
        else:
            since.pop(index, None)
    if not moments:
        return None
    first = max(min(moments.values()), time)
    moves: dict[str, Move] = {}
    endings = []
    for index, moment in moments.items():
        if moment > first + 1e-9:
            continue
        if index < len(circuit.moves):
            moves.setdefault(circuit.moves[index].variable, circuit.moves[index])
        else:
            endings.append(circuit.endings[index - len(circuit.moves)])
    return first, list(moves.values()), endings


def _makes(ending: Ending, calls: frozenset[str]) -> bool:
    """Whether a thermostat makes the call that what it senses ends."""
    return not calls.isdisjoint((ending.call, f"{ending.scope}.{ending.call}"))


def _without(calls: frozenset[str], ending: Ending, circuit: Circuit) -> frozenset[str]:
    """The calls that are left once a thermostat has ended its own; what others call by that name goes on."""
    own, left = f"{ending.scope}.{ending.call}", calls - {ending.call, f"{ending.scope}.{ending.call}"}
    if ending.call not in calls:
        return left
    makers = callers(circuit.board).get(ending.call, ())
    return left | {f"{maker}.{ending.call}" for maker in makers if f"{maker}.{ending.call}" != own}
