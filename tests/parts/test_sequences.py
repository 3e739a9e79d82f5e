"""Each piece of equipment does what the trade prints inside its door, and each safety drops its load.

Orders and times are common practice, as the trade teaches them; each part's own
file names its sources.
"""

from __future__ import annotations

import functools

import pytest

from tests.parts.hookups import HOOKUPS, hookup, played
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.play import Play
from wirecheck.circuit.settle import settle

wired = functools.cache(hookup)

# Equipment, the calls, and (load, seconds from the call to its start) in order.
STARTS = [
    # Pressure proved at 3 s, then 15 s of pre-purge, 17 s of igniter, flame proved in 3 s, blower 30 s on.
    ("gas-furnace", ["heat"], [("F.inducer", 0), ("F.igniter", 18), ("F.gas-valve", 35), ("F.blower", 68)]),
    ("gas-furnace", ["fan"], [("F.blower", 0)]),
    (
        "oil-furnace",
        ["heat"],
        [("F.burner-motor", 0), ("F.ignition", 0), ("F.oil-valve", 15), ("F.blower", 77)],
    ),
    ("condensing-unit", ["cool"], [("F.blower", 0), ("CU.compressor", 0), ("CU.fan", 0)]),
    ("heat-pump", ["heat"], [("A.blower", 0), ("HP.compressor", 0), ("HP.fan", 0)]),
    (
        "heat-pump",
        ["cool"],
        [("A.blower", 0), ("HP.compressor", 0), ("HP.fan", 0), ("HP.reversing-valve", 0)],
    ),
    (
        "heat-pump",
        ["auxiliary"],
        [("A.blower", 0), ("HP.compressor", 0), ("HP.fan", 0), ("A.heater", 30)],
    ),
    ("heat-pump", ["emergency"], [("A.blower", 0), ("A.heater", 30)]),
    ("packaged-unit", ["heat"], [("P.inducer", 0), ("P.igniter", 18), ("P.gas-valve", 35), ("P.blower", 68)]),
    ("packaged-unit", ["cool"], [("P.blower", 0), ("P.compressor", 0), ("P.fan-outdoor", 0)]),
    ("boiler", ["Z1.heat"], [("ZV1", 0), ("P", 30), ("B.spark", 47), ("B.gas-valve", 47)]),
    ("boiler", ["Z2.heat"], [("ZV2", 0), ("P", 30), ("B.spark", 47), ("B.gas-valve", 47)]),
    (
        "walk-in-cooler",
        ["cool"],
        [("W.evaporator-fans", 0), ("W.solenoid", 0), ("W.compressor", 10), ("W.condenser-fan", 10)],
    ),
    (
        "walk-in-freezer",
        ["cool"],
        [("W.evaporator-fans", 0), ("W.solenoid", 0), ("W.compressor", 10), ("W.condenser-fan", 10)],
    ),
    (
        "ice-machine",
        ["ice"],
        [
            ("M.hot-gas", 0),
            ("M.water-fill", 0),
            ("M.compressor", 60),
            ("M.condenser-fan", 65),
            ("M.pump", 65),
        ],
    ),
]


def work(play: Play) -> dict[str, float]:
    """When each load first ran, but for those that only move contacts or stand by."""
    loads = {load.name: load for load in play.steps[0].settled.circuit.loads}
    return {
        name: time
        for name, time in play.started().items()
        if loads[name].kind != "coil" and "standby" not in loads[name].flags
    }


@pytest.mark.parametrize(("name", "calls", "starts"), STARTS)
def test_a_call_runs_these_loads_at_these_times_and_no_others(
    name: str, calls: list[str], starts: list[tuple[str, float]]
) -> None:
    play = played(wired(name), calls)
    assert work(play) == dict(starts)
    assert not play.bounded
    assert not any(step.settled.opened or step.settled.chattering for step in play.steps)


# What runs with no call: a walk-in's evaporator fans run on.
RUNS_ON = {"walk-in-cooler": {"W.evaporator-fans"}, "walk-in-freezer": {"W.evaporator-fans"}}


