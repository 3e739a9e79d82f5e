"""Ends that are joined to nothing: which are one omission, and which are live."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import COOLING, LIGHT, LOOP, STAIR, at, case, changed, own, reported, said, seen
from wirecheck import files
from wirecheck.rules.loose_conductor import RULE, LooseEnds, LooseLeads, LooseTail


def names(problem: LooseEnds) -> list[str]:
    return [conductor.name for conductor, _ in problem.ends]


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_live_loose_end_is_a_hazard_where_it_comes_in() -> None:
    text = own("loose-conductor", "live")
    (found,) = seen(RULE, text)
    assert (found.severity, found.subject, found.stage) == ("hazard", "W3.black", "trim")
    assert at(text, found).startswith("cable W3")
    assert text.splitlines()[found.at.span.line - 1][found.at.span.column - 1 :].startswith("B (free 6 in")
    assert found.place == "B"
    assert names(found) == [one.name for one in found.live] == ["W3.black"]
    assert [join.place for join in found.far] == ["C"]
    assert found.copper == {case(text).uses.piece["W3.black@B"]}


@pytest.mark.parametrize(
    ("change", "live"),
    [
        # A traveler: live when the switch is moved.
        (("  W2.red -- S2.traveler-2\n", ""), ["W2.red"]),
        # The neutral.
        (("  W3.white -- L1.neutral\n", ""), []),
        # A hot: always.
        (("  W1.black -- S1.common\n", ""), ["W1.black"]),
    ],
)
def test_what_is_fed_at_the_other_end_is_live(change: tuple[str, str], live: list[str]) -> None:
    found = seen(RULE, changed(STAIR, change))
    assert [one.name for problem in found for one in problem.live] == live
    assert {problem.severity for problem in found} == {"hazard" if live else "violation"}


def test_an_end_that_is_shorted_at_the_other_end_is_live() -> None:
    text = changed(
        STAIR,
        ("  W1.white -- W2.white\n", "  W1.white -- W2.white -- W1.black\n"),
        ("  W1.black -- S1.common\n", ""),
        ("  W2.white -- W3.white\n", "  W3.white -- S2.ground\n"),
    )
    assert {one.subject: one.severity for one in seen(RULE, text)} == {"W2.white": "hazard"}


def test_a_splice_that_was_never_made_is_one_omission() -> None:
    (found,) = seen(RULE, own("loose-conductor", "splice-not-made"))
    assert names(found) == ["W1.white", "W2.white"]
    assert (found.severity, found.subject) == ("violation", "W1.white")
    assert len(found.far) == 2


def test_those_of_several_purposes_are_several() -> None:
    text = changed(
        STAIR, ("  W1.white -- W2.white\n", ""), ("  W1.bare -- W2.bare -- pigtail -- S1.ground\n", "")
    )
    assert [names(one) for one in seen(RULE, text)] == [["W1.white", "W2.white"], ["W1.bare", "W2.bare"]]


def test_those_of_one_purpose_in_several_places_are_several() -> None:
    text = changed(STAIR, ("  W1.white -- W2.white\n", ""), ("  W2.white -- W3.white\n", ""))
    assert [one.place for one in seen(RULE, text)] == ["A", "C"]


def test_a_whole_cable_left_open_is_one_omission() -> None:
    text = own("loose-conductor", "whole-cable")
    (found,) = seen(RULE, text)
    assert (found.subject, found.place) == ("W9", "B")
    assert names(found) == ["W9.black", "W9.white", "W9.bare"]


def test_a_capped_end_is_not_loose() -> None:
    assert not seen(RULE, changed(STAIR, ("  W3.black -- L1.hot\n", "  cap W3.black\n")))


def test_a_tail_that_goes_nowhere() -> None:
    text = own("loose-conductor", "tail")
    found = seen(RULE, text)
    assert [type(one) for one in found] == [LooseTail, LooseTail]
    assert [(one.wire.name, one.place, one.severity, one.stage) for one in found] == [
        ("W1.white", "A", "violation", "trim"),
        ("W3.white", "C", "violation", "trim"),
    ]
    assert at(text, found[0]) == "W1.white -- pigtail"
    assert found[0].copper == {case(text).uses.piece["W1.white@A"]}


def test_a_tail_between_screws_is_not_loose() -> None:
    """A jumper made of a tail, from one screw to another."""
    text = changed(STAIR, ("W3.bare -- L1.ground", "W3.bare -- pigtail -- L1.ground"))
    assert not seen(RULE, text)
    screw = changed(STAIR, ("  W3.bare -- L1.ground\n", "  cap W3.bare\n  L1.ground -- pigtail\n"))
    assert not seen(RULE, screw)


def test_a_dropped_ground_is_reported_once_as_an_open_ground() -> None:
    text = changed(STAIR, ("  W3.bare -- L1.ground\n", ""))
    assert [names(one) for one in seen(RULE, text)] == [["W3.bare"]]
    assert reported(text) == ["open-ground"]


def test_a_dropped_ground_that_grounds_nothing_is_a_loose_end() -> None:
    """A fourth box, from which no metal is grounded, and W8's ground not joined in B."""
    more = "box D junction 21 cu in\ncable W8 14/2 NM-B 9 ft from B to D\n"
    at_b = "at B\n  cap W8.black\n  cap W8.white\nat D\n  cap W8.black\n  cap W8.white\n  cap W8.bare\n"
    text = changed(STAIR, ("cable W1", f"{more}cable W1")) + at_b
    assert [names(one) for one in seen(RULE, text)] == [["W8.bare"]]
    assert reported(text) == ["loose-conductor"]


