"""Which switches change nothing: no load, no outlet, no transformer and no control feels any of them."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.by_itself import at_once
from wirecheck.circuit.positions import Group
from wirecheck.circuit.settle import Settled, View, holds
from wirecheck.judge import made_up
from wirecheck.judge.buttons import buttons, pushes
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.unfed import sources_without
from wirecheck.model.board import Device

# What is between these shares of its volts is fed, and not enough (common practice).
SHARES = (0.1, 0.8)


@question
def idle_switches(case: Case) -> tuple[Device, ...]:
    """The switches that a hand moves and that change nothing, in any position of the others and in no call.

    Those that no wire comes to are left out.
    """
    return tuple(
        device
        for group in case.groups
        for name in group.switches
        if (device := case.board.devices.get(name)) is not None
        and _is_wired(case, device)
        and not _felt(case, group, name)
        and not _leads_on(case, name)
        and not _felt_in_calls(case, name)
        and not _lets_go(case, name)
    )


def _is_wired(case: Case, device: Device) -> bool:
    return any(
        spec.role != "ground" and made_up.join_at(case, f"{device.name}.{screw}") is not None
        for screw, spec in device.part.terminals.items()
    )


def _felt(case: Case, group: Group, switch: str) -> bool:
    """Whether anything of its group has other volts in some position of a switch than in another."""
    pairs = [
        (a, b, volts)
        for a, b, volts in _pairs(case)
        if case.circuit.node[a] in group.nodes or case.circuit.node[b] in group.nodes
    ]
    known: dict[tuple[str, ...], object] = {}
    for row in case.rows(group):
        others = tuple(value for name, value in row.moved.items() if name != switch)
        seen = _seen(row.settled, pairs)
        if known.setdefault(others, seen) != seen:
            return True
    return False


def _pairs(case: Case) -> Iterator[tuple[str, str, float]]:
    """All that may feel a switch: its two points, and the volts that it is made for."""
    circuit = case.circuit
    yield from ((a, b, load.volts) for load in circuit.loads for a, b in load.pairs)
    yield from ((one.hot, one.neutral, one.volts) for one in circuit.outlets)
    yield from ((*winding.primary, winding.primary_volts) for winding in circuit.windings)
    yield from ((a, b, 24.0) for a, b in circuit.inputs)


def _seen(settled: Settled, pairs: list[tuple[str, str, float]]) -> object:
    """How much of its volts each has, and what opens."""
    state = settled.first or settled
    fed = tuple(sum(state.across(a, b) > share * volts for share in SHARES) for a, b, volts in pairs)
    return fed, frozenset(opening.name for opening in settled.opened)


def _leads_on(case: Case, switch: str) -> bool:
    """Whether the contacts of a switch decide to what source something can be tied at all."""
    circuit = case.circuit
    own = [contact for contact in circuit.contacts if contact.scope == switch]
    found = set()
    for value in circuit.variables[switch].values:
        view = View(circuit, {switch: value}, frozenset(), frozenset(), (), frozenset(), {})
        opened = frozenset(one.name for one in own if not holds(one.when, one.scope, view))
        reached = sources_without(case, opened)
        found.add(tuple(reached(point) for a, b, _ in _pairs(case) for point in (a, b)))
    return len(found) > 1


def _felt_in_calls(case: Case, switch: str) -> bool:
    """Whether a call runs something else with a switch in another position."""
    for call in case.heard:
        ran = {
            (frozenset(run.started()), run.rest.running)
            for value in case.circuit.variables[switch].values
            for run in [case.played([call], {switch: value})]
        }
        if len(ran) > 1:
            return True
    return False


def _lets_go(case: Case, switch: str) -> bool:
    """Whether a button stops what a start button has started and what holds itself in since."""
    button = buttons(case.circuit).get(switch)
    if button is None:
        return False
    variable = case.circuit.variables[switch]
    return any(
        at_once(one.after, variable, button.pressed).running != one.after.running for one in pushes(case)
    )
