"""The circuit in the order in which a ladder shows it: rail, contacts, load, rail.

A node is what joins and wires hold together, whatever their length. A rail is
a node that a source feeds: a panel's leg, earth (every neutral and ground), an
end of a transformer's secondary. Between rails stand the elements: contacts,
poles of breakers and fuses, and what draws current. The rung of a load holds
every element that can tie one of its ends to a rail or to its other end, put
in series and in parallel (`reduction`); where that gets stuck (a bridge, the
crossing of a 4-way switch), what is left is a `Mesh`, told edge by edge. What
ties two rails together with no load between is a rung by itself, and of no
load's. A contact that is wired around stands where it would without what goes
around it (`around`), from a node to itself, and else on a rung of its own.
Where a wire is missing (`gaps`), a rung has a gap, which never conducts. The
windings of one machine stand on one rung (`machine`).
Nothing here knows how a ladder is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from wirecheck.circuit.around import apart, as_one, has_places
from wirecheck.circuit.circuit import Circuit, Protection
from wirecheck.circuit.ladder import Ladder, Rail, Rung, rung_elements
from wirecheck.circuit.machine import as_wound
from wirecheck.circuit.missing import missing
from wirecheck.circuit.one_screw import holding, on_one_screw, to_nothing
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.reduction import reduced
from wirecheck.circuit.shorts import MOST_TRACED, at_once, past_all_loads, positions_of
from wirecheck.circuit.structure import Chain, Element, Mesh, Step, Structure, chained, elements, renamed
from wirecheck.circuit.switching import Switching
from wirecheck.language.syntax import InPosition


def ladder(circuit: Circuit) -> Ladder:
    """The rungs of a circuit: each load, outlet and primary on one of them, in the board's order.

    A control's input that hangs on no other rung has one of its own, and so has each call. What leads
    from rail to rail past all loads comes after these, then each contact with one screw wired, then each with
    both its ends on one of their wires.
    """
    circuit = as_wound(circuit)
    together = pieces(
        range(circuit.nodes), ((circuit.node[wire.a], circuit.node[wire.b]) for wire in circuit.wires)
    )
    node = {point: together[number] for point, number in circuit.node.items()}
    parted, twins = apart(circuit, node)
    if twins:
        told = _of_nodes(circuit, parted)
        if has_places(told, twins):
            return as_one(told, node, twins)
    return _of_nodes(circuit, node)


def _of_nodes(circuit: Circuit, node: Mapping[str, int]) -> Ladder:
    """The rungs of a circuit with a node for each of its points."""
    whole = Switching(circuit, node)
    held = list(holding(whole))
    found, dead = missing(whole, _Rungs(whole).of)
    network = Switching(circuit, node, [*found, *held])
    work = _Rungs(network)
    rungs = list(work.of(network.loads()))
    seen = {end for rung in rungs for each in rung_elements(rung) for end in (each.a, each.b)}
    rungs += work.of(network.inputs(seen))
    rungs += work.bare
    rungs += on_one_screw(network, rungs)
    rungs += to_nothing(network, rungs)
    rungs += _wired_around(
        network, {end for rung in rungs for each in rung_elements(rung) for end in (each.a, each.b)}
    )
    return Ladder(circuit, node, network.rails, tuple(rungs), dead)


class _Rungs:
    """The rungs of a circuit while they are found."""

    def __init__(self, network: Switching) -> None:
        self.network = network
        self.aside: set[Element] = set()
        self.past: set[int] = set()
        self.bare: list[Rung] = []

    def of(self, loads: Sequence[Element]) -> Iterator[Rung]:
        """The rung of each load; loads in series share one, and one on three phases has one for its lines."""
        whole = list(self._on_three_lines(loads))
        yield from whole
        self._set_aside(whole)
        self.bare = list(past_all_loads(self.network, self.aside))
        drawn = {load for rung in whole for load in rung.loads}
        for group in self._groups([load for load in loads if load not in drawn]):
            if len(group) > 1 and len(self.network.rails_of(group)) > 1:
                yield self._rung(tuple(group))
                continue
            for load in group:
                for end in (load.a, load.b):
                    if self.network.dead(end) is not None:
                        self._open(end)
                yield self._rung((load,))

    def _on_three_lines(self, loads: Sequence[Element]) -> Iterator[Rung]:
        """The rung of each load on three phases whose three ends lead to three rails, or one to nothing."""
        for load in self.network.circuit.loads:
            ends = [self.network.node[end] for end in load.ends]
            if len(set(ends)) < 3:
                continue
            group = tuple(
                each for each in loads if each.name in {load.winding(position) for position in (0, 1)}
            )
            lost = [end for end in ends if self.network.dead(end) is not None]
            if (
                len(self.network.rails_of(group)) + len({self.network.dead(end) for end in lost}) != 3
                or len(lost) > 1
            ):
                continue
            for end in lost:
                self._open(self._far(end))
            yield self._rung(group)

    def _set_aside(self, whole: Sequence[Rung]) -> None:
        """Leave what starts a motor to its three lines: from line to line it leads past the motor alone.

        Two contactors that reverse a motor would else be a way from one line to another beside every rung.
        """
        for rung in whole:
            for each in rung_elements(rung):
                if each.kind == "contact" and not isinstance(self.network.when[each.name].when, InPosition):
                    self.aside.add(each)
        inside = {end for each in self.aside for end in (each.a, each.b)} - set(self.network.rails)
        self.past = {end for end in inside if self.aside.issuperset(self.network.near[end])}

    def _far(self, end: int) -> int:
        """The lost end of a line that no source feeds: the furthest that it leads to, where nothing draws."""
        drawing = {self.network.node[point] for load in self.network.circuit.loads for point in load.ends}
        seen = [end]
        for one in seen:
            for element in self.network.near.get(one, ()):
                other = element.b if element.a == one else element.a
                if other not in seen:
                    seen.append(other)
        return next((one for one in reversed(seen) if one not in drawing), end)

    def _groups(self, loads: Sequence[Element]) -> Iterator[list[Element]]:
        """Loads whose current has no other way than through one another.

        They meet where no source feeds, or hang on one rail alone with what is behind them.
        """
        behind: dict[int, list[int]] = {}
        for number, load in enumerate(loads):
            for end in {load.a, load.b}:
                behind.setdefault(end, []).append(number)
        ties: list[tuple[tuple[str, int], tuple[str, int]]] = []
        for number, load in enumerate(loads):
            if load.a == load.b:
                continue
            dead = [
                region
                for region in (self.network.dead(load.a), self.network.dead(load.b))
                if region is not None
            ]
            ties += ((("load", number), ("dead", region)) for region in dead)
            if not dead and len(self.network.rails_of((load,))) == 1:
                ties += (
                    (("load", number), ("load", other))
                    for node in self._behind(load)
                    for other in behind.get(node, ())
                )
        ties += self._one_machine(loads)
        head = pieces([("load", number) for number in range(len(loads))], ties)
        groups: dict[tuple[str, int], list[Element]] = {}
        for number, load in enumerate(loads):
            groups.setdefault(head["load", number], []).append(load)
        yield from groups.values()

    def _one_machine(self, loads: Sequence[Element]) -> Iterator[tuple[tuple[str, int], tuple[str, int]]]:
        """The windings of one machine that meet off the rails, two by two."""
        network = self.network
        of = network.circuit.load_of
        meeting: dict[tuple[str, int], int] = {}
        for number, load in enumerate(loads):
            if load.kind == "load" and of[load.name].device in network.circuit.wound:
                for end in {load.a, load.b} - network.rails.keys():
                    yield ("load", number), ("load", meeting.setdefault((of[load.name].device, end), number))

    def _behind(self, load: Element) -> set[int]:
        """The nodes that a load's ends can be tied to without the one node that all comes through."""
        import networkx

        graph = networkx.Graph([("sources", rail) for rail in self.network.rails])
        graph.add_edges_from((each.a, each.b) for each in self._nearby((load,)))
        way = networkx.shortest_path(graph, "sources", load.a if load.a not in self.network.rails else load.b)
        block = next(each for each in networkx.biconnected_components(graph) if {load.a, load.b} <= each)
        gate = next(node for node in way if node in block)
        nodes: set[int] = set()
        waiting = [end for end in (load.a, load.b) if end != gate and end not in self.network.rails]
        for one in waiting:
            if one not in nodes:
                nodes.add(one)
                for element in self.network.near.get(one, ()):
                    other = element.b if element.a == one else element.a
                    if other != gate and other not in self.network.rails:
                        waiting.append(other)
        return nodes

    def _open(self, node: int) -> None:
        if node not in self.network.rails:
            self.network.rails[node] = Rail(node, (), 50, True)

    def _rung(self, loads: tuple[Element, ...]) -> Rung:
        if len(loads) == 1 and loads[0].a == loads[0].b:
            load = loads[0]
            return Rung(loads, (load.a, load.b), (), Step(load, load.a, load.b), ())
        found = self._closing(loads, self._around(loads))
        rails = sorted(
            {end for each in found for end in (each.a, each.b) if end in self.network.rails},
            key=self.network.place,
        )
        if len(rails) == 1 and len(loads) == 1 and self._side(loads[0].a) != self._side(loads[0].b):
            return self._on_one_rail(loads[0], found, rails[0])
        if len(rails) != 2:
            return Rung(loads, tuple(rails), (), Mesh(tuple(found), tuple(rails)), ())
        whole = reduced(found, rails[0], rails[1])
        held = set(elements(whole))
        left_out = [each for each in found if each not in held]
        if not held.issuperset(loads):
            # Not between the rails: it hangs on one node of what ties them together.
            whole = _with_hanging(whole, loads, left_out) or Mesh(tuple(found), (rails[0], rails[1]))
        return _parted(loads, (rails[0], rails[1]), whole)

    def _closing(self, loads: tuple[Element, ...], found: list[Element]) -> list[Element]:
        """What of a load's rung lies on a way from rail to load, or past it, that can be closed all at once.

        Contacts that exclude one another, as two of one relay, would else be drawn in series. What ties two
        wires of these ways together is on the rung too.
        """
        import networkx

        network = self.network
        switches = [network.when[each.name] for each in found if each.kind == "contact"]
        by_hand = any(
            what == each.scope for each in switches for what, _ in positions_of(each.when, each.scope)
        )
        # Switches with travelers are drawn whole.
        if len(loads) > 1 or len(found) > MOST_TRACED or by_hand:
            return found
        graph = networkx.MultiGraph()
        for each in found:
            if each not in loads:
                graph.add_edge(each.a, each.b, key=each)
        ends = [end for end in (loads[0].a, loads[0].b) if end in graph]
        rails = [end for end in graph if end in network.rails]
        kept = set(loads)
        for start, end in {(start, end) for start in ends for end in (*ends, *rails) if start != end}:
            inner = graph.subgraph([one for one in graph if one not in network.rails or one in (start, end)])
            for way in networkx.all_simple_edge_paths(inner, start, end):
                passed = [each for _, _, each in way]
                if at_once(network, passed):
                    kept.update(passed)
        nodes = {end for each in kept for end in (each.a, each.b)}
        kept.update(each for each in found if nodes.issuperset((each.a, each.b)))
        # What nothing could ever feed is told with all that leads to it.
        return (
            [each for each in found if each in kept] if self._between(kept) == self._between(found) else found
        )

    def _side(self, end: int) -> int | None:
        return None if end in self.network.rails else self.network.region.get(end, end)

    def _on_one_rail(self, load: Element, found: list[Element], rail: int) -> Rung:
        """The rung of a load both of whose sides lead to one rail: as if that were two."""
        twin = -1 - rail
        side = self._side(load.b)

        def moved(each: Element) -> Element:
            if each == load:
                return each._replace(b=twin) if each.b == rail else each
            if side is None or side not in (self.network.region.get(each.a), self.network.region.get(each.b)):
                return each
            return each._replace(a=twin if each.a == rail else each.a, b=twin if each.b == rail else each.b)

        own = {moved(each): each for each in found}
        whole = renamed(
            reduced(own, rail, twin), own.__getitem__, lambda node: rail if node == twin else node
        )
        return _parted((load,), (rail, rail), whole)

    def _around(self, loads: tuple[Element, ...]) -> list[Element]:
        """The loads and all that lies on a way from a rail to a rail beside or through one of them."""
        import networkx

        found = self._beside_shorts(loads)
        graph = networkx.Graph((element.a, element.b) for element in found)
        graph.add_edges_from([("sources", one) for one in graph if one in self.network.rails])
        blocks = list(networkx.biconnected_components(graph))
        ends = [{load.a, load.b} for load in loads]
        kept = [block for block in blocks if any(pair <= block for pair in ends)]
        if not any("sources" in block for block in kept) and "sources" in graph:
            # All comes through one node: show how that is fed.
            way = networkx.shortest_path(graph, "sources", loads[0].a)
            kept += (block for block in blocks if any({a, b} <= block for a, b in pairwise(way)))
        inside = [
            element
            for element in found
            if element in loads or any({element.a, element.b} <= block for block in kept)
        ]
        return sorted(inside, key=lambda element: self.network.order.get(element, -1))

    def _beside_shorts(self, loads: tuple[Element, ...]) -> list[Element]:
        """What hangs together with loads, without a part of each short circuit there: it has its own rung.

        That part stays which feeds the loads from a rail that nothing else leads to: but for one pole of two,
        since one handle opens both, and a load between three rails can then stand between two.
        """
        without: set[Element] = set()
        found = self._nearby(loads)
        dead = any(self.network.rails[one].open for one in self._between(found))
        for bare in self.bare:
            if set(rung_elements(bare)).isdisjoint(found):
                continue
            for part in (bare.middle, *reversed(bare.before), *bare.after):
                less = self._nearby(loads, without | set(elements(part)))
                left = self._between(less)
                spare = len(left) == 2 and self._of_one_handle(bare)
                if spare or (len(left) > 1 and (dead or left == self._between(found))):
                    without |= set(elements(part))
                    found = less
                    break
        return found

    def _of_one_handle(self, bare: Rung) -> bool:
        """Whether all that a short circuit leads through are poles of one breaker."""
        devices = {self.network.what(each) for each in rung_elements(bare)}
        return len(devices) == 1 and all(isinstance(each, Protection) for each in devices)

    def _between(self, found: Iterable[Element]) -> set[int]:
        return {end for each in found for end in (each.a, each.b)} & set(self.network.rails)

    def _nearby(self, loads: tuple[Element, ...], without: Iterable[Element] = ()) -> list[Element]:
        """The loads and all contacts and poles that hang together with them between rails."""
        found, seen = self._hanging(loads, self.aside | set(without))
        if self.aside and (len(self._between(found)) < 2 or not self.past.isdisjoint(seen)):
            found, _ = self._hanging(loads, set(without))
        return found

    def _hanging(self, loads: tuple[Element, ...], without: set[Element]) -> tuple[list[Element], set[int]]:
        """What hangs together with loads, but for what is left out; and the nodes between rails there."""
        found: dict[Element, None] = dict.fromkeys(loads)
        seen: set[int] = set()
        waiting = [end for load in loads for end in (load.a, load.b)]
        for one in waiting:
            if one not in self.network.rails and one not in seen:
                seen.add(one)
                for element in self.network.near.get(one, ()):
                    if element not in without:
                        found.setdefault(element)
                        waiting.append(element.b if element.a == one else element.a)
        return list(found), seen


