"""The legs of a panel behind its breakers: bars, and a stab from each pole down to the one that feeds it.

So has each lug of a subpanel without a main breaker, where the feeder brings that leg.

Two poles on one leg have their dots on one bar, so that two hots of one leg, which are no 240 V and whose
currents add up in a shared neutral, are seen.
"""

from __future__ import annotations

from collections.abc import Sequence

from wirecheck.drawing import colors
from wirecheck.drawing.colors import Page
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import LEG, SCREW, SMALL
from wirecheck.drawing.rooms import Room
from wirecheck.drawing.sheet import Line, Point, Sheet, Spot
from wirecheck.drawing.state import LEVELS, State
from wirecheck.model.board import Board

BAR, STAB = 3.4, 1.6
# A stab to a further bar passes in front of the nearer one.
GAP = 5.0
BEYOND = 14.0
UNDER_LUG = 29.0
"""From a lug down to where its stab begins: under its name and its volts."""


def draw_legs(sheet: Sheet, page: Page, room: Room, board: Board, state: State | None, glow: float) -> None:
    """Draw the legs of a panel under its breakers; nothing for a room that is no panel.

    Parameters
    ----------
    glow : the pen of what is live
    """
    if not room.legs:
        return
    bodies = {body.name: body for body in room.bodies}
    low = room.y + room.floor + SCREW / 2 + max(body.height for body in room.bodies)
    heights = {letter: low + LEG * (number + 0.9) for number, letter in enumerate(room.legs)}
    stabs: list[tuple[str, str, float, float]] = []
    for breaker in board.breakers.values():
        body = bodies.get(breaker.name) if breaker.panel == room.name else None
        if body is None:
            continue
        at = {slot.terminal.name: room.x + slot.x for slot in body.slots}
        top = room.y + room.floor + SCREW / 2 + body.height
        stabs += [(name, letter, at[name], top) for name, letter in breaker.poles if name in at]
    panel = board.panels[room.name]
    for letter in room.legs if panel.fed else ():
        lug = bodies.get(panel.lug(letter))
        if lug is not None:
            top = room.y + room.floor + SCREW / 2 + UNDER_LUG
            stabs.append((lug.name, letter, room.x + lug.slots[0].x, top))
    xs = [x for _, _, x, _ in stabs]
    for letter, y in heights.items():
        path = ((min(xs) - BEYOND, y), (max(xs) + BEYOND, y))
        _lit(sheet, room, letter, path, f"leg-{room.name}.{letter}", state, glow)
        title = f"leg {letter} of {room.name}"
        sheet.lines.append(
            Line(f"leg-{room.name}.{letter}", title, (path,), page.ink, BAR, kind=f"leg {letter}")
        )
        words = f"leg {letter}"
        x = path[0][0] - 5 - text_width(words, SMALL)
        sheet.write(
            f"label-leg-{room.name}.{letter}", words, x, y, SMALL, page.ink, align="start", title=title
        )
    for name, letter, x, top in stabs:
        path = ((x, top), (x, heights[letter]))
        _lit(sheet, room, letter, ((x, top + glow / 2), path[1]), f"stab-{name}", state, glow)
        crossed = [y for other, y in heights.items() if y < heights[letter]]
        sheet.lines += [
            Line(f"gap-{name}-{number}", "", (((x, y - 3), (x, y + 3)),), page.room, GAP, kind="gap")
            for number, y in enumerate(crossed, 1)
        ]
        title = f"{name} is on leg {letter}"
        sheet.lines.append(Line(f"stab-{name}", title, (path,), page.ink, STAB, kind="stab"))
        sheet.marks.append(Spot(f"leg-of-{name}", title, *path[1], 6, 6, page.ink, page.ink, kind="tap"))


def _lit(
    sheet: Sheet, room: Room, letter: str, path: Sequence[Point], name: str, state: State | None, glow: float
) -> None:
    """The glow of a bar or a stab whose leg is live."""
    if state is None:
        return
    level = state.level(state.circuit.board.panels[room.name].on_bus(letter))
    if level:
        line = Line(
            f"live-0-{name}", f"{name} is live: {LEVELS[level]}", (tuple(path),), colors.LIVE[level], glow,
            colors.LIVE_DASH[level], kind=f"live {level}", layer=-1,
        )  # fmt: skip
        sheet.lines.append(line)
