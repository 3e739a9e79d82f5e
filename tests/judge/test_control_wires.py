"""A thermostat's wires: which are crossed, what comes to a terminal, and which colors are odd."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed
from tests.rules.hookups import BENCH, HOOKUP, hooked, made
from wirecheck.judge.case import Case
from wirecheck.judge.control_wires import alike, carried_to, carrying, crossings, odd_colors

OIL = """part oil "A furnace without cooling and fan terminals"
terminal L1 hot
terminal N neutral
terminal ground ground
terminal R class-2, carries power
terminal C class-2-common, carries common
terminal W class-2, carries heat, holds 3
load heating lamp from W to C, 5 VA at 24 V
load cooling lamp from W to C, 5 VA at 24 V
load blowing lamp from W to C, 5 VA at 24 V
"""


def crossed(told: Case) -> list[tuple[str, str, str, str | None]]:
    """Wire, the terminal it is on, the one at its other end, and the one that it belongs on."""
    return [
        (one.conductor.name, one.here.name, one.origin.name, one.meant.name if one.meant else None)
        for one in crossings(told)
    ]


# ---------------------------------------------------------------- crossed


@pytest.mark.parametrize("text", [COOLING, STAIR, LOOP])
def test_right_boards_have_no_crossed_wire(text: str) -> None:
    assert crossings(case(text)) == ()


def test_a_wire_goes_by_what_its_terminals_carry_and_not_by_their_names() -> None:
    assert crossings(hooked(HOOKUP)) == ()


def test_two_wires_on_each_others_terminals() -> None:
    told = hooked(made(HOOKUP, "F: TW.white -- F.Y", "F: TW.yellow -- F.W"))
    assert crossed(told) == [("TW.white", "F.Y", "TS.W-E", "F.W"), ("TW.yellow", "F.W", "TS.Y1", "F.Y")]
    assert [one.join.place for one in crossings(told)] == ["F", "F"]


def test_the_color_says_which_end_is_the_odd_one() -> None:
    """A white wire is usual for heat, so that its end on the cooling terminal is the odd one."""
    text = made(HOOKUP, "TS: TW.white -- TS.Y1", "TS: TW.yellow -- TS.W-E")
    odd = [("TW.white", "TS.Y1", "F.W", "TS.W-E"), ("TW.yellow", "TS.W-E", "F.Y", "TS.Y1")]
    assert crossed(hooked(text)) == crossed(hooked(turned(text))) == odd


@pytest.mark.parametrize(("first", "second"), [("F", "TS"), ("TS", "F")])
def test_where_the_color_says_nothing_the_equipment_is_looked_at(first: str, second: str) -> None:
    """Black is the most usual color of nothing. In which order the text tells of the ends does not matter."""
    text = changed(
        HOOKUP,
        ("18/5 CL2 10 ft from F to TS", f"18/8 CL2 10 ft from {first} to {second}"),
        ("  TW.yellow -- F.Y\n", "  TW.black -- F.Y\n"),
        ("  TW.yellow -- TS.Y1\n", "  TW.black -- TS.Fan\n"),
        ("  TW.green -- TS.Fan\n", ""),
    )
    assert crossed(hooked(text)) == [("TW.black", "F.Y", "TS.Fan", "F.G")]
    assert crossed(hooked(turned(text))) == [("TW.black", "F.Y", "TS.Fan", "F.G")]


def turned(text: str) -> str:
    """The same, with the thermostat's end told of before the equipment's."""
    head, _, rest = text.partition("at F\n")
    at_f, _, rest = rest.partition("at TS\n")
    at_ts, expect, expected = rest.partition("expect")
    return f"{head}at TS\n{at_ts}at F\n{at_f}{expect}{expected}"


def test_a_terminal_that_its_device_lacks_is_meant_nowhere() -> None:
    told = hooked(
        changed(HOOKUP, ("F is bench", "F is oil"), ("  TW.green -- F.G", "  cap TW.green")).replace(
            "  TW.yellow -- F.Y", "  TW.yellow -- F.W"
        ),
        oil=OIL,
    )
    assert crossed(told) == [("TW.yellow", "F.W", "TS.Y1", None)]


def test_a_join_with_two_terminals_says_nothing_of_its_wires() -> None:
    """With a jumper between two terminals, a wire in that join is on both."""
    assert crossings(hooked(made(HOOKUP, "F: TW.yellow -- F.Y -- F.G"))) == ()


def test_a_wire_with_one_end_on_a_terminal_is_not_crossed() -> None:
    assert crossings(hooked(changed(HOOKUP, ("  TW.white -- F.W\n", "  cap TW.white\n")))) == ()
    assert crossings(hooked(made(HOOKUP, "F: TW.white -- F.X"))) == ()


# ----------------------------------------------------------- what comes there


def test_what_a_join_carries() -> None:
    told = hooked(made(HOOKUP, "F: TW.yellow -- F.Y -- F.G -- F.X"))
    joins = {join.members[0].name: join for join in told.board.joins if join.place == "F"}
    assert [one.name for one in carrying(joins["TW.yellow"], told.board)] == ["F.Y", "F.G"]
    assert carrying(joins["PF.black"], told.board) == ()


def test_the_terminal_that_carries_the_same() -> None:
    told = hooked(HOOKUP)
    terminals = told.board.terminals
    assert alike(told, "F", terminals["TS.W-E"]) == terminals["F.W"]
    assert alike(told, "TS", terminals["F.R"]) == terminals["TS.Rh"]
    assert alike(told, "TS", terminals["F.X"]) is None


def test_what_comes_to_a_terminal_from_the_other_ends() -> None:
    told = hooked(
        made(
            changed(HOOKUP, ("  TW.green -- F.G\n", "")),
            "F: TW.yellow -- TW.green -- F.Y",
            "TS: TW.white -- TS.Rh",
        )
    )
    terminals = told.board.terminals
    assert carried_to(told, terminals["F.Y"]) == {"cool", "fan"}
    assert carried_to(told, terminals["F.W"]) == {"power"}
    assert carried_to(told, terminals["F.G"]) == frozenset()
    assert carried_to(told, terminals["TS.Com"]) == {"common"}


def test_a_jumper_brings_nothing_from_afar() -> None:
    told = hooked(changed(HOOKUP, ("at F\n", "at F\n  F.R -- F.Y\n")))
    assert carried_to(told, told.board.terminals["F.R"]) == frozenset()
    told = hooked(changed(HOOKUP, ("at TS\n", "  F.R -- F.Y\nat TS\n")))
    assert carried_to(told, told.board.terminals["F.R"]) == {"power"}


# ----------------------------------------------------------------- colors


def odd(text: str) -> list[tuple[str, str, str]]:
    return [(one.conductor.name, one.terminal.name, one.better.name) for one in odd_colors(hooked(text))]


def test_usual_colors_are_not_spoken_of() -> None:
    assert odd(HOOKUP) == []


def test_a_wire_of_another_color_where_the_usual_one_is_in_its_cable() -> None:
    """Each is told once, at the first of its ends."""
    swapped = made(
        HOOKUP,
        "F: TW.white -- F.Y",
        "F: TW.yellow -- F.W",
        "TS: TW.white -- TS.Y1",
        "TS: TW.yellow -- TS.W-E",
    )
    assert odd(swapped) == [("TW.white", "F.Y", "TW.yellow"), ("TW.yellow", "F.W", "TW.white")]
    (first, _) = odd_colors(hooked(swapped))
    assert first.join.place == "F"


def test_a_second_color_may_be_usual_too() -> None:
    """Black for common is as good as blue (common practice)."""
    black = changed(HOOKUP, ("18/5", "18/8")).replace("TW.blue", "TW.black")
    assert odd(black) == []
    assert odd(black.replace("TW.black", "TW.brown")) == [
        ("TW.brown", "F.C", "TW.blue"),
    ]


def test_where_the_cable_has_no_wire_of_the_usual_color_nothing_is_said() -> None:
    text = changed(
        HOOKUP,
        ("  TW.green -- F.G\n", "  GW.white -- F.G\n"),
        ("  TW.green -- TS.Fan\n", "  GW.white -- TS.Fan\n"),
        ("at LP\n", "cable GW 18/2 CL2 10 ft from F to TS\nat LP\n"),
    )
    assert odd(text) == []


def test_a_terminal_that_no_color_is_usual_for_is_passed_over() -> None:
    """A second stage has no color of its own; of several terminals in a join the first with one counts."""
    bench = BENCH.replace("terminal Y class-2, carries cool,", "terminal Y class-2, carries second-cool,")
    two = made(HOOKUP, "F: TW.green -- F.Y -- F.G", "F: TW.yellow -- F.X")
    assert list(odd_colors(hooked(two, bench=bench))) == []
    wrong = made(HOOKUP, "F: TW.white -- F.Y -- F.G", "F: TW.green -- F.X", "F: TW.yellow -- F.W")
    told = [(one.conductor.name, one.terminal.name) for one in odd_colors(hooked(wrong, bench=bench))]
    assert told == [("TW.white", "F.G"), ("TW.yellow", "F.W")]


def test_of_two_terminals_in_a_join_the_first_counts() -> None:
    assert odd(made(HOOKUP, "F: TW.yellow -- F.Y -- F.G", "F: TW.green -- F.X")) == []


def test_power_cables_have_other_rules() -> None:
    text = changed(HOOKUP, ("cable TW 18/5 CL2", "cable TW 14/3 NM-B")).replace("TW.yellow", "TW.bare")
    lines = (line for line in text.splitlines() if "TW.blue" not in line and "TW.green" not in line)
    assert odd("\n".join([*lines, ""]).replace("TW.white", "TW.black").replace("TW.red", "TW.white")) == []
