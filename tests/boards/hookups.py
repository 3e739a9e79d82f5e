"""The thermostat's wires: every mistake of the hand on them, and which terminal letter reaches which.

The oracle is a truth table of its own: with each call made, and the float switch dry and wet, which letters
have a transformer's 24 V across them. A mutant with the table of the right board works as before. It knows
nothing of sequences, of amperes or of the rules.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

import networkx

from tests.boards.mutations import Mutant, end_capped, end_left_loose, end_moved, ends_exchanged
from tests.boards.oracle import Verdict
from tests.boards.work import Join, Work

Pairs = tuple[tuple[str, str], ...]


class Relay(NamedTuple):
    """What a coil between two letters joins: while it is pulled in, and while it is not.

    One that is `light` pulls in with half of each wave too.
    """

    coil: tuple[str, str]
    pulled: Pairs
    resting: Pairs = ()
    light: bool = False


@dataclass(frozen=True)
class Letters:
    """A device by its letters: its transformer's two, what it runs (letter, return), what joins them when.

    `inside` are letters that are one; between those of `half` a diode lets half of each wave through. The
    letters of `coils` take more than a control that only listens.
    A letter of `only_with` is looked at only while the other one has its 24 V.
    `+` and `-` are inside and come to no terminal: a side of a transformer or of a relay's coil.
    """

    transformer: tuple[str, str] | None = None
    runs: Pairs = ()
    relays: tuple[Relay, ...] = ()
    half: Pairs = ()
    inside: Pairs = ()
    coils: tuple[str, ...] = ()
    calls: dict[str, Pairs] = field(default_factory=dict)
    needs_power: tuple[str, str] | None = None
    positions: dict[str, Pairs] = field(default_factory=dict)
    screws: tuple[str, ...] = ()
    holds: dict[str, int] = field(default_factory=dict)
    display: tuple[str, str] | None = None
    only_with: dict[str, str] = field(default_factory=dict)


HEAT_COOL: dict[str, Pairs] = {
    "heat": (("R", "W"),),
    "cool": (("R", "Y"), ("R", "G")),
    "fan": (("R", "G"),),
}
# How many wires a screw of equipment takes; one, where nothing is said.
BLOCK = dict.fromkeys(("R", "C", "W", "Y", "G", "O", "W2"), 2)
LETTERS: dict[str, Letters] = {
    "gas-furnace": Letters(
        ("R", "C"), (("W", "C"), ("G", "C")), screws=("R", "C", "W", "Y", "G"), holds=BLOCK | {"R": 3, "C": 3}
    ),
    "two-stage-furnace": Letters(
        ("R", "C"),
        (("W1", "C"), ("W2", "C"), ("Y", "C"), ("G", "C")),
        screws=("R", "C", "W1", "W2", "Y", "G"),
        holds=BLOCK | {"R": 3, "C": 3, "W1": 2},
        only_with={"Y": "G", "W2": "W1"},
    ),
    "variable-speed-furnace": Letters(
        ("R", "C"),
        (("W", "C"), ("Y", "C"), ("G", "C"), ("DH", "C")),
        relays=(Relay(("W", "C"), (("R", "HUM"),), ()),),
        screws=("R", "C", "W", "Y", "G", "DH", "HUM"),
        holds=BLOCK | {"R": 3, "C": 3, "DH": 2, "HUM": 2},
        only_with={"DH": "Y", "Y": "G"},
    ),
    "packaged-unit": Letters(
        ("R", "C"),
        (("W", "C"), ("G", "C"), ("Y", "C")),
        screws=("R", "C", "W", "Y", "G"),
        holds={"R": 2, "C": 2},
    ),
    "rooftop-unit": Letters(
        ("R", "C"),
        (("W", "C"), ("G", "C"), ("Y", "C")),
        screws=("R", "C", "W", "Y", "G"),
        holds={"R": 2, "C": 2},
    ),
    "condensing-unit": Letters(
        None, (("Y", "C"),), coils=("Y",), screws=("Y", "C"), holds={"Y": 99, "C": 99}
    ),
    "air-handler": Letters(
        ("R", "C"),
        (("G", "C"), ("W2", "C")),
        screws=("R", "C", "G", "W2"),
        holds={"R": 3, "C": 3, "G": 2, "W2": 3},
    ),
    "economizer": Letters(
        runs=(("+", "C"),),
        relays=(Relay(("OA-2", "C"), (("Y2-in", "Y1-out"), ("Y1-in", "+")), (("Y1-in", "Y1-out"),)),),
        inside=(("R", "OA-1"),),
        screws=("R", "C", "Y1-in", "Y2-in", "Y1-out", "OA-1", "OA-2"),
        holds=dict.fromkeys(("R", "C", "Y1-in", "Y2-in", "Y1-out", "OA-1", "OA-2"), 99),
    ),
    "outdoor-thermostat": Letters(positions={"warm": (), "cool": (("a", "b"),)}, screws=("a", "b")),
    "electric-furnace": Letters(
        ("R", "C"),
        (("W1", "C"), ("W2", "C"), ("G", "C")),
        screws=("R", "C", "W1", "W2", "G"),
        holds=dict.fromkeys(("R", "C", "W1", "W2", "G"), 2),
    ),
    "heat-pump": Letters(
        None,
        # Defrost, where it sends R out on W2, is no call: no board can say what it expects of it.
        (("Y", "C"), ("O", "C"), ("R", "C")),
        screws=("R", "C", "Y", "O", "W2"),
        holds=BLOCK,
    ),
    "heat-pump-b": Letters(
        None,
        (("Y", "C"), ("B", "C"), ("R", "C")),
        screws=("R", "C", "Y", "B", "W2"),
        holds=BLOCK | {"B": 2},
    ),
    "oil-furnace": Letters(("T-1", "-"), (("T-2", "-"),), screws=("T-1", "T-2")),
    "aquastat-relay": Letters(
        ("T-1", "-"), (("T-2", "-"),), screws=("T-1", "T-2"), holds={"T-1": 2, "T-2": 2}
    ),
    "primary-secondary-boiler": Letters(
        ("T-1", "-"), (("T-2", "-"),), screws=("T-1", "T-2"), holds={"T-1": 3, "T-2": 3}
    ),
    "switching-relay": Letters(("T-1", "-"), (("T-2", "-"),), screws=("T-1", "T-2")),
    "boiler": Letters(("T-1", "-"), (("T-2", "-"),), screws=("T-1", "T-2"), holds={"T-1": 3, "T-2": 3}),
    "heat-only-thermostat": Letters(calls={"heat": (("R", "W"),)}, screws=("R", "W")),
    "heat-cool-thermostat": Letters(calls=HEAT_COOL, display=("R", "C"), screws=("R", "C", "W", "Y", "G")),
    "powered-thermostat": Letters(calls=HEAT_COOL, needs_power=("R", "C"), screws=("R", "C", "W", "Y", "G")),
    "rc-rh-thermostat": Letters(
        calls={
            "heat": (("RH", "W"),),
            "cool": (("RC", "Y"), ("RC", "G")),
            "fan": (("RC", "G"),),
        },
        display=("RC", "C"),
        screws=("RC", "RH", "C", "W", "Y", "G"),
        holds={"RC": 2, "RH": 2},
    ),
    "two-stage-thermostat": Letters(
        calls=HEAT_COOL
        | {
            "heat": (("R", "W1"),),
            "second-heat": (("R", "W1"), ("R", "W2")),
            "cool": (("R", "Y1"), ("R", "G")),
            "second-cool": (("R", "Y1"), ("R", "Y2"), ("R", "G")),
        },
        display=("R", "C"),
        screws=("R", "C", "W1", "W2", "Y1", "Y2", "G"),
    ),
    "heat-pump-thermostat": Letters(
        calls={
            "heat": (("R", "Y"), ("R", "B"), ("R", "G")),
            "auxiliary": (("R", "Y"), ("R", "B"), ("R", "W2"), ("R", "G")),
            "emergency": (("R", "W2"), ("R", "G")),
            "cool": (("R", "Y"), ("R", "O"), ("R", "G")),
            "fan": (("R", "G"),),
        },
        display=("R", "C"),
        screws=("R", "C", "Y", "O", "B", "W2", "G"),
    ),
    "dehumidistat": Letters(calls={}, positions={"dry": (("a", "b"),), "damp": ()}, screws=("a", "b")),
    "dehumidifier": Letters(
        ("R", "C"),
        (("DH", "C"),),
        relays=(Relay(("DH", "C"), (("R-fan", "G-out"),), (("G-in", "G-out"),)),),
        screws=("R", "C", "DH", "R-fan", "G-in", "G-out"),
        holds=dict.fromkeys(("R", "C", "DH", "R-fan", "G-in", "G-out"), 2),
    ),
    "dehumidifier-control": Letters(
        calls={}, positions={"dry": (), "damp": (("a", "b"),)}, screws=("a", "b")
    ),
    "common-wire-sender": Letters(
        half=(("G", "YG"),),
        inside=(("Y", "YG"),),
        screws=("Y", "G", "YG"),
        holds=dict.fromkeys(("Y", "G", "YG"), 99),
    ),
    "common-wire-receiver": Letters(
        relays=(Relay(("YG", "C"), (("R", "Y"),)), Relay(("YG", "C"), (("R", "G"),), light=True)),
        screws=("R", "C", "YG", "Y", "G"),
        holds=dict.fromkeys(("R", "C", "YG", "Y", "G"), 99),
    ),
    "dual-fuel-kit": Letters(
        relays=(Relay(("W2-in", "C"), (("R", "W-out"),), (("Y-in", "Y-out"),)),),
        screws=("R", "C", "W2-in", "Y-in", "Y-out", "W-out"),
        holds=dict.fromkeys(("R", "C", "W2-in", "Y-in", "Y-out", "W-out"), 2),
    ),
    "fresh-air-control": Letters(
        relays=(Relay(("+", "C"), (("R", "DAMPER"), ("R", "G-out")), (("G-in", "G-out"),)),),
        positions={"resting": (), "calling": (("R", "+"),)},
        screws=("R", "C", "DAMPER", "G-in", "G-out"),
        holds=dict.fromkeys(("R", "C", "DAMPER", "G-in", "G-out"), 2),
    ),
    "fresh-air-damper": Letters(None, (("a", "b"),), screws=("a", "b"), holds={"a": 99, "b": 99}),
    "humidistat": Letters(calls={}, positions={"damp": (), "dry": (("a", "b"),)}, screws=("a", "b")),
    "humidifier": Letters(None, (("a", "b"),), screws=("a", "b"), holds={"a": 99, "b": 99}),
    "condensate-pump": Letters(
        positions={"dry": (("COM", "NC"),), "wet": (("COM", "NO"),)},
        screws=("COM", "NC", "NO"),
        holds=dict.fromkeys(("COM", "NC", "NO"), 99),
    ),
    "delay-on-make": Letters(
        relays=(Relay(("in", "common"), (("in", "out"),)),), screws=("in", "out", "common")
    ),
    "relay-dpdt": Letters(
        relays=(
            Relay(
                ("coil-a", "coil-b"),
                (("common-1", "no-1"), ("common-2", "no-2")),
                (("common-1", "nc-1"), ("common-2", "nc-2")),
            ),
        ),
        screws=("common-1", "no-1", "nc-1", "common-2", "no-2", "nc-2", "coil-a", "coil-b"),
    ),
    "float-switch": Letters(positions={"dry": (("a", "b"),), "wet": ()}, screws=("a", "b")),
}
# What a machine must never be told at once.
OPPOSITE = (("W", "Y"), ("W1", "Y"))
# What has no thermostat wire on it.
APART = {"disconnect-2-pole", "disconnect-3-pole", "circulator", "oil-burner", "single-pole-switch"}
Table = dict[tuple[str, ...], frozenset[str]]


def hooks_up(work: Work) -> bool:
    """Whether a board has a thermostat, and every device of it is known here."""
    parts = {device.part for device in work.devices}
    return parts <= set(LETTERS) | APART and any(part.endswith("thermostat") for part in parts & set(LETTERS))


def _expected_calls(work: Work) -> set[str]:
    return {word.path[-1] for one in work.expects for word in getattr(one, "calls", ())}


def truth(work: Work) -> Table:
    """For each call and each position of what moves by itself, what runs.

    And what is wrong with the sources or a thermostat's own power in that state.
    """
    known = {device.name: LETTERS[device.part] for device in work.devices if device.part in LETTERS}
    low = {name for name, (cable, _) in work.conductors().items() if cable.low}
    graph = networkx.Graph()
    for name in low:
        cable = work.conductors()[name][0]
        graph.add_edge(*(f"{name}@{place}" for place in cable.places()))
    for device, letters in known.items():
        graph.add_nodes_from(f"{device}.{screw}" for screw in (*letters.screws, "+", "-"))
        graph.add_edges_from(_named(device, letters.inside))
    for join in work.joins:
        points = [f"{name}@{join.place}" if name in low else name for name, _ in join.members if name]
        graph.add_edges_from(itertools.pairwise(point for point in points if point))
    calls = ["idle", *dict.fromkeys(call for one in known.values() for call in one.calls)]
    movable = {device: list(one.positions) for device, one in known.items() if one.positions}
    rest = [values[0] for values in movable.values()]
    table: Table = {("always",): frozenset(_astray(graph, known))}
    at_odds: dict[tuple[str, ...], frozenset[str]] = {}
    for call, *values in itertools.product(calls, *movable.values()):
        closed = graph.copy()
        for device, value in zip(movable, values, strict=True):
            closed.add_edges_from(_named(device, known[device].positions[value]))
        for device, letters in known.items():
            if letters.needs_power is None or _powered(closed, known, device, letters.needs_power):
                closed.add_edges_from(_named(device, letters.calls.get(call, ())))
        restless = _pull(closed, known)
        table[(call, *values)] = frozenset((*_running(closed, known), *restless))
        at_odds[(call, *values)] = frozenset(_at_odds(closed, known))
    # The calls of two devices, each of which alone tells a machine one of the two.
    for state, machines in at_odds.items():
        alone = at_odds[(state[0], *rest)] | at_odds[("idle", *state[1:])]
        table[state] |= {f"{machine} is told to heat and to cool" for machine in machines - alone}
    return table


def _pull(graph: networkx.Graph, known: dict[str, Letters]) -> list[str]:
    """Join what each relay joins, all at once, until none of them moves any more: those that never rest."""
    relays = [(device, relay) for device, one in known.items() for relay in one.relays]
    joined: list[tuple[str, str]] = []
    stands: list[bool] = []
    for _ in range(6):
        before = stands
        whole = graph.copy()
        whole.add_edges_from(joined)
        half = whole.copy()
        half.add_edges_from(_half(whole, known))
        stands = [_powered(half if one.light else whole, known, device, one.coil) for device, one in relays]
        joined = []
        for (device, relay), pulled in zip(relays, stands, strict=True):
            joined += _named(device, relay.pulled if pulled else relay.resting)
    graph.add_edges_from(joined)
    moving = zip(relays, before, stands, strict=True)
    return [f"{device} buzzes" for (device, _), then, now in moving if then != now]


def _half(graph: networkx.Graph, known: dict[str, Letters]) -> Iterator[tuple[str, str]]:
    """What lets half of each wave through: to letters that listen, and not to a coil, which takes it all."""
    coils = {f"{device}.{letter}" for device, one in known.items() for letter in one.coils}
    for device, one in known.items():
        for near, far in _named(device, one.half):
            if not coils & networkx.node_connected_component(graph, far):
                yield near, far


def _same(now: frozenset[str], then: frozenset[str]) -> bool:
    """Whether two states are the same; a thermostat that was dark behind a float switch may be lit."""
    fresh = {one for one in now - then if one.endswith(" dark")}
    return not fresh and _lit(now) == _lit(then)


def _lit(running: frozenset[str]) -> frozenset[str]:
    return frozenset(one for one in running if not one.endswith(" dark"))


def _named(device: str, pairs: Pairs) -> list[tuple[str, str]]:
    return [(f"{device}.{a}", f"{device}.{b}") for a, b in pairs]


def _sources(known: dict[str, Letters]) -> dict[str, tuple[str, str]]:
    return {
        device: (f"{device}.{one.transformer[0]}", f"{device}.{one.transformer[1]}")
        for device, one in known.items()
        if one.transformer
    }


def _powered(graph: networkx.Graph, known: dict[str, Letters], device: str, pair: tuple[str, str]) -> bool:
    """Whether the two sides of one transformer come to two letters, either way round."""
    near, far = (networkx.node_connected_component(graph, f"{device}.{letter}") for letter in pair)
    return any(
        (hot in near and common in far) or (common in near and hot in far)
        for hot, common in _sources(known).values()
    )


def _running(graph: networkx.Graph, known: dict[str, Letters]) -> Iterator[str]:
    sources = _sources(known)
    for device, (hot, common) in sources.items():
        piece = networkx.node_connected_component(graph, hot)
        if common in piece:
            yield f"{device} shorted"
        for other, ends in sources.items():
            if other != device and set(ends) & piece:
                yield f"{device} and {other} tied"
    inputs = {f"{device}.{letter}" for device, one in known.items() for letter, _ in one.runs}
    for device, letters in known.items():
        for letter, back in letters.runs:
            if all(_powered(graph, known, device, (one, back)) for one in _beside(letters, letter)):
                yield f"{device}.{letter}"
        if letters.display and not _powered(graph, known, device, letters.display):
            yield from _dark(graph, known, device, letters.display)
            # Its own electronics then stand in series with whatever letter they hang on.
            fed, common = (
                networkx.node_connected_component(graph, f"{device}.{letter}") for letter in letters.display
            )
            if any(set(ends) & fed for ends in sources.values()):
                yield from (f"{device} leaks into {letter}" for letter in sorted(inputs & common))


def _at_odds(graph: networkx.Graph, known: dict[str, Letters]) -> Iterator[str]:
    """The machines whose letters for heat and for cooling both have their 24 V."""
    for device, one in known.items():
        for heat, cool in () if one.calls else OPPOSITE:
            pairs = ((heat, "C"), (cool, "C"))
            if {heat, cool, "C"} <= set(one.screws) and all(_powered(graph, known, device, p) for p in pairs):
                yield device


def _beside(letters: Letters, letter: str) -> Iterator[str]:
    """A letter, and those without whose 24 V it is not looked at."""
    yield letter
    if letter in letters.only_with:
        yield from _beside(letters, letters.only_with[letter])


def _dark(
    graph: networkx.Graph, known: dict[str, Letters], device: str, pair: tuple[str, str]
) -> Iterator[str]:
    """A thermostat without power of its own, though both of its wires go somewhere."""
    letters = {f"{other}.{screw}" for other, one in known.items() if other != device for screw in one.screws}
    ends = [networkx.node_connected_component(graph, f"{device}.{letter}") for letter in pair]
    if all(end & letters for end in ends):
        yield f"{device} is dark"


def _astray(graph: networkx.Graph, known: dict[str, Letters]) -> Iterator[str]:
    """The commons of thermostats that come to some other letter, and to no common by copper alone."""
    letters = {
        f"{device}.{screw}" for device, one in known.items() for screw in one.screws if screw not in "ab"
    }
    for device, one in known.items():
        if one.display:
            own = f"{device}.{one.display[1]}"
            others = networkx.node_connected_component(graph, own) & letters - {own}
            if others and not any(letter.endswith(".C") for letter in others):
                yield f"{own} is on {' and '.join(sorted(others))}"


# --------------------------------------------------------------- mistakes


def hookup_mutants(work: Work) -> Iterator[Mutant]:
    """All single mistakes on the thermostat's wires."""
    screws = _screws(work)
    for mistake in (ends_exchanged, end_left_loose, end_capped):
        for words, changed in mistake(work):
            if _only_low(work, changed):
                yield Mutant(f"hookup: {mistake.__name__.replace('_', ' ')}", words, changed)
    for words, changed in end_moved(work, screws):
        if _only_low(work, changed):
            yield Mutant("hookup: end moved", words, changed)
    for kind, more in (
        ("jumper added", jumper_added),
        ("jumper left out", jumper_left_out),
        ("on the line", on_the_line),
    ):
        for words, changed in more(work):
            yield Mutant(f"hookup: {kind}", words, changed)


