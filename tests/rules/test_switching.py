"""Switches that do what they should, and what is seen of those that do not."""

from __future__ import annotations

import itertools
from pathlib import Path

import networkx
import pytest

import wirecheck
from tests.rules.hands import LOOP, STAIR, case, changed, own, reported, said, seen
from tests.rules.motors import SMALL
from tests.samples import SAMPLES, board, fed
from wirecheck import files
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NotJoined, Stop, TooLittle
from wirecheck.rules.switching import (
    RULE,
    InWrongPositions,
    NotAsAsked,
    Swapped,
    TooManyVolts,
    TurnedOff,
    find,
)

STAIRS = (SAMPLES / "stair-light.wire").read_text()
JOINS = {
    "S1.common": "  W1.black -- S1.common",
    "S1.traveler-1": "  W2.black -- S1.traveler-1",
    "S1.traveler-2": "  W2.red -- S1.traveler-2",
    "S2.common": "  W3.black -- S2.common",
    "S2.traveler-1": "  W2.black -- S2.traveler-1",
    "S2.traveler-2": "  W2.red -- S2.traveler-2",
}


def exchanged(one: str, other: str) -> str:
    """The stair light with the wires of two screws swapped."""
    text = STAIRS
    for a, b in ((one, other), (other, one)):
        wire = JOINS[a].split(" -- ")[0]
        text = text.replace(JOINS[a] + "\n", f"{wire} -- {b} #\n")
    return text


def lights(one: str, other: str) -> dict[tuple[str, str], bool]:
    """Whether the lamp is on, position by position: connectivity by networkx, written out by hand."""
    place = {screw: screw for screw in JOINS} | {one: other, other: one}
    told = {}
    for first, second in itertools.product(("up", "down"), repeat=2):
        graph = networkx.Graph()
        graph.add_edge("feed", place["S1.common"])
        graph.add_edge(place["S1.traveler-1"], "black")
        graph.add_edge(place["S1.traveler-2"], "red")
        graph.add_edge(place["S2.traveler-1"], "black")
        graph.add_edge(place["S2.traveler-2"], "red")
        graph.add_edge(place["S2.common"], "lamp")
        graph.add_edge("S1.common", "S1.traveler-1" if first == "up" else "S1.traveler-2")
        graph.add_edge("S2.common", "S2.traveler-1" if second == "up" else "S2.traveler-2")
        told[first, second] = networkx.has_path(graph, "feed", "lamp")
    return told


PAIRS = [
    pair
    for pair in itertools.combinations(JOINS, 2)
    if pair[0].partition(".")[0] == pair[1].partition(".")[0]
]


@pytest.mark.parametrize("text", [STAIR, LOOP + "expect L1 from S1\n"])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_every_swap_of_two_wires_is_judged_as_the_circuit_is(one: str, other: str) -> None:
    on = lights(one, other)
    right = all(
        on[a, b] != on[c, b] and on[a, b] != on[a, d]
        for a, b, c, d in (("up", "up", "down", "down"), ("down", "down", "up", "up"))
    )
    found = seen(RULE, exchanged(one, other))
    assert bool(found) != right
    for problem in found:
        assert isinstance(problem.why, Swapped)
        assert one in {screw.name for screw in problem.why.screws}
        assert {tuple(row.positions.values()): row.on for row in problem.rows} == on


def test_the_line_to_change_is_shown() -> None:
    text = exchanged("S1.common", "S1.traveler-1")
    (found,) = seen(RULE, text)
    assert (found.subject, found.severity, found.stage) == ("L1", "fault", "final")
    assert [screw.name for screw in found.why.screws] == ["S1.common", "S1.traveler-1"]
    lines = text.splitlines()
    joins = [lines[join.span.line - 1].strip() for join in found.why.joins]
    assert (
        joins == ["W1.black -- S1.traveler-1 #", "W2.black -- S1.common #"]
        and found.at.of is found.why.joins[0]
    )
    (asked,) = found.asked
    assert lines[asked.span.line - 1] == "expect L1 from S1, S2"


ROOM = (
    "box A device 40 cu in",
    "cable W1 14/2 NM-B 10 ft from LP to A",
    "S1 is single-pole-switch in A",
    "L1 is lampholder 60 W in A",
    "L2 is lampholder 60 W in A",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "W1.bare -- LP.ground",
    "at A",
)


