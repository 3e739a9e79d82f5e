"""Current goes out in one cable or raceway and comes back in another.

Out and back in one cable, the two currents undo each other's magnetic field. Apart, they make one: steel
between them heats up, and electronics nearby are disturbed. A neutral that comes back by another cable
is often the neutral of another circuit, too. Then it carries current while its own breaker is off. So
all wires of a circuit stay together, all the way. It is worked out for each load and for what is plugged
in at each outlet, one by one. Class 2 wires may go apart (725.3).

Source: NEC 300.3(B), 300.20(A), 200.4(A)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Outlet
from wirecheck.judge import purpose
from wirecheck.judge.bundles import bundle_of
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.out_and_back import ASTRAY, Stray, strays
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps
from wirecheck.model.board import Conductor

# How many loads one message tells where their wire belongs.
MOST_TOLD = 3


class Apart(Problem):
    """The currents of some loads and outlets do not come back in the cables that they go out in.

    The `strays` have a cable or a raceway in common, so that one mistake may make them all.
    """

    strays: tuple[Stray, ...]

    @property
    def first(self) -> Stray:
        """The one that the words are of."""
        return self.strays[0]


def find(case: Case) -> Iterator[Apart]:
    """What goes astray in the same cables and raceways, together."""
    left = list(strays(case))
    while left:
        together = [left.pop(0)]
        for one in together:
            names = {bundle.name for bundle in one.bundles}
            near = [other for other in left if not names.isdisjoint(bundle.name for bundle in other.bundles)]
            together += near
            left = [other for other in left if other not in near]
        first = together[0]
        yield Apart(
            at=spot(first.gone if first.join is None else first.join),
            about=case.circuit.devices[first.taker.device]
            if isinstance(first.taker, Outlet)
            else first.taker,
            severity="fault" if any(one.trips for one in together) else "violation",
            stage="trim",
            copper=frozenset(case.uses.piece[end] for one in together for end in one.gone.ends),
            strays=tuple(together),
        )


def words(problem: Apart, case: Case) -> Words:
    """Which way the current goes and which way it comes back, and the wire that it belongs on."""
    first = problem.first
    there, back = _lies(case, first.left), _lies(case, first.gone)
    if first.outward:
        there, back = back, there
    part = "Part of the" if first.share < 1 - ASTRAY else "The"
    much = f"up to {amps(first.amps)}" if isinstance(first.taker, Outlet) else amps(first.amps)
    owner = case.circuit.devices[first.taker.device].outer
    draws = f"what is plugged in at {owner}" if isinstance(first.taker, Outlet) else first.taker.name
    trips = list(dict.fromkeys(protection.name for one in problem.strays for protection in one.trips))
    sees = f" {listed(trips)} {'misses' if len(trips) == 1 else 'miss'} it and trip{'s' * (len(trips) == 1)}."
    return Words(
        message=f"{part} current of {draws} goes out in {there} and comes back in {back}: in {first.place} "
        f"it {'comes' if first.outward else 'leaves'} on {first.gone.name}. That is {much} one way in each"
        f"{case.when(first.settled, owner)}: its magnetic field heats steel around it, and whoever works on "
        "one of the two does not know of the other." + (sees if trips else ""),
        help="Turn off every circuit in these cables. " + " ".join(_remedies(problem, case)),
        source=case.code.section(
            "wires of a circuit stay together",
            "heat in steel around a lone conductor",
            "a neutral serves one circuit",
        ),
        value=first.amps,
        limit=0.0,
        unit="A",
        also=tuple(
            Note(f"{join.place}: {other.gone.name} goes another way too", join.span)
            for other in problem.strays[1:]
            if (join := other.join) is not None and join is not first.join
        )[:MOST_TOLD],
    )


def _lies(case: Case, conductor: Conductor | None) -> str:
    bundle = None if conductor is None else bundle_of(case).get(conductor.name)
    return "another cable" if bundle is None else bundle.name


def _remedies(problem: Apart, case: Case) -> Iterator[str]:
    """For each device once, where its wire belongs."""
    told: set[str] = set()
    for one in problem.strays:
        owner = case.circuit.devices[one.taker.device].outer
        if owner not in told and len(told) < MOST_TOLD:
            told.add(owner)
            yield _remedy(one, owner, case)


def _remedy(stray: Stray, owner: str, case: Case) -> str:
    kind = "neutral" if purpose.of_conductor(stray.gone) == "neutral" else "wire"
    there = _lies(case, stray.left)
    if stray.share < 1 - ASTRAY:
        stays = "neutral goes back in the cable of its own hot"
        if kind != "neutral":
            stays = "hot stays in the cable of its own neutral"
        return f"In {stray.place}, part {stray.gone.name} from the wires of {there}: each {stays}."
    if stray.join is None and stray.left is not None:
        return f"Pull {stray.gone.name} into {there}, beside {stray.left.name}."
    if stray.beside is not None and stray.left is not None:
        return (
            f"In {stray.place}, the {kind} of {owner} belongs on {stray.beside.name}, which lies beside "
            f"{stray.left.name}, and not on {stray.gone.name}."
        )
    return (
        f"Bring the {kind} of {owner} in {there}, too. Where it has no wire for that, run a cable that has."
    )


RULE = rule(__name__, "trim", severities=("violation", "fault"), find=find, words=words)
