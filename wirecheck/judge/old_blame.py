"""Which line is to blame: the join on a path whose members do not belong together.

A conductor says by its color what it is for, a screw by its role. Where one
join holds a hot and a neutral, or either with a ground, the mistake is there.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wirecheck.circuit.circuit import Circuit, Contact, Protection, Wire
from wirecheck.circuit.settle import Settled
from wirecheck.language.syntax import Span
from wirecheck.model.board import Board, Join, Member
from wirecheck.model.runs import CLASS_2_CABLES

if TYPE_CHECKING:
    import networkx

GROUND_COLORS = frozenset(("bare", "green", "green-yellow"))
NEUTRAL_COLORS = frozenset(("white", "gray"))
HOT_ROLES = frozenset(("hot", "switched", "traveler", "line"))


def conductor_use(member: Member, board: Board) -> str | None:
    """What a member of a join is for by its color or its screw: hot, neutral, ground, or None."""
    if member.kind == "terminal":
        role = board.terminals[member.name].spec.role
        return "hot" if role in HOT_ROLES else role if role in ("neutral", "ground") else None
    conductor = board.conductors.get(member.name)
    if conductor is None or conductor.insulation in CLASS_2_CABLES:
        return None
    color = member.marked or conductor.color
    if color in GROUND_COLORS:
        return "ground"
    return "neutral" if color in NEUTRAL_COLORS else "hot"


def mixed(join: Join, board: Board) -> frozenset[str]:
    """The uses that meet in a join."""
    return frozenset(use for member in join.members if (use := conductor_use(member, board)) is not None)


def at_fault(spans: Iterable[Span], board: Board) -> Span | None:
    """Of the lines on a path, the join whose members do not belong together; else the last."""
    told = None
    joins = {join.span: join for join in board.joins}
    for span in spans:
        if span in joins:
            uses = mixed(joins[span], board)
            if len(uses) > 1:
                return span
            told = span
    return told


def culprit(path: Path, board: Board) -> Span | None:
    """The join on a path from one side of a source to the other that should not be.

    It is where two kinds of wire meet; else where the path turns back, out on
    one wire of a run and home on another; else the last.
    """
    for span in path.spans:
        if len(mixed_at(span, board)) > 1:
            return span
    before: Wire | None = None
    between: Span | None = None
    for kind, of in path.edges:
        if isinstance(of, Wire):
            if before is not None and set(before.conductor.places) == set(of.conductor.places) and between:
                return between
            before, between = of, None
        elif kind == "join" and isinstance(of, Span):
            between = between or of
        elif before is not None and before.conductor.insulation in CLASS_2_CABLES:
            # Through a thermostat a path may well turn back, out and home in one cable.
            before = None
        else:
            between = None
    return at_fault(path.spans, board)


def mixed_at(span: Span, board: Board) -> frozenset[str]:
    """The uses that meet in the join on a line."""
    return frozenset().union(*(mixed(join, board) for join in board.joins if join.span == span))


@dataclass(frozen=True, slots=True)
class Path:
    """Points from one end to the other, and what leads from each to the next."""

    points: tuple[str, ...]
    edges: tuple[tuple[str, object], ...]

    @property
    def spans(self) -> tuple[Span, ...]:
        """The lines of the joins along it."""
        return tuple(of for kind, of in self.edges if kind == "join" and isinstance(of, Span))

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """The contacts along it."""
        return tuple(of for _, of in self.edges if isinstance(of, Contact))

    def words(self) -> str:
        """The path named terminal by terminal, each wire once."""
        told: list[str] = []
        for point in self.points:
            name = point.partition("@")[0]
            if not told or told[-1] != name:
                told.append(name)
        return " to ".join(told)


def conducting(settled: Settled) -> Callable[[str, object], bool]:
    """Which edges of the circuit's graph carry current with no load in the way, in a state."""
    open_now = {opening.name for opening in settled.opened}

    def conducts(kind: str, of: object) -> bool:
        if isinstance(of, Contact):
            return of.name in settled.closed
        if isinstance(of, Protection):
            return of.name not in open_now
        return kind in ("join", "wire")

    return conducts


def part_of(circuit: Circuit, allowed: Callable[[str, object], bool]) -> networkx.Graph:
    """The circuit's graph with just the allowed edges, one between two points."""
    import networkx

    graph = networkx.Graph()
    graph.add_nodes_from(circuit.graph)
    for a, b, data in circuit.graph.edges(data=True):
        if allowed(data["kind"], data["of"]) and not graph.has_edge(a, b):
            graph.add_edge(a, b, kind=data["kind"], of=data["of"])
    return graph


def path(graph: networkx.Graph, origins: Iterable[str], targets: Iterable[str]) -> Path | None:
    """The shortest path in a graph from one of some points to one of others, or None."""
    wanted = {point for point in targets if point in graph}
    before: dict[str, str | None] = {point: None for point in origins if point in graph}
    waiting = list(before)
    for point in waiting:
        if point in wanted:
            points = [point]
            while (last := before[points[-1]]) is not None:
                points.append(last)
            points.reverse()
            edges = tuple(
                (graph.edges[a, b]["kind"], graph.edges[a, b]["of"]) for a, b in itertools.pairwise(points)
            )
            return Path(tuple(points), edges)
        for neighbor in graph[point]:
            if neighbor not in before:
                before[neighbor] = point
                waiting.append(neighbor)
    return None
