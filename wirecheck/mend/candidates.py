"""The edits that are worth a try, the likeliest first.

It starts where the problems point: the places, the copper, the objects that they name. What hands do
wrong most often, and what colors, letters and marks speak for, comes first.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence

from wirecheck.circuit.circuit import Load, Outlet, Protection, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NoSource, NotJoined, Stop
from wirecheck.judge.finding import SEVERITIES
from wirecheck.judge.grouped import grouped
from wirecheck.judge.made_up import joins
from wirecheck.judge.problem import Problem
from wirecheck.judge.shock_and_arc import Unprotected
from wirecheck.judge.two_hots import TwoHots
from wirecheck.language.names import alike
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import AlterStatement, JoinStatement, Quantity
from wirecheck.mend.bench import FED, LIKE, MARK, STRANGE, SUITS, Item, items, suits
from wirecheck.mend.candidate import Candidate
from wirecheck.mend.controls import (
    behind_idle,
    coils_beside,
    contact_of,
    half_joined,
    held_leads,
    into_idle,
    into_way,
    into_wires,
    leads,
    of_control,
    off_bridged,
    off_past,
    onto_fuse,
    other_contact,
    past_contacts,
    past_several,
    switches_that_wait,
    throws,
    unbridged,
    with_it,
)
from wirecheck.mend.crossed import crossed, doubled, uncrossed
from wirecheck.mend.edits import (
    Cap,
    Change,
    Divide,
    Edit,
    Exchange,
    ExchangeAll,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    IntoHot,
    IntoWire,
    Jumper,
    Land,
    Mark,
    MarkThroughout,
    Meet,
    Move,
    OnScrews,
    Part,
    Pigtail,
    Restore,
    Tail,
    TakeOver,
    Together,
)
from wirecheck.mend.heat import Heat, objects, pointed
from wirecheck.mend.poles import two_poles
from wirecheck.mend.protects import protects
from wirecheck.mend.refits import refits
from wirecheck.mend.renewals import renewals
from wirecheck.mend.rotations import rotations
from wirecheck.mend.series import abreast
from wirecheck.mend.sheet import Sheet, as_join, how, names
from wirecheck.mend.spaces import to_spaces
from wirecheck.mend.spots import point
from wirecheck.mend.values import changes, for_both_metals, of_joint, wet_kinds
from wirecheck.model.board import Board, Conductor, Device, Join, Run
from wirecheck.model.colors import NEUTRAL_COLORS
from wirecheck.model.joins import PUSHED
from wirecheck.parts.library import Library
from wirecheck.rules.call_crosstalk import RunsToo
from wirecheck.rules.control_ground import ButtonInGround
from wirecheck.rules.mixed_metals import MixedMetals
from wirecheck.rules.motor_rotation import Backward, SameWay
from wirecheck.rules.phase_loss import FromOneLeg
from wirecheck.rules.switched_neutral import FusedGround

# How a trial ranks before what colors and letters say: what hands do wrong most, first.
DEAREST = 100.0
# How much likelier a breaker is in the wrong space where the tie that it has does not reach.
OF_TIES = 1.0
# How much likelier a screw is taken for another of its device than for one of another device.
ONE_DEVICE = 1.5
# How much less likely a tail or jumper goes to the wrong splice than a wire does.
OTHER_SPLICE = 1.0
# How much likelier two are swapped that bear each other's names or numbers, a name.
BY_NAME = 0.5
# How much likelier a wire is taken off the screw that it lies under, to another that a jumper brings to it.
LANDED_FIRST = 0.1
# How likely a screw that needs a wire was left out of a splice, where its device has wires on others.
LACKS = 1.0
# How much likelier the coil of a relay is on the wrong splice, whose contact is at what is wrong.
OF_COILS = 0.5
# How much likelier a coil between two hots has a tail to the wrong splice: the neutral is beside it.
OF_TWO_HOTS = 3.0
# How much likelier a rating is wrong than a wire, where a fuse or a winding is too large or too small.
OF_RATINGS = 1.5
# How much less likely a breaker is of the wrong size that a problem is not about.
OF_BREAKERS = 1.0
# How likely a splice lacks the connector for both metals: a cable in the wall is not pulled anew for that.
FOR_BOTH_METALS = 4.0
# How likely the volts are wrong of what no source on the board gives its volts.
UNGIVEN = 1.5
# How much likelier a splice and one pigtail is meant, where so many machines have a lead under one screw.
SPLICED = 0.5
# How much likelier a wire that shares a screw belongs on an empty one of the same device, that needs a wire;
# and a wire within a panel on any such screw there.
NEEDED = 1.5
# How much likelier a wire within a panel belongs elsewhere that shares a screw of a device with another one.
SHARES = 0.5
# How much likelier a cable that goes on belongs behind a device where nothing is on its load screws.
BEHIND = 1.5
SEVERAL = 3
# How likely two screws that nothing is on belong together, where a path stops between them.
NEVER_JOINED = 4.0
# How likely a wire within a panel belongs on the bare screw where a path stops.
ASTRAY = 3.0
# How likely a fuse in the grounded side of what a transformer feeds belongs into its hot side.
INTO_HOT = 4.5
# How likely what leads from R to a relay belongs on a call, where it runs something with nothing called.
ONTO_CALL = 1.0
# How likely the ground of a transformer's circuit is on the wrong side of it, where its buttons are in that.
OTHER_SIDE = 5.0
# How likely a transformer is turned round, whose windings are at fault.
TURNED = 1.0

# More edits than this are not looked at: where hundreds of wires lie loose in one place, each could be any.
MOST_CANDIDATES = 10_000


def candidates(problems: Sequence[Problem], case: Case, sheet: Sheet, library: Library) -> list[Candidate]:
    """Every edit worth a try for these problems, the likeliest first."""
    heat = pointed(problems, case)
    places = items(case)
    hots = frozenset(one.second_hot for one in problems if isinstance(one, TwoHots) and one.second_hot)
    found: dict[Edit, float] = {}
    every = itertools.chain(
        _values(problems, case, sheet),
        _for_both_metals(problems, sheet),
        _refits(problems, case, sheet, library),
        _renewals(problems, case, sheet, library),
        _protects(problems, case, sheet),
        _two_poles(problems, case, sheet),
        _to_spaces(problems, case, sheet),
        _restores(sheet),
        _on_screws(sheet),
        _never_joined(problems, places),
        _gone_astray(problems, places),
        _into_hots_of(problems, places),
        _other_sides(problems, case, places),
        _onto_calls(problems, places),
        _of_phases(problems, case.board),
        *(_of_place(here, heat, case, hots) for here in places.values()),
        _throughout(case, places, heat),
        _sides(case, places, heat),
    )
    for candidate in itertools.islice(every, MOST_CANDIDATES):
        if candidate.weight > found.get(candidate.edit, -DEAREST):
            found[candidate.edit] = candidate.weight
    ordered = [Candidate(edit, weight) for edit, weight in found.items()]
    ordered.sort(key=lambda one: -one.weight)
    return ordered


def _of_place(here: Mapping[str, Item], heat: Heat, case: Case, hots: frozenset[str]) -> Iterator[Candidate]:
    """The edits of one place, where the problems point at it; `hots` are screws that want a neutral."""
    warm = {name: heat.of(item) for name, item in here.items()}
    if not any(warm.values()) and heat.narrow:
        return
    listed = list(here.values())
    waits = switches_that_wait(case.board, here)
    yield from _exchanges(listed, here, warm)
    for item in listed:
        if item.is_end:
            yield from _moves(item, listed, here, warm, bool(waits), case)
            yield from _marks(item, warm, case.board)
            yield from _caps(item, here, warm, case.board)
        elif item.company:
            yield from _of_screw(item, listed, here, warm)
    yield from rotations(listed, here, warm)
    devices = [device for device in case.board.devices.values() if device.place == listed[0].place]
    leads_to = _leads_to(listed, case.board)
    helps = frozenset(name for name in leads(devices)[1] if name in here and here[name].owner in heat.names)
    coils = coils_beside(devices, here, {here[name].owner for name in helps}, leads_to)
    yield from _gathers(listed, here, warm, helps, coils, leads_to, hots, bool(waits))
    yield from _of_several(listed, here, warm, heat, waits, case.board)


def _exchanges(
    listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """Two ends or two screws, each where the other is; or a loose or capped end in the place of one."""
    joined = [item for item in listed if item.company and not item.is_bar]
    for one, other in itertools.combinations(joined, 2):
        if one.is_end != other.is_end or other.name in one.company or _of_one_wire(one, other):
            continue
        alone = not one.is_end and len(one.company) == len(other.company) == 1
        wires = alone and here[one.company[0]].is_end and here[other.company[0]].is_end
        if wires or (alone and one.owner != other.owner):
            continue  # the same as their two wires exchanged; and jumpers are mistaken on one device
        now = suits(one, one.company, here) + suits(other, other.company, here)
        then = suits(one, other.company, here) + suits(other, one.company, here)
        weight = then - now + warm[one.name] + warm[other.name]
        weight += BY_NAME * (_named(one, other.company) + _named(other, one.company))
        weight -= BY_NAME * (_named(one, one.company) + _named(other, other.company))
        if not one.is_end and one.owner != other.owner:
            weight -= ONE_DEVICE
        elif alone:
            weight += FED
        if one.is_end and one.carries == other.carries and one.color and other.color:
            # Both are the same letter's: nobody takes one for the other.
            weight -= LIKE
        if one.is_end and one.owner != other.owner:
            weight += _sorted(one, other.company, listed, here) + _sorted(other, one.company, listed, here)
        yield Candidate(Exchange(one.place, one.name, other.name), weight)
    for end in listed:
        if end.is_end and not end.company:
            for other in joined:
                if other.is_end and not _of_one_wire(end, other):
                    gain = suits(end, other.company, here) - suits(other, other.company, here)
                    weight = gain - 1 + warm[end.name] + warm[other.name]
                    yield Candidate(Exchange(end.place, end.name, other.name), weight)


def _of_one_wire(one: Item, other: Item) -> bool:
    """Whether an end is the other end of a wire, or where an end would be joined with that."""
    pairs = ((one, other), (other, one))
    return any(end.other and end.other in (to.name, *to.company) for end, to in pairs)


def _named(item: Item, company: Iterable[str]) -> int:
    """How much of what an end or a screw would be with bears its name, or its number."""
    return sum(alike(item.name, name) for name in company)


def _nearer_its_name(end: Item, to: Iterable[str]) -> int:
    """How much more bears the name or number of a wire within a panel where it would go than where it is."""
    return _named(end, to) - _named(end, end.company) if end.other else 0


def _sorted(end: Item, to: Iterable[str], listed: Sequence[Item], here: Mapping[str, Item]) -> float:
    """How far a move brings the wires of a cable to one side of a device: half a point a wire."""

    def sides(company: Iterable[str]) -> frozenset[str]:
        return frozenset(here[one].side for one in company if one in here and here[one].side)

    before, after = sides(end.company), sides(to)
    if not before | after:
        return 0.0
    mates = [sides(one.company) for one in listed if one.is_end and one.owner == end.owner and one is not end]
    return sum(0.5 * (bool(mate & after) - bool(mate & before)) for mate in mates)


def _is_paired(end: Item, to: Iterable[str], listed: Sequence[Item], here: Mapping[str, Item]) -> bool:
    """Whether another wire of its cable is with a wire of a cable of which one of its own color is there."""
    alike = {here[one].owner for one in to if end.color and here[one].is_end and here[one].color == end.color}
    mates = (one for one in listed if one.is_end and one.owner == end.owner and one.name != end.name)
    return any(
        here[one].is_end and here[one].owner in alike - {end.owner} and here[one].color == mate.color
        for mate in mates
        for one in with_it(mate, here)
    )


def _of_screw(
    item: Item, listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """What is under a screw spliced; the screw out of its join; an empty screw in its place."""
    machines = {here[beside].owner for beside in item.company if not here[beside].is_end}
    crowded = SPLICED * (len(machines) == len(item.company) >= SEVERAL)
    yield Candidate(Pigtail(item.place, item.name), warm[item.name] + crowded)
    now = suits(item, item.company, here)
    for beside in item.company:
        if not here[beside].is_end or len(item.company) > 1:
            strange = min(now, suits(item, (beside,), here))
            if here[beside].owner == item.owner and not here[beside].is_end:
                # A jumper that was left in joins like and like, and has no business there.
                strange = min(strange, 0.0) - SUITS
                if _have_wires_of_their_own(item, here[beside], here):
                    strange -= SUITS
            elif _is_its_call(item, beside, here):
                continue
            yield Candidate(Part(item.place, item.name, beside), warm[item.name] - strange - 0.5)
    for screw in listed:
        if screw.is_end or screw.company:
            continue
        if screw.owner == item.owner and screw.purpose == item.purpose:
            alike = LIKE + 1.5 if screw.carries & item.carries else 0.0
            weight = (warm[item.name] + warm[screw.name]) / 2 + alike - 0.5
            yield Candidate(Jumper(item.place, screw.name, item.name), weight)
        if len(item.company) > 1 or not here[item.company[0]].is_end:
            weight = suits(screw, item.company, here) - now + warm[item.name] + warm[screw.name]
            # A jumper goes one screw over; wires on the wrong screw are moved one by one.
            weight += ONE_DEVICE if screw.owner == item.owner and not here[item.company[0]].is_end else 0.0
            yield Candidate(Exchange(item.place, item.name, screw.name), weight)


def _have_wires_of_their_own(one: Item, other: Item, here: Mapping[str, Item]) -> bool:
    """Whether two screws with a jumper between them each have a wire that the other has not: one too many."""
    wires = [{name for name in item.company if here[name].is_end} for item in (one, other)]
    return all(wires) and wires[0].isdisjoint(wires[1])


def _is_its_call(item: Item, beside: str, here: Mapping[str, Item]) -> bool:
    """Whether what is parted from a screw is all of its own letter that it has: without it, nothing calls."""
    rest = set(item.company) - {beside, *here[beside].company}
    return bool(item.carries & here[beside].carries) and not rest


def _caps(
    item: Item, here: Mapping[str, Item], warm: Mapping[str, float], board: Board
) -> Iterator[Candidate]:
    """A spare, a neutral that nothing here needs, or a ground with no other here, under a cap.

    In a panel are the bars that neutrals and grounds are for.
    """
    spare = _is_spare(item, board)
    if item.place in board.panels and not spare:
        return
    serves = any(not here[one].is_end and here[one].purpose == item.purpose for one in item.company)
    alone = item.purpose == "ground" and sum(one.purpose == "ground" for one in here.values()) == 1
    if item.capped or serves or not (spare or alone or item.purpose == "neutral"):
        return
    weight = warm[item.name] + (1 if spare else 0)
    yield Candidate(
        Cap(item.place, item.name), weight - (suits(item, item.company, here) if item.company else 0.5)
    )


def _moves(
    end: Item,
    listed: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    waits: bool,
    case: Case,
) -> Iterator[Candidate]:
    """An end put with each other thing of its place: on an empty screw, under one, into a splice.

    `waits` is whether a switch of the place has both its screws bare.
    """
    board = case.board
    if _is_spare(end, board):
        return  # it serves nothing, wherever it is
    own_breaker = len(end.company) == 1 and here[end.company[0]].owner in board.breakers
    before = suits(end, end.company, here) if end.company else -1.5
    before -= SHARES * _shares_a_screw(end, here)
    bare_hot = _hot_and_unmarked(end, case)
    seen: set[frozenset[str]] = set()
    for to in listed:
        stays = to.name == end.name or to.name in end.company or _of_one_wire(end, to)
        if stays or (waits and _goes_past(end, to)):
            continue
        group = frozenset((to.name, *(() if to.is_bar else to.company)))
        if group in seen or (not to.is_bar and any(here[one].is_bar for one in group)):
            continue  # a bar has a screw for each wire, and none is spliced with another there
        seen.add(group)
        if own_breaker and len(group) > 1 and any(here[one].owner in board.breakers for one in group):
            continue  # one breaker for two circuits puts nothing right
        gain = suits(end, group, here) - before
        weight = gain + warm[end.name] + max(warm[one] for one in group) / 2 - 0.5
        weight += _sorted(end, group, listed, here)
        weight += LIKE * _is_paired(end, group, listed, here)
        weight += BY_NAME * _nearer_its_name(end, group)
        if any(here[one].is_end and here[one].owner == end.owner for one in end.company):
            weight += SUITS  # two wires of a cable that are joined do the work of one
        if end.feeds and any(here[one].feeds and not here[one].is_end for one in end.company):
            weight -= FED  # the feed is where it belongs
        elif (end.other and _lacks(to)) or (_is_crowded_out(end, to, here) and warm[to.name]):
            weight += NEEDED
        for marked, turn in _turned(end, group, here, bare_hot):
            far = bare_hot if marked else None
            if to.is_bar:
                yield Candidate(
                    Move(end.place, end.name, to.name, fresh=True, marked=marked, far=far), weight + turn
                )
                continue
            wires = [one for one in group if here[one].is_end]
            screws = [one for one in group if not here[one].is_end]
            target = to.name if to.name in wires or not wires else sorted(wires)[0]
            beside = weight + turn - (0.3 if len(group) > 1 else 0)
            yield Candidate(Move(end.place, end.name, target, marked=marked, far=far), beside)
            if to.is_end and not to.company and to.purpose == "neutral" and end.purpose == "hot":
                move = Move(end.place, end.name, target, beside=to.mark)
                yield Candidate(move, beside + SUITS - STRANGE - 1.0)
            if len(end.company) == 1 and here[end.company[0]].purpose == "neutral":
                spare = end.company[0]
                if here[spare].is_end:
                    move = Move(end.place, end.name, target, marked=marked, capped=spare, far=far)
                    yield Candidate(move, beside - 0.5)
            if wires and len(screws) == 1 and screws[0] not in end.company:
                # A thermostat's screw holds several wires, and hands put them there.
                move = Move(end.place, end.name, screws[0], pigtail=True, marked=marked, far=far)
                yield Candidate(move, weight + turn - (0.4 if end.color else 0.1))
            elif not (wires or end.company) and _are_machines(screws, here):
                # What feeds several machines lies loose: a tail goes to each from it.
                yield Candidate(Gather(end.place, (end.name,), tuple(sorted(screws))), weight + turn)


def _hot_and_unmarked(end: Item, case: Case) -> str | None:
    """Where the other end of a white is on a hot screw and bears no mark: as a hot it gets one there too."""
    if end.purpose != "neutral":
        return None
    far = _other_end(end, case.board)
    unmarked = (join for join, member in joins(case).get(far, ()) if member.marked is None)
    screws = (case.board.terminals.get(one.name) for join in unmarked for one in join.members)
    hot = any(one is not None and one.spec.role == "hot" for one in screws)
    return _far(end, case.board) if hot else None


def _are_machines(screws: Sequence[str], here: Mapping[str, Item]) -> bool:
    """Whether screws are those of several devices."""
    return len({here[one].owner for one in screws}) > 1


def _shares_a_screw(end: Item, here: Mapping[str, Item]) -> bool:
    """Whether a wire within a panel is under one screw of a device with another wire."""
    on = [here[one] for one in end.company if not here[one].is_end]
    return bool(end.other) and len(on) == 1 and not on[0].is_bar and len(on[0].company) > 1


def _lacks(to: Item) -> bool:
    """Whether it is a screw of a device with nothing on it, that needs a wire."""
    return not to.is_end and not to.is_bar and not to.company and to.needed


def _is_crowded_out(end: Item, to: Item, here: Mapping[str, Item]) -> bool:
    """Whether a wire shares a screw of a device, and another one there that needs such a wire is empty."""
    if not _lacks(to) or to.purpose != end.purpose:
        return False
    on = (here[one] for one in end.company if not here[one].is_end)
    return any(one.owner == to.owner and len(one.company) > 1 for one in on)


def _goes_past(end: Item, to: Item) -> bool:
    """Whether two loose hots are spliced past a switch that has both its screws bare."""
    return end.purpose == "hot" and not end.company and to.is_end and not to.company


def _turned(
    end: Item, group: Iterable[str], here: Mapping[str, Item], bare_hot: str | None
) -> Iterator[tuple[str | None, float]]:
    """The marks that an end may get where it goes: none, and that of a hot where a white comes to one.

    `bare_hot` is where its other end is on a hot screw already.
    """
    yield None, 0.0
    if end.purpose == "neutral" and not any(here[one].purpose in ("neutral", "ground") for one in group):
        hot = any(here[one].purpose == "hot" for one in group)
        yield end.mark, (SUITS - STRANGE - 1.0 if hot else -0.2) + SUITS * (bare_hot is not None)


def _gathers(
    listed: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    helps: frozenset[str],
    coils: Mapping[str, frozenset[str]],
    leads_to: Mapping[str, str],
    hots: frozenset[str],
    waits: bool,
) -> Iterator[Candidate]:
    """A join that was never made: the loose ends of one purpose, with the empty screws of the same.

    `hots` are screws with a hot that want the neutral. `helps` are the leads of blamed capacitors and start
    windings. `coils` are the ends of coils of their relays, which may be on the wrong splice, each with the
    places that the other end goes on to. `waits` is whether a switch of the place has both its screws bare.
    """
    loose = [item for item in listed if item.is_end and not item.company and not item.capped]
    empty = [one for one in listed if not one.is_end and (not one.company or one.is_bar)]
    for use in ("hot", "neutral", "ground"):
        ends = [one for one in loose if one.purpose == use]
        if not ends:
            continue
        # What signals between devices is a hot too, on a screw that says nothing of power.
        uses = (use, None) if use == "hot" else (use,)
        screws = [one for one in empty if one.purpose in uses and not one.is_bar]
        names = tuple(one.name for one in ends)
        weight = 2.5 + sum(warm[name] for name in names) / len(names)
        for count in (1, 2) if use == "hot" and waits else (0, 1, 2):
            for chosen in itertools.islice(itertools.combinations(screws, count), 8):
                if len(ends) + len(chosen) > 2 and len(ends) > 0:
                    yield Candidate(
                        Gather(ends[0].place, names, tuple(one.name for one in chosen)),
                        weight + 0.2 * count,
                    )
    for screw in listed:
        if screw.is_end:
            continue
        for other in listed:
            if screw.name in other.company or other.name == screw.name or not _stands_for_all(other, here):
                continue
            gain = suits(screw, (other.name, *other.company), here) + warm[screw.name] + warm[other.name] / 2
            if not screw.company or screw.is_bar:
                # A contact has no ground on it.
                grounds = screw.purpose is None and other.purpose == "ground"
                if other.company and other.is_end and not grounds:
                    used = [one for one in listed if one.owner == screw.owner and one.company]
                    # A jumper from a screw of the same letter would do, too.
                    lacks = screw.needed and used and not any(one.carries & screw.carries for one in used)
                    yield Candidate(Tail(other.place, other.name, screw.name), gain + LACKS * bool(lacks))
            elif len(screw.company) > 1 or not here[screw.company[0]].is_end:
                now = suits(screw, screw.company, here)
                move = Tail(other.place, other.name, screw.name, leaves=screw.company[0])
                # A wire of power that idles is as likely as a splice is to be the right one.
                idles = other.purpose is not None and not other.company
                at_fault = screw.name in helps or screw.name in coils
                other_splice = 0.0 if idles or at_fault else OTHER_SPLICE
                weight = gain - now - other_splice
                weight += OF_TWO_HOTS * (screw.name in hots and other.purpose == "neutral")
                rest = [one for one in screw.company if one != other.name]
                by_name = _named(screw, (other.name, *other.company)) - _named(screw, rest)
                weight += BY_NAME * by_name
                if screw.name in coils:
                    on = any(leads_to.get(one) in coils[screw.name] for one in (other.name, *other.company))
                    weight += OF_COILS * (1 + on)
                yield Candidate(move, weight)
    yield from _to_the_like(listed, here, warm)


def _stands_for_all(item: Item, here: Mapping[str, Item]) -> bool:
    """Whether it is the first wire of its join, or the first of the screws of several devices without one."""
    if item.is_end:
        return not any(here[one].is_end and one < item.name for one in item.company)
    several = len({here[one].owner for one in item.company} | {item.owner}) > 1
    return several and not any(here[one].is_end or one < item.name for one in item.company)


def _screws_alone(
    listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """An empty screw or lead joined with another one, or with screws that no wire is on."""
    empty = [one for one in listed if not one.is_end and not one.company and not one.is_bar]
    for one, other in itertools.combinations(empty, 2):
        lines = {one.purpose, other.purpose} == {"hot", None} and alike(one.name, other.name)
        if one.owner != other.owner and (one.purpose == other.purpose or lines):
            like = LIKE if lines or one.carries & other.carries else 0.0
            weight = warm[one.name] / 2 + warm[other.name] / 2 + like - 0.2
            yield Candidate(Meet(one.place, one.name, other.name), weight)
    for one, other in itertools.product(empty, listed):
        if other.is_end and not other.company:
            # It may be joined with a wire that stays here, as within a machine.
            yield Candidate(Tail(one.place, other.name, one.name), warm[one.name] + warm[other.name] / 2)
        if other.is_end or other.is_bar or not other.company or one.owner == other.owner:
            continue
        # One screw of a join stands for all of it.
        if any(here[each].is_end or each < other.name for each in other.company):
            continue
        gain = suits(one, (other.name, *other.company), here)
        yield Candidate(Tail(one.place, other.name, one.name), gain + warm[one.name] + warm[other.name] / 2)


def _to_the_like(
    listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """A jumper to a screw, on the screw of another device that carries the same: the other transformer's."""
    for screw in listed:
        beside = here[screw.company[0]] if len(screw.company) == 1 else screw
        if screw.is_end or beside.is_end or not beside.carries:
            continue
        for other in listed:
            like = other.carries == beside.carries and other.owner not in (beside.owner, screw.owner)
            if like and not other.is_end:
                move = Tail(other.place, other.name, screw.name, leaves=beside.name)
                yield Candidate(move, warm[screw.name] + warm[other.name] / 2)


