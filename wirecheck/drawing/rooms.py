"""What stands in each room of a wiring diagram, and in which column the room stands.

A room is a place of the board: a panel, a box, or equipment that is its own
place. Columns follow the power: the panels first, then what their cables
reach, then what those reach. So a cable joins rooms of one column or of two
columns side by side, never across a third.
"""

from __future__ import annotations

import math
from collections import Counter, deque
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from itertools import takewhile

from wirecheck.circuit.pieces import pieces
from wirecheck.judge.grouped import grouped
from wirecheck.language.quantity import feet
from wirecheck.model.board import Board, Conductor, Device, Join, Member, Panel, Raceway, Terminal


@dataclass(eq=False)
class Bundle:
    """What runs between two rooms together: a cable, a raceway with its wires, or one wire.

    `words` are the lines of its label: its name with its length, what it is, and what a raceway has in it.
    """

    name: str
    kind: str
    words: tuple[str, ...]
    title: str
    size: str
    conductors: list[Conductor]
    places: tuple[str, str]


@dataclass(eq=False)
class Pin:
    """One end of a conductor where it comes out of the jacket, on a side of its room.

    `end` is how far from the left wall a wire that stays in its room leaves its row: for its screw or its
    splice, or that it is open there.
    """

    point: str
    conductor: Conductor
    port: Port
    row: float = 0
    y: float = 0.0
    wall_y: float = 0.0
    end: float = 0.0

    @property
    def left(self) -> bool:
        """Whether it comes in on the left side."""
        return self.port.left


@dataclass(eq=False)
class Port:
    """Where a bundle enters a room; its pins stand from top to bottom.

    `inner` is whether it is a wire that stays in its room, and runs level from end to end there.
    """

    bundle: Bundle
    room: Room
    left: bool
    pins: list[Pin] = field(default_factory=list)
    row: float = 0
    y: float = 0.0
    inner: bool = False

    @property
    def wall(self) -> float:
        """The x of the wall that it is in."""
        return self.room.x if self.left else self.room.x + self.room.width


@dataclass(eq=False)
class Tail:
    """What comes down onto a screw: a conductor, a pigtail of a splice, or a jumper's end."""

    slot: Slot
    pin: Pin | None = None
    splice: Splice | None = None
    jumper: int | None = None
    x: float = 0.0


@dataclass(eq=False)
class Slot:
    """A terminal's place on the upper edge of its body, with what comes down onto it.

    `over` is whether its body stands over the wires; then it is on the lower edge. `leads` is how many leads
    of breakers' own come to it from under it, if it is a panel's neutral bar.
    """

    terminal: Terminal
    tails: list[Tail] = field(default_factory=list)
    x: float = 0.0
    width: float = 0.0
    over: bool = False
    leads: int = 0

    @property
    def bar(self) -> bool:
        """Whether it is a bar of many screws."""
        return self.terminal.spec.holds == 0 or "bar" in self.terminal.spec.flags


@dataclass(eq=False)
class Splice:
    """Conductors' ends joined under one connector, with its pigtails; `spare` of these lead to no screw.

    A row of nothing but screws and pigtails has no conductor's end in its connector.
    """

    pins: list[Pin]
    tails: list[Tail] = field(default_factory=list)
    spare: int = 0
    x: float = 0.0
    link_y: float = 0.0


@dataclass(eq=False)
class Body:
    """A device, a breaker, a bar or a box's ground screw, with its terminals.

    `over` is whether it stands over the wires of its room, with its screws on its lower edge.
    """

    name: str
    title: str
    device: Device | None
    slots: list[Slot]
    rating: str = ""
    x: float = 0.0
    width: float = 0.0
    height: float = 0.0
    over: bool = False


