"""The neutral is opened in place of the hot, by a switch, a relay, a contactor, a control or a fuse.

The load stops and everything in it stays live: whoever works on it with the
switch off, or the call over, or the fuse blown, can touch the hot. A fuse in the grounded side of a
transformer's circuit leaves it so too, and the current of a hot that touches metal goes past it.

Source: NEC 404.2(A), 404.2(B), 430.85 (from memory), 240.22
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from wirecheck.circuit.circuit import Circuit, Contact, Load, Outlet, Protection, Winding
from wirecheck.circuit.routes import OVERCURRENT
from wirecheck.judge.case import Case
from wirecheck.judge.closed_at_once import closed_at_once
from wirecheck.judge.currents import drawers
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import holder
from wirecheck.judge.made_up import join_at
from wirecheck.judge.opened import uses_opened
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.secondary_sides import sides
from wirecheck.judge.voltages import is_line
from wirecheck.judge.ways import pieces_reached
from wirecheck.language import conditions
from wirecheck.language.listing import listed
from wirecheck.model.board import Breaker, Device

# How many loads one message names.
MOST_NAMED = 4

HOTS = frozenset(("hot", "switched"))
NEUTRALS = frozenset(("neutral", "switched-neutral"))

# What takes power between a hot and a neutral.
Fed = Load | Winding | Outlet


class SwitchedNeutral(Problem):
    """`device` opens the neutral of `loads` with `contact`: it comes in at `near` and leaves at `far`."""

    device: Device
    contact: Contact
    near: str
    far: str
    loads: tuple[Fed, ...]


class FusedNeutral(Problem):
    """The fuse `protection`, in `device`, stands in the neutral of `loads`, from `near` to `far`."""

    device: Breaker | Device
    protection: Protection
    near: str
    far: str
    loads: tuple[Fed, ...]


class FusedGround(FusedNeutral):
    """The same in the grounded side of what the secondary of `winding` feeds, from its end `hot`."""

    winding: Winding
    hot: str


def find(case: Case) -> Iterator[SwitchedNeutral | FusedNeutral]:
    """Each device with such a contact or fuse, at the join that brings the neutral to it."""
    yield from _contacts(case)
    yield from _fuses(case)
    yield from _in_grounded_sides(case)


def _contacts(case: Case) -> Iterator[SwitchedNeutral]:
    seen: set[str] = set()
    for contact in case.circuit.contacts:
        outer = case.circuit.devices[contact.scope].outer
        if outer in seen or contact.name in case.circuit.unbroken:
            continue
        device = case.board.devices[outer]
        for near, far in ((contact.a, contact.b), (contact.b, contact.a)):
            if case.uses.of(near) == "neutral" and (loads := _left_live(case, contact, far)):
                seen.add(outer)
                yield SwitchedNeutral(
                    at=spot(join_at(case, near) or device),
                    about=device,
                    severity="hazard",
                    stage="trim",
                    copper=frozenset((case.uses.piece[near], case.uses.piece[far])),
                    device=device,
                    contact=contact,
                    near=near,
                    far=far,
                    loads=loads,
                )


def _left_live(case: Case, contact: Contact, far: str) -> tuple[Fed, ...]:
    """The loads that have their neutral from a contact's far side and stay live while it is open."""
    behind = tuple(_behind(case, far, case.circuit.devices[contact.scope].outer))
    if not behind:
        return ()
    together = tuple(_open_together(case, contact))
    return tuple(fed for fed, hot in behind if any(_has_hot(case, hot, opened) for opened in together))


def _behind(case: Case, point: str, outer: str) -> Iterator[tuple[Fed, str]]:
    """What is fed at line voltage and has its neutral from a point, maybe through more, with its hot end.

    What is in the same device is left out: inside of that its maker has seen to it. So is what only starts a
    motor: nobody takes that for off while its relay is open.
    """
    uses = case.uses
    fed = [piece for piece, feeds in uses.direct.items() if feeds]
    behind = pieces_reached(case, [uses.piece[point]], stops=fed)
    for one, a, b, volts in _taking_power(case):
        for end, other in ((a, b), (b, a)):
            if (
                uses.piece[end] in behind
                and uses.of(end) == "switched-neutral"
                and uses.of(other) in HOTS
                and is_line(case, volts)
                and case.circuit.devices[one.device].outer != outer
                and not (isinstance(one, Load) and "starting" in one.flags)
            ):
                yield one, other


