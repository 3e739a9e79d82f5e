"""The thermostat's wires: every mistake of the hand on them, and which terminal letter reaches which.

The oracle is a truth table of its own: with each call made, and the float switch dry and wet, which letters
have a transformer's 24 V across them. A mutant with the table of the right board works as before. It knows
nothing of sequences, of amperes or of the rules.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import networkx

from tests.boards.mutations import Mutant, end_capped, end_left_loose, end_moved, ends_exchanged
from tests.boards.oracle import Verdict
from tests.boards.work import Join, Work

Pairs = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Letters:
    """A device by its letters: its transformer's two, what it runs (letter, return), what joins them when.

    `+` and `-` are a transformer's sides that come to no terminal.
    """

    transformer: tuple[str, str] | None = None
    runs: Pairs = ()
    inside: Pairs = ()
    calls: dict[str, Pairs] = field(default_factory=dict)
    needs_power: tuple[str, str] | None = None
    positions: dict[str, Pairs] = field(default_factory=dict)
    screws: tuple[str, ...] = ()
    holds: dict[str, int] = field(default_factory=dict)
    display: tuple[str, str] | None = None


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
    "packaged-unit": Letters(
        ("R", "C"),
        (("W", "C"), ("G", "C"), ("Y", "C")),
        screws=("R", "C", "W", "Y", "G"),
        holds={"R": 2, "C": 2},
    ),
    "condensing-unit": Letters(None, (("Y", "C"),), screws=("Y", "C"), holds={"Y": 99, "C": 99}),
    "air-handler": Letters(
        ("R", "C"),
        (("G", "C"), ("W2", "C")),
        screws=("R", "C", "G", "W2"),
        holds={"R": 3, "C": 3, "G": 2, "W2": 3},
    ),
    "heat-pump": Letters(
        None,
        # Defrost, where it sends R out on W2, is no call: no board can say what it expects of it.
        (("Y", "C"), ("O", "C"), ("R", "C")),
        screws=("R", "C", "Y", "O", "W2"),
        holds=BLOCK,
    ),
    "oil-furnace": Letters(("T-1", "-"), (("T-2", "-"),), screws=("T-1", "T-2")),
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
    "float-switch": Letters(positions={"dry": (("a", "b"),), "wet": ()}, screws=("a", "b")),
}
# What has no thermostat wire on it.
APART = {"disconnect-2-pole", "circulator", "single-pole-switch"}
Table = dict[tuple[str, ...], frozenset[str]]


def hooks_up(work: Work) -> bool:
    """Whether a board has a thermostat, and every device of it is known here."""
    parts = {device.part for device in work.devices}
    return parts <= set(LETTERS) | APART and any(part.endswith("thermostat") for part in parts & set(LETTERS))


def _expected_calls(work: Work) -> set[str]:
    return {word.text for one in work.expects for word in getattr(one, "calls", ())}


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
        graph.add_nodes_from(f"{device}.{screw}" for screw in (*letters.screws, "-"))
    for join in work.joins:
        points = [f"{name}@{join.place}" if name in low else name for name, _ in join.members if name]
        graph.add_edges_from(itertools.pairwise(point for point in points if point))
    calls = ["idle", *dict.fromkeys(call for one in known.values() for call in one.calls)]
    movable = {device: list(one.positions) for device, one in known.items() if one.positions}
    table: Table = {("always",): frozenset(_astray(graph, known))}
    for call, *values in itertools.product(calls, *movable.values()):
        closed = graph.copy()
        for device, value in zip(movable, values, strict=True):
            closed.add_edges_from(_named(device, known[device].positions[value]))
        for device, letters in known.items():
            if letters.needs_power is None or _powered(closed, known, device, letters.needs_power):
                closed.add_edges_from(_named(device, letters.calls.get(call, ())))
        table[(call, *values)] = frozenset(_running(closed, known))
    return table


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
            if _powered(graph, known, device, (letter, back)):
                yield f"{device}.{letter}"
        if letters.display and not _powered(graph, known, device, letters.display):
            yield from _dark(graph, known, device, letters.display)
            # Its own electronics then stand in series with whatever letter they hang on.
            fed, common = (
                networkx.node_connected_component(graph, f"{device}.{letter}") for letter in letters.display
            )
            if any(set(ends) & fed for ends in sources.values()):
                yield from (f"{device} leaks into {letter}" for letter in sorted(inputs & common))


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
    """Whether more wires and jumpers are under a letter than its screw takes."""
    parts = {device.name: device.part for device in work.devices}
    wires = work.conductors()
    under: dict[str, int] = {}
    for join in work.joins:
        names = [name for name, _ in join.members]
        screws = [
            name for name in names if name and name not in wires and parts.get(name.split(".")[0]) in LETTERS
        ]
        for number, screw in enumerate(screws):
            jumpers = (number > 0) + (number < len(screws) - 1)
            ends = sum(name in wires for name in names) if number == 0 else 0
            under[screw] = under.get(screw, 0) + ends + jumpers
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
