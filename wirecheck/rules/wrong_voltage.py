"""A load or an outlet is fed a voltage that it is not made for, or loads in series share theirs.

A 240 V heater on 120 V gives a quarter of its heat, and a motor hums and
does not start. A 120 V lamp on 240 V is fed four times its power, and bursts.

Source: NEC 110.3(B), 110.4: equipment is used at the voltage it is made for
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import COILS, Load, Outlet
from wirecheck.circuit.routes import equipment
from wirecheck.circuit.series import in_series
from wirecheck.circuit.settle import Settled
from wirecheck.judge import ways
from wirecheck.judge.case import Case
from wirecheck.judge.drop import Drop, drops
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import LOOK_AGAIN, Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.supply import is_fed, too_much
from wirecheck.judge.targets import LIVE
from wirecheck.judge.unfed import DEAD_VOLTS, unfed
from wirecheck.judge.voltages import takes_two_hots
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import ExpectLive, Quantity
from wirecheck.model.board import Breaker, Conductor, Device, Join
from wirecheck.model.colors import NEUTRAL_COLORS
from wirecheck.model.runs import POWER_CABLES

# An outlet with more than this share of its volts burns what is plugged in (common practice).
OUTLET_TAKES = 1.15
# A supply is that of a nameplate within a tenth (common practice).
NEAR = 0.1
# A supply between one leg and the neutral stands at 120 V, and has not risen above this (common practice).
ONE_LEG = 130.0


class Fed(Problem):
    """A load that has `present` volts, and the others of its machine that are fed the same."""

    load: Load
    present: float
    others: tuple[Load, ...] = ()

    @property
    def loads(self) -> tuple[Load, ...]:
        """All loads that it is about."""
        return (self.load, *self.others)


class TooMuch(Fed):
    """More than it can take."""

    state: Settled


class OneLeg(NamedTuple):
    """A circuit of one leg and the neutral: its breaker, the white on the panel's neutral, and that joint.

    `alone` is whether nothing on it takes the neutral; `of_cable` whether the white is that of a cable, which
    may be marked as a hot.
    """

    breaker: Breaker
    white: Conductor
    join: Join
    alone: bool
    of_cable: bool


class TooLittle(Fed):
    """Less than it works at, and its source gives no more: `nominal` volts.

    `one_leg` is the circuit, where it takes two hots and has one.
    """

    nominal: float
    one_leg: OneLeg | None


class InSeries(Fed):
    """Loads in series: together they have the volts of one. `state` is where this one has the most."""

    state: Settled


class OutletVolts(Problem):
    """An outlet of `device` that has `present` volts in the state in which it has most."""

    device: Device
    outlet: Outlet
    present: float
    state: Settled


class OutletTooMuch(OutletVolts):
    """More than what is plugged in can take."""


class OutletTooLittle(OutletVolts):
    """Too little for what is plugged in to work."""


Kind = TooMuch | TooLittle | InSeries | OutletTooMuch | OutletTooLittle


def find(case: Case) -> Iterator[Kind]:
    """Each load but coils, which coil-voltage judges, in the states in which it has most and least.

    One feed is one mistake, whatever it feeds in a machine. Outlets that an `expect` line names are
    judged by that.
    """
    yield from _loads(case)
    yield from _in_series(case)
    yield from _outlets(case)


def _loads(case: Case) -> Iterator[TooMuch | TooLittle]:
    """Each load with more than it can take, or less than it works at from a source that gives no more."""
    told: dict[tuple[str, frozenset[str]], TooMuch | TooLittle] = {}
    for load in case.circuit.loads:
        found = _fed(case, load) if load.kind not in COILS else None
        if found is not None:
            around = equipment(case.circuit, load.device)
            feed = (around.name if around is not None else load.name, _transformers(case, load))
            if isinstance(found, TooLittle) and found.one_leg is not None:
                feed = (found.one_leg.breaker.name, frozenset())
            first = told.get(feed)
            told[feed] = found if first is None else first.but(others=(*first.others, load))
    yield from told.values()


def _fed(case: Case, load: Load) -> TooMuch | TooLittle | None:
    # A load on too many volts may open its breaker: what counts is what it has before that.
    before = (settled.first or settled for settled in (*case.states, case.heaviest))
    states = [state for state in before if is_fed(load, state)]
    if not states:
        return None
    most = max(states, key=lambda state: state.load_volts(load))
    copper = frozenset(case.uses.piece[point] for point in load.ends)
    if too_much(load, most.load_volts(load)):
        return TooMuch(
            at=spot(case.circuit.around[load.device][0]),
            about=load,
            severity="hazard",
            stage="final",
            copper=copper,
            load=load,
            present=most.load_volts(load),
            state=most,
        )
    drop = drops(case).get(load.name)
    if drop is None or drop.nominal >= load.works:
        # What the wire loses on the way is the matter of voltage-drop.
        return None
    if min(state.load_volts(load) for state in states) >= load.works:
        return None
    return TooLittle(
        at=spot(case.circuit.around[load.device][0]),
        about=load,
        severity="fault",
        stage="final",
        copper=copper,
        load=load,
        present=drop.present,
        nominal=drop.nominal,
        one_leg=_one_leg(case, drop) if takes_two_hots(load.volts) else None,
    )


def _one_leg(case: Case, drop: Drop) -> OneLeg | None:
    """The circuit of a load between one leg and the neutral, where the white is on the panel's neutral."""
    guard = drop.guard
    if guard is None or not isinstance(guard.holder, Breaker):
        return None
    made_for = [load.volts for zone in guard.zones for load in zone.loads]
    made_for += [outlet.volts for zone in guard.zones for outlet in zone.outlets]
    made_for += [winding.primary_volts for zone in guard.zones for winding in zone.windings]
    back = {fall.conductor.name: fall.conductor for fall in drop.falls if not fall.outward}
    terminals = case.board.terminals
    for join in case.board.joins:
        names = [member.name for member in join.members]
        bars = [terminals[name] for name in names if name in terminals]
        white = next((back[name] for name in names if name in back), None)
        here = join.place == guard.holder.panel and any(bar.spec.role == "neutral" for bar in bars)
        if white is not None and here:
            of_cable = white.color in NEUTRAL_COLORS and case.board.runs[white.run].kind in POWER_CABLES
            return OneLeg(guard.holder, white, join, all(map(takes_two_hots, made_for)), of_cable)
    return None


