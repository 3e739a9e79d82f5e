"""A switch or thermostat of two or three poles does not open all of the hots.

What it controls stops and is live all the same: a heater that looks off has 120 V inside.
A contactor, a relay or a sequencer need not open both hots: a disconnect does.

Source: NEC 424.20(A), 404.2(A), 430.103; 424.20(B), 430.84 for what is no disconnect
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.judge.case import Case
from wirecheck.judge.left_live import left_live
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.switch_poles import switch_poles
from wirecheck.judge.voltages import takes_two_hots
from wirecheck.judge.ways import way
from wirecheck.language.listing import listed
from wirecheck.model.board import Device, Join, Terminal


class PoleBypassed(Problem):
    """With `device` off `loads` stay live: a hot goes around the pole `around`, and comes in on `screws`."""

    device: Device
    around: Contact
    loads: tuple[Load, ...]
    screws: tuple[Terminal, ...]


def find(case: Case) -> Iterator[PoleBypassed]:
    """Each device of several poles that leaves loads live, at the join by which a hot goes around it."""
    poles = switch_poles(case)
    between = _between_two_hots(case) if poles else ()
    for name, contacts in poles.items():
        if not between or len(contacts) < 2:
            continue
        opened = frozenset(one.name for one in contacts)
        # What it lives on itself belongs before its poles: that it stops is another matter.
        others = tuple(load for load in between if case.circuit.devices[load.device].outer != name)
        found = tuple(_off_and_live(case, opened, others))
        if not found:
            continue
        device, screw = case.board.devices[name], found[0][1]
        # The pole that opens nothing; else that of the leg which stays.
        stays = case.uses.legs(screw.name)
        around = min(contacts, key=lambda one: (_opens_a_hot(case, one), case.uses.legs(one.a) != stays))
        yield PoleBypassed(
            at=spot(next(_past(case, device, screw, opened), device)),
            about=device,
            severity="hazard",
            stage="trim",
            copper=frozenset(case.uses.piece[screw.name] for _, screw in found),
            device=device,
            around=around,
            loads=tuple(load for load, _ in found),
            screws=tuple(dict.fromkeys(screw for _, screw in found)),
        )


def _between_two_hots(case: Case) -> tuple[Load, ...]:
    """The loads that are made for two hots or three and get them with every contact closed."""
    piece = case.uses.piece
    loads = [load for load in case.circuit.loads if takes_two_hots(load.volts)]
    every = left_live(case) if loads else frozenset()
    return tuple(load for load in loads if all(piece[end] in every for end in load.ends))


def _off_and_live(
    case: Case, opened: frozenset[str], between: tuple[Load, ...]
) -> Iterator[tuple[Load, Terminal]]:
    """Those of some loads of which contacts open not every hot, each with the screw that stays live."""
    piece = case.uses.piece
    without = left_live(case, opened)
    for load in between:
        if len({piece[end] in without for end in load.ends}) > 1:
            outer = case.circuit.devices[load.device].outer
            screws = (screw for screw in case.board.terminals.values() if screw.owner == outer)
            yield load, next(screw for screw in screws if piece[screw.name] in without)


def _past(case: Case, device: Device, screw: Terminal, opened: frozenset[str]) -> Iterator[Join]:
    """The joins beside a device by which a hot gets to a screw without its contacts."""
    past = way(case, [screw.name], legs(case), lambda of: of.name not in opened)
    for join in past.joins if past is not None else ():
        if join.place == device.place:
            yield join


def _opens_a_hot(case: Case, contact: Contact) -> bool:
    """Whether a hot comes to one side of a contact and goes on from the other, by other copper."""
    joined = all(join_at(case, end) is not None for end in (contact.a, contact.b))
    return joined and {case.uses.of(contact.a), case.uses.of(contact.b)} == {"hot", "switched"}


def words(problem: PoleBypassed, case: Case) -> Words:
    """What stays live where, and which screws the hot belongs through."""
    device, around = problem.device.name, problem.around
    names = list(dict.fromkeys(case.circuit.devices[load.device].outer for load in problem.loads))
    stop = "stop but stay" if len(names) > 1 else "stops but stays"
    lines = any(load.c is not None for load in problem.loads)
    hots = "lines" if lines else "two hots"
    sections = ("thermostat that serves as a switch", "switches open the hot")
    return Words(
        message=f"With {device} off, {listed(names)} {stop} live at "
        f"{listed(screw.name for screw in problem.screws)}: one of the {hots} goes around "
        f"{device}.",
        help=f"Take apart what carries that hot around {device}. Bring what comes from the breaker to "
        f"{around.a}, and what goes on to {listed(names)} to {around.b}.",
        source=case.code.section(*(("disconnect of a motor opens every hot",) if lines else sections)),
    )


RULE = rule(__name__, "trim", severities=("hazard",), find=find, words=words)
