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
    # It lights on low fire; high fire is called at 38 s, and proved by its own pressure switch 3 s on.
    (
        "two-stage-furnace",
        ["heat"],
        [
            ("F.inducer.low-speed", 0),
            ("F.igniter", 18),
            ("F.gas-valve.low-fire", 35),
            ("F.blower.low-speed", 68),
        ],
    ),
    (
        "two-stage-furnace",
        ["second-heat"],
        [
            ("F.inducer.low-speed", 0),
            ("F.igniter", 18),
            ("F.gas-valve.low-fire", 35),
            ("F.inducer.high-speed", 38),
            ("F.gas-valve.high-fire", 41),
            ("F.blower.high-speed", 68),
        ],
    ),
    ("two-stage-furnace", ["cool"], [("F.blower.high-speed", 0)]),
    ("two-stage-furnace", ["fan"], [("F.blower.low-speed", 0)]),
    # The sequencer's first contact is the blower's, and closes 30 s on; the elements follow by theirs.
    ("electric-furnace", ["heat"], [("F.blower", 30), ("F.element-1", 60)]),
    ("electric-furnace", ["second-heat"], [("F.blower", 30), ("F.element-1", 60), ("F.element-2", 90)]),
    ("electric-furnace", ["fan"], [("F.blower", 0)]),
    # Water runs with the gas valve, and only where the humidistat asks for it.
    (
        "humidifier",
        ["heat", "humidify"],
        [
            ("F.inducer", 0),
            ("F.igniter", 18),
            ("F.gas-valve", 35),
            ("H", 35),
            ("F.blower.medium-speed", 68),
        ],
    ),
    ("humidifier", ["humidify"], []),
    # The furnace's blower runs with it; the fan call passes through while it rests.
    ("dehumidifier", ["dehumidify"], [("D.compressor", 0), ("D.fan", 0), ("F.blower", 0)]),
    ("dehumidifier", ["fan"], [("F.blower", 0)]),
    ("dehumidifier", ["fan", "dehumidify"], [("D.compressor", 0), ("D.fan", 0), ("F.blower", 0)]),
    ("common-wire-receiver", ["fan"], [("F.blower", 0)]),
    ("common-wire-receiver", ["cool"], [("F.blower", 0), ("CU.compressor", 0), ("CU.fan", 0)]),
    (
        "common-wire-receiver",
        ["heat"],
        [("F.inducer", 0), ("F.igniter", 18), ("F.gas-valve", 35), ("F.blower", 68)],
    ),
    # Switched on with the call: the units find each other within 1 s, and the call takes as long to be heard.
    ("ductless-outdoor", ["cool"], [("I.fan", 1), ("O.compressor", 2), ("O.fan", 2)]),
    (
        "ductless-outdoor",
        ["heat"],
        [("I.fan", 1), ("O.compressor", 2), ("O.fan", 2), ("O.reversing-valve", 2)],
    ),
    ("ductless-outdoor", ["fan"], [("I.fan", 1)]),
    ("fresh-air-control", ["ventilate"], [("F.blower", 0), ("FD", 0)]),
    ("fresh-air-control", ["fan"], [("F.blower", 0)]),
    (
        "fresh-air-control",
        ["heat"],
        [("F.inducer", 0), ("F.igniter", 18), ("F.gas-valve", 35), ("F.blower", 68)],
    ),
    (
        "variable-speed-furnace",
        ["heat"],
        [("F.inducer", 0), ("F.igniter", 18), ("F.gas-valve", 35), ("F.blower.medium-speed", 68)],
    ),
    ("variable-speed-furnace", ["cool"], [("F.blower.high-speed", 0)]),
    # Damp air takes the 24 V from DH, and the blower slows down.
    ("variable-speed-furnace", ["cool", "dehumidify"], [("F.blower.medium-speed", 0)]),
    ("variable-speed-furnace", ["dehumidify"], []),
    ("variable-speed-furnace", ["fan"], [("F.blower.low-speed", 0)]),
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
    (
        "heat-pump-b",
        ["heat"],
        [("A.blower", 0), ("HP.compressor", 0), ("HP.fan", 0), ("HP.reversing-valve", 0)],
    ),
    ("heat-pump-b", ["cool"], [("A.blower", 0), ("HP.compressor", 0), ("HP.fan", 0)]),
    ("heat-pump-b", ["emergency"], [("A.blower", 0), ("A.heater", 30)]),
    ("dual-fuel-kit", ["heat"], [("F.blower", 0), ("HP.compressor", 0), ("HP.fan", 0)]),
    # The furnace alone: its call opens that of the heat pump.
    *(
        (
            "dual-fuel-kit",
            [call],
            [("F.blower", 0), ("F.inducer", 0), ("F.igniter", 18), ("F.gas-valve", 35)],
        )
        for call in ("auxiliary", "emergency")
    ),
    ("packaged-unit", ["heat"], [("P.inducer", 0), ("P.igniter", 18), ("P.gas-valve", 35), ("P.blower", 68)]),
    ("rooftop-unit", ["heat"], [("P.inducer", 0), ("P.igniter", 18), ("P.gas-valve", 35), ("P.blower", 68)]),
    ("packaged-unit", ["cool"], [("P.blower", 0), ("P.compressor", 0), ("P.fan-outdoor", 0)]),
    ("rooftop-unit", ["cool"], [("P.blower", 0), ("P.compressor", 0), ("P.fan-outdoor", 0)]),
    # Warm air outdoors: as without it. Cool air: the damper first, and the compressor with the second stage.
    *(
        ("economizer", [call], [("P.blower", 0), ("P.compressor", 0), ("P.fan-outdoor", 0)])
        for call in ("cool", "second-cool")
    ),
    ("economizer", ["cool", "free-cooling"], [("P.blower", 0), ("E.damper", 0)]),
    (
        "economizer",
        ["second-cool", "free-cooling"],
        [("P.blower", 0), ("E.damper", 0), ("P.compressor", 0), ("P.fan-outdoor", 0)],
    ),
    ("economizer", ["free-cooling"], []),
    ("boiler", ["Z1.heat"], [("ZV1", 0), ("P", 30), ("B.spark", 47), ("B.gas-valve", 47)]),
    ("boiler", ["Z2.heat"], [("ZV2", 0), ("P", 30), ("B.spark", 47), ("B.gas-valve", 47)]),
    (
        "aquastat-boiler",
        ["heat"],
        [("P", 0), ("OB.burner-motor", 0), ("OB.ignition", 0), ("OB.oil-valve", 15)],
    ),
    # Water flows at 3 s, air is proved at 6 s, then 15 s of pre-purge.
    (
        "primary-secondary-boiler",
        ["heat"],
        [("P1", 0), ("P2", 0), ("B.blower", 3), ("B.spark", 21), ("B.gas-valve", 21)],
    ),
    # Draft proved at 3 s, then 15 s of pre-purge and 20 s of igniter.
    (
        "power-vent-water-heater",
        ["hot-water"],
        [("WH.blower", 0), ("WH.igniter", 18), ("WH.gas-valve", 38)],
    ),
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
    """When each load first ran, but for those that only move contacts, stand by or stand in series."""
    loads = {load.name: load for load in play.steps[0].settled.circuit.loads}
    return {
        name: time
        for name, time in play.started().items()
        if loads[name].kind != "coil" and loads[name].flags.isdisjoint(("standby", "in-series"))
    }


