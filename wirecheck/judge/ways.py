"""The way through copper: the one search that every question about a path is asked of.

Points are tied by joins, wires and inner wiring, and by contacts and protection as far as a
question lets them. No way leads through a winding, nor through a load that does not stand in series
with another.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Collection, Hashable, Iterable, Iterator, Mapping
from typing import Generic, NamedTuple, TypeVar

from wirecheck.circuit.circuit import LOOKS_A_STEP, Contact, Protection, Wire
from wirecheck.circuit.settle import Settled
from wirecheck.circuit.work import Work
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.model.board import Join

Node = TypeVar("Node", bound=Hashable)
Tie = TypeVar("Tie")

# What leads from a point to the next; None is copper inside a device or a panel, or a load in series.
Element = Join | Wire | Contact | Protection | None
# Which contacts and protection a way may lead through.
Passes = Callable[[Contact | Protection], bool]


class Step(NamedTuple, Generic[Node, Tie]):
    """From one node to the next, what leads there, and what all of the way that far costs."""

    origin: Node
    tie: Tie
    target: Node
    cost: int


def spread(
    origins: Iterable[Node], steps: Callable[[Node], Iterable[tuple[int, Node, Tie]]], work: Work
) -> Iterator[tuple[Node, dict[Node, Step[Node, Tie]]]]:
    """Every node that can be come to, the cheapest first, with the last steps to those known by then.

    Dijkstra's algorithm. Of two nodes that cost the same, the one found first comes first: with
    steps that all cost the same it goes breadth first.

    Parameters
    ----------
    steps : from a node, the (cost, neighbor, what leads there) of each step on.
    work : what each look at a neighbor is spent from.
    """
    cost = dict.fromkeys(origins, 0)
    last: dict[Node, Step[Node, Tie]] = {}
    order = itertools.count()
    waiting = [(0, next(order), node) for node in cost]
    while waiting:
        spent, _, node = heapq.heappop(waiting)
        if spent > cost[node]:
            continue
        yield node, last
        looks = 0
        for price, neighbor, tie in steps(node):
            looks += 1
            if neighbor not in cost or spent + price < cost[neighbor]:
                cost[neighbor] = spent + price
                last[neighbor] = Step(node, tie, neighbor, spent + price)
                heapq.heappush(waiting, (spent + price, next(order), neighbor))
        work.spend(1 + looks // LOOKS_A_STEP)


def cheapest(
    origins: Iterable[Node],
    targets: Collection[Node],
    steps: Callable[[Node], Iterable[tuple[int, Node, Tie]]],
    work: Work,
) -> tuple[Node, tuple[Step[Node, Tie], ...]] | None:
    """The cheapest way from some nodes to one of others: where it begins, and its steps; None without one.

    Examples
    --------
    >>> near = {"a": [(1, "b", "ab"), (5, "c", "ac")], "b": [(1, "c", "bc")]}
    >>> begin, steps = cheapest(["a"], ["c"], lambda node: near.get(node, ()), Work(100))
    >>> begin, [step.tie for step in steps], steps[-1].cost
    ('a', ['ab', 'bc'], 2)
    """
    for node, last in spread(origins, steps, work):
        if node in targets:
            told: list[Step[Node, Tie]] = []
            while node in last:
                told.append(last[node])
                node = last[node].origin
            return node, tuple(reversed(told))
    return None


# ------------------------------------------------------------------ points


class Way(NamedTuple):
    """Points from one end to the other, and what leads from each to the next."""

    points: tuple[str, ...]
    elements: tuple[Element, ...]

    @property
    def joins(self) -> tuple[Join, ...]:
        """The joins along it."""
        return tuple(of for of in self.elements if isinstance(of, Join))

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """The contacts along it."""
        return tuple(of for of in self.elements if isinstance(of, Contact))


def everything(of: Contact | Protection) -> bool:
    """Let a way lead through every contact and all protection, open or not."""
    return True


def nothing(of: Contact | Protection) -> bool:
    """Let a way lead through plain copper alone."""
    return False


def conducting(settled: Settled) -> Passes:
    """Let a way lead through what is closed in a state."""
    opened = frozenset(opening.name for opening in settled.opened)

    def passes(of: Contact | Protection) -> bool:
        return of.name in settled.closed if isinstance(of, Contact) else of.name not in opened

    return passes


@question
def neighbors(case: Case) -> Mapping[str, tuple[tuple[str, Element], ...]]:
    """The points next to each point and what leads there: joins in order of the text, then the rest."""
    circuit, board = case.circuit, case.board
    near: dict[str, list[tuple[str, Element]]] = {}

    def lay(a: str, b: str, of: Element) -> None:
        near.setdefault(a, []).append((b, of))
        near.setdefault(b, []).append((a, of))

    for join in board.joins:
        points = dict.fromkeys(member.point for member in join.members if member.point)
        for a, b in itertools.combinations(points, 2):
            lay(a, b, join)
    for wire in circuit.wires:
        lay(wire.a, wire.b, wire)
    made = frozenset(join.span for join in board.joins)
    for a, b, span in circuit.bonds:
        if span not in made:
            lay(a, b, None)
    for load in circuit.loads:
        if "in-series" in load.flags:
            lay(load.a, load.b, None)
    for contact in circuit.contacts:
        lay(contact.a, contact.b, contact)
    for protection in circuit.protections:
        for a, b in protection.pairs:
            lay(a, b, protection)
    return {point: tuple(there) for point, there in near.items()}


def way(
    case: Case,
    origins: Iterable[str],
    targets: Collection[str],
    passes: Passes = everything,
    stops: Collection[str] = (),
) -> Way | None:
    """The shortest way from one of some points to one of others, or None.

    Parameters
    ----------
    passes : which contacts and protection it may lead through: `everything`, `nothing`, or what is
        `conducting` in a state.
    stops : points that it does not go beyond.
    """
    near = neighbors(case)
    cut = frozenset(stops)

    def steps(point: str) -> Iterator[tuple[int, str, Element]]:
        for neighbor, of in near.get(point, ()) if point not in cut else ():
            if not isinstance(of, Contact | Protection) or passes(of):
                yield 1, neighbor, of

    found = cheapest(origins, targets, steps, case.work)
    if found is None:
        return None
    begin, taken = found
    return Way((begin, *(step.target for step in taken)), tuple(step.tie for step in taken))


def named(way: Way, case: Case) -> str:
    """A way point by point, each wire once: "LP.leg-b to LP.3 to W1.black to S1.line"."""
    points = [case.circuit.point[point] for point in way.points]
    names = (point.owner if point.kind == "end" else point.name for point in points)
    return " to ".join(name for name, _ in itertools.groupby(names))


# ------------------------------------------------------------------ pieces


@question
def next_pieces(case: Case) -> Mapping[int, tuple[tuple[int, Contact | Protection], ...]]:
    """The pieces (`Uses.piece`) next to each piece, and the contact or protection between them."""
    piece = case.uses.piece
    near: dict[int, list[tuple[int, Contact | Protection]]] = {}

    def lay(a: str, b: str, of: Contact | Protection) -> None:
        near.setdefault(piece[a], []).append((piece[b], of))
        near.setdefault(piece[b], []).append((piece[a], of))

    for contact in case.circuit.contacts:
        lay(contact.a, contact.b, contact)
    for protection in case.circuit.protections:
        for a, b in protection.pairs:
            lay(a, b, protection)
    return {one: tuple(there) for one, there in near.items()}


def pieces_reached(
    case: Case, origins: Iterable[int], passes: Passes = everything, stops: Collection[int] = ()
) -> frozenset[int]:
    """The pieces of copper that can be come to from some, these included.

    Parameters
    ----------
    passes : which contacts and protection are gone through.
    stops : pieces that are come to and not gone beyond.
    """
    near = next_pieces(case)

    def steps(piece: int) -> Iterator[tuple[int, int, None]]:
        if piece not in stops:
            yield from ((1, other, None) for other, of in near.get(piece, ()) if passes(of))

    return frozenset(piece for piece, _ in spread(origins, steps, case.work))