@dataclass(eq=False)
class Room:
    """A place: its sides, its bodies, and the make-up inside; `legs` are those of a panel with breakers.

    `turned` is whether what feeds it comes in on the right, `lift` how far its frame reaches up, so that it
    begins with those beside it. `fed` is whether it is a panel that another feeds.
    `side_by_side` is whether its devices stand behind one plate.

    `floor` is where wires meet the screws of the devices under them, `ceiling` where they meet those of the
    devices over them, `first` where the rows of wires begin, and `jumper_at` where each jumper runs level.
    """

    name: str
    kind: str
    title: str
    column: int = 0
    left: list[Port] = field(default_factory=list)
    right: list[Port] = field(default_factory=list)
    bodies: list[Body] = field(default_factory=list)
    splices: list[Splice] = field(default_factory=list)
    direct: list[Tail] = field(default_factory=list)
    jumpers: list[tuple[Tail, Tail]] = field(default_factory=list)
    capped: set[str] = field(default_factory=set)
    legs: tuple[str, ...] = ()
    fed: bool = False
    side_by_side: bool = False
    x: float = 0.0
    y: float = 0.0
    width: float = 0.0
    height: float = 0.0
    rows: int = 0
    jumper_at: list[float] = field(default_factory=list)
    first: float = 0.0
    ceiling: float = 0.0
    floor: float = 0.0
    lift: float = 0.0
    turned: bool = False

    @property
    def cables(self) -> int:
        """How many wires a bar has room for: one of each cable.

        In a subpanel a wire on the other of its two bars is the usual mistake: each has room for it.
        """
        return len(self.left) + len(self.right) + self.fed

    @property
    def leads(self) -> list[Slot]:
        """The screws of its breakers from which a lead of the breaker's own goes to the neutral bar."""
        slots = [slot for body in self.bodies if body.rating for slot in body.slots]
        return [slot for slot in slots if slot.terminal.spec.name == "neutral"]

    @property
    def toward(self) -> list[Port]:
        """The ports on the side that power comes from."""
        return [port for port in (self.right if self.turned else self.left) if not port.inner]

    @property
    def away(self) -> list[Port]:
        """The ports on the other side."""
        return [port for port in (self.left if self.turned else self.right) if not port.inner]

    @property
    def inner(self) -> list[tuple[Port, Port]]:
        """The ports of the wires that stay in it, the two of each."""
        ports = [port for port in self.right if port.inner]
        return list(zip(ports[::2], ports[1::2], strict=True))

    @property
    def pins(self) -> list[Pin]:
        """Every conductor's end in the room, left side first, each side from the top."""
        return [pin for port in (*self.left, *self.right) for pin in port.pins]


def rooms_of(board: Board, back: Collection[str] = ()) -> list[Room]:
    """Every room of a board, column by column, with what is in it; `back` stand two columns before theirs."""
    rooms = _places(board)
    bundles = _bundles(board)
    columns = _columns(board, list(rooms), bundles)
    for name, column in columns.items():
        rooms[name].column = column - 2 if name in back else column
    ordered = _order(rooms, bundles)
    _ports(ordered, rooms, bundles)
    for room in ordered:
        _make_up(room, board)
    return ordered


