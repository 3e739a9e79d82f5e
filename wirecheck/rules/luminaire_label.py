"""A light has larger lamps than its label allows, or wires that its heat cooks.

A lamp too large bakes the socket and the wires above it, until their insulation cracks and falls off. The
label says how large it may be, and for how many degrees the wires must be that come to it: a recessed light
asks for 90 C where older cable is made for 60 C. Nothing trips on heat.

Source: NEC 410.117(A), 410.120, 110.3(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import is_power
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shown
from wirecheck.language.syntax import Quantity
from wirecheck.model.board import Conductor, Device, Join
from wirecheck.tables.ampacity import insulation
from wirecheck.tables.published import NotInTable

# The ratings of a part that are its label's.
LARGEST, SUPPLY = "largest-lamp", "supply"
# How many wires one message names.
MOST_NAMED = 4


class LargeLamp(Problem):
    """A light's lamps are of more watts than its label allows."""

    device: Device
    watts: float
    most: float


class CoolWires(Problem):
    """Wires of one run are made for less heat than the label of a light asks for, in C."""

    device: Device
    wires: tuple[Conductor, ...]
    made_for: float
    asked: float
    join: Join


def find(case: Case) -> Iterator[LargeLamp | CoolWires]:
    """Each light whose part has a label, and the wires that are on its screws or leads."""
    for device in case.board.devices.values():
        watts, most = _number(device, "power"), _number(device, LARGEST)
        if watts is not None and most is not None and over(watts, most):
            yield LargeLamp(
                at=spot(device),
                about=device,
                severity="hazard",
                stage="trim",
                copper=frozenset(case.uses.piece[name] for name in _screws(case, device)),
                device=device,
                watts=watts,
                most=most,
            )
        asked = _number(device, SUPPLY)
        if asked is not None:
            yield from _cool(case, device, asked)


def _number(device: Device, name: str) -> float | None:
    value = device.values.get(name)
    return value.value if isinstance(value, Quantity) else None


def _screws(case: Case, device: Device) -> list[str]:
    return [f"{device.name}.{name}" for name in device.part.terminals]


def _cool(case: Case, device: Device, asked: float) -> Iterator[CoolWires]:
    """The runs that come to a light with insulation for less heat."""
    runs: dict[str, list[tuple[Conductor, Join]]] = {}
    for join in case.board.joins:
        for name, members in join.under.items():
            if case.board.terminals[name].owner == device.name:
                for member in (*members, *join.splice):
                    wire = case.board.conductors.get(member.name)
                    if wire is not None and is_power(wire):
                        runs.setdefault(wire.run, []).append((wire, join))
    for wires in runs.values():
        wire, join = wires[0]
        try:
            made_for = insulation(wire.insulation, code=case.code).dry
        except NotInTable:
            continue
        if over(asked, made_for):
            yield CoolWires(
                at=spot(case.board.runs[wire.run]),
                about=wire,
                severity="violation",
                stage="trim",
                copper=frozenset(case.uses.piece[end] for one, _ in wires for end in one.ends),
                device=device,
                wires=tuple({one.name: one for one, _ in wires}.values()),
                made_for=made_for,
                asked=asked,
                join=join,
            )


def words(problem: LargeLamp | CoolWires, case: Case) -> Words:
    """What is there, and what the label says."""
    device = problem.device
    if isinstance(problem, LargeLamp):
        there = shown(problem.watts, "power", beside=problem.most)
        most = shown(problem.most, "power", beside=problem.watts)
        return Words(
            message=f"{device.name} has lamps of {there}, and its label allows {most} at most. Its socket "
            "and its wires bake, until their insulation falls off.",
            help=f"Put in lamps of {most} or less.",
            source=case.code.section("wattage marked on luminaires", "equipment as its instructions say"),
            value=problem.watts,
            limit=problem.most,
            unit="watts",
        )
    wire = problem.wires[0]
    names = listed([one.name for one in problem.wires], MOST_NAMED)
    come = "come" if len(problem.wires) > 1 else "comes"
    return Words(
        message=f"{names} {come} to {device.name}, whose label asks for wires of {problem.asked:g} C, and "
        f"{wire.insulation} is made for {problem.made_for:g} C. The light's heat cracks their insulation.",
        help=f"Bring wire of {problem.asked:g} C to {device.name}, or put in a light whose label asks for no "
        f"more than {problem.made_for:g} C.",
        source=case.code.section("wires of a luminaire suit its heat", "equipment as its instructions say"),
    )


RULE = rule(__name__, "trim", severities=("hazard", "violation"), find=find, words=words)
