"""Rules about calls: what a thermostat asks for runs, nothing else does, and every safety stops it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

from wirecheck.circuit.circuit import COILS, Load
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.play import Play, Step
from wirecheck.circuit.settle import Settled, settle
from wirecheck.judge import ways
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import TooLittle, why_not
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.stop_words import remedy, said
from wirecheck.language.syntax import ExpectRuns, ExpectStops, Span
from wirecheck.model.board import Join
from wirecheck.rules.old import rule

# What a call is for: loads that do the work, not the coils and boards that steer them.
WORKING = ("motor", "heater", "igniter", "lamp", "valve", "bell")
# 24 V at a coil: the least to trust (common practice).
TRUSTED_SHARE = 20 / 24
# How far from its rated volts a transformer may be fed.
TAP_TOLERANCE = 0.10
# Above this a load is one of the line, not of the control circuit (Chapter 9 Table 11(A)).
CLASS_2 = 30.0
# Letters that mean the same wire on two sides.
SAME_LETTER = {"RC": "R", "RH": "R", "W1": "W", "Y1": "Y"}
# What each color of a thermostat cable is for (common practice, never a rule).
COLOR_LETTER = {
    "red": "R",
    "white": "W",
    "yellow": "Y",
    "green": "G",
    "blue": "C",
    "orange": "O",
    "brown": "B",
}
LETTERS = frozenset(("R", "RC", "RH", "C", "W", "W1", "W2", "Y", "Y1", "Y2", "G", "O", "B"))


def played(case: Case, expectation: ExpectRuns) -> Play:
    """The play of an expectation's calls."""
    return case.played([word.text for word in expectation.calls if word.text != "idle"])


def _called(expectation: ExpectRuns) -> str:
    calls = [word.text for word in expectation.calls if word.text != "idle"]
    return f"With {' and '.join(calls)} called" if calls else "With nothing called"


@rule("final")
def call_continuity(case: Case) -> Iterator[Finding]:
    """A call is made, and what it shall run does not run, or not in its order.

    The call's path goes from the source through the thermostat, the wire, each
    safety and the coil, and back to common. Open anywhere, nothing runs.

    Source: the board's own `expect` lines; common practice for 24 V controls
    """
    told: dict[tuple[Span, str | None], list[Finding]] = {}
    for expectation in case.board.expectations:
        if not isinstance(expectation, ExpectRuns) or not expectation.steps:
            continue
        run = played(case, expectation)
        started = run.started()
        wanted = _wanted(case, expectation)
        missing = [load for load in wanted if load.name not in started]
        if missing:
            # A short is told by its own rule, and what a crossed wire runs by call-crosstalk.
            if not any(step.settled.opened for step in run.steps) and not crossed_and_runs(case, expectation):
                for finding in _does_not_run(case, expectation, run, missing, wanted):
                    told.setdefault((finding.span, finding.help), []).append(finding)
            continue
        if _extra_at_rest(case):
            # What runs without a call has no place in its order, and call-crosstalk tells of it.
            continue
        begins = _begins(run)
        for (_, _), (word, then), one, other in zip(
            expectation.steps, expectation.steps[1:], wanted, wanted[1:], strict=False
        ):
            if not then or one.name not in begins or other.name not in begins:
                continue
            if begins[other.name] <= begins[one.name]:
                yield Finding(
                    rule="call-continuity",
                    severity="fault",
                    message=f"{_called(expectation)}, {other.name} begins after {begins[other.name]:g} s and "
                    f"{one.name} after {begins[one.name]:g} s: it shall not begin before {one.name} runs.",
                    span=word.span,
                    subject=other.name,
                    source="the board's expect line",
                    help="Look at what closes each of the two, and which one waits for which.",
                )
    for first, *others in told.values():
        # One open place stops several calls, and is told once.
        stopped = " and ".join(finding.subject for finding in others)
        yield first._replace(
            message=first.message + (f" The same stops {stopped}." if others else ""),
            also=(*first.also, *(note for finding in others for note in finding.also)),
        )


def _begins(run: Play) -> dict[str, float]:
    """When each load begins to run for a call, in seconds from it.

    What runs before the call and does not stop has no such moment, and what
    runs for less than a moment has not begun.
    """
    moments: list[tuple[float, frozenset[str]]] = []
    called: float | None = None
    for step in run.steps:
        if step.settled.calls and called is None:
            called = step.time
            moments.append((-1.0, moments[-1][1] if moments else frozenset()))
        if moments and moments[-1][0] == step.time - (called or 0.0):
            moments.pop()
        moments.append((step.time - (called or 0.0), step.settled.running))
    told: dict[str, float] = {}
    for (_, before), (time, now) in itertools.pairwise(moments):
        if time >= 0:
            for name in now - before:
                told.setdefault(name, time)
    return told


