"""What can tie the nodes of a circuit together, and the rails to which it leads: contacts, poles, gaps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from functools import cached_property

from wirecheck.circuit.circuit import Circuit, Contact, Protection
from wirecheck.circuit.controls import beginning, listening, only_ways
from wirecheck.circuit.gaps import Gap
from wirecheck.circuit.ladder import RIGHT, Rail
from wirecheck.circuit.structure import Element

LETTER, DELAY = ["class-2", "class-2-common"], ["contact", "contact"]
"""The roles of two screws between which a control looks for its call: a letter's, or those of a delay."""


class Switching:
    """The contacts, poles and gaps of a circuit, with the nodes that each stands between."""

    def __init__(self, circuit: Circuit, node: Mapping[str, int], missing: Sequence[Gap] = ()) -> None:
        self.circuit = circuit
        self.node = node
        self.rails = _rails(circuit, node)
        self.near: dict[int, list[Element]] = {}
        self.when = {contact.name: contact for contact in circuit.contacts}
        wide = (Element("gap", f"{number}", *each) for number, each in enumerate(missing, 1))
        self.order = {element: place for place, element in enumerate((*_switching(circuit, node), *wide))}
        for element in self.order:
            if element.a != element.b:
                self.near.setdefault(element.a, []).append(element)
                self.near.setdefault(element.b, []).append(element)
        self.region, self.touched = self._regions()

    def what(self, element: Element) -> Contact | Protection | None:
        """The contact, or what protects, that an element is."""
        if element.kind == "pole":
            poles = (
                (each.pole(place), each)
                for each in self.circuit.protections
                for place, _ in enumerate(each.pairs)
            )
            return dict(poles)[element.name]
        return self.when.get(element.name) if element.kind == "contact" else None

    def loads(self) -> list[Element]:
        """What draws current, in the board's order: transformers, loads, outlets of each device.

        A load on three phases is there twice, with all three of its lines: on the first two and the last two.
        Where each line leads to a rail of its own, one rung holds both.
        """
        node = self.node
        loads = [
            Element("primary", winding.name, node[winding.primary[0]], node[winding.primary[1]])
            for winding in self.circuit.windings
        ]
        loads += [
            Element("load", load.winding(position), node[a], node[b])
            for load in self.circuit.loads
            for position, (a, b) in enumerate(load.pairs[:2])
        ]
        loads += [
            Element("outlet", outlet.name, node[outlet.hot], node[outlet.neutral])
            for outlet in self.circuit.outlets
        ]
        return loads

    def inputs(self, seen: set[int]) -> list[Element]:
        """The inputs of controls that a contact can feed: those on no rung yet, and each wired letter.

        What a source of its own device feeds is no call that it looks at, but its supply; so is what feeds
        loads inside. Where a control looks at that alone, or it alone can begin what the control does, it
        has its place there. What has a load to listen with has its place by that.
        """
        inputs: list[Element] = []
        board, wired = self.circuit.board, self.wired
        alone = only_ways(self.circuit) | beginning(self.circuit)
        fed = {end for each in self.circuit.protections for pair in each.pairs for end in pair}
        fed |= {end for each in self.circuit.windings for end in each.secondary}
        supplies = {self.circuit.node[end] for end in fed}
        for one, reference in self.circuit.heard:
            if one not in self.node or reference not in self.node:
                continue
            a, b = self.node[one], self.node[reference]
            roles = [board.terminals[end].spec.role for end in (one, reference) if end in board.terminals]
            looks = roles == DELAY or (roles == LETTER and a in wired)
            looks = (looks and self.circuit.node[one] not in supplies) or one in alone
            listens = any(listening(self.circuit, one, reference))
            if a == b or listens or ((a in seen or a in self.rails) and not looks):
                continue
            if a in self.rails or self.touched.get(self.region.get(a, a)):
                inputs.append(Element("input", one, a, b))
        return inputs

    @cached_property
    def carried(self) -> Mapping[int, set[str]]:
        """The letters of the screws at each node, and what these carry."""
        names: dict[int, set[str]] = {}
        for point, number in self.node.items():
            terminal = self.circuit.board.terminals.get(point)
            if terminal is not None and terminal.spec.role in LETTER:
                told = {terminal.spec.name, terminal.spec.carries or ""} - {""}
                names.setdefault(number, set()).update(told)
        return names

    @cached_property
    def wired(self) -> Set[int]:
        """The nodes to which a wire leads."""
        return {self.node[end] for wire in self.circuit.wires for end in (wire.a, wire.b)}

    def _regions(self) -> tuple[dict[int, int], dict[int, set[int]]]:
        """The nodes that contacts and poles can tie together without passing a rail, and the rails there."""
        region: dict[int, int] = {}
        touched: dict[int, set[int]] = {}
        for start in self.near:
            if start in region or start in self.rails:
                continue
            region[start] = start
            touched[start] = set()
            waiting = [start]
            for one in waiting:
                for element in self.near[one]:
                    other = element.b if element.a == one else element.a
                    if other in self.rails:
                        touched[start].add(other)
                    elif other not in region:
                        region[other] = start
                        waiting.append(other)
        return region, touched

    def dead(self, end: int) -> int | None:
        """The region of an end that no source feeds, or None."""
        if end in self.rails:
            return None
        region = self.region.get(end, end)
        return None if self.touched.get(region) else region

    def rails_of(self, group: Iterable[Element]) -> set[int]:
        """The rails that sources feed to which either end of some loads can be tied."""
        rails: set[int] = set()
        for load in group:
            for end in (load.a, load.b):
                if end in self.rails and not self.rails[end].open:
                    rails.add(end)
                rails |= self.touched.get(self.region.get(end, end), set())
        return rails

    def place(self, node: int) -> tuple[int, int]:
        """Where a rail stands among others, from left to right."""
        return self.rails[node].order, node


def _switching(circuit: Circuit, node: Mapping[str, int]) -> Iterator[Element]:
    """Every pole and contact of a circuit between its two nodes."""
    for protection in circuit.protections:
        for position, (a, b) in enumerate(protection.pairs):
            yield Element("pole", protection.pole(position), node[a], node[b])
    for contact in circuit.contacts:
        yield Element("contact", contact.name, node[contact.a], node[contact.b])


def sources(circuit: Circuit) -> Iterator[tuple[str, str, int]]:
    """Each point that feeds: its name as a rail, and the order of that rail from left to right.

    Earth is last, a secondary's common (its second end) before it.
    """
    for panel in circuit.board.sources:
        yield f"{panel}.neutral", f"{panel}.neutral", 100
    for place, leg in enumerate(circuit.legs):
        yield leg.point, leg.name, place
    for place, winding in enumerate(circuit.windings):
        yield winding.secondary[0], winding.secondary[0], 10 + len(circuit.legs) + place
        yield winding.secondary[1], winding.secondary[1], RIGHT


def _rails(circuit: Circuit, node: Mapping[str, int]) -> dict[int, Rail]:
    """What sources feed: a rail has the order of the first one of its node."""
    rails: dict[int, Rail] = {}
    for point, name, order in sources(circuit):
        known = rails.get(node[point])
        names = known.names if known else ()
        rails[node[point]] = Rail(node[point], (*names, name), known.order if known else order, False)
    return rails
