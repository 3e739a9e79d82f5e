"""What is inside a piece of equipment, wired: as on the diagram inside a cabinet's door.

Line voltage stands apart from 24 V. The screws are at the edge, and down from each goes the wire that is
behind it; so does one for every joint inside. What opens, closes or draws current lies between its two
wires, by the sign that the ladder has for it. Wires meet where there is a dot, and nowhere else.

Source: the diagrams that UL 60335-2-40 and UL 795 ask for on equipment (from memory); the layout is our own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from wirecheck.arguments import one_of
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.rungs import Element, Kind, ladder
from wirecheck.drawing import colors
from wirecheck.drawing.captions import NAME, SMALL, Caption, Captions
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.grid import Cell, grids
from wirecheck.drawing.letters import shorten, text_width
from wirecheck.drawing.loads import Signs
from wirecheck.drawing.sheet import Frame, Line, Sheet, Spot
from wirecheck.model.board import Board, Device
from wirecheck.model.devices import every_device

MOST_TRIED = 200
"""How many rows are looked at for room in them; what finds none there has a row of its own."""
NARROW = 26.0
"""From one wire to the next where no sign is between them, in points."""
GAP, MARGIN, LINE = 36.0, 18.0, 8.6
TITLE, HEAD = 14.0, 9.5
LOW_ROLES = ("class-2", "class-2-common")
LABEL = 7.0
"""The size of a screw's name."""
LAST = ("neutral", "class-2-common", "ground")
"""What stands at the right: the ways back, and the ground after them."""


class Part(NamedTuple):
    """Something between two wires of the inside: its ends as points, its sign and words."""

    kind: str
    name: str
    a: str
    b: str
    caption: Caption


class Row(NamedTuple):
    """A part in its row, between two wires that are counted from the left."""

    part: Part
    left: int
    right: int
    row: int


class Half(NamedTuple):
    """The wires of one voltage from left to right, and the parts between them, each in its row."""

    heading: str
    low: bool
    nets: tuple[str, ...]
    rows: tuple[Row, ...]


def inside_sheet(board: Board, name: str, page: Page = PAPER) -> Sheet:
    """The inside of one device of a board, every shape in its place.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    name : the device, as the board names it.
    page : the colors of the page.

    Returns
    -------
    A `Sheet`; the same board gives the same sheet.

    Raises
    ------
    wirecheck.arguments.WrongArgument
        The board has no such device.

    Examples
    --------
    >>> import wirecheck
    >>> board = wirecheck.assemble('board "Heat"\\nF is gas-furnace')[1]
    >>> [mark.text for mark in inside_sheet(board, "F").marks if mark.kind == "half"]
    ['Line voltage', 'Low voltage']
    """
    one_of(name, board.devices, "device")
    device = board.devices[name]
    whole = circuit(board)
    net = _nets(device)
    halves = _halves(device, list(_parts(whole, device)), net)
    sheet = Sheet(f"Inside {name}", page.ground)
    right, bottom = 200.0, 0.0
    for number, half in enumerate(halves):
        if number:
            path = ((0.0, bottom), (100.0, bottom))
            sheet.lines.append(Line("apart", "", (path,), page.faint, 1.0, "dashed", kind="apart"))
        under = half.low and number > 0
        width, bottom = _Drawing(sheet, page, device, net, half, under).draw(bottom)
        right = max(right, width)
    sheet.lines = [
        replace(line, pieces=(((0.0, line.pieces[0][0][1]), (right, line.pieces[0][0][1])),))
        if line.kind == "apart"
        else line
        for line in sheet.lines
    ]
    title = f"{name} {device.part.name}"
    frame = Frame(f"device-{name}", title, 0, 0, right, bottom, page.device, page.ink, 1.4, kind="device")
    sheet.frames.append(frame)
    heads = sheet.caution(0, -28, page.faint)
    words = shorten(f"{board.title or 'Board'}: inside {name}", 560, TITLE, bold=True)
    top = heads[0].y - 17
    heads.append(sheet.write("board-title", words, 0, top, TITLE, page.ink, bold=True, align="start"))
    sheet.left, sheet.top = -MARGIN, top - TITLE / 2 - MARGIN
    sheet.width = max(right, *(words.width for words in heads)) + 2 * MARGIN
    sheet.height = bottom + MARGIN + 12 - sheet.top
    return sheet


