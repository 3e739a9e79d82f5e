"""Where a path stops: from the source to a load and back, terminal by terminal, to the one open place.

The path looked for is the cheapest to mend: copper costs nothing, a contact
that is open costs one step, a joint that was never made costs many. What is in
the way on the cheapest path is what keeps the load from running. Where a
control holds a contact open, what the control waits for is looked for in turn.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact, Load, Move, Outlet, Protection, Winding, number
from wirecheck.circuit.faulted import NEVER
from wirecheck.circuit.settle import Settled, View, holds
from wirecheck.circuit.uses import Feed
from wirecheck.circuit.work import WorkEnds
from wirecheck.judge import made_up, purpose, ways
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Spot, spot
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.question import question
from wirecheck.judge.record import Record
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
)
from wirecheck.model.board import Conductor, Device, Point
from wirecheck.parts.part import Carried

OPEN_CONTACT = 1
OPENED = 2
# A joint that is missing: less where a loose wire or an empty screw waits for it, and where what is
# joined does not belong together.
WAITING_END, MISPLACED_END, BUSY_END = 20, 40, 45
# And much more where a hot would go on as a neutral.
MISFIT = 1000
DEEPEST = 6
# A way on that needs a call which was not made is no way on.
UNCALLED = 100
# A contact that no wiring keeps open: it waits for its time, or for a machine. It is no open place either.
UNWIRED = 50
MOST_WAYS = 4
# The most that one search may take of the work that is left.
SHARE = 0.25
# More than this share of its volts is too little; with less there are none (common practice).
SOME_VOLTS = 0.2


class Wanted(NamedTuple):
    """What should have its volts: a load, an outlet, a device, a transformer's primary, or a screw."""

    of: Load | Outlet | Device | Winding | Point
    a: str
    b: str
    volts: float


def of_load(load: Load) -> Wanted:
    """A load's volts between its two ends."""
    return Wanted(load, load.a, load.b, load.volts)


class TooLittle(NamedTuple):
    """The path is whole, and only some of the volts come along it."""

    present: float


class NoSource(Record):
    """No source on the board gives such volts."""


class NoWire(Record):
    """A source gives such volts, and no wire of one comes anywhere near."""


class NotLookedFor(Record):
    """The work ended before the place was found."""


class NoPower(Record):
    """The path is whole, and nothing comes along it."""


class NotJoined(NamedTuple):
    """The path comes as far as one point, and a joint from there to the other was never made.

    `off` are the wires that are where they do not belong, and come off first. `among` is whether
    other joins of that place would do as well as that of `here`: which of them was meant is not known.
    """

    here: Point
    on: Point
    off: tuple[Conductor, ...] = ()
    among: bool = False


class NoneOfItsKind(NamedTuple):
    """The path comes as far as a point, and only wires of another purpose go on there."""

    here: Point


class TwoSources(NamedTuple):
    """Its two sides come from two transformers, and no current goes from the one to the other."""

    one: Winding
    other: Winding


class OneSide(NamedTuple):
    """Its two sides lie on one leg or the neutral, one by way of a capacitor: no volts are between them."""

    feed: Feed


class WithoutCall(NamedTuple):
    """The joint from `here` to `on` is all that is missing, and would run something without its call."""

    here: Point
    on: Point


class Opened(NamedTuple):
    """A breaker or a fuse is open."""

    protection: Protection


class BurntOut(NamedTuple):
    """What is fed has its volts, or as many as it gets, and is open inside."""

    present: float


class Stuck(NamedTuple):
    """A contact that no coil and no hand closes any more."""

    contact: Contact


class HeldOpen(NamedTuple):
    """A contact is open, and no wiring keeps it so."""

    contact: Contact


class OthersCall(NamedTuple):
    """`contact` is open, and is in the way of a call; `caller` closes it by a call that was not made."""

    contact: Contact
    caller: Contact


class Standing(NamedTuple):
    """A state or a sensing device that stands at a value until something is so."""

    variable: str
    value: str
    until: Condition
    scope: str


End = (
    TooLittle
    | BurntOut
    | NoSource
    | NoWire
    | NoPower
    | NotLookedFor
    | NotJoined
    | NoneOfItsKind
    | TwoSources
    | OneSide
    | WithoutCall
    | Opened
    | HeldOpen
    | OthersCall
    | Stuck
    | Standing
)


