"""A light by its label: its lamps, and the wires that come to it; NEC 2023 410.120, 410.117(A), 110.3(B)."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import LIGHT, at, case, changed, reported, said, seen, shipped
from wirecheck.circuit.circuit import circuit
from wirecheck.rules.luminaire_label import RULE, CoolWires, LargeLamp

RIGHT = shipped("luminaire-label")
BULB = "lampholder 60 W"


@pytest.mark.parametrize(
    ("light", "limit"),
    [
        ("lampholder 60 W", None),
        ("lampholder 100 W with largest-lamp 100 W", None),
        ("lampholder 100 W with largest-lamp 60 W", (100, 60)),
        ("lampholder 1500 W", None),
        ("lampholder 1501 W", (1501, 1500)),
        ("recessed-luminaire 75 W", None),
        ("recessed-luminaire 76 W", (76, 75)),
        ("multi-lamp-luminaire", None),
        ("multi-lamp-luminaire with lamps 2, power 75 W", (75, 60)),
        ("multi-lamp-luminaire with lamps 2, power 75 W, largest-lamp 100 W", None),
        ("luminaire 100 W", None),
    ],
)
def test_a_lamp_by_the_label(light: str, limit: tuple[int, int] | None) -> None:
    text = changed(LIGHT, (BULB, light))
    found = [one for one in seen(RULE, text) if isinstance(one, LargeLamp)]
    assert [(one.watts, one.most) for one in found] == ([] if limit is None else [limit])
    for one in found:
        assert (one.severity, one.stage, one.subject) == ("hazard", "trim", "L1")
        assert at(text, one).startswith("L1 is")


# Table 310.4(1), 334.112 and 340.80: what each insulation is made for.
@pytest.mark.parametrize(
    ("kind", "supply", "made_for"),
    [
        ("NM-B", "90 C", None), ("UF-B", "90 C", 60), ("UF-B", "75 C", 60), ("UF-B", "60 C", None),
        ("MC", "90 C", None),
    ],
)  # fmt: skip
def test_the_cable_that_comes_to_it(kind: str, supply: str, made_for: int | None) -> None:
    text = changed(RIGHT, ("W2 14/2 NM-B", f"W2 14/2 {kind}"), ("65 W", f"65 W {supply}"))
    text = text.replace("W2.bare", "W2.green") if kind == "MC" else text
    found = [one for one in seen(RULE, text) if isinstance(one, CoolWires)]
    assert [one.made_for for one in found] == ([] if made_for is None else [made_for])
    for one in found:
        assert [wire.name for wire in one.wires] == ["W2.black", "W2.white"]
        assert (one.severity, one.stage, one.asked) == ("violation", "trim", float(supply.removesuffix(" C")))
        assert at(text, one).startswith("cable W2")


@pytest.mark.parametrize(("kind", "found"), [("TW", 60), ("THW", 75), ("THHN", None), ("XHHW", None)])
def test_the_wire_that_comes_to_it(kind: str, found: int | None) -> None:
    text = changed(
        RIGHT,
        (
            "S1 is",
            f"raceway P1 PVC 1/2 in 12 ft from A to L1\nwire H1 14 {kind} black 12 ft from A to L1 in P1\n"
            "S1 is",
        ),
        ("W2.black -- S1.load", "H1 -- S1.load"),
        ("W2.black -- L1.hot", "H1 -- L1.hot"),
    )
    assert [one.made_for for one in seen(RULE, text)] == ([] if found is None else [found])


def test_what_is_spliced_beside_its_leads_is_near_its_heat_too() -> None:
    text = changed(
        RIGHT,
        (
            "L1 is",
            "cable W3 14/2 UF-B 9 ft from L1 to B\nbox B octagon 15.5 cu in\nL2 is lampholder 40 W in B\n"
            "L1 is",
        ),
        ("W2.black -- L1.hot", "W2.black -- W3.black -- L1.hot"),
    )
    (found,) = seen(RULE, text)
    assert (found.subject, [wire.name for wire in found.wires]) == ("W3.black", ["W3.black"])


@pytest.mark.parametrize(("lamps", "watts"), [(1, 60), (3, 180), (8, 480)])
def test_its_lamps_draw_together(lamps: int, watts: float) -> None:
    text = changed(LIGHT, (BULB, f"multi-lamp-luminaire with lamps {lamps}, power 60 W"))
    (load,) = circuit(case(text).board).loads
    assert (load.name, round(load.apparent)) == ("L1", watts)


def test_its_mends() -> None:
    report = wirecheck.check(shipped("luminaire-label", "wrong"), effort=200)
    assert "Cable W2 is UF-B, and should be NM-B." in {one.mistake for one in report.mends}
    large = changed(RIGHT, ("65 W", "100 W"))
    assert reported(large) == ["luminaire-label"]
    assert "L1 is 100 W, and should be 75 W or less." in {
        one.mistake for one in wirecheck.check(large, effort=200).mends
    }


def test_its_sources() -> None:
    (cable,) = said(RULE, shipped("luminaire-label", "wrong"))
    (lamp,) = said(RULE, changed(RIGHT, ("65 W", "100 W")))
    assert (cable.source, lamp.source) == ("NEC 2023 410.117(A), 110.3(B)", "NEC 2023 410.120, 110.3(B)")
    assert "wires of 90 C, and UF-B is made for 60 C" in cable.message
    assert (lamp.value, lamp.limit, lamp.unit) == (100, 75, "watts")