def _screws(work: Work) -> dict[str, list[str]]:
    told: dict[str, list[str]] = {}
    for device in work.devices:
        for screw in LETTERS.get(device.part, Letters()).screws:
            told.setdefault(device.place or device.name, []).append(f"{device.name}.{screw}")
    return told


def _only_low(work: Work, changed: Work) -> bool:
    """Whether only thermostat wires were touched: a mistake on power wires is the other proof's."""
    low = {name for name, (cable, _) in work.conductors().items() if cable.low}
    before = {(join.place, tuple(join.members)) for join in work.joins}
    after = {(join.place, tuple(join.members)) for join in changed.joins}
    wires = set(work.conductors())
    touched = {name for _, members in before ^ after for name, _ in members if name in wires}
    return touched <= low


def jumper_added(work: Work) -> Iterator[tuple[str, Work]]:
    """A short wire between two of a device's letters."""
    for place, screws in _screws(work).items():
        for one, other in itertools.combinations(screws, 2):
            if any({one, other} <= {name for name, _ in join.members} for join in work.joins):
                continue
            changed = work.copy()
            changed.joins.append(Join(place, [(one, None), (other, None)]))
            yield f"a jumper from {one} to {other}", changed


def on_the_line(work: Work) -> Iterator[tuple[str, Work]]:
    """A thermostat wire's end is put to a power wire of the same place: under its screw, into its splice."""
    cables = {name: cable for name, (cable, _) in work.conductors().items()}
    for at, join in enumerate(work.joins):
        for name, _ in join.members:
            if name not in cables or not cables[name].low:
                continue
            for to, other in enumerate(work.joins):
                if other.place == join.place and _power(work, other):
                    changed = work.copy()
                    members = [one for one in join.members if one[0] != name]
                    changed.joins[at].members = members if len(members) > 1 else []
                    changed.joins[to].members.insert(0, (name, None))
                    changed.joins = [one for one in changed.joins if one.members]
                    told = " and ".join(one for one, _ in other.members if one)
                    yield f"{name} to {told}", changed