class Stop(NamedTuple):
    """Where a path stops.

    `through` leads there: the transformer without power, the contact, the state that waits for what
    comes next. `wanted` is what lacks its volts at the `end` of that, `at` the line to look at if
    it is in one. `steps` is how far it was looked for, much more where a call would have to be
    made first.
    """

    wanted: Wanted
    end: End
    at: Spot | None
    through: tuple[Winding | Contact | Standing, ...] = ()
    steps: int = 0

    @property
    def unwired(self) -> int:
        """How far from what no wiring is to blame for; 0 where a wire may be."""
        return self.steps if self.steps >= UNWIRED else 0

    def behind(self, first: Winding | Contact | Standing, steps: int = 1) -> Stop:
        """The same, where something else waits for it."""
        return self._replace(through=(first, *self.through), steps=self.steps + steps)


class _Seeking(NamedTuple):
    """What is looked for in which state, how many questions deep, and which loads were asked about before."""

    case: Case
    settled: Settled
    wanted: Wanted
    depth: int = 0
    asked: frozenset[str] = frozenset()

    def deeper(self) -> _Seeking:
        """The same, one question on."""
        return self._replace(depth=self.depth + 1)

    @property
    def view(self) -> View:
        """What the conditions of contacts and controls see."""
        return self.settled.view


def why_not(case: Case, settled: Settled, load: Load) -> Stop:
    """Why a load does not run in a state."""
    return why_no_volts(case, settled, of_load(load))


def why_no_volts(case: Case, settled: Settled, wanted: Wanted) -> Stop:
    """Why there are not about as many volts as something needs, between its two points in a state."""
    try:
        with case.work.reason(SHARE):
            return _why(_Seeking(case, settled, wanted))
    except WorkEnds:
        return Stop(wanted, NotLookedFor(), None, steps=UNCALLED)


def _why(seeking: _Seeking) -> Stop:
    case, wanted = seeking.case, seeking.wanted
    present = seeking.settled.across(wanted.a, wanted.b)
    dead = seeking.settled.circuit.dead
    if (
        isinstance(wanted.of, Load | Winding)
        and wanted.of.name in dead
        and present > SOME_VOLTS * wanted.volts
    ):
        return Stop(wanted, BurntOut(present), None)
    if present > SOME_VOLTS * wanted.volts:
        return Stop(wanted, TooLittle(present), None)
    sources = _two_sources(seeking)
    if sources is not None:
        return Stop(wanted, sources, _from(seeking, sources))
    one_side = _one_side(seeking)
    if one_side is not None:
        return Stop(wanted, one_side, _spot(case, case.circuit.point[wanted.b], case.circuit.point[wanted.a]))
    told: Stop | None = None
    barred: frozenset[str] = frozenset()
    for _ in range(MOST_WAYS):
        stop, gap = _nearest(seeking, barred)
        if told is None or stop.steps < UNWIRED:
            told = stop
        if stop.steps < UNWIRED or gap is None or not isinstance(gap.of, Contact):
            break
        if stop.end == HeldOpen(gap.of) and isinstance(gap.of.when, InPosition):
            # It waits for a hand, for heat or for water: a way around it would leave it without effect.
            break
        # No wire is at fault on that way: it waits for another call, or for its time. There may be a better.
        barred |= {gap.of.name}
    assert told is not None
    return told


def _nearest(seeking: _Seeking, barred: frozenset[str]) -> tuple[Stop, _Gap | None]:
    """What stops the cheapest way between a source and two points, some contacts left out of it."""
    wanted = seeking.wanted
    best: tuple[int, list[_Gap]] | None = None
    source = ("", "")
    for one, other in _sources(seeking.case.circuit, wanted.volts):
        for near, far in ((one, other), (other, one)):
            first = _way(seeking, near, wanted.a, barred)
            second = _way(seeking, far, wanted.b, barred)
            if first is None or second is None:
                continue
            cost = first[0] + second[0]
            if best is None or cost < best[0]:
                best = cost, [*first[1], *second[1]]
                source = one, other
    if best is None:
        sources = any(_sources(seeking.case.circuit, wanted.volts))
        return Stop(wanted, NoWire() if sources else NoSource(), None, steps=UNCALLED), None
    if not best[1]:
        return _unfed(seeking, source), None
    # Where nobody should join what is missing, to close the rest of the way helps nothing.
    gap = next((gap for gap in best[1] if _is_misfit(seeking.case, gap)), best[1][0])
    return _at(seeking, gap), gap


