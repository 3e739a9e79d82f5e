"""Where a wire is missing: from what a source feeds to what no source feeds.

What draws current and has one side that leads to no source is drawn on the rung where it would be with
its wire. That wire would come from a contact that leads nowhere, or from where the same call comes, or from
the other pole of the device that the load's other side hangs on, or else from the rail across from the one
there. Where none is plain, nothing is told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence, Set
from typing import NamedTuple

from wirecheck.circuit.pieces import pieces

Tie = tuple[int, int]
NEAR = 0.8
"""So much of what a load is made for a source has at least, and so much of that the load."""


class Draw(NamedTuple):
    """What stands between two nodes and draws current, or (`volts` None) only looks at the first of them.

    `moves` are the nodes of the contacts that it moves.
    """

    a: int
    b: int
    volts: float | None
    moves: frozenset[int] = frozenset()


class Span(NamedTuple):
    """Two nodes that a source holds apart, and the volts between them."""

    a: int
    b: int
    volts: float


class Gap(NamedTuple):
    """A node that a source feeds, and one that would be fed from there."""

    fed: int
    dead: int


def gaps(
    ties: Sequence[Tie],
    draws: Sequence[Draw],
    spans: Sequence[Span],
    named: Callable[[int], Set[str]],
    wired: Set[int],
    head: Callable[[int, int], int | None],
    beside: Callable[[int], Set[int]] = lambda node: frozenset(),
) -> list[Gap]:
    """The gaps of a circuit, in the order of what they would feed.

    Parameters
    ----------
    ties : contacts and poles, each with the node on its feed side first.
    draws : loads, and what controls look at.
    spans : between which nodes sources stand.
    named : the letters of the screws at a node, and what these carry.
    wired : the nodes to which a wire leads.
    head : what the rungs between two rails all come through, for the first of these; None without a rung.
    beside : the nodes behind the other poles of a device that a node is behind a pole of.

    Examples
    --------
    A stop button that nothing leads to, before the coil; rails are 0 and 1, and a fuse to 5 leads nowhere.

    >>> gaps([(2, 3), (0, 5)], [Draw(3, 1, 120)], [Span(0, 1, 120)], lambda node: set(), {5}, lambda a, b: a)
    [Gap(fed=5, dead=2)]
    """
    rails = {end for span in spans for end in span[:2]}
    between = [tie for tie in ties if tie[0] != tie[1] and not rails.issuperset(tie)]
    ends = {end for pair in (*between, *(draw[:2] for draw in draws)) for end in pair} - rails
    region = pieces(sorted(ends), (tie for tie in between if rails.isdisjoint(tie)))
    feeds: dict[int, set[int]] = {place: set() for place in region.values()}
    for a, b in between:
        for node, other in ((a, b), (b, a)):
            if node in rails:
                feeds[region[other]].add(node)

    def fed_by(node: int) -> set[int]:
        return {node} if node in rails else feeds[region[node]]

    loose = [node for node in _loose(between, draws, rails, region) if len(fed_by(node)) == 1]
    lost = []
    for place, (rail, hung) in _hung(draws, region, fed_by).items():
        own = [tie for tie in between if region.get(tie[0]) == region.get(tie[1]) == place]
        drawn = {end for draw in hung for end in draw[:2] if region.get(end) == place}
        hot = any(rail == span.a for span in spans)
        led = bool(own) or (bool(wired & drawn or hot) and any(draw.volts for draw in hung))
        # An input may be left bare; but what one that is fed is told from has its wire.
        led = led or any(draw.b in drawn and not draw.volts for draw in hung)
        live = {end for draw in hung for end in draw[:2]} - drawn
        moved = frozenset[int]().union(*(draw.moves for draw in hung))
        plain = bool(own) or any(draw.volts for draw in hung)
        lost.append(_Lost(_start(own, drawn), rail, _across(spans, rail, hung), plain, led, live, moved))
    drawing = {region[end] for draw in draws for end in draw[:2] if end in region}
    found: dict[int, int] = {}
    for alike in (True, False):
        for each in lost:
            if each.start in found or not (alike or each.plain):
                continue
            near = [node for node in loose if fed_by(node) <= each.others and node not in each.moved]
            near = [n for n in near if wired & {n, each.start} or (each.plain and region[n] not in drawing)]
            if alike:
                near = [node for node in near if named(node) & named(each.start)][:1]
            else:
                free = [node for node in near if not (named(node) and named(each.start))]
                near = [node for node in near if node in free or node in wired]
                landed = [node for node in near if node in wired]
                near = min((free, landed, near), key=lambda listed: abs(len(listed) - 1))
            if len(near) == 1:
                found[each.start] = near[0]
                loose.remove(near[0])
    for each in lost:
        if each.start not in found and each.led:
            same = [
                node
                for node in sorted(region.keys() - each.moved)
                if set() < fed_by(node) <= each.others and named(node) & named(each.start)
            ]
            if len(same) == 1:
                found[each.start] = same[0]
                continue
            poles = {pole for node in each.live for pole in beside(node) if fed_by(pole) <= each.others}
            if len(poles) == 1:
                found[each.start] = poles.pop()
                continue
            ways = {other: head(other, each.rail) for other in each.others}
            used = [way for way in ways.values() if way is not None]
            if len(used) == 1 or len(ways) == 1:
                found[each.start] = (used or [*ways])[0]
    return [Gap(found[each.start], each.start) for each in lost if each.start in found]


class _Lost(NamedTuple):
    """What hangs together and no source feeds.

    `start` is where it would be fed, `rail` the one that it draws from, `others` those across from that.
    `plain` is whether it is more than a screw that a control looks at, `led` whether a wire is surely meant.
    `live` are the ends of what draws that a source feeds, `moved` those of the contacts that it moves: it is
    fed through none of these.
    """

    start: int
    rail: int
    others: set[int]
    plain: bool
    led: bool
    live: set[int]
    moved: frozenset[int]


def _hung(
    draws: Sequence[Draw], region: Mapping[int, int], fed_by: Callable[[int], Set[int]]
) -> dict[int, tuple[int, list[Draw]]]:
    """For each piece that no source feeds, the one rail that all there draws from, and what draws."""
    hung: dict[int, list[Draw]] = {}
    across: dict[int, set[int]] = {}
    for draw in draws:
        for node, other in ((draw.a, draw.b), (draw.b, draw.a)):
            if draw.a != draw.b and not fed_by(node):
                hung.setdefault(region[node], []).append(draw)
                across.setdefault(region[node], set()).update(fed_by(other))
    return {place: (min(across[place]), listed) for place, listed in hung.items() if len(across[place]) == 1}


def _loose(
    ties: Sequence[Tie], draws: Sequence[Draw], rails: Set[int], region: Mapping[int, int]
) -> list[int]:
    """The nodes at which a single contact ends and nothing else; or the last one, where several end."""
    meeting = Counter(end for tie in ties for end in tie)
    drawn = {end for draw in draws for end in draw[:2]}
    found = [node for node, count in meeting.items() if count == 1 and node not in drawn | rails]
    idle = set(region.values()) - {region.get(end) for end in (*drawn, *found)}
    for place in sorted(idle):
        way = [rail for rail in sorted(rails) if any(rail in tie for tie in ties)]
        for node in way:
            for tie in ties:
                for end in tie if node in tie else ():
                    if end not in way and region.get(end) == place:
                        way.append(end)
        found += [end for end in way[-1:] if end not in rails]
    return found


def _start(ties: Sequence[Tie], drawn: Set[int]) -> int:
    """Where what no source feeds would be fed: from there most of its contacts lead to what draws.

    The feed side of a contact comes before an end of which nothing says that.
    """
    fed = {b for _, b in ties}
    nodes = sorted({end for tie in ties for end in tie} | drawn)

    def led(node: int) -> int:
        left = list(ties)
        while True:
            meeting = Counter(end for tie in left for end in tie)
            kept = [
                tie for tie in left if all(meeting[end] > 1 or end == node or end in drawn for end in tie)
            ]
            if len(kept) == len(left):
                return len(left) if any(node in tie for tie in left) else 0
            left = kept

    return max(nodes, key=lambda node: (led(node) > 0 and node not in fed, led(node)))


def _across(spans: Sequence[Span], rail: int, hung: Sequence[Draw]) -> set[int]:
    """The rails that a source holds apart from one, by the volts that what hangs on it is made for."""
    volts = max((draw.volts or 0.0 for draw in hung), default=0.0)
    listed = [(span.b if span.a == rail else span.a, span.volts) for span in spans if rail in span[:2]]
    alike = {other for other, held in listed if NEAR * held < volts < held / NEAR}
    return alike or {other for other, _ in listed}
