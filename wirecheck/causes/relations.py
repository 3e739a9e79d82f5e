"""How two problems can lie to each other on a board: each a function of (cause, effect, case)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from wirecheck.circuit.circuit import Load, Outlet, Protection, Winding, Wire
from wirecheck.judge import calls, grounds, purpose, ways
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NotJoined, Stop, TooLittle
from wirecheck.judge.problem import Problem
from wirecheck.judge.question import question
from wirecheck.judge.secondary_sides import sides
from wirecheck.judge.swaps import made
from wirecheck.judge.transformers import on_secondary
from wirecheck.judge.unfed import unfed
from wirecheck.model.board import Join

# Each row of the table pairs a relation with the two kinds of problem that it is written for.
Relation = Callable[[Any, Any, Case], bool]


def anywhere(cause: Problem, effect: Problem, case: Case) -> bool:
    """Wherever the two are on the board."""
    return True


def same_line(cause: Problem, effect: Problem, case: Case) -> bool:
    """They are found on the same line of the text."""
    return cause.at.span.line == effect.at.span.line


def same_copper(cause: Problem, effect: Problem, case: Case) -> bool:
    """They concern a piece of copper in common."""
    return not cause.copper.isdisjoint(effect.copper)


def may_be_joined_there(cause: Problem, effect: Problem, case: Case) -> bool:
    """The copper of the other comes to a place where something is joined that could not be read."""
    return not _unread(case).isdisjoint(effect.copper)


@question
def _unread(case: Case) -> frozenset[int]:
    """The pieces of copper that come to a place where something is joined that could not be read."""
    board = case.board
    points = [(one.name, one.place) for one in board.terminals.values()]
    for conductor in board.conductors.values():
        points += zip(conductor.ends, conductor.places, strict=True)
    return frozenset(case.uses.piece[point] for point, place in points if place in board.unread)


def are_its_bare_wires(cause: Any, effect: Any, case: Case) -> bool:
    """All that the one finds on the neutral are the `bare` wires of the other."""
    bare = {wire.name for wire in cause.bare}
    return all(one.name in bare for one in effect.found)


def are_on_its_way(cause: Any, effect: Any, case: Case) -> bool:
    """All that the one finds on the neutral are wires on the way of the neutral of the other."""
    return all(one.name in cause.wires for one in effect.found)


def are_its_speeds(cause: Any, effect: Any, case: Case) -> bool:
    """All that runs too in the other are speeds of that motor, and no swap of wires puts it right."""
    speeds = {one.name for one in cause.speeds}
    swapped = effect.swap or effect.crossings
    return not swapped and all(load.name in speeds for extra in effect.extras for load in extra.loads)


def asks_for_that_breaker_too(cause: Any, effect: Any, case: Case) -> bool:
    """The other is about the breaker alone, and with the one that the wires need nothing is left of it."""
    most = case.code.limit("circuit of push-in terminals")
    alone = effect.guard is not None and not effect.wires and not effect.no_holes
    return alone and effect.guard.name == cause.guard.name and cause.worst.limit.amps <= most


def same_thing(cause: Problem, effect: Problem, case: Case) -> bool:
    """They are about the same thing."""
    return cause.about is not None and effect.about is not None and cause.about.name == effect.about.name


def lead_that_it_lacks(cause: Any, effect: Any, case: Case) -> bool:
    """The one says what a device lacks, and the other is about its loose leads, none of them live."""
    return not effect.live and case.circuit.devices[cause.device.name].outer == effect.device.name


def lead_of_its_lost_line(cause: Any, effect: Any, case: Case) -> bool:
    """The loose lead is the one to which nothing comes of a motor's three, and no other is loose."""
    return {lead.name for lead in effect.leads} == {cause.end}


def dead_lead(cause: Problem, effect: Any, case: Case) -> bool:
    """They are about the same screw, a lead that is not live."""
    return not effect.live and same_copper(cause, effect, case)


def same_load(cause: Any, effect: Any, case: Case) -> bool:
    """They are about the same load."""
    return bool(cause.load.name == effect.load.name)


