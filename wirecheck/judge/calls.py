"""What a board's `expect` lines want its calls to run, and what does run when the calls are made."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.play import Play
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.sequences import of_one_sequence, waits_for
from wirecheck.judge.systems import together
from wirecheck.language.listing import listed
from wirecheck.language.syntax import ExpectFrom, ExpectRuns, ExpectStops
from wirecheck.model.devices import callers

# What a call is for: the loads that do the work, not the coils and boards that steer them.
WORKING = ("motor", "heater", "igniter", "lamp", "valve", "bell")


@question
def asked(case: Case) -> tuple[ExpectRuns, ...]:
    """The lines that say what calls run, in order of the text."""
    return tuple(one for one in case.board.expectations if isinstance(one, ExpectRuns))


def made(expectation: ExpectRuns) -> tuple[str, ...]:
    """The calls that a line is about; none for `idle`."""
    return tuple(word.text for word in expectation.calls if word.text != "idle")


def named(expectation: ExpectRuns) -> str:
    """The calls of a line as it names them."""
    return " and ".join(word.text for word in expectation.calls)


def all_named(lines: Sequence[ExpectRuns]) -> str:
    """The calls of several lines, after what is said of them: "for heat and fan".

    Calls that one line makes at once are told as one: "for heat and fan together, and for cool".
    """
    told = [f"{named(line)} together" if len(line.calls) > 1 else named(line) for line in lines]
    if all(len(line.calls) <= 1 for line in lines):
        return f"for {listed(told)}"
    *rest, last = (f"for {one}" for one in told)
    return f"{', '.join(rest)}, and {last}" if rest else last


def when_called(expectation: ExpectRuns) -> str:
    """With which calls something is so, as a sentence begins."""
    return f"With {' and '.join(made(expectation)) or 'nothing'} called"


def played(case: Case, expectation: ExpectRuns) -> Play:
    """The play of a line's calls."""
    return case.played(made(expectation))


def wanted(case: Case, expectation: ExpectRuns) -> tuple[Load, ...]:
    """The loads that a line wants to run, in its order."""
    loads = (case.circuit.load.get(word.text) for word, _ in expectation.steps)
    return tuple(load for load in loads if load is not None)


def _alike(case: Case, expectation: ExpectRuns) -> tuple[ExpectRuns, ...]:
    """The lines for the same calls, in order of the text: what one of them names, the others leave to it.

    One that says that nothing runs stands by itself.
    """
    lines = (line for line in asked(case) if made(line) == made(expectation) and line.steps)
    return tuple(lines) or (expectation,) if expectation.steps else (expectation,)


def missing(case: Case, expectation: ExpectRuns) -> tuple[Load, ...]:
    """The loads that a line wants to run and that its calls do not run."""
    run = runs(played(case, expectation))
    return tuple(load for load in wanted(case, expectation) if load.name not in run)


def extra(case: Case, expectation: ExpectRuns) -> tuple[Load, ...]:
    """The loads that do work in a line's calls and are not wanted there.

    What runs with no call, or should, is held against the line for `idle` alone, where there is one, and
    against one that says that a call stops it. A line may name some steps of a machine's sequence: the others
    of it belong to them, unless it leaves out what a line for fewer of its calls names. What shares no more
    than a panel with the calls is none of their business, nor is what ran before them and stops with them,
    even if it comes back while they last, as behind a clock that ends a defrost. Nor is a light that runs
    with no call and has a line for its own switch. Of several lines for the same calls the first stands for
    all.
    """
    lines = _alike(case, expectation)
    if expectation in lines[1:]:
        return ()
    named_there, called = [load for line in lines for load in wanted(case, line)], made(expectation)
    allowed = {load.name for load in named_there} | _stopped(played(case, expectation))
    uncalled = case.played([]).started().keys()
    if made(expectation):
        resting = [line for line in asked(case) if not made(line)]
        stops = {word.text for line in _stopping(case, called) for word in line.loads}
        allowed |= {load.name for line in resting for load in wanted(case, line)} - stops
        allowed |= uncalled if resting else frozenset()
    allowed |= uncalled & {line.load.text for line in case.board.expectations if isinstance(line, ExpectFrom)}
    ran = (case.circuit.load[name] for name in played(case, expectation).started() if name not in allowed)
    working = (
        load
        for load in ran
        if load.kind in WORKING and "standby" not in load.flags and not _apart(case, load, expectation)
    )
    return tuple(
        load
        for load in working
        if not called
        or not any(of_one_sequence(case, load, one, called) for one in named_there)
        or _left_out(case, load, expectation)
    )


