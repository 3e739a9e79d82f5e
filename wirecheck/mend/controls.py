"""What hands do wrong with a control: in which wire it is, what is on its wrong side, what is left off it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence

from wirecheck.mend.bench import FED, LIKE, SUITS, Item
from wirecheck.mend.candidate import Candidate
from wirecheck.mend.edits import IntoWire, Move, Tail
from wirecheck.model.board import Board, Device
from wirecheck.parts.part import TRIED, Carried

# How likely what a blamed control should stop, or wait for, is on the wrong side of it.
PASSED = 1.5
# How much likelier a control belongs in the way of a lead of what takes power, as a coil, than of a wire.
OF_LOADS = 0.8
# What a wire carries in which a safety stops the wrong thing, or nothing.
NO_STOP: frozenset[str] = frozenset[Carried](("common", "fan"))


def half_joined(
    device: Device,
    listed: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    used: frozenset[str],
) -> Iterator[Candidate]:
    """A tail to a screw with nothing on it, where the other side of its contact has something."""
    for pair in _contacts(device):
        for screw, other in (pair, pair[::-1]):
            if screw in used or other not in used or screw not in here:
                continue
            for beside in listed:
                one_of_all = not any(one < beside.name and here[one].is_end for one in beside.company)
                if beside.is_end and beside.name in used and one_of_all:
                    edit = Tail(beside.place, beside.name, screw)
                    yield Candidate(edit, SUITS + (warm[screw] + warm[beside.name]) / 2)


def past_contacts(
    device: Device, here: Mapping[str, Item], warm: Mapping[str, float], blamed: float
) -> Iterator[Candidate]:
    """What is on one side of a contact, on its other side: it goes past it, or waits for it."""
    likely = PASSED if blamed and any(of_control(device)) else 0.3
    for first, second in _contacts(device):
        if first not in here or second not in here:
            continue
        for near, far in ((first, second), (second, first)):
            for name in here[near].company:
                if name == far or name in here[far].company or len(here[near].company) < 2:
                    continue
                one = here[name]
                weight = likely + max(blamed, warm[name])
                if one.is_end:
                    yield Candidate(Move(one.place, name, far), weight)
                elif one.owner != device.name:
                    beside = next((each for each in here[far].company if here[each].is_end), far)
                    yield Candidate(Tail(one.place, beside, name, leaves=near), weight)


def into_way(
    pair: tuple[str, str],
    owner: str,
    joined: Sequence[Item],
    warm: Mapping[str, float],
    blamed: float,
    takes: frozenset[str],
) -> Iterator[Candidate]:
    """The two screws of a control, in the way of each wire, screw and lead of its place that `joined` has.

    `takes` are the leads of what takes power, as a coil.
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
        for one, other in ((first, second), (second, first)):
            feeds = on[other].feeds if other in on else None
            if feeds is None and one == second:
                continue  # it has no line and no load: either way is one
            # The feed comes to its line; a load comes to its load.
            turned = feeds is not None and wire.feeds is not None and (feeds == wire.feeds) != wire.is_end
            for across in lies:
                edit = IntoWire(wire.place, one, other, wire.name, across)
                yield Candidate(edit, weight - FED * turned)


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
    others = [set(end.company) - {one, other} for end in pair]
    lies = (False, True) if min(map(len, others)) > 1 and others[0].isdisjoint(others[1]) else (False,)
    likely = (warm[one] + warm[other]) / 2 - 1 + 0.4 * blamed + wrong
    for wire in joined:
        of_a_kind = (wire.purpose is None) == (pair[0].purpose is None)
        if not wire.is_end or wire.name in (one, other) or not of_a_kind:
            continue
        weight = likely - (LIKE if wire.carries & NO_STOP else 0.0)
        for first, second, across in itertools.product((one, other), (one, other), lies):
            if first != second:
                yield Candidate(IntoWire(wire.place, first, second, wire.name, across), weight)


def leads(devices: Iterable[Device]) -> tuple[frozenset[str], frozenset[str]]:
    """The leads of what takes power, and those of what only helps it start: no control stops it there."""
    takes: set[str] = set()
    starts: set[str] = set()
    for device in devices:
        for load in device.part.loads:
            helps = load.kind == "capacitor" or "winding" in load.flags
            (starts if helps else takes).update(f"{device.name}.{end}" for end in (load.a, load.b))
    return frozenset(takes), frozenset(starts - takes)


def _contacts(device: Device) -> list[tuple[str, str]]:
    """The screws of a device in pairs, with a contact of its own between them."""
    screws = device.part.terminals
    pairs = ((one.a, one.b) for one in device.part.contacts if one.a in screws and one.b in screws)
    return [(f"{device.name}.{a}", f"{device.name}.{b}") for a, b in dict.fromkeys(pairs)]


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


def contact_of(ends: Sequence[Item], board: Board) -> Device | None:
    """The float switch, button or other contact that a cable's two wires go to, and to nothing else."""
    if any(end.purpose == "ground" or not end.company for end in ends):
        return None
    wires = [board.conductors[end.name] for end in ends]
    far = {place for wire in wires for place in wire.places} - {ends[0].place}
    there = [device for device in board.devices.values() if device.place in far]
    if len(there) != 1 or there[0].part.loads:
        return None
    screws = there[0].part.terminals.keys()
    return there[0] if any({one.a, one.b} <= screws for one in there[0].part.contacts) else None
