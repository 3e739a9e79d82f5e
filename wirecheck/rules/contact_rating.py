"""More is drawn through a switch, a thermostat, a relay or a disconnect than its contacts are made for.

Contacts that carry too much burn and pit, until they weld shut or glow. The breaker does not see it:
it guards the wire, which may be larger than the switch on it. A motor draws several times its current
as it starts, so a wall switch carries one only up to 80 % of its rating, and a disconnect must be rated
15 % above it. Whoever plugs in behind a switch may draw what the breaker gives.

Source: NEC 404.14(A), 404.14(A)(3), 404.14(F), 110.3(B), 430.110, 440.12(A)(1)
"""

from __future__ import annotations

from collections.abc import Iterator
from math import copysign
from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Load, Outlet
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.currents import drawers
from wirecheck.judge.demand import parts, rated
from wirecheck.judge.drawing import DRAWS
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.limit import over
from wirecheck.judge.motor_current import in_its_motor
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, percent
from wirecheck.model.board import Device

# How many loads one message names.
MOST_NAMED = 4
# No contact is bound to less of its rating than this: one that carries less by far needs no closer look.
LOW = 0.75


class Carried(NamedTuple):
    """What a contact carries in `state`, where it carries the most: in all, and for motors.

    A load counts by its rating where that is more than what flows; `loads` are those on it.
    """

    amps: float
    motors: float
    loads: tuple[str, ...]
    state: Settled


class OfContact(Problem):
    """What is wrong with the contacts of a device: `contact` is that which is farthest above its rating."""

    contact: Contact
    device: Device
    rating: float


class TooMuch(OfContact):
    """It carries `amps` of a kind of which it may carry `limit`."""

    carried: Carried
    amps: float
    limit: float


class Overloaded(TooMuch):
    """It carries more than it is rated for."""


class MotorOnSwitch(TooMuch):
    """A wall switch carries motors above the share of its rating that it may."""


class DisconnectTooSmall(TooMuch):
    """A disconnect of motors is not rated as far above their current as it must be."""


class OutletsBehind(OfContact):
    """Cords are plugged in behind it, on a breaker or fuse of a higher rating."""

    guard: Guarded
    outlets: tuple[Outlet, ...]


def find(case: Case) -> Iterator[TooMuch | OutletsBehind]:
    """Each device with rated contacts, by the worst of them: the poles of one device are one choice."""
    worst: dict[str, TooMuch] = {}
    for contact in case.circuit.contacts:
        problem = _too_much(case, contact)
        if problem is not None:
            name = problem.device.name
            if name not in worst or over(problem.amps / problem.limit, worst[name].amps / worst[name].limit):
                worst[name] = problem
    yield from worst.values()
    yield from (behind for behind in _outlets_behind(case) if behind.device.name not in worst)


def _too_much(case: Case, contact: Contact) -> TooMuch | None:
    """What a contact carries too much."""
    state = case.most.get(contact.name)
    if contact.amps is None or state is None:
        return None
    if abs(state.amps[contact.name]) <= LOW * DRAWS * contact.amps:
        return None
    carried = _carried(case, contact, state)
    kind, value, limit = _judged(case, contact, contact.amps, carried)
    if not over(value, limit) or _drawn_inside(case, contact, carried):
        return None
    device = _device(case, contact)
    return kind(
        at=spot(device),
        about=device,
        severity="violation",
        stage="final",
        copper=frozenset(case.uses.piece[point] for point in (contact.a, contact.b)),
        contact=contact,
        device=device,
        rating=contact.amps,
        carried=carried,
        amps=value,
        limit=limit,
    )


def _judged(
    case: Case, contact: Contact, rating: float, carried: Carried
) -> tuple[type[TooMuch], float, float]:
    """What a contact carries of that which it may carry least of, and how much of that it may."""
    if "disconnect" in contact.flags and carried.motors:
        extra = case.code.limit("extra for a disconnect of motors")
        return DisconnectTooSmall, carried.amps, rating / (1 + extra)
    share = case.code.limit("motors on a snap switch")
    if "snap-switch" in contact.flags and carried.motors > share * carried.amps:
        return MotorOnSwitch, carried.motors, share * rating
    return Overloaded, carried.amps, rating


def _device(case: Case, contact: Contact) -> Device:
    """What of the board a contact is in."""
    return case.circuit.around[contact.scope][0]


def _carried(case: Case, contact: Contact, state: Settled) -> Carried:
    """What a contact carries: the currents of loads are added as the code adds them, and not as phasors."""
    flows = state.amps[contact.name]
    drawn = parts(case, contact.name, state, flows)
    beside = [part.of for part in drawn]
    within = [part for part in drawn if in_its_motor(case.circuit, part.of, beside)]
    flows -= sum(part.amps for part in within)
    there = [(part.of, rated(case, part)) for part in drawn if part not in within]
    along = [(of, copysign(abs(amps), (amps * flows.conjugate()).real)) for of, amps in there]
    total = sum(amps for _, amps in along)
    motors = sum(amps for of, amps in along if isinstance(of, Load) and of.kind == "motor")
    loads = dict.fromkeys(of.name for of, _ in along)
    return Carried(max(total, abs(flows)), motors, tuple(loads), state)