def _unfed(seeking: _Seeking, source: tuple[str, str]) -> Stop:
    """Why no power comes along a path that is whole: the transformer at its beginning has none itself."""
    windings = seeking.case.circuit.windings
    winding = next((each for each in windings if each.secondary == source), None)
    if winding is not None and seeking.depth < DEEPEST:
        fed = seeking.settled.across(*winding.primary)
        if fed < SOME_VOLTS * winding.primary_volts:
            primary = Wanted(winding, *winding.primary, winding.primary_volts)
            return _why(seeking.deeper()._replace(wanted=primary)).behind(winding)
    return Stop(seeking.wanted, NoPower(), None)


def _sources(circuit: Circuit, volts: float) -> Iterator[tuple[str, str]]:
    """The pairs of points that stand at about that many volts, when all is well."""
    for index, leg in enumerate(circuit.legs):
        neutral = f"{leg.panel}.neutral"
        if neutral in circuit.node and 0.7 < abs(leg.volts) / volts < 1.4:
            yield leg.point, neutral
        for other in circuit.legs[index + 1 :]:
            if other.panel == leg.panel and 0.7 < abs(leg.volts - other.volts) / volts < 1.4:
                yield leg.point, other.point
    for winding in circuit.windings:
        if 0.7 < winding.secondary_volts / volts < 1.4:
            yield winding.secondary


# -------------------------------------------------------------------- a way


class _Gap(NamedTuple):
    """Something in the way: a contact or protection that is open, or (None) a joint that is missing."""

    a: str
    b: str
    of: Contact | Protection | None


class _Hand(NamedTuple):
    """A hand that holds copper in a place, to join it to something there.

    No two wires of one `cable` are joined, and a hot is not joined to a neutral: neither what
    `meant` says is one, nor what leads to a leg (its name in `feeds`) or to earth (nothing there).
    Whatever comes off, `control` are the Class 2 transformers that it leads to, and `power` is whether it
    leads to a leg or a bar; `low` whether Class 2 alone belongs on it; `carries` what the screws carry that
    copper ties to it.
    """

    place: str
    cable: str
    meant: Purpose | None
    feeds: frozenset[str]
    control: frozenset[str]
    power: bool
    low: bool
    carries: frozenset[Carried]


class _Landed(NamedTuple):
    """A point that a hand has just joined: the way goes on through copper, and not by another joint there."""

    point: str


_Node = str | _Hand | _Landed


class _Joinable(NamedTuple):
    """A point that a hand can join: where it is, what it costs to join there, what it is for."""

    point: str
    hand: _Hand
    price: int


@question
def _joinable(case: Case) -> Mapping[str, _Joinable]:
    """The points that a hand can join."""
    board, there = case.board, made_up.joins(case)
    told: dict[str, _Joinable] = {}
    for conductor in board.conductors.values():
        if purpose.is_grounding(conductor):
            # Whatever is dead, a ground is never what it should be joined to.
            continue
        for point, place in zip(conductor.ends, conductor.places, strict=True):
            # A wire that waits may still be marked for whatever it is to be.
            meant = purpose.of_member(there[point][-1][1], board) if point in there else None
            told[point] = _joint(case, point, place, conductor.run, meant, purpose.is_class_2(conductor))
    for terminal in board.terminals.values():
        if terminal.spec.role != "ground":
            meant = purpose.of_terminal(terminal)
            low = terminal.spec.role in ("class-2", "class-2-common")
            told[terminal.name] = _joint(case, terminal.name, terminal.place, "", meant, low)
    return told


def _joint(case: Case, point: str, place: str, cable: str, meant: Purpose | None, low: bool) -> _Joinable:
    """What it costs to join at a point, by what is joined there already, and what it would bring together."""
    joins = made_up.joins(case).get(point, ())
    if any(len(purpose.meeting(join, case.board)) > 1 for join, _ in joins):
        price = MISPLACED_END
    else:
        price = BUSY_END if joins or point in _idle_throws(case) else WAITING_END
    # What comes off says nothing by what it is on now.
    stays = not joins or (not cable and price == BUSY_END)
    feeds = _feeds(case, point) if stays else frozenset()
    control, power = _sources_of(case, point)
    low = not power and (low or bool(control))
    carries = _carried(case).get(case.uses.piece[point], frozenset())
    return _Joinable(point, _Hand(place, cable, meant, feeds, control, power, low, carries), price)


