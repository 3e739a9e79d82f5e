"""The rungs of a board and the rails that they stand between, as `rungs` finds them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact, Load, Outlet, Protection, Winding
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.structure import Chain, Element, Fork, Structure, elements
from wirecheck.circuit.uses import Uses, uses
from wirecheck.parts.part import WATCHERS

RIGHT = 90
"""Rails of this order and above stand on the right: commons, then earth."""


class Rail(NamedTuple):
    """A node that a source feeds; `open` where it only looks like one, for nothing feeds it.

    `order` sorts rails from left to right: legs, secondaries, open ends, commons, earth.
    """

    node: int
    names: tuple[str, ...]
    order: int
    open: bool


class Rung(NamedTuple):
    """What stands between two rails, through one load (or a few in series), from left to right.

    `before` and `after` are in series with `middle`, the smallest part that
    holds the loads. A rung that touches other than two rails is all `middle`.
    One without a load is a short circuit, or (from a node to itself) a contact that is wired around.
    """

    loads: tuple[Element, ...]
    rails: tuple[int, ...]
    before: tuple[Structure, ...]
    middle: Structure
    after: tuple[Structure, ...]


@dataclass(frozen=True)
class Ladder:
    """The rungs of a board, with its rails; `node` gives each point its node.

    `dead` are the nodes that no source feeds, which are behind a gap.
    """

    circuit: Circuit
    node: Mapping[str, int]
    rails: Mapping[int, Rail]
    rungs: tuple[Rung, ...]
    dead: frozenset[int] = frozenset()

    @cached_property
    def points(self) -> dict[int, tuple[str, ...]]:
        """The points of each node."""
        lists: dict[int, list[str]] = {}
        for point, node in self.node.items():
            lists.setdefault(node, []).append(point)
        return {node: tuple(points) for node, points in lists.items()}

    @cached_property
    def meeting(self) -> Counter[int]:
        """How many elements of all rungs meet at each node."""
        found = {each for rung in self.rungs for each in rung_elements(rung)}
        return Counter(end for each in found for end in {each.a, each.b})

    @cached_property
    def of(self) -> dict[tuple[str, str], Contact | Protection | Load | Outlet | Winding]:
        """What each element is, by its kind and name."""
        circuit = self.circuit
        elements: dict[tuple[str, str], Contact | Protection | Load | Outlet | Winding] = {}
        elements |= {("contact", contact.name): contact for contact in circuit.contacts}
        for protection in circuit.protections:
            for position in range(len(protection.pairs)):
                elements["pole", protection.pole(position)] = protection
        elements |= {("load", name): load for name, load in circuit.load_of.items()}
        elements |= {("outlet", outlet.name): outlet for outlet in circuit.outlets}
        elements |= {("primary", winding.name): winding for winding in circuit.windings}
        return elements

    @cached_property
    def uses(self) -> Uses:
        """What each point is used for, by which a neutral and a ground are told apart."""
        return uses(self.circuit)

    @cached_property
    def returning(self) -> Mapping[str, str]:
        """What hangs together with no ground's screw or bar between: for each point, the first of its piece.

        By which a secondary that is bonded to the ground is told apart from the ground.
        """
        board = self.circuit.board
        grounds = {name for name, terminal in board.terminals.items() if terminal.spec.role == "ground"}
        lines = [[m.point for m in join.members if m.point not in {"", *grounds}] for join in board.joins]
        pairs = [pair for line in lines for pair in pairwise(line)]
        pairs += [(a, b) for a, b, _ in self.circuit.bonds if not grounds & {a, b}]
        pairs += [(wire.a, wire.b) for wire in self.circuit.wires]
        return pieces(self.node, pairs)

    def on_the_ground(self, load: Element) -> bool:
        """Whether the current of a load would return on the equipment ground."""
        what = self.of.get((load.kind, load.name))
        ends: tuple[str, ...] = ()
        if isinstance(what, Load):
            ends = (what.a, what.b)
        elif isinstance(what, Outlet):
            ends = (what.hot, what.neutral)
        elif isinstance(what, Winding):
            ends = what.primary
        sources = {self.returning[end] for winding in self.circuit.windings for end in winding.secondary}
        return any(
            self.node[end] == 0 and self.uses.of(end) == "ground" and self.returning[end] not in sources
            for end in ends
        )


def rung_elements(rung: Rung) -> Iterator[Element]:
    """Every element of a rung, from left to right."""
    for part in (*rung.before, rung.middle, *rung.after):
        yield from elements(part)


def parts(rung: Rung) -> Iterator[Structure]:
    """All that stands on a rung, and all that this is made of in series and in parallel."""
    waiting: list[Structure] = [*rung.before, rung.middle, *rung.after]
    for part in waiting:
        yield part
        if isinstance(part, Chain):
            waiting += part.parts
        elif isinstance(part, Fork):
            waiting += part.branches


def in_rail(what: Contact | Protection | Load | Outlet | Winding | None) -> bool:
    """Whether it stands in a rail: a pole of a breaker or a fuse, or of a disconnect."""
    if isinstance(what, Protection):
        return what.kind not in (*WATCHERS, "thermal")
    return isinstance(what, Contact) and "disconnect" in what.flags
