"""Motors on three phases: every mistake of the hand on their wires, their grounds, ratings and settings.

The oracle is a bench of its own: it presses the buttons one after another, trips the overload relay, opens
the disconnect, and notes each time which lines come to the motor, in which order. A mutant that does what the
right board does, with its wires under screws that take them, works as before. It knows nothing of phasors or
of the rules.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

import networkx

from tests.boards.hookups import loose
from tests.boards.mutations import (
    Mutant,
    cable_size,
    end_capped,
    end_left_loose,
    end_moved,
    ends_exchanged,
    join_forgotten,
)
from tests.boards.oracle import (
    GROUND_COLORS,
    GROUND_OF,
    NEUTRAL_MARKS,
    OHMS,
    STANDARD,
    Verdict,
    said,
)
from tests.boards.work import Join, Work

Pairs = tuple[tuple[str, str], ...]
LINES: Pairs = (("L1", "T1"), ("L2", "T2"), ("L3", "T3"))


@dataclass(frozen=True)
class Stand:
    """A device: what it joins always, in each position (the first is rest), with its coil in, and without.

    Of its screws, by what they are for: the thinnest and the thickest wire, how many, and their temperature.
    A `motor` has the three screws that its lines come to; a `winding` has a primary and a secondary. What has
    a `plate` says by it the least amperes of its wires, its largest breaker, and what it draws.
    """

    power: tuple[str, ...] = ()
    control: tuple[str, ...] = ()
    takes: tuple[str, str, int] = ("14", "4", 1)
    inside: Pairs = ()
    positions: Mapping[str, Pairs] = field(default_factory=dict)
    coil: tuple[str, str] | None = None
    pulled: Pairs = ()
    resting: Pairs = ()
    heaters: Pairs = ()
    motor: tuple[str, str, str] | None = None
    winding: tuple[tuple[str, str], tuple[str, str]] | None = None
    ground: bool = False
    plate: tuple[float, float, float] | None = None


DISCONNECT = tuple((f"line-{pole}", f"load-{pole}") for pole in (1, 2, 3))
STANDS = {
    "disconnect-3-pole": Stand(
        tuple(end for pair in DISCONNECT for end in pair),
        takes=("14", "4", 1),
        positions={"on": DISCONNECT, "off": ()},
        ground=True,
    ),
    "contactor-3-pole": Stand(
        tuple(end for pair in LINES for end in pair),
        ("A1", "A2", "13", "14", "21", "22"),
        takes=("14", "4", 2),
        coil=("A1", "A2"),
        pulled=(*LINES, ("13", "14")),
        resting=(("21", "22"),),
    ),
    "overload-relay": Stand(
        tuple(end for pair in LINES for end in pair),
        ("95", "96"),
        positions={"closed": (("95", "96"),), "tripped": ()},
        heaters=LINES,
    ),
    "stop-button": Stand(control=("a", "b"), positions={"released": (("a", "b"),), "pressed": ()}),
    "start-button": Stand(control=("a", "b"), positions={"released": (), "pressed": (("a", "b"),)}),
    "fuse": Stand(("line", "load"), takes=("18", "10", 1), inside=(("line", "load"),)),
    "control-transformer": Stand(
        ("H1", "H2"),
        ("X1", "X2"),
        takes=("18", "12", 1),
        winding=(("H1", "H2"), ("X1", "X2")),
        ground=True,
    ),
    "three-phase-motor": Stand(
        ("T1", "T2", "T3"), takes=("18", "4", 99), motor=("T1", "T2", "T3"), ground=True
    ),
    "rooftop-unit": Stand(
        ("L1", "L2", "L3"),
        takes=("14", "4", 1),
        motor=("L1", "L2", "L3"),
        ground=True,
        plate=(39.8, 60, 34.2),
    ),
    "heat-cool-thermostat": Stand(),
}
# What the screws of control circuits take, and how many.
CONTROL = ("18", "12", 2)
# The volts between two lines; a coil of theirs pulls in from 85 % of its own, and burns above 110 %.
VOLTS = {"208Y/120": 208.0, "480Y/277": 480.0}
SECONDARY = 120.0
# Table 430.250, from memory: amperes by the horsepower and the volts.
FULL_LOAD = {(1, 208): 4.6, (5, 208): 16.7, (10, 480): 14.0}
HORSEPOWER = 745.7
# Table 310.16, copper: at 60 C and at 75 C.
CARRIES = {"14": (15, 20), "12": (20, 25), "10": (30, 35), "8": (40, 50), "6": (55, 65)}
TURNS_FORWARD = {("a", "b", "c"), ("b", "c", "a"), ("c", "a", "b")}


def starts(work: Work) -> bool:
    """Whether a board has a motor on three phases, and every device of it is known here."""
    parts = {device.part for device in work.devices}
    return parts <= STANDS.keys() and any(STANDS[part].motor for part in parts)


class Bench:
    """A board, and what one press after another does on it."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self.stands = {device.name: STANDS[device.part] for device in work.devices}
        self.wires = work.conductors()
        self.graph = networkx.Graph()
        for device, stand in self.stands.items():
            screws = (*stand.power, *stand.control, "ground")
            self.graph.add_nodes_from(f"{device}.{screw}" for screw in screws)
            self.graph.add_edges_from(_named(device, stand.inside))
        self.ends: dict[str, list[str]] = {name: [] for name in self.wires}
        for number, join in enumerate(work.joins):
            points = []
            for name, _ in join.members:
                if name in self.ends:
                    # A wire within a box has both of its ends there, in two joins.
                    points.append(f"{name} in {number}")
                    self.ends[name].append(points[-1])
                elif name:
                    points.append(name)
            self.graph.add_nodes_from(points)
            self.graph.add_edges_from(itertools.pairwise(points))
        for ends in self.ends.values():
            self.graph.add_edges_from(itertools.pairwise(ends))
        self.legs: dict[str, str] = {}
        self.volts = VOLTS[next(iter(work.panels.values()))]
        for panel in work.panels:
            self.legs[f"{panel}.ground"] = self.legs[f"{panel}.neutral"] = "earth"
        for breaker in work.breakers:
            self.legs |= {f"{breaker.name}.{leg}": leg for leg in "abc"}
        self.graph.add_nodes_from(self.legs)
        # The frames in a metal box, and the two bars of the service, are one.
        self.graph.add_edges_from(itertools.pairwise([leg for leg, of in self.legs.items() if of == "earth"]))
        self.moved: dict[str, str] = {}
        self.earthed: dict[str, bool] = {}
        self.pulled: set[str] = set()
        self.weighed: set[tuple[str, tuple[str, ...]]] = set()
        self.hazards: set[str] = set()
        self.unsure = False

    def closed(self, heaters: bool = True) -> networkx.Graph:
        """All that conducts as it stands."""
        graph = self.graph.copy()
        for device, stand in self.stands.items():
            if stand.positions:
                position = self.moved.get(device, next(iter(stand.positions)))
                graph.add_edges_from(_named(device, stand.positions[position]))
            in_now = device in self.pulled
            graph.add_edges_from(_named(device, stand.pulled if in_now else stand.resting))
            if heaters:
                graph.add_edges_from(_named(device, stand.heaters))
        return graph

    def brought(self, graph: networkx.Graph) -> dict[str, str]:
        """The leg, or the side of a transformer, that comes to each point."""
        sources = dict(self.legs)
        told = self._spread(graph, sources)
        for device, stand in self.stands.items():
            if stand.winding is not None:
                (one, other), (near, far) = stand.winding
                legs = {told.get(f"{device}.{one}"), told.get(f"{device}.{other}")}
                if len(legs - {None, "earth"}) == 2:
                    # A side that is grounded is at earth, and the other one has its volts to that.
                    sides = {f"{device}.{near}": f"{device} near", f"{device}.{far}": f"{device} far"}
                    floating = {end: side for end, side in sides.items() if told.get(end) != "earth"}
                    if not floating:
                        self.hazards.add(f"{device} is shorted by way of earth")
                    self.earthed[device] = len(floating) == 1
                    sources |= floating
        return self._spread(graph, sources)

    def _spread(self, graph: networkx.Graph, sources: Mapping[str, str]) -> dict[str, str]:
        told: dict[str, str] = {}
        for piece in networkx.connected_components(graph):
            there = sorted({sources[point] for point in piece if point in sources})
            if len(there) > 1:
                self.hazards.add(f"{' and '.join(there)} are one")
            told |= dict.fromkeys(piece, there[0]) if there else {}
        return told

    def settle(self) -> None:
        """Let coils go, or the first of them pull in, until none moves any more: what never rests buzzes."""
        for _ in range(9):
            wanted = self._wanted()
            if wanted == self.pulled:
                return
            fallen = self.pulled - wanted
            self.pulled = self.pulled - fallen if fallen else self.pulled | {min(wanted - self.pulled)}
        self.hazards.add(f"{' and '.join(sorted(wanted ^ self.pulled))} buzzes")

    def _wanted(self) -> set[str]:
        """The coils that have volts to be in, as all stands."""
        graph = self.closed()
        told = self.brought(graph)
        wanted = set()
        for device, stand in self.stands.items():
            if stand.coil is None:
                continue
            volts = self._across(told, *(f"{device}.{end}" for end in stand.coil))
            made_for = self._said(device, "coil", 120)
            if volts > 1.1 * made_for:
                self.hazards.add(f"{device} has {volts:g} V on its coil of {made_for:g}")
            if volts >= 0.85 * made_for:
                wanted.add(device)
            self._through_a_motor(told, [f"{device}.{end}" for end in stand.coil], graph)
        return wanted

    def _said(self, device: str, name: str, otherwise: float) -> float:
        return said(next(one for one in self.work.devices if one.name == device), name, otherwise)

    def _values(self, device: str) -> list[float]:
        return next(one.values for one in self.work.devices if one.name == device)

    def _across(self, told: Mapping[str, str], one: str, other: str) -> float:
        here, there = told.get(one), told.get(other)
        if here is None or there is None or here == there:
            return 0.0
        if {here, there} <= set("abc"):
            return self.volts
        if "earth" in (here, there):
            if {here, there} & set("abc"):
                return self.volts / 3**0.5
            here = there = here if there == "earth" else there
            if not self.earthed[here.split()[0]]:
                return 0.0
        owner = here.split()[0]
        if owner != there.split()[0]:
            return 0.0
        return self.volts / self._said(owner, "primary", 480) * self._said(owner, "secondary", SECONDARY)

    def _through_a_motor(self, told: Mapping[str, str], ends: list[str], graph: networkx.Graph) -> None:
        """What a motor alone feeds, through its windings, has some volts: this bench cannot say how many."""
        for device, stand in self.stands.items():
            points = [f"{device}.{screw}" for screw in stand.motor or ()]
            if any(point in told for point in points):
                dark = [point for point in points if point not in told]
                near = set().union(*(networkx.node_connected_component(graph, one) for one in dark), set())
                self.unsure |= any(end in near for end in ends)

    def note(self) -> tuple[str, ...]:
        """How each motor stands: what turns it, or what lines it has."""
        told = self.brought(self.closed())
        past = self.brought(self.closed(heaters=False))
        found = []
        for device, stand in self.stands.items():
            if stand.motor is None:
                continue
            lines = tuple(told.get(f"{device}.{screw}", "") for screw in stand.motor)
            # A controller need not open every line (430.84): on one alone nothing flows.
            if len(set(lines) & set("abc")) < 2:
                found.append(f"{device} stands")
            elif len(set(lines) & set("abc")) == 3:
                found.append(f"{device} turns {'forward' if lines in TURNS_FORWARD else 'backward'}")
                self._guarded(device, stand.motor, past)
                if (device, lines) not in self.weighed:
                    self.weighed.add((device, lines))
                    self._thin(device, stand.motor)
            else:
                found.append(f"{device} has the lines {' '.join(line or 'none' for line in lines)}")
        return tuple(found)

    def _disconnected(self) -> None:
        """With the disconnect off no line comes to a motor, whatever each contactor does (430.103)."""
        held = self.pulled
        for contactor in [name for name, stand in self.stands.items() if stand.coil]:
            self.pulled = {contactor}
            told = self.brought(self.closed())
            for device, stand in self.stands.items():
                self.hazards |= {
                    f"{device}.{screw} is live behind its disconnect"
                    for screw in stand.motor or ()
                    if f"{device}.{screw}" in told
                }
        self.pulled = held

    def _guarded(self, device: str, screws: tuple[str, ...], past: Mapping[str, str]) -> None:
        if any(stand.heaters for stand in self.stands.values()):
            for screw in screws:
                if f"{device}.{screw}" in past:
                    self.hazards.add(f"{device}.{screw} gets its line past the heaters")

    def _thin(self, device: str, screws: tuple[str, ...]) -> None:
        """Each wire that it needs carries a quarter more than its current (430.22), or as its plate says."""
        values, plate = self._values(device), self.stands[device].plate
        power = round(values[0] / HORSEPOWER) if values else 0
        amps = plate[0] if plate else 1.25 * FULL_LOAD[power, int(self.volts)]
        graph = self.closed()
        for name, (cable, color) in self.wires.items():
            apart = color in GROUND_COLORS or cable.low or len(self.ends[name]) < 2
            if apart or amps <= self._carries(name):
                continue
            without = graph.copy()
            without.remove_edges_from(itertools.pairwise(self.ends[name]))
            told = self._spread(without, self.legs)
            if any(f"{device}.{screw}" not in told for screw in screws):
                self.hazards.add(f"{name}, {cable.size} AWG, carries {device}")

    def _carries(self, name: str) -> float:
        cool, warm = CARRIES[self.wires[name][0].size]
        marks = []
        for join in self.work.joins:
            members = [member for member, _ in join.members]
            if name in members and None not in members:
                for member in members:
                    stand = self.stands.get((member or "").partition(".")[0])
                    screw = (member or "").partition(".")[2]
                    if stand is not None and member not in self.wires:
                        marks.append(75 if screw in stand.power else 60)
        return warm if marks and min(marks) == 75 else cool

    def sides(self) -> dict[str, set[str]]:
        """The transformers whose secondary is on earth by wires and fuses, each with all that is on that."""
        told = {}
        earth = {point for point, leg in self.legs.items() if leg == "earth"}
        for device, stand in self.stands.items():
            if stand.winding is not None:
                pieces = [
                    networkx.node_connected_component(self.graph, f"{device}.{end}")
                    for end in stand.winding[1]
                ]
                told[device] = set().union(*(piece for piece in pieces if piece & earth), set())
        return told

    def control(self) -> Iterator[str]:
        """A control circuit of 120 V is grounded (250.20(B)(1)), and no button is on that side (430.74)."""
        buttons = {name for part in ("stop-button", "start-button") for name in self._of(part)}
        straight, pressed = self.graph.copy(), self.graph.copy()
        for device, stand in self.stands.items():
            joined = [pair for pairs in stand.positions.values() for pair in pairs] + [*stand.pulled]
            pressed.add_edges_from(_named(device, tuple(joined)))
            if device not in buttons:
                straight.add_edges_from(_named(device, tuple(joined)))
        for device, grounded in self.sides().items():
            if not grounded:
                yield f"{device} is grounded nowhere"
                continue
            origin = min(grounded)
            near, far = (networkx.node_connected_component(one, origin) for one in (straight, pressed))
            for name, stand in self.stands.items():
                if stand.coil and any(f"{name}.{end}" in far - near for end in stand.coil):
                    yield f"a button is between {name} and ground"

    def run(self) -> dict[str, tuple[str, ...]]:
        """Every act, and how the motors stand with each hand that moves and after."""
        self.settle()
        told = {"at rest": self.note()}
        for number, hands in enumerate(self._acts(), 1):
            for there in (1, 0):
                for hand in hands:
                    self.moved[hand] = list(self.stands[hand].positions)[there]
                    self.settle()
                    told[f"{number}: {hand} {'moved' if there else 'back'}"] = self.note()
                if there and hands and hands == self._of("disconnect-3-pole"):
                    self._disconnected()
        return told

    def _of(self, part: str) -> list[str]:
        return [device.name for device in self.work.devices if device.part == part]

    def _acts(self) -> Iterator[list[str]]:
        """What is done, one thing after another, by hands that come in this order: they let go at once after.

        From each start button the motor is stopped in every way, and the other buttons are pressed on top.
        """
        starts = self._of("start-button")
        stop, trip = self._of("stop-button"), self._of("overload-relay")
        for start in starts:
            for way in (stop, trip, [start, *stop]):
                yield [start]
                yield way
                if way == trip:
                    # Its contact is closed again, and the motor must not start by itself.
                    yield []
            for other in starts:
                if other != start:
                    yield [start]
                    yield [other]
                    yield stop
                    yield [start, other]
                    yield stop
        for start in starts or [""]:
            yield [start] if start else []
            yield self._of("disconnect-3-pole")