def test_a_light_in_series_with_another_glows() -> None:
    (found,) = seen(
        RULE,
        fed(
            *ROOM,
            "W1.black -- S1.line",
            "S1.load -- L1.hot",
            "L1.neutral -- L2.hot",
            "L2.neutral -- W1.white",
            "expect L1 from S1",
        ),
    )
    assert found.why == InWrongPositions(on=False, off=True, glows=True, too=())
    assert max(row.volts for row in found.rows) == pytest.approx(60, abs=0.1)
    assert found.at.of is found.asked[0]


def test_a_light_that_no_switch_turns_off() -> None:
    (found,) = seen(RULE, fed(*ROOM, "W1.black -- L1.hot", "W1.white -- L1.neutral", "expect L1 from S1"))
    assert found.why == InWrongPositions(on=True, off=False, glows=False, too=())


def test_a_light_that_never_comes_on_and_where_its_path_stops() -> None:
    text = fed(*ROOM, "W1.black -- S1.line", "W1.white -- L1.neutral", "expect L1 from S1")
    (found,) = seen(RULE, text)
    assert isinstance(found.why, Stop) and isinstance(found.why.end, NotJoined)
    assert (found.why.end.here.name, found.why.end.on.name) == ("S1.load", "L1.hot")
    # With the switch on only the wire is missing.
    assert found.why.through == ()
    # Neither screw has a line yet.
    assert found.at.of is found.asked[0]


def test_two_lights_that_one_missing_wire_keeps_dark_are_one_problem() -> None:
    joins = ("W1.black -- LP.3", "W1.white -- L1.neutral -- L2.neutral", "S1.load -- L1.hot -- L2.hot")
    text = fed(*ROOM, *joins[1:], "expect L1 from S1", "expect L2 from S1")
    (found,) = seen(RULE, text)
    assert (found.target.name, [other.target.name for other in found.others]) == ("L1", ["L2"])
    assert [asked.load.text for asked in found.asked] == ["L1", "L2"]
    assert found.at.of.name == "W1.black"


def test_lights_that_are_wrong_for_reasons_of_their_own_are_two_problems() -> None:
    text = fed(*ROOM, "W1.black -- L1.hot -- L2.hot", "W1.white -- L1.neutral -- L2.neutral")
    found = seen(RULE, text + "expect L1 from S1\nexpect L2 from S1\n")
    assert [one.subject for one in found] == ["L1", "L2"]


def test_a_light_that_needs_two_switches_at_once() -> None:
    (found,) = seen(
        RULE,
        fed(
            *ROOM[:2],
            "S2 is single-pole-switch in A",
            *ROOM[2:],
            "W1.black -- S1.line",
            "S1.load -- S2.line",
            "S2.load -- L1.hot",
            "W1.white -- L1.neutral",
            "expect L1 from S1, S2",
        ),
    )
    assert found.why == InWrongPositions(on=True, off=True, glows=False, too=())


def test_switches_that_are_not_named_and_turn_it_too() -> None:
    """The single-pole switch ahead of two 3-way switches, in the board of four halls."""
    halls = Path(__file__).parent / "boards" / "switching" / "halls.wire"
    found = {one.subject: one.why for one in seen(RULE, halls.read_text())}
    assert {name: (why.on, why.off, why.too) for name, why in found.items()} == {
        "LA": (True, True, ("SA4",)),
        "LB": (True, True, ()),
        "LC": (True, True, ("SC2", "SC3")),
        "LD": (True, True, ()),
    }


# ---------------------------------------------------------------- always live


RECEPTACLE = (
    *ROOM[:2],
    "S1 is single-pole-switch in A",
    "R1 is duplex-receptacle 15 A in A",
    *ROOM[5:],
    "W1.white -- R1.neutral",
    "W1.bare -- R1.ground",
)


def test_an_outlet_that_should_be_live_and_is_switched() -> None:
    (found,) = seen(RULE, fed(*RECEPTACLE, "W1.black -- S1.line", "S1.load -- R1.hot", "expect R1 live"))
    assert (found.subject, found.severity) == ("R1.top", "fault")
    assert isinstance(found.why, TurnedOff)
    assert (found.why.dark.positions, found.why.dark.volts) == ({"S1": "off"}, pytest.approx(0, abs=0.1))


