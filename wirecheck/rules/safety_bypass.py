"""A safety opens, and what it guards runs on.

A limit, a float or a pressure switch that is wired around is worse than
none: whoever looks at it believes that it works.

Source: the board's own `expect` lines; ANSI Z21.20, UL 60730 in spirit: any one safety stops its load
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wirecheck.circuit.by_itself import LED, at_once
from wirecheck.circuit.circuit import Load, Variable
from wirecheck.circuit.play import Play
from wirecheck.circuit.settle import Settled
from wirecheck.judge import safeties, ways
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.judge.cut_off import cut_off
from wirecheck.judge.finding import Note
from wirecheck.judge.inside import loads_of
from wirecheck.judge.judged import judged
from wirecheck.judge.machine_screw import machine_screw
from wirecheck.judge.made_up import join_at, joins
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.language.listing import listed
from wirecheck.language.syntax import ExpectStops, Runs
from wirecheck.model.board import Device, Join, Member
from wirecheck.parts.part import FLAME

# What a contact does that is against high pressure.
RISE = "opens-on-rise"
# The terminals of a machine by which its hot comes.
HOT = ("hot", "switched", "line")
# How many a join holds that only brings a wire to a screw: with more, a way goes around something there.
A_WIRE_THROUGH = 2


class RunsOn(Problem):
    """A load that a line wants a safety to stop runs on when it opens in a call, or once a button is pressed.

    `around` is the join that goes around the safety, if there is one; `control` the device that the safety is
    in, where the load is not, and no wire on the board passes it by.
    """

    safety: Variable
    control: Device | None
    load: Load
    call: str
    around: Join | None
    line: ExpectStops


class GuardsNothing(Problem):
    """A safety on the board that no line names stops no load that does work, in any call.

    `compressors` are those that one against high pressure should stop, at least one of them.
    """

    safety: Variable
    compressors: tuple[Load, ...]
    around: Join | None


class BurnsOn(Problem):
    """A limit in `device`, a control, stops no load of a burner on the board, which are `burners`."""

    safety: Variable
    device: Device
    burners: tuple[Load, ...]


class Calls(Problem):
    """A safety on the board that no line names lies beside the thermostat, and not in series with it.

    With no call made it runs `loads`, until it opens, and in `call` they run on as it opens.
    """

    safety: Variable
    loads: tuple[Load, ...]
    call: str


Kind = RunsOn | GuardsNothing | BurnsOn | Calls


def find(case: Case) -> Iterator[Kind]:
    """Each load that a line wants stopped, and each safety that no line names."""
    lines = [one for one in case.board.expectations if isinstance(one, ExpectStops)]
    yield from judged(case, lines, _of_line)
    named = {line.safety.text for line in lines}
    for safety in case.circuit.variables.values():
        if safety.safety and safety.name not in named and safety.name in case.board.devices:
            yield from _guards_nothing(case, safety)
        elif safety.safety and safety.name not in named:
            yield from _burns_on(case, safety)


def surely(case: Case, before: Sequence[Kind]) -> bool:
    """Whether a load runs on in the call in which it did before."""
    calls = ("", *case.heard, *safeties.starters(case.circuit))
    known = (one for one in before if isinstance(one, RunsOn) and one.call in calls)
    return any(found for one in known for found in _run_on(case, one.line, [one.load.name], [one.call]))


def _of_line(case: Case, line: ExpectStops) -> Iterator[RunsOn]:
    yield from _run_on(case, line, [word.text for word in line.loads], None)


def _run_on(
    case: Case, line: ExpectStops, names: Sequence[str], asked: Sequence[str] | None
) -> Iterator[RunsOn]:
    """Those of some loads that run on in one of some calls."""
    safety = case.circuit.variables.get(line.safety.text)
    if safety is None:
        return
    dead = cut_off(case.circuit, safety.name, safeties.opened_position(safety))
    for name in names:
        load = case.circuit.load.get(name)
        if load is not None and load.name not in dead:
            yield from _runs_on(case, line, safety, load, asked)


def _runs_on(
    case: Case, line: ExpectStops, safety: Variable, load: Load, asked: Sequence[str] | None
) -> Iterator[RunsOn]:
    """The first call in which it runs on."""
    for fixed, opened in (
        (fixed, opened)
        for fixed, plays in _plays(case, asked)
        for opened in safeties.opened(case.circuit, plays, safety, (load,))
    ):
        if not opened.runs_on:
            continue
        if not safeties.lasts(case, opened, fixed, safety, load):
            continue
        around, control = _around(case, safety, opened.before), _control(case, safety, load)
        at = around or (_fed_at(case, control, load) if control else _landed(case, safety, opened))
        at = at or _kept_in_at(case, opened.after, load)
        yield RunsOn(
            at=spot(at) if at else Spot(line.span, line),
            about=safety,
            severity="hazard",
            stage="final",
            copper=frozenset((case.uses.piece[load.a], case.uses.piece[load.b])),
            safety=safety,
            control=control,
            load=load,
            call=opened.call,
            around=around,
            line=line,
        )
        return


def _guards_nothing(case: Case, safety: Variable) -> Iterator[GuardsNothing | Calls]:
    compressors = _compressors(case, safety)
    working = list(compressors) or [load for load in case.circuit.loads if load.kind in WORKING]
    plays = [played for _, played in _plays(case)]
    dead = cut_off(case.circuit, safety.name, safeties.opened_position(safety))
    stopped = dead.intersection(load.name for load in working)
    steps = (step for played in plays for play in played.values() for step in play.steps)
    if any(not stopped.isdisjoint(step.settled.running) for step in steps):
        return
    states = [one for played in plays for one in safeties.opened(case.circuit, played, safety, working)]
    if states and all(_stops_none(state, safety) for state in states):
        around = _around(case, safety, case.at_rest)
        yield GuardsNothing(
            at=spot(around or case.board.devices[safety.name]),
            about=safety,
            severity="hazard",
            stage="final",
            copper=frozenset(case.uses.piece[screw] for screw in _screws(case, safety)),
            safety=safety,
            compressors=compressors,
            around=around,
        )
    elif states:
        yield from _calls(case, safety, states)


def _calls(case: Case, safety: Variable, states: Sequence[safeties.Opened]) -> Iterator[Calls]:
    """A safety that runs with no call what it stops then, and does not stop in the call for that."""
    alone = {
        load.name: load
        for state in states
        if not state.before.calls
        for load in state.ran
        if load not in state.runs_on
    }
    for state in states:
        loads = tuple(load for load in state.runs_on if load.name in alone)
        if state.call in case.heard and state.before.calls and loads:
            yield Calls(
                at=spot(_beside(case, safety, state) or case.board.devices[safety.name]),
                about=safety,
                severity="hazard",
                stage="final",
                copper=frozenset(case.uses.piece[screw] for screw in _screws(case, safety)),
                safety=safety,
                loads=loads,
                call=state.call,
            )
            return


def _burns_on(case: Case, safety: Variable) -> Iterator[BurnsOn]:
    """A limit inside a control that burns nothing itself, where a burner beside it heats past it."""
    device = case.circuit.around[safety.device][0]
    if safety.moved_by != "temperature" or not _opens_on_rise(case, safety) or _works(case, device):
        return
    flames = {case.circuit.devices[one.device].outer for one in _flames(case)}
    burners = tuple(
        load
        for load in case.circuit.loads
        if load.kind in WORKING and case.circuit.devices[load.device].outer in flames
    )
    plays = [played for _, played in _plays(case)] if burners else []
    states = [one for played in plays for one in safeties.opened(case.circuit, played, safety, burners)]
    if states and all(_stops_none(state, safety) for state in states):
        ran = {load.name: load for state in states for load in state.runs_on}
        yield BurnsOn(
            at=spot(_fed_at(case, device, states[0].ran[0]) or device),
            about=safety,
            severity="hazard",
            stage="final",
            copper=frozenset(case.uses.piece[end] for load in ran.values() for end in load.ends),
            safety=safety,
            device=device,
            burners=tuple(ran.values()),
        )


def _control(case: Case, safety: Variable, load: Load) -> Device | None:
    """The device that a safety is inside of, where a load is outside of it."""
    device = case.circuit.around[safety.device][0]
    inside = device.name == safety.device or case.circuit.devices[load.device].outer == device.name
    return None if inside else device


def _flames(case: Case) -> Iterator[Variable]:
    """The flames of the burners on a board."""
    return (one for name, one in case.circuit.variables.items() if name == f"{one.device}.{FLAME}")


def _works(case: Case, device: Device) -> bool:
    """Whether a device does work itself: a limit in it is for that."""
    return any(load.kind in WORKING for load in loads_of(case, device))


def _fed_at(case: Case, device: Device, load: Load) -> Join | None:
    """Where the hot of a load is on a device, or beside it."""
    outer = case.circuit.devices[load.device].outer
    terminals = case.board.devices[outer].part.terminals
    hots = [f"{outer}.{name}" for name, spec in terminals.items() if spec.role in HOT]
    back = ways.way(case, hots, legs(case))
    joins = back.joins if back is not None else ()
    return next((join for join in joins if join.place in (device.place, device.name)), None)


def _kept_in_at(case: Case, state: Settled, load: Load) -> Join | None:
    """Where the coil that keeps a load in has its hot, if more than one way comes together there."""
    passes = ways.conducting(state)
    for end in load.ends:
        back = ways.way(case, legs(case), (end,), passes)
        for contact in back.contacts if back is not None else ():
            coil = case.circuit.meant(contact.when, contact.scope) if isinstance(contact.when, Runs) else None
            if coil is not None:
                join = _hot_of(case, coil, passes)
                return join if join is not None and len(join.members) > A_WIRE_THROUGH else None
    return None


def _hot_of(case: Case, coil: Load, passes: ways.Passes) -> Join | None:
    """The join on a coil's screw that has its hot: the way there has more to open on it."""
    fed = [way for end in coil.ends if (way := ways.way(case, _sources(case), (end,), passes)) is not None]
    hot = max(fed, key=lambda way: len(way.contacts), default=None)
    return join_at(case, machine_screw(case, hot.points[-1])) if hot is not None else None


