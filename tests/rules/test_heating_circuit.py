"""What else is on the circuit of central heating; NEC 2023 422.12."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, at, case, changed, seen
from wirecheck.rules.heating_circuit import RULE

BOARDS = Path(__file__).parents[2] / "boards" / "rules" / "heating-circuit"
RIGHT, WRONG = (BOARDS.joinpath(f"{name}.wire").read_text(encoding="utf-8") for name in ("right", "wrong"))
LAMP = ("L1 is lampholder 60 W in LB  # finds: heating-circuit", "{}")


def beside(*devices: str) -> str:
    """Devices of a hot and a neutral in place of the lamp, all on the furnace's circuit."""
    names = [device.split()[0] for device in devices]
    text = changed(WRONG, LAMP).replace("{}", "\n".join(f"{device} in LB" for device in devices))
    for screw in ("hot", "neutral", "ground"):
        text = text.replace(f"L1.{screw}", " -- pigtail -- ".join(f"{name}.{screw}" for name in names))
    return text


@pytest.mark.parametrize("text", [RIGHT, STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_light_on_the_furnaces_circuit() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "L1")
    assert (found.breaker.name, found.unit.name) == ("LP.7", "F")
    assert at(WRONG, found).startswith("L1 is lampholder")


@pytest.mark.parametrize(
    ("devices", "strangers"),
    [
        # One receptacle may be for the condensate pump.
        (("R1 is duplex-receptacle",), []),
        (("R1 is duplex-receptacle", "R2 is duplex-receptacle"), ["R1", "R2"]),
        (("L2 is luminaire 14 W", "R1 is duplex-receptacle"), ["L2"]),
        (("L2 is luminaire 14 W", "L3 is lampholder 60 W"), ["L2", "L3"]),
        # A motor may be its own.
        (("M1 is circulator",), []),
        (("M1 is bath-fan",), []),
    ],
)
def test_what_belongs_to_the_heating(devices: tuple[str, ...], strangers: list[str]) -> None:
    found = seen(RULE, beside(*devices))
    assert [one.name for each in found for one in each.strangers] == strangers


@pytest.mark.parametrize(
    ("part", "found"), [("boiler", True), ("oil-furnace", True), ("gas-furnace", True), ("circulator", False)]
)
def test_what_central_heating_is(part: str, found: bool) -> None:
    """It takes line voltage and a call for heat."""
    text = changed(WRONG, ("F is gas-furnace", f"F is {part}"))
    if part in ("boiler", "oil-furnace"):
        text = changed(text, ("F.R\n", "F.T-1\n"), ("F.W\n", "F.T-2\n"))
    if part == "circulator":
        text = changed(
            text, ("  TW.red -- F.R\n  TW.white -- F.W\n", ""), ("F.L1", "F.hot"), ("F.N", "F.neutral")
        )
    assert bool(seen(RULE, text)) is found


def test_electric_heat_has_other_rules() -> None:
    """422.12: other than fixed electric space-heating equipment."""
    hot = """\
part hot-box "An electric furnace of 120 V"
terminal L1 hot
terminal N neutral
terminal ground ground
terminal R class-2, carries power
terminal W class-2, carries heat
load {} from L1 to N, 5 A at 120 V
"""
    text = changed(WRONG, ("F is gas-furnace", "F is hot-box"))
    for load, found in (("element heater", 0), ("burner motor", 1)):
        assert len(list(RULE.find(case(text, **{"hot-box": hot.format(load)})))) == found


def test_another_breaker_is_another_circuit_and_a_fuse_is_not() -> None:
    fused = changed(
        WRONG,
        ("S1 is single-pole-switch in SB", "S1 is single-pole-switch in SB\nFU is fuse 10 A in SB"),
        ("  SF.black -- S1.load\n", "  FU.line -- S1.load\n  SF.black -- FU.load\n"),
    )
    (found,) = seen(RULE, fused)
    assert (found.breaker.name, found.unit.name) == ("LP.7", "F")
    assert not seen(RULE, changed(WRONG, ("  PF.black -- LP.7\n", "  cap PF.black\n")))
