"""Every position of every group of switches, in as few states of the whole board as will do.

Groups do not feel each other, so they are moved together: state k has each group
in its k-th position, and a board of a hundred stair lights is solved four times.
Where something opens or buzzes that did not at rest, the groups are taken apart
by halves until the one that does it stands alone, so that what it leaves dark is
not held against the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.positions import Group, combinations
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.circuit.work import WorkEnds


class Row(NamedTuple):
    """A group's switches in one position, and a state of the board in which they stand so."""

    moved: Mapping[str, str]
    settled: Settled


class Survey(NamedTuple):
    """`states` holds each state once, the board at rest first; `rows` every position of each group.

    Where the work ended before every position was tried, it is not `whole`.
    """

    states: tuple[Settled, ...]
    rows: Mapping[Group, tuple[Row, ...]]
    whole: bool = True


def survey(circuit: Circuit, groups: Iterable[Group]) -> Survey:
    """The board in every position of its groups of switches, with no call made.

    Parameters
    ----------
    groups : groups that do not feel each other, as `positions.groups` gives them.

    Returns
    -------
    As many states as the largest group has positions, and more only where
    protection opens or a coil buzzes in some of them. In the state of a row the
    other groups stand anywhere.
    """
    rest = settle(circuit, resting(circuit))
    states: dict[int, Settled] = {id(rest): rest}
    choices = {group: combinations(circuit, group)[0] for group in groups if group.switches}
    rows: dict[Group, list[Row]] = {group: [] for group in choices}
    whole = True
    try:
        for position in range(max(map(len, choices.values()), default=0)):
            moving = {group: listed[position] for group, listed in choices.items() if position < len(listed)}
            for moved, settled in _apart(rest, moving):
                states[id(settled)] = settled
                for group, choice in moved.items():
                    rows[group].append(Row(choice, settled))
    except WorkEnds:
        whole = False
    return Survey(tuple(states.values()), {group: tuple(listed) for group, listed in rows.items()}, whole)


def _apart(
    rest: Settled, moving: Mapping[Group, Mapping[str, str]]
) -> Iterator[tuple[Mapping[Group, Mapping[str, str]], Settled]]:
    """The groups moved together, or in parts where together something opens or buzzes."""
    moved = {
        name: value
        for choice in moving.values()
        for name, value in choice.items()
        if value != rest.positions[name]
    }
    settled = settle(rest.circuit, {**rest.positions, **moved}) if moved else rest
    if len(moving) == 1 or _troubles(settled) == _troubles(rest):
        yield moving, settled
        return
    listed = list(moving.items())
    middle = len(listed) // 2
    yield from _apart(rest, dict(listed[:middle]))
    yield from _apart(rest, dict(listed[middle:]))


def _troubles(settled: Settled) -> frozenset[str]:
    return frozenset((*(opening.name for opening in settled.opened), *settled.chattering))
