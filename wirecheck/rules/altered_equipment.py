"""What somebody did to the wires inside a cabinet changes what the equipment does.

A jumper over a limit gets the heat back for a day, and takes away what keeps the house from burning. A lead
that is off or on the wrong tab stops the machine, or lets it run without its safety. A jumper from one screw
of its terminal strip to another is field wiring: what it does has to be what the board's lines ask.

Source: common practice: the wiring inside equipment stays as its maker's diagram shows it; NEC 110.3(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load, Variable
from wirecheck.circuit.play import Play
from wirecheck.judge import calls
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.judge.inside import loads_of
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.safeties import during, opened, played
from wirecheck.language.listing import listed
from wirecheck.model.board import Altered, Device

# What one message names.
MOST_NAMED = 4


class Change(Problem):
    """Something was done inside `device`; `acts` is all that was."""

    device: Device
    acts: tuple[Altered, ...]


class GuardsNoMore(Change):
    """A safety that stopped loads does not stop them any more."""

    safety: Variable
    loads: tuple[Load, ...]
    call: str


class RunsWithout(Change):
    """Loads run in a call, or in none, in which they did not."""

    loads: tuple[Load, ...]
    call: str


class StaysOff(Change):
    """Loads do not run in a call in which they did."""

    loads: tuple[Load, ...]
    call: str


class FeedsOthers(Change):
    """Loads that are not in it run in a call, or do not, by what was done; `more` if they run."""

    loads: tuple[Load, ...]
    call: str
    more: bool


class NoDifference(Change):
    """Nothing that is judged here runs or stops otherwise."""


def find(case: Case) -> Iterator[Change]:
    """Each device that was altered, against the same board with it as its maker left it."""
    if not case.board.altered:
        return
    whole = Case(case.board._replace(altered=()), case.work)
    before, after = played(whole), played(case)
    for name in dict.fromkeys(one.device for one in case.board.altered):
        device = case.board.devices[name]
        acts = tuple(one for one in case.board.altered if one.device == name)
        found: list[Change] = [
            *_guards(whole, case, before, after, device, acts),
            *_runs(case, before, after, device, acts),
        ]
        if found and all(_is_asked_for(case, one) for one in found):
            continue
        found = found or list(_others(case, after, device, acts))
        yield from found
        if not found:
            yield NoDifference(
                at=spot(acts[0]), about=device, severity="advice", stage="final", device=device, acts=acts
            )


def _is_asked_for(case: Case, change: Change) -> bool:
    """Whether jumpers between screws that wires come to do what the lines for a call ask, as from R to DH."""
    if not isinstance(change, RunsWithout | StaysOff) or not all(
        act.act == "jumper" and {*act.points} <= case.board.terminals.keys() for act in change.acts
    ):
        return False
    made = (change.call,) if change.call else ()
    lines = [line for line in calls.asked(case) if calls.made(line) == made]
    wanted = {load.name for line in lines for load in calls.wanted(case, line)}
    runs = isinstance(change, RunsWithout)
    return bool(lines) and all((load.name in wanted) == runs for load in change.loads)


def _guards(
    whole: Case,
    case: Case,
    before: dict[str, Play],
    after: dict[str, Play],
    device: Device,
    acts: tuple[Altered, ...],
) -> Iterator[Change]:
    """The safeties inside that no longer stop what they did."""
    inside = _inside(case, device)
    for safety in case.circuit.variables.values():
        if not safety.safety or case.circuit.devices[safety.name].outer != device.name:
            continue
        stopped = {
            load.name
            for state in opened(whole.circuit, before, whole.circuit.variables[safety.name], inside)
            for load in state.ran
            if load not in state.runs_on
        }
        on: dict[str, tuple[Load, str]] = {}
        for state in opened(case.circuit, after, safety, inside):
            for load in state.runs_on:
                if load.name in stopped:
                    on.setdefault(load.name, (load, state.call))
        if on:
            loads = tuple(load for load, _ in on.values())
            call = next(iter(on.values()))[1]
            yield GuardsNoMore(
                at=spot(acts[0]),
                about=device,
                severity="hazard",
                stage="final",
                device=device,
                acts=acts,
                safety=safety,
                loads=loads,
                call=call,
            )


def _runs(
    case: Case, before: dict[str, Play], after: dict[str, Play], device: Device, acts: tuple[Altered, ...]
) -> Iterator[Change]:
    """What runs in a call and did not, or the other way, each load in the first call that shows it."""
    inside = _inside(case, device)
    told: set[str] = set()
    for call, known in before.items():
        was, now = known.started(), after[call].started() if call in after else {}
        more = tuple(load for load in inside if load.name in now and load.name not in {*was, *told})
        less = tuple(load for load in inside if load.name in was and load.name not in {*now, *told})
        told.update(load.name for load in (*more, *less))
        for kind, loads in ((RunsWithout, more), (StaysOff, less)):
            if loads:
                yield kind(
                    at=spot(acts[0]),
                    about=device,
                    severity="hazard" if kind is RunsWithout else "fault",
                    stage="final",
                    device=device,
                    acts=acts,
                    loads=loads,
                    call=call,
                )


def _others(
    case: Case, after: dict[str, Play], device: Device, acts: tuple[Altered, ...]
) -> Iterator[FeedsOthers]:
    """The first call in which a load outside of it runs otherwise than with this device as it was."""
    others = tuple(one for one in case.board.altered if one.device != device.name)
    before = played(Case(case.board._replace(altered=others), case.work))
    inside = {load.name for load in loads_of(case, device)}
    outside = [load for load in case.circuit.loads if load.kind in WORKING and load.name not in inside]
    for call, known in before.items():
        was, now = known.started(), after[call].started() if call in after else {}
        for more, here, there in ((True, now, was), (False, was, now)):
            loads = tuple(load for load in outside if load.name in here and load.name not in there)
            if loads:
                yield FeedsOthers(
                    at=spot(acts[0]),
                    about=device,
                    severity="advice",
                    stage="final",
                    device=device,
                    acts=acts,
                    loads=loads,
                    call=call,
                    more=more,
                )
                return


def _inside(case: Case, device: Device) -> list[Load]:
    return [load for load in loads_of(case, device) if load.kind in WORKING]


def words(problem: Change, case: Case) -> Words:
    """What was done, and what comes of it."""
    done = listed(map(_done, problem.acts), MOST_NAMED)
    remedy = f"Put the wires in {problem.device.name} back as the diagram in its door shows them."
    match problem:
        case GuardsNoMore(safety=safety, loads=loads, call=call):
            comes = f"{safety.name} opens{during(case.circuit, call)}, and {_names(loads)} runs on"
            comes = comes.replace(" runs on", " run on") if len(loads) > 1 else comes
        case RunsWithout(loads=loads, call=call):
            when = during(case.circuit, call) or " with no call"
            comes = f"{_names(loads)} {'run' if len(loads) > 1 else 'runs'}{when}"
        case StaysOff(loads=loads, call=call):
            comes = (
                f"{_names(loads)} {'do' if len(loads) > 1 else 'does'} not run{during(case.circuit, call)}"
            )
        case FeedsOthers(loads=loads, call=call, more=more):
            names, when = _names(loads), during(case.circuit, call) or " with no call"
            runs = (
                ("run" if len(loads) > 1 else "runs")
                if more
                else f"do{'' if len(loads) > 1 else 'es'} not run"
            )
            without = f"would{' not' if more else ''} without what was done in {problem.device.name}"
            comes = f"{names} {runs}{when}, and {without}"
            remedy = f"Hold it against the diagram in the door of {problem.device.name}."
            if more:
                remedy += f" If it is not there, find how {names} should have power before you take it out."
        case _:
            comes = f"What {problem.device.name} does is the same, as far as it is judged here"
    return Words(
        message=f"{comes}.",
        guess=f"In {problem.device.name}, {done}.",
        help=remedy,
        source=f"common practice; {case.code.section('equipment as its instructions say')}",
    )


def _done(act: Altered) -> str:
    match act.act:
        case "jumper":
            return f"a jumper goes from {act.points[0]} to {act.points[1]}"
        case "lift":
            return f"the lead to {act.points[0]} is off"
    return f"the leads to {act.points[0]} and {act.points[1]} are swapped"


def _names(loads: tuple[Load, ...]) -> str:
    return listed((load.name for load in loads), MOST_NAMED)


RULE = rule(__name__, "final", severities=("hazard", "fault", "advice"), find=find, words=words)