def _wanted(case: Case, expectation: ExpectRuns) -> list[Load]:
    """The loads that a call shall run."""
    loads = (case.circuit.load.get(word.text) for word, _ in expectation.steps)
    return [load for load in loads if load is not None]


def _does_not_run(
    case: Case, expectation: ExpectRuns, run: Play, missing: list[Load], wanted: list[Load]
) -> Iterator[Finding]:
    """The finding about the first load that is missing, with the others beside it."""
    names = {load.name for load in wanted}
    # The last of the states in which the most of them run.
    step = max(reversed(run.steps), key=lambda step: len(step.settled.running & names))
    first = missing[0]
    stop = why_not(case, step.settled, first)
    weak = stop.wanted.of if isinstance(stop.end, TooLittle) else None
    starved_coil = isinstance(weak, Load) and (weak.kind in COILS or weak.volts > CLASS_2)
    if starved_coil and len(expectation.calls) == 1:
        # A coil that gets too little is told by coil-voltage, a load of the line by voltage-drop.
        return
    mend = _exchanged(case) or Mend(said(stop, case), remedy(stop), stop.at.span if stop.at else None)
    others = ", ".join(load.name for load in missing[1:])
    yield Finding(
        rule="call-continuity",
        severity="fault",
        message=f"{_called(expectation)}, {first.name} does not run. {mend.text[0].upper()}{mend.text[1:]}"
        + (f" Nor {'does' if len(missing) == 2 else 'do'} {others} run." if others else ""),
        span=mend.span or expectation.span,
        subject=" and ".join(word.text for word in expectation.calls),
        source="the board's expect line",
        help=mend.help,
        also=(Note("what the board shall do", expectation.span),) if mend.span else (),
    )


@rule("final")
def call_crosstalk(case: Case) -> Iterator[Finding]:
    """A call runs something that it shall not, or something runs with no call at all.

    Two wires of the thermostat cable exchanged, or a jumper left in, and heat
    comes on with cooling, or the blower never stops.

    Source: the board's own `expect` lines; common practice for 24 V controls
    """
    told: dict[Span, Finding] = {}
    for expectation in case.board.expectations:
        if not isinstance(expectation, ExpectRuns):
            continue
        extra = _extra(case, expectation)
        if not extra:
            continue
        crossed = next(iter(crossings(case)), None)
        names = ", ".join(load.name for load in extra)
        message = f"{_called(expectation)}, {names} " + (
            "runs too, and shall not." if len(extra) == 1 else "run too, and shall not."
        )
        note = Note("what the board shall do", expectation.span)
        jumper = _jumper(case, expectation)
        if crossed is None and jumper is not None:
            span = jumper.span
            advice = (
                f"{' and '.join(_screws(jumper))} are joined in {jumper.place}: take them apart, "
                "so that only what makes the call joins them."
            )
        elif crossed is None and (mended := _exchanged(case)) is not None:
            span = mended.span or expectation.span
            advice = mended.help
        elif crossed is None:
            span = expectation.span
            advice = "Compare the letters at both ends of each wire of the thermostat cable."
        else:
            span = crossed.join.span
            advice = f"{crossed.words[0].upper()}{crossed.words[1:]} {crossed.help}"
        if span in told:
            # One crossed wire or jumper, told once.
            first = told[span]
            told[span] = first._replace(message=f"{first.message} {message}", also=(*first.also, note))
            continue
        told[span] = Finding(
            rule="call-crosstalk",
            severity="fault",
            message=message,
            span=span,
            subject=" and ".join(word.text for word in expectation.calls),
            source="the board's expect line",
            help=advice,
            also=(note,) if span != expectation.span else (),
        )
    yield from told.values()
    if not told:
        yield from _crossed_unasked(case)


def _lives(case: Case, terminal: str) -> bool:
    """Whether a terminal is of a thermostat that needs power of its own."""
    part = case.circuit.devices[terminal.rpartition(".")[0]].part
    return bool(part.calls and part.loads)