def left_out_relay(cause: Any, effect: Any, case: Case) -> bool:
    """The empty screw is one of an overload relay that lines of a motor go past."""
    owner = effect.terminal.owner
    return any(one.overload is not None and one.scope == owner for one in case.circuit.contacts)


def says_it_of_that_load(cause: Any, effect: Any, case: Case) -> bool:
    """The load of the other is among what is dead, or the path to it stops at what is."""
    dead = {one.of.name for one in (cause.wanted, *cause.others)}
    waits = effect.why.wanted.of.name if effect.why is not None else ""
    return effect.load.name in dead or waits in dead or cause.device.name in (effect.load.name, waits)


def that_motor(cause: Any, effect: Any, case: Case) -> bool:
    """The other is about the motor of the one."""
    return effect.load.name in cause.motors


def missed_motor(cause: Any, effect: Any, case: Case) -> bool:
    """What does not run in the calls of the other is the motor of the one, or its path stops there."""
    missed = {load.name for line in effect.lines for load in calls.missing(case, line)}
    return effect.stop.wanted.of.name in cause.motors or not missed.isdisjoint(cause.motors)


def dead_motor(cause: Any, effect: Any, case: Case) -> bool:
    """What has no power in the other is the motor of the one, between two of its lines."""
    named = {cause.motor.device, *cause.motors}
    return all(one.of.name in named for one in (effect.wanted, *effect.others))


def asks_that_motor(cause: Any, effect: Any, case: Case) -> bool:
    """The other asks about the motor of the one."""
    return effect.target.name in cause.motors


def same_screw(cause: Any, effect: Any, case: Case) -> bool:
    """They are about what is under the same screw, the `terminal` of each."""
    return bool(cause.terminal.name == effect.terminal.name)


def same_conductor(cause: Any, effect: Any, case: Case) -> bool:
    """They are about the same wire, the `conductor` of each."""
    return effect.conductor is not None and bool(cause.conductor.name == effect.conductor.name)


def from_its_secondary(cause: Any, effect: Any, case: Case) -> bool:
    """All loads of the one are fed from the transformer that the other is about."""
    fed = {load.name for load in on_secondary(case, cause.winding)}
    return all(load.name in fed for load in effect.loads)


def feed_that_panel(cause: Any, effect: Any, case: Case) -> bool:
    """The two breakers or fuses of the one feed the panel of the other."""
    two = {cause.one.name, cause.other.name}
    return any(effect.panel.name in zone.feeds for zone in case.zones if zone.protection.name in two)


def behind_that_panel(cause: Any, effect: Problem, case: Case) -> bool:
    """What the other is about hangs on a breaker of the panel of the one."""
    about = effect.about.name if effect.about is not None else ""
    breakers = case.board.breakers
    for zone in case.zones:
        breaker = breakers.get(zone.protection.name)
        if breaker is not None and breaker.panel == cause.panel.name:
            takers: tuple[Load | Outlet | Winding, ...] = (*zone.loads, *zone.outlets, *zone.windings)
            if any(about in (one.name, case.circuit.devices[one.device].outer) for one in takers):
                return True
    return False


def lights_behind_that_panel(cause: Any, effect: Any, case: Case) -> bool:
    """A light that the other is about hangs on a breaker of the panel of the one."""
    return any(behind_that_panel(cause, effect.but(about=light), case) for light in effect.lights)


def behind_those_lugs(cause: Any, effect: Problem, case: Case) -> bool:
    """What the other is about hangs on a breaker that the one says is dead."""
    return same_copper(cause, effect, case) or behind_that_panel(cause, effect, case)


def same_transformers(cause: Any, effect: Any, case: Case) -> bool:
    """They are about the same two transformers."""
    return bool((cause.one.name, cause.other.name) == (effect.one.name, effect.other.name))


def belongs_on_its_path(cause: Any, effect: Problem, case: Case) -> bool:
    """The loose ends, no grounds, are on its copper or in the place of a screw on it that waits for them."""
    if all(purpose.is_grounding(conductor) for conductor, _ in cause.ends):
        return False
    waiting = (
        case.uses.piece[terminal.name]
        for terminal in case.board.terminals.values()
        if terminal.place == cause.place
        and case.uses.of(terminal.name) in ("none", "switched", "switched-neutral")
    )
    return same_copper(cause, effect, case) or not effect.copper.isdisjoint(waiting)