@pytest.mark.parametrize(("name", "calls", "starts"), STARTS)
def test_a_call_runs_these_loads_at_these_times_and_no_others(
    name: str, calls: list[str], starts: list[tuple[str, float]]
) -> None:
    play = played(wired(name), calls)
    assert work(play) == dict(starts)
    assert not play.bounded
    assert not any(step.settled.opened or step.settled.chattering for step in play.steps)


# What stays where it is: a bin full, a surface hot, two units that have found each other.
KEEPS = (".bin", ".surface", ".link", ".hears")
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
        if rest.positions[name] != variable.values[0] and not name.endswith(KEEPS)
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


def test_the_second_stage_comes_and_goes_with_its_call() -> None:
    """High fire after its pressure switch, and back to low fire at once; the burner burns on."""
    play = played(wired("two-stage-furnace"), ["heat"], ["second-heat"], ["heat"], lasts=600)
    assert play.started()["F.inducer.high-speed"] == 600
    assert play.started()["F.gas-valve.high-fire"] == 603
    assert stops(play, "F.gas-valve.high-fire") == [1200]
    assert stops(play, "F.gas-valve.low-fire") == []
    assert [time for time in stops(play, "F.blower.low-speed") if time > 0] == [600]


def test_high_fire_needs_both_pressure_switches_and_its_first_stage() -> None:
    stuck = {"F.pressure-high": "open"}
    play = played(wired("two-stage-furnace"), ["second-heat"], fixed=stuck)
    assert "F.gas-valve.low-fire" in play.rest.running
    assert "F.gas-valve.high-fire" not in play.started()
    for switch in ("F.pressure-low", "F.pressure-high"):
        assert work(played(wired("two-stage-furnace"), ["second-heat"], fixed={switch: "closed"})) == {}