@question
def _idle_throws(case: Case) -> frozenset[str]:
    """The empty screws of a changeover that heat or pressure moves, whose other side is in use.

    Nothing need be on them: what a coil moves has none to spare.
    """
    joins, throws = made_up.joins(case), dict[str, set[str]]()
    for contact in case.circuit.contacts:
        if isinstance(contact.when, InPosition) and case.circuit.devices[contact.scope].part.moved_by:
            for common, throw in ((contact.a, contact.b), (contact.b, contact.a)):
                throws.setdefault(common, set()).add(throw)
    return frozenset(
        one
        for common, there in throws.items()
        if common in joins and not joins.keys().isdisjoint(there)
        for one in there - joins.keys()
    )


def _feeds(case: Case, point: str) -> frozenset[str]:
    """The legs that a point leads to, if only through contacts, by name; nothing stands for earth."""
    piece = case.uses.piece[point]
    feeds = case.uses.direct[piece] | case.uses.reached[piece]
    return frozenset(feed.name if feed.kind == "hot" else "" for feed in feeds if feed.kind != "class-2")


def _sources_of(case: Case, point: str) -> tuple[frozenset[str], bool]:
    """The Class 2 transformers that a point leads to, if only through contacts; whether it leads to power."""
    piece = case.uses.piece[point]
    feeds = case.uses.direct[piece] | case.uses.reached[piece]
    control = frozenset(feed.name for feed in feeds if feed.kind == "class-2")
    return control, any(feed.kind != "class-2" for feed in feeds)


@question
def _in_place(case: Case) -> Mapping[str, tuple[_Joinable, ...]]:
    """The points that a hand can join in each place."""
    told: dict[str, list[_Joinable]] = {}
    for one in _joinable(case).values():
        told.setdefault(one.hand.place, []).append(one)
    return {place: tuple(points) for place, points in told.items()}


@question
def _carried(case: Case) -> Mapping[int, frozenset[Carried]]:
    """What the screws of a piece of copper carry in a thermostat's wiring."""
    told: dict[int, set[Carried]] = {}
    for terminal in case.board.terminals.values():
        if terminal.spec.carries is not None:
            told.setdefault(case.uses.piece[terminal.name], set()).add(terminal.spec.carries)
    return {piece: frozenset(carries) for piece, carries in told.items()}


def _misfit(one: _Hand, other: _Hand) -> bool:
    """Whether nobody should join the two: a hot and a neutral, two legs, Class 2 and power."""
    if one.meant is not None and other.meant is not None and one.meant != other.meant:
        return True
    mixed = (one.low and other.power) or (other.low and one.power)
    return mixed or len(one.feeds | other.feeds) > 1 or len(one.control | other.control) > 1


def _is_misfit(case: Case, gap: _Gap) -> bool:
    joinable = _joinable(case)
    return gap.of is None and _misfit(joinable[gap.a].hand, joinable[gap.b].hand)


def _way(
    seeking: _Seeking, origin: str, target: str, barred: frozenset[str]
) -> tuple[int, list[_Gap]] | None:
    """The cheapest way between two points and the gaps on it, from the origin on."""
    case = seeking.case
    near, joinable, in_place = ways.neighbors(case), _joinable(case), _in_place(case)
    passes = ways.conducting(seeking.settled)

    def steps(node: _Node) -> Iterator[tuple[int, _Node, Contact | Protection | None]]:
        if isinstance(node, _Hand):
            for other in in_place[node.place]:
                if not node.cable or node.cable != other.hand.cable:
                    yield (
                        other.price + (MISFIT if _misfit(node, other.hand) else 0),
                        _Landed(other.point),
                        None,
                    )
            return
        point = node.point if isinstance(node, _Landed) else node
        for neighbor, of in near.get(point, ()):
            if not isinstance(of, Contact | Protection) or passes(of):
                yield 0, neighbor, None
            elif of.name not in barred:
                yield OPEN_CONTACT if isinstance(of, Contact) else OPENED, neighbor, of
        if isinstance(node, str) and node in joinable:
            yield joinable[node].price, joinable[node].hand, None

    begin: list[_Node] = [origin]
    end: list[_Node] = [target, _Landed(target)]
    found = ways.cheapest(begin, end, steps, case.work)
    if found is None:
        return None
    gaps: list[_Gap] = []
    before = origin
    for step in found[1]:
        if not isinstance(step.target, _Hand):
            point = step.target.point if isinstance(step.target, _Landed) else step.target
            if step.tie is not None or isinstance(step.origin, _Hand):
                gaps.append(_Gap(before, point, step.tie))
            before = point
    return found[1][-1].cost if found[1] else 0, gaps