LIVE = changed(SMALL, ("expect M from D", "expect M live"))


def test_a_disconnect_that_stands_off_is_no_fault_of_the_board() -> None:
    assert not seen(RULE, LIVE)


def test_any_other_switch_that_does_is() -> None:
    cutout = files.part_text("disconnect-3-pole")
    assert cutout is not None
    cutout = cutout.replace("disconnect-3-pole", "cutout").replace(", disconnect", "")
    text = changed(LIVE, ("D is disconnect-3-pole", "D is cutout"))
    (found,) = RULE.find(case(text, cutout=cutout))
    assert isinstance(found, NotAsAsked) and isinstance(found.why, TurnedOff)
    assert found.why.dark.positions == {"D": "off"}


def test_an_outlet_that_is_never_live_is_no_matter_of_switches() -> None:
    assert not seen(RULE, fed(*RECEPTACLE, "expect R1 live"))


@pytest.mark.parametrize(("given", "found"), [(4.9, 0), (5.1, 1)])
def test_an_outlet_with_hardly_any_volts_has_none(given: float, found: int) -> None:
    source = (
        'part source "A transformer"\nterminal h hot\nterminal n neutral\n'
        "terminal r contact\nterminal c contact\n"
        f"transforms 120 V from h to n into {given} V from r to c, capacity 40 VA, impedance 0.1 %\n"
    )
    text = fed(
        *RECEPTACLE[:4], "T1 is source in A", *RECEPTACLE[4:-2],
        "W1.black -- T1.h", "W1.white -- T1.n", "T1.r -- R1.hot", "T1.c -- R1.neutral", "expect R1 live",
    )  # fmt: skip
    assert len(list(find(Case(board(text, {"source": source}))))) == found


def test_an_outlet_behind_a_load_gets_too_little() -> None:
    lines = [line for line in RECEPTACLE if line != "W1.white -- R1.neutral"]
    lines.insert(2, "L1 is lampholder 60 W in A")
    lines.insert(2, "H1 is heater 60 W, 120 V in A")
    text = fed(
        *lines, "W1.black -- L1.hot", "L1.neutral -- R1.hot -- H1.a", "H1.b -- R1.neutral -- W1.white",
        "expect R1 live",
    )  # fmt: skip
    (found,) = seen(RULE, text)
    assert isinstance(found.why, Stop) and isinstance(found.why.end, TooLittle)


@pytest.mark.parametrize(("rated", "wrong"), [(105, False), (104, True)])
def test_an_outlet_with_more_than_115_percent_of_its_volts(rated: int, wrong: bool) -> None:
    """Common practice: what is plugged in burns out; 120 V are 114.3 % of 105 V and 115.4 % of 104 V."""
    part = (
        'part face "A receptacle"\nterminal hot hot\nterminal neutral neutral\n'
        f"outlet plug from hot to neutral, rated 15 A, volts {rated} V\n"
    )
    joins = ("W1.black -- R1.hot", "W1.white -- R1.neutral")
    text = fed(*ROOM[:2], "R1 is face in A", *ROOM[5:], *joins, "expect R1 live")
    found = judged(text, {"face": part})
    assert bool(found) == wrong
    for problem in found:
        assert isinstance(problem.why, TooManyVolts)
        assert problem.severity == "hazard"
        assert problem.why.most.volts == pytest.approx(120, abs=0.1)
        assert [member.name for member in problem.at.of.members] == ["W1.white", "R1.neutral"]


def judged(text: str, parts: dict[str, str]) -> list[NotAsAsked]:
    """What the rule finds on a board with parts of its own."""
    made = board(text, parts)
    assert not made.problems, made.problems
    return list(find(Case(made)))


# ---------------------------------------------------- switches of three positions


THREE = """\
part speed-switch "A switch with three positions"
terminal line hot
terminal low switched
terminal high switched
positions off, low, high
line -- low when low
line -- high when high
"""
SPEEDS = (
    *ROOM[:2],
    "S1 is speed-switch in A",
    "S2 is single-pole-switch in A",
    "L1 is lampholder 60 W in A",
    *ROOM[5:],
    "W1.white -- L1.neutral",
)