def _stopping(case: Case, called: Sequence[str]) -> Iterator[ExpectStops]:
    """The lines that say what some calls stop."""
    for line in case.board.expectations:
        if isinstance(line, ExpectStops) and line.safety.text in called:
            yield line


def _apart(case: Case, load: Load, expectation: ExpectRuns) -> bool:
    """Whether a load runs with no call and has a panel in common with a line, and nothing else.

    A water heater that hangs on the subpanel of a heater with its thermostat goes by its own.
    """
    piece, makers = _pieces(case), callers(case.board)
    named = [word for word in expectation.calls if word.text in makers]
    names = {name for word in named for name in makers[word.text]}
    names |= {one.device for line in _alike(case, expectation) for one in wanted(case, line)}
    around = case.circuit.devices
    mine = {piece[around[name].outer] for name in names}
    return (
        bool(made(expectation) and mine)
        and piece[around[load.device].outer] not in mine
        and load.name in case.played([]).started()
    )


@question
def _pieces(case: Case) -> dict[str, str]:
    """What hangs together by more than a panel or a subpanel."""
    return together(case.board, case.board.panels)


def _left_out(case: Case, load: Load, expectation: ExpectRuns) -> bool:
    """Whether a line for fewer of the calls wants something that waits for the same, and this one nothing."""
    called = frozenset(made(expectation))
    fewer = [line for line in asked(case) if frozenset(made(line)) < called and made(line)]
    return (
        bool(fewer)
        and _wants_alike(case, load, fewer)
        and not _wants_alike(case, load, _alike(case, expectation))
    )


def _wants_alike(case: Case, load: Load, lines: Iterable[ExpectRuns]) -> bool:
    """Whether a line wants a load of the same machine that waits for the same."""
    around, waits = case.circuit.devices, waits_for(case, load)
    return any(
        around[one.device].outer == around[load.device].outer and waits_for(case, one) == waits
        for line in lines
        for one in wanted(case, line)
    )


def unmoved(case: Case, expectation: ExpectRuns) -> tuple[Load, ...]:
    """The loads that a line wants to run, where they all run before its calls and run on: they do nothing.

    A line for `idle` says what should run so.
    """
    loads = wanted(case, expectation)
    if not made(expectation) or not all(map(made, asked(case))):
        return ()
    moments = _moments(played(case, expectation))
    return loads if all(load.name in running for load in loads for _, running in moments) else ()


def all_right(case: Case) -> bool:
    """Whether every call runs what it should, and nothing else."""
    return not any(missing(case, line) or extra(case, line) or unmoved(case, line) for line in asked(case))


def runs(run: Play) -> frozenset[str]:
    """The loads that calls run: those that begin in them, and those that ran before and never stop.

    What runs before a call and stops with it is not run by it.
    """
    return frozenset.intersection(*(running for _, running in _moments(run))) | begins(run).keys()


def begins(run: Play) -> dict[str, float]:
    """When each load begins to run for a call, in seconds from it.

    What runs before the call and does not stop has no such moment, and what runs for less than a
    moment has not begun.
    """
    told: dict[str, float] = {}
    for (_, before), (time, now) in itertools.pairwise(_moments(run)):
        if time >= 0:
            for name in now - before:
                told.setdefault(name, time)
    return told


def _stopped(run: Play) -> frozenset[str]:
    """The loads that run before the first call and stop at once, or stop in it and run again in it."""
    moments = [running for _, running in _moments(run)]
    if len(moments) < 2:
        return frozenset()
    before, at_once = moments[:2]
    return before & (begins(run).keys() | before - at_once)


def _moments(run: Play) -> list[tuple[float, frozenset[str]]]:
    """What runs at each moment from the first call on, in seconds from it, after what ran before it."""
    moments: list[tuple[float, frozenset[str]]] = []
    called: float | None = None
    for step in run.steps:
        if step.settled.calls and called is None:
            called = step.time
            moments = [(-1.0, moments[-1][1] if moments else frozenset())]
        if moments and moments[-1][0] == step.time - (called or 0.0):
            moments.pop()
        moments.append((step.time - (called or 0.0), step.settled.running))
    return moments
