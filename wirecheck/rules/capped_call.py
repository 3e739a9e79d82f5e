"""A wire is on the screw of a call at one end and under a cap at the other, so the call goes nowhere.

Somebody brought the wire to that screw for the call, and the screw that waits for it has none: auxiliary heat
that never comes, a fan that no call starts. A spare has a cap at both ends, and is on no screw.

Source: common practice for 24 V controls: each call goes from the thermostat's terminal to its like
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wirecheck.judge import calls
from wirecheck.judge.calls_itself import calls_itself
from wirecheck.judge.case import Case
from wirecheck.judge.closed_by import closed_by
from wirecheck.judge.grouped import grouped
from wirecheck.judge.made_up import at_screw
from wirecheck.judge.problem import Problem, Spot, Words
from wirecheck.judge.question import question
from wirecheck.judge.rule import rule
from wirecheck.judge.screws_on import is_thermostats, screws_on
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Terminal

# What brings power, and no call.
FEEDS = ("power", "common")


class CappedCall(Problem):
    """`given` is the thermostat's screw of a call, and `waits` those of the equipment that never hear it.

    The wire on one of the two ends under a cap: `capped` is the conductor there, in `place`. What goes to the
    others comes to that place too as `beside`, a screw or a conductor; None where it does not.
    """

    given: Terminal
    waits: tuple[Terminal, ...]
    on: Terminal
    capped: Conductor
    place: str
    beside: Terminal | Conductor | None


class ToCallers(Problem):
    """The wire on `given` goes to `callers` alone, which give that call too; `waits` never hear it."""

    given: Terminal
    waits: tuple[Terminal, ...]
    callers: tuple[Terminal, ...]


def find(case: Case) -> Iterator[CappedCall | ToCallers]:
    """Each call of a thermostat whose wire, or that of what waits for it, comes to nothing that waits."""
    # What says that all of a screw's calls do as they should is believed.
    asked = {word.text for line in calls.asked(case) for word in line.calls}
    for given in case.board.terminals.values():
        device = case.board.devices.get(given.owner)
        if device is None or not device.part.calls or given.spec.carries in (None, *FEEDS):
            continue
        waits = _in_vain(case, given)
        made = [call for call in device.part.calls if _on(case, given, call)]
        if waits and not all(asked & {call, f"{device.name}.{call}"} for call in made):
            yield from _capped(case, given, waits)
            yield from _to_callers(case, given, waits)


def _on(case: Case, screw: Terminal, call: str) -> bool:
    """Whether a call closes a contact on a screw of its thermostat."""
    return any(screw.name in (one.a, one.b) for one in closed_by(case, case.board.devices[screw.owner], call))


def _in_vain(case: Case, given: Terminal) -> tuple[Terminal, ...]:
    """The screws of the equipment for a thermostat's call, where it reaches none of them.

    One that a thermostat calls, or that is on power, waits for nothing any more.
    """
    piece, there = case.uses.piece, screws_on(case)
    like = [one for one in case.board.terminals.values() if one.spec.carries == given.spec.carries]
    ours = [one for one in like if not is_thermostats(case, one) and not calls_itself(case, one)]
    if any(piece[one.name] == piece[given.name] for one in ours):
        return ()
    return tuple(
        one
        for one in ours
        if not any(
            is_thermostats(case, other) or other.spec.carries in FEEDS for other in there[piece[one.name]]
        )
    )


@question
def _under_caps(case: Case) -> Mapping[int, tuple[tuple[Conductor, int], ...]]:
    """The conductors' ends under caps on each piece of copper: each conductor, and which of its ends."""
    return grouped(
        (case.uses.piece[end], (conductor, which))
        for conductor in case.board.conductors.values()
        for which, end in enumerate(conductor.ends)
        if end in case.board.capped
    )


def _capped(case: Case, given: Terminal, waits: tuple[Terminal, ...]) -> Iterator[CappedCall]:
    """The first of the screws from which a wire goes to a cap and nowhere else."""
    piece = case.uses.piece
    for on in (given, *waits):
        if any(one.spec.carries != on.spec.carries for one in screws_on(case)[piece[on.name]]):
            continue
        for conductor, which in _under_caps(case).get(piece[on.name], ()):
            place = conductor.places[which]
            yield CappedCall(
                at=Spot(case.board.capped[conductor.ends[which]], conductor),
                about=on,
                severity="fault",
                stage="final",
                copper=frozenset(piece[one.name] for one in (given, *waits)),
                given=given,
                waits=waits,
                on=on,
                capped=conductor,
                place=place,
                beside=_beside(case, waits if on is given else (given,), place),
            )
            return


def _to_callers(case: Case, given: Terminal, waits: tuple[Terminal, ...]) -> Iterator[ToCallers]:
    """It, where all that its wire comes to sends the call to others, as what calls for heat in a defrost."""
    there = [one for one in screws_on(case)[case.uses.piece[given.name]] if not is_thermostats(case, one)]
    if there and all(one.spec.carries == given.spec.carries and calls_itself(case, one) for one in there):
        yield ToCallers(
            at=at_screw(case, there[0]),
            about=given,
            severity="fault",
            stage="final",
            copper=frozenset(case.uses.piece[one.name] for one in (given, *waits)),
            given=given,
            waits=waits,
            callers=tuple(there),
        )


def _beside(case: Case, screws: tuple[Terminal, ...], place: str) -> Terminal | Conductor | None:
    """What goes to one of the screws and is in a place: the screw itself, or the end of a wire."""
    here = next((one for one in screws if one.place == place), None)
    if here is not None:
        return here
    pieces = {case.uses.piece[one.name] for one in screws}
    return next(
        (
            one
            for one in case.board.conductors.values()
            for end, there in zip(one.ends, one.places, strict=True)
            if there == place and case.uses.piece[end] in pieces
        ),
        None,
    )


def words(problem: CappedCall | ToCallers, case: Case) -> Words:
    """Where the wire ends, what waits for the call, and what to join."""
    given = problem.given.name
    waits = listed(one.name for one in problem.waits)
    wait, hear = ("wait", "hear") if len(problem.waits) > 1 else ("waits", "hears")
    if isinstance(problem, ToCallers):
        callers = listed(one.name for one in problem.callers)
        gives = "give" if len(problem.callers) > 1 else "gives"
        return Words(
            message=f"The wire on {given} comes to {callers} alone, which {gives} that call too. {waits} "
            f"{wait} for it and never {hear} it.",
            help=f"Join the wire of {given} and {callers} with {waits}.",
            source="common practice",
        )
    on, wire = problem.on.name, problem.capped.name
    goal = problem.beside.name if problem.beside is not None else given if on != given else waits
    ways = {Terminal: "put it on", Conductor: "join it with"}
    way = f"{ways.get(type(problem.beside), 'bring it on to')} {goal}"
    return Words(
        message=f"The wire on {on} ends at {problem.place} under a cap, as {wire}. {given} gives that call, "
        f"and {waits} {wait} for it and never {hear} it.",
        help=f"At {problem.place}, take the cap off {wire} and {way}. Where nothing should come of that "
        f"call, take the wire off {on} and cap it there too.",
        source="common practice",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words)
