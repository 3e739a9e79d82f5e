"""The door of the draw room: a board in, a picture out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.arguments import one_of
from wirecheck.drawing.area import SCREEN, Area
from wirecheck.drawing.blank import blank
from wirecheck.drawing.colors import PAGES
from wirecheck.drawing.cuts import laid_out
from wirecheck.drawing.inside import inside_sheet
from wirecheck.drawing.ladder import ladder_sheet
from wirecheck.drawing.paper import printed
from wirecheck.drawing.render import SIZES, to_svg
from wirecheck.drawing.screen import on_screen
from wirecheck.drawing.sheet import Sheet, dot_source, overlaid
from wirecheck.drawing.state import State
from wirecheck.drawing.wiring import wiring_sheet
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.circuit.settle import Settled
    from wirecheck.judge.finding import Finding

KINDS = ("wiring", "ladder")


def sheet(
    board: Board,
    findings: Sequence[Finding] = (),
    kind: str = "wiring",
    colors: str = "paper",
    page: str | None = None,
    state: Settled | None = None,
    listed: bool = True,
    fit: Area | None = None,
    inside: str | None = None,
    ticked: bool = False,
    unwired: bool = False,
) -> Sheet:
    """A board's picture as a sheet of shapes; the arguments are those of `draw`, and `fit`.

    Parameters
    ----------
    fit : the area that a page has for it, which tells its title and the caution itself; the picture is laid
        out for that and has no head of its own.
    unwired : whether a wiring diagram is without its wires and its flags; all else stands where it stood.

    Raises
    ------
    wirecheck.arguments.WrongArgument
        Where there is no such kind, colors, page or device.
    """
    one_of(kind, KINDS, "kind of picture")
    one_of(colors, PAGES, "colors")
    if page is not None:
        one_of(page, SIZES, "page")
    ground, shown = PAGES[colors], State(state) if state else None

    def lay(area: Area) -> Sheet:
        if kind == "ladder":
            return ladder_sheet(board, ground, area, state, headed=fit is None)
        return wiring_sheet(
            board,
            findings,
            ground,
            area,
            shown,
            listed and not unwired,
            headed=fit is None,
            ticked=ticked or page is not None,
        )

    if inside is not None:
        drawn = inside_sheet(board, inside, ground, state, headed=fit is None)
    else:
        drawn = laid_out(lay, page) if page else lay(fit or SCREEN)
    return blank(drawn, board, ground) if unwired else drawn


def draw(
    board: Board,
    findings: Sequence[Finding] = (),
    kind: str = "wiring",
    colors: str = "paper",
    page: str | None = None,
    state: Settled | None = None,
    listed: bool = True,
    inside: str | None = None,
) -> str:
    """A board's picture as SVG.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    findings : each becomes a numbered flag on its spot, and a line of the list.
    kind : `wiring`, where things are; `ladder`, how it works (it shows no findings).
    colors : `paper`, or `dark` for a dark page.
    page : `letter` or `a4` to lay it out for paper, lying or upright: on one sheet, or on as few as keep its
        words at 6 points, with marks where they join; else its own size.
    state : a settled state of the board, shown on it: what is live, what carries current, what works.
    listed : False to leave the list of findings to the page around the picture.
    inside : a device of the board; then the picture is what is inside it, wired.

    Returns
    -------
    SVG text. Every part has an id (`conductor-W1.black`, `terminal-S1.common`,
    `device-S1`, `room-A`, `finding-1`) and a title; the same board gives the
    same text on every machine.

    Examples
    --------
    >>> import wirecheck
    >>> board = wirecheck.assemble('board "One box"\\nbox A device 18 cu in')[1]
    >>> 'id="room-A"' in draw(board)
    True
    """
    drawn = sheet(board, findings, kind, colors, page, state, listed, inside=inside)
    return printed(drawn, page) if page else on_screen(drawn)


class Overlay(NamedTuple):
    """One SVG that holds several states, and for each id that not all of them show, those that do."""

    svg: str
    only: dict[str, frozenset[int]]


def draw_states(
    board: Board,
    states: Sequence[Settled],
    kind: str = "wiring",
    colors: str = "paper",
    fit: Area | None = None,
    ticked: bool = False,
) -> Overlay:
    """One picture for several states: what they share once, the rest of class `state`.

    Parameters
    ----------
    states : one at least, of this board.
    kind, colors : as in `draw`.
    fit, ticked : as in `sheet`.

    Examples
    --------
    >>> import wirecheck
    >>> from wirecheck.circuit.circuit import circuit
    >>> from wirecheck.circuit.settle import resting, settle
    >>> board = wirecheck.assemble('board "Panel"\\npanel LP 120 V\\nbreaker LP.1 15 A')[1]
    >>> states = [settle(circuit(board), {"LP.1": value}) for value in ("on", "off")]
    >>> draw_states(board, states).only["volts-LP.1"]
    frozenset({0})
    """
    whole = overlaid(
        [sheet(board, (), kind, colors, None, state, fit=fit, ticked=ticked) for state in states]
    )
    return Overlay(to_svg(dot_source(whole)), whole.only)
