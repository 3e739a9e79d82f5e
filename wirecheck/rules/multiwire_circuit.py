"""Two hots share a neutral, and not in the way that is safe.

On opposite legs the two currents cancel in the shared neutral. On the same leg they add, and no
breaker watches a neutral. If one breaker alone is off, the neutral still carries the other's current
and can shock whoever opens it: both must open together. And if the neutral opens at a device's screws,
the loads on both sides stand in series across 240 V, so it is spliced and brought to the device by a
pigtail.

Source: NEC 210.4(B), 210.4(A), 240.15(B)(2), 300.13(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load, Protection, Winding
from wirecheck.circuit.routes import Zone
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.multiwire import Sharing, Taker, between, open_together, returning, sharing
from wirecheck.judge.out_and_back import strays
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import named_size
from wirecheck.judge.sizing import carries
from wirecheck.judge.voltages import takes_two_hots
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, volts
from wirecheck.model.board import Conductor, Device, Join
from wirecheck.tables.published import NotInTable

# How many of what is connected between two hots one message names.
MOST_NAMED = 4


class TwoHots(Problem):
    """The breakers or fuses of two hots, and the pieces of copper that the hots are.

    `joined` is whether the two hots are joined, through a switch or not.
    """

    one: Protection
    other: Protection
    hots: frozenset[int]
    joined: bool


class SharedNeutral(TwoHots):
    """They share `neutral`; `in_one_cable` where it lies with both hots, as in a circuit that is meant so."""

    neutral: Conductor
    in_one_cable: bool


class OnSameLeg(SharedNeutral):
    """Both are on the leg of that name. `ampacity` is the neutral's, where the tables have it."""

    leg: str
    ampacity: float | None


class NotTogether(SharedNeutral):
    """They are on different legs, and one can be off without the other."""


class BetweenTwo(TwoHots):
    """`takers` are connected from hot to hot, and one can be off without the other.

    `meant` is whether one of them is made for the volts between two hots.
    """

    takers: tuple[Taker, ...]
    meant: bool


class ThroughDevice(Problem):
    """A shared neutral that goes on from one of these conductors to another by way of a device's screws.

    `volts` stand between the hots that share it.
    """

    device: Device
    neutrals: tuple[Conductor, ...]
    volts: float


Kind = OnSameLeg | NotTogether | BetweenTwo | ThroughDevice


def find(case: Case) -> Iterator[Kind]:
    """Every two hots at the second breaker, and every device that a shared neutral goes through."""
    for shared in sharing(case):
        one, other = shared.one.protection, shared.other.protection
        borrowed = None if shared.in_one_cable or shared.joined else _borrowed(case, shared)
        copper = frozenset(case.uses.piece[neutral.ends[0]] for neutral in shared.neutrals)
        if shared.one.origin == shared.other.origin:
            yield OnSameLeg(
                at=spot(borrowed or other),
                about=other,
                severity="hazard",
                stage="rough-in",
                copper=copper,
                one=one,
                other=other,
                hots=_pieces(case, shared.one, shared.other),
                joined=shared.joined,
                neutral=shared.neutrals[0],
                in_one_cable=shared.in_one_cable,
                leg=shared.one.origin.name,
                ampacity=_ampacity(case, shared.neutrals[0], one),
            )
        elif not open_together(case, one, other):
            yield NotTogether(
                at=spot(borrowed or other),
                about=other,
                severity="violation",
                stage="rough-in",
                copper=copper,
                one=one,
                other=other,
                hots=_pieces(case, shared.one, shared.other),
                joined=shared.joined,
                neutral=shared.neutrals[0],
                in_one_cable=shared.in_one_cable,
            )
    for pair in between(case):
        if not open_together(case, pair.one.protection, pair.other.protection):
            yield BetweenTwo(
                at=spot(pair.other.protection),
                about=pair.other.protection,
                severity="violation",
                stage="rough-in",
                copper=_pieces(case, pair.one, pair.other),
                one=pair.one.protection,
                other=pair.other.protection,
                hots=_pieces(case, pair.one, pair.other),
                joined=pair.joined,
                takers=pair.takers,
                meant=any(takes_two_hots(_made_for(taker)) for taker in pair.takers),
            )
    yield from _through_devices(case)


def _borrowed(case: Case, shared: Sharing) -> Join | None:
    """The join at which the current of one of two circuits goes over to the neutral of the other."""
    neutrals = {neutral.name for neutral in shared.neutrals}
    return next(
        (one.join for one in strays(case) if one.join is not None and one.gone.name in neutrals), None
    )


def _pieces(case: Case, *zones: Zone) -> frozenset[int]:
    """The pieces of copper that are the hots of some zones."""
    return frozenset(case.uses.piece[hot.ends[0]] for zone in zones for hot in zone.hots)


def _ampacity(case: Case, neutral: Conductor, protection: Protection) -> float | None:
    try:
        return carries(case, neutral, protection.amps).result
    except NotInTable:
        return None


def _made_for(taker: Taker) -> float:
    return taker.primary_volts if isinstance(taker, Winding) else taker.volts


