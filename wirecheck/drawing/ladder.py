"""The ladder diagram: how a board works. Two rails, a rung a load, what switches it in order.

`wirecheck.circuit.rungs` says what stands on each rung, `grid` gives it rows and
columns, `captions` its words, `contacts` its signs, `block` each ladder its measures;
`block_wires` and `block_signs` draw it. Here ladders get their places on the sheet.
What several rungs begin with is drawn once, and they hang on a rail of their
own behind it; so is what they end with. Transformers tie the ladders of a board
together: the primary is a rung of one, the secondary stands at the top of another.
"""

from __future__ import annotations

from itertools import islice

from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.ladder import Ladder
from wirecheck.circuit.rungs import ladder
from wirecheck.circuit.settle import Settled
from wirecheck.drawing.area import NOT_SHOWN, SCREEN, Area, Shown
from wirecheck.drawing.block import (
    FLOW,
    GLOW,
    HEAD,
    NOTED,
    WIRE,
    Block,
)
from wirecheck.drawing.block_signs import again, draw_beside, draw_note, draw_signs
from wirecheck.drawing.block_wires import draw_letters, draw_rails, draw_wires
from wirecheck.drawing.captions import NAME, SMALL, Captions
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.grid import grids
from wirecheck.drawing.key import Pens, state_key
from wirecheck.drawing.letters import evenly, shorten, text_width
from wirecheck.drawing.rails import ASIDE, dashes_start, head_words
from wirecheck.drawing.shared_neutrals import shared_neutrals
from wirecheck.drawing.sheet import CAUTION_WIDTH, TITLE, TITLE_LINE, Line, Sheet, Words
from wirecheck.drawing.state import State
from wirecheck.model.board import Board

HEAD_WIDTH = CAUTION_WIDTH
"""How wide the caution is, so that a small ladder is not narrower than the words over it."""
MARGIN = 18.0
GAP = 30.0
NEAR = 2.5
"""From the dashes of a tie to the rail of the breaker that they lead to."""
ASTRAY = 18.0
"""How far what is odd beside a row may reach into the room between two ladders."""
HEADED = 92.0
"""How high the head is over a ladder: the title, what is shown, the caution."""
KEY = (
    "The bold numbers at the left number the lines of this drawing.",
    "The small ones on the wires are wire numbers.",
    "Beside a coil or a control stand the lines on which its contacts are.",
    "Those that are closed at rest are underlined.",
)
KEY_LINE = 11.0
FEW = 2
"""Of so many neutrals that two hots share the key tells: of more where a panel is wired wrong."""
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
        _fill(column, _width(column) * max(wider, 1.0))
        for block in column:
            _draw(block, sheet, page, x, y, drawn)
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
        moved = [*said.moved.values(), *(each for one in said.controlled.values() for each in one.values())]
        moved += said.proving.values()
        moved += [each for one in said.alone.values() for each in one.values()]
        closed = any(closed for lines in moved for _, closed in lines)
        numbered = any(mark.kind == "wire-number" for mark in sheet.marks)
        there = (True, numbered, any(moved), closed)
        told = " ".join(line for line, shown in zip(KEY, there, strict=True) if shown)
        told = " ".join((told, *islice(shared_neutrals(whole.circuit), FEW)))
        for number, line in enumerate(evenly(told, max(widest, HEAD_WIDTH), SMALL)):
            bottom += KEY_LINE * bool(number)
            name = f"key-{number + 1}" if number else "key"
            heads.append(sheet.write(name, line, 0, bottom, SMALL, page.faint, align="start", kind="key"))
    right = max([widest, *(words.width for words in heads)])
    if state:
        bottom = state_key(sheet, page, state, bottom + 20, right, Pens(WIRE, GLOW, FLOW))
        right = max(right, *(mark.x + mark.width / 2 for mark in sheet.marks))
    sheet.left, sheet.top = -MARGIN, top - TITLE / 2 - MARGIN
    sheet.width, sheet.height = right + 2 * MARGIN, bottom - sheet.top + MARGIN
    return sheet


