"""One ladder, measured: where its lines, its signs and their words are, and how much room it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wirecheck.circuit.circuit import Contact, Protection
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.structure import Element
from wirecheck.drawing.captions import NAME, SMALL, Caption, Captions
from wirecheck.drawing.cells import Cell, Grid
from wirecheck.drawing.condition_words import short_words
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.interconnect import interconnects, wide_beside_signs
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.rails import TOP, Rails
from wirecheck.drawing.state import State

HEAD = 9.5
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
MARK = 5.0
"""Between the letters of a wire and its number."""
RAILS = 42.0
"""From the top of a ladder to where its rails begin to have rungs, without the first row's words."""
NOTED = 8.0
"""The room before and after what stands beside a row."""
WIRE, RAIL, FLOW, GLOW = 1.2, 2.4, 2.8, 5.4
DROP, VOLTS, LETTERS, RAISED = 3.0, 12.0, 11.0, 14.0
"""How far under a sign its words begin, and how far under the wire: volts of a state stand between.
Over it, how far up the letters of the wire reach, and how high a name is RAISED that stands over them."""
PAST, UNDER = 7.0, 6.0
"""How far beside a contact and under it the wire is that leads around it."""
LANE = 18.0
"""How wide a column is in which wire alone stands."""
PARTED = 20.0
"""How wide the lane of a missing wire is, of the room that the wire beside it has."""
BESIDE = 18.0
"""From the middle of a motor at the end of three lines to the words beside it."""
FLAT = 4.0
"""Under a sign that reaches no further down there is room for volts."""
BY = 4.0
"""From an upright wire to the volts beside it."""
LINK = 8.0
"""How much higher a row is, over which dashes link the poles of one device."""


