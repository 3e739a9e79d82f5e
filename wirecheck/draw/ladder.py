"""The ladder diagram: how a board works. Two rails, a rung a load, what switches it in order.

`wirecheck.circuit.rungs` says what stands on each rung. Here a rung gets its
row and its columns: a grid whose lines are the nodes. What several rungs begin
with is drawn once, and they hang on a rail of their own behind it; so do what
they end with. Transformers tie the ladders of one board together: the primary
is a rung of one, the secondary stands between the rails at the top of another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact, Load, Outlet, Protection, Winding, circuit
from wirecheck.circuit.rungs import (
    RIGHT,
    Chain,
    Element,
    Fork,
    Ladder,
    Mesh,
    Rung,
    Step,
    Structure,
    ladder,
    rung_elements,
)
from wirecheck.circuit.settle import Settled, View, holds, resting
from wirecheck.draw.colors import DARK, PAPER, Page
from wirecheck.draw.contacts import RungPen, reach
from wirecheck.draw.letters import shorten, text_width, wrap
from wirecheck.draw.sheet import Line, Sheet, Spot
from wirecheck.draw.wiring import CAUTION, SCREEN
from wirecheck.language.quantity import rounded
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
    WasState,
)
from wirecheck.model.board import Board

WIDE = 96.0
MIDDLE = 49.0
"""A cell of the grid, and where its sign stands in it, in points."""
LABEL = 90.0
NAME, SMALL, HEAD, TITLE = 7.5, 6.5, 9.5, 14.0
LINE = 8.6
NUMBERS = 26.0
MARGIN = 18.0
GAP = 34.0
LEAST_AMPS = 1e-6
LIVE = {"paper": "#c2410c", "dark": "#ff9f43"}


class Cell(NamedTuple):
    """An element in its place: the column on its left, its row, the nodes to either side."""

    element: Element
    left: int
    right: int
    column: int
    row: int


class Run(NamedTuple):
    """A piece of wire along a row, or (`down`) along a column: from one grid line to another."""

    node: int
    at: int
    start: int
    end: int
    down: bool


@dataclass
class Grid:
    """One ladder of a board on its grid; `stubs` are terminals of a mesh, `numbers` rows of rungs."""

    rails: tuple[int, ...]
    mesh: bool
    columns: int = 0
    rows: int = 0
    cells: list[Cell] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    stubs: list[tuple[int, int, int, str]] = field(default_factory=list)
    numbers: list[tuple[int, Rung]] = field(default_factory=list)
    winding: Winding | None = None

    def across(self, node: int, row: int, start: int, end: int) -> None:
        """Wire along a row."""
        if end > start:
            self.runs.append(Run(node, row, start, end, False))

    def down(self, node: int, column: int, start: int, end: int) -> None:
        """Wire along a column."""
        if end > start:
            self.runs.append(Run(node, column, start, end, True))


# ------------------------------------------------------------------- grids


def size(structure: Structure) -> tuple[int, int]:
    """Columns and rows that a structure takes."""
    match structure:
        case Step():
            return 1, 1
        case Chain(parts):
            sizes = [size(part) for part in parts]
            return sum(wide for wide, _ in sizes), max(high for _, high in sizes)
        case Fork(branches):
            sizes = [size(branch) for branch in branches]
            return max(wide for wide, _ in sizes), sum(high for _, high in sizes)
        case Mesh():
            woven = weave(structure)
            return woven.columns, woven.rows


def lay(grid: Grid, structure: Structure, column: int, row: int) -> None:
    """Put a structure on the grid with its left end at a column and a row."""
    match structure:
        case Step(element, left, right):
            grid.cells.append(Cell(element, left, right, column, row))
        case Chain(parts):
            for part in parts:
                lay(grid, part, column, row)
                column += size(part)[0]
        case Fork(branches):
            wide, at = size(structure)[0], row
            taps = []
            for branch in branches:
                own, high = size(branch)
                lay(grid, branch, column, at)
                grid.across(structure.right, at, column + own, column + wide)
                taps.append(at)
                at += high
            for above, below in pairwise(taps):
                grid.down(structure.left, column, above, below)
                grid.down(structure.right, column + wide, above, below)
        case Mesh():
            woven = weave(structure)
            grid.cells += [c._replace(column=c.column + column, row=c.row + row) for c in woven.cells]
            for run in woven.runs:
                across, along = (column, row) if run.down else (row, column)
                grid.runs.append(
                    run._replace(at=run.at + across, start=run.start + along, end=run.end + along)
                )


class Woven(NamedTuple):
    """A mesh on its own small grid; `spans` are each node's column and its first and last row."""

    columns: int
    rows: int
    cells: tuple[Cell, ...]
    runs: tuple[Run, ...]
    spans: Mapping[int, tuple[int, int, int]]


