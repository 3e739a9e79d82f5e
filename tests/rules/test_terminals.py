"""What hands do to a wire's ends: each mistake on a right board, and the line that is blamed for it."""

from __future__ import annotations

import itertools

import pytest

import wirecheck
from tests.rules.hands import COOLING, LOOP, STAIR, changed, line, said
from wirecheck.rules.conductor_color import RULE as COLOR
from wirecheck.rules.loose_conductor import RULE as LOOSE

RULES = (LOOSE, COLOR)


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not list(itertools.chain.from_iterable(said(rule, text) for rule in RULES))


# ------------------------------------------------------------ loose ends


def test_a_live_loose_end_is_a_hazard_where_it_comes_in() -> None:
    text = changed(STAIR, ("  W3.black -- L1.hot\n", ""))
    (found,) = said(LOOSE, text)
    assert (found.severity, found.subject, found.stage) == ("hazard", "W3.black", "trim")
    assert line(text, found).startswith("cable W3")
    assert text.splitlines()[found.span.line - 1][found.span.column - 1 :].startswith("B (free 6 in")
    assert "in B" in found.message


def test_a_splice_that_was_never_made_is_one_finding() -> None:
    text = changed(STAIR, ("  W1.white -- W2.white\n", ""))
    (found,) = said(LOOSE, text)
    assert "W1.white and W2.white" in found.message
    assert found.severity == "violation"


def test_a_whole_cable_left_open_is_one_finding() -> None:
    text = (
        STAIR + "cable W9 14/2 NM-B 9 ft from C to B\nat C\n  cap W9.black\n  cap W9.white\n  cap W9.bare\n"
    )
    (found,) = said(LOOSE, text)
    assert found.subject == "W9"


def test_a_capped_end_is_not_loose() -> None:
    text = changed(STAIR, ("  W3.black -- L1.hot\n", "  cap W3.black\n"))
    assert not said(LOOSE, text)


def test_a_dropped_ground_is_told_once_by_open_ground() -> None:
    text = changed(STAIR, ("  W3.bare -- L1.ground\n", ""))
    rules = [found.rule for found in wirecheck.check(text).findings if found.severity != "advice"]
    assert rules == ["open-ground"]


def test_spares_of_thermostat_cable_are_advice() -> None:
    text = changed(COOLING, ("cable TW 18/5", "cable TW 18/8"))
    found = said(LOOSE, text)
    assert {one.severity for one in found} == {"advice"}
    assert sorted(one.message.split(" are")[0] for one in found) == ["TW.brown, TW.orange and TW.black"] * 2


def test_a_thermostat_wire_on_a_screw_at_one_end_only_is_more_than_advice() -> None:
    (found,) = said(LOOSE, changed(COOLING, ("  TW.blue -- TS.C\n", "")))
    assert (found.severity, found.subject) == ("violation", "TW.blue")


def test_a_board_with_mistakes_in_its_words_calls_no_end_loose() -> None:
    text = STAIR.replace("W3.black -- L1.hot", "W3.black -- L1.hott")
    found = wirecheck.check(text).findings
    assert "loose-conductor" not in {one.rule for one in found}
    assert "unknown-name" in {one.rule for one in found}


# ---------------------------------------------------------------- colors


@pytest.mark.parametrize("end", ["W1.black -- W2.white marked black", "W2.white marked black -- S1.line"])
def test_a_white_hot_must_be_marked_at_each_end(end: str) -> None:
    """NEC 2023 200.7(C)."""
    bare = end.replace(" marked black", "")
    text = changed(LOOP, (end, bare))
    (found,) = said(COLOR, text)
    assert (found.severity, found.subject) == ("violation", "W2.white")
    assert line(text, found) == bare
    assert {one.rule for one in wirecheck.check(text).findings} <= {"conductor-color", "neutral-at-switch"}


def test_in_a_switch_loop_the_white_is_the_feed() -> None:
    """NEC 2023 200.7(C)(1)."""
    text = changed(
        LOOP,
        ("  W1.black -- W2.white marked black\n  W2.black -- L1.hot\n",
         "  W1.black -- W2.black\n  W2.white marked black -- L1.hot\n"),
        ("  W2.white marked black -- S1.line\n  W2.black -- S1.load\n",
         "  W2.black -- S1.line\n  W2.white marked black -- S1.load\n"),
    )  # fmt: skip
    (found,) = said(COLOR, text)
    assert found.subject == "W2.white"
    assert "feed" in found.message


