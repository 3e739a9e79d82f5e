"""What can tie a rail to another with nothing on the way that draws current."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from itertools import combinations

from wirecheck.circuit.ladder import Rung
from wirecheck.circuit.reduction import reduced
from wirecheck.circuit.structure import Chain, Element, Mesh, elements
from wirecheck.circuit.switching import Switching
from wirecheck.language.syntax import AnyOf, Condition, InPosition, IsState, Negation, Runs

MOST_TRACED = 14
"""Of so many contacts between rails each way from one to another is traced; of more, none is left out."""


def past_all_loads(network: Switching, aside: Set[Element]) -> Iterator[Rung]:
    """What can tie a rail to another with nothing on the way that draws current."""
    beside: dict[int, list[Element]] = {}
    for each in network.order:
        if each.a == each.b or each in aside:
            continue
        inside = [end for end in (each.a, each.b) if end not in network.rails]
        if inside:
            beside.setdefault(network.region[inside[0]], []).append(each)
        elif not (network.rails[each.a].open or network.rails[each.b].open):
            yield _bare(network, [each])
    for listed in beside.values():
        found = _from_rail_to_rail(network, listed)
        if found:
            yield _bare(network, found)


def _from_rail_to_rail(network: Switching, listed: Sequence[Element]) -> list[Element]:
    """The elements that lie on a way from a rail to another which can be closed all at once."""
    import networkx

    fed = {end for each in listed for end in (each.a, each.b) if end in network.rails}
    fed = {rail for rail in fed if not network.rails[rail].open}
    whole = networkx.Graph([("sources", rail) for rail in fed])
    whole.add_edges_from((each.a, each.b) for each in listed)
    blocks = [block for block in networkx.biconnected_components(whole) if len(block & fed) > 1]
    inside = [each for each in listed if any({each.a, each.b} <= block for block in blocks)]
    if len(inside) > MOST_TRACED:
        return inside
    graph = networkx.MultiGraph()
    for each in inside:
        graph.add_edge(each.a, each.b, key=each)
    kept: set[Element] = set()
    for start, end in combinations(sorted(fed & set(graph)), 2):
        inner = graph.subgraph([one for one in graph if one not in network.rails or one in (start, end)])
        for way in networkx.all_simple_edge_paths(inner, start, end):
            passed = [each for _, _, each in way]
            if at_once(network, passed):
                kept.update(passed)
    return [each for each in inside if each in kept]


def at_once(network: Switching, passed: Sequence[Element]) -> bool:
    """Whether contacts can be closed together, as far as their switches and coils tell."""
    stands: dict[str, set[str]] = {}
    for each in passed:
        if each.kind != "contact":
            continue
        contact = network.when[each.name]
        for what, among in positions_of(contact.when, contact.scope):
            stands[what] = stands.get(what, among) & among
    return all(stands.values())


def _bare(network: Switching, found: Sequence[Element]) -> Rung:
    """The rung of elements that lead from rail to rail; its middle is what closes it."""
    rails = tuple(
        sorted({end for each in found for end in (each.a, each.b) if end in network.rails}, key=network.place)
    )
    if len(rails) != 2:
        return Rung((), rails, (), Mesh(tuple(found), rails), ())
    whole = reduced(found, *rails)
    parts = whole.parts if isinstance(whole, Chain) else (whole,)
    moved = [
        place for place, part in enumerate(parts) if any(each.kind == "contact" for each in elements(part))
    ]
    at = moved[-1] if moved else len(parts) - 1
    return Rung((), rails, parts[:at], parts[at], parts[at + 1 :])


def positions_of(condition: Condition, scope: str) -> Iterator[tuple[str, set[str]]]:
    """What must stand how for a contact to close: a switch or a control in one of some positions, a load."""
    match condition:
        case InPosition(position):
            yield scope, {position.text}
        case AnyOf(facts) if all(isinstance(fact, InPosition) for fact in facts):
            yield scope, {fact.position.text for fact in facts if isinstance(fact, InPosition)}
        case Runs(load):
            yield f"{scope} {load.text}", {"runs"}
        case Negation(Runs(load)):
            yield f"{scope} {load.text}", {"rests"}
        case IsState(name, state):
            yield f"{scope}.{name.text}", {state.text}
            yield f"{scope}.{name.text} is {state.text}", {"yes"}
        case Negation(IsState(name, state)):
            yield f"{scope}.{name.text} is {state.text}", {"no"}
