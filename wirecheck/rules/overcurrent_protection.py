"""A breaker or fuse is too large for the wire it protects, or too small for its load.

A breaker is there to open before the wire overheats. On a larger breaker
the wire can glow inside the wall while the breaker holds. Small wires have
a limit of their own, whatever the table of ampacities says: 15 A for 14 AWG
copper, 20 A for 12, 30 A for 10. Where an ampacity falls between two
standard ratings the next one up may serve, but not where cords are plugged
in at more than one receptacle. Motors and air-conditioning equipment start
hard and go by their nameplate instead, whether the wire would bear more or less. So in the rough-in a
breaker is not too large that would be right for such a one that stands there and is not joined yet.
Ahead of the breakers of several motors it may be what the largest of them may have, and the currents of
the rest. A short tap of a feeder, up to 25 ft, may be thinner where it ends in a breaker or fuses of its own,
and the neutral of a feeder where the breakers of its panel let no more come back on it. So may wires from a
machine to its control and back, for which its breaker need only stop a short.

Source: NEC 240.4(B), 240.4(D), 240.6(A), 240.21(B)(1), 240.21(B)(2), 210.20(A), 422.13, 625.41, 625.42,
430.22, 430.52(C)(1), 430.53(A), 430.62(A), 430.72(B), 440.22(A), 440.22(C), 440.4(B), 110.3(B),
724.43 and 724.45(C) (from memory)
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Sequence
from functools import partial

from wirecheck.circuit.routes import Zone, nameplate
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.drawing import draws
from wirecheck.judge.finding import Note, Stage
from wirecheck.judge.guard_words import begun, kind, opens
from wirecheck.judge.guards import (
    Allowed,
    Guarded,
    Plate,
    allowed,
    copper,
    fits,
    guarded,
    largest,
    may_wait,
    motor_of,
    plate,
    plates,
)
from wirecheck.judge.inside import loads_of
from wirecheck.judge.limit import over
from wirecheck.judge.motor_current import in_its_motor
from wirecheck.judge.motor_feeder import motor_feeders
from wirecheck.judge.motor_limit import MotorLimit
from wirecheck.judge.own_circuit import own_circuit
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.rule import rule
from wirecheck.judge.sealed import has_compressor
from wirecheck.judge.serving import CONTINUOUS, on_circuit
from wirecheck.judge.size_words import arithmetic, gauge, named_size
from wirecheck.judge.sizing import BY_MOTOR, Largest, carries, first_size, larger_sizes
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, feet, percent
from wirecheck.model.board import Conductor, Device
from wirecheck.tables.motors import motor_control_protection
from wirecheck.tables.overcurrent import (
    grounding_conductor,
    next_standard,
    previous_standard,
    standard_ratings,
)
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area

# What goes off from a motor's circuit: the motor does not set what protects that.
BESIDE_MOTOR = ("motor control", "tap")


class Protects(Problem):
    """What is wrong with a breaker or fuse."""

    guard: Guarded


class OverNameplate(Protects):
    """It is larger than the nameplate of what it serves allows."""

    plate: Plate


class TooLarge(Protects):
    """It is larger than runs behind it may have; `size` is the least that would do for the worst of them."""

    over: tuple[Allowed, ...]
    size: str | None

    @property
    def worst(self) -> Allowed:
        """The run that allows the least."""
        return min(self.over, key=lambda one: one.limit.amps)


class ThinTap(TooLarge):
    """What it is too large for are taps of its feeder, and they may be thin, but not so thin.

    `grounds` lie beside them and would be too thin beside taps of `size`.
    """

    grounds: tuple[Conductor, ...]


class ThinControl(TooLarge):
    """What it is too large for are wires from the one `machine` behind it to its control and back."""

    machine: Device


class TooLargeForMotor(Protects):
    """It is larger than the one motor, or the compressor, that it protects allows: `limit`, by `motor`."""

    limit: Largest
    motor: MotorLimit


class MoreThanItNeeds(Protects):
    """It is larger than a compressor may have that starts on less, and no larger than one that does not."""

    motor: MotorLimit


class BelowNameplate(Protects):
    """It is smaller than what the nameplate of the one equipment behind it asks of the wire."""

    equipment: Device
    least: float


class TooSmall(Protects):
    """It is below the `needed` amperes, where the `steady` of them that run for hours count more.

    `rating` is the least standard one that would do, and `wire` the thinnest conductor that is large
    enough for it, in place of the one that allows the least now.
    """

    needed: float
    steady: float
    state: Settled
    rating: float | None
    wire: Conductor | None


class NoStandard(Protects):
    """A breaker of a rating that is not among the standard ones."""


Kind = OverNameplate | TooLarge | TooLargeForMotor | MoreThanItNeeds | BelowNameplate | TooSmall | NoStandard


def find(case: Case) -> Iterator[Kind]:
    """Each breaker and fuse of a panel's circuits against its wire, its load, and the standard ratings."""
    told: set[tuple[type[Kind], str, float, str]] = set()
    for guard in guarded(case):
        for found in _of_one(case, guard):
            # The fuses of one disconnect are one choice.
            of = found.plate.equipment.name if isinstance(found, OverNameplate) else found.subject
            choice = (type(found), guard.holder.name, guard.amps, "" if of == guard.name else of)
            if choice not in told:
                told.add(choice)
                yield found


