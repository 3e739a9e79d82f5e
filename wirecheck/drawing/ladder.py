"""The ladder diagram: how a board works. Two rails, a rung a load, what switches it in order.

`wirecheck.circuit.rungs` says what stands on each rung, `grid` gives it rows and
columns, `captions` its words, `contacts` its signs; here it gets its measures.
What several rungs begin with is drawn once, and they hang on a rail of their
own behind it; so is what they end with. Transformers tie the ladders of a board
together: the primary is a rung of one, the secondary stands at the top of another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from wirecheck.circuit.circuit import Contact, Load, Protection, circuit
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.rungs import Element, Ladder, ladder
from wirecheck.circuit.settle import Settled
from wirecheck.drawing import colors
from wirecheck.drawing.area import NOT_SHOWN, SCREEN, Area, Shown
from wirecheck.drawing.captions import NAME, SMALL, Caption, Captions, Note, short_words
from wirecheck.drawing.cells import Cell, Grid, Piece
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.grid import grids
from wirecheck.drawing.key import Pens, state_key
from wirecheck.drawing.letters import shorten, text_width
from wirecheck.drawing.loads import Signs
from wirecheck.drawing.rails import ASIDE, NAMES, TOP, Rails, head_words
from wirecheck.drawing.sheet import CAUTION_WIDTH, TITLE, TITLE_LINE, Line, Point, Sheet, Spot, Words
from wirecheck.drawing.state import LEAST_AMPS, State
from wirecheck.model.board import Board

HEAD = 9.5
HEAD_WIDTH = CAUTION_WIDTH
"""How wide the caution is, so that a small ladder is not narrower than the words over it."""
LINE = 10.0
"""From one line of words at a sign to the next, in points."""
SIGN = 12.0
"""Half as wide as a sign is, without its leads."""
APART = 6.0
"""From the words of a row to those of the next: more than between two lines of one sign."""
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
ASTRAY = 18.0
"""How far what is odd beside a row may reach into the room between two ladders."""
NOTED = 8.0
"""The room before and after what stands beside a row."""
HEADED = 92.0
"""How high the head is over a ladder: the title, what is shown, the caution."""
WIRE, RAIL, FLOW, GLOW = 1.2, 2.4, 2.8, 5.4
DROP, VOLTS, LETTERS = 3.0, 12.0, 11.0
"""How far under a sign its words begin, and how far under the wire: volts of a state stand between.
Over it, how far up the letters of the wire reach."""
KEY = (
    "Bold at the left: lines.",
    "Small on the wires: wire numbers.",
    "Beside a coil: the lines of its contacts.",
    "Underlined: rest closed.",
)
PAST, UNDER = 7.0, 6.0
"""How far beside a contact and under it the wire is that leads around it."""
LANE = 18.0
"""How wide a column is in which wire alone stands."""
PARTED = 20.0
"""How wide the lane of a missing wire is, of the room that the wire beside it has."""
AROUND = 11.5
"""The radius of a motor."""
BESIDE = 18.0
"""From the middle of a motor at the end of three lines to the words beside it."""
LINK = 8.0
"""How much higher a row is, over which dashes link the poles of one device."""
LOTS = (None, 30, 20, 14, 10)
"""How many rungs stand under one another at most, as far as folding lets the drawing be larger."""
FOLD = 1.12


def ladder_sheet(
    board: Board,
    page: Page = PAPER,
    fit: Area = SCREEN,
    settled: Settled | None = None,
    headed: bool = True,
) -> Sheet:
    """The ladder diagram of a board, every shape in its place.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    page : the colors of the page.
    fit : the area that it should be read in: ladders stand side by side, long ones are folded.
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
    right, bottom, x, widest = 0.0, 0.0, 0.0, 0.0
    drawn: dict[str, int] = {}
    columns = _fitting(whole, fit.less(HEADED if headed else 0.0), state)
    between = GAP * (len(columns) - 1)
    wide = sum(_width(column) for column in columns)
    wider = (HEAD_WIDTH - between) / wide if wide else 1.0
    for column in columns:
        y = 0.0
        _fill(column, _width(column) * wider if wider > 1 else 0.0)
        for block in column:
            block.draw(sheet, page, x, y, drawn)
            block.at = (x, y)
            y += block.height + GAP
            right = max(right, x + block.usual, x + block.width - ASTRAY)
            widest = max(widest, x + block.width)
        bottom = max(bottom, y - GAP)
        x = right + GAP
    _draw_ties(sheet, page, columns)
    heads: list[Words] = []
    top = 0.0
    if headed:
        heads += sheet.caution(0, -23.0, page.faint)
        shown = heads[0].y - 16
        title = sheet.headline(board.title or "Board", shown - TITLE_LINE, page.ink)
        top = title[0].y
        heads += title
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
        closed = any(closed for lines in said.moved.values() for _, closed in lines)
        numbered = any(mark.kind == "wire-number" for mark in sheet.marks)
        there = (True, numbered, any(said.moved.values()), closed)
        told = " ".join(line for line, shown in zip(KEY, there, strict=True) if shown)
        key = sheet.write("key", told, 0, bottom, SMALL, page.faint, align="start", kind="key")
        heads.append(key)
    right = max([widest, *(words.width for words in heads)])
    if state:
        bottom = state_key(sheet, page, state, bottom + 20, right, Pens(WIRE, GLOW, FLOW))
        right = max(right, *(mark.x + mark.width / 2 for mark in sheet.marks))
    sheet.left, sheet.top = -MARGIN, top - TITLE / 2 - MARGIN
    sheet.width, sheet.height = right + 2 * MARGIN, bottom - sheet.top + MARGIN
    return sheet


