"""A pressure or temperature control has both sides on one piece of copper, and opens nothing.

A jumper that somebody put over it to see whether the rest works, and left there, or two wires of it under one
connector. What it should start and stop runs on whatever the pressure or the heat does.

Source: common practice: a control is bridged for a test alone, and by somebody who stands beside it
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.by_itself import LED
from wirecheck.circuit.circuit import Contact
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.model.board import Device


class Bridged(Problem):
    """Both ends of a contact of `device` lie on one piece of copper; `other` is a pole that opens yet."""

    device: Device
    contact: Contact
    other: Contact | None


def find(case: Case) -> Iterator[Bridged]:
    """Each control that moves by itself, but for safeties, which are asked what they stop."""
    for device in case.board.devices.values():
        part = device.part
        if not part.positions or part.moved_by in LED or part.safety:
            continue
        for contact in case.circuit.contacts_in.get(device.name, ()):
            piece = case.uses.piece[contact.a]
            join = join_at(case, contact.a)
            if contact.overload is None and join is not None and piece == case.uses.piece[contact.b]:
                yield Bridged(
                    at=spot(join),
                    about=device,
                    severity="fault",
                    stage="final",
                    copper=frozenset([piece]),
                    device=device,
                    contact=contact,
                    other=_other_pole(case, contact),
                )


def _other_pole(case: Case, bridged: Contact) -> Contact | None:
    """Another pole of the same control, with nothing across it and wires on both its sides."""
    piece = case.uses.piece
    for one in case.circuit.contacts_in[bridged.scope]:
        sides = piece[one.a], piece[one.b]
        wired = all(join_at(case, end) is not None for end in (one.a, one.b))
        if wired and sides[0] != sides[1] and piece[bridged.a] not in sides:
            return one
    return None


def words(problem: Bridged, case: Case) -> Words:
    """Which two sides are one, and what to do."""
    name, contact = problem.device.name, problem.contact
    copper = f"{contact.a} and {contact.b} are one piece of copper"
    if problem.other is not None:
        message = (
            f"{name} does not open this line: {copper}, which stays live when {name} opens {problem.other.a}."
        )
    else:
        message = f"{name} does nothing: {copper}, whether its contact is open or closed."
    return Words(
        message=message,
        help=f"Take out what joins the two, so that all that {name} should stop has its feed through it.",
        source="common practice",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
