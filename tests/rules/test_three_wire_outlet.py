"""Ranges and dryers on three wires: new ones never, old ones within NEC 2023 250.140(B)."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import at, changed, reported, said, seen, shipped
from wirecheck.rules.three_wire_outlet import (
    RULE,
    BareNeutral,
    GroundIsThere,
    NewWork,
    OtherSystem,
    ThinNeutral,
)

RIGHT = shipped("three-wire-outlet")
WRONG = shipped("three-wire-outlet", "wrong")

# The same from a subpanel in place of the service.
FED = changed(
    RIGHT,
    (
        "breaker LP.2 30 A 2-pole\n",
        "breaker LP.4 60 A 2-pole\nsubpanel SP 120/240 V\nbreaker SP.2 30 A 2-pole\n"
        "cable F1 6/3 NM-B 20 ft from LP to SP\n",
    ),
    ("30 ft from LP to A", "30 ft from SP to A"),
    (
        "at LP\n  W1.black -- LP.2.a\n  W1.red -- LP.2.b\n  W1.bare -- LP.neutral\n",
        "at LP\n  F1.black -- LP.4.a\n  F1.red -- LP.4.b\n  F1.white -- LP.neutral\n  F1.bare -- LP.ground\n"
        "at SP\n  F1.black -- SP.a\n  F1.red -- SP.b\n  F1.white -- SP.neutral\n  F1.bare -- SP.ground\n"
        "  W1.black -- SP.2.a\n  W1.red -- SP.2.b\n  W1.bare -- SP.neutral\n",
    ),
)
COVERED = changed(FED, ("W1.bare -- SP.neutral", "W1.bare marked white -- SP.neutral"))


def test_one_that_was_found_so_may_stay() -> None:
    assert reported(RIGHT) == []
    assert seen(RULE, RIGHT) == []


@pytest.mark.slow
def test_a_new_one_is_a_hazard_and_four_wires_mend_it() -> None:
    (found,) = seen(RULE, WRONG)
    assert (type(found), found.severity, found.stage, found.subject) == (NewWork, "hazard", "trim", "D1")
    assert [wire.name for wire in found.bare] == ["W1.bare"]
    report = wirecheck.check(WRONG, effort=300)
    assert [one.rule for one in report.findings] == ["three-wire-outlet"]
    (mend,) = report.mends
    assert mend.mistake == "D1 is a dryer-receptacle-3-wire, and a circuit of four wires belongs there."
    assert not wirecheck.check(report.mended(1)).findings


# NEC 250.140(B)(2): 10 AWG copper or 8 AWG aluminum at least.
@pytest.mark.parametrize(
    ("cable", "least"),
    [("10/2 SEU", None), ("12/2 SEU", "10"), ("8/2 SEU aluminum", None), ("10/2 SEU aluminum", "8")],
)
def test_the_size_of_its_neutral(cable: str, least: str | None) -> None:
    text = changed(RIGHT, ("10/2 SEU", cable))
    found = [one for one in seen(RULE, text) if isinstance(one, ThinNeutral)]
    assert [(one.least, one.severity, one.stage) for one in found] == (
        [] if least is None else [(least, "violation", "rough-in")]
    )
    for one in found:
        assert at(text, one).startswith("cable W1")


@pytest.mark.parametrize(("kind", "severity"), [("SEU", None), ("NM-B", "hazard"), ("UF-B", "hazard")])
def test_a_bare_neutral_is_that_of_a_service_cable(kind: str, severity: str | None) -> None:
    text = changed(RIGHT, ("10/2 SEU", f"10/2 {kind}"))
    if kind != "SEU":
        text = text.replace("W1.red", "W1.white marked red")
    found = [one for one in seen(RULE, text) if isinstance(one, BareNeutral)]
    assert [(one.severity, one.panel) for one in found] == ([] if severity is None else [(severity, None)])
    assert ("three-wire-outlet" in reported(text)) == (severity is not None)
    # That its bare wire is on the neutral is the same mistake.
    assert "ground-as-neutral" not in reported(text)


# An insulated neutral may come from any panel; a bare one only from the service, and covered from 2023 on.
@pytest.mark.parametrize(
    ("text", "year", "section"),
    [
        (FED, 2017, "250.140 Exception"),
        (FED, 2020, "250.140 Exception"),
        (FED, 2023, "250.140(B)(5)"),
        (COVERED, 2020, "250.140 Exception"),
        (COVERED, 2023, None),
    ],
)
def test_a_bare_neutral_comes_from_the_service(text: str, year: int, section: str | None) -> None:
    text = changed(text, ("panel LP", f"code nec {year}\npanel LP"))
    assert [one.source for one in said(RULE, text)] == ([] if section is None else [f"NEC {year} {section}"])
    assert reported(text) == ([] if section is None else ["three-wire-outlet"])
    for one in seen(RULE, text):
        assert (type(one), one.severity, one.panel.name) == (BareNeutral, "hazard", "SP")


WIRES = changed(
    FED,
    (
        "cable W1 10/2 SEU 30 ft from SP to A\n",
        "raceway R1 PVC 3/4 in 30 ft from SP to A\n"
        + "".join(
            f"wire {name} 10 THWN-2 {color} 30 ft from SP to A in R1\n"
            for name, color in (("H1", "black"), ("H2", "red"), ("N1", "white"))
        ),
    ),
    ("W1.black -- SP.2.a\n  W1.red -- SP.2.b\n  W1.bare -- SP", "H1 -- SP.2.a\n  H2 -- SP.2.b\n  N1 -- SP"),
    (
        "W1.black -- D1.hot-1\n  W1.red -- D1.hot-2\n  W1.bare -- D1",
        "H1 -- D1.hot-1\n  H2 -- D1.hot-2\n  N1 -- D1",
    ),
)


def test_an_insulated_neutral_may_come_from_any_panel() -> None:
    assert reported(WIRES) == []


def test_a_ground_in_its_box_asks_for_four_wires() -> None:
    text = changed(
        WIRES,
        ("wire N1", "wire G1 10 THWN-2 green 30 ft from SP to A in R1\nwire N1"),
        ("N1 -- SP.neutral", "N1 -- SP.neutral\n  G1 -- SP.ground"),
        ("N1 -- D1.neutral", "N1 -- D1.neutral\n  cap G1"),
    )
    (found,) = seen(RULE, text)
    assert (type(found), found.severity, found.ground.name) == (GroundIsThere, "violation", "G1")


@pytest.mark.parametrize(("system", "allowed"), [("120/240", True), ("208Y/120", True), ("240", False)])
def test_the_systems_that_it_may_be_on(system: str, allowed: bool) -> None:
    text = changed(RIGHT, ("120/240 V", f"{system} V"))
    assert [type(one) for one in seen(RULE, text)] == ([] if allowed else [OtherSystem])


def test_the_metal_box_of_old_work_is_on_its_neutral() -> None:
    metal = changed(
        RIGHT,
        ("42 cu in", "42 cu in metal"),
        ("W1.bare -- D1.neutral", "W1.bare -- pigtail -- D1.neutral -- pigtail -- A.ground"),
    )
    assert reported(metal) == []
    assert "open-ground" in reported(changed(metal, (" -- pigtail -- A.ground", "")))
    new = changed(metal, (" existing", ""))
    assert "ground-as-neutral" in reported(new) and "three-wire-outlet" in reported(new)


def test_another_ground_on_the_neutral_stays_a_mistake() -> None:
    text = changed(
        RIGHT,
        ("cable W1", "cable W2 14/2 NM-B 20 ft from LP to B\nbox B octagon 15.5 cu in\ncable W1"),
        ("breaker LP.2", "breaker LP.5 15 A\nbreaker LP.2"),
        ("D1 is", "L1 is lampholder 60 W in B\nD1 is"),
        ("at A", "  W2.black -- LP.5\n  W2.white -- LP.neutral\n  W2.bare -- LP.neutral\nat A"),
    )
    text += "at B\n  W2.black -- L1.hot\n  W2.white -- L1.neutral\n  W2.bare -- L1.ground\n"
    assert reported(text) == ["ground-as-neutral"]
    assert sorted(reported(changed(text, (" existing", "")))) == ["ground-as-neutral", "three-wire-outlet"]


def test_a_bare_wire_on_a_hot_screw_is_another_mistake() -> None:
    text = changed(
        RIGHT,
        ("W1.red -- D1.hot-2", "W1.bare -- D1.hot-2"),
        ("W1.bare -- D1.neutral", "W1.red -- D1.neutral"),
    )
    assert not seen(RULE, text)
    assert "reversed-polarity" in reported(text)
