"""The handles of breakers: dashes from one to the other where a tie makes two move as one.

Source: as in `hand.py`, a dashed line is a mechanical link. A bar, as a tie is seen, looks like a black wire.
"""

from __future__ import annotations

from wirecheck.drawing.colors import Page
from wirecheck.drawing.rooms import Room
from wirecheck.drawing.sheet import Line, Sheet
from wirecheck.model.board import Board

APEX, OPEN_APEX, OVER = 9.3, 12.5, 16.0
"""How far over the middle of a breaker's sign its arc reaches, closed and open, and a tie is."""
DASHED = 1.4


def tied(board: Board) -> dict[str, str]:
    """For each breaker whose handle is tied to another's, that other one.

    >>> import wirecheck
    >>> lines = "panel LP 120/240 V", "breaker LP.1 15 A", "breaker LP.3 15 A tied to LP.1"
    >>> tied(wirecheck.assemble(chr(10).join(('board "Tied"', *lines)))[1])
    {'LP.3': 'LP.1', 'LP.1': 'LP.3'}
    """
    told = dict(board.handle_ties)
    return told | {other: name for name, other in told.items() if other not in told}


def draw_ties(sheet: Sheet, page: Page, room: Room, board: Board, signs: float) -> None:
    """Draw the ties in a panel.

    Parameters
    ----------
    signs : where the middles of the breakers' signs are
    """
    poles: dict[str, list[float]] = {}
    for body in room.bodies:
        breaker = board.breakers.get(body.name)
        if breaker is not None:
            names = {name for name, _ in breaker.poles}
            poles[body.name] = [room.x + slot.x for slot in body.slots if slot.terminal.name in names]
    done = set()
    for name, other in tied(board).items():
        pair = frozenset((name, other))
        if pair in done or not (poles.get(name) and poles.get(other)):
            continue
        done.add(pair)
        one, far = min(((a, b) for a in poles[name] for b in poles[other]), key=lambda ab: abs(ab[0] - ab[1]))
        bar, apex = signs - OVER, signs - APEX
        path = ((one, apex), (one, bar), (far, bar), (far, apex))
        title = f"the handles of {name} and {other} are tied"
        sheet.lines.append(
            Line(f"tie-{name}", title, (path,), page.ink, DASHED, "dashed", radius=2, kind="tie")
        )