def _in_series(case: Case) -> Iterator[InSeries]:
    """Each set of loads in series that no position of the switches gives their volts."""
    told: set[str] = set()
    for one in unfed(case):
        load = one.wanted.of
        if not isinstance(load, Load) or load.kind in COILS or load.name in told or one.present <= DEAD_VOLTS:
            continue
        most = _most(case, load.a, load.b)
        others = tuple(case.circuit.load[name] for name in in_series(most, load.name))
        told |= {load.name, *(other.name for other in others)}
        if others:
            yield InSeries(
                at=spot(_between(case, load, others, most) or case.circuit.around[load.device][0]),
                about=load,
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[point] for point in load.ends),
                load=load,
                others=others,
                present=one.present,
                state=most,
            )


def _between(case: Case, load: Load, others: tuple[Load, ...], state: Settled) -> Join | None:
    """The first join on the way from a load to the next in series."""
    ends = {end for other in others for end in (other.a, other.b)}
    found = ways.way(case, (load.a, load.b), ends, ways.conducting(state))
    return found.joins[0] if found is not None and found.joins else None


def _outlets(case: Case) -> Iterator[OutletTooMuch | OutletTooLittle]:
    """Each face of outlets that has other volts than it is made for; of halves that are alike, the first."""
    expected = (one.outlet.text for one in case.board.expectations if isinstance(one, ExpectLive))
    told = {(one.hot, one.neutral) for name in expected for one in case.circuit.outlets_of(name)}
    for outlet in case.circuit.outlets:
        ends = (outlet.hot, outlet.neutral)
        if ends in told:
            continue
        told.add(ends)
        most = _most(case, *ends)
        present = most.across(*ends)
        high = present > OUTLET_TAKES * outlet.volts
        if high or DEAD_VOLTS < present < LIVE * outlet.volts:
            device = case.circuit.around[outlet.device][0]
            kind: type[OutletTooMuch | OutletTooLittle] = OutletTooMuch if high else OutletTooLittle
            yield kind(
                at=spot(device),
                about=outlet,
                severity="hazard" if high else "fault",
                stage="final",
                copper=frozenset(case.uses.piece[point] for point in ends),
                device=device,
                outlet=outlet,
                present=present,
                state=most,
            )


def _most(case: Case, a: str, b: str) -> Settled:
    """The state in which there are the most volts between two points, before anything opens."""
    return max((state.first or state for state in case.states), key=lambda state: state.across(a, b))


def _transformers(case: Case, load: Load) -> frozenset[str]:
    """The transformers that a load is fed from."""
    origins = (case.routes.origins.get(case.circuit.node[point]) for point in load.ends)
    return frozenset(origin.name for origin in origins if origin is not None and origin.kind == "winding")