def _power(work: Work, join: Join) -> bool:
    """Whether a power wire that is no ground ends in a join."""
    wires = work.conductors()
    here = [wires[name] for name, _ in join.members if name in wires]
    return any(not cable.low and color not in ("bare", "green") for cable, color in here)


def on_power(work: Work) -> Iterator[str]:
    """The thermostat wires that are one piece of copper with a power wire, or with a breaker or a bar."""
    graph = networkx.Graph()
    wires = work.conductors()
    for name, (cable, _) in wires.items():
        graph.add_edge(*(f"{name}@{place}" for place in cable.places()))
    for join in work.joins:
        points = [f"{name}@{join.place}" if name in wires else name for name, _ in join.members if name]
        graph.add_edges_from(itertools.pairwise(points))
    power = [
        f"{name}@{cable.places()[0]}"
        for name, (cable, color) in wires.items()
        if not cable.low and color not in ("bare", "green")
    ]
    reached = set().union(*(networkx.node_connected_component(graph, point) for point in power), set())
    for name, (cable, _) in wires.items():
        if cable.low and f"{name}@{cable.places()[0]}" in reached:
            yield name


def jumper_left_out(work: Work) -> Iterator[tuple[str, Work]]:
    """A jumper between two letters is not put in."""
    for at, join in enumerate(work.joins):
        letters = [name for name, _ in join.members if name in _screws(work).get(join.place, [])]
        for letter in letters[1:]:
            changed = work.copy()
            changed.joins[at].members = [one for one in join.members if one[0] != letter]
            yield f"no jumper to {letter}", changed


