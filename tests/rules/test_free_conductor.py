"""How much wire and jacket is left in a box; NEC 2023 300.14 (6 in), 314.17(B)(2) (1/4 in)."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, changed, said, seen
from wirecheck.judge.tape import INCH
from wirecheck.rules.free_conductor import RULE, ShortJacket, ShortWire


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_measure_that_was_not_taken_is_no_mistake() -> None:
    assert not seen(RULE, LOOP)


@pytest.mark.parametrize(
    ("measure", "kind"),
    [
        ("free 6 in", None),
        # A tape is read to a sixteenth.
        ("free 5.97 in", None),
        ("free 5-15/16 in", ShortWire),
        ("jacket 1/4 in", None),
        ("jacket 0.22 in", None),
        ("jacket 3/16 in", ShortJacket),
    ],
)
def test_the_least_wire_and_jacket(measure: str, kind: type | None) -> None:
    text = changed(STAIR, ("to A (free 7 in, secured 8 in)", f"to A ({measure})"))
    found = seen(RULE, text)
    assert [type(one) for one in found] == ([] if kind is None else [kind])
    for one in found:
        assert (one.severity, one.stage, one.subject, one.end.place) == ("violation", "rough-in", "W1", "A")
        column = one.at.span.column - 1
        assert text.splitlines()[one.at.span.line - 1][column:].startswith(measure)
        assert one.least == pytest.approx({ShortWire: 6 * INCH, ShortJacket: INCH / 4}[kind])


def test_both_may_be_short() -> None:
    found = seen(RULE, changed(STAIR, ("to A (free 7 in, secured 8 in)", "to A (free 5 in, jacket 0 in)")))
    assert [type(one) for one in found] == [ShortWire, ShortJacket]
    assert [one.measure for one in found] == [pytest.approx(5 * INCH), 0]


def test_a_panel_asks_for_jacket_and_for_no_free_length() -> None:
    found = seen(RULE, changed(STAIR, ("from LP (free 8 in)", "from LP (free 1 in, jacket 1/8 in)")))
    assert [(type(one), one.end.place) for one in found] == [(ShortJacket, "LP")]


def test_a_single_wire_has_no_jacket() -> None:
    text = STAIR + "wire H1 14 THHN black 12 ft from LP to A (free 5 in, jacket 0 in)\n"
    assert [type(one) for one in seen(RULE, text)] == [ShortWire]


@pytest.mark.parametrize(("kind", "found"), [("MC", 0), ("AC", 0), ("UF-B", 1), ("SER", 1)])
def test_armor_ends_at_its_connector(kind: str, found: int) -> None:
    text = STAIR + f"cable W9 14/2 {kind} 12 ft from B to A (free 7 in, jacket 0 in)\n"
    assert [type(one) for one in seen(RULE, text)] == [ShortJacket] * found


def test_thermostat_cable_is_under_neither_section() -> None:
    text = STAIR + "cable T1 18/2 CL2 12 ft from B to A (free 1 in, jacket 0 in)\n"
    assert not seen(RULE, text)


def test_the_numbers_in_inches() -> None:
    (found,) = said(RULE, changed(STAIR, ("to A (free 7 in, secured 8 in)", "to A (free 4-1/2 in)")))
    assert (found.value, found.limit, found.unit) == (pytest.approx(4.5), pytest.approx(6.0), "in")
