"""What of a board an edit changes, by name: whoever shows the board marks the mistake there."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import assert_never

from wirecheck.language.names import of_end
from wirecheck.mend.edits import (
    Abreast,
    Behind,
    Cap,
    Change,
    Divide,
    Edit,
    Exchange,
    ExchangeAll,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    IntoHot,
    IntoWire,
    Jumper,
    Land,
    Mark,
    MarkThroughout,
    Meet,
    Move,
    OnScrews,
    Part,
    Pigtail,
    Protect,
    Refit,
    Renew,
    Restore,
    Rotate,
    Tail,
    TakeOver,
    Together,
    ToSpace,
    TwoPole,
    Unbridge,
)
from wirecheck.model.board import Board

# What a change is of that is of a splice, and not of what the line declares.
OF_SPLICES = ("connector", "metals")


def spots(edit: Edit, board: Board) -> tuple[str, ...]:
    """The ends of wires, screws and things that the hand changes, each once.

    Parameters
    ----------
    edit : what is changed
    board : as it is before

    Returns
    -------
    A wire's end by its point (`W1.black@A`), a screw by its terminal (`S1.common`), and what a line
    declares by its name (`LP.3`).
    """
    match edit:
        case (
            Abreast(place, _, one, other)
            | Exchange(place, one, other)
            | Meet(place, one, other)
            | IntoHot(place, _, _, one, other)
            | TakeOver(place, one, other)
            | Jumper(place, one, other)
            | Unbridge(place, one, other)
        ):
            gone = jumper_out(edit, board) if isinstance(edit, TakeOver | Unbridge) else ()
            found = [point(board, place, name) for name in (one, other, *gone)]
        case ExchangeThroughout(one, other, places):
            found = [point(board, place, name) for place in places for name in (one, other)]
        case ExchangeAll(place, pairs) | ExchangeSides(_, place, pairs):
            found = [point(board, place, name) for pair in pairs for name in pair]
        case Refit(name) | Protect(name) | ToSpace(name) | Restore(_, name) | OnScrews(name):
            found = [name]
        case TwoPole(one, other) | Renew(one, cable=other):
            found = [one, other]
        case Move() | Cap() | Mark():
            found = _of_one(edit, board)
        case MarkThroughout(end, places):
            found = [point(board, place, end) for place in places]
        case Divide(place) | IntoWire(place):
            found = [point(board, place, end) for end in _taken_out(edit, board)]
        case Gather(place, ends) | Rotate(place, ends):
            found = [point(board, place, end) for end in ends]
        case Behind(place, ends, near, far):
            found = [point(board, place, name) for name in (*ends, near, far)]
        case Land(place, pairs):
            found = [point(board, place, end) for end, _ in pairs]
        case Tail(place, _, screw) | Pigtail(place, screw):
            found = [point(board, place, screw)]
        case Part(place, screw, beside):
            # A jumper has two screws; of a splice with a tail only the tail goes.
            both = board.screws.get(beside, beside) in board.terminals
            found = [point(board, place, name) for name in ((screw, beside) if both else (screw,))]
        case Change():
            found = [_changed(edit, board)]
        case Together(changes):
            found = [spot for change in changes for spot in spots(change, board)]
        case _:
            assert_never(edit)
    return tuple(dict.fromkeys(found))


def jumper_out(edit: TakeOver | Unbridge, board: Board) -> tuple[str, ...]:
    """The two screws of a device between which a jumper comes out by an edit; nothing where none does."""
    joins = [join for join in board.joins if join.place == edit.place]
    if isinstance(edit, TakeOver):
        together = [[one.by_place for one in join.members] for join in joins]
        return (edit.screw, edit.to) if any({edit.screw, edit.to} <= {*one} for one in together) else ()
    members = next((one.members for one in joins if edit.near in [each.name for each in one.members]), ())
    owners = {one.by_place: board.terminals[one.name].owner for one in members if one.name in board.terminals}
    if {edit.near, edit.far} <= owners.keys():
        return ()  # it is a contact's own screws that part
    pairs = itertools.permutations(owners, 2)
    apart = ((one, other) for one, other in pairs if one not in edit.beside and other in edit.beside)
    return next((pair for pair in apart if owners[pair[0]] == owners[pair[1]]), ())


def leaving(apart: Sequence[str], rest: Sequence[str], tail: bool, board: Board) -> tuple[str, ...]:
    """What the hand takes out where a join is parted in two: the wires of one part, since no screw leaves.

    Of two parts that is the one without a screw, where its wires can stay with each other; but where the
    screw is on a `tail` of the splice, it is the one that goes on the screw then.
    """

    def wires(names: Sequence[str]) -> tuple[str, ...]:
        return tuple(name for name in names if board.screws.get(name, name) not in board.terminals)

    if not tail and len(wires(apart)) < len(apart) and len(wires(rest)) == len(rest) > 1:
        return tuple(rest)
    return wires(apart) or tuple(rest)


def _taken_out(edit: Divide | IntoWire, board: Board) -> tuple[str, ...]:
    """The ends that leave what they are with: those of a contact, and of the wire that it goes into."""
    if isinstance(edit, IntoWire):
        return edit.first, edit.second, edit.wire
    place, apart = edit
    joins = [
        join
        for join in board.joins
        if join.place == place and any(apart[0] in (one.name, one.by_place) for one in join.members)
    ]
    members = [one for join in joins for one in join.members]
    named = [one.by_place for one in members if one.kind != "pigtail"]
    rest = dict.fromkeys(name for name in named if name not in apart)
    return leaving(apart, tuple(rest), len(named) < len(members), board)


def _of_one(edit: Move | Cap | Mark, board: Board) -> list[str]:
    """The end that is changed, and the one that it goes to where that is loose, too: they are a pair."""
    names = [edit.end]
    if isinstance(edit, Move) and edit.far is not None:
        return [point(board, place, edit.end) for place in (edit.place, edit.far)]
    if isinstance(edit, Move) and of_end(edit.to) in board.conductors:
        here = (join for join in board.joins if join.place == edit.place)
        if all(member.by_place != edit.to for join in here for member in join.members):
            names.append(edit.to)
    return [point(board, edit.place, name) for name in names]


def _changed(edit: Change, board: Board) -> str:
    """What a change of a line is of: its subject, or the first wire under the connector that it changes."""
    return point(board, edit.place, edit.subject) if edit.what in OF_SPLICES else edit.subject


def point(board: Board, place: str, name: str) -> str:
    """The point of the board that a name stands for in a place: a wire's end there, or a screw's terminal."""
    conductor = board.conductors.get(of_end(name))
    if conductor is not None:
        keys = zip(conductor.places, conductor.by_place, strict=True)
        return dict(zip(keys, conductor.ends, strict=True)).get((place, name), conductor.ends[0])
    for join in board.joins:
        if join.place == place:
            for member in join.members:
                if name in (member.name, member.screw):
                    return member.point
    return board.screws.get(name, name)