def _taking_power(case: Case) -> Iterator[tuple[Fed, str, str, float]]:
    """Each load, transformer and outlet, its two points, and its volts."""
    for of, _, a, b in drawers(case):
        yield of, a, b, of.primary_volts if isinstance(of, Winding) else of.volts
    for outlet in case.circuit.outlets:
        yield outlet, outlet.hot, outlet.neutral, outlet.volts


def _open_together(case: Case, contact: Contact) -> Iterator[frozenset[str]]:
    """The contacts of a device that are open together with one of them, for each position in which it is."""
    own = [other for other in case.circuit.contacts if other.scope == contact.scope]
    positions = case.circuit.devices[contact.scope].part.positions
    if not positions:
        when = conditions.words(contact.when)
        yield frozenset(other.name for other in own if conditions.words(other.when) == when)
    for position in positions:
        closed = case.settled({contact.scope: position}).closed
        if contact.name not in closed:
            yield frozenset(other.name for other in own if other.name not in closed)


def _has_hot(case: Case, point: str, opened: Collection[str]) -> bool:
    """Whether a hot comes to a point with some contacts open and all others closed: 404.2(B) exception."""
    reached = pieces_reached(case, [case.uses.piece[point]], lambda of: of.name not in opened)
    return any(feed.kind == "hot" for piece in reached for feed in case.uses.direct[piece])


def _fuses(case: Case) -> Iterator[FusedNeutral]:
    """Each fuse that opens a neutral by itself; poles that open together may stand in both (240.22)."""
    for protection in case.circuit.protections:
        if protection.kind not in OVERCURRENT or len(protection.pairs) > 1:
            continue
        ((a, b),) = protection.pairs
        if case.uses.of(a) not in NEUTRALS:
            continue
        # The breaker of a subpanel stands in the neutral where the feeder's white is on a lug.
        device, apart = holder(case, protection), uses_opened(case, protection.name)
        near, far = (a, b) if apart.of(a) in NEUTRALS else (b, a)
        loads = tuple(
            one
            for one, *ends, volts in _taking_power(case)
            if is_line(case, volts)
            and case.circuit.devices[one.device].outer != device.name
            and any(
                case.uses.of(end) in NEUTRALS and apart.of(end) == "none" and apart.of(other) in HOTS
                for end, other in (ends, ends[::-1])
            )
        )
        if loads:
            yield FusedNeutral(
                at=spot(join_at(case, near) or device),
                about=device,
                severity="hazard",
                stage="trim",
                copper=frozenset((case.uses.piece[near],)),
                device=device,
                protection=protection,
                near=near,
                far=far,
                loads=loads,
            )


def _in_grounded_sides(case: Case) -> Iterator[FusedGround]:
    """Each fuse by itself in the way between a load and the side of its transformer that is on ground."""
    circuit = case.circuit
    for protection in circuit.protections if circuit.windings else ():
        device = case.board.devices.get(protection.device)
        if device is None or protection.kind not in OVERCURRENT or len(protection.pairs) > 1:
            continue
        told: set[str] = set()
        for closed in closed_at_once(case, _beside(case, protection)):
            for found in _cut_by(case, device, protection, closed):
                if found.winding.name not in told:
                    told.add(found.winding.name)
                    yield found


def _beside(case: Case, protection: Protection) -> frozenset[str]:
    """The devices with a contact on the side of a transformer that a fuse is on."""
    node = case.circuit.node
    mine = {node[end] for end in protection.pairs[0]}
    there = (
        side.points for both in sides(case).values() for side in both if not mine.isdisjoint(side.points)
    )
    points = frozenset[int]().union(*there)
    return frozenset(one.scope for one in case.circuit.contacts if {node[one.a], node[one.b]} <= points)