def test_two_speeds_of_one_motor_never_run_at_once() -> None:
    calls = (["heat"], ["second-heat"], ["cool"], ["fan"], ["heat"], [])
    for step in played(wired("two-stage-furnace"), *calls, lasts=400).steps:
        for motor in ("F.inducer", "F.blower"):
            assert not {f"{motor}.low-speed", f"{motor}.high-speed"} <= step.settled.running


def test_the_blower_of_an_electric_furnace_stops_after_its_elements() -> None:
    """The sequencers open the elements 30 s on and the blower 60 s on; a fan call changes nothing of that."""
    for fan in ([], ["fan"]):
        play = played(wired("electric-furnace"), ["second-heat"], fan, lasts=600)
        assert stops(play, "F.element-1") == stops(play, "F.element-2") == [630]
        assert stops(play, "F.blower") == ([] if fan else [660])


def test_an_element_without_air_opens_its_limit_and_the_other_one_has_its_own() -> None:
    """The blower is off: 20 s of heat, 2 min to cool down; one limit that sticks is the other's no matter."""
    off = {"F.sequencer-1.first": "open"}
    play = played(wired("electric-furnace"), ["heat"], lasts=300, fixed=off)
    assert [time for time in stops(play, "F.element-1") if time < 300] == [80, 220]
    stuck = played(wired("electric-furnace"), ["second-heat"], lasts=300, fixed={"F.limit-1": "open"})
    assert work(stuck) == {"F.blower": 30, "F.element-2": 90}


def test_a_dehumidifier_runs_its_fan_on_a_frosted_coil_and_rests_before_it_starts_again() -> None:
    """A frosted coil stops the compressor, and fan and blower run on."""
    play = played(wired("dehumidifier"), ["dehumidify"], lasts=700, fixed={"D.coil-sensor": "cold"})
    assert work(play) == {"D.fan": 0, "F.blower": 0}
    again = played(wired("dehumidifier"), ["dehumidify"], [], ["dehumidify"], lasts=60)
    starts = [s.time for s in again.steps for c in s.changes if (c.kind, c.name) == ("runs", "D.compressor")]
    assert starts == [0]
    again = played(wired("dehumidifier"), ["dehumidify"], [], ["dehumidify"], lasts=150)
    starts = [s.time for s in again.steps for c in s.changes if (c.kind, c.name) == ("runs", "D.compressor")]
    assert starts == [0, 330]


