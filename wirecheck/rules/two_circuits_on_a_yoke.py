"""Two circuits end at one yoke, and one can be off while the other is on.

A yoke is the metal strap that one device, or several, are mounted on. Whoever turns off a breaker and
finds one side of a device dead takes the device for dead. The other side is live. So where two circuits
come to one yoke, one handle at the panel turns both off: a two-pole breaker, or two with a listed tie.

Source: NEC 210.7
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Protection
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.multiwire import open_together
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.question import question
from wirecheck.judge.rule import rule
from wirecheck.judge.source import bars
from wirecheck.judge.ways import pieces_reached
from wirecheck.model.board import Breaker, Device, Terminal

MOST_NOTED = 4


class Fed(NamedTuple):
    """A device, and the screws at which one breaker's hot and the other's come to it."""

    device: Device
    screws: tuple[Terminal, Terminal]


class TwoCircuits(Problem):
    """Two breakers that do not open together feed the same yokes, each at a screw of its own."""

    one: Breaker
    other: Breaker
    fed: tuple[Fed, ...]


def find(case: Case) -> Iterator[TwoCircuits]:
    """Each two breakers whose hots come to one yoke, at the second of them."""
    pairs: dict[tuple[str, str], list[Fed]] = {}
    for device in case.board.devices.values():
        screws = _hot_screws(case).get(device.name, ())
        if device.part.fills.get("yoke", 0) and len(_near(case, screws)) > 1:
            for (one, first), (other, second) in itertools.combinations(
                _fed(case, device, screws).items(), 2
            ):
                pairs.setdefault((one, other), []).append(Fed(device, (first, second)))
    for (one, other), fed in pairs.items():
        if not open_together(case, _protection(case, one), _protection(case, other)):
            yield TwoCircuits(
                at=spot(case.board.breakers[other]),
                about=fed[0].device,
                severity="violation",
                stage="trim",
                copper=frozenset(case.uses.piece[screw.name] for each in fed for screw in each.screws),
                one=case.board.breakers[one],
                other=case.board.breakers[other],
                fed=tuple(fed),
            )


@question
def _hot_screws(case: Case) -> dict[str, tuple[Terminal, ...]]:
    """The screws of each device that are there for a hot."""
    screws = case.board.terminals.values()
    return grouped((one.owner, one) for one in screws if one.spec.role not in ("neutral", "ground"))


def _near(case: Case, screws: Iterable[Terminal]) -> set[str]:
    """The breakers that come to some screws by any contacts."""
    return {name for screw in screws for name in _circuits(case).get(case.uses.piece[screw.name], ())}


@question
def _poles(case: Case) -> dict[int, str]:
    """The breaker of the pole that each piece of copper hangs on."""
    piece = case.uses.piece
    return {piece[point]: name for name, one in case.board.breakers.items() for point, _ in one.poles}


@question
def _earth(case: Case) -> frozenset[int]:
    """The pieces of the bars, where a circuit ends."""
    return frozenset(case.uses.piece[bar] for bar in bars(case, "neutral", "ground"))


@question
def _circuits(case: Case) -> dict[int, tuple[str, ...]]:
    """The breakers that come to each piece of copper, through any contacts."""
    return grouped(
        (piece, breaker)
        for pole, breaker in _poles(case).items()
        for piece in sorted(
            pieces_reached(case, [pole], lambda of: of.name not in case.board.breakers, _earth(case))
        )
    )


def _fed(case: Case, device: Device, screws: Iterable[Terminal]) -> dict[str, Terminal]:
    """The breakers that come to a device by contacts of others, each with the first screw it comes to."""

    def passes(of: Contact | Protection) -> bool:
        owner = of.scope if isinstance(of, Contact) else of.device
        return owner not in case.board.breakers and case.circuit.devices[owner].outer != device.name

    fed: dict[str, Terminal] = {}
    for screw in screws:
        for piece in sorted(pieces_reached(case, [case.uses.piece[screw.name]], passes, _earth(case))):
            if piece in _poles(case):
                fed.setdefault(_poles(case)[piece], screw)
    return fed


def _protection(case: Case, breaker: str) -> Protection:
    return next(one for one in case.circuit.protections if one.name == breaker)


def words(problem: TwoCircuits, case: Case) -> Words:
    """Which breakers come to the device, and the one handle for both."""
    one, other = problem.one.name, problem.other.name
    device, (first, second) = problem.fed[0]
    return Words(
        message=f"{one} comes to {device.name} at {first.name}, and {other} at {second.name}. Those two do "
        f"not open together. With {one} off, {device.name} seems dead, and {second.name} is still live.",
        help=f"Turn both off, and check every screw of {device.name} with a meter before you touch it. Put "
        "one two-pole breaker in place of the two, or join their handles with a listed tie (breaker "
        f"{other} ... tied to {one}). Or give each circuit a device on a yoke of its own.",
        source=case.code.section("circuits on one yoke open together"),
        also=(
            Note(f"{one} is the other", problem.one.span),
            *(
                Note(f"{each.device.name} is fed by both", each.device.span)
                for each in problem.fed[:MOST_NOTED]
            ),
        ),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)
