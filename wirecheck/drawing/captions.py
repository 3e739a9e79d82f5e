"""What is written on a ladder: at its signs, beside its rungs, over its rails."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from wirecheck.circuit.circuit import COILS, Circuit, Contact, Load, Outlet, Protection, Winding
from wirecheck.circuit.controls import CONTROL, Control, by_control, named, never_opens
from wirecheck.circuit.ladder import Ladder, rung_elements
from wirecheck.circuit.settle import View, holds, resting
from wirecheck.circuit.structure import Element, Step
from wirecheck.drawing.by_themselves import Stand, stands, values_of
from wirecheck.drawing.cells import Cell, Grid
from wirecheck.drawing.condition_words import short_words
from wirecheck.drawing.contacts import Switch, follows, sense, switch, switch_reach
from wirecheck.drawing.delays import delay, runs_down
from wirecheck.drawing.faces import face_of
from wirecheck.drawing.hand import at_rest
from wirecheck.drawing.handles import tied
from wirecheck.drawing.interconnect import leads
from wirecheck.drawing.letters import SMALLEST, evenly, shorten, text_width, wrap
from wirecheck.drawing.loads import load_reach, load_sign, outlet_sign, protection_sign
from wirecheck.drawing.timing import short_clock
from wirecheck.language.conditions import each_fact
from wirecheck.language.listing import either, listed
from wirecheck.language.quantity import reading, rounded
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Carries,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
)
from wirecheck.model.board import Device
from wirecheck.parts.part import WATCHERS, Part

NAME, SMALL = 8.5, SMALLEST
NOWHERE = "leads to no source"
ODD = 96.0
"""How wide a line of what is odd beside a row may be: a wrong board is hardly wider than the right one."""
SO_MANY = {1: "one", 2: "two"}
LISTED = 104.0
"""How wide the numbers of the lines on which contacts are may be in one row, with the word before them: four
of two digits each."""
AROUND = "wired around"
LOOSE = "leads nowhere"
HOT, NEUTRAL = ("hot", "switched"), ("neutral", "switched-neutral")
NEAR = 0.8
"""So near to what it is made for are the volts of a transformer on its own supply: 208 V for 240 V, too."""
LABEL = 90.0
"""How wide a line at a sign may be, in points."""
LONGEST = 150.0
"""How wide a name may be that has no place to break."""
STROKED = 2.0
"""How much more room there is under a line with strokes under its numbers."""
LETTERS = 3
"""How long the letters of a screw are at most, as R, Y2 or X1."""
RAILS = ("L1", "L2", "L3", "N")
"""What rails to the supply are called: a load of that name says what it is, too."""
UNDER = 6
"""How many lines may stand under a sign."""


class Caption(NamedTuple):
    """A sign and its words: which sign, or which switch, and the lines over and under it.

    `rests_closed` is how a contact stands when nothing has moved it, `protection` the breaker or
    fuse that the sign is a pole of.
    """

    sign: str
    over: tuple[str, ...]
    under: tuple[str, ...]
    rests_closed: bool = False
    protection: str = ""
    switch: Switch | None = None

    @property
    def reach(self) -> tuple[float, float]:
        """How far the sign reaches over and under the wire, however it stands."""
        return switch_reach(self.switch) if self.switch else load_reach(self.sign)


class Note(NamedTuple):
    """What stands beside a row, in a few lines: what is said of its coil, and what is odd there.

    `marked` are the numbers that are underlined, each with the place of its line and after what text, and
    `parted` the places of the lines that are set apart from those before them.
    """

    said: tuple[str, ...]
    odd: tuple[str, ...] = ()
    marked: tuple[tuple[int, str, str], ...] = ()
    parted: frozenset[int] = frozenset()

    def heights(self, step: float) -> list[float]:
        """How far down each line is from the first, of lines a step apart; no stroke touches the next.

        >>> Note(("contacts: 3", "ends: after 3 min", "off"), (), ((0, "contacts: ", "3"),)).heights(10)
        [0.0, 12.0, 22.0]
        >>> Note(("on", "off"), parted=frozenset([1])).heights(10)
        [0.0, 15.0]
        """
        marked = {place for place, *_ in self.marked}
        heights = [0.0]
        for place in range(1, len(self.lines)):
            more = STROKED if place - 1 in marked else 0.0
            heights.append(heights[-1] + step + (max(more, step / 2) if place in self.parted else more))
        return heights

    @property
    def lines(self) -> tuple[str, ...]:
        """All its lines."""
        return (*self.said, *self.odd)

    @property
    def usual(self) -> float:
        """How wide what is said of its coil is, in points."""
        return max((text_width(line, SMALL) for line in self.said), default=0.0)

    @property
    def width(self) -> float:
        """How wide it is, in points."""
        return max((text_width(line, SMALL) for line in self.lines), default=0.0)


class Captions:
    """The words of a ladder whose grids are known, so that its rows and wires have their numbers."""

    def __init__(
        self, ladder: Ladder, listed: Sequence[Grid], short: Mapping[str, str] = MappingProxyType({})
    ) -> None:
        """`short` has another name for what is not called by its whole one, as inside equipment."""
        self.ladder = ladder
        self.circuit: Circuit = ladder.circuit
        self.short = short
        self.sensed = Counter(self.circuit.point[one].owner for one, _ in self.circuit.heard)
        self.above: dict[int, int] = {}
        self.line_of: dict[tuple[str, str], int] = {}
        lines = 0
        for grid in listed:
            self.above[id(grid)] = lines
            lines += grid.rows
            for cell in grid.cells:
                if cell.element is not None:
                    self.line_of[cell.element.kind, cell.element.name] = self.line(grid, cell.row)
            if grid.motor:
                load = grid.motor.element
                self.line_of[load.kind, load.name] = self.line(grid, grid.motor.rows[1])
        places = [cell.element for grid in listed for cell in grid.cells if cell.element is not None]
        places += [step.element for grid in listed for head in grid.heads for step in head]
        self.places = Counter((each.kind, each.name) for each in places)
        some = [(id(grid), *each) for grid in listed for each in self._some(grid)]
        self.some = {pole: words for _, pole, rail, words in some if not rail}
        self.some_heads = {(grid, pole): words for grid, pole, rail, words in some if rail}
        self.wires = self._wires(listed)
        self.signals = self._signals()
        # How many leads that are there to be joined to their like are on each wire.
        self.led = Counter(
            self.ladder.node[lead] for one in self.circuit.devices for lead in leads(self.circuit, one)
        )
        drawn = {name: at_rest(one.part) for name, one in self.circuit.devices.items() if one.part.positions}
        positions = resting(self.circuit, drawn)
        rest = View(self.circuit, positions, frozenset(), frozenset(), (), frozenset(), {})
        self.rests = {each.name for each in self.circuit.contacts if holds(each.when, each.scope, rest)}
        self.several: dict[str, int] = {}
        for each in self.circuit.contacts:
            self.several[each.scope] = self.several.get(each.scope, 0) + 1
        self.tied = tied(self.circuit.board)
        self.series = self._series_coils()
        self.lines_of = self._lines_of_contacts(listed)
        self.moved = self._moved()
        self.heeds = by_control(self.circuit)
        self.controlled = self._controlled()
        self.alone = self._alone(listed)
        self.proving = self._proving()
        self.told = self._told()

    def _series_coils(self) -> dict[str, str]:
        """The coils that carry the current of a load, each by its contact's name, with what moves with them.

        Such a coil is told in its part as what always conducts, and whose current moves a state.
        """
        found: dict[str, str] = {}
        for contact in self.circuit.contacts:
            part = self.circuit.devices[contact.scope].part
            points = [self.circuit.point.get(end) for end in (contact.a, contact.b)]
            ends = {point.screw for point in points if point}
            for each in part.transitions if never_opens(self.circuit, contact) else ():
                if each.when and {word for pair in _carriers(each.when) for word in pair} == ends:
                    found[contact.name] = f"{contact.scope}.{each.name}"
        return found

    def is_coil(self, element: Element) -> bool:
        """Whether it moves contacts by the current of a load that flows through it."""
        return element.name in self.series

    def _signals(self) -> dict[int, set[str]]:
        """The wires on which nothing draws but what listens to a signal, with their screws."""
        node, heard = self.ladder.node, dict[int, set[str]]()
        for load in self.circuit.loads:
            for end in load.ends if self._listens(load) else ():
                if end in self.circuit.board.terminals:
                    heard.setdefault(node[end], set()).add(self.circuit.point[end].screw)
        drawing = {node[end] for each in self.circuit.loads if not self._listens(each) for end in each.ends}
        drawing |= {node[end] for each in self.circuit.windings for end in (*each.primary, *each.secondary)}
        switched = {node[end] for each in self.circuit.protections for pair in each.pairs for end in pair}
        others = drawing | switched | self.ladder.rails.keys()
        return {each: screws for each, screws in heard.items() if each not in others}

    def _some(self, grid: Grid) -> Iterator[tuple[str, bool, str]]:
        """The poles in a ladder whose breaker has others elsewhere, whether in a rail, and how many of them.

        Those of a disconnect are asked for in a rail alone: in a rung their words say which they are.
        """
        poles = {cell.element: False for cell in grid.cells if cell.element is not None}
        poles |= {step.element: True for head in grid.heads for step in head}
        poles = {each: rail for each, rail in poles.items() if rail or each.kind == "pole"}
        owners = Counter(self.whose(each) for each in poles)
        for pole, rail in poles.items():
            shown, of = owners[self.whose(pole)], self._poles(pole)
            if shown < of:
                yield pole.name, rail, f"{SO_MANY.get(shown, shown)} of {of} poles"

    def _poles(self, element: Element) -> int:
        """How many poles a breaker or a switch has, of which an element is one."""
        what = self.ladder.of[element.kind, element.name]
        if isinstance(what, Protection):
            return len(what.pairs)
        return len(self.circuit.contacts_in[what.scope]) if isinstance(what, Contact) else 1

    def again(self, element: Element) -> bool:
        """Whether an element stands in more than one place."""
        return self.places[element.kind, element.name] > 1

    def line(self, grid: Grid, row: int) -> int:
        """The number of a row: rows are counted through all ladders, one after the other."""
        return self.above[id(grid)] + row + 1

    def _wires(self, listed: Sequence[Grid]) -> dict[int, int]:
        """A number for each node that is no rail's, in the order in which they are drawn."""
        numbers: dict[int, int] = {}
        for grid in listed:
            heads = [node for head in grid.heads for step in head for node in (step.left, step.right)]
            cells = sorted(grid.cells, key=lambda cell: (cell.row, cell.column))
            ends = grid.motor.nodes if grid.motor else ()
            for node in (*heads, *(node for cell in cells for node in (cell.left, cell.right)), *ends):
                if node not in self.ladder.rails:
                    numbers.setdefault(node, len(numbers) + 1)
        return numbers

    def _moved(self) -> dict[str, list[tuple[int, bool]]]:
        """For each coil, the lines on which its contacts are drawn, and whether each rests closed there."""
        lines_of: dict[str, set[tuple[int, bool]]] = {}
        for name, lines in self.lines_of.items():
            contact = self.ladder.of["contact", name]
            assert isinstance(contact, Contact)
            for mover in self._movers(contact.when, contact.scope) if name not in self.series else ():
                lines_of.setdefault(mover, set()).update(lines)
        return {name: sorted(lines) for name, lines in lines_of.items()}

    def _lines_of_contacts(self, listed: Sequence[Grid]) -> dict[str, set[tuple[int, bool]]]:
        """For each contact, the lines on which it is drawn, and whether it rests closed."""
        lines_of: dict[str, set[tuple[int, bool]]] = {}
        for grid in listed:
            for cell in grid.cells:
                if cell.element is not None and cell.element.kind == "contact":
                    found = (self.line(grid, cell.row), cell.element.name in self.rests)
                    lines_of.setdefault(cell.element.name, set()).add(found)
        return lines_of

    def _controlled(self) -> dict[str, dict[str, list[tuple[int, bool]]]]:
        """For each coil and input that a control looks at, the lines of what moves, by what moves that."""
        told: dict[str, dict[str, list[tuple[int, bool]]]] = {}
        for name, heed in self.heeds.items():
            if not self.line_of.keys() & {("load", name), ("input", name)}:
                continue
            for control, contacts in heed.contacts.items():
                lines = {line for each in contacts for line in self.lines_of.get(each, ())}
                if lines := lines.difference(self.moved.get(name, ())):
                    told.setdefault(name, {})[control.name] = sorted(lines)
        return told

    def _alone(self, listed: Sequence[Grid]) -> dict[str, dict[Stand, list[tuple[int, bool]]]]:
        """For the first input of a control, what moves it that no rung shows, with the lines of its contacts.

        Of one that looks at its supply alone that is its whole sequence.
        """
        inputs = {
            cell.element.name: cell.element
            for grid in listed
            for cell in sorted(grid.cells, key=lambda each: each.row)
            if cell.element is not None and cell.element.kind == "input" and cell.element.name in self.heeds
        }
        supplies = {name for name, each in inputs.items() if self._is_supply(each)}
        follow = {
            each
            for name in self.controlled.keys() - supplies
            for contacts in self.heeds[name].contacts.values()
            for each in contacts
        }
        told: dict[str, dict[Stand, list[tuple[int, bool]]]] = {}
        first: dict[Control, str] = {}
        for name in inputs:
            first.setdefault(self.heeds[name].by, name)
        for control, name in first.items():
            own = [
                each
                for each in self.circuit.contacts_in.get(control.scope, ())
                if each.name in self.lines_of.keys() - follow and named(self.circuit, each) == control
            ]
            named_there = {value for each in own for value in values_of(each.when, control.own)}
            every = self.circuit.variables[control.name].values if named_there else ()
            for stand in stands(self.circuit, control, [value for value in every if value in named_there]):
                lines = {
                    line
                    for each in own
                    if stand.value in values_of(each.when, control.own)
                    for line in self.lines_of[each.name]
                }
                told.setdefault(name, {})[stand] = sorted(lines)
        return told

    def _proving(self) -> dict[str, list[tuple[int, bool]]]:
        """For each load that moves an end switch, the lines on which that is drawn."""
        lines_of: dict[str, set[tuple[int, bool]]] = {}
        for name, lines in self.lines_of.items():
            contact = self.ladder.of["contact", name]
            assert isinstance(contact, Contact)
            if (load := self._proved(contact)) is not None:
                lines_of.setdefault(load.name, set()).update(lines)
        return {name: sorted(lines) for name, lines in lines_of.items()}

    def _proved(self, contact: Contact) -> Load | None:
        """The load that closes a contact by what it drives, as a valve or a damper its end switch."""
        if self.circuit.devices[contact.scope].part.moved_by != "machine":
            return None
        for move in self.circuit.moves:
            match move.when, contact.when:
                case Runs(), InPosition(position) if (move.variable, move.target) == (
                    contact.scope,
                    position.text,
                ):
                    return self.circuit.meant(move.when, move.scope)
        return None

    def _closes_with(self, contact: Contact) -> str:
        """When an end switch closes, and where what drives it stands."""
        load = self._proved(contact)
        if load is None:
            return ""
        # Inside equipment no line has a number.
        line = None if self.short else self.line_of.get(("load", load.name))
        opens = "damper" in load.flags or load.kind == "valve"
        stands = f"closes when {self._called(load.name)} {'is open' if opens else 'runs'}"
        return f"{stands}: line {line}" if line else stands

    def _is_supply(self, element: Element) -> bool:
        """Whether an input looks at a wire inside that feeds something: at its supply, and at no call."""
        inside = self.circuit.devices[self.circuit.point[element.name].owner].inside
        return bool(inside) and self.ladder.meeting[element.a] > 2

    def _movers(self, condition: Condition, scope: str) -> Iterator[str]:
        """The coils whose running a condition looks at."""
        for fact in each_fact(condition):
            match fact:
                case Runs():
                    found = self.circuit.meant(fact, scope)
                    if found is not None and found.kind in COILS:
                        yield found.name
                case IsState(name):
                    coil, _ = self._timed(scope, name.text)
                    if coil:
                        yield coil
                    yield from self._carrying(f"{scope}.{name.text}")

    def _carrying(self, state: str) -> Iterator[str]:
        """The coils in series with a load whose current moves a state of their device."""
        yield from (name for name, moved in self.series.items() if moved == state)

    # ------------------------------------------------------------- at signs

    def of(self, cell: Cell) -> Caption:
        """What to draw and to write of an element."""
        if cell.winding is not None:
            return self._secondary(cell.winding)
        element = cell.element
        assert element is not None
        if element.kind == "input":
            return self._input(element.name)
        if element.kind == "gap":
            return Caption("gap", (), (self._missing(element),))
        what = self.ladder.of[element.kind, element.name]
        match what:
            case Contact() if cell.end is not None:
                over, under = cell.says
                name = self._name(what.scope) if over else ()
                place = _lines([self._place(what.scope)]) if under else ()
                drawn = Switch("throw", "hand", mirrored=self._common(what, cell.right))
                return Caption("contact", name, place, what.name in self.rests, switch=drawn)
            case Contact() | Protection() if cell.says != (True, True):
                caption = self._contact(what, True) if isinstance(what, Contact) else self._pole(what)
                over, under = cell.says
                return caption._replace(
                    over=caption.over if over else (), under=caption.under if under else ()
                )
            case Contact():
                return self._contact(what)
            case Protection():
                return self._pole(what, self.some.get(element.name, ""))
            case Load():
                return self._load(what, element.name)
            case Outlet():
                rating = f"{rounded(what.volts)} V" + (f" {rounded(what.amps)} A" if what.amps else "")
                face = face_of(self.circuit.devices[what.device])
                hots = max((len(plug) for plug in face.plugs), default=1) if face else 1
                sign = outlet_sign(what.volts, what.amps or 0.0, what.ground is not None, hots)
                alone = sum(each.device == what.device for each in self.circuit.outlets) == 1
                name = self._name(what.device if alone else what.name)
                halves = self.circuit.outlets_of(what.device)
                split = hots > 1 or len({self.ladder.node[each.hot] for each in halves}) > 1
                places = self._places_of("outlet", (one.name for one in halves)) if split else ()
                one = "outlet" if hots > 1 else "receptacle"
                whole = f"one {one}: lines {listed(places)}" if len(places) > 1 else ""
                whole = f"one {one}" if whole and self.short else whole
                return Caption(sign, name, _lines([rating, whole, self._place(what.device)]))
            case Winding():
                volts = f"{rounded(what.primary_volts)} to {rounded(what.secondary_volts)} V"
                words = [volts, f"{rounded(what.capacity)} VA", self._place(what.device)]
                return Caption("primary", self._name(what.name), _lines(words))

    def _common(self, contact: Contact, node: int) -> bool:
        """Whether the end of a throw on a node is the common, which all throws of its switch share."""
        ends = Counter(end for each in self.circuit.contacts_in[contact.scope] for end in (each.a, each.b))
        common = max((contact.a, contact.b), key=ends.__getitem__)
        return ends[contact.a] != ends[contact.b] and self.ladder.node[common] == node

    def _missing(self, gap: Element) -> str:
        """What is between the ends of a gap: no wire, or one that is capped, or where the wire leads instead.

        A rail has wires to many places: of its wires only those count that are where the other side is.
        """
        board, points = self.circuit.board, self.ladder.points
        ends = [end for end in (gap.a, gap.b) if end not in self.ladder.rails]
        astray = [f"to {ground}" for end in ends for ground in self._of_role(end, "ground")]
        linked = (lead for end in ends for lead in self._of_role(end, "signal"))
        astray += (f"to {self.circuit.point[lead].screw}" for lead in linked)
        if astray:
            return astray[0]
        here = [point for end in ends for point in points[end]]
        places = {self.circuit.point[point].place for point in here}
        there = [point for end in (gap.a, gap.b) for point in points[end] if end in self.ladder.rails]
        there = [point for point in there if self.circuit.point[point].place in places]
        if any(point in board.capped for point in (*here, *there)):
            return "capped"
        lost = [point for point in here if self.ladder.node[point] in self.ladder.dead]
        return "no wire" if all(self.circuit.point[point].kind == "terminal" for point in lost) else "open"

    def _called(self, name: str) -> str:
        """What a thing is called here."""
        return self.short.get(name) or name

    def _name(self, name: str) -> tuple[str, ...]:
        return _name(self._called(name))

    def _input(self, name: str) -> Caption:
        """What a control looks at: a screw of its own, or what comes out of a part inside."""
        point = self.circuit.point[name]
        if name in self.told:
            # The electronics of a load look at its own screw.
            control, words = self._called(point.owner), f"senses {point.screw}"
        else:
            inside = self.circuit.devices[point.owner].inside
            screw = point.screw if not inside or self.sensed[point.owner] > 1 else ""
            own = self.heeds[name].by.own if name in self.heeds else ""
            control = ".".join(filter(None, (self.short.get(point.outer, point.outer), own))) or CONTROL
            words = f"senses {inside} {screw}" if inside and screw else f"senses {inside or _screw(screw)}"
        if self.short:
            # Inside equipment there is one control, and rows of what it looks at.
            return Caption("input", (), _lines([f"{control} {words}"]))
        return Caption("input", _name(control), _lines([words]))

    def _secondary(self, winding: Winding) -> Caption:
        primary = self.line_of.get(("primary", winding.name))
        words = [f"{rounded(winding.secondary_volts)} V {rounded(winding.capacity)} VA"]
        if primary is not None:
            words.append(f"primary: line {primary}")
        return Caption("secondary", self._name(winding.name), _lines(words))

    def _load(self, load: Load, winding: str) -> Caption:
        name = self._called(load.name)
        device = self.circuit.devices[load.device]
        if load.kind == "electronics" and len(device.part.loads) == 1:
            whose = self.short.get(load.device, load.device)
            name = " ".join(filter(None, (whose, device.part.loads[0].name)))
        small = load.volts <= 50 or load.kind in ("coil", "valve", "electronics")
        # Below 1 A the trade says no third figure.
        figures = 2 if load.amps < 1 else 3
        draws = f"{rounded(load.apparent, 3)} VA" if small else f"{rounded(load.amps, figures)} A"
        if load.kind == "capacitor":
            draws = f"{rounded(1e6 * load.farads)} µF"
        told = [f"{rounded(load.volts)} V {draws}"]
        if load.speeds:
            name = self._called(load.device)
            draws = f"{either([rounded(one.amps, figures) for one in load.speeds])} A"
            told = [f"{rounded(load.volts)} V", draws]
        if self._listens(load):
            # What it draws says nothing to who reads how it works: it is there to be told something.
            a, b = (self.circuit.point[end].screw for end in (load.a, load.b))
            told = [f"listens: {a} to {b}" if not device.inside else "sends a signal"]
        words = [*told, *self._speeds(load, device), self._place(load.device)]
        if load.c is not None and winding:
            pair = next(pair for number, pair in enumerate(load.pairs) if load.winding(number) == winding)
            words.append(" to ".join(self.circuit.point[end].screw for end in pair))
        sign = "coil" if self._on_volts(load.name) else load_sign(load.kind, load.flags)
        if load.device in RAILS:
            # In quotation marks it is read as what the board calls it, and not as the rail that it is on.
            name = f'{"lamp" if sign == "lamp" else load.kind} "{load.device}"'
        return Caption(sign, _name(name), _lines(words))

    def _speeds(self, load: Load, device: Device) -> Iterator[str]:
        """That a motor of several speeds is one, and where its other speeds are."""
        motors = [one for one in self.circuit.loads if one.device == device.name and one.kind == "motor"]
        places = self._places_of("load", (one.name for one in motors))
        if load.kind == "motor" and len(places) > 1 and len({one.b for one in motors}) == 1:
            yield "one motor" if self.short else f"one motor: lines {listed(places)}"
        lines = self._places_of("input", _signals_of(load))
        if lines and not self.short:
            yield _at_lines("signal", lines)

    def _told(self) -> dict[str, list[Load]]:
        """For each input that the own electronics of loads look at, these loads."""
        told: dict[str, list[Load]] = {}
        for load in self.circuit.loads:
            for name in _signals_of(load):
                told.setdefault(name, []).append(load)
        return told

    def _lead_astray(self, device: str) -> Iterator[str]:
        """Where the lead to other alarms is on a rail or on the wire of a rung, or joined to none of them."""
        for lead in leads(self.circuit, device):
            node = self.ladder.node[lead]
            screw = self.circuit.point[lead].screw
            if node in self.ladder.rails:
                yield f"{screw} on {self.rail(node)}"
            elif node in self.wires:
                yield f"{screw} on wire {self.wires[node]}"
            elif self.led.total() > 1 and self.led[node] == 1:
                yield f"{screw} {LOOSE}"

    def _places_of(self, kind: str, names: Iterable[str]) -> list[str]:
        """The lines on which parts of one thing stand, by their names."""
        lines = {self.line_of.get((kind, name)) for name in names}
        return [str(line) for line in sorted(line for line in lines if line)]

    def motor(self, grid: Grid) -> Caption:
        """What to draw and to write of the load at the end of three lines, and what is odd about these."""
        assert grid.motor is not None
        load = self.ladder.of["load", grid.motor.element.name]
        assert isinstance(load, Load)
        caption = self._load(load, "")
        odd = any(self.ladder.rails[node].open for node in grid.rails)
        return caption._replace(under=(*caption.under, *(_evenly(f"one line {NOWHERE}") if odd else ())))

    def screws(self, grid: Grid) -> tuple[str, ...]:
        """The screws of the load at the end of three lines, in the order of its ends; empty inside a part."""
        assert grid.motor is not None
        load = self.ladder.of["load", grid.motor.element.name]
        assert isinstance(load, Load)
        return tuple(
            self.circuit.point[end].screw if end in self.circuit.board.terminals else "" for end in load.ends
        )

    def _pole(self, protection: Protection, poles: str = "") -> Caption:
        """What to draw of a pole; `poles` says how many there are, where others stand in another ladder."""
        device = self.circuit.devices.get(protection.device)
        flags = frozenset().union(*(one.flags for one in device.part.protections)) if device else frozenset()
        sign = protection.kind
        if sign in WATCHERS:
            sign = protection_sign(flags & set(WATCHERS))
        elif sign not in ("fuse", "thermal"):
            sign = "breaker"
        words = {
            "thermal": "opens on heat",
            "gfci": "ground fault",
            "afci": "arc fault",
            "dual": "ground or arc fault",
        }
        under = words.get(sign, f"{rounded(protection.amps)} A")
        breaker = self.circuit.board.breakers.get(protection.name)
        if breaker is not None and not breaker.flags.isdisjoint(WATCHERS):
            under = f"{under}, {words[protection_sign(breaker.flags & set(WATCHERS))]}"
        other = self.tied.get(protection.name)
        said = _lines([under, poles, f"tied to {other}" if other else "", self._place(protection.name)])
        return Caption(sign, self._name(protection.name), said, True, protection.name)

    def _contact(self, contact: Contact, pole: bool = False) -> Caption:
        """What to draw of a contact; `pole` where what it says goes for those over and under it too."""
        rests = contact.name in self.rests
        part = self.circuit.devices[contact.scope].part
        place = self._place(contact.scope)
        if contact.overload is not None:
            trips = f"trips at {rounded(contact.overload)} A"
            return Caption(
                "thermal", self._name(contact.scope), _lines([trips, self._overload(contact), place])
            )
        if contact.name in self.series:
            return Caption("coil", self._name(contact.scope), _lines(["senses this line's current", place]))
        if (waits := delay(self.circuit, contact)) is not None:
            drawn = Switch("blade", "time", not rests, "on" if waits.on == "make" else "")
            words = [f"delay on {waits.on}", short_clock(waits.seconds), place if part.calls else ""]
            return self._switch(drawn, f"{contact.scope}.{waits.state}", words, rests)
        said = _moves(contact, part, rests)
        # The contact of an overload relay is that of any relay (NEMA ICS 19); its heaters stand in the lines.
        heated = any(one.overload is not None for one in self.circuit.contacts_in[contact.scope])
        match contact.when:
            case InPosition(position) if (other := self._other_throw(contact)) is not None:
                words = [*self._throws(contact, position.text, other), place, self._sensed(contact.scope)]
                drawn = switch(contact.flags, part.moved_by, rests)._replace(throws=True)
                return self._switch(drawn, contact.scope, words, rests)
            case InPosition(position):
                several = self.several[contact.scope] > 1 and not pole
                a, b = (self._end(end, contact.scope) for end in (contact.a, contact.b))
                several = several and not heated
                runs = runs_down(self.circuit, contact.scope, position.text)
                words = [
                    f"{position.text}:" if several else "",
                    f"{a} to {b}" if several else "",
                    self._overload(contact) if heated else "",
                    place,
                    said or self._closes_with(contact),
                    f"opens after {short_clock(runs)}" if runs else "",
                    self._sensed(contact.scope),
                ]
                drawn = Switch() if heated else switch(contact.flags, part.moved_by, rests)
                # A hand winds it, and its clock lifts the blade.
                drawn = drawn._replace(mover="time") if runs else drawn
                return self._switch(drawn, contact.scope, words, rests)
            case AnyOf(facts) | AllOf(facts) if _by_position(contact.when):
                # With power and without, it is a hand, a clock or the like that moves it, and no coil.
                words = [
                    short_words(contact.when, part) if len(facts) == len(_positions(facts)) else "",
                    place,
                    said,
                    *self._powered_by(facts, contact.scope),
                ]
                return self._switch(switch(contact.flags, part.moved_by, rests), contact.scope, words, rests)
            case IsState(name, position) if f"{contact.scope}.{name.text}" in self.circuit.devices:
                inner = self.circuit.devices[f"{contact.scope}.{name.text}"]
                drawn = switch(contact.flags, inner.part.moved_by, rests)
                return self._switch(drawn, inner.name, [position.text, place, said], rests)
            case IsState(name):
                told = self._by_state(contact, name.text, rests)
                if told is not None:
                    return told
            case Runs() | Negation(Runs()):
                for mover in self._movers(contact.when, contact.scope):
                    line = self.line_of.get(("load", mover))
                    if line:
                        return self._switch(Switch(), mover, [f"coil: line {line}"], rests)
        control = named(self.circuit, contact)
        words_of, owner = short_words(contact.when, part), control.name
        if control.own:
            words_of = words_of.replace(f"{control.own} ", "")
        if said and part.calls:
            # What follows the room or the water: a control that closes for several calls has no such sense.
            drawn = switch(contact.flags, follows(part.calls), rests)
            return self._switch(drawn, owner, [words_of, place, said, self._sensed(owner)], rests)
        if owner in self.short and not self.short[owner]:
            owner = "control"
        return self._switch(Switch(), owner, [words_of, place if part.calls else ""], rests)

    def _overload(self, contact: Contact) -> str:
        """Where the rest of an overload relay stands: of a contact its heaters, of a heater the contacts.

        Inside equipment no line has a number.
        """
        if self.short:
            return ""
        own = self.circuit.contacts_in[contact.scope]
        others = [each for each in own if (each.overload is None) != (contact.overload is None)]
        lines = sorted({line for each in others for line, _ in self.lines_of.get(each.name, ())})
        what = "heater" if contact.overload is None else "contact"
        return _at_lines(what, [str(line) for line in lines]) if lines else ""

    def _powered_by(self, facts: Iterable[Condition], scope: str) -> Iterator[str]:
        """Where the electronics are that a contact needs, as the clock of a timer or the eye of a sensor."""
        for load in (fact.load.text for fact in facts if isinstance(fact, Runs)):
            if line := self.line_of.get(("load", f"{scope}.{load}"), self.line_of.get(("load", scope))):
                yield f"{load}: line {line}"

    def _other_throw(self, contact: Contact) -> Contact | None:
        """The other contact of a change-over that no hand moves: between them they have one common screw."""
        node, part = self.circuit.node, self.circuit.devices[contact.scope].part
        mine = {node[contact.a], node[contact.b]}
        others = [
            each
            for each in self.circuit.contacts_in[contact.scope]
            if each.when != contact.when
            and isinstance(each.when, InPosition)
            and len(mine & {node[each.a], node[each.b]}) == 1
        ]
        moved = part.moved_by not in ("", "hand") and len(part.positions) == 2
        return others[0] if moved and len(others) == 1 else None

    def _throws(self, contact: Contact, position: str, other: Contact) -> Iterator[str]:
        """Both throws of a change-over: its own with its sense, and where the other leads or its line.

        What the one does on a rise the other does on a fall, and need not say.
        """
        node, part = self.circuit.node, self.circuit.devices[contact.scope].part
        common = {node[contact.a], node[contact.b]} & {node[other.a], node[other.b]}
        ends = [each.b if node[each.a] in common else each.a for each in (contact, other)]
        elsewhere = next(one for one in part.positions if one != position)
        line = self.line_of.get(("contact", other.name))
        yield f"{position}: to {self._end(ends[0], contact.scope)}"
        yield sense(contact.flags, part.moved_by, contact.name in self.rests)
        if line or not self._used(ends[1]):
            yield f"{elsewhere}: {f'line {line}' if line else 'not used'}"
        else:
            yield f"{elsewhere}: to {self._end(ends[1], contact.scope)}"

    def _used(self, end: str) -> bool:
        """Whether something is on a screw of a contact, besides that."""
        ends = [end for wire in self.circuit.wires for end in (wire.a, wire.b)]
        ends += [end for each in self.circuit.contacts for end in (each.a, each.b)]
        ends += [end for load in self.circuit.loads for end in load.ends]
        here = self.ladder.node[end]
        return sum(self.ladder.node[each] == here for each in ends) > 1

    def _by_state(self, contact: Contact, state: str, rests: bool) -> Caption | None:
        """A contact that moves some time after its coil, on its volts or on its current; else None."""
        coil, delays = self._timed(contact.scope, state)
        line = self.line_of.get(("load", coil))
        if line and self._on_volts(coil):
            return self._switch(Switch(), contact.scope, [f"coil: line {line}"], rests)
        if delays and line:
            drawn = Switch("blade", "", not rests, delays)
            words = [f"coil: line {line}", self._waits(f"{contact.scope}.{state}", delays, rests)]
            return self._switch(drawn, f"{contact.scope}.{state}", words, rests)
        for coil in self._carrying(f"{contact.scope}.{state}"):
            line = self.line_of.get(("contact", coil))
            if line:
                words = [f"coil: line {line}", self._place(contact.scope)]
                return self._switch(Switch(), contact.scope, words, rests)
        return None

    def _waits(self, state: str, delays: str, rests: bool) -> str:
        """How long a contact waits that waits one way alone, and before it does what."""
        found = {move.after for move in self.circuit.moves if move.variable == state and move.after}
        if delays == "both" or len(found) != 1:
            return ""
        does = "closes" if (delays == "off") == rests else "opens"
        return f"{does} {short_clock(found.pop())} after it {'pulls in' if delays == 'on' else 'drops out'}"

    def _on_volts(self, name: str) -> bool:
        """Whether a load is the coil of a start relay: it looks at volts, and is no delay's."""
        load = self.circuit.load.get(name)
        if load is None or load.name != load.device or "senses" not in load.flags:
            return False
        return any(isinstance(each.when, IsState) for each in self.circuit.contacts_in.get(name, ()))

    def _listens(self, load: Load) -> bool:
        """Whether a load is there for a signal: no winding of a motor is, nor a coil on its volts."""
        return load_sign(load.kind, load.flags) == "input" and not self._on_volts(load.name)

    def _end(self, end: str, scope: str) -> str:
        """A screw of a device, or one of a part inside it, with that part's name."""
        point = self.circuit.point[end]
        inside = self.circuit.devices[point.owner].inside if point.owner in self.circuit.devices else ""
        return point.screw if point.owner == scope or not inside else f"{inside} {point.screw}"

    def _switch(self, drawn: Switch, name: str, words: Iterable[str], rests: bool) -> Caption:
        return Caption("contact", self._name(name), _lines(words), rests, switch=drawn)

    def _timed(self, scope: str, state: str) -> tuple[str, str]:
        """The coil after which a state of a device moves, and when it waits; nothing where it is moved else.

        It waits `on` after the load runs, `off` after it has stopped, or `both`.
        """
        waits, loads = set(), set()
        part = self.circuit.devices[scope].part
        own = state in (each.name for each in part.states)
        for each in part.transitions if own else ():
            if each.name != state:
                continue
            match each.when:
                case Runs(load):
                    way = "on"
                case Negation(Runs(load)):
                    way = "off"
                case _:
                    return "", ""
            loads.add(load.text)
            if each.after is not None:
                waits.add(way)
        if len(loads) != 1 or not waits:
            return "", ""
        found = self.circuit.load.get(f"{scope}.{loads.pop()}")
        if found is None or found.kind not in COILS:
            return "", ""
        return found.name, "both" if len(waits) > 1 else waits.pop()

    def _sensed(self, device: str) -> str:
        """What acts on a control, where a line of the board says that."""
        sensed = self.circuit.board.sensed.get(device)
        if sensed is None:
            return ""
        return f"{listed(sensed.things)} {'act' if sensed.things[1:] else 'acts'} on it"

    def _place(self, device: str) -> str:
        """Where a device is, if it is in a box; a name with a dot tells it by itself.

        Of a machine with loads inside, the leads alone are in the box. Inside equipment all is in that.
        """
        found = self.circuit.board.devices.get(device)
        if self.short or found is None or found.place == device:
            return ""
        if any(each.part.loads for each in found.children):
            return ""
        return f"in {found.place}"

    # ------------------------------------------------------- beside and over

    def note(
        self,
        loads: Iterable[Element],
        bare: Sequence[int] = (),
        apart: bool = False,
        around: bool = False,
        loose: Sequence[int] = (),
        last: Element | None = None,
    ) -> Note:
        """What is written to the right of a row: where its coil's contacts are, what is odd in its return.

        Parameters
        ----------
        bare : the rails of a row on which nothing draws current; nothing where something does.
        apart : whether its rails are those of two sources.
        around : whether wire leads around a contact there.
        loose : the nodes to which its contacts lead and nothing else does.
        last : what stands last in the row: the lines of another's contacts are said with its name.
        """
        said = [self._bare(bare)] if bare else []
        marked: list[tuple[int, str, str]] = []
        parted: set[int] = set()

        def list_lines(words: str, lines: Sequence[tuple[int, bool]], wide: float = LISTED) -> None:
            folded = _folded(words, [str(line) for line, _ in lines], wide)
            closed = iter([closed for _, closed in lines])
            for place, numbers in enumerate(folded):
                before = "" if place else words
                for number in numbers:
                    if next(closed):
                        marked.append((len(said), before, number))
                    before += f"{number}, "
                said.append(before[: -1 if numbers is not folded[-1] else -2])

        strange = [AROUND] * around
        for node in loose:
            metal = self._of_role(node, "ground")
            strange.append(f"leads to {listed(metal)} alone" if metal else LOOSE)
        by: dict[str, set[tuple[int, bool]]] = {}
        for load in loads:
            # A relay's coil that is in series with what it senses is drawn as a contact is.
            coil = self.ladder.of.get((load.kind, load.name))
            named = coil.scope if isinstance(coil, Contact) else load.name
            whose = "" if last in (None, load) else f"{self._called(named)} "
            if lines := self.moved.get(load.name, []) if load.kind in ("load", "contact") else []:
                list_lines(f"{whose}contacts: ", lines)
            for told in self.told.get(load.name, ()) if load.kind == "input" else ():
                if line := self.line_of.get(("load", told.name)):
                    said.append(f"{told.kind}: line {line}")
            if lines := self.proving.get(load.name, []) if load.kind == "load" else []:
                list_lines(f"{whose}end switch: ", lines)
            controls = self.controlled.get(load.name, {}) if load.kind in ("load", "input") else {}
            own = self.heeds[load.name].by.name if controls else ""
            own = own if own == load.name or load.kind == "input" else ""
            alone = self.alone.get(load.name, {}) if load.kind == "input" else {}
            for stand, lines in alone.items():
                parted |= {len(said)} if said else set()
                list_lines(f"{stand.value}, contacts: ", lines, LONGEST)
                for word, words in (("begins", stand.begins), ("ends", stand.ends)):
                    said += evenly(f"{word}: {words}", LONGEST, SMALL) if words else []
            if own in controls and not alone:
                list_lines(f"{whose}contacts: ", controls[own])
            for control in controls.keys() - {own}:
                by.setdefault(control, set()).update(controls[control])
            strange += (*self._odd(load), *(["between two sources"] if apart else []))
        for control, moved in sorted(by.items()):
            list_lines(f"by {control}: ", sorted(moved), LONGEST)
        beside = max((text_width(line, SMALL) for line in said), default=0.0)
        odd = tuple(line for words in dict.fromkeys(strange) for line in _evenly(words, beside))
        return Note(tuple(filter(None, said)), odd, tuple(marked), frozenset(parted))

    def _turned(self, load: Element) -> bool:
        """Whether the neutral of a source is on the screw for a hot, and a hot on the one for the neutral."""
        what, terminals = self.ladder.of.get((load.kind, load.name)), self.circuit.board.terminals
        ends = (what.hot, what.neutral) if isinstance(what, Outlet) else ()
        if isinstance(what, Load):
            by_role = {terminals[end].spec.role: end for end in (what.a, what.b) if end in terminals}
            ends = (by_role["hot"], by_role["neutral"]) if by_role.keys() == {"hot", "neutral"} else ()
        used = [self.ladder.uses.of(end) for end in ends]
        return bool(used) and used[0] in NEUTRAL and used[1] in HOT

    def _of_role(self, node: int, role: str) -> list[str]:
        """The screws of a node that are of a role, as those for the ground."""
        terminals = self.circuit.board.terminals
        points = self.ladder.points[node]
        return [point for point in points if point in terminals and terminals[point].spec.role == role]

    def _bare(self, rails: Sequence[int]) -> str:
        """What a row without a load is: wired around, a short circuit, or a tie between two sources."""
        ends = set(rails)
        if len(ends) == 1:
            return AROUND
        panels = {self.ladder.node[leg.point] for leg in self.circuit.legs} | {0}
        windings = [{self.ladder.node[point] for point in each.secondary} for each in self.circuit.windings]
        one = len(ends & panels) > 1 or any(each <= ends for each in windings)
        return "no load: a short circuit" if one else "no load: ties two sources"

    def _leads_nowhere(self, end: int) -> bool:
        """Whether no source is at an end of a load, nor a contact that leads on."""
        rail = self.ladder.rails.get(end)
        return rail.open if rail else end in self.ladder.dead or self.ladder.meeting[end] == 1

    def _odd(self, load: Element) -> Iterator[str]:
        if load.a == load.b:
            yield "both ends on one wire"
            return
        lost = [end for end in (load.a, load.b) if self._leads_nowhere(end)]
        rails = next((rung.rails for rung in self.ladder.rungs if load in rung.loads), ())
        # Where it stands between two rails that are one, the heading says so.
        if len(rails) == 1 and not lost:
            yield f"both ends lead to {self.rail(*rails)}"
        if len(lost) > 1 and not any(self._of_role(end, "ground") for end in lost):
            yield "neither end leads to a source"
            lost = []
        for end in lost:
            grounds = self._of_role(end, "ground")
            yield f"one end leads to {listed(grounds)} alone" if grounds else f"one end {NOWHERE}"
        if self._turned(load):
            yield "hot and neutral exchanged"
        if self.ladder.on_the_ground(load):
            yield "returns on the ground"
        if load.kind == "load":
            yield from self._lead_astray(self.circuit.load_of[load.name].device)

    def letters(self, node: int) -> str:
        """The terminal letters where a meter's lead goes: R, W, Y, G, C; a lead's own a or b is none.

        On a wire that is there for a signal alone, that it is one, and its screws.
        """
        if node in self.signals:
            return f"signal {'/'.join(sorted(self.signals[node]))}"
        names: list[str] = []
        for point in self.ladder.points.get(node, ()):
            terminal = self.circuit.board.terminals.get(point)
            if terminal is None or terminal.owner not in self.circuit.board.devices:
                continue
            name = terminal.spec.name
            lettered = len(name) <= LETTERS and not name.islower()
            if lettered and terminal.spec.role in ("class-2", "class-2-common"):
                names.append(name)
        return "/".join(sorted(dict.fromkeys(names), key=lambda one: (-names.count(one), names.index(one))))

    def rail(self, node: int) -> str:
        """A rail's name: L1, L2, N, or the letters on it; behind a transformer without any, its volts or COM.

        So an electrician writes them on a drawing: 24 V from the transformer to its fuse, R behind that.
        """
        rail = self.ladder.rails.get(node)
        if rail is None:
            return " ".join(filter(None, (self.letters(node), str(self.wires[node]))))
        if rail.open:
            return self.letters(node) or "?"
        names = []
        many = len(self.circuit.board.sources) > 1
        legs = {leg.name: f"L{'abc'.index(leg.letter) + 1}" for leg in self.circuit.legs}
        for name in rail.names:
            point = self.circuit.point[name]
            if name in legs:
                names.append(f"{point.owner} {legs[name]}" if many else legs[name])
            elif point.owner in self.circuit.board.panels:
                names.append("N")
            else:
                names.append(self.letters(node) or self._fed(name))
        return "/".join(dict.fromkeys(names))

    def grounded(self, node: int, grid: Grid) -> bool:
        """Whether a secondary that feeds a ladder is on the ground by a rail, and not on a neutral alone."""
        uses = self.ladder.uses
        ends = {end for cell in grid.cells if cell.winding for end in cell.winding.secondary}
        return any(
            self.ladder.node[end] == node == 0
            and any(feed.kind == "ground" for feed in uses.direct[uses.piece[end]])
            for end in ends
        )

    def _fed(self, end: str) -> str:
        """An end of a secondary: by its screw where that has a letter, else by its volts or as the common."""
        screw = self.circuit.point[end].screw
        if len(screw) <= LETTERS:
            return screw
        volts = [w.secondary_volts for w in self.circuit.windings if w.secondary[0] == end]
        return f"{rounded(volts[0])} V" if volts else "COM"

    def heading(self, grid: Grid) -> str:
        """What stands over a ladder: its source, its rails, the volts between them."""
        names = [self.rail(node) for node in grid.rails]
        if grid.motor:
            load = self.ladder.of["load", grid.motor.element.name]
            assert isinstance(load, Load)
            return f"{load.name}, {names[0]}, {names[1]} and {names[2]} ({rounded(load.volts)} V)"
        if grid.mesh:
            return f"Between {', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else f"At {names[0]}"
        ladder = self.ladder
        ends = set(grid.rails)
        heads = {self.whose(head[0].element) for head in grid.heads if head}
        source, volts = "", self.apart(grid.rails)
        known = {ladder.node[leg.point]: leg.volts for leg in ladder.circuit.legs} | {0: 0}
        panels = {leg.panel for leg in ladder.circuit.legs if ladder.node[leg.point] in ends}
        if ends <= set(known):
            source = f"{min(heads or panels)}, " if len(heads or panels) == 1 else ""
            one, other = grid.rails
            volts = f" ({reading(abs(known[one] - known[other]), 'V')})"
        for winding in ladder.circuit.windings:
            if {ladder.node[point] for point in winding.secondary} == ends:
                made, rated = self._made(winding, known), rounded(winding.secondary_volts)
                source, volts = f"{winding.name}, ", f" ({rated} V)"
                if not NEAR < made / winding.secondary_volts < 1 / NEAR:
                    volts = f" ({reading(made, 'V')}, made for {rated} V)"
        over = self._over_a_tie(grid.rails)
        source = source or (f"{over}, " if over else "")
        shut = [node in ladder.rails and ladder.rails[node].open for node in grid.rails]
        if len(ends) == 1:
            volts = " (one and the same wire)"
        elif any(shut):
            volts = " (not fed)" if all(shut) else " (fed on one side only)"
        volts = "" if volts == f" ({names[0]})" else volts
        more = ", continued" if grid.continued else ""
        return f"{source}{names[0]} to {names[1]}{volts}{more}"

    def _made(self, winding: Winding, known: Mapping[int, complex]) -> float:
        """The volts of a secondary with what its primary stands between, where that is known; else its own.

        By the ratio of turns, which a tap for another voltage changes.
        """
        primary = next((r for r in self.ladder.rungs for each in r.loads if each.name == winding.name), None)
        if primary is None or len(primary.rails) != 2 or not known.keys() >= set(primary.rails):
            return winding.secondary_volts
        one, other = primary.rails
        return winding.secondary_volts * abs(known[one] - known[other]) / winding.primary_volts

    def _over_a_tie(self, rails: Sequence[int]) -> str:
        """The transformer that feeds two rails, one of them by a fuse that ties it there; else nothing."""
        ties = [
            set(rung.rails)
            for rung in self.ladder.rungs
            if not rung.loads and {each.kind for each in rung_elements(rung)} == {"pole"}
        ]
        for winding in self.circuit.windings:
            ends = {self.ladder.node[end] for end in winding.secondary}
            here, there = ends & set(rails), set(rails) - ends
            if len(here) == len(there) == 1 and there | (ends - here) in ties:
                return winding.name
        return ""

    def apart(self, rails: Sequence[int]) -> str:
        """Which transformers feed two rails that no one source holds apart."""
        circuit, node = self.circuit, self.ladder.node
        if any({node[end] for end in winding.secondary} >= set(rails) for winding in circuit.windings):
            return ""
        if self._over_a_tie(rails):
            return ""
        fed = [
            [winding.name for winding in circuit.windings for end in winding.secondary if node[end] == rail]
            for rail in rails
        ]
        return f" ({fed[0][0]} to {fed[1][0]})" if all(fed) and fed[0][0] != fed[1][0] else ""

    def head(self, step: Step, grid: Grid) -> Caption:
        """The sign and the words of what stands in a rail."""
        what = self.ladder.of[step.element.kind, step.element.name]
        if isinstance(what, Protection):
            return self._pole(what, self.some_heads.get((id(grid), step.element.name), ""))
        caption = self.of(Cell(step.element, step.left, step.right, 0, 0))
        if caption.switch is None:
            return caption
        poles = self.some_heads.get((id(grid), step.element.name), "")
        return caption._replace(under=_lines([poles, self._place(self.whose(step.element))]))

    def whose(self, element: Element) -> str:
        """The breaker, the fuse or the device that a pole or a contact belongs to."""
        what = self.ladder.of[element.kind, element.name]
        return what.name if isinstance(what, Protection) else getattr(what, "scope", element.name)

    def title(self, node: int) -> str:
        """The points of a node, for who points at it."""
        points = self.ladder.points.get(node, ())
        return ", ".join(points[:12]) + (f" and {len(points) - 12} more" if len(points) > 12 else "")


