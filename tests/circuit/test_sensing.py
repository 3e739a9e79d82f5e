"""What acts on a control across the parts of a board, played in time.

A pump-down stops in the order that the trade press has for it: the temperature control shuts the liquid
solenoid, "with the compressor still running, the refrigerant will be pumped out of the evaporator", and a
low-pressure switch stops the compressor (The ACHR News, "Verifying a Proper Pump-Down"). That it takes two
minutes at most is in makers' manuals for chillers; a minute is typical (common practice).
"""

from __future__ import annotations

import pytest

from tests.rules.hands import case
from wirecheck import files
from wirecheck.circuit.call import CallPlayed, play_call

COOLER = (files.folder("boards") / "pump-down-cooler" / "right.wire").read_text(encoding="utf-8")

BENCH = """\
board "A bench with one thing that moves another"
panel LP 120/240 V, 10 kA available
breaker LP.2 20 A 2-pole
box B junction 400 cu in
cable W1 12/2 NM-B 12 ft from LP to B
S is double-pole-switch in B
at LP
  W1.black -- LP.2.a
  W1.white marked red -- LP.2.b
  W1.bare -- LP.ground
at B
  W1.black -- S.line-1
  W1.white marked red -- S.line-2
"""


def events(text: str, *calls: str, fixed: dict[str, str] | None = None, **parts: str) -> CallPlayed:
    return play_call(case(text, **parts).circuit, calls, fixed)


def told(played: CallPlayed) -> list[tuple[float, str, str, str]]:
    return [(step.time, c.kind, c.name, c.now) for step in played.steps for c in step.changes]


def moves(played: CallPlayed, name: str) -> list[tuple[float, str]]:
    return [(time, now) for time, kind, of, now in told(played) if kind == "moves" and of == name]


def test_a_cooler_of_small_parts_pumps_down() -> None:
    """The thermostat is satisfied, the solenoid shuts, the compressor pumps down, the control stops it."""
    played = events(COOLER, "cool")
    happens = [(time, kind, name) for time, kind, name, _ in told(played)]
    assert happens == [
        (0, "call", "cool"),
        (0, "runs", "LLS"),
        (10, "moves", "LPC"),
        (10, "runs", "K"),
        (10, "runs", "COMP"),
        (10, "runs", "CF"),
        (1210, "satisfied", "TH"),
        (1210, "stops", "LLS"),
        (1270, "moves", "LPC"),
        (1270, "stops", "K"),
        (1270, "stops", "COMP"),
        (1270, "stops", "CF"),
    ]
    assert played.ends == 1210 and played.bound == ""


def test_a_value_on_its_line_says_how_long_it_takes() -> None:
    slow = COOLER.replace(
        "LPC is low-pressure-control", "LPC is low-pressure-control with pumps-down-in 90 s"
    )
    assert moves(events(slow, "cool"), "LPC") == [(10, "closed"), (1300, "open")]


def test_a_call_that_a_hand_ends_pumps_down_too() -> None:
    played = play_call(case(COOLER).circuit, ["cool"], off_after=300)
    assert moves(played, "LPC") == [(10, "closed"), (360, "open")] and played.ends == 300


def test_without_its_line_a_control_stands_still() -> None:
    bare = "\n".join(line for line in COOLER.splitlines() if " senses " not in line)
    played = events(bare, "cool")
    assert {kind for _, kind, _, _ in told(played)} == {"call", "runs", "stops"}
    assert moves(played, "LPC") == [] and "COMP" not in played.rest.running


def test_only_a_compressor_that_runs_pumps_down() -> None:
    """The high pressure keeps it off: nothing draws the suction down when the solenoid closes."""
    played = play_call(case(COOLER).circuit, ["cool"], {"HP": "open"}, 300)
    assert moves(played, "LPC") == [(10, "closed")]


def test_with_no_valve_the_suction_follows_the_compressor() -> None:
    """A case that a low-pressure control holds cold: it starts and stops by its pressure alone, for ever."""
    alone = COOLER.replace("LPC senses COMP, LLS", "LPC senses COMP")
    played = events(alone)
    assert moves(played, "LPC") == [(180, "closed"), (240, "open")]
    assert played.bound and played.period == 240


def test_the_head_pressure_climbs_where_the_fan_stands_still() -> None:
    """And falls once the compressor has stopped: it goes on so, off on its high pressure and on again."""
    fanless = COOLER.replace(" -- CF.b\n", "\n")
    played = play_call(case(fanless).circuit, ["cool"], off_after=600)
    assert moves(played, "HP")[:3] == [(70, "open"), (130, "closed"), (190, "open")]
    assert moves(events(COOLER, "cool"), "HP") == []


def test_two_compressors_on_one_suction_count_as_one() -> None:
    """What is said on two lines adds up, and one that runs is enough."""
    two = COOLER.replace(
        "LPC senses COMP, LLS", "C2 is compressor in CP\nLPC senses C2\nLPC senses LLS\nLPC senses COMP"
    )
    sensed = case(two).board.sensed["LPC"].loads
    assert sensed == {"compressor": ("C2", "COMP"), "valve": ("LLS",)}
    assert moves(events(two, "cool"), "LPC") == [(10, "closed"), (1270, "open")]