def _named(device: str, pairs: Pairs) -> list[tuple[str, str]]:
    return [(f"{device}.{a}", f"{device}.{b}") for a, b in pairs]


def _unfit(work: Work) -> Iterator[str]:
    """The screws that have more wires than they take, or one that is too thin or too thick for them."""
    stands = {device.name: STANDS[device.part] for device in work.devices}
    wires = work.conductors()
    sizes = [*OHMS, "4"]
    under: dict[str, int] = {}
    for join in work.joins:
        # What stands before a pigtail and what stands after it each have a tail of it.
        named = [name or "" for name, _ in join.members]
        parted = [list(those) for there, those in itertools.groupby(named, bool) if there]
        for at, names in enumerate(parted):
            row = [name for name in names if name not in wires and name.partition(".")[0] in stands]
            for number, screw in enumerate(row):
                stand, own = stands[screw.partition(".")[0]], screw.partition(".")[2]
                if own not in (*stand.power, *stand.control):
                    continue
                least, most, _ = stand.takes if own in stand.power else CONTROL
                here = [name for name in names if name in wires] if number == 0 else []
                jumpers = (number > 0) + (number < len(row) - 1)
                # A wire beside a tail may be in the splice that the tail is of. The first tail of a row
                # begins under the screw that stands before it.
                spliced = bool(here) and len(parted) > 1 and (at > 0 or names[-1] != screw)
                tails = (number == 0 and at > 0) + (number == len(row) - 1 and at < len(parted) - 1)
                tails -= spliced and tails > 0
                under[screw] = under.get(screw, 0) + len(here) + jumpers + tails
                for name in here:
                    size = wires[name][0].size
                    if not sizes.index(least) <= sizes.index(size) <= sizes.index(most):
                        yield f"{name} does not fit {screw}"
    for box in work.boxes:
        for join in work.joins:
            names = [name for name, _ in join.members]
            # Its screw takes 14 to 10 AWG, where no tail comes between.
            screws = [name for name in names if name not in wires]
            if screws == [f"{box.name}.ground"]:
                yield from (
                    f"{name} does not fit {box.name}.ground"
                    for name in names
                    if name in wires and wires[name or ""][0].size not in ("14", "12", "10")
                )
    for screw, count in under.items():
        stand, own = stands[screw.partition(".")[0]], screw.partition(".")[2]
        if count > (stand.takes if own in stand.power else CONTROL)[2]:
            yield f"{count} under {screw}"
    for breaker in work.breakers:
        for pole in (f"{breaker.name}.{leg}" for leg in "abc"):
            count = sum(name in wires for join in work.joins for name, _ in join.members if _has(join, pole))
            if count > 1:
                yield f"{count} under {pole}"