def _places(board: Board) -> dict[str, Room]:
    rooms: dict[str, Room] = {}
    for panel in board.panels.values():
        rooms[panel.name] = Room(panel.name, "panel", _of_panel(panel), fed=panel.fed)
    for box in board.boxes.values():
        words = [box.kind, "box"]
        if box.metal:
            words.insert(0, "metal")
        rooms[box.name] = Room(box.name, "box", " ".join(words), side_by_side=box.kind == "device")
    for device in board.devices.values():
        if device.place == device.name:
            rooms[device.name] = Room(device.name, "equipment", device.part.name)
    slots: dict[str, list[Slot]] = {}
    for terminal in board.terminals.values():
        slots.setdefault(terminal.owner, []).append(Slot(terminal))
    for name, room in rooms.items():
        for slot in slots.get(name, []) if room.kind != "equipment" else []:
            room.bodies.append(Body(slot.terminal.name, slot.terminal.spec.name, None, [slot]))
    for breaker in board.breakers.values():
        if breaker.panel in rooms:
            kind = " ".join([f"{breaker.amps:g} A", *sorted(breaker.flags - {"1-pole"})])
            body = Body(breaker.name, breaker.name, None, slots.get(breaker.name, []), kind)
            rooms[breaker.panel].legs = tuple(board.panels[breaker.panel].legs)
            rooms[breaker.panel].bodies.append(body)
    for panel in board.panels.values():
        room = rooms[panel.name]
        for slot in slots.get(panel.name, []):
            slot.leads = len(room.leads) if slot.terminal.name == f"{panel.name}.neutral" else 0
    for device in board.devices.values():
        if device.place in rooms:
            body = Body(device.name, device.name, device, slots.get(device.name, []))
            rooms[device.place].bodies.append(body)
    return rooms


ORDER = ("white", "gray", "grey", "bare", "green")


def _rank(conductor: Conductor) -> int:
    """White and ground first: they are spliced through, above what comes down to the screws."""
    return ORDER.index(conductor.color) if conductor.color in ORDER else len(ORDER)


def _bundles(board: Board) -> list[Bundle]:
    bundles: dict[tuple[str, ...], Bundle] = {}
    for run in board.runs.values():
        places = (run.ends[0].place, run.ends[1].place)
        insulated = sum(conductor.color != "bare" for conductor in run.conductors)
        size = run.conductors[0].size if run.conductors else ""
        words = f"{size}/{insulated} {run.kind}" if run.jacketed else f"{size} {run.kind}"
        if run.raceway is None:
            kind = "cable" if run.jacketed else "wire"
            # What stays in its room is told with its name before it.
            inner = kind == "wire" and places[0] == places[1]
            told = (f"{words}, {feet(run.length)}",) if inner else (f"{run.name} {feet(run.length)}", words)
            bundles[("run", run.name)] = Bundle(
                run.name,
                kind,
                told,
                f"{run.name}: {words}, {feet(run.length)}",
                size,
                list(run.conductors),
                places,
            )
            continue
        raceway = board.raceways[run.raceway]
        key = ("raceway", raceway.name, *sorted(places))
        if key not in bundles:
            label = _raceway_words(raceway)
            parts = sum(other[:2] == key[:2] for other in bundles)
            name = f"{raceway.name}-{parts + 1}" if parts else raceway.name
            bundles[key] = Bundle(name, "raceway", label, f"{' '.join(label)}:", size, [], places)
        bundle = bundles[key]
        bundle.title += f"{',' if bundle.conductors else ''} {run.name} {words} {feet(run.length)}"
        bundle.conductors.extend(run.conductors)
    for raceway in board.raceways.values():
        if not raceway.runs:
            label = _raceway_words(raceway)
            bundles[("raceway", raceway.name)] = Bundle(
                raceway.name, "raceway", label, " ".join(label), "", [], raceway.places
            )
    for bundle in bundles.values():
        bundle.conductors.sort(key=_rank)
        if bundle.kind == "raceway" and bundle.conductors:
            bundle.words += _in_it(bundle.conductors)
    return list(bundles.values())


def _in_it(conductors: list[Conductor]) -> tuple[str, ...]:
    """How many wires of which size are in a raceway, as it is written in the trade: `3 #8`, then `1 #10`."""
    sizes = Counter(conductor.size for conductor in conductors)
    return tuple(f"{count} #{size}" for size, count in sizes.most_common())


def _of_panel(panel: Panel) -> str:
    """What a panel is, as the heading of its room says it."""
    words = f"{'subpanel' if panel.fed else 'panel'} {panel.system} V"
    said = {"bonded": panel.fed and panel.bonded, "detached": panel.detached}
    return ", ".join((words, *(word for word, so in said.items() if so)))


