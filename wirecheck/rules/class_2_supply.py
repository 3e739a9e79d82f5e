"""A Class 2 circuit, as a thermostat's, is fed from a source that is not Class 2.

Class 2 wire is thin, lightly insulated and run like string, which is safe because its source cannot
deliver enough to start a fire: up to 30 V and 100 VA, and either limited by its own winding or fused
at 100 / V amperes. It is listed as such a source: a transformer for the control of motors is none, and
no fuse behind it makes it one. Everyone touches thermostats: line voltage on one of the screws of that
circuit, in any position and with any call, is on all of it.

Source: NEC 725.60(A), Chapter 9 Table 11(A), 725.136(A)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Protection, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.class_2 import AtLine, at_line, fed_from, meets_power, on_power, secondary_protection
from wirecheck.judge.finding import Note
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.ways import named
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, shown, volts
from wirecheck.model.board import Conductor, Run
from wirecheck.tables.transformers import class_2_limit

# How many more cables one message names.
MOST_NAMED = 5
# What a transformer serves that is listed for the control of motors (430.72(C)), and not as a Class 2 source.
MOTOR_CONTROL = "motor-control"


class OnPower(Problem):
    """Class 2 cable on a power circuit: one conductor of each cable behind a breaker or fuse."""

    protection: Protection
    conductors: tuple[Conductor, ...]


class LineVoltage(Problem):
    """Class 2 screws at line voltage: where it comes from, by which way, and in which state."""

    found: AtLine


class NotClass2(Problem):
    """A transformer that feeds the Class 2 cable `run` and is more than a Class 2 source may be.

    `limit` is what that may be at most: volts, volt-amperes or the amperes of a fuse.
    """

    winding: Winding
    run: Run
    limit: float


class NotListed(NotClass2):
    """It is made to feed the control of motors, and listed as no Class 2 source."""


class TooManyVolts(NotClass2):
    """It gives too many volts."""


class TooLarge(NotClass2):
    """It is rated for too much."""


class NotLimited(NotClass2):
    """It does not limit itself, and its fuse is too large, or it has none."""


def find(case: Case) -> Iterator[OnPower | LineVoltage | NotClass2]:
    """Each breaker and fuse with Class 2 cable on it, each place where line voltage comes to Class 2
    screws, and each transformer that feeds such cable."""
    for protection, conductors in on_power(case):
        run = case.board.runs[conductors[0].run]
        yield OnPower(
            at=spot(run),
            about=run,
            severity="hazard",
            stage="rough-in",
            copper=frozenset(case.uses.piece[one.ends[0]] for one in conductors),
            protection=protection,
            conductors=conductors,
        )
    for one in at_line(case):
        yield LineVoltage(
            at=spot(one.join),
            about=one.terminals[0],
            severity="hazard",
            stage="trim",
            copper=frozenset(case.uses.piece[terminal.name] for terminal in one.terminals),
            found=one,
        )
    for winding in case.circuit.windings:
        fed = fed_from(case, winding)
        more = _more_than_class_2(case, winding) if fed else None
        if more is not None:
            kind, limit = more
            run = case.board.runs[fed[0].conductor.run]
            yield kind(
                at=spot(run if kind is NotListed else winding),
                about=winding,
                severity="violation",
                stage="rough-in",
                winding=winding,
                run=run,
                limit=limit,
            )


def _more_than_class_2(case: Case, winding: Winding) -> tuple[type[NotClass2], float] | None:
    """The first that keeps a transformer from being a Class 2 source, and what that may be at most."""
    most_volts = case.code.limit("volts of a Class 2 source")
    if over(winding.open_volts, most_volts):
        return TooManyVolts, most_volts
    if case.circuit.devices[winding.device].part.serves == MOTOR_CONTROL:
        return NotListed, most_volts
    limits = class_2_limit(winding.open_volts, "inherently-limited" in winding.flags, code=case.code)
    if over(winding.capacity, limits.nameplate_va):
        return TooLarge, limits.nameplate_va
    if limits.overcurrent is not None:
        fuse = secondary_protection(case, winding)
        if fuse is None or over(fuse, limits.overcurrent):
            return NotLimited, limits.overcurrent
    return None


def words(problem: OnPower | LineVoltage | NotClass2, case: Case) -> Words:
    """What feeds the thin wire or its screws, what may feed them, and what to use."""
    if isinstance(problem, LineVoltage):
        return _words_of_line(problem, case)
    if isinstance(problem, OnPower):
        protection, first = problem.protection.name, problem.conductors[0]
        return Words(
            message=f"{first.name} is in {first.insulation} cable, which is made for Class 2 circuits, and "
            f"is on {protection}, a {amps(problem.protection.amps)} power circuit. Its wire is too thin for "
            "that, and its insulation too light.",
            help=f"Turn {protection} off and take {first.run} off it. A power circuit needs power cable, "
            "such as NM-B, of the size that the breaker needs.",
            stands=True,
            source=case.code.section("wiring methods by voltage", "uses of conductors", "Class 2 sources"),
            also=(
                Note(f"{protection} feeds it", problem.protection.span),
                *(
                    Note("here it meets the power", join.span)
                    for join in meets_power(case, problem.conductors[0])
                ),
                *(
                    Note(f"{other.name} is on it too", other.span)
                    for other in problem.conductors[1 : MOST_NAMED + 1]
                ),
            ),
        )
    if isinstance(problem, NotListed):
        name, cable = problem.winding.name, problem.run.name
        return Words(
            message=f"{cable} is Class 2 cable, and {name} feeds it. {name} is a transformer for the control "
            "of motors and no listed Class 2 source, whatever fuse is behind it.",
            help=f"Feed what {cable} goes to from a transformer that is marked Class 2. Or wire all that "
            f"{name} feeds as a power circuit, in power cable or in a raceway.",
            stands=True,
            source=case.code.section("Class 2 sources"),
            also=(Note(f"{name} feeds it", problem.winding.span),),
        )
    winding, limit, given = problem.winding, problem.limit, problem.winding.open_volts
    value: float | None
    if isinstance(problem, TooManyVolts):
        value, unit = given, "V"
        what = (
            f"gives {volts(given, beside=limit)} with no load, and a Class 2 source gives at most "
            f"{volts(limit)}"
        )
        remedy = "Use a 24 V transformer, or wiring that is made for that voltage."
    elif isinstance(problem, NotLimited):
        value, unit = secondary_protection(case, winding), "A"
        has = f"is fused at {amps(value, beside=limit)}" if value else "has no fuse"
        what = (
            f"does not limit its own current and {has}, and at the {volts(given)} that it gives with no load "
            f"it needs one of {amps(limit, beside=value)} or less"
        )
        remedy = f"Put a fuse of {amps(limit)} or less in the hot side of its secondary, at the transformer."
    else:
        value, unit = winding.capacity, "VA"
        what = (
            f"is rated {shown(winding.capacity, 'apparent-power', beside=limit)}, and a Class 2 source of "
            f"{volts(given)} at most {shown(limit, 'apparent-power')}"
        )
        remedy = (
            "Split the load between two Class 2 transformers and keep their secondaries apart, or wire it as "
            "a power circuit."
        )
    return Words(
        message=f"{winding.name} feeds the Class 2 cable {problem.run.name}. It {what}: a short could set "
        "thin wire on fire.",
        help=remedy,
        stands=True,
        source=case.code.section("Class 2 sources", "limits of Class 2 sources"),
        value=value,
        limit=limit,
        unit=unit,
        also=(Note(f"{problem.run.name} is Class 2 cable", problem.run.span),),
    )


def _words_of_line(problem: LineVoltage, case: Case) -> Words:
    terminals, leg, back, _, state = problem.found
    limit = case.code.limit("volts of a Class 2 source")
    given = abs(leg.volts)
    names = listed((terminal.name for terminal in terminals), MOST_NAMED)
    many = len(terminals) > 1
    return Words(
        message=f"{names} {'are' if many else 'is'} for {volts(limit)} at most, from a Class 2 source. "
        f"{volts(given)} of {leg.name} comes there{case.when(state)}: what people touch at the thermostat "
        "can be live.",
        help=f"Turn the power off. Take the line voltage off {'them' if many else 'it'}: it comes by "
        f"{named(back, case)}. Where a thermostat is to switch line voltage, put a relay between: its coil "
        "on the 24 V, its contact in the line.",
        source=case.code.section("Class 2 sources", "Class 2 wire apart from power"),
        value=given,
        limit=limit,
        unit="V",
    )


RULE = rule(__name__, "rough-in", "trim", severities=("hazard", "violation"), find=find, words=words)