def test_a_loose_ground_is_not_excused_by_an_open_ground_elsewhere() -> None:
    """W8's ground has nothing to do with that of L1."""
    more = "box D junction 21 cu in\ncable W8 14/2 NM-B 9 ft from C to D\n"
    at_d = "at D\n  cap W8.black\n  cap W8.white\nat C\n  cap W8.black\n  cap W8.white\n  cap W8.bare\n"
    text = (
        changed(STAIR, ("cable W1", f"{more}cable W1"), ("  W3.bare -- L1.ground\n", "  cap W3.bare\n"))
        + at_d
    )
    assert reported(text) == ["loose-conductor", "open-ground"]


def test_a_loose_hot_is_not_excused_by_an_open_ground() -> None:
    text = changed(STAIR, ("  W3.bare -- L1.ground\n", ""), ("  W3.black -- L1.hot\n", ""))
    assert sorted(rule for rule in reported(text) if rule != "switching") == [
        "loose-conductor",
        "open-ground",
    ]


def test_spares_of_thermostat_cable_are_advice() -> None:
    """Common practice."""
    found = seen(RULE, own("loose-conductor", "spares-of-a-thermostat"))
    assert {one.severity for one in found} == {"advice"}
    assert [names(one) for one in found] == [["TW.brown", "TW.orange", "TW.black"]] * 2
    assert [one.place for one in found] == ["F", "TS"]


def test_spares_of_thermostat_cable_are_one_omission_whatever_their_colors() -> None:
    text = own("loose-conductor", "spares-of-a-thermostat")
    text = changed(text, ("  TW.white -- F.W\n", ""), ("  TW.white -- TS.W\n", ""))
    assert [names(one) for one in seen(RULE, text)] == [["TW.white", "TW.brown", "TW.orange", "TW.black"]] * 2


def test_two_of_one_cable_are_about_the_cable() -> None:
    text = changed(STAIR, ("  W2.black -- S2.traveler-1\n  W2.red -- S2.traveler-2\n", ""))
    assert [(names(one), one.subject) for one in seen(RULE, text)] == [(["W2.black", "W2.red"], "W2")]


def test_spares_at_line_voltage_are_a_violation() -> None:
    text = changed(LIGHT, ("cable W2 14/2", "cable W2 14/3"))
    assert [(names(one), one.severity, one.far) for one in seen(RULE, text)] == [
        (["W2.red"], "violation", ())
    ] * 2


def test_a_thermostat_wire_on_a_screw_at_one_end_only_is_more_than_advice() -> None:
    (found,) = seen(RULE, own("loose-conductor", "thermostat-wire-off"))
    assert (found.severity, found.subject) == ("violation", "TW.blue")


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("W3.black -- L1.hot", "W3.black -- L1.hott", "unknown-name"),
        ("  W3.black -- L1.hot", "  W3.black = L1.hot", "syntax"),
        ("L1 is lampholder", "L1 is lampholdr", "unknown-part"),
    ],
)
def test_a_board_with_mistakes_in_its_words_calls_no_end_loose(old: str, new: str, rule: str) -> None:
    found = wirecheck.check(STAIR.replace(old, new)).findings
    assert "loose-conductor" not in {one.rule for one in found}
    assert rule in {one.rule for one in found}
    tails = own("loose-conductor", "tail").replace(old, new)
    assert "loose-conductor" not in {one.rule for one in wirecheck.check(tails).findings}


