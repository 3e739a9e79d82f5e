"""A call ends, and what it ran stops in another order than it should, or never.

On a pump-down the thermostat has the liquid solenoid and nothing else. When it is satisfied the solenoid
shuts, the compressor runs on until it has drawn the evaporator empty, and the low-pressure control stops it.
A thermostat that has the compressor too leaves the liquid in the evaporator, where it waits for the next
start. A control that something goes around never stops the compressor.

Source: the board's own `expect` lines; common practice for a pump-down
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.play import ROUNDS, Act, Play, play
from wirecheck.judge import calls
from wirecheck.judge.case import PLAYS_SHARE, Case
from wirecheck.judge.judged import judged
from wirecheck.judge.problem import Problem, Spot, Words
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shown
from wirecheck.language.syntax import ExpectEnd
from wirecheck.model.devices import in_turn


class OfEnd(Problem):
    """What is wrong with some loads once the calls of a line have ended."""

    line: ExpectEnd
    loads: tuple[Load, ...]


class NotOn(OfEnd):
    """They do not run when the calls end, and no other line says that they run them."""


class NeverStops(OfEnd):
    """They run when the calls end, and run on, or start again and again."""


class StopsTooSoon(OfEnd):
    """They stop `stops` seconds after the calls end, and not later than `first` does (`first_stops`)."""

    stops: float
    first: Load
    first_stops: float


Kind = NotOn | NeverStops | StopsTooSoon


def find(case: Case) -> Iterator[Kind]:
    """What of each line does not stop as the line says."""
    lines = [line for line in case.board.expectations if isinstance(line, ExpectEnd)]
    yield from judged(case, lines, _of_line)


def _of_line(case: Case, line: ExpectEnd) -> Iterator[Kind]:
    stops = _stops(case, line)
    steps = [(load, then) for word, then in line.steps if (load := case.circuit.load.get(word.text))]
    loads = dict.fromkeys(load for load, _ in steps)
    off = tuple(one for one in loads if one.name not in stops and not _asked(case, line, one))
    on = tuple(one for one in loads if one.name in stops and stops[one.name] is None)
    if off:
        yield NotOn(**_told(case, line, off))
    if on:
        yield NeverStops(**_told(case, line, on))
    for before, group in itertools.pairwise(_groups(steps)):
        first = max(before, key=lambda one: stops.get(one.name) or 0.0)
        sooner = stops.get(first.name)
        together: dict[float, list[Load]] = {}
        for load in group:
            later = stops.get(load.name)
            if sooner is not None and later is not None and later <= sooner:
                together.setdefault(later, []).append(load)
        for later, early in together.items():
            told = _told(case, line, tuple(early))
            yield StopsTooSoon(**told, stops=later, first=first, first_stops=sooner or 0.0)


def _groups(steps: list[tuple[Load, bool]]) -> list[list[Load]]:
    """What stops in any order, group by group: a `then` begins the next."""
    groups: list[list[Load]] = [[]]
    for load, then in steps:
        if then and groups[-1]:
            groups.append([])
        groups[-1].append(load)
    return groups


def _told(case: Case, line: ExpectEnd, loads: tuple[Load, ...]) -> dict[str, Any]:
    """What is said of each of them."""
    word = next(word for word, _ in line.steps if case.circuit.load.get(word.text) is loads[0])
    return {
        "at": Spot(word.span, line),
        "about": loads[0],
        "severity": "fault",
        "stage": "final",
        "copper": frozenset(case.uses.piece[end] for load in loads for end in load.ends),
        "line": line,
        "loads": loads,
    }


def _asked(case: Case, line: ExpectEnd, load: Load) -> bool:
    """Whether a line says that the same calls run it: then that line tells why it does not."""
    made = {word.text for word in line.calls}
    return any(set(calls.made(one)) == made and load in calls.wanted(case, one) for one in calls.asked(case))


def _stops(case: Case, line: ExpectEnd) -> dict[str, float | None]:
    """What of a line runs when its calls end, or after it: when it stops, in seconds from then, or None."""
    made = in_turn(case.board, (word.text for word in line.calls))
    with case.work.share(PLAYS_SHARE):
        run = play(case.circuit, [Act(), *map(Act, made), Act()])
    last = max(at for at, step in enumerate(run.steps) if step.settled.calls)
    named = {load.name for word, _ in line.steps if (load := case.circuit.load.get(word.text))}
    ran = frozenset[str]().union(*(step.settled.running for step in run.steps[last:]))
    return {name: _stop(run, last, name) for name in ran & named}


def _stop(run: Play, last: int, name: str) -> float | None:
    """When a load stops for good after the step in which the calls stood last."""
    after = run.steps[last + 1 :]
    on = [name in step.settled.running for step in after]
    again = sum(now and not before for before, now in itertools.pairwise(on))
    if not after or on[-1] or again >= ROUNDS:
        return None
    still = max((at for at, running in enumerate(on) if running), default=-1)
    return after[still + 1].time - after[0].time


def words(problem: Kind, case: Case) -> Words:
    """What stops too soon or never, and where to look."""
    named = " and ".join(word.text for word in problem.line.calls)
    loads = listed(load.name for load in problem.loads)
    does, stop = ("does", "stops") if len(problem.loads) == 1 else ("do", "stop")
    it, its = ("it", "its") if len(problem.loads) == 1 else ("them", "their")
    when, source = f"When the call for {named} ends,", "the board's expect line"
    match problem:
        case NotOn():
            return Words(
                message=f"{when} {loads} {does} not run: there is nothing to stop.",
                help=f"Say what the call runs, as: expect {named} runs {problem.loads[0].name}. That line "
                "finds where the path to it stops.",
                source=source,
            )
        case NeverStops():
            return Words(
                message=f"{when} {loads} never {stop}.",
                help=f"Follow the feed of {problem.loads[0].name}, or of the coil that switches it, back to "
                "its source. Something goes around the control that should stop it.",
                source=source,
            )
        case StopsTooSoon(first=first, stops=stops, first_stops=first_stops):
            after = shown(stops, "time", beside=first_stops)
            look = (
                f"What makes the call should have {first.name} and nothing else. {loads} should have {its} "
                f"feed past it, through the control that stops {it} later."
            )
            if stops == first_stops:
                seen = f"{loads} {stop} in the same moment as {first.name}"
            else:
                seen = f"{loads} {stop} after {after}, and {first.name} only after "
                seen += shown(first_stops, "time", beside=stops)
                look = "Look at what opens each of the two, and at the order in which the line has them."
            return Words(
                message=f"{when} {seen}. {loads} should run on, and stop after {first.name}.",
                help=look,
                source=source,
            )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
