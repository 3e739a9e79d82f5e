"""What is inside a piece of equipment, wired: as on the diagram inside a cabinet's door.

Line voltage stands apart from 24 V. The screws are at the edge, and down from each goes the wire that is
behind it; so does one for every joint inside. What opens, closes or draws current lies between two wires, by
the sign that the ladder has for it; `inner.py` says where. Wires meet where there is a dot, and nowhere else.
A screw that nothing inside is wired to has no wire behind it; one that is the ground has the ground's sign.

Source: the diagrams that UL 60335-2-40 and UL 795 ask for on equipment (from memory); the layout is our own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from wirecheck.arguments import one_of
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.settle import Settled
from wirecheck.drawing import colors
from wirecheck.drawing.captions import NAME, SMALL
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.copper import currents, taken
from wirecheck.drawing.inner import Branch, Half, Laddered, Part, halves, laddered, nets
from wirecheck.drawing.key import Pens, state_key
from wirecheck.drawing.letters import SMALLEST, shorten, text_width
from wirecheck.drawing.loads import Signs
from wirecheck.drawing.rooms import rooms_of
from wirecheck.drawing.sheet import TITLE, TITLE_LINE, Frame, Line, Point, Sheet, Spot
from wirecheck.drawing.state import State
from wirecheck.model.board import Board, Device

GAP, MARGIN, LINE = 36.0, 18.0, 10.0
INWARD = 16.0
"""From a screw to where a second screw of its wire joins it, and to the ground's sign."""
HEAD = 9.5
LABEL = SMALLEST
"""The size of a screw's name."""
WIRE, FLOW, GLOW = 1.2, 2.8, 5.4
WIDEST = {False: "120 V a", True: "25.5 V"}
"""The widest volts of a state, in line voltage and in low voltage; they have their room in every picture."""
CLEAR, VOLTS = 5.0, 13.5
"""How far from a sign its words are, and how far under the wire: what a state adds stands between."""
TURN = 7.0
"""How much further down than its words a wire goes that leads back to where it came from."""