def _of_one(case: Case, guard: Guarded) -> Iterator[Kind]:
    for by_plate in plates(case, guard):
        if over(guard.amps, by_plate.most):
            yield OverNameplate(
                at=spot(guard.holder),
                about=guard.protection,
                severity="violation",
                stage="rough-in",
                copper=copper(case, guard),
                guard=guard,
                plate=by_plate,
            )
    alone = plate(case, guard)
    if alone is None:
        yield from _too_large(case, guard)
    else:
        yield from _below_plate(case, guard, alone.equipment)
        yield from _thin_controls(case, guard, alone.equipment)
    yield from _too_small(case, guard)
    ratings = standard_ratings(code=case.code)
    # Fuses of other ratings are made and permitted; of breakers they are rare.
    if not guard.fuse and guard.amps not in ratings and guard.amps >= ratings[0]:
        yield NoStandard(
            at=spot(guard.holder),
            about=guard.protection,
            severity="advice",
            stage="rough-in",
            copper=copper(case, guard),
            guard=guard,
        )


def _below_plate(case: Case, guard: Guarded, equipment: Device) -> Iterator[BelowNameplate]:
    least = nameplate(equipment, "mca")
    if least is not None and over(least, guard.amps):
        yield BelowNameplate(
            at=spot(guard.holder),
            about=guard.protection,
            severity="advice",
            stage="rough-in",
            copper=copper(case, guard),
            guard=guard,
            equipment=equipment,
            least=least,
        )


def _thin_controls(case: Case, guard: Guarded, machine: Device) -> Iterator[ThinControl]:
    """The wires from a machine to its control and back, tapped from its circuit: a motor's by 430.72(B).

    The same holds for what is no motor: three times its ampacity for 14 AWG and larger (724.45(C), from
    memory), and for thinner wire 7 A and 10 A (724.43, from memory).
    """
    moves = any(one.kind == "motor" for one in loads_of(case, machine))
    section = case.code.section("motor control circuits" if moves else "control circuits of what is no motor")
    loops = own_circuit(case).controls
    may = partial(motor_control_protection, code=case.code)
    thin = []
    for one in guard.conductors:
        most = may(one.size, one.material)
        if machine.name in loops.get(one.name, ()) and most is not None and over(guard.amps, most):
            with contextlib.suppress(NotInTable):
                limit = Largest(most, "motor control", section)
                thin.append(Allowed(limit, one, carries(case, one, guard.amps)))
    if not thin:
        return
    worst = min(thin, key=lambda one: one.limit.amps).conductor
    enough = (
        size
        for size in larger_sizes(worst.size, code=case.code)
        if (most := may(size, worst.material)) is not None and not over(guard.amps, most)
    )
    yield ThinControl(
        at=spot(case.board.runs[worst.run]),
        about=worst,
        severity="violation",
        stage="rough-in",
        copper=frozenset(case.uses.piece[end] for one in thin for end in one.conductor.ends),
        guard=guard,
        over=tuple(thin),
        size=next(enough, None),
        machine=machine,
    )


