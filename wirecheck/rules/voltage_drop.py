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

What hangs on a subpanel loses some in the feeder and some in its branch circuit. Each should lose no
more than 3 %, and both together no more than 5 %.

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
from wirecheck.judge.question import question
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.judge.tight_screws import tight_screws
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, percent, volts
from wirecheck.language.syntax import Span
from wirecheck.model.board import Breaker, Panel
from wirecheck.tables.sizes import area

# The largest share for which a load's current is what it was taken to be (common practice).
MEANT = 0.5
# A gain of less than this on the way back is not worth a word, in volts.
GAIN = 0.05
# How many screws one message names.
MOST_SCREWS = 6


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


class LongFeeder(Loss):
    """The way behind a subpanel on which its feeder loses too much; `drop` is what is lost in the feeder.

    `whole` is what feeder and branch circuit lose together where that is too much, else the feeder alone is.
    """

    panel: Panel
    whole: Drop | None


class FarOutlet(Loss):
    """The outlet of a circuit that would lose the most with the largest plug-in load, and loses too much."""

    outlet: Outlet
    guard: Guarded


Kind = Starved | Wasteful | LongFeeder | FarOutlet


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
            known, branch = worst.get(drop.circuit), drop.branch
            worse = known is None or branch.share > known[1].share
            if drop.on_branch and exceeds(branch.share, limit) and worse:
                worst[drop.circuit] = load, branch
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
    yield from _feeders(case)


def _feeders(case: Case) -> Iterator[LongFeeder]:
    """For each subpanel, the way behind it that loses the most, where its feeder's part is too much."""
    alone = case.code.limit("voltage drop of a feeder")
    together = case.code.limit("voltage drop of feeder and branch circuit together")
    worst: dict[str, LongFeeder] = {}
    for drop in (*drops(case).values(), *_outlet_drops(case)) if case.board.subpanels else ():
        feeder, branch = drop.feeder, drop.branch
        panel = _panel_of(case, drop)
        if panel is None or not feeder.falls or drop.present < _works(drop):
            continue
        # Where the branch circuit alone is too long, that is told.
        whole = exceeds(drop.share, together) and not exceeds(branch.share, alone)
        known = worst.get(panel.name)
        if (whole or exceeds(feeder.share, alone)) and (known is None or feeder.share > known.drop.share):
            most = min(alone, together - branch.share) if whole else alone
            worst[panel.name] = LongFeeder(
                at=_at(case, feeder),
                about=drop.of,
                severity="advice",
                stage="rough-in",
                copper=_copper(case, feeder),
                drop=feeder,
                size=size_that_does(case, feeder, most * drop.nominal),
                panel=panel,
                whole=drop if whole else None,
            )
    yield from worst.values()


def _works(drop: Drop) -> float:
    """The least volts that a load works at; nothing for an outlet."""
    return drop.of.works if isinstance(drop.of, Load) else 0.0


def _panel_of(case: Case, drop: Drop) -> Panel | None:
    """The subpanel whose breaker a circuit is behind."""
    holder = drop.guard.holder if drop.guard is not None else None
    return case.board.subpanels.get(holder.panel) if isinstance(holder, Breaker) else None


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
    for drop in _outlet_drops(case):
        guard, outlet, drop = drop.guard, drop.of, drop.branch
        if guard is not None and isinstance(outlet, Outlet) and drop.falls and exceeds(drop.share, limit):
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


@question
def _outlet_drops(case: Case) -> tuple[Drop, ...]:
    """What the outlet of each circuit that would lose the most loses."""
    told = []
    for guard in guarded(case):
        outlets = (outlet for outlet in guard.outlets if _heaviest_of_its_face(guard, outlet))
        there = [drop for outlet in outlets if (drop := outlet_drop(case, guard, outlet)) is not None]
        if there:
            told.append(max(there, key=lambda drop: drop.branch.share))
    return tuple(told)


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
            use = _use(problem, case, "all the way", "Bring the source nearer.")
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
            use = _use(problem, case, "all the way", "Shorten the run.")
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
        case LongFeeder():
            return _words_of_feeder(problem, case)
        case FarOutlet(guard=guard):
            # Beyond half of the voltage no load draws the current that it was taken to.
            meant = drop.share <= MEANT
            would = f"lose {percent(drop.share, beside=branch)} of its voltage on the way: {lost}"
            if not meant:
                would = f"lose more than {percent(MEANT)} of its voltage on the way"
            use = _use(problem, case, "all the way", "Shorten the run.")
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


def _words_of_feeder(problem: LongFeeder, case: Case) -> Words:
    """What the feeder loses, alone or with the branch circuit behind it, and the wire that would do."""
    feeder, whole, panel = problem.drop, problem.whole, problem.panel.name
    alone = case.code.limit("voltage drop of a feeder")
    together = case.code.limit("voltage drop of feeder and branch circuit together")
    load = isinstance(feeder.of, Load)
    of = feeder.of.name if load else f"a load of {amps(feeder.flows)} plugged in at {feeder.of.name}"
    when = _when(case, feeder) if load else ""
    if whole is None:
        message = (
            f"The feeder of {panel} loses {percent(feeder.share, beside=alone)} of the voltage on the way to "
            f"{of}{when}: {volts(feeder.lost)} of {volts(feeder.nominal)}. A feeder should lose no more than "
            f"{percent(alone)}."
        )
    else:
        message = (
            f"On the way to {of}{when}, the feeder of {panel} and the branch circuit lose "
            f"{percent(whole.share, beside=together)} of the voltage together: {volts(whole.lost)} of "
            f"{volts(whole.nominal)}, and {volts(feeder.lost)} of that in the feeder. Together they should "
            f"lose no more than {percent(together)}."
        )
    use = _use(problem, case, "for the feeder", "Shorten the feeder.")
    return Words(
        message=message,
        help=f"{_ways(feeder)} {use}",
        source=f"{case.code.section('voltage drop of a feeder')}, informational note",
        value=100 * (feeder if whole is None else whole).share,
        limit=100 * (alone if whole is None else together),
        unit="%",
        also=(Note(f"{feeder.of.name} is here", feeder.of.span),),
    )


def _when(case: Case, drop: Drop) -> str:
    """The state of a drop, in the switches of the load and of what shares wires with it."""
    return case.when(drop.state, drop.of.name, *(fall.conductor.name for fall in drop.falls))


def _use(problem: Loss, case: Case, where: str, otherwise: str) -> str:
    """The larger wire, and what to do at the screws that it does not go under."""
    if problem.size is None:
        return otherwise
    use = f"Use {_size(problem)} {where}."
    tight: dict[str, list[str]] = {}
    for screw in tight_screws(case, (fall.conductor for fall in problem.drop.falls), problem.size):
        if screw.spec.sizes is not None:
            tight.setdefault(screw.spec.sizes[1], []).append(screw.name)
    for most, screws in tight.items():
        take, each = ("take", " each") if len(screws) > 1 else ("takes", "")
        use += f" {listed(screws, MOST_SCREWS)} {take} {gauge(most)} at most: splice a short pigtail of that "
        use += f"size to the wire for it{each}."
    return use


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


RULE = rule(__name__, "rough-in", "final", severities=("fault", "advice"), find=find, words=words)