def _moves(contact: Contact, part: Part, rests: bool) -> str:
    """What a contact does on a rise or a fall, after what time, and whether a hand has to close it again."""
    if "opens-once" in contact.flags:
        return "opens once"
    words = [sense(contact.flags, part.moved_by, rests)]
    words += [f"after {short_clock(contact.waits)}"] if contact.waits else []
    words += ["manual reset"] if "hand-reset" in contact.flags else []
    return ", ".join(filter(None, words))


def _screw(name: str) -> str:
    """A screw that something senses: a word such as "in" is marked, so as not to be read as one.

    >>> _screw("W2"), _screw("in")
    ('W2', 'screw "in"')
    """
    return f'screw "{name}"' if name.islower() else name


def _name(name: str) -> tuple[str, ...]:
    """A name on as many lines as it needs, broken at a dot or a space where it can be.

    What is too short for a line of its own stays beside the rest.

    >>> _name("F.limit"), _name("CU.compressor.protector"), _name("HP.reversing-valve")
    (('F.limit',), ('CU.compressor', 'protector'), ('HP.reversing-valve',))
    """
    cut = max(name.rfind("."), name.rfind(" "))
    if text_width(name, NAME, True) <= (LABEL if cut > LETTERS else LONGEST):
        return (name,)
    if cut < 0:
        return (shorten(name, LONGEST, NAME, True),)
    head, tail = name[:cut], name[cut + 1 :]
    return shorten(head, LONGEST, NAME, True), shorten(tail, LONGEST, NAME, True)