def _for_motor(
    case: Case, guard: Guarded, motor: MotorLimit, runs: Sequence[Allowed]
) -> Iterator[TooLargeForMotor | MoreThanItNeeds]:
    """What the motor says of it; of the runs behind it any would be judged by the motor alike."""
    limit = min((one.limit for one in runs), key=lambda limit: limit.amps)
    if over(guard.amps, limit.amps):
        yield TooLargeForMotor(
            at=spot(guard.holder),
            about=guard.protection,
            severity="violation",
            stage="rough-in",
            copper=copper(case, guard),
            guard=guard,
            limit=limit,
            motor=motor,
        )
    elif over(guard.amps, max(motor.first, motor.shared)):
        yield MoreThanItNeeds(
            at=spot(guard.holder),
            about=guard.protection,
            severity="advice",
            stage="rough-in",
            copper=copper(case, guard),
            guard=guard,
            motor=motor,
        )


def _too_large(case: Case, guard: Guarded) -> Iterator[TooLarge | TooLargeForMotor | MoreThanItNeeds]:
    runs = tuple(allowed(case, guard))
    motor = motor_of(case, guard)
    most = guard.amps
    power = tuple(one for one in runs if one.limit.by not in BESIDE_MOTOR)
    if motor is not None and power and all(one.limit.by in BY_MOTOR for one in power):
        yield from _for_motor(case, guard, motor, power)
        # What is tapped from it, as to control the motor, needs no less than it will be.
        runs = tuple(one for one in runs if one.limit.by in BESIDE_MOTOR)
        most = min(guard.amps, *(one.limit.amps for one in power))
    too_much = tuple(one for one in runs if over(most, one.limit.amps))
    # In the rough-in a motor that is not in yet may allow it; what is wrong with the motor too is told there.
    surely = tuple(one for one in too_much if not may_wait(case, guard, one.steps))
    stage: Stage = "rough-in" if surely else "trim"
    too_much = surely or too_much
    if too_much:
        limit, thin, carried = min(too_much, key=lambda one: one.limit.amps)
        taps = all(one.limit.by == "tap" for one in too_much)
        least = guard.amps * carried.result / limit.amps if taps else guard.amps
        size = first_size(
            case,
            thin,
            guard.amps,
            larger_sizes(thin.size, code=case.code),
            lambda steps: not over(least, steps.result) if taps else fits(case, guard, steps),
        )
        found = TooLarge(
            at=spot(guard.holder),
            about=guard.protection,
            severity="violation",
            stage=stage,
            copper=copper(case, guard),
            guard=guard,
            over=too_much,
            size=size,
        )
        yield _as_tap(case, found, thin) if taps else found


def _as_tap(case: Case, found: TooLarge, thin: Conductor) -> ThinTap:
    """It is the taps that are too thin, and no breaker that is too large."""
    table = grounding_conductor(found.guard.amps, code=case.code)
    least = min((area(size) for size in (table, found.size) if size is not None), default=0.0)
    return ThinTap(
        at=spot(case.board.runs[thin.run]),
        about=thin,
        severity=found.severity,
        stage=found.stage,
        copper=found.copper,
        guard=found.guard,
        over=found.over,
        size=found.size,
        grounds=tuple(
            one
            for one in case.board.conductors.values()
            if is_grounding(one)
            and (one.raceway, {*one.places}) == (thin.raceway, {*thin.places})
            and over(least, area(one.size))
        ),
    )


