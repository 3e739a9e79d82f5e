"""What each wire and screw is used for, told from where its copper leads and not from its color.

A piece is what joins, wires and inner wiring hold together. Closed protection
ties pieces to a source for good; contacts do so only while they are closed.
Neutral and ground are told apart here, although both stand at earth.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.pieces import pieces

Use = Literal[
    "hot", "switched", "neutral", "switched-neutral", "ground", "class-2", "mixed", "either", "none"
]


class Feed(NamedTuple):
    """What a piece hangs on: `kind` is hot, neutral, ground or class-2; `name` the leg, panel or winding."""

    kind: str
    name: str


class Uses(NamedTuple):
    """Each point's piece, and each piece's feeds.

    `direct` feeds are there in every position; `reached` ones come through at
    least one contact, open or closed, of a piece that has none of its own.
    """

    piece: dict[str, int]
    direct: dict[int, frozenset[Feed]]
    reached: dict[int, frozenset[Feed]]

    def of(self, point: str) -> Use:
        """What a point is used for.

        `hot` and `neutral` hold whatever the switches do, `switched` and
        `switched-neutral` are reached through contacts, `either` is reached by
        both, `mixed` has two feeds that do not belong together, `none` has no
        feed at all.
        """
        piece = self.piece[point]
        direct = self.direct[piece]
        kinds = {feed.kind for feed in direct}
        if "class-2" in kinds and kinds <= {"class-2", "ground", "neutral"}:
            return "class-2"
        if len(kinds) > 1:
            return "mixed"
        if kinds:
            if kinds == {"hot"}:
                return "hot" if len(direct) == 1 else "mixed"
            return "neutral" if kinds == {"neutral"} else "ground"
        kinds = {feed.kind for feed in self.reached[piece]}
        if kinds == {"hot"}:
            return "switched"
        if kinds and kinds <= {"neutral", "ground"}:
            return "switched-neutral"
        if kinds == {"class-2"}:
            return "class-2"
        return "either" if kinds else "none"

    def legs(self, point: str) -> frozenset[str]:
        """The legs that feed a point, directly or through contacts."""
        piece = self.piece[point]
        return frozenset(feed.name for feed in self.direct[piece] | self.reached[piece] if feed.kind == "hot")


def uses(circuit: Circuit, without: Iterable[str] = ()) -> Uses:
    """What every point of a circuit is used for.

    Parameters
    ----------
    without : names of protections that are taken as open, so that their two sides can be told apart.
    """
    left_out = frozenset(without)
    bars = {f"{panel}.neutral": f"{panel}.ground" for panel in circuit.board.panels}
    bonds = [(a, b) for a, b, _ in circuit.bonds if bars.get(a) != b and bars.get(b) != a]
    together = pieces(circuit.node, [*bonds, *((wire.a, wire.b) for wire in circuit.wires)])
    numbers = {first: number for number, first in enumerate(dict.fromkeys(together.values()))}
    piece = {point: numbers[first] for point, first in together.items()}
    near: dict[int, set[int]] = {}
    for protection in circuit.protections:
        if protection.name not in left_out:
            _tie(near, piece, protection.pairs)
    direct: dict[int, set[Feed]] = {one: set() for one in piece.values()}
    for feed, point in _feeds(circuit):
        for one in _reach(near, piece[point], ()):
            direct[one].add(feed)
    _tie(near, piece, ((contact.a, contact.b) for contact in circuit.contacts))
    _tie(near, piece, ((load.a, load.b) for load in circuit.loads if "in-series" in load.flags))
    reached: dict[int, set[Feed]] = {one: set() for one in direct}
    fed = {one for one, feeds in direct.items() if feeds}
    for origin in fed:
        for one in _reach(near, origin, fed):
            if one not in fed:
                reached[one] |= direct[origin]
    return Uses(
        piece,
        {one: frozenset(feeds) for one, feeds in direct.items()},
        {one: frozenset(feeds) for one, feeds in reached.items()},
    )


def _feeds(circuit: Circuit) -> Iterator[tuple[Feed, str]]:
    for leg in circuit.legs:
        yield Feed("hot", leg.name), leg.point
    for panel in circuit.board.sources:
        for bar in ("neutral", "ground"):
            if f"{panel}.{bar}" in circuit.node:
                yield Feed(bar, panel), f"{panel}.{bar}"
    low = circuit.board.code.limit("volts of a Class 2 source")
    for winding in circuit.windings:
        if winding.secondary_volts <= low:
            for point in winding.secondary:
                yield Feed("class-2", winding.name), point


def _tie(near: dict[int, set[int]], piece: dict[str, int], pairs: Iterable[tuple[str, str]]) -> None:
    for a, b in pairs:
        near.setdefault(piece[a], set()).add(piece[b])
        near.setdefault(piece[b], set()).add(piece[a])


def _reach(near: dict[int, set[int]], origin: int, ends: Iterable[int]) -> list[int]:
    """The pieces that can be come to; from one of `ends` it goes no further."""
    stops = frozenset(ends)
    reached = [origin]
    seen = {origin}
    for one in reached:
        if one == origin or one not in stops:
            for other in sorted(near.get(one, ())):
                if other not in seen:
                    seen.add(other)
                    reached.append(other)
    return reached