def _crossed_unasked(case: Case) -> Iterator[Finding]:
    """Control wires on another letter than at their other end, where every call that is asked for is right.

    Both devices must have both letters: a W2 on the W of a furnace without a W2 is meant so.
    """
    asked = {word.text for e in case.board.expectations if isinstance(e, ExpectRuns) for word in e.calls}
    for expectation in case.board.expectations:
        if isinstance(expectation, ExpectRuns):
            wanted = {load.name for load in _wanted(case, expectation)}
            if not wanted <= played(case, expectation).started().keys():
                # What does not run is told by call-continuity, with the wires at fault.
                return
    crossed = []
    for one in crossings(case):
        away = one.origin.rpartition(".")[0]
        if asked.issuperset(case.calls) and not any(_lives(case, name) for name in (one.origin, one.here)):
            # A thermostat that is a contact and no more, all of whose calls are right, has no first wire.
            continue
        letters = {_letter(name) for name in case.circuit.devices[away].part.terminals}
        if one.meant is not None and _letter(one.here) in letters:
            crossed.append(one)
    if not any(_tells(case, (one.here, one.meant)) for one in crossed if one.meant is not None):
        # The two ends of a coil exchanged: it pulls in all the same.
        return
    first, *others = crossed
    yield Finding(
        rule="call-crosstalk",
        severity="fault",
        message=f"{first.words[0].upper()}{first.words[1:]} One call then does what another should. "
        "No expect line asks for the call that would show it.",
        span=first.join.span,
        subject=first.here,
        source="common practice: each wire from a letter to the same letter",
        help=f"{first.help} Then say what each call shall run: expect fan runs ...",
        also=tuple(Note(f"{one.words[0].upper()}{one.words[1:]}", one.join.span) for one in others),
    )


def _extra(case: Case, expectation: ExpectRuns) -> list[Load]:
    """The loads that a call runs and shall not; what runs with no call is told of `expect idle` alone."""
    allowed = {load.name for load in _wanted(case, expectation)}
    calls = [word.text for word in expectation.calls]
    others = (one for one in case.board.expectations if isinstance(one, ExpectRuns))
    if calls != ["idle"] and any([word.text for word in one.calls] == ["idle"] for one in others):
        allowed |= set(case.played([]).started())
    extra = [case.circuit.load[name] for name in played(case, expectation).started() if name not in allowed]
    return [load for load in extra if load.kind in WORKING and "standby" not in load.flags]


def _extra_at_rest(case: Case) -> bool:
    """Whether something runs with no call, and shall not."""
    return any(
        isinstance(one, ExpectRuns)
        and [word.text for word in one.calls] == ["idle"]
        and bool(_extra(case, one))
        for one in case.board.expectations
    )


@dataclass(frozen=True, slots=True)
class Crossing:
    """A control wire that comes from one letter and lands on another.

    `here` is the terminal that it is on in `join`, `origin` the one at its other
    end, and `meant` the terminal beside `here` that has the origin's letter.
    """

    join: Join
    origin: str
    here: str
    meant: str | None

    @property
    def words(self) -> str:
        """What is seen, as a sentence that goes on."""
        return f"at {self.join.place}, the wire that is on {self.origin} at its other end is on {self.here}."

    @property
    def help(self) -> str:
        """What to do."""
        return f"Move it to {self.meant}." if self.meant else f"Take it off {self.here}."


@dataclass(frozen=True, slots=True)
class Mend:
    """What is seen, what mends it, and the line, if it is in one."""

    text: str
    help: str
    span: Span | None


def crossings(case: Case) -> Iterator[Crossing]:
    """The control wires whose two ends are on different letters."""
    for join, origin, here in crossed_letters(case):
        device = here.rpartition(".")[0]
        names = (f"{device}.{terminal}" for terminal in case.circuit.devices[device].part.terminals)
        yield Crossing(
            join, origin, here, next((name for name in names if _letter(name) == _letter(origin)), None)
        )


def crossed_and_runs(case: Case, expectation: ExpectRuns) -> bool:
    """Whether a crossed wire makes this call run something that it shall not."""
    return bool(_extra(case, expectation)) and any(True for _ in crossings(case))