def _sources(case: Case) -> list[str]:
    """Where the hots of a board begin: its legs, and the ends of its transformers' secondaries."""
    return [*legs(case), *(end for winding in case.circuit.windings for end in winding.secondary)]


def _stops_none(state: safeties.Opened, safety: Variable) -> bool:
    """Whether all runs on as it opens that does so where it stays as it stands."""
    stays = at_once(state.before, safety, state.before.positions[safety.name]).running
    return all(load in state.runs_on for load in state.ran if load.name in stays)


def _compressors(case: Case, safety: Variable) -> tuple[Load, ...]:
    """Those on the board, where a safety is one that opens as the pressure of a refrigerant rises."""
    if safety.moved_by != "pressure" or not _opens_on_rise(case, safety):
        return ()
    return tuple(load for load in case.circuit.loads if "hermetic" in load.flags)


def _opens_on_rise(case: Case, safety: Variable) -> bool:
    """Whether what it feels opens a contact of it as it rises."""
    return any(RISE in contact.flags for contact in case.circuit.devices[safety.name].part.contacts)


def _plays(
    case: Case, asked: Sequence[str] | None = None
) -> Iterator[tuple[Mapping[str, str], Mapping[str, Play]]]:
    """What is held, and each call's play: as the board moves it, and with what stands open closed."""
    yield {}, safeties.played(case, asked)
    closed = _closed_by_itself(case)
    if closed:
        yield closed, safeties.played(case, asked, closed)


