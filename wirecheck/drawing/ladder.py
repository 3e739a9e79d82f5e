"""The ladder diagram: how a board works. Two rails, a rung a load, what switches it in order.

`wirecheck.circuit.rungs` says what stands on each rung, `grid` gives it rows and
columns, `captions` its words, `contacts` its signs; here it gets its measures.
What several rungs begin with is drawn once, and they hang on a rail of their
own behind it; so is what they end with. Transformers tie the ladders of a board
together: the primary is a rung of one, the secondary stands at the top of another.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, circuit
from wirecheck.circuit.rungs import Element, Ladder, ladder
from wirecheck.circuit.settle import Settled
from wirecheck.drawing import colors
from wirecheck.drawing.captions import NAME, SMALL, Caption, Captions, Note, short_words
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.grid import Cell, Grid, Piece, grids
from wirecheck.drawing.key import Pens, state_key
from wirecheck.drawing.letters import shorten, text_width
from wirecheck.drawing.loads import Signs
from wirecheck.drawing.rails import ASIDE, NAMES, TOP, Rails, head_words
from wirecheck.drawing.sheet import Line, Point, Sheet, Spot, Words
from wirecheck.drawing.state import LEAST_AMPS, State
from wirecheck.drawing.wiring import SCREEN
from wirecheck.model.board import Board

HEAD, TITLE = 9.5, 14.0
LINE = 8.6
"""From one line of words at a sign to the next, in points."""
NARROW = 58.0
"""The least width of a column."""
NUMBERS = 26.0
STUB = 14.0
MARK = 3.0
"""Between the letters of a wire and its number."""
RAILS = 42.0
"""From the top of a ladder to where its rails begin to have rungs, without the first row's words."""
MARGIN = 18.0
GAP = 30.0
WIRE, RAIL, FLOW, GLOW = 1.2, 2.4, 2.8, 5.4
DROP, VOLTS = 3.0, 12.0
"""How far under a sign its words begin, and how far under the wire: volts of a state stand between."""
KEY = (
    "Bold at the left: lines.",
    "Small on the wires: wire numbers.",
    "Beside a coil: the lines of its contacts, underlined where they rest closed.",
)
LINK = 8.0
"""How much higher a row is, over which dashes link the poles of one device."""
LOTS = (None, 30, 20, 14, 10)
"""How many rungs stand under one another at most, as far as folding lets the drawing be larger."""
FOLD = 1.12