def _of_several(
    listed: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    heat: Heat,
    waits: Iterable[tuple[str, str]],
    board: Board,
) -> Iterator[Candidate]:
    """Acts on several ends of a place at once, which hands do less often than one.

    `waits` are the two screws of each switch there that has both bare.
    """
    place = listed[0].place
    joined = [item for item in listed if item.company]
    for one, other in itertools.combinations(joined, 2):
        weight = (warm[one.name] + warm[other.name]) / 2
        if other.name in one.company:
            if len(one.company) > 2:
                company = [each for each in one.company if each != other.name]
                gain = suits(one, (other.name,), here) - suits(one, company, here)
                gain += LANDED_FIRST * _are_jumped(one, other, here)
                yield Candidate(Divide(place, (one.name, other.name)), weight + gain - 0.5)
        elif one.is_end and other.is_end and not _of_one_wire(one, other):
            gain = suits(one, (other.name,), here) * 2
            gain -= suits(one, one.company, here) + suits(other, other.company, here)
            yield Candidate(Meet(place, one.name, other.name), weight + gain / 2 - 1.5)
    for screws in waits:
        yield from _on_a_switch(screws, listed, here, warm)
    ends = [item for item in listed if item.is_end]
    runs = grouped((end.owner, end) for end in ends if not end.other)
    yield from _of_colors(place, runs, here, warm, board)
    yield from _taken_over(ends, here, warm)
    yield from _on_anothers_letter(ends, here, warm)
    for run in runs.values():
        yield from _landed(run, listed, warm)
        contact = contact_of(run, board) if len(run) == 2 else None
        blamed = heat.names.get(contact.name, 0.0) if contact is not None else 0.0
        if contact is not None and all(end.company for end in run):
            yield from into_wires(run, joined, here, warm, blamed)
            yield from unbridged((run[0].name, run[1].name), here, warm, blamed)
        elif contact is not None:
            yield from off_past(run, here, warm, blamed)
    devices = [device for device in board.devices.values() if device.place == place]
    takes, starts = leads(devices)
    held = held_leads(devices, here)
    yield from _screws_alone(listed, here, warm)
    leads_to = _leads_to(listed, board)
    callers = {device.place for device in board.devices.values() if device.part.calls}
    calling = frozenset(name for name, far in leads_to.items() if far in callers)
    yield from into_idle(listed, here, warm, leads_to, calling)
    ways = [item for item in joined if item.name not in starts]
    yield from past_several(devices, here, warm, heat.names)
    for device in devices:
        blamed = heat.names.get(device.name, 0.0)
        yield from half_joined(device, listed, here, warm)
        yield from past_contacts(device, here, warm, heat.names)
        yield from behind_idle(device, here, warm, blamed, takes)
        yield from off_bridged(device, listed, here, warm)
        yield from throws(device, here, warm)
        yield from other_contact(device, here, blamed)
        yield from onto_fuse(device, listed, here, warm)
        yield from abreast(device, listed, here, warm, takes)
        for pair in of_control(device):
            if here.keys() >= set(pair):
                yield from unbridged(pair, here, warm, blamed)
                yield from into_way(pair, device.name, ways, warm, blamed, takes, held)