def _too_small(case: Case, guard: Guarded) -> Iterator[TooSmall]:
    """Below 125 % of its rated continuous load plus the rest, on any of its poles (210.20(A))."""
    poles = [load for zone in guard.zones if (load := _pole_load(case, zone)) is not None]
    if not poles:
        return
    needed, steady, state = max(poles, key=lambda pole: pole[0])
    if not over(needed, guard.amps):
        return
    rating = next_standard(needed, guard.fuse, code=case.code)
    yield TooSmall(
        at=spot(guard.holder),
        about=guard.protection,
        severity="violation",
        stage="rough-in",
        copper=copper(case, guard),
        guard=guard,
        needed=needed,
        steady=steady,
        state=state,
        rating=rating,
        wire=_wire_for(case, guard, rating) if rating is not None else None,
    )


def _pole_load(case: Case, zone: Zone) -> tuple[float, float, Settled] | None:
    """What a pole must carry where it carries most, how much of its load is continuous, and the state."""
    pole = zone.protection.pole(zone.pole)
    state = case.most.get(pole)
    if state is None:
        return None
    there = [load for load in zone.loads if draws(load, state.load_amps(load))]
    # Of a start winding that stays in, and of what feeds it, its motor's rating tells; what is wrong with how
    # they are wired is told by other rules, and makes no number right.
    drawing = [load for load in there if not in_its_motor(case.circuit, load, there)]
    steady = sum(load.amps for load in drawing if "continuous" in load.flags)
    # Loads of one circuit are near enough in phase for their currents to be added.
    needed = sum(load.amps for load in drawing)
    needed += case.code.limit("extra for continuous loads on a breaker") * steady
    needed += sum(abs(state.amps.get(winding.name, 0)) for winding in zone.windings)
    return (needed, steady, state) if steady else None


def _wire_for(case: Case, guard: Guarded, rating: float) -> Conductor | None:
    """The thinnest wire that a circuit of that rating may have, no thinner than what is there."""
    least = min(allowed(case, guard), key=lambda one: one.limit.amps, default=None)
    if least is None:
        return None
    here = least.conductor
    size = first_size(
        case,
        here,
        rating,
        (here.size, *larger_sizes(here.size, code=case.code)),
        lambda steps: not over(rating, largest(case, guard, steps).amps),
    )
    return here._replace(size=size) if size is not None else None


def words(problem: Kind, case: Case) -> Words:
    """The rating, what it may or must be, and the wire that goes with it."""
    match problem:
        case OverNameplate():
            return _words_of_plate(problem, case)
        case ThinTap():
            return _words_of_tap(problem, case)
        case ThinControl():
            return _words_of_control(problem)
        case TooLarge():
            return _words_of_large(problem, case)
        case TooLargeForMotor():
            return _words_of_motor(problem, case)
        case MoreThanItNeeds():
            return _words_of_start(problem, case)
        case BelowNameplate():
            return _words_below_plate(problem, case)
        case TooSmall():
            return _words_of_small(problem, case)
        case NoStandard(guard=guard):
            return _words_of_rating(guard, case)


def _words_of_rating(guard: Guarded, case: Case) -> Words:
    below = previous_standard(guard.amps, guard.fuse, code=case.code)
    above = next_standard(guard.amps, guard.fuse, code=case.code)
    near = " and ".join(amps(one) for one in (below, above) if one is not None)
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps)}, which is no standard rating. The code "
        "permits it, but such breakers are rare: read its handle again.",
        help=f"Standard ratings near it: {near}.",
        source=case.code.section("standard ratings"),
        value=guard.amps,
        unit="A",
    )


def _words_of_plate(problem: OverNameplate, case: Case) -> Words:
    guard, (around, most) = problem.guard, problem.plate
    what, does = kind(guard.protection), opens(guard.protection)
    sealed = ("nameplate sets the largest protection",) if has_compressor(case, around) else ()
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps)}, and the nameplate of "
        f"{around.name} allows {amps(most)} at most (its MOCP). With more, a fault inside it can burn before "
        f"the {what} {does}.",
        help=f"Put in a {what} of {amps(previous_standard(most, guard.fuse, code=case.code) or most)}.",
        source=case.code.section(*sealed, "equipment as its instructions say"),
        value=guard.amps,
        limit=most,
        unit="A",
        also=(Note(f"{around.name} is here", around.span),),
    )