def weave(mesh: Mesh) -> Woven:
    """A mesh on a grid: each node a column's piece, each way from left to right a row.

    Nodes are ordered by the share of the volts that they would stand at with a
    resistor for each element; so each element leads to the right.
    """
    place = _shares(mesh)
    edges = [each if place[each.a] < place[each.b] else each._replace(a=each.b, b=each.a)
             for each in mesh.elements if each.a != each.b]  # fmt: skip
    ways = _ordered(_ways(edges, place), mesh.terminals)
    spans: dict[int, tuple[int, int]] = {}
    for row, way in enumerate(ways):
        for edge in way:
            for node in (edge.a, edge.b):
                low, high = spans.get(node, (row, row))
                spans[node] = (min(low, row), max(high, row))
    if len(mesh.terminals) == 2:
        for node in mesh.terminals:
            spans[node] = (0, spans[node][1])
    columns: dict[int, int] = {}
    for node in sorted(spans, key=lambda one: place[one]):
        at = 1 + max((columns[edge.a] for edge in edges if edge.b == node), default=-1)
        while any(columns[o] == at and _meet(spans[o], spans[node]) for o in columns):
            at += 1
        columns[node] = at
    last = max(columns.values(), default=0)
    if len(mesh.terminals) == 2:
        columns[mesh.terminals[-1]] = last
    cells, runs = [], []
    for row, way in enumerate(ways):
        for edge in way:
            column = columns[edge.a]
            cells.append(Cell(edge, edge.a, edge.b, column, row))
            if columns[edge.b] > column + 1:
                runs.append(Run(edge.b, row, column + 1, columns[edge.b], False))
    for node, (top, low) in spans.items():
        taps = sorted({row for row, way in enumerate(ways) for e in way if node in (e.a, e.b)} | {top})
        runs += [Run(node, columns[node], above, below, True) for above, below in pairwise(taps)]
    told = {node: (columns[node], *span) for node, span in spans.items()}
    return Woven(max(last, 1), len(ways), tuple(cells), tuple(runs), told)


def _meet(one: tuple[int, int], other: tuple[int, int]) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]


def _shares(mesh: Mesh) -> dict[int, tuple[float, int]]:
    """Where each node stands between the left terminals (0) and the last one (1), by relaxation."""
    near: dict[int, list[int]] = {}
    for each in mesh.elements:
        if each.a != each.b:
            near.setdefault(each.a, []).append(each.b)
            near.setdefault(each.b, []).append(each.a)
    fixed = {node: 0.0 for node in mesh.terminals}
    if len(mesh.terminals) > 1:
        fixed[mesh.terminals[-1]] = 1.0
    share = {node: fixed.get(node, 0.5) for node in near}
    for _ in range(60):
        for node, others in near.items():
            if node not in fixed:
                share[node] = sum(share[other] for other in others) / len(others)
    order = {node: number for number, node in enumerate(near)}
    return {node: (round(value, 6), order[node]) for node, value in share.items()}


def _ways(edges: list[Element], place: Mapping[int, tuple[float, int]]) -> list[list[Element]]:
    """The elements in ways that each lead on to the right, as long as they can be."""
    left = sorted(edges, key=lambda edge: (place[edge.a], place[edge.b]))
    told: list[list[Element]] = []
    while left:
        way = [left.pop(0)]
        while True:
            onward = next((edge for edge in left if edge.a == way[-1].b), None)
            if onward is None:
                break
            left.remove(onward)
            way.append(onward)
        told.append(way)
    return told


def _ordered(ways: list[list[Element]], terminals: tuple[int, ...]) -> list[list[Element]]:
    """The ways from top to bottom so that their nodes are short and cross little.

    All orders are tried where they are few; else each way goes beside what it is tied to.
    """
    from itertools import permutations

    if len(ways) <= 6:
        return list(min(permutations(ways), key=lambda order: _cost(order, terminals)))
    told = ways[:1]
    for way in ways[1:]:
        spots = [[*told[:at], way, *told[at:]] for at in range(len(told) + 1)]
        told = min(spots[-12:], key=lambda order: _cost(order, terminals))
    return told


def _cost(ways: Sequence[list[Element]], terminals: tuple[int, ...]) -> int:
    rows: dict[int, list[int]] = {}
    for row, way in enumerate(ways):
        for edge in way:
            rows.setdefault(edge.a, []).append(row)
            rows.setdefault(edge.b, []).append(row)
    long = sum(max(listed) - min(listed) for node, listed in rows.items() if node not in terminals)
    return long * 2 + sum(min(rows[node]) for node in terminals if node in rows)


def grids(told: Ladder) -> list[Grid]:
    """A grid for each pair of rails with its rungs, and one for each rung that has no pair.

    Legs come first, then what transformers feed; rungs are in the order in
    which what they share can be drawn once.
    """
    beside: dict[tuple[int, ...], list[Rung]] = {}
    for rung in told.rungs:
        if rung.before or rung.after or not isinstance(rung.middle, Mesh) or len(rung.rails) == 2:
            beside.setdefault(rung.rails, []).append(rung)
        else:
            beside.setdefault((*rung.rails, -1, len(beside)), []).append(rung)
    listed = []
    for key, rungs in sorted(beside.items(), key=lambda item: _grid_order(told, item[0])):
        alone = -1 in key
        rails = rungs[0].rails
        if alone:
            listed.append(_mesh_grid(told, rails, rungs[0]))
        else:
            listed.append(_rail_grid(told, rails, _in_order(rungs)))
    return listed


