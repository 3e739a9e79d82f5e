"""A motor on three phases gets two of its lines, or has two of them from one leg.

On two lines it hums and does not start, and draws most of its locked-rotor current until something opens or
burns. If a line is lost while it runs, it runs on: the two lines that are left must bring all of its power,
and carry 1.73 times as much or more. An overload relay that is set by the nameplate sees that, and stops it
after a while; a breaker does not.

Source: symmetrical components: standing still, two lines carry 0.87 of its locked-rotor current, and 1.15
where its third is on the leg of one of them; running, 1.73 times its current at the same power, as public
articles on single phasing have it too; an overload relay by NEC 430.32(A)(1) trips at 1.25 times at most
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.circuit.settle import Settled, starting, without
from wirecheck.judge import ways
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import Stop, Wanted, why_no_volts
from wirecheck.judge.finding import Note
from wirecheck.judge.machine_screw import machine_screw
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.stop_words import remedy, said
from wirecheck.judge.turning import motors
from wirecheck.language.quantity import amps, volts
from wirecheck.model.board import Join

# What gets less than this share of the volts of its best pair of lines has lost one (common practice: volts
# that are out of balance by a few percent already shorten a motor's life).
LOST = 0.75
# Below this share of the best pair two lines come from one leg.
ALIKE = 0.1


class LacksALine(Problem):
    """A motor that lacks a line in `state`, and draws `stalled` amperes as it does not start.

    `others` are in the same machine and lack the same one.
    """

    motor: Load
    state: Settled
    stalled: float
    others: tuple[Load, ...]

    @property
    def motors(self) -> frozenset[str]:
        """The names of all motors that it is about."""
        return frozenset(one.name for one in (self.motor, *self.others))


class OnTwoLines(LacksALine):
    """Nothing comes to its `end`; its other two lines are live. `why` is where the path to that end stops."""

    end: str
    why: Stop | None


class FromOneLeg(LacksALine):
    """Two of its `ends` are on one leg."""

    ends: tuple[str, str]


def find(case: Case) -> Iterator[OnTwoLines | FromOneLeg]:
    """Each motor in the state in which its lines differ the most; those of a machine are one mistake."""
    together: dict[object, OnTwoLines | FromOneLeg] = {}
    for found in _lacking(case):
        outer = case.circuit.around[found.motor.device][0].name
        lost = found.end if isinstance(found, OnTwoLines) else found.ends
        first = together.setdefault((outer, lost), found)
        if first is not found:
            together[outer, lost] = first.but(others=(*first.others, found.motor))
    yield from together.values()


def _lacking(case: Case) -> Iterator[OnTwoLines | FromOneLeg]:
    for load in motors(case.circuit):
        # A short is no state that lasts: what its contacts do to the lines is not looked at.
        states = [state for state in case.states if not state.opened]
        live = [state for state in states if max(state.pair_volts(load)) >= load.works]
        if not live:
            continue
        # Of states that are alike the first, which is that of a plain call.
        state = min(live, key=lambda one: round(min(one.pair_volts(load)) / max(one.pair_volts(load)), 3))
        pairs = state.pair_volts(load)
        least, most = min(pairs), max(pairs)
        if least >= LOST * most:
            continue
        stalled = starting(state, [load.name]).load_amps(load)
        if least < ALIKE * most:
            one, other = load.pairs[pairs.index(least)]
            join = (
                _together_at(case, (one, other), state)
                or join_at(case, machine_screw(case, other))
                or join_at(case, machine_screw(case, one))
            )
            yield FromOneLeg(
                at=spot(join or case.circuit.around[load.device][0]),
                about=load,
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[end] for end in load.ends),
                motor=load,
                ends=(machine_screw(case, one), machine_screw(case, other)),
                others=(),
                state=state,
                stalled=stalled,
            )
            continue
        # The best pair is live; what it does not hold is the end that lacks its line.
        best = load.pairs[pairs.index(most)]
        end = next(end for end in load.ends if end not in best)
        # Through its own windings it has some volts all the same.
        alone = without(state, load)
        why = why_no_volts(case, alone, Wanted(load, end, best[0], load.volts))
        yield OnTwoLines(
            at=why.at
            if why is not None and why.at is not None
            else spot(case.circuit.around[load.device][0]),
            about=load,
            severity="fault",
            stage="final",
            copper=frozenset(case.uses.piece[one] for one in load.ends),
            motor=load,
            end=machine_screw(case, end),
            others=(),
            state=state,
            stalled=stalled,
            why=why,
        )


def _together_at(case: Case, ends: tuple[str, str], state: Settled) -> Join | None:
    """The join that brings one leg to two ends of a motor: there their ways come together."""
    passes = ways.conducting(state)
    between = ways.way(case, ends[:1], ends[1:], passes)
    feed = ways.way(case, legs(case), between.points, passes) if between is not None else None
    if between is None or feed is None:
        return None
    meets = feed.points[-1]
    return next((one for one in between.joins if any(each.point == meets for each in one.members)), None)


def _overload(case: Case, motor: Load) -> str:
    """What the overload relay in its lines does then, as a sentence that follows on; nothing without one."""
    steps = (step for end in motor.ends for step in case.routes.back(case.circuit.node[end]))
    heaters = [step.of for step in steps if isinstance(step.of, Contact) and step.of.overload is not None]
    if not heaters:
        return ""
    relay = min(heaters, key=lambda one: one.overload or 0.0)
    trips = relay.overload or 0.0
    if trips < math.sqrt(3) * motor.amps:
        return f" {relay.scope} trips at {amps(trips)} and stops it in a while."
    return f" {relay.scope} trips at {amps(trips)} only, and lets it burn."


def words(problem: OnTwoLines | FromOneLeg, case: Case) -> Words:
    """What it gets, what it draws then, and where the line is lost."""
    motor = problem.motor
    also = tuple(Note(f"{one.name} lacks it too", one.span) for one in problem.others)
    when = case.when(problem.state, motor.name)
    effect = (
        f"It hums, does not start, and draws {amps(problem.stalled)}. If it loses the line as it runs, the "
        f"other two carry {amps(math.sqrt(3) * motor.amps)} or more: its nameplate says {amps(motor.amps)}."
        f"{_overload(case, motor)}"
    )
    source = "symmetrical components: 1.73 of its current running, and at rest "
    match problem:
        case FromOneLeg(ends=(one, other)):
            return Words(
                message=f"{one} and {other} are on one leg{when}: {motor.name} has two lines, and needs "
                f"three of {volts(motor.volts)}. {effect}",
                help="Bring each of its three lines from a leg of its own, as a three-pole breaker does.",
                source=source + "1.15 of its locked-rotor current",
                also=also,
            )
        case OnTwoLines(end=end, why=why):
            seen = f" {said(why, case)}" if why is not None else ""
            return Words(
                message=f"{motor.name} gets two of its three lines{when}: nothing comes to {end}. "
                f"{effect}{seen}",
                help=remedy(why) if why is not None else f"Follow the line of {end} back, screw by screw.",
                source=source + "0.87 of its locked-rotor current",
                also=also,
            )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)