def trips_it(cause: Problem, effect: Any, case: Case) -> bool:
    """Something opens in the positions of the switches in which the other was tried."""
    return bool(effect.opened)


def unbalances_it(cause: Any, effect: Any, case: Case) -> bool:
    """The breaker that trips is the one whose white is astray, or the one on whose screw it is."""
    return effect.protection.name in (cause.breaker.name, cause.screw.owner)


def behind_that_breaker(cause: Any, effect: Any, case: Case) -> bool:
    """The wire carries no more than it may, and would have to on the circuit of that breaker or fuse."""
    wire = effect.worst.conductor.name
    return effect.severity != "hazard" and any(one.name == wire for one in cause.guard.conductors)


def draws_through_it(cause: Any, effect: Any, case: Case) -> bool:
    """A load of the one draws through the breaker or fuse of the other."""
    loads = {load.name for load in cause.loads}
    return any(load.name in loads for load, _ in effect.fed)


def draws_through_its_contacts(cause: Any, effect: Any, case: Case) -> bool:
    """A load of the one draws through the contacts of the other."""
    return any(load.name in effect.carried.loads for load in cause.loads)


def trips_before_it(cause: Any, effect: Any, case: Case) -> bool:
    """What trips on a load holds less than the contacts of the other that carry it."""
    return cause.protection.amps <= effect.rating and any(
        load.name in effect.carried.loads for load, _ in cause.fed
    )


def of_those_wires(cause: Any, effect: Any, case: Case) -> bool:
    """All runs that the other is about have no conductor but those of the one."""
    names = {conductor.name for conductor in cause.conductors}
    return all(allowed.conductor.name in names for allowed in effect.over)


def same_circuit(cause: Any, effect: Any, case: Case) -> bool:
    """They are about the same breaker or fuse, the `guard` of each."""
    return bool(cause.guard.name == effect.guard.name)


def same_join(cause: Problem, effect: Problem, case: Case) -> bool:
    """Both are mistakes in what one line joins."""
    return isinstance(cause.at.of, Join) and cause.at.span == effect.at.span


def same_place(cause: Problem, effect: Problem, case: Case) -> bool:
    """Both are mistakes in what is joined in one place."""
    one, other = cause.at.of, effect.at.of
    return isinstance(one, Join) and isinstance(other, Join) and one.place == other.place


def swapped_there(cause: Problem, effect: Any, case: Case) -> bool:
    """In the place of the one, what should be a hot is on a ground screw of the other."""
    return same_place(cause, effect, case) and any(case.uses.legs(one.name) for one in effect.terminals)


def in_place_of_its_ground(cause: Problem, effect: Any, case: Case) -> bool:
    """The one concerns the grounding conductor of the cable that the other's wire lies in."""
    run = case.board.runs[effect.conductor.run]
    return any(
        purpose.is_grounding(one) and case.uses.piece[one.ends[0]] in cause.copper for one in run.conductors
    )


def behind_it(cause: Problem, effect: Problem, case: Case) -> bool:
    """The copper of the other leads to that of the one through breakers, fuses and ground-fault devices."""
    reached = ways.pieces_reached(case, cause.copper, lambda of: isinstance(of, Protection))
    return not reached.isdisjoint(effect.copper)


def takes_its_ground(cause: Any, effect: Any, case: Case) -> bool:
    """The loose ends are grounds, and what is not grounded is in their place or at their other end."""
    grounding = grounds.grounding(case)
    places = {terminal.place for terminal in cause.terminals}
    lost = {grounding.piece[terminal.name] for terminal in cause.terminals}
    return all(purpose.is_grounding(one) for one, _ in effect.ends) and any(
        one.places[which] in places or grounding.piece[one.ends[1 - which]] in lost
        for one, which in effect.ends
    )


def on_its_way(cause: Any, effect: Any, case: Case) -> bool:
    """One of its wires is on the copper of the hot that goes over, or on the way of the neutral."""
    return same_copper(cause, effect, case) or any(one.name in cause.wires for one in effect.conductors)


