"""Which join on a way through copper is to blame: the one whose members do not belong together.

A conductor says by its color and its marks what it is for, a screw by its role. Where one join
holds a hot and a neutral, or either with a ground, or where a way that came as one goes on as
another, the mistake is there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Wire
from wirecheck.judge import made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.ways import Way
from wirecheck.model.board import Board, Join


def at_fault(joins: Iterable[Join], board: Board) -> Join | None:
    """Of the joins on a way, the first whose members do not belong together; else the last."""
    told = None
    for join in joins:
        told = join
        if len(purpose.meeting(join, board)) > 1:
            return join
    return told


def culprit(way: Way, board: Board) -> Join | None:
    """The join on a way from one side of a source to the other that should not be.

    It is where two kinds of wire meet; else where the way turns back, out on
    one wire of a run and home on another; else the last.
    """
    if any(len(purpose.meeting(join, board)) > 1 for join in way.joins):
        return at_fault(way.joins, board)
    before: Wire | None = None
    between: Join | None = None
    for of in way.elements:
        if isinstance(of, Wire):
            if before is not None and set(before.conductor.places) == set(of.conductor.places) and between:
                return between
            before, between = of, None
        elif isinstance(of, Join):
            between = between or of
        elif of is not None and before is not None and purpose.is_class_2(before.conductor):
            # Through a thermostat a way may well turn back, out and home in one cable.
            before = None
        elif of is not None:
            between = None
    return at_fault(way.joins, board)


def neutral_meets_ground(case: Case, piece: int) -> Iterator[Join]:
    """The joins of a piece of copper that hold a neutral and a ground."""
    for join in case.board.joins:
        if {"neutral", "ground"} <= purpose.meeting(join, case.board) and any(
            case.uses.piece[member.point] == piece for member in join.members if member.point
        ):
            yield join


class Change(NamedTuple):
    """A join at which a way changes what it is for, and the points of the way that come before it."""

    join: Join
    before: tuple[str, ...]


def changes(way: Way, case: Case) -> tuple[Change, ...]:
    """The joins at which a way changes what it is for: there a hot goes on as a neutral, or back."""
    meant = _of_point(way.points[0], case)
    told: list[Change] = []
    for index, of in enumerate(way.elements):
        far = way.points[index + 1]
        if not isinstance(of, Join):
            # A wire may say something else at its other end: then its mark is at fault, and no join.
            meant = _of_point(far, case) or meant
            continue
        then = next(purpose.of_member(one, case.board) for one in of.members if one.point == far) or meant
        if then != meant:
            told.append(Change(of, way.points[: index + 1]))
        meant = then
    return tuple(told)


def _of_point(point: str, case: Case) -> Purpose | None:
    """What the wire's end or the screw at a point says that it is for."""
    for _, member in made_up.joins(case).get(point, ()):
        return purpose.of_member(member, case.board)
    terminal = case.board.terminals.get(point)
    return None if terminal is None else purpose.of_terminal(terminal)
