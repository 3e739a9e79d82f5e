"""The signs of a ladder as drawn, each with its words, and the dashes between poles of one device."""

from __future__ import annotations

from wirecheck.circuit.structure import Element
from wirecheck.drawing import colors
from wirecheck.drawing.block import BESIDE, FLOW, GLOW, LINE, LINK, WIRE, Block
from wirecheck.drawing.captions import NAME, SMALL, Caption, Note
from wirecheck.drawing.cells import Cell
from wirecheck.drawing.colors import Page
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.current import drawing_ends
from wirecheck.drawing.interconnect import draw_interconnect
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.loads import Signs
from wirecheck.drawing.rails import ASIDE, dashes_start, head_words
from wirecheck.drawing.sheet import Line, Sheet

AROUND = 11.5
"""The radius of a motor."""


def draw_note(sheet: Sheet, page: Page, number: int, x: float, y: float, note: Note) -> None:
    """What stands beside a row, the lines of contacts that rest closed underlined."""
    heights = note.heights(LINE)
    y -= heights[-1] / 2
    for place, text in enumerate(note.lines):
        name = f"note-{number}-{place + 1}" if place else f"note-{number}"
        sheet.write(name, text, x, y + heights[place], SMALL, page.faint, align="start", kind="note")
    for count, (place, before, text) in enumerate(note.marked):
        start, low = x + text_width(before, SMALL), y + heights[place] + 4.8
        path = ((start, low), (start + text_width(text, SMALL), low))
        title = f"line {text}: rests closed"
        sheet.lines.append(
            Line(f"note-{number}-closed-{count + 1}", title, (path,), page.faint, 0.9, kind="underline")
        )


def draw_signs(block: Block, sheet: Sheet, page: Page, x: float, y: float, drawn: dict[str, int]) -> None:
    """Every sign with its words; `drawn` counts how often each has been drawn, here and on ladders before."""
    pen = Signs(sheet, page)
    _draw_heads(block, pen, x, y, drawn)
    for count, (first, last, level) in enumerate(block.links):
        one, other = (x + block.middle(cell) for cell in (first, last))
        foot = y + block.y[first.row] - block.over[first.row] + LINK / 2
        low = foot - LINK * (level + 0.5)
        around = ((one, foot), (one, low), (other, low), (other, foot))
        name = f"{block.name}-poles-{count + 1}"
        sheet.lines.append(Line(name, "moved together", (around,), page.ink, 0.9, "dashed", kind="link"))
    for count, (upper, lower) in enumerate(block.poles):
        first, last = block.grid.cells[upper], block.grid.cells[lower]
        middle = x + block.middle(first)
        path = (
            (middle, y + block.y[first.row] + block.signs[upper].reach[1] + 2),
            (middle, y + block.y[last.row] - block.signs[lower].reach[0] - 2),
        )
        name = f"{block.name}-poles-upright-{count + 1}"
        sheet.lines.append(Line(name, "moved together", (path,), page.ink, 0.9, "dashed", kind="link"))
    _draw_motor(block, pen, x, y, drawn)
    for count, wire in enumerate(block.interconnects, 1):
        places = [(x + block.middle(cell), y + block.y[cell.row]) for cell in wire.cells]
        name = f"{block.name}-interconnect-{count}"
        draw_interconnect(sheet, page.ink, page.faint, name, wire, places, SMALL)
    for cell, caption in zip(block.grid.cells, block.signs, strict=True):
        middle = x + block.middle(cell)
        line = y + block.y[cell.row]
        part = again(_part_name(cell), drawn)
        top, low = min(cell.ends), max(cell.ends)
        drop = y + block.y[cell.ends[1]] - line
        with pen.at(middle, line):
            _sign(block, pen, cell.element.name if cell.element else "", caption, drop)
        kind = _kind(cell.element) if cell.element else "load"
        kind = "load" if kind == "input" else kind
        pen.lifted(part, " ".join(caption.over), page.ink, f"sign {kind}", 11, ".stroke-")
        for place, text in enumerate(reversed(caption.over)):
            at = y + block.y[top] - block.names[top] - LINE * (place + 0.5)
            sheet.write(f"{part}.name-{place + 1}", text, middle, at, NAME, page.ink, bold=True)
        if block.parts(cell):
            said = block.says_missing(cell)
            if said:
                at = y + block.y[low] + block.words[low] + LINE * (said[2] + 0.5)
                sheet.write(
                    f"{part}.words-1", caption.under[0], x + said[0], at, SMALL, page.faint, align=said[1]
                )  # fmt: skip
            continue
        for place, text in enumerate(caption.under):
            at = y + block.y[low] + block.words[low] + LINE * (place + 0.5)
            sheet.write(f"{part}.words-{place + 1}", text, middle, at, SMALL, page.faint)