def _lines(words: Iterable[str]) -> tuple[str, ...]:
    lines: list[str] = []
    for text in words:
        lines += evenly(text, LABEL, SMALL)
    if len(lines) > UNDER:
        lines = [*lines[: UNDER - 1], f"{lines[UNDER - 1]} ..."]
    return tuple(shorten(line, LABEL, SMALL) for line in lines)


def _folded(words: str, numbers: Sequence[str], wide: float) -> list[list[str]]:
    """Numbers behind words, in as few rows as may be, and these about as long as one another.

    >>> _folded("contacts: ", ["4", "5", "6", "10"], 104.0)
    [['4', '5', '6', '10']]
    >>> _folded("contacts: ", ["4", "5", "6", "7", "10", "11"], 104.0)
    [['4', '5'], ['6', '7', '10', '11']]
    """

    def rows(wide: float) -> list[list[str]]:
        found: list[list[str]] = [[]]
        for number in numbers:
            line = ", ".join((*found[-1], number))
            if found[-1] and text_width(line if found[1:] else f"{words}{line}", SMALL) > wide:
                found.append([])
            found[-1].append(number)
        return found

    few = len(rows(wide))
    return next((each for at in range(int(wide)) if len(each := rows(at)) == few), rows(wide))


def _evenly(words: str, beside: float = 0.0) -> list[str]:
    """What is odd beside a row, in as few lines as may be, and these about as long as one another.

    What takes one line has two where it is then no wider than what else stands there, `beside`.

    >>> _evenly("one end leads to no source"), _evenly("between two sources")
    (['one end leads', 'to no source'], ['between two sources'])
    >>> _evenly("wired around", 50.0)
    ['wired', 'around']
    """
    lines = wrap(words, ODD, SMALL)
    if len(lines) == 1 and beside:
        two = wrap(words, beside, SMALL)
        return two if len(two) == 2 and all(text_width(line, SMALL) <= beside for line in two) else lines
    return evenly(words, ODD, SMALL)