FAN = """\
board "A fan and a light"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box B octagon 21.5 cu in
cable W1 14/2 NM-B 11 ft from LP to B
CF is ceiling-fan in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- CF.fan-hot
  W1.white -- CF.neutral
  W1.bare -- CF.ground
"""


def leads(text: str) -> list[tuple[str, str, list[str], list[str]]]:
    return [
        (one.subject, one.severity, [lead.name for lead in one.leads], [lead.name for lead in one.live])
        for one in seen(RULE, text)
        if isinstance(one, LooseLeads)
    ]


def test_a_lead_that_is_not_used_is_capped() -> None:
    """NEC 2023 110.14(B): the free ends of conductors are covered."""
    assert leads(FAN) == [("CF.light-hot", "advice", ["CF.light-hot"], [])]
    (found,) = seen(RULE, FAN)
    assert (found.stage, at(FAN, found)) == ("trim", "CF is ceiling-fan in B")
    assert not seen(RULE, FAN + "  cap CF.light-hot\n")
    # A light whose lead is left open is told as dead; one whose lead is capped is not used.
    assert reported(FAN) == ["dead-outlet"]
    assert reported(FAN + "  cap CF.light-hot\n") == []
    off = changed(FAN, ("  W1.black -- CF.fan-hot\n", "  cap W1.black\n  cap CF.fan-hot\n"))
    assert reported(off + "  cap CF.light-hot\n") == ["dead-outlet"]
    back = changed(FAN, ("  W1.white -- CF.neutral\n", "  cap W1.white\n  cap CF.neutral\n"))
    assert reported(back + "  cap CF.light-hot\n") == ["dead-outlet"]


def test_leads_of_one_device_are_one_remark() -> None:
    text = changed(FAN, ("  W1.white -- CF.neutral\n", "  cap W1.white\n"))
    assert leads(text) == [("CF", "advice", ["CF.light-hot", "CF.neutral"], [])]


def test_a_lead_that_is_fed_through_the_device_is_live() -> None:
    stat = """\
board "A thermostat of two poles"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box B device 20.3 cu in
cable W1 14/2 NM-B 11 ft from LP to B
TH is line-voltage-thermostat in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- TH.line-1
  W1.bare -- TH.ground
  cap W1.white
  cap TH.line-2
"""
    assert leads(stat) == [("TH", "hazard", ["TH.load-1", "TH.load-2"], ["TH.load-1"])]
    assert leads(stat + "  cap TH.load-1\n") == [("TH.load-2", "advice", ["TH.load-2"], [])]


def test_an_empty_screw_is_no_lead_and_a_device_with_no_wire_has_none_loose() -> None:
    assert not leads(changed(STAIR, ("  W2.red -- S1.traveler-2\n", "  cap W2.red\n")))
    off = changed(FAN, ("  W1.black -- CF.fan-hot\n", "  cap W1.black\n"), ("  W1.white -- CF.neutral\n", ""))
    assert not leads(off)
    # The lead of the ground is of the rule of grounds.
    assert leads(changed(FAN, ("  W1.bare -- CF.ground\n", "  cap W1.bare\n"))) == leads(FAN)


def test_what_says_why_a_device_is_dead_says_it_of_its_leads_too() -> None:
    text = changed(FAN, ("  W1.white -- CF.neutral\n", "  cap W1.white\n"))
    assert "loose-conductor" not in reported(text)
    assert "dead-outlet" in reported(text)


def test_a_loose_neutral_that_two_hots_share_is_said_to_be_one() -> None:
    """Behind a receptacle that watches for faults, too. On one leg alone nothing burns out."""
    path = files.folder("boards") / "kitchen-multiwire" / "wrong-neutral-loose-at-the-panel.wire"
    text = path.read_text(encoding="utf-8")
    (found,) = said(RULE, text)
    assert "Two hots share it as their neutral" in found.message
    (found,) = said(RULE, text.replace("TP.15", "TP.17"))
    assert "Two hots" not in found.message