def _fill(column: list[_Block], least: float) -> None:
    """Let the rails of ladders under one another stand under one another, as wide apart as the widest.

    Parameters
    ----------
    least : how far to the right the column should reach at least, with what stands beside its rungs.
    """
    framed = [block for block in column if not block.grid.mesh]
    last = max((block.x[-1] for block in framed), default=0.0)
    last += max(least - max((block.usual for block in framed), default=least), 0.0)
    for block in framed:
        block.widen(last)


def _fitting(ladder: Ladder, fit: Area, state: State | None) -> list[list[_Block]]:
    """The ladders in columns, read downwards, folded where that lets them be drawn larger."""
    best: tuple[Shown, list[list[_Block]]] = (NOT_SHOWN, [])
    for most in LOTS:
        listed = grids(ladder, most)
        if most is not None and not any(grid.continued for grid in listed):
            continue
        captions = Captions(ladder, listed)
        blocks = [_Block(grid, captions, number + 1, state) for number, grid in enumerate(listed)]
        shown, columns = _columns(blocks, fit)
        if shown.beats(best[0], 1 if most is None else FOLD):
            best = (shown, columns)
    return best[1]


def _columns(blocks: list[_Block], fit: Area) -> tuple[Shown, list[list[_Block]]]:
    """Ladders in as many columns as let them be drawn largest, and how large that is."""
    best: tuple[Shown, list[list[_Block]]] = (NOT_SHOWN, [])
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
        width = sum(_width(column) + GAP for column in columns) - GAP + 2 * MARGIN
        height = max(sum(block.height + GAP for block in column) for column in columns) + 2 * MARGIN
        # What is odd has a say where the words could not be read with it.
        odd = max(_odd(column) for column in columns) - ASTRAY
        shown = fit.shows(width, height, 1.5)
        whole = fit.shows(width + max(odd, 0.0), height, 1.5)
        shown = shown if whole.readable else whole
        if shown.beats(best[0], 1.02):
            best = (shown, columns)
    return best


def _draw_ties(sheet: Sheet, page: Page, columns: list[list[_Block]]) -> None:
    """Dashes from a breaker to the one that its handle is tied to in the next ladder, or along its words."""
    reached: set[str] = set()
    drawn: dict[str, int] = {}
    told = [[(block, head) for block in column for head in block.whole.heads(0)] for column in columns]
    for column, following in zip(told, [*told[1:], []], strict=False):
        for block, head in column:
            other = block.captions.tied.get(head.name)
            across_there = {each.name for each in block.whole.heads(1)}
            if other is None or head.linked or head.name in reached or other in across_there:
                continue
            left, y = block.at[0] + block.x[0] + ASIDE, block.at[1] + head.y
            ends = [
                far.at[0] + far.x[0] - 5
                for far, across in following
                if across.name == other and abs(far.at[1] + across.y - y) < 0.5 and not block.grid.heads[1]
            ]
            reached.update(other for _ in ends)
            wide = max(text_width(text, NAME, bold) for text, _, bold in head_words(head))
            path = ((left, y), (ends[0] if ends else left + wide, y))
            title = f"the handles of {head.name} and {other} are tied"
            name = _again(f"tie-{head.name}", drawn)
            sheet.lines.append(Line(name, title, (path,), page.ink, 0.9, "dashed", kind="link"))


def _width(column: list[_Block]) -> float:
    """How wide ladders under one another are, once their right rails stand under one another."""
    framed = [block for block in column if not block.grid.mesh]
    rails = max((block.x[-1] for block in framed), default=0.0)
    beyond = max((block.usual - block.x[-1] for block in framed), default=0.0)
    return max([rails + beyond, *(block.usual for block in column)])


def _odd(column: list[_Block]) -> float:
    """How far what is odd reaches beyond what ladders under one another have room for."""
    return max(block.width for block in column) - max(block.usual for block in column)