def meets_at_its_screw(cause: Any, effect: Any, case: Case) -> bool:
    """Two legs are shorted by a way that leads through the screw that the other is about."""
    return effect.other is not None and cause.terminal.name in effect.way.points


def of_a_reversed_device(cause: Any, effect: Any, case: Case) -> bool:
    """It is about a device that the other calls reversed."""
    return any(one.device.name == effect.device.name for one in cause.reversals)


def all_that_is_reversed(cause: Any, effect: Any, case: Case) -> bool:
    """The other calls its device reversed, and no other."""
    return {one.device.name for one in effect.reversals} == {cause.device.name}


def path_stops_there(cause: Any, effect: Any, case: Case) -> bool:
    """The path of the one stops on the copper of the other, or they have copper in common."""
    end = cause.stop.end
    ends = (end.here.name, end.on.name) if isinstance(end, NotJoined) else ()
    return same_copper(cause, effect, case) or any(case.uses.piece[one] in effect.copper for one in ends)


def asks_it_of_that_switch(cause: Any, effect: Any, case: Case) -> bool:
    """The other is the switch, or one of the switches, that should turn it on and off."""
    return effect.device.name in cause.switches


def one_of_its_loads(cause: Any, effect: Any, case: Case) -> bool:
    """The other asks about one of its loads."""
    return effect.target.name in {load.name for load in cause.loads}


def all_among_its_loads(cause: Any, effect: Any, case: Case) -> bool:
    """All that the other misses are loads of the one."""
    names = {load.name for load in cause.loads}
    return all(load.name in names for load in effect.missing)


def all_on_reversed_devices(cause: Any, effect: Any, case: Case) -> bool:
    """All loads of the one belong to devices that the other calls reversed."""
    devices = {one.device.name for one in cause.reversals}
    return all(case.circuit.devices[load.device].outer in devices for load in effect.loads)


def same_two(cause: Any, effect: Any, case: Case) -> bool:
    """They are about the same two breakers or fuses."""
    return {cause.one.name, cause.other.name} == {effect.one.name, effect.other.name}


def beside_its_way(cause: Any, effect: Any, case: Case) -> bool:
    """The wires of the other lie in the cables that the way of the one leads through."""
    through = {of.conductor.run for of in cause.way.elements if isinstance(of, Wire)}
    return through.issuperset(conductor.run for conductor in effect.conductors)


def ties_those(cause: Any, effect: Any, case: Case) -> bool:
    """The one is about copper that ties the two breakers of the other."""
    names = {cause.one.breaker.name, cause.other.breaker.name}
    return names == {effect.one.name, effect.other.name}


def ties_the_two(cause: Any, effect: Any, case: Case) -> bool:
    """The hots of the other are one, and the one is about their two breakers."""
    names = {cause.one.breaker.name, cause.other.breaker.name}
    return bool(effect.joined) and names == {effect.one.name, effect.other.name}


def on_that_cable(cause: Any, effect: Any, case: Case) -> bool:
    """The power that the other is about is in a cable that the one is about."""
    return any(conductor.run == effect.power.run for conductor in cause.conductors)


def where_hots_meet(cause: Any, effect: Any, case: Case) -> bool:
    """The hots of the other are one, and the one is the short that this makes between two legs."""
    return bool(effect.joined) and cause.other is not None and not cause.copper.isdisjoint(effect.hots)


def starves(cause: Any, effect: Any, case: Case) -> bool:
    """What the other's path stops at is one of the loads that get too little."""
    stop: Stop = effect.stop
    return isinstance(stop.end, TooLittle) and stop.wanted.of in cause.loads


def stops_at_it(cause: Any, effect: Any, case: Case) -> bool:
    """The path of the one stops at the terminal that the other is about."""
    end = cause.stop.end
    return isinstance(end, NotJoined) and effect.terminal.name in (end.here.name, end.on.name)


def comes_to_its_power(cause: Any, effect: Any, case: Case) -> bool:
    """The path of the one stops on the way to the load that the other is about."""
    stop: Stop = cause.stop
    return bool(stop.wanted.of.name == effect.load.name)


