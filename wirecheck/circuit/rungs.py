"""The circuit in the order in which a ladder shows it: rail, contacts, load, rail.

A node is what joins and wires hold together, whatever their length. A rail is
a node that a source feeds: a panel's leg, earth (every neutral and ground), an
end of a transformer's secondary. Between rails stand the elements: contacts,
poles of breakers and fuses, and what draws current. The rung of a load holds
every element that can tie one of its ends to a rail or to its other end, put
in series and in parallel by the classic reductions of a two-terminal network;
where those get stuck (a bridge, the crossing of a 4-way switch), what is left
is a `Mesh`, told edge by edge. What ties two rails together with no load
between is a rung by itself, and of no load's. A contact that is wired around
stands where it would without what goes around it (`around`), from a node to
itself, and else on a rung of its own. Where a wire is missing (`gaps`), a
rung has a gap, which never conducts.
Nothing here knows how a ladder is drawn.

References: R. J. Duffin, "Topology of series-parallel networks", Journal of
Mathematical Analysis and Applications 10 (1965), for the reductions.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise
from typing import Literal, NamedTuple

from wirecheck.circuit.around import Ends, behind
from wirecheck.circuit.circuit import Circuit, Contact, Load, Outlet, Protection, Winding
from wirecheck.circuit.gaps import Draw, Gap, Span, gaps
from wirecheck.circuit.pieces import pieces
from wirecheck.language.syntax import AnyOf, Condition, InPosition, Negation, Runs
from wirecheck.parts.part import WATCHERS

Kind = Literal["contact", "pole", "load", "outlet", "primary", "input", "gap"]
MOST_NESTED = 24
"""How deep series and parallel stand in one another; what goes deeper is told edge by edge, as a mesh."""
MOST_TRACED = 14
"""Of so many contacts between rails each way from one to another is traced; of more, none is left out."""
MOST_AROUND = 60
"""Of so many contacts that are wired around each has its place looked for; more have rungs of their own."""
LOOKING = (["class-2", "class-2-common"], ["contact", "contact"])
"""The roles of two screws between which a control looks for its call: letters, or those of a delay."""
RIGHT = 90
"""Rails of this order and above stand on the right: commons, then earth."""


class Element(NamedTuple):
    """A contact, a pole, a load, an outlet, a primary, a control's input or a gap, between its two nodes."""

    kind: Kind
    name: str
    a: int
    b: int


class Step(NamedTuple):
    """One element, with the node on its left and the node on its right."""

    element: Element
    left: int
    right: int


class Chain(NamedTuple):
    """Parts in series, from left to right."""

    parts: tuple[Structure, ...]

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.parts[0].left

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.parts[-1].right


class Fork(NamedTuple):
    """Branches in parallel."""

    branches: tuple[Structure, ...]

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.branches[0].left

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.branches[0].right


class Mesh(NamedTuple):
    """What is neither series nor parallel: its elements, and its terminals from left to right.

    A mesh between two rails or nodes has two terminals, any other has as many as rails it touches.
    """

    elements: tuple[Element, ...]
    terminals: tuple[int, ...]

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.terminals[0]

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.terminals[-1]


class Crossing(NamedTuple):
    """A contact of a switch with travelers: its nodes, its column, and the row of either end."""

    element: Element
    left: int
    right: int
    column: int
    row: int
    end: int


class Travelers(NamedTuple):
    """Switches one behind the other, each with all its contacts in one column, on two rows."""

    crossings: tuple[Crossing, ...]
    columns: int

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.crossings[0].left

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.crossings[-1].right


Structure = Step | Chain | Fork | Mesh | Travelers


class Rail(NamedTuple):
    """A node that a source feeds; `open` where it only looks like one, for nothing feeds it.

    `order` sorts rails from left to right: legs, secondaries, open ends, commons, earth.
    """

    node: int
    names: tuple[str, ...]
    order: int
    open: bool


class Rung(NamedTuple):
    """What stands between two rails, through one load (or a few in series), from left to right.

    `before` and `after` are in series with `middle`, the smallest part that
    holds the loads. A rung that touches other than two rails is all `middle`.
    One without a load is a short circuit, or (from a node to itself) a contact that is wired around.
    """

    loads: tuple[Element, ...]
    rails: tuple[int, ...]
    before: tuple[Structure, ...]
    middle: Structure
    after: tuple[Structure, ...]