def _at(seeking: _Seeking, gap: _Gap) -> Stop:
    """What a gap on the way means."""
    case, wanted = seeking.case, seeking.wanted
    if gap.of is None:
        here, on = case.circuit.point[gap.a], case.circuit.point[gap.b]
        ends = [_joinable(case)[gap.a], _joinable(case)[gap.b]]
        if _is_misfit(case, gap):
            return Stop(wanted, NoneOfItsKind(here), _spot(case, here), steps=UNWIRED)
        ends[0] = _of_its_call(seeking, *ends)
        here = case.circuit.point[ends[0].point]
        waiting = sum(end.price == WAITING_END for end in ends)
        joint = NotJoined(here, on, _to_take_off(case, here, on), _among(seeking, *ends))
        # Two ends that both wait for a wire belong together sooner than one with what is made up.
        return Stop(wanted, joint, _spot(case, here, on), steps=2 - waiting if waiting else UNWIRED)
    if isinstance(gap.of, Protection):
        return Stop(wanted, Opened(gap.of), spot(gap.of))
    contact = gap.of
    steps = UNCALLED if _uncalled(contact.when, contact.scope, seeking.view) else 1
    if seeking.depth < DEEPEST:
        deeper = _waits_for(seeking.deeper(), contact.when, contact.scope)
        if deeper is not None:
            return deeper.behind(contact, steps)
    device = case.circuit.devices[contact.scope]
    end = Stuck(contact) if contact.when == NEVER else HeldOpen(contact)
    return Stop(wanted, end, spot(device), steps=max(steps, UNWIRED))


def _of_its_call(seeking: _Seeking, here: _Joinable, on: _Joinable) -> _Joinable:
    """Where a call comes to that what is missing is for: its own wire, and not the power that feeds it.

    Power that goes on past what makes a call would run it for good. What has no wire for the call beside it
    keeps the end that was found.
    """
    call, settled = on.hand.carries - {"power", "common"}, seeking.settled

    def node(one: _Joinable) -> int:
        return settled.circuit.node[one.point]

    if "power" not in here.hand.carries or not call:
        return here
    near = [
        one
        for one in _in_place(seeking.case)[on.hand.place]
        if call & one.hand.carries
        and one.point != on.point
        and not _misfit(one.hand, on.hand)
        and settled.islands[node(one)] == settled.islands[node(here)]
        and settled.across(one.point, here.point) < SOME_VOLTS * seeking.wanted.volts
    ]
    return min(near, key=lambda one: one.price, default=here)


def _among(seeking: _Seeking, here: _Joinable, on: _Joinable) -> bool:
    """Whether joins of the place besides that of `here` are as good as it: the neutrals of two circuits.

    The wire of the call that is missing has no like.
    """
    case, there = seeking.case, made_up.joins(seeking.case)
    if here.price != BUSY_END or (on.hand.carries & here.hand.carries) - {"power", "common"}:
        return False
    own = {member.point for join, _ in there[here.point] for member in join.members}
    near = _pieces_tied(seeking, here.point, lambda load: "in-series" in load.flags)
    return any(
        one.price == BUSY_END and one.point not in own and case.uses.piece[one.point] in near
        for one in _in_place(case)[on.hand.place]
        if one.point != on.point and not _misfit(one.hand, on.hand)
    )


def _pieces_tied(seeking: _Seeking, point: str, through: Callable[[Load], bool]) -> frozenset[int]:
    """The pieces that a point is tied to by what is closed, and by some loads."""
    case, piece, passes = seeking.case, seeking.case.uses.piece, ways.conducting(seeking.settled)
    ties = [(piece[load.a], piece[load.b]) for load in case.circuit.loads if through(load)]
    reached, found = frozenset[int](), {piece[point]}
    while not found <= reached:
        reached = ways.pieces_reached(case, {*reached, *found}, passes)
        found = {to for tie in ties for at, to in (tie, tie[::-1]) if at in reached}
    return reached


