"""What never has power: outlets, loads and transformers, control boards, and thermostats without a common."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, COOLING, LIGHT, LOOP, STAIR, at, case, changed, reported, said, seen
from tests.samples import board, fed
from wirecheck import files
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NotJoined
from wirecheck.rules.dead_outlet import RULE, BoardWithoutPower, CommonOnCall, NeverLive, OnOneSide, find


def judged(
    text: str, parts: dict[str, str]
) -> list[NeverLive | OnOneSide | BoardWithoutPower | CommonOnCall]:
    """What the rule finds on a board with parts of its own."""
    made = board(text, parts)
    assert not made.problems, made.problems
    return list(find(Case(made)))


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, CHAIN, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)
    assert not reported(text)


# -------------------------------------------------------------------- outlets


CAPPED = changed(LIGHT, ("W2.black -- L1.hot", "cap W2.black"))


def test_a_load_that_nothing_feeds() -> None:
    (found,) = seen(RULE, CAPPED)
    assert isinstance(found, NeverLive)
    assert (found.severity, found.subject, found.stage) == ("fault", "L1", "final")
    assert isinstance(found.stop.end, NotJoined)
    assert {found.stop.end.here.owner, found.stop.end.on.name} == {"W2.black", "L1.hot"}
    assert CAPPED.splitlines()[found.at.span.line - 1].strip() == "cap W2.black"
    assert reported(CAPPED) == ["dead-outlet"]


@pytest.mark.parametrize("line", ["expect L1 from S1", "expect L1 from S1\nexpect L1.lamp from S1"])
def test_what_an_expectation_names_is_judged_by_it(line: str) -> None:
    assert not seen(RULE, CAPPED + f"{line}\n")


ROOM = (
    "box A device 40 cu in",
    "cable W1 14/2 NM-B 10 ft from LP to A",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "W1.bare -- LP.ground",
)


@pytest.mark.parametrize(
    ("joins", "subject", "wanted"),
    [
        # Both halves are dead: then the receptacle is.
        (("cap W1.black", "W1.white -- R1.neutral"), "R1", "R1"),
        (("W1.black -- R1.hot-bottom", "W1.white -- R1.neutral"), "R1.top", "R1.top"),
        (("W1.black -- R1.hot-top -- R1.hot-bottom", "W1.white -- R1.neutral"), None, None),
    ],
)
def test_halves_of_a_receptacle(joins: tuple[str, ...], subject: str | None, wanted: str | None) -> None:
    found = seen(RULE, fed("R1 is split-receptacle 15 A in A", *ROOM, "at A", *joins))
    assert [(one.subject, one.wanted.of.name, one.device.name) for one in found] == (
        [(subject, wanted, "R1")] if subject else []
    )


def test_an_outlet_that_a_switch_should_turn_on_is_judged_by_that() -> None:
    text = fed("R1 is split-receptacle 15 A in A", *ROOM, "at A", "W1.white -- R1.neutral")
    text += "S1 is single-pole-switch in A\n"
    (found,) = seen(RULE, text + "expect R1.top from S1\n")
    assert found.subject == "R1.bottom"
    assert not seen(RULE, text + "expect R1 from S1\n")


@pytest.mark.parametrize("asked", ["", "expect R1.top live\n", "expect R1 live\n"])
def test_an_outlet_that_should_be_live_and_has_no_power_is_dead(asked: str) -> None:
    text = fed("R1 is split-receptacle 15 A in A", *ROOM, "at A", "cap W1.black", "W1.white -- R1.neutral")
    (found,) = seen(RULE, text + asked)
    assert (found.subject, found.severity, found.others) == ("R1", "fault", ())
    assert reported(text + asked).count("dead-outlet") == 1
    assert "switching" not in reported(text + asked)


@pytest.mark.parametrize(("asked", "found"), [("", []), ("expect R1 live\n", ["R1"])])
def test_what_waits_for_heat_is_dead_where_it_should_be_live(asked: str, found: list[str]) -> None:
    text = fed(
        "R1 is duplex-receptacle 15 A in A",
        "FS is fan-switch in A",
        *ROOM,
        "at A",
        "W1.black -- FS.a",
        "FS.b -- R1.hot",
        "W1.white -- R1.neutral",
    )
    assert [one.subject for one in seen(RULE, text + asked)] == found


# ------------------------------------------------------------ what is inside parts


HEATER = """\
board "Baseboard heater"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A
breaker LP.5 20 A
cable W1 12/2 NM-B 11 ft from LP to BH
BH is baseboard-heater 1500 W
at LP
  W1.black -- LP.1
  W1.white marked black -- LP.5
  W1.bare -- LP.ground
