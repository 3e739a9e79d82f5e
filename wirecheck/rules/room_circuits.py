"""The receptacles of a kitchen, a bath, a laundry or a garage are on a circuit that is not for them.

A toaster, a hair dryer or a washing machine takes most of a circuit by itself. So these rooms have circuits
of 20 A for their receptacles alone, and whoever plugs in a second one does not sit in the dark.

Source: NEC 210.11(C), 210.52(B). It is asked only where a `room` line says what kind of place it is. The
inside of a cabinet, as under the sink, is a kind of its own: its receptacles are none of the counter's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from wirecheck.circuit.circuit import Load
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.inside import outlets_of
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.room_words import called
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.voltages import is_line, takes_two_hots
from wirecheck.judge.ways import way
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps
from wirecheck.model.board import Device, Join, Room
from wirecheck.tables.rooms import SPACES, asked

# The circuits of such rooms, in A.
CIRCUIT = 20.0
# The rooms whose receptacles may be on the same circuit.
TOGETHER: Mapping[str, tuple[str, ...]] = {
    "kitchen": ("kitchen", "dining-room"),
    "dining-room": ("kitchen", "dining-room"),
    "bath": ("bath", *SPACES),
    "laundry": ("laundry",),
    "garage": ("garage", "outdoors"),
}
# Rooms each of whose circuits for receptacles is such a one; the others need one of them.
ALL = ("kitchen", "dining-room")
# In these, what is wired in may be on the circuit too, where it serves that room alone.
WIRED_IN = ("bath",)
# What one message names at most.
MOST_NAMED = 4


class WrongCircuit(Problem):
    """`receptacle` of a room is on a circuit of another rating than these have, or with `strangers`."""

    receptacle: Device
    room: Room
    guard: Guarded
    strangers: tuple[Device, ...]
    source: str


class OneCircuit(Problem):
    """All receptacles of a kitchen are on one circuit."""

    receptacle: Device
    room: Room
    guard: Guarded
    source: str


def find(case: Case) -> Iterator[WrongCircuit | OneCircuit]:
    """Each room, by the circuits that feed its receptacles of 120 V."""
    for room, fed in _fed(case).items():
        source = asked(room.kind, code=case.code).own_circuit
        if not source:
            continue
        wrong = [one for guard, those in fed if (one := _wrong(case, guard, those, room, source))]
        if room.kind in ALL:
            yield from wrong
        elif len(wrong) == len(fed):
            yield wrong[0]
        if room.kind == "kitchen" and not wrong and len(fed) == 1:
            (guard, those), *_ = fed
            if len(those) > 1 and len(guard.zones) == 1:
                yield OneCircuit(
                    at=spot(those[0]),
                    about=those[0],
                    severity="advice",
                    stage="trim",
                    receptacle=those[0],
                    room=room,
                    guard=guard,
                    source=source,
                )


def _fed(case: Case) -> Mapping[Room, tuple[tuple[Guarded, tuple[Device, ...]], ...]]:
    """The circuits that feed the receptacles of 120 V of each room, with those on each."""
    rooms = case.board.rooms
    together: list[tuple[Room, tuple[Guarded, tuple[Device, ...]]]] = []
    for guard in guarded(case) if rooms else ():
        names = dict.fromkeys(case.circuit.devices[outlet.device].outer for outlet in guard.outlets)
        devices = (case.board.devices[name] for name in names)
        there = grouped(
            (rooms[one.place], one) for one in devices if one.place in rooms and _plain(case, one)
        )
        together += ((room, (guard, those)) for room, those in there.items())
    return grouped(together)


def _plain(case: Case, device: Device) -> bool:
    """Whether cords of 120 V alone go into a device: a range's or a dryer's has both voltages."""
    return not any(takes_two_hots(one.volts) for one in outlets_of(case, device))


def _wrong(
    case: Case, guard: Guarded, those: tuple[Device, ...], room: Room, source: str
) -> WrongCircuit | None:
    strangers = tuple(_strangers(case, guard, room))
    alone = guard.faces == 1 and not guard.drawers
    # A machine may have a circuit of its own beside those, as a refrigerator.
    if (guard.amps == CIRCUIT and not strangers) or (alone and room.kind in ALL):
        return None
    # On a circuit of such a room the others do not belong; of another circuit it is the room's receptacles.
    stray, rest = (strangers, those) if guard.amps == CIRCUIT else (those, strangers)
    return WrongCircuit(
        at=_brought(case, guard, stray[0], rest) or spot(stray[0] if rest else guard.holder),
        about=stray[0],
        severity="violation",
        stage="trim",
        receptacle=those[0],
        room=room,
        guard=guard,
        strangers=strangers,
        source=source,
    )


def _brought(case: Case, guard: Guarded, stray: Device, rest: Iterable[Device]) -> Spot | None:
    """The wire that goes on from the others to what does not belong with them, or the joint with theirs."""
    sources = legs(case)
    feeds = [way(case, ends, sources) for device in rest for ends in _ends(case, guard, device)]
    common = {point for feed in feeds if feed is not None for point in feed.points}
    for ends in _ends(case, guard, stray):
        found = way(case, ends, sources)
        at = next((at for at, point in enumerate(found.points) if point in common), 0) if found else 0
        if found is not None and at:
            last = case.circuit.point[found.points[at - 1]]
            joint = found.elements[at - 1]
            if last.kind == "end":
                return spot(case.board.conductors[last.owner])
            return spot(joint) if isinstance(joint, Join) else None
    return None


def _ends(case: Case, guard: Guarded, device: Device) -> Iterator[tuple[str, ...]]:
    """The points of what a device has on a circuit, each outlet and each load by itself."""
    outer = {name: one.outer for name, one in case.circuit.devices.items()}
    yield from ((one.hot,) for one in guard.outlets if outer[one.device] == device.name)
    for drawer in guard.drawers:
        if outer[drawer.device] == device.name:
            yield drawer.ends if isinstance(drawer, Load) else drawer.primary


def _strangers(case: Case, guard: Guarded, room: Room) -> Iterator[Device]:
    """What else is on the circuit and may not be. What stands where no line says may be in the room."""
    rooms, together = case.board.rooms, TOGETHER[room.kind]
    told: dict[str, None] = {}
    for outlet in guard.outlets:
        device = case.board.devices[case.circuit.devices[outlet.device].outer]
        if device.place in rooms and rooms[device.place].kind not in together:
            told[device.name] = None
    for drawer in guard.drawers:
        device = case.board.devices[case.circuit.devices[drawer.device].outer]
        volts = drawer.volts if isinstance(drawer, Load) else drawer.primary_volts
        there = rooms.get(device.place, room)
        here = there == room or there.kind in SPACES
        if is_line(case, volts) and not device.part.outlets and not (room.kind in WIRED_IN and here):
            told[device.name] = None
    yield from (case.board.devices[name] for name in told)


def words(problem: WrongCircuit | OneCircuit, case: Case) -> Words:
    """Which circuit feeds what, and what these rooms have."""
    guard, kind = problem.guard, called(problem.room.kind)
    if isinstance(problem, OneCircuit):
        return Words(
            message=f"All receptacles of the {kind} on this board are on {guard.name}. A {kind} has two such "
            "circuits at least.",
            help="Divide them between two circuits, or see to the other one in the rest of the house.",
            source=problem.source,
        )
    others = listed((one.name for one in problem.strangers), MOST_NAMED)
    if guard.amps == CIRCUIT:
        are = "is" if len(problem.strangers) == 1 else "are"
        said = f"{others} {are} on {guard.name} with {problem.receptacle.name} in the {kind}"
        remedy = f"Put {problem.strangers[0].name} on another circuit."
    else:
        said = f"{problem.receptacle.name} in the {kind} is on {guard.name}, a {amps(guard.amps)} circuit"
        said += f" that feeds {others} too" if others else ""
        remedy = f"Feed it from a {amps(CIRCUIT)} breaker over 12 AWG copper."
    device = case.board.devices[problem.subject]
    return Words(
        message=f"{said}. The receptacles of a {kind} have a circuit of {amps(CIRCUIT)} for themselves.",
        help=remedy,
        source=problem.source,
        also=(Note(f"{device.name} is here", device.span),) if device.span != problem.at.span else (),
    )


RULE = rule(__name__, "trim", severities=("violation", "advice"), find=find, words=words)
