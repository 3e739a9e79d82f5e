"""Contacts with a wire on one screw alone, or one that goes no further, and what is missing behind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.circuit.controls import never_opens
from wirecheck.circuit.gaps import Gap
from wirecheck.circuit.ladder import Rung, rung_elements
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.reduction import reduced
from wirecheck.circuit.shorts import positions_of
from wirecheck.circuit.structure import Element, Step, Structure, elements, turned
from wirecheck.circuit.switching import Switching
from wirecheck.language.syntax import Negation, Runs

EARTH = 0
"""The node of every neutral and ground."""


def on_one_screw(network: Switching, rungs: Sequence[Rung]) -> Iterator[Rung]:
    """Each contact on no rung with nothing behind one of its screws, where something is missing there: a gap.

    On that screw is a wire that goes no further, as a capped one does; or something should hang on it; or
    nothing hangs on any of those that share a screw with it, of which the first is told; or its call is on a
    wire without it. It stands between the rails of the rungs that hang on the same wire.
    """
    drawn = {each for rung in rungs for each in rung_elements(rung)}
    left = {
        each.name: each
        for each in network.order
        if each.kind == "contact" and each.a != each.b and each not in drawn
    }
    for each in left.values():
        ends = [end for end in (each.a, each.b) if _alone(network, each, end)]
        if len(ends) != 1 or ends[0] in network.rails:
            continue
        end, start = ends[0], each.b if ends[0] == each.a else each.a
        if not (
            end in network.wired
            or _feeds_out(network, each)
            or _first_of_none(network, each, left)
            or _called_elsewhere(network, end)
        ):
            continue
        way = _as_drawn(network, rungs, start) or _fed_by(network, start)
        if any(_of_one(network, each, one) and one not in drawn for part in way for one in elements(part)):
            continue  # through the other throw of its own changeover nothing comes
        rail = way[0].left if way else start
        beside = [rung for rung in rungs if rung.loads and len(rung.rails) == 2 and rail in rung.rails]
        held = set(way)
        beside.sort(key=lambda rung: -len(held.intersection(rung.before + rung.after)))
        if not beside or rail not in network.rails:
            continue
        (other,) = set(beside[0].rails) - {rail} or {rail}
        gap = Element("gap", each.name, end, other)
        parts: list[Structure] = [*way, Step(each, start, end), Step(gap, end, other)]
        if beside[0].rails[0] != rail:
            parts = [turned(part) for part in reversed(parts)]
        at = next(place for place, part in enumerate(parts) if each in elements(part))
        yield Rung((), beside[0].rails, tuple(parts[:at]), parts[at], tuple(parts[at + 1 :]))


def _alone(network: Switching, each: Element, end: int) -> bool:
    """Whether a contact is all that is at one of its ends, but for the other throw of its own changeover."""
    return all(one == each or _of_one(network, each, one) for one in network.near[end])


def _of_one(network: Switching, each: Element, other: Element) -> bool:
    """Whether another contact is the other throw of a changeover: on a screw with it, and turned about."""
    if other == each or other.kind != "contact":
        return False
    one, two = network.when[each.name], network.when[other.name]
    coil, turned_about = _coil(network, one), isinstance(one.when, Negation) != isinstance(two.when, Negation)
    on_a_screw = not {one.a, one.b}.isdisjoint((two.a, two.b))
    return on_a_screw and turned_about and coil is not None and coil == _coil(network, two)


def to_nothing(network: Switching, rungs: Sequence[Rung]) -> Iterator[Rung]:
    """What a hand switches where nothing draws, as metal that a hot is on: with a gap to earth behind."""
    if EARTH not in network.rails:
        return
    drawn = {each for rung in rungs for each in rung_elements(rung)}
    left = [each for each in network.order if each not in drawn and each.a != each.b]
    ends = {end for each in left for end in (each.a, each.b)} - network.rails.keys()
    piece = pieces(sorted(ends), ((each.a, each.b) for each in left if ends.issuperset((each.a, each.b))))
    for place in dict.fromkeys(piece.values()):
        lot = [each for each in left if place in (piece.get(each.a), piece.get(each.b))]
        inner = {end for each in lot for end in (each.a, each.b)}
        rails = inner & network.rails.keys()
        if len(rails) != 1 or EARTH in rails or not inner - rails <= network.wired:
            continue
        if not any(each.kind == "contact" and _by_hand(network, each) for each in lot):
            continue
        (rail,) = rails
        far = [rail]
        for one in far:
            far += {each.b if each.a == one else each.a for each in lot if one in (each.a, each.b)} - set(far)
        gap = Element("gap", lot[-1].name, far[-1], EARTH)
        yield Rung((), (rail, EARTH), (), reduced([*lot, gap], rail, EARTH), ())


def _as_drawn(network: Switching, rungs: Sequence[Rung], node: int) -> tuple[Structure, ...]:
    """What leads from a rail at the left to a node on some rung, all that is in parallel there with it."""
    for rung in rungs:
        for place, part in enumerate(rung.before):
            if part.right == node and rung.rails[0] in network.rails:
                return rung.before[: place + 1]
    return ()


def _fed_by(network: Switching, node: int) -> tuple[Structure, ...]:
    """The shortest way to a node from a rail."""
    ways: dict[int, tuple[Step, ...]] = {node: ()}
    waiting = [node]
    for one in waiting:
        if one in network.rails:
            return ways[one]
        for each in network.near.get(one, ()):
            other = each.b if each.a == one else each.a
            if other not in ways and each.kind != "gap":
                ways[other] = (Step(each, other, one), *ways[one])
                waiting.append(other)
    return ()


def _single(network: Switching, each: Element) -> bool:
    """Whether a hand, a control or a coil moves a contact, and no other one has a screw with it."""
    contact, node = network.when[each.name], network.circuit.node
    ends = {node[contact.a], node[contact.b]}
    beside = network.circuit.contacts_in[contact.scope]
    if not all(one == contact or ends.isdisjoint((node[one.a], node[one.b])) for one in beside):
        return False
    return _by_hand(network, each) or _coil(network, contact) is not None


def _first_of_none(network: Switching, each: Element, left: Mapping[str, Element]) -> bool:
    """Whether a contact is the first of those that share a screw with it, and none of these has a place."""
    contact = network.when[each.name]
    alike = [
        one
        for one in network.circuit.contacts_in[contact.scope]
        if {one.a, one.b} & {contact.a, contact.b} and not never_opens(network.circuit, one)
    ]
    return alike[:1] == [contact] and all(one.name in left for one in alike)


def _called_elsewhere(network: Switching, end: int) -> bool:
    """Whether what a contact brings to its empty screw, as cooling to Y, has a wire, and not from there."""
    own = network.carried.get(end, set())
    return any(own & network.carried.get(other, set()) for other in network.wired)


def _by_hand(network: Switching, each: Element) -> bool:
    """Whether a hand moves a contact."""
    contact = network.when[each.name]
    return any(what == contact.scope for what, _ in positions_of(contact.when, contact.scope))


def _feeds_out(network: Switching, each: Element) -> bool:
    """Whether a contact feeds a screw of equipment where something should hang, and nothing does."""
    terminals = network.circuit.board.terminals
    ends = {network.when[each.name].a, network.when[each.name].b} & terminals.keys()
    specs = [terminals[end].spec for end in ends]
    return any(spec.role == "switched" and "optional" not in spec.flags for spec in specs)


def _coil(network: Switching, contact: Contact) -> Load | None:
    """The coil that a contact follows."""
    fact = contact.when.fact if isinstance(contact.when, Negation) else contact.when
    load = network.circuit.meant(fact, contact.scope) if isinstance(fact, Runs) else None
    return load if load is not None and load.kind == "coil" else None


def holding(network: Switching) -> Iterator[Gap]:
    """Where a wire is missing behind a contact that would hold its own coil in.

    It leads nowhere, and begins where the start button does, behind which its coil is.
    """
    wired = network.wired
    for each in network.order:
        if each.kind != "contact" or each.a == each.b or not _single(network, each):
            continue
        contact = network.when[each.name]
        load = _coil(network, contact)
        if load is None or load.device != contact.scope or isinstance(contact.when, Negation):
            continue
        for end, start in ((each.a, each.b), (each.b, each.a)):
            if network.near[end] != [each] or end in wired or start in network.rails or end in network.rails:
                continue
            beyond = _beyond(network, {network.node[load.a], network.node[load.b]}, start)
            buttons = [one for one in network.near[start] if _is_button(network, one)]
            there = [end for one in buttons for end in (one.a, one.b) if end in beyond]
            if len(there) == 1:
                yield Gap(end, there[0])


def _is_button(network: Switching, each: Element) -> bool:
    """Whether a contact stands so only while a hand presses it."""
    return each.kind == "contact" and "momentary" in network.when[each.name].flags


def _beyond(network: Switching, ends: set[int], without: int) -> set[int]:
    """The nodes between rails that contacts can tie to some, but for all that is behind one."""
    waiting = sorted(ends - network.rails.keys() - {without})
    seen = {without, *network.rails, *waiting}
    for one in waiting:
        for each in network.near.get(one, ()):
            other = each.b if each.a == one else each.a
            if other not in seen:
                seen.add(other)
                waiting.append(other)
    return set(waiting)
