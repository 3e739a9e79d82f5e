"""What is inside a piece of equipment, as wires and what lies between them, in columns and rows.

A wire that a screw leads to, or where three ends meet, stands upright: it is a column. What lies in series
between two of them is a branch, and has a row. Columns stand as the current goes: from each screw on through
what hangs on it, the ways back last. What switches stands at the left of its row, what draws current at the
right. What a transformer alone ties to line voltage is low voltage, and a half of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, inner_bonds
from wirecheck.circuit.controls import looked_at
from wirecheck.circuit.ladder import Ladder
from wirecheck.circuit.machine import unseen
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.rungs import ladder
from wirecheck.circuit.structure import Element, Kind
from wirecheck.drawing.captions import Caption, Captions
from wirecheck.drawing.cells import Cell, Grid
from wirecheck.drawing.grid import grids
from wirecheck.model.board import Device
from wirecheck.model.devices import every_device

MOST_TRIED = 200
"""How many rows are looked at for room in them; what finds none there has a row of its own."""
SWEEPS = 60
"""How often each wire takes the mean of those near it, by which wires have their order from left to right."""
LOW_ROLES = ("class-2", "class-2-common")
LAST = ("neutral", "class-2-common", "ground")
"""What stands at the right: the ways back, and the ground after them."""
SWITCHING = ("contact", "pole")


class Laddered(NamedTuple):
    """A circuit as it is wired, and its ladder, with the signs and words of all that is in devices."""

    wired: Circuit
    ladder: Ladder
    grids: list[Grid]


class Part(NamedTuple):
    """Something between two wires of the inside: its ends as points, its sign and words.

    `way` is 1, and -1 where it is told from its other end.
    """

    kind: str
    name: str
    a: str
    b: str
    caption: Caption
    way: int = 1

    @property
    def turned(self) -> Part:
        """The same from its other end."""
        return self._replace(a=self.b, b=self.a, way=-self.way)


class Branch(NamedTuple):
    """Parts in series from left to right, each with its gap and its place there, between two columns.

    `wires` are those along it, one more than parts; the first or the last is empty where the branch ends in
    nothing. Gaps are counted by the column at their left, places from the gap's left end, or where `fed` by
    what draws current from its right end.
    """

    parts: tuple[Part, ...]
    wires: tuple[str, ...]
    left: int
    right: int
    row: int = 0
    gaps: tuple[int, ...] = ()
    places: tuple[int, ...] = ()


class Half(NamedTuple):
    """The wires of one voltage that stand upright, from left to right, and the branches between them.

    `slots` says for each column how many parts the gap behind it has room for.
    """

    heading: str
    low: bool
    columns: tuple[str, ...]
    branches: tuple[Branch, ...]
    slots: tuple[int, ...]


def nets(whole: Circuit, device: Device) -> dict[str, str]:
    """The wire that each point inside belongs to: what the wiring inside holds together as it is.

    A motor's lead goes on to its winding, whether its rotor turns or stands.
    """
    inside = {each.name: each for each in every_device({device.name: device})}
    ties = [(a, b) for a, b, _ in inner_bonds(whole.board, inside)]
    ties += ((each.a, each.b) for each in unseen(whole) if each.scope in inside)
    points = [f"{each.name}.{terminal}" for each in inside.values() for terminal in each.part.terminals]
    # A lead that is off is a point of its own.
    points += (end for tie in ties for end in tie)
    points += (end for one in whole.contacts if one.scope in inside for end in (one.a, one.b))
    return pieces(dict.fromkeys(points), ties)


def laddered(whole: Circuit) -> Laddered:
    """A circuit's ladder, once for all that is drawn of its insides."""
    told = ladder(whole)
    return Laddered(whole, told, grids(told))


def parts_inside(drawn: Laddered, device: Device) -> list[Part]:
    """What stands between two wires inside, with the sign and the words that the ladder has for it."""
    whole = drawn.ladder.circuit
    captions = Captions(drawn.ladder, drawn.grids, short_names(device))
    own = {each.name for each in every_device({device.name: device})}
    windings = [winding for winding in whole.windings if winding.device in own]
    found = [
        Part("secondary", each.name, *each.secondary, captions.of(Cell(None, 0, 0, 0, 0, each)))
        for each in windings
    ]
    for kind, name, a, b in _elements(whole, own):
        caption = captions.of(Cell(Element(kind, name, 0, 0), 0, 0, 0, 0))
        if kind == "load" and caption.sign == "motor" and whole.load_of[name].c is not None:
            caption = caption._replace(sign="windings")
        found.append(Part(kind, name, a, b, caption))
    return found


