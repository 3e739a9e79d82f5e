"""A work's board as pictures: for a screen, and for the paper that a student's sheet is printed on."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from wirecheck.grading.questions import asked_about
from wirecheck.judge.finding import Finding, Mend
from wirecheck.language.syntax import Shown
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.drawing.area import Area
    from wirecheck.drawing.sheet import Sheet

LONG, SHORT = 690.0, 505.0
"""What a Letter page with margins of half an inch and a line of words has for a picture, in points."""
ROOMS = ((540.0, 400.0), (SHORT, LONG), (LONG, SHORT))
"""Where a picture is tried: below the words of a short sheet, on an upright page, and on a lying one."""


class Drawn(NamedTuple):
    """Pictures of a board, as SVG.

    Attributes
    ----------
    whole : the board; nothing where none is drawn
    lies : whether it is printed on a page that lies on its side
    parts : sheets that join, where the whole on one page could not be read; nothing where it can
    """

    whole: str = ""
    lies: bool = False
    parts: tuple[str, ...] = ()


NOT_DRAWN = Drawn()


def drawn(board: Board, findings: tuple[Finding, ...], shown: Shown) -> Drawn:
    """The board with numbered flags, which tell no more than the sheet does, and name no lines.

    The page around a picture has its title and the caution. Strokes tell the colors of wires in black and
    white.
    """
    from wirecheck.drawing.area import LEAST_ON_PAPER, Area
    from wirecheck.drawing.cuts import laid_out
    from wirecheck.drawing.letters import SMALLEST
    from wirecheck.drawing.paper import on_paper
    from wirecheck.drawing.picture import sheet
    from wirecheck.drawing.screen import on_screen

    if shown != "in full":
        findings = tuple(
            one._replace(mends=_where_asked(one, board) if shown == "as questions" else ())
            for one in findings
        )

    def lay(area: Area) -> Sheet:
        return sheet(board, findings, listed=False, fit=area, ticked=True)

    for room in ROOMS:
        area = Area(*room, LEAST_ON_PAPER / SMALLEST)
        made = lay(area)
        if area.shows(made.width, made.height).readable:
            return Drawn(on_screen(made), room == (LONG, SHORT))
    made = laid_out(lay, (LONG, SHORT))
    return Drawn(on_screen(made), parts=tuple(on_paper(made, (LONG, SHORT))))


def _where_asked(finding: Finding, board: Board) -> tuple[Mend, ...]:
    """A mend that has no words, at the devices and places that the question is about."""
    at = asked_about(finding.mends, board)
    return (Mend("", "", (), at=at),) if at else ()