@pytest.mark.parametrize(
    ("joins", "asked", "why"),
    [
        # On low and on high the light is on: a switch may have positions that do not change it.
        (("W1.black -- S1.line", "S1.low -- S1.high -- L1.hot"), "S1", None),
        (("W1.black -- S1.line", "S1.high -- L1.hot"), "S1", None),
        # In no position off, in no position on.
        (
            ("W1.black -- S1.line -- L1.hot",),
            "S1",
            InWrongPositions(on=True, off=False, glows=False, too=()),
        ),
        # A second switch must turn it as well, and from every position of the first.
        (
            ("W1.black -- S2.line", "S2.load -- S1.line", "S1.low -- S1.high -- L1.hot"),
            "S1, S2",
            InWrongPositions(on=True, off=True, glows=False, too=()),
        ),
        # No switch that is not named may change it, in any of its positions: here with the wires on
        # L1.hot and S1.line swapped it would not.
        (
            ("W1.black -- S2.line", "S2.load -- S1.line", "S1.low -- S1.high -- L1.hot"),
            "S2",
            Swapped,
        ),
        # Another switch that it does not feel is none of its business.
        (("W1.black -- S1.line -- S2.line", "S1.low -- L1.hot"), "S1", None),
    ],
)
def test_a_switch_of_three_positions(
    joins: tuple[str, ...], asked: str, why: InWrongPositions | type | None
) -> None:
    found = judged(fed(*SPEEDS, *joins, f"expect L1 from {asked}"), {"speed-switch": THREE})
    seen_of_it = [type(one.why) if isinstance(why, type) else one.why for one in found]
    assert seen_of_it == ([] if why is None else [why])


def test_a_wire_on_the_wrong_screw_of_a_switch_of_three_positions() -> None:
    """The feed on `low`: the light is on in position low alone through the line screw. By hand."""
    joins = ("W1.black -- S1.low -- S1.high", "S1.line -- L1.hot")
    assert not judged(fed(*SPEEDS, *joins, "expect L1 from S1"), {"speed-switch": THREE})
    joins = ("W1.black -- S1.low", "S1.high -- L1.hot")
    (found,) = judged(fed(*SPEEDS, *joins, "expect L1 from S1"), {"speed-switch": THREE})
    assert not any(row.on for row in found.rows)


def test_one_light_from_a_switch_of_three_positions_and_a_3_way_switch() -> None:
    """A traveler in each of two positions, and a third in which the light stays off: S2 is dead there."""
    text = fed(
        *ROOM[:2],
        "S1 is speed-switch in A",
        "S2 is 3-way-switch in A",
        "L1 is lampholder 60 W in A",
        *ROOM[5:],
        "W1.black -- S1.line",
        "S1.low -- S2.traveler-1",
        "S1.high -- S2.traveler-2",
        "S2.common -- L1.hot",
        "W1.white -- L1.neutral",
    )
    (both,) = judged(text + "expect L1 from S1, S2\n", {"speed-switch": THREE})
    assert both.why == InWrongPositions(on=True, off=True, glows=False, too=())
    (alone,) = judged(text + "expect L1 from S1\n", {"speed-switch": THREE})
    assert any(row.on for row in alone.rows)
    always = THREE.replace("positions off, low, high", "positions low, high")
    assert not judged(text + "expect L1 from S1, S2\n", {"speed-switch": always})


def test_nothing_is_asked_of_what_no_expectation_names() -> None:
    assert not seen(RULE, changed(STAIR, ("expect L1 from S1, S2\n", "")))


def test_a_short_leaves_dark_what_its_switches_do_rightly() -> None:
    """The white wire of the light is spliced to its hot: LP.3 opens as soon as both switches stand alike."""
    text = changed(
        STAIR, ("W3.black -- L1.hot", "W3.black -- W3.white -- L1.hot"), ("  W3.white -- L1.neutral\n", "")
    )
    (found,) = seen(RULE, text)
    assert [opening.name for opening in found.opened] == ["LP.3"]
    assert "switching" not in reported(text) and "short-circuit" in reported(text)