def _has(join: Join, screw: str) -> bool:
    return any(name == screw for name, _ in join.members)


def _loose_within(work: Work) -> bool:
    """Whether a wire whose two ends are in one box has one of them without a joint or a cap."""
    within = [name for name, (cable, _) in work.conductors().items() if len(set(cable.places())) == 1]
    made = [name for join in work.joins if len(join.members) > 1 for name, _ in join.members]
    made += [name for _, name in work.caps]
    return any(made.count(name) < 2 for name in within)


def starter_judge(right: Work) -> Callable[[Work], Verdict]:
    """A judge of other boards: whether the buttons do there what they do here, and all is made up well."""
    table = Bench(right).run()
    ways = {one.rpartition(" ")[2] for standing in table.values() for one in standing}
    reverses = ways >= {"forward", "backward"}

    def judge(other: Work) -> Verdict:
        verdict = Verdict()
        if loose(other) or _loose_within(other):
            verdict.hazards.add("a wire is loose")
        verdict.hazards.update(_unfit(other))
        bench = Bench(other)
        _colors(other, bench, verdict)
        verdict.hazards.update(_not_grounded(other, bench))
        verdict.hazards.update(bench.control())
        _rated(other, verdict)
        told = bench.run()
        if told != table and reverses and told == _turned(table):
            # No board says which of two buttons is for forward.
            verdict.unsure = not bench.hazards and not verdict.hazards
            verdict.hazards |= bench.hazards
            return verdict
        for act, standing in told.items():
            if standing != table[act]:
                verdict.faults.add(f"{act}: {', '.join(standing)}, not {', '.join(table[act])}")
        verdict.hazards |= bench.hazards
        verdict.unsure = bench.unsure
        return verdict

    return judge