def _elements(whole: Circuit, own: Set[str]) -> Iterator[tuple[Kind, str, str, str]]:
    """The kind, the name and the ends of each thing in these devices, but for what feeds."""
    for protection in whole.protections:
        if protection.device in own:
            for pole, (a, b) in enumerate(protection.pairs):
                yield "pole", protection.pole(pole), a, b
    yield from (("contact", each.name, each.a, each.b) for each in whole.contacts if each.scope in own)
    yield from (("load", name, a, b) for name, a, b in whole.drawn if whole.load_of[name].device in own)
    yield from (("primary", each.name, *each.primary) for each in whole.windings if each.device in own)
    yield from (("outlet", each.name, each.hot, each.neutral) for each in whole.outlets if each.device in own)
    for one, reference in whole.heard:
        if all(end in whole.point and whole.point[end].owner in own for end in (one, reference)):
            yield "input", one, one, reference


def short_names(device: Device) -> dict[str, str]:
    """What each thing inside is called there: by its name without the equipment's own.

    >>> import wirecheck
    >>> board = wirecheck.assemble('board "Heat"\\nF is gas-furnace')[1]
    >>> [short_names(board.devices["F"])[name] for name in ("F.limit", "F.control", "F.transformer")]
    ['limit', 'control', 'transformer']
    """
    short: dict[str, str] = {}
    for each in every_device({device.name: device}):
        part, dot = each.part, "." if each.inside else ""
        named = [one.name for one in part.loads] + [one.name for one in part.outlets]
        named += [one.name for one in part.states]
        short |= {f"{each.name}.{name}": f"{each.inside}{dot}{name}" for name in named}
        short[each.name] = each.inside
        if each.inside:
            count = range(len(part.transformers))
            short |= {part.winding_name(each.name, n): part.winding_name(each.inside, n) for n in count}
            count = range(len(part.protections))
            short |= {part.protection_name(each.name, n): part.protection_name(each.inside, n) for n in count}
    return short


def halves(drawn: Laddered, device: Device, net: Mapping[str, str]) -> list[Half]:
    """Line voltage and low voltage, which is 24 V mostly: what a transformer alone joins is apart."""
    whole = drawn.ladder.circuit
    parts = parts_inside(drawn, device)
    read = _read(whole)
    own = {each.name for each in every_device({device.name: device})}
    lines = 3 if any(load.c is not None for load in whole.loads if load.device in own) else 2
    roles = _roles(device, net)
    ties = [(net[part.a], net[part.b]) for part in parts]
    group = pieces(dict.fromkeys(net.values()), ties)
    low = {group[one] for one, role in roles.items() if role in LOW_ROLES}
    low |= {group[net[part.a]] for part in parts if part.kind == "secondary"}
    if low:
        # A contact that only a control looks at, and no screw leads to: the control's own.
        fed = {group[one] for one in roles} | {group[net[part.a]] for part in parts if part.kind != "contact"}
        low |= {one for one in group.values() if one not in fed}
    found = []
    for heading, wanted in (("Line voltage", False), ("Low voltage", True)):
        screws = {one: role for one, role in roles.items() if (group[one] in low) == wanted}
        here = [part for part in parts if (group[net[part.a]] in low) == wanted]
        if screws or here:
            found.append(_half(heading, wanted, screws, here, net, read, lines))
    return found


def _read(whole: Circuit) -> set[str]:
    """The contacts of devices whose position a control looks at, wired to it or not."""
    conditions = [(each.when, each.scope) for each in whole.contacts]
    conditions += [(each.when, each.scope) for each in whole.moves if each.when is not None]
    seen = {f"{scope}.{name}" for when, scope in conditions for name in looked_at(when)}
    return {each.name for each in whole.contacts if each.scope in seen}


def _roles(device: Device, net: Mapping[str, str]) -> dict[str, str]:
    """What the first screw at each wire is there for, in the order of the screws."""
    roles: dict[str, str] = {}
    for terminal in device.part.terminals.values():
        roles.setdefault(net[f"{device.name}.{terminal.name}"], terminal.role)
    return roles


