"""The hot is on the side of a device where the neutral belongs.

A lamp's screw shell is then live, and a hand that changes the bulb can touch it. An appliance's
own switch opens the neutral and leaves its inside live.

Source: NEC 200.10, 200.11
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from wirecheck.circuit.settle import Settled
from wirecheck.judge import purpose, ways
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.made_up import at_screw
from wirecheck.judge.old_work import three_wire
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.reversals import Reversal, reversals
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Span
from wirecheck.model.board import Device, Join, Terminal

# How many devices one message names.
MOST_NAMED = 5


class Reversed(Problem):
    """`reversals` are the devices whose hot goes over to the neutral's side in one `join`.

    `copper` is what the hot lies on from there on; `wires` are the conductors on the way of the
    neutral, from the hot screws to where that goes over, by name.
    """

    reversals: tuple[Reversal, ...]
    join: Join
    wires: frozenset[str]


class SometimesHot(Problem):
    """A neutral screw of `device` that `switches` tie to a hot in `state`, and to the neutral in another."""

    device: Device
    screw: Terminal
    switches: tuple[str, ...]
    state: Settled


def find(case: Case) -> Iterator[Reversed | SometimesHot]:
    """Each line where a hot goes over, with every device beyond it; each screw that is hot in some state."""
    yield from _reversed(case)
    yield from _sometimes_hot(case)


def _sometimes_hot(case: Case) -> Iterator[SometimesHot]:
    """The neutral screws that switches tie to either, the first of each device."""
    told: set[str] = set()
    for screw in case.board.terminals.values():
        device = case.board.devices.get(screw.owner)
        if (
            device is None
            or device.name in told
            or screw.spec.role != "neutral"
            or case.uses.of(screw.name) != "either"
        ):
            continue
        state = next((one for one in case.states if _is_hot(case, one.first or one, screw.name)), None)
        if state is not None:
            told.add(device.name)
            hot = ways.way(case, [screw.name], legs(case), ways.conducting(state.first or state))
            switches = dict.fromkeys(contact.scope for contact in hot.contacts) if hot is not None else {}
            yield SometimesHot(
                at=at_screw(case, screw),
                about=device,
                severity="hazard",
                stage="trim",
                copper=frozenset((case.uses.piece[screw.name],)),
                device=device,
                screw=screw,
                switches=tuple(switches),
                state=state,
            )


def _is_hot(case: Case, state: Settled, point: str) -> bool:
    """Whether copper and closed contacts tie a point to a leg in a state."""
    return ways.way(case, [point], legs(case), ways.conducting(state)) is not None


def _reversed(case: Case) -> Iterator[Reversed]:
    """Each line where a hot goes over, with every device beyond it."""
    together: dict[Span, list[Reversal]] = {}
    for one in reversals(case):
        together.setdefault(one.hot.join.span, []).append(one)
    for found in together.values():
        first = found[0]
        yield Reversed(
            at=spot(first.hot.join),
            about=first.device,
            severity="hazard",
            stage="trim",
            copper=frozenset(case.uses.piece[point] for one in found for point in one.hot.before),
            reversals=tuple(found),
            join=first.hot.join,
            wires=frozenset(
                case.circuit.point[point].owner
                for one in found
                if one.neutral is not None
                for point in one.neutral.before
            ),
        )


def words(problem: Reversed | SometimesHot, case: Case) -> Words:
    """Which screw is live, whom that can hurt, and which two wires are swapped."""
    if isinstance(problem, SometimesHot):
        return _words_of_sometimes(problem, case)
    first = problem.reversals[0]
    screw, place = first.screw, problem.join.place
    silver = f", its {screw.spec.screw} screw," if screw.spec.screw else ""
    live = "live" if case.uses.of(screw.name) == "hot" else "live with its switch on"
    names = listed((one.device.name for one in problem.reversals), MOST_NAMED)
    message = f"The hot is on the neutral side of {names}"
    if all(member.name != screw.name for member in problem.join.members):
        message = f"In {place} the hot goes over to the neutral's wire, and so to the neutral side of {names}"
    back = first.neutral.join if first.neutral is not None else problem.join
    return Words(
        message=f"{message}: {screw.name}{silver} is {live}. "
        f"{_danger([one.device.name for one in problem.reversals], case)}",
        help=_remedy(first, case),
        source=case.code.section(
            "terminal of the neutral is known by its color", "hot and neutral are not swapped"
        ),
        also=(
            *(
                [Note("here the neutral goes over to the hot's side", back.span)]
                if back != problem.join
                else []
            ),
            *(
                Note(f"{one.device.name} is reversed", one.device.span)
                for one in problem.reversals[1:MOST_NAMED]
            ),
        ),
    )


def _words_of_sometimes(problem: SometimesHot, case: Case) -> Words:
    screw, switches = problem.screw, listed(problem.switches)
    return Words(
        message=f"{screw.name} is on the hot{case.when(problem.state, screw.name)}. {switches} "
        f"{'switches' if len(problem.switches) == 1 else 'switch'} the neutral side of "
        f"{problem.device.name} between hot and neutral. {_danger((problem.device.name,), case)}",
        help=f"Bring the neutral to {screw.name} with no switch between. Let the switches pass on the hot "
        "alone, over two travelers, to the other side.",
        source=case.code.section(
            "switches open the hot", "switch in the neutral", "terminal of the neutral is known by its color"
        ),
    )


def _danger(devices: Collection[str], case: Case) -> str:
    framed = [device.name for device in three_wire(case) if device.name in devices]
    if framed:
        return (
            "An outlet of three wires ties that screw to the frame of what is plugged in: the metal of what "
            f"is plugged into {listed(framed)} is live at once."
        )
    lamps = dict.fromkeys(
        outer
        for load in case.circuit.loads
        if load.kind == "lamp" and (outer := case.circuit.devices[load.device].outer) in devices
    )
    if lamps:
        return f"A hand that changes the bulb can touch the screw shell of {listed(lamps)}."
    return "What is turned off at its own switch there stays live inside."


def _remedy(first: Reversal, case: Case) -> str:
    """The two wires to swap, where that puts both joins right; else what to take away."""
    place, inner = first.hot.join.place, case.circuit.point[first.hot.inner]
    swap = _swap(first, case)
    if swap is not None:
        one, to, other, back = swap
        return f"In {place}, swap the wires: {one} belongs with {to}, and {other} with {back}."
    if inner.kind == "end":
        return f"In {place}, take {inner.owner} off the hot, and bring the neutral to it."
    return f"Take the hot off {inner.name}, and bring the neutral to it."


def _swap(first: Reversal, case: Case) -> tuple[str, ...] | None:
    """A wire and what it belongs with, and again: two that only have to change places."""
    hot, neutral = first.hot, first.neutral
    if neutral is None or neutral.join.place != hot.join.place:
        return None
    point = case.circuit.point
    for (wire, with_it, other, with_other), stay, belong in (
        # The wires that come from the source, or those that go on to the screws.
        ((neutral.outer, hot.inner, hot.outer, neutral.inner), "neutral", "hot"),
        ((hot.inner, neutral.outer, neutral.inner, hot.outer), "hot", "neutral"),
    ):
        if (
            point[wire].kind == point[other].kind == "end"
            and _others(hot.join, (wire, other), case) <= {stay}
            and _others(neutral.join, (wire, other), case) <= {belong}
        ):
            names = (point[one] for one in (wire, with_it, other, with_other))
            return tuple(one.owner if one.kind == "end" else one.name for one in names)
    return None


def _others(join: Join, moved: tuple[str, ...], case: Case) -> set[Purpose | None]:
    """What the members of a join that are not moved are for."""
    others = (member for member in join.members if member.point and member.point not in moved)
    return {purpose.of_member(member, case.board) for member in others}


RULE = rule(__name__, "trim", severities=("hazard",), find=find, words=words)
