"""A wire has to carry more current than it may.

A wire's ampacity is the current that brings its insulation to the
temperature it can stand without end. Above it the insulation grows brittle
and cracks, the screws at its ends loosen, and the wire can set fire to what
it lies on. Heat around it and other loaded wires beside it lower it.
A load that runs three hours or more, and the largest motor, count 125 %;
equipment with a nameplate counts its minimum circuit ampacity.

Source: NEC Table 310.16, 310.15(B)(1), 310.15(C)(1), 110.14(C), 334.80, 210.19(A)(1), 430.22, 440.4(B)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.demand import Demand, demands
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import fits, guards
from wirecheck.judge.limit import over
from wirecheck.judge.motor_current import table_amps
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.sealed import has_compressor
from wirecheck.judge.size_words import arithmetic, gauge, named_size
from wirecheck.judge.sizing import carries, first_size, larger_sizes
from wirecheck.judge.supply import LEAKS
from wirecheck.language.quantity import amps, percent
from wirecheck.model.board import Conductor, Run
from wirecheck.tables.ampacity import Ampacity, insulation
from wirecheck.tables.published import NotInTable


class Burden(NamedTuple):
    """A conductor, what it may carry, and what it must be able to."""

    conductor: Conductor
    steps: Ampacity
    demand: Demand

    @property
    def first(self) -> bool:
        """Whether what counts a quarter more fills it most, before heat and bunching take from it."""
        steps, demand = self.steps, self.demand
        return demand.amps * steps.result >= demand.lasting * steps.before

    @property
    def needs(self) -> float:
        """What it must be able to carry, by the test that it meets least well."""
        return self.demand.amps if self.first else self.demand.lasting

    @property
    def may(self) -> float:
        """What it may carry by that test."""
        return self.steps.before if self.first else self.steps.result

    @property
    def share(self) -> float:
        """What it must carry, in what it may."""
        return self.needs / self.may if self.may else float("inf")


class Overloaded(Problem):
    """The run of a circuit that must carry the most above what it may, and `others` of it with theirs.

    `size` is the least that would do in its place and that its breaker allows.
    """

    worst: Burden
    others: tuple[Burden, ...]
    size: str | None


class NotChecked(Problem):
    """A run of a size or a kind that the tables do not hold, and what they said of it."""

    run: Run
    reason: str


def find(case: Case) -> Iterator[Overloaded | NotChecked]:
    """Each wire of a circuit against its loads.

    What overloads the runs of one circuit is one mistake: the worst of them stands for it.
    """
    needs, protected = demands(case), guards(case)
    worst: dict[str, Burden] = {}
    unknown: dict[str, str] = {}
    for conductor in filter(purpose.is_power, case.board.conductors.values()):
        demand, guard = needs.get(conductor.name), protected.get(conductor.name)
        if demand is None and guard is None:
            continue
        try:
            steps = carries(case, conductor, guard.amps if guard is not None else 0.0)
        except NotInTable as error:
            unknown.setdefault(conductor.run, str(error))
            continue
        one = Burden(conductor, steps, demand) if demand is not None else None
        if one is None or not over(one.needs, one.may):
            continue
        if conductor.run not in worst or one.share > worst[conductor.run].share:
            worst[conductor.run] = one
    for name, reason in unknown.items():
        run = case.board.runs[name]
        yield NotChecked(
            at=spot(run),
            about=run,
            severity="advice",
            stage="rough-in",
            copper=_copper(case, *run.conductors),
            run=run,
            reason=reason,
        )
    circuits: dict[str, list[Burden]] = {}
    for name, one in worst.items():
        guard = protected.get(one.conductor.name)
        circuits.setdefault(guard.name if guard is not None else name, []).append(one)
    for there in circuits.values():
        yield _overloaded(case, sorted(there, key=lambda one: -one.share))


def _overloaded(case: Case, there: Sequence[Burden]) -> Overloaded:
    worst, *others = there
    conductor, steps, demand = worst
    run = case.board.runs[conductor.run]
    guard = guards(case).get(conductor.name)
    return Overloaded(
        at=spot(run),
        about=run,
        severity="hazard" if demand.flows > steps.result else "violation",
        stage="rough-in",
        copper=_copper(case, *(one.conductor for one in there)),
        worst=worst,
        others=tuple(others),
        size=first_size(
            case,
            conductor,
            guard.amps if guard is not None else 0.0,
            larger_sizes(conductor.size, code=case.code),
            lambda steps: _bears(steps, demand) and (guard is None or fits(case, guard, steps)),
        ),
    )


def _bears(steps: Ampacity, demand: Demand) -> bool:
    """Whether wire of an ampacity will do for a demand."""
    return not over(demand.amps, steps.before) and not over(demand.lasting, steps.result)


def _copper(case: Case, *conductors: Conductor) -> frozenset[int]:
    return frozenset(case.uses.piece[end] for conductor in conductors for end in conductor.ends)


def words(problem: Overloaded | NotChecked, case: Case) -> Words:
    """What it may carry and what it must, with the arithmetic of both."""
    match problem:
        case NotChecked():
            return Words(
                message=f"What {problem.run.name} may carry is not checked: {problem.reason}.",
                help="Look its ampacity up yourself, or write a size and a kind that the table lists.",
                source=case.code.section("ampacities"),
            )
    worst = problem.worst
    conductor, steps, demand = worst
    when = case.when(demand.state, conductor.name) if demand.state and not demand.plates else ""
    sources = [steps.source, insulation(conductor.insulation, code=case.code).cap_source]
    if demand.plates:
        sealed = any(has_compressor(case, plate.equipment) for plate in demand.plates)
        matter = ("nameplate sets the conductors",) if sealed else ()
        sources.append(case.code.section(*matter, "equipment as its instructions say"))
    if demand.continuous and worst.first:
        sources.append(case.code.section("extra for continuous loads on wire"))
    if demand.motor is not None:
        sources.append(case.code.section("extra for the largest motor"))
        if table_amps(demand.motor, code=case.code) is not None:
            sources.append(
                case.code.section("currents that size motor circuits", "full-load currents of motors")
            )
    do = f"Use {gauge(problem.size)} {conductor.material}." if problem.size else "Put less on this circuit."
    return Words(
        message=f"{conductor.name} is {named_size(conductor)}. It may carry "
        f"{amps(worst.may, beside=worst.needs)} here, and must be able to carry "
        f"{amps(worst.needs, beside=worst.may)}{when}.",
        help=f"{_demand(worst, case)} {arithmetic(steps)}{_before(worst)} {do}",
        source="; ".join(source for source in sources if source),
        value=worst.needs,
        limit=worst.may,
        unit="A",
        also=tuple(
            Note(
                f"{one.conductor.run} may carry {amps(one.may, beside=one.needs)}, and must "
                f"be able to carry {amps(one.needs, beside=one.may)}",
                one.conductor.span,
            )
            for one in problem.others
        ),
    )


def _before(burden: Burden) -> str:
    """Which ampacity it is held to, where heat and bunching take from it."""
    if not burden.first or burden.may == burden.steps.result:
        return ""
    return (
        f" What counts more, as it runs for hours, is held to the ampacity before that: {amps(burden.may)}."
    )


def _demand(burden: Burden, case: Case) -> str:
    """What makes it so much."""
    demand = burden.demand
    told = [
        f"{plate.equipment.name}'s nameplate asks for conductors of {amps(plate.amps)} (its minimum circuit "
        "ampacity)."
        for plate in demand.plates
    ]
    if demand.rated is None:
        told.append(f"It carries {amps(demand.flows)}.")
    elif demand.rated > LEAKS:
        told.append(f"{'Other loads' if demand.plates else 'Loads'} on it are rated {amps(demand.rated)}.")
    if demand.continuous and burden.first:
        more = 1 + case.code.limit("extra for continuous loads on wire")
        told.append(
            f"{amps(demand.continuous)} of that is continuous and counts {percent(more)}: "
            f"{amps(more * demand.continuous)}."
        )
    if demand.motor is not None:
        more = 1 + case.code.limit("extra for the largest motor")
        told.append(
            f"The largest motor, {demand.motor.name}, takes {amps(demand.motor_amps)} of that and counts "
            f"{percent(more)}: {amps(more * demand.motor_amps)}."
        )
    return " ".join(told)


RULE = rule(__name__, "rough-in", severities=("hazard", "violation", "advice"), find=find, words=words)
