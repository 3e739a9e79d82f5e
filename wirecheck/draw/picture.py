"""The door of the draw room: a board in, a picture out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wirecheck.draw.colors import PAGES
from wirecheck.draw.ladder import ladder_sheet
from wirecheck.draw.render import SIZES, to_svg
from wirecheck.draw.sheet import dot_source
from wirecheck.draw.wiring import SCREEN, wiring_sheet
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.rules.finding import Finding


def dot(
    board: Board,
    findings: Sequence[Finding] = (),
    kind: str = "wiring",
    colors: str = "paper",
    page: str | None = None,
) -> str:
    """A board's picture as Graphviz source, for `neato -n2`; the arguments are those of `draw`."""
    if kind == "ladder":
        return dot_source(ladder_sheet(board, PAGES[colors], SIZES[page] if page else SCREEN))
    if kind != "wiring":
        raise ValueError(f"{kind} is no kind of picture; there are: wiring, ladder")
    return dot_source(wiring_sheet(board, findings, PAGES[colors], SIZES[page] if page else SCREEN))


def draw(
    board: Board,
    findings: Sequence[Finding] = (),
    kind: str = "wiring",
    colors: str = "paper",
    page: str | None = None,
) -> str:
    """A board's picture as SVG.

    Parameters
    ----------
    board: as `wirecheck.model.build` gives it.
    findings: each becomes a numbered flag on its spot, and a line of the list.
    kind: `wiring`, where things are; `ladder`, how it works (it shows no findings).
    colors: `paper`, or `dark` for a dark page.
    page: `letter` or `a4` to fit one page, lying or upright, whichever shows more; else its own size.

    Returns
    -------
    SVG text. Every part has an id (`conductor-W1.black`, `terminal-S1.common`,
    `device-S1`, `room-A`, `finding-1`) and a title; the same board gives the
    same text on every machine.

    Examples
    --------
    >>> import wirecheck
    >>> board = wirecheck.assemble('board "One box"\\nbox A device 18 cu in')[1]
    >>> 'id="room&#45;A"' in draw(board)
    True
    """
    return to_svg(dot(board, findings, kind, colors, page), page)
