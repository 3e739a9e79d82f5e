"""A wire that is landed elsewhere leaves the rungs that it is not on where they are on the right board."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.drawing.test_missing import NEARLY, placed, rungs
from tests.drawing.test_places import PAIRS
from tests.drawing.test_wiring import of_text

MOVED = {
    "another column of the page fits its ladders better: one is higher, wider, or there is one more": """
        common-wire-kit/wrong-green-left-on-g
        common-wire-kit/wrong-yellow-straight-to-y
        condenser-fan-cycling/wrong-both-on-the-line-side
        condenser-fan-cycling/wrong-compressor-behind-the-fan-control
        condenser-fan-cycling/wrong-fan-control-jumpered
        condenser-fan-cycling/wrong-fan-fed-ahead-of-the-contact
        condenser-fan-cycling/wrong-high-pressure-jumpered
        cooling-call/wrong-r-to-c-short
        dehumidifier/wrong-control-fed-by-the-furnace
        dehumidifier/wrong-transformers-tied
        dual-fuel/wrong-y-around-the-kit
        dual-fuel/wrong-y-out-and-w-out-swapped
        fan-and-light/wrong-hot-into-the-neutral-splice
        fresh-air-damper/wrong-damper-back-to-r
        garage-vehicle-outlet/wrong-plain-breaker
        heat-pump-b/wrong-common-on-b
        heater-contactor/wrong-coil-between-two-hots
        humidifier/wrong-humidifier-back-to-r
        laundry-dual-function/wrong-receptacle-forgotten
        motor-starter/wrong-holding-contact-across-both
        packaged-unit/wrong-r-to-c
        rack-compressor/wrong-neutral-and-a-hot-exchanged
        reach-in-cooler/wrong-start-left-off
        split-wired-receptacle/wrong-tab-left-in
        timer-defrost/wrong-heater-past-its-limit
        two-transformers/wrong-jumper-left-in
        two-transformers/wrong-pump-unfed
        two-transformers/wrong-rc-and-rh-exchanged
        two-units-one-thermostat/wrong-fed-from-the-first-unit
        water-chiller/wrong-coil-between-two-hots
        workshop-outlets/wrong-hot-and-neutral-exchanged
        workshop-outlets/wrong-saw-on-one-leg-and-neutral
    """,
    "a row more or less pushes all below it, and a switch with other travelers is higher": """
        aquastat-boiler/wrong-burner-past-the-high-limit
        aquastat-boiler/wrong-circulator-on-l1
        aquastat-boiler/wrong-zone-2-does-not-fire
        boiler-two-zones/wrong-end-switch-left-off
        capacitor-compressor/wrong-common-and-run-exchanged
        common-wire-kit/wrong-calls-swapped-at-the-sender
        condenser-fan-cycling/wrong-delay-turned-about
        dehumidifier/wrong-fan-call-around-it
        dual-fuel/wrong-w2-straight-to-the-furnace
        ductless-pair/wrong-2-and-3-swapped-inside
        economizer/wrong-in-and-out-swapped
        economizer/wrong-y2-left-off
        economizer/wrong-yellow-around-it
        fresh-air-damper/wrong-fan-call-around-it
        electric-furnace/wrong-jumper-w1-to-w2
        float-switch-in-r/wrong-across-r-and-c
        fresh-air-damper/wrong-in-and-out-swapped
        hall-fed-at-light/wrong-blacks-on-the-4-way
        heat-pump/wrong-auxiliary-on-y
        heat-pump/wrong-o-left-off
        heat-pump/wrong-reversing-valve-on-b
        humidifier/wrong-humidistat-across-the-humidifier
        laundry-dual-function/wrong-light-on-the-receptacle
        primary-secondary-boiler/wrong-circulator-on-l1
        three-switch-hall/wrong-travelers-crossed-at-4-way
        two-stage-furnace/wrong-jumper-w1-to-w2
        two-stage-furnace/wrong-y-not-landed
        two-units-one-thermostat/wrong-relay-left-out
        water-chiller/wrong-past-both-pressure-switches
    """,
    "the longest rung has a contact more or less, or one on its other side": """
        common-wire-kit/wrong-fan-lead-left-off
        condensate-pump/wrong-in-the-heat-call
        condensate-pump/wrong-safety-leads-joined
        condensate-pump/wrong-safety-on-120-volts
        ductless-pair/wrong-1-and-3-swapped-outdoors
        ductless-pair/wrong-3-left-off
        float-switch-in-y/wrong-in-g
        float-switch-in-y/wrong-in-the-wrong-wire
        humidifier/wrong-humidistat-left-out
        kitchen-appliances/wrong-dishwasher-past-the-device
        porch-light-photocell/wrong-porch-on-the-switch
        pump-down-cooler/wrong-control-circuit-behind-the-thermostat
        rack-compressor/wrong-past-the-oil-control
        rack-compressor/wrong-thermostat-carries-the-coil
        split-air-conditioner/wrong-red-in-place-of-yellow
        stair-light-fed-at-light/wrong-common-at-the-dead-end
        stair-light/wrong-traveler-on-common
        two-gang-box/wrong-neutral-switched
        two-gang-box/wrong-second-fed-from-the-first
        two-speed-blower/wrong-both-taps-joined
        two-speed-blower/wrong-fan-relay-on-red
        water-chiller/wrong-thermostat-past-the-flow-switch
    """,
    "a rung that begins or ends with other contacts stands beside those that do so, too, or is wider": """
        aquastat-boiler/wrong-burner-and-circulator-exchanged
        arc-fault-outlet/wrong-neutral-past-it
        bath-sensor-and-timer/wrong-line-and-load
        bathroom/wrong-bare-as-neutral
        capacitor-compressor/wrong-capacitors-left-off-start
        capacitor-compressor/wrong-start-capacitor-past-the-relay
        capacitor-compressor/wrong-start-and-run-exchanged
        condenser-fan-cycling/wrong-fan-control-in-the-coil-wire
        electric-furnace/wrong-w1-and-w2-swapped
        float-switch-in-r/wrong-in-common
        fresh-air-damper/wrong-damper-on-r
        fresh-air-damper/wrong-damper-with-the-fan
        gfci-circuit/wrong-neutral-past-the-gfci
        gfci-circuit/wrong-wire-nut-forgotten
        half-switched-receptacles/wrong-tab-left-in
        heating-call/wrong-white-on-common
        humidifier/wrong-humidistat-fed-from-r
        porch-light-photocell/wrong-red-and-black
        rack-compressor/wrong-a-line-past-its-fuse
        rack-compressor/wrong-two-lines-exchanged
        reach-in-cooler/wrong-capacitor-past-the-relay
        reach-in-cooler/wrong-evaporator-fan-behind-the-thermostat
        reach-in-cooler/wrong-protector-jumpered
        timer-defrost/wrong-fans-blow-in-defrost
        two-units-one-thermostat/wrong-coil-on-red
        two-units-one-thermostat/wrong-delay-skipped
        variable-speed-furnace/wrong-dehumidistat-across-r-and-c
        variable-speed-furnace/wrong-dehumidistat-on-g
        water-chiller/wrong-pump-ahead-of-the-thermostat
        water-chiller/wrong-pump-behind-the-flow-switch
    """,
    "the same contacts stand on the other side of the load, or in another order or rail; or its words do": """
        attic-fan/wrong-timer-in-the-neutral
        bathroom/wrong-hot-and-white-exchanged
        capacitor-compressor/wrong-relay-coil-off
        condensing-furnace/wrong-neutral-on-the-switch
        dehumidifier/wrong-in-and-out-swapped
        ductless-pair/wrong-1-and-2-swapped-inside
        furnace-on-a-sequencer/wrong-limit-jumpered
        garage-vehicle-outlet/wrong-neutral-on-ground
        heating-call/wrong-polarity-reversed
        ice-machine/wrong-polarity-reversed
        kitchen-appliances/wrong-disposal-neutral-switched
        kitchen-appliances/wrong-plain-breaker
        motor-control-transformer/wrong-stop-button-past
        oil-furnace/wrong-polarity-reversed
        power-vent-water-heater/wrong-hot-and-neutral-exchanged
        primary-secondary-boiler/wrong-white-and-bare-exchanged
        rack-compressor/wrong-line-and-load-turned-about
        reach-in-cooler/wrong-common-and-start-exchanged
        reach-in-cooler/wrong-hot-and-neutral-exchanged
        reach-in-cooler/wrong-run-and-start-exchanged
        rooftop-unit/wrong-lines-exchanged
        stair-light/wrong-hot-and-neutral-exchanged
        sump-pump/wrong-float-in-the-neutral
        two-speed-blower/wrong-switch-in-the-white
        water-chiller/wrong-flow-switch-in-the-neutral
        water-chiller/wrong-two-lines-exchanged
    """,
}
"""The boards on which signs of a rung move that is the same on the right board, by why they do."""
LISTED = {name for names in MOVED.values() for name in names.split()}


def moved(right: Path, wrong: Path) -> set[str]:
    """The signs on no rung that differs that are out of place; none where wires are missing alone."""
    one, other = (of_text(path.read_text("utf-8")) for path in (right, wrong))
    (before, _), (after, gaps) = rungs(one), rungs(other)
    if gaps and before == after:
        return set()
    changed = {name for rung in (before - after) + (after - before) for name in rung}
    was, now = placed(one), placed(other)
    return {
        sign
        for sign in was.keys() & now.keys()
        if max(abs(a - b) for a, b in zip(was[sign], now[sign], strict=True)) > NEARLY
        and re.sub(r"(\.stroke|\.again)-\d+", "", sign).partition("-")[2] not in changed
    }


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        pytest.param(*pair, marks=[pytest.mark.slow] * (pair[1].stem != "wrong-thermostat-jumpered"))
        for pair in PAIRS
    ],
    ids=[f"{wrong.parent.name}-{wrong.stem}" for _, wrong in PAIRS],
)
def test_a_wire_that_is_landed_elsewhere_moves_no_rung_that_it_is_not_on(right: Path, wrong: Path) -> None:
    assert bool(moved(right, wrong)) == (f"{wrong.parent.name}/{wrong.stem}" in LISTED)