# ------------------------------------------------- grounds, ratings, settings

RACEWAY = re.compile(r"raceway (\S+) \S+ .* from (\S+) to (\S+)$")


def _colors(work: Work, bench: Bench, verdict: Verdict) -> None:
    """White is for what comes back to a transformer's grounded side, and for nothing else: 200.6, 200.7."""
    sides = set().union(*bench.sides().values(), set())
    for name, (cable, color) in work.conductors().items():
        if cable.low:
            continue
        neutral = bench.ends[name][:1] and bench.ends[name][0] in sides and not _to_metal_alone(work, name)
        if color in NEUTRAL_MARKS and not neutral:
            verdict.hazards.add(f"{name}, white, is no neutral")
        elif neutral and color not in NEUTRAL_MARKS | GROUND_COLORS:
            verdict.hazards.add(f"{name}, {color}, is a neutral")


def _to_metal_alone(work: Work, name: str) -> bool:
    """Whether a wire comes to frames and nothing else at one of its ends."""
    wires = work.conductors()
    there = [
        [other for other, _ in join.members if other and other not in wires]
        for join in work.joins
        if _has(join, name)
    ]
    return any(screws and all(one.endswith(".ground") for one in screws) for screws in there)


def _not_grounded(work: Work, bench: Bench) -> Iterator[str]:
    """Every frame comes to the ground bar by green wires, or by the metal raceway; no green wire is left out.

    What is mounted in a metal box is held to it.
    """
    graph = networkx.Graph()
    wires = {name: one for name, one in work.conductors().items() if not one[0].low}
    green = {name for name, (_, color) in wires.items() if color in GROUND_COLORS}
    frames = {f"{box.name}.ground": box.name for box in work.boxes if "metal" in box.flags}
    metal = set(frames.values())
    frames |= {f"{one.name}.ground": one.name for one in work.devices if STANDS[one.part].ground}
    graph.add_nodes_from([*frames, *green])
    for number, join in enumerate(work.joins):
        points = [name for name, _ in join.members if name in green or (name or "").endswith(".ground")]
        for name in points:
            graph.add_edge(f"join {number}", f"{name} in {join.place}" if name in green else name)
    for name in green:
        graph.add_edge(*(f"{name} in {place}" for place in wires[name][0].places()))
    graph.add_edges_from(
        (f"{one.name}.ground", f"{one.place}.ground") for one in work.devices if one.place in metal
    )
    bars = {f"{panel}.ground" for panel in work.panels}
    by_wire = set().union(
        *(networkx.node_connected_component(graph, bar) for bar in bars if bar in graph), set()
    )
    for raceway in filter(None, map(RACEWAY.match, work.head)):
        graph.add_edge(*(f"{place}.ground" for place in raceway.groups()[1:]))
    grounded = set().union(
        *(networkx.node_connected_component(graph, bar) for bar in bars if bar in graph), set()
    )
    yield from (f"{frame} is not grounded" for frame in frames if frame not in grounded)
    for name in green:
        for place in wires[name][0].places():
            if f"{name} in {place}" not in by_wire or (place, name) in work.caps:
                yield f"{name} does not lead to ground from {place}"
    for join in work.joins:
        names = {name for name, _ in join.members if name is not None}
        kinds = {wires[name][1] in GROUND_COLORS for name in names & wires.keys()}
        if len(kinds) > 1 or (names & green and any(name.endswith(".neutral") for name in names)):
            yield f"a ground is with {' and '.join(sorted(names))}"
        # Where a transformer is grounded its side and its frame meet.
        bonded = any(name.endswith(".ground") for name in names) and any(
            f"{device}.{end}" in names
            for device, stand in bench.stands.items()
            if stand.winding is not None
            for end in stand.winding[1]
        )
        if bonded:
            continue
        if names & green and any(not name.endswith((".ground", ".neutral")) for name in names - wires.keys()):
            yield f"a ground is on {' and '.join(sorted(names))}"
        if any(name.endswith(".ground") for name in names) and False in kinds:
            yield f"a hot is on {' and '.join(sorted(names))}"


