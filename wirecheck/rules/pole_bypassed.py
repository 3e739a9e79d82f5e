"""A switch or thermostat of two poles opens only one of the two hots.

What it controls stops and is live all the same: a heater that looks off has 120 V inside.

Source: NEC 424.20(A), 404.2(A); common practice for loads between two hots
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.voltages import takes_two_hots
from wirecheck.judge.ways import pieces_reached
from wirecheck.model.board import Device, Terminal


@dataclass(frozen=True, slots=True, kw_only=True)
class PoleBypassed(Problem):
    """With `device` off `load` stays live: one hot goes around the pole `around`, and comes in on `live`."""

    device: Device
    around: Contact
    load: Load
    live: Terminal


def find(case: Case) -> Iterator[PoleBypassed]:
    """Each device of several poles, by the first load that it leaves live."""
    poles: dict[str, list[Contact]] = {}
    for contact in case.circuit.contacts:
        ends = (case.board.terminals.get(end) for end in (contact.a, contact.b))
        if {terminal.spec.role for terminal in ends if terminal is not None} == {"hot", "switched"}:
            poles.setdefault(contact.scope, []).append(contact)
    for name, contacts in poles.items():
        # A three-way switch has two contacts and one common screw.
        if len({end for one in contacts for end in (one.a, one.b)}) < 4:
            continue
        device = case.board.devices[name]
        for load, live in _off_and_live(case, frozenset(one.name for one in contacts)):
            around = next((one for one in contacts if not _opens_a_hot(case, one)), contacts[0])
            yield PoleBypassed(
                at=spot(join_at(case, around.a) or join_at(case, around.b) or device),
                about=device,
                severity="hazard",
                stage="trim",
                copper=frozenset((case.uses.piece[live.name],)),
                device=device,
                around=around,
                load=load,
                live=live,
            )
            break


def _off_and_live(case: Case, opened: frozenset[str]) -> Iterator[tuple[Load, Terminal]]:
    """The loads between two hots of which contacts open one only, each with the screw that stays live."""
    piece = case.uses.piece
    hots = [piece[leg] for leg in legs(case)]
    without = pieces_reached(case, hots, lambda of: of.name not in opened)
    every = pieces_reached(case, hots)
    for load in case.circuit.loads:
        one, other = piece[load.a], piece[load.b]
        if takes_two_hots(load.volts) and {one, other} <= every and (one in without) != (other in without):
            outer = case.circuit.devices[load.device].outer
            screws = (screw for screw in case.board.terminals.values() if screw.owner == outer)
            yield load, next(screw for screw in screws if piece[screw.name] in without)


def _opens_a_hot(case: Case, contact: Contact) -> bool:
    """Whether a hot comes to one side of a contact and goes on from the other, by other copper."""
    ends = (contact.a, contact.b)
    return all(join_at(case, end) is not None for end in ends) and {case.uses.of(end) for end in ends} == {
        "hot",
        "switched",
    }


def words(problem: PoleBypassed, case: Case) -> Words:
    """What stays live where, and which screws the hot belongs through."""
    device, around = problem.device.name, problem.around
    load = case.circuit.devices[problem.load.device].outer
    return Words(
        message=f"With {device} off, {load} stops but stays live at {problem.live.name}: one of its two "
        f"hots goes around {device}.",
        help=f"Take apart what carries that hot around {device}. Bring what comes from the breaker to "
        f"{around.a}, and what goes on to {load} to {around.b}.",
        source=case.code.section("thermostat that serves as a switch", "switches open the hot"),
    )


RULE = rule(__name__, "trim", find=find, words=words)
