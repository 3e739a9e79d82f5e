"""What a panel joins to its neutral bar itself: its ground bar where it is bonded, and its breakers' leads.

A breaker that watches for faults has a neutral screw, and a white lead or a clip of its own to the neutral
bar. In the panel where neutral and ground are bonded, and there alone, the two bars are one.
"""

from __future__ import annotations

from wirecheck.drawing import colors
from wirecheck.drawing.colors import Page
from wirecheck.drawing.copper import taken
from wirecheck.drawing.flags import bond_name
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import BAR_LEAD, LEG, SCREW, SMALL
from wirecheck.drawing.rooms import Body, Room
from wirecheck.drawing.sheet import Line, Point, Sheet
from wirecheck.drawing.state import LEVELS, State
from wirecheck.drawing.within import write_on_wire
from wirecheck.model.board import Board

PEN, CASING, STRAP = 2.0, 3.8, 4.0
UNDER, ABOVE_WORD, THIN = 33.0, 5.5, 0.7
"""How far under the bars the word is: under their names and their volts; a thin line leads to it."""
BESIDE_TURN = 12.0
"""How far from where a lead turns up to its breaker the words are that say whose it is."""


def draw_bars(
    sheet: Sheet, page: Page, room: Room, board: Board, state: State | None, glow: float, flow: float
) -> Point | None:
    """Draw what joins the bars of a panel to one another and to its breakers; nothing for another room.

    Parameters
    ----------
    glow, flow : the pens of what is live, and of what carries current

    Returns
    -------
    The middle of the strap between its bars, if it has one.
    """
    panel = board.panels.get(room.name)
    bodies = {body.name: body for body in room.bodies}
    if panel is None or f"{panel.name}.neutral" not in bodies:
        return None
    neutral, ground = bodies[f"{panel.name}.neutral"], bodies.get(f"{panel.name}.ground")
    strap = None
    if panel.bonded and ground is not None:
        strap = _bond(sheet, page, room, neutral, ground)
    _leads(sheet, page, room, neutral, state, glow, flow)
    return strap


def _ends(room: Room, bar: Body) -> tuple[float, float]:
    """The left and the right end of a bar."""
    slot = bar.slots[0]
    half = (slot.width - 6) / 2
    return room.x + slot.x - half, room.x + slot.x + half


def _bond(sheet: Sheet, page: Page, room: Room, neutral: Body, ground: Body) -> Point:
    """The strap between the two bars; returns its middle."""
    left, right = sorted((_ends(room, neutral), _ends(room, ground)))
    y = room.y + room.floor + SCREW / 2
    path = ((left[1], y), (right[0], y))
    title = f"{neutral.name} and {ground.name} are bonded here"
    sheet.lines += [
        Line(f"{bond_name(room.name)}-edge", "", (path,), page.ink, STRAP + 2, kind="bond"),
        Line(bond_name(room.name), title, (path,), colors.insulation("green"), STRAP, kind="bond"),
    ]
    middle = (left[1] + right[0]) / 2
    thin = ((middle, y + STRAP / 2 + 1), (middle, y + UNDER - ABOVE_WORD))
    sheet.lines.append(
        Line(f"leader-{bond_name(room.name)}", title, (thin,), page.faint, THIN, kind="leader")
    )
    sheet.write(f"label-bond-{room.name}", "bond", middle, y + UNDER, SMALL, page.faint, title=title)
    return middle, y


def _leads(
    sheet: Sheet, page: Page, room: Room, neutral: Body, state: State | None, glow: float, flow: float
) -> None:
    """The breakers' own leads: each by itself down past the legs, along, and up to the neutral bar.

    Each says whose it is: under the screw that the load's neutral is on it would look like that one going on.
    All that is brought to the screw of one goes on through it.
    The first breaker's is the uppermost, and the last to come up: so none crosses another.
    """
    top = room.y + room.floor + SCREW / 2
    low = top + max(body.height for body in room.bodies) + LEG * (len(room.legs) + 0.9)
    bar, screw = _ends(room, neutral)[0], neutral.slots[0].terminal.name
    under = {slot.terminal.name: body.height for body in room.bodies for slot in body.slots}
    paint = colors.insulation("white")
    edge = colors.casing(paint, page.room)
    level = state.level(screw) if state is not None else ""
    brought = taken([room], state) if state is not None and room.leads else {}
    for number, slot in enumerate(sorted(room.leads, key=lambda slot: slot.x)):
        name, x = slot.terminal.name, room.x + slot.x
        at, y = bar - BAR_LEAD * (number + 0.5), low + BAR_LEAD * number
        way = ((x, top + under[name]), (x, y), (at, y), (at, top + SCREW / 2))
        title = f"the lead of {name} to {screw}"
        if level:
            lit, dash = colors.LIVE[level], colors.LIVE_DASH[level]
            words = f"{title} is live: {LEVELS[level]}"
            # Off the words at the lower edge of the breaker that it comes from.
            glowing = ((x, way[0][1] + glow / 2), *way[1:])
            sheet.lines.append(
                Line(
                    f"live-0-lead-{name}", words, (glowing,), lit, glow, dash, kind=f"live {level}", layer=-1
                )
            )
        sheet.lines += [
            Line(f"lead-{name}-edge", "", (way,), edge, CASING, radius=5, kind="lead"),
            Line(f"lead-{name}", title, (way,), paint, PEN, radius=5, kind="lead"),
        ]
        if state is not None and abs(brought.get(name) or 0) >= state.least:
            dots = colors.text_on(paint)
            sheet.lines.append(
                Line(
                    f"flow-lead-{name}", f"lead-{name} carries current", (way,), dots, flow, "dotted",
                    radius=5, kind="flow",
                )
            )  # fmt: skip
        words = f"pigtail of {slot.terminal.owner}"
        middle = x - BESIDE_TURN - text_width(words, SMALL) / 2
        write_on_wire(sheet, page, f"lead-{name}-within", words, title, middle, y)
