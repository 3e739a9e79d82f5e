"""How tightly cables are bent; NEC 2023 334.24, 340.24, 338.24, 320.24 (5 diameters), 330.24(B) (7)."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import COOLING, STAIR, changed, reported, said, seen, shipped
from wirecheck.judge.tape import INCH
from wirecheck.rules.cable_bend import RULE


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_what_was_not_measured_is_no_mistake(text: str) -> None:
    assert not seen(RULE, text)


def bent(kind: str, measures: str, far: str = "") -> str:
    text = changed(STAIR, ("W1 14/2 NM-B", f"W1 14/2 {kind}"), ("LP (free 8 in)", f"LP (free 8 in{far})"))
    return changed(text, ("to A (free 7 in, secured 8 in)", f"to A ({measures})"))


@pytest.mark.parametrize(
    ("kind", "measures", "far", "least"),
    [
        ("NM-B", "bend 2 in, diameter 0.4 in", "", None),
        ("NM-B", "bend 1.97 in, diameter 0.4 in", "", None),  # a tape is read to a sixteenth
        ("NM-B", "bend 1.95 in, diameter 0.4 in", "", 2.0),
        ("NM-B", "bend 1 in", ", diameter 0.4 in", 2.0),
        ("NM-B", "bend 1 in", "", None),
        ("NM-B", "diameter 0.4 in", ", bend 3 in", None),
        ("NM-B", "diameter 1/2 in", ", bend 2 in", 2.5),
        ("UF-B", "bend 2 in, diameter 1/2 in", "", 2.5),
        ("SER", "bend 4 in, diameter 1 in", "", 5.0),
        ("MC", "bend 3-1/2 in, diameter 1/2 in", "", None),
        ("MC", "bend 3 in, diameter 1/2 in", "", 3.5),
        ("AC", "bend 3 in, diameter 1/2 in", "", None),
        ("AC", "bend 2 in, diameter 1/2 in", "", 2.5),
    ],
)
def test_the_least_radius(kind: str, measures: str, far: str, least: float | None) -> None:
    text = bent(kind, measures, far)
    if kind in ("MC", "AC"):
        text = "\n".join(line for line in text.splitlines() if "W1.bare" not in line)
    found = seen(RULE, text)
    assert [round(one.least / INCH, 6) for one in found] == ([] if least is None else [least])
    for one in found:
        assert (one.severity, one.stage, one.subject) == ("violation", "rough-in", "W1")
        column = one.at.span.column - 1
        assert text.splitlines()[one.at.span.line - 1][column:].startswith("bend ")


def test_thermostat_cable_and_single_wires_are_under_none_of_these() -> None:
    tight = "(bend 0 in, diameter 1 in)"
    text = changed(COOLING, ("18/5 CL2 45 ft from F to TS", f"18/5 CL2 45 ft from F {tight} to TS"))
    text = changed(text, ("black 5 ft from D", f"black 5 ft from D {tight}"))
    assert not seen(RULE, text)


def test_its_numbers_and_its_mend() -> None:
    text = shipped("cable-bend", "wrong")
    assert reported(text) == ["cable-bend"]
    (one,) = said(RULE, text)
    assert (one.value, one.limit, one.unit, one.source) == (1.0, 1.875, "in", "NEC 2023 334.24")
    assert "W1 is bent to 1 in near A, and should be bent to 2 in or more." in {
        mend.mistake for mend in wirecheck.check(text, effort=100).mends
    }