class Block:
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
        self.to_rails = [
            each
            for each in self.pieces
            if each.start[1] != each.end[1] or not grid.returns(each.node, each.start[1])
        ]
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
        self.interconnects = list(interconnects(captions.ladder, grid))
        self.links = list(_levels(self._links()))
        self.poles = list(self._poles())
        apart = not grid.mesh and bool(captions.apart(grid.rails))
        around = {cell.row for cell in grid.cells if grid.passes(cell)}
        last = self._last()
        self.notes = [
            captions.note(
                loads,
                grid.rails if row in grid.bare else (),
                row >= grid.feeds and apart,
                row in around,
                [node for (_, at), node in grid.loose.items() if at == row],
                last.get(row),
            )
            for row, loads in enumerate(self.loads())
        ]
        self.x = self._columns()
        self.y = self._rows()
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
        if (max(ends, default=0), row) not in self.grid.loose:
            # The last rail passes what leads nowhere before it.
            before = [end for end in ends if end != self.grid.columns]
            if before and (max(before), row) in self.grid.loose:
                return max(before)
        return max(ends, default=self.grid.columns)

    def _last(self) -> dict[int, Element]:
        """What stands last in each row, but missing wires."""
        there = sorted(self.grid.cells, key=lambda cell: cell.column)
        return {cell.row: cell.element for cell in there if cell.element and cell.element.kind != "gap"}

    def loads(self) -> list[list[Element]]:
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
                part = self.captions.circuit.devices[what.scope].part
                key = (cell.row, what.scope, short_words(what.when, part))
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
        places = [(cell.left, (cell.column, cell.row)) for cell in self.grid.cells if not self.parts(cell)]
        ahead = [(one.node, one.start) for one in self.pieces if one.start[1] == one.end[1]]
        places += motor.ends if motor else ahead
        rails = set(self.grid.rails) if motor else {node for node, _ in self.rails}
        ends = {(node, *spot) for cell in self.grid.cells for node, spot in cell.spots}
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
            over, under = caption.reach[0], self.reaches(cell, caption)
            top, low = min(cell.ends), max(cell.ends)
            if caption.over:
                self.names[top] = max(self.names[top], _words_over(over))
            if caption.under:
                # What is live glows, around a contact too.
                under += GLOW / 2 if self.grid.passes(cell) else 0.0
                self.words[low] = max(self.words[low], _words_under(under))
        for row in self._under_names():
            self.names[row] = max(self.names[row], RAISED)
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            top, low = min(cell.ends), max(cell.ends)
            up[top] = max(up[top], caption.reach[0] + 3, self.names[top] + 1 + LINE * len(caption.over))
            words = self.words[low] + 1 + LINE * len(caption.under)
            words = words if caption.under else self.reaches(cell, caption) + 3
            if self.grid.motor and self.parts(cell) and low < self.grid.rows - 1:
                # Its lines are short: the word under a missing wire may have to stand under all others. Below
                # the last one there is room between two ladders.
                words = self.words[low] + 1 + LINE * (1 + self._lowest(low))
            down[low] = max(down[low], words)
        for row, note in enumerate(self.notes):
            half = (note._replace(odd=()).heights(LINE)[-1] + LINE) / 2 if note.said else 0.0
            up[row], down[row] = max(up[row], half), max(down[row], half)
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

    def _under_names(self) -> Iterator[int]:
        """The rows in which the letters or the number of a wire reach under the name of a sign."""
        marks: dict[int, list[tuple[float, float]]] = {}
        for (column, row), (node, letters) in self.letters.items():
            at, last = self.marked(column, row)
            wide = self._mark_width(letters, node)
            marks.setdefault(row, []).append((at - wide, at) if last else (at, at + wide))
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            half = max((text_width(text, NAME, True) for text in caption.over), default=0.0) / 2
            middle, row = self.middle(cell), min(cell.ends)
            if half and any(
                left < middle + half and middle - half < right for left, right in marks.get(row, ())
            ):
                yield row

    def reaches(self, cell: Cell, caption: Caption) -> float:
        """How far what stands in a cell reaches under the wire, with the wire that leads around it."""
        return caption.reach[1] + (UNDER if self.grid.passes(cell) else 0.0)

    def _columns(self) -> list[float]:
        # Where a wire is missing there is no sign: so a wrong board is hardly wider than the right one.
        signs = {cell.column for cell in self.grid.cells if not cell.element or cell.element.kind != "gap"}
        gaps = {cell.column for cell in self.grid.cells} - signs
        slim = gaps | self.grid.lanes
        wide = [LANE if column in slim else NARROW for column in range(self.grid.columns)]
        missing = {(cell.column, cell.row) for cell in self.grid.cells if self.parts(cell)}
        # Behind what is wired around the wire is the same one: it has room as on the right board.
        named_else = missing | {(cell.column, cell.row) for cell in self.grid.cells if self.grid.passes(cell)}
        for column in self.grid.gaps:
            wide[column] = 0.0
        ahead, self.beyond = [0.0] * self.grid.columns, [0.0] * self.grid.columns
        for cell, caption in zip(self.grid.cells, self.signs, strict=True):
            if self.parts(cell):
                continue
            need = max((text_width(text, NAME, True) for text in caption.over), default=0)
            need = max(need, *(text_width(text, SMALL) for text in caption.under), 0.0) + 10
            beside = [wide_beside_signs(wire, SMALL) for wire in self.interconnects if cell in wire.cells]
            need = max(need, *(2 * each + 10 for each in beside), 0.0)
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
            if node == cell.right and self.is_last(node, cell.column + 1, cell.ends[1]):
                # By a missing wire they reach over the gap, and over a lead of the sign.
                missed = (cell.column + 1, cell.ends[1]) in missing
                stub = self._mark_width(letters, node)
                over = 6.7 if cell.column + 2 < self.grid.columns else 3.7
                volts = text_width(self.widest, SMALL)
                stub = stub - over if missed else max(stub, volts)
                after = max(after, reach + stub + 8)
                if caption.reach[1] > FLAT:
                    after = max(after, SIGN + volts - self._volts_at(cell.column + 1, cell.ends[1])[0])
                    before = before if self.grid.motor else max(before, after)
            for column, row in ((cell.column - 1, cell.row), (cell.column + 1, cell.ends[1])):
                back = column > cell.column
                if self.grid.gaps.get(column) is back:
                    room = REACH + PARTED if (column, row) in missing else 0.0
                    room = max(room, need / 2 + PARTED if column in self.grid.moved else 0.0)
                    named = (column, row) in self.letters
                    if column in self.grid.moved and named and caption.reach[1] > FLAT:
                        # Its volts stand before the wire that is upright there.
                        room = max(room, SIGN + text_width(self.widest, SMALL) + BY + PARTED)
                    before, after = max(before, 0.0 if back else room), max(after, room if back else 0.0)
                    if not self.grid.motor:
                        before = max(before, after)
                        # A sign stands in the middle of its column: off the wire that is upright there.
                        after = before if column in self.grid.moved and not back else after
            ahead[cell.column] = max(ahead[cell.column], before)
            self.beyond[cell.column] = max(self.beyond[cell.column], after)
            wide[cell.column] = max(wide[cell.column], ahead[cell.column] + self.beyond[cell.column])
        if self.motor and self.grid.motor:
            wide[-1] = max(NARROW, self.lead() + BESIDE + self.wide_beside(self.motor))
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

    def parts(self, cell: Cell) -> bool:
        """Whether it is a missing wire in a lane of its own, which takes the room of the wire beside it."""
        return cell.column in self.grid.gaps

    def _lowest(self, row: int) -> int:
        """How many lines stand under the signs of a row, without the word under a missing wire."""
        signs = zip(self.grid.cells, self.signs, strict=True)
        return max(
            (len(said.under) for cell, said in signs if cell.ends[1] == row and not self.parts(cell)),
            default=0,
        )

    def says_missing(self, cell: Cell) -> tuple[float, str, int] | None:
        """Where the word under a missing wire is, how it lies, and how many lines are over it.

        None where there is no room for it.
        """
        before = self.grid.gaps[cell.column]
        line = cell.column + before
        apart = 6 if line in (0, self.grid.columns) else 2
        end = self.at_line(line) + (-apart if before else apart)
        wide = text_width(self.signs[self.grid.cells.index(cell)].under[0], SMALL)
        left = end - wide if before else end
        for piece in self.pieces:
            upright = piece.start[1] <= cell.row < piece.end[1]
            if upright and left - 2 < self.at_line(piece.start[0]) < left + wide + 2:
                return None
        low = 0
        for other, caption in zip(self.grid.cells, self.signs, strict=True):
            if other is not cell and cell.row == other.ends[1] and caption.under:
                half = max(text_width(text, SMALL) for text in caption.under) / 2 + 4
                middle = self.middle(other)
                if left < middle + half and middle - half < left + wide:
                    if not self.grid.motor:
                        return None
                    low = self._lowest(cell.row)
        return end, "end" if before else "start", low

    def at_line(self, line: int) -> float:
        """Where a line of the grid is, from the left: by a missing wire it is out of its place."""
        gaps = self.grid.gaps
        behind = line
        while gaps.get(behind):
            behind += 1
        ahead = line
        while gaps.get(ahead - 1) is False:
            ahead -= 1
        return self.x[line] + PARTED * (line - ahead) - PARTED * (behind - line)

    def middle(self, cell: Cell) -> float:
        """Where the middle of a sign is, from the left."""
        if self.parts(cell):
            return (self.at_line(cell.column) + self.at_line(cell.column + 1)) / 2
        start, end = self.x[cell.column], self.x[cell.column + 1]
        return end - self.beyond[cell.column] if self.grid.motor else (start + end) / 2

    def level(self, node: int) -> str:
        """What a node is live at, a key of `LEVELS`; nothing where it is not, or no state is shown."""
        return self.state.level(self.captions.ladder.points[node][0]) if self.state else ""

    def lead(self) -> float:
        """From the last column's beginning to the middle of the motor there: its wires say what they are."""
        ends = self.grid.motor.ends if self.grid.motor else ()
        marks = [self._mark_width(*self.letters[spot][::-1]) for _, spot in ends if spot in self.letters]
        screws = max((text_width(screw, SMALL) for screw in self.screws), default=0.0)
        return max([text_width(self.widest, SMALL), *marks]) + screws + REACH + 12

    @staticmethod
    def wide_beside(caption: Caption) -> float:
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

    def is_last(self, node: int, column: int, row: int) -> bool:
        """Whether nothing of a node's wire leads on to the right from a place."""
        onward = any(
            (cell.left, cell.column, cell.row) == (node, column, row) and not self.parts(cell)
            for cell in self.grid.cells
        )
        motor = self.grid.motor
        onward = onward or (motor is not None and (node, (column, row)) in motor.ends)
        return not onward and not any(
            (one.node, one.start) == (node, (column, row)) and one.end[1] == row for one in self.pieces
        )

    def number(self, node: int | None) -> str:
        """The number of a wire; nothing where it is a rail's."""
        number = None if node is None else self.captions.wires.get(node)
        return "" if number is None else str(number)

    def _mark_width(self, letters: str, node: int | None) -> float:
        number = self.number(node)
        both = MARK if letters and number else 0.0
        return text_width(letters, SMALL, True) + text_width(number, SMALL) + both

    def marked(self, column: int, row: int) -> tuple[float, bool]:
        """Where the letters of a wire begin, from the left, or where they end."""
        node, _ = self.letters[column, row]
        last = self.is_last(node, column, row)
        # Of what a missing wire would join it is said over the gap, where it is with that wire.
        before = 1 if column in self.grid.gaps and column + 1 < self.grid.columns else 4
        return self._by_its_end(column, row) or self.x[column] + (-before if last else 4), last

    def _by_its_end(self, column: int, row: int) -> float | None:
        """Where the letters of a wire begin or end that a missing wire would join: clear of the gap.

        None where there is no room for them between the gap and the next sign.
        """
        node, letters = self.letters[column, row]
        last = self.is_last(node, column, row)
        at = self.at_line(column)
        if at == self.x[column]:
            return None
        middles = [self.middle(cell) for cell in self.grid.cells if row in cell.ends and not self.parts(cell)]
        room = [at - middle if last else middle - at for middle in middles]
        wide = self._mark_width(letters, node) + SIGN + 8
        return None if any(0 < each < wide for each in room) else at + (-4 if last else 4)

    def _volts_at(self, column: int, row: int) -> tuple[float, bool]:
        """Where the volts of a wire begin, from its line of the grid, or where they end: under its letters.

        Those on both sides of a missing wire stand close, so that they are beside the signs there.
        """
        node, _ = self.letters[column, row]
        if self.is_last(node, column, row):
            return (2.0 if column in self.grid.gaps and column + 1 < self.grid.columns else -4.0), True
        return (5.5 if column - 1 in self.grid.gaps else 4.0), False

    def clear(self, column: int, row: int) -> tuple[float, bool]:
        """Where the volts of a wire begin, or end: under its letters, or beside what crosses there.

        It is the same in every state.
        """
        wide = text_width(self.widest, SMALL)

        def span(at: float, back: bool) -> tuple[float, float]:
            return (at - wide, at) if back else (at, at + wide)

        def usually(column: int, row: int) -> tuple[float, bool]:
            at, back = self._volts_at(column, row)
            return self.x[column] + at, back

        usual = usually(column, row)
        uprights = [
            self.at_line(piece.start[0])
            for piece in self.pieces
            if piece.start[0] == piece.end[0] and piece.start[1] <= row < piece.end[1]
        ]
        left, right = span(*usual)
        if not any(left - 1.5 < line < right + 1.5 for line in uprights):
            return usual
        taken = [(line - 1.5, line + 1.5) for line in uprights]
        signs = zip(self.grid.cells, self.signs, strict=True)
        middles = [self.middle(cell) for cell, said in signs if row in cell.ends and said.reach[1] > FLAT]
        taken += [(middle - SIGN, middle + SIGN) for middle in middles]
        others = [spot for spot in self.letters if spot[1] == row and spot[0] != column]
        taken += [span(*usually(*spot)) for spot in others]
        beside = [place for line in uprights for place in ((line - BY, True), (line + BY, False))]
        for place in sorted(beside, key=lambda place: abs(place[0] - usual[0])):
            left, right = span(*place)
            inside = self.x[0] < left and right < self.x[-1]
            if inside and not any(left < end and start < right for start, end in taken):
                return place
        return usual


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


def _words_over(over: float) -> float:
    """How far over the wire the words of a sign begin, which reaches so far over it: above its letters."""
    return max(over + 3, LETTERS)


def _words_under(under: float) -> float:
    """How far under the wire the words of a sign begin, which reaches so far under it."""
    return max(under + DROP, VOLTS)
