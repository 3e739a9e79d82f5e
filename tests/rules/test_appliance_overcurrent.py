"""The breaker of an appliance without a motor; NEC 422.11(E)(2), 422.11(E)(3).

Outside check: 4500 W / 240 V = 18.75 A x 150 % = 28 A, so 30 A,
https://ecmweb.com/national-electrical-code/qa/article/21139641
"""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, at, changed, said, seen
from wirecheck import check, files
from wirecheck.rules.appliance_overcurrent import RULE

BOARDS = files.folder("boards")
RIGHT = (BOARDS / "rules" / "appliance-overcurrent" / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "rules" / "appliance-overcurrent" / "wrong.wire").read_text(encoding="utf-8")
KITCHEN = (BOARDS / "kitchen-appliances" / "right.wire").read_text(encoding="utf-8")
CLOCK = (BOARDS / "water-heater-on-time-clock" / "right.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [RIGHT, COOLING, LIGHT, KITCHEN, CLOCK])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_the_published_example() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "LP.2")
    assert found.current == pytest.approx(18.75)
    assert found.limit == 30
    assert at(WRONG, found).startswith("breaker LP.2")
    assert found.copper
    (words,) = said(RULE, WRONG)
    assert (words.value, words.limit, words.unit) == (40, 30, "A")
    assert words.source == "NEC 2023 422.11(E)(3)"


@pytest.mark.parametrize(
    ("watts", "breaker", "right"),
    [
        ("5500 W", 35, True),  # 22.9 A x 150 % = 34.4 A
        ("5500 W", 40, False),
        ("3190 W", 20, True),  # 13.29 A
        ("3190 W", 25, False),
        ("3200 W", 20, True),  # 13.33 A x 150 % = 20 A
        ("3210 W", 25, True),  # 13.38 A x 150 % = 20.1 A
        ("3210 W", 30, False),
    ],
)
def test_on_either_side_of_each_limit(watts: str, breaker: int, right: bool) -> None:
    text = changed(
        RIGHT, ("water-heater 4.5 kW", f"water-heater {watts}"), ("LP.2 30 A", f"LP.2 {breaker} A")
    )
    assert bool(seen(RULE, text)) != right


def test_a_small_one_is_told_of_20_a() -> None:
    text = changed(RIGHT, ("water-heater 4.5 kW", "water-heater 3000 W"))
    (words,) = said(RULE, text)
    assert words.limit == 20 and words.source == "NEC 2023 422.11(E)(2)"
    assert (words.help or "").startswith("Thicker wire")


def test_a_clock_on_the_circuit_changes_nothing() -> None:
    text = changed(CLOCK, ("TP.24 30 A", "TP.24 40 A"))
    assert len(seen(RULE, text)) == 1


def test_what_shares_its_circuit_goes_by_the_circuit() -> None:
    text = changed(
        KITCHEN,
        ("breaker TP.6 20 A gfci", "breaker TP.6 25 A gfci"),
    )
    assert len(seen(RULE, text)) == 1
    shared = changed(
        text,
        ("MW is microwave in OVEN", "MW is microwave in OVEN\nL9 is luminaire 14 W in OVEN"),
        ("  W5.black -- MW.hot\n", "  W5.black -- MW.hot -- L9.hot\n"),
        ("  W5.white -- MW.neutral\n", "  W5.white -- MW.neutral -- L9.neutral\n"),
        ("  W5.bare -- MW.ground\n", "  W5.bare -- MW.ground -- L9.ground\n"),
    )
    assert not seen(RULE, shared)


@pytest.mark.parametrize("section", ["422.13"])
def test_a_breaker_too_small_for_it_names_what_runs_for_hours(section: str) -> None:
    text = (BOARDS / "water-heater-on-time-clock" / "wrong-small-breaker.wire").read_text(encoding="utf-8")
    (found,) = (one for one in check(text).findings if one.severity != "advice")
    assert found.source == f"NEC 2023 210.20(A), {section}"