def _two_sources(seeking: _Seeking) -> TwoSources | None:
    """The transformers that the two sides come from through what is closed; None where one feeds both."""
    case, wanted = seeking.case, seeking.wanted
    piece, passes = case.uses.piece, ways.conducting(seeking.settled)
    sides = [ways.pieces_reached(case, [piece[end]], passes) for end in (wanted.a, wanted.b)]
    one, other = (
        [
            winding
            for winding in case.circuit.windings
            if not side.isdisjoint(piece[end] for end in winding.secondary)
        ]
        for side in sides
    )
    return TwoSources(one[0], other[0]) if one and other and not {*one} & {*other} else None


def _one_side(seeking: _Seeking) -> OneSide | None:
    """The leg or the neutral that one side lies on, and the other too by way of a capacitor; or None."""
    wanted = seeking.wanted
    one, other = (_direct(seeking, end, "capacitor") for end in (wanted.a, wanted.b))
    if len(one) != 1 or one != other or all(_direct(seeking, end) for end in (wanted.a, wanted.b)):
        return None
    (feed,) = one
    return OneSide(feed) if feed.kind in ("hot", "neutral") else None


def _direct(seeking: _Seeking, point: str, through: str = "") -> frozenset[Feed]:
    """What feeds come to a point by what is closed, and by loads of one kind."""
    pieces = _pieces_tied(seeking, point, lambda load: load.kind == through)
    return frozenset(feed for piece in pieces for feed in seeking.case.uses.direct[piece])


def _from(seeking: _Seeking, sources: TwoSources) -> Spot | None:
    """The last line on the way from one of two sources to its side, the way back first."""
    wanted, passes = seeking.wanted, ways.conducting(seeking.settled)
    for winding, side in ((sources.other, wanted.b), (sources.one, wanted.a)):
        way = ways.way(seeking.case, winding.secondary, [side], passes)
        if way is not None and way.joins:
            return spot(way.joins[-1])
    return None


def _to_take_off(case: Case, here: Point, on: Point) -> tuple[Conductor, ...]:
    """The wires at two points that do not belong there; else the joined one, where the two make a short."""
    astray = dict.fromkeys((*_astray(case, here), *_astray(case, on)))
    if not astray and len(_feeds(case, here.name) | _feeds(case, on.name)) > 1:
        there = made_up.joins(case)
        joined = [point.owner for point in (on, here) if point.kind == "end" and point.name in there]
        astray = dict.fromkeys(joined[:1])
    return tuple(case.board.conductors[name] for name in astray)


def _astray(case: Case, point: Point) -> Iterator[str]:
    """The wires in the joins of a point that do not belong there: itself, or what is wrong on a screw."""
    for join, member in made_up.joins(case).get(point.name, ()):
        if len(purpose.meeting(join, case.board)) < 2:
            continue
        if member.kind == "end":
            yield member.name
        elif (meant := purpose.of_member(member, case.board)) is not None:
            wires = (one for one in join.members if one.kind == "end")
            yield from (one.name for one in wires if purpose.of_member(one, case.board) != meant)


def _spot(case: Case, *points: Point) -> Spot | None:
    """The line where one of the points is capped or joined, else that of its conductor."""
    board = case.board
    owners = [board.conductors[point.owner] for point in points if point.kind == "end"]
    for point in points:
        if point.name in board.capped:
            return Spot(board.capped[point.name], board.conductors.get(point.owner, point))
    for point in points:
        join = made_up.join_at(case, point.name)
        if join is not None:
            return spot(join)
    return spot(owners[0]) if owners else None


# ------------------------------------------------------------- what it waits for