@pytest.mark.parametrize(("call", "least", "most"), [("", 0, 1), ("fan", 16.5, 19.5), ("cool", 23, 28)])
def test_a_meter_on_the_one_wire_of_a_common_wire_kit_tells_the_calls_apart(
    call: str, least: float, most: float
) -> None:
    """Half of each wave is 24 V / sqrt(2) = 17 V on a true-RMS meter, more on a transformer that rests."""
    rest = played(wired("common-wire-receiver"), [call] if call else []).rest
    assert least <= rest.across("K.YG", "K.C") <= most


def test_a_ductless_pair_rests_before_it_turns_from_cooling_to_heat() -> None:
    """The call changes at once and the compressor waits its 3 min; the valve has turned by then."""
    play = played(wired("ductless-outdoor"), ["cool"], ["heat"], lasts=600)
    starts = [s.time for s in play.steps for c in s.changes if (c.kind, c.name) == ("runs", "O.compressor")]
    assert starts == [2, 600 + 180]
    assert play.started()["O.reversing-valve"] == 601


def test_damp_air_slows_the_blower_down_while_it_cools_and_at_no_other_time() -> None:
    slower = played(wired("variable-speed-furnace"), ["cool"], ["cool", "dehumidify"], ["cool"], lasts=600)
    assert stops(slower, "F.blower.high-speed") == [600]
    assert stops(slower, "F.blower.medium-speed") == [1200]
    heated = played(wired("variable-speed-furnace"), ["heat"], ["heat", "dehumidify"], lasts=600)
    assert work(heated) == work(played(wired("variable-speed-furnace"), ["heat"]))


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


def test_a_valve_on_b_loses_its_power_in_defrost() -> None:
    """It rests in cooling, so defrost takes it away; the outdoor fan stands and auxiliary heat runs."""
    play = played(wired("heat-pump-b"), ["heat"], lasts=7000, fixed={"HP.coil-sensor": "cold"})
    assert stops(play, "HP.reversing-valve") == stops(play, "HP.fan") == [5400]
    assert play.started()["A.heater"] == 5430
    ended = next(step.settled for step in play.steps if step.time == 6000)
    assert {"HP.compressor", "HP.reversing-valve", "HP.fan"} <= ended.running
    cooled = played(wired("heat-pump-b"), ["cool"], lasts=7000, fixed={"HP.coil-sensor": "cold"})
    assert cooled.rest.positions["HP.control"] == "cooling" and stops(cooled, "HP.fan") == []


