"""A board as one page: both diagrams, with equipment folded, and the inside of each piece of equipment.

One picture is shown at a time, chosen with buttons that need no script. On paper there are all of them, each
as it is laid out for paper, with the title and the caution in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.circuit.circuit import circuit
from wirecheck.drawing.area import SCREEN
from wirecheck.drawing.colors import PAGES, PAPER
from wirecheck.drawing.hand import by_hand
from wirecheck.drawing.inner import laddered
from wirecheck.drawing.inside import inside_sheet
from wirecheck.drawing.page import caution, inline, on_sheets, paper_style, text, whole
from wirecheck.drawing.paper import on_paper
from wirecheck.drawing.picture import KINDS, sheet
from wirecheck.drawing.render import to_svg
from wirecheck.drawing.sheet import Sheet, dot_source
from wirecheck.drawing.state import State
from wirecheck.model.board import Board, Device

if TYPE_CHECKING:
    from wirecheck.circuit.settle import Settled
    from wirecheck.judge.finding import Finding


class Leaf(NamedTuple):
    """One picture of the page, what its button says, and the picture as it is laid out for paper."""

    name: str
    svg: str
    sheets: Sequence[str] = ()


STYLE = """\
body { padding: .7em 1.2em 2em; }
header { display: flex; flex-wrap: wrap; gap: .3em 1.5em; align-items: center; padding-bottom: .6em; }
header .caution { flex: 1 1 30em; font-size: .8em; line-height: 1.3; }
.choice { position: absolute; opacity: 0; pointer-events: none; }
.choice + label { display: inline-block; margin: 0 .3em .4em 0; padding: .2em .8em; cursor: pointer;
  border: 1px solid var(--faint); border-radius: .3em; }
.choice:checked + label { background: var(--chosen); font-weight: 600; }
.choice:focus-visible + label { outline: 3px solid #1d5fc4; outline-offset: 1px; }
.leaf { display: none; padding-top: .4em; }
.leaf svg { max-width: 100%; height: auto; }
@media print {
  body { padding: 0; }
  header, .choice, .choice + label, .leaf h2 { display: none; }
  .leaf { display: block; padding: 0; }
}
@media screen {
  .leaf h2 { display: none; }
}
"""


MOST_INSIDES = 24
"""The most insides that one page holds: each is two pictures."""


def _left_out(count: int) -> str:
    """What the page says of the insides that it has not."""
    if count <= 0:
        return ""
    told = (
        f"The insides of {count} more pieces of equipment are"
        if count > 1
        else "The inside of 1 more piece is"
    )
    return f"<p>{text(f'{told} not on this page: --open NAME draws that of one.')}</p>"


def equipment(board: Board) -> list[Device]:
    """What can be opened: each device with parts inside it, but for switches, whose blades are seen anyway.

    >>> import wirecheck
    >>> board = wirecheck.assemble('board "Heat"\\nF is gas-furnace\\nT is heat-only-thermostat')[1]
    >>> [device.name for device in equipment(board)]
    ['F']
    """
    return [device for device in board.devices.values() if device.children and not by_hand(device)]


def leaves(
    board: Board,
    findings: Sequence[Finding] = (),
    kind: str = "wiring",
    colors: str = "paper",
    state: Settled | None = None,
    page: str = "letter",
    chosen: str | None = None,
) -> list[Leaf]:
    """The pictures of a page: the diagram of the kind that is asked for, the other one, and each inside.

    No more than `MOST_INSIDES` of these, that of the `chosen` device among them.
    """
    opened = [device.name for device in equipment(board)]
    opened = sorted(sorted(opened, key=lambda name: name != chosen)[:MOST_INSIDES], key=opened.index)
    kinds = [kind, *(one for one in KINDS if one != kind)]
    told = []
    for one in kinds:
        shown = sheet(board, findings, one, colors, None, state, fit=SCREEN)
        paper = sheet(board, findings, one, page=page, state=state)
        told.append(_leaf(f"{one.capitalize()} diagram", shown, paper, page))
    drawn = laddered(State(state).circuit if state else circuit(board)) if opened else None
    for name in opened:
        shown = inside_sheet(board, name, PAGES[colors], state, headed=False, drawn=drawn)
        paper = inside_sheet(board, name, PAPER, state, drawn=drawn)
        told.append(_leaf(f"Inside {name}", shown, paper, page))
    return told


def _leaf(name: str, shown: Sheet, paper: Sheet, page: str) -> Leaf:
    return Leaf(name, to_svg(dot_source(shown)), on_paper(paper, page))


def opened_page(
    board: Board,
    pictures: Sequence[Leaf],
    chosen: str | None = None,
    colors: str = "paper",
    page: str = "letter",
    state: Settled | None = None,
) -> str:
    """The page, whole in itself.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    pictures : as `leaves` gives them; the first is shown at first.
    chosen : a device whose inside is shown at first.
    colors : `paper` or `dark`, as they were drawn.
    page : `letter` or `a4`, for when it is printed.
    state : what the pictures show.
    """
    title = board.title or "A board without a title"
    first = next((n for n, leaf in enumerate(pictures) if leaf.name == f"Inside {chosen}"), 0)
    style = STYLE + paper_style(page, "10mm")
    style += "".join(
        f"#choice-{number}:checked ~ #leaf-{number} {{ display: block; }}\n"
        for number in range(len(pictures))
    )
    checked = {first: " checked"}
    choices = "".join(
        f'<input class="choice" type="radio" name="leaf" id="choice-{number}"{checked.get(number, "")}>'
        f'<label for="choice-{number}">{text(leaf.name)}</label>\n'
        for number, leaf in enumerate(pictures)
    )
    sections = "".join(
        f'<section class="leaf" id="leaf-{number}">\n<h2>{text(leaf.name)}</h2>\n'
        f'<div class="screen">{inline(leaf.svg, f"{number}-")}</div>\n'
        f"{on_sheets(leaf.sheets)}</section>\n"
        for number, leaf in enumerate(pictures)
    )
    shown = f"<p><b>{text(f'Shown {State(state).words}')}</b></p>" if state else ""
    shown += _left_out(len(equipment(board)) - MOST_INSIDES)
    body = f"<header><h1>{text(title)}</h1>{shown}{caution()}</header>\n<main>\n{choices}{sections}</main>\n"
    return whole(title, style, body, colors)
