"""Which wires under one screw each bring a hot of their own, and from where."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Leg
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.source import bars, legs
from wirecheck.judge.ways import way
from wirecheck.model.board import Board, Join, Member


class Feed(NamedTuple):
    """A wire under a screw, the join that puts it there, and the leg that it comes from.

    `switched` is whether a switch lies between.
    """

    wire: Member
    join: Join
    leg: Leg
    switched: bool


@question
def fed_twice(case: Case) -> Mapping[str, tuple[Feed, ...]]:
    """The hot screws that serve several outlets and are fed from several places, by name.

    Each wire under the screw is followed back with the others cut off. Wires that bring the same
    leg in the same way, through a switch or not, are one feed: there a screw only passes on what
    it has.
    """
    stops = bars(case, "neutral", "ground")
    twice: dict[str, tuple[Feed, ...]] = {}
    for screw, tails in _under_tabs(case.board).items():
        feeds: dict[tuple[str, bool], Feed] = {}
        for tail, join in tails:
            points = {member.point: member for member in tail}
            others = {member.point for other, _ in tails for member in other} - points.keys()
            back = way(case, points, legs(case), stops={screw, *others, *stops})
            if back is not None:
                wire, leg = points[back.points[0]], legs(case)[back.points[-1]]
                switched = bool(back.contacts)
                feeds.setdefault((leg.name, switched), Feed(wire, join, leg, switched))
        if len(feeds) > 1:
            twice[screw] = tuple(feeds.values())
    return twice


def _under_tabs(board: Board) -> dict[str, list[tuple[tuple[Member, ...], Join]]]:
    """What is under each screw that is the hot of several outlets; a pigtail brings what its splice has."""
    under: dict[str, list[tuple[tuple[Member, ...], Join]]] = {}
    for join in board.joins:
        for screw, members in join.under.items():
            terminal = board.terminals[screw]
            device = board.devices.get(terminal.owner)
            if device is not None and sum(one.hot == terminal.spec.name for one in device.part.outlets) > 1:
                tails = under.setdefault(screw, [])
                tails += ((join.splice if one.kind == "pigtail" else (one,), join) for one in members)
    return under