@pytest.mark.parametrize("name", HOOKUPS)
def test_with_no_call_nothing_runs(name: str) -> None:
    assert set(work(played(wired(name), []))) == RUNS_ON.get(name, set())


@pytest.mark.parametrize(("name", "calls", "starts"), STARTS)
def test_after_the_call_everything_comes_to_rest(
    name: str, calls: list[str], starts: list[tuple[str, float]]
) -> None:
    rest = played(wired(name), calls, []).rest
    running = {load for load, _ in starts} & set(rest.running)
    assert running == RUNS_ON.get(name, set())
    moved = {
        name
        for name, variable in rest.circuit.variables.items()
        if rest.positions[name] != variable.values[0] and not name.endswith((".bin", ".surface"))
    }
    assert moved == set()


def stops(play: Play, load: str) -> list[float]:
    return [
        step.time
        for step in play.steps
        for change in step.changes
        if (change.kind, change.name) == ("stops", load)
    ]


def test_the_furnace_ends_a_heat_call_in_order() -> None:
    """Gas off at once, post-purge 15 s, blower 90 s (common practice: 90 to 120 s)."""
    play = played(wired("gas-furnace"), ["heat"], [], lasts=600)
    assert stops(play, "F.gas-valve") == [600]
    assert stops(play, "F.inducer") == [615]
    assert stops(play, "F.blower") == [690]


def test_the_furnace_tries_three_times_for_a_flame_and_locks_out_for_an_hour() -> None:
    play = played(wired("gas-furnace"), ["heat"], lasts=3600, fixed={"F.flame": "off"})
    tried = stops(play, "F.gas-valve")
    assert tried == [42, 141, 240]
    assert play.rest.positions["F.control"] == "locked-out"
    assert "F.gas-valve" not in play.rest.running
    again = played(wired("gas-furnace"), ["heat"], lasts=3900, fixed={"F.flame": "off"})
    assert len(stops(again, "F.gas-valve")) == 4


def test_the_furnace_waits_60_s_for_the_pressure_switch() -> None:
    play = played(wired("gas-furnace"), ["heat"], fixed={"F.pressure-switch": "open"})
    assert work(play) == {"F.inducer": 0}
    assert stops(play, "F.inducer") == [60]


def test_the_furnace_does_not_start_on_a_pressure_switch_that_is_stuck_closed() -> None:
    assert work(played(wired("gas-furnace"), ["heat"], fixed={"F.pressure-switch": "closed"})) == {}


def test_the_furnace_cools_itself_when_the_blower_fails() -> None:
    """No airflow opens the limit: the gas goes off and the control calls for the blower."""
    play = played(wired("gas-furnace"), ["heat"], lasts=300, fixed={"F.fan": "off"})
    assert [time for time in stops(play, "F.gas-valve") if time < 300] == [127]


def test_the_oil_burner_locks_out_without_a_flame_until_a_hand_resets_it() -> None:
    play = played(wired("oil-furnace"), ["heat"], lasts=6000, fixed={"F.flame": "off"})
    assert stops(play, "F.oil-valve") == [45]
    assert play.rest.positions["F.control"] == "locked-out"
    play = played(wired("oil-furnace"), ["heat"], fixed={"F.cad-cell": "lit"})
    assert work(play) == {}


def test_the_short_cycle_delay_holds_the_compressor_for_three_minutes() -> None:
    play = played(wired("condensing-unit"), ["cool"], [], ["cool"], lasts=60)
    starts = [s.time for s in play.steps for c in s.changes if (c.kind, c.name) == ("runs", "CU.compressor")]
    assert starts == [0]
    play = played(wired("condensing-unit"), ["cool"], [], ["cool"], lasts=200)
    starts = [s.time for s in play.steps for c in s.changes if (c.kind, c.name) == ("runs", "CU.compressor")]
    assert starts == [0, 400]


def test_the_heat_pump_defrosts_with_a_cold_coil_at_most_ten_minutes() -> None:
    """In defrost the valve turns, the outdoor fan stands and auxiliary heat runs."""
    play = played(wired("heat-pump"), ["heat"], lasts=7000, fixed={"HP.coil-sensor": "cold"})
    assert stops(play, "HP.fan") == [5400]
    assert play.started()["HP.reversing-valve"] == 5400
    assert play.started()["A.heater"] == 5430
    assert stops(play, "HP.reversing-valve") == [6000]
    during = next(step.settled for step in play.steps if step.time == 5430)
    assert {"HP.compressor", "HP.reversing-valve", "A.heater", "A.blower"} <= during.running
    assert "HP.fan" not in during.running


