"""What stands between two nodes, in series and in parallel: elements and what they make."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Literal, NamedTuple

Kind = Literal["contact", "pole", "load", "outlet", "primary", "input", "gap"]


class Element(NamedTuple):
    """A contact, a pole, a load, an outlet, a primary, a control's input or a gap, between its two nodes."""

    kind: Kind
    name: str
    a: int
    b: int


class Step(NamedTuple):
    """One element, with the node on its left and the node on its right."""

    element: Element
    left: int
    right: int


class Chain(NamedTuple):
    """Parts in series, from left to right."""

    parts: tuple[Structure, ...]

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.parts[0].left

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.parts[-1].right


class Fork(NamedTuple):
    """Branches in parallel."""

    branches: tuple[Structure, ...]

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.branches[0].left

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.branches[0].right


class Mesh(NamedTuple):
    """What is neither series nor parallel: its elements, and its terminals from left to right.

    A mesh between two rails or nodes has two terminals, any other has as many as rails it touches.
    """

    elements: tuple[Element, ...]
    terminals: tuple[int, ...]

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.terminals[0]

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.terminals[-1]


class Crossing(NamedTuple):
    """A contact of a switch with travelers: its nodes, its column, and the row of either end."""

    element: Element
    left: int
    right: int
    column: int
    row: int
    end: int


class Travelers(NamedTuple):
    """Switches one behind the other, each with all its contacts in one column, on two rows."""

    crossings: tuple[Crossing, ...]
    columns: int

    @property
    def left(self) -> int:
        """The node at its left end."""
        return self.crossings[0].left

    @property
    def right(self) -> int:
        """The node at its right end."""
        return self.crossings[-1].right


Structure = Step | Chain | Fork | Mesh | Travelers


def elements(structure: Structure) -> Iterator[Element]:
    """Every element of a structure, from left to right."""
    match structure:
        case Step(element):
            yield element
        case Chain(parts) | Fork(parts):
            for part in parts:
                yield from elements(part)
        case Mesh(listed):
            yield from listed
        case Travelers(crossings):
            yield from (crossing.element for crossing in crossings)


def renamed(structure: Structure, of: Callable[[Element], Element], node: Callable[[int], int]) -> Structure:
    """A structure with other elements, and other nodes, for its own."""
    match structure:
        case Step(element, left, right):
            return Step(of(element), node(left), node(right))
        case Chain(parts):
            return Chain(tuple(renamed(part, of, node) for part in parts))
        case Fork(branches):
            return Fork(tuple(renamed(branch, of, node) for branch in branches))
        case Mesh(listed, terminals):
            return Mesh(tuple(map(of, listed)), tuple(map(node, terminals)))
    raise AssertionError(structure)


def turned(structure: Structure) -> Structure:
    """A structure seen from its other end."""
    match structure:
        case Step(element, left, right):
            return Step(element, right, left)
        case Chain(parts):
            return Chain(tuple(turned(part) for part in reversed(parts)))
        case Fork(branches):
            return Fork(tuple(turned(branch) for branch in branches))
        case Mesh(listed, terminals):
            return Mesh(listed, tuple(reversed(terminals)))
        case Travelers(crossings, columns):
            back = (
                Crossing(each.element, each.right, each.left, columns - 1 - each.column, each.end, each.row)
                for each in reversed(crossings)
            )
            return Travelers(tuple(back), columns)


def chained(parts: Iterable[Structure]) -> Structure:
    """Parts in series, of which some may be chains: one chain, or the one part that there is."""
    flat: list[Structure] = []
    for part in parts:
        flat += part.parts if isinstance(part, Chain) else (part,)
    return flat[0] if len(flat) == 1 else Chain(tuple(flat))
