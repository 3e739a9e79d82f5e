"""Which lamps, outlets, loads and safeties no `expect` line names: what they should do is not known.

That they have their volts and harm nobody is judged all the same. By which switch or call they should
work no fact tells.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import calls
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.model.expectations import words_of


@question
def unjudged(case: Case) -> tuple[str, ...]:
    """Their names, in order of the board; a device by its own name where nothing of it is judged."""
    named: set[str] = set()
    parts: dict[str, list[str]] = {}
    for system in case.systems:
        named.update(_named(system))
        for device, name in _asked_about(system):
            parts.setdefault(device, []).append(name)
    told: list[str] = []
    for device in case.board.devices:
        names = parts.get(device, [])
        left = [name for name in names if name not in named]
        told += [device] if left and left == names else left
    return tuple(told)


def _asked_about(case: Case) -> Iterator[tuple[str, str]]:
    """Each outlet, each load that does work for somebody and each safety, with its outermost device."""
    around = case.circuit.devices
    for outlet in case.circuit.outlets:
        yield around[outlet.device].outer, outlet.name
    for load in case.circuit.loads:
        outer = around[load.device].outer
        # Coils, controls and displays serve what a machine does. What a trainer's faults draw serves nothing.
        works = load.kind in calls.WORKING and "standby" not in load.flags
        if works or load.gives_light or "unswitched" in load.flags:
            yield outer, load.name
    for name, variable in case.circuit.variables.items():
        if variable.safety and name in case.board.devices:
            yield name, name


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