def _grid_order(told: Ladder, key: tuple[int, ...]) -> tuple[bool, bool, list[tuple[int, int]]]:
    rails = [told.rails[node] for node in key if node in told.rails and node != -1]
    alone = -1 in key
    return alone, any(rail.open for rail in rails), [(rail.order, rail.node) for rail in rails]


def _in_order(rungs: list[Rung]) -> list[Rung]:
    """Rungs that begin with the same beside each other, and among them those that end with the same."""
    by_end = _sorted_by(rungs, [tuple(reversed(rung.after)) for rung in rungs])
    return _sorted_by(by_end, [rung.before for rung in by_end])


def _sorted_by(rungs: list[Rung], chains: Sequence[tuple[Structure, ...]]) -> list[Rung]:
    first: dict[tuple[Structure, ...], int] = {}
    keys = []
    for place, chain in enumerate(chains):
        heads = [chain[: depth + 1] for depth in range(len(chain))]
        for head in heads:
            first.setdefault(head, place)
        keys.append([first[head] for head in heads])
    order = sorted(range(len(rungs)), key=lambda place: (keys[place], place))
    return [rungs[place] for place in order]


def _shared(one: Sequence[Structure], other: Sequence[Structure]) -> int:
    count = 0
    for mine, theirs in zip(one, other, strict=False):
        if mine != theirs:
            break
        count += 1
    return count


def _wide(parts: Iterable[Structure]) -> int:
    return sum(size(part)[0] for part in parts)


def _rail_grid(told: Ladder, rails: tuple[int, ...], rungs: list[Rung]) -> Grid:
    left, right = rails[0], rails[-1]
    grid = Grid(rails, False)
    before = max((_wide(rung.before) for rung in rungs), default=0)
    middle = max((size(rung.middle)[0] for rung in rungs), default=1)
    grid.columns = before + middle + max((_wide(rung.after) for rung in rungs), default=0)
    end = grid.columns
    row = 0
    left_taps: list[int] = []
    right_taps: list[int] = []
    for winding in told.circuit.windings:
        ends = {told.node[point] for point in winding.secondary}
        if ends == {left, right} and len(ends) == 2:
            one, other = (told.node[point] for point in winding.secondary)
            at = max(before - 1, 0) if grid.columns > 2 else before
            element = Element("primary", f"{winding.name} secondary", one, other)
            grid.cells.append(Cell(element, left, right, at, row))
            grid.across(left, row, 0, at)
            grid.across(right, row, at + 1, end)
            if left_taps:
                grid.down(left, 0, left_taps[0], row)
                grid.down(right, end, right_taps[0], row)
            left_taps, right_taps = [row], [row]
            row += 1
    last: Rung | None = None
    for rung in rungs:
        grid.numbers.append((row, rung))
        high = 1
        # On the left: what the rung above it did not begin with.
        same = _shared(rung.before, last.before) if last else 0
        column = _wide(rung.before[:same])
        node = rung.before[same - 1].right if same else left
        if left_taps:
            grid.down(node, column, left_taps[min(same, len(left_taps) - 1)], row)
        left_taps = [*left_taps[:same], *[row] * (len(rung.before) - same + 1)]
        for part in rung.before[same:]:
            lay(grid, part, column, row)
            wide, rows = size(part)
            column, high = column + wide, max(high, rows)
        grid.across(rung.middle.left, row, column, before)
        lay(grid, rung.middle, before, row)
        wide, rows = size(rung.middle)
        high = max(high, rows)
        # On the right, from the rail inward.
        tail = tuple(reversed(rung.after))
        same = _shared(tail, tuple(reversed(last.after))) if last else 0
        column = end - _wide(tail[:same])
        node = tail[same - 1].left if same else right
        if right_taps:
            grid.down(node, column, right_taps[min(same, len(right_taps) - 1)], row)
        right_taps = [*right_taps[:same], *[row] * (len(tail) - same + 1)]
        for part in tail[same:]:
            own, rows = size(part)
            column, high = column - own, max(high, rows)
            lay(grid, part, column, row)
        grid.across(rung.middle.right, row, before + wide, column)
        last = rung
        row += high
    grid.rows = row
    return grid


def _mesh_grid(told: Ladder, rails: tuple[int, ...], rung: Rung) -> Grid:
    grid = Grid(rails, True)
    assert isinstance(rung.middle, Mesh)
    woven = weave(rung.middle)
    grid.columns, grid.rows = woven.columns, woven.rows
    grid.cells += woven.cells
    grid.runs += woven.runs
    grid.numbers.append((0, rung))
    for node in rails:
        if node in woven.spans:
            column, top, _ = woven.spans[node]
            side = "left" if column == 0 else "right" if column == woven.columns else "inside"
            grid.stubs.append((node, column, top, side))
    return grid


