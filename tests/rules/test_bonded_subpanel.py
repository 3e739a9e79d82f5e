"""Where neutral and ground of a subpanel meet: NEC 250.24(A)(5), 250.142(B), 408.40."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import at, case, said, seen
from tests.subpanels import BONDED, NO_GROUND, workshop
from wirecheck import check
from wirecheck.judge.feeders import grounds
from wirecheck.rules.bonded_subpanel import RULE, BondedSubpanel

STRAP = ("  FD.bare -- SP.ground\n", "  FD.bare -- SP.ground\n  SP.neutral -- SP.ground\n")


def rules(*changes: tuple[str, str]) -> list[str]:
    return [one.rule for one in check(workshop(*changes), effort=0).findings]


def test_a_subpanel_with_its_bars_apart_is_right() -> None:
    assert not seen(RULE, workshop())
    assert rules() == []


@pytest.mark.parametrize(("change", "line"), [(BONDED, "subpanel SP"), (STRAP, "SP.neutral -- SP.ground")])
def test_a_bond_and_a_strap_are_the_same_mistake(change: tuple[str, str], line: str) -> None:
    (found,) = seen(RULE, workshop(change))
    assert isinstance(found, BondedSubpanel)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "SP")
    assert at(workshop(change), found).startswith(line)
    assert found.ground is not None and found.ground.name == "FD.bare"
    # The lamp's half ampere, by the ohms of 6 and 10 AWG (Chapter 9 Table 8).
    assert found.amps == pytest.approx(0.497 * 0.491 / (0.491 + 1.21), rel=0.01)
    # The current on the ground follows from it, and is not told a second time.
    assert rules(change) == ["bonded-subpanel"]


@pytest.mark.slow
def test_without_a_ground_there_is_none_to_carry_it() -> None:
    (found,) = seen(RULE, workshop(BONDED, NO_GROUND))
    assert (found.ground, found.amps) == (None, 0.0)
    assert rules(BONDED, NO_GROUND) == ["bonded-subpanel", "open-ground"]


def test_the_panel_that_is_the_source_is_bonded_and_right() -> None:
    text = workshop(("  FD.bare -- LP.ground\n", "  FD.bare -- LP.ground\n  LP.neutral -- LP.ground\n"))
    assert not seen(RULE, text)


def test_the_ground_of_a_feeder() -> None:
    assert {one: [each.name for each in there] for one, there in grounds(case(workshop())).items()} == {
        "SP": ["FD.bare"]
    }
    assert grounds(case(workshop(NO_GROUND))) == {}


@pytest.mark.slow
def test_the_bond_is_taken_out() -> None:
    report = check(workshop(BONDED), effort=60)
    (mend,) = report.mends
    assert mend.remedy.startswith("Take the bonding screw or strap out")
    assert "100 A bus\n" in report.mended(1)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("was", "now", "rule", "line"),
    [
        ("  W1.white -- SP.neutral\n", "  W1.white -- SP.ground\n", "ground-as-neutral", "W1.white"),
        ("  W1.bare -- SP.ground\n", "  W1.bare -- SP.neutral\n", "ground-as-neutral", "W1.bare"),
        (
            "  FD.white -- SP.neutral\n  FD.bare -- SP.ground\n",
            "  FD.white -- SP.ground\n  FD.bare -- SP.neutral\n",
            "ground-as-neutral",
            "FD.",
        ),
        ("  FD.white -- LP.neutral\n", "  FD.white -- LP.ground\n", "ground-as-neutral", "FD.white"),
    ],
)
def test_a_wire_on_the_other_bar(was: str, now: str, rule: str, line: str) -> None:
    text = workshop((was, now))
    found = [one for one in check(text, effort=0).findings if one.severity == "hazard"]
    assert [one.rule for one in found] == [rule]
    assert text.splitlines()[found[0].line - 1].strip().startswith(line)


OLD_FEEDER = Path(__file__).parents[1] / "boards/by_hand/subpanels/heater-feeder-made-subpanel.wire"


def test_a_strap_in_place_of_a_neutral_is_not_simply_taken_out() -> None:
    text = OLD_FEEDER.read_text(encoding="utf-8")
    (found,) = seen(RULE, text)
    assert found.alone
    (words,) = said(RULE, text)
    assert words.help is not None and words.help.startswith("Turn SP off. Run a feeder with a neutral")
    # What the light's switch lacks follows from it.
    assert [one.rule for one in check(text, effort=0).findings] == ["bonded-subpanel"]
    (other,) = seen(RULE, workshop(BONDED))
    assert not other.alone