def test_the_walk_in_pumps_down_after_the_thermostat_opens() -> None:
    play = played(wired("walk-in-cooler"), ["cool"], [], lasts=600)
    assert stops(play, "W.solenoid") == [600]
    assert stops(play, "W.compressor") == [660]
    assert "W.evaporator-fans" in play.rest.running


def test_the_freezer_defrosts_by_temperature_and_by_time() -> None:
    """Solenoid and fans off, heaters on, ended by temperature or time; the fans wait for a cold coil."""
    play = played(wired("walk-in-freezer"), ["cool"], ["cool", "defrost"], ["cool"], lasts=3000)
    assert stops(play, "W.solenoid") == [3000]
    assert stops(play, "W.evaporator-fans") == [3000]
    assert play.started()["W.heater"] == 3060
    assert stops(play, "W.heater") == [3960]
    fans = [
        s.time for s in play.steps for c in s.changes if (c.kind, c.name) == ("runs", "W.evaporator-fans")
    ]
    assert fans == [0, 3960 + 180]
    stuck = played(
        wired("walk-in-freezer"), ["cool"], ["cool", "defrost"], lasts=3000, fixed={"W.termination": "cold"}
    )
    assert stops(stuck, "W.heater") == [3000 + 1800]
    for step in play.steps:
        assert not {"W.heater", "W.compressor"} <= step.settled.running


@pytest.mark.parametrize("walk_in", ["walk-in-cooler", "walk-in-freezer"])
def test_only_a_compressor_that_runs_pumps_down(walk_in: str) -> None:
    """The high pressure keeps the compressor off: nothing draws the suction down when the solenoid closes."""
    off = played(wired(walk_in), ["cool"], [], lasts=600, fixed={"W.high-pressure": "open"})
    assert off.rest.positions["W.low-pressure"] == "closed"
    assert played(wired(walk_in), ["cool"], [], lasts=600).rest.positions["W.low-pressure"] == "open"


def test_the_ice_machine_stops_when_the_bin_is_full() -> None:
    play = played(wired("ice-machine"), ["ice"], lasts=7200)
    # At the start with the compressor, and after each of three harvests.
    assert [time for time in stops(play, "M.hot-gas") if time > 65] == [1055, 2045, 3010]
    assert play.rest.running == frozenset()


def test_the_ice_machine_starts_with_its_harvest_valve_open() -> None:
    """Common practice: the pressures are equal before the compressor starts; then the valve closes."""
    play = played(wired("ice-machine"), ["ice"], lasts=7200)
    assert (play.started()["M.hot-gas"], play.started()["M.compressor"]) == (0, 60)
    assert stops(play, "M.hot-gas")[0] == 65


def test_a_cad_cell_senses_and_draws_no_power() -> None:
    circuit = wired("oil-furnace")
    assert not [load for load in circuit.loads if load.kind == "electronics"]