def _raceway_words(raceway: Raceway) -> tuple[str, str]:
    return f"{raceway.name} {feet(raceway.length)}", f"{raceway.kind} {raceway.size_text}"


def _columns(board: Board, names: list[str], bundles: list[Bundle]) -> dict[str, int]:
    """How many cables away from a panel each room is."""
    beside: dict[str, list[str]] = {name: [] for name in names}
    for bundle in bundles:
        one, other = bundle.places
        if one in beside and other in beside:
            beside[one].append(other)
            beside[other].append(one)
    columns: dict[str, int] = dict.fromkeys(board.sources, 0)
    for start in [None, *names]:
        if start is not None and start in columns:
            continue
        if start is not None:
            columns[start] = 0
        waiting = deque(columns if start is None else [start])
        while waiting:
            name = waiting.popleft()
            for other in beside[name]:
                if other not in columns:
                    columns[other] = columns[name] + 1
                    waiting.append(other)
    return columns


def _order(rooms: dict[str, Room], bundles: list[Bundle]) -> list[Room]:
    """Rooms column by column, each where the cables from the column before come in."""
    beside: dict[str, list[str]] = {name: [] for name in rooms}
    for bundle in bundles:
        one, other = bundle.places
        if one in rooms and other in rooms:
            beside[one].append(other)
            beside[other].append(one)
    declared = {name: place for place, name in enumerate(rooms)}
    ordered: list[Room] = []
    before: dict[str, int] = {}
    for column in range(max((room.column for room in rooms.values()), default=-1) + 1):
        here = [room for room in rooms.values() if room.column == column]

        def place(room: Room, before: dict[str, int] = before) -> tuple[float, int]:
            sources = [before[name] for name in beside[room.name] if name in before]
            return (sum(sources) / len(sources) if sources else len(before), declared[room.name])

        here.sort(key=place)
        before = {room.name: index for index, room in enumerate(here)}
        ordered += here
    return ordered


def _ports(ordered: list[Room], rooms: dict[str, Room], bundles: list[Bundle]) -> None:
    """Put each bundle's two ends on the sides of its rooms, in the order of where they lead."""
    place = {room.name: index for index, room in enumerate(ordered)}
    for bundle in bundles:
        if bundle.places[0] not in rooms or bundle.places[1] not in rooms:
            continue
        for which, name in enumerate(bundle.places):
            room, other = rooms[name], rooms[bundle.places[1 - which]]
            inner = room is other and bundle.kind == "wire"
            port = Port(bundle, room, left=other.column < room.column, inner=inner)
            for conductor in bundle.conductors:
                end = _end_in(conductor, name, which)
                port.pins.append(Pin(conductor.ends[end], conductor, port))
            (room.left if port.left else room.right).append(port)

    def leads_to(port: Port) -> tuple[bool, bool, int]:
        one, other = port.bundle.places
        far = rooms[other if port.room.name == one else one]
        return (port.inner, far.column == port.room.column, place[far.name])

    for room in ordered:
        room.left.sort(key=leads_to)
        room.right.sort(key=leads_to)


def _end_in(conductor: Conductor, place: str, which: int) -> int:
    if conductor.places[0] == conductor.places[1]:
        return which
    return conductor.places.index(place)


# ------------------------------------------------------------------- make-up


