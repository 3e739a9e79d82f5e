"""The table of every position: held to truth tables worked out by hand, and to the width of a page."""

from __future__ import annotations

import itertools

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed
from tests.samples import fed, wired
from wirecheck.judge.targets import targets
from wirecheck.report import energized, position_table

SERIES = (
    changed(
        LOOP,
        ("cable W2 14/2", "box C octagon 15.5 cu in\ncable W3 14/2 NM-B 8 ft from B to C\ncable W2 14/2"),
        ("L1 is lampholder 60 W in B", "L1 is lampholder 60 W in B\nL2 is lampholder 60 W in C"),
        ("  W1.white -- L1.neutral\n", "  W3.black -- L1.neutral\n  W1.white -- W3.white\n"),
        ("W1.bare -- W2.bare -- pigtail", "W1.bare -- W2.bare -- W3.bare -- pigtail"),
    )
    + "at C\n  W3.black -- L2.hot\n  W3.white -- L2.neutral\n  W3.bare -- L2.ground\n"
)


def shown(text: str) -> str:
    return position_table.render(case(text))


def said(text: str) -> tuple[str, ...]:
    board = case(text)
    return position_table.sentences(board, list(position_table.group_tables(board)))


def bank(rooms: int, name: str = "L") -> str:
    """One switch for many lights, each fed from the one before."""
    lines = ["box A device 34 cu in", "cable W0 14/2 NM-B 9 ft from LP to A", "S1 is single-pole-switch in A"]
    joins = [
        "at LP",
        "W0.black -- LP.3",
        "W0.white -- LP.neutral",
        "W0.bare -- LP.ground",
        "at A",
        "W0.black -- S1.line",
        "W1.black -- S1.load",
        "W0.white -- W1.white",
        "W0.bare -- W1.bare -- pigtail -- S1.ground",
    ]
    for number in range(1, rooms + 1):
        box, lamp, on = f"B{number}", f"{name}{number}", number < rooms
        lines += [
            f"box {box} octagon 21.5 cu in",
            f"cable W{number} 14/2 NM-B 9 ft from {'A' if number == 1 else f'B{number - 1}'} to {box}",
            f"{lamp} is lampholder 60 W in {box}",
        ]
        joins.append(f"at {box}")
        for color, screw in (("black", "hot"), ("white", "neutral"), ("bare", "ground")):
            onward = f" -- W{number + 1}.{color} -- pigtail" if on else ""
            joins.append(f"W{number}.{color}{onward} -- {lamp}.{screw}")
    head = ['board "Many lights"', "panel LP 120/240 V, 10 kA available", "breaker LP.3 15 A"]
    return "\n".join([*head, *lines, *joins, ""])


def test_a_stair_light_has_its_four_positions() -> None:
    """The truth table of two 3-way switches: on where both stand alike, here with equal travelers."""
    table = next(position_table.group_tables(case(STAIR)))
    on = {tuple(row.positions.values()): row.volts[0] > 100 for row in table.rows}
    assert on == {(one, other): one == other for one, other in itertools.product(("up", "down"), repeat=2)}
    assert "S1 and S2 each turn L1 on and off from any position." in shown(STAIR)


def test_the_wires_that_a_position_makes_live() -> None:
    """By hand: the feed always; one traveler by S1; the leg to the light where it is on."""
    table = next(position_table.group_tables(case(STAIR)))
    live = {tuple(row.positions.values()): set(row.live) for row in table.rows}
    assert live["up", "up"] == {"W1.black", "W2.black", "W3.black"}
    assert live["up", "down"] == {"W1.black", "W2.black"}
    assert live["down", "up"] == {"W1.black", "W2.red"}
    assert live["down", "down"] == {"W1.black", "W2.red", "W3.black"}
    assert "Live in every position: W1.black." in shown(STAIR)


def test_a_wrong_board_says_so_under_the_table() -> None:
    crossed = changed(
        STAIR,
        ("W1.black -- S1.common", "W1.black -- S1.traveler-1"),
        ("W2.black -- S1.traveler-1", "W2.black -- S1.common"),
    )
    text = shown(crossed)
    assert "L1 is on only with S1 up and S2 up" in text
    unasked = crossed.replace("expect L1 from S1, S2\n", "")
    # Without a line too: 3-way switches turn a light on and off in every position.
    assert any(sentence.startswith("L1 is on only with S1 up and S2 up.") for sentence in said(unasked))


