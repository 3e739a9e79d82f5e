"""`wirecheck measure` as a technician uses a meter."""

from __future__ import annotations

import re
import subprocess

import pytest

from tests.cli.boards import wirecheck
from tests.samples import SAMPLES
from wirecheck import measure

STAIR = SAMPLES / "stair-light.wire"
COOLING = (SAMPLES / "cooling-call.wire").read_text()


def reading(*arguments: object, stdin: str = "") -> str:
    done = wirecheck("measure", *arguments, stdin=stdin)
    assert (done.returncode, done.stderr) == (0, b"")
    return done.stdout.decode()


def volts(a: str, b: str, *calls: str, board: str = COOLING) -> float:
    return float(re.search(r"([\d.]+) V", measure(board, "volts", a, b, calls=calls).text)[1])


def refused(*arguments: object) -> subprocess.CompletedProcess[bytes]:
    done = wirecheck("measure", *arguments)
    assert done.returncode == 2 and done.stdout == b"" and b"Traceback" not in done.stderr
    return done


def test_hopscotch_finds_the_open_wire() -> None:
    """One lead on common, the other along the call: full voltage, full voltage, none (common practice)."""
    path = ["F.R", "TS.R", "TS.Y", "F.Y", "CU.Y"]
    sound = [volts(point, "F.C", "cool") for point in path]
    assert all(each == pytest.approx(26.5, rel=0.05) for each in sound)
    open_wire = COOLING.replace("  TW.yellow -- TS.Y\n", "  cap TW.yellow\n")
    assert open_wire != COOLING
    walked = [volts(point, "F.C", "cool", board=open_wire) for point in path]
    assert all(each == pytest.approx(26.5, rel=0.05) for each in walked[:3])
    assert all(each < 1 for each in walked[3:])
    assert " 26.9 V" in reading("-", "volts", "TS.R", "F.C", "--call", "cool", stdin=open_wire)
    # Across the open itself stands what drives the circuit.
    assert volts("TS.Y", "F.Y", "cool", board=open_wire) == pytest.approx(26.5, rel=0.05)


def test_with_no_call_the_control_side_is_dead_beyond_the_thermostat() -> None:
    assert volts("TS.R", "F.C") == pytest.approx(26.5, rel=0.05)
    assert volts("CU.Y", "CU.C") < 1


@pytest.mark.slow
def test_amps_of_a_wire_and_of_its_load_are_the_same() -> None:
    told = [reading(STAIR, "amps", name) for name in ("W1.black", "W3.white", "L1", "LP.3")]
    amps = {re.search(r": ([\d.]+) A", text)[1] for text in told}
    assert len(amps) == 1 and float(amps.pop()) == pytest.approx(0.5, rel=0.01)
    assert "0 A" in reading(STAIR, "amps", "L1", "--set", "S1=down")


def test_ohms_are_measured_with_the_power_off() -> None:
    """22 ft of 14 AWG by Chapter 9 Table 8 at 30 C are 0.058 ohm; an open switch has none to show."""
    assert reading(STAIR, "ohms", "W1.black@LP", "S1.common") == "W1.black@LP to S1.common: 0.06 ohm\n"
    assert "open" in reading(STAIR, "ohms", "S1.common", "S1.traveler-2").lower()


def test_ohms_on_a_live_circuit_are_refused_with_a_warning() -> None:
    done = refused(STAIR, "ohms", "L1.hot", "L1.neutral", "--power", "on")
    for said in (b"There is power", b"de-energize", b"lock out"):
        assert said in done.stderr


def test_a_coil_has_the_ohms_that_its_volts_and_va_allow() -> None:
    text = " ".join(reading("-", "ohms", "CU.Y", "CU.C", stdin=COOLING).split())
    assert "2.88 ohm to 11.5 ohm, typical, through CU.contactor" in text and "OL" in text
    assert measure(COOLING, "ohms", "CU.Y", "CU.C").between == pytest.approx((2.88, 11.52), abs=0.005)


@pytest.mark.slow
def test_a_wire_off_its_screw_no_longer_feeds_it() -> None:
    asked = ("CU.Y", "CU.C", "--call", "cool")
    assert "26.2 V" in reading("-", "volts", *asked, stdin=COOLING)
    assert ": 0 V" in reading("-", "volts", *asked, "--lift", "OW.red@CU", stdin=COOLING)
    at_its_end = measure(COOLING, "volts", "OW.red@CU", "CU.C", calls=["cool"], lifted=["OW.red@CU"])
    assert at_its_end.value == pytest.approx(26.9, abs=0.5)
    both = measure(COOLING, "ohms", "OW.red@F", "OW.white@F", lifted=["OW.red@F", "OW.white@F"])
    assert both.through == ("CU.contactor",)
    assert measure(COOLING, "ohms", "OW.red@F", "OW.red@CU", lifted="OW.red@F").text == "0.37 ohm"


def test_volts_with_the_power_off_are_none() -> None:
    assert "0 V" in reading(STAIR, "volts", "L1.hot", "L1.neutral", "--power", "off")


def test_a_wire_joined_to_nothing_reads_phantom_volts_and_is_said_to() -> None:
    text = reading(STAIR, "volts", "W2.red@A", "LP.neutral")
    assert "phantom" in text and "until it is proved" in " ".join(text.split())
    assert "phantom" not in reading(STAIR, "volts", "W2.black@A", "LP.neutral")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("volts", "S1.comon", "LP.neutral"), "S1.common"),
        (("volts", "W1.black", "LP.neutral"), "W1.black@LP, W1.black@A"),
        (("volts", "S1.common"), "two points"),
        (("amps", "W1.black", "W1.white"), "one name"),
        (("amps", "W1.blak"), "W1.black"),
        (("ohms", "S1", "LP.neutral"), "S1.common"),
        (("ohms", "L1.hot", "L1.neutral", "--lift", "W3.whit@B"), "W3.white@B"),
        (("ohms", "L1.hot", "L1.neutral", "--lift", "W3.white"), "W3.white@C, W3.white@B"),
        (("ohms", "L1.hot", "L1.neutral", "--lift", "L1.hot"), "no wire's end"),
        (("watts", "S1.common", "LP.neutral"), "'volts', 'ohms', 'amps'"),
        (("volts", "S1.common", "LP.neutral", "--set", "S9=up"), "nothing called S9"),
    ],
)
def test_what_it_cannot_do_is_said_with_the_near_name(arguments: tuple[str, ...], said: str) -> None:
    assert said in " ".join(refused(STAIR, *arguments).stderr.decode().split())
