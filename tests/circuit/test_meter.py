"""What a meter shows, against arithmetic by hand."""

from __future__ import annotations

import math

import pytest

from tests.samples import SAMPLES, fed, wired
from wirecheck.circuit import meter
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.settle import Settled, resting, settle

STAIR = (SAMPLES / "stair-light.wire").read_text()


def state(circuit: Circuit, **moved: str) -> Settled:
    return settle(circuit, resting(circuit, moved))


def test_a_meter_across_an_open_switch_reads_the_source() -> None:
    """Troubleshooting, common practice: an open shows source voltage across it under power."""
    circuit = wired(STAIR)
    settled = state(circuit, S1="down")
    reading = meter.volts(settled, "S2.common", "S2.traveler-2")
    closed = meter.volts(settled, "S2.common", "S2.traveler-1")
    assert closed.value == pytest.approx(0, abs=0.05)
    assert reading.value == pytest.approx(120, rel=0.01)


def test_a_wire_joined_to_nothing_reads_phantom_volts() -> None:
    """A capacitive divider by hand: black live, white and bare at earth, red afloat, meter beside."""
    circuit = wired(
        fed(
            "box A junction 30 cu in",
            "cable W1 14/3 NM-B 50 ft from LP to A",
            "at LP",
            "W1.black -- LP.3",
            "W1.white -- LP.neutral",
            "W1.bare -- LP.ground",
        )
    )
    settled = state(circuit)
    farads = 20e-12 * 50
    through = 1j * math.tau * 60 * farads
    expected = 120 * abs(through / (3 * through + 1 / 10e6))
    reading = meter.volts(settled, "W1.red@A", "LP.neutral")
    assert reading.phantom
    assert reading.value == pytest.approx(expected, rel=1e-3)
    live = meter.volts(settled, "W1.black@A", "LP.neutral")
    assert not live.phantom and live.value == pytest.approx(120, rel=1e-3)


def test_ohms_of_a_run_are_those_of_its_copper() -> None:
    """NEC Chapter 9 Table 8: 14 AWG solid, 3.07 ohm/kft at 75 C, at 30 C by its own coefficient."""
    circuit = wired(STAIR)
    off = state(circuit, **{"LP.3": "off"})
    reading = meter.ohms(off, "W1.black@LP", "S1.common")
    assert reading.value == pytest.approx(22 * 3.07e-3 * (1 + 0.00323 * (30 - 75)), rel=1e-3)
    assert meter.ohms(off, "S1.traveler-2", "S1.common").value is None
    assert meter.ohms(off, "L1.hot", "L1.neutral").through == ("L1",)


def test_ohms_through_a_heater_have_a_number_and_through_a_lamp_have_none() -> None:
    circuit = wired(
        fed(
            "box A junction 30 cu in",
            "H1 is heater with power 1500 W, voltage 120 V in A",
            "L1 is lampholder 60 W in A",
            "at A",
            "H1.a -- L1.hot",
        )
    )
    settled = state(circuit)
    assert meter.ohms(settled, "H1.a", "H1.b").value == pytest.approx(120**2 / 1500, rel=1e-6)
    lamp = meter.ohms(settled, "L1.hot", "L1.neutral")
    assert lamp.value is None and lamp.through == ("L1",)
    both = meter.ohms(settled, "H1.b", "L1.neutral")
    assert both.value is None and set(both.through) == {"H1", "L1"}


def test_no_ohms_with_the_power_on() -> None:
    with pytest.raises(meter.PowerOn):
        meter.ohms(state(wired(STAIR)), "L1.hot", "L1.neutral")


def test_amps_of_a_lamp() -> None:
    settled = state(wired(STAIR))
    assert meter.amps(settled, "W3.black").value == pytest.approx(0.5, rel=2e-3)
    assert meter.amps(settled, "L1").value == meter.amps(settled, "LP.3").value


def test_names_that_mean_no_point_are_answered_with_those_near() -> None:
    circuit = wired(STAIR)
    with pytest.raises(meter.Ambiguous) as two:
        meter.point(circuit, "W1.black")
    assert two.value.choices == ("W1.black@LP", "W1.black@A")
    with pytest.raises(meter.Ambiguous) as many:
        meter.point(circuit, "S1")
    assert "S1.common" in many.value.choices


def test_each_screw_of_a_side_is_a_point_of_the_meter() -> None:
    circuit = wired(
        fed(
            "box A device 20.3 cu in",
            "cable W1 14/2 NM-B 22 ft from LP to A",
            "R1 is duplex-receptacle in A",
            "at LP",
            "W1.black -- LP.3",
            "at A",
            "W1.black -- R1.hot-1",
        )
    )
    assert meter.point(circuit, "R1.hot-2") == "R1.hot"
    with pytest.raises(meter.Ambiguous):
        meter.point(circuit, "R1.hot-3")