def _draw_motor(block: Block, pen: Signs, x: float, y: float, drawn: dict[str, int]) -> None:
    """The load on three phases, its three leads with their screws, and its words beside it."""
    motor, caption, sheet, page = block.grid.motor, block.motor, pen.sheet, pen.page
    if motor is None or caption is None:
        return
    middle = x + block.x[motor.column] + block.lead()
    rows = [y + block.y[row] for row in motor.rows]
    line = sorted(rows)[1]
    part = again(f"load-{motor.element.name}", drawn)
    title = "".join(caption.over)
    drawing = drawing_ends(block)
    with pen.at(middle, line):
        pen.circle(0, 0, AROUND)
        pen.letter("M" if caption.sign == "motor" else "3~")
    pen.lifted(part, title, page.ink, "sign load", 11, ".stroke-")
    for number, (at, screw, end) in enumerate(zip(rows, block.screws, motor.ends, strict=True), 1):
        start, side = (middle - REACH, at), (at > line) - (at < line)
        foot = (middle, line + side * AROUND) if side else (middle - AROUND, line)
        path = (start, (middle, at), foot) if side else (start, foot)
        lead = Line(f"{part}.lead-{number}", f"{title} {screw}", (path,), page.ink, WIRE, kind="lead")
        level = block.level(end[0])
        if level:
            name = f"live-{part}.lead-{number}"
            live = colors.LIVE[level], GLOW, colors.LIVE_DASH[level]
            sheet.lines.insert(0, Line(name, lead.title, (path,), *live, kind=f"live {level}"))
        sheet.lines.append(lead)
        if end in drawing:
            name = f"flow-{part}.lead-{number}"
            sheet.lines.append(Line(name, lead.title, (path,), page.ink, FLOW, kind="flow"))
        left = middle - REACH - 2
        sheet.write(f"{part}.screw-{number}", screw, left, at - 7.2, SMALL, page.faint, align="end")
    draw_beside(sheet, page, part, caption, middle + BESIDE, line)


def draw_beside(sheet: Sheet, page: Page, part: str, caption: Caption, x: float, y: float) -> None:
    """The words of a sign to the right of it."""
    top = y - LINE * (len(caption.over) + len(caption.under) - 1) / 2
    words = [(text, True) for text in caption.over] + [(text, False) for text in caption.under]
    for place, (text, bold) in enumerate(words):
        sheet.write(
            f"{part}.words-{place + 1}", text, x, top + LINE * place, NAME if bold else SMALL,
            page.ink if bold else page.faint, bold=bold, align="start",
        )  # fmt: skip


def _sign(block: Block, pen: Signs, name: str, caption: Caption, drop: float = 0.0) -> None:
    closed = _closed(block, name, caption)
    if caption.switch is not None and caption.switch.form == "throw":
        pen.throw(drop, closed, caption.switch.mirrored)
        return
    if caption.switch is not None:
        pen.switch(caption.switch, caption.rests_closed, closed, block.state is not None)
        return
    pen.load(caption.sign)
    if caption.rests_closed and not closed:
        pen.line((-6, -6), (6, 6), pen=1.6)
        pen.line((-6, 6), (6, -6), pen=1.6)


def _closed(block: Block, name: str, caption: Caption) -> bool:
    """Whether a contact or a breaker is closed: as it rests, or in the state that is drawn."""
    if block.state and caption.switch:
        return block.state.contact(name).closed
    if block.state and caption.protection:
        return block.state.protection(caption.protection).closed
    return caption.rests_closed


def _draw_heads(block: Block, pen: Signs, x: float, y: float, drawn: dict[str, int]) -> None:
    """What stands in the rails, upright, with its words beside it and dashes from pole to pole."""
    sheet, page = pen.sheet, pen.page
    left, right = x + block.x[0], x + block.x[-1]
    for count, (one, other) in enumerate(block.whole.links()):
        start, end = (
            dashes_start(head.caption, _closed(block, head.name, head.caption)) for head in (one, other)
        )
        path = ((left + start, y + one.y), (right - end, y + one.y))
        name = f"{block.name}-link-{count + 1}"
        sheet.lines.append(Line(name, "one handle", (path,), page.ink, 0.9, "dashed", kind="link"))
    for head in (*block.whole.heads(0), *block.whole.heads(1)):
        part = again(f"contact-{head.name}", drawn)
        at, side = (right, -1) if head.side else (left, 1)
        with pen.at(at, y + head.y, upright=side):
            _sign(block, pen, head.name, head.caption)
        pen.lifted(part, "".join(head.caption.over), page.ink, "sign contact upright", 11, ".stroke-")
        for count, (text, low, bold) in enumerate(head_words(head)):
            sheet.write(
                f"{part}.words-{count + 1}", text, at + side * ASIDE, y + head.y + low,
                NAME if bold else SMALL, page.ink if bold else page.faint, bold=bold,
                align="end" if head.side else "start",
            )  # fmt: skip


def again(name: str, drawn: dict[str, int]) -> str:
    """The id of a sign: its name, with how often it has been drawn where that is not once."""
    drawn[name] = drawn.get(name, 0) + 1
    return name if drawn[name] == 1 else f"{name}.again-{drawn[name]}"


def _part_name(cell: Cell) -> str:
    """The id of what stands in a cell: `contact-...`, `load-...`, `input-...`, `secondary-...`."""
    if cell.winding is not None:
        return f"secondary-{cell.winding.name}"
    assert cell.element is not None
    return f"{_kind(cell.element)}-{cell.element.name}"


def _kind(element: Element) -> str:
    alike = {"contact": "contact", "pole": "contact", "input": "input", "gap": "gap"}
    return alike.get(element.kind, "load")