def ladder_sheet(
    board: Board,
    page: Page = PAPER,
    fit: tuple[float, float] = SCREEN,
    settled: Settled | None = None,
    headed: bool = True,
) -> Sheet:
    """The ladder diagram of a board, every shape in its place.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    page : the colors of the page.
    fit : the width and height that it should be read at: ladders stand side by side, long ones are folded.
    settled : a state to show: how contacts stand, what is live, what carries current, the volts at each node.
    headed : whether it has its title and the caution; False where the page around it tells them.

    Returns
    -------
    A `Sheet`; the same board and state give the same sheet, and every state of a board the same places.

    Examples
    --------
    >>> import wirecheck
    >>> ladder_sheet(wirecheck.assemble('board "Nothing on it yet"')[1]).marks[-1].text
    'It has no load yet, so there is no rung to draw.'
    """
    state = State(settled) if settled else None
    whole = ladder(state.circuit if state else circuit(board))
    sheet = Sheet(board.title or "Board", page.ground)
    right, bottom = 0.0, 0.0
    x = 0.0
    drawn: dict[str, int] = {}
    columns = _fitting(whole, fit, state)
    for column in columns:
        y = 0.0
        for block in column:
            block.draw(sheet, page, x, y, drawn)
            y += block.height + GAP
            right = max(right, x + block.width)
        bottom = max(bottom, y - GAP)
        x = right + GAP
    heads: list[Words] = []
    top = 0.0
    if headed:
        heads += sheet.caution(0, -23.0, page.faint)
        shown = heads[0].y - 16
        top = shown - 17
        text = shorten(board.title or "Board", max(right, 560.0), TITLE, bold=True)
        heads.append(sheet.write("board-title", text, 0, top, TITLE, page.ink, bold=True, align="start"))
        name, text, ink = "kind", "Ladder diagram", page.faint
        if state:
            name, text, ink = "state", shorten(f"Shown {state.words}", 560, HEAD, bold=True), page.ink
        heads.append(sheet.write(name, text, 0, shown, HEAD, ink, bold=state is not None, align="start"))
    if not whole.rungs:
        words = "It has no load yet, so there is no rung to draw."
        heads.append(sheet.write("nothing", words, 0, 10, HEAD, page.ink, align="start"))
        bottom = 20.0
    if whole.rungs:
        bottom += GAP / 2
        said = columns[0][0].captions
        there = (True, bool(said.wires), any(said.moved.values()))
        told = " ".join(line for line, shown in zip(KEY, there, strict=True) if shown)
        key = sheet.write("key", told, 0, bottom, SMALL, page.faint, align="start", kind="key")
        heads.append(key)
    right = max([right, *(words.width for words in heads)])
    if state:
        bottom = state_key(sheet, page, state, bottom + 20, right, Pens(WIRE, GLOW, FLOW))
        right = max(right, *(mark.x + mark.width / 2 for mark in sheet.marks))
    sheet.left, sheet.top = -MARGIN, top - TITLE / 2 - MARGIN
    sheet.width, sheet.height = right + 2 * MARGIN, bottom - sheet.top + MARGIN
    return sheet


def _fitting(ladder: Ladder, fit: tuple[float, float], state: State | None) -> list[list[_Block]]:
    """The ladders in columns, read downwards, folded where that lets them be drawn larger."""
    best: tuple[float, list[list[_Block]]] = (0.0, [])
    for most in LOTS:
        listed = grids(ladder, most)
        if most is not None and not any(grid.continued for grid in listed):
            continue
        captions = Captions(ladder, listed)
        blocks = [_Block(grid, captions, number + 1, state) for number, grid in enumerate(listed)]
        scale, columns = _columns(blocks, fit)
        if scale > best[0] * (1 if most is None else FOLD):
            best = (scale, columns)
    return best[1]


def _columns(blocks: list[_Block], fit: tuple[float, float]) -> tuple[float, list[list[_Block]]]:
    """Ladders in as many columns as let them be drawn largest, and how large that is."""
    best: tuple[float, list[list[_Block]]] = (0.0, [])
    for count in range(1, min(len(blocks), 12) + 1):
        left = sum(block.height + GAP for block in blocks)
        columns: list[list[_Block]] = [[]]
        used = 0.0
        for block in blocks:
            share = left / (count - len(columns) + 1)
            if columns[-1] and used + block.height / 2 > share and len(columns) < count:
                left -= used
                used = 0.0
                columns.append([])
            columns[-1].append(block)
            used += block.height + GAP
        width = sum(max(block.width for block in column) + GAP for column in columns)
        height = max(sum(block.height + GAP for block in column) for column in columns) + 50
        scale = min(fit[0] / width, fit[1] / height, 1.5)
        if scale > best[0] * 1.02:
            best = (scale, columns)
    return best