def _exchanged(case: Case) -> Mend | None:
    """The two wires whose exchange would mend every call, if there are two."""
    for crossed in crossings(case):
        if crossed.meant and _would_do(case, (crossed.here, crossed.meant)):
            return Mend(crossed.words, crossed.help, crossed.join.span)
    lines = {member.name: join.span for join in case.board.joins for member in join.members}
    for device in case.board.devices.values():
        if not device.part.calls:
            continue
        screws = [f"{device.name}.{terminal}" for terminal in device.part.terminals]
        for one, other in itertools.combinations(screws, 2):
            landed = [name for name in (one, other) if name in lines]
            if not landed or not _would_do(case, (one, other)):
                continue
            if len(landed) == 2:
                words = f"the wires on {one} and {other} are exchanged."
                return Mend(words, f"Exchange the wires on {one} and {other}.", lines[one])
            (here,) = landed
            meant = other if here == one else one
            return Mend(f"its wire is on {here}.", f"Move the wire from {here} to {meant}.", lines[here])
    return None


def _would_do(case: Case, screws: tuple[str, str]) -> bool:
    """Whether every call would run what it shall and nothing else, with the wires on two screws exchanged."""
    one, other = screws
    node = case.circuit.node
    if node[one] == node[other]:
        return False
    changed = Case(case.board)
    changed.circuit = replace(case.circuit, node=node | {one: node[other], other: node[one]})
    return all(
        {load.name for load in _wanted(changed, expectation)} <= played(changed, expectation).started().keys()
        and not _extra(changed, expectation)
        for expectation in case.board.expectations
        if isinstance(expectation, ExpectRuns)
    )


def _tells(case: Case, screws: tuple[str, str]) -> bool:
    """Whether anything runs otherwise, in any call or in none, with the wires on two screws exchanged."""
    one, other = screws
    changed = Case(case.board)
    node = case.circuit.node
    changed.circuit = replace(case.circuit, node=node | {one: node[other], other: node[one]})
    return any(
        before.rest.running != after.rest.running or before.started().keys() != after.started().keys()
        for calls in ([], *([call] for call in case.calls))
        for before, after in [(case.played(calls), changed.played(calls))]
    )


def _jumper(case: Case, expectation: ExpectRuns) -> Join | None:
    """A join that holds two screws together, and without which the call runs nothing that it shall not."""
    for join in case.board.joins:
        bare = all(member.kind == "terminal" for member in join.members)
        if bare or len({_letter(name) for name in _letters(join)}) > 1:
            others = tuple(other for other in case.board.joins if other is not join)
            if not _extra(Case(case.board._replace(joins=others)), expectation):
                return join
    return None


def _screws(join: Join) -> list[str]:
    """The terminals in a join."""
    return [member.name for member in join.members if member.kind == "terminal"]


def _letters(join: Join) -> list[str]:
    """The terminals in a join that bear a thermostat's letter."""
    return [m.name for m in join.members if m.kind == "terminal" and m.name.rpartition(".")[2] in LETTERS]


def crossed_letters(case: Case) -> list[tuple[Join, str, str]]:
    """The joins where a control wire that comes from one letter lands on another, by their terminals."""
    landed: dict[str, list[tuple[Join, str]]] = {}
    for join in case.board.joins:
        letters = _letters(join)
        if len(letters) == 1:
            for member in join.members:
                if member.kind == "end":
                    landed.setdefault(member.name, []).append((join, letters[0]))
    told = []
    for name, ends in landed.items():
        if len(ends) == 2:
            (one, first), (other, second) = ends
            if _letter(first) != _letter(second):
                # The color tells which end is the odd one; where it does not, the equipment's end is shown.
                meant = COLOR_LETTER.get(name.rpartition(".")[2])
                equipment = not case.circuit.devices[first.rpartition(".")[0]].part.calls
                if _letter(second) == meant or (_letter(first) != meant and equipment):
                    told.append((one, second, first))
                else:
                    told.append((other, first, second))
    return told


def _letter(terminal: str) -> str:
    letter = terminal.rpartition(".")[2]
    return SAME_LETTER.get(letter, letter)


@rule("final")
def safety_bypass(case: Case) -> Iterator[Finding]:
    """A safety opens, and what it guards runs on.

    A limit, a float or a pressure switch that is wired around is worse than
    none: whoever looks at it believes that it works.

    Source: the board's own `expect` lines; ANSI Z21.20, UL 60730 in spirit: any one safety stops its load
    """
    told = {}
    for expectation in case.board.expectations:
        if isinstance(expectation, ExpectStops):
            told[expectation.safety.text] = True
            for word in expectation.loads:
                load = case.circuit.load.get(word.text)
                if load is not None:
                    yield from _does_not_stop(case, expectation, load)
    for variable in case.circuit.variables.values():
        if variable.safety and variable.name not in told and variable.name in case.board.devices:
            yield from _stops_nothing(case, variable.name)