def test_a_whole_machine_is_sensed_by_what_is_in_it() -> None:
    """The room of a walk-in follows its condensing unit and its solenoid."""
    walk_in = (files.folder("boards") / "walk-in-cooler" / "right.wire").read_text(encoding="utf-8")
    text = walk_in.replace("\nexpect", "\nTS senses W\nexpect", 1)
    assert case(text).board.sensed["TS"].loads == {"compressor": ("W.compressor",), "valve": ("W.solenoid",)}
    played = events(text, "cool")
    assert (played.ends, played.steps[-1].time) == (1210, 1270)
    one = walk_in.replace("\nexpect", "\nTS senses W.compressor, W.solenoid\nexpect", 1)
    assert told(events(one, "cool")) == told(played)


def test_each_of_two_thermostats_ends_its_own_call() -> None:
    baseboard = (files.folder("boards") / "baseboard-heater" / "right.wire").read_text(encoding="utf-8")
    heater = next(line.split()[0] for line in baseboard.splitlines() if " is baseboard-heater" in line)
    thermostat = next(line.split()[0] for line in baseboard.splitlines() if "line-voltage-thermostat" in line)
    line = f"\n{thermostat} senses {heater}\nZ is heat-only-thermostat\nexpect"
    played = events(baseboard.replace("\nexpect", line, 1), "heat")
    satisfied = [step for step in played.steps if any(c.kind == "satisfied" for c in step.changes)]
    assert [step.settled.calls for step in satisfied] == [frozenset({"Z.heat"})]
    assert played.ends == 1200 + 60


@pytest.mark.parametrize(
    ("name", "sensed", "moving", "happens"),
    [
        ("flow-switch", "fan-motor 1 A", "X", [(5, "closed"), (605, "open")]),
        ("pressure-switch", "fan-motor 1 A", "X", [(3, "closed"), (600, "open")]),
        ("fan-switch", "heater", "X", [(45, "closed"), (690, "open")]),
        ("fan-switch", "solenoid-valve 240 V", "X", [(45, "closed"), (690, "open")]),
        ("termination-thermostat", "heater", "X", []),
        ("limit-switch", "heater", "X", []),
        ("low-pressure", "compressor", "X", []),
        ("high-pressure", "compressor", "X", []),
    ],
)
def test_each_control_follows_what_it_senses(
    name: str, sensed: str, moving: str, happens: list[tuple[float, str]]
) -> None:
    text = BENCH.replace("S is double-pole-switch", "S is line-voltage-thermostat")
    text += f"  X.a -- S.load-1\n  X.b -- S.load-2\nX is {sensed} in B\nF is {name} in B\nF senses X\n"
    played = play_call(case(text).circuit, ["heat"], off_after=600)
    assert moves(played, "F") == happens


def test_a_defrost_ends_when_the_coil_is_clear_and_its_fans_wait() -> None:
    text = BENCH.replace("S is double-pole-switch", "S is line-voltage-thermostat")
    text += "  X.a -- S.load-1\n  X.b -- S.load-2\nX is heater in B\n"
    text += "F is termination-thermostat in B\nF senses X\n"
    played = play_call(case(text).circuit, ["heat"], off_after=1200)
    assert moves(played, "F") == [(900, "warm"), (1380, "cold")]


@pytest.mark.parametrize(("fan", "opens"), [("F is limit-switch in B\nF senses X, Y\n", [(120, "open")])])
def test_a_limit_opens_where_no_air_moves_over_the_heat(fan: str, opens: list[tuple[float, str]]) -> None:
    text = BENCH.replace("S is double-pole-switch", "S is line-voltage-thermostat")
    text += f"  X.a -- S.load-1\n  X.b -- S.load-2\nX is heater in B\nY is fan-motor in B\n{fan}"
    played = play_call(case(text).circuit, ["heat"], off_after=600)
    assert moves(played, "F") == [*opens, (780, "closed")]
    text = text.replace("  X.b -- S.load-2\n", "  X.b -- S.load-2\n  Y.a -- X.a\n  Y.b -- X.b\n")
    assert moves(play_call(case(text).circuit, ["heat"], off_after=600), "F") == []


def test_a_fan_waits_for_its_head_pressure() -> None:
    fan = COOLER.replace("COMP.a -- CF.a\n", "COMP.a -- pigtail -- FC.a\n  FC.b -- CF.a\n")
    fan = fan.replace("CF is", "FC is fan-cycle-control in CP\nCF is").replace(
        "\nTH senses", "\nFC senses COMP\nTH senses"
    )
    played = events(fan, "cool")
    assert moves(played, "FC") == [(40, "closed"), (1390, "open")]
    assert next(step.time for step in played.steps if "CF" in step.settled.running) == 40
    # The fan is on long before the head pressure opens the high-pressure switch.
    assert moves(played, "HP") == []