def loose(work: Work) -> bool:
    """Whether a wire's end is left without a joint or a cap."""
    joined = {
        f"{name}@{join.place}" for join in work.joins if len(join.members) > 1 for name, _ in join.members
    }
    joined |= {f"{name}@{place}" for place, name in work.caps}
    return any(
        f"{name}@{place}" not in joined
        for name, (cable, _) in work.conductors().items()
        for place in cable.places()
    )


def crowded(work: Work) -> bool:
    """Whether more wires, jumpers and tails are under a letter than its screw takes."""
    parts = {device.name: device.part for device in work.devices}
    wires = work.conductors()
    under: dict[str, int] = {}
    for join in work.joins:
        # A pigtail has no name. What is before the first and what is after each has a tail to one splice.
        named = [name or "" for name, _ in join.members]
        parted = [list(those) for tail, those in itertools.groupby(named, bool) if tail]
        for at, names in enumerate(parted):
            screws = [
                name for name in names if name not in wires and parts.get(name.split(".")[0]) in LETTERS
            ]
            for number, screw in enumerate(screws):
                first, last = number == 0, number == len(screws) - 1
                tails = first if at > 0 else last and len(parted) > 1
                ends = sum(name in wires for name in names) if first else 0
                under[screw] = under.get(screw, 0) + ends + tails + (not first) + (not last)
    return any(
        count > LETTERS[parts[screw.split(".")[0]]].holds.get(screw.split(".")[1], 1)
        for screw, count in under.items()
        if screw.split(".")[1] in LETTERS[parts[screw.split(".")[0]]].screws
    )


def hookup_judge(right: Work) -> Callable[[Work], Verdict]:
    """A judge of other boards: whether they do what this one does, and are made up as they should be."""
    table = truth(right)
    asked = _expected_calls(right) | {"idle", "always"}

    def judge(other: Work) -> Verdict:
        verdict = Verdict()
        if loose(other):
            verdict.hazards.add("a wire is loose")
        verdict.hazards |= {f"{name} is on line voltage" for name in on_power(other)}
        if crowded(other):
            verdict.hazards.add("too many wires are under a screw")
        for state, running in truth(other).items():
            # A wire that is capped makes a call that the board does not ask for stay away: nobody's matter.
            given_up = state[0] not in asked and len(other.caps) > len(right.caps)
            if not given_up and not _same(running, table[state]):
                now, then = (", ".join(sorted(one)) or "nothing" for one in (running, table[state]))
                verdict.faults.add(f"with {' and '.join(state)}: {now}, not {then}")
        return verdict

    return judge