def _half(
    heading: str,
    low: bool,
    roles: Mapping[str, str],
    parts: Sequence[Part],
    net: Mapping[str, str],
    read: Set[str],
    lines: int,
) -> Half:
    meets: dict[str, list[Part]] = {one: [] for one in roles}
    for part in parts:
        meets.setdefault(net[part.a], []).append(part)
        meets.setdefault(net[part.b], []).append(part.turned)
    upright = _upright(roles, parts, meets, net)
    chains = list(_chains(upright, meets, net))
    fed = [each for each in parts if each.kind == "secondary"]
    sources, returns = [net[each.a] for each in fed], [net[each.b] for each in fed]
    columns = _ordered(upright, chains, roles, sources, returns, lines)
    place = {one: number for number, one in enumerate(columns)}
    branches = [_laid(_said(parts, wires, read), wires, place) for parts, wires in chains]
    branches, slots = _in_gaps(branches, len(columns))
    return Half(heading, low, columns, tuple(_in_rows(branches)), tuple(slots))


def _upright(
    roles: Mapping[str, str], parts: Sequence[Part], meets: Mapping[str, list[Part]], net: Mapping[str, str]
) -> dict[str, None]:
    """The wires that are columns: those with a screw, those where three ends meet, one a circuit at least."""
    upright = dict.fromkeys([*roles, *(one for one, ends in meets.items() if len(ends) > 2)])
    group = pieces(meets, [(net[part.a], net[part.b]) for part in parts])
    there = {group[one] for one in upright}
    for part in parts:
        if group[net[part.a]] not in there:
            there.add(group[net[part.a]])
            alone = all(len(meets[net[end]]) == 1 for end in (part.a, part.b))
            upright |= dict.fromkeys(
                net[end] for end in (part.a, part.b) if not alone and len(meets[net[end]]) > 1
            )
    return upright


def _chains(
    upright: Mapping[str, None], meets: Mapping[str, list[Part]], net: Mapping[str, str]
) -> Iterator[tuple[list[Part], list[str]]]:
    """Parts in series with the wires along them, from an upright wire or from where nothing is."""
    seen: set[tuple[str, str]] = set()
    starts = [*upright, *(one for one, ends in meets.items() if len(ends) == 1 and one not in upright)]
    for start in starts:
        for first in meets[start]:
            parts: list[Part] = []
            wires = [start if start in upright else ""]
            each: Part | None = first
            while each is not None and (each.kind, each.name) not in seen:
                seen.add((each.kind, each.name))
                parts.append(each)
                end = net[each.b]
                onward = [one for one in meets[end] if (one.kind, one.name) != (each.kind, each.name)]
                wires.append("" if end not in upright and not onward else end)
                each = None if end in upright or not onward else onward[0]
            if parts:
                yield parts, wires


def _ordered(
    upright: Mapping[str, None],
    chains: Sequence[tuple[list[Part], list[str]]],
    roles: Mapping[str, str],
    sources: Sequence[str],
    returns: Sequence[str],
    lines: int,
) -> tuple[str, ...]:
    """The columns: from each source on, in the order of the volts between it and the way back."""
    last = {one: LAST.index(roles[one]) for one in upright if roles.get(one) in LAST}
    last |= {one: 1 for one in returns if one in upright and one not in last}
    near: dict[str, list[tuple[str, int]]] = {one: [] for one in upright}
    for parts, wires in chains:
        one, other = wires[0], wires[-1]
        if one and other and one != other:
            near[one].append((other, len(parts)))
            near[other].append((one, len(parts)))
    hots = [one for one in upright if roles.get(one) == "hot"]
    piece = pieces(upright, [(one, other) for one in near for other, _ in near[one]])
    # On one phase a second hot is a way back, and on three phases a third one is, too.
    returns_there = any(rank != LAST.index("ground") for rank in last.values())
    if hots and not returns_there:
        last |= {one: 0 for one in hots[1:lines] if piece[one] == piece[hots[0]]}
    group: dict[str, int] = {}
    firsts: set[str] = set()
    starts = [one for one in (*sources, *upright) if one in upright]
    for number, source in enumerate(starts):
        if source in last or source in group:
            continue
        firsts.add(source)
        waiting = [source]
        while waiting:
            one = waiting.pop()
            if one not in group and one not in last:
                group[one] = number
                waiting += (other for other, _ in reversed(near[one]))
    level = dict.fromkeys(upright, 0.0) | dict.fromkeys(last, 1.0)
    for _ in range(SWEEPS):
        for one in group:
            weights = sum(1 / length for _, length in near[one])
            if one not in firsts and weights:
                level[one] = sum(level[other] / length for other, length in near[one]) / weights
    return (
        *sorted(group, key=lambda one: (group[one], round(level[one], 6))),
        *sorted(last, key=lambda one: last[one]),
    )


