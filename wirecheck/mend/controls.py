"""What hands do wrong with a control: in which wire it is, what is on its wrong side, what is left off it."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from wirecheck.circuit.circuit import COILS
from wirecheck.language.syntax import Runs
from wirecheck.mend.bench import FED, LIKE, SUITS, Item, suits
from wirecheck.mend.candidate import Candidate
from wirecheck.mend.edits import Behind, Exchange, ExchangeAll, IntoWire, Move, Tail, Unbridge
from wirecheck.model.board import Board, Device
from wirecheck.parts.part import TRIED, Carried

# How likely a contact is left off on one side, that shares no screw with another; and how likely what is on
# two of the throws of one, as the two sides of a clock, is swapped.
HALF = 1.0
THROWS = 1.5
# How likely what a jumper goes to belongs on the load of a fuse that is fed, and that nothing is on.
ONTO_FUSE = 2.5
# How likely what is on one contact of a blamed device belongs on another of it, beside, that nothing is on.
OTHER_CONTACT = 4.0
# How much likelier what a call goes around belongs in the wire by which the call comes.
COMES = 0.1
# How much likelier, where what lies idle is for that very call, in and out.
GOES_AROUND = 2.5
# How much likelier two wires to one device belong in another where both are capped: it was gone around.
BOTH_CAPPED = 1.0
# How much likelier it is, where that side is the one throw of a changeover that nothing is on.
LACKS_A_WIRE = 0.5
# How likely what hangs on the feed of a clock, of a contactor, or of another control of line voltage, belongs
# behind it.
PAST_A_CLOCK = 1.0
# With more idle screws or wires than this in one place, nothing says which two of them belong in a wire.
MOST_IDLE = 8
# How likely what a blamed control should stop, or wait for, is on the wrong side of it.
PASSED = 1.5
# How much likelier that is, where nothing at all is on that side of it.
EMPTY = 1.5
# With more than this in one join with both ends of a contact, there are too many ways to part it.
MOST_BRIDGED = 4
# How much likelier a control belongs in the way of a lead of what takes power, as a coil, than of a wire.
OF_LOADS = 0.8
# How much less likely a control belongs on the side of a coil that its own holding contact is on: that of an
# overload stands between the coil and the other line (common practice).
OTHER_SIDE = 0.2
# How much likelier a control belongs in the way of a wire that is joined with it already.
BESIDE = 0.3
# What a wire carries in which a safety stops the wrong thing, or nothing.
NO_STOP: frozenset[str] = frozenset[Carried](("common", "fan"))


def half_joined(
    device: Device,
    listed: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
) -> Iterator[Candidate]:
    """A tail or jumper to a screw with nothing on it; the other side of its contact has something."""
    pairs = _contacts(device)
    ends = [end for pair in pairs for end in pair]
    for pair in pairs:
        alone = HALF * (ends.count(pair[0]) == ends.count(pair[1]) == 1 and _are_outlets(device, pair))
        for screw, other in (pair, pair[::-1]):
            if not here.keys() >= set(pair) or here[screw].company or not here[other].company:
                continue
            for beside in listed:
                one_of_all = not any(one < beside.name and here[one].is_end for one in beside.company)
                if beside.is_end and beside.company and one_of_all and beside.purpose != "ground":
                    edit = Tail(beside.place, beside.name, screw)
                    yield Candidate(edit, SUITS + alone + (warm[screw] + warm[beside.name]) / 2)
            yield from _jumpers_to(here[screw], listed, here, warm)


def _jumpers_to(
    screw: Item, listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """A jumper between two devices, to a screw of a third: that of a capacitor, to the contact of a relay."""
    for end in listed:
        if end.is_end or len(end.company) != 1 or end.purpose != screw.purpose:
            continue
        beside = here[end.company[0]]
        if not beside.is_end and beside.owner != end.owner and screw.owner not in (beside.owner, end.owner):
            edit = Tail(end.place, screw.name, end.name, leaves=beside.name)
            yield Candidate(edit, warm[end.name] + warm[screw.name] / 2)


def throws(device: Device, here: Mapping[str, Item], warm: Mapping[str, float]) -> Iterator[Candidate]:
    """What is on two throws of a control, each where the other is.

    Either traveler of a switch does, and hands go by letters where there are some.
    """
    if device.part.moved_by in TRIED and not device.part.loads:
        return
    for (_, first), (_, second) in _of_one_screw(_contacts(device)):
        if not here.keys() >= {first, second} or not _are_outlets(device, (first, second)):
            continue
        pair = [here[first], here[second]]
        wires = [here[one.company[0]] for one in pair if len(one.company) == 1]
        if len(wires) == 2 and all(wire.is_end for wire in wires):
            pair = wires
        if any(one.company for one in pair):
            weight = THROWS + (warm[first] + warm[second]) / 2
            yield Candidate(Exchange(pair[0].place, pair[0].name, pair[1].name), weight)


def other_contact(device: Device, here: Mapping[str, Item], blamed: float) -> Iterator[Candidate]:
    """What is on the screws of a contact, on those of another one of its device that nothing is on.

    An overload relay has one that opens as it trips, and beside it one that closes.
    """
    for one, other in itertools.permutations(_contacts(device), 2):
        screws = {*one, *other}
        if not blamed or len(screws) < 4 or not here.keys() >= screws or not _are_outlets(device, screws):
            continue
        if all(here[name].company for name in one) and not any(here[name].company for name in other):
            edit = ExchangeAll(here[one[0]].place, tuple(zip(one, other, strict=True)))
            yield Candidate(edit, OTHER_CONTACT + blamed)


def onto_fuse(
    device: Device, listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """What a jumper goes to, on the side of a fuse that nothing is on, and whose other side is fed."""
    pairs = [pair for one in device.part.protections for pair in one.pairs]
    if len(pairs) != 1 or device.part.outlets or device.part.loads:
        return
    line, load = (f"{device.name}.{name}" for name in pairs[0])
    if not here.keys() >= {line, load} or not here[line].company or here[load].company:
        return
    for one in listed:
        if one.is_end or one.is_bar or one.owner == device.name or len(one.company) != 1:
            continue
        if one.purpose == here[load].purpose and not here[one.company[0]].is_end:
            edit = Tail(one.place, load, one.name, leaves=one.company[0])
            yield Candidate(edit, ONTO_FUSE + warm[one.name])


def _are_outlets(device: Device, screws: Iterable[str]) -> bool:
    """Whether all are screws of contacts, and of no letters."""
    specs = {f"{device.name}.{name}": spec for name, spec in device.part.terminals.items()}
    return all(specs[screw].role in ("contact", "switched") for screw in screws)


def _of_one_screw(pairs: Sequence[tuple[str, str]]) -> Iterator[tuple[tuple[str, str], tuple[str, str]]]:
    """Each two contacts that have a screw in common, that screw first."""
    turned = [*pairs, *(pair[::-1] for pair in pairs)]
    for one, other in itertools.combinations(turned, 2):
        if one[0] == other[0]:
            yield one, other


def into_idle(
    listed: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    leads_to: Mapping[str, str],
    calling: frozenset[str],
) -> Iterator[Candidate]:
    """Two idle screws of a device, or two idle wires that lead to one, in the way of a wire that goes past.

    `leads_to` is the device of a screw, and where the other end of a wire is; `calling` are the wires to a
    thermostat or the like, by which a call comes: it comes in by a screw that stands before the one by which
    it goes out.
    """
    idle = [one for one in listed if not one.company and not one.is_bar and one.name in leads_to]
    idle = [one for one in idle if one.purpose not in ("neutral", "ground")]
    if len(idle) > MOST_IDLE:
        return
    for one, other in itertools.permutations(idle, 2):
        if one.is_end != other.is_end or leads_to[one.name] != leads_to[other.name]:
            continue
        if one.purpose is None and not (one.carries & other.carries or (one.capped and other.capped)):
            continue  # the call that comes in by one goes out by the other
        comes_in = one.stands is not None and other.stands is not None and other.stands < one.stands
        for wire in listed:
            power = wire.purpose is not None
            if not wire.is_end or not wire.company or wire.purpose == "ground":
                continue
            if {power} != {each.purpose is not None for each in (one, other)} and not wire.carries:
                continue
            weight = (warm[one.name] + warm[other.name] + warm[wire.name]) / 2
            weight += (suits(one, wire.company, here) + suits(other, (wire.name,), here)) / 2
            weight += (COMES + COMES / 2 * comes_in) * (wire.name in calling)
            weight += GOES_AROUND * bool(one.carries & other.carries & wire.carries)
            weight += BOTH_CAPPED * (one.capped and other.capped)
            weight -= FED * (None not in (other.feeds, wire.feeds) and other.feeds != wire.feeds)
            yield Candidate(IntoWire(wire.place, one.name, other.name, wire.name), weight)


def past_contacts(
    device: Device, here: Mapping[str, Item], warm: Mapping[str, float], named: Mapping[str, float]
) -> Iterator[Candidate]:
    """What is on one side of a contact, on its other side: it goes past it, or waits for it.

    `named` is how much the problems point at devices and contacts, by name.
    """
    blamed = named.get(device.name, 0.0)
    control = bool(blamed) and any(of_control(device))
    clock = bool(device.part.calls) or any(isinstance(one.when, Runs) for one in device.part.contacts)
    left_out = _left_out(device, here)
    for (first, second), contact in _by_screws(device).items():
        if first not in here or second not in here:
            continue
        likely = PASSED if control or contact in named else 0.3
        for near, far in ((first, second), (second, first)):
            for name in here[near].company:
                alone = len(here[near].company) < 2
                if name == far or name in here[far].company or alone:
                    continue
                one = here[name]
                # What stands before the clock of a machine, and should be behind it.
                weight = max(likely, PAST_A_CLOCK * (clock and here[near].purpose == "hot"))
                weight += max(blamed, warm[name])
                weight += EMPTY * (likely == PASSED and not here[far].company)
                weight += LACKS_A_WIRE * (not here[far].company and (near, far) in left_out)
                if one.is_end:
                    yield Candidate(Move(one.place, name, far), weight)
                elif one.owner != device.name:
                    wire = next((each for each in here[far].company if here[each].is_end), None)
                    # A lead on the screw is spliced with; a screw there has no room for two.
                    for beside in (far, *here[far].company[:1]) if wire is None else (wire,):
                        yield Candidate(Tail(one.place, beside, name, leaves=near), weight)
                    if wire is None and here[far].company:
                        yield Candidate(Tail(one.place, far, name, leaves=near, lead=True), weight)
            others = [here[name] for name in here[near].company]
            past = [one.name for one in others if not one.is_end and one.owner != device.name]
            if clock and here[near].purpose == "hot" and not here[far].company and len(past) > 1:
                weight = PAST_A_CLOCK + max(blamed, *(warm[name] for name in past))
                yield Candidate(Behind(here[near].place, tuple(past), near, far), weight)


def past_several(
    devices: Sequence[Device],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    named: Mapping[str, float],
) -> Iterator[Candidate]:
    """What goes past several controls in series, on the far screw of the last, which nothing is on."""
    across = {
        near: far
        for device in devices
        for pair in of_control(device)
        for near, far in (pair, pair[::-1])
        if here.keys() >= set(pair)
    }
    for near, behind in across.items():
        passed, last = 1, behind
        while len(here[last].company) == 1 and here[last].company[0] in across and passed <= len(across):
            passed, last = passed + 1, across[here[last].company[0]]
        if passed < 2 or here[last].company or len(here[near].company) < 2:
            continue
        blamed = max(named.get(here[screw].owner, 0.0) for screw in (near, last))
        for name in here[near].company:
            one = here[name]
            if name in across or one.owner == here[near].owner:
                continue
            weight = PASSED + EMPTY + max(blamed, warm[name])
            if one.is_end:
                yield Candidate(Move(one.place, name, last), weight)
            else:
                yield Candidate(Tail(one.place, last, name, leaves=near), weight)


def behind_idle(
    device: Device,
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    blamed: float,
    takes: frozenset[str],
) -> Iterator[Candidate]:
    """What takes power and hangs elsewhere, on the empty far side of a control that should stop it.

    `takes` are the leads of what takes power.
    """
    for pair in of_control(device) if blamed else ():
        for fed, empty in (pair, pair[::-1]):
            if not here.keys() >= set(pair) or here[empty].company or not here[fed].company:
                continue
            for name in sorted(takes & here.keys()):
                one = here[name]
                if one.company and fed not in one.company and one.owner != device.name:
                    edit = Tail(one.place, empty, name, leaves=one.company[0])
                    yield Candidate(edit, PASSED + EMPTY + max(blamed, warm[name]))


def _left_out(device: Device, here: Mapping[str, Item]) -> set[tuple[str, str]]:
    """The common of a changeover with each throw that nothing is on, where something is on another throw."""
    pairs = [pair for pair in _contacts(device) if here.keys() >= set(pair)]
    both = [each for two in _of_one_screw(pairs) for each in (two, two[::-1])]
    return {bare for used, bare in both if here[used[1]].company and not here[bare[1]].company}


def off_bridged(
    device: Device, listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """A screw of a contact out of the join with its other side, to a splice or to screws without a wire."""
    for pair in _contacts(device):
        if not here.keys() >= set(pair) or pair[1] not in here[pair[0]].company:
            continue
        for screw, near in (pair, pair[::-1]):
            for to in listed:
                known = {to.name, *to.company}
                first = not any(one < to.name for one in to.company if here[one].is_end == to.is_end)
                if not to.company or not known.isdisjoint(pair) or to.is_bar or not first:
                    continue
                if to.purpose in ("neutral", "ground") or (
                    not to.is_end and any(here[one].is_end for one in known)
                ):
                    continue
                weight = HALF + warm[screw] + warm[to.name] / 2
                yield Candidate(Tail(to.place, to.name, screw, leaves=near), weight)


def unbridged(
    pair: tuple[str, str], here: Mapping[str, Item], warm: Mapping[str, float], blamed: float
) -> Iterator[Candidate]:
    """A join that holds both ends of a contact, parted between them in each way."""
    if not here.keys() >= set(pair) or pair[1] not in here[pair[0]].company:
        return
    near, far = pair
    beside_near = here[near].company
    others = [name for name in beside_near if name in here[far].company]
    before = [name for name in beside_near[: beside_near.index(far)] if name in others]
    if not 1 < len(others) <= MOST_BRIDGED:
        return
    for count in range(1, len(others)):
        for beside in itertools.combinations(others, count):
            stay = [name for name in others if name not in beside]
            gain = suits(here[near], stay, here) + suits(here[far], beside, here)
            # What a line names before the contact likely comes to its first screw.
            weight = PASSED + blamed + max(warm[near], warm[far]) + gain / 4 + 0.1 * (stay == before)
            yield Candidate(Unbridge(here[near].place, near, far, beside), weight)


def into_way(
    pair: tuple[str, str],
    owner: str,
    joined: Sequence[Item],
    warm: Mapping[str, float],
    blamed: float,
    takes: frozenset[str],
    held: frozenset[str],
) -> Iterator[Candidate]:
    """The two screws of a control, in the way of each wire, screw and lead of its place that `joined` has.

    `takes` are the leads of what takes power, as a coil; `held` those of coils on the side of their buttons.
    """
    first, second = pair
    on = {item.name: item for item in joined if item.name in (first, second)}
    idle = len(on) < 2 or second in on[first].company
    others = [set(item.company) - {first, second} for item in on.values()]
    lies = (False, True) if len(others) == 2 and all(others) and others[0].isdisjoint(others[1]) else (False,)
    for wire in joined:
        if wire.is_bar or wire.name in (first, second) or wire.owner == owner:
            continue
        if wire.purpose in ("neutral", "ground") or (wire.company and set(wire.company) <= {first, second}):
            continue
        weight = blamed + warm[wire.name] / 2 + 0.5 * idle - 0.5
        weight += OF_LOADS * (1 + blamed) * (wire.name in takes) - LIKE * bool(wire.carries & NO_STOP)
        weight -= OTHER_SIDE * (wire.name in held)
        for one, other in ((first, second), (second, first)):
            feeds = on[other].feeds if other in on else None
            if feeds is None and one == second:
                continue  # it has no line and no load: either way is one
            # The feed comes to its line; a load comes to its load.
            turned = feeds is not None and wire.feeds is not None and (feeds == wire.feeds) != wire.is_end
            for across in lies:
                edit = IntoWire(wire.place, one, other, wire.name, across)
                yield Candidate(edit, weight - FED * turned)


def off_past(
    ends: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float], blamed: float
) -> Iterator[Candidate]:
    """What is spliced with one end of a cable to a contact, on its other end, which idles: it goes past."""
    for used, idle in (ends, ends[::-1]):
        if idle.company or not used.company:
            continue
        for name in with_it(used, here) - {used.name}:
            one = here[name]
            if one.is_end and one.owner != used.owner and len(with_it(used, here)) > 2:
                weight = PASSED * bool(blamed) + max(blamed, warm[name])
                weight += (suits(one, (idle.name,), here) - suits(one, one.company, here)) / 2
                yield Candidate(Move(one.place, name, idle.name), weight)


def into_wires(
    pair: Sequence[Item],
    joined: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    blamed: float,
) -> Iterator[Candidate]:
    """The two ends of a cable to a contact, in the way of each other wire.

    What carries the common, or the call for the fan alone, is no place for what should stop a machine.
    """
    one, other = (item.name for item in pair)
    stands = frozenset(here[name].carries for end in pair for name in end.company if name not in (one, other))
    wrong = LIKE if any(carried and carried <= NO_STOP for carried in stands) else 0.0
    if other in pair[0].company:
        wrong = -SUITS  # it is joined to itself: it stops nothing, wherever it is
    # With others at both its ends it may lie across two wires, and not in the way of one.
    others = [with_it(end, here) - {one, other} for end in pair]
    lies = (False, True) if min(map(len, others)) > 1 and others[0].isdisjoint(others[1]) else (False,)
    likely = (warm[one] + warm[other]) / 2 - 1 + 0.4 * blamed + wrong
    for wire in joined:
        of_a_kind = (wire.purpose is None) == (pair[0].purpose is None)
        if not wire.is_end or wire.name in (one, other) or not of_a_kind:
            continue
        weight = likely - (LIKE if wire.carries & NO_STOP else 0.0)
        # It lies beside the wire that it belongs in the way of.
        weight += BESIDE * any(wire.name in each for each in others)
        for first, second, across in itertools.product((one, other), (one, other), lies):
            if first != second:
                yield Candidate(IntoWire(wire.place, first, second, wire.name, across), weight)


def coils_beside(
    devices: Sequence[Device],
    here: Mapping[str, Item],
    blamed: Collection[str],
    leads_to: Mapping[str, str],
) -> dict[str, frozenset[str]]:
    """The ends of coils of relays whose contacts are joined with something that is blamed.

    Each with the places that the wires lead to that the other end of its coil is joined with.
    """
    found = {}
    for device in devices:
        screws = {name for pair in _contacts(device) for name in pair}
        beside = {here[one].owner for name in screws if name in here for one in here[name].company}
        if device.name in blamed or beside.isdisjoint(blamed):
            continue
        for load in (load for load in device.part.loads if load.kind in COILS):
            ends = (f"{device.name}.{load.a}", f"{device.name}.{load.b}")
            for end, other in (ends, ends[::-1]):
                wires = here[other].company if other in here else ()
                found[end] = frozenset(leads_to[one] for one in wires if one in leads_to and here[one].is_end)
    return found


def with_it(end: Item, here: Mapping[str, Item]) -> set[str]:
    """What an end is joined with, and what else is on a screw of that."""
    more = (here[one].company for one in end.company if not here[one].is_end)
    return set(end.company).union(*more)


def leads(devices: Iterable[Device]) -> tuple[frozenset[str], frozenset[str]]:
    """The leads of what takes power, and those of what only helps it start: no control stops it there."""
    takes: set[str] = set()
    starts: set[str] = set()
    for device in devices:
        for load in device.part.loads:
            helps = load.kind == "capacitor" or "winding" in load.flags
            (starts if helps else takes).update(f"{device.name}.{end}" for end in (load.a, load.b))
    return frozenset(takes), frozenset(starts - takes)


def held_leads(devices: Iterable[Device], here: Mapping[str, Item]) -> frozenset[str]:
    """The leads of coils on the copper of a contact of their own that holds them in, and is no line."""
    found: set[str] = set()
    for device in devices:
        pairs = [pair for pair in _contacts(device) if _are_outlets(device, pair)]
        contacts = {here[name].copper for pair in pairs for name in pair if name in here}
        coils = (load for load in device.part.loads if load.kind in COILS)
        ends = (f"{device.name}.{end}" for load in coils for end in (load.a, load.b))
        found.update(end for end in ends if end in here and here[end].copper in contacts)
    return frozenset(found)


def _contacts(device: Device) -> list[tuple[str, str]]:
    """The screws of a device in pairs, with a contact of its own between them."""
    return list(_by_screws(device))


def _by_screws(device: Device) -> dict[tuple[str, str], str]:
    """The contacts of a device between two screws of its own, by those."""
    screws = device.part.terminals
    pairs = ((one.a, one.b) for one in device.part.contacts if one.a in screws and one.b in screws)
    return {(f"{device.name}.{a}", f"{device.name}.{b}"): f"{device.name}.{a}--{b}" for a, b in pairs}


def of_control(device: Device) -> Iterator[tuple[str, str]]:
    """The two screws of what takes no power, and is in the way of something: a button, a limit."""
    if device.part.loads:
        return
    pairs = _contacts(device)
    specs = {f"{device.name}.{name}": spec for name, spec in device.part.terminals.items()}
    moves = bool(device.part.calls) or device.part.moved_by not in TRIED
    for pair in pairs:
        told = [specs[screw] for screw in pair]
        dry = all(one.role == "contact" and "optional" not in one.flags for one in told)
        if dry or (moves and len(pairs) == 1):
            yield pair


def switches_that_wait(board: Board, here: Mapping[str, Item]) -> list[tuple[str, str]]:
    """The two screws of each switch of a place that have nothing on them: power wires wait there for it."""
    names = {item.owner for item in here.values() if not item.is_end}
    devices = (board.devices[name] for name in names if name in board.devices)
    switches = (one for one in devices if one.part.moved_by == "hand" and not one.part.calls)
    pairs = (pair for one in switches for pair in _contacts(one) if here.keys() >= set(pair))
    return sorted(pair for pair in pairs if not any(here[screw].company for screw in pair))


def contact_of(ends: Sequence[Item], board: Board) -> Device | None:
    """The float switch, button or other contact that a cable's two wires go to, and to nothing else."""
    if any(end.purpose == "ground" for end in ends):
        return None
    wires = [board.conductors[end.wire] for end in ends]
    far = {place for wire in wires for place in wire.places} - {ends[0].place}
    there = [device for device in board.devices.values() if device.place in far]
    if len(there) != 1:
        return None
    (device,) = there
    if device.children and all(end.purpose is None for end in ends):
        return _inside(device)
    if device.part.loads:
        return None
    screws = device.part.terminals.keys()
    return device if any({one.a, one.b} <= screws for one in device.part.contacts) else None


def _inside(device: Device) -> Device | None:
    """The one control inside of a machine that opens by itself, and that screws of no letter are for."""
    controls = [one for one in device.children if one.part.moved_by not in TRIED and not one.part.loads]
    low = [one for one in device.part.terminals.values() if one.role == "class-2"]
    return controls[0] if len(controls) == 1 and low and not any(one.carries for one in low) else None
