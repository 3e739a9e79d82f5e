"""Where a wire is missing before what no source feeds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence, Set
from itertools import combinations

from wirecheck.circuit.gaps import Draw, Gap, Span, gaps
from wirecheck.circuit.ladder import Rung, in_rail
from wirecheck.circuit.structure import Element, Step, turned
from wirecheck.circuit.switching import Switching
from wirecheck.language.syntax import Negation, Runs


def missing(
    network: Switching, hung: Callable[[Sequence[Element]], Iterable[Rung]]
) -> tuple[list[Gap], frozenset[int]]:
    """Where a wire is missing before what no source feeds, and all nodes there.

    Parameters
    ----------
    hung : the rungs of some loads.
    """
    circuit, node = network.circuit, network.node
    loads = network.loads()
    looking = [(node[one], node[other]) for one, other in circuit.heard if one in node and other in node]
    ends = {end for pair in (*((each.a, each.b) for each in loads), *looking) for end in pair}
    places = {end: place for end in (*ends, *network.region) if (place := network.dead(end)) is not None}
    dead = ends & places.keys()
    if not dead:
        return [], frozenset()
    volts = {("load", name): load.volts for name, load in circuit.load_of.items()}
    volts |= {("outlet", each.name): each.volts for each in circuit.outlets}
    volts |= {("primary", each.name): each.primary_volts for each in circuit.windings}
    spans = [
        Span(node[each.secondary[0]], node[each.secondary[1]], each.secondary_volts)
        for each in circuit.windings
    ]
    legs = [(node[leg.point], leg.volts) for leg in circuit.legs]
    legs += ((node[f"{panel}.neutral"], 0j) for panel in circuit.board.sources)
    spans += (Span(a, b, abs(one - other)) for (a, one), (b, other) in combinations(legs, 2) if a != b)
    lugs = {panel.lug(leg) for panel in circuit.board.subpanels.values() for leg in panel.legs}
    mains = {
        each.pole(place)
        for each in circuit.protections
        for place, (_, screw) in enumerate(each.pairs)
        if screw in lugs
    }
    ties = [_from_its_feed(each, mains) for each in network.order]
    fed = list(hung([each for each in loads if dead.isdisjoint((each.a, each.b))]))

    def head(one: int, other: int) -> int | None:
        """The node behind what stands in the first of two rails, before all rungs between them."""
        there = [rung for rung in fed if set(rung.rails) == {one, other}]
        chains = [
            rung.before if rung.rails[0] == one else tuple(map(turned, reversed(rung.after)))
            for rung in there
        ]
        node_behind = one if there else None
        for same in zip(*chains, strict=False):
            part = same[0]
            if len(set(same)) > 1 or not (isinstance(part, Step) and in_rail(network.what(part.element))):
                break
            node_behind = part.right
        return node_behind

    poles: dict[tuple[str, str], list[int]] = {}
    moved: dict[str, set[int]] = {}
    for contact in circuit.contacts:
        if isinstance(contact.when, Runs):
            poles.setdefault((contact.scope, contact.when.load.text), []).append(node[contact.b])
        fact = contact.when.fact if isinstance(contact.when, Negation) else contact.when
        if isinstance(fact, Runs):
            coil = circuit.meant(fact, contact.scope)
            if coil is not None:
                moved.setdefault(coil.name, set()).update((node[contact.a], node[contact.b]))

    def beside(one: int) -> set[int]:
        """The nodes behind the other poles of a device that a node is behind a pole of."""
        return {each for behind in poles.values() if one in behind for each in behind} - {one}

    draws = [
        Draw(each.a, each.b, volts[each.kind, each.name], frozenset(moved.get(each.name, ())))
        for each in loads
    ]
    draws += (Draw(*pair, None) for pair in looking)
    carried = network.carried
    found = gaps(ties, draws, spans, lambda place: carried.get(place, set()), network.wired, head, beside)
    # A start winding is fed through its capacitor.
    apart = [load for load in circuit.load_of.values() if "winding" in load.flags]
    other = {places.get(node[end]) for load in apart for end in load.ends} - {None}
    found = [gap for gap in found if places[gap.dead] not in other]
    behind = {places[gap.dead] for gap in found}
    return found, frozenset(end for end, place in places.items() if place in behind)


def _from_its_feed(each: Element, mains: Set[str]) -> tuple[int, int]:
    """The nodes of a contact or pole, that on its feed side first.

    A breaker's bus is first of its two; but a subpanel's main, of `mains`, is fed on its lug.
    """
    return (each.b, each.a) if each.kind == "pole" and each.name in mains else (each.a, each.b)
