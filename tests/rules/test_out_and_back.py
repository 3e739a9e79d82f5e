"""Currents out and back in one cable or raceway; NEC 2023 300.3(B), 300.20(A), 200.4(A)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import CHAIN, COOLING, HALVES, LOOP, STAIR, at, case, changed, reported, said, seen
from wirecheck import files
from wirecheck.judge.bundles import bundle_of, bundles, in_loops
from wirecheck.judge.out_and_back import strays
from wirecheck.rules.out_and_back import RULE, Apart

BOARDS = Path(__file__).parent / "boards" / "out-and-back"
WRONG = (files.folder("boards") / "rules" / "out-and-back" / "wrong.wire").read_text(encoding="utf-8")
RIGHT = (files.folder("boards") / "rules" / "out-and-back" / "right.wire").read_text(encoding="utf-8")

TUBES = """\
board "Receptacle behind two tubes"
panel LP 120/240 V, 10 kA available
breaker LP.3 20 A
box A square 30.3 cu in metal
box B square 30.3 cu in metal
raceway E1 EMT 1/2 in 22 ft from LP to A
raceway E2 EMT 1/2 in 15 ft from A to B
raceway E3 EMT 1/2 in 15 ft from B to A
wire H1 12 THHN black 24 ft from LP to A in E1
wire N1 12 THHN white 24 ft from LP to A in E1
wire P1 12 THHN green 24 ft from LP to A in E1
wire H2 12 THHN black 17 ft from A to B in E2
wire P2 12 THHN green 17 ft from B to A in E2
wire N2 12 THHN white 17 ft from B to A in E3
R2 is duplex-receptacle 20 A in B
at LP
  H1 -- LP.3
  N1 -- LP.neutral
  P1 -- LP.ground
at A
  H1 -- H2
  N1 -- N2
  P1 -- P2 -- pigtail -- A.ground
at B
  H2 -- R2.hot
  N2 -- R2.neutral
  P2 -- pigtail -- R2.ground -- pigtail -- B.ground
