"""Too much of the voltage is lost in the wire on the way to a load.

Wire has resistance, and the current of the load pays for it twice, on the
way out and on the way back. Lamps dim, heaters heat less, motors draw more
and run hot, and below a certain voltage a load does not work at all.

The loss is that of the circuit as solved, in the state in which the load
has the least voltage, with each wire at the temperature its load gives it:
ambient + (rating - 30 C) x (amps / table amps) squared, at most its rating,
since Table 310.16 states the current that takes a wire from 30 C to its
rating and the rise goes with the square of the current. An outlet has no
load of its own: the largest plug-in load of 210.21(B)(2) is taken there,
12 A on a 15 A circuit and 16 A on 20 A, with nothing else running.

Source: NEC 210.19 and 215.2, informational notes (3 % and 5 %); Chapter 9 Table 8
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wirecheck.circuit.circuit import Load, Outlet
from wirecheck.judge.case import Case
from wirecheck.judge.drop import Drop, drops, exceeds, outlet_drop, size_that_does
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, percent, volts
from wirecheck.language.syntax import Span
from wirecheck.tables.sizes import area

# The largest share for which a load's current is what it was taken to be (common practice).
MEANT = 0.5
# A gain of less than this on the way back is not worth a word, in volts.
GAIN = 0.05


class Loss(Problem):
    """What is lost on a way; `size` is the least wire, all the way, with which it would be little enough."""

    drop: Drop
    size: str | None


class Starved(Loss):
    """A load that its wire leaves less than it works at, and the `others` that the same run starves."""

    load: Load
    others: tuple[Drop, ...]

    @property
    def loads(self) -> tuple[Load, ...]:
        """The load that it is about."""
        return (self.load,)


class Wasteful(Loss):
    """The load of a circuit that loses the most, more than a branch circuit should."""

    load: Load


class FarOutlet(Loss):
    """The outlet of a circuit that would lose the most with the largest plug-in load, and loses too much."""

    outlet: Outlet
    guard: Guarded


Kind = Starved | Wasteful | FarOutlet


def find(case: Case) -> Iterator[Kind]:
    """Each load that the source would serve and the wire does not, and the worst of each circuit."""
    limit = case.code.limit("voltage drop of a branch circuit")
    worst: dict[str, tuple[Load, Drop]] = {}
    starved: dict[Span, list[tuple[Load, Drop]]] = {}
    for load in case.circuit.loads:
        drop = drops(case).get(load.name)
        if drop is None or drop.nominal < load.works:
            # A load on another source than it is made for is the matter of wrong-voltage.
            continue
        if drop.present >= load.works:
            known = worst.get(drop.circuit)
            worse = known is None or drop.share > known[1].share
            if drop.on_branch and exceeds(drop.share, limit) and worse:
                worst[drop.circuit] = load, drop
        elif drop.present + drop.lost >= load.works:
            # Where the source itself sags, it is not the wire that takes the volts.
            starved.setdefault(_at(case, drop).span, []).append((load, drop))
    for there in starved.values():
        yield _starved(case, there)
    for load, drop in worst.values():
        yield Wasteful(
            at=_at(case, drop),
            about=load,
            severity="advice",
            stage="rough-in",
            copper=_copper(case, drop),
            drop=drop,
            size=size_that_does(case, drop, limit * drop.nominal),
            load=load,
        )
    yield from _outlets(case, limit)


def _starved(case: Case, there: Sequence[tuple[Load, Drop]]) -> Starved:
    """One long run is one mistake: the load that it leaves the least of what it needs stands for all."""
    (load, drop), *others = sorted(there, key=lambda one: one[1].present / one[0].works)
    sizes = [size_that_does(case, one, one.nominal - of.works) for of, one in there]
    enough = [size for size in sizes if size is not None]
    return Starved(
        at=_at(case, drop),
        about=load,
        severity="fault",
        stage="final",
        copper=_copper(case, drop),
        drop=drop,
        size=max(enough, key=area) if len(enough) == len(sizes) else None,
        load=load,
        others=tuple(one for _, one in others),
    )


def _outlets(case: Case, limit: float) -> Iterator[FarOutlet]:
    """The outlet of each circuit that would lose the most."""
    for guard in guarded(case):
        there = [
            (outlet, drop)
            for outlet in guard.outlets
            if _heaviest_of_its_face(guard, outlet) and (drop := outlet_drop(case, guard, outlet)) is not None
        ]
        if not there:
            continue
        outlet, drop = max(there, key=lambda one: one[1].share)
        if drop.falls and exceeds(drop.share, limit):
            yield FarOutlet(
                at=_at(case, drop),
                about=outlet,
                severity="advice",
                stage="rough-in",
                copper=_copper(case, drop),
                drop=drop,
                size=size_that_does(case, drop, limit * drop.nominal),
                outlet=outlet,
                guard=guard,
            )


def _heaviest_of_its_face(guard: Guarded, outlet: Outlet) -> bool:
    """The 120 V of a range's or dryer's outlet serve its clock and motor, not its heat."""
    return outlet.volts >= max(one.volts for one in guard.outlets if one.device == outlet.device)


def _at(case: Case, drop: Drop) -> Spot:
    """The run that loses the most; where there is none, the load itself."""
    if drop.steepest is None:
        return spot(case.circuit.around[drop.of.device][0])
    return spot(case.board.runs[drop.steepest.run])


def _copper(case: Case, drop: Drop) -> frozenset[int]:
    ends = (end for fall in drop.falls for end in fall.conductor.ends)
    return frozenset(case.uses.piece[end] for end in ends)


def words(problem: Kind, case: Case) -> Words:
    """How much is lost and where, against what should be, and the wire that would do."""
    drop = problem.drop
    branch = case.code.limit("voltage drop of a branch circuit")
    should = f"A branch circuit should lose no more than {percent(branch)}"
    lost = f"{volts(drop.lost)} of {volts(drop.nominal)}"
    here = (Note(f"{drop.of.name} is here", drop.of.span),) if drop.falls else ()
    match problem:
        case Starved(load=load, others=others):
            too = (Note(f"{one.of.name} has {volts(one.present)}", one.of.span) for one in others)
            use = f"Use {_size(problem)} all the way." if problem.size else "Bring the source nearer."
            sections = case.code.section("equipment as its instructions say", "resistance of conductors")
            return Words(
                message=f"{load.name} has {volts(drop.present, beside=load.works)}{_when(case, drop)} and "
                f"needs {volts(load.works, beside=drop.present)} to work: {lost} are lost on the way.",
                help=f"{_ways(drop)} {use}",
                source=sections,
                value=drop.present,
                limit=load.works,
                unit="V",
                also=(*here, *too),
            )
        case Wasteful():
            whole = case.code.limit("voltage drop of feeder and branch circuit together")
            beyond = f", and feeder and branch circuit together no more than {percent(whole)}"
            use = f"Use {_size(problem)} all the way." if problem.size else "Shorten the run."
            return Words(
                message=f"{drop.of.name} loses {percent(drop.share, beside=branch)} of its voltage on the way"
                f"{_when(case, drop)}: {lost}. {should}{beyond if exceeds(drop.share, whole) else ''}.",
                help=f"{_ways(drop)} {use}",
                source=f"{case.code.section('voltage drop of a branch circuit')}, informational note",
                value=100 * drop.share,
                limit=100 * branch,
                unit="%",
                also=here,
            )
        case FarOutlet(guard=guard):
            # Beyond half of the voltage no load draws the current that it was taken to.
            meant = drop.share <= MEANT
            would = f"lose {percent(drop.share, beside=branch)} of its voltage on the way: {lost}"
            if not meant:
                would = f"lose more than {percent(MEANT)} of its voltage on the way"
            use = f"Use {_size(problem)} all the way." if problem.size else "Shorten the run."
            return Words(
                message=f"A load of {amps(drop.flows)} plugged in at {drop.of.name}, with nothing else on "
                f"{guard.name}, would {would}. {should}.",
                help=f"{amps(drop.flows)} is the largest plug-in load on a {amps(guard.amps)} circuit. "
                + (f"{_ways(drop)} {use}" if meant else use),
                source=f"{case.code.section('voltage drop of a branch circuit')}, informational note; "
                f"{case.code.section('largest plug-in load')}",
                value=100 * drop.share if meant else None,
                limit=100 * branch,
                unit="%",
                also=here,
            )


def _when(case: Case, drop: Drop) -> str:
    """The state of a drop, in the switches of the load and of what shares wires with it."""
    return case.when(drop.state, drop.of.name, *(fall.conductor.name for fall in drop.falls))


def _size(problem: Loss) -> str:
    """The larger size, of the same metal as the conductor that loses most."""
    worst = problem.drop.steepest
    aluminum = worst is not None and worst.material == "aluminum"
    return gauge(problem.size or "") + (" aluminum" if aluminum else "")


def _ways(drop: Drop) -> str:
    """Where the volts go: how many out, how many back, and along which conductors."""
    out = ", ".join(fall.conductor.name for fall in drop.falls if fall.outward)
    back = ", ".join(fall.conductor.name for fall in drop.falls if not fall.outward)
    way = "through the other hot" if drop.other_hot else "on the way back"
    told = [f"{volts(drop.out)} on the way out ({out})"] if out else []
    if back and drop.back >= -GAIN:
        told.append(f"{volts(max(drop.back, 0.0))} {way} ({back})")
    lost = f"Lost at {amps(drop.flows)}: {listed(told)}."
    if back and drop.back < -GAIN:
        lost += f" Another circuit's current brings {volts(-drop.back)} of it again {way} ({back})."
    return lost


RULE = rule(__name__, "rough-in", "final", find=find, words=words)