def test_heat_pump_and_furnace_never_heat_together_but_in_defrost() -> None:
    """The heat pump comes back some minutes after the furnace's call, when the plenum has cooled."""
    both = {"HP.compressor", "F.gas-valve"}
    play = played(wired("dual-fuel-kit"), ["heat"], ["auxiliary"], ["heat"], lasts=1200)
    assert not any(both <= step.settled.running for step in play.steps)
    starts = [s.time for s in play.steps for c in s.changes if (c.kind, c.name) == ("runs", "HP.compressor")]
    assert starts == [0, 2400 + 300]
    frozen = played(wired("dual-fuel-kit"), ["heat"], lasts=7000, fixed={"HP.coil-sensor": "cold"})
    assert any(both <= step.settled.running for step in frozen.steps if 5400 < step.time < 6000)
    assert stops(frozen, "HP.compressor") == []


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
    ("two-stage-furnace", "F.limit", ["F.gas-valve.low-fire", "F.gas-valve.high-fire"], "second-heat"),
    ("two-stage-furnace", "F.rollout", ["F.gas-valve.low-fire", "F.gas-valve.high-fire"], "second-heat"),
    (
        "two-stage-furnace",
        "F.pressure-low",
        ["F.gas-valve.low-fire", "F.gas-valve.high-fire"],
        "second-heat",
    ),
    ("two-stage-furnace", "F.pressure-high", ["F.gas-valve.high-fire"], "second-heat"),
    (
        "two-stage-furnace",
        "F.door",
        ["F.gas-valve.low-fire", "F.inducer.low-speed", "F.igniter", "F.blower.low-speed"],
        "heat",
    ),
    ("variable-speed-furnace", "F.limit", ["F.gas-valve"], "heat"),
    ("variable-speed-furnace", "F.rollout", ["F.gas-valve"], "heat"),
    ("variable-speed-furnace", "F.pressure-switch", ["F.gas-valve"], "heat"),
    ("variable-speed-furnace", "F.door", ["F.gas-valve", "F.inducer", "F.blower.medium-speed"], "heat"),
    ("electric-furnace", "F.limit-1", ["F.element-1"], "heat"),
    ("electric-furnace", "F.link-1", ["F.element-1"], "heat"),
    ("electric-furnace", "F.limit-2", ["F.element-2"], "second-heat"),
    ("electric-furnace", "F.link-2", ["F.element-2"], "second-heat"),
    ("dehumidifier", "D.pan", ["D.compressor"], "dehumidify"),
    ("dehumidifier", "D.compressor.protector", ["D.compressor"], "dehumidify"),
    *(
        ("ductless-outdoor", safety, ["O.compressor"], call)
        for safety in ("O.high-pressure", "O.low-pressure", "O.compressor.protector")
        for call in ("heat", "cool")
    ),
    ("oil-furnace", "F.limit", ["F.oil-valve", "F.burner-motor", "F.ignition"], "heat"),
    ("boiler", "B.high-limit", ["B.gas-valve"], "Z1.heat"),
    ("boiler", "B.low-water", ["B.gas-valve"], "Z2.heat"),
    ("boiler", "B.rollout", ["B.gas-valve"], "Z1.heat"),
    ("boiler", "B.damper.end", ["B.gas-valve"], "Z1.heat"),
    ("aquastat-boiler", "AQ.high-limit", ["OB.burner-motor", "OB.ignition", "OB.oil-valve"], "heat"),
    *(
        ("primary-secondary-boiler", f"B.{safety}", ["B.gas-valve"], "heat")
        for safety in ("low-water", "high-limit", "flow-switch", "pressure-switch")
    ),
    *(
        ("power-vent-water-heater", f"WH.{safety}", ["WH.gas-valve"], "hot-water")
        for safety in ("eco", "vent-limit", "pressure-switch")
    ),
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
    *(
        ("heat-pump-b", safety, ["HP.compressor"], call)
        for safety in ("HP.high-pressure", "HP.low-pressure", "HP.compressor.protector")
        for call in ("heat", "cool")
    ),
    ("heat-pump-b", "A.limit", ["A.heater"], "auxiliary"),
    ("heat-pump-b", "A.limit", ["A.heater"], "emergency"),
    ("dual-fuel-kit", "HP.high-pressure", ["HP.compressor"], "heat"),
    ("dual-fuel-kit", "HP.low-pressure", ["HP.compressor"], "cool"),
    ("dual-fuel-kit", "HP.compressor.protector", ["HP.compressor"], "cool"),
    ("dual-fuel-kit", "F.limit", ["F.gas-valve"], "auxiliary"),
    ("dual-fuel-kit", "F.rollout", ["F.gas-valve"], "emergency"),
    ("dual-fuel-kit", "F.pressure-switch", ["F.gas-valve"], "auxiliary"),
    ("dual-fuel-kit", "F.door", ["F.gas-valve", "F.inducer", "F.blower"], "auxiliary"),
    ("packaged-unit", "P.limit", ["P.gas-valve"], "heat"),
    ("rooftop-unit", "P.limit", ["P.gas-valve"], "heat"),
    ("packaged-unit", "P.rollout", ["P.gas-valve"], "heat"),
    ("rooftop-unit", "P.rollout", ["P.gas-valve"], "heat"),
    ("packaged-unit", "P.pressure-switch", ["P.gas-valve"], "heat"),
    ("rooftop-unit", "P.pressure-switch", ["P.gas-valve"], "heat"),
    ("packaged-unit", "P.high-pressure", ["P.compressor"], "cool"),
    ("rooftop-unit", "P.high-pressure", ["P.compressor"], "cool"),
    ("packaged-unit", "P.low-pressure", ["P.compressor"], "cool"),
    ("rooftop-unit", "P.low-pressure", ["P.compressor"], "cool"),
    ("packaged-unit", "P.compressor.protector", ["P.compressor"], "cool"),
    ("rooftop-unit", "P.compressor.protector", ["P.compressor"], "cool"),
    ("rooftop-unit", "P.blower.protector", ["P.blower"], "fan"),
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
    # These boards have a furnace on them too, or an outdoor unit, which have their own lines.
    beside = ("humidifier", "dehumidifier", "fresh-air-control", "common-wire-receiver", "economizer")
    others = {one for one in safeties(wired(name)) if name == "condensing-unit" and one.startswith("F.")}
    others |= {one for one in safeties(wired(name)) if name in beside and one.startswith(("F.", "CU.", "P."))}
    assert told == safeties(wired(name)) - others


