"""A board with some conductors' ends off their screws, as a hand lifts them to measure, or exchanged."""

from __future__ import annotations

from collections.abc import Callable, Collection

from wirecheck.model.board import Board, Join, Member

Members = tuple[Member, ...]


def lifted(board: Board, ends: Collection[str]) -> Board:
    """The same board with these conductors' ends joined to nothing; what they were joined to stays joined.

    Parameters
    ----------
    ends : points, as `W1.white@A`.
    """
    joins = (_without(join, ends) for join in board.joins)
    return board._replace(joins=tuple(join for join in joins if len(join.members) > 1))


def exchanged(board: Board, one: str, other: str) -> Board:
    """The same board with two conductors' ends each where the other was.

    Parameters
    ----------
    one, other : points, as `W1.white@A`.
    """
    now = {one: other, other: one}
    ends = {end: conductor.name for conductor in board.conductors.values() for end in conductor.ends}

    def moved(members: Members) -> Members:
        return tuple(
            member._replace(point=now[member.point], name=ends[now[member.point]])
            if member.point in now
            else member
            for member in members
        )

    joins = tuple(_with_members(join, moved) for join in board.joins)
    capped = {now.get(point, point): span for point, span in board.capped.items()}
    return board._replace(joins=joins, capped=capped)


def _without(join: Join, ends: Collection[str]) -> Join:
    if not any(member.point in ends for member in join.members):
        return join
    return _with_members(
        join, lambda members: tuple(member for member in members if member.point not in ends)
    )


def _with_members(join: Join, change: Callable[[Members], Members]) -> Join:
    return join._replace(
        members=change(join.members),
        splice=change(join.splice),
        under={screw: change(members) for screw, members in join.under.items()},
    )