def _nets(device: Device) -> dict[str, str]:
    """The wire that each point inside belongs to: what the equipment's own wiring holds together."""
    points: list[str] = []
    ties: list[tuple[str, str]] = []
    for each in every_device({device.name: device}):
        points += (f"{each.name}.{terminal}" for terminal in each.part.terminals)
        ties += (
            (f"{each.name}.{contact.a}", f"{each.name}.{contact.b}")
            for contact in each.part.contacts
            if contact.when is None
        )
    known = set(points)
    return pieces(points, [tie for tie in ties if known.issuperset(tie)])


def _parts(whole: Circuit, device: Device) -> Iterator[Part]:
    """What stands between two wires inside, with the sign and the words that the ladder has for it."""
    told = ladder(whole)
    captions = Captions(told, grids(told))
    own = {each.name for each in every_device({device.name: device})}

    def part(kind: Kind, name: str, a: str, b: str) -> Part:
        caption = captions.of(Cell(Element(kind, name, 0, 0), 0, 0, 0, 0))
        return Part(kind, name, a, b, caption)

    for protection in whole.protections:
        if protection.device in own:
            for pole, (a, b) in enumerate(protection.pairs):
                yield part("pole", protection.pole(pole), a, b)
    for contact in whole.contacts:
        if contact.scope in own:
            yield part("contact", contact.name, contact.a, contact.b)
    for load in whole.loads:
        if load.device in own:
            yield part("load", load.name, load.a, load.b)
    for winding in whole.windings:
        if winding.device in own:
            yield part("primary", winding.name, *winding.primary)
            caption = captions.of(Cell(None, 0, 0, 0, 0, winding))
            yield Part("secondary", winding.name, *winding.secondary, caption)
    for outlet in whole.outlets:
        if outlet.device in own:
            yield part("outlet", outlet.name, outlet.hot, outlet.neutral)
    for one, reference in whole.inputs:
        if all(end in whole.point and whole.point[end].owner in own for end in (one, reference)):
            yield part("input", one, one, reference)


def _halves(device: Device, parts: Sequence[Part], net: Mapping[str, str]) -> list[Half]:
    """Line voltage and low voltage, which is 24 V mostly: what a transformer alone joins is apart."""
    roles = _roles(device, net)
    ties = [(net[part.a], net[part.b]) for part in parts]
    group = pieces(dict.fromkeys(net.values()), ties)
    low = {group[one] for one, role in roles.items() if role in LOW_ROLES}
    low |= {group[net[part.a]] for part in parts if part.kind == "secondary"}
    if low:
        # A contact that only a control looks at, and no screw leads to: the control's own.
        fed = {group[one] for one in roles} | {group[net[part.a]] for part in parts if part.kind != "contact"}
        low |= {one for one in group.values() if one not in fed}
    used = dict.fromkeys([*roles, *(end for tie in ties for end in tie)])
    halves = []
    for heading, wanted in (("Line voltage", False), ("Low voltage", True)):
        nets = [one for one in used if (group[one] in low) == wanted]
        here = [part for part in parts if (group[net[part.a]] in low) == wanted]
        if nets:
            order = _ordered(nets, here, net, roles)
            halves.append(Half(heading, wanted, order, tuple(_rows(here, net, order))))
    return halves


def _roles(device: Device, net: Mapping[str, str]) -> dict[str, str]:
    """What the first screw at each wire is there for, in the order of the screws."""
    roles: dict[str, str] = {}
    for terminal in device.part.terminals.values():
        roles.setdefault(net[f"{device.name}.{terminal.name}"], terminal.role)
    return roles


