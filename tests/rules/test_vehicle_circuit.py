"""A vehicle is charged from a circuit of its own; NEC 625.40."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, at, changed, said, seen
from wirecheck import files
from wirecheck.rules.vehicle_circuit import RULE

BOARDS = files.folder("boards") / "rules" / "vehicle-circuit"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [RIGHT, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_heater_on_its_circuit() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "BH")
    assert (found.unit.name, found.guard.name) == ("EV", "LP.2")
    assert at(WRONG, found).startswith("BH is")
    assert found.copper
    (words,) = said(RULE, WRONG)
    assert words.message.startswith("BH is on LP.2, the circuit of EV.")


SMALL = """\
part small-charger "A charger on an ordinary circuit"
source "a test"
rating current 12 A or 16 A or 20 A "what it draws"
terminal L1 hot, lead, sizes 14 to 10, rated 60 C "the hot"
terminal N neutral, lead, sizes 14 to 10, rated 60 C "the neutral"
terminal ground ground, lead, sizes 14 to 10, rated 60 C "the ground"
serves vehicle-charging
load charger electronics from L1 to N, current at 120 V, continuous
"""


@pytest.mark.parametrize(
    ("current", "year", "count"), [("16 A", 2023, 0), ("20 A", 2023, 1), ("16 A", 2020, 1), ("12 A", 2017, 1)]
)
def test_up_to_16_a_at_120_v_it_may_share_since_2023(
    current: str, year: int, count: int, tmp_path, monkeypatch
) -> None:
    import wirecheck

    (tmp_path / "small-charger.wire").write_text(SMALL, encoding="utf-8")
    text = f"""board "Charger beside a light"
code nec {year}
panel LP 120/240 V, 10 kA available
breaker LP.1 30 A
box B junction 40 cu in
cable W1 10/2 NM-B 20 ft from LP to B
EV is small-charger {current} in B
L1 is luminaire 14 W in B
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- EV.L1 -- L1.hot
  W1.white -- EV.N -- L1.neutral
  W1.bare -- EV.ground -- L1.ground
"""
    found = wirecheck.check(text, library=wirecheck.parts_of(tmp_path)).findings
    assert sum(one.rule == "vehicle-circuit" for one in found) == count


def test_two_chargers_on_one_circuit() -> None:
    text = changed(
        WRONG,
        ("BH is baseboard-heater 1000 W in H", "BH is vehicle-charger 16 A in H"),
        ("BH.element", "BH.charger"),
    )
    (found,) = seen(RULE, text)
    assert [one.name for one in found.strangers] == ["BH"]