# ------------------------------------------------------------------- words


class Sign(NamedTuple):
    """What is drawn of an element and written at it: over it, and under it."""

    sign: str
    mover: str
    over: tuple[str, ...]
    under: tuple[str, ...]
    rests_closed: bool
    closed: bool


class _Words:
    """The words of a ladder, its rungs numbered."""

    def __init__(self, told: Ladder, listed: Sequence[Grid], state: Settled | None) -> None:
        self.told = told
        self.circuit: Circuit = told.circuit
        self.state = state
        self.rung: dict[tuple[str, str], int] = {}
        self.moved: dict[str, list[int]] = {}
        number = 0
        self.number: dict[int, int] = {}
        for grid in listed:
            for _, rung in grid.numbers:
                number += 1
                self.number[id(rung)] = number
                for load in rung.loads:
                    self.rung[load.kind, load.name] = number
        for grid in listed:
            rows = dict(grid.numbers)
            for cell in grid.cells:
                if cell.element.kind != "contact":
                    continue
                contact = told.of["contact", cell.element.name]
                assert isinstance(contact, Contact)
                on = max((row for row in rows if row <= cell.row), default=0)
                for name in self._movers(contact.when, contact.scope):
                    self.moved.setdefault(name, []).append(self.number[id(rows[on])])
        rest = View(self.circuit, resting(self.circuit), frozenset(), frozenset(), (), frozenset(), {})
        self.rests = {each.name for each in self.circuit.contacts if holds(each.when, each.scope, rest)}
        self.several: dict[str, int] = {}
        for each in self.circuit.contacts:
            self.several[each.scope] = self.several.get(each.scope, 0) + 1

    def _movers(self, condition: Condition, scope: str) -> Iterator[str]:
        """The loads whose running a condition looks at."""
        match condition:
            case Runs(load):
                found = self.circuit.load.get(f"{scope}.{load.text}")
                if found is not None:
                    yield found.name
            case Negation(fact):
                yield from self._movers(fact, scope)
            case AllOf(facts) | AnyOf(facts):
                for fact in facts:
                    yield from self._movers(fact, scope)

    def place(self, device: str) -> str:
        """Where a device is, if it is in a box or in another's equipment."""
        outer = device.split(".", 1)[0]
        found = self.circuit.board.devices.get(outer)
        if found is None or found.place == outer or "." in device:
            return ""
        return f"in {found.place}"

    def sign(self, element: Element) -> Sign:
        """What to draw and to write of an element."""
        if element.name.endswith(" secondary") and element.kind == "primary":
            return self._secondary(element)
        if element.kind == "input":
            owner, _, terminal = element.name.rpartition(".")
            return Sign("input", "", _lines(owner), (f"looks for {terminal}",), False, False)
        of = self.told.of[element.kind, element.name]
        match of:
            case Contact():
                return self._contact(of)
            case Protection():
                return self._pole(of, element)
            case Load():
                return self._load(of)
            case Outlet():
                words = [f"{rounded(of.volts)} V" + (f" {rounded(of.amps)} A" if of.amps else "")]
                place = self.place(of.device)
                return Sign("outlet", "", _lines(of.name), (*words, *filter(None, [place])), False, False)
            case Winding():
                return self._primary(of)

    def _primary(self, winding: Winding) -> Sign:
        volts = f"{rounded(winding.primary_volts)} V to {rounded(winding.secondary_volts)} V"
        words = [volts, f"{rounded(winding.capacity)} VA"]
        return Sign("primary", "", _lines(winding.name), tuple(words), False, False)

    def _secondary(self, element: Element) -> Sign:
        name = element.name.removesuffix(" secondary")
        primary = self.rung.get(("primary", name))
        winding = next(each for each in self.circuit.windings if each.name == name)
        under = (f"{rounded(winding.secondary_volts)} V, {rounded(winding.capacity)} VA",)
        if primary is not None:
            under = (*under, f"primary: rung {primary}")
        return Sign("secondary", "", _lines(name), under, False, False)

    def _load(self, load: Load) -> Sign:
        device = self.circuit.devices[load.device]
        kind = load.kind
        draws = f"{rounded(load.amps, 3)} A" if load.volts > 50 else f"{rounded(load.apparent, 3)} VA"
        words = [f"{rounded(load.volts)} V {draws}"]
        place = self.place(device.name)
        if place:
            words.append(place)
        return Sign(kind, "", _lines(load.name), tuple(words), False, False)

    def _pole(self, protection: Protection, element: Element) -> Sign:
        opened = {opening.name for opening in self.state.opened} if self.state else set()
        out = self.state is not None and self.state.positions.get(protection.name) in ("off", "out")
        kind = protection.kind
        if kind == "supplementary":
            kind = "breaker"
        under = [f"{rounded(protection.amps)} A"]
        if kind == "thermal":
            under = ["protector"]
        if kind == "gfci":
            under = ["ground fault"]
        if protection.name in opened or out:
            under.append("open")
        return Sign(kind, "", _lines(protection.name), tuple(under), True, not under[-1] == "open")

    def _contact(self, contact: Contact) -> Sign:
        rests = contact.name in self.rests
        closed = rests if self.state is None else contact.name in self.state.closed
        device = self.circuit.devices[contact.scope]
        when = contact.when
        movers = list(dict.fromkeys(self._movers(when, contact.scope)))
        place = self.place(contact.scope)
        ends = ""
        if self.several[contact.scope] > 1 and device.part.moved_by == "hand":
            a, b = (point.removeprefix(contact.scope + ".") for point in (contact.a, contact.b))
            ends = f"{a} to {b}"
        match when:
            case InPosition(position):
                mover = device.part.moved_by
                words = [position.text if self.several[contact.scope] > 1 else "", ends, place]
                return Sign("blade", mover, _lines(contact.scope), _under(words), rests, closed)
            case Runs() if movers:
                rung = self.rung.get(("load", movers[0]))
                name = self._coil(movers[0])
                words = [f"coil: rung {rung}" if rung else ""]
                return Sign("contact", "", _lines(name), _under(words), rests, closed)
            case Negation(Runs()) if movers:
                rung = self.rung.get(("load", movers[0]))
                words = [f"coil: rung {rung}" if rung else ""]
                return Sign("contact", "", _lines(self._coil(movers[0])), _under(words), rests, closed)
        said = short_words(when)
        name = contact.scope
        states = _names_of(when)
        if len(states) == 1:
            name = f"{contact.scope}.{states[0]}"
            said = said.replace(f"{states[0]} ", "")
        if _calls_only(when):
            return Sign("blade", "temperature", _lines(name), _under([said, place]), rests, closed)
        return Sign("contact", "", _lines(name), _under([said]), rests, closed)

    def _coil(self, name: str) -> str:
        """What a relay is called: its device, where the coil is all that the device has."""
        load = self.circuit.load[name]
        return load.device if self.circuit.devices[load.device].part.name != "part" else name

    def note(self, rung: Rung) -> str:
        """What is written to the right of a rung: which rungs its coil moves, what its primary feeds."""
        told = []
        for load in rung.loads:
            moved = self.moved.get(load.name, [])
            if load.kind == "load" and moved:
                listed = ", ".join(str(number) for number in dict.fromkeys(moved))
                told.append(f"moves contacts on {'rung' if len(set(moved)) == 1 else 'rungs'} {listed}")
        return "; ".join(told)

    def letters(self, node: int) -> str:
        """The terminal letters where a meter's lead goes: R, W, Y, G, C."""
        told: list[str] = []
        for point in self.told.points.get(node, ()):
            terminal = self.circuit.board.terminals.get(point)
            if terminal is None or terminal.owner not in self.circuit.board.devices:
                continue
            name = terminal.spec.name
            if len(name) > 3 or not terminal.spec.role.startswith("class-2"):
                continue
            told.append(name)
        return "/".join(dict.fromkeys(told))

    def rail(self, node: int) -> str:
        """A rail's name: L1, L2, N, and the letters of a transformer's."""
        rail = self.told.rails[node]
        told = []
        many = len(self.circuit.board.panels) > 1
        for name in rail.names:
            panel, _, what = name.rpartition(".")
            if panel in self.circuit.board.panels:
                letter = "N" if what == "neutral" else f"L{'abc'.find(what[-1]) + 1}"
                told.append(f"{panel} {letter}" if many and letter != "N" else letter)
            else:
                told.append(self.letters(node) or ("C" if rail.order >= RIGHT else "R"))
        if rail.open:
            return self.letters(node) or "open"
        return "/".join(dict.fromkeys(told))