def _ordered(
    nets: Sequence[str], parts: Sequence[Part], net: Mapping[str, str], roles: Mapping[str, str]
) -> tuple[str, ...]:
    """The wires from left to right: from each screw on through what hangs on it, the ways back last."""
    last = {one: LAST.index(roles[one]) for one in nets if roles.get(one) in LAST}
    last |= {net[part.b]: 1 for part in parts if part.kind == "secondary" and net[part.b] not in last}
    hots = [one for one in nets if roles.get(one) == "hot"]
    if len(hots) > 1 and all(rank == LAST.index("ground") for rank in last.values()):
        last[hots[1]] = 0
    near: dict[str, list[str]] = {}
    for part in parts:
        near.setdefault(net[part.a], []).append(net[part.b])
        near.setdefault(net[part.b], []).append(net[part.a])
    order: dict[str, None] = {}
    sources = [net[part.a] for part in parts if part.kind == "secondary"]
    waiting = [one for one in reversed([*sources, *nets]) if one not in last]
    while waiting:
        one = waiting.pop()
        if one not in order and one not in last:
            order[one] = None
            waiting += reversed(near.get(one, []))
    return (*order, *sorted(last, key=lambda one: last[one]))


def _rows(parts: Sequence[Part], net: Mapping[str, str], order: Sequence[str]) -> Iterator[Row]:
    """Each part in the first row where nothing is between its two wires."""
    place = {one: number for number, one in enumerate(order)}
    spans = sorted(
        (*sorted((place[net[part.a]], place[net[part.b]])), number) for number, part in enumerate(parts)
    )
    ends: list[int] = []
    for left, right, number in spans:
        row = next((row for row, end in enumerate(ends[:MOST_TRIED]) if end <= left), len(ends))
        if row == len(ends):
            ends.append(0)
        ends[row] = max(right, left + 1)
        yield Row(parts[number], left, right, row)