class _Block:
    """One ladder with its words, measured and ready to be drawn."""

    def __init__(self, grid: Grid, captions: Captions, number: int, state: State | None) -> None:
        self.grid, self.captions, self.state = grid, captions, state
        self.at = (0.0, 0.0)
        self.name = f"ladder-{number}"
        self.signs = [captions.of(cell) for cell in grid.cells]
        # What hangs between two lines to a motor has its words beside it: there is no room between these.
        self.aside = {
            cell.row: caption
            for cell, caption in zip(grid.cells, self.signs, strict=True)
            if grid.motor and cell.element and cell.element.kind not in ("contact", "pole", "gap")
        }
        self.signs = [
            caption._replace(over=(), under=()) if cell.row in self.aside else caption
            for cell, caption in zip(grid.cells, self.signs, strict=True)
        ]
        self.pieces = grid.pieces()
        self.whole = Rails(grid, captions)
        self.rails = () if grid.mesh else ((grid.inner[0], 0), (grid.inner[1], grid.columns))
        self.letters = {spot: (node, captions.letters(node)) for spot, node in self._spots()}
        # The same in every state, so that nothing moves from one to the next.
        node = captions.ladder.node
        low = any(
            {node[end] for end in each.secondary} >= set(grid.rails) for each in captions.circuit.windings
        )
        self.widest = "25.5 V" if low else "120 V a" if len(captions.circuit.legs) > 1 else "120 V"
        self.motor = captions.motor(grid) if grid.motor else None
        self.screws = captions.screws(grid) if grid.motor else ()
        self.links = list(_levels(self._links()))
        self.poles = list(self._poles())
        self.y = self._rows()
        self.x = self._columns()
        apart = not grid.mesh and bool(captions.apart(grid.rails))
        around = {cell.row for cell in grid.cells if grid.passes(cell)}
        self.notes = [
            captions.note(
                loads, grid.rails if row in grid.bare else (), row >= grid.feeds and apart, row in around
            )
            for row, loads in enumerate(self._loads())
        ]
        # Where a row ends well before the last rail, what stands beside it stands there.
        self.ends = [self._end(row) for row in range(grid.rows)]
        self.inside = [
            row in self.aside
            or (bool(note.lines) and note.width + 2 * NOTED <= self.x[-1] - self.x[self.ends[row]])
            for row, note in enumerate(self.notes)
        ]
        beside = [note for note, inside in zip(self.notes, self.inside, strict=True) if not inside]
        wide = max((note.width for note in beside), default=0.0)
        usual = max((note.usual for note in beside), default=0.0)
        self.stubs = list(self._stubs())
        after = max((STUB + 4 + text_width(text, HEAD, True) for *_, text in self.stubs), default=0.0)
        self.noted = self.x[-1] + max(after, 0.0) + 8
        head = text_width(captions.heading(grid), HEAD, True)
        least = max(self.x[-1] + self._rail_width(grid.rails[-1]) / 2, head)
        self.width = max(self.noted + wide, least)
        # What is odd is said on a wrong board alone: so it has no say in how wide the ladder is.
        self.usual = max(self.noted + usual, least)

    # ------------------------------------------------------------- measures

    def widen(self, last: float) -> None:
        """Move the last rail out to `last`, and what is between the rails apart."""
        first, more = self.x[0], last - self.x[-1]
        self.x = [first + (x - first) * (last - first) / (self.x[-1] - first) for x in self.x]
        self.noted += more
        self.width += more
        self.usual += more

    def _rail_width(self, node: int) -> float:
        return text_width(self.captions.rail(node), HEAD, True)

    def _end(self, row: int) -> int:
        """The last of the lines of the grid, down the page, to which something of a row reaches."""
        ends = [cell.column + 1 for cell in self.grid.cells if row in (cell.row, cell.end)]
        ends += [run.end for run in self.grid.runs if not run.down and run.at == row]
        ends += [run.at for run in self.grid.runs if run.down and run.start <= row <= run.end]
        return max(ends, default=self.grid.columns)

    def _loads(self) -> list[list[Element]]:
        """What draws current on each row, and the coils that carry that of a load."""
        rows: list[list[Element]] = [[] for _ in range(self.grid.rows)]
        for cell in self.grid.cells:
            if cell.element is not None and (
                cell.element.kind not in ("contact", "pole", "gap") or self.captions.is_coil(cell.element)
            ):
                rows[cell.row].append(cell.element)
        return rows

    def _links(self) -> Iterator[tuple[Cell, Cell]]:
        """What one coil or one handle moves together, side by side: the poles of one device."""
        before: dict[tuple[int, str, str], Cell] = {}
        for cell in sorted(self.grid.cells, key=lambda cell: cell.column):
            what = cell.element and self.captions.ladder.of.get((cell.element.kind, cell.element.name))
            if isinstance(what, Contact) and cell.end is None:
                key = (cell.row, what.scope, short_words(what.when))
            elif isinstance(what, Protection):
                key = (cell.row, min(what.name, self.captions.tied.get(what.name, what.name)), "")
            else:
                continue
            if key in before:
                yield before[key], cell
            before[key] = cell

    def _poles(self) -> Iterator[tuple[int, int]]:
        """The poles of one device that stand under one another: each with the next, by their place."""
        place = {(cell.column, cell.row): number for number, cell in enumerate(self.grid.cells)}
        for number, cell in enumerate(self.grid.cells):
            below = place.get((cell.column, cell.row + 1))
            if (
                cell.end is None
                and below is not None
                and not cell.says[1]
                and not self.grid.cells[below].says[0]
            ):
                yield number, below

    def _spots(self) -> Iterator[tuple[tuple[int, int], int]]:
        """Where each wire that is no rail's begins, and its node: its leftmost place with wire to the right.

        A node that is drawn in several pieces says in each which it is. Where three lines lead to a
        motor, that is behind the wires that stand upright, so that no word is across one of these.
        """
        motor = self.grid.motor
        places = [(cell.left, (cell.column, cell.row)) for cell in self.grid.cells if not self._parts(cell)]
        ahead = [(one.node, one.start) for one in self.pieces if one.start[1] == one.end[1]]
        places += motor.ends if motor else ahead
        rails = set(self.grid.rails) if motor else {node for node, _ in self.rails}
        ends = {(node, *spot) for cell in self.grid.cells for node, spot in _ends(cell)}
        ends |= {(node, *spot) for node, spot in places}
        ends |= {(one.node, *spot) for one in self.pieces for spot in (one.start, one.end)}
        ties = [((one.node, *one.start), (one.node, *one.end)) for one in self.pieces]
        wire = pieces(sorted(ends), ties)
        told = set()
        places.sort(key=lambda one: one[1][::-1] if motor else one[1])
        # A wire that goes on to no sign is named where it comes from one.
        places += [(cell.right, (cell.column + 1, cell.ends[1])) for cell in self.grid.cells]
        for node, spot in places:
            if node not in rails and wire[node, *spot] not in told:
                told.add(wire[node, *spot])
                yield spot, node

    def _rows(self) -> list[float]:
        up, down = [11.0] * self.grid.rows, [11.0] * self.grid.rows
        self.names, self.words = [0.0] * self.grid.rows, [0.0] * self.grid.rows
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            over, under = caption.reach[0], self._reaches(cell, caption)
            top, low = min(cell.ends), max(cell.ends)
            if caption.over:
                self.names[top] = max(self.names[top], _words_over(over))
            if caption.under:
                # What is live glows, around a contact too.
                under += GLOW / 2 if self.grid.passes(cell) else 0.0
                self.words[low] = max(self.words[low], _words_under(under))
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            top, low = min(cell.ends), max(cell.ends)
            up[top] = max(up[top], caption.reach[0] + 3, self.names[top] + 1 + LINE * len(caption.over))
            words = self.words[low] + 1 + LINE * len(caption.under)
            words = words if caption.under else self._reaches(cell, caption) + 3
            if self.grid.motor and self._parts(cell) and low < self.grid.rows - 1:
                # Its lines are short: the word under a missing wire may have to stand under all others. Below
                # the last one there is room between two ladders.
                words = self.words[low] + 1 + LINE * (1 + self._lowest(low))
            down[low] = max(down[low], words)
        self.over = [height + LINK / 2 for height in up]
        for row in {one.row for one, _, _ in self.links}:
            up[row] += LINK * (1 + max(level for one, _, level in self.links if one.row == row))
        heights: list[float] = []
        at = RAILS - 8
        for row, (over, under) in enumerate(zip(up, down, strict=True)):
            if row == self.grid.feeds:
                self.whole.zone = at
                at += self.whole.high
            heights.append(at + over)
            at += over + under + APART
        self.height = at
        return heights

    def _reaches(self, cell: Cell, caption: Caption) -> float:
        """How far what stands in a cell reaches under the wire, with the wire that leads around it."""
        return caption.reach[1] + (UNDER if self.grid.passes(cell) else 0.0)

    def _columns(self) -> list[float]:
        # Where a wire is missing there is no sign: so a wrong board is hardly wider than the right one.
        signs = {cell.column for cell in self.grid.cells if not cell.element or cell.element.kind != "gap"}
        gaps = {cell.column for cell in self.grid.cells} - signs
        slim = gaps | self.grid.lanes
        wide = [LANE if column in slim else NARROW for column in range(self.grid.columns)]
        missing = {(cell.column, cell.row) for cell in self.grid.cells if self._parts(cell)}
        # Behind what is wired around the wire is the same one: it has room as on the right board.
        named_else = missing | {(cell.column, cell.row) for cell in self.grid.cells if self.grid.passes(cell)}
        for column in self.grid.gaps:
            wide[column] = 0.0
        ahead, self.beyond = [0.0] * self.grid.columns, [0.0] * self.grid.columns
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            if self._parts(cell):
                continue
            need = max((text_width(text, NAME, True) for text in caption.over), default=0)
            need = max(need, *(text_width(text, SMALL) for text in caption.under), 0.0) + 10
            before_it = cell.column
            while (before_it, cell.row) not in self.letters and before_it - 1 in self.grid.gaps:
                before_it -= 1
            node, letters = self.letters.get((before_it, cell.row), (None, ""))
            stub = self._mark_width(letters, node)
            if node is not None or (cell.column - 1, cell.row) in named_else:
                stub = max(stub, text_width(self.widest, SMALL))
            reach = REACH + (PAST if self.grid.passes(cell) else 0.0)
            before = max(need / 2, reach + (stub + 8 if stub else 4))
            # The lines to a motor are short: what is said of a wire has its room before a sign alone.
            after = max(need / 2, REACH + 4) if self.grid.motor else before
            node, letters = self.letters.get((cell.column + 1, cell.ends[1]), (None, ""))
            if node == cell.right and self._is_last(node, cell.column + 1, cell.ends[1]):
                # By a missing wire they reach over the gap, and over a lead of the sign.
                missed = (cell.column + 1, cell.ends[1]) in missing
                stub = self._mark_width(letters, node)
                over = 6.7 if cell.column + 2 < self.grid.columns else 3.7
                stub = stub - over if missed else max(stub, text_width(self.widest, SMALL))
                after = max(after, reach + stub + 8)
            for column, row in ((cell.column - 1, cell.row), (cell.column + 1, cell.ends[1])):
                back = column > cell.column
                if self.grid.gaps.get(column) is back:
                    room = REACH + PARTED if (column, row) in missing else 0.0
                    room = max(room, need / 2 + PARTED if column in self.grid.moved else 0.0)
                    before, after = max(before, 0.0 if back else room), max(after, room if back else 0.0)
                    before = before if self.grid.motor else max(before, after)
            ahead[cell.column] = max(ahead[cell.column], before)
            self.beyond[cell.column] = max(self.beyond[cell.column], after)
            wide[cell.column] = max(wide[cell.column], ahead[cell.column] + self.beyond[cell.column])
        if self.motor and self.grid.motor:
            wide[-1] = max(NARROW, self._lead() + BESIDE + self._wide_beside(self.motor))
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
        last = max(column for column in range(len(wide)) if column not in self.grid.gaps)
        wide[last] = max(wide[last], apart - sum(wide) + wide[last])
        edges = [at]
        for each in wide:
            at += each
            edges.append(at)
        return edges

    def _parts(self, cell: Cell) -> bool:
        """Whether it is a missing wire in a lane of its own, which takes the room of the wire beside it."""
        return cell.column in self.grid.gaps

    def _lowest(self, row: int) -> int:
        """How many lines stand under the signs of a row, without the word under a missing wire."""
        signs = zip(self.grid.cells, self.signs, strict=True)
        return max(
            (len(said.under) for cell, said in signs if cell.ends[1] == row and not self._parts(cell)),
            default=0,
        )

    def _says_missing(self, cell: Cell) -> tuple[float, str, int] | None:
        """Where the word under a missing wire is, how it lies, and how many lines are over it.

        None where there is no room for it.
        """
        before = self.grid.gaps[cell.column]
        end = self._at(cell.column + before) + (-2 if before else 2)
        wide = text_width(self.signs[self.grid.cells.index(cell)].under[0], SMALL)
        left = end - wide if before else end
        for piece in self.pieces:
            upright = piece.start[1] <= cell.row < piece.end[1]
            if upright and left - 2 < self._at(piece.start[0]) < left + wide + 2:
                return None
        low = 0
        for other, caption in zip(self.grid.cells, self.signs, strict=True):
            if other is not cell and cell.row == other.ends[1] and caption.under:
                half = max(text_width(text, SMALL) for text in caption.under) / 2 + 4
                middle = self._middle(other)
                if left < middle + half and middle - half < left + wide:
                    if not self.grid.motor:
                        return None
                    low = self._lowest(cell.row)
        return end, "end" if before else "start", low

    def _at(self, line: int) -> float:
        """Where a line of the grid is, from the left: by a missing wire it is out of its place."""
        gaps = self.grid.gaps
        behind = line
        while gaps.get(behind):
            behind += 1
        ahead = line
        while gaps.get(ahead - 1) is False:
            ahead -= 1
        return self.x[line] + PARTED * (line - ahead) - PARTED * (behind - line)

    def _middle(self, cell: Cell) -> float:
        """Where the middle of a sign is, from the left."""
        if self._parts(cell):
            return (self._at(cell.column) + self._at(cell.column + 1)) / 2
        start, end = self.x[cell.column], self.x[cell.column + 1]
        return end - self.beyond[cell.column] if self.grid.motor else (start + end) / 2

    def _lead(self) -> float:
        """From the last column's beginning to the middle of the motor there: its wires say what they are."""
        ends = self.grid.motor.ends if self.grid.motor else ()
        marks = [self._mark_width(*self.letters[spot][::-1]) for _, spot in ends if spot in self.letters]
        screws = max((text_width(screw, SMALL) for screw in self.screws), default=0.0)
        return max([text_width(self.widest, SMALL), *marks]) + screws + REACH + 12

    @staticmethod
    def _wide_beside(caption: Caption) -> float:
        """How wide the words beside a sign are."""
        names = [text_width(text, NAME, True) for text in caption.over]
        return max([*names, *(text_width(text, SMALL) for text in caption.under)])

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
            noted = self.x[self.ends[row]] + NOTED if self.inside[row] else self.noted
            if row in self.aside:
                part = f"load-{loads[0].name}"
                self._draw_beside(sheet, page, part, self.aside[row], x + noted, at)
                noted += self._wide_beside(self.aside[row]) + NOTED
            self._draw_note(sheet, page, number, x + noted, at, self.notes[row])

    def _draw_note(self, sheet: Sheet, page: Page, number: int, x: float, y: float, note: Note) -> None:
        """What stands beside a row, the lines of contacts that rest closed underlined."""
        y -= LINE * (len(note.lines) - 1) / 2
        for place, text in enumerate(note.lines):
            name = f"note-{number}-{place + 1}" if place else f"note-{number}"
            sheet.write(name, text, x, y + LINE * place, SMALL, page.faint, align="start", kind="note")
        for count, (before, text) in enumerate(note.marked):
            start = x + text_width(before, SMALL)
            path = ((start, y + 4.8), (start + text_width(text, SMALL), y + 4.8))
            title = f"line {text}: rests closed"
            sheet.lines.append(
                Line(f"note-{number}-closed-{count + 1}", title, (path,), page.faint, 0.9, kind="underline")
            )

    def _draw_signs(self, sheet: Sheet, page: Page, x: float, y: float, drawn: dict[str, int]) -> None:
        pen = Signs(sheet, page)
        self._draw_heads(pen, x, y, drawn)
        for count, (first, last, level) in enumerate(self.links):
            one, other = (x + self._middle(cell) for cell in (first, last))
            foot = y + self.y[first.row] - self.over[first.row] + LINK / 2
            low = foot - LINK * (level + 0.5)
            around = ((one, foot), (one, low), (other, low), (other, foot))
            name = f"{self.name}-poles-{count + 1}"
            sheet.lines.append(Line(name, "moved together", (around,), page.ink, 0.9, "dashed", kind="link"))
        for count, (upper, lower) in enumerate(self.poles):
            first, last = self.grid.cells[upper], self.grid.cells[lower]
            middle = x + self._middle(first)
            path = (
                (middle, y + self.y[first.row] + self.signs[upper].reach[1] + 2),
                (middle, y + self.y[last.row] - self.signs[lower].reach[0] - 2),
            )
            name = f"{self.name}-poles-upright-{count + 1}"
            sheet.lines.append(Line(name, "moved together", (path,), page.ink, 0.9, "dashed", kind="link"))
        self._draw_motor(pen, x, y, drawn)
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            middle = x + self._middle(cell)
            line = y + self.y[cell.row]
            part = _again(part_name(cell), drawn)
            top, low = min(cell.ends), max(cell.ends)
            drop = y + self.y[cell.ends[1]] - line
            with pen.at(middle, line):
                self._sign(pen, cell.element.name if cell.element else "", caption, drop)
            kind = _kind(cell.element) if cell.element else "load"
            kind = "load" if kind == "input" else kind
            pen.lifted(part, " ".join(caption.over), page.ink, f"sign {kind}", 11, ".stroke-")
            for place, text in enumerate(reversed(caption.over)):
                at = y + self.y[top] - self.names[top] - LINE * (place + 0.5)
                sheet.write(f"{part}.name-{place + 1}", text, middle, at, NAME, page.ink, bold=True)
            if self._parts(cell):
                said = self._says_missing(cell)
                if said:
                    at = y + self.y[low] + self.words[low] + LINE * (said[2] + 0.5)
                    sheet.write(
                        f"{part}.words-1", caption.under[0], x + said[0], at, SMALL, page.faint, align=said[1]
                    )  # fmt: skip
                continue
            for place, text in enumerate(caption.under):
                at = y + self.y[low] + self.words[low] + LINE * (place + 0.5)
                sheet.write(f"{part}.words-{place + 1}", text, middle, at, SMALL, page.faint)

    def _draw_motor(self, pen: Signs, x: float, y: float, drawn: dict[str, int]) -> None:
        """The load on three phases, its three leads with their screws, and its words beside it."""
        motor, caption, sheet, page = self.grid.motor, self.motor, pen.sheet, pen.page
        if motor is None or caption is None:
            return
        middle = x + self.x[motor.column] + self._lead()
        rows = [y + self.y[row] for row in motor.rows]
        line = sorted(rows)[1]
        part = _again(f"load-{motor.element.name}", drawn)
        title = "".join(caption.over)
        drawing = self._drawing()
        with pen.at(middle, line):
            pen.circle(0, 0, AROUND)
            pen.letter("M" if caption.sign == "motor" else "3~")
        pen.lifted(part, title, page.ink, "sign load", 11, ".stroke-")
        for number, (at, screw, end) in enumerate(zip(rows, self.screws, motor.ends, strict=True), 1):
            start, side = (middle - REACH, at), (at > line) - (at < line)
            foot = (middle, line + side * AROUND) if side else (middle - AROUND, line)
            path = (start, (middle, at), foot) if side else (start, foot)
            lead = Line(f"{part}.lead-{number}", f"{title} {screw}", (path,), page.ink, WIRE, kind="lead")
            sheet.lines.append(lead)
            if end in drawing:
                name = f"flow-{part}.lead-{number}"
                sheet.lines.append(Line(name, lead.title, (path,), page.ink, FLOW, kind="flow"))
            left = middle - REACH - 2
            sheet.write(f"{part}.screw-{number}", screw, left, at - 7.2, SMALL, page.faint, align="end")
        self._draw_beside(sheet, page, part, caption, middle + BESIDE, line)

    @staticmethod
    def _draw_beside(sheet: Sheet, page: Page, part: str, caption: Caption, x: float, y: float) -> None:
        """The words of a sign to the right of it."""
        top = y - LINE * (len(caption.over) + len(caption.under) - 1) / 2
        words = [(text, True) for text in caption.over] + [(text, False) for text in caption.under]
        for place, (text, bold) in enumerate(words):
            sheet.write(
                f"{part}.words-{place + 1}", text, x, top + LINE * place, NAME if bold else SMALL,
                page.ink if bold else page.faint, bold=bold, align="start",
            )  # fmt: skip

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
            path = self._stub(side, x + self._at(column), y + self.y[row])
            end, line = path[1]
            title = self.captions.title(node)
            sheet.lines.append(
                Line(f"{self.name}-stub-{number + 1}", title, (path,), page.ink, WIRE, kind="wire")
            )
            sheet.write(
                f"{self.name}-terminal-{number + 1}", text, end + side * 3, line, HEAD, page.ink, bold=True,
                align="start" if side > 0 else "end", kind="rail-name",
            )  # fmt: skip

    @staticmethod
    def _stub(side: int, at: float, line: float) -> tuple[Point, Point]:
        return (at, line), (at + side * STUB, line)

    def _draw_wires(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        """The wires of each node as one line, with its glow and its flow in a state, and its dots."""
        lines: dict[int, list[tuple[Point, Point]]] = {}
        thick: dict[int, list[tuple[Point, Point]]] = {}
        carrying = self._carrying()
        flowing = self._flowing(carrying)

        def place(spot: tuple[int, int]) -> Point:
            return x + self._at(spot[0]), y + self.y[spot[1]]

        around = self._passed()
        for piece in self.pieces:
            paths = [(place(piece.start), place(piece.end))]
            if (piece.start, piece.end) in around:
                paths = self._around(*paths[0], x, *around[piece.start, piece.end])
            lines.setdefault(piece.node, []).extend(paths)
            if piece in flowing:
                thick.setdefault(piece.node, []).extend(paths)
        for cell in self.grid.cells:
            start, end = place((cell.column, cell.row)), place((cell.column + 1, cell.ends[1]))
            for node, path in self._leads(cell, x, start, end):
                if path not in lines.setdefault(node, []):
                    lines[node].append(path)
                if cell in carrying:
                    thick.setdefault(node, []).append(path)
        motor = self.grid.motor
        for node, (column, row) in motor.ends if motor else ():
            start = place((column, row))
            path = (start, (x + self.x[column] + self._lead() - REACH, start[1]))
            lines.setdefault(node, []).append(path)
            if (node, (column, row)) in self._drawing():
                thick.setdefault(node, []).append(path)
        rails = self._draw_segments(sheet, page, x, y, lines, thick, carrying)
        stubs: dict[int, list[tuple[Point, Point]]] = {}
        for node, side, spot, _ in self.stubs:
            path = self._stub(side, *place(spot))
            stubs.setdefault(node, []).append(path)
            if any(path[0] in both for both in thick.get(node, ())):
                thick[node].append(path)
        for number, (node, listed) in enumerate(lines.items()):
            name = f"{self.name}-node-{number + 1}"
            title = self.captions.title(node)
            level = self._level(node)
            if level:
                sheet.lines.insert(
                    0,
                    Line(f"live-{name}", title, (*listed, *stubs.get(node, ())), colors.LIVE[level], GLOW,
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
        self._draw_dots(sheet, page, x, y)

    def _draw_dots(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        """A dot wherever three wires of a node or more meet."""
        dots = [(x + self._at(column), y + self.y[row]) for column, row in self._dots()]
        passed = [cell for cell in self.grid.cells if self.grid.passes(cell)]
        dots += [(x + at, y + self.y[cell.row]) for cell in passed for at in self._sides(cell)]
        for number, dot in enumerate(dots, 1):
            name = f"{self.name}-dot-{number}"
            sheet.marks.append(Spot(name, "", *dot, 4.4, 4.4, page.ink, page.ink, kind="dot"))

    def _passed(self) -> dict[tuple[tuple[int, int], tuple[int, int]], tuple[Cell, Caption]]:
        """What wire leads around, by the two ends of that wire."""
        return {
            ((cell.column, cell.row), (cell.column + 1, cell.row)): (cell, caption)
            for cell, caption in zip(self.grid.cells, self.signs, strict=True)
            if self.grid.passes(cell)
        }

    def _sides(self, cell: Cell) -> tuple[float, float]:
        """Where the wire around a contact leaves its line and comes back to it, from the left."""
        middle = self._middle(cell)
        return middle - REACH - PAST, middle + REACH + PAST

    def _around(
        self, start: Point, end: Point, x: float, cell: Cell, caption: Caption
    ) -> list[tuple[Point, Point]]:
        """The wire that leads around a contact, from one side of its cell to the other."""
        left, right = (x + at for at in self._sides(cell))
        low = start[1] + self._reaches(cell, caption)
        corners = [start, (left, start[1]), (left, low), (right, low), (right, end[1]), end]
        return list(pairwise(corners))

    def _leads(
        self, cell: Cell, x: float, start: Point, end: Point
    ) -> tuple[tuple[int, tuple[Point, Point]], ...]:
        """The wire between a sign and either end of its cell, with its node."""
        middle = x + self._middle(cell)
        reach = PARTED / 2 if self._parts(cell) else REACH
        if self.grid.passes(cell):
            left, right = (x + at for at in self._sides(cell))
            start, end = (left, start[1]), (right, end[1])
        return (
            (cell.left, (start, (middle - reach, start[1]))),
            (cell.right, ((middle + reach, end[1]), end)),
        )

    def _draw_segments(
        self,
        sheet: Sheet,
        page: Page,
        x: float,
        y: float,
        lines: dict[int, list[tuple[Point, Point]]],
        thick: dict[int, list[tuple[Point, Point]]],
        carrying: Sequence[Cell],
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
                if self._head_carries(side, segment.head, carrying):
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
        cells = [cell for cell in self.grid.cells if not self.grid.passes(cell)]
        leads = {(cell.left, cell.column, cell.row, "left") for cell in cells}
        leads |= {(cell.right, cell.column + 1, cell.ends[1], "right") for cell in cells}
        leads |= {(node, *spot, "left") for node, spot in (self.grid.motor.ends if self.grid.motor else ())}
        for node, column, row, _ in leads:
            ways[node, column, row] = ways.get((node, column, row), 0) + 1
        rails = set(self.rails)
        return [(c, r) for (node, c, r), count in ways.items() if count > 2 and (node, c) not in rails]

    def _draw_letters(self, sheet: Sheet, page: Page, x: float, y: float) -> None:
        """The letters of each node where it begins, and its volts in a state."""
        for number, ((column, row), (node, letters)) in enumerate(self.letters.items(), 1):
            at, last = self._marked(column, row)
            volts, back = self._clear(column, row)
            self._mark(
                sheet, page, f"{number}", node, letters, x + at, y + self.y[row], last, (x + volts, back)
            )
        for segment in self.whole.segments(self.y[-1]):
            if segment.start == TOP:
                continue
            at = x + self.x[-1] - 5 if segment.side else x + self.x[0] + 5
            name = f"rail-{segment.side}-{segment.start:g}"
            letters = self.captions.letters(segment.node)
            self._mark(
                sheet, page, name, segment.node, letters, at, y + segment.start + 11, segment.side == 1
            )

    def _is_last(self, node: int, column: int, row: int) -> bool:
        """Whether nothing of a node's wire leads on to the right from a place."""
        onward = any(
            (cell.left, cell.column, cell.row) == (node, column, row) and not self._parts(cell)
            for cell in self.grid.cells
        )
        motor = self.grid.motor
        onward = onward or (motor is not None and (node, (column, row)) in motor.ends)
        return not onward and not any(
            (one.node, one.start) == (node, (column, row)) and one.end[1] == row for one in self.pieces
        )

    def _mark(
        self, sheet: Sheet, page: Page, name: str, node: int, letters: str, x: float, line: float,
        leftward: bool = False, volts_at: tuple[float, bool] | None = None,
    ) -> None:  # fmt: skip
        """The letters and the number of a wire, and its volts in a state, where these are elsewhere there."""
        title = self.captions.title(node)
        number = self._number(node)
        align, apart = ("end", -MARK) if leftward else ("start", MARK)
        if leftward and number:
            x_letters, x_number = x - text_width(number, SMALL) - MARK if letters else x, x
        else:
            x_letters, x_number = x, x + (text_width(letters, SMALL, True) + apart if letters else 0)
        if letters:
            sheet.write(
                f"{self.name}-letters-{name}", letters, x_letters, line - 7.2, SMALL, page.ink, bold=True,
                align=align, kind="letters", title=title,
            )  # fmt: skip
        if number:
            sheet.write(
                f"{self.name}-wire-number-{name}", number, x_number, line - 7.2, SMALL, page.faint,
                align=align, kind="wire-number", title=title,
            )  # fmt: skip
        if self.state:
            volts = self.state.reading(self.captions.ladder.points[node][0])
            x, leftward = volts_at or (x, leftward)
            sheet.write(
                f"{self.name}-volts-{name}", volts, x, line + 7.0, SMALL, page.ink,
                align="end" if leftward else "start",
                kind="volts", title=title,
            )  # fmt: skip

    def _marked(self, column: int, row: int) -> tuple[float, bool]:
        """Where the letters of a wire begin, from the left, or where they end."""
        node, _ = self.letters[column, row]
        last = self._is_last(node, column, row)
        # Of what a missing wire would join it is said over the gap, where it is with that wire.
        before = 1 if column in self.grid.gaps and column + 1 < self.grid.columns else 4
        return self.x[column] + (-before if last else 4), last

    def _clear(self, column: int, row: int) -> tuple[float, bool]:
        """Where the volts of a wire begin, or end: under its letters, or beside what crosses there.

        It is the same in every state.
        """
        wide = text_width(self.widest, SMALL)

        def span(at: float, back: bool) -> tuple[float, float]:
            return (at - wide, at) if back else (at, at + wide)

        usual = self._marked(column, row)
        uprights = [
            self._at(piece.start[0])
            for piece in self.pieces
            if piece.start[0] == piece.end[0] and piece.start[1] <= row < piece.end[1]
        ]
        left, right = span(*usual)
        if not any(left - 1.5 < line < right + 1.5 for line in uprights):
            return usual
        taken = [(line - 1.5, line + 1.5) for line in uprights]
        cells = [cell for cell in self.grid.cells if row in cell.ends]
        taken += [(self._middle(cell) - SIGN, self._middle(cell) + SIGN) for cell in cells]
        others = [spot for spot in self.letters if spot[1] == row and spot[0] != column]
        taken += [span(*self._marked(*spot)) for spot in others]
        beside = [place for line in uprights for place in ((line - 4, True), (line + 4, False))]
        for place in sorted(beside, key=lambda place: abs(place[0] - usual[0])):
            left, right = span(*place)
            inside = self.x[0] < left and right < self.x[-1]
            if inside and not any(left < end and start < right for start, end in taken):
                return place
        return usual

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
        element = cell.element
        return element is not None and element.kind != "gap" and self.state.carries(element.name)

    def _drawing(self) -> list[tuple[int, tuple[int, int]]]:
        """The ends of the load on three phases that current flows through in the state."""
        motor = self.grid.motor
        if motor is None or self.state is None:
            return []
        load = self.captions.ladder.of["load", motor.element.name]
        assert isinstance(load, Load)
        amps = [self.state.settled.amps.get(load.winding(place), 0) for place in range(3)]
        # In delta each line feeds a winding and takes back what the one before it brings.
        return [
            end for place, end in enumerate(motor.ends) if abs(amps[place] - amps[place - 1]) >= LEAST_AMPS
        ]

    def _carrying(self) -> list[Cell]:
        """The cells that current flows through in the state.

        What stands on several rungs has the current of all of them: in each place it carries its share,
        which is none where nothing else carries current at one of its ends.
        """
        carrying = [cell for cell in self.grid.cells if self._carries(cell)]
        again = [cell for cell in carrying if cell.element and self.captions.again(cell.element)]
        if not again:
            return carrying
        fed = set(self.rails)
        fed |= {(node, column) for node, _, (column, _), _ in self.stubs}
        ends = {(node, *spot) for cell in self.grid.cells for node, spot in _ends(cell)}
        ends |= {(piece.node, *spot) for piece in self.pieces for spot in (piece.start, piece.end)}
        ends |= {(node, *spot) for node, spot in self._drawing()}
        wire = pieces(
            sorted(ends), [((each.node, *each.start), (each.node, *each.end)) for each in self.pieces]
        )
        led = {wire[node, column, row] for node, column, row in ends if (node, column) in fed}
        ends_of = [[wire[node, *spot] for node, spot in _ends(cell)] for cell in again]
        while True:
            meeting = Counter(wire[node, *spot] for cell in carrying for node, spot in _ends(cell))
            meeting.update(wire[node, *spot] for node, spot in self._drawing())
            idle = [
                cell
                for cell, both in zip(again, ends_of, strict=True)
                if cell in carrying and any(meeting[end] < 2 and end not in led for end in both)
            ]
            if not idle:
                return carrying
            carrying = [cell for cell in carrying if cell not in idle]

    def _head_carries(self, side: int, name: str, carrying: Sequence[Cell]) -> bool:
        """Whether current flows through what stands in a rail: it may all be that of another ladder."""
        if self.state is None or not self.state.carries(name):
            return False
        if not any(self.captions.again(step.element) for step in self.grid.heads[side]):
            return True
        inner = self.grid.inner[side]
        return any(node == inner for cell in carrying for node, _ in _ends(cell))

    def _flowing(self, carrying: Sequence[Cell]) -> set[Piece]:
        """The pieces of wire with something that carries current to either side of them.

        A node's wire has no loops here, so that is where the current goes. Rails
        are fed at their top, or by the secondary that stands there.
        """
        if self.state is None:
            return set()
        active: dict[tuple[int, tuple[int, int]], int] = dict.fromkeys(self._drawing(), 1)
        for cell in carrying:
            for key in _ends(cell):
                active[key] = active.get(key, 0) + 1
        for node, _, spot, _ in self.stubs:
            if any(one == node for one, _ in active):
                active[node, spot] = active.get((node, spot), 0) + 1
        fed = any(cell.winding for cell in self.grid.cells)
        for side, (node, column) in enumerate(self.rails):
            head = self.grid.heads[side]
            if fed and head and self._head_carries(side, head[0].element.name, carrying):
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


def _levels(links: Iterable[tuple[Cell, Cell]]) -> Iterator[tuple[Cell, Cell, int]]:
    """Links with how high each is over its row, so that none lies on another: the shortest lowest."""
    taken: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for one, other in sorted(links, key=lambda pair: pair[1].column - pair[0].column):
        level = 0
        while any(
            one.column < right and left < other.column for left, right in taken.get((one.row, level), ())
        ):
            level += 1
        taken.setdefault((one.row, level), []).append((one.column, other.column))
        yield one, other, level


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


def _words_over(over: float) -> float:
    """How far over the wire the words of a sign begin, which reaches so far over it: above its letters."""
    return max(over + 3, LETTERS)


def _words_under(under: float) -> float:
    """How far under the wire the words of a sign begin, which reaches so far under it."""
    return max(under + DROP, VOLTS)


def _ends(cell: Cell) -> tuple[tuple[int, tuple[int, int]], tuple[int, tuple[int, int]]]:
    """The node and the place, (column, row), of either end of a cell."""
    return (cell.left, (cell.column, cell.row)), (cell.right, (cell.column + 1, cell.ends[1]))


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
    alike = {"contact": "contact", "pole": "contact", "input": "input", "gap": "gap"}
    return alike.get(element.kind, "load")
