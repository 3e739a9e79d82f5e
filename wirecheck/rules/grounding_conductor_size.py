"""A grounding conductor is too thin for the breaker that must open through it.

When a hot touches metal, the grounding conductor carries the whole fault
current until the breaker opens. Too thin, it burns off first, and the metal
stays live. Where the circuit's wires are made larger than they need be, the
grounding conductor grows with them, by the same ratio of area. What has its size by the 60 C column,
as circuits up to 100 A may, is not larger than it need be. A jumper within a box that goes to one device
alone has to do for what feeds that. One that grounds the side of a transformer carries what the transformer
gives, and nothing of its supply.

Source: NEC 250.122(A), 250.122(B), Table 250.122, 250.30(A)(1), 110.14(C)(1)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from wirecheck.circuit.circuit import Winding
from wirecheck.judge import made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge, named_size
from wirecheck.judge.sizing import first_size, may_have
from wirecheck.language.quantity import amps, rounded
from wirecheck.model.board import Conductor, Join, Terminal
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


class ThinBond(Problem):
    """What grounds a side of a transformer is smaller than `size`, which its other wires ask for."""

    conductor: Conductor
    winding: Winding
    size: str


def find(case: Case) -> Iterator[TooThin | ThinBond]:
    """Each bunch of wires that has a ground among them, by the breaker that asks for the largest."""
    grounding = [one for one in case.board.conductors.values() if purpose.is_grounding(one)]
    bonds = {one.name: winding for one in grounding if (winding := _bonded(case, one)) is not None}
    for name, winding in bonds.items():
        yield from _thin_bond(case, case.board.conductors[name], winding)
    grounds = grouped((_shares(case, one), one) for one in grounding if one.name not in bonds)
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


def _bunches(case: Case, conductors: Iterable[Conductor]) -> Mapping[object, Sequence[Conductor]]:
    """Conductors by what a ground may share with them: a cable, a raceway, both places, a device."""
    return grouped(
        (key, one)
        for conductor in conductors
        for key, one in ((_together(case, conductor), conductor), *_on_devices(case, conductor).items())
    )


def _together(case: Case, conductor: Conductor) -> object:
    """What a conductor lies with others in: its cable or raceway, or the two places that it goes between."""
    jacketed = case.board.runs[conductor.run].jacketed
    return conductor.run if jacketed else conductor.raceway or frozenset(conductor.places)


def _on_devices(case: Case, conductor: Conductor) -> Mapping[tuple[str, str], Conductor]:
    """By each device that it is joined to, by a screw or by a lead, a conductor as large as it gets there.

    A pigtail that leads to a screw may be smaller than what it comes off, and brings no more than it holds.
    """
    there: dict[tuple[str, str], Conductor] = {}
    for join in _joins(case, conductor):
        for screw in _screws(case, join):
            tails = [one.size for one in join.under.get(screw.name, ()) if one.size is not None]
            size = min((conductor.size, *tails), key=area)
            key = "device", screw.owner
            if key not in there or area(there[key].size) < area(size):
                there[key] = conductor._replace(size=size)
    return there


def _joins(case: Case, conductor: Conductor) -> Iterator[Join]:
    """What the ends of a conductor are joined in."""
    return (join for end in conductor.ends for join, _ in made_up.joins(case).get(end, ()))


def _screws(case: Case, join: Join) -> list[Terminal]:
    return [case.board.terminals[one.name] for one in join.members if one.kind == "terminal"]


def _shares(case: Case, ground: Conductor) -> object:
    """What a ground lies with its circuit's wires in; of a jumper to one device alone, that device."""
    if ground.places[0] == ground.places[1]:
        for join in _joins(case, ground):
            there = [other for screw in _screws(case, join) for other, _ in made_up.joins(case)[screw.name]]
            owners = {screw.owner for other in there for screw in _screws(case, other)}
            if len(owners) == 1 and owners <= case.board.devices.keys() and _ends_here(case, ground, there):
                return "device", owners.pop()
    return _together(case, ground)


def _ends_here(case: Case, ground: Conductor, joins: Iterable[Join]) -> bool:
    """Whether no other ground goes on from where a jumper ends, but what bonds a transformer."""
    members = [one for join in joins for one in join.members if one.point not in ground.ends]
    ends = [case.board.conductors[one.name] for one in members if one.kind == "end"]
    return all(one.kind != "pigtail" for one in members) and not any(
        purpose.is_grounding(one) and _bonded(case, one) is None for one in ends
    )


def _bonded(case: Case, ground: Conductor) -> Winding | None:
    """The transformer that a side of is grounded by a wire, at the end where no other ground is with it."""
    sides = {end: winding for winding in case.circuit.windings for end in winding.secondary}
    for join in _joins(case, ground):
        others = [one for one in join.members if one.point not in ground.ends]
        side = next((sides[one.name] for one in others if one.name in sides), None)
        if side is not None and all(purpose.of_member(one, case.board) != "ground" for one in others):
            return side
    return None


def _thin_bond(case: Case, ground: Conductor, winding: Winding) -> Iterator[ThinBond]:
    """A wire that grounds a transformer, where it is smaller than what the transformer feeds by."""
    joins = made_up.joins(case)
    members = (one for end in winding.secondary for join, _ in joins.get(end, ()) for one in join.members)
    fed = [case.board.conductors[one.name] for one in members if one.kind == "end"]
    sizes = [one.size for one in fed if one.name != ground.name and not purpose.is_grounding(one)]
    least = "14" if ground.material == "copper" else "12"
    size = max((least, *sizes), key=area)
    if over(area(size), area(ground.size)):
        yield ThinBond(
            at=spot(case.board.runs[ground.run]),
            about=ground,
            severity="violation",
            stage="rough-in",
            copper=frozenset(case.uses.piece[end] for end in ground.ends),
            conductor=ground,
            winding=winding,
            size=size,
        )


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


def words(problem: TooThin | ThinBond, case: Case) -> Words:
    """What it is and what it must be, and how the table and the circuit's own wires come to that."""
    if isinstance(problem, ThinBond):
        size, name = gauge(problem.size), problem.winding.name
        return Words(
            message=f"{problem.conductor.name} is {named_size(problem.conductor)}, and grounds a side of "
            f"{name}. It must be {size} or larger: no smaller than the wires that {name} feeds.",
            help=f"Use {size} {problem.conductor.material}.",
            source=case.code.section("bond of a transformer for control"),
        )
    need, guard = problem.need, problem.need.guard
    told = f"The table asks for {gauge(need.listed)} {need.material} behind {amps(guard.amps)}."
    section = "grounding conductors"
    if need.grew > 1 and need.least is not None:
        name = need.thinnest.name
        if case.board.conductors[name].size != need.thinnest.size:
            name = f"The pigtail of {name}"
        told += (
            f" {name} is {gauge(need.thinnest.size)} where {gauge(need.least)} would do, "
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
