"""A breaker of one pole in another space of its panel: on another leg, or where a tie reaches it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wirecheck.judge.side_by_side import side_by_side
from wirecheck.language.names import NEXT, position
from wirecheck.language.syntax import BreakerStatement
from wirecheck.mend.edits import Change, ToSpace
from wirecheck.mend.poles import breaker_lines, joins_with
from wirecheck.mend.sheet import Sheet
from wirecheck.mend.values import changed_at
from wirecheck.model.board import Board, Breaker

# How far a wire reaches: so many spaces up or down.
FARTHEST = 6


def to_spaces(breaker: Breaker, board: Board, sheet: Sheet) -> Iterator[ToSpace]:
    """The free spaces to which a breaker may go: beside one that it is tied to, or on another leg.

    Beside another breaker of one pole it may get a tie to that one. A tandem's half stays where it is, and so
    does a breaker of which the board says the leg: the legs of that panel lie otherwise.
    """
    declared = breaker_lines(sheet).items()
    lines = {name: said for name, said in declared if sheet.lines[said[0]].written is None}
    if breaker.name not in lines or len(breaker.poles) > 1:
        return
    said = lines[breaker.name][1]
    at = position(said.name.path[-1])
    if at is None or at.half or said.leg is not None:
        return
    here = [one for one in board.breakers.values() if one.panel == breaker.panel and one is not breaker]
    filled = {space for one in here for space in one.spaces}
    near = [at.space + way * NEXT * far for far in range(1, FARTHEST + 1) for way in (-1, 1)]
    panel, leg = board.panels[breaker.panel], breaker.poles[0][1]
    free = {space: panel.leg_at(space) for space in near if space > 0 and space not in filled}

    def moved(space: int, tie: str = "", beside: str = "") -> Iterator[ToSpace]:
        now = f"{breaker.panel}.{space}"
        changes = _changes(breaker, now, tie, lines, sheet)
        if changes is not None:
            yield ToSpace(breaker.name, space, free[space], tie, beside, changes)

    # Whichever of the two lines says so.
    pairs = [pair for pair in board.handle_ties if breaker.name in pair]
    for tied in dict.fromkeys(name for pair in pairs for name in pair if name != breaker.name):
        for space in free:
            if _beside(space, board.breakers[tied]):
                yield from moved(space, beside=tied)
    if pairs:
        return
    for space in [space for space, other in free.items() if other != leg][:1]:
        yield from moved(space)
    for other in here:
        # Where they are side by side already, a tie alone does.
        if len(other.poles) > 1 or side_by_side((breaker, other)):
            continue
        for space in free:
            if _beside(space, other) and free[space] != other.poles[0][1]:
                yield from moved(space, tie=other.name)


def _beside(space: int, breaker: Breaker) -> bool:
    return bool(breaker.spaces) and space in (min(breaker.spaces) - NEXT, max(breaker.spaces) + NEXT)


def _changes(
    breaker: Breaker, now: str, tie: str, lines: Mapping[str, tuple[int, BreakerStatement]], sheet: Sheet
) -> tuple[Change, ...] | None:
    """Its line, those of the breakers that are tied to it, and its joins, all with its new name."""
    number, said = lines[breaker.name]
    own = changed_at(number, breaker.name, "space", said.name.span, now, sheet)
    own = own._replace(written=f"{own.written} tied to {tie}" if tie else own.written)
    ties = [
        changed_at(place, name, "tie", other.tied.span, now, sheet)
        for name, (place, other) in lines.items()
        if other.tied is not None and other.tied.text == breaker.name
    ]
    joins = joins_with({breaker.name: now, f"{breaker.name}.neutral": f"{now}.neutral"}, breaker.name, sheet)
    return None if joins is None else (own, *ties, *joins)