# Equipment, safety, the loads that its opening must drop, and the calls that run them.
SAFETIES = [
    ("gas-furnace", "F.limit", ["F.gas-valve"], "heat"),
    ("gas-furnace", "F.rollout", ["F.gas-valve"], "heat"),
    ("gas-furnace", "F.pressure-switch", ["F.gas-valve"], "heat"),
    ("gas-furnace", "F.door", ["F.gas-valve", "F.inducer", "F.igniter", "F.blower"], "heat"),
    ("oil-furnace", "F.limit", ["F.oil-valve", "F.burner-motor", "F.ignition"], "heat"),
    ("boiler", "B.high-limit", ["B.gas-valve"], "Z1.heat"),
    ("boiler", "B.low-water", ["B.gas-valve"], "Z2.heat"),
    ("boiler", "B.rollout", ["B.gas-valve"], "Z1.heat"),
    ("boiler", "B.damper.end", ["B.gas-valve"], "Z1.heat"),
    ("condensing-unit", "CU.high-pressure", ["CU.compressor", "CU.fan"], "cool"),
    ("condensing-unit", "CU.low-pressure", ["CU.compressor", "CU.fan"], "cool"),
    ("condensing-unit", "CU.compressor.protector", ["CU.compressor"], "cool"),
    ("heat-pump", "HP.high-pressure", ["HP.compressor"], "heat"),
    ("heat-pump", "HP.high-pressure", ["HP.compressor"], "cool"),
    ("heat-pump", "HP.low-pressure", ["HP.compressor"], "heat"),
    ("heat-pump", "HP.low-pressure", ["HP.compressor"], "cool"),
    ("heat-pump", "HP.compressor.protector", ["HP.compressor"], "heat"),
    ("heat-pump", "A.limit", ["A.heater"], "auxiliary"),
    ("heat-pump", "A.limit", ["A.heater"], "emergency"),
    ("packaged-unit", "P.limit", ["P.gas-valve"], "heat"),
    ("packaged-unit", "P.rollout", ["P.gas-valve"], "heat"),
    ("packaged-unit", "P.pressure-switch", ["P.gas-valve"], "heat"),
    ("packaged-unit", "P.high-pressure", ["P.compressor"], "cool"),
    ("packaged-unit", "P.low-pressure", ["P.compressor"], "cool"),
    ("packaged-unit", "P.compressor.protector", ["P.compressor"], "cool"),
    ("walk-in-cooler", "W.high-pressure", ["W.compressor", "W.condenser-fan"], "cool"),
    ("walk-in-cooler", "W.oil-pressure", ["W.compressor", "W.condenser-fan"], "cool"),
    ("walk-in-cooler", "W.compressor.protector", ["W.compressor"], "cool"),
    ("walk-in-freezer", "W.high-pressure", ["W.compressor", "W.condenser-fan"], "cool"),
    ("walk-in-freezer", "W.oil-pressure", ["W.compressor", "W.condenser-fan"], "cool"),
    ("walk-in-freezer", "W.compressor.protector", ["W.compressor"], "cool"),
    ("walk-in-freezer", "W.heater-safety", ["W.heater"], "defrost"),
    ("ice-machine", "M.high-pressure", ["M.compressor", "M.hot-gas", "M.pump"], "ice"),
    ("ice-machine", "M.bin", ["M.compressor", "M.hot-gas", "M.pump"], "ice"),
    ("ice-machine", "M.curtain", ["M.compressor", "M.hot-gas", "M.pump"], "ice"),
    ("ice-machine", "M.compressor.protector", ["M.compressor"], "ice"),
]


@pytest.mark.parametrize(("name", "safety", "loads", "call"), SAFETIES)
def test_a_safety_that_opens_drops_its_loads_at_every_moment_of_the_call(
    name: str, safety: str, loads: list[str], call: str
) -> None:
    circuit = wired(name)
    ran: set[str] = set()
    for step in played(circuit, [call]).steps:
        before = step.settled
        ran |= set(loads) & before.running
        after = settle(circuit, {**before.positions, safety: "open"}, [call], before)
        assert not set(loads) & after.running
    assert ran == set(loads)


@pytest.mark.parametrize(("name", "safety", "loads", "call"), SAFETIES)
def test_a_safety_that_stays_open_keeps_its_loads_off(
    name: str, safety: str, loads: list[str], call: str
) -> None:
    play = played(wired(name), [call], fixed={safety: "open"})
    assert not set(loads) & set(play.started())


def safeties(circuit: Circuit) -> set[str]:
    return {name for name, variable in circuit.variables.items() if variable.safety}


@pytest.mark.parametrize("name", HOOKUPS)
def test_no_safety_is_left_out_of_the_table(name: str) -> None:
    told = {safety for equipment, safety, _, _ in SAFETIES if equipment == name}
    # The condensing unit's board has the furnace on it too, which has its own lines.
    others = {
        safety for safety in safeties(wired(name)) if name == "condensing-unit" and safety.startswith("F.")
    }
    assert told == safeties(wired(name)) - others
