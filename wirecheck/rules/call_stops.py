"""A call that should stop something leaves it running.

In a defrost the evaporator's fans stand still, and no refrigerant comes: a fan that is fed past the clock
blows the heat and the steam of the coil into the box, and a solenoid that is fed past it cools what the
heaters heat.

Source: the board's own `expect` lines; common practice for defrost clocks
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.play import Play
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.judged import judged
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.syntax import ExpectStops


class RunsThrough(Problem):
    """`loads` run before the call of a line, with `other` called or nothing, and run on with it."""

    line: ExpectStops
    loads: tuple[Load, ...]
    other: str


def find(case: Case) -> Iterator[RunsThrough]:
    """For each line the first calls in which it does not stop what it should."""
    lines = [one for one in case.board.expectations if isinstance(one, ExpectStops)]
    yield from judged(case, [one for one in lines if one.safety.text in case.callers], _of_line)


def _of_line(case: Case, line: ExpectStops) -> Iterator[RunsThrough]:
    call = line.safety.text
    loads = [load for word in line.loads if (load := case.circuit.load.get(word.text)) is not None]
    for other in ("", *(one for one in case.heard if one != call)):
        moments = _moments(case.played([*([other] if other else []), call]), call)
        work = frozenset(load.name for load in case.circuit.loads if load.kind in WORKING)
        on = tuple(load for load in loads if _runs_through(load.name, moments, work))
        if on:
            join = join_at(case, on[0].a)
            yield RunsThrough(
                at=spot(join) if join is not None else Spot(line.span, line),
                about=on[0],
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[end] for load in on for end in load.ends),
                line=line,
                loads=on,
                other=other,
            )
            return


def _moments(run: Play, call: str) -> list[frozenset[str]]:
    """What runs before a call is made, and after each moment from then on."""
    made = next(at for at, step in enumerate(run.steps) if call in step.settled.calls)
    lasting = [
        step.settled.running
        for step, after in itertools.zip_longest(run.steps[made:], run.steps[made + 1 :])
        if after is None or after.time > step.time
    ]
    return [run.steps[made - 1].settled.running, *lasting]


def _runs_through(name: str, moments: list[frozenset[str]], work: frozenset[str]) -> bool:
    """Whether a load runs before a call and on, until what does the call's work stops, or for ever."""
    before, *after = moments
    if name not in before:
        return False
    begun: frozenset[str] = frozenset()
    for running in after:
        if not begun <= running:
            return True
        if name not in running:
            return False
        begun |= (running & work) - before
    return True


def words(problem: RunsThrough, case: Case) -> Words:
    """What runs on, and where to look."""
    call, loads = problem.line.safety.text, listed(load.name for load in problem.loads)
    run, they = ("runs", "it") if len(problem.loads) == 1 else ("run", "they")
    after = f", after {problem.other}," if problem.other else ""
    return Words(
        message=f"With {call} called{after} {loads} {run} on, and should stop.",
        help=f"Follow the feed of {problem.loads[0].name} back to its source. Where {call} opens a contact, "
        f"{they} should have {'its' if they == 'it' else 'their'} feed through that.",
        source="the board's expect line",
        also=(Note("what the board should do", problem.line.span),)
        if problem.line.span != problem.at.span
        else (),
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