def _lines(name: str) -> tuple[str, ...]:
    """A name on as many lines as it needs, broken behind a dot where it can be."""
    if text_width(name, NAME, True) <= LABEL:
        return (name,)
    head, dot, tail = name.rpartition(".")
    if not dot:
        return (shorten(name, LABEL, NAME, True),)
    return (*(_lines(head + dot)[:1]), shorten(tail, LABEL, NAME, True))


def _under(words: Iterable[str]) -> tuple[str, ...]:
    told: list[str] = []
    for text in words:
        told += wrap(text, LABEL, SMALL)
    return tuple(shorten(line, LABEL, SMALL) for line in told[:4])


def _names_of(condition: Condition) -> list[str]:
    """The states that a condition looks at."""
    match condition:
        case IsState(name) | WasState(name):
            return [name.text]
        case Negation(fact):
            return _names_of(fact)
        case AllOf(facts) | AnyOf(facts):
            return list(dict.fromkeys(name for fact in facts for name in _names_of(fact)))
    return []


def _calls_only(condition: Condition) -> bool:
    match condition:
        case Called():
            return True
        case Negation(fact):
            return _calls_only(fact)
        case AllOf(facts) | AnyOf(facts):
            return all(_calls_only(fact) for fact in facts)
    return False


def short_words(condition: Condition) -> str:
    """A condition in as few words as stand under a contact.

    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> idle = IsState(Word("control", here), Word("idle", here))
    >>> short_words(AllOf((Negation(idle), Called(Word("heat", here)))))
    'control not idle and heat call'
    """
    match condition:
        case AnyOf(facts):
            return " or ".join(short_words(fact) for fact in facts)
        case AllOf(facts):
            return " and ".join(
                f"({short_words(fact)})" if isinstance(fact, AnyOf) else short_words(fact) for fact in facts
            )
        case IsState(name, state):
            return f"{name.text} {state.text}"
        case InPosition(position):
            return position.text
        case Runs(load):
            return f"{load.text} runs"
        case HasVoltage(terminal, volts, reference):
            return f"{terminal.text} has {volts.text} to {reference.text}"
        case WasState(name, state, times):
            return f"{name.text} {state.text} {times} times"
        case Called(call):
            return f"{call.text} call"
        case Negation(IsState(name, state)):
            return f"{name.text} not {state.text}"
        case Negation(fact):
            inner = short_words(fact)
            return f"not ({inner})" if isinstance(fact, AllOf | AnyOf) else f"not {inner}"


