"""Which lamps, outlets, loads and safeties no `expect` line names: what they should do is not known.

That they have their volts and harm nobody is judged all the same. By which switch or call they should
work no fact tells.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from wirecheck.judge import calls
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.model.expectations import words_of

Kind = Literal["outlet", "load", "safety"]


class Purpose(NamedTuple):
    """What an `expect` line can name, and whether one does."""

    name: str
    kind: Kind
    said: bool


def purposes(case: Case) -> tuple[Purpose, ...]:
    """What can be said to work as it should, in order of the board; halves of an outlet where they differ.

    >>> import wirecheck
    >>> shed = 'board "Shed"\\npanel LP 120 V\\nbox A device 18 cu in\\nR1 is duplex-receptacle in A'
    >>> purposes(Case(wirecheck.assemble(shed)[1]))
    (Purpose(name='R1', kind='outlet', said=False),)
    """
    named = set(_named(case))
    found: dict[str, Purpose] = {}
    order = {name: number for number, name in enumerate(case.board.devices)}
    for _, name, kind in sorted(_asked_about(case), key=lambda one: order[one[0]]):
        if kind == "outlet":
            device = next(one.device for one in case.circuit.outlets if one.name == name)
            halves = case.circuit.outlets_of(device)
            found.setdefault(device, Purpose(device, kind, named.issuperset(half.name for half in halves)))
            if len({(half.hot, half.neutral) for half in halves}) == 1:
                continue
        found[name] = Purpose(name, kind, name in named)
    return tuple(found.values())


@question
def unjudged(case: Case) -> tuple[str, ...]:
    """Their names, in order of the board; a device by its own name where nothing of it is judged."""
    named: set[str] = set()
    parts: dict[str, list[str]] = {}
    for system in case.systems:
        named.update(_named(system))
        for device, name, _ in _asked_about(system):
            parts.setdefault(device, []).append(name)
    told: list[str] = []
    for device in case.board.devices:
        names = parts.get(device, [])
        left = [name for name in names if name not in named]
        told += [device] if left and left == names else left
    return tuple(told)


def _asked_about(case: Case) -> Iterator[tuple[str, str, Kind]]:
    """Each outlet, each load that does work for somebody and each safety, after its outermost device."""
    around = case.circuit.devices
    for outlet in case.circuit.outlets:
        yield around[outlet.device].outer, outlet.name, "outlet"
    for load in case.circuit.loads:
        outer = around[load.device].outer
        # Coils, controls and displays serve what a machine does. What a trainer's faults draw serves nothing.
        works = load.kind in calls.WORKING and "standby" not in load.flags
        if works or load.gives_light or "unswitched" in load.flags:
            yield outer, load.name, "load"
    for name, variable in case.circuit.variables.items():
        if variable.safety and name in case.board.devices:
            yield name, name, "safety"


def _named(case: Case) -> Iterator[str]:
    """What `expect` lines name: loads, safeties, outlets, and all outlets of a device that is named."""
    for word in (word for line in case.board.expectations for word in words_of(line).judged):
        load = case.circuit.load.get(word.text)
        if load is not None:
            yield load.name
        variable = case.circuit.variables.get(word.text)
        if variable is not None and variable.safety:
            yield variable.name
        yield from (outlet.name for outlet in case.circuit.outlets_of(word.text))
