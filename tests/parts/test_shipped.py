"""Every part that ships: whole, sourced, and with the names that boards rely on."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator

import networkx
import pytest

from tests.parts.shelf import SHIPPED
from wirecheck import files
from wirecheck.language.syntax import AllOf, AnyOf, Called, Condition, InPosition, IsState, Negation, Quantity
from wirecheck.parts.part import KINDS, ROLES, SENSES, Contact, Part

NAMES = SHIPPED.names()

# The parts whose names and terminals boards were promised, in their order.
PROMISED = {
    "single-pole-switch": "line load ground",
    "3-way-switch": "common traveler-1 traveler-2 ground",
    "4-way-switch": "in-1 in-2 out-1 out-2 ground",
    "double-pole-switch": "line-1 line-2 load-1 load-2 ground",
    "duplex-receptacle": "hot neutral ground",
    "split-receptacle": "hot-top hot-bottom neutral ground",
    "gfci-receptacle": "line-hot line-neutral load-hot load-neutral ground",
    "lampholder": "hot neutral ground",
    "fuse": "line load",
    "class-2-transformer": "primary-hot primary-neutral ground secondary-r secondary-c",
    "disconnect-2-pole": "line-1 line-2 load-1 load-2 ground",
    "heat-only-thermostat": "R W",
    "heat-cool-thermostat": "R C W Y G",
    "gas-furnace": "L1 N ground R C W Y G",
    "condensing-unit": "L1 L2 ground Y C",
    "float-switch": "a b",
}
PROMISED_POSITIONS = {
    "single-pole-switch": {"on", "off"},
    "3-way-switch": {"up", "down"},
    "4-way-switch": {"up", "down"},
    "double-pole-switch": {"on", "off"},
}
PROMISED_CALLS = {"heat-only-thermostat": {"heat"}, "heat-cool-thermostat": {"heat", "cool", "fan"}}
PROMISED_INSIDE = {
    "gas-furnace": "inducer igniter gas-valve blower limit rollout pressure-switch transformer fuse",
    "condensing-unit": "contactor compressor fan high-pressure low-pressure",
}


def shipped(name: str) -> Part:
    found = SHIPPED.part(name)
    assert found is not None
    return found


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_part_reads_without_a_problem(name: str) -> None:
    part = shipped(name)
    assert part.problems == ()
    assert part.name == name
    assert part.title
    assert part.sources


@pytest.mark.parametrize("name", NAMES)
def test_every_terminal_says_what_belongs_on_it_and_what_it_is_for(name: str) -> None:
    for terminal in shipped(name).terminals.values():
        assert terminal.role in ROLES
        assert terminal.text
        assert terminal.holds >= 1
        if terminal.screw is not None:
            # NEMA WD 1: brass or dark to the hot, silver to the neutral, green to the ground.
            wanted = {"neutral": {"silver"}, "ground": {"green"}}.get(terminal.role, {"brass", "black"})
            assert terminal.screw in wanted


@pytest.mark.parametrize("name", NAMES)
def test_every_terminal_is_used_or_only_a_place_to_land(name: str) -> None:
    """A terminal that nothing inside refers to is a place to land, never a slip of the pen."""
    part = shipped(name)
    used = {point for contact in part.contacts for point in (contact.a, contact.b)}
    used |= {point for load in part.loads for point in (load.a, load.b)}
    used |= {point for winding in part.transformers for point in (*winding.primary, *winding.secondary)}
    used |= {point for guard in part.protections for pair in guard.pairs for point in pair}
    used |= {point for outlet in part.outlets for point in (outlet.hot, outlet.neutral)}
    used |= set(re.findall(r"[\w-]+(?= has )|(?<= to )[\w-]+", files.part_text(name) or ""))
    idle = {
        terminal.name for terminal in part.terminals.values() if terminal.role not in ("ground", "signal")
    } - used
    # A breaker's own way to the bus is the board's, and a lug's; a furnace's Y is where two cables meet.
    allowed = {"panel": {"neutral"}, "lug": {"lug"}, "breaker": {"load"}, "gas-furnace": {"Y"}}
    allowed |= {kind: {"load", "neutral"} for kind in ("gfci-breaker", "afci-breaker")}
    assert idle <= allowed.get(name, set())


@pytest.mark.parametrize("name", NAMES)
def test_every_part_inside_is_in_the_library(name: str) -> None:
    for child in shipped(name).children:
        assert SHIPPED.part(child.part) is not None


@pytest.mark.parametrize("name", NAMES)
def test_every_load_is_of_a_known_kind_and_can_be_put_in_figures(name: str) -> None:
    part = shipped(name)
    for load in part.loads:
        assert load.kind in KINDS
        for value in (load.draws, load.volts):
            figure = (
                value if isinstance(value, Quantity) or value is None else part.ratings[value.text].values[0]
            )
            assert isinstance(figure, Quantity)
            assert figure.value > 0


@pytest.mark.parametrize("name", PROMISED)
def test_promised_terminals(name: str) -> None:
    assert list(shipped(name).terminals) == PROMISED[name].split()


@pytest.mark.parametrize("name", PROMISED_POSITIONS)
def test_promised_positions(name: str) -> None:
    assert set(shipped(name).positions) == PROMISED_POSITIONS[name]


@pytest.mark.parametrize("name", PROMISED_CALLS)
def test_promised_calls(name: str) -> None:
    assert set(shipped(name).calls) == PROMISED_CALLS[name]


@pytest.mark.parametrize("name", PROMISED_INSIDE)
def test_promised_parts_inside(name: str) -> None:
    part = shipped(name)
    inside = {child.name for child in part.children} | {load.name for load in part.loads}
    assert set(PROMISED_INSIDE[name].split()) <= inside


def test_promised_ratings() -> None:
    def values(name: str, rating: str) -> list[str]:
        return [value.text for value in shipped(name).ratings[rating].values]

    assert values("duplex-receptacle", "current") == ["15 A", "20 A"]
    assert values("lampholder", "power") == ["60 W"]
    assert values("fuse", "current") == ["3 A"]
    assert values("class-2-transformer", "capacity") == ["40 VA"]
    assert values("class-2-transformer", "primary")[0] == "120 V"
    assert {outlet.name for outlet in shipped("split-receptacle").outlets} == {"top", "bottom"}
    assert "30 A" in values("disconnect-2-pole", "current")


def test_what_the_board_statements_stand_for() -> None:
    panel = shipped("panel").terminals
    assert list(panel) == ["neutral", "ground"]
    # NEC 2023 408.41: each grounded conductor under a terminal of its own.
    assert "bar" in panel["neutral"].flags
    assert panel["neutral"].holds == 1
    assert "bar" in panel["ground"].flags
    assert panel["ground"].holds == 2
    for name in ("breaker", "gfci-breaker", "afci-breaker"):
        assert shipped(name).terminals["load"].rated == 75.0
    assert list(shipped("metal-box").terminals) == ["ground"]
    # UL 943, Class A: 4 mA to 6 mA.
    for name in ("gfci-receptacle", "gfci-breaker"):
        trips = shipped(name).ratings.get("trips")
        value = trips.values[0] if trips else shipped(name).protections[0].options["trips"]
        assert isinstance(value, Quantity)
        assert 0.004 <= value.value <= 0.006


# ------------------------------------------------------------ contact truth


def joined(part: Part, position: str = "", call: str = "") -> set[frozenset[str]]:
    """The groups of terminals that conduct to one another in a position, by networkx."""

    def true(condition: Condition | None) -> bool:
        match condition:
            case None:
                return True
            case InPosition(word):
                return word.text == position
            case Called(word):
                return word.text == call
            case AnyOf(facts):
                return any(true(fact) for fact in facts)
            case Negation(fact):
                return not true(fact)
        raise AssertionError(condition)

    graph = networkx.Graph()
    graph.add_nodes_from(part.terminals)
    graph.add_edges_from((contact.a, contact.b) for contact in part.contacts if true(contact.when))
    return {frozenset(group) for group in networkx.connected_components(graph) if len(group) > 1}


SWITCHES = [
    ("single-pole-switch", "on", ["line load"]),
    ("single-pole-switch", "off", []),
    ("double-pole-switch", "on", ["line-1 load-1", "line-2 load-2"]),
    ("double-pole-switch", "off", []),
    ("disconnect-2-pole", "on", ["line-1 load-1", "line-2 load-2"]),
    ("disconnect-2-pole", "off", []),
    ("3-way-switch", "up", ["common traveler-1"]),
    ("3-way-switch", "down", ["common traveler-2"]),
    ("4-way-switch", "up", ["in-1 out-1", "in-2 out-2"]),
    ("4-way-switch", "down", ["in-1 out-2", "in-2 out-1"]),
    ("float-switch", "closed", ["a b"]),
    ("float-switch", "open", []),
]


@pytest.mark.parametrize(("name", "position", "pairs"), SWITCHES)
def test_a_switch_joins_these_and_no_others(name: str, position: str, pairs: list[str]) -> None:
    assert joined(shipped(name), position) == {frozenset(pair.split()) for pair in pairs}


@pytest.mark.parametrize("fours", [0, 1, 2, 3])
def test_threes_and_fours_in_a_row_follow_parity(fours: int) -> None:
    """Two 3-way switches with 4-way switches between them: one flip always turns the lamp over.

    Outside check: the parity function over all positions.
    """
    row = ["3-way-switch", *["4-way-switch"] * fours, "3-way-switch"]
    for positions in itertools.product(("up", "down"), repeat=len(row)):
        graph = networkx.Graph()
        for place, (name, position) in enumerate(zip(row, positions, strict=True)):
            for group in joined(shipped(name), position):
                graph.add_edge(*((place, terminal) for terminal in group))
        for place in range(len(row) - 1):
            for n in (1, 2):
                out = f"traveler-{n}" if place == 0 else f"out-{n}"
                into = f"traveler-{n}" if place == len(row) - 2 else f"in-{n}"
                graph.add_edge((place, out), (place + 1, into))
        lit = networkx.has_path(graph, (0, "common"), (len(row) - 1, "common"))
        assert lit == (positions.count("down") % 2 == 0)


CALLS = [
    ("heat-only-thermostat", "heat", ["R W"]),
    ("heat-only-thermostat", "", []),
    ("heat-cool-thermostat", "heat", ["R W"]),
    # Common practice: a cooling call brings the fan with it.
    ("heat-cool-thermostat", "cool", ["R Y G"]),
    ("heat-cool-thermostat", "fan", ["R G"]),
    ("heat-cool-thermostat", "", []),
    ("rc-rh-thermostat", "heat", ["RH W"]),
    ("rc-rh-thermostat", "cool", ["RC Y G"]),
    ("heat-pump-thermostat", "heat", ["R Y B G"]),
    ("heat-pump-thermostat", "cool", ["R Y O G"]),
    ("heat-pump-thermostat", "auxiliary", ["R Y B W2 G"]),
    ("heat-pump-thermostat", "emergency", ["R W2 G"]),
    ("two-stage-thermostat", "heat", ["R W1"]),
    ("humidistat", "humidify", ["a b"]),
    ("humidistat", "", []),
    ("dehumidistat", "", ["a b"]),
    ("dehumidistat", "dehumidify", []),
    ("two-stage-thermostat", "second-heat", ["R W1 W2"]),
    ("two-stage-thermostat", "second-cool", ["R Y1 Y2 G"]),
]


@pytest.mark.parametrize(("name", "call", "groups"), CALLS)
def test_a_call_joins_these_and_no_others(name: str, call: str, groups: list[str]) -> None:
    assert joined(shipped(name), call=call) == {frozenset(group.split()) for group in groups}


FOLLOWS = ("temperature", "pressure", "water", "flow")


def followers() -> list[tuple[Part, Contact]]:
    """The contacts that a temperature, a pressure, a level or a flow moves, here and in the parts inside."""
    found = []
    for name in NAMES:
        part = shipped(name)
        inside = {child.name: shipped(child.part) for child in part.children}
        for contact in part.contacts:
            match contact.when:
                case InPosition():
                    mover = part
                case IsState(of) if of.text in inside:
                    mover = inside[of.text]
                case _:
                    continue
            # What a relay's own heaters trip is drawn as its contact, open or closed.
            trips = any(one.overload is not None for one in mover.contacts)
            if mover.moved_by in FOLLOWS and not trips:
                found.append((mover, contact))
    return found


def test_every_contact_that_follows_a_quantity_says_its_sense() -> None:
    told = followers()
    assert len(told) > 12
    for part, contact in told:
        assert len(contact.flags & set(SENSES)) == 1, part.name
        if part.safety:
            rests_closed = contact.when is not None and true_at_rest(contact.when, part)
            said = contact.flags & {"opens-on-rise", "opens-on-fall"}
            assert bool(said) == rests_closed, part.name


def true_at_rest(condition: Condition, part: Part) -> bool:
    assert isinstance(condition, InPosition)
    return condition.position.text == part.positions[0]


HEATS, COOLS = {"heat", "second-heat", "auxiliary", "emergency"}, {"cool", "second-cool"}


def test_a_room_thermostat_closes_for_heat_on_a_fall_and_for_cooling_on_a_rise() -> None:
    """Common practice; what several kinds of calls close, as the fan's, has no such sense."""
    seen = set()
    for name in NAMES:
        part = shipped(name)
        for contact in part.contacts if "heat" in part.calls or "cool" in part.calls else ():
            calls = set(called(contact.when)) if contact.when else set()
            if not calls:
                continue
            sense = contact.flags & set(SENSES)
            if calls <= HEATS:
                assert sense == {"closes-on-fall"}, (name, contact)
            elif calls <= COOLS:
                assert sense == {"closes-on-rise"}, (name, contact)
            else:
                assert not sense, (name, contact)
            seen |= sense
    assert seen == {"closes-on-fall", "closes-on-rise"}


def called(condition: Condition) -> Iterator[str]:
    match condition:
        case Called(call):
            yield call.text
        case AnyOf(facts) | AllOf(facts):
            for fact in facts:
                yield from called(fact)