at BH
  W1.black -- BH.L1
  W1.white marked black -- BH.L2
  W1.bare -- BH.ground
"""


def test_two_hots_of_one_leg_give_no_volts() -> None:
    (found,) = seen(RULE, HEATER)
    assert isinstance(found, OnOneSide)
    assert (found.subject, found.side, found.severity, found.stage) == ("BH.element", "hot", "fault", "final")
    assert (found.device.name, bool(found.copper), found.others) == ("BH", True, ())
    assert at(HEATER, found) == "W1.white marked black -- LP.5"
    assert reported(HEATER) == ["dead-outlet"]
    # On two legs all is well: 1 and 5 are on one, 3 is on the other.
    assert not seen(RULE, HEATER.replace("LP.5", "LP.3"))


def test_two_sides_on_the_neutral_give_no_volts() -> None:
    text = changed(HEATER, ("W1.black -- LP.1", "W1.black -- LP.neutral"))
    text = changed(text, ("W1.white marked black -- LP.5", "W1.white -- LP.neutral"))
    (found,) = seen(RULE, text)
    assert isinstance(found, OnOneSide)
    assert (found.subject, found.side, at(text, found)) == ("BH.element", "neutral", "W1.black -- LP.neutral")


def test_a_hot_that_is_capped_leaves_what_is_inside_dead() -> None:
    text = changed(HEATER, ("  W1.white marked black -- BH.L2", "  cap W1.white")).replace("LP.5", "LP.3")
    (found,) = seen(RULE, text)
    assert isinstance(found, NeverLive) and isinstance(found.stop.end, NotJoined)
    assert (found.subject, at(text, found)) == ("BH.element", "cap W1.white")
    assert {found.stop.end.here.owner, found.stop.end.on.name} == {"W1.white", "BH.L2"}


MACHINE = """\
part machine "A machine of three loads"
terminal L1 hot
terminal L2 hot
terminal N neutral
fan is fan-motor with voltage 240 V
pump is fan-motor with voltage 240 V
clock is fan-motor with voltage 120 V
L1 -- fan.a -- pump.a -- clock.a
L2 -- fan.b -- pump.b
N -- clock.b
"""


@pytest.mark.parametrize(
    ("joins", "found"),
    [
        (("W1.red -- M.L2", "W1.white -- M.N"), []),
        # What has one reason is told together.
        (("cap W1.red", "W1.white -- M.N"), [("M.fan", ["M.pump"])]),
        (("W1.red -- M.L2", "cap W1.white"), [("M.clock", [])]),
        # Two reasons, and yet nothing of the machine works: that is told of the machine.
        (("cap W1.red", "cap W1.white"), [("M", [])]),
    ],
)
def test_loads_of_one_machine(joins: tuple[str, ...], found: list[tuple[str, list[str]]]) -> None:
    text = fed("breaker LP.2 15 A 2-pole", "M is machine", "cable W1 14/3 NM-B 9 ft from LP to M")
    text += "at LP\nW1.black -- LP.2.a\nW1.red -- LP.2.b\nW1.white -- LP.neutral\ncap W1.bare\n"
    text += "\n".join(("at M", "W1.black -- M.L1", *joins, "cap W1.bare", ""))
    told = [one for one in judged(text, {"machine": MACHINE}) if isinstance(one, NeverLive)]
    assert [(one.subject, [other.of.name for other in one.others]) for one in told] == found


@pytest.mark.parametrize(
    ("change", "found"),
    [
        # Without a thermostat that calls for cooling, nothing on the board waits for the outdoor unit.
        ((), ["CU.contactor"]),
        ((("TS is heat-cool-thermostat", "TS is heat-only-thermostat"),), []),
    ],
)
def test_a_machine_that_no_call_is_for(change: tuple[tuple[str, str], ...], found: list[str]) -> None:
    text = changed(COOLING, ("  OW.red -- CU.Y\n", "  cap OW.red\n"), *change)
    if change:
        for letter in ("C", "Y", "G"):
            wire = {"C": "blue", "Y": "yellow", "G": "green"}[letter]
            text = changed(text, (f"  TW.{wire} -- TS.{letter}\n", f"  cap TW.{wire}\n"))
    assert [one.subject for one in seen(RULE, text)] == found


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        # Empty, the rear bell is not for this board. With a wire that comes from nowhere, it is dead.
        ("  B3.white -- CH.rear\n", "  cap B3.white\n", []),
        ("  B3.white -- PR.b\n", "  cap B3.white\n", ["CH.rear-bell"]),
        # The front's terminal is not left empty by choice.
        ("  B2.white -- CH.front\n", "  cap B2.white\n", ["CH.front-bell"]),
    ],
)
def test_an_optional_terminal_is_left_empty_by_choice(old: str, new: str, found: list[str]) -> None:
    text = (files.folder("boards") / "doorbell" / "right.wire").read_text(encoding="utf-8")
    alone = "\n".join(line for line in text.splitlines() if not line.startswith("expect")) + "\n"
    assert not seen(RULE, alone)
    assert [one.subject for one in seen(RULE, changed(alone, (old, new)))] == found


@pytest.mark.parametrize("part", ["fault-resistor", "heater 1500 W"])
def test_what_stands_by_on_low_voltage_is_not_asked_for(part: str) -> None:
    found = seen(RULE, fed(f"H1 is {part} in A", *ROOM, "at A", "W1.black -- H1.a", "cap W1.white"))
    assert [one.subject for one in found] == ([] if part == "fault-resistor" else ["H1"])


@pytest.mark.parametrize(
    ("joins", "found"),
    [
        # A fan switch that is cold is open: when it is warm the lamp has power.
        (("W1.black -- FS.a", "FS.b -- L1.hot", "W1.white -- L1.neutral"), []),
        # Warm or cold, it has no neutral.
        (("W1.black -- FS.a", "FS.b -- L1.hot", "cap W1.white"), ["W1.white"]),
        (("W1.black -- FS.a", "FS.b -- WS.a", "WS.b -- L1.hot", "W1.white -- L1.neutral"), []),
        (("W1.black -- FS.a", "FS.b -- WS.a", "cap WS.b", "W1.white -- L1.neutral"), ["WS.b"]),
    ],
)
def test_what_waits_for_heat_or_water_is_not_dead(joins: tuple[str, ...], found: list[str]) -> None:
    parts = ("FS is fan-switch in A", "WS is flow-switch in A", "L1 is lampholder 60 W in A")
    problems = seen(RULE, fed(*parts, *ROOM, "at A", *joins).replace("cap WS.b\n", ""))
    here = [one.stop.end.here for one in problems]
    assert [point.owner if point.kind == "end" else point.name for point in here] == found


def test_a_board_with_no_panel_has_nothing_to_feed_it() -> None:
    assert not seen(RULE, 'board "Loose"\nbox A device 20 cu in\nL1 is lampholder 60 W in A\n')


def test_a_transformer_that_nothing_feeds() -> None:
    joins = ("cap W1.black", "W1.white -- T1.primary-neutral")
    text = fed("T1 is class-2-transformer in A", *ROOM, "at A", *joins)
    (found,) = seen(RULE, text)
    assert (found.subject, found.wanted.volts) == ("T1", 120.0)


@pytest.mark.parametrize(("asked", "found"), [("", ["L1"]), ("expect heat runs L1\n", [])])
def test_a_load_that_a_call_should_run_is_judged_by_that(asked: str, found: list[str]) -> None:
    thermostat = "TS is heat-only-thermostat\ncable W2"
    assert [one.subject for one in seen(RULE, changed(CAPPED, ("cable W2", thermostat)) + asked)] == found


@pytest.mark.parametrize(
    ("rated", "given", "dead"),
    # Below 5 V a meter shows nothing of use.
    [(120, 4.9, True), (120, 5.1, False), (24, 4.9, True), (24, 5.1, False)],
)
def test_where_dead_begins(rated: int, given: float, dead: bool) -> None:
    face = (
        'part face "A receptacle"\nterminal hot hot\nterminal neutral neutral\n'
        f"outlet plug from hot to neutral, rated 15 A, volts {rated} V\n"
    )
    source = (
        'part source "A transformer"\nterminal h hot\nterminal n neutral\n'
        "terminal r contact\nterminal c contact\n"
        f"transforms 120 V from h to n into {given} V from r to c, capacity 40 VA, impedance 0.1 %\n"
    )
    text = fed(
        "T1 is source in A",
        "R1 is face in A",
        *ROOM,
        "at A",
        "W1.black -- T1.h",
        "W1.white -- T1.n",
        "T1.r -- R1.hot",
        "T1.c -- R1.neutral",
    )
    found = judged(text, {"face": face, "source": source})
    assert [type(one) for one in found] == ([NeverLive] if dead else [])


# ------------------------------------------------------ what is the cause of it


@pytest.mark.parametrize(
    ("change", "rules"),
    [
        # A line that could not be read may be the one that feeds it.
        (("  W2.black -- L1.hot\n", "  W2.blakc -- L1.hot\n"), {"unknown-name"}),
        (("  W2.black -- L1.hot\n", "  W2.black - L1.hot\n"), {"syntax"}),
        # The loose wire is what should feed it.
        (("  W2.black -- L1.hot\n", ""), {"loose-conductor"}),
        # The bare wire is live.
    ],
)
def test_what_is_told_in_place_of_it(change: tuple[str, str], rules: set[str]) -> None:
    told = reported(changed(LIGHT, change))
    assert rules <= set(told) and "dead-outlet" not in told


def test_live_metal_is_the_worse_of_the_two() -> None:
    text = changed(
        LIGHT,
        ("  W2.black -- L1.hot\n", "  W2.bare -- L1.hot\n"),
        ("  W2.bare -- L1.ground\n", "  W2.black -- L1.ground\n"),
    )
    assert [type(one) for one in seen(RULE, text)] == [OnOneSide]
    assert "energized-metal" in reported(text) and "dead-outlet" not in reported(text)


def test_a_loose_wire_in_another_place_explains_nothing() -> None:
    """L1 is capped off in its own box; the loose end lies at the panel."""
    text = changed(CAPPED, ("box A", "cable W9 14/2 NM-B 9 ft from LP to LP\nbox A"))
    assert {"dead-outlet", "loose-conductor"} <= set(reported(text))


# ---------------------------------------------------------------- control boards


CONTROL = """\
part zone-board "A control that waits for calls"
terminal R class-2, carries power
terminal C class-2-common, carries common
load board electronics from R to C, 2 VA at 24 V, works 18 V to 30 V, standby
"""


@pytest.mark.parametrize(
    ("joins", "dead"),
    [
        ("OW.white -- Z.R\n", True),
        ("OW.white -- Z.R\n  cap OW.red\n", True),
        ("OW.white -- Z.R\n  OW.red -- Z.C\n", False),
    ],
)
def test_a_control_board_without_power(joins: str, dead: bool) -> None:
    text = COOLING.replace("  OW.red -- CU.Y\n  OW.white -- CU.C\n", "")
    text = text.replace("TW.yellow -- OW.red -- F.Y", "TW.yellow -- F.Y")
    text = text.replace("TW.blue -- OW.white -- F.C", "TW.blue -- OW.red -- F.C")
    text = text.replace("TW.red -- F.R", "TW.red -- OW.white -- F.R")
    text = text.replace("OW 18/2 CL2 55 ft from F to CU", "OW 18/2 CL2 55 ft from F to Z")
    text = text.replace("cable TW", "Z is zone-board\ncable TW").replace("at TS\n", f"at Z\n  {joins}at TS\n")
    found = [one for one in judged(text, {"zone-board": CONTROL}) if isinstance(one, BoardWithoutPower)]
    assert [(one.load.name, one.volts) for one in found] == ([("Z", pytest.approx(0))] if dead else [])
    for one in found:
        assert one.at.of.place == "Z"


LIVES_ON_C = changed(COOLING, ("TS is heat-cool-thermostat", "TS is powered-thermostat"))


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        # It is capped at the furnace, where the hand joins it.
        ("  TW.blue -- OW.white -- F.C", "  cap TW.blue\n  OW.white -- F.C", "cap TW.blue"),
        ("  TW.red -- F.R", "  cap TW.red", "cap TW.red"),
    ],
)
def test_a_thermostat_that_has_no_batteries(old: str, new: str, line: str) -> None:
    text = changed(LIVES_ON_C, (old, new))
    (one,) = (one for one in seen(RULE, text) if isinstance(one, BoardWithoutPower))
    assert (one.severity, one.load.device, one.volts) == ("fault", "TS", pytest.approx(0))
    piece = case(text).uses.piece
    assert one.copper >= {piece[one.load.a], piece[one.load.b]}
    assert text.splitlines()[one.at.span.line - 1].strip() == line
    # With batteries in it the wire may be missing.
    text = changed(text, ("TS is powered-thermostat", "TS is heat-cool-thermostat"))
    assert not [one for one in seen(RULE, text) if isinstance(one, BoardWithoutPower)]


def test_where_the_thermostat_has_its_power_or_nobody_has_any_nothing_is_dark() -> None:
    for text in (
        LIVES_ON_C,
        # No wire is on its screw: the missing wire is told of.
        changed(LIVES_ON_C, ("  TW.blue -- TS.C", "  cap TW.blue")),
        # The furnace is dead itself.
        changed(LIVES_ON_C, ("  PF.black -- LP.1", "  cap PF.black")),
    ):
        assert not [one for one in seen(RULE, text) if isinstance(one, BoardWithoutPower)]


def test_what_a_call_lacks_for_it_is_told_once() -> None:
    quiet = "".join(f"{line}\n" for line in LIVES_ON_C.splitlines() if not line.startswith("expect"))
    cut = ("  TW.blue -- OW.white -- F.C", "  cap TW.blue\n  OW.white -- F.C")
    assert reported(changed(quiet, cut)) == ["dead-outlet"]
    assert reported(changed(quiet, cut) + "expect cool runs CU.compressor, CU.fan, F.blower\n") == [
        "call-continuity"
    ]


# ------------------------------------------------------- a thermostat's common


@pytest.mark.parametrize(
    ("at_f", "on"),
    [
        ("TW.green -- TW.blue -- F.G\n  OW.white -- F.C", ["F.G"]),
        ("TW.green -- F.G\n  OW.white -- F.C", None),
        ("TW.green -- F.G\n  TW.blue -- OW.white -- F.C", []),
    ],
)
def test_a_common_that_comes_to_a_call(at_f: str, on: list[str] | None) -> None:
    text = changed(COOLING, ("TW.green -- F.G\n  TW.blue -- OW.white -- F.C", at_f))
    found = [one for one in seen(RULE, text) if isinstance(one, CommonOnCall)]
    if not on:
        assert not found
        return
    (one,) = found
    assert (one.subject, one.severity, one.stage) == ("TS.C", "fault", "final")
    assert [other.name for other in one.on] == ["TS.G", *on] or [other.name for other in one.on] == [
        *on,
        "TS.G",
    ]
    assert text.splitlines()[one.at.span.line - 1].strip() == "TW.blue -- TS.C"


def test_a_common_that_comes_to_both_a_call_and_a_common_is_a_short_of_that_call() -> None:
    text = changed(COOLING, ("TW.green -- F.G\n  TW.blue --", "TW.green -- TW.blue -- F.G --"))
    assert not [one for one in seen(RULE, text) if isinstance(one, CommonOnCall)]


SMALL_PARTS = """\
board "A compressor whose contactor waits for a call and for two controls"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A 2-pole
box A junction 300 cu in
cable W 12/2 NM-B 20 ft from LP to A
C1 is line-contactor in A
TC is cooling-thermostat in A
LPC is low-pressure-control in A
FS is fan-switch in A
M1 is compressor with current 9 A in A
at LP
  W.black -- LP.1.a
  W.white -- LP.1.b