def inside_sheet(
    board: Board,
    name: str,
    page: Page = PAPER,
    settled: Settled | None = None,
    headed: bool = True,
    drawn: Laddered | None = None,
) -> Sheet:
    """The inside of one device of a board, every shape in its place.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    name : the device, as the board names it.
    page : the colors of the page.
    settled : a state to show: how contacts stand, what is live, what carries current, what runs.
    headed : whether it has its title and the caution; False where the page around it tells them.
    drawn : the ladder of the board's circuit in that state, where there is one already.

    Returns
    -------
    A `Sheet`; the same board and state give the same sheet, and every state of a board the same places.

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
    state = State(settled) if settled else None
    drawn = drawn or laddered(state.circuit if state else circuit(board))
    whole = drawn.ladder.circuit
    net = nets(drawn.wired, device)
    sheet = Sheet(f"Inside {name}", page.ground)
    parted = halves(drawn, device, net)
    here = [room for room in rooms_of(board) if room.name == device.place] if state else []
    under = taken(here, state) if state else {}
    drawings = [
        _Drawing(sheet, page, device, net, half, half.low and number > 0, whole, state, under)
        for number, half in enumerate(parted)
    ]
    right = max((drawing.width for drawing in drawings), default=200.0)
    bottom = 0.0 if drawings else 60.0
    for number, drawing in enumerate(drawings):
        if number:
            path = ((0.0, bottom), (right, bottom))
            sheet.lines.append(Line("apart", "", (path,), page.faint, 1.0, "dashed", kind="apart"))
        drawing.widen(right)
        bottom = drawing.draw(bottom)
    frame = Frame(f"device-{name}", name, 0, 0, right, bottom, page.device, page.ink, 1.4, kind="device")
    sheet.frames.insert(0, frame)
    top = -12.0
    heads = [right]
    if headed:
        caution = sheet.caution(0, -30, page.faint)
        shown = caution[0].y - 16
        title = sheet.headline(board.title or "Board", shown - TITLE_LINE, page.ink)
        top = title[0].y
        text = f"Inside {name}, {device.part.name}"
        kind = sheet.write("kind", text, 0, shown, 9, page.faint, align="start")
        heads += [words.x + words.width / 2 for words in (*caution, *title, kind)]
        if state:
            text = shorten(f"Shown {state.words}", 560, 9, bold=True)
            state_words = sheet.write(
                "state", text, kind.width + 12, shown, 9, page.ink, bold=True, align="start"
            )
            heads.append(state_words.x + state_words.width / 2)
        top -= TITLE / 2
    low = bottom + 12
    if state:
        low = state_key(sheet, page, state, bottom + 30, right, Pens(WIRE, GLOW, FLOW))
        heads += [mark.x + mark.width / 2 for mark in sheet.marks if mark.kind == "label legend"]
    # What is live glows under every wire, so that no glow hides one.
    sheet.lines.sort(key=lambda line: line.layer)
    sheet.left, sheet.top = -MARGIN, top - MARGIN
    sheet.width = max(heads) + 2 * MARGIN
    sheet.height = low + MARGIN - sheet.top
    return sheet


class _Drawing:
    """Puts one half on a sheet; its screws are at its lower edge where it is the one `under` the other."""

    def __init__(
        self,
        sheet: Sheet,
        page: Page,
        device: Device,
        net: Mapping[str, str],
        half: Half,
        under: bool,
        whole: Circuit,
        state: State | None,
        taken: Mapping[str, complex | None],
    ) -> None:
        self.sheet, self.page, self.device, self.net, self.half = sheet, page, device, net, half
        self.taken = taken
        self.under, self.whole, self.state = under, whole, state
        self.volts = text_width(WIDEST[half.low], SMALL)
        self.screws = self._screws()
        self.met: list[list[tuple[Branch, Part, bool]]] = [[] for _ in half.columns]
        for branch in half.branches:
            if branch.wires[0]:
                self.met[branch.left].append((branch, branch.parts[0], False))
            if branch.wires[-1]:
                self.met[branch.right].append((branch, branch.parts[-1], True))
        self.slot = self._slots()
        self.at = list(self._places())
        last = self.screws.get(half.columns[-1], [("", 0.0)])[-1] if half.columns else ("", 0.0)
        self.after = max(14.0 + self.volts, last[1] + _label(last[0]) / 2) + MARGIN
        self.width = self.at[-1] + self._gap(-1) + self.after

    def _screws(self) -> dict[str, list[tuple[str, float]]]:
        """The screws of each wire, with how far right of the first one each is."""
        screws: dict[str, list[tuple[str, float]]] = {}
        for terminal in self.device.part.terminals:
            here = screws.setdefault(self.net[f"{self.device.name}.{terminal}"], [])
            apart = (_label(terminal) + _label(here[-1][0])) / 2 + 6 if here else 0.0
            here.append((terminal, here[-1][1] + apart if here else 0.0))
        return screws

    def _slots(self) -> list[float]:
        """How wide a part is in each gap, with its words and, behind a wire without a screw, its volts."""
        slots = []
        for number in range(len(self.half.slots)):
            bare = number < len(self.half.columns) and self.half.columns[number] not in self.screws
            slots.append(2 * (REACH + self.volts + 6) if bare else 2 * REACH + self.volts + 6)
        for branch in self.half.branches:
            for part, gap, following in zip(branch.parts, branch.gaps, (*branch.gaps[1:], -1), strict=True):
                wide = [text_width(text, NAME, True) for text in part.caption.over]
                wide += [text_width(text, SMALL) for text in _under(part)]
                beyond = 2 * (REACH + self.volts + 6) if following not in (gap, -1) else 0.0
                slots[gap] = max(slots[gap], beyond, *(each + 12 for each in wide))
        return slots

    def _gap(self, number: int) -> float:
        return self.slot[number] * self.half.slots[number]

    def _places(self) -> Iterator[float]:
        """Where each wire stands, with room for the signs and the words before the next."""
        x, edge = text_width("Line voltage", HEAD, True) + MARGIN + 22, 0.0
        for number in range(max(len(self.half.columns), 1)):
            one = self.half.columns[number] if self.half.columns else ""
            screws = self.screws.get(one, [])
            if screws:
                x = max(x, edge + 6 + _label(screws[0][0]) / 2)
                edge = x + screws[-1][1] + max(_label(screws[-1][0]) / 2, self.volts - 6)
            yield x
            x += max(self._gap(number), self.volts + 10)

    def widen(self, width: float) -> None:
        """Give each part more room, so that the half is as wide as another."""
        count = sum(self.half.slots)
        more = width - self.width
        if count and more > 0:
            self.slot = [each + more / count for each in self.slot]
            shift = 0.0
            for number, slots in enumerate(self.half.slots):
                self.at[number] += shift
                shift += slots * more / count

    def draw(self, y: float) -> float:
        """The half from a height down; returns where it ends."""
        name = self.half.heading.replace(" ", "-").lower()
        self.sheet.write(
            f"half-{name}", self.half.heading, MARGIN, y + 20, HEAD, self.page.ink, bold=True, align="start",
            kind="half",
        )  # fmt: skip
        heights, bottom = self._heights(y + (GAP / 2 if self.under else GAP))
        bottom += GAP if self.under else GAP / 2
        self._wires(heights, bottom if self.under else y)
        pen = Signs(self.sheet, self.page)
        for branch in self.half.branches:
            self._branch(pen, branch, heights[branch.row])
        return bottom

    def _heights(self, top: float) -> tuple[list[float], float]:
        """The height of each row, and where the last one ends."""
        count = 1 + max((branch.row for branch in self.half.branches), default=-1)
        up, down = [12.0] * count, [VOLTS] * count
        # The words of one row are on the same lines, over its signs and under them.
        self.names, self.words = [0.0] * count, [VOLTS] * count
        for branch in self.half.branches:
            for part in branch.parts:
                over, under = part.caption.reach
                self.names[branch.row] = max(self.names[branch.row], over + CLEAR)
                self.words[branch.row] = max(self.words[branch.row], under + CLEAR)
        for branch in self.half.branches:
            back = TURN if _turns_back(branch) else 0.0
            for part in branch.parts:
                over = self.names[branch.row] + 1 + LINE * len(part.caption.over)
                up[branch.row] = max(up[branch.row], over)
                low = self.words[branch.row] + 1 + LINE * len(_under(part)) + back
                down[branch.row] = max(down[branch.row], low)
        heights = []
        for above, below in zip(up, down, strict=True):
            heights.append(top + above)
            top += above + below + 4
        return heights, top

    # ---------------------------------------------------------------- wires

    def _wires(self, heights: Sequence[float], edge: float) -> None:
        """The screws at the edge, the upright wires, and the dots where others meet them."""
        inward = -INWARD if self.under else INWARD
        for number, one in enumerate(self.half.columns):
            x, met = self.at[number], sorted({heights[branch.row] for branch, _, _ in self.met[number]})
            screws = self.screws.get(one, [])
            for screw, apart in screws:
                self._screw(screw, x + apart, edge)
            if not met:
                self._unused(number, one, heights, edge, inward)
                continue
            ends = [*met, *([edge, edge + inward] if screws else [])]
            top, low = min(ends), max(ends)
            pieces: list[tuple[Point, ...]] = [((x, top), (x, low))]
            pieces += [
                ((x + apart, edge), (x + apart, edge + inward), (x, edge + inward)) for _, apart in screws[1:]
            ]
            for place, path in enumerate(pieces):
                self._wire(f"{one}-screw-{place}" if place else one, one, path)
            self._trunk_flow(number, one, heights, edge, inward)
            for height in met:
                leads = sum(heights[branch.row] == height for branch, _, _ in self.met[number])
                if leads + (height > top) + (height < low) > 2:
                    name = f"dot-{one}-{height:g}"
                    dot = Spot(name, "", x, height, 4.4, 4.4, self.page.ink, self.page.ink, kind="dot")
                    self.sheet.marks.append(dot)
            at = edge + 1.5 * inward if screws else met[0] + 8.4
            self._volts(one, x + 4, at)

    def _unused(self, number: int, one: str, heights: Sequence[float], edge: float, inward: float) -> None:
        """A wire that nothing inside is on: the ground's sign, or what ties several screws together."""
        x, screws = self.at[number], self.screws.get(one, [])
        ground = self.device.part.terminals[screws[0][0]].role == "ground"
        if ground:
            way = 1 if inward > 0 else -1
            self._wire(one, one, ((x, edge), (x, edge + inward)))
            pen = Signs(self.sheet, self.page)
            for step in range(3):
                half, y = 6 - 2 * step, edge + inward + way * 2.5 * step
                pen.line((x - half, y), (x + half, y), pen=1.1)
            pen.lifted(f"ground-{one}", f"{one}: to the frame", self.page.ink, "ground", 11, ".stroke-")
        elif len(screws) > 1:
            self._wire(one, one, ((x, edge), (x, edge + inward)))
        for place, (_, apart) in enumerate(screws[1:], 1):
            path = ((x + apart, edge), (x + apart, edge + inward), (x, edge + inward))
            self._wire(f"{one}-screw-{place}", one, path)
        if ground or len(screws) > 1:
            self._trunk_flow(number, one, heights, edge, inward)
        self._volts(one, x + (10 if ground else 4), edge + 1.5 * inward)

    def _screw(self, name: str, x: float, y: float) -> None:
        spec = self.device.part.terminals[name]
        fill = colors.SCREWS.get(spec.screw or "", colors.SCREW)
        screw = f"{self.device.name}.{name}"
        spot = Spot(f"terminal-{screw}", screw, x, y, 10, 10, fill, self.page.ink, "ellipse", 1.2, "terminal")
        self.sheet.marks.append(spot)
        beside = y + 11 if self.under else y - 11
        self.sheet.write(f"label-{screw}-screw", name, x, beside, LABEL, self.page.ink, title=screw)

    def _wire(self, name: str, point: str, path: tuple[Point, ...], title: str = "") -> None:
        """A wire, and its glow where it is live."""
        # A lead of a motor has volts as its screw has, whichever the winding behind it is.
        screw = next(
            (f"{self.device.name}.{name}" for name, _ in self.screws.get(self.net[point], [])), point
        )
        level = self.state.level(screw) if self.state else ""
        if level:
            glow = colors.LIVE[level], GLOW, colors.LIVE_DASH[level]
            line = Line(f"live-{name}", point, (path,), *glow, kind=f"live {level}", layer=-1)
            self.sheet.lines.append(line)
        self.sheet.lines.append(
            Line(f"wire-{name}", title or point, (path,), self.page.ink, WIRE, kind="wire")
        )

    def _flow(self, name: str, point: str, path: tuple[Point, ...], amps: complex | None) -> None:
        if self.state is not None and amps is not None and abs(amps) >= self.state.least:
            line = Line(f"flow-{name}", point, (path,), self.page.ink, FLOW, kind="flow")
            self.sheet.lines.append(line)

    def _volts(self, point: str, x: float, y: float) -> None:
        if self.state:
            name, volts = f"volts-{point}", self.state.reading(point)
            self.sheet.write(
                name, volts, x, y, SMALL, self.page.ink, align="start", kind="volts", title=point
            )  # fmt: skip

    # ---------------------------------------------------------------- current

    def _amps(self, part: Part) -> complex:
        """What flows through a part, from left to right."""
        if self.state is None:
            return 0
        flow = part.way * self.state.settled.amps.get(part.name, 0)
        for name in self.state.again.get(part.name, ()):
            # The same winding while its rotor stands, or another speed, told from the same end or the other.
            load, amps = self.state.circuit.load_of[name], self.state.settled.amps.get(name, 0)
            flow += amps if self.net[load.a] == self.net[part.a] else -amps
        if part.kind == "secondary":
            winding = next(each for each in self.whole.windings if each.name == part.name)
            return -flow * winding.primary_volts / winding.open_volts
        return flow

    def _trunk_flow(
        self, number: int, one: str, heights: Sequence[float], edge: float, inward: float
    ) -> None:
        """Where an upright wire carries current, and what leads to it from each of its screws."""
        if self.state is None:
            return
        x, screws = self.at[number], self.screws.get(one, [])
        brought: dict[Point, complex | None] = {}
        for branch, part, right in self.met[number]:
            at = x, heights[branch.row]
            brought[at] = (brought.get(at) or 0) + self._amps(part) * (1 if right else -1)
        if screws:
            brought[x, edge + inward] = 0
        paths = list(pairwise(sorted(brought, key=lambda at: at[1])))
        for (screw, apart), (_, before) in zip(screws, [("", 0.0), *screws], strict=False):
            top, turn = (x + apart, edge), (x + apart, edge + inward)
            brought |= {top: self.taken.get(f"{self.device.name}.{screw}", 0), turn: brought.get(turn, 0)}
            paths.append((top, turn))
            if apart:
                paths.append((turn, (x + before, edge + inward)))
        for place, (path, amps) in enumerate(currents({path: path for path in paths}, brought).items()):
            self._flow(f"{one}-{place}", one, path, amps)

    # ---------------------------------------------------------------- parts

    def _branch(self, pen: Signs, branch: Branch, height: float) -> None:
        """The parts of a branch with the wires between them, and back to where it came from."""
        spots = zip(branch.gaps, branch.places, strict=True)
        middles = [self._middle(gap, place) for gap, place in spots]
        parts, amps = branch.parts, self._amps(branch.parts[0])
        named = [f"{part.kind}-{part.name}" for part in parts]
        start, end = middles[0] - REACH, middles[-1] + REACH
        wires: list[tuple[str, str, str, tuple[Point, ...]]] = []
        if branch.wires[0]:
            wires.append(
                (f"{named[0]}-left", parts[0].a, "", ((self.at[branch.left], height), (start, height)))
            )
        for number, (one, other) in enumerate(pairwise(parts)):
            over, far = middles[number] + REACH, middles[number + 1] - REACH
            title = f"{one.b}, {other.a}"
            wires.append((f"{named[number]}-right", one.b, title, ((over, height), (far, height))))
            self._volts(one.b, over + 4, height + 8.4)
        if _turns_back(branch):
            low = height + self.words[branch.row] + LINE * max(len(_under(part)) for part in parts) + TURN
            # It turns beside the words under the sign, and not through them.
            words = max((text_width(text, SMALL) for text in _under(parts[-1])), default=0.0)
            over, x = max(end, middles[-1] + words / 2) + 4, self.at[branch.left]
            way = ((end, height), (over, height), (over, low), (x, low), (x, height))
            wires.append((f"{named[-1]}-right", parts[-1].b, "", way))
        elif branch.wires[-1]:
            wires.append(
                (f"{named[-1]}-right", parts[-1].b, "", ((end, height), (self.at[branch.right], height)))
            )
        for name, point, title, path in wires:
            self._wire(name, point, path, title)
            self._flow(name, point, path, amps)
        for part, middle in zip(parts, middles, strict=True):
            self._part(pen, part, middle, height, branch.row)

    def _middle(self, gap: int, place: int) -> float:
        """The middle of a place in a gap, counted from its left end, or from its right end back."""
        if place >= 0:
            return self.at[gap] + (place + 0.5) * self.slot[gap]
        right = self.at[gap + 1] if gap + 1 < len(self.at) else self.at[gap] + self._gap(gap)
        return right + (place + 0.5) * self.slot[gap]

    def _part(self, pen: Signs, part: Part, middle: float, height: float, row: int) -> None:
        caption, name = part.caption, f"{part.kind}-{part.name}"
        over, under = caption.reach
        load = self.whole.load_of.get(part.name)
        shown = self.state if part.kind in ("load", "outlet") else None
        runs = shown.on(load.name if load else part.name) if shown else ""
        if runs:
            self.sheet.frames.append(
                Frame(
                    f"lit-{name}", f"{part.name}: {runs}", middle - 15, height - over - 2, 30,
                    over + under + 4, self.page.lit, self.page.ink, 1.6, True, "lit",
                )
            )  # fmt: skip
        with pen.at(middle, height):
            self._sign(pen, part)
        pen.lifted(name, part.name, self.page.ink, "sign", 11, ".stroke-")
        for place, text in enumerate(reversed(caption.over)):
            at = height - self.names[row] - LINE * (place + 0.5)
            self.sheet.write(f"{name}.name-{place + 1}", text, middle, at, NAME, self.page.ink, bold=True)
        for place, text in enumerate(_under(part)):
            at = height + self.words[row] + LINE * (place + 0.5)
            self.sheet.write(f"{name}.words-{place + 1}", text, middle, at, SMALL, self.page.faint)

    def _sign(self, pen: Signs, part: Part) -> None:
        caption, closed = part.caption, part.caption.rests_closed
        if self.state and caption.switch:
            closed = self.state.contact(part.name).closed
        elif self.state and caption.protection:
            closed = self.state.protection(caption.protection).closed
        if caption.switch is not None:
            pen.switch(caption.switch, caption.rests_closed, closed, shown=self.state is not None)
            return
        pen.load(caption.sign)
        if caption.rests_closed and not closed:
            pen.line((-6, -6), (6, 6), pen=1.6)
            pen.line((-6, 6), (6, -6), pen=1.6)


def _label(screw: str) -> float:
    """How wide a screw and its name are."""
    return max(text_width(screw, LABEL), 10.0)


def _turns_back(branch: Branch) -> bool:
    """Whether both ends of a branch are on one wire."""
    return branch.left == branch.right and bool(branch.wires[0] and branch.wires[-1])


def _under(part: Part) -> list[str]:
    """The words under a sign, without those that name a line of the ladder."""
    return [text for text in part.caption.under if ": line " not in text]