"""


def board(name: str) -> str:
    return (BOARDS / f"{name}.wire").read_text(encoding="utf-8")


def only(text: str) -> Apart:
    (found,) = seen(RULE, text)
    return found


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, HALVES, CHAIN, RIGHT, board("right-ways")])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# ----------------------------------------------------------- what is found


def test_two_neutrals_swapped_are_one_finding() -> None:
    found = only(WRONG)
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "L1")
    assert at(WRONG, found) == "W2.white -- W3.white  # finds: out-and-back"
    first, second = found.strays
    assert (first.taker.name, first.gone.name, first.place, first.outward) == ("L1", "W2.white", "A", False)
    assert (first.left.name, first.beside.name) == ("W1.black", "W1.white")
    assert [bundle.name for bundle in first.bundles] == ["W1", "W2"]
    assert (first.share, first.amps) == (pytest.approx(1), pytest.approx(0.5))
    assert (second.taker.name, second.gone.name, second.beside.name) == ("L2", "W1.white", "W2.white")
    (words,) = said(RULE, WRONG)
    assert (words.value, words.limit, words.unit) == (0.5, 0, "A")
    assert [note.span.line for note in words.also] == [28]
    assert reported(WRONG) == ["out-and-back"]


def test_equal_currents_that_cancel_by_chance_hide_nothing() -> None:
    """On one leg, with both switches on, the cables of two equal lamps carry no net current."""
    text = WRONG.replace("LP.3", "LP.5")
    assert only(text).subject == "L1"
    both = case(text)
    on = both.in_positions({"S1": "on", "S2": "on"})
    assert abs(on.amps["W1.black"] + on.amps["W1.white"]) < 1e-3


def test_a_state_is_told_by_what_the_load_feels() -> None:
    assert only(WRONG).first.settled.positions["S1"] == "on"


def test_a_wire_in_another_tube_is_at_fault_itself() -> None:
    found = only(TUBES)
    assert at(TUBES, found) == "wire N2 12 THHN white 17 ft from B to A in E3"
    assert found.subject == "R2"
    assert [one.taker.name for one in found.strays] == ["R2.top", "R2.bottom"]
    assert (found.first.gone.name, found.first.left.name, found.first.join) == ("N2", "H2", None)
    # What the breaker lets a cord take.
    assert found.first.amps == pytest.approx(20)
    (words,) = said(RULE, TUBES)
    assert not words.also


def test_in_one_tube_out_and_back_are_together_whichever_way_they_are_written() -> None:
    text = changed(TUBES, ("from B to A in E3", "from B to A in E2"), ("wire N1", "wire N1"))
    assert not seen(RULE, text)
    senses = {one.conductor.name: one.sense for one in bundle_of(case(text))["H2"].lying}
    assert senses == {"H2": 1, "P2": -1, "N2": -1}


def test_a_tube_that_begins_on_the_way() -> None:
    """A sleeve in the wall has one end in common with what is in it."""
    text = changed(
        TUBES,
        ("from B to A in E3", "from B to A in E2"),
        ("raceway E2 EMT 1/2 in 15 ft from A to B", "raceway E2 EMT 1/2 in 2 ft from LP to B"),
    )
    assert {one.conductor.name: one.sense for one in bundle_of(case(text))["N2"].lying} == {
        "H2": 1,
        "P2": -1,
        "N2": -1,
    }
    assert not seen(RULE, text)


def test_single_wires_outside_of_a_raceway_lie_side_by_side() -> None:
    """That they are in none is another matter (300.3(A))."""
    loose = changed(
        TUBES,
        ("from A to B in E2", "from A to B"),
        ("17 ft from B to A in E2", "17 ft from B to A"),
        ("from B to A in E3", "from B to A"),
    )
    assert bundle_of(case(loose))["H2"].name == "H2"
    assert not seen(RULE, loose)
    assert (
        only(changed(loose, ("white 17 ft from B to A", "white 17 ft from B to A in E3"))).first.gone.name
        == "N2"
    )


def test_whites_joined_turn_aside_a_part() -> None:
    found = only(board("joined"))
    assert found.first.share == pytest.approx(0.5, abs=0.05)
    assert at(board("joined"), found) == "W1.white -- W2.white -- L1.neutral"


def test_the_hot_can_be_what_comes_another_way() -> None:
    found = only(board("hot-in-two-cables"))
    assert (found.first.outward, found.first.gone.name, found.first.place) == (True, "W2.black", "A")
    assert at(board("hot-in-two-cables"), found) == "W1.black -- W2.black -- pigtail -- L1.hot"


def test_a_transformer_draws_through_its_primary() -> None:
    found = only(board("transformer"))
    assert (found.subject, found.first.gone.name) == ("T1", "W2.white")
    assert found.first.amps == pytest.approx(40 / 120)


def test_between_two_hots_the_second_is_the_way_back() -> None:
    found = only(board("two-hots"))
    assert found.subject == "H1.element"
    assert {bundle.name for bundle in found.first.bundles} == {"W1", "W2"}
    (words,) = said(RULE, board("two-hots"))
    assert words.help is not None and "neutral" not in words.help


def test_mistakes_with_no_cable_in_common_are_two() -> None:
    second = (
        WRONG[WRONG.index("box A") :]
        .replace("LP.1", "LP.11").replace("LP.3", "LP.13")
        .replace("box A", "box D").replace("box B", "box E").replace("box C", "box F")
        .replace("to A", "to D").replace("from A", "from D").replace("to B", "to E").replace("to C", "to F")
        .replace("in A", "in D").replace("in B", "in E").replace("in C", "in F")
        .replace("at A", "at D").replace("at B", "at E").replace("at C", "at F")
        .replace("W1", "X1").replace("W2", "X2").replace("W3", "X3").replace("W4", "X4")
        .replace("S1", "T1").replace("S2", "T2").replace("L1", "M1").replace("L2", "M2")
    )  # fmt: skip
    text = WRONG.replace("box A", "breaker LP.11 15 A\nbreaker LP.13 15 A\nbox A", 1) + second
    assert [one.subject for one in seen(RULE, text)] == ["L1", "M1"]


# ------------------------------------------------------- what is looked at


def test_only_loops_of_cables_are_looked_at() -> None:
    assert [bundle.name for bundle in in_loops(case(WRONG))] == ["W1", "W2"]
    assert in_loops(case(STAIR)) == ()
    assert len(bundles(case(STAIR))) == 3


def test_a_tail_of_several_cables_is_in_no_loop() -> None:
    more = "box D octagon 15.5 cu in\ncable W5 14/2 NM-B 9 ft from C to D\n"
    assert [bundle.name for bundle in in_loops(case(WRONG + more))] == ["W1", "W2"]
    back = more + "cable W6 14/2 NM-B 9 ft from D to B\n"
    assert [bundle.name for bundle in in_loops(case(WRONG + back))] == ["W1", "W2", "W3", "W4", "W5", "W6"]


def test_two_panels_are_tied_by_earth() -> None:
    text = changed(WRONG, ("panel LP", "panel SP 120/240 V, 10 kA available\npanel LP"))
    text = changed(
        text,
        ("cable W2 14/2 NM-B 22 ft from LP", "cable W2 14/2 NM-B 22 ft from SP"),
        ("  W2.black -- LP.3\n", ""), ("  W2.white -- LP.neutral\n", ""), ("  W2.bare -- LP.ground\n", ""),
    )  # fmt: skip
    assert {bundle.name for bundle in in_loops(case(text))} == {"W1", "W2"}


def test_class_2_wires_may_go_apart() -> None:
    """725.3: R goes in one cable and comes back in another."""
    text = board("bell")
    assert {bundle.name for bundle in bundles(case(text))} == {"W1"}
    assert not seen(RULE, text)


def test_a_jumper_in_one_box_is_no_way_anywhere() -> None:
    more = "wire J1 14 THHN black 1 ft from A to A\n"
    assert "J1" not in bundle_of(case(WRONG + more))


def test_a_ring_of_outlets_divides_out_and_back_alike() -> None:
    text = board("right-ways")
    assert len(in_loops(case(text))) == 3
    assert strays(case(text)) == ()


# ------------------------------------------------------------ one mistake


@pytest.mark.parametrize(
    ("first", "second", "trips"),
    [
        ("afci", "afci", ["LP.1", "LP.3"]),
        ("gfci", "", ["LP.1"]),
        ("afci no-neutral", "", []),
    ],
)
def test_breakers_that_miss_the_current_trip(first: str, second: str, trips: list[str]) -> None:
    """Each white comes back to the other's breaker: that is the same mistake."""
    text = changed(WRONG, ("LP.1 15 A", f"LP.1 15 A {first}"), ("LP.3 15 A", f"LP.3 15 A {second}"))
    if trips:
        text = changed(text, ("W1.white -- LP.neutral", "W1.white -- LP.1.neutral"))
    if second:
        text = changed(text, ("W2.white -- LP.neutral", "W2.white -- LP.3.neutral"))
    text += "expect L1 from S1\nexpect L2 from S2\n"
    found = only(text)
    assert found.severity == ("fault" if trips else "violation")
    assert sorted({one.name for stray in found.strays for one in stray.trips}) == trips
    assert reported(text) == ["out-and-back"]


@pytest.mark.parametrize(
    ("name", "rules"),
    [
        ("multiwire-circuit/joined-by-mistake", ["multiwire-circuit", "multiwire-circuit"]),
        ("line-load-reversed/neutral-of-another-circuit", ["line-load-reversed"]),
    ],
)
def test_one_mistake_is_one_finding(name: str, rules: list[str]) -> None:
    text = (BOARDS.parent / f"{name}.wire").read_text(encoding="utf-8")
    assert seen(RULE, text)
    assert reported(text) == rules


def test_what_comes_back_over_a_ground_is_that_mistake() -> None:
    text = board("over-a-ground")
    assert seen(RULE, text)
    assert reported(text) == ["ground-as-neutral"]


def test_nothing_is_named_that_leads_nowhere() -> None:
    """The white beside the hot is capped at both ends: no neutral belongs on it as it is."""
    text = board("capped-beside")
    found = only(text)
    assert found.first.beside is None
    (words,) = said(RULE, text)
    assert words.help is not None and "W3.white" not in words.help