def test_lamps_in_series_are_named_together() -> None:
    """Two equal lamps in series share the volts equally (Kirchhoff's voltage law)."""
    assert said(SERIES) == (
        "L1 and L2 are in series: they share the 120 V of the source and get 60 V and 60 V with S1 on.",
    )


def test_lamps_side_by_side_are_not_in_series() -> None:
    assert said(bank(4)) == ()


def test_what_trips_is_in_the_row_and_told_below() -> None:
    short = changed(
        STAIR, ("W3.black -- L1.hot", "W3.black -- W3.white -- L1.hot"), ("  W3.white -- L1.neutral\n", "")
    )
    text = shown(short)
    assert "LP.3 trips" in text
    assert any(
        sentence.startswith("LP.3 opens with S1 up and S2 up and in 1 more position: ")
        for sentence in said(short)
    )


def test_live_metal_is_told() -> None:
    live = changed(
        STAIR, ("W3.black -- L1.hot", "W3.bare -- L1.hot"), ("W3.bare -- L1.ground", "W3.black -- L1.ground")
    )
    assert any(sentence.startswith("L1.ground is at 1") for sentence in said(live))


@pytest.mark.parametrize("rooms", [1, 6, 30])
@pytest.mark.parametrize("name", ["L", "KITCHEN-CEILING-LIGHT-"])
def test_a_wide_board_stays_on_the_page_and_loses_nothing(rooms: int, name: str) -> None:
    text = shown(bank(rooms, name))
    assert max(map(len, text.splitlines())) <= 88
    for number in range(1, rooms + 1):
        assert f"{name}{number}" in text.split()


def test_a_name_as_long_as_a_line_is_folded() -> None:
    long = "L" * 60
    text = shown(STAIR.replace("L1", long))
    assert max(map(len, text.splitlines())) <= 96


@pytest.mark.parametrize(
    ("name", "told"),
    [
        # A lamp works from 100 V on, a receptacle is live from 85 % on (common practice).
        ("L1", {0.0: "-", 2.4: "-", 2.5: "dim 2.5 V", 99.9: "dim 99.9 V", 100.0: "on 100 V"}),
        ("R1", {0.0: "-", 2.4: "-", 2.5: "low 2.5 V", 101.4: "low 101 V", 102.0: "102 V"}),
    ],
)
def test_a_cell_says_what_a_light_or_an_outlet_gets(name: str, told: dict[float, str]) -> None:
    circuit = wired(fed("L1 is lampholder 60 W", "R1 is single-receptacle 15 A"))
    (target,) = targets(circuit, name)
    assert {volts: position_table.cell(volts, target) for volts in told} == told


def test_twenty_switches_of_their_own_are_one_table() -> None:
    board = 'board "Rooms"\npanel LP 120/240 V, 10 kA available\nbreaker LP.3 15 A\n'
    for each in range(20):
        board += (
            f"box A{each} device 20.3 cu in\ncable W{each} 14/2 NM-B 9 ft from LP to A{each}\n"
            f"S{each} is single-pole-switch in A{each}\nL{each} is lampholder 60 W in A{each}\n"
            f"at LP\nW{each}.black -- LP.3\nW{each}.white -- LP.neutral\nW{each}.bare -- LP.ground\n"
            f"at A{each}\nW{each}.black -- S{each}.line\nS{each}.load -- L{each}.hot\n"
            f"W{each}.white -- L{each}.neutral\nW{each}.bare -- L{each}.ground -- pigtail -- S{each}.ground\n"
        )
    text = shown(board)
    assert text.count("which gets") == 1
    assert len([line for line in text.splitlines() if line.split()[1:2] in (["on"], ["off"])]) == 40


def test_calls_are_played_and_not_taken_for_switches() -> None:
    text = shown(COOLING)
    assert "never comes on" not in text
    assert "cool called: CU.compressor" in text


def test_the_data_are_those_of_the_table() -> None:
    board = case(STAIR)
    data = energized.as_data(board, energized.every_state(board))
    assert data["said"] == ["S1 and S2 each turn L1 on and off from any position."]
    states = data["states"]
    assert isinstance(states, list)
    for state in states:
        alike = state["positions"]["S1"] == state["positions"]["S2"]
        assert (state["loads"]["L1"]["volts"] > 100) == alike
        assert ("L1" in state["running"]) == alike
