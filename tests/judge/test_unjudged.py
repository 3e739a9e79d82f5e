"""What no `expect` line names: which names are told of it, and what a report says then."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.rules.hands import CHAIN, COOLING, LIGHT, STAIR, case
from tests.samples import fed
from wirecheck import check
from wirecheck.circuit import pairs, positions
from wirecheck.judge.unjudged import unjudged
from wirecheck.report.report import Report
from wirecheck.report.verdict import SAMPLED, clean, not_judged

SPLIT = fed(
    "R1 is split-receptacle 15 A in A",
    "box A device 40 cu in",
    "cable W1 14/2 NM-B 10 ft from LP to A",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "W1.bare -- LP.ground",
    "at A",
    "W1.black -- pigtail -- R1.hot-top -- pigtail -- R1.hot-bottom",
    "W1.white -- R1.neutral",
    "W1.bare -- R1.ground",
)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        (STAIR, ()),
        (LIGHT, ("L1",)),
        (LIGHT + "expect L1 from S1\n", ()),
        (LIGHT + "expect L1.lamp from S1\n", ()),
        (CHAIN, ("G1", "R1")),
        (CHAIN + "expect R1 live\n", ("G1",)),
        # A half by its own name, where the other half is judged.
        (SPLIT, ("R1",)),
        (SPLIT + "expect R1.top live\n", ("R1.bottom",)),
        (SPLIT + "expect R1 live\n", ()),
        # Machines: what works in them, and neither coils nor boards.
        (COOLING, ("F", "CU")),
        (COOLING + "expect cool runs CU.compressor, CU.fan, F.blower\n",
         ("F.inducer", "F.igniter", "F.gas-valve")),
        (COOLING + "expect F.limit stops F.gas-valve\n", ("F.inducer", "F.igniter", "F.blower", "CU")),
        # An alarm waits for smoke all its life, and is meant to; a light may be electronics.
        (LIGHT.replace("lampholder 60 W", "smoke-alarm").replace("W2.bare -- L1.ground", "cap W2.bare"),
         ("L1",)),
        (LIGHT.replace("lampholder 60 W", "luminaire"), ("L1",)),
    ],
)  # fmt: skip
def test_what_no_line_names(text: str, names: tuple[str, ...]) -> None:
    assert unjudged(case(text)) == names


def test_a_report_tells_it_of_a_finished_board() -> None:
    assert check(LIGHT).unjudged == ("L1",)
    assert check(LIGHT, stage="trim").unjudged == ()
    assert check(LIGHT).passes
    assert json.loads(check(LIGHT).render("json"))["files"][0]["unjudged"] == ["L1"]


@pytest.mark.parametrize("form", ["text", "junit"])
def test_no_report_says_that_nothing_is_wrong_where_something_is_not_judged(form: str) -> None:
    assert "No problem found." in check(STAIR).render(form)
    assert "No problem found." not in check(LIGHT).render(form)


def test_a_text_and_a_page_name_what_is_not_judged() -> None:
    assert "Not judged: L1." in check(LIGHT).render()
    assert "Not judged: L1." in check(LIGHT)._repr_html_()
    assert "1 not judged" in check(LIGHT).render()
    placed = check(f"{STAIR}room attic B\n").render()
    assert "Not judged" not in placed and "not judged" not in placed


def test_where_no_line_says_what_kind_of_place_it_is_is_named() -> None:
    report = check(STAIR)
    assert report.unplaced == ("B",) and "No room line says it" in report.render()
    assert check(STAIR, stage="trim").unplaced == ()
    assert check(f"{STAIR}room attic B\n").unplaced == ()
    assert json.loads(report.render("json"))["files"][0]["unplaced"] == ["B"]


HEATERS = """board "Two heaters on one breaker"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A 2-pole
box A junction 300 cu in
cable W 12/2 NM-B 20 ft from LP to A
TA is cooling-thermostat in A
TB is line-voltage-thermostat in A
HA is heater with power 1000 W, voltage 240 V in A
HB is heater with power 1000 W, voltage 240 V in A
at LP
  W.black -- LP.1.a
  W.white -- LP.1.b
at A
  W.black -- TA.a -- TB.line-1
  W.white -- HA.b -- TB.line-2
  TA.b -- HA.a
  TB.load-1 -- HB.a
  TB.load-2 -- HB.b
"""


def test_too_many_positions_or_calls_to_try_are_told(monkeypatch) -> None:
    assert case(STAIR).whole and not check(STAIR).sampled
    assert case(HEATERS).whole and len(case(HEATERS).pairs[0]) == 2
    monkeypatch.setattr(positions, "MOST_STATES", 4)
    assert case(STAIR).whole
    monkeypatch.setattr(positions, "MOST_STATES", 3)
    assert not case(STAIR).whole
    report = check(STAIR)
    assert report.sampled and not report.unjudged
    # The text is broken into lines.
    assert all(SAMPLED in " ".join(shown.split()) for shown in (str(report), report._repr_html_()))
    assert json.loads(report.render("json"))["files"][0]["sampled"] is True
    assert clean(report) != clean(Report("-", "", "", ()))
    monkeypatch.undo()
    monkeypatch.setattr(pairs, "MOST_SOLVED", 0)
    monkeypatch.setattr(pairs, "LEAST_PAIRS", 1)
    assert not case(HEATERS).whole and len(case(HEATERS).pairs[0]) == 1


def test_what_is_not_named_is_told_before_what_was_not_tried() -> None:
    told = not_judged(Report("-", "", "", (), ("L1",), sampled=True))
    assert told.endswith(SAMPLED) and told.startswith(not_judged(Report("-", "", "", (), ("L1",))))
    assert not_judged(Report("-", "", "", (), sampled=True)) == SAMPLED
    assert not_judged(Report("-", "", "", ())) == ""


def test_a_safety_that_no_line_names_is_told() -> None:
    path = Path(__file__).parents[1] / "boards/by_hand/few-mistakes/float-in-fan-wire.wire"
    text = path.read_text(encoding="utf-8")
    assert check(text).unjudged == ("FS",)
    assert check(f"{text}expect FS stops CU.compressor\n").unjudged == ()


def test_what_a_line_that_could_not_be_read_may_ask_for_is_not_called_unnamed() -> None:
    wrong = STAIR.replace("S1 is 3-way-switch", "S1 is 3-way-swich")
    without = "\n".join(line for line in STAIR.splitlines() if not line.startswith("expect"))
    assert wrong != STAIR and check(wrong).unjudged == ()
    assert without != STAIR and check(without).unjudged != ()