def is_its_common(cause: Any, effect: Any, case: Case) -> bool:
    """The common of the one is a side of the load that the other is about."""
    return cause.terminal.name in (effect.load.a, effect.load.b)


def opens_its_protection(cause: Any, effect: Any, case: Case) -> bool:
    """The breaker or fuse of the one opens in the calls of the other."""
    return any(opening.name == cause.protection.name for opening in effect.opened)


def is_on_its_lights(cause: Any, effect: Any, case: Case) -> bool:
    """The short is on the wires of a light of the other."""
    pieces = {case.uses.piece[end] for light in effect.lights for end in (light.a, light.b)}
    return not cause.copper.isdisjoint(pieces)


def opens_its_transformer(cause: Any, effect: Any, case: Case) -> bool:
    """The transformer of the one gives up in the calls of the other."""
    return any(opening.name == cause.winding.name for opening in effect.opened)


def says_why_it_is_dead(cause: Any, effect: Any, case: Case) -> bool:
    """What is dead is what stops the other or does not run for it, or its path stops at the same line."""
    dead = {one.of.name for one in (effect.wanted, *effect.others)}
    stopped = {load.name for line in cause.lines for load in calls.missing(case, line)}
    return cause.at.span == effect.at.span or cause.stop.wanted.of.name in dead or dead <= stopped


def feeds_it_by_its_swap(cause: Any, effect: Any, case: Case) -> bool:
    """With the swap of wires that puts the one right, what is dead is fed."""
    if cause.swap is None:
        return False
    left = {one.wanted.of.name for one in unfed(made(case, cause.swap))}
    return left.isdisjoint(one.of.name for one in (effect.wanted, *effect.others))


def runs_that_machine(cause: Any, effect: Any, case: Case) -> bool:
    """What runs or does not is in the machine of the other's terminal, or found on its line."""
    around = case.circuit.devices
    loads = [load for one in getattr(cause, "extras", ()) for load in one.loads]
    loads += [load for line in getattr(cause, "lines", ()) for load in calls.missing(case, line)]
    owners = {around[load.device].outer for load in loads}
    return effect.terminal.owner in owners or cause.at.span == effect.at.span


def in_that_machine(cause: Any, effect: Any, case: Case) -> bool:
    """Something that does not run is in the machine of the other's load."""
    around = case.circuit.devices
    stopped = (load for line in cause.lines for load in calls.missing(case, line))
    return around[effect.load.device].outer in {around[load.device].outer for load in stopped}


def keeps_it_dark(cause: Any, effect: Any, case: Case) -> bool:
    """What should be turned on waits for itself too, or is dark for the wires of what waits for itself."""
    owners = {screw.owner for screw in getattr(effect.why, "screws", ())}
    return effect.target.name in cause.dead or case.circuit.devices[cause.link.of.device].outer in owners


def stops_for_want_of_it(cause: Any, effect: Any, case: Case) -> bool:
    """What the other should turn on stays dark, since what would turn it on is what has no power."""
    dead = {one.of.name for one in (cause.wanted, *cause.others)}
    return isinstance(effect.why, Stop) and effect.why.wanted.of.name in dead - {effect.target.name}


def waits_for_itself(cause: Any, effect: Any, case: Case) -> bool:
    """All that the other misses is what cannot start for the one."""
    return all(load.name in cause.dead for load in effect.missing)


def stays_off_with_it(cause: Any, effect: Any, case: Case) -> bool:
    """All that the other keeps live is what cannot start for the one."""
    return all(load.name in cause.dead for load in effect.loads)


def gives_it_power(cause: Any, effect: Any, case: Case) -> bool:
    """With the swap of wires that puts the one right, the load of the other has its volts at rest."""
    load: Load = effect.load
    return cause.swap is not None and made(case, cause.swap).standing({}).load_volts(load) >= load.works


def makes_no_rest(cause: Any, effect: Any, case: Case) -> bool:
    """What finds no rest does not find it in each of the calls that lack something; no swap mends those."""
    return effect.swap is None and _in_calls_without_rest(cause, effect, case)