def _closed_by_itself(case: Case) -> dict[str, str]:
    """What stands open at rest and nothing on the board closes, closed: what waits behind it runs too.

    A draft closes a pressure switch, and no line of the board says how.
    """
    rest, moved = case.at_rest.positions, {move.variable for move in case.circuit.moves}
    return {
        variable.name: safeties.CLOSED
        for variable in case.circuit.variables.values()
        if variable.moved_by not in LED
        and safeties.CLOSED in variable.values
        and rest.get(variable.name) != safeties.CLOSED
        and variable.name not in moved
    }


def _screws(case: Case, safety: Variable) -> list[str]:
    """The terminals of a safety, by name."""
    return [f"{safety.name}.{name}" for name in case.circuit.devices[safety.name].part.terminals]


def _opening(case: Case, safety: Variable, opened: safeties.Opened) -> list[str]:
    """The terminals between which a safety opens; all that it has where its contacts are inside of it."""
    contacts = case.circuit.contacts_in.get(safety.device, ())
    parted = (one for one in contacts if one.name in opened.before.closed - opened.after.closed)
    ends = (end for one in parted for end in (one.a, one.b) if end in case.board.terminals)
    return [*dict.fromkeys(ends)] or _screws(case, safety)


def _around(case: Case, safety: Variable, state: Settled) -> Join | None:
    """The join that goes around a safety: one that holds both sides of its contact.

    Of several, as of a changeover, it is one that is closed in a state.
    """
    contacts = case.circuit.contacts_in.get(safety.device, ())
    for contact in contacts:
        a, b = contact.a, contact.b
        if (len(contacts) == 1 or contact.name in state.closed) and case.uses.piece[a] == case.uses.piece[b]:
            around = ways.way(case, [a], [b], ways.nothing)
            joins = around.joins if around is not None else ()
            return max(joins, key=_wires, default=None)
    return None


def _wires(join: Join) -> tuple[int, int]:
    """How much is joined there, and how much of it is wires' ends."""
    return len(join.members), sum(member.kind == "end" for member in join.members)