def _words_of_large(problem: TooLarge, case: Case) -> Words:
    guard = problem.guard
    limit, conductor, steps = problem.worst
    what, does = kind(guard.protection), opens(guard.protection)
    smaller = previous_standard(limit.amps, guard.fuse, code=case.code)
    needs = f"needs a {amps(smaller)} {what}" if smaller else f"may have {amps(limit.amps)} at most"
    offers = [f"a {amps(smaller)} {what}"] if smaller else []
    if problem.size is not None:
        offers.append(f"{gauge(problem.size)} {conductor.material} all the way")
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps)}, and {conductor.run} is "
        f"{named_size(conductor)}: it {needs}. The wire can overheat before this {what} {does}.",
        help=f"{arithmetic(steps)} {_why(problem, case)}"
        + (f" Use {' or '.join(offers)}." if offers else ""),
        source=limit.source,
        value=guard.amps,
        limit=limit.amps,
        unit="A",
        also=tuple(
            Note(f"{one.conductor.run} may have {amps(one.limit.amps)}", one.conductor.span)
            for one in problem.over
        ),
    )


def _words_of_tap(problem: ThinTap, case: Case) -> Words:
    guard = problem.guard
    limit, wire, steps = problem.worst
    carried = limit.amps / steps.result
    least = guard.amps / carried
    short = case.code.limit("short tap of a feeder")
    remedy = ""
    if problem.size is not None:
        remedy = f" Use {gauge(problem.size)} {wire.material}"
        remedy += f", and {listed(one.name for one in problem.grounds)} with it" if problem.grounds else ""
        remedy += f", or bring what it ends in within {feet(short)}." if over(wire.length, short) else "."
    return Words(
        message=f"{wire.name} is tapped from the feeder of {guard.name}, which is {amps(guard.amps)}, and is "
        f"{feet(wire.length)} long. So it must carry {amps(least)} or more, and {named_size(wire)} carries "
        f"{amps(steps.result, beside=least)}.",
        help=f"{amps(guard.amps)} / {carried:.0f} = {amps(least)}.{remedy}",
        source=limit.source,
        value=steps.result,
        limit=least,
        unit="A",
        also=(
            *_other_runs(problem),
            Note(f"{guard.name} is {amps(guard.amps)}", guard.holder.span),
        ),
    )


def _words_of_control(problem: ThinControl) -> Words:
    guard, machine = problem.guard, problem.machine.name
    limit, wire, _ = problem.worst
    what = kind(guard.protection)
    offers = [f"a fuse of its own of {amps(limit.amps)} at most where it leaves {machine}"]
    if problem.size is not None:
        offers.insert(0, f"{gauge(problem.size)} {wire.material}")
    return Words(
        message=f"{wire.name}, from {machine} to its control and back, is {named_size(wire)}, and may be "
        f"behind {amps(limit.amps)}. {begun(guard.protection)} is {amps(guard.amps)}: the wire can overheat "
        f"before this {what} {opens(guard.protection)}.",
        help=f"Use {' or '.join(offers)}.",
        source=limit.source,
        value=guard.amps,
        limit=limit.amps,
        unit="A",
        also=_other_runs(problem),
    )


def _other_runs(problem: TooLarge) -> tuple[Note, ...]:
    """The wires that it is too large for besides the worst one, but for those of its cable."""
    wires = [one.conductor for one in problem.over if one.conductor.run != problem.worst.conductor.run]
    return tuple(Note(f"{wire.name} too", wire.span) for wire in wires)


def _words_of_motor(problem: TooLargeForMotor, case: Case) -> Words:
    guard, limit, motor = problem.guard, problem.limit, problem.motor
    what, does = kind(guard.protection), opens(guard.protection)
    fits = previous_standard(limit.amps, guard.fuse, code=case.code) or limit.amps
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps)}, and {motor.motor.name} behind it is a "
        f"motor of {amps(motor.amps)}: it may have {amps(limit.amps, beside=guard.amps)} at most. With "
        f"more, a fault in the motor can burn before the {what} {does}.",
        help=f"The motor sets this limit, and thicker wire does not raise it. Put in a {amps(fits)} {what}.",
        source=limit.source,
        value=guard.amps,
        limit=limit.amps,
        unit="A",
        also=(Note(f"{motor.motor.name} is here", motor.motor.span),),
    )