def mended_by_its_swap(cause: Any, effect: Any, case: Case) -> bool:
    """A swap of wires mends the calls in which something finds no rest."""
    return cause.swap is not None and _in_calls_without_rest(effect, cause, case)


def _in_calls_without_rest(chatters: Any, stopped: Any, case: Case) -> bool:
    restless = {one.name for one in chatters.restless}
    return all(
        any(not restless.isdisjoint(step.settled.chattering) for step in calls.played(case, line).steps)
        for line in stopped.lines
    )


def crossed_in_its_calls(cause: Any, effect: Any, case: Case) -> bool:
    """Crossed wires run something else in each of the calls that lack something."""
    return bool(cause.crossings) and {extra.line for extra in cause.extras}.issuperset(effect.lines)


def same_swap(cause: Any, effect: Any, case: Case) -> bool:
    """The same swap of wires puts both right."""
    return cause.swap is not None and cause.swap == effect.swap


def runs_at_rest(cause: Any, effect: Any, case: Case) -> bool:
    """Something runs that should not, with no call made."""
    return any(extra.uncalled or not calls.made(extra.line) for extra in cause.extras)


def ran_at_rest(cause: Any, effect: Any, case: Case) -> bool:
    """With no call made something runs that should not, and so did all that lacks in the calls."""
    started = case.played([]).started()
    stopped = (load for line in effect.lines for load in calls.missing(case, line))
    return runs_at_rest(cause, effect, case) and all(load.name in started for load in stopped)


def stops_for_none(cause: Any, effect: Any, case: Case) -> bool:
    """With no call made all that never stops runs and should not."""
    extra = {load for one in cause.extras if one.uncalled or not calls.made(one.line) for load in one.loads}
    return extra.issuperset(effect.loads)


def all_in_its_machine(cause: Any, effect: Any, case: Case) -> bool:
    """All loads of the other but capacitors are in the machine whose load the one is about."""
    around = case.circuit.devices
    machine = around[cause.about.device].outer
    loads = getattr(effect, "missing", None) or effect.loads
    return all(around[load.device].outer == machine for load in loads if load.kind != "capacitor")


def in_its_device(cause: Any, effect: Any, case: Case) -> bool:
    """What the one is about is in the device of the other."""
    return bool(getattr(cause.about, "device", None) == effect.about.name)


def left_empty(cause: Any, effect: Any, case: Case) -> bool:
    """The one is a mistake in the place of the empty screw, or in its device."""
    place, device = effect.terminal.place, effect.terminal.owner
    of, about = cause.at.of, cause.about
    return place in (getattr(of, "place", None), getattr(of, "name", None)) or device in (
        getattr(about, "name", None),
        getattr(about, "owner", None),
    )


def opens_the_same(cause: Any, effect: Any, case: Case) -> bool:
    """It is the same safety, and one of the loads that it no longer stops."""
    return effect.safety.name == cause.safety.name and effect.load in cause.loads


def among_what_stays_off(cause: Any, effect: Any, case: Case) -> bool:
    """All that does not run is what stays off."""
    return {load.name for load in effect.missing} <= {load.name for load in cause.loads}


def among_what_runs(cause: Any, effect: Any, case: Case) -> bool:
    """All that runs and should not is what runs for it."""
    extra = {load.name for one in effect.extras for load in one.loads}
    return extra <= {load.name for load in cause.loads}


def of_the_same_ground(cause: Any, effect: Any, case: Case) -> bool:
    """The ground of the other's transformer is on the wrong side, and the one says so."""
    return cause.turned is not None and bool(cause.turned.name == effect.winding.name)


def colored_for_the_other_side(cause: Any, effect: Any, case: Case) -> bool:
    """The wires lie on the two sides of a transformer whose ground the one finds on the wrong one."""
    if cause.turned is None:
        return False
    wires = frozenset[str]().union(*(side.wires for side in sides(case)[cause.turned.name]))
    return all(one.name in wires for one in effect.conductors)


def runs_them_at_rest(cause: Any, effect: Any, case: Case) -> bool:
    """All that the other finds to run and should not is what the one runs with no call."""
    return runs_at_rest(effect, cause, case) and among_what_runs(cause, effect, case)
