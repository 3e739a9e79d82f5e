"""A receptacle does not fit the rating of its circuit.

Its face tells which plugs go in, and so how much will be drawn: a 20 A
receptacle on a 15 A circuit invites a 20 A load, and a 15 A receptacle alone on
a 20 A circuit can be overloaded with no breaker to notice.

Source: NEC 210.18, 210.21(B)(1), 210.21(B)(3)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Outlet
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps
from wirecheck.tables.overcurrent import receptacle_ratings, several_outlets


class Receptacle(Problem):
    """An outlet of `rated` amperes on a circuit that it does not fit.

    `fitting` are the ratings that fit where there are several outlets.
    """

    guard: Guarded
    outlet: Outlet
    rated: float
    fitting: tuple[float, ...]


class SmallAlone(Receptacle):
    """It is alone on the circuit and rated below it."""


class Misfit(Receptacle):
    """It is one of several, and not of the ratings that fit the circuit."""


class NoSuchCircuit(Receptacle):
    """It is one of several, on a circuit of a rating that may not have several."""


class Starved(Receptacle):
    """It is made for one machine, a range or a dryer, that draws more than the circuit gives."""


def find(case: Case) -> Iterator[Receptacle]:
    """Each device with outlets against the rating of its circuit."""
    for guard in guarded(case):
        fitting = receptacle_ratings(guard.amps, code=case.code)
        for outlet in {outlet.device: outlet for outlet in guard.outlets}.values():
            if outlet.amps is None:
                continue
            kind = _kind(guard, outlet, outlet.amps, fitting)
            if kind is not None:
                yield kind(
                    at=spot(case.circuit.around[outlet.device][0]),
                    about=case.circuit.devices[outlet.device],
                    severity="fault" if kind is Starved else "violation",
                    stage="trim",
                    copper=frozenset(case.uses.piece[point] for point in (outlet.hot, outlet.neutral)),
                    guard=guard,
                    outlet=outlet,
                    rated=outlet.amps,
                    fitting=fitting,
                )


def _kind(
    guard: Guarded, outlet: Outlet, rated: float, fitting: tuple[float, ...]
) -> type[Receptacle] | None:
    """What is wrong with an outlet on its circuit; None where it fits."""
    if guard.faces == 1 and not guard.drawers:
        if rated < guard.amps:
            return SmallAlone
        return Starved if _for_one_machine(guard, outlet) and rated not in fitting else None
    if not fitting:
        return NoSuchCircuit
    return None if rated in fitting else Misfit


def _for_one_machine(guard: Guarded, outlet: Outlet) -> bool:
    """Whether an outlet is a range's or a dryer's: two voltages on one face."""
    return len({one.volts for one in guard.outlets if one.device == outlet.device}) > 1


def words(problem: Receptacle, case: Case) -> Words:
    """The rating on its face and the rating of its circuit."""
    guard, device = problem.guard, problem.outlet.device
    receptacle = f"{device} is a {amps(problem.rated)} receptacle"
    circuit = f"{guard.name}, a {amps(guard.amps)} circuit"
    remedy = (
        "Its slots decide which plugs go in, and so what will be drawn through it. Put in a receptacle that "
        "fits the circuit."
    )
    limit = guard.amps
    match problem:
        case SmallAlone():
            message = f"{receptacle}. Alone on {circuit}, it must be {amps(guard.amps)} or more."
            source = case.code.section("receptacle alone on its circuit")
        case Misfit(fitting=fitting):
            message = f"{receptacle}. On {circuit}, it must be {' or '.join(map(amps, fitting))}."
            source = case.code.section("several receptacles on a circuit")
            limit = max(fitting)
        case NoSuchCircuit():
            ratings = several_outlets(code=case.code)
            below = max((rating for rating in ratings if rating < guard.amps), default=None)
            message = (
                f"{device} is on {guard.name}. A circuit of {amps(guard.amps)} may have no receptacle beside "
                f"other outlets: those that may are of {listed(map(amps, ratings))}."
            )
            source = case.code.section("circuits of several outlets")
            remedy = f"Rewire it for {amps(min(ratings))}, the breaker and the wire."
            if below is not None:
                remedy = f"Put in a {amps(below)} breaker, and receptacles that fit it."
        case _:
            message = (
                f"{device} is an outlet of {amps(problem.rated)}, alone on {circuit}. What is made to "
                "plug in there trips it."
            )
            source = "common practice"
            remedy = (
                f"Rewire it for {amps(problem.rated)}, the breaker and the wire, or put in the outlet of the "
                "machine that this circuit is for."
            )
    return Words(
        message=message,
        help=remedy,
        source=source,
        value=problem.rated,
        limit=limit,
        unit="A",
        also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.protection.span),),
    )


RULE = rule(__name__, "trim", severities=("violation", "fault"), find=find, words=words)