def _are_jumped(one: Item, other: Item, here: Mapping[str, Item]) -> bool:
    """Whether of a wire and a screw that are joined the wire lies under another screw, a jumper away.

    The wires of a line are under the first screw that it names.
    """
    end, screw = (one, other) if one.is_end else (other, one)
    screws = [name for name in end.company if not here[name].is_end]
    return end.is_end and not screw.is_end and screw.name in screws[1:]


def _leads_to(listed: Sequence[Item], board: Board) -> dict[str, str]:
    """The device of each screw of a place, and the place of the other end of each wire."""
    found = {one.name: one.owner for one in listed if one.owner in board.devices}
    for end in listed:
        if end.is_end and not end.other and not _is_spare(end, board):
            found[end.name] = _far(end, board)
    return found


def _of_colors(
    place: str,
    runs: Mapping[str, Sequence[Item]],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    board: Board,
) -> Iterator[Candidate]:
    """Two colors exchanged in two cables at once: a switch in the white and not in the black."""
    told = {run: {board.conductors[item.wire].color: item for item in ends} for run, ends in runs.items()}
    for one, other in itertools.combinations(told.values(), 2):
        for a, b in itertools.combinations(sorted(one.keys() & other.keys()), 2):
            pairs = ((one[a].name, one[b].name), (other[a].name, other[b].name))
            if all(item.company for item in (one[a], one[b], other[a], other[b])):
                weight = sum(warm[name] for pair in pairs for name in pair) / 4
                gain = sum(
                    suits(here[b], here[a].company, here) - suits(here[b], here[b].company, here)
                    for pair in pairs
                    for a, b in (pair, pair[::-1])
                )
                yield Candidate(ExchangeAll(place, pairs), weight + gain / 2 - 0.5)
        alike = [(one[color], other[color]) for color in sorted(one.keys() & other.keys())]
        yield from _of_cables(alike, here, warm)