def _at_lines(what: str, lines: Sequence[str]) -> str:
    """On which lines something is.

    >>> _at_lines("contact", ["4"]), _at_lines("heater", ["1", "2", "3"])
    ('contact: line 4', 'heaters: lines 1, 2 and 3')
    """
    return f"{what}s: lines {listed(lines)}" if len(lines) > 1 else f"{what}: line {lines[0]}"


def _signals_of(load: Load) -> set[str]:
    """The inputs that the electronics of a load look at, by their points."""
    gates = [one.gate for one in (load, *load.speeds) if one.gate is not None]
    return {
        f"{gate.scope}.{fact.terminal.text}"
        for gate in gates
        for fact in each_fact(gate.when)
        if isinstance(fact, HasVoltage)
    }


def _carriers(condition: Condition) -> Iterator[tuple[str, str]]:
    """The pairs of terminals whose current a condition looks at."""
    for fact in each_fact(condition):
        if isinstance(fact, Carries):
            yield fact.terminal.text, fact.other.text


def _positions(facts: Iterable[Condition]) -> list[Condition]:
    return [fact for fact in facts if isinstance(fact, InPosition)]


def _by_position(condition: Condition) -> bool:
    """Whether a contact follows the positions of its device, and beside these no more than its power.

    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> night, eye = InPosition(Word("night", here)), Runs(Word("eye", here))
    >>> _by_position(AllOf((night, eye))), _by_position(AllOf((eye, eye)))
    (True, False)
    """
    match condition:
        case AnyOf(facts):
            return len(_positions(facts)) == len(facts)
        case AllOf(facts):
            others = [fact for fact in facts if not isinstance(fact, InPosition)]
            return len(others) < len(facts) and all(isinstance(fact, Runs) for fact in others)
        case _:
            return isinstance(condition, InPosition)