def _make_up(room: Room, board: Board) -> None:
    """Sort the joins made in a room into direct wires, splices with pigtails, and jumpers."""
    pins = {pin.point: pin for pin in room.pins}
    slots = {slot.terminal.name: slot for body in room.bodies for slot in body.slots}
    room.capped = {point for point in board.capped if point in pins}
    landed: dict[str, list[Slot]] = {}
    groups: dict[str, Splice] = {}
    tails: list[tuple[Splice, Slot]] = []
    jumped: set[tuple[str, str]] = set()
    tied: set[int] = set()
    rows: list[Splice] = []
    for join in board.joins:
        if join.place != room.name:
            continue
        splice = _spliced(join, pins, groups)
        row = _row_of_screws(join) if splice is None else []
        if len(row) > 2 and row[0] in slots:
            splice = Splice([])
            rows.append(splice)
            tails.append((splice, slots[row[0]]))
        for name, members in join.under.items():
            slot = slots.get(name)
            if slot is None or (not members and name in row[:1] and len(row) > 2):
                continue
            for member in members or _next_screw(join, name):
                of_row = member.kind == "pigtail" and bool(row)
                if of_row and name not in row[1:]:
                    continue
                # Between no more than two screws a pigtail is drawn as a jumper.
                jumps = of_row and splice is None
                lands = next(one for one in join.members if one.point == row[0]) if jumps else member
                before = len(room.jumpers)
                _land(lands, slot, splice, slots, pins, landed, tails, jumped, room)
                if jumps:
                    tied.update(range(before, len(room.jumpers)))
    for point, where in landed.items():
        pin = pins[point]
        group = groups.get(point)
        if group is None and len(where) == 1:
            tail = Tail(where[0], pin=pin)
            where[0].tails.append(tail)
            room.direct.append(tail)
            continue
        if group is None:
            group = groups[point] = Splice([pin])
        tails.extend((group, slot) for slot in where)
    for early, slot in tails:
        group = groups[early.pins[0].point] if early.pins else early
        tail = Tail(slot, splice=group)
        group.tails.append(tail)
        slot.tails.append(tail)
    room.splices = [*dict.fromkeys(groups.values()), *rows]
    _gather_at_leads(room, tied)


def _gather_at_leads(room: Room, tied: Collection[int]) -> None:
    """Bring one wire to each lead that several things are joined with: it has no screw for them.

    Parameters
    ----------
    tied : the numbers of those jumpers that are pigtails, which go from a connector to a screw
    """
    leads = {
        slot.terminal.name: slot
        for body in room.bodies
        for slot in body.slots
        if "lead" in slot.terminal.spec.flags
    }
    pairs = [(one.slot.terminal.name, other.slot.terminal.name) for one, other in room.jumpers]
    together = pieces(leads, (pair for pair in pairs if leads.keys() >= set(pair)))
    for group in grouped((together[name], slot) for name, slot in leads.items()).values():
        if any(len(slot.tails) > 1 for slot in group):
            _gather(room, group, tied)
    room.jumpers = [pair for pair in room.jumpers if pair[0] in pair[0].slot.tails]
    for number, pair in enumerate(room.jumpers):
        for tail in pair:
            tail.jumper = number


def _gather(room: Room, leads: Sequence[Slot], tied: Collection[int]) -> None:
    """Join some leads with all that meets them: under a screw beside them that takes it, or in one splice."""
    tails = [tail for slot in leads for tail in slot.tails]
    pins = [tail.pin for tail in tails if tail.pin is not None]
    splices = list(dict.fromkeys(tail.splice for tail in tails if tail.splice is not None))
    numbers = dict.fromkeys(tail.jumper for tail in tails if tail.jumper is not None)
    jumpers = [end for number in numbers for end in room.jumpers[number]]
    beside = list(dict.fromkeys(end.slot for end in jumpers if end.slot not in leads))
    meeting = len(pins) + len(leads) + len(beside) - 1
    screw = None
    if not splices and not numbers.keys() & tied:
        screw = next((slot for slot in beside if meeting <= _left_at(slot, jumpers)), None)
    spliced = [tail for splice in splices for tail in splice.tails]
    for tail in (*tails, *jumpers, *spliced):
        if tail in tail.slot.tails:
            tail.slot.tails.remove(tail)
    room.direct = [tail for tail in room.direct if tail not in tails]
    room.splices = [splice for splice in room.splices if splice not in splices]
    if screw is None:
        whole = Splice([*pins, *(pin for splice in splices for pin in splice.pins)])
        whole.spare = sum(splice.spare for splice in splices)
        for slot in dict.fromkeys((*leads, *beside, *(tail.slot for tail in spliced))):
            whole.tails.append(Tail(slot, splice=whole))
            slot.tails.append(whole.tails[-1])
        room.splices.append(whole)
        return
    for pin in pins:
        screw.tails.append(Tail(screw, pin=pin))
        room.direct.append(screw.tails[-1])
    for slot in (*leads, *beside):
        if slot is not screw:
            _jump(room, screw, slot)