at A
  W.black -- C1.line-1 -- TC.a
  TC.b -- LPC.a
  LPC.b -- FS.a
  FS.b -- C1.coil-a
  W.white -- C1.coil-b -- C1.line-2
  C1.load-1 -- M1.a
  C1.load-2 -- M1.b
"""


def test_what_waits_for_a_call_and_for_controls_that_stand_open_is_not_dead() -> None:
    assert not seen(RULE, SMALL_PARTS)


def test_what_waits_behind_them_for_a_wire_is() -> None:
    text = changed(SMALL_PARTS, ("  FS.b -- C1.coil-a\n", ""))
    dead = seen(RULE, text)
    assert [one.device.name for one in dead] == ["C1"]
    assert all(isinstance(one.stop.end, NotJoined) for one in dead)


def test_a_resistance_that_a_trainer_puts_in_is_no_control_board() -> None:
    text = changed(
        SMALL_PARTS,
        ("FS is fan-switch", "FS is fault-resistor"),
    )
    assert not [one for one in seen(RULE, text) if isinstance(one, BoardWithoutPower)]


def test_a_jumper_to_a_terminal_that_nothing_else_uses_is_no_dead_load() -> None:
    """Auxiliary heat that no wire calls, its terminal tied to the machine's own common."""
    text = (files.folder("boards") / "two-transformers" / "right.wire").read_text(encoding="utf-8")
    assert not seen(RULE, f"{text}\nat AH\n  AH.C -- AH.W2\n")


def test_on_a_board_without_a_switch_no_position_is_told() -> None:
    for name, told in (
        ("smoke-alarms/wrong-interconnect-on-the-hot", False),
        ("laundry-dual-function/wrong-receptacle-forgotten", True),
    ):
        text = (files.folder("boards") / f"{name}.wire").read_text(encoding="utf-8")
        switched = any(group.switches for group in case(text).groups)
        (finding, *_) = said(RULE, text)
        assert ("has no power in any position of the switches." in finding.message) == switched == told