def _cut_by(
    case: Case, device: Device, protection: Protection, closed: frozenset[str]
) -> Iterator[FusedGround]:
    """What a fuse cuts off with some contacts closed, if it is in a grounded side then."""
    circuit, node = case.circuit, case.circuit.node
    net = circuit.copper(closed, frozenset((protection.name,)))
    near, far = protection.pairs[0]
    if net[node[near]] != net[0]:
        near, far = far, near
    ground, behind = net[node[near]], net[node[far]]
    if ground != net[0] or behind == ground:
        return
    for winding, hot, loads in _cut_off(circuit, net, ground, behind):
        yield FusedGround(
            at=spot(join_at(case, near) or device),
            about=device,
            severity="hazard" if is_line(case, winding.secondary_volts) else "violation",
            stage="trim",
            copper=frozenset((case.uses.piece[near], case.uses.piece[far])),
            device=device,
            protection=protection,
            near=near,
            far=far,
            loads=loads,
            winding=winding,
            hot=hot,
        )


def _cut_off(
    circuit: Circuit, net: Mapping[int, int], ground: int, behind: int
) -> Iterator[tuple[Winding, str, tuple[Load, ...]]]:
    """Each transformer that a fuse cuts loads off from, with its hot end and those loads.

    Its other end is on `ground`, or on it by the fuse alone, `behind`: the loads are on the other of these.
    """
    node, sides = circuit.node, {ground: behind, behind: ground}
    for winding in circuit.windings:
        for hot, other in (winding.secondary, winding.secondary[::-1]):
            if net[node[hot]] in sides or net[node[other]] not in sides:
                continue
            across = {net[node[hot]], sides[net[node[other]]]}
            loads = tuple(one for one in circuit.loads if {net[node[end]] for end in one.ends} == across)
            if loads:
                yield winding, hot, loads


def words(problem: SwitchedNeutral | FusedNeutral, case: Case) -> Words:
    """What opens, what it leaves live, and where the hot and the neutral belong."""
    if isinstance(problem, FusedGround):
        return _of_a_grounded_side(problem, case)
    device, near, far = problem.device.name, problem.near, problem.far
    names = _machines(problem, case)
    dead = "they are out but still live" if len(names) > 1 else "it is out but still live"
    join = join_at(case, far)
    remedy = (
        f"Turn the power off. Take the neutrals off {device} and splice them together. Then bring the "
        f"hot to {near}, and take it from {far} to the load."
    )
    if isinstance(problem.device, Breaker):
        panel = problem.device.panel
        what, opened = device, f"When {device} trips"
        source = case.code.section("no fuse in the neutral")
        remedy = (
            f"Turn the power off. Bring the white of the feeder to {panel}.neutral, and hots to its lugs."
        )
    elif isinstance(problem, FusedNeutral):
        what, opened = problem.protection.name, f"When {problem.protection.name} blows"
        source = case.code.section("no fuse in the neutral")
    elif problem.device.part.positions and problem.device.part.moved_by == "hand":
        what, opened = device, f"With {device} off"
        source = case.code.section("switches open the hot", "switch in the neutral")
    else:
        what, opened = device, f"With {device} open"
        source = case.code.section("switch in the neutral", "controller in the neutral")
    return Words(
        message=f"{what} opens the neutral of {listed(names, MOST_NAMED)}, not the hot. {opened}, {dead}.",
        help=remedy,
        source=source,
        also=(Note("here the neutral goes on to the load", join.span),) if join is not None else (),
    )


def _machines(problem: SwitchedNeutral | FusedNeutral, case: Case) -> list[str]:
    """What the loads are in, each once."""
    return list(dict.fromkeys(case.circuit.devices[one.device].outer for one in problem.loads))


def _of_a_grounded_side(problem: FusedGround, case: Case) -> Words:
    fuse, hot = problem.protection.name, problem.hot
    names = listed(_machines(problem, case), MOST_NAMED)
    return Words(
        message=f"{fuse} is in the grounded side of what {problem.winding.name} feeds, not in its hot. When "
        f"{fuse} blows, {names} can be out and still live. The current of a hot that touches metal goes past "
        f"{fuse}.",
        help=f"Turn the power off. Take the wires off {fuse}, and splice them together. Then bring what "
        f"comes from {hot} to one side of {fuse}, and take it on from the other.",
        stands=True,
        source=case.code.section("no fuse in the neutral"),
    )


RULE = rule(__name__, "trim", severities=("hazard", "violation"), find=find, words=words)