def _left_at(slot: Slot, without: Collection[Tail]) -> float:
    """How many wires a terminal takes under its screws beside what is there, some of that left out."""
    spec = slot.terminal.spec
    takes = math.inf if slot.bar else spec.screws * spec.holds
    return takes - sum(tail not in without for tail in slot.tails)


def _jump(room: Room, one: Slot, other: Slot) -> None:
    """Join two screws by a jumper."""
    number = len(room.jumpers)
    room.jumpers.append((Tail(one, jumper=number), Tail(other, jumper=number)))
    for tail in room.jumpers[-1]:
        tail.slot.tails.append(tail)


def _next_screw(join: Join, screw: str) -> list[Member]:
    """The screw that one with nothing under itself is joined with: of a row with pigtails, the first one."""
    screws = [member for member in join.members if member.kind == "terminal"]
    place = [member.point for member in screws].index(screw)
    return [*screws[place + 1 :], *screws[:place]][:1]


def _row_of_screws(join: Join) -> list[str]:
    """The screw before a join's first pigtail, and each that one leads to from there, unless copper does."""
    screws = [member.point for member in join.members if member.kind == "terminal"]
    if not screws:
        return []
    before = takewhile(lambda member: member.kind != "pigtail", join.members)
    first = ([member.point for member in before if member.kind == "terminal"] or screws[:1])[-1]
    tied = _side_by_side(join)
    led = [
        name
        for name, members in join.under.items()
        if any(member.kind == "pigtail" for member in members) and tied[first] != tied[name]
    ]
    return [first, *led]


def _side_by_side(join: Join) -> dict[str, str]:
    """For each screw of a join, the one that stands for those that it is joined with screw to screw."""
    beside = ((name, each) for name, under in join.under.items() for each in under)
    return pieces(join.under, ((name, each.point) for name, each in beside if each.kind == "terminal"))


def _spliced(join: Join, pins: dict[str, Pin], groups: dict[str, Splice]) -> Splice | None:
    """The splice of this join, one with any other that holds one of its ends."""
    ends = [member.point for member in join.splice if member.kind == "end" and member.point in pins]
    if not ends:
        return None
    whole = Splice([])
    for end in ends:
        other = groups.get(end) or Splice([pins[end]])
        if other is not whole:
            for pin in other.pins:
                whole.pins.append(pin)
                groups[pin.point] = whole
            whole.spare += other.spare
    landed = {member.span for members in join.under.values() for member in members}
    whole.spare += sum(member.kind == "pigtail" and member.span not in landed for member in join.members)
    return whole


def _land(
    member: Member,
    slot: Slot,
    splice: Splice | None,
    slots: dict[str, Slot],
    pins: dict[str, Pin],
    landed: dict[str, list[Slot]],
    tails: list[tuple[Splice, Slot]],
    jumped: set[tuple[str, str]],
    room: Room,
) -> None:
    """Bring one member of a join down onto a screw."""
    if member.kind == "end" and member.point in pins:
        landed.setdefault(member.point, []).append(slot)
    elif member.kind == "pigtail" and splice is not None:
        tails.append((splice, slot))
    elif member.kind == "terminal" and member.point in slots:
        pair = (min(slot.terminal.name, member.point), max(slot.terminal.name, member.point))
        if pair not in jumped:
            jumped.add(pair)
            _jump(room, slot, slots[member.point])