def _said(parts: Sequence[Part], wires: Sequence[str], read: Set[str]) -> Sequence[Part]:
    """Parts with a word for why nothing is wired to them, where nothing is."""
    if wires[0] and wires[-1]:
        return parts
    looked_at = not wires[0] and not wires[-1] and all(part.name in read for part in parts)
    word = "read by the control" if looked_at else "not used"
    return [part._replace(caption=part.caption._replace(under=(*part.caption.under, word))) for part in parts]


def _laid(parts: Sequence[Part], wires: Sequence[str], place: Mapping[str, int]) -> Branch:
    """A branch from the left to the right; one that ends in nothing keeps to the gap beside its column."""
    ends = [place.get(wires[0]), place.get(wires[-1])]
    most = max(len(place) - 1, 0)
    if ends[0] is None or (ends[1] is not None and ends[1] < ends[0]):
        parts, wires, ends = [part.turned for part in reversed(parts)], [*reversed(wires)], ends[::-1]
    left, right = ends
    if left is None:
        left, right = 0, min(1, most)
    elif right is None and 0 < left == most:
        parts, wires = [part.turned for part in reversed(parts)], [*reversed(wires)]
        left, right = most - 1, most
    elif right is None:
        right = min(left + 1, most)
    return Branch(tuple(parts), tuple(wires), left, right)


def _in_gaps(branches: Sequence[Branch], columns: int) -> tuple[list[Branch], list[int]]:
    """Each part in a gap, short branches first, and how many parts each gap has room for."""
    slots = [0] * max(columns, 1)
    placed = list(branches)
    order = sorted(range(len(placed)), key=lambda n: (placed[n].right - placed[n].left, placed[n].left, n))
    for number in order:
        branch = placed[number]
        end = max(branch.right - 1, branch.left)
        switches = _switches(branch)
        tail = len(branch.parts) - switches
        gap, used = branch.left, 0
        gaps, places = [], []
        for _ in range(switches):
            while gap < end and used >= slots[gap]:
                gap, used = gap + 1, 0
            if gap == end:
                slots[gap] = max(slots[gap], used + 1 + tail)
            gaps.append(gap)
            places.append(used)
            used += 1
        slots[end] = max(slots[end], tail + (used if gap == end else 0))
        gaps += [end] * tail
        places += range(-tail, 0)
        placed[number] = branch._replace(gaps=tuple(gaps), places=tuple(places))
    return placed, slots


def _switches(branch: Branch) -> int:
    """How many parts at the left of a branch are no loads; none where it comes from nothing."""
    if not branch.wires[0] and branch.wires[-1]:
        return 0
    if not branch.wires[-1]:
        return len(branch.parts)
    loads = (number for number, part in enumerate(branch.parts) if part.kind not in SWITCHING)
    return next(loads, len(branch.parts))


def _in_rows(branches: Sequence[Branch]) -> Iterator[Branch]:
    """Each branch in the first row where nothing is between its two columns; what is on no wire, last."""
    ends: list[float] = []
    loose = [not any((branch.wires[0], branch.wires[-1])) for branch in branches]
    order = sorted(range(len(branches)), key=lambda n: (loose[n], branches[n].left, branches[n].right, n))
    for number in order:
        branch = branches[number]
        start = branch.left - (0.5 if not branch.wires[0] else 0.0)
        row = next((row for row, end in enumerate(ends[:MOST_TRIED]) if end <= start), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = max(branch.right, branch.left + 1) + (0.5 if not branch.wires[-1] else 0.0)
        yield branch._replace(row=row)
