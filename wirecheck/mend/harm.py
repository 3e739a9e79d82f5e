"""What a mend may not do to be silent: take away power or what guards it, or put power on low voltage."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import reduce
from types import MappingProxyType
from typing import Any, NamedTuple

from wirecheck.circuit.circuit import COILS, Load, Outlet
from wirecheck.circuit.series import in_series
from wirecheck.judge import calls
from wirecheck.judge.behind import (
    across_calls,
    behind,
    bridged,
    called_for_good,
    defeated,
    disconnected,
    fed_back,
    hung,
    past,
    sheltered,
    stopping,
)
from wirecheck.judge.buttons import pushes
from wirecheck.judge.case import Case
from wirecheck.judge.purpose import is_class_2
from wirecheck.judge.safeties import opened_position
from wirecheck.judge.shock_and_arc import against_arcs, for_persons
from wirecheck.judge.supply import too_much
from wirecheck.judge.turning import forward, motors
from wirecheck.judge.unfed import DEAD_VOLTS, Supplied, supplied
from wirecheck.language.syntax import ExpectFrom, ExpectLive, ExpectStarts, ExpectStops
from wirecheck.model.board import Board, Device
from wirecheck.parts.part import TRIED, Role
from wirecheck.tables.thermostat_colors import usual_colors

# What the screws of thermostat wiring are for, and those of a power circuit.
LOW: tuple[Role, ...] = ("class-2", "class-2-common")
HIGH: tuple[Role, ...] = ("hot", "neutral", "switched", "line")
# What has the color of its first stage, where it has one (common practice).
STAGES: Mapping[str, str] = {"second-heat": "heat", "second-cool": "cool"}


class Served(NamedTuple):
    """Whatever takes power, with every screw; what has its volts in some state; what is guarded.

    `machines` are the outermost devices of which some load that does work has its volts in some state.
    `fed` is what has any volts, `ill_fed` what of it has too many, or has never as many as it needs.
    `starved` are the loads, two and two, in series so that the first has too little to work, or two coils.
    `asked` is what a line wants from switches or live, `answered` what runs, if only at first, in the calls
    in which a line wants it, with those calls. `ran` is what runs in each call and each two calls, as soon as
    they are made and in the end, and `wanted` what of that a line wants. `uncalled` is what a line wants of a
    call, and that runs with none though no line wants it then.
    `guarded` names the danger too, shock or arc: a GFCI is before it, or an AFCI.
    `stopped` is how much stops, over the calls, with the devices that a line wants to stop something.
    `controls` is how many wires, apart from each other, are on each float switch, limit, fuse and their like;
    `mixed` are the joins, by what is in them, in which Class 2 wiring meets the wires of power.
    `doubled` is how many conductors of a cable join what another one of it joins. `turned` are the ways in
    which each motor on three phases turns, forward or not. `turned_back` are the splices of nothing but wires
    of one cable, which lead nowhere but back.
    `bridged` are the contacts that open nothing, `behind` how many sides of each load are behind the contacts
    of each device, `within` the machine that each load is in, `past` what a call runs that has the same hot
    past them, and `fed_back` the load screws that a source is on (`judge/behind.py`).
    `helped` are the run capacitors that are in at the end of some call. `hung` is what each float switch,
    limit or their like opens, `limited` what each of them does that is a safety, `across` those of them that
    lie between two calls of a thermostat. `odd` is how many wires of thermostat cables are not of the color
    that is usual for what they are on, and could be.
    `damp` is what a call for humidity runs while it is cooled, and not while it is heated. `disconnected` is
    what a disconnect opens, one of its hots or more. `sheltered` are the controls that get their power by the
    contacts of a device alone, with that; `in_common` those that are in the common of a low voltage.
    `workers` are the loads that do work. `pressed` is what a start button starts, or should by a line, and
    `unpressed` what of it runs before anybody has pressed one. `called_for_good` are the screws for a call
    that are on power. `stopping` are the stop buttons that stop something, and `defeated` those of them that
    a start button lies around. `idle` are the ends of wires that lie there with the other end joined, and
    the screws of devices that need a wire and have none. `earthed` are the screws of calls, and of the power
    for them, that are on the equipment ground.
    """

    everything: frozenset[str] = frozenset()
    working: frozenset[str] = frozenset()
    machines: frozenset[str] = frozenset()
    fed: frozenset[str] = frozenset()
    ill_fed: frozenset[str] = frozenset()
    starved: frozenset[tuple[str, str]] = frozenset()
    asked: frozenset[str] = frozenset()
    answered: frozenset[tuple[tuple[str, ...], str]] = frozenset()
    ran: frozenset[tuple[tuple[str, ...], str, str]] = frozenset()
    wanted: frozenset[tuple[tuple[str, ...], str]] = frozenset()
    uncalled: frozenset[str] = frozenset()
    guarded: frozenset[tuple[str, str]] = frozenset()
    stopped: int = 0
    controls: Mapping[str, int] = MappingProxyType({})
    mixed: frozenset[frozenset[str]] = frozenset()
    doubled: int = 0
    turned: frozenset[tuple[str, bool]] = frozenset()
    turned_back: frozenset[frozenset[str]] = frozenset()
    bridged: frozenset[str] = frozenset()
    behind: Mapping[tuple[str, str], int] = MappingProxyType({})
    within: Mapping[str, str] = MappingProxyType({})
    past: frozenset[tuple[str, str]] = frozenset()
    fed_back: frozenset[str] = frozenset()
    helped: frozenset[str] = frozenset()
    hung: frozenset[tuple[str, str]] = frozenset()
    limited: frozenset[tuple[str, str]] = frozenset()
    across: frozenset[tuple[str, frozenset[str]]] = frozenset()
    odd: int = 0
    damp: frozenset[str] = frozenset()
    disconnected: frozenset[str] = frozenset()
    sheltered: frozenset[tuple[str, str]] = frozenset()
    in_common: frozenset[str] = frozenset()
    workers: frozenset[str] = frozenset()
    pressed: frozenset[str] = frozenset()
    unpressed: frozenset[str] = frozenset()
    called_for_good: frozenset[str] = frozenset()
    stopping: frozenset[str] = frozenset()
    defeated: frozenset[tuple[str, str]] = frozenset()
    idle: frozenset[str] = frozenset()
    earthed: frozenset[str] = frozenset()

    @property
    def runs_by_itself(self) -> bool:
        """Whether something runs for good that waits for a call or for a start button."""
        return bool(self.called_for_good or self.pressed & self.unpressed)


def served(systems: Iterable[Case]) -> Served:
    """How some systems of a board are served, by the names of their outlets, loads and transformers."""
    return reduce(_together, map(_served, systems), Served())


def _together(one: Served, other: Served) -> Served:
    """Two systems as one: what is counted is added up, all else is both."""
    pairs: Iterator[tuple[Any, Any]] = zip(one, other, strict=True)
    return Served(*(a + b if isinstance(a, int) else a | b for a, b in pairs))


def _served(case: Case) -> Served:
    known = [(one, one.wanted.of.name, max(_volts(case, one))) for one in _known(case)]
    names = (one.wanted.of.name for one in supplied(case))
    lines = [(calls.made(line), calls.wanted(case, line)) for line in calls.asked(case)]
    wanted = frozenset((made, load.name) for made, loads in lines for load in loads)
    called = frozenset(name for made, name in wanted if made and ((), name) not in wanted)
    return Served(
        everything=frozenset((*names, *case.board.terminals, *case.board.devices, *case.circuit.load)),
        working=frozenset(name for one, name, volts in known if volts >= one.needs),
        machines=frozenset(one.device for one, _, volts in known if volts >= one.needs and _works(one)),
        fed=frozenset(name for _, name, volts in known if volts > DEAD_VOLTS),
        ill_fed=frozenset(name for one, name, volts in known if _is_ill_fed(one, volts)),
        starved=frozenset(_starved(case)),
        asked=frozenset(_asked(case)),
        answered=frozenset(_answered(case)),
        ran=frozenset(_ran(case)),
        wanted=wanted,
        uncalled=called & case.standing({}).running if called else frozenset(),
        guarded=frozenset(_guarded(case)),
        stopped=_stopped(case),
        controls=_controls(case),
        mixed=frozenset(_mixed(case.board)),
        doubled=_doubled(case),
        turned=frozenset(_turned(case)),
        turned_back=frozenset(_turned_back(case.board)),
        bridged=bridged(case),
        behind=behind(case),
        within={one.name: case.circuit.devices[one.device].outer for one in case.circuit.loads},
        past=frozenset((one.load.name, one.device) for one in past(case)),
        fed_back=frozenset(fed_back(case)),
        helped=frozenset(_helped(case)),
        hung=frozenset(hung(case)),
        limited=frozenset(_limited(case)),
        across=frozenset(across_calls(case)),
        odd=len(set(_odd(case))),
        damp=frozenset(_damp(case)),
        disconnected=frozenset(disconnected(case)),
        sheltered=frozenset(sheltered(case)),
        in_common=frozenset(_in_common(case)),
        workers=frozenset(one.name for one in case.circuit.loads if one.kind in calls.WORKING),
        pressed=frozenset(_pressed(case)),
        unpressed=case.at_rest.running,
        called_for_good=frozenset(called_for_good(case)),
        stopping=frozenset(stopping(case)),
        defeated=frozenset(defeated(case)),
        idle=frozenset(_idle(case.board)),
        earthed=frozenset(_earthed(case)),
    )


def hurts(before: Served, after: Served, blamed: Collection[str]) -> bool:
    """Whether something that worked does not in any state, a control is out, or low voltage meets power.

    It hurts, too, where a motor that was reversed turns one way only, where loads share their volts that did
    not, where a control comes between two calls or into a common, where the first ground fault goes past it,
    or water into air that is cooled, where wires of one cable are spliced with each other alone, and where a
    call or the power for it comes onto the equipment ground.

    What is named in a problem, `blamed`, may have worked because of the mistake, unless nothing of its
    machine works then, or a line asks for it: that should work, and not be silent. What has the wrong volts
    should have others, and not none.
    """
    stopped = (before.working & after.everything) - after.working
    taken_out = any(
        after.controls.get(control, 0) < count
        for control, count in before.controls.items()
        if control in after.everything
    )
    mixed = any(not any(one <= was for was in before.mixed) for one in after.mixed)
    reversed_before = [name for name, forward in before.turned if forward and (name, False) in before.turned]
    one_way = any(
        name in after.everything and len({(name, True), (name, False)} & after.turned) == 1
        for name in reversed_before
    )
    dead = any(name in after.everything for _, name in before.answered - after.answered)
    dead = dead or not before.ill_fed & after.everything <= after.fed
    dead = dead or not before.machines & after.everything <= after.machines
    shared = not after.starved <= before.starved
    cut = any(name in after.everything for name in before.helped - after.helped)
    return (
        taken_out
        or mixed
        or one_way
        or dead
        or shared
        or cut
        or not after.turned_back <= before.turned_back
        or not after.across <= before.across
        or not after.damp <= before.damp
        or not after.in_common <= before.in_common
        or not after.earthed <= before.earthed
        or not after.called_for_good <= before.called_for_good
        or not after.defeated <= before.defeated
        or not before.stopping & after.everything <= after.stopping
        or bool((before.pressed - before.unpressed) & after.unpressed)
        or _goes_past(before, after, blamed)
        or not stopped <= frozenset(blamed) - before.asked
    )


def _goes_past(before: Served, after: Served, blamed: Collection[str]) -> bool:
    """Whether a contact opens nothing that did, or what worked is no longer behind one, or half past it.

    The machine that a problem names may be behind one because of the mistake. What was half past one is not
    mended by taking the other hot off its contacts, nor what has one hot past a disconnect by bringing the
    other ahead of it, too; nor is what worked to wait for one more contact, nor a control to be brought to
    what is live for good, out from behind the contact that it stands behind.
    """
    machines = {before.within.get(name) for name in blamed}
    brought_out = any(
        after.behind.get((load, device), 0) < sides
        for (load, device), sides in before.behind.items()
        if load in before.working
        and {load, device} <= after.everything
        and before.within[load] not in machines
    )
    fed_back = after.fed_back - before.fed_back
    # What had the wrong volts there may belong on another source.
    ahead = (before.disconnected & after.everything) - after.disconnected - before.ill_fed
    newly = any(
        load in before.working and device not in blamed and before.within[load] not in machines
        for load, device in after.behind.keys() - before.behind.keys()
    )
    left_on = any(
        (load, control) in after.hung
        for control, device in before.sheltered - after.sheltered
        if {control, device} <= after.everything
        for load in after.workers & _with_no_call(after)
    )
    halved = (pair for pair in before.past - after.past if pair[0] in before.working)
    by_one = any(after.behind.get(pair) == 1 for pair in halved)
    return (
        brought_out
        or by_one
        or bool(ahead)
        or newly
        or left_on
        or bool(fed_back)
        or not after.bridged <= before.bridged
        or not after.past <= before.past
    )


def moves_a_safety(before: Served, after: Served) -> bool:
    """Whether a safety no longer opens what it did, or something runs with no call that waited for one.

    What is too small or too full is no reason for either: a limit's contacts may be too small for a heater,
    and it must not lose its limit for that.
    """
    kept = {pair for pair in before.limited if {*pair} <= after.everything}
    return not kept <= after.limited or not after.uncalled <= before.uncalled


def _limited(case: Case) -> Iterator[tuple[str, str]]:
    safeties = {one.device for one in case.circuit.variables.values() if one.safety}
    return (pair for pair in hung(case) if pair[1] in safeties)


def unguarded(before: Served, after: Served) -> int:
    """How much of what is there after has lost its protection against shock, or against arcs."""
    return sum(name in after.everything for name, _ in before.guarded - after.guarded)


def run_besides(before: Served, after: Served, blamed: Collection[str]) -> int:
    """How much that worked, and no problem names, runs in calls in which it did not, and no line wants it.

    What ran with no call, and waits for one now, begins with that.
    """
    waits = _with_no_call(before) - _with_no_call(after)
    return len(
        {
            (made, name)
            for made, _, name in after.ran - before.ran
            if name in before.working - waits and name not in blamed and (made, name) not in after.wanted
        }
    )


def _with_no_call(told: Served) -> frozenset[str]:
    return frozenset(name for made, _, name in told.ran if not made)


def _known(case: Case) -> Iterator[Supplied]:
    """What takes power; a coil inside of equipment is known by what it moves."""
    for one in supplied(case):
        of = one.wanted.of
        if not (isinstance(of, Load) and of.kind == "coil" and case.circuit.devices[of.device].inside):
            yield one


def _volts(case: Case, one: Supplied) -> list[float]:
    """What it has in each state, before anything opens."""
    return [(state.first or state).across(one.wanted.a, one.wanted.b) for state in case.states]


def _works(one: Supplied) -> bool:
    """Whether it is a load that does work."""
    return isinstance(one.wanted.of, Load) and one.wanted.of.kind in calls.WORKING


def _is_ill_fed(one: Supplied, most: float) -> bool:
    """Whether it has volts that it is not made for: too many, or never enough."""
    of = one.wanted.of
    return DEAD_VOLTS < most < one.needs or (isinstance(of, Load) and too_much(of, most))


def _starved(case: Case) -> Iterator[tuple[str, str]]:
    """The loads that have too little to work, with each that they are in series with then.

    A coil that has its volts by way of another one has them by chance, be they enough.
    """
    loads = [one.wanted.of for one in _known(case) if isinstance(one.wanted.of, Load)]
    coils = {load.name for load in loads if load.kind in COILS and "in-series" not in load.flags}
    for state in (state.first or state for state in case.states):
        for load in loads:
            volts = state.load_volts(load)
            if load.name in coils and volts > DEAD_VOLTS:
                yield from ((load.name, other) for other in in_series(state, load.name) if other in coils)
            elif load.kind not in COILS and DEAD_VOLTS < volts < load.works:
                yield from ((load.name, other) for other in in_series(state, load.name))


def _asked(case: Case) -> Iterator[str]:
    """The loads and outlets that a line wants from its switches, or live."""
    lines = case.board.expectations
    named = {line.load.text for line in lines if isinstance(line, ExpectFrom)}
    named |= {line.outlet.text for line in lines if isinstance(line, ExpectLive)}
    for _, wanted, _ in supplied(case):
        of = wanted.of
        if of.name in named or (isinstance(of, Load | Outlet) and of.device in named):
            yield of.name


def _answered(case: Case) -> Iterator[tuple[tuple[str, ...], str]]:
    """The calls of each line, with each load that it wants and that runs in them, if only for a moment."""
    for line in calls.asked(case):
        made = calls.made(line)
        steps = case.played(made).steps
        ran = frozenset().union(*(one.settled.running for one in steps if one.settled.calls or not made))
        yield from ((made, load.name) for load in calls.wanted(case, line) if load.name in ran)


def _ran(case: Case) -> Iterator[tuple[tuple[str, ...], str, str]]:
    """What runs in no call, in each and in each two, as soon as they are made and in the end."""
    for made in ((), *((call,) for call in case.heard), *case.pairs[0]):
        steps = case.played(made).steps
        called = [step for step in steps if len(step.settled.calls) == len(made)]
        at_once = [step for step in called if step.time == called[0].time]
        for moment, listed in (("at once", at_once), ("in the end", steps)):
            yield from ((made, moment, name) for name in (listed[-1].settled.running if listed else ()))


def _pressed(case: Case) -> Iterator[str]:
    """The loads that a line wants a button to start, or that one starts, as it is pressed."""
    lines = (line for line in case.board.expectations if isinstance(line, ExpectStarts))
    yield from (word.text for line in lines for word in line.loads)
    for one in pushes(case):
        yield from one.held.running - case.at_rest.running


def _turned(case: Case) -> Iterator[tuple[str, bool]]:
    """The motors on three phases, with each way in which they turn in some state."""
    for load in motors(case.circuit):
        for state in (state.first or state for state in case.states):
            if load.name in state.running:
                yield load.name, forward(state, load)


def _helped(case: Case) -> Iterator[str]:
    """The run capacitors that carry current in the end of some call."""
    helps = {
        one.name for one in case.circuit.loads if one.kind == "capacitor" and "starting" not in one.flags
    }
    for call in case.heard if helps else ():
        yield from helps & case.standing({}, [call]).running


def _earthed(case: Case) -> Iterator[str]:
    """A call on metal may begin with the first ground fault, or blows the fuse where the common is there."""
    terminals, piece = case.board.terminals, case.uses.piece
    earth = {piece[name] for name, one in terminals.items() if one.spec.role == "ground"}
    calling = (name for name, one in terminals.items() if one.spec.role == "class-2")
    yield from (name for name in calling if piece[name] in earth)


def _idle(board: Board) -> Iterator[str]:
    """The ends of wires that lie idle with the other end joined, and the screws that lack a wire.

    Of the throws of a control of one contact either may have none.
    """
    joined = {member.point for join in board.joins for member in join.members}
    for wire in board.conductors.values():
        idle = [end for end in wire.ends if end not in joined]
        yield from idle if len(idle) == 1 else ()
    for device in board.devices.values():
        alone = not device.children and not device.part.loads
        pairs = [pair for one in device.part.contacts for pair in ((one.a, one.b), (one.b, one.a)) if alone]
        ends = [end for end, _ in pairs]
        throws = {end for end, other in pairs if ends.count(other) > 1}
        for label, spec in device.part.terminals.items():
            name = f"{device.name}.{label}"
            if "optional" not in spec.flags and label not in throws and name not in joined:
                yield name


def _damp(case: Case) -> Iterator[str]:
    """What a call for humidity and one for cooling run together, and neither alone nor with one for heat."""
    kinds = {
        call: kind
        for call, makers in case.callers.items()
        for kind in case.circuit.devices[makers[0]].part.calls
        if call in (kind, f"{makers[0]}.{kind}")
    }
    ran: dict[frozenset[str], set[str]] = {}
    for made in (*((call,) for call in case.heard), *case.pairs[0]):
        running = ran.setdefault(frozenset(kinds[call] for call in made), set())
        running.update(*(step.settled.running for step in case.played(made).steps))
    cooled = ran.get(frozenset(("humidify", "cool")), set())
    others = (frozenset(made) for made in (("cool",), ("humidify",), ("humidify", "heat")))
    yield from cooled.difference(*(ran.get(made, ()) for made in others))


def _guarded(case: Case) -> Iterator[tuple[str, str]]:
    """What gets its hot through a ground-fault device for persons, or one against arcs, with which it is."""
    against = {
        "shock": {one for one in case.circuit.protections if for_persons(one)},
        "arc": {one for one in case.circuit.protections if against_arcs(case, one)},
    }
    if not any(against.values()):
        return
    for _, wanted, _ in supplied(case):
        nodes = [case.circuit.node[side] for side in (wanted.a, wanted.b)]
        hots = [node for node in nodes if node in case.routes.origins]
        hots = [node for node in hots if case.routes.origins[node].kind == "leg"]
        for danger, devices in against.items():
            if hots and all(any(step.of in devices for step in case.routes.back(node)) for node in hots):
                yield wanted.of.name, danger


def _on_screws(case: Case, safety: str) -> bool:
    """Whether some contact of a safety is between two screws: no wire on a board passes by another one."""
    variable = case.circuit.variables.get(safety)
    if variable is None:
        return False
    node, board = case.circuit.node, case.board
    outer = case.circuit.devices[variable.device].outer
    screws = {node[f"{outer}.{name}"] for name in board.devices[outer].part.terminals}
    return any(
        {node[one.a], node[one.b]} <= screws for one in case.circuit.contacts_in.get(variable.device, ())
    )


def _stopped(case: Case) -> int:
    """How much stops, over the calls, once a float switch or its like has opened, where a line names it."""
    lines = (one for one in case.board.expectations if isinstance(one, ExpectStops))
    named = {one.safety.text for one in lines if _on_screws(case, one.safety.text)}
    return sum(
        len(case.settled({}, made).running - case.settled({name: opened_position(variable)}, made).running)
        for name in sorted(named)
        for variable in (case.circuit.variables[name],)
        for made in ((), *((call,) for call in case.heard))
    )


def _doubled(case: Case) -> int:
    """How many conductors of a cable only do again what another one of it does."""
    node = case.circuit.node
    return sum(
        len(run.conductors) - len({frozenset(node[end] for end in one.ends) for one in run.conductors})
        for run in case.board.runs.values()
    )


def _turned_back(board: Board) -> Iterator[frozenset[str]]:
    """The splices of nothing but wires of one cable, by what is in them."""
    for join in board.joins:
        wires = [board.conductors.get(member.name) for member in join.members]
        runs = {wire.run if wire is not None else None for wire in wires}
        if len(wires) > 1 and len(runs) == 1 and None not in runs:
            yield frozenset(member.name for member in join.members)


def _in_common(case: Case) -> Iterator[str]:
    """The controls that open by themselves with a side on copper of a common, those inside a machine too."""
    circuit, net, board = case.circuit, case.circuit.copper(), case.board
    screws = (one.name for one in board.terminals.values() if one.spec.carries == "common")
    commons = {net[circuit.node[name]] for name in screws}
    for variable in circuit.variables.values() if commons else ():
        contacts = circuit.contacts_in.get(variable.device, ()) if variable.moved_by not in TRIED else ()
        if any(net[circuit.node[end]] in commons for one in contacts for end in (one.a, one.b)):
            yield variable.device


def _odd(case: Case) -> Iterator[str]:
    """The wires of thermostat cables on copper of a screw for which another one of the cable is usual."""
    board, wanted = case.board, dict[int, set[str]]()
    runs = {name: {wire.color for wire in run.conductors} for name, run in board.runs.items()}
    for terminal in board.terminals.values():
        carried = terminal.spec.carries
        if usual := usual_colors(STAGES.get(carried, carried) if carried else None):
            wanted.setdefault(case.uses.piece[terminal.name], set()).update(usual)
    for wire in filter(is_class_2, board.conductors.values()):
        better = wanted.get(case.uses.piece[wire.ends[0]], set())
        if wire.color not in better and better & runs[wire.run]:
            yield wire.name


def _controls(case: Case) -> dict[str, int]:
    """How many wires, apart from each other, are on each fuse, and on what heat, water or a machine moves.

    A float is one too that calls for a pump.
    """
    board = case.board
    used: dict[str, set[int]] = {}
    for join in board.joins:
        for member in join.members:
            terminal = board.terminals.get(member.name)
            device = board.devices.get(terminal.owner) if terminal else None
            if device is not None and (
                device.part.moved_by not in TRIED or _is_fuse(device) or _is_a_call(device)
            ):
                used.setdefault(device.name, set()).add(case.uses.piece[member.name])
    return {name: len(pieces) for name, pieces in used.items()}


def _is_a_call(device: Device) -> bool:
    """Whether it is one contact that closes by a call, and nothing else."""
    part = device.part
    return bool(part.calls) and len(part.contacts) == 1 and not part.loads and not device.children


def _is_fuse(device: Device) -> bool:
    """Whether it opens by itself, and is nothing else."""
    return bool(device.part.protections) and not device.part.outlets


def _mixed(board: Board) -> Iterator[frozenset[str]]:
    """The joins in which Class 2 wires or screws meet others, by what is in them."""
    for join in board.joins:
        low, high = False, False
        for member in join.members:
            wire, terminal = board.conductors.get(member.name), board.terminals.get(member.name)
            if wire is not None:
                low, high = low or is_class_2(wire), high or not is_class_2(wire)
            elif terminal is not None:
                low, high = low or terminal.spec.role in LOW, high or terminal.spec.role in HIGH
        if low and high:
            yield frozenset(member.name for member in join.members)