def test_a_breaker_that_opens_on_too_much_says_nothing_of_the_switches() -> None:
    """Before it opens the light does what its switch says."""
    heater = "H1 is heater 3600 W, 120 V in A"
    joins = ("W1.black -- H1.a -- S1.line", "S1.load -- L1.hot", "W1.white -- H1.b -- L1.neutral")
    text = fed(*ROOM[:2], heater, *ROOM[2:], *joins, "expect L1 from S1")
    assert not seen(RULE, text)
    (wrong,) = seen(RULE, text.replace("S1.load -- L1.hot", "S1.load -- L2.hot"))
    assert [opening.name for opening in wrong.opened] == ["LP.3"]
    assert "switching" in reported(text.replace("S1.load -- L1.hot", "S1.load -- L2.hot"))


# ------------------------------------------------------------- 3-way switches unasked


UNASKED = STAIR.replace("expect L1 from S1, S2\n", "")
CROSSED = changed(
    UNASKED,
    ("  W1.black -- S1.common\n", "  W1.black -- S1.traveler-1\n"),
    ("  W2.black -- S1.traveler-1\n", "  W2.black -- S1.common\n"),
)


def test_3_way_switches_turn_a_light_in_every_position_without_being_asked() -> None:
    assert not seen(RULE, UNASKED)
    (found,) = seen(RULE, CROSSED)
    assert (found.subject, found.severity, found.stage) == ("L1", "fault", "final")
    assert (found.switches, found.asked, bool(found.copper)) == (("S1", "S2"), (), True)
    assert isinstance(found.why, Swapped)
    assert {screw.name for screw in found.why.screws} == {"S1.common", "S1.traveler-1"}
    # What a line asks for is judged by that alone.
    (asked,) = seen(RULE, CROSSED + "expect L1 from S1, S2\n")
    assert len(asked.asked) == 1


def test_a_4_way_whose_pairs_are_on_the_wrong_screws() -> None:
    text = (Path(__file__).parent / "boards" / "switching" / "by-sides.wire").read_text(encoding="utf-8")
    (found,) = seen(RULE, text)
    assert (found.subject, found.switches) == ("L1", ("S1", "S2", "S3"))
    assert isinstance(found.why, Swapped)
    assert {screw.owner for screw in found.why.screws} == {"S2"}


def test_a_master_switch_ahead_of_3_way_switches_is_right() -> None:
    text = changed(
        UNASKED,
        ("S1 is", "S0 is single-pole-switch in A\nS1 is"),
        ("  W1.black -- S1.common\n", "  W1.black -- S0.line\n  S0.load -- S1.common\n"),
    )
    assert not seen(RULE, text)


def test_a_3_way_switch_in_place_of_a_single_pole_one_is_right() -> None:
    assert not seen(
        RULE,
        LOOP.replace("single-pole-switch", "3-way-switch")
        .replace("S1.line", "S1.common")
        .replace("S1.load", "S1.traveler-1"),
    )


def test_no_place_shows_what_is_wrong() -> None:
    """A third 3-way where a 4-way belongs: no two wires put it right."""
    text = (files.folder("boards") / "three-switch-hall" / "wrong-3-way-in-place-of-4-way.wire").read_text()
    text = "\n".join(line for line in text.splitlines() if not line.startswith("expect")) + "\n"
    found = seen(RULE, text)
    assert [(one.subject, type(one.why)) for one in found] == [("L1", InWrongPositions)]
    assert all(one.why.on and one.why.off and not one.why.too for one in found)


def test_a_24_volt_load_is_not_asked_for() -> None:
    text = CROSSED.replace("L1 is lampholder 60 W in B", "L1 is heater 10 W, 24 V in B")
    text = (
        text.replace("L1.hot", "L1.a")
        .replace("L1.neutral", "L1.b")
        .replace("W3.bare -- L1.ground", "cap W3.bare")
    )
    assert not seen(RULE, text)


def test_what_takes_two_hots_and_has_one_is_in_series_with_nothing() -> None:
    text = own("wrong-voltage", "one-leg")
    text = changed(
        text,
        ("breaker LP.3 15 A", "breaker LP.3 15 A\nDS is disconnect-2-pole 30 A in B"),
        (
            "  W1.black -- H1.L1\n  W1.white -- H1.L2\n",
            "  W1.black -- DS.line-1\n  W1.white -- DS.line-2\n  DS.load-1 -- H1.L1\n  DS.load-2 -- H1.L2\n",
        ),
    )
    (found,) = said(RULE, f"{text}expect H1.element from DS\n")
    assert found.message == (
        "H1.element gets only 120 V with DS on, and is made for 240 V: only one of its two sides is on a hot."
    )
    assert found.help == "Bring it both hots, from a two-pole breaker."
    assert "switching" not in reported(f"{text}expect H1.element from DS\n")


