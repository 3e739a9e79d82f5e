"""Ground-fault protection by what equipment serves; NEC 210.8(D), 210.8(F), 625.54, 680.44."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, at, changed, said, seen
from wirecheck import check, files
from wirecheck.rules.equipment_ground_fault import RULE

BOARDS = files.folder("boards")


def shop(name: str, which: str = "right") -> str:
    return (BOARDS / name / f"{which}.wire").read_text(encoding="utf-8")


RIGHT = shop("rules/equipment-ground-fault")
WRONG = shop("rules/equipment-ground-fault", "wrong")


@pytest.mark.parametrize("text", [RIGHT, COOLING, LIGHT, shop("garage-vehicle-outlet"), shop("spa")])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_it_is_found_at_the_breaker() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "DW")
    assert at(WRONG, found).startswith("breaker LP.3")
    (words,) = said(RULE, WRONG)
    assert "neutral screw" in (words.help or "") and "load screws" in (words.help or "")


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("garage-vehicle-outlet", "625.54"),
        ("well-pump", "210.8(F)"),
        ("sump-pump", "210.8(D)(6)"),
        ("spa", "680.44"),
        ("kitchen-appliances", "210.8(D)(12)"),
    ],
)
def test_each_has_its_section(name: str, source: str) -> None:
    (words,) = said(RULE, shop(name, "wrong-plain-breaker"))
    assert (words.source or "").endswith(source)


def test_what_has_no_neutral_is_told_of_none() -> None:
    (words,) = said(RULE, shop("well-pump", "wrong-plain-breaker"))
    assert "neutral" not in (words.help or "") and "load screws" not in (words.help or "")


def test_an_arc_fault_breaker_is_none() -> None:
    text = changed(RIGHT, ("20 A gfci", "20 A afci"))
    assert len(seen(RULE, text)) == 1


def test_a_charger_that_is_wired_in_has_its_own() -> None:
    text = (BOARDS / "rules" / "vehicle-circuit" / "right.wire").read_text(encoding="utf-8")
    assert not seen(RULE, text)


@pytest.mark.parametrize(("year", "count"), [(2017, 0), (2020, 0), (2023, 1)])
def test_a_microwave_oven_is_asked_for_since_2023(year: int, count: int) -> None:
    text = changed(shop("kitchen-appliances", "wrong-plain-breaker"), ("nec 2023", f"nec {year}"))
    assert len(seen(RULE, text)) == count


@pytest.mark.parametrize(("year", "source"), [(2017, ""), (2020, "422.5(A)(6)"), (2023, "210.8(D)(6)")])
def test_a_sump_pump_is_asked_for_since_2020(year: int, source: str) -> None:
    """A change summary of the 2020 code (inspector-iq.com), and a public list of 210.8(D) of 2023."""
    told = said(RULE, changed(shop("sump-pump", "wrong-plain-breaker"), ("nec 2023", f"nec {year}")))
    assert [(one.source or "").endswith(source) for one in told] == ([True] if source else [])


@pytest.mark.parametrize(("year", "count"), [(2017, 0), (2020, 1), (2023, 1)])
def test_what_is_outdoors_is_asked_for_since_2020(year: int, count: int) -> None:
    text = changed(shop("well-pump", "wrong-plain-breaker"), ("nec 2023", f"nec {year}"))
    assert len(seen(RULE, text)) == count


def test_a_room_says_it_no_second_time() -> None:
    text = changed(
        shop("garage-vehicle-outlet", "wrong-plain-breaker"),
        ("VR is vehicle", "room garage VR\nVR is vehicle"),
    )
    rules = [one.rule for one in check(text).findings if "ground-fault" in one.rule]
    assert rules == ["equipment-ground-fault"]