@dataclass(frozen=True)
class Ladder:
    """The rungs of a board, with its rails; `node` gives each point its node.

    `dead` are the nodes that no source feeds, which are behind a gap.
    """

    circuit: Circuit
    node: Mapping[str, int]
    rails: Mapping[int, Rail]
    rungs: tuple[Rung, ...]
    dead: frozenset[int] = frozenset()

    @cached_property
    def points(self) -> dict[int, tuple[str, ...]]:
        """The points of each node."""
        lists: dict[int, list[str]] = {}
        for point, node in self.node.items():
            lists.setdefault(node, []).append(point)
        return {node: tuple(points) for node, points in lists.items()}

    @cached_property
    def meeting(self) -> Counter[int]:
        """How many elements of all rungs meet at each node."""
        found = {each for rung in self.rungs for each in rung_elements(rung)}
        return Counter(end for each in found for end in {each.a, each.b})

    @cached_property
    def of(self) -> dict[tuple[str, str], Contact | Protection | Load | Outlet | Winding]:
        """What each element is, by its kind and name."""
        circuit = self.circuit
        elements: dict[tuple[str, str], Contact | Protection | Load | Outlet | Winding] = {}
        elements |= {("contact", contact.name): contact for contact in circuit.contacts}
        for protection in circuit.protections:
            for position in range(len(protection.pairs)):
                elements["pole", protection.pole(position)] = protection
        elements |= {("load", name): load for name, load in circuit.load_of.items()}
        elements |= {("outlet", outlet.name): outlet for outlet in circuit.outlets}
        elements |= {("primary", winding.name): winding for winding in circuit.windings}
        return elements


def elements(structure: Structure) -> Iterator[Element]:
    """Every element of a structure, from left to right."""
    match structure:
        case Step(element):
            yield element
        case Chain(parts) | Fork(parts):
            for part in parts:
                yield from elements(part)
        case Mesh(listed):
            yield from listed
        case Travelers(crossings):
            yield from (crossing.element for crossing in crossings)


def rung_elements(rung: Rung) -> Iterator[Element]:
    """Every element of a rung, from left to right."""
    for part in (*rung.before, rung.middle, *rung.after):
        yield from elements(part)


def ladder(circuit: Circuit) -> Ladder:
    """The rungs of a circuit: each load, outlet and primary on one of them, in the board's order.

    A control's input that hangs on no other rung has one of its own, and so has each call. What leads
    from rail to rail past all loads comes after these, then each contact with one screw wired, then each with
    both its ends on one of their wires.
    """
    together = pieces(
        range(circuit.nodes), ((circuit.node[wire.a], circuit.node[wire.b]) for wire in circuit.wires)
    )
    node = {point: together[number] for point, number in circuit.node.items()}
    apart, twins = _apart(circuit, node)
    if twins:
        told = _of_nodes(circuit, apart)
        if _has_places(told, twins):
            return _as_one(told, node, twins)
    return _of_nodes(circuit, node)


def _of_nodes(circuit: Circuit, node: Mapping[str, int]) -> Ladder:
    """The rungs of a circuit with a node for each of its points."""
    whole = _Work(circuit, node)
    holding = list(whole.holding())
    missing, dead = _missing(whole)
    work = _Work(circuit, node, [*missing, *holding])
    rungs = list(work.rungs(work.loads()))
    seen = {end for rung in rungs for each in rung_elements(rung) for end in (each.a, each.b)}
    rungs += work.rungs(work.inputs(seen))
    rungs += work.bare
    rungs += work.on_one_screw(rungs)
    rungs += work.wired_around(
        {end for rung in rungs for each in rung_elements(rung) for end in (each.a, each.b)}
    )
    return Ladder(circuit, node, work.rails, tuple(rungs), dead)


