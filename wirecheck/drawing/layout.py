"""Which rooms of a wiring diagram stand in which band, and on which side of its wires each device stands.

It is chosen on the board with nothing joined on it, so that no wire that is landed elsewhere moves a room:
a right board and a wrong one can be laid over each other.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import NamedTuple

from wirecheck.drawing.area import NOT_SHOWN, Area, Shown
from wirecheck.drawing.ends import brought_back
from wirecheck.drawing.places import (
    HALF,
    MARGIN,
    NEARLY,
    Cable,
    fold,
    place_rooms,
    runs_back,
    turn_back,
)
from wirecheck.drawing.rooms import Room, rooms_of
from wirecheck.drawing.sides import over_the_wires, set_sides
from wirecheck.model.board import Board

MOST_BANDS = 6
LARGER, MUCH_LARGER = 1.1, 1.15
"""By how much another layout has to show a drawing larger."""


class Sizes(NamedTuple):
    """How large a board's things are: gives a room its size; how wide the label of each bundle is."""

    measure: Callable[[Room], None]
    words: dict[str, float]


class Layout(NamedTuple):
    """The rooms that are brought back, how many devices of each stand over its wires, the bands by name."""

    back: Collection[str]
    over: Mapping[str, int]
    bands: tuple[tuple[tuple[str, ...], ...], ...]


def laid_out(
    board: Board, sizes_of: Callable[[bool], Sizes], fit: Area, head: float
) -> tuple[list[Room], list[Cable]]:
    """The rooms of a board in their places, and the ways of its cables.

    Parameters
    ----------
    sizes_of : the sizes with the flags of findings or without.
    fit : the area that it should be read in.
    head : how high the head over the drawing is.

    Returns
    -------
    The rooms and cables in the layout that is chosen on the board without its joins and flags; where the
    board as it is could not be read in that, in the one that is chosen on it.
    """
    bare = board._replace(joins=())
    own = sizes_of(True)
    rooms, cables = _placed(board, own, _chosen(bare, sizes_of(False), fit, head))
    if not _shown(rooms, cables, fit, head).readable:
        rooms, cables = _placed(board, own, _chosen(board, own, fit, head))
    return rooms, cables


def extent(rooms: list[Room], cables: list[Cable]) -> tuple[float, float]:
    """How far a diagram reaches to the right and down."""
    right = max((room.x + room.width for room in rooms), default=0.0)
    right = max([right, *(x + cable.half for cable in cables for x, _ in cable.path)])
    return right, max((room.y + room.height for room in rooms), default=0.0)


def _shown(rooms: list[Room], cables: list[Cable], fit: Area, head: float) -> Shown:
    right, bottom = extent(rooms, cables)
    return fit.shows(right + 2 * MARGIN, bottom + 2 * MARGIN + head)


def _chosen(board: Board, sizes: Sizes, fit: Area, head: float) -> Layout:
    """The rooms in as many bands as show them largest; in few, where that is nearly as large.

    Devices on two sides of their wires, or rooms that are brought back, have to show them larger, too; these
    by more, since then not all wires lead on to the right.
    """

    def best_of(layout: Layout) -> tuple[Layout, Shown]:
        """A layout with its rooms in as few bands as show them nearly as large as more would."""
        rooms = _sided(board, sizes, layout.back, layout.over)
        best, most = layout, NOT_SHOWN
        for bands in _foldings(rooms):
            shown = _shown(rooms, _banded(rooms, sizes, bands), fit, head)
            if shown.beats(most, LARGER):
                names = tuple(tuple(tuple(room.name for room in column) for column in band) for band in bands)
                best, most = layout._replace(bands=names), shown
        return best, most

    best, most = best_of(Layout((), {}, ()))
    rooms = _sided(board, sizes, (), {})
    over = {room.name: count for room in rooms if (count := over_the_wires(room))}
    if over:
        sided, shown = best_of(Layout((), over, ()))
        if shown.beats(most, LARGER):
            best, most = sided, shown
    # Of all ways to bring rooms back the one that shows them largest: which came first decides nothing, so
    # that a wrong board is laid out as the right one.
    far, farthest = best, NOT_SHOWN
    for back in brought_back(_sided(board, sizes, (), over)):
        layout, shown = best_of(Layout(back, over, ()))
        if shown.beats(farthest):
            far, farthest = layout, shown
    return far if farthest.beats(most, MUCH_LARGER) else best


def _placed(board: Board, sizes: Sizes, layout: Layout) -> tuple[list[Room], list[Cable]]:
    """The rooms of a board in their places in a layout."""
    rooms = _sided(board, sizes, layout.back, layout.over)
    of = {room.name: room for room in rooms}
    bands = [[[of[name] for name in column] for column in band] for band in layout.bands]
    return rooms, _banded(rooms, sizes, bands)


def _sided(board: Board, sizes: Sizes, back: Collection[str], over: Mapping[str, int]) -> list[Room]:
    """The rooms of a board with their sizes, some brought back, so many devices of each over its wires."""
    rooms = rooms_of(board, back)
    for room in rooms:
        set_sides(room, over.get(room.name, 0))
        sizes.measure(room)
    return rooms


def _foldings(rooms: list[Room]) -> Iterable[list[list[list[Room]]]]:
    """The columns of rooms in as many bands as may be tried."""
    columns: list[list[Room]] = [[] for _ in range(max((room.column for room in rooms), default=-1) + 1)]
    for room in rooms:
        columns[room.column].append(room)
    counts = range(1, min(len(columns), MOST_BANDS) + 1)
    tried = [fold(columns, bands, filled) for bands in counts for filled in (NEARLY, HALF, 0.0)]
    return {tuple(map(len, bands)): bands for bands in tried}.values()


def _banded(rooms: list[Room], sizes: Sizes, bands: list[list[list[Room]]]) -> list[Cable]:
    """Place the rooms in these bands, those of every other one turned."""
    for number, band in enumerate(bands):
        for room in (room for column in band for room in column):
            room.x = room.y = 0.0
            if room.turned != runs_back(bands, number):
                turn_back(room)
                sizes.measure(room)
    return place_rooms(rooms, sizes.words, bands)
