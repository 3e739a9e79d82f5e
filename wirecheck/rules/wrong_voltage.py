"""A load is fed a voltage that it is not made for.

A 240 V heater on 120 V gives a quarter of its heat, and a motor hums and
does not start. A 120 V lamp on 240 V is fed four times its power, and bursts.

Source: NEC 110.3(B), 110.4: equipment is used at the voltage it is made for
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import COILS, Load
from wirecheck.circuit.routes import equipment
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.drop import drops
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.supply import is_fed, too_much
from wirecheck.language.quantity import volts

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


class TooLittle(Fed):
    """Less than it works at, and its source gives no more: `nominal` volts."""

    nominal: float


def find(case: Case) -> Iterator[TooMuch | TooLittle]:
    """Each load but coils, which coil-voltage judges, in the states in which it has most and least.

    One feed is one mistake, whatever it feeds in a machine.
    """
    told: dict[tuple[str, frozenset[str]], TooMuch | TooLittle] = {}
    for load in case.circuit.loads:
        found = _fed(case, load) if load.kind not in COILS else None
        if found is not None:
            around = equipment(case.circuit, load.device)
            feed = (around.name if around is not None else load.name, _transformers(case, load))
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
    copper = frozenset(case.uses.piece[point] for point in (load.a, load.b))
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
    )


def _transformers(case: Case, load: Load) -> frozenset[str]:
    """The transformers that a load is fed from."""
    origins = (case.routes.origins.get(case.circuit.node[point]) for point in (load.a, load.b))
    return frozenset(origin.name for origin in origins if origin is not None and origin.kind == "winding")


def words(problem: TooMuch | TooLittle, case: Case) -> Words:
    """What it is made for and what it gets."""
    load, made_for = problem.load, volts(problem.load.volts)
    also = tuple(Note(f"{other.name} is fed it too", other.span) for other in problem.others)
    match problem:
        case TooLittle(nominal=nominal):
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
            )


RULE = rule(__name__, "final", find=find, words=words)