DISCONNECT = """board "T"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A
box A device 20.3 cu in metal
S is single-pole-switch 15 A in A
D is disconnect-2-pole 30 A
H is heater 500 W with voltage 120 V
cable W1 12/2 NM-B 10 ft from LP to A
cable W2 12/2 NM-B 10 ft from A to D
cable W3 12/2 NM-B 10 ft from D to H
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
at A
  W1.black -- S.line
  W2.black -- S.load
  W1.white -- W2.white
at D
  W2.black -- D.line-1
  W3.black -- D.load-1
  W2.white -- W3.white
at H
  W3.black -- H.a
  W3.white -- H.b
expect H from S
"""


def test_a_disconnect_that_the_line_does_not_name_is_no_second_switch() -> None:
    (found,) = seen(RULE, DISCONNECT)
    words = RULE.words(found, case(DISCONNECT))
    assert words.message == "The disconnect D cuts off H, and the expect line names S alone."
    assert words.look == (
        "Look again, with the power off, at each wire on D. If D should cut off H, name it too: "
        "expect H from S, D."
    )


def test_a_disconnect_that_the_line_names_cuts_off_what_the_switches_turn_on_and_off() -> None:
    named = DISCONNECT.replace("from S", "from S, D")
    assert not seen(RULE, named)
    # Past the disconnect, or past the switch, it does not.
    assert seen(
        RULE, changed(named, ("  W2.black -- D.line-1\n  W3.black -- D.load-1", "  W2.black -- W3.black"))
    )
    assert seen(
        RULE, changed(named, ("  W1.black -- S.line\n  W2.black -- S.load", "  W1.black -- W2.black"))
    )
    assert seen(RULE, DISCONNECT.replace("from S", "from D"))


PUMP = """board "T"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A 2-pole
D is disconnect-2-pole 30 A
PS is pump-pressure-switch
DW is disconnect-2-pole 30 A
WP is well-pump
cable W1 12/2 NM-B 10 ft from LP to D
cable W2 12/2 NM-B 10 ft from D to PS
cable W3 12/2 UF-B 90 ft from PS to DW
cable W4 12/2 UF-B 10 ft from DW to WP
at LP
  W1.black -- LP.1.a
  W1.white marked red -- LP.1.b
at D
  W1.black -- D.line-1
  W1.white marked red -- D.line-2
  W2.black -- D.load-1
  W2.white marked red -- D.load-2
at PS
  W2.black -- PS.line-1
  W2.white marked red -- PS.line-2
  W3.black -- PS.load-1
  W3.white marked red -- PS.load-2
at DW
  W3.black -- DW.line-1
  W3.white marked red -- DW.line-2
  W4.black -- DW.load-1
  W4.white marked red -- DW.load-2
at WP
  W4.black -- WP.L1
  W4.white marked red -- WP.L2
"""


def test_what_no_hand_moves_is_tried_where_the_line_names_it() -> None:
    named = f"{PUMP}expect WP from PS, D, DW\n"
    assert not seen(RULE, named)
    both = (
        ("  W2.black -- PS.line-1\n  W2.white marked red -- PS.line-2\n", "  W2.black -- W3.black\n"),
        ("  W3.black -- PS.load-1\n  W3.white marked red -- PS.load-2\n", "  W2.white -- W3.white\n"),
    )
    (found,) = seen(RULE, changed(named, *both))
    assert RULE.words(found, case(changed(named, *both))).message.startswith("WP is on only with")


def test_what_turns_it_too_is_where_to_look() -> None:
    text = DISCONNECT.replace("disconnect-2-pole 30 A", "double-pole-switch 20 A")
    (found,) = seen(RULE, text)
    words = RULE.words(found, case(text))
    assert words.message == "D turns H on or off, and only S should."
    assert words.look == "Look again, with the power off, at each wire on D."


