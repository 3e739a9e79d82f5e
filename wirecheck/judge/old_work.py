"""Circuits of ranges and dryers as old work has them: three wires, and the frame on the neutral (250.140)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.question import question
from wirecheck.language.syntax import Word
from wirecheck.model.board import Conductor, Device, Join

THREE_WIRES = "three-wire-cooking-or-drying"
# The cables whose bare wire may be a neutral in old work.
SERVICE_CABLES = ("SEU", "SER")


class Neutral(NamedTuple):
    """The wire that is the neutral of such an outlet, and the join at its screw."""

    conductor: Conductor
    join: Join


def is_existing(device: Device) -> bool:
    """Whether a board says that a three-wire outlet was found in old work."""
    work = device.values.get("work")
    return isinstance(work, Word) and work.text == "existing"


def three_wire(case: Case) -> Iterator[Device]:
    """The outlets of ranges and dryers that have no ground of their own."""
    return (device for device in case.board.devices.values() if device.part.serves == THREE_WIRES)


def neutrals(case: Case, device: Device) -> Iterator[Neutral]:
    """The wires under the neutral screw of an outlet, or spliced to it."""
    for join in case.board.joins:
        for name, members in join.under.items():
            terminal = case.board.terminals[name]
            if terminal.owner == device.name and terminal.spec.role == "neutral":
                for member in dict.fromkeys((*members, *join.splice)):
                    if member.kind == "end":
                        yield Neutral(case.board.conductors[member.name], join)


@question
def bare_neutrals(case: Case) -> frozenset[str]:
    """The bare wires that are neutrals in old work, and no grounds: those to such an outlet of old work."""
    return frozenset(
        neutral.conductor.name
        for device in three_wire(case)
        if is_existing(device)
        for neutral in neutrals(case, device)
        if is_grounding(neutral.conductor) and neutral.conductor.insulation in SERVICE_CABLES
    )


@question
def metal_on_neutral(case: Case) -> frozenset[str]:
    """The ground screws of metal boxes that old work has on the neutral, with the outlet that is in them."""
    places = {device.place for device in three_wire(case) if is_existing(device)}
    return frozenset(
        f"{place}.ground"
        for place in places
        if f"{place}.ground" in case.board.terminals and case.uses.of(f"{place}.ground") == "neutral"
    )