def _apart(circuit: Circuit, node: Mapping[str, int]) -> tuple[Mapping[str, int], dict[int, int]]:
    """A node for each point as if nothing went around a contact, and which node each new one is."""
    twins: dict[int, int] = {}
    around = [each for each in circuit.contacts if node[each.a] == node[each.b] and not in_rail(each)]
    if not around or len(around) > MOST_AROUND:
        return node, twins
    found = dict(node)
    drawing = {end for load in circuit.loads for end in load.ends}
    drawing |= {end for outlet in circuit.outlets for end in (outlet.hot, outlet.neutral)}
    drawing |= {end for winding in circuit.windings for end in winding.primary}
    drawing |= {one for one, _ in circuit.inputs if one in node}
    sources = {leg.point for leg in circuit.legs}
    sources |= {end for winding in circuit.windings for end in winding.secondary}
    sources |= {f"{panel}.neutral" for panel in circuit.board.sources}
    switching = [(each.a, each.b) for each in circuit.contacts]
    switching += (pair for each in circuit.protections for pair in each.pairs)
    ends = Ends(switching, drawing, sources)
    for contact in around:
        if found[contact.a] != found[contact.b]:
            continue
        beyond = behind(circuit, found, (contact.a, contact.b), ends)
        if beyond is not None:
            twin = circuit.nodes + len(twins)
            twins[twin] = node[contact.a]
            found |= dict.fromkeys(beyond, twin)
    return found, twins


def _has_places(ladder: Ladder, twins: Mapping[int, int]) -> bool:
    """Whether all that stands between new nodes is in series or in parallel on a rung.

    In what is neither, and in a rail, there is no place for what leads from a wire to itself.
    """
    work = _Work(ladder.circuit, ladder.node)
    steps = {step.element for rung in ladder.rungs for step in _steps(rung)}
    around = [
        each
        for each in work.order
        if each.a != each.b and twins.get(each.a, each.a) == twins.get(each.b, each.b)
    ]
    return all(each in steps and not in_rail(work.what(each)) for each in around)


def _steps(rung: Rung) -> Iterator[Step]:
    """All that stands in series and in parallel on a rung."""
    waiting: list[Structure] = [*rung.before, rung.middle, *rung.after]
    for part in waiting:
        match part:
            case Step():
                yield part
            case Chain(parts) | Fork(parts):
                waiting += parts


def _as_one(ladder: Ladder, node: Mapping[str, int], twins: Mapping[int, int]) -> Ladder:
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


def _missing(work: _Work) -> tuple[list[Gap], frozenset[int]]:
    """Where a wire is missing before what no source feeds, and all nodes there."""
    circuit, node = work.circuit, work.node
    loads = work.loads()
    looking = [(node[one], node[other]) for one, other in circuit.inputs if one in node and other in node]
    ends = {end for pair in (*((each.a, each.b) for each in loads), *looking) for end in pair}
    places = {end: place for end in (*ends, *work.region) if (place := work.dead(end)) is not None}
    dead = ends & places.keys()
    if not dead:
        return [], frozenset()
    volts = {("load", name): load.volts for name, load in circuit.load_of.items()}
    volts |= {("outlet", each.name): each.volts for each in circuit.outlets}
    volts |= {("primary", each.name): each.primary_volts for each in circuit.windings}
    draws = [Draw(each.a, each.b, volts[each.kind, each.name]) for each in loads]
    draws += (Draw(*pair, None) for pair in looking)
    spans = [
        Span(node[each.secondary[0]], node[each.secondary[1]], each.secondary_volts)
        for each in circuit.windings
    ]
    legs = [(node[leg.point], leg.volts) for leg in circuit.legs]
    legs += ((node[f"{panel}.neutral"], 0j) for panel in circuit.board.sources)
    spans += (Span(a, b, abs(one - other)) for (a, one), (b, other) in combinations(legs, 2) if a != b)
    names: dict[int, set[str]] = {}
    for point, number in node.items():
        terminal = circuit.board.terminals.get(point)
        if terminal is not None and terminal.spec.role in ("class-2", "class-2-common"):
            names.setdefault(number, set()).add(terminal.spec.name)
    ties = [(each.a, each.b) for each in work.order]
    fed = list(work.rungs([each for each in loads if dead.isdisjoint((each.a, each.b))]))

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
            if len(set(same)) > 1 or not (isinstance(part, Step) and in_rail(work.what(part.element))):
                break
            node_behind = part.right
        return node_behind

    poles: dict[tuple[str, str], list[int]] = {}
    for contact in circuit.contacts:
        if isinstance(contact.when, Runs):
            poles.setdefault((contact.scope, contact.when.load.text), []).append(node[contact.b])

    def beside(one: int) -> set[int]:
        """The nodes behind the other poles of a device that a node is behind a pole of."""
        return {each for behind in poles.values() if one in behind for each in behind} - {one}

    found = gaps(ties, draws, spans, lambda place: names.get(place, set()), work.wired(), head, beside)
    # A start winding is fed through its capacitor.
    apart = [load for load in circuit.load_of.values() if "winding" in load.flags]
    other = {places.get(node[end]) for load in apart for end in load.ends} - {None}
    found = [gap for gap in found if places[gap.dead] not in other]
    behind = {places[gap.dead] for gap in found}
    return found, frozenset(end for end, place in places.items() if place in behind)