def _through_devices(case: Case) -> Iterator[ThroughDevice]:
    """Where a shared neutral goes on only by way of a device's screws (300.13(B))."""
    board, node = case.board, case.circuit.node
    shared = {neutral.name: pair for pair in sharing(case) for neutral in pair.neutrals}
    neutrals_of = {one.conductor.name for one in returning(case)}
    spliced: dict[tuple[str, str], Join] = {}
    under: dict[tuple[str, int], list[tuple[Conductor, Device, Join]]] = {}
    for join in board.joins:
        for member in join.splice:
            spliced[join.place, member.name] = join
        for name, members in join.under.items():
            # What meets at a lead is spliced there, and holds together without the device.
            if "lead" in board.terminals[name].spec.flags:
                continue
            device = board.devices.get(board.terminals[name].owner)
            for member in members:
                # A pigtail brings what its splice holds.
                for end in join.splice if member.kind == "pigtail" else (member,):
                    if device is not None and end.name in neutrals_of:
                        ends = under.setdefault((join.place, node[name]), [])
                        ends.append((board.conductors[end.name], device, join))
    for (place, _), ends in under.items():
        neutrals = {conductor.name: conductor for conductor, _, _ in ends}
        pairs = [shared[name] for name in neutrals if name in shared]
        if pairs and len({id(spliced.get((place, name), name)) for name in neutrals}) > 1:
            _, device, join = ends[-1]
            yield ThroughDevice(
                at=spot(join),
                about=device,
                severity="violation",
                stage="trim",
                copper=frozenset(case.uses.piece[conductor.ends[0]] for conductor in neutrals.values()),
                device=device,
                neutrals=tuple(neutrals.values()),
                volts=max(_apart(case, pair) for pair in pairs),
            )


def _apart(case: Case, shared: Sharing) -> float:
    """The volts between two hots."""
    legs = {leg.name: leg.volts for leg in case.circuit.legs}
    return abs(legs[shared.one.origin.name] - legs[shared.other.origin.name])


def words(problem: Kind, case: Case) -> Words:
    """What two circuits share, what that does, and how they are put on one handle or taken apart."""
    if isinstance(problem, ThroughDevice):
        device, names = problem.device.name, listed(one.name for one in problem.neutrals)
        return Words(
            message=f"The shared neutral, {names}, goes through {device}. Take {device} out, and the neutral "
            "beyond it opens while both hots stay live"
            + (f": the loads there can get up to {volts(problem.volts)}." if problem.volts else "."),
            help=f"Splice {names}, with a pigtail to {device}.",
            source=case.code.section("neutral goes on without the device"),
        )
    one, other = problem.one, problem.other
    first = Note(f"{one.name} is the other", one.span)
    if isinstance(problem, BetweenTwo):
        devices = dict.fromkeys(case.circuit.devices[taker.device].outer for taker in problem.takers)
        many = len(devices) > 1
        return Words(
            message=f"{listed(devices, MOST_NAMED)} {'are' if many else 'is'} fed from both {one.name} and "
            f"{other.name}, and those two do not open together. With one of them off "
            f"{'they do' if many else 'it does'} not work and {'are' if many else 'is'} still live from the "
            "other.",
            help=_one_handle(case, problem)
            if problem.meant
            else f"What is made for {volts(_made_for(problem.takers[0]))} belongs between one hot and the "
            "neutral. Turn both off, find which wire belongs on the neutral, and move it there.",
            source=case.code.section("loads between hots open on both"),
            also=(first,),
        )
    neutral = problem.neutral
    notes = (first, Note(f"{neutral.name} is shared", neutral.span))
    if isinstance(problem, NotTogether):
        return Words(
            message=f"{one.name} and {other.name} share the neutral {neutral.name} and do not open together. "
            "With one of them off, the neutral still carries the current of the other and can shock whoever "
            f"opens it.{_trips(problem)}",
            help=_apart_or(case, problem, _one_handle(case, problem)),
            source=case.code.section("multiwire circuit opens all its hots together"),
            also=notes,
        )
    most = one.amps + other.amps
    may = f" It is {named_size(neutral)} and may carry {amps(problem.ampacity)}." if problem.ampacity else ""
    return Words(
        message=f"{one.name} and {other.name} are on the same leg, {problem.leg}, and share the neutral "
        f"{neutral.name}. Their currents add in it, up to {amps(one.amps)} + {amps(other.amps)} = "
        f"{amps(most)}, and no breaker watches a neutral.{may}{_trips(problem)}",
        help=_apart_or(
            case,
            problem,
            "Turn both off. Put one two-pole breaker in place of the two: it feeds them from both legs.",
        ),
        source=case.code.section("multiwire circuits", "what a multiwire circuit is"),
        value=most,
        limit=problem.ampacity,
        unit="A",
        also=notes,
    )


def _trips(problem: SharedNeutral) -> str:
    """What a breaker that compares what goes out with what comes back does on a shared neutral."""
    names = [one.name for one in (problem.one, problem.other) if one.trips is not None]
    if not names:
        return ""
    return (
        f" {listed(names)} {'trip' if len(names) > 1 else 'trips'} too: what comes back is not what went out."
    )


def _apart_or(case: Case, problem: SharedNeutral, remedy: str) -> str:
    """A remedy for two hots that are meant to share a neutral; others are taken apart."""
    if problem.joined:
        return "Turn both off. Their hots are joined too: take those apart first, then look at the neutral."
    if problem.in_one_cable:
        return remedy
    return (
        f"Turn both off. {problem.neutral.name} does not lie in one cable with both hots: take the two "
        "neutrals apart, so that each hot has its own white beside it all the way from the panel."
    )


def _one_handle(case: Case, problem: TwoHots) -> str:
    one, other = problem.one.name, problem.other.name
    takers = problem.takers if isinstance(problem, BetweenTwo) else ()
    if any(isinstance(taker, Load) and taker.c is not None for taker in takers):
        return "Put one three-pole breaker in place of those that feed its three lines."
    tie = ""
    if one in case.board.breakers and other in case.board.breakers:
        tie = f", or join the two handles with a listed tie (breaker {other} ... tied to {one})"
    return f"Put one two-pole breaker in place of the two{tie}."


RULE = rule(__name__, "rough-in", "trim", severities=("hazard", "violation"), find=find, words=words)
