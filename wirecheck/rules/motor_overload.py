"""Nothing stops a motor that is overloaded, or what should is set for another motor.

A breaker guards the wires of a motor, and must let it start: it is far too large to see that the motor works
too hard, or runs on two of its three lines. The heaters of an overload relay do. They are chosen by
the current of the nameplate: up to 125 % of it for a service factor of 1.15 or more or a rise of 40 C or
less, up to 115 % for every other motor, and a little more only where the motor does not start on that.

Source: NEC 430.6(A)(2), 430.32(A)(1), 430.32(C), 430.37
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.judge.case import Case
from wirecheck.judge.currents import drawers
from wirecheck.judge.finding import Note
from wirecheck.judge.limit import over
from wirecheck.judge.made_up import join_at
from wirecheck.judge.overload import overload
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, percent
from wirecheck.model.board import Device

# A motor of no more than this may rely on the breaker ahead of it, in sight of its switch (430.32(D)).
SMALL_HP = 1.0


class OfMotor(Problem):
    """What is wrong with the overload protection of a motor."""

    motor: Load


class NoOverload(OfMotor):
    """None of its lines goes through a heater."""


class LineWithout(OfMotor):
    """Of its lines, those at these `ends` go through no heater of the `relay`."""

    relay: Device
    ends: tuple[str, ...]


class OfRelay(OfMotor):
    """The heaters of its `relay` trip at `trips` amperes, `share` of which its nameplate allows `most`."""

    relay: Device
    trips: float
    share: float


class TooHigh(OfRelay):
    """It lets the motor burn: it trips above what even a motor that starts hard may have, `last` amperes."""

    last: float


class OnlyToStart(OfRelay):
    """It trips above what the motor may have, unless it does not start on that: then `last` amperes."""

    last: float


class TooLow(OfRelay):
    """It trips on what the motor draws at full load."""


Kind = NoOverload | LineWithout | TooHigh | OnlyToStart | TooLow


def find(case: Case) -> Iterator[Kind]:
    """Each motor on three phases, and every motor that has heaters in its lines."""
    for load in case.circuit.loads:
        if load.kind != "motor" or "hermetic" in load.flags:
            continue
        heaters = {end: _heater(case, end) for end in load.ends if case.circuit.node[end]}
        there = [heater for heater in heaters.values() if heater is not None]
        device = case.circuit.around[load.device][0]
        if not there:
            if load.c is not None and (load.horsepower or 0.0) > SMALL_HP and _is_fed(case, load):
                yield NoOverload(
                    at=spot(device),
                    about=load,
                    severity="violation",
                    stage="trim",
                    copper=_copper(case, load),
                    motor=load,
                )
            continue
        relay = case.circuit.around[there[0].scope][0]
        bare = tuple(end for end, heater in heaters.items() if heater is None)
        if load.c is not None and bare and _is_fed(case, load):
            join = next((made for end in bare if (made := join_at(case, end)) is not None), None)
            yield LineWithout(
                at=spot(join or device),
                about=load,
                severity="violation",
                stage="trim",
                copper=_copper(case, load),
                motor=load,
                relay=relay,
                ends=bare,
            )
        if _alone(case, load, there):
            yield from _set(case, load, relay, min(heater.overload or 0.0 for heater in there))


def _set(case: Case, load: Load, relay: Device, trips: float) -> Iterator[TooHigh | OnlyToStart | TooLow]:
    """Its setting against the nameplate of the motor."""
    allowed = overload(load, code=case.code)
    if over(load.amps, trips):
        yield TooLow(
            at=spot(relay),
            about=load,
            severity="fault",
            stage="final",
            copper=_copper(case, load),
            motor=load,
            relay=relay,
            trips=trips,
            share=allowed.share,
        )
    elif over(trips, allowed.most):
        above = over(trips, allowed.last)
        problem = TooHigh if above else OnlyToStart
        yield problem(
            at=spot(relay),
            about=load,
            severity="violation" if above else "advice",
            stage="trim",
            copper=_copper(case, load),
            motor=load,
            relay=relay,
            trips=trips,
            share=allowed.share,
            last=allowed.last,
        )


def _heater(case: Case, end: str) -> Contact | None:
    """The heater of an overload relay that the line at an end of a motor goes through."""
    steps = case.routes.back(case.circuit.node[end])
    return next(
        (step.of for step in reversed(steps) if isinstance(step.of, Contact) and step.of.overload), None
    )


def _is_fed(case: Case, load: Load) -> bool:
    """Whether each of its lines comes from a leg."""
    origins = [case.routes.origins.get(case.circuit.node[end]) for end in load.ends]
    return all(origin is not None and origin.kind == "leg" for origin in origins)


def _alone(case: Case, load: Load, heaters: list[Contact]) -> bool:
    """Whether no other load is behind its heaters."""
    names = {heater.name for heater in heaters}
    return not any(
        one.of.name != load.name
        and any(
            step.name in names for end in (one.a, one.b) for step in case.routes.back(case.circuit.node[end])
        )
        for one in drawers(case)
    )


def _copper(case: Case, load: Load) -> frozenset[int]:
    return frozenset(case.uses.piece[end] for end in load.ends)


def words(problem: Kind, case: Case) -> Words:
    """What the motor draws, what its relay trips at, and what it may."""
    motor, code = problem.motor, case.code
    name = motor.name
    match problem:
        case NoOverload():
            return Words(
                message=f"Nothing stops {name} when it is overloaded: none of its lines goes through a "
                "heater of an overload relay, and its breaker is too large to see it.",
                help="Put an overload relay between its contactor and the motor, with a heater in each "
                "line, and its normally closed contact in series with the coil.",
                source=code.section("overload of a motor"),
            )
        case LineWithout(relay=relay, ends=ends):
            return Words(
                message=f"{listed(ends)} {'gets its' if len(ends) == 1 else 'get their'} power past the "
                f"heaters of {relay.name}: on three phases there is one in each line. What that line carries "
                "too much, nothing sees.",
                help=f"Bring {listed(ends)} through {relay.name} too.",
                source=code.section("overload unit in each line of three phases"),
                also=(Note(f"{relay.name} is here", relay.span),),
            )
    at, trips, most = problem.relay.name, problem.trips, motor.amps * problem.share
    also = (Note(f"{name} is here", motor.span),)
    nameplate = f"the nameplate of {name} says {amps(motor.amps)}"
    math = f"{amps(motor.amps)} x {problem.share:g} = {amps(most)}"
    why = f"{_because(motor)} {math}."
    match problem:
        case TooLow():
            return Words(
                message=f"{at} trips at {amps(trips, beside=motor.amps)}, and {nameplate}: it stops the "
                "motor as soon as that works at full load.",
                help=f"{why} Set it, or choose its heaters, for no less than {amps(motor.amps)} and no more "
                "than that.",
                source=code.section("overload current of a motor is its nameplate's", "overload of a motor"),
                value=trips,
                limit=motor.amps,
                unit="A",
                also=also,
            )
        case OnlyToStart(last=last):
            return Words(
                message=f"{at} trips at {amps(trips, beside=most)}, and {nameplate}: "
                f"{amps(most, beside=trips)} will do, and up to {amps(last)} only where the motor does not "
                "start on that.",
                help=f"{why} Try that first.",
                source=code.section("overload of a motor", "overload that lets its motor start"),
                value=trips,
                limit=most,
                unit="A",
                also=also,
            )
        case TooHigh():
            return Words(
                message=f"{at} trips at {amps(trips, beside=most)}, and {nameplate}: it may trip at "
                f"{amps(most, beside=trips)} at most, {percent(problem.share)}. The motor can burn before it "
                "does.",
                help=f"{why} Set it, or choose its heaters, for that.",
                source=code.section("overload current of a motor is its nameplate's", "overload of a motor"),
                value=trips,
                limit=most,
                unit="A",
                also=also,
            )


def _because(motor: Load) -> str:
    """What of its nameplate decides."""
    told = [f"a service factor of {motor.service_factor:g}"] if motor.service_factor is not None else []
    told += [f"a rise of {motor.rise:g} C"] if motor.rise is not None else []
    return f"It has {listed(told)}." if told else "Its nameplate says no service factor."


RULE = rule(__name__, "trim", "final", severities=("violation", "fault", "advice"), find=find, words=words)