# ------------------------------------------------------------------ drawing


def ladder_sheet(
    board: Board,
    page: Page = PAPER,
    fit: tuple[float, float] = SCREEN,
    state: Settled | None = None,
) -> Sheet:
    """The ladder diagram of a board, every shape in its place.

    Parameters
    ----------
    board: as `wirecheck.model.build` gives it.
    page: the colors of the page.
    fit: the width and height that it shall be read at; its ladders stand side by side to fit them.
    state: a settled state to show: contacts as they stand, what is live, what carries current.

    Returns
    -------
    A `Sheet`; the same board and state give the same sheet.
    """
    told = ladder(state.circuit if state else circuit(board))
    listed = grids(told)
    words = _Words(told, listed, state)
    blocks = [_Block(grid, words, number) for number, grid in enumerate(listed)]
    sheet = Sheet(board.title or "board", page.ground)
    columns = _columns(blocks, fit)
    x, right, bottom = 0.0, 0.0, 0.0
    for column in columns:
        y, wide = 0.0, 0.0
        for block in column:
            block.draw(sheet, page, x, y)
            y += block.height + GAP
            wide = max(wide, block.width)
        bottom = max(bottom, y - GAP)
        right = x + wide
        x = right + GAP
    text = shorten(board.title or "Board", max(right, 400.0), TITLE, bold=True)
    title = sheet.write("board-title", text, 0, -40, TITLE, page.ink, bold=True, align="start")
    caution = sheet.write("caution", CAUTION, 0, -23, SMALL + 0.5, page.faint, align="start", kind="caution")
    right = max(right, title.width, caution.width)
    if not listed:
        sheet.write("nothing", "No load on it yet: no rung to draw.", 0, 10, HEAD, page.ink, align="start")
        bottom = 24.0
    sheet.left, sheet.top = -MARGIN, -MARGIN - 50
    sheet.width, sheet.height = right + 2 * MARGIN, bottom + 2 * MARGIN + 50
    return sheet


def _columns(blocks: list[_Block], fit: tuple[float, float]) -> list[list[_Block]]:
    """The ladders in as many columns, read downwards, as let them be drawn largest."""
    best: tuple[float, list[list[_Block]]] = (0.0, [blocks] if blocks else [])
    for count in range(1, len(blocks) + 1):
        total = sum(block.height + GAP for block in blocks)
        columns: list[list[_Block]] = [[]]
        used = 0.0
        for block in blocks:
            if columns[-1] and used + block.height / 2 > total / count and len(columns) < count:
                columns.append([])
                used = 0.0
            columns[-1].append(block)
            used += block.height + GAP
        width = sum(max(block.width for block in column) + GAP for column in columns)
        height = max(sum(block.height + GAP for block in column) for column in columns) + 50
        scale = min(fit[0] / width, fit[1] / height, 1.5)
        if scale > best[0] * 1.02:
            best = (scale, columns)
    return best[1]


