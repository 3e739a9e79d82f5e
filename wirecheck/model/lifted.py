"""A board with some conductors' ends off their screws, as a hand lifts them to measure."""

from __future__ import annotations

from collections.abc import Collection

from wirecheck.model.board import Board, Join, Member


def lifted(board: Board, ends: Collection[str]) -> Board:
    """The same board with these conductors' ends joined to nothing; what they were joined to stays joined.

    Parameters
    ----------
    ends : points, as `W1.white@A`.
    """
    joins = (_without(join, ends) for join in board.joins)
    return board._replace(joins=tuple(join for join in joins if len(join.members) > 1))


def _without(join: Join, ends: Collection[str]) -> Join:
    if not any(member.point in ends for member in join.members):
        return join

    def left(members: tuple[Member, ...]) -> tuple[Member, ...]:
        return tuple(member for member in members if member.point not in ends)

    return join._replace(
        members=left(join.members),
        splice=left(join.splice),
        under={screw: left(members) for screw, members in join.under.items()},
    )