def _beside(case: Case, safety: Variable, opened: safeties.Opened) -> Join | None:
    """The join that brings a safety power beside something else: on its own screw, or where its wire ends."""
    screws = _opening(case, safety, opened)
    own = (join for screw in screws for join, _ in joins(case).get(screw, ()))
    shared = (join for join in own if any(_is_of_another(case, one, safety) for one in join.members))
    return next(shared, None) or _landed(case, safety, opened)


def _is_of_another(case: Case, member: Member, safety: Variable) -> bool:
    return member.kind == "terminal" and case.board.terminals[member.name].owner != safety.name


def _landed(case: Case, safety: Variable, opened: safeties.Opened) -> Join | None:
    """The join in which the wire from a safety's first side ends."""
    made = {screw: there for screw in _opening(case, safety, opened) if (there := joins(case).get(screw))}
    if not made:
        return None
    every = sorted((join for there in made.values() for join, _ in there), key=lambda join: join.span)
    here = every[0]
    wires = {member.name for member in here.members if member.kind == "end"}
    if len(made) == 1 and (len(wires) > 1 or len(every) > 1):
        # Both wires are on one side of it: there they pass it by.
        return every[-1]
    return next(
        (
            join
            for join in case.board.joins
            if join is not here and any(member.name in wires for member in join.members)
        ),
        None,
    )


def words(problem: Kind, case: Case) -> Words:
    """What runs on, and how the safety gets in its way."""
    safety = problem.safety.name
    if isinstance(problem, BurnsOn):
        return Words(
            message=f"{safety} opens, and {_run(problem.burners)} on. It must stop the burner at once.",
            help=f"Bring the burner its hot from the screw of {problem.device.name} that {safety} opens.",
            source="common practice: the high limit stops the burner; ASME CSD-1 (from memory)",
        )
    if isinstance(problem, GuardsNothing) and problem.compressors:
        return Words(
            message=f"{safety} opens, and {_run(problem.compressors)} on. It must stop a compressor at once.",
            help=f"Put {safety} in series with the coil of the contactor, whatever else is in that wire.",
            source="common practice: a high-pressure switch stops the compressor; ASHRAE 15 (from memory)",
        )
    if isinstance(problem, GuardsNothing):
        return Words(
            message=f"{safety} opens, and every load that ran runs on, in every call: it guards nothing.",
            help=f"Put {safety} in series with what it should stop: in the power wire to the thermostat for "
            "every call, or in the wire of one call for that one. Take out a wire that goes around it. Where "
            "another safety does, put the two in series.",
            source="common practice: a safety is wired in series with what it stops",
        )
    if isinstance(problem, Calls):
        run, makers = _run(problem.loads), listed(case.callers[problem.call])
        return Words(
            message=f"{safety} is beside what {makers} closes, and not in series with it. {run} with "
            f"no call, until {safety} opens. In a call for {problem.call}, {run} on when it opens.",
            help=f"Take {safety} off the power wire, and put it in series: the wire of the call for "
            f"{problem.call} goes to one side of it, and from its other side on.",
            source="common practice: a safety is wired in series with what it stops",
        )
    load = problem.load.name
    if problem.around is not None and _by_themselves(problem.around):
        seen = f"The two wires of {safety} are joined with each other at {problem.around.place}"
        remedy = f"Part them there, and bring {load} its power through {safety} alone."
    elif problem.around is not None:
        seen = f"{safety} is wired around"
        remedy = f"Take out what goes around {safety}: {load} must get its power through it alone."
    elif problem.control is not None:
        seen = f"{safety} is not in series with {load}"
        remedy = f"Bring {load} its hot from the screw of {problem.control.name} that {safety} opens."
    else:
        seen = f"{safety} is not in series with {load}"
        remedy = f"Move {safety} into the wire that the call for {load} comes by, in series with it."
    during = safeties.during(case.circuit, problem.call)
    elsewhere = problem.line.span != problem.at.span
    return Words(
        message=f"{seen}: it opens{during}, and {load} runs on.",
        help=remedy,
        source="the board's expect line",
        also=(Note("what the board should do", problem.line.span),) if elsewhere else (),
    )


def _run(loads: Sequence[Load]) -> str:
    """Which loads run, as a sentence begins."""
    return f"{listed(one.name for one in loads)} {'runs' if len(loads) == 1 else 'run'}"


def _by_themselves(join: Join) -> bool:
    """Whether nothing but two wires' ends are in a join."""
    return [member.kind for member in join.members] == ["end", "end"]


RULE = rule(__name__, "final", severities=("hazard",), find=find, words=words, surely=surely, of_ties=True)