def _wired_around(network: Switching, drawn: set[int]) -> Iterator[Rung]:
    """Each contact and pole that opens nothing: both its ends are on one wire of a rung or a rail."""
    for each in network.order:
        if each.a == each.b and (each.a in drawn or each.a in network.rails):
            yield Rung((), (each.a, each.a), (), Step(each, each.a, each.a), ())


def _parted(loads: tuple[Element, ...], rails: tuple[int, int], whole: Structure) -> Rung:
    """A rung's network as what is before its loads, the part that holds them, and what is after."""
    parts = whole.parts if isinstance(whole, Chain) else (whole,)
    mine = set(loads)
    held = [number for number, part in enumerate(parts) if mine & set(elements(part))]
    inner = parts[held[0] : held[-1] + 1]
    middle = inner[0] if len(inner) == 1 else Chain(inner)
    return Rung(loads, rails, parts[: held[0]], middle, parts[held[-1] + 1 :])


def _with_hanging(whole: Structure, loads: Sequence[Element], hanging: Sequence[Element]) -> Structure | None:
    """A network with what hangs on a node of it: a mesh of the parts about its loads and that node.

    None where it hangs on no node that is between two parts or inside of one.
    """
    parts = whole.parts if isinstance(whole, Chain) else (whole,)
    ends = {end for each in hanging for end in (each.a, each.b)}
    touched = [
        place
        for place, part in enumerate(parts)
        if any(each in loads or ends & {each.a, each.b} for each in elements(part))
    ]
    first, last = touched[0], touched[-1]
    inner = [each for part in parts[first : last + 1] for each in elements(part)]
    nodes = {end for each in inner for end in (each.a, each.b)} - {parts[first].left, parts[last].right}
    if not all(nodes & {each.a, each.b} for each in hanging):
        return None
    mesh = Mesh((*inner, *hanging), (parts[first].left, parts[last].right))
    return chained((*parts[:first], mesh, *parts[last + 1 :]))