def _rated(work: Work, verdict: Verdict) -> None:
    """The breaker, the overload relay, the disconnect and the fuses, by the motor or the nameplate."""
    for breaker in work.breakers:
        for device in work.devices:
            stand = STANDS[device.part]
            if stand.motor is None:
                continue
            power = round(device.values[0] / HORSEPOWER) if stand.plate is None else 0
            volts = int(VOLTS[next(iter(work.panels.values()))])
            amps = FULL_LOAD[power, volts] if stand.plate is None else stand.plate[0]
            # 430.52(C)(1): two and a half times its current, or the next standard one.
            most = (
                next(one for one in STANDARD if one >= 2.5 * amps) if stand.plate is None else stand.plate[1]
            )
            if breaker.amps > most:
                verdict.hazards.add(f"{breaker.name} is {breaker.amps:g} A for {amps:g} A")
            own = said(device, "current", amps if stand.plate is None else stand.plate[2])
            if breaker.amps < own:
                verdict.faults.add(f"{breaker.name} trips on {own:g} A")
            for other in work.devices:
                if other.part == "overload-relay":
                    trips = said(other, "trips", 19)
                    # 430.32(A)(1) and (C), for a service factor of 1.15.
                    if trips > 1.4 * own:
                        verdict.hazards.add(f"{other.name} trips at {trips:g} A for {own:g} A")
                    if trips < own:
                        verdict.faults.add(f"{other.name} trips on {own:g} A")
                if other.part.startswith("disconnect") and other.values[0] < 1.15 * amps:
                    verdict.hazards.add(f"{other.name} is {other.values[0]:g} A for {amps:g} A")
                if other.part.startswith("contactor") and other.values[0] < amps:
                    verdict.hazards.add(f"{other.name} is {other.values[0]:g} A for {amps:g} A")
        _green(work, breaker.amps, verdict)
    _of_transformer(work, verdict)


