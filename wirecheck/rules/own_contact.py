"""Something is fed through a contact that it must close itself: it can't start, or it stops and stays off.

A transformer behind the contactor that its own 24 V pulls in has no power until the contactor is in, and the
contactor has no 24 V until the transformer has power. Neither goes first. A time clock that is fed on its
load screws runs until its contacts open, and then has no power to close them. Such a thing belongs ahead of
the contact.

Source: common practice: controls take their power from the line side of what they control
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.circles import Circle, Waits, circle
from wirecheck.judge.finding import Note
from wirecheck.judge.made_up import at_screw, join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.unfed import sources_without
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.model.board import Device, Terminal


class WaitsForItself(Problem):
    """A circle: `link` is what of it hangs behind a contact that the rest of it would have to close."""

    circle: Circle
    link: Waits

    @property
    def dead(self) -> frozenset[str]:
        """The names of all loads and transformers that cannot start because of it."""
        return frozenset(one.name for one in self.circle.dead)


class StopsItself(Problem):
    """The `clock` that moves the contacts of `device` is fed by them: from `screws`, in place of `lines`."""

    device: Device
    clock: Load
    screws: tuple[Terminal, ...]
    lines: tuple[Terminal, ...]


def find(case: Case) -> Iterator[WaitsForItself | StopsItself]:
    """The circle, at the join that puts something behind its own contact; each clock that stops itself."""
    yield from _clocks(case)
    found = circle(case)
    if found is None:
        return
    link = next((one for one in found.links if _is_behind(one)), found.links[0])
    device = case.circuit.around[link.of.device][0]
    join = join_at(case, link.point) if link.point is not None else None
    yield WaitsForItself(
        at=spot(device if join is None else join),
        about=link.of,
        severity="fault",
        stage="final",
        copper=frozenset(case.uses.piece[point] for one in found.dead for point in _ends(one)),
        circle=found,
        link=link,
    )


def _clocks(case: Case) -> Iterator[StopsItself]:
    """Each clock with a side that nothing but the contacts which it moves brings to a source."""
    terminals, piece = case.board.terminals, case.uses.piece
    for clock in (load for load in case.circuit.loads if "clock" in load.flags):
        device = case.board.devices.get(clock.device)
        contacts = case.circuit.contacts_in.get(clock.device, ())
        if device is None or not contacts:
            continue
        every, without = sources_without(case, ()), sources_without(case, [one.name for one in contacts])
        cut = {piece[end] for end in clock.ends if every(end) and not without(end)}
        # Of each contact the end that such a side is on, and the screw that its feed comes to.
        pairs = [(a, b) for one in contacts for a, b in ((one.a, one.b), (one.b, one.a)) if piece[a] in cut]
        fed = [(a, b) for a, b in pairs if {a, b} <= terminals.keys() and without(b)]
        if fed:
            screws = tuple(terminals[screw] for _, screw in fed)
            yield StopsItself(
                at=at_screw(case, screws[0]),
                about=device,
                severity="fault",
                stage="final",
                copper=frozenset(piece[point] for pair in fed for point in pair),
                device=device,
                clock=clock,
                screws=screws,
                lines=tuple(terminals[end] for end, _ in fed),
            )


def _is_behind(link: Waits) -> bool:
    """Whether it hangs behind a contact of what it waits for."""
    return link.contact is not None and link.contact.scope == link.for_.device


def _ends(of: Load | Winding) -> tuple[str, str]:
    return of.primary if isinstance(of, Winding) else (of.a, of.b)


def words(problem: WaitsForItself | StopsItself, case: Case) -> Words:
    """Around the circle, link by link, and where its first thing belongs; or where a clock's feed does."""
    if isinstance(problem, StopsItself):
        return _of_a_clock(problem)
    links = problem.circle.links
    if len(links) == 1:
        return _words_of_one(problem, case)
    first = links.index(problem.link)
    around = [_said(one) for one in (*links[first:], *links[:first])]
    of, contact = problem.link.of.name, problem.link.contact
    who = "Neither" if len(links) == 2 else "None of them"
    device = contact.scope if contact is not None else problem.link.for_.device
    return Words(
        message=f"{', and '.join(around)}. {who} can go first, so {of} never starts.",
        help=f"Move {of} to the line side of {device}, where it has power before {device} closes.",
        source="common practice",
        also=(Note(f"{problem.link.for_.name} is here", problem.link.for_.span),),
    )


def _of_a_clock(problem: StopsItself) -> Words:
    device, screws = problem.device.name, listed(one.name for one in problem.screws)
    lines = listed(one.name for one in problem.lines)
    behind, then = "contacts", "those open, its clock stops, and they never close"
    if len(problem.screws) == 1:
        behind, then = "contact", "that opens, its clock stops, and it never closes"
    return Words(
        message=f"The feed of {device} is on {screws}, behind its own {behind}. Once {then} again.",
        help=f"Bring what comes from the panel to {lines}, and what goes on from there to {screws}.",
        source="common practice",
    )


def _words_of_one(problem: WaitsForItself, case: Case) -> Words:
    """A device that lives behind its own contact, or behind that of a control that senses it."""
    device, contact = problem.link.for_.device, problem.link.contact
    if contact is not None and contact.scope != device:
        return Words(
            message=f"{device} is fed through {contact.scope}, which closes only once {device} runs. So it "
            "never starts.",
            help=f"Bring {device} its feed past {contact.scope}, which belongs ahead of what should wait for "
            f"{device}.",
            source="common practice",
            also=(Note(f"{contact.scope} is here", case.circuit.devices[contact.scope].span),),
        )
    return Words(
        message=f"{device} gets its own power through its own contact, which closes only while {device} has "
        "power. So it never starts.",
        help=f"Bring the feed to the side of its contact that {device} lives on, and the load to the other.",
        source="common practice",
        also=(Note(f"{device} is here", problem.link.for_.span),),
    )


def _said(link: Waits) -> str:
    of, other = link.of.name, link.for_
    if link.contact is None:
        given = volts(other.secondary_volts) if isinstance(other, Winding) else "power"
        return f"{of} gets its {given} from {other.name}"
    if _is_behind(link):
        return f"{of} is fed through {other.name}"
    return f"{of} waits for {link.contact.scope}, which closes only once {other.name} runs"


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