def _words_of_start(problem: MoreThanItNeeds, case: Case) -> Words:
    guard, motor = problem.guard, problem.motor
    what = kind(guard.protection)
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps)}. The compressor {motor.motor.name}, of "
        f"{amps(motor.motor.amps)}, may have {amps(motor.first, beside=guard.amps)}, and up to "
        f"{amps(motor.most, beside=guard.amps)} only where it does not start on that.",
        help=f"Try a {amps(motor.first)} {what} first.",
        source=motor.source,
        value=guard.amps,
        limit=motor.first,
        unit="A",
    )


def _words_below_plate(problem: BelowNameplate, case: Case) -> Words:
    guard = problem.guard
    what = kind(guard.protection)
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps)}, below the {amps(problem.least)} that the "
        f"nameplate of {problem.equipment.name} asks of the wire (its MCA). It may not hold when the "
        "equipment starts, or on a hot day.",
        help=f"Put in a {what} between that and what the nameplate allows at most (its MOCP).",
        source=case.code.section(
            "nameplate sets the conductors"
            if has_compressor(case, problem.equipment)
            else "equipment as its instructions say"
        ),
        value=guard.amps,
        limit=problem.least,
        unit="A",
        also=(Note(f"{problem.equipment.name} is here", problem.equipment.span),),
    )


def _why(problem: TooLarge, case: Case) -> str:
    limit, _, steps = problem.worst
    match limit.by:
        case "small conductor":
            return f"For this size the code sets {amps(limit.amps)}, whatever the table says."
        case "next size up":
            return f"The next standard rating up is {amps(limit.amps)}."
        case "tap":
            return f"As a tap that ends in a breaker or fuses of its own it may be behind {amps(limit.amps)}."
        case "motor feeder":
            feeder = motor_feeders(case)[problem.guard.name]
            first, others, motor = feeder.first, feeder.others, feeder.motor.name
            return (
                f"Ahead of motors it may be {amps(first)}, the most that {motor} may have by itself, and "
                f"{amps(others)} for the rest: {amps(first + others)}, and no standard rating above."
            )
        case "motor control":
            return f"In the control circuit of a motor this size may have {amps(limit.amps)}."
    if problem.guard.faces > 1 and steps.result not in standard_ratings(code=case.code):
        return "With several outlets for cords, the next standard rating up will not do."
    return f"No more than its ampacity is allowed: {amps(limit.amps)}."


def _words_of_small(problem: TooSmall, case: Case) -> Words:
    guard = problem.guard
    more = 1 + case.code.limit("extra for continuous loads on a breaker")
    remedy = "Put less on it."
    if problem.rating is not None and problem.wire is not None:
        remedy = (
            f"Put less on it, or rewire it for a {amps(problem.rating)} {kind(guard.protection)}: with "
            f"{named_size(problem.wire)} or larger all the way."
        )
    served = (one.part.serves for one in on_circuit(case, guard))
    asked = dict.fromkeys(CONTINUOUS[one] for one in served if one in CONTINUOUS)
    return Words(
        message=f"{begun(guard.protection)} is {amps(guard.amps)} and must be "
        f"{amps(problem.needed, beside=guard.amps)} or more{case.when(problem.state, guard.name)}: "
        f"{amps(problem.steady)} of its load runs for hours and counts {percent(more)}.",
        help=f"{amps(problem.steady)} x {more:g} = {amps(more * problem.steady)}. {remedy}",
        source=case.code.section("extra for continuous loads on a breaker", *asked),
        value=guard.amps,
        limit=problem.needed,
        unit="A",
    )


RULE = rule(__name__, "rough-in", "trim", severities=("violation", "advice"), find=find, words=words)