class _Block:
    """One ladder with its words, measured and ready to be drawn."""

    def __init__(self, grid: Grid, captions: Captions, number: int, state: State | None) -> None:
        self.grid, self.captions, self.state = grid, captions, state
        self.name = f"ladder-{number}"
        self.signs = [captions.of(cell) for cell in grid.cells]
        self.pieces = grid.pieces()
        self.whole = Rails(grid, captions)
        self.rails = () if grid.mesh else ((grid.inner[0], 0), (grid.inner[1], grid.columns))
        self.letters = {spot: (node, captions.letters(node)) for node, spot in self._spots().items()}
        # The same in every state, so that nothing moves from one to the next.
        node = captions.ladder.node
        low = any(
            {node[end] for end in each.secondary} >= set(grid.rails) for each in captions.circuit.windings
        )
        self.widest = "25.5 V" if low else "120 V a" if len(captions.circuit.legs) > 1 else "120 V"
        self.links = list(self._links())
        self.y = self._rows()
        self.x = self._columns()
        self.notes = [captions.note(loads) for loads in self._loads()]
        wide = max(text_width(note.text, SMALL) for note in self.notes)
        self.stubs = list(self._stubs())
        after = max((STUB + 4 + text_width(text, HEAD, True) for *_, text in self.stubs), default=0.0)
        self.noted = self.x[-1] + max(after, 0.0) + 8
        head = text_width(captions.heading(grid), HEAD, True)
        self.width = max(self.noted + wide, self.x[-1] + self._rail_width(grid.rails[-1]) / 2, head)

    # ------------------------------------------------------------- measures

    def _rail_width(self, node: int) -> float:
        return text_width(self.captions.rail(node), HEAD, True)

    def _loads(self) -> list[list[Element]]:
        """What draws current on each row."""
        rows: list[list[Element]] = [[] for _ in range(self.grid.rows)]
        for cell in self.grid.cells:
            if cell.element is not None and cell.element.kind not in ("contact", "pole"):
                rows[cell.row].append(cell.element)
        return rows

    def _links(self) -> Iterator[tuple[Cell, Cell]]:
        """Contacts side by side that one coil or one handle moves together: the poles of one device."""
        before: dict[tuple[int, str, str], Cell] = {}
        for cell in sorted(self.grid.cells, key=lambda cell: cell.column):
            contact = cell.element and self.captions.ladder.of.get((cell.element.kind, cell.element.name))
            if isinstance(contact, Contact) and cell.end is None:
                key = (cell.row, contact.scope, short_words(contact.when))
                if key in before:
                    yield before[key], cell
                before[key] = cell

    def _spots(self) -> dict[int, tuple[int, int]]:
        """Where each node that is no rail begins: its leftmost place with a wire to the right."""
        spots: dict[int, tuple[int, int]] = {}
        places = [(cell.left, (cell.column, cell.row)) for cell in self.grid.cells]
        places += [(piece.node, piece.start) for piece in self.pieces if piece.start[1] == piece.end[1]]
        rails = {node for node, _ in self.rails}
        for node, spot in places:
            if node not in rails and (node not in spots or spot < spots[node]):
                spots[node] = spot
        return spots

    def _rows(self) -> list[float]:
        up, down = [10.0] * self.grid.rows, [11.0] * self.grid.rows
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            over, under = caption.reach
            top, low = min(cell.ends), max(cell.ends)
            up[top] = max(up[top], over + 4 + LINE * len(caption.over))
            words = _words_under(under) + 1 + LINE * len(caption.under) if caption.under else under + 3
            down[low] = max(down[low], words)
        self.over = [height + LINK / 2 for height in up]
        for row in {cell.row for pair in self.links for cell in pair}:
            up[row] += LINK
        heights: list[float] = []
        at = RAILS - 8
        for row, (over, under) in enumerate(zip(up, down, strict=True)):
            if row == self.grid.feeds:
                self.whole.zone = at
                at += self.whole.high
            heights.append(at + over)
            at += over + under + 3
        self.height = at
        return heights

    def _columns(self) -> list[float]:
        wide = [NARROW] * self.grid.columns
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            need = max((text_width(text, NAME, True) for text in caption.over), default=0)
            need = max(need, *(text_width(text, SMALL) for text in caption.under), 0.0) + 10
            node, letters = self.letters.get((cell.column, cell.row), (None, ""))
            stub = self._mark_width(letters, node)
            if node is not None:
                stub = max(stub, text_width(self.widest, SMALL))
            need = max(need, 2 * (REACH + stub + 8))
            wide[cell.column] = max(wide[cell.column], need)
        at = NUMBERS + max(
            (STUB + 4 + text_width(text, HEAD, True) for *_, text in self._stubs()), default=0.0
        )
        # The names over the two rails keep to the page, and apart.
        first, last = (self._rail_width(node) / 2 for node in (self.grid.rails[0], self.grid.rails[-1]))
        at = max(at, first)
        marks = [
            self._mark_width(self.captions.letters(segment.node), segment.node)
            for segment in self.whole.segments(0)
            if segment.start > TOP
        ]
        apart = self.whole.width(max([text_width(self.widest, SMALL), *marks]))
        apart = max(first + last + NARROW / 4, apart)
        wide[-1] = max(wide[-1], apart - sum(wide[:-1]))
        edges = [at]
        for each in wide:
            at += each
            edges.append(at)
        return edges

    def _stubs(self) -> Iterator[tuple[int, int, tuple[int, int], str]]:
        """The terminals of a mesh: the node of each, which side it leads out on, its place, its name."""
        if not self.grid.mesh:
            return
        for node in self.grid.rails:
            column, row = self.grid.spots[node]
            side = 1 if column == self.grid.columns else -1
            yield node, side, (column, row), self.captions.rail(node)

    # -------------------------------------------------------------- drawing

    def draw(self, sheet: Sheet, page: Page, x: float, y: float, drawn: dict[str, int]) -> None:
        """Put the ladder on the sheet with its upper left corner at a point.

        `drawn` counts how often each element has been drawn, here and on the ladders before.
        """
        heading = self.captions.heading(self.grid)
        sheet.write(f"{self.name}-heading", heading, x, y + 5, HEAD, page.ink, bold=True, align="start")
        self._draw_wires(sheet, page, x, y)
        self._draw_rails(sheet, page, x, y)
        self._draw_signs(sheet, page, x, y, drawn)
        self._draw_letters(sheet, page, x, y)
        for row, loads in enumerate(self._loads()):
            number, at = self.captions.line(self.grid, row), y + self.y[row]
            sheet.write(
                f"line-{number}", str(number), x, at, HEAD, page.ink, bold=True, align="start", kind="row",
                title=", ".join(load.name for load in loads),
            )  # fmt: skip
            self._draw_note(sheet, page, number, x + self.noted, at, self.notes[row])

    def _draw_note(self, sheet: Sheet, page: Page, number: int, x: float, y: float, note: Note) -> None:
        """What stands beside a row, the lines of contacts that rest closed underlined."""
        if note.text:
            sheet.write(
                f"note-{number}", note.text, x, y, SMALL, page.faint, align="start", kind="note",
            )  # fmt: skip
        for count, (before, text) in enumerate(note.marked):
            start = x + text_width(before, SMALL)
            path = ((start, y + 4.2), (start + text_width(text, SMALL), y + 4.2))
            title = f"line {text}: rests closed"
            sheet.lines.append(
                Line(f"note-{number}-closed-{count + 1}", title, (path,), page.faint, 0.9, kind="underline")
            )

    def _draw_signs(self, sheet: Sheet, page: Page, x: float, y: float, drawn: dict[str, int]) -> None:
        pen = Signs(sheet, page)
        self._draw_heads(pen, x, y, drawn)
        for count, cells in enumerate(self.links):
            one, other = (x + (self.x[cell.column] + self.x[cell.column + 1]) / 2 for cell in cells)
            low = y + self.y[cells[0].row] - self.over[cells[0].row]
            path = ((one, low + LINK / 2), (one, low), (other, low), (other, low + LINK / 2))
            name = f"{self.name}-poles-{count + 1}"
            sheet.lines.append(Line(name, "moved together", (path,), page.ink, 0.9, "dashed", kind="link"))
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            middle = x + (self.x[cell.column] + self.x[cell.column + 1]) / 2
            line = y + self.y[cell.row]
            part = _again(part_name(cell), drawn)
            top, low = (y + self.y[row] for row in (min(cell.ends), max(cell.ends)))
            drop = y + self.y[cell.ends[1]] - line
            with pen.at(middle, line):
                self._sign(pen, cell.element.name if cell.element else "", caption, drop)
            kind = "contact" if cell.element and cell.element.kind in ("contact", "pole") else "load"
            pen.lifted(part, " ".join(caption.over), page.ink, f"sign {kind}", 11, ".stroke-")
            over, under = caption.reach
            for place, text in enumerate(reversed(caption.over)):
                at = top - over - 3 - LINE * (place + 0.5)
                sheet.write(f"{part}.name-{place + 1}", text, middle, at, NAME, page.ink, bold=True)
            for place, text in enumerate(caption.under):
                at = low + _words_under(under) + LINE * (place + 0.5)
                sheet.write(f"{part}.words-{place + 1}", text, middle, at, SMALL, page.faint)

    def _sign(self, pen: Signs, name: str, caption: Caption, drop: float = 0.0) -> None:
        closed = caption.rests_closed
        if self.state and caption.switch:
            closed = self.state.contact(name).closed
        elif self.state and caption.protection:
            closed = self.state.protection(caption.protection).closed
        if caption.switch is not None and caption.switch.form == "throw":
            pen.throw(drop, closed)
            return
        if caption.switch is not None:
            pen.switch(caption.switch, caption.rests_closed, closed, self.state is not None)
            return
        pen.load(caption.sign)
        if caption.rests_closed and not closed:
            pen.line((-6, -6), (6, 6), pen=1.6)
            pen.line((-6, 6), (6, -6), pen=1.6)

    def _draw_heads(self, pen: Signs, x: float, y: float, drawn: dict[str, int]) -> None:
        """What stands in the rails, upright, with its words beside it and dashes from pole to pole."""
        sheet, page = pen.sheet, pen.page
        left, right = x + self.x[0], x + self.x[-1]
        for count, at in enumerate(self.whole.links()):
            path = ((left + ASIDE, y + at), (right - 5, y + at))
            name = f"{self.name}-link-{count + 1}"
            sheet.lines.append(Line(name, "one handle", (path,), page.ink, 0.9, "dashed", kind="link"))
        for head in (*self.whole.heads(0), *self.whole.heads(1)):
            part = _again(f"contact-{head.name}", drawn)
            at, side = (right, -1) if head.side else (left, 1)
            with pen.at(at, y + head.y, upright=True):
                self._sign(pen, head.name, head.caption)
            pen.lifted(part, "".join(head.caption.over), page.ink, "sign contact upright", 11, ".stroke-")
            for count, (text, low, bold) in enumerate(head_words(head)):
                sheet.write(
                    f"{part}.words-{count + 1}", text, at + side * ASIDE, y + head.y + low,
                    NAME if bold else SMALL, page.ink if bold else page.faint, bold=bold,
                    align="end" if head.side else "start",
                )  # fmt: skip

    def _draw_rails(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        for side, node in enumerate(self.grid.rails if self.rails else ()):
            at = x + self.x[-1 if side else 0]
            name, title = f"{self.name}-rail-{side}", self.captions.title(node)
            sheet.write(
                name, self.captions.rail(node), at, y + NAMES, HEAD, page.ink, bold=True, kind="rail-name",
                title=title,
            )  # fmt: skip
        for number, (node, side, (column, row), text) in enumerate(self.stubs):
            at, line = x + self.x[column], y + self.y[row]
            end = at + side * STUB
            path = ((at, line), (end, line))
            title = self.captions.title(node)
            sheet.lines.append(
                Line(f"{self.name}-stub-{number + 1}", title, (path,), page.ink, WIRE, kind="wire")
            )
            sheet.write(
                f"{self.name}-terminal-{number + 1}", text, end + side * 3, line, HEAD, page.ink, bold=True,
                align="start" if side > 0 else "end", kind="rail-name",
            )  # fmt: skip

    def _draw_wires(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        """The wires of each node as one line, with its glow and its flow in a state, and its dots."""
        lines: dict[int, list[tuple[Point, Point]]] = {}
        thick: dict[int, list[tuple[Point, Point]]] = {}
        flowing = self._flowing()

        def place(spot: tuple[int, int]) -> Point:
            return x + self.x[spot[0]], y + self.y[spot[1]]

        for piece in self.pieces:
            path = (place(piece.start), place(piece.end))
            lines.setdefault(piece.node, []).append(path)
            if piece in flowing:
                thick.setdefault(piece.node, []).append(path)
        for cell in self.grid.cells:
            start, end = place((cell.column, cell.row)), place((cell.column + 1, cell.ends[1]))
            middle = (start[0] + end[0]) / 2
            for node, path in (
                (cell.left, (start, (middle - REACH, start[1]))),
                (cell.right, ((middle + REACH, end[1]), end)),
            ):
                if path not in lines.setdefault(node, []):
                    lines[node].append(path)
                if self._carries(cell):
                    thick.setdefault(node, []).append(path)
        rails = self._draw_segments(sheet, page, x, y, lines, thick)
        for number, (node, listed) in enumerate(lines.items()):
            name = f"{self.name}-node-{number + 1}"
            title = self.captions.title(node)
            level = self._level(node)
            if level:
                sheet.lines.insert(
                    0,
                    Line(f"live-{name}", title, tuple(listed), colors.LIVE[level], GLOW,
                         colors.LIVE_DASH[level], kind=f"live {level}"),
                )  # fmt: skip
            dashed = node in rails and self._open(node)
            sheet.lines.append(
                Line(name, title, tuple(listed), page.ink, WIRE, "dashed" if dashed else "solid", kind="wire")
            )
            if node in thick:
                sheet.lines.append(
                    Line(f"flow-{name}", title, tuple(thick[node]), page.ink, FLOW, kind="flow")
                )
        for number, spot in enumerate(self._dots()):
            sheet.marks.append(
                Spot(
                    f"{self.name}-dot-{number + 1}",
                    "",
                    *place(spot),
                    4.4,
                    4.4,
                    page.ink,
                    page.ink,
                    kind="dot",
                )
            )

    def _draw_segments(
        self,
        sheet: Sheet,
        page: Page,
        x: float,
        y: float,
        lines: dict[int, list[tuple[Point, Point]]],
        thick: dict[int, list[tuple[Point, Point]]],
    ) -> set[int]:
        """The rails, and their wire added to that of their nodes; returns those nodes."""
        fed = any(cell.winding for cell in self.grid.cells)
        pieces: dict[int, int] = {}
        rails = set()
        for segment in self.whole.segments(self.y[-1]):
            node, side = segment.node, segment.side
            at, column = x + self.x[-1 if side else 0], self.grid.columns if side else 0
            path = ((at, y + segment.start), (at, y + segment.end))
            lines.setdefault(node, []).append(path)
            rails.add(node)
            pieces[side] = pieces.get(side, 0) + 1
            name = f"{self.name}-{'right' if side else 'left'}-rail"
            dash = "dashed" if self._open(node) else "solid"
            name = name if pieces[side] == 1 else f"{name}-{pieces[side]}"
            title = self.captions.title(node)
            sheet.lines.append(Line(name, title, (path,), page.ink, RAIL, dash, kind="rail"))
            start = y + (self.y[0] if fed and pieces[side] == 1 else segment.start)
            if segment.head:
                if self.state and self.state.carries(segment.head):
                    thick.setdefault(node, []).append(((at, start), (at, y + segment.end)))
            elif node in thick and (self.grid.heads[side] or not fed):
                thick[node].append(((at, start), (at, y + self.y[self._first(node, column)])))
        return rails

    def _first(self, node: int, column: int) -> int:
        """The first row on which something of a rail's node meets the rail."""
        rows = [cell.row for cell in self.grid.cells if (cell.left, cell.column) == (node, column)]
        rows += [cell.ends[1] for cell in self.grid.cells if (cell.right, cell.column + 1) == (node, column)]
        rows += [row for p in self.pieces if p.node == node for c, row in (p.start, p.end) if c == column]
        return min(rows)

    def _open(self, node: int) -> bool:
        """Whether it is a rail that nothing feeds."""
        rail = self.captions.ladder.rails.get(node)
        return rail is not None and rail.open

    def _dots(self) -> list[tuple[int, int]]:
        """Where three wires of a node or more meet, off the rails."""
        ways: dict[tuple[int, int, int], int] = {}
        for piece in self.pieces:
            for spot in (piece.start, piece.end):
                ways[piece.node, *spot] = ways.get((piece.node, *spot), 0) + 1
        # Two ways of one switch have a lead in common.
        leads = {(cell.left, cell.column, cell.row, "left") for cell in self.grid.cells}
        leads |= {(cell.right, cell.column + 1, cell.ends[1], "right") for cell in self.grid.cells}
        for node, column, row, _ in leads:
            ways[node, column, row] = ways.get((node, column, row), 0) + 1
        rails = set(self.rails)
        return [(c, r) for (node, c, r), count in ways.items() if count > 2 and (node, c) not in rails]

    def _draw_letters(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        """The letters of each node where it begins, and its volts in a state."""
        for number, ((column, row), (node, letters)) in enumerate(self.letters.items(), 1):
            self._mark(sheet, page, f"{number}", node, letters, x + self.x[column] + 4, y + self.y[row])
        for segment in self.whole.segments(self.y[-1]):
            if segment.start == TOP:
                continue
            at = x + self.x[-1] - 5 if segment.side else x + self.x[0] + 5
            name = f"rail-{segment.side}-{segment.start:g}"
            letters = self.captions.letters(segment.node)
            self._mark(
                sheet, page, name, segment.node, letters, at, y + segment.start + 10, segment.side == 1
            )

    def _mark(
        self, sheet: Sheet, page: Page, name: str, node: int, letters: str, x: float, line: float,
        leftward: bool = False,
    ) -> None:  # fmt: skip
        """The letters and the number of a wire, and its volts in a state."""
        title = self.captions.title(node)
        number = self._number(node)
        align, apart = ("end", -MARK) if leftward else ("start", MARK)
        if leftward and number:
            x_letters, x_number = x - text_width(number, SMALL) - MARK if letters else x, x
        else:
            x_letters, x_number = x, x + (text_width(letters, SMALL, True) + apart if letters else 0)
        if letters:
            sheet.write(
                f"{self.name}-letters-{name}", letters, x_letters, line - 5.6, SMALL, page.ink, bold=True,
                align=align, kind="letters", title=title,
            )  # fmt: skip
        if number:
            sheet.write(
                f"{self.name}-wire-number-{name}", number, x_number, line - 5.6, SMALL, page.faint,
                align=align, kind="wire-number", title=title,
            )  # fmt: skip
        if self.state:
            volts = self.state.reading(self.captions.ladder.points[node][0])
            sheet.write(
                f"{self.name}-volts-{name}", volts, x, line + 6.8, SMALL, page.ink, align=align,
                kind="volts", title=title,
            )  # fmt: skip

    def _number(self, node: int | None) -> str:
        """The number of a wire; nothing where it is a rail's."""
        number = None if node is None else self.captions.wires.get(node)
        return "" if number is None else str(number)

    def _mark_width(self, letters: str, node: int | None) -> float:
        number = self._number(node)
        both = MARK if letters and number else 0.0
        return text_width(letters, SMALL, True) + text_width(number, SMALL) + both

    # ---------------------------------------------------------------- state

    def _level(self, node: int) -> str:
        return self.state.level(self.captions.ladder.points[node][0]) if self.state else ""

    def _carries(self, cell: Cell) -> bool:
        """Whether current flows through an element in the state."""
        if self.state is None:
            return False
        if cell.winding is not None:
            winding = cell.winding
            amps = abs(self.state.settled.amps.get(winding.name, 0))
            return amps * winding.primary_volts / winding.open_volts >= LEAST_AMPS
        return cell.element is not None and self.state.carries(cell.element.name)

    def _flowing(self) -> set[Piece]:
        """The pieces of wire with something that carries current to either side of them.

        A node's wire has no loops here, so that is where the current goes. Rails
        are fed at their top, or by the secondary that stands there.
        """
        if self.state is None:
            return set()
        active: dict[tuple[int, tuple[int, int]], int] = {}
        for cell in self.grid.cells:
            if self._carries(cell):
                right = (cell.column + 1, cell.ends[1])
                for key in ((cell.left, (cell.column, cell.row)), (cell.right, right)):
                    active[key] = active.get(key, 0) + 1
        fed = any(cell.winding for cell in self.grid.cells)
        for side, (node, column) in enumerate(self.rails):
            head = self.grid.heads[side]
            if fed and head and self.state.carries(head[0].element.name):
                above = (self.grid.rails[side], (column, self.grid.feeds - 1))
                active[above] = active.get(above, 0) + 1
            if fed and not head:
                continue
            if any(one == node for one, _ in active):
                key = (node, (column, self._first(node, column)))
                active[key] = active.get(key, 0) + 1
        near: dict[tuple[int, tuple[int, int]], list[Piece]] = {}
        for piece in self.pieces:
            for spot in (piece.start, piece.end):
                near.setdefault((piece.node, spot), []).append(piece)
        flowing: set[Piece] = set()
        seen: set[tuple[int, tuple[int, int]]] = set()
        for root in near:
            if root not in seen:
                flowing.update(_between_active(root, near, active, seen))
        return flowing


def _between_active(
    root: tuple[int, tuple[int, int]],
    near: dict[tuple[int, tuple[int, int]], list[Piece]],
    active: dict[tuple[int, tuple[int, int]], int],
    seen: set[tuple[int, tuple[int, int]]],
) -> Iterator[Piece]:
    """The pieces of a tree of wire that part what is active in it; its places are added to `seen`."""
    node = root[0]
    order: list[tuple[tuple[int, int], Piece | None]] = [(root[1], None)]
    parent: dict[tuple[int, int], tuple[int, int]] = {}
    for spot, came in order:
        for piece in near.get((node, spot), ()):
            if piece is not came:
                other = piece.end if piece.start == spot else piece.start
                if other not in parent and other != root[1]:
                    parent[other] = spot
                    order.append((other, piece))
    seen.update((node, spot) for spot, _ in order)
    count = {spot: active.get((node, spot), 0) for spot, _ in order}
    total = sum(count.values())
    for spot, last in reversed(order):
        if last is not None:
            if 0 < count[spot] < total:
                yield last
            count[parent[spot]] += count[spot]


def _words_under(under: float) -> float:
    """How far under the wire the words of a sign begin, which reaches so far under it."""
    return max(under + DROP, VOLTS)


def _again(name: str, drawn: dict[str, int]) -> str:
    """The id of a sign: its name, with how often it has been drawn where that is not once."""
    drawn[name] = drawn.get(name, 0) + 1
    return name if drawn[name] == 1 else f"{name}.again-{drawn[name]}"


def part_name(cell: Cell) -> str:
    """The id of what stands in a cell: `contact-...`, `load-...`, `input-...`, `secondary-...`."""
    if cell.winding is not None:
        return f"secondary-{cell.winding.name}"
    assert cell.element is not None
    return f"{_kind(cell.element)}-{cell.element.name}"


def _kind(element: Element) -> str:
    return {"contact": "contact", "pole": "contact", "input": "input"}.get(element.kind, "load")