def _green(work: Work, rating: float, verdict: Verdict) -> None:
    """A green wire is by its breaker, and no larger than the hots beside it: 250.122(A)."""
    needed = next(size for amps, size in GROUND_OF if rating <= amps)
    for cable in work.cables:
        if cable.color in GROUND_COLORS:
            beside = [
                one for one in work.cables if one.raceway == cable.raceway and one.color not in GROUND_COLORS
            ]
            largest = min((OHMS[one.size] for one in beside), default=0.0)
            if OHMS[cable.size] > 1.01 * max(OHMS[needed], largest):
                verdict.hazards.add(f"{cable.name}, {cable.size} AWG, is too thin for {rating:g} A")


def _of_transformer(work: Work, verdict: Verdict) -> None:
    """The fuses of its primary are at most five times its current below 2 A: 430.72(C)(4)."""
    for device in work.devices:
        if STANDS[device.part].winding is None:
            continue
        amps = device.values[0] / said(device, "primary", 480)
        for fuse in work.devices:
            before = any(
                {f"{fuse.name}.load", f"{device.name}.{end}"} <= {name for name, _ in join.members}
                for join in work.joins
                for end in STANDS[device.part].winding[0]
            )
            if fuse.part == "fuse" and before and fuse.values[0] > 5 * amps:
                verdict.hazards.add(f"{fuse.name} is {fuse.values[0]:g} A for {amps:.2f} A")


