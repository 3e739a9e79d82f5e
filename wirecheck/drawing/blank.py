"""A wiring diagram without its wires: a handout, on which they are drawn by pencil.

Nothing stands in another place than on the diagram, which is its answer sheet.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from wirecheck.drawing.colors import Page
from wirecheck.drawing.sheet import Line, Sheet, Spot, Words
from wirecheck.model.board import Board

WIRED = re.compile(
    r"(?:again|band|cap|casing|conductor|flag|inline|jumper|key|loose|number|pigtail)(?: |$)"
    r"|(?:splice|ticks|told)$|label (?:again|end|inline|key|within)$"
)
"""The kinds of what tells of a wire, of a joint, or of what was found. A wire's has its color behind it."""
OF_BREAKER = re.compile(r"lead-.+-within(?:-gap)?$")
"""The name of a breaker's own pigtail, which is no wire of the board and is drawn."""
DIAGRAM = "kind"
"""What the words under the title are called, which say what is drawn."""
TASK = "Blank: draw every wire, and a dot where wires are joined"


def blank(sheet: Sheet, board: Board, page: Page) -> Sheet:
    """The sheet of a board's wiring with no wire on it: its places, its devices, its cables' jackets.

    Examples
    --------
    >>> import wirecheck
    >>> from wirecheck.drawing.wiring import wiring_sheet
    >>> from wirecheck.drawing.colors import PAPER
    >>> board = wirecheck.assemble('panel LP 120 V\\nbreaker LP.1 15 A\\nat LP\\n  LP.1 -- LP.neutral')[1]
    >>> whole = wiring_sheet(board)
    >>> left = blank(whole, board, PAPER)
    >>> {line.kind for line in whole.lines} - {line.kind for line in left.lines}
    {...'jumper untold'...}
    """
    left = replace(
        sheet,
        lines=[line for line in sheet.lines if not _wired(line)],
        marks=list(_marks(sheet, board)),
        laid_as=sheet,
    )
    for mark in sheet.marks:
        if mark.id == DIAGRAM:
            left.write(DIAGRAM, TASK, 0, mark.y, 9, page.ink, bold=True, align="start")
    return left


def _wired(shape: Line | Spot | Words) -> bool:
    """Whether a shape tells of a wire of the board."""
    return bool(WIRED.match(shape.kind)) and not OF_BREAKER.match(shape.id)


def _marks(sheet: Sheet, board: Board) -> Iterator[Spot | Words]:
    """The spots and words that stay. A screw that several wires meet on is no wider for it."""
    single = (run.name for run in board.runs.values() if not run.jacketed)
    left_out = {DIAGRAM, *(name for run in single for name in (f"label-{run}", f"label-{run}-kind"))}
    for mark in sheet.marks:
        if not _wired(mark) and mark.id not in left_out:
            screw = isinstance(mark, Spot) and mark.kind == "terminal" and mark.shape == "ellipse"
            yield replace(mark, width=mark.height) if isinstance(mark, Spot) and screw else mark
