"""Every position of every switch, from few states: each row is what the board does in that position alone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from tests.circuit.boards import RandomBoard, boards, text_of
from tests.circuit.houses import hall, rooms, stairs
from tests.samples import board, wired
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.positions import combinations, groups
from wirecheck.circuit.settle import resting, settle
from wirecheck.circuit.survey import survey


def test_a_hundred_stair_lights_are_solved_four_times() -> None:
    circuit = wired(stairs(100))
    told = survey(circuit, groups(circuit))
    assert len(told.states) == 4 and len(told.rows) == 100
    for group, rows in told.rows.items():
        (light,) = group.loads
        for row in rows:
            places = [row.settled.positions[name] for name in group.switches]
            assert places == list(row.moved.values())
            assert (light in row.settled.running) == (places[0] == places[1])


@pytest.mark.slow
def test_what_trips_in_one_room_darkens_no_other_rooms_rows() -> None:
    """A dead short behind one switch of forty, all on one breaker."""
    circuit = wired(rooms(40) + "at A\nS7.load -- W1.white\n")
    told = survey(circuit, groups(circuit))
    shorted = next(group for group in told.rows if "S7" in group.switches)
    # S7 rests in "on": the board at rest is dark, and with it off everything runs.
    off = next(row for row in told.rows[shorted] if row.moved == {"S7": "off"})
    assert not off.settled.opened and "L0" in off.settled.running

    turned = rooms(40).replace("S7 is single-pole-switch", "S7 is 3-way-switch")
    turned = turned.replace("S7.line", "S7.common").replace("S7.load", "S7.traveler-1")
    circuit = wired(turned + "at A\nS7.traveler-2 -- W1.white\n")
    told = survey(circuit, groups(circuit))
    assert len(told.states) < 20
    for group, rows in told.rows.items():
        for row in rows:
            assert bool(row.settled.opened) == (row.moved.get("S7") == "down")
            for light in group.loads:
                assert (light in row.settled.running) == (
                    "off" not in row.moved.values()
                ) or "S7" in row.moved


@pytest.mark.slow
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(boards())
def test_each_row_is_what_the_board_does_in_that_position_alone(random: RandomBoard) -> None:
    # Small loads, so that what other groups draw moves nothing across a limit.
    light = [replace(run, taps=tuple(replace(tap, size=5.0) for tap in run.taps)) for run in random.runs]
    text, _ = text_of(replace(random, runs=tuple(light)))
    wiring = circuit(board(text))
    told = survey(wiring, groups(wiring))
    for group, rows in told.rows.items():
        assert [row.moved for row in rows] == list(combinations(wiring, group)[0])
        for row in rows:
            alone = settle(wiring, resting(wiring, row.moved))
            assert alone.running & group.loads == row.settled.running & group.loads
            assert [opening.name for opening in alone.opened] == [o.name for o in row.settled.opened]
            for name in group.loads:
                load = wiring.load[name]
                # Other groups stand elsewhere, and draw on the same source.
                assert abs(alone.load_volts(load) - row.settled.load_volts(load)) < 0.02 * load.volts


@pytest.mark.parametrize("switches", [3, 5])
def test_a_hall_is_one_group_with_every_position(switches: int) -> None:
    circuit = wired(hall(switches))
    told = survey(circuit, groups(circuit))
    (rows,) = told.rows.values()
    assert len(rows) == 2**switches and len({tuple(row.moved.values()) for row in rows}) == 2**switches
