"""Where a contact stands that is wired around: between what feeds its wire and what its wire feeds.

A jumper makes one wire of the two that a contact parts. Without the jumper they are two again, and the
contact has a place between them: on the rung of the board that was wired right.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact
from wirecheck.circuit.ladder import Ladder, Rung, in_rail, parts
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.structure import Element, Fork, Step, Structure, renamed
from wirecheck.circuit.switching import Switching, sources

Pair = tuple[str, str]
MOST_AROUND = 60
"""Of so many contacts that are wired around each has its place looked for; more have rungs of their own."""


class Ends(NamedTuple):
    """The points at which something stands on the wires of a board.

    `switching` are the two ends of each contact and pole, `drawing` the ends of what draws current or looks
    for it, `sources` those of what feeds.
    """

    switching: Sequence[Pair]
    drawing: Set[str]
    sources: Set[str]


def apart(circuit: Circuit, node: Mapping[str, int]) -> tuple[Mapping[str, int], dict[int, int]]:
    """A node for each point as if nothing went around a contact, and which node each new one is."""
    twins: dict[int, int] = {}
    around = [each for each in circuit.contacts if node[each.a] == node[each.b] and not in_rail(each)]
    if not around or len(around) > MOST_AROUND:
        return node, twins
    found = dict(node)
    drawing = {end for _, a, b in circuit.drawn for end in (a, b)}
    drawing |= {end for outlet in circuit.outlets for end in (outlet.hot, outlet.neutral)}
    drawing |= {end for winding in circuit.windings for end in winding.primary}
    drawing |= {one for one, _ in circuit.inputs if one in node}
    switching = [(each.a, each.b) for each in circuit.contacts]
    switching += (pair for each in circuit.protections for pair in each.pairs)
    ends = Ends(switching, drawing, {point for point, _, _ in sources(circuit)})
    for contact in around:
        if found[contact.a] != found[contact.b]:
            continue
        beyond = _behind(circuit, found, (contact.a, contact.b), ends)
        if beyond is not None:
            twin = circuit.nodes + len(twins)
            twins[twin] = node[contact.a]
            found |= dict.fromkeys(beyond, twin)
    return found, twins


def has_places(ladder: Ladder, twins: Mapping[int, int]) -> bool:
    """Whether all that stands between new nodes is in series or in parallel on a rung.

    In what is neither, and in a rail, there is no place for what leads from a wire to itself.
    """
    network = Switching(ladder.circuit, ladder.node)
    placed = {part.element for rung in ladder.rungs for part in parts(rung) if isinstance(part, Step)}
    around = [
        each
        for each in network.order
        if each.a != each.b and twins.get(each.a, each.a) == twins.get(each.b, each.b)
    ]
    return all(each in placed and not in_rail(network.what(each)) for each in around)


def as_one(ladder: Ladder, node: Mapping[str, int], twins: Mapping[int, int]) -> Ladder:
    """A ladder with one node for those that what goes around a contact makes one."""

    def own(one: int) -> int:
        return twins.get(one, one)

    def of(each: Element) -> Element:
        return each._replace(a=own(each.a), b=own(each.b))

    def part(structure: Structure) -> Structure:
        return renamed(structure, of, own)

    rungs = tuple(
        Rung(
            tuple(map(of, rung.loads)),
            tuple(map(own, rung.rails)),
            tuple(map(part, rung.before)),
            part(rung.middle),
            tuple(map(part, rung.after)),
        )
        for rung in ladder.rungs
    )
    rails = {end: rail for end, rail in ladder.rails.items() if end not in twins}
    return Ladder(ladder.circuit, node, rails, rungs, ladder.dead)


def less_directly(ladder: Ladder) -> frozenset[str]:
    """The contacts that wire goes around by way of another in parallel with them, at whose screws it is.

    One jumper over one of two contacts in parallel closes both, and is at one of them.
    """
    circuit = ladder.circuit
    ties = [(wire.a, wire.b) for wire in circuit.wires] + [(a, b) for a, b, _ in circuit.bonds]
    found: set[str] = set()
    for fork in (part for rung in ladder.rungs for part in parts(rung) if isinstance(part, Fork)):
        beside = [
            ladder.of["contact", each.element.name]
            for each in fork.branches
            if isinstance(each, Step) and each.element.kind == "contact" and each.left == each.right
        ]
        contacts = [each for each in beside if isinstance(each, Contact)]
        ways = {each.name: len([*_way((each.a, each.b), ties)]) for each in contacts}
        found.update(name for name, long in ways.items() if long > min(ways.values()))
    return frozenset(found)


def _behind(circuit: Circuit, node: Mapping[str, int], pair: Pair, ends: Ends) -> frozenset[str] | None:
    """The points behind a contact whose two ends, a pair, are on one wire, as if nothing went around it.

    Parameters
    ----------
    node : the wire of each point.

    Returns
    -------
    Those on the side that nothing feeds but through the contact; None where no place of it is plain.
    """
    wire = node[pair[0]]
    points = [point for point, number in node.items() if number == wire]
    fed = _feeding(node, wire, ends)
    held = ends.drawing | {end for each in ends.switching if each != pair for end in each}
    bonds = [(a, b, span) for a, b, span in circuit.bonds if node[a] == node[b] == wire]
    leads = [(each.a, each.b) for each in circuit.wires if node[each.a] == node[each.b] == wire]
    way = list(_way(pair, [*leads, *((a, b) for a, b, _ in bonds)]))
    on_way = [(a, b, span) for a, b, span in bonds if (a, b) in way or (b, a) in way]
    lots: list[tuple[bool, int, frozenset[str]]] = []
    for cut in on_way:
        part = pieces(points, [*leads, *((a, b) for a, b, span in bonds if (a, b, span) != cut)])
        lots += _sides(points, part, pair)
    # The second end is the far one of most contacts; and what comes off is as little as can be.
    for _, _, lot in sorted(lots, key=lambda each: each[:2]):
        if not fed <= lot and fed.isdisjoint(lot) and not held.isdisjoint(lot):
            return lot
    for join in dict.fromkeys(span for _, _, span in on_way):
        part = pieces(points, [*leads, *((a, b) for a, b, span in bonds if span != join)])
        near = {part[point] for point in fed}
        off = {part[point] for point in held if point in part} - near - {part[end] for end in pair}
        if near and off and part[pair[0]] != part[pair[1]]:
            off.add(part[pair[0]] if part[pair[1]] in near else part[pair[1]])
            return frozenset(point for point in points if part[point] in off)
    return None


def _feeding(node: Mapping[str, int], wire: int, ends: Ends) -> set[str]:
    """The points of a wire that a source feeds by itself, or through contacts from other wires."""
    near: dict[int, set[int]] = {}
    for a, b in ends.switching:
        if wire not in (node[a], node[b]):
            near.setdefault(node[a], set()).add(node[b])
            near.setdefault(node[b], set()).add(node[a])
    waiting = [node[point] for point in ends.sources if node[point] != wire]
    reached = set(waiting)
    for one in waiting:
        for other in near.get(one, set()) - reached:
            reached.add(other)
            waiting.append(other)
    found = {point for point in ends.sources if node[point] == wire}
    for a, b in ends.switching:
        found |= {one for one, far in ((a, b), (b, a)) if node[one] == wire and node[far] in reached}
    return found


def _way(pair: Pair, ties: Iterable[Pair]) -> Iterator[Pair]:
    """A shortest way from one end to the other, by its ties."""
    near: dict[str, list[str]] = {}
    for a, b in ties:
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    start, end = pair
    before = {start: start}
    waiting = [start]
    for one in waiting:
        for other in near.get(one, ()):
            if other not in before:
                before[other] = one
                waiting.append(other)
    while end in before and end != start:
        yield before[end], end
        end = before[end]


def _sides(
    points: Sequence[str], part: Mapping[str, str], pair: Pair
) -> Iterator[tuple[bool, int, frozenset[str]]]:
    """What hangs together with either end where they are apart: the second end's first, and how many."""
    if part[pair[0]] != part[pair[1]]:
        for first, end in enumerate((pair[1], pair[0])):
            lot = frozenset(point for point in points if part[point] == part[end])
            yield bool(first), len(lot), lot