def in_rail(what: Contact | Protection | Load | Outlet | Winding | None) -> bool:
    """Whether it stands in a rail: a pole of a breaker or a fuse, or of a disconnect."""
    if isinstance(what, Protection):
        return what.kind not in (*WATCHERS, "thermal")
    return isinstance(what, Contact) and "disconnect" in what.flags


class _Work:
    """One circuit while its rungs are found."""

    def __init__(self, circuit: Circuit, node: Mapping[str, int], missing: Sequence[Gap] = ()) -> None:
        self.circuit = circuit
        self.node = node
        self.rails = _rails(circuit, node)
        self.near: dict[int, list[Element]] = {}
        self.when = {contact.name: contact for contact in circuit.contacts}
        wide = (Element("gap", f"{number}", *each) for number, each in enumerate(missing, 1))
        self.order = {element: place for place, element in enumerate((*self._switching(), *wide))}
        for element in self.order:
            if element.a != element.b:
                self.near.setdefault(element.a, []).append(element)
                self.near.setdefault(element.b, []).append(element)
        self.region, self.touched = self._regions()
        self.aside: set[Element] = set()
        self.past: set[int] = set()
        self.bare: list[Rung] = []

    def _switching(self) -> Iterator[Element]:
        for protection in self.circuit.protections:
            for position, (a, b) in enumerate(protection.pairs):
                yield Element("pole", protection.pole(position), self.node[a], self.node[b])
        for contact in self.circuit.contacts:
            yield Element("contact", contact.name, self.node[contact.a], self.node[contact.b])

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

        What a source of its own device feeds is no call that it looks at, but its supply.
        """
        inputs: list[Element] = []
        board, wired = self.circuit.board, self.wired()
        fed = {end for each in self.circuit.protections for pair in each.pairs for end in pair}
        fed |= {end for each in self.circuit.windings for end in each.secondary}
        supplies = {self.circuit.node[end] for end in fed}
        for one, reference in self.circuit.inputs:
            if one not in self.node or reference not in self.node:
                continue
            a, b = self.node[one], self.node[reference]
            roles = [board.terminals[end].spec.role for end in (one, reference) if end in board.terminals]
            letter = roles in LOOKING and self.circuit.node[one] not in supplies
            if a == b or ((a in seen or a in self.rails) and not (letter and a in wired)):
                continue
            if a in self.rails or self.touched.get(self.region.get(a, a)):
                inputs.append(Element("input", one, a, b))
        return inputs

    def wired(self) -> set[int]:
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

    # ------------------------------------------------------------- groups

    def rungs(self, loads: Sequence[Element]) -> Iterator[Rung]:
        """The rung of each load; loads in series share one, and one on three phases has one for its lines."""
        whole = list(self._on_three_lines(loads))
        yield from whole
        self._set_aside(whole)
        self.bare = list(self._past_all_loads())
        drawn = {load for rung in whole for load in rung.loads}
        for group in self._groups([load for load in loads if load not in drawn]):
            if len(group) > 1 and len(self._rails_of(group)) > 1:
                yield self._rung(tuple(group))
                continue
            for load in group:
                for end in (load.a, load.b):
                    if self.dead(end) is not None:
                        self._open(end)
                yield self._rung((load,))

    def _on_three_lines(self, loads: Sequence[Element]) -> Iterator[Rung]:
        """The rung of each load on three phases whose three ends lead to three rails, or one to nothing."""
        for load in self.circuit.loads:
            ends = [self.node[end] for end in load.ends]
            if len(set(ends)) < 3:
                continue
            group = tuple(
                each for each in loads if each.name in {load.winding(position) for position in (0, 1)}
            )
            lost = [end for end in ends if self.dead(end) is not None]
            if len(self._rails_of(group)) + len({self.dead(end) for end in lost}) != 3 or len(lost) > 1:
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
                if each.kind == "contact" and not isinstance(self.when[each.name].when, InPosition):
                    self.aside.add(each)
        inside = {end for each in self.aside for end in (each.a, each.b)} - set(self.rails)
        self.past = {end for end in inside if self.aside.issuperset(self.near[end])}

    # --------------------------------------------------------- without a load

    def wired_around(self, drawn: set[int]) -> Iterator[Rung]:
        """Each contact and pole that opens nothing: both its ends are on one wire of a rung or a rail."""
        for each in self.order:
            if each.a == each.b and (each.a in drawn or each.a in self.rails):
                yield Rung((), (each.a, each.a), (), Step(each, each.a, each.a), ())

    def on_one_screw(self, rungs: Sequence[Rung]) -> Iterator[Rung]:
        """Each contact of a small device with a wire on one of its screws alone, and a gap behind it.

        It stands between the rails of the rungs that hang on the same wire.
        """
        wired = self.wired()
        drawn = {each for rung in rungs for each in rung_elements(rung)}
        for each in self.order:
            if each in drawn or each.kind != "contact" or each.a == each.b or not self._single(each):
                continue
            ends = [end for end in (each.a, each.b) if self.near[end] == [each] and end not in wired]
            if len(ends) != 1 or ends[0] in self.rails:
                continue
            end, start = ends[0], each.b if ends[0] == each.a else each.a
            way = self._fed_by(start)
            rail = way[0].left if way else start
            beside = [rung for rung in rungs if rung.loads and len(rung.rails) == 2 and rail in rung.rails]
            held = set(way)
            beside.sort(key=lambda rung: -len(held.intersection(rung.before + rung.after)))
            if not beside or rail not in self.rails:
                continue
            (other,) = set(beside[0].rails) - {rail} or {rail}
            gap = Element("gap", each.name, end, other)
            parts = [*way, Step(each, start, end), Step(gap, end, other)]
            if beside[0].rails[0] != rail:
                parts = [Step(one, right, left) for one, left, right in reversed(parts)]
            at = next(place for place, part in enumerate(parts) if part.element == each)
            yield Rung((), beside[0].rails, tuple(parts[:at]), parts[at], tuple(parts[at + 1 :]))

    def _fed_by(self, node: int) -> tuple[Step, ...]:
        """The shortest way to a node from a rail."""
        ways: dict[int, tuple[Step, ...]] = {node: ()}
        waiting = [node]
        for one in waiting:
            if one in self.rails:
                return ways[one]
            for each in self.near.get(one, ()):
                other = each.b if each.a == one else each.a
                if other not in ways and each.kind != "gap":
                    ways[other] = (Step(each, other, one), *ways[one])
                    waiting.append(other)
        return ()

    def _single(self, each: Element) -> bool:
        """Whether a hand, a control or a coil moves a contact, and no other one has a screw with it."""
        contact, node = self.when[each.name], self.circuit.node
        ends = {node[contact.a], node[contact.b]}
        beside = self.circuit.contacts_in[contact.scope]
        if not all(one == contact or ends.isdisjoint((node[one.a], node[one.b])) for one in beside):
            return False
        by_hand = any(what == contact.scope for what, _ in _positions_of(contact.when, contact.scope))
        return by_hand or self._coil(contact) is not None

    def _coil(self, contact: Contact) -> Load | None:
        """The coil that a contact follows."""
        fact = contact.when.fact if isinstance(contact.when, Negation) else contact.when
        load = self.circuit.meant(fact, contact.scope) if isinstance(fact, Runs) else None
        return load if load is not None and load.kind == "coil" else None

    def holding(self) -> Iterator[Gap]:
        """Where a wire is missing behind a contact that would hold its own coil in.

        It leads nowhere, and begins where the start button does, behind which its coil is.
        """
        wired = self.wired()
        for each in self.order:
            if each.kind != "contact" or each.a == each.b or not self._single(each):
                continue
            contact = self.when[each.name]
            load = self._coil(contact)
            if load is None or load.device != contact.scope or isinstance(contact.when, Negation):
                continue
            for end, start in ((each.a, each.b), (each.b, each.a)):
                if self.near[end] != [each] or end in wired or start in self.rails or end in self.rails:
                    continue
                beyond = self._beyond({self.node[load.a], self.node[load.b]}, start)
                buttons = [one for one in self.near[start] if self._is_button(one)]
                there = [end for one in buttons for end in (one.a, one.b) if end in beyond]
                if len(there) == 1:
                    yield Gap(end, there[0])

    def _is_button(self, each: Element) -> bool:
        """Whether a contact stands so only while a hand presses it."""
        return each.kind == "contact" and "momentary" in self.when[each.name].flags

    def _beyond(self, ends: set[int], without: int) -> set[int]:
        """The nodes between rails that contacts can tie to some, but for all that is behind one."""
        waiting = sorted(ends - self.rails.keys() - {without})
        seen = {without, *self.rails, *waiting}
        for one in waiting:
            for each in self.near.get(one, ()):
                other = each.b if each.a == one else each.a
                if other not in seen:
                    seen.add(other)
                    waiting.append(other)
        return set(waiting)

    def _past_all_loads(self) -> Iterator[Rung]:
        """What can tie a rail to another with nothing on the way that draws current."""
        beside: dict[int, list[Element]] = {}
        for each in self.order:
            if each.a == each.b or each in self.aside:
                continue
            inside = [end for end in (each.a, each.b) if end not in self.rails]
            if inside:
                beside.setdefault(self.region[inside[0]], []).append(each)
            elif not (self.rails[each.a].open or self.rails[each.b].open):
                yield self._bare([each])
        for listed in beside.values():
            found = self._from_rail_to_rail(listed)
            if found:
                yield self._bare(found)

    def _from_rail_to_rail(self, listed: Sequence[Element]) -> list[Element]:
        """The elements that lie on a way from a rail to another which can be closed all at once."""
        import networkx

        fed = {end for each in listed for end in (each.a, each.b) if end in self.rails}
        fed = {rail for rail in fed if not self.rails[rail].open}
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
            inner = graph.subgraph([one for one in graph if one not in self.rails or one in (start, end)])
            for way in networkx.all_simple_edge_paths(inner, start, end):
                passed = [each for _, _, each in way]
                if self._at_once(passed):
                    kept.update(passed)
        return [each for each in inside if each in kept]

    def _at_once(self, passed: Sequence[Element]) -> bool:
        """Whether contacts can be closed together, as far as their switches and coils tell."""
        stands: dict[str, set[str]] = {}
        for each in passed:
            if each.kind != "contact":
                continue
            contact = self.when[each.name]
            for what, among in _positions_of(contact.when, contact.scope):
                stands[what] = stands.get(what, among) & among
        return all(stands.values())

    def _bare(self, found: Sequence[Element]) -> Rung:
        """The rung of elements that lead from rail to rail; its middle is what closes it."""
        rails = tuple(
            sorted({end for each in found for end in (each.a, each.b) if end in self.rails}, key=self._place)
        )
        if len(rails) != 2:
            return Rung((), rails, (), Mesh(tuple(found), rails), ())
        whole = reduced(found, *rails)
        parts = whole.parts if isinstance(whole, Chain) else (whole,)
        moved = [
            place
            for place, part in enumerate(parts)
            if any(each.kind == "contact" for each in elements(part))
        ]
        at = moved[-1] if moved else len(parts) - 1
        return Rung((), rails, parts[:at], parts[at], parts[at + 1 :])

    def _far(self, end: int) -> int:
        """The lost end of a line that no source feeds: the furthest that it leads to, where nothing draws."""
        drawing = {self.node[point] for load in self.circuit.loads for point in load.ends}
        seen = [end]
        for one in seen:
            for element in self.near.get(one, ()):
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
            dead = [region for region in (self.dead(load.a), self.dead(load.b)) if region is not None]
            ties += ((("load", number), ("dead", region)) for region in dead)
            if not dead and len(self._rails_of((load,))) == 1:
                ties += (
                    (("load", number), ("load", other))
                    for node in self._behind(load)
                    for other in behind.get(node, ())
                )
        head = pieces([("load", number) for number in range(len(loads))], ties)
        groups: dict[tuple[str, int], list[Element]] = {}
        for number, load in enumerate(loads):
            groups.setdefault(head["load", number], []).append(load)
        yield from groups.values()

    def _behind(self, load: Element) -> set[int]:
        """The nodes that a load's ends can be tied to without the one node that all comes through."""
        import networkx

        graph = networkx.Graph([("sources", rail) for rail in self.rails])
        graph.add_edges_from((each.a, each.b) for each in self._nearby((load,)))
        way = networkx.shortest_path(graph, "sources", load.a if load.a not in self.rails else load.b)
        block = next(each for each in networkx.biconnected_components(graph) if {load.a, load.b} <= each)
        gate = next(node for node in way if node in block)
        nodes: set[int] = set()
        waiting = [end for end in (load.a, load.b) if end != gate and end not in self.rails]
        for one in waiting:
            if one not in nodes:
                nodes.add(one)
                for element in self.near.get(one, ()):
                    other = element.b if element.a == one else element.a
                    if other != gate and other not in self.rails:
                        waiting.append(other)
        return nodes

    def _rails_of(self, group: Iterable[Element]) -> set[int]:
        rails: set[int] = set()
        for load in group:
            for end in (load.a, load.b):
                if end in self.rails and not self.rails[end].open:
                    rails.add(end)
                rails |= self.touched.get(self.region.get(end, end), set())
        return rails

    def _open(self, node: int) -> None:
        if node not in self.rails:
            self.rails[node] = Rail(node, (), 50, True)

    def _rung(self, loads: tuple[Element, ...]) -> Rung:
        if len(loads) == 1 and loads[0].a == loads[0].b:
            load = loads[0]
            return Rung(loads, (load.a, load.b), (), Step(load, load.a, load.b), ())
        found = self._around(loads)
        rails = sorted(
            {end for each in found for end in (each.a, each.b) if end in self.rails}, key=self._place
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

    def _side(self, end: int) -> int | None:
        return None if end in self.rails else self.region.get(end, end)

    def _on_one_rail(self, load: Element, found: list[Element], rail: int) -> Rung:
        """The rung of a load both of whose sides lead to one rail: as if that were two."""
        twin = -1 - rail
        side = self._side(load.b)

        def moved(each: Element) -> Element:
            if each == load:
                return each._replace(b=twin) if each.b == rail else each
            if side is None or side not in (self.region.get(each.a), self.region.get(each.b)):
                return each
            return each._replace(a=twin if each.a == rail else each.a, b=twin if each.b == rail else each.b)

        own = {moved(each): each for each in found}
        whole = renamed(
            reduced(own, rail, twin), own.__getitem__, lambda node: rail if node == twin else node
        )
        return _parted((load,), (rail, rail), whole)

    def _place(self, node: int) -> tuple[int, int]:
        return self.rails[node].order, node

    def _around(self, loads: tuple[Element, ...]) -> list[Element]:
        """The loads and all that lies on a way from a rail to a rail beside or through one of them."""
        import networkx

        found = self._beside_shorts(loads)
        graph = networkx.Graph((element.a, element.b) for element in found)
        graph.add_edges_from([("sources", one) for one in graph if one in self.rails])
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
        return sorted(inside, key=lambda element: self.order.get(element, -1))

    def _beside_shorts(self, loads: tuple[Element, ...]) -> list[Element]:
        """What hangs together with loads, without a part of each short circuit there: it has its own rung.

        That part stays which feeds the loads from a rail that nothing else leads to.
        """
        without: set[Element] = set()
        found = self._nearby(loads)
        dead = any(self.rails[one].open for one in self._between(found))
        for bare in self.bare:
            if set(rung_elements(bare)).isdisjoint(found):
                continue
            for part in (bare.middle, *reversed(bare.before), *bare.after):
                less = self._nearby(loads, without | set(elements(part)))
                left = self._between(less)
                if len(left) > 1 and (dead or left == self._between(found)):
                    without |= set(elements(part))
                    found = less
                    break
        return found

    def _between(self, found: Iterable[Element]) -> set[int]:
        return {end for each in found for end in (each.a, each.b)} & set(self.rails)

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
            if one not in self.rails and one not in seen:
                seen.add(one)
                for element in self.near.get(one, ()):
                    if element not in without:
                        found.setdefault(element)
                        waiting.append(element.b if element.a == one else element.a)
        return list(found), seen


def _positions_of(condition: Condition, scope: str) -> Iterator[tuple[str, set[str]]]:
    """What must stand how for a contact to close: its switch in a position of some, a load running or not."""
    match condition:
        case InPosition(position):
            yield scope, {position.text}
        case AnyOf(facts) if all(isinstance(fact, InPosition) for fact in facts):
            yield scope, {fact.position.text for fact in facts if isinstance(fact, InPosition)}
        case Runs(load):
            yield f"{scope} {load.text}", {"runs"}
        case Negation(Runs(load)):
            yield f"{scope} {load.text}", {"rests"}


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
    return _chain((*parts[:first], mesh, *parts[last + 1 :]))


def renamed(structure: Structure, of: Callable[[Element], Element], node: Callable[[int], int]) -> Structure:
    """A structure with other elements, and other nodes, for its own."""
    match structure:
        case Step(element, left, right):
            return Step(of(element), node(left), node(right))
        case Chain(parts):
            return Chain(tuple(renamed(part, of, node) for part in parts))
        case Fork(branches):
            return Fork(tuple(renamed(branch, of, node) for branch in branches))
        case Mesh(listed, terminals):
            return Mesh(tuple(map(of, listed)), tuple(map(node, terminals)))
    raise AssertionError(structure)


def _rails(circuit: Circuit, node: Mapping[str, int]) -> dict[int, Rail]:
    """What sources feed. Earth is last, a secondary's common (its second end) before it."""
    rails: dict[int, Rail] = {}

    def lay(point: str, name: str, order: int) -> None:
        number = node[point]
        known = rails.get(number)
        if known is None:
            rails[number] = Rail(number, (name,), order, False)
        else:
            rails[number] = known._replace(names=(*known.names, name))

    for panel in circuit.board.sources:
        lay(f"{panel}.neutral", f"{panel}.neutral", 100)
    for place, leg in enumerate(circuit.legs):
        lay(leg.point, leg.name, place)
    for place, winding in enumerate(circuit.windings):
        lay(winding.secondary[0], winding.secondary[0], 10 + len(circuit.legs) + place)
        lay(winding.secondary[1], winding.secondary[1], RIGHT)
    return rails


# ------------------------------------------------------- series and parallel


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
    return _chain(_blocks(edges, left, right))


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
        path = _chain([_toward(one, start), _toward(other, node)])
        edge = _Edge(start, end, min(one.order, other.order), path, max(one.depth, other.depth))
        for old in (one, other):
            live.pop(old)
            for place in (old.a, old.b):
                at[place] = [each for each in at[place] if each is not old]
        live[edge] = None
        at[start].append(edge)
        at[end].append(edge)
    return list(live)


def _chain(parts: Iterable[Structure]) -> Structure:
    flat: list[Structure] = []
    for part in parts:
        flat += part.parts if isinstance(part, Chain) else (part,)
    return flat[0] if len(flat) == 1 else Chain(tuple(flat))


def _toward(edge: _Edge, left: int) -> Structure:
    """An edge's structure with its left end at that node."""
    return edge.structure if edge.a == left else turned(edge.structure)


def turned(structure: Structure) -> Structure:
    """A structure seen from its other end."""
    match structure:
        case Step(element, left, right):
            return Step(element, right, left)
        case Chain(parts):
            return Chain(tuple(turned(part) for part in reversed(parts)))
        case Fork(branches):
            return Fork(tuple(turned(branch) for branch in branches))
        case Mesh(listed, terminals):
            return Mesh(listed, tuple(reversed(terminals)))
        case Travelers(crossings, columns):
            back = (
                Crossing(each.element, each.right, each.left, columns - 1 - each.column, each.end, each.row)
                for each in reversed(crossings)
            )
            return Travelers(tuple(back), columns)


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
