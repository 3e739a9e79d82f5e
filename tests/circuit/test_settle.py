"""Settled states: contacts that move themselves, protection that opens, and what is left."""

from __future__ import annotations

import itertools
import math

import pytest

from tests.samples import fed, wired
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.settle import Settled, resting, settle, starting

TRANSFORMER = (
    "T1 is class-2-transformer 40 VA",
    "cable P 14/2 NM-B 6 ft from LP to T1",
    "at LP",
    "P.black -- LP.3",
    "P.white -- LP.neutral",
    "P.bare -- LP.ground",
    "at T1",
    "P.black -- T1.primary-hot",
    "P.white -- T1.primary-neutral",
    "P.bare -- T1.ground",
)


def at_rest(circuit: Circuit, **moved: str) -> Settled:
    return settle(circuit, resting(circuit, moved))


def hall(fours: int) -> Circuit:
    """A light on two 3-way switches with 4-way switches between, all in one box."""
    lines = [
        "box A junction 200 cu in",
        "cable W1 14/2 NM-B 10 ft from LP to A",
        "L1 is lampholder 60 W in A",
    ]
    lines += ["S0 is 3-way-switch in A", "S9 is 3-way-switch in A"]
    lines += [f"S{n} is 4-way-switch in A" for n in range(1, fours + 1)]
    lines += ["at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "at A", "W1.black -- S0.common"]
    one, other = "S0.traveler-1", "S0.traveler-2"
    for n in range(1, fours + 1):
        lines += [f"{one} -- S{n}.in-1", f"{other} -- S{n}.in-2"]
        one, other = f"S{n}.out-1", f"S{n}.out-2"
    lines += [f"{one} -- S9.traveler-1", f"{other} -- S9.traveler-2"]
    lines += ["S9.common -- L1.hot", "W1.white -- L1.neutral"]
    return wired(fed(*lines))


@pytest.mark.parametrize("fours", [0, 1, 2, 3])
def test_switching_from_many_places_is_parity(fours: int) -> None:
    """The light of 3-way and 4-way switches is the parity of their positions: boolean algebra."""
    circuit = hall(fours)
    names = ["S0", *(f"S{n}" for n in range(1, fours + 1)), "S9"]
    rest = at_rest(circuit)
    for positions in itertools.product(("up", "down"), repeat=len(names)):
        settled = settle(circuit, resting(circuit, dict(zip(names, positions, strict=True))))
        odd = positions.count("down") % 2 == 1
        assert ("L1" in settled.running) == (("L1" in rest.running) != odd)


def test_a_lamp_at_the_end_of_a_cable_by_hand() -> None:
    """Ohm's law with NEC Chapter 9 Table 8: 14 AWG solid, 3.07 ohm/kft at 75 C, moved to 30 C."""
    circuit = wired(
        fed(
            "box B octagon 15.5 cu in",
            "cable W1 14/2 NM-B 100 ft from LP to B",
            "L1 is lampholder 100 W in B",
            "at LP",
            "W1.black -- LP.3",
            "W1.white -- LP.neutral",
            "at B",
            "W1.black -- L1.hot",
            "W1.white -- L1.neutral",
        )
    )
    wire = 3.07 / 1000 * 100 * (1 + 0.00323 * (30 - 75))
    lamp = 120**2 / 100
    # Panel (120 V / 10 kA) and the breaker's contact are in series with the run.
    amps = 120 / (lamp + 2 * wire + 120 / 10_000 + 1e-3)
    settled = at_rest(circuit)
    assert abs(settled.amps["W1.black"]) == pytest.approx(amps, rel=2e-4)
    assert settled.load_volts(circuit.load["L1"]) == pytest.approx(amps * lamp, rel=2e-4)


RELAY = """part test-relay "A relay"
source "made up for a test"
terminal a contact "one side of the coil"
terminal b contact "the other side"
terminal common contact "of the contact"
terminal open contact "closed when the coil has pulled in"
terminal closed contact "opened when the coil has pulled in"
load coil coil from a to b, 5 VA at 24 V, works 19 V to 30 V, pulls-in 19 V, drops-out 8 V, inrush 10 VA
common -- open when coil runs
common -- closed when not coil runs
"""


def test_a_coil_through_its_own_opening_contact_buzzes() -> None:
    circuit = wired(
        fed(
            *TRANSFORMER,
            "K1 is test-relay in T1",
            "T1.secondary-r -- K1.common",
            "K1.closed -- K1.a",
            "K1.b -- T1.secondary-c",
        ),
        {"test-relay": RELAY},
    )
    settled = at_rest(circuit)
    assert settled.chattering == ("K1",)


def test_a_coil_holds_itself_once_it_is_in() -> None:
    """A seal-in contact: common practice for a stop-start station."""
    circuit = wired(
        fed(
            *TRANSFORMER,
            "K1 is test-relay in T1",
            "B1 is push-button in T1",
            "T1.secondary-r -- K1.common -- B1.a",
            "K1.open -- B1.b -- K1.a",
            "K1.b -- T1.secondary-c",
        ),
        {"test-relay": RELAY},
    )
    values = circuit.variables["B1"].values
    released, pressed = (settle(circuit, resting(circuit, {"B1": value})) for value in values)
    assert "K1" not in released.running and "K1" in pressed.running
    after = settle(circuit, resting(circuit, {"B1": values[0]}), before=pressed)
    assert "K1" in after.running


def test_a_coil_lets_go_only_below_its_drop_out_volts() -> None:
    """It pulls in at 19 V and lets go at 8 V; a long thin run puts it between the two."""
    circuit = wired(
        fed(
            *TRANSFORMER,
            "K1 is test-relay",
            "S1 is single-pole-switch in T1",
            "cable R1 18/2 CL2 1000 ft from T1 to K1",
            "cable R2 18/2 CL2 20 ft from T1 to K1",
            "at T1",
            "R1.red -- R2.red -- T1.secondary-r",
            "R1.white -- T1.secondary-c",
            "R2.white -- S1.line",
            "S1.load -- T1.secondary-c",
            "at K1",
            "R1.red -- K1.a",
            "cap R2.red",
            "R1.white -- R2.white -- K1.b",
        ),
        {"test-relay": RELAY},
    )
    near = at_rest(circuit, S1="on")
    far = at_rest(circuit, S1="off")
    kept = settle(circuit, resting(circuit, {"S1": "off"}), before=near)
    assert "K1" in near.running and "K1" in kept.running
    assert kept.load_volts(circuit.load["K1"]) > 8
    assert ("K1" in far.running) == (far.load_volts(circuit.load["K1"]) >= 19)


SHORTED = (
    "box B octagon 15.5 cu in",
    "cable W1 14/2 NM-B 50 ft from LP to B",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "W1.bare -- LP.ground",
    "at B",
)


def test_a_short_opens_its_breaker_and_no_other() -> None:
    circuit = wired(
        fed(
            "breaker LP.1 15 A",
            "box C octagon 15.5 cu in",
            "cable W2 14/2 NM-B 20 ft from LP to C",
            "L2 is lampholder 60 W in C",
            "at LP",
            "W2.black -- LP.1",
            "W2.white -- LP.neutral",
            "at C",
            "W2.black -- L2.hot",
            "W2.white -- L2.neutral",
            *SHORTED,
            "W1.black -- W1.white",
        )
    )
    settled = at_rest(circuit)
    assert [opening.name for opening in settled.opened] == ["LP.3"]
    # Ohm's law again: 100 ft of 14 AWG there and back at 30 C, behind 12 milliohm and a contact.
    loop = 2 * 50 * 3.07 / 1000 * (1 + 0.00323 * (30 - 75)) + 120 / 10_000 + 1e-3
    assert settled.opened[0].amps == pytest.approx(120 / loop, rel=1e-3)
    assert "L2" in settled.running
    assert abs(settled.amps.get("W1.black", 0)) < 1e-9


def test_a_fuse_of_three_amperes_opens_before_the_winding_burns() -> None:
    circuit = wired(
        fed(*TRANSFORMER, "F1 is fuse 3 A in T1", "T1.secondary-r -- F1.line", "F1.load -- T1.secondary-c")
    )
    assert [opening.name for opening in at_rest(circuit).opened] == ["F1"]


def test_a_pulled_fuse_and_a_breaker_that_is_off_do_not_conduct() -> None:
    circuit = hall(0)
    settled = settle(circuit, resting(circuit, {"LP.3": "off"}))
    assert not settled.running and not settled.opened


def test_six_milliamperes_to_ground_trip_a_ground_fault_receptacle_and_four_do_not() -> None:
    """UL 943, class A: it must trip at 6 mA and must not at 4 mA."""
    leak = """part leak "A leak to ground"
source "made up for a test"
rating resistance 20 kohm "of the leak"
terminal a contact "hot"
terminal b contact "ground"
load leak heater from a to b, resistance at 120 V
"""
    for milliamps, trips in ((3.9, False), (6.1, True)):
        circuit = wired(
            fed(
                "box A device 20.3 cu in",
                "cable W1 14/2 NM-B 10 ft from LP to A",
                "R1 is gfci-receptacle in A",
                f"X1 is leak with resistance {120 / milliamps:.4f} kohm in A",
                "at LP",
                "W1.black -- LP.3",
                "W1.white -- LP.neutral",
                "W1.bare -- LP.ground",
                "at A",
                "W1.black -- R1.line-hot",
                "W1.white -- R1.line-neutral",
                "W1.bare -- R1.ground -- X1.b",
                "R1.load-hot -- X1.a",
            ),
            {"leak": leak},
        )
        opened = [opening.kind for opening in at_rest(circuit).opened]
        assert opened == (["ground-fault"] if trips else [])


def test_two_lamps_in_series_share_the_volts_by_their_ohms() -> None:
    circuit = wired(
        fed(
            *SHORTED,
            "L1 is lampholder 60 W in B",
            "L2 is lampholder 100 W in B",
            "W1.black -- L1.hot",
            "L1.neutral -- L2.hot",
            "W1.white -- L2.neutral",
        )
    )
    settled = at_rest(circuit)
    one, other = (settled.load_volts(circuit.load[name]) for name in ("L1", "L2"))
    assert one / other == pytest.approx(100 / 60, rel=1e-9)
    assert not settled.running


def test_an_open_neutral_puts_208_volts_wrong_on_the_small_load() -> None:
    """A multiwire circuit's neutral opened: 240 V divides by the resistances (voltage divider)."""
    circuit = wired(
        fed(
            "breaker LP.2 15 A 2-pole",
            "box B junction 40 cu in",
            "cable W1 14/3 NM-B 20 ft from LP to B",
            "L1 is lampholder 100 W in B",
            "L2 is lampholder 40 W in B",
            "at LP",
            "W1.black -- LP.2.a",
            "W1.red -- LP.2.b",
            "at B",
            "W1.black -- L1.hot",
            "W1.red -- L2.hot",
            "L1.neutral -- W1.white -- L2.neutral",
        )
    )
    settled = at_rest(circuit)
    assert settled.load_volts(circuit.load["L2"]) == pytest.approx(240 * 100 / 140, rel=2e-3)
    assert settled.load_volts(circuit.load["L1"]) == pytest.approx(240 * 40 / 140, rel=2e-3)


def test_a_transformer_gives_its_rated_volts_at_full_load() -> None:
    """IEC 61558-1 (from memory): rated secondary volts are those at rated load; open, they stand higher."""
    circuit = wired(
        fed(
            *TRANSFORMER,
            "H1 is heater with power 40 W, voltage 24 V in T1",
            "T1.secondary-r -- H1.a",
            "T1.secondary-c -- H1.b",
        )
    )
    settled = at_rest(circuit)
    assert settled.load_volts(circuit.load["H1"]) == pytest.approx(24, rel=1e-3)
    turns = circuit.windings[0].primary_volts / circuit.windings[0].open_volts
    assert math.isclose(abs(settled.amps["T1"]) * turns, abs(settled.amps["H1"]), rel_tol=1e-9)
    bare = at_rest(wired(fed(*TRANSFORMER)))
    open_volts = bare.across("T1.secondary-r", "T1.secondary-c")
    assert open_volts == pytest.approx(24 * (1 + circuit.windings[0].ohms.real / (24**2 / 40)), rel=1e-3)


def test_an_inherently_limited_transformer_takes_itself_off_and_another_burns() -> None:
    """NEC Chapter 9 Table 11(A): not more than 8 A after a minute; what nothing limits burns."""
    for capacity, kind, limit, share in (
        ("class-2-transformer 40 VA", "limited", 8.0, 0.15),
        ("bare 40 VA", "burned", 40 / 24, 0.06),
    ):
        bare = """part bare "A transformer that nothing protects"
source "made up for a test"
rating capacity 40 VA "what it can feed without end"
terminal primary-hot hot "hot"
terminal primary-neutral neutral "neutral"
terminal ground ground "ground"
terminal secondary-r class-2 "R"
terminal secondary-c class-2-common "C"
transforms 120 V from primary-hot to primary-neutral into 24 V from secondary-r to secondary-c,
  capacity capacity, impedance 6 %
"""
        lines = [line.replace("class-2-transformer 40 VA", capacity) for line in TRANSFORMER]
        circuit = wired(fed(*lines, "T1.secondary-r -- T1.secondary-c"), {"bare": bare})
        (opening,) = at_rest(circuit).opened
        assert (opening.name, opening.kind) == ("T1", kind)
        assert opening.limit == pytest.approx(limit)
        # Open volts over its own impedance: 24 V x 1.06 / (6 % of 24^2 / 40), but for the copper ahead.
        assert opening.amps == pytest.approx(24 * (1 + share) / (share * 24**2 / 40), rel=0.01)


def test_of_a_feeder_and_a_branch_the_branch_opens_on_a_short() -> None:
    """Two devices in series: the smaller is the more overloaded, and the soonest (UL 489, UL 248-14)."""
    circuit = wired(
        fed(
            "breaker LP.5 60 A",
            "box B junction 40 cu in",
            "F1 is fuse 10 A in B",
            "L1 is lampholder 60 W in B",
            "cable W1 6/2 NM-B 20 ft from LP to B",
            "at LP",
            "W1.black -- LP.5",
            "W1.white -- LP.neutral",
            "at B",
            "W1.black -- F1.line -- L1.hot",
            "F1.load -- W1.white -- L1.neutral",
        )
    )
    settled = at_rest(circuit)
    assert [opening.name for opening in settled.opened] == ["F1"]
    assert settled.opened[0].amps > 5 * 60
    assert "L1" in settled.running and "L1" not in settled.first.running


def test_of_two_overloads_the_sooner_opens_though_the_other_is_the_larger_share() -> None:
    """A fuse at 1.5 times its rating may open in 0.1 s, a breaker at 1.6 times not before 8 s (UL 489)."""
    circuit = wired(
        fed(
            "box B junction 40 cu in",
            "F1 is fuse 16 A in B",
            "H1 is heater with power 2880 W, voltage 120 V in B",
            "cable W1 6/2 NM-B 5 ft from LP to B",
            "at LP",
            "W1.black -- LP.3",
            "W1.white -- LP.neutral",
            "at B",
            "W1.black -- F1.line",
            "F1.load -- H1.a",
            "H1.b -- W1.white",
        )
    )
    settled = at_rest(circuit)
    shares = [abs(settled.first.amps[name]) / rating for name, rating in (("LP.3", 15), ("F1", 16))]
    assert shares[0] > shares[1] > 1.35
    assert [opening.name for opening in settled.opened] == ["F1"]


def test_a_motor_draws_its_locked_rotor_current_as_it_starts() -> None:
    """Ohm's law: 7.2 A at 120 V and 75 %, six times that with the rotor still, behind 250 ft of 14 AWG."""
    circuit = wired(
        fed(
            "breaker LP.7 15 A",
            "box B junction 40 cu in",
            "M1 is motor with current 7.2 A, voltage 120 V in B",
            "L1 is lampholder 60 W in B",
            "cable W1 14/2 NM-B 250 ft from LP to B",
            "at LP",
            "W1.black -- LP.3",
            "W1.white -- LP.neutral",
            "at B",
            "W1.black -- M1.a -- L1.hot",
            "M1.b -- W1.white -- L1.neutral",
        )
    )
    running = at_rest(circuit)
    moment = starting(running)
    assert running.load_amps(circuit.load["M1"]) == pytest.approx(7.2, rel=1e-9)
    rotor = 120 / 43.2 * complex(0.75, math.sqrt(1 - 0.75**2))
    copper = 3.07e-3 * (1 + 0.00323 * (30 - 75)) * 250 + 0.058e-3j * 250
    lamp = 240
    load = rotor * lamp / (rotor + lamp)
    drawn = 120 / (load + 2 * copper + 120 / 10_000 + 1e-3)
    assert moment.load_volts(circuit.load["L1"]) == pytest.approx(abs(drawn * load), rel=1e-6)
    assert moment.load_amps(circuit.load["M1"]) == pytest.approx(abs(drawn * load / rotor), rel=1e-6)
    # It lasts too short to open a breaker, and the lamp dips out of what it works at.
    assert not moment.opened and "L1" in running.running and "L1" not in moment.running
    assert starting(running, []).load_amps(circuit.load["M1"]) == pytest.approx(7.2, rel=1e-9)
