"""Volts and amperes at a screw: by hand, and as the meter of the command line has them."""

import re

import pytest

from tests.cli.boards import RIGHT, ROOT
from wirecheck import measure
from wirecheck.editor.powered import powered

HEATING = ROOT / "boards" / "heating-call" / "right.wire"


def rows(text, name):
    return powered(None, text, "-", name)


def test_a_lamp_draws_what_its_watts_say():
    """60 W at 120 V are 0.5 A, and go through the switch, which rests on."""
    assert rows(RIGHT, "S1.line") == ("At rest: 120 V to ground, 0.5 A in W1.black",)
    assert rows(RIGHT, "LP.3") == rows(RIGHT, "S1") == rows(RIGHT, "") == ()
    demo = (ROOT / "boards" / "demo.wire").read_text()
    (row,) = rows(demo, "LAMP.hot")
    volts, amps = map(float, re.fullmatch(r"At rest: (\S+) V to ground, (\S+) A in LEG.black", row).groups())
    assert volts == pytest.approx(120, rel=0.01) and amps == pytest.approx(60 / 120, rel=0.01)


def test_what_could_not_be_read_gives_no_volts():
    for more in ("braeker BP.5 15 A", "S2 is no-such-part in A", "at A\n  W1.black -- S9.line"):
        assert rows(f"{RIGHT}\n{more}\n", "S1.line") == ()


def test_volts_of_a_control_circuit_are_to_its_return_and_differ_with_the_call():
    text = HEATING.read_text()
    rest, heat = rows(text, "F.W")
    assert "to F.transformer" not in rest + heat
    assert re.match(r"At rest: 0\.\d+ V to F\.\S+, phantom", rest) and heat.startswith("With heat called: 2")
    assert rows(text, "F.N")[1].startswith("With heat called: 0")


@pytest.mark.slow
@pytest.mark.parametrize("name", ["F.R", "F.W", "TS.W", "F.L1", "F.N", "TP.11", "F.ground"])
def test_the_meter_of_the_command_line_shows_the_same(name):
    for row in rows(HEATING.read_text(), name):
        states, shown = row.split(": ")
        first, *amps = shown.split(", ")
        value, to = first.split(" to ")
        for state in states.split(" or "):
            calls = re.findall(r"with (\w+) called", state.lower())
            reading = measure(HEATING, "volts", name, "TP.ground" if to == "ground" else to, calls=calls)
            assert value == reading.text.partition(",")[0]
            for one in amps:
                if found := re.fullmatch(r"(.*) in (\S+)", one):
                    assert measure(HEATING, "amps", found[2], calls=calls).text == found[1]
