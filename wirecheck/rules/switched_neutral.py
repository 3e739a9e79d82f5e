"""A switch opens the neutral in place of the hot.

The light goes out and everything in it stays live: whoever changes the lamp with the switch off
can touch the hot.

Source: NEC 404.2(A), 404.2(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.voltages import is_line
from wirecheck.judge.ways import pieces_reached
from wirecheck.language.listing import listed
from wirecheck.model.board import Device

# How many loads one message names.
MOST_NAMED = 4


class SwitchedNeutral(Problem):
    """`device` opens the neutral of `loads` with `contact`: it comes in at `near` and leaves at `far`."""

    device: Device
    contact: Contact
    near: str
    far: str
    loads: tuple[Load, ...]


def find(case: Case) -> Iterator[SwitchedNeutral]:
    """Each device with such a switch, at the join that brings the neutral to it."""
    seen: set[str] = set()
    for contact in case.circuit.contacts:
        switch = case.circuit.devices[contact.scope]
        if switch.outer in seen or not switch.part.positions:
            continue
        device = case.board.devices[switch.outer]
        for near, far in ((contact.a, contact.b), (contact.b, contact.a)):
            if (
                case.uses.of(near) == "neutral"
                and (loads := tuple(_behind(case, far)))
                and not _opens_the_hot_too(case, contact)
            ):
                seen.add(device.name)
                yield SwitchedNeutral(
                    at=spot(join_at(case, near) or device),
                    about=device,
                    severity="hazard",
                    stage="trim",
                    copper=frozenset((case.uses.piece[near], case.uses.piece[far])),
                    device=device,
                    contact=contact,
                    near=near,
                    far=far,
                    loads=loads,
                )


def _behind(case: Case, point: str) -> Iterator[Load]:
    """The loads at line voltage that have their neutral from a point, maybe through further switches."""
    uses = case.uses
    fed = [piece for piece, feeds in uses.direct.items() if feeds]
    behind = pieces_reached(case, [uses.piece[point]], stops=fed)
    for load in case.circuit.loads:
        if is_line(case, load.volts) and any(
            uses.piece[end] in behind
            and uses.of(end) == "switched-neutral"
            and uses.of(other) in ("hot", "switched")
            for end, other in ((load.a, load.b), (load.b, load.a))
        ):
            yield load


def _opens_the_hot_too(case: Case, contact: Contact) -> bool:
    """Whether the same device opens a hot whenever it opens this contact: 404.2(B) exception."""
    hots = [
        other.name
        for other in case.circuit.contacts
        if other.scope == contact.scope and "hot" in (case.uses.of(other.a), case.uses.of(other.b))
    ]
    if not hots:
        return False
    for position in case.circuit.devices[contact.scope].part.positions:
        closed = case.settled({contact.scope: position}).closed
        if contact.name not in closed and not closed.isdisjoint(hots):
            return False
    return True


def words(problem: SwitchedNeutral, case: Case) -> Words:
    """What the switch turns off and leaves live, and where the hot and the neutral belong."""
    names = list(dict.fromkeys(case.circuit.devices[load.device].outer for load in problem.loads))
    off = "they are out but still live" if len(names) > 1 else "it is out but still live"
    join = join_at(case, problem.far)
    return Words(
        message=f"{problem.device.name} opens the neutral of {listed(names, MOST_NAMED)}, not the hot. "
        f"With {problem.device.name} off, {off}.",
        help=f"Take the neutrals off {problem.device.name} and splice them together. Then bring the hot to "
        f"{problem.near}, and take it from {problem.far} to the load.",
        source=case.code.section("switches open the hot", "switch in the neutral"),
        also=(Note("what leaves the switch", join.span),) if join is not None else (),
    )


RULE = rule(__name__, "trim", find=find, words=words)