def _drawn_inside(case: Case, contact: Contact, carried: Carried) -> bool:
    """Whether all of it is drawn in the device that the contact is in: then it is its maker's choice."""
    outside = [one for one in drawers(case) if one.of.name in carried.loads]
    inside = _device(case, contact)
    return bool(outside) and all(case.circuit.around[one.of.device][0] is inside for one in outside)


def _outlets_behind(case: Case) -> Iterator[OutletsBehind]:
    """Each device whose contacts feed outlets and are rated below what protects those."""
    behind: dict[str, tuple[Contact, Guarded, dict[str, Outlet]]] = {}
    for guard in guarded(case):
        for outlet in guard.outlets:
            for point in (outlet.hot, outlet.neutral):
                for step in case.routes.back(case.circuit.node[point]):
                    contact = step.of
                    if not isinstance(contact, Contact) or contact.amps is None:
                        continue
                    if over(guard.amps, contact.amps):
                        name = _device(case, contact).name
                        behind.setdefault(name, (contact, guard, {}))[2][outlet.name] = outlet
    for contact, guard, outlets in behind.values():
        device = _device(case, contact)
        yield OutletsBehind(
            at=spot(device),
            about=device,
            severity="violation",
            stage="trim",
            copper=frozenset(case.uses.piece[point] for point in (contact.a, contact.b)),
            contact=contact,
            device=device,
            rating=contact.amps or 0.0,
            guard=guard,
            outlets=tuple(outlets.values()),
        )


def words(problem: TooMuch | OutletsBehind, case: Case) -> Words:
    """What goes through it, what it is made for, and what to put in."""
    if isinstance(problem, OutletsBehind):
        return _words_of_outlets(problem, case)
    name, carried, rating = problem.device.name, problem.carried, amps(problem.rating)
    when = case.when(carried.state, problem.contact.scope)
    value, limit = amps(problem.amps, beside=problem.limit), amps(problem.limit, beside=problem.amps)
    needed = amps(problem.amps * problem.rating / problem.limit, beside=problem.rating)
    draw = f"{listed(carried.loads, MOST_NAMED)} draw{'' if len(carried.loads) > 1 else 's'}"
    match problem:
        case MotorOnSwitch():
            share = percent(case.code.limit("motors on a snap switch"))
            message = (
                f"{name} is a {rating} switch, and motors draw {value} through it{when}. A wall switch may "
                f"carry motors up to {share} of its rating, here {limit}: as they start they draw several "
                "times as much, and its contacts burn."
            )
            remedy = f"Put in a switch that is rated {needed} or more."
            source = case.code.section("motors on a snap switch")
        case DisconnectTooSmall():
            more = 1 + case.code.limit("extra for a disconnect of motors")
            message = (
                f"{name} is a {rating} disconnect, and {draw} {value}{when}. With a motor among them it must "
                f"be rated {needed} or more: it may have to cut off a motor that is stuck."
            )
            remedy = f"{value} x {more:g} = {needed}. Put in a disconnect that is rated for that."
            source = case.code.section("extra for a disconnect of motors")
        case _:
            what = draw if carried.loads else "what is behind them draws"
            message = (
                f"The contacts of {name} are rated {rating}, and {what} {value} through them{when}. They "
                "burn until they weld or glow, and no breaker trips on that."
            )
            remedy = (
                f"Put in one that is rated {needed} or more, let a contactor carry the load, or put less on "
                "it."
            )
            sections = ["equipment as its instructions say"]
            if "snap-switch" in problem.contact.flags:
                sections.insert(0, "snap switches within their rating")
            source = case.code.section(*sections)
    return Words(
        message=message, help=remedy, source=source, value=problem.amps, limit=problem.limit, unit="A"
    )


def _words_of_outlets(problem: OutletsBehind, case: Case) -> Words:
    guard, outlets = problem.guard, [outlet.name for outlet in problem.outlets]
    return Words(
        message=f"{problem.device.name} is rated {amps(problem.rating)} and switches "
        f"{listed(outlets, MOST_NAMED)} on {guard.name}, which is {amps(guard.amps)}. Whoever plugs in there "
        "can draw more through it than it is made for.",
        help=f"Put in one that is rated {amps(guard.amps)} or more.",
        source=case.code.section("switches of receptacles"),
        value=problem.rating,
        limit=guard.amps,
        unit="A",
        also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.protection.span),),
    )


RULE = rule(__name__, "trim", "final", severities=("violation",), find=find, words=words)
