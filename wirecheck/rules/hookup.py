"""Rules about a hookup that lacks a wire: what will not work, before anyone has waited for it."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Circuit, Contact
from wirecheck.circuit.settle import View, holds
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding
from wirecheck.language.syntax import ExpectRuns
from wirecheck.model.board import Device
from wirecheck.rules.old import rule

# The screws by which 24 V comes to a thermostat.
FEEDS = ("R", "RC", "RH", "C")


@rule("final")
def missing_wire(case: Case) -> Iterator[Finding]:
    """A hookup lacks a wire, and something that the devices could do will not work.

    Without C a thermostat lives on its batteries; without G no call for the
    fan reaches the blower. It may be meant so: then nothing is to be mended.

    Source: common practice for 24 V controls
    """
    landed = {member.name for join in case.board.joins for member in join.members}
    for device in case.board.devices.values():
        empty = [
            name
            for name, spec in device.part.terminals.items()
            if spec.role in ("class-2", "class-2-common") and f"{device.name}.{name}" not in landed
        ]
        for terminal in empty:
            yield from _unpowered(case, device, terminal)
        if empty and device.part.calls:
            yield from _unheard(case, device, landed)
        elif empty:
            yield from _unsent(case, device, empty, landed)


def _unpowered(case: Case, device: Device, terminal: str) -> Iterator[Finding]:
    """What stands by in a device and has no power, since a screw of it has no wire."""
    point = f"{device.name}.{terminal}"
    for load in case.circuit.loads:
        if load.device != device.name or "standby" not in load.flags or point not in (load.a, load.b):
            continue
        if load.name in case.standing({}).running:
            continue
        optional = "optional" in device.part.terminals[terminal].flags
        lives = (
            "lives on batteries alone, and stops when they are empty" if optional else "has no power at all"
        )
        offers = _same_letter(case, device, terminal)
        yield _finding(
            device,
            point,
            f"No wire is on {point}: {device.name} {lives}.",
            f"Bring {offers} to it with a wire of the cable that is spare"
            + (", or change the batteries every year." if optional else ".")
            if offers
            else f"Bring a wire to {point}, or the jumper that it takes.",
        )


def _unheard(case: Case, device: Device, landed: set[str]) -> Iterator[Finding]:
    """A call of a thermostat that no wire carries to a control which waits for it."""
    expected = {word.text for e in case.board.expectations if isinstance(e, ExpectRuns) for word in e.calls}
    for call in device.part.calls:
        name = call if call in case.calls else f"{device.name}.{call}"
        if name in expected or _runs_something(case, name):
            continue
        # Where another screw of the call has nothing that waits for it, the call is not for this board.
        screws = [point for c in _closed_by(case.circuit, device, call) for point in (c.a, c.b)]
        called = [point for point in screws if point.rpartition(".")[2] not in FEEDS]
        waiting = {point: _same_letter(case, device, point.rpartition(".")[2]) for point in called}
        if not all(waits and _waits(case.circuit, waits) for waits in waiting.values()):
            continue
        for point, waits in waiting.items():
            if point not in landed:
                yield _finding(
                    device,
                    point,
                    f"No wire is on {point}: a call for {call} reaches nothing, and {waits}, "
                    "which waits for it, never hears it.",
                    f"If {call} shall work, bring a wire from {point} to {waits}.",
                )


def _unsent(case: Case, device: Device, empty: list[str], landed: set[str]) -> Iterator[Finding]:
    """What a control sends to another machine at some moment, and no wire carries there."""
    sends = {
        end for contact in device.part.contacts if contact.when is not None for end in (contact.a, contact.b)
    }
    for terminal in empty:
        spec = device.part.terminals[terminal]
        hears = _same_letter(case, device, terminal)
        if terminal in sends and "optional" not in spec.flags and hears in landed:
            point = f"{device.name}.{terminal}"
            yield _finding(
                device,
                point,
                f"No wire is on {point}, which is for this: {spec.text}. {hears} never hears it.",
                f"Bring a wire from {point} to {hears}.",
            )


def _runs_something(case: Case, call: str) -> bool:
    ran = case.played([call]).started()
    at_rest = case.standing({}).running
    return any(case.circuit.load[name].kind in WORKING and name not in at_rest for name in ran)


def _closed_by(circuit: Circuit, device: Device, call: str) -> Iterator[Contact]:
    """The contacts of a device that a call alone closes."""
    view = View(circuit, {}, frozenset((call,)), frozenset(), (), frozenset(), {})
    for contact in circuit.contacts:
        if contact.scope == device.name and holds(contact.when, contact.scope, view):
            yield contact


def _same_letter(case: Case, device: Device, terminal: str) -> str | None:
    """The screw of that name on the equipment, where the wire would come from."""
    for other in case.board.devices.values():
        if other is not device and not other.part.calls and terminal in other.part.terminals:
            return f"{other.name}.{terminal}"
    return None


def _waits(circuit: Circuit, point: str) -> bool:
    """Whether a control looks for volts at a screw."""
    return any(point in pair for pair in circuit.inputs)


def _finding(device: Device, point: str, message: str, advice: str) -> Finding:
    return Finding(
        rule="missing-wire",
        severity="advice",
        message=message,
        span=device.span,
        subject=point,
        source="common practice",
        help=advice,
    )
