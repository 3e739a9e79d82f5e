"""A grounding conductor is too thin for the breaker that must open through it.

When a hot touches metal, the grounding conductor carries the whole fault
current until the breaker opens. Too thin, it burns off first, and the metal
stays live. Where the circuit's wires are made larger than they need be, the
grounding conductor grows with them, by the same ratio of area. What has its size by the 60 C column,
as circuits up to 100 A may, is not larger than it need be.

Source: NEC 250.122(A), 250.122(B), Table 250.122, 110.14(C)(1)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge, named_size
from wirecheck.judge.sizing import first_size, may_have
from wirecheck.language.quantity import amps, rounded
from wirecheck.model.board import Conductor
from wirecheck.tables.overcurrent import grounding_conductor
from wirecheck.tables.sizes import area, trade_sizes


class Need(NamedTuple):
    """The least grounding conductor behind a breaker, `size`, and how it comes to that.

    `listed` is what the table asks for. Where the circuit's own `thinnest` wire is larger than the
    `least` that would do, it `grew` by the same ratio. Where the `largest` of the circuit's own is
    smaller than all that, it is `capped` at that.
    """

    guard: Guarded
    material: str
    size: str
    listed: str
    thinnest: Conductor
    least: str | None
    grew: float
    capped: bool


class TooThin(Problem):
    """The largest grounding conductor beside a circuit's wires is smaller than that circuit needs.

    `burns` is whether it is below what the table asks for, and not only below what grew with the hots;
    `as_made` whether it lies in a cable with them, which is made with that ground.
    """

    conductor: Conductor
    need: Need
    burns: bool
    as_made: bool


def find(case: Case) -> Iterator[TooThin]:
    """Each bunch of wires that has a ground among them, by the breaker that asks for the largest."""
    grounds = _bunches(case, filter(purpose.is_grounding, case.board.conductors.values()))
    needs: dict[object, Need] = {}
    for guard in guarded(case):
        # What may come to metal is a hot; beside the way back alone, nothing of this circuit does.
        hots = {conductor.name for zone in guard.zones for conductor in zone.hots}
        own = (conductor for conductor in guard.conductors if conductor.name in hots)
        for bunch, conductors in _bunches(case, own).items():
            if bunch in grounds:
                need = _need(case, guard, conductors, grounds[bunch][0].material)
                if need is not None and (bunch not in needs or area(need.size) > area(needs[bunch].size)):
                    needs[bunch] = need
    for bunch, need in needs.items():
        largest = max(grounds[bunch], key=lambda conductor: area(conductor.size))
        if over(area(need.size), area(largest.size)):
            burns = over(min(area(need.listed), area(need.size)), area(largest.size))
            as_made = case.board.runs[largest.run].jacketed
            yield TooThin(
                at=spot(case.board.runs[largest.run]),
                about=largest,
                severity="hazard" if burns else "advice" if as_made else "violation",
                stage="rough-in",
                copper=frozenset(case.uses.piece[end] for end in largest.ends),
                conductor=largest,
                need=need,
                burns=burns,
                as_made=as_made,
            )


def _bunches(case: Case, conductors: Iterable[Conductor]) -> dict[object, list[Conductor]]:
    """Conductors by what a ground shares with its circuit's wires: a cable, a raceway, or both places."""
    told: dict[object, list[Conductor]] = {}
    for conductor in conductors:
        jacketed = case.board.runs[conductor.run].jacketed
        bunch = conductor.run if jacketed else conductor.raceway or frozenset(conductor.places)
        told.setdefault(bunch, []).append(conductor)
    return told


def _need(case: Case, guard: Guarded, conductors: Sequence[Conductor], material: str) -> Need | None:
    """The least grounding conductor beside some wires of a circuit; None beyond the table."""
    listed = grounding_conductor(guard.amps, material, code=case.code)
    if listed is None:
        return None
    sizes = trade_sizes(code=case.code)
    thinnest = min(conductors, key=lambda conductor: area(conductor.size))
    # The size that the next standard rating up would allow may be smaller still; it is no measure of what
    # was made larger than need be. Nor is one of 75 C screws, to whom sizes by 60 C, as anybody may.
    fitting = (
        first_size(
            case,
            thinnest,
            guard.amps,
            sizes,
            lambda steps: may_have(steps, False, code=case.code).amps >= guard.amps,
            by_marks,
        )
        for by_marks in (True, False)
    )
    least = max((one for one in fitting if one is not None), key=area, default=None)
    size, grew = listed, 1.0
    if least is not None and over(area(thinnest.size), area(least)):
        ratio = area(thinnest.size) / area(least)
        size = next((one for one in sizes if not over(area(listed) * ratio, area(one))), sizes[-1])
        grew = ratio
    largest = max(conductors, key=lambda conductor: area(conductor.size))
    capped = area(largest.size) < area(size) and largest.material == material
    return Need(guard, material, largest.size if capped else size, listed, thinnest, least, grew, capped)


def words(problem: TooThin, case: Case) -> Words:
    """What it is and what it must be, and how the table and the circuit's own wires come to that."""
    need, guard = problem.need, problem.need.guard
    told = f"The table asks for {gauge(need.listed)} {need.material} behind {amps(guard.amps)}."
    section = "grounding conductors"
    if need.grew > 1 and need.least is not None:
        told += (
            f" {need.thinnest.name} is {gauge(need.thinnest.size)} where {gauge(need.least)} would do, "
            f"{rounded(need.grew)} times the area, so the grounding conductor grows by as much."
        )
        section = "grounding conductor grows with the circuit's own"
    if need.capped:
        told += f" It need not be larger than the circuit's own {gauge(need.size)}."
        section = "grounding conductor no larger than the circuit's own"
    must = f"must be {gauge(need.size)} or larger, or it can burn off before {guard.name} opens."
    remedy = f"Use {gauge(need.size)} {need.material}."
    if not problem.burns:
        must = f"must grow to {gauge(need.size)} as its hots did, so that {guard.name} opens as fast."
    if not problem.burns and problem.as_made:
        must += f" Cable of this size is made with a {gauge(problem.conductor.size)} ground."
        remedy = "Ask the inspector before the wall is closed, or run single wires in a raceway."
    return Words(
        message=f"{problem.conductor.name} is {named_size(problem.conductor)}. Behind {guard.name}, which is "
        f"{amps(guard.amps)}, the grounding conductor {must}",
        help=f"{told} {remedy}",
        source=case.code.section(section),
        also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.protection.span),),
    )


RULE = rule(__name__, "rough-in", severities=("hazard", "violation", "advice"), find=find, words=words)