class _Block:
    """One ladder with its words, measured and ready to be drawn."""

    def __init__(self, grid: Grid, words: _Words, number: int) -> None:
        self.grid, self.words, self.number = grid, words, number
        self.signs = [words.sign(cell.element) for cell in grid.cells]
        up, down = [8.0] * grid.rows, [8.0] * grid.rows
        for cell, sign in zip(grid.cells, self.signs, strict=True):
            above, below = reach(sign.sign, sign.mover)
            up[cell.row] = max(up[cell.row], above + 4 + LINE * len(sign.over))
            down[cell.row] = max(down[cell.row], below + 4 + LINE * len(sign.under))
        self.y: list[float] = []
        at = 34.0
        for row in range(grid.rows):
            at += up[row] + (3 if row else 0)
            self.y.append(at)
            at += down[row]
        self.height = at + 4
        notes = [words.note(rung) for _, rung in grid.numbers]
        self.notes = notes
        self.left = NUMBERS + (34.0 if grid.mesh else 0.0)
        self.right = (40.0 if grid.mesh else 6.0) + max(
            (text_width(note, SMALL) for note in notes), default=0
        )
        head = text_width(self.heading(), HEAD, True)
        self.width = max(self.left + grid.columns * WIDE + self.right, head)

    def heading(self) -> str:
        """What is over the ladder: its rails and the volts between them."""
        words, rails = self.words, self.grid.rails
        names = [words.rail(node) for node in rails]
        if self.grid.mesh or len(rails) < 2:
            return (
                "Between " + " and ".join(filter(None, [", ".join(names[:-1]), names[-1]])) if names else ""
            )
        volts = self._volts()
        source = self._source()
        return " ".join(filter(None, [source, f"{names[0]} to {names[-1]}", f"({volts})" if volts else ""]))

    def _source(self) -> str:
        for winding in self.words.circuit.windings:
            if {self.words.told.node[point] for point in winding.secondary} == set(self.grid.rails):
                return f"{winding.name},"
        panels = [name for name in self.words.circuit.board.panels]
        return f"{panels[0]}," if len(panels) == 1 else ""

    def _volts(self) -> str:
        told, rails = self.words.told, self.grid.rails
        for winding in told.circuit.windings:
            if {told.node[point] for point in winding.secondary} == set(rails):
                return f"{rounded(winding.secondary_volts)} V"
        known = {told.node[leg.point]: leg.volts for leg in told.circuit.legs}
        known.setdefault(0, 0)
        if all(node in known for node in rails):
            return f"{rounded(abs(known[rails[0]] - known[rails[-1]]), 4)} V"
        if any(told.rails[node].open for node in rails):
            return "one side is fed by nothing"
        return ""

    def column(self, column: int) -> float:
        return self.left + column * WIDE

    def draw(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        """Put the ladder on the sheet with its upper left corner at a point."""
        grid, words, name = self.grid, self.words, f"ladder-{self.number + 1}"
        live = LIVE["dark" if page is DARK else "paper"]
        sheet.write(f"{name}-heading", self.heading(), x, y + 5, HEAD, page.ink, bold=True, align="start")
        self._rails(sheet, page, x, y)
        pen = RungPen(sheet, page)
        seen: dict[str, int] = {}
        for cell, sign in zip(grid.cells, self.signs, strict=True):
            middle, line = x + self.column(cell.column) + MIDDLE, y + self.y[cell.row]
            carries = self._carries(cell)
            pen.color = live if carries else page.ink
            if sign.sign == "contact":
                pen.pair(middle, line, sign.rests_closed, sign.closed if words.state else None)
            elif sign.sign == "blade":
                pen.blade(middle, line, sign.closed, sign.mover)
            else:
                pen.rung_sign(sign.sign, middle, line)
            kind = "contact" if cell.element.kind in ("contact", "pole") else "load"
            part = _part_name(cell.element)
            seen[part] = seen.get(part, 0) + 1
            part = part if seen[part] == 1 else f"{part}-again-{seen[part]}"
            part = part if part not in words_drawn(sheet) else f"{name}-{part}"
            pen.lift_as(part, cell.element.name, f"sign {kind}")
            above, below = reach(sign.sign, sign.mover)
            for place, text in enumerate(reversed(sign.over)):
                at = line - above - 3 - LINE * place - LINE / 2
                sheet.write(f"{part}-name-{place + 1}", text, middle, at, NAME, page.ink, bold=True)
            for place, text in enumerate(sign.under):
                at = line + below + 3 + LINE * place + LINE / 2
                sheet.write(f"{part}-words-{place + 1}", text, middle, at, SMALL, page.faint)
        self._wires(sheet, page, x, y, live)
        for row, rung in grid.numbers:
            number = str(words.number[id(rung)])
            sheet.write(
                f"rung-{number}", number, x + 8, y + self.y[row], HEAD, page.ink, bold=True, kind="rung",
                title=", ".join(load.name for load in rung.loads),
            )  # fmt: skip
        for (row, rung), note in zip(grid.numbers, self.notes, strict=True):
            if note:
                at = x + self.column(grid.columns) + (40 if grid.mesh else 6)
                number = words.number[id(rung)]
                sheet.write(
                    f"note-{number}", note, at, y + self.y[row], SMALL, page.faint, align="start", kind="note"
                )

    def _rails(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        grid, words = self.grid, self.words
        name = f"ladder-{self.number + 1}"
        if grid.mesh:
            for node, column, row, side in grid.stubs:
                at, line = x + self.column(column), y + self.y[row]
                text = words.rail(node)
                if side == "inside":
                    continue
                out = -10 if side == "left" else 10
                sheet.lines.append(
                    Line(f"{name}-stub-{text}-{row}", text, (((at, line), (at + out, line)),), page.ink, 1.2,
                         kind="wire stub"))  # fmt: skip
                sheet.write(
                    f"{name}-rail-{text}-{row}", text, at + out * 1.3, line, HEAD, page.ink, bold=True,
                    align="end" if side == "left" else "start", kind="rail-name",
                )  # fmt: skip
            return
        for node, column in ((grid.rails[0], 0), (grid.rails[-1], grid.columns)):
            at = x + self.column(column)
            sheet.write(
                f"{name}-rail-{column}", words.rail(node), at, y + 21, HEAD, page.ink, bold=True,
                kind="rail-name", title=_title(words, node),
            )  # fmt: skip

    def _carries(self, cell: Cell) -> bool:
        state = self.words.state
        if state is None:
            return False
        name = cell.element.name.removesuffix(" secondary")
        return abs(state.amps.get(name, 0)) > LEAST_AMPS

    def _wires(self, sheet: Sheet, page: Page, x: float, y: float, live: str) -> None:
        """The wires of each node, its dots, its letters."""
        grid, words = self.grid, self.words
        name = f"ladder-{self.number + 1}"
        pieces: dict[int, list[tuple[tuple[float, float], ...]]] = {}
        ways: dict[tuple[int, int, int], set[str]] = {}

        def tap(node: int, column: int, row: int, way: str) -> None:
            ways.setdefault((node, column, row), set()).add(way)

        for run in grid.runs:
            if run.down:
                at = x + self.column(run.at)
                path = ((at, y + self.y[run.start]), (at, y + self.y[run.end]))
                tap(run.node, run.at, run.start, "down")
                tap(run.node, run.at, run.end, "up")
            else:
                line = y + self.y[run.at]
                path = ((x + self.column(run.start), line), (x + self.column(run.end), line))
                tap(run.node, run.start, run.at, "right")
                tap(run.node, run.end, run.at, "left")
            pieces.setdefault(run.node, []).append(path)
        for cell in grid.cells:
            line = y + self.y[cell.row]
            start, end = x + self.column(cell.column), x + self.column(cell.column + 1)
            pieces.setdefault(cell.left, []).append(((start, line), (start + MIDDLE - 15, line)))
            pieces.setdefault(cell.right, []).append(((start + MIDDLE + 15, line), (end, line)))
            tap(cell.left, cell.column, cell.row, "right")
            tap(cell.right, cell.column + 1, cell.row, "left")
        rails = () if grid.mesh else (grid.rails[0], grid.rails[-1])
        if rails:
            for node, column in ((rails[0], 0), (rails[1], grid.columns)):
                at = x + self.column(column)
                low = max((row for (n, c, row) in ways if n == node and c == column), default=0)
                sheet.lines.append(
                    Line(
                        f"{name}-{'left' if column == 0 else 'right'}-rail", _title(words, node),
                        (((at, y + 28), (at, y + self.y[low])),), page.ink, 2.4,
                        "dashed" if words.told.rails[node].open else "solid", kind="wire rail",
                    )
                )  # fmt: skip
        for place, (node, listed) in enumerate(pieces.items()):
            sheet.lines.append(
                Line(f"{name}-node-{place + 1}", _title(words, node), tuple(dict.fromkeys(listed)), page.ink,
                     1.2, kind="wire")
            )  # fmt: skip
        dots = 0
        for (node, column, row), tapped in ways.items():
            on_rail = bool(rails) and (node, column) in ((rails[0], 0), (rails[1], grid.columns))
            if len(tapped) > 2 and not on_rail:
                dots += 1
                at, line = x + self.column(column), y + self.y[row]
                sheet.marks.append(
                    Spot(f"{name}-dot-{dots}", "", at, line, 4.4, 4.4, page.ink, page.ink, kind="dot")
                )
        named: set[int] = set(rails)
        for cell in grid.cells:
            if cell.left in named:
                continue
            named.add(cell.left)
            letters = words.letters(cell.left)
            if letters:
                text = shorten(letters, 30, SMALL, True)
                at = x + self.column(cell.column) + 4
                sheet.write(
                    f"{name}-letters-{len(named)}", text, at, y + self.y[cell.row] - 5.5, SMALL, page.ink,
                    bold=True, align="start", kind="letters", title=_title(words, cell.left),
                )  # fmt: skip


def words_drawn(sheet: Sheet) -> set[str]:
    """The ids of the lines on a sheet."""
    return {line.id for line in sheet.lines}


def _part_name(element: Element) -> str:
    kind = {"contact": "contact", "pole": "contact", "input": "input"}.get(element.kind, "load")
    return f"{kind}-{element.name.replace(' ', '-')}"


def _title(words: _Words, node: int) -> str:
    """The points of a node that are screws or ends."""
    points = [point for point in words.told.points.get(node, ()) if not point.startswith("~")]
    return ", ".join(points[:12]) + (f" and {len(points) - 12} more" if len(points) > 12 else "")