def _waits_for(seeking: _Seeking, condition: Condition, scope: str) -> Stop | None:
    """What keeps a condition from being true, followed down to one open place.

    Of alternatives, the one that is nearest to come true is followed, of those that hear no other call.
    """
    circuit = seeking.case.circuit
    if holds(condition, scope, seeking.view):
        return None
    match condition:
        case AllOf(facts):
            stops = (_waits_for(seeking, fact, scope) for fact in facts)
            return next((stop for stop in stops if stop is not None), None)
        case AnyOf(facts):
            stops = (_waits_for(seeking, fact, scope) for fact in facts)
            return min(
                (stop for stop in stops if stop is not None),
                key=lambda stop: (_hears_another(seeking, stop), stop.steps),
                default=None,
            )
        case HasVoltage(terminal, least, reference):
            needs = number(least, circuit.devices[scope].values)
            a, b = f"{scope}.{terminal.text}", f"{scope}.{reference.text}"
            nominal = _nominal(circuit, needs.value if needs else 24.0)
            return _why(seeking._replace(wanted=Wanted(circuit.point[a], a, b, nominal)))
        case Runs():
            load = circuit.meant(condition, scope)
            asked = seeking.asked | {seeking.wanted.of.name}
            if load is None or load.name in asked:
                # What waits for itself tells nothing of what keeps it.
                return None
            return _why(seeking._replace(wanted=of_load(load), asked=asked))
        case InPosition(position):
            return _not_moved(seeking, scope, position.text)
        case IsState(name, state):
            return _not_moved(seeking, f"{scope}.{name.text}", state.text)
        case Negation(IsState(name, _)):
            return _not_moved(seeking, f"{scope}.{name.text}", None)
    return None


def _hears_another(seeking: _Seeking, stop: Stop) -> bool:
    """Whether what waits hears a call that no thermostat makes now: a blower that the fan call starts too."""
    devices, terminals = seeking.case.board.devices, seeking.case.board.terminals
    heard = {
        terminal.spec.carries
        for one in (*stop.through, stop.end)
        if isinstance(one, Standing)
        and isinstance(one.until, HasVoltage)
        and (terminal := terminals.get(f"{one.scope}.{one.until.terminal.text}")) is not None
    }
    made = {
        terminals[end].spec.carries
        for contact in seeking.case.circuit.contacts
        if contact.name in seeking.settled.closed
        and contact.scope in devices
        and devices[contact.scope].part.calls
        for end in (contact.a, contact.b)
        if end in terminals
    }
    return not heard <= {"power", "common", None, *made}


def _uncalled(condition: Condition, scope: str, view: View) -> bool:
    """Whether a condition can come true only with a call that is not made."""
    match condition:
        case AllOf(facts):
            return any(_uncalled(fact, scope, view) for fact in facts)
        case AnyOf(facts):
            return all(_uncalled(fact, scope, view) for fact in facts)
        case Called():
            return not holds(condition, scope, view)
    return False


def _nominal(circuit: Circuit, least: float) -> float:
    """The volts of the source that a control which needs `least` is meant for."""
    known = [winding.secondary_volts for winding in circuit.windings]
    known += [abs(leg.volts) for leg in circuit.legs]
    known += [abs(one.volts - other.volts) for one, other in itertools.combinations(circuit.legs, 2)]
    return min((volts for volts in known if volts >= least), default=least)


def _not_moved(seeking: _Seeking, variable: str, wanted: str | None) -> Stop | None:
    """Why a state or a sensing device is not where it should be: at `wanted`, or (None) anywhere else."""
    stands = seeking.settled.positions.get(variable, "")
    first = _first_move(seeking.case.circuit, variable, stands, wanted)
    if first is None or first.when is None or seeking.depth > DEEPEST:
        return None
    standing = Standing(variable, stands, _lacking(first.when, first.scope, seeking.view), first.scope)
    waits = _waits_for(seeking.deeper(), first.when, first.scope)
    if waits is not None:
        return waits.behind(standing)
    device = seeking.case.circuit.devices[first.scope]
    return Stop(seeking.wanted, standing, spot(device), steps=UNWIRED)


def _first_move(circuit: Circuit, variable: str, stands: str, wanted: str | None) -> Move | None:
    """The first of the fewest moves that bring a variable from where it stands to where it is wanted."""
    moves = [move for move in circuit.moves if move.variable == variable]

    def steps(value: str) -> Iterator[tuple[int, str, Move]]:
        yield from ((1, one.target, one) for one in moves if not one.origins or value in one.origins)

    elsewhere = {move.target for move in moves} - {stands}
    found = ways.cheapest([stands], elsewhere if wanted is None else {wanted}, steps, circuit.work)
    return found[1][0].tie if found is not None and found[1] else None


def _lacking(condition: Condition, scope: str, view: View) -> Condition:
    """Of facts that must all be so, those that are not; else the condition itself."""
    match condition:
        case AllOf(facts):
            absent = tuple(fact for fact in facts if not holds(fact, scope, view))
            return absent[0] if len(absent) == 1 else AllOf(absent) if absent else condition
    return condition