def _of_cables(
    alike: Sequence[tuple[Item, Item]], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """Two cables taken for each other in a place: each two wires of one color, but those that meet anyway."""
    apart = [
        pair
        for pair in alike
        if pair[0].purpose != "ground"
        and pair[0].company
        and pair[1].company
        and pair[1].name not in pair[0].company
    ]
    if len(apart) < 2:
        return
    gain = sum(
        suits(a, b.company, here) - suits(a, a.company, here) for pair in apart for a, b in (pair, pair[::-1])
    )
    weight = sum(warm[one.name] for pair in apart for one in pair) / (2 * len(apart))
    on = [here[one] for pair in apart for each in pair for one in each.company]
    if len({one.owner for one in on}) == 1 and not any(one.is_end for one in on):
        weight -= LIKE  # on the two sides of a device, these are what is swapped
    pairs = tuple((a.name, b.name) for a, b in apart)
    yield Candidate(ExchangeAll(apart[0][0].place, pairs), weight + gain / 2 - 0.5)


def _taken_over(
    ends: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """A wire on a screw that an idle one is made for, as a bare on a neutral: mostly of the same cable."""
    for idle, wrong in itertools.permutations(ends, 2):
        if idle.company or not wrong.company or idle.purpose == wrong.purpose:
            continue
        for screw in (here[one] for one in wrong.company if here[one].purpose == idle.purpose):
            for to in here.values():
                own = to.owner == screw.owner and to.purpose == wrong.purpose and not to.is_end
                with_like = all(here[one].purpose == wrong.purpose for one in to.company if one != screw.name)
                if own and not screw.is_end and with_like:
                    edit = TakeOver(screw.place, idle.name, wrong.name, screw.name, to.name)
                    other_cable = ONE_DEVICE if idle.owner != wrong.owner else 0.0
                    yield Candidate(edit, warm[wrong.name] + SUITS - STRANGE - other_cable)


def _on_anothers_letter(
    ends: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """A wire of a call on another letter than its own, which is empty, and an idle one of its cable."""
    for wrong in (end for end in ends if end.company and end.purpose is None):
        spares = [end for end in ends if end.owner == wrong.owner and not end.company]
        for screw in (here[one] for one in wrong.company if spares and not here[one].is_end):
            empty = [to for to in here.values() if to.owner == screw.owner and not (to.is_end or to.company)]
            own = [to for to in empty if wrong.carries & to.carries]
            if len(own) == 1 and not wrong.carries & screw.carries:
                for idle in spares:
                    edit = TakeOver(screw.place, idle.name, wrong.name, screw.name, own[0].name)
                    yield Candidate(edit, warm[wrong.name] + 2 * SUITS)


def _landed(ends: Sequence[Item], listed: Sequence[Item], warm: Mapping[str, float]) -> Iterator[Candidate]:
    """Two ends of a cable that are joined to nothing, on two empty screws of a device."""
    lying = [end for end in ends if not end.company and end.purpose != "ground"]
    if len(lying) != 2:
        return
    empty = [item for item in listed if not item.is_end and not item.company and item.purpose != "ground"]
    for first, second in itertools.permutations(empty, 2):
        if first.owner == second.owner:
            pairs = ((lying[0].name, first.name), (lying[1].name, second.name))
            weight = sum(warm[name] for pair in pairs for name in pair) / 2
            yield Candidate(Land(lying[0].place, pairs), weight - 0.2)


def _on_a_switch(
    screws: tuple[str, str], listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """Two loose hots on the bare screws of a switch: the feed on its line, and what goes on on its load."""
    hots = [end for end in listed if end.is_end and end.purpose == "hot" and not end.company]
    for first, second in itertools.permutations(hots, 2):
        line, load = (here[name] for name in screws)
        pairs = ((first.name, line.name), (second.name, load.name))
        weight = sum(warm[name] for pair in pairs for name in pair) / 2 + SUITS
        weight += FED * bool(first.feeds and not second.feeds)
        if first.owner != second.owner:
            yield Candidate(Land(first.place, pairs), weight)


def _marks(item: Item, warm: Mapping[str, float], board: Board) -> Iterator[Candidate]:
    """A white marked as a hot, or its mark off."""
    white = board.conductors[item.wire].color in NEUTRAL_COLORS
    if white and item.company and item.purpose is not None:
        color = item.mark if item.purpose == "neutral" else None
        yield Candidate(Mark(item.place, item.name, color), warm[item.name])


def _is_spare(item: Item, board: Board) -> bool:
    """Whether a wire's other end is capped: hands meant it as a spare."""
    return _other_end(item, board) in board.capped


def _other_end(item: Item, board: Board) -> str:
    """The point of the other end of a wire."""
    one, other = board.conductors[item.wire].ends
    return one if point(board, item.place, item.name) == other else other


def _throughout(case: Case, places: Mapping[str, Mapping[str, Item]], heat: Heat) -> Iterator[Candidate]:
    """Two conductors of a cable taken for each other at both ends."""
    for run in case.board.runs.values():
        for one, other in itertools.combinations(run.conductors, 2):
            ends = tuple(dict.fromkeys(one.places))
            if len(ends) < 2:
                continue
            pair = [places[place][each.name] for place in ends for each in (one, other)]
            if not any(item.company for item in pair):
                continue
            warm = sum(heat.of(item) for item in pair) / 4
            if not warm:
                continue
            gain = sum(
                suits(item, pair[index ^ 1].company, places[item.place])
                - suits(item, item.company, places[item.place])
                for index, item in enumerate(pair)
            )
            weight = gain / 2 + warm - 0.5
            yield Candidate(ExchangeThroughout(one.name, other.name, ends), weight)
            for white, hot in ((one, other), (other, one)):
                if white.color in NEUTRAL_COLORS:
                    swap = ExchangeThroughout(white.name, hot.name, ends, MARK)
                    yield Candidate(swap, max(weight, warm - 0.5))
        for white in run.conductors:
            ends = tuple(dict.fromkeys(white.places))
            if white.color in NEUTRAL_COLORS and len(ends) > 1:
                there = [places[place][white.name] for place in ends]
                warm = max(heat.of(item) for item in there)
                mark = next((item.mark for item in there if item.mark != MARK), MARK)
                if warm:
                    yield Candidate(MarkThroughout(white.name, ends, mark), warm - 0.3)


def _sides(case: Case, places: Mapping[str, Mapping[str, Item]], heat: Heat) -> Iterator[Candidate]:
    """The two sides of a device, line and load, or its two poles: all that is on one on the other."""
    for device in case.board.devices.values():
        yield from _ports(device, places.get(device.place, {}), heat)
        yield from _turned_round(device, places.get(device.place, {}), heat)
        pairs = _line_and_load(device)
        flat = [name for pair in pairs for name in pair]
        if not pairs or len(set(flat)) < len(flat):
            continue
        here = places[device.place]
        warm = max(heat.of(here[name]) for name in flat if name in here)
        if not warm or not any(here[name].company for name in flat):
            continue
        yield Candidate(ExchangeSides(device.name, device.place, pairs), warm + 0.5)
        if len(pairs) == 1:
            yield from _into_hots(pairs[0], here, warm)
        if len(pairs) == 2 and _opens_both(device):
            poles = tuple(zip(*pairs, strict=True))
            yield Candidate(ExchangeSides(device.name, device.place, poles, poles=True), warm + 0.5)
            yield from _behind(device.place, pairs, here, warm, case.board)


def _never_joined(
    problems: Iterable[Problem], places: Mapping[str, Mapping[str, Item]]
) -> Iterator[Candidate]:
    """The joint of two screws that a path lacks: of two that nothing is on, with each other."""
    for problem in problems:
        for stop in _stops(problem):
            if isinstance(stop.end, NotJoined) and not stop.end.off:
                pair = stop.end.here.name, stop.end.on.name
                here = places.get(stop.end.here.place, {})
                if here.keys() >= {*pair} and not any(here[name].company for name in pair):
                    yield Candidate(Meet(stop.end.here.place, *pair), NEVER_JOINED)


def _gone_astray(
    problems: Iterable[Problem], places: Mapping[str, Mapping[str, Item]]
) -> Iterator[Candidate]:
    """A wire within a panel that lies with others there, on the bare screw where a path stops."""
    joints = (stop.end for problem in problems for stop in _stops(problem) if isinstance(stop.end, NotJoined))
    for bare in (screw for joint in joints for screw in (joint.here, joint.on)):
        here = places.get(bare.place, {})
        if bare.name not in here or not _lacks(here[bare.name]):
            continue
        for end in here.values():
            if end.other and len(with_it(end, here) - {end.name}) > 1:
                weight = ASTRAY + BY_NAME * _nearer_its_name(end, (bare.name,))
                yield Candidate(Move(end.place, end.name, bare.name), weight)


def _stops(problem: Problem) -> Iterator[Stop]:
    """Where the paths stop that a problem is about."""
    values = (getattr(problem, field) for field in problem.fields)
    return (one for one in values if isinstance(one, Stop))


def _into_hots_of(
    problems: Iterable[Problem], places: Mapping[str, Mapping[str, Item]]
) -> Iterator[Candidate]:
    """A fuse in the grounded side of what a transformer feeds, in the way of what its hot side feeds."""
    for problem in problems:
        if isinstance(problem, FusedGround):
            ((line, load),) = problem.protection.pairs
            here = next((here for here in places.values() if line in here), {})
            for name in here[problem.hot].company if problem.hot in here else ():
                if name in here and not here[name].is_bar:
                    yield Candidate(IntoWire(here[line].place, line, load, name), INTO_HOT)


def _other_sides(
    problems: Iterable[Problem], case: Case, places: Mapping[str, Mapping[str, Item]]
) -> Iterator[Candidate]:
    """The ground of what a transformer feeds, on its other side, where its buttons are on this one."""
    if not any(isinstance(problem, ButtonInGround) for problem in problems):
        return
    for winding in case.circuit.windings:
        for near, far in (winding.secondary, winding.secondary[::-1]):
            here = next((here for here in places.values() if near in here and far in here), {})
            for name in here[near].company if here else ():
                if name in here and here[name].purpose == "ground":
                    place = here[name].place
                    bond = (
                        Move(place, name, far) if here[name].is_end else Tail(place, far, name, leaves=near)
                    )
                    yield Candidate(bond, OTHER_SIDE)


def _onto_calls(problems: Iterable[Problem], places: Mapping[str, Mapping[str, Item]]) -> Iterator[Candidate]:
    """What runs something with nothing called: a wire on R that leads to no R, on a call that is there.

    So is the feed of a relay or of a delay, in red as the wires of R are.
    """
    extras = (extra for one in problems if isinstance(one, RunsToo) for extra in one.extras)
    if not any(extra.uncalled or not extra.line.steps for extra in extras):
        return
    for here in places.values():
        screws = [one for one in here.values() if not one.is_end and one.carries]
        lettered = {letter: screw for screw in screws for letter in screw.carries}
        for end in here.values() if "power" in lettered else ():
            on = {letter for name in end.company for letter in here[name].carries if not here[name].is_end}
            if not end.is_end or on != {"power"} or end.carries:
                continue
            for letter, screw in lettered.items():
                if letter in ("power", "common"):
                    continue
                for tail in (False, True) if any(here[name].is_end for name in screw.company) else (False,):
                    # The plainer way first, where the screw takes two wires.
                    yield Candidate(
                        Move(end.place, end.name, screw.name, pigtail=tail), ONTO_CALL - tail / 10
                    )


def _of_phases(problems: Iterable[Problem], board: Board) -> Iterator[Candidate]:
    """The lines that cross where a motor turns backward, that should where none reverses it, that are one."""
    problems = list(problems)
    if any(isinstance(one, Backward) for one in problems):
        yield from crossed(board)
    if any(isinstance(one, FromOneLeg) for one in problems):
        yield from doubled(board)
    for one in problems:
        if isinstance(one, SameWay):
            yield from uncrossed(one.other, board)


def _opens_both(device: Device) -> bool:
    """Whether none of its poles is a bar that goes straight through: that is no pole to be swapped."""
    return all(way.when is not None for way in device.part.contacts)


def _ports(device: Device, here: Mapping[str, Item], heat: Heat) -> Iterator[Candidate]:
    """What is on two screws of a device with what is on two others: a relay's coil, and a contact of it."""
    screws = {name for name, spec in device.part.terminals.items() if spec.role != "ground"}
    loads = [(one.a, one.b) for one in device.part.loads]
    contacts = [(one.a, one.b) for one in device.part.contacts]
    for load, contact in itertools.product(dict.fromkeys(loads), dict.fromkeys(contacts)):
        if len({*load, *contact}) < 4 or not screws >= {*load, *contact}:
            continue
        one, other = ((f"{device.name}.{a}", f"{device.name}.{b}") for a, b in (load, contact))
        if not all(name in here and here[name].company for name in (*one, *other)):
            continue
        for turned in (other, other[::-1]):
            pairs = tuple(zip(one, turned, strict=True))
            gain = sum(
                suits(here[a], here[b].company, here) - suits(here[a], here[a].company, here)
                for pair in pairs
                for a, b in (pair, pair[::-1])
            )
            warm = max(heat.of(here[name]) for name in (*one, *other))
            if warm:
                yield Candidate(ExchangeAll(device.place, pairs), warm + gain / 2)


def _turned_round(device: Device, here: Mapping[str, Item], heat: Heat) -> Iterator[Candidate]:
    """A transformer with its feed on the winding that should give the low voltage."""
    for winding in device.part.transformers:
        pairs = tuple(
            (f"{device.name}.{a}", f"{device.name}.{b}")
            for a, b in zip(winding.primary, winding.secondary, strict=True)
        )
        names = [name for pair in pairs for name in pair]
        if all(name in here and here[name].company for name in names):
            warm = max(heat.of(here[name]) for name in names)
            if warm:
                yield Candidate(ExchangeSides(device.name, device.place, pairs), warm + TURNED)


def _behind(
    place: str, pairs: tuple[tuple[str, str], ...], here: Mapping[str, Item], warm: float, board: Board
) -> Iterator[Candidate]:
    """A cable that goes on from the line screws of a device with two wires, from its load screws instead.

    Two wires of a raceway do the same that lead to one place.
    """
    going = [item for item in here.values() if item.is_end and not item.feeds]
    onward = grouped((_far(item, board), item) for item in going if item.purpose == "hot")
    for ends in (*grouped((item.owner, item) for item in going).values(), *onward.values()):
        found = tuple((end.name, load) for line, load in pairs for end in ends if line in end.company)
        if len(found) == len(pairs) == len({end for end, _ in found}):
            empty = not any(here[load].company for _, load in pairs if load in here)
            yield Candidate(Land(place, found), warm + BEHIND * empty)


def _far(end: Item, board: Board) -> str:
    """Where the other end of a wire is."""
    return next((one for one in board.conductors[end.wire].places if one != end.place), end.place)


def _into_hots(pair: tuple[str, str], here: Mapping[str, Item], warm: float) -> Iterator[Candidate]:
    """A contact that a white wire goes on from, in the hot of the same cable."""
    for line, load in (pair, pair[::-1]):
        on = here[load].company if load in here else ()
        if len(on) != 1 or here[on[0]].purpose != "neutral" or not here[on[0]].is_end:
            continue
        white = here[on[0]]
        before = here[line].company if line in here else ()
        if not any(here[one].is_end and here[one].purpose == "neutral" for one in before):
            continue
        for hot in here.values():
            if hot.is_end and hot.owner == white.owner and hot.purpose == "hot" and hot.company:
                yield Candidate(IntoHot(hot.place, line, load, white.name, hot.name), warm + 1.0)


def _line_and_load(device: Device) -> tuple[tuple[str, str], ...]:
    """The screws of a device in pairs, each with the one that its contacts and fuses lead to."""
    if any(child.part.loads for child in device.children):
        return ()
    links = []
    for one in (device, *device.children):
        links += [(f"{one.name}.{way.a}", f"{one.name}.{way.b}") for way in one.part.contacts]
        pairs = (pair for protection in one.part.protections for pair in protection.pairs)
        links += [(f"{one.name}.{a}", f"{one.name}.{b}") for a, b in pairs]
    own = {f"{device.name}.{terminal}" for terminal in device.part.terminals}
    found: dict[tuple[str, str], None] = {}
    for first, then in links:
        on_the_way = [then] if first in own else []
        for here in on_the_way:
            if here in own:
                found[first, here] = None
            else:
                on_the_way += [b for a, b in links if a == here and b not in on_the_way]
    return tuple(found)


def _values(problems: Iterable[Problem], case: Case, sheet: Sheet) -> Iterator[Candidate]:
    """Other sizes, ratings and measures of what the problems are about."""
    given = {volts(one) for one in _given(case)}
    for problem in problems:
        direct = {_declared(problem.at.of, case), _declared(problem.about, case)}
        # What a fuse or breaker lets through, or a transformer gives, is a matter of which one is there.
        rated = OF_RATINGS if isinstance(problem.about, Protection | Winding) else 0.0
        weight = 1.0 - SEVERITIES.index(problem.severity) / 10
        alike: dict[tuple[str, ...], list[Change]] = {}
        ungiven = _ungiven(problem, case)
        for named in dict.fromkeys(_declared(one, case) for one in objects(problem)):
            for change, cost in changes(named, case, sheet) if named else ():
                likely = weight + (0.8 + rated if named in direct else 0)
                # A breaker that it is not about suits its wire.
                likely -= OF_BREAKERS * (named in case.board.breakers and named not in direct)
                if named in ungiven and change.what in ungiven[named]:
                    likely = weight + UNGIVEN + (change.now in given)
                yield Candidate(change, likely - cost)
                if named in case.board.devices:
                    alike.setdefault((change.what, change.now), []).append(change)
                elif change.what == "gauge":
                    # Wires of one size are pulled together, and others beside them stay.
                    alike.setdefault((change.what, change.now, change.was), []).append(change)
            if named in case.board.runs:
                for end in case.board.runs[named].ends:
                    box = case.board.boxes.get(end.place)
                    kinds = wet_kinds(end.place, sheet) if box is not None and box.wet else ()
                    if kinds:
                        yield Candidate(Together(kinds), weight + 0.5)
        if isinstance(problem.at.of, Join):
            for change, cost in of_joint(problem.at.of, sheet):
                yield Candidate(change, weight + 0.8 - cost)
        for together in alike.values():
            if len(together) > 1:
                yield Candidate(Together(tuple(together)), weight + 0.5)


def _for_both_metals(problems: Iterable[Problem], sheet: Sheet) -> Iterator[Candidate]:
    """The splices of aluminum and copper with the connector for both."""
    for problem in problems:
        if isinstance(problem, MixedMetals):
            for change in for_both_metals(problem.join, sheet):
                yield Candidate(change, FOR_BOTH_METALS)


def _given(case: Case) -> Iterator[float]:
    """The volts that the sources of a board give: its legs to earth and to each other, its transformers."""
    legs = [0j, *(leg.volts for leg in case.circuit.legs)]
    yield from (abs(one - other) for one, other in itertools.combinations(legs, 2))
    yield from (winding.secondary_volts for winding in case.circuit.windings)


def _ungiven(problem: Problem, case: Case) -> dict[str, frozenset[str]]:
    """The devices that no source gives their volts, as a problem says, with their ratings of volts."""
    found = {}
    for stop in _stops(problem):
        if not isinstance(stop.end, NoSource):
            continue
        of = stop.wanted.of
        if isinstance(of, Load | Outlet | Winding):
            named = case.circuit.devices[of.device].outer
            ratings = case.board.devices[named].part.ratings
            found[named] = frozenset(
                name
                for name, rating in ratings.items()
                if any(isinstance(one, Quantity) and one.dimension == "voltage" for one in rating.values)
            )
    return found


def _refits(problems: Iterable[Problem], case: Case, sheet: Sheet, library: Library) -> Iterator[Candidate]:
    """The receptacles that the problems are about, with their tabs in place or broken out."""
    for problem in problems:
        for named in dict.fromkeys(_declared(one, case) for one in objects(problem)):
            device = case.board.devices.get(named)
            for refit in refits(device, sheet, library) if device is not None else ():
                yield Candidate(refit, 1.0 - SEVERITIES.index(problem.severity) / 10)


def _renewals(problems: Iterable[Problem], case: Case, sheet: Sheet, library: Library) -> Iterator[Candidate]:
    """The outlets that the problems, or their cables, lead to, on four wires in place of three."""
    for problem in problems:
        told = {place for one in objects(problem) if isinstance(one, Run) for place in _places(one)}
        told |= {_declared(one, case) for one in objects(problem)}
        for device in case.board.devices.values():
            if device.name in told or device.place in told:
                for renewal in renewals(device, case.board, sheet, library):
                    yield Candidate(renewal, 1.0 - SEVERITIES.index(problem.severity) / 10)


def _places(run: Run) -> tuple[str, ...]:
    return tuple(end.place for end in run.ends)


def _two_poles(problems: Iterable[Problem], case: Case, sheet: Sheet) -> Iterator[Candidate]:
    """One breaker of two poles in the place of two that a problem is about."""
    problems = list(problems)
    lacking = {one.breaker.name for one in problems if isinstance(one, Unprotected) and one.breaker}
    for problem in problems:
        named = dict.fromkeys(_declared(one, case) for one in objects(problem))
        breakers = [case.board.breakers[name] for name in named if name in case.board.breakers]
        for edit in two_poles(breakers, lacking, case.board, sheet):
            yield Candidate(edit, 1.2 - SEVERITIES.index(problem.severity) / 10)


def _to_spaces(problems: Iterable[Problem], case: Case, sheet: Sheet) -> Iterator[Candidate]:
    """The breakers that a problem is about in other spaces: beside those of their ties, on another leg."""
    for problem in problems:
        weight = 1.0 - SEVERITIES.index(problem.severity) / 10
        direct = {_declared(problem.at.of, case), _declared(problem.about, case)}
        for name in dict.fromkeys(_declared(one, case) for one in objects(problem)):
            if name in case.board.breakers:
                for edit in to_spaces(case.board.breakers[name], case.board, sheet):
                    likely = weight + (0.8 if name in direct else 0) - (0.5 if edit.tie else 0.6)
                    yield Candidate(edit, likely + OF_TIES * bool(edit.beside))


def _protects(problems: Iterable[Problem], case: Case, sheet: Sheet) -> Iterator[Candidate]:
    """The breakers of what lacks protection by where it is, with that."""
    breakers = (problem.breaker for problem in problems if isinstance(problem, Unprotected))
    for breaker in dict.fromkeys(one for one in breakers if one is not None):
        for edit in protects(breaker, case.board, sheet):
            # Of two that do, the one that does no more than is asked.
            yield Candidate(edit, 1.2 - len(edit.kinds) / 10)


def _on_screws(sheet: Sheet) -> Iterator[Candidate]:
    """The wires that are pushed into a device under its screws, or those of one line."""
    lines: dict[str, list[Change]] = {}
    for number, line in enumerate(sheet.lines):
        said = line.statement
        if not isinstance(said, JoinStatement) or line.written is not None:
            continue
        if any(option.name.text == PUSHED for option in said.options):
            written = as_join(names(said), how(said, without=PUSHED))
            device = next(end.name.within for end in reversed(said.ends) if end.name is not None)
            change = Change(number, device, PUSHED, "", "", written)
            lines.setdefault(device, []).append(change)
    for device, taken in lines.items():
        yield Candidate(OnScrews(device, tuple(taken)), 2.0)
        if len(taken) > 1:
            for change in taken:
                yield Candidate(OnScrews(device, (change,)), 0.5)


def _restores(sheet: Sheet) -> Iterator[Candidate]:
    """What was done to wires inside of equipment, undone: what hands add to a machine is at fault first."""
    for number, line in enumerate(sheet.lines):
        said = line.statement
        if isinstance(said, AlterStatement):
            points = tuple(word.text for word in said.points)
            device = said.points[0].path[0]
            yield Candidate(Restore(number, device, said.act, points), 2.0)


def _declared(one: object, case: Case) -> str:
    """What a line declares of which a thing is a part: the cable of a conductor, the device of a load."""
    if isinstance(one, Conductor):
        return one.run
    if isinstance(one, Load | Outlet):
        return case.circuit.devices[one.device].outer
    named = getattr(one, "name", None)
    return named if isinstance(named, str) else ""
