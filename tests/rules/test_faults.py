"""Shorts, live metal, open grounds, neutrals on grounds, circuits tied together, each on its line."""

from __future__ import annotations

import pytest

from tests.samples import SAMPLES, fed
from wirecheck import check
from wirecheck.judge.finding import Finding

BOX = (
    "box B octagon 15.5 cu in",
    "cable W1 14/2 NM-B 50 ft from LP to B",
    "L1 is lampholder 60 W in B",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "W1.bare -- LP.ground",
    "at B",
)
STAIR = (SAMPLES / "stair-light.wire").read_text()


def found(text: str, rule: str) -> list[Finding]:
    return [finding for finding in check(text).findings if finding.rule == rule]


def line(text: str, finding: Finding) -> str:
    return text.splitlines()[finding.span.line - 1].strip()


def test_a_short_tells_its_amperes_its_line_and_what_opens() -> None:
    """Ohm's law: 120 V over 100 ft of 14 AWG at 30 C (Table 8, 3.07 ohm/kft at 75 C) and 12 mohm before."""
    text = fed(*BOX, "W1.black -- W1.white -- L1.hot", "W1.bare -- L1.ground")
    (short,) = found(text, "short-circuit")
    loop = 0.1 * 3.07 * (1 + 0.00323 * (30 - 75)) + 0.012 + 0.001
    assert short.severity == "hazard"
    assert short.value == pytest.approx(120 / loop, rel=2e-3)
    assert line(text, short) == "W1.black -- W1.white -- L1.hot"
    assert "LP.3 opens" in short.message


def test_a_short_that_only_a_switch_makes_says_which_position() -> None:
    text = fed(
        "box A device 20.3 cu in",
        "cable W1 14/2 NM-B 50 ft from LP to A",
        "S1 is single-pole-switch in A",
        "at LP",
        "W1.black -- LP.3",
        "W1.white -- LP.neutral",
        "W1.bare -- LP.ground",
        "at A",
        "W1.black -- S1.line",
        "W1.white -- S1.load",
        "W1.bare -- S1.ground",
    )
    (short,) = found(text, "short-circuit")
    assert line(text, short) == "W1.white -- S1.load"


def test_two_hots_of_different_legs_are_a_short_of_240_volts() -> None:
    text = fed(
        "breaker LP.1 15 A",
        "box B octagon 15.5 cu in",
        "cable W1 14/3 NM-B 10 ft from LP to B",
        "at LP",
        "W1.black -- LP.3",
        "W1.red -- LP.1",
        "W1.white -- LP.neutral",
        "W1.bare -- LP.ground",
        "at B",
        "W1.black -- W1.red",
    )
    (short,) = found(text, "short-circuit")
    assert "different legs" in short.message


def test_r_to_c_is_a_fault_that_a_fuse_ends() -> None:
    text = (SAMPLES / "cooling-call.wire").read_text()
    wrong = text.replace("  TW.red -- TS.R\n", "  TW.red -- TW.blue -- TS.R\n").replace(
        "  TW.blue -- TS.C\n", ""
    )
    (short,) = found(wrong, "short-circuit")
    assert short.severity == "fault"
    assert line(wrong, short) == "TW.red -- TW.blue -- TS.R"
    assert "F.fuse opens" in short.message


def test_a_hot_on_the_ground_screw_makes_the_metal_live() -> None:
    text = fed(*BOX, "W1.black -- L1.ground", "W1.white -- L1.neutral", "W1.bare -- L1.hot")
    (live,) = found(text, "energized-metal")
    assert live.value == pytest.approx(120, rel=1e-2)
    assert line(text, live) == "W1.black -- L1.ground"


def test_metal_made_live_through_a_load_by_an_open_neutral() -> None:
    """The neutral tied to an open ground: no current, and full volts on the case."""
    text = fed(*BOX, "W1.black -- L1.hot", "L1.neutral -- L1.ground", "cap W1.white", "cap W1.bare")
    (live,) = found(text, "energized-metal")
    assert live.value == pytest.approx(120, rel=1e-2)


def test_each_open_ground_is_told_once_with_what_hangs_on_it() -> None:
    cut = STAIR.replace(
        "  W2.bare -- W3.bare -- pigtail -- S2.ground", "  W3.bare -- pigtail -- S2.ground\n  cap W2.bare"
    )
    (lost,) = found(cut, "open-ground")
    assert lost.severity == "hazard"
    assert any("L1.ground" in note.message for note in lost.also) or lost.subject == "L1"
    assert not found(STAIR, "open-ground")


def test_a_metal_box_on_emt_is_grounded_by_the_conduit() -> None:
    """NEC 2023 250.118(A): EMT is a grounding conductor; LFNC is not."""
    lines = (
        "box B junction 21 cu in metal",
        "raceway R1 {} 1/2 in 10 ft from LP to B",
        "wire H1 14 THHN black 12 ft from LP to B in R1",
        "wire N1 14 THHN white 12 ft from LP to B in R1",
        "at LP",
        "H1 -- LP.3",
        "N1 -- LP.neutral",
    )
    emt, plastic = (fed(*(each.format(kind) for each in lines)) for kind in ("EMT", "LFNC"))
    assert not found(emt, "open-ground")
    assert [finding.subject for finding in found(plastic, "open-ground")] == ["B"]


def test_current_that_comes_back_on_the_bare_wire() -> None:
    text = fed(*BOX, "W1.black -- L1.hot", "W1.white -- W1.bare -- L1.neutral", "W1.bare -- L1.ground")
    (stray,) = found(text, "ground-as-neutral")
    # Three copper paths of one length share the lamp's half ampere: white alone, bare alone.
    assert stray.value == pytest.approx(0.25, rel=0.02)
    assert line(text, stray).startswith("W1.white -- W1.bare")


def test_two_breakers_of_one_leg_tied_together() -> None:
    text = fed(
        "breaker LP.7 15 A",
        "box B octagon 15.5 cu in",
        "cable W1 14/3 NM-B 10 ft from LP to B",
        "at LP",
        "W1.black -- LP.3",
        "W1.red -- LP.7",
        "W1.white -- LP.neutral",
        "W1.bare -- LP.ground",
        "at B",
        "W1.black -- W1.red",
    )
    (tied,) = found(text, "backfeed")
    assert line(text, tied) == "W1.black -- W1.red"
    assert not found(STAIR, "backfeed")
