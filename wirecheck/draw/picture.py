"""The door of the draw room: a board in, a picture out."""

from __future__ import annotations

from collections.abc import Sequence

from wirecheck.draw.colors import PAGES
from wirecheck.draw.render import to_svg
from wirecheck.draw.sheet import dot_source
from wirecheck.draw.wiring import wiring_sheet
from wirecheck.model.board import Board
from wirecheck.rules.finding import Finding


def dot(board: Board, findings: Sequence[Finding] = (), kind: str = "wiring", colors: str = "paper") -> str:
    """A board's picture as Graphviz source, for `neato -n2`."""
    return dot_source(wiring_sheet(board, findings, PAGES[colors]))


def draw(
    board: Board,
    findings: Sequence[Finding] = (),
    kind: str = "wiring",
    colors: str = "paper",
    page: str | None = None,
) -> str:
    """A board's picture as SVG."""
    return to_svg(dot(board, findings, kind, colors), page)