def _turned(table: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """What a motor does whose lines are exchanged for good: all of it the other way around."""
    other = {"forward": "backward", "backward": "forward"}
    return {
        act: tuple(" ".join(other.get(word, word) for word in one.split(" ")) for one in standing)
        for act, standing in table.items()
    }


# --------------------------------------------------------------- mistakes


def starter_mutants(work: Work) -> Iterator[Mutant]:
    """All single mistakes but those on thermostat wires, which are tried elsewhere."""
    screws = _screws(work)
    every: tuple[Callable[[Work], Iterator[tuple[str, Work]]], ...]
    every = (ends_exchanged, end_left_loose, end_capped, join_forgotten, lambda one: end_moved(one, screws))
    names = ("ends exchanged", "end left loose", "end capped", "join forgotten", "end moved")
    for name, mistake in zip(names, every, strict=True):
        for words, changed in mistake(work):
            if _of_power(work, changed):
                yield Mutant(f"starter: {name}", words, changed)
    bought = (breaker_of_three, setting_mistaken, cable_size, single_wire_color)
    for mistake in bought:
        for words, changed in mistake(work):
            yield Mutant(f"starter: {mistake.__name__.replace('_', ' ')}", words, changed)


def _screws(work: Work) -> dict[str, list[str]]:
    told: dict[str, list[str]] = {}
    for device in work.devices:
        stand = STANDS[device.part]
        for screw in (*stand.power, *stand.control, *(["ground"] if stand.ground else [])):
            told.setdefault(device.place or device.name, []).append(f"{device.name}.{screw}")
    for box in work.boxes:
        if "metal" in box.flags:
            told.setdefault(box.name, []).append(f"{box.name}.ground")
    for panel in work.panels:
        told[panel] = [f"{panel}.neutral", f"{panel}.ground"]
    return told


def breaker_of_three(work: Work) -> Iterator[tuple[str, Work]]:
    """A three-pole breaker of another rating."""
    for i, breaker in enumerate(work.breakers):
        for amps in (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80):
            if amps != breaker.amps:
                changed = work.copy()
                changed.breakers[i].amps = amps
                yield f"{breaker.name} of {amps} A", changed


# The settings of each part, each with what may be on the shelf, or on its dial.
SHELF = {
    "contactor-3-pole": {"": (25, 30, 40, 60), "coil": (24, 120, 208, 240, 277, 480)},
    "disconnect-3-pole": {"": (30, 60, 100)},
    "overload-relay": {"trips": (10, 12, 14, 15.5, 17, 18, 20, 21.5, 24, 30)},
    "control-transformer": {"primary": (208, 240, 277, 480), "secondary": (24, 120)},
    "fuse": {"": (0.5, 1, 1.25, 2, 3)},
}


def setting_mistaken(work: Work) -> Iterator[tuple[str, Work]]:
    """A device of another rating, or with another setting."""
    for i, device in enumerate(work.devices):
        for name, values in SHELF.get(device.part, {}).items():
            now = said(device, name, 0) if name else device.values[0]
            for value in values:
                words = f"{name} {value:g}".strip()
                changed = work.copy()
                new = changed.devices[i]
                if name and re.search(rf"\b{name} ", device.settings):
                    new.settings = re.sub(rf"\b{name} [\d.]+", words, device.settings)
                elif name:
                    unit = "A" if name == "trips" else "V"
                    new.settings = (
                        f"{device.settings}{', ' if 'with' in device.settings else ' with '}{words} {unit}"
                    )
                else:
                    new.settings = re.sub(r"^[\d.]+", f"{value:g}", device.settings)
                    new.values = [value, *device.values[1:]]
                if value != now and new.settings != device.settings:
                    yield f"{device.name} {words}", changed


def single_wire_color(work: Work) -> Iterator[tuple[str, Work]]:
    """A wire in another color."""
    for i, cable in enumerate(work.cables):
        for color in ("black", "white", "green"):
            if cable.color not in (None, color):
                changed = work.copy()
                changed.cables[i].color = color
                yield f"{cable.name} in {color}", changed


def _of_power(work: Work, changed: Work) -> bool:
    """Whether no thermostat wire was touched."""
    apart = {name for name, (cable, _) in work.conductors().items() if cable.low}
    before = {(join.place, tuple(join.members)) for join in work.joins}
    after = {(join.place, tuple(join.members)) for join in changed.joins}
    touched = {name for _, members in before ^ after for name, _ in members}
    return not touched & apart