class _Drawing:
    """Puts one half on a sheet; its screws are at its lower edge where it is the one `under` the other."""

    def __init__(
        self, sheet: Sheet, page: Page, device: Device, net: Mapping[str, str], half: Half, under: bool
    ) -> None:
        self.sheet, self.page, self.device, self.net, self.half = sheet, page, device, net, half
        self.under = under
        self.screws = self._screws()
        self.met: list[list[Row]] = [[] for _ in half.nets]
        for row in half.rows:
            for number in {row.left, row.right}:
                self.met[number].append(row)
        self.at = list(self._places())

    def _screws(self) -> dict[str, list[tuple[str, float]]]:
        """The screws of each wire, with how far right of the first one each is."""
        screws: dict[str, list[tuple[str, float]]] = {}
        for terminal in self.device.part.terminals:
            here = screws.setdefault(self.net[f"{self.device.name}.{terminal}"], [])
            apart = (_label(terminal) + _label(here[-1][0])) / 2 + 6 if here else 0.0
            here.append((terminal, here[-1][1] + apart if here else 0.0))
        return screws

    def _places(self) -> Iterator[float]:
        """Where each wire stands, with room for the signs and the words before the next."""
        x, edge = text_width(self.half.heading, HEAD, True) + 40, 0.0
        for number, one in enumerate(self.half.nets):
            screws = self.screws.get(one, [])
            if screws:
                x = max(x, edge + 6 + _label(screws[0][0]) / 2)
                edge = x + screws[-1][1] + _label(screws[-1][0]) / 2
            yield x
            parts = [row.part for row in self.met[number] if row.left == number]
            wide = [text_width(text, NAME, True) for part in parts for text in part.caption.over]
            wide += [text_width(text, SMALL) for part in parts for text in _under(part)]
            x += max([2 * REACH + 12 if parts else NARROW, *(each + 12 for each in wide)])

    def draw(self, y: float) -> tuple[float, float]:
        """The half from a height down; returns its width and where it ends."""
        name = self.half.heading.replace(" ", "-").lower()
        self.sheet.write(
            f"half-{name}", self.half.heading, MARGIN, y + 20, HEAD, self.page.ink, bold=True, align="start",
            kind="half",
        )  # fmt: skip
        heights, bottom = self._heights(y + (GAP / 2 if self.under else GAP))
        bottom += GAP if self.under else GAP / 2
        self._wires(heights, bottom if self.under else y)
        pen = Signs(self.sheet, self.page)
        for row in self.half.rows:
            self._part(pen, row, heights[row.row])
        last = self.screws.get(self.half.nets[-1], [("", 0.0)])[-1]
        return self.at[-1] + max(NARROW, last[1] + _label(last[0]) / 2) + MARGIN, bottom

    def _heights(self, top: float) -> tuple[list[float], float]:
        """The height of each row, and where the last one ends."""
        count = 1 + max((row.row for row in self.half.rows), default=-1)
        up, down = [12.0] * count, [12.0] * count
        for row in self.half.rows:
            over, under = row.part.caption.reach
            up[row.row] = max(up[row.row], over + 4 + LINE * len(row.part.caption.over))
            down[row.row] = max(down[row.row], under + 4 + LINE * len(_under(row.part)))
        heights = []
        for above, below in zip(up, down, strict=True):
            heights.append(top + above)
            top += above + below + 4
        return heights, top

    def _wires(self, heights: Sequence[float], edge: float) -> None:
        """The screws at the edge, the wire from each, the wires between parts, and the dots."""
        inward = -16.0 if self.under else 16.0
        for number, one in enumerate(self.half.nets):
            x = self.at[number]
            rows = self.met[number]
            met = sorted({heights[row.row] for row in rows})
            for place, (screw, apart) in enumerate(self.screws.get(one, [])):
                across = x + apart
                self._screw(screw, across, edge)
                if place:
                    path = ((across, edge), (across, edge + inward), (x, edge + inward))
                    self._wire(f"{one}-screw-{place}", one, path)
            ends = [*met, *([edge, edge + inward] if one in self.screws else [])]
            top, low = min(ends), max(ends)
            self._wire(one, one, ((x, top), (x, low)))
            for height in met:
                leads = sum(heights[row.row] == height for row in rows)
                if leads + (height > top) + (height < low) > 2:
                    name = f"dot-{one}-{height:g}"
                    dot = Spot(name, "", x, height, 4.4, 4.4, self.page.ink, self.page.ink, kind="dot")
                    self.sheet.marks.append(dot)

    def _screw(self, name: str, x: float, y: float) -> None:
        spec = self.device.part.terminals[name]
        fill = colors.SCREWS.get(spec.screw or "", colors.SCREW)
        screw = f"{self.device.name}.{name}"
        spot = Spot(f"terminal-{screw}", screw, x, y, 10, 10, fill, self.page.ink, "ellipse", 1.2, "terminal")
        self.sheet.marks.append(spot)
        beside = y + 11 if self.under else y - 11
        self.sheet.write(f"label-{screw}-screw", name, x, beside, LABEL, self.page.ink, title=screw)

    def _wire(self, name: str, title: str, path: tuple[tuple[float, float], ...]) -> None:
        self.sheet.lines.append(Line(f"wire-{name}", title, (path,), self.page.ink, 1.2, kind="wire"))

    def _part(self, pen: Signs, row: Row, height: float) -> None:
        part, caption = row.part, row.part.caption
        left, right = self.at[row.left], self.at[row.right]
        beyond = self.at[row.left + 1] if row.left + 1 < len(self.at) else left + 2 * REACH + 12
        middle = (left + beyond) / 2
        name = f"{part.kind}-{part.name}"
        ends = (part.a, part.b) if self.net[part.a] == self.half.nets[row.left] else (part.b, part.a)
        self._wire(f"{name}-left", ends[0], ((left, height), (middle - REACH, height)))
        if row.right > row.left:
            self._wire(f"{name}-right", ends[1], ((middle + REACH, height), (right, height)))
        with pen.at(middle, height):
            if caption.switch is not None:
                pen.switch(caption.switch, caption.rests_closed, caption.rests_closed, shown=False)
            else:
                pen.load(caption.sign)
        pen.lifted(name, part.name, self.page.ink, "sign", 11, ".stroke-")
        over, under = caption.reach
        for place, text in enumerate(reversed(caption.over)):
            low = height - over - 3 - LINE * (place + 0.5)
            self.sheet.write(f"{name}.name-{place + 1}", text, middle, low, NAME, self.page.ink, bold=True)
        for place, text in enumerate(_under(part)):
            low = height + under + 3 + LINE * (place + 0.5)
            self.sheet.write(f"{name}.words-{place + 1}", text, middle, low, SMALL, self.page.faint)


def _label(screw: str) -> float:
    """How wide a screw and its name are."""
    return max(text_width(screw, LABEL), 10.0)


def _under(part: Part) -> list[str]:
    """The words under a sign, without those that name a line of the ladder."""
    return [text for text in part.caption.under if ": line " not in text]
