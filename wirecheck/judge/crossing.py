"""Where a wire changes what it is for: the joins at which a hot goes on as a neutral, or back.

A conductor says by its color and marks what it is for at each end, a screw by
its role. Along the copper from a screw to its source that should not change.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cached_property

from wirecheck.circuit.circuit import Circuit, Contact, Protection, Wire
from wirecheck.judge.case import Case
from wirecheck.judge.old_blame import GROUND_COLORS, NEUTRAL_COLORS
from wirecheck.model.board import Board, Join, Member, Terminal

HOT_ROLES = frozenset(("hot", "switched"))


def meant_for(member: Member, board: Board) -> str | None:
    """What a member of a join says that it is for: hot, neutral or ground; None where it does not say.

    Bare and green stay grounds whatever is wound around them: 250.119.
    """
    if member.kind == "terminal":
        role = board.terminals[member.name].spec.role
        return "hot" if role in HOT_ROLES else role if role in ("neutral", "ground") else None
    conductor = board.conductors.get(member.name)
    if conductor is None:
        return None
    color = conductor.color if conductor.color in GROUND_COLORS else member.marked or conductor.color
    return "ground" if color in GROUND_COLORS else "neutral" if color in NEUTRAL_COLORS else "hot"


Element = Wire | Contact | Protection | None
Step = tuple[str, Join | None, Member | None, Element]


@dataclass(frozen=True, slots=True)
class Walk:
    """Copper from one point to another.

    `crossings` are the joins at which it changes what it is for; `before` the
    points that come before the last of them, all of them where there is none.
    """

    points: tuple[str, ...]
    joins: tuple[Join, ...]
    crossings: tuple[Join, ...]
    before: tuple[str, ...]
    elements: tuple[Wire | Contact | Protection, ...]


class Copper:
    """A board's joins, wires, contacts and protection as ways from point to point."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.board = circuit.board

    @cached_property
    def joins(self) -> dict[str, list[tuple[Join, Member]]]:
        """The joins that each point takes part in."""
        told: dict[str, list[tuple[Join, Member]]] = {}
        for join in self.board.joins:
            for member in join.members:
                if member.point:
                    told.setdefault(member.point, []).append((join, member))
        return told

    @cached_property
    def _through(self) -> dict[str, list[tuple[str, Element]]]:
        """Each point's neighbors by wire, contact, protection or inner wiring."""
        circuit = self.circuit
        told: dict[str, list[tuple[str, Element]]] = {}

        def lay(a: str, b: str, of: Element) -> None:
            told.setdefault(a, []).append((b, of))
            told.setdefault(b, []).append((a, of))

        for wire in circuit.wires:
            lay(wire.a, wire.b, wire)
        joined = {join.span for join in self.board.joins}
        bars = {frozenset((f"{panel}.neutral", f"{panel}.ground")) for panel in self.board.panels}
        for a, b, span in circuit.bonds:
            if span not in joined and frozenset((a, b)) not in bars:
                lay(a, b, None)
        for protection in circuit.protections:
            for a, b in protection.pairs:
                lay(a, b, protection)
        for contact in circuit.contacts:
            lay(contact.a, contact.b, contact)
        return told

    def walk(self, origin: str, targets: Collection[str], stops: Collection[str] = ()) -> Walk | None:
        """The shortest way from a screw to one of some points that goes through none of `stops`, or None."""
        before: dict[str, Step] = {}
        seen = {origin, *stops} - set(targets)
        waiting = [origin]
        for point in waiting:
            if point in targets:
                return self._told(origin, point, before)
            steps: list[Step] = [
                (other.point, join, other, None)
                for join, _ in self.joins.get(point, ())
                for other in join.members
                if other.point
            ]
            steps += [(other, None, None, of) for other, of in self._through.get(point, ())]
            for other, join, member, of in steps:
                if other not in seen:
                    seen.add(other)
                    before[other] = (point, join, member, of)
                    waiting.append(other)
        return None

    def _told(self, origin: str, target: str, before: dict[str, Step]) -> Walk:
        points = [target]
        steps: list[Step] = []
        while points[-1] != origin:
            steps.append(before[points[-1]])
            points.append(steps[-1][0])
        points.reverse()
        steps.reverse()
        purpose = self._purpose(origin)
        joins: list[Join] = []
        crossings: list[Join] = []
        until = len(points)
        for index, (point, join, member, _) in enumerate(steps):
            if join is None or member is None:
                # A wire may say something else at its other end: then its mark is at fault, and no join.
                purpose = self._purpose(points[index + 1]) or purpose
                continue
            joins.append(join)
            purpose = self._purpose(point) or purpose
            then = meant_for(member, self.board) or purpose
            if then != purpose:
                crossings.append(join)
                until = index + 1
            purpose = then
        elements = tuple(of for _, _, _, of in steps if of is not None)
        return Walk(tuple(points), tuple(joins), tuple(crossings), tuple(points[:until]), elements)

    def _purpose(self, point: str) -> str | None:
        """What the wire's end or the screw at a point says that it is for."""
        for _, member in self.joins.get(point, ()):
            return meant_for(member, self.board)
        terminal = self.board.terminals.get(point)
        if terminal is None:
            return None
        return meant_for(Member("terminal", point, point, None, self.board.span), self.board)


@dataclass(frozen=True, slots=True)
class Reversal:
    """A device whose neutral screw stands on a hot.

    `join` is where the hot goes over to the neutral's side, `back` where the
    neutral goes over to the hot's, if it does.
    """

    device: str
    terminal: Terminal
    hot: Walk
    join: Join | None
    neutral: Walk | None
    back: Join | None


def reversals(case: Case) -> Iterator[Reversal]:
    """Every device whose neutral screw stands on a hot, switched or not."""
    board, uses = case.board, case.uses
    neutrals = [one for one in board.terminals.values() if one.owner in board.devices]
    suspects = [
        one for one in neutrals if one.spec.role == "neutral" and uses.of(one.name) in ("hot", "switched")
    ]
    if not suspects:
        return
    copper = Copper(case.circuit)
    legs = {leg.point for leg in case.circuit.legs}
    bars = {f"{panel}.neutral" for panel in board.panels}
    told: set[str] = set()
    for terminal in suspects:
        hot = copper.walk(terminal.name, legs, bars)
        if hot is None or terminal.owner in told:
            continue
        told.add(terminal.owner)
        neutral = None
        for other in neutrals:
            if (
                other.owner == terminal.owner
                and other.spec.role == "hot"
                and uses.of(other.name) in ("neutral", "switched-neutral")
            ):
                neutral = neutral or copper.walk(other.name, bars, legs)
        yield Reversal(
            device=terminal.owner,
            terminal=terminal,
            hot=hot,
            join=_to_blame(hot),
            neutral=neutral,
            back=_to_blame(neutral) if neutral else None,
        )


def _to_blame(walk: Walk) -> Join | None:
    """The crossing nearest to the source; where none is, the join at the screw."""
    return walk.crossings[-1] if walk.crossings else walk.joins[0] if walk.joins else None


def explained(case: Case) -> tuple[frozenset[int], frozenset[str]]:
    """What reversals explain of the colors: pieces on the hot's way, wires on the neutral's."""
    pieces: set[int] = set()
    wires: set[str] = set()
    for one in reversals(case):
        pieces |= {case.uses.piece[point] for point in one.hot.before}
        if one.neutral is not None:
            wires |= {point.partition("@")[0] for point in one.neutral.before}
    return frozenset(pieces), frozenset(wires)
