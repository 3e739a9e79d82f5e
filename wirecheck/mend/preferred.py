"""Which of several mends that do are told: those without drawbacks, the plainest, and none of them twice."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from wirecheck.circuit.pieces import pieces
from wirecheck.language.names import alike, of_end
from wirecheck.language.syntax import AtStatement, BoardTitle, CapStatement, JoinStatement
from wirecheck.language.tidy import meaning
from wirecheck.mend.edits import (
    Edit,
    Exchange,
    ExchangeThroughout,
    IntoWire,
    Jumper,
    Mark,
    MarkThroughout,
    Move,
    Part,
    Protect,
    Tail,
    TwoPole,
    Unbridge,
)
from wirecheck.mend.sheet import Sheet, how, names
from wirecheck.mend.tried import Tried

# What takes one wire or jumper in hand, or two; and what has to be bought though nothing on the board is it.
PLAIN = (Exchange, Jumper, Move, Part, Tail)
BOUGHT = (Protect, TwoPole)
# How many of the drawbacks are of what is dangerous, or runs when it should not.
DANGERS = 3


def preferred(mends: Sequence[Tried]) -> list[Tried]:
    """The mends that are told, in their order: what has to be bought is behind what hands can move.

    What takes protection off has less to speak for it, what runs a load besides or leaves one on with no
    call, what doubles a wire, what puts a safety before more than a line wants or than another mend does,
    what brings the other wire out from behind a ground-fault device where one goes past it, what leaves a
    wire of an odd color, what leaves more wires and screws idle, or fewer on screws of their own name or
    number, and what brings a contact into another wire where one end of its own is wrong. But a contact that
    is joined to itself opens where it stands, before it goes anywhere else.
    """
    mends = [mend for mend in mends if not any(_opens_in_its_place(one, mend) for one in mends)]
    fewest = min(mend.drawbacks for mend in mends)
    told = least([mend for mend in mends if mend.drawbacks == fewest])
    least_idle = min(len(mend.after.idle) for mend in told)
    told = [mend for mend in told if len(mend.after.idle) == least_idle]
    told = [mend for mend in told if not any(one.after.hung < mend.after.hung for one in told)]
    told = [mend for mend in told if not any(_guards_more(one, mend) for one in told)]
    told = [mend for mend in told if not any(_goes_by_names(one, mend) for one in told)]
    told = _once(told)
    told = [mend for mend in told if not any(_is_plainer(one.edit, mend.edit) for one in told)]
    told = [mend for mend in told if not any(_moves_one_alone(one, mend) for one in told)]
    return sorted(_once_in_a_way(told), key=lambda mend: isinstance(mend.edit, BOUGHT))


def _opens_in_its_place(one: Tried, other: Tried) -> bool:
    """Whether a mend parts what joins a contact to itself, which another brings to another place.

    Where it stands it stops what it was put there to stop, be it more than a line says.
    """
    if not isinstance(one.edit, Unbridge) or one.drawbacks[:DANGERS] > other.drawbacks[:DANGERS]:
        return False
    pair = {one.edit.near, one.edit.far}
    return isinstance(other.edit, IntoWire) and pair == {other.edit.first, other.edit.second}


def _guards_more(one: Tried, other: Tried) -> bool:
    """Whether hands guard by a mend what they guard by another, and more, with nothing bought."""
    return not isinstance(one.edit, BOUGHT) and one.after.guarded > other.after.guarded


def _goes_by_names(one: Tried, other: Tried) -> bool:
    """Whether of two swaps of one thing the one leaves more on screws whose names or numbers they bear."""
    if not isinstance(one.edit, Exchange) or not isinstance(other.edit, Exchange):
        return False
    of_one = not {one.edit.one, one.edit.other}.isdisjoint((other.edit.one, other.edit.other))
    return of_one and _by_name(one.sheet) > _by_name(other.sheet)


def _by_name(sheet: Sheet) -> int:
    """How many two that are joined bear one name or number."""
    joins = (line.statement for line in sheet.lines if isinstance(line.statement, JoinStatement))
    joined = ([name for name, _ in names(join) if name is not None] for join in joins)
    return sum(alike(one, other) for members in joined for one, other in itertools.combinations(members, 2))


def least(mends: Sequence[Tried]) -> list[Tried]:
    """The mends without those that change all that another one changes, and more."""
    edits = [frozenset(mend.sheet.edits()) for mend in mends]
    return [mend for mend, here in zip(mends, edits, strict=True) if not any(one < here for one in edits)]


def _once(mends: Sequence[Tried]) -> list[Tried]:
    """The mends without those after which the board is as it is after an earlier one."""
    boards = {_hangs_together(mend.sheet): mend for mend in reversed(mends)}
    return [mend for mend in mends if any(mend is one for one in boards.values())]


def _hangs_together(sheet: Sheet) -> tuple[frozenset[object], frozenset[frozenset[object]]]:
    """What a sheet says, with what is together in each place, by one line or by several of one screw."""
    said: list[object] = []
    pairs: list[tuple[object, object]] = []
    place = ""
    for line in sheet.lines:
        match line.statement:
            case AtStatement():
                place = line.statement.place.text
            case JoinStatement() as join:
                members = [(place, name) for name, _ in names(join) if name is not None]
                pairs += ((members[0], other) for other in members[1:])
                said += ((place, name, mark) for name, mark in names(join) if mark is not None)
                said.append((place, how(join)))
            case CapStatement():
                said.append((place, line.statement.name.text))
            case BoardTitle():
                continue
            case other:
                said.append(str(meaning(other)))
    together: dict[object, set[object]] = {}
    for one, first in pieces((), pairs).items():
        together.setdefault(first, set()).add(one)
    return frozenset(said), frozenset(map(frozenset, together.values()))


def _is_plainer(one: Edit, other: Edit) -> bool:
    """Whether an edit only moves what is on a contact that another brings into another wire.

    Or only marks a wire that another marks, and swaps with the one beside it for nothing; or moves a wire
    without the mark that another puts on it.
    """
    if isinstance(one, Move) and isinstance(other, Move) and other.marked is not None:
        return one == other._replace(marked=None, far=None)
    if isinstance(other, ExchangeThroughout) and other.marked is not None:
        return isinstance(one, Mark | MarkThroughout) and one.end == other.one
    if not isinstance(other, IntoWire) or not isinstance(one, PLAIN):
        return False
    return not {other.first, other.second}.isdisjoint(_named(one))


def _moves_one_alone(one: Tried, other: Tried) -> bool:
    """Whether a mend moves one end of a wire within a panel, which another swaps with one that is right."""
    if not isinstance(one.edit, Move) or not isinstance(other.edit, Exchange):
        return False
    return of_end(one.edit.end) in one.sheet.staying and one.edit.end in (other.edit.one, other.edit.other)


def _once_in_a_way(mends: Sequence[Tried]) -> list[Tried]:
    """The mends with a contact in the way of one wire alone, and in one way, and one side of a joint alone
    on its far end.

    Which of them it is, is all the same: the likeliest is told.
    """
    told: list[Tried] = []
    brought: set[tuple[str | None, ...]] = set()
    for mend in mends:
        match mend.edit:
            case IntoWire(_, first, second):
                way: tuple[str | None, ...] = tuple(sorted((first, second)))
            case Unbridge(_, near, far, _):
                way = near, far
            case Tail(_, beside, leaves=leaves) if leaves is not None:
                way = beside, leaves
            case _:
                way = ()
        if not way or way not in brought:
            told.append(mend)
        brought.add(way)
    return told


def _named(edit: Edit) -> tuple[str | None, ...]:
    match edit:
        case Exchange(_, one, other) | Jumper(_, one, other) | Part(_, one, other):
            return one, other
        case Move(_, end, to):
            return end, to
        case Tail(_, beside, screw, leaves, _):
            return beside, screw, leaves
        case _:
            return ()