def test_an_aquastat_fires_for_its_coil_and_holds_the_circulator_back() -> None:
    """Below the low limit the burner fires with no call; the circulator waits for hot water."""
    cold = {"AQ.low-limit": "below"}
    idle = played(wired("aquastat-boiler"), [], fixed=cold)
    assert "OB.oil-valve" in idle.started() and "P" not in idle.started()
    assert "P" not in played(wired("aquastat-boiler"), ["heat"], fixed=cold).started()


def test_an_oil_burner_without_a_flame_locks_out() -> None:
    dark = played(wired("aquastat-boiler"), ["heat"], fixed={"OB.cad-cell": "dark"}).rest
    assert dark.positions["OB.control"] == "locked-out"
    assert not {"OB.burner-motor", "OB.oil-valve", "OB.ignition"} & dark.running


def test_the_boiler_on_a_primary_loop_purges_and_pumps_on() -> None:
    play = played(wired("primary-secondary-boiler"), ["heat"], [])
    ends = {name: stops(play, name)[-1] for name in ("P2", "B.gas-valve", "B.blower", "P1")}
    assert ends == {"P2": 1800, "B.gas-valve": 1800, "B.blower": 1830, "P1": 1950}


def test_it_tries_again_after_its_rest() -> None:
    play = played(wired("primary-secondary-boiler"), ["heat"], fixed={"B.flame": "off"})
    trials = [
        step.time
        for step in play.steps
        for change in step.changes
        if (change.kind, change.name) == ("runs", "B.gas-valve")
    ]
    assert trials[:2] == [21.0, 21.0 + 7 + 300 + 3 + 15]


@pytest.mark.parametrize(
    "mistake",
    [
        ("  W1.bare -- WH.ground\n", ""),
        ("  W1.black -- WH.L1\n  W1.white -- WH.N\n", "  W1.white -- WH.L1\n  W1.black -- WH.N\n"),
    ],
)
def test_a_flame_that_is_not_sensed_locks_out_at_the_third_trial(mistake: tuple[str, str]) -> None:
    """Without its ground, or with hot and neutral exchanged, no current flows through the flame to ground."""
    wrong = hookup("power-vent-water-heater", mistake)
    play = played(wrong, ["hot-water"])
    trials = [
        step for step in play.steps for change in step.changes if change[:2] == ("runs", "WH.gas-valve")
    ]
    assert len(trials) == 3
    assert play.rest.positions["WH.control"] == "locked-out"


def test_a_vent_that_does_not_draw_locks_out() -> None:
    play = played(wired("power-vent-water-heater"), ["hot-water"], fixed={"WH.pressure-switch": "open"})
    assert play.steps[-1].time == 60 and play.rest.positions["WH.control"] == "locked-out"
