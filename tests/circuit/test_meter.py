"""What a meter shows, against arithmetic by hand."""

from __future__ import annotations

import math

import pytest

from tests.samples import SAMPLES, fed, wired
from wirecheck.circuit import meter
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.circuit import circuit as circuit_of
from wirecheck.circuit.fault import Broken, Short
from wirecheck.circuit.faulted import faulted
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.model.lifted import lifted

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


def cold(*devices: str) -> Settled:
    return state(wired(fed("box A junction 60 cu in", *devices)))


def test_a_coil_has_no_more_ohms_than_its_watts_allow() -> None:
    """W = I^2 R, so R is no more than the power factor x V^2 / VA, drawn in (50 %) or not (70 %)."""
    # 24^2 / 9 x 0.5 = 32 ohm drawn in; 24^2 / 35 x 0.7 = 11.5 ohm not yet.
    settled = cold("K is contactor with capacity 9 VA, inrush 35 VA in A")
    reading = meter.ohms(settled, "K.coil-a", "K.coil-b")
    assert reading.value is None and reading.through == ("K",)
    assert reading.between == pytest.approx((0.25 * 24**2 / 35 * 0.7, 24**2 / 35 * 0.7))
    # 24^2 / 4 x 0.5 = 72 ohm; 24^2 / 8 x 0.7 = 50.4 ohm.
    relay = meter.ohms(cold("K is relay-spst in A"), "K.coil-a", "K.coil-b")
    assert relay.between == pytest.approx((12.6, 50.4))
    # Without an inrush of its own: 24^2 / 6 x 1.
    warmer = meter.ohms(cold("K is sequencer in A"), "K.heater-a", "K.heater-b")
    assert warmer.between == pytest.approx((24, 96))


def test_a_valve_with_an_inrush_is_a_coil_and_another_is_not_known() -> None:
    settled = cold("V is solenoid-valve with capacity 10 VA, inrush 20 VA in A", "G is gas-valve in A")
    # 24^2 / 10 x 0.5 = 28.8 ohm; 24^2 / 20 x 0.7 = 20.2 ohm.
    assert meter.ohms(settled, "V.a", "V.b").between == pytest.approx((5.04, 20.16))
    other = meter.ohms(settled, "G.a", "G.b")
    assert (other.between, other.value, other.through) == (None, None, ("G",))


def test_each_winding_of_a_transformer_has_about_half_of_its_impedance() -> None:
    """15 % of 24^2 / 40 = 2.16 ohm on the secondary's side, and (120/24)^2 of that on the primary's."""
    settled = cold("T is class-2-transformer 40 VA in A")
    secondary = meter.ohms(settled, "T.secondary-r", "T.secondary-c")
    assert secondary.between == pytest.approx((0.54, 1.62)) and secondary.through == ("T",)
    primary = meter.ohms(settled, "T.primary-hot", "T.primary-neutral")
    assert primary.between == pytest.approx((13.5, 40.5))
    assert meter.ohms(settled, "T.primary-hot", "T.secondary-r").value is None


def test_coils_side_by_side_and_in_a_row() -> None:
    two = ("K1 is relay-spst in A", "K2 is relay-spst in A", "at A")
    both = cold(*two, "K1.coil-a -- K2.coil-a", "K1.coil-b -- K2.coil-b")
    reading = meter.ohms(both, "K1.coil-a", "K1.coil-b")
    assert reading.between == pytest.approx((6.3, 25.2)) and set(reading.through) == {"K1", "K2"}
    row = meter.ohms(cold(*two, "K1.coil-b -- K2.coil-a"), "K1.coil-a", "K2.coil-b")
    assert row.between == pytest.approx((25.2, 100.8))


def test_a_coil_beside_what_is_not_known_has_no_number() -> None:
    beside = ("G is gas-valve in A", "K is relay-spst in A", "at A", "G.a -- K.coil-a", "G.b -- K.coil-b")
    reading = meter.ohms(cold(*beside), "G.a", "G.b")
    assert (reading.between, reading.value, set(reading.through)) == (None, None, {"G", "K"})


def test_beside_plain_copper_a_coil_does_not_show() -> None:
    wire = "wire J 14 THHN black 1 ft from A to A"
    short = ("K is relay-spst in A", wire, "at A", "J -- K.coil-a", "J -- K.coil-b")
    reading = meter.ohms(cold(*short), "K.coil-a", "K.coil-b")
    assert (reading.between, reading.through) == (None, ())
    assert reading.value == pytest.approx(1 * 3.07e-3 * (1 + 0.00323 * (30 - 75)), rel=1e-3)


def test_a_wire_off_its_screw_leaves_the_others_joined() -> None:
    board = lifted(wired(STAIR).board, {"W1.white@A"})
    circuit = circuit_of(board)
    assert circuit.node["W1.white@A"] != circuit.node["W2.white@A"]
    assert circuit.node["W1.bare@A"] == circuit.node["W2.bare@A"]


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


def test_no_ohms_where_current_flows_at_no_volts() -> None:
    """A neutral of a lit lamp is at next to 0 V, and an ohmmeter on it is on a live circuit."""
    lit = state(wired(STAIR))
    with pytest.raises(meter.PowerOn):
        meter.ohms(lit, "W2.white@A", "W1.white@A")
    assert meter.ohms(lit, "W1.bare@A", "S1.ground").value is not None


def test_a_wire_that_is_broken_on_its_way_carries_nothing() -> None:
    good = wired(STAIR)
    assert meter.amps(state(faulted(good.board, [Broken("W3.black")])), "W3.black").value == 0.0


def test_beside_what_is_not_known_there_is_no_more_than_the_other_path_has() -> None:
    """A short of 0.8 ohm across a lamp: two paths side by side have less than either."""
    good = wired(STAIR)
    bad = faulted(good.board, [Short("L1.hot", "L1.neutral", 0.8)])
    off = settle(bad, resting(bad, {"LP.3": "off"}), ())
    reading = meter.ohms(off, "L1.hot", "L1.neutral")
    assert (reading.value, reading.through) == (None, ("L1",))
    assert reading.most == pytest.approx(0.8, rel=1e-3) and reading.text == "0.8 ohm or less"
