"""A call is made, and what it should run does not run, or not in its order.

The call's path goes from the source through the thermostat, the wire, each
safety and the coil, and back to common. Open anywhere, nothing runs.

Source: the board's own `expect` lines; common practice for 24 V controls
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.settle import Settled, holds
from wirecheck.judge import calls, joints, stop_words, swap_words
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import End, HeldOpen, NotJoined, OthersCall, Standing, Stop, why_not
from wirecheck.judge.finding import Note
from wirecheck.judge.judged import judged
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.swaps import Swap, mending_swap
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shown
from wirecheck.language.syntax import AnyOf, Called, ExpectRuns
from wirecheck.model.devices import callers


class NotRunning(Problem):
    """`missing` are the loads that a call should run and does not, the first of which `stop` is about.

    `swap` is the swap of two wires that would put every call right, if there is one. The same stops
    all of `lines`, of which the first is told in full; `opened` is what opens in its calls.
    """

    lines: tuple[ExpectRuns, ...]
    missing: tuple[Load, ...]
    stop: Stop
    swap: Swap | None
    opened: tuple[Opening, ...]


class OutOfOrder(Problem):
    """`load` should begin only when `first` runs, and begins `begins` seconds after the call, not later."""

    line: ExpectRuns
    load: Load
    begins: float
    first: Load
    first_begins: float


def find(case: Case) -> Iterator[NotRunning | OutOfOrder]:
    """What each call leaves standing, one open place once; and what begins before its turn."""
    stopped: dict[object, NotRunning] = {}
    for found in judged(case, calls.asked(case), _of_line):
        if isinstance(found, OutOfOrder):
            yield found
            continue
        # One open place stops several calls.
        key = (found.at.span, bool(found.opened), None if found.swap else _keeps(found.stop))
        before = stopped.setdefault(key, found)
        if before is not found:
            stopped[key] = before.but(lines=(*before.lines, *found.lines))
    yield from stopped.values()


def surely(case: Case, before: Sequence[NotRunning | OutOfOrder]) -> bool:
    """Whether a call leaves something standing, those first that did before."""
    known = (line for one in before if isinstance(one, NotRunning) for line in one.lines)
    return any(calls.missing(case, line) for line in (*known, *calls.asked(case)))


def _of_line(case: Case, line: ExpectRuns) -> Iterator[NotRunning | OutOfOrder]:
    missing = calls.missing(case, line)
    if missing:
        yield _not_running(case, line, missing)
    else:
        yield from _out_of_order(case, line)


def _not_running(case: Case, line: ExpectRuns, missing: tuple[Load, ...]) -> NotRunning:
    steps = calls.played(case, line).steps
    first, swap = missing[0], mending_swap(case)
    stop = _stop(case, line, first)
    if isinstance(stop.end, NotJoined) and swap is None:
        stop = stop._replace(end=joints.safe(case, stop.end))
    return NotRunning(
        at=(spot(swap.join) if swap else stop.at) or Spot(line.span, line),
        about=first,
        severity="fault",
        stage="final",
        copper=frozenset((case.uses.piece[first.a], case.uses.piece[first.b])),
        lines=(line,),
        missing=missing,
        stop=stop,
        swap=swap,
        opened=tuple(dict.fromkeys(opening for each in steps for opening in each.settled.opened)),
    )


def _stop(case: Case, line: ExpectRuns, first: Load) -> Stop:
    """Where its path stops, in a state of the calls in which wiring stops it and most of the rest runs."""
    names = {load.name for load in calls.wanted(case, line)}
    settled = [step.settled for step in calls.played(case, line).steps]
    called = [one for one in settled if one.calls or not calls.made(line)]
    # What ran before a call may run on for a while before it stops.
    still: dict[frozenset[str], Settled] = {}
    for one in reversed(called):
        if first.name not in one.running:
            still.setdefault(one.closed, one)
    stops = [(why_not(case, one, first), one) for one in still.values()]
    makers = callers(case.board)
    own = frozenset(name for call in calls.made(line) for name in makers.get(call, ()))

    def kept(each: tuple[Stop, Settled]) -> tuple[bool, int, int]:
        stop, one = each
        return _no_cause(stop, one, own), stop.unwired, -len(one.running & names)

    found = min(stops, key=kept)[0]
    return _of_another(case, own, found)


def _no_cause(stop: Stop, settled: Settled, own: frozenset[str]) -> bool:
    """Whether it stops at what soon changes by itself, or waits for a further call of who calls now."""
    match stop.end:
        case Standing() as end:
            return holds(end.until, end.scope, settled.view)
        case HeldOpen(Contact(when=Called() | AnyOf(), scope=caller)):
            return caller in own
    return False


def _of_another(case: Case, own: frozenset[str], stop: Stop) -> Stop:
    """A stop that waits for the call of another thermostat is at what that should not have to close."""
    waiting = [one for one in stop.through if isinstance(one, Contact)]
    match stop.end:
        case HeldOpen(Contact(when=Called(), scope=caller) as contact) if (
            own and caller not in own and waiting
        ):
            last = waiting[-1]
            return stop._replace(end=OthersCall(last, contact), at=spot(case.circuit.around[last.scope][0]))
    return stop


def _keeps(stop: Stop) -> End | str:
    """What keeps it from running: an open place, or the name of a device that does not do its work."""
    match stop.end:
        case HeldOpen(contact) | OthersCall(contact):
            return contact.scope
        case Standing(_, _, _, scope):
            return scope
        case NotJoined() as joint:
            # What would do as well depends on what is closed in each call.
            return joint._replace(among=False)
    return stop.end


def _out_of_order(case: Case, line: ExpectRuns) -> Iterator[OutOfOrder]:
    """Each load after a `then` that begins before what is named ahead of it, or with the last of that.

    What is named after it without a `then` of its own has no place in the order.
    """
    begins = calls.begins(calls.played(case, line))
    before: list[Load] = []
    now: list[Load] = []
    for word, then in line.steps:
        if then:
            before, now = now, []
        load = case.circuit.load.get(word.text)
        if load is None or load.name not in begins:
            continue
        now.append(load)
        first = max(before, key=lambda one: begins[one.name], default=None)
        if then and first is not None and begins[load.name] <= begins[first.name]:
            yield OutOfOrder(
                at=Spot(word.span, line),
                about=load,
                severity="fault",
                stage="final",
                copper=frozenset((case.uses.piece[load.a], case.uses.piece[load.b])),
                line=line,
                load=load,
                begins=begins[load.name],
                first=first,
                first_begins=begins[first.name],
            )


def words(problem: NotRunning | OutOfOrder, case: Case) -> Words:
    """What does not run, where its path stops and what to do there; or which begins too soon, and when."""
    if isinstance(problem, OutOfOrder):
        load, first = problem.load.name, problem.first.name
        begins = shown(problem.begins, "time", beside=problem.first_begins)
        later = shown(problem.first_begins, "time", beside=problem.begins)
        if begins == later:
            seen = f"begins together with {first}, and should wait until {first} runs."
        else:
            seen = f"should wait until {first} runs: it begins after {begins}, and {first} after {later}."
        return Words(
            message=f"{calls.when_called(problem.line)}, {load} {seen}",
            help=f"Look at what closes each of the two: {load} should wait for {first}.",
            source="the board's expect line",
            value=problem.begins,
            limit=problem.first_begins,
            unit="s",
        )
    line, *others = problem.lines
    first, *rest = (load.name for load in problem.missing)
    message, guess = f"{calls.when_called(line)}, {first} does not run.", ""
    if problem.swap is not None:
        seen = swap_words.seen(problem.swap)
        message, guess = (message, seen) if problem.swap.crossed is None else (f"{message} {seen}", "")
        remedy = swap_words.remedy(problem.swap)
    else:
        message += f" {stop_words.said(problem.stop, case)}"
        remedy = stop_words.remedy(problem.stop)
    if rest:
        message += f" {listed(rest)} {'does' if len(rest) == 1 else 'do'} not run either."
    message += "".join(_others(case, problem.missing, others))
    return Words(
        message=message,
        help=remedy,
        source="the board's expect line",
        also=tuple(
            Note("what the board should do", one.span) for one in problem.lines if one.span != problem.at.span
        ),
        guess=guess,
    )


def _others(case: Case, missing: Sequence[Load], lines: Sequence[ExpectRuns]) -> Iterator[str]:
    """What the same does in other calls: those that it stops, and what it leaves standing in the rest."""
    stopped = [line for line in lines if _stops(case, line)]
    if stopped:
        many = "call" if len(stopped) == 1 else "calls"
        yield f" The same stops the {many} {calls.all_named(stopped)}."
    lacking: dict[tuple[Load, ...], list[ExpectRuns]] = {}
    for line in lines:
        if line not in stopped:
            lacking.setdefault(calls.missing(case, line), []).append(line)
    for loads, (line, *more) in lacking.items():
        too = " either" if {*loads} <= {*missing} else ""
        nor = "".join(f", nor {_begun(calls.when_called(one))}" for one in more)
        run = "does" if len(loads) == 1 else "do"
        yield f" {calls.when_called(line)}, {listed(load.name for load in loads)} {run} not run{too}{nor}."


def _stops(case: Case, line: ExpectRuns) -> bool:
    """Whether nothing comes of a call."""
    wanted = set(calls.wanted(case, line))
    return bool(calls.made(line)) and wanted <= {*calls.missing(case, line)} and not calls.extra(case, line)


def _begun(sentence: str) -> str:
    """The beginning of a sentence, within one."""
    return sentence[:1].lower() + sentence[1:]


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, surely=surely, of_ties=True)