def test_the_light_in_a_switch_is_not_called_as_the_switch_is() -> None:
    path = files.folder("boards") / "attic-fan" / "wrong-pilot-without-neutral.wire"
    (one,) = wirecheck.check(path, effort=0).findings
    assert one.message.startswith("The light in PS never comes on. PS should turn it on and off.")


CLOCK = (files.folder("boards") / "water-heater-on-time-clock" / "right.wire").read_text(encoding="utf-8")


def test_what_waits_for_a_control_of_its_own_machine_is_tried_with_that_let_through() -> None:
    """Common practice: a water heater's lower element waits for the upper thermostat, once the top is hot."""
    text = f"{CLOCK}expect WH.lower from TC\n"
    assert not seen(RULE, text)
    past = changed(
        text,
        ("  W1.black -- TC.line-1\n", "  W1.black -- W2.black -- pigtail -- TC.line-1\n"),
        ("  W1.white marked red -- TC.line-2\n",
         "  W1.white marked red -- W2.white marked red -- pigtail -- TC.line-2\n"),
        ("  W2.black -- TC.load-1\n  W2.white marked red -- TC.load-2\n", ""),
    )  # fmt: skip
    assert [one.message.partition(". ")[0] for one in said(RULE, past)] == [
        "WH.upper is always on",
        "WH.lower is always on",
    ]


def test_a_safety_of_the_machine_stands_as_at_rest() -> None:
    """Nothing works by what only a safety that has opened would bring."""
    part = (
        'part odd-heater "Its element works once its cutout has opened"\nsource "a test"\n'
        "terminal L1 hot\nterminal L2 line\nterminal ground ground\n"
        "cutout is odd-{kind}\nelement is heater with power 1 kW, voltage 240 V\n"
        "L1 -- cutout.a\ncutout.b -- element.a\nL2 -- element.b\n"
    )
    control = (
        'part odd-{kind} "Closes in heat"\nsource "a test"\nterminal a contact\nterminal b contact\n'
        "positions cold, hot\nmoved by temperature{safety}\na -- b when hot, closes-on-rise\n"
    )
    text = CLOCK.replace("water-heater 4500 W", "odd-heater").replace("WH.upper from", "WH.element from")
    text = text[: text.index("expect WH.cutout")]
    for kind, safety, told in (("limit", ", safety", 1), ("control", "", 0)):
        parts = {
            "odd-heater": part.format(kind=kind),
            f"odd-{kind}": control.format(kind=kind, safety=safety),
        }
        made = board(text, parts)
        assert not made.problems, made.problems
        assert len(list(RULE.find(Case(made)))) == told


@pytest.mark.parametrize(
    ("name", "told"),
    [
        # Each does what the other should.
        (
            "fan-and-light/wrong-fan-and-light-exchanged",
            "CF.motor is on only with S2 on. S1 should turn it on and off. "
            "CF.light is on only with S1 on. S2 should turn it on and off.",
        ),
        ("doorbell/wrong-supply-on-the-buttons-only", "The same goes for CH.rear-bell."),
        # What it has is told before what it should have.
        (
            "range-outlet/wrong-white-and-red-exchanged",
            "RR.oven is made for 240 V and has 120 V. It should always be live.",
        ),
    ],
)
def test_what_each_does_is_told_in_full(name: str, told: str) -> None:
    text = (files.folder("boards") / f"{name}.wire").read_text(encoding="utf-8")
    assert any(told in one.message for one in said(RULE, text))


def test_a_3_way_switch_between_two_others_is_named() -> None:
    """Common practice: with a 3-way switch at each end, all between them are 4-way."""
    text = (files.folder("boards") / "three-switch-hall" / "wrong-3-way-in-place-of-4-way.wire").read_text()
    (one,) = seen(RULE, text)
    assert one.at.of.name == "S2"
    (finding,) = said(RULE, text)
    assert finding.message.endswith("S2 stands between two others, and is no 4-way switch.")
    assert "A 4-way switch belongs there" in (finding.look or "")
    crossed = files.folder("boards") / "three-switch-hall" / "wrong-travelers-crossed-at-4-way.wire"
    assert not any("no 4-way" in one.message for one in said(RULE, crossed.read_text()))