def opened_position(case: Case, safety: str) -> str:
    """The position of a safety in which it has tripped: open, or the first that is not where it rests."""
    values = case.circuit.variables[safety].values
    return "open" if "open" in values else values[-1]


def steps_with(case: Case, load: Load) -> Iterator[tuple[str, Step]]:
    """Each state of each call in which a load runs."""
    for call in ("", *case.calls):
        for step in case.played([call] if call else []).steps:
            if load.name in step.settled.running:
                yield call, step


def runs_on(case: Case, safety: str, load: Load, step: Step) -> Settled | None:
    """The state after a safety has opened, if the load runs on in it."""
    settled = step.settled
    after = settle(
        case.circuit,
        {**settled.positions, safety: opened_position(case, safety)},
        settled.calls,
        settled,
    )
    return after if load.name in after.running else None


def _does_not_stop(case: Case, expectation: ExpectStops, load: Load) -> Iterator[Finding]:
    safety = expectation.safety.text
    if safety not in case.circuit.variables:
        return
    for call, step in steps_with(case, load):
        if runs_on(case, safety, load, step) is None:
            continue
        # A control may need a moment to see it; played from the start, it must not run at all.
        play = case.played([call] if call else [], {safety: opened_position(case, safety)})
        if load.name not in play.rest.running and load.name not in play.started():
            continue
        around = _around(case, safety)
        if around is not None:
            words = f"{safety} is wired around: it opens"
            advice = f"Take out what goes around {safety}: {load.name} must get its power through it alone."
        else:
            words = f"{safety} is not in the way of {load.name}: it opens"
            advice = f"Move {safety} into the wire that the call for {load.name} comes by, in series with it."
        span = around or _landed(case, safety) or expectation.span
        yield Finding(
            rule="safety-bypass",
            severity="hazard",
            message=f"{words}{' during a call for ' + call if call else ''}, and {load.name} runs on.",
            span=span,
            subject=safety,
            source="the board's expect line",
            help=advice,
            also=(Note("what the board shall do", expectation.span),) if span != expectation.span else (),
        )
        return


def _stops_nothing(case: Case, safety: str) -> Iterator[Finding]:
    """A safety of the board itself that stops no load in any call."""
    working = [load for load in case.circuit.loads if load.kind in WORKING]
    running = [(load, step) for load in working for _, step in steps_with(case, load)]
    if not running or any(runs_on(case, safety, load, step) is None for load, step in running):
        return
    span = _around(case, safety) or case.board.devices[safety].span
    yield Finding(
        rule="safety-bypass",
        severity="hazard",
        message=f"{safety} opens, and every load that ran runs on, in every call: the safety guards nothing.",
        span=span,
        subject=safety,
        source="common practice: a safety is wired in series with what it stops",
        help=f"Put {safety} in series, in R for all that the control runs or in Y for cooling, "
        "and take out what goes around it.",
    )


def _landed(case: Case, safety: str) -> Span | None:
    """The join in which the wire from a safety's first side ends."""
    device = case.board.devices.get(safety)
    if device is None:
        return None
    here = next((j for j in case.board.joins for m in j.members if m.name.startswith(f"{safety}.")), None)
    if here is None:
        return None
    wires = {m.name for m in here.members if m.kind == "end"}
    screws = {m.name for j in case.board.joins for m in j.members if m.name.startswith(f"{safety}.")}
    if len(screws) == 1 and len(wires) > 1:
        # Both wires are on one side of it: there they pass it by.
        return here.span
    return next(
        (j.span for j in case.board.joins if j is not here and any(m.name in wires for m in j.members)), None
    )


def _around(case: Case, safety: str) -> Span | None:
    """The join that goes around a safety: one that holds both of its sides."""
    device = case.circuit.devices[safety]
    sides = {case.circuit.node[f"{safety}.{terminal}"] for terminal in device.part.terminals}
    ties = [(case.circuit.node[wire.a], case.circuit.node[wire.b]) for wire in case.circuit.wires]
    piece = pieces(range(case.circuit.nodes), ties)
    if len({piece[side] for side in sides}) > 1:
        return None
    names = [f"{safety}.{terminal}" for terminal in device.part.terminals]
    around = ways.way(case, names[:1], names[1:], ways.nothing)
    joins = around.joins if around is not None else ()
    return max(joins, key=lambda join: len(join.members)).span if joins else None