def _at_the_panel(problem: TooLittle, circuit: OneLeg) -> str:
    """Where a load that takes two hots has one: the joint of the white is the place, and not the load."""
    breaker, white = circuit.breaker, circuit.white.name
    poles = "one pole" if len(breaker.poles) == 1 else f"{len(breaker.poles)} poles"
    there = (
        f"{LOOK_AGAIN} in {breaker.panel}: breaker {breaker.name} has {poles}, and {white} is on the neutral."
    )
    takes = f"{problem.load.name} takes both legs, from a 2-pole breaker"
    if not circuit.alone:
        return f"{there} {takes} of its own: something else here takes the neutral."
    if circuit.of_cable:
        return f"{there} {takes}, and {white} is then a hot, marked so at each end."
    return f"{there} {takes}, with a second hot in the place of {white}."


def _leads(problem: TooMuch, case: Case) -> str | None:
    """What to do about a motor whose leads can be joined for what it is fed; nothing for other loads."""
    load = problem.load
    machine = case.circuit.around[load.device][0]
    choice = machine.part.ratings.get("voltage") if load.kind == "motor" else None
    fits = [
        one.value
        for one in (choice.values if choice is not None else ())
        if isinstance(one, Quantity)
        and load.volts < one.value
        and abs(problem.present - one.value) < NEAR * one.value
    ]
    if not fits:
        return None
    own = min(fits, key=lambda one: abs(problem.present - one))
    return (
        f"{LOOK_AGAIN} at how the leads of {machine.name} are joined: its nameplate shows it for each "
        f"voltage. Here it takes {volts(own)}."
    )


def words(problem: Kind, case: Case) -> Words:
    """What it is made for and what it gets."""
    if isinstance(problem, OutletTooMuch | OutletTooLittle):
        return _words_of_outlet(problem, case)
    load, made_for = problem.load, volts(problem.load.volts)
    also = tuple(Note(f"{other.name} is fed it too", other.span) for other in problem.others)
    match problem:
        case TooLittle(nominal=nominal, one_leg=one_leg):
            legs = ": both legs, from a two-pole breaker" if nominal < ONE_LEG < load.volts else ""
            return Words(
                message=f"{load.name} is made for {made_for} and is fed {volts(nominal)}. It needs "
                f"{volts(load.works)} to work.",
                help=f"Feed it from a source of its own voltage{legs}.",
                source=case.code.section(
                    "equipment as its instructions say", "voltage that equipment is made for"
                ),
                value=problem.present,
                limit=load.works,
                unit="V",
                also=also,
                look=_at_the_panel(problem, one_leg) if one_leg is not None else None,
            )
        case InSeries(state=state, others=others):
            return Words(
                message=f"{load.name} gets only {volts(problem.present)}{case.when(state, load.name)}, and "
                f"is made for {made_for}: it is in series with {listed(one.name for one in others)}. The "
                "current goes through one after the other, and they share the voltage.",
                help="Give each load a path of its own: hot to its hot side, and the neutral (or the other "
                "hot) to its other side.",
                source="common practice",
                value=problem.present,
                limit=load.works,
                unit="V",
                also=tuple(Note(f"{one.name} is in series with it", one.span) for one in others),
            )
        case TooMuch(state=state):
            sections = case.code.section(
                "equipment as its instructions say", "voltage that equipment is made for"
            )
            return Words(
                message=f"{load.name} gets {volts(problem.present)}{case.when(state)} and is made for "
                f"{made_for}: it burns out, or worse.",
                help=f"Feed it from a source of {made_for}, or put in one that is made for what it is fed.",
                source=f"the part's own rating; {sections}",
                value=problem.present,
                limit=load.works_to,
                unit="V",
                also=also,
                look=_leads(problem, case),
            )


def _words_of_outlet(problem: OutletTooMuch | OutletTooLittle, case: Case) -> Words:
    outlet, made_for = problem.outlet, volts(problem.outlet.volts)
    if isinstance(problem, OutletTooMuch):
        effect = "It burns out what is plugged in"
        remedy = "Bring it one hot and the neutral, not two hots" if outlet.volts < ONE_LEG else ""
    else:
        effect = "What is plugged in does not work"
        remedy = "" if outlet.volts < ONE_LEG else "Bring it both legs, from a two-pole breaker"
    return Words(
        message=f"{outlet.name} is made for {made_for} and has {volts(problem.present)}"
        f"{case.when(problem.state, outlet.name)}. {effect}.",
        help=f"{remedy or f'Feed it from a source of {made_for}'}.",
        source=case.code.section("equipment as its instructions say", "voltage that equipment is made for"),
        value=problem.present,
        limit=outlet.volts,
        unit="V",
    )


RULE = rule(__name__, "final", severities=("hazard", "fault"), find=find, words=words, of_ties=True)
