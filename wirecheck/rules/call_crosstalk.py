"""A call runs something that it should not, or something runs with no call at all.

Two wires of the thermostat cable swapped, or a jumper left in, and heat
comes on with cooling, or the blower never stops.

Source: the board's own `expect` lines; common practice for 24 V controls
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from wirecheck.circuit.circuit import Load
from wirecheck.judge import calls, swap_words, ways
from wirecheck.judge.case import Case
from wirecheck.judge.control_wires import Crossing, alike, carrying, crossings
from wirecheck.judge.finding import Note
from wirecheck.judge.judged import judged
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.swaps import Swap, mending_swap, tells, uncrossed
from wirecheck.language.listing import listed
from wirecheck.language.syntax import ExpectRuns, Span
from wirecheck.model.board import Join, Terminal

# How many loads one message names that something runs instead of.
MOST_NAMED = 4
# A reversing valve's call, for the one season or the other.
CHANGEOVERS = {"changeover-cool", "changeover-heat"}


class Extra(NamedTuple):
    """What runs in the calls of a line and should not; without them, where `uncalled`."""

    line: ExpectRuns
    loads: tuple[Load, ...]
    uncalled: bool = False


class RunsToo(Problem):
    """Something runs that should not.

    Where wires are crossed they are in `crossings`, and the first is to blame. Else `jumper` is a join
    that ties screws together and makes it run, if there is one. Without a jumper `swap` is the move or
    the swap of wires that would put every call right or uncross the first wire, if there is one.
    """

    extras: tuple[Extra, ...]
    crossings: tuple[Crossing, ...]
    jumper: Join | None
    swap: Swap | None


class CrossedUnasked(Problem):
    """Wires are crossed, and no line asks for the call that would show it; `swap` uncrosses the first."""

    crossings: tuple[Crossing, ...]
    swap: Swap


def find(case: Case) -> Iterator[RunsToo | CrossedUnasked]:
    """What each call runs besides, one crossed wire or jumper once; and crossed wires that no line shows."""
    told: dict[Span, RunsToo] = {}
    for found in judged(case, calls.asked(case), _of_line):
        before = told.setdefault(found.at.span, found)
        if before is not found:
            told[found.at.span] = before.but(extras=(*before.extras, *found.extras))
    yield from told.values()
    yield from _unasked(case)


def surely(case: Case, before: Sequence[RunsToo | CrossedUnasked]) -> bool:
    """Whether a call runs something besides, those first that did before."""
    known = (extra.line for one in before if isinstance(one, RunsToo) for extra in one.extras)
    return any(_extra(case, line) for line in (*known, *calls.asked(case)))


def _of_line(case: Case, line: ExpectRuns) -> Iterator[RunsToo]:
    extra = _extra(case, line)
    if extra is not None:
        yield _runs_too(case, extra)


def _extra(case: Case, line: ExpectRuns) -> Extra | None:
    """What runs besides in the calls of a line; else what it wants, where that runs without them too."""
    loads = calls.extra(case, line)
    unmoved = () if loads else calls.unmoved(case, line)
    return Extra(line, loads or unmoved, bool(unmoved)) if loads or unmoved else None


def _runs_too(case: Case, extra: Extra) -> RunsToo:
    """What makes it run."""
    crossed = crossings(case)
    jumper = None if crossed else _jumper(case, extra.line)
    swap = None if jumper else mending_swap(case)
    if crossed and crossed[0].meant and swap is None:
        swap = next(uncrossed(case, crossed[0]), None)
    join = swap.join if swap else jumper or (crossed[0].join if crossed else None)
    return RunsToo(
        at=spot(join) if join else Spot(extra.line.span, extra.line),
        about=extra.loads[0],
        severity="fault",
        stage="final",
        copper=frozenset(case.uses.piece[end] for load in extra.loads for end in load.ends),
        extras=(extra,),
        crossings=crossed,
        jumper=jumper,
        swap=swap,
    )


def _jumper(case: Case, line: ExpectRuns) -> Join | None:
    """A join that ties screws together, and without which the calls run nothing that they should not."""
    for join in case.board.joins:
        bare = all(member.kind == "terminal" for member in join.members)
        if bare or len({screw.spec.carries for screw in carrying(join, case.board)}) > 1:
            others = tuple(other for other in case.board.joins if other is not join)
            if _extra(Case(case.board._replace(joins=others), case.work), line) is None:
                return join
    return None


def _unasked(case: Case) -> Iterator[CrossedUnasked]:
    """Crossed wires between two devices that both have both terminals, and those of a reversing valve.

    A second stage of heat on the one that a furnace has is meant so. A valve that is energized to cool is
    never meant to be energized to heat.
    """
    asked = {word.text for line in calls.asked(case) for word in line.calls}
    crossed = tuple(
        one
        for one in crossings(case)
        if one.meant is not None
        and (
            alike(case, one.origin.owner, one.here) is not None
            or {one.origin.spec.carries, one.here.spec.carries} == CHANGEOVERS
        )
        # A thermostat that is a contact and no more, all of whose calls are asked for, has no first wire.
        and (not asked.issuperset(case.calls) or any(_lives(case, end) for end in (one.origin, one.here)))
    )
    swaps = [swap for one in crossed for swap in itertools.islice(uncrossed(case, one), 1)]
    # Where nothing would run otherwise, the two ends of a coil are swapped: it pulls in all the same.
    if any(tells(case, swap) for swap in swaps):
        yield CrossedUnasked(
            at=spot(crossed[0].join),
            about=crossed[0].here,
            severity="fault",
            stage="final",
            copper=frozenset(case.uses.piece[one.here.name] for one in crossed),
            crossings=crossed,
            swap=swaps[0],
        )


def _lives(case: Case, terminal: Terminal) -> bool:
    """Whether a terminal is of a thermostat that needs power of its own."""
    part = case.board.devices[terminal.owner].part
    return bool(part.calls and part.loads)


def words(problem: RunsToo | CrossedUnasked, case: Case) -> Words:
    """What runs and should not, and the wire or the jumper to change."""
    notes = tuple(Note(swap_words.crossing(one), one.join.span) for one in problem.crossings[1:])
    if isinstance(problem, CrossedUnasked):
        return Words(
            message=f"{swap_words.seen(problem.swap)} One call then does what another should. "
            "No expect line asks for the call that would show it.",
            help=f"{swap_words.remedy(problem.swap)} Then say what each call should run: expect fan runs ...",
            source="common practice: each wire goes from a terminal to its like",
            also=notes,
        )
    seen, remedy = _cause(problem, case)
    guessed = problem.swap is not None and problem.swap.crossed is None
    return Words(
        message=" ".join([*(_said(case, extra) for extra in problem.extras), *([] if guessed else seen)]),
        guess=" ".join(seen) if guessed else "",
        help=remedy,
        source="the board's expect line",
        also=(
            *notes,
            *(
                Note("what the board should do", extra.line.span)
                for extra in problem.extras
                if extra.line.span != problem.at.span
            ),
        ),
    )


def _said(case: Case, extra: Extra) -> str:
    """What runs, and in place of what, or besides what."""
    run = "runs" if len(extra.loads) == 1 else "run"
    names = listed(load.name for load in extra.loads)
    if extra.uncalled:
        return f"{names} {run} with nothing called, and {calls.named(extra.line)} changes nothing."
    missing, wanted = calls.missing(case, extra.line), calls.wanted(case, extra.line)
    # A further stage of what does run comes on besides.
    running = {load.device for load in wanted if load not in missing}
    if missing and running.isdisjoint(load.device for load in extra.loads):
        there = listed((load.name for load in missing), MOST_NAMED)
        return f"{calls.when_called(extra.line)}, {names} {run} instead of {there}."
    too = " too" if calls.made(extra.line) and wanted else ""
    return f"{calls.when_called(extra.line)}, {names} {run}{too}, and should not."


def _cause(problem: RunsToo, case: Case) -> tuple[list[str], str]:
    """What is seen that makes it run, in sentences, and what to do about it."""
    if problem.swap is not None:
        return [swap_words.seen(problem.swap)], swap_words.remedy(problem.swap)
    if problem.crossings:
        first = problem.crossings[0]
        remedy = f"Take {first.conductor.name} off {first.here.name}, and cap it."
        return [swap_words.crossing(first)], remedy
    if problem.jumper is not None:
        screws = listed(member.name for member in problem.jumper.members if member.kind == "terminal")
        seen = [f"{screws} are joined in {problem.jumper.place}."]
        return seen, f"Take {screws} apart, so that only what makes the call joins them."
    extra = problem.extras[0]
    way = _power_way(case, extra)
    if way is not None:
        name = extra.loads[0].name
        return [f"{name} gets its power by this way: {way}."], (
            "Look there for what should open, and does not: a contact that is closed at rest, or a control "
            "in another's place."
        )
    return [], "Compare the letters at the two ends of each wire of the thermostat cable."


def _power_way(case: Case, extra: Extra) -> str | None:
    """The way from a source to the first load, where it is on the board and in no machine.

    Of the ways to its two sides that is told which has more on it that opens: the other may be the way back.
    """
    load, circuit = extra.loads[0], case.circuit
    if load.device not in case.board.devices:
        return None
    sources = [leg.point for leg in circuit.legs] + [winding.secondary[0] for winding in circuit.windings]
    for step in case.played(() if extra.uncalled else calls.made(extra.line)).steps:
        if load.name in step.settled.running:
            passes = ways.conducting(step.settled)
            found = [way for end in load.ends if (way := ways.way(case, sources, (end,), passes)) is not None]
            told = max(found, key=lambda way: _opens(case, way, load), default=None)
            return ways.named(told, case) if told is not None else None
    return None


def _opens(case: Case, way: ways.Way, load: Load) -> int:
    """How many contacts are on a way, but those in the machine of its load."""
    around = case.circuit.devices
    return sum(around[one.scope].outer != around[load.device].outer for one in way.contacts)


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, surely=surely, of_ties=True)