def test_a_mark_on_a_neutral_is_taken_off() -> None:
    (found,) = said(COLOR, changed(STAIR, ("W1.white -- W2.white", "W1.white marked black -- W2.white")))
    assert found.subject == "W1.white"


def test_exchanged_colors_within_one_cable_are_one_finding() -> None:
    """What works and misleads: W3's black is the neutral and its white the switched hot, from end to end."""
    text = changed(
        STAIR,
        (
            "  W3.black -- S2.common\n  W2.white -- W3.white\n",
            "  W3.white -- S2.common\n  W2.white -- W3.black\n",
        ),
        (
            "  W3.black -- L1.hot\n  W3.white -- L1.neutral\n",
            "  W3.white -- L1.hot\n  W3.black -- L1.neutral\n",
        ),
    )
    (found,) = said(COLOR, text)
    assert found.subject == "W3"
    assert line(text, found) == "W3.white -- S2.common"


def test_a_bare_wire_is_no_traveler() -> None:
    """NEC 2023 250.119."""
    text = changed(
        STAIR,
        ("cable W2 14/3", "cable W2 14/2"),
        ("  W2.red -- S1.traveler-2\n", "  W2.bare -- S1.traveler-2\n"),
        ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- S1.ground"),
        ("  W2.red -- S2.traveler-2\n", "  W2.bare -- S2.traveler-2\n"),
        ("W2.bare -- W3.bare -- pigtail -- S2.ground", "W3.bare -- S2.ground"),
    )
    (found,) = said(COLOR, text)
    assert (found.severity, found.subject) == ("hazard", "W2.bare")


WIRE = """\
board "One wire of conduit"
panel LP 120/240 V
breaker LP.3 60 A
box A square 42 cu in
raceway R1 EMT 1 in 30 ft from LP to A
wire H1 {size} THHN {color} 30 ft from LP to A in R1
wire H2 {size} THHN {color} 30 ft from A to LP in R1
at LP
  H1 {mark} -- {at}
  H2 {mark} -- {at}
at A
  H1 {mark} -- H2 {mark}
"""


@pytest.mark.parametrize(
    ("size", "color", "mark", "at", "right"),
    [
        ("12", "black", "", "LP.3", True),
        ("12", "white", "", "LP.neutral", True),
        ("12", "gray", "", "LP.neutral", True),
        ("12", "green", "", "LP.ground", True),
        # 200.7(C): only the white of a cable may be marked as a hot.
        ("12", "white", "marked black", "LP.3", False),
        # 200.6(A) and (B): from 4 AWG up another color may be marked as the neutral.
        ("12", "black", "marked white", "LP.neutral", False),
        ("4", "black", "marked white", "LP.neutral", True),
        ("12", "black", "", "LP.neutral", False),
        # 250.119(A): the same for the ground.
        ("12", "black", "marked green", "LP.ground", False),
        ("4", "black", "marked green", "LP.ground", True),
        ("12", "green", "", "LP.3", False),
        ("12", "green", "marked black", "LP.3", False),
    ],
)
def test_single_wires_by_use(size: str, color: str, mark: str, at: str, right: bool) -> None:
    text = WIRE.format(size=size, color=color, mark=mark, at=at)
    found = said(COLOR, text)
    assert bool(found) is not right
    assert all(one.severity in ("violation", "hazard") for one in found)


def test_thermostat_colors_are_advice() -> None:
    """Common practice."""
    text = COOLING.replace("TW.yellow -- OW.red -- F.Y", "TW.white -- OW.red -- F.Y").replace(
        "TW.white -- F.W\n", "TW.yellow -- F.W\n"
    )
    text = text.replace("TW.white -- TS.W", "TW.yellow -- TS.W").replace(
        "TW.yellow -- TS.Y", "TW.white -- TS.Y"
    )
    found = said(COLOR, text)
    assert {one.subject for one in found} == {"TW.white", "TW.yellow"}
    assert {one.severity for one in found} == {"advice"}
