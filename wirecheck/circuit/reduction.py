"""Elements between two nodes put in series and in parallel, as far as they are so.

References: R. J. Duffin, "Topology of series-parallel networks", Journal of
Mathematical Analysis and Applications 10 (1965), for the reductions.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from wirecheck.circuit.structure import Element, Fork, Mesh, Step, Structure, chained, elements, turned

MOST_NESTED = 24
"""How deep series and parallel stand in one another; what goes deeper is told edge by edge, as a mesh."""


class _Edge(NamedTuple):
    a: int
    b: int
    order: int
    structure: Structure
    depth: int = 0


def reduced(found: Iterable[Element], left: int, right: int) -> Structure:
    """A two-terminal network as series and parallel, and meshes where it is neither.

    Parameters
    ----------
    found : its elements, each on some way from `left` to `right`, in the order they are to be told.

    Examples
    --------
    >>> switch, lamp = Element("contact", "S1", 1, 2), Element("load", "L1", 3, 2)
    >>> [step.element.name for step in reduced([lamp, switch], 1, 3).parts]
    ['S1', 'L1']
    """
    listed = tuple(found)
    edges = [_Edge(each.a, each.b, place, Step(each, each.a, each.b)) for place, each in enumerate(listed)]
    edges = [edge for edge in edges if edge.a != edge.b]
    while True:
        joined = _parallel(edges)
        joined = _series(joined, left, right)
        if any(edge.depth > MOST_NESTED for edge in joined):
            return Mesh(listed, (left, right))
        if len(joined) == len(edges):
            break
        edges = joined
    if len(edges) == 1:
        return _toward(edges[0], left)
    return chained(_blocks(edges, left, right))


def _parallel(edges: list[_Edge]) -> list[_Edge]:
    beside: dict[frozenset[int], list[_Edge]] = {}
    for edge in edges:
        beside.setdefault(frozenset((edge.a, edge.b)), []).append(edge)
    merged = []
    for listed in beside.values():
        if len(listed) == 1:
            merged.append(listed[0])
            continue
        listed.sort(key=lambda edge: edge.order)
        a, b = listed[0].a, listed[0].b
        branches: list[Structure] = []
        for edge in listed:
            part = _toward(edge, a)
            branches += part.branches if isinstance(part, Fork) else (part,)
        depth = 1 + max(edge.depth for edge in listed)
        merged.append(_Edge(a, b, listed[0].order, Fork(tuple(branches)), depth))
    return merged


def _series(edges: list[_Edge], left: int, right: int) -> list[_Edge]:
    at: dict[int, list[_Edge]] = {}
    for edge in edges:
        at.setdefault(edge.a, []).append(edge)
        at.setdefault(edge.b, []).append(edge)
    live = dict.fromkeys(edges)
    for node in list(at):
        if node in (left, right):
            continue
        here = at[node]
        if len(here) != 2 or here[0] is here[1]:
            continue
        one, other = here
        start = one.b if one.a == node else one.a
        end = other.b if other.a == node else other.a
        if start == end:
            # Two ways from one node to a node with nothing else: a parallel of the next round.
            continue
        path = chained([_toward(one, start), _toward(other, node)])
        edge = _Edge(start, end, min(one.order, other.order), path, max(one.depth, other.depth))
        for old in (one, other):
            live.pop(old)
            for place in (old.a, old.b):
                at[place] = [each for each in at[place] if each is not old]
        live[edge] = None
        at[start].append(edge)
        at[end].append(edge)
    return list(live)


def _toward(edge: _Edge, left: int) -> Structure:
    """An edge's structure with its left end at that node."""
    return edge.structure if edge.a == left else turned(edge.structure)


def _blocks(edges: list[_Edge], left: int, right: int) -> list[Structure]:
    """What no reduction takes further, cut where all of it passes one node."""
    import networkx

    graph = networkx.Graph([(edge.a, edge.b) for edge in edges])
    path = networkx.shortest_path(graph, left, right)
    blocks = list(networkx.biconnected_components(graph))
    parts: list[Structure] = []
    start = left
    while start != right:
        # The block that the way to the right goes into next, and where it leaves it.
        step = path[path.index(start) + 1]
        block = next(each for each in blocks if start in each and step in each)
        end = [node for node in path if node in block][-1]
        inside = [edge for edge in edges if edge.a in block and edge.b in block]
        if len(inside) == 1:
            parts.append(_toward(inside[0], start))
        else:
            inside.sort(key=lambda edge: edge.order)
            listed = tuple(each for edge in inside for each in elements(edge.structure))
            parts.append(Mesh(listed, (start, end)))
        start = end
    return parts