def _fill(column: list[Block], least: float) -> None:
    """Let the rails of ladders under one another stand under one another, as wide apart as their column.

    Parameters
    ----------
    least : how far to the right the column should reach at least, with what stands beside its rungs.
    """
    framed = [block for block in column if not block.grid.mesh]
    last = max((block.x[-1] for block in framed), default=0.0)
    beyond = max((block.usual - block.x[-1] for block in framed), default=0.0)
    last = max(last, least - beyond)
    for block in framed:
        block.widen(last)


def _fitting(ladder: Ladder, fit: Area, state: State | None) -> list[list[Block]]:
    """The ladders in columns, read downwards, folded where that lets them be drawn larger."""
    best: tuple[Shown, list[list[Block]]] = (NOT_SHOWN, [])
    for most in LOTS:
        listed = grids(ladder, most)
        if most is not None and not any(grid.continued for grid in listed):
            continue
        captions = Captions(ladder, listed)
        blocks = [Block(grid, captions, number + 1, state) for number, grid in enumerate(listed)]
        shown, columns = _columns(blocks, fit)
        if shown.beats(best[0], 1 if most is None else FOLD):
            best = (shown, columns)
    return best[1]


def _columns(blocks: list[Block], fit: Area) -> tuple[Shown, list[list[Block]]]:
    """Ladders in as many columns as let them be drawn largest, and how large that is."""
    best: tuple[Shown, list[list[Block]]] = (NOT_SHOWN, [])
    for count in range(1, min(len(blocks), 12) + 1):
        left = sum(block.height + GAP for block in blocks)
        columns: list[list[Block]] = [[]]
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


def _draw_ties(sheet: Sheet, page: Page, columns: list[list[Block]]) -> None:
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
            left, y = block.at[0] + block.x[0], block.at[1] + head.y
            ends = [
                far.at[0] + far.x[0] - NEAR
                for far, across in following
                if across.name == other and abs(far.at[1] + across.y - y) < 0.5 and not block.grid.heads[1]
            ]
            reached.update(other for _ in ends)
            wide = max(text_width(text, NAME, bold) for text, _, bold in head_words(head))
            start = left + dashes_start(head.caption, True)
            path = ((start, y), (ends[0] if ends else left + ASIDE + wide, y))
            title = f"the handles of {head.name} and {other} are tied"
            name = again(f"tie-{head.name}", drawn)
            sheet.lines.append(Line(name, title, (path,), page.ink, 0.9, "dashed", kind="link"))


def _width(column: list[Block]) -> float:
    """How wide ladders under one another are, once their right rails stand under one another."""
    framed = [block for block in column if not block.grid.mesh]
    rails = max((block.x[-1] for block in framed), default=0.0)
    beyond = max((block.usual - block.x[-1] for block in framed), default=0.0)
    return max([rails + beyond, *(block.usual for block in column)])


def _odd(column: list[Block]) -> float:
    """How far what is odd reaches beyond what ladders under one another have room for."""
    return max(block.width for block in column) - max(block.usual for block in column)


def _draw(block: Block, sheet: Sheet, page: Page, x: float, y: float, drawn: dict[str, int]) -> None:
    """Put the ladder on the sheet with its upper left corner at a point.

    `drawn` counts how often each element has been drawn, here and on the ladders before.
    """
    heading = block.captions.heading(block.grid)
    sheet.write(
        f"{block.name}-heading", heading, x, y + 5, HEAD, page.ink, bold=True, align="start", kind="heading"
    )
    draw_wires(block, sheet, page, x, y)
    draw_rails(block, sheet, page, x, y)
    draw_signs(block, sheet, page, x, y, drawn)
    draw_letters(block, sheet, page, x, y)
    for row, loads in enumerate(block.loads()):
        number, at = block.captions.line(block.grid, row), y + block.y[row]
        sheet.write(
            f"line-{number}", str(number), x, at, HEAD, page.ink, bold=True, align="start", kind="row",
            title=", ".join(load.name for load in loads),
        )  # fmt: skip
        noted = block.x[block.ends[row]] + NOTED if block.inside[row] else block.noted
        if row in block.aside:
            part = f"load-{loads[0].name}"
            draw_beside(sheet, page, part, block.aside[row], x + noted, at)
            noted += block.wide_beside(block.aside[row]) + NOTED
        draw_note(sheet, page, number, x + noted, at, block.notes[row])
