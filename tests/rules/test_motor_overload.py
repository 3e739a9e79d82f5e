"""Overload relays against the nameplates of their motors."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, changed, reported, said, seen
from tests.rules.motors import SMALL, STARTER
from wirecheck import files
from wirecheck.rules.motor_overload import RULE, LineWithout, NoOverload, OnlyToStart, TooHigh, TooLow

PLATE = "M is three-phase-motor 5 hp with current 16.1 A, voltage 208 V"
SET = "trips 19 A"
PAST = (
    ("  C.T1 -- OL.L1\n  C.T2 -- OL.L2\n  C.T3 -- OL.L3\n", ""),
    (
        "  M1 -- OL.T1\n  M2 -- OL.T2\n  M3 -- OL.T3\n",
        "  M1 -- C.T1\n  M2 -- C.T2\n  M3 -- C.T3\n",
    ),
)


def kinds(trips: str, more: str = "") -> list[type]:
    return [type(one) for one in seen(RULE, changed(STARTER, (SET, f"trips {trips}"), (PLATE, PLATE + more)))]


def test_the_right_one() -> None:
    assert seen(RULE, STARTER) == []


@pytest.mark.slow
@pytest.mark.parametrize(
    ("trips", "more", "kind"),
    [
        # 16.1 A x 1.25 = 20.125 A, x 1.40 = 22.54 A: a service factor of 1.15.
        ("20.1 A", "", None),
        ("20.2 A", "", OnlyToStart),
        ("22.5 A", "", OnlyToStart),
        ("22.6 A", "", TooHigh),
        ("16.1 A", "", None),
        ("16 A", "", TooLow),
        # x 1.15 = 18.515 A, x 1.30 = 20.93 A: any other motor.
        ("18.5 A", ", service-factor 1.0", None),
        ("18.6 A", ", service-factor 1.0", OnlyToStart),
        ("21 A", ", service-factor 1.0", TooHigh),
        ("18.6 A", ", service-factor 1.14", OnlyToStart),
        # A rise of 40 C or less counts as such a service factor does.
        ("20.1 A", ", service-factor 1.0, rise 40 C", None),
        ("20.1 A", ", service-factor 1.0, rise 41 C", OnlyToStart),
    ],
)
def test_either_side_of_each_limit(trips: str, more: str, kind: type | None) -> None:
    assert kinds(trips, more) == ([] if kind is None else [kind])


@pytest.mark.slow
def test_an_overload_from_a_published_table() -> None:
    """5 hp, 230 V: heaters of 17.48 A, 115 % of 15.2 A (elliottelectric.com, full-load currents)."""
    text = changed(
        STARTER,
        ("panel SP 208Y/120 V", "panel SP 120/240 V delta"),
        ("coil 208 V", "coil 240 V"),
        (PLATE, "M is three-phase-motor 5 hp with current 15.2 A, service-factor 1.0"),
    )
    assert seen(RULE, changed(text, (SET, "trips 17.48 A"))) == []
    assert seen(RULE, changed(text, (SET, "trips 17.6 A"))) != []


@pytest.mark.slow
@pytest.mark.parametrize(
    ("motor", "most"),
    [
        # Two motors of Annex D, Example D8 (from memory): 32 A x 1.25, and 38 A x 1.25 for a rise of 40 C.
        ("25 hp with current 32 A, voltage 480 V, service-factor 1.15", 40),
        ("30 hp with current 38 A, voltage 480 V, service-factor 1.0, rise 40 C", 47.5),
    ],
)
def test_the_overloads_of_annex_d(motor: str, most: float) -> None:
    text = changed(
        STARTER,
        ("panel SP 208Y/120 V", "panel SP 480Y/277 V"),
        ("coil 208 V", "coil 480 V"),
        ("5 hp with current 16.1 A, voltage 208 V", motor),
    )
    assert seen(RULE, changed(text, (SET, f"trips {most} A"))) == []
    assert [type(one) for one in seen(RULE, changed(text, (SET, f"trips {most + 1} A")))] == [OnlyToStart]


@pytest.mark.slow
def test_a_motor_without_heaters_in_its_lines() -> None:
    (one,) = seen(RULE, changed(STARTER, *PAST))
    assert isinstance(one, NoOverload)
    assert "missing-wire" not in reported(changed(STARTER, *PAST))


@pytest.mark.slow
def test_a_small_motor_may_rely_on_its_breaker() -> None:
    assert seen(RULE, SMALL) == []
    larger = changed(SMALL, ("1 hp with current 4.4 A", "1-1/2 hp with current 6 A"))
    assert [type(one) for one in seen(RULE, larger)] == [NoOverload]


@pytest.mark.slow
def test_one_line_past_the_relay() -> None:
    text = changed(STARTER, ("  C.T3 -- OL.L3\n", ""), ("  M3 -- OL.T3\n", "  M3 -- C.T3\n"))
    (one,) = seen(RULE, text)
    assert isinstance(one, LineWithout)
    assert one.ends == ("M.T3",)
    assert at(text, one) == "M3 -- M.T3"
    assert reported(text) == ["motor-overload"]


@pytest.mark.slow
def test_the_arithmetic_is_told() -> None:
    (told,) = said(RULE, changed(STARTER, (SET, "trips 25 A")))
    assert told.value == 25 and told.limit == 20.1
    assert told.help is not None and "16.1 A x 1.25 = 20.1 A" in told.help


def test_the_reverse_contactor_may_not_feed_the_motor_past_the_heaters():
    """Its picture as a ladder is too wide for a screen, so that it does not ship as a board."""
    right = (files.folder("boards") / "reversing-starter" / "right.wire").read_text("utf-8")
    past = changed(
        right,
        ("  F.T1 -- pigtail -- R.T3 -- pigtail -- OL.L1\n", "  F.T1 -- OL.L1\n"),
        ("  F.T2 -- pigtail -- R.T2 -- pigtail -- OL.L2\n", "  F.T2 -- OL.L2\n"),
        ("  F.T3 -- pigtail -- R.T1 -- pigtail -- OL.L3\n", "  F.T3 -- OL.L3\n"),
        ("  M1 -- OL.T1\n", "  M1 -- pigtail -- R.T3 -- pigtail -- OL.T1\n"),
        ("  M2 -- OL.T2\n", "  M2 -- pigtail -- R.T2 -- pigtail -- OL.T2\n"),
        ("  M3 -- OL.T3\n", "  M3 -- pigtail -- R.T1 -- pigtail -- OL.T3\n"),
    )
    assert set(reported(past)) == {"motor-overload"}
