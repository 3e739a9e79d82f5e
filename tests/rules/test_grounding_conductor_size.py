"""Grounding conductors against Table 250.122 and the worked example of the handbook."""

from __future__ import annotations

import pytest

from tests.rules.circuits import MOTOR, feeder, one_load
from tests.rules.hands import COOLING, STAIR, changed, own, seen
from wirecheck import check
from wirecheck.rules.grounding_conductor_size import RULE

THIN = own("grounding-conductor-size", "thin-bond")


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("breaker", "hot", "least", "smaller"),
    # Table 250.122, copper, with hots of the least size for that breaker.
    [(60, "6", "10", "12"), (100, "3", "8", "10"), (200, "3/0", "6", "8")],
)
def test_table_250_122(breaker: int, hot: str, least: str, smaller: str) -> None:
    assert not seen(RULE, feeder(hot, least, breaker))
    (one,) = seen(RULE, feeder(hot, smaller, breaker))
    assert (one.subject, one.severity, one.stage, one.need.size) == ("G", "hazard", "rough-in", least)
    assert (one.need.guard.name, one.need.listed, one.need.grew, one.need.capped) == ("LP.1", least, 1, False)
    assert one.at.span.line == 8
    assert one.copper


def test_it_grows_with_the_hots() -> None:
    # The example of the NEC Handbook at 250.122(B), from memory: 250 A, 250 kcmil made 350 kcmil for voltage
    # drop; 41,740 CM (4 AWG) x 350/250 = 58,436 CM, so 2 AWG (66,360 CM).
    assert not seen(RULE, feeder("250 kcmil", "4", 250, "3 in"))
    assert not seen(RULE, feeder("350 kcmil", "2", 250, "3 in"))
    (one,) = seen(RULE, feeder("350 kcmil", "4", 250, "3 in"))
    assert (one.need.size, one.need.listed, one.need.least) == ("2", "4", "250 kcmil")
    assert one.need.grew == pytest.approx(1.4)
    assert not one.need.capped
    # It meets the table, and does not burn off.
    assert (one.severity, one.burns, one.as_made) == ("violation", False, False)
    (one,) = seen(RULE, feeder("350 kcmil", "6", 250, "3 in"))
    assert (one.severity, one.burns) == ("hazard", True)
    # 3 AWG (52,620 CM) is a little too thin.
    assert len(seen(RULE, feeder("350 kcmil", "3", 250, "3 in"))) == 1


def test_it_grows_by_the_size_that_has_the_ampacity_and_not_by_the_next_rating_up() -> None:
    # 60 A: 4 AWG has 70 A at 60 C, and 6 AWG 55 A; 3 AWG is 1.26 times the first.
    (one,) = seen(RULE, feeder("3", "10", 60))
    assert (one.need.least, one.need.size) == ("4", "8")
    assert not seen(RULE, feeder("3", "8", 60))


def test_wires_that_have_their_size_by_60_c_are_not_larger_than_they_need_be() -> None:
    # forums.mikeholt.com, "increased in size": 6 AWG with a 10 AWG ground is what 50 A at 60 C asks for.
    assert not seen(RULE, feeder("6", "10", 50))
    assert not seen(RULE, feeder("4", "10", 60))
    (one,) = seen(RULE, feeder("4", "10", 50))
    assert (one.severity, one.need.least, one.need.size) == ("violation", "6", "8")
    # Above 100 A the screws are of 75 C, marked or not.
    assert len(seen(RULE, feeder("1/0", "6", 110))) == 1


def test_a_cable_with_the_ground_that_it_is_made_with_is_advised_on() -> None:
    # 8 AWG NM-B has a 10 AWG ground; 20 A asks for 12 AWG, and 250.122(B) for 2.53 times that: 8 AWG.
    def behind(breaker: int) -> list:
        return seen(RULE, one_load("8/2 NM-B 20 ft", breaker=f"{breaker} A"))

    (one,) = behind(20)
    assert (one.severity, one.burns, one.as_made) == ("advice", False, True)
    assert (one.conductor.size, one.need.listed, one.need.least, one.need.size) == ("10", "12", "12", "8")
    assert not behind(40)


def test_a_thin_ground_that_is_capped_by_the_hots_burns() -> None:
    # 25 A asks for 10 AWG; beside 14 AWG hots 14 AWG will do, and 16 AWG will not.
    (one,) = seen(RULE, feeder("14", "16", 25, "1/2 in"))
    assert (one.severity, one.burns) == ("hazard", True)


def test_it_need_not_be_larger_than_the_hots() -> None:
    # 250.122(A), with a motor whose breaker is large for its start (430.52).
    motor = "motor with current 10 A, voltage 120 V"
    assert not seen(RULE, one_load("14/2 NM-B 20 ft", motor, "25 A", screws=MOTOR))
    thin = feeder("14", "16", 25, "1/2 in")
    (one,) = seen(RULE, thin)
    assert (one.need.size, one.need.listed, one.need.capped) == ("14", "10", True)


def test_of_several_grounds_the_largest_counts() -> None:
    more = "wire G2 10 THWN-2 green 100 ft from LP to H1 in R1\nat LP\n"
    ends = ("at H1\n", "at LP\n  G2 -- LP.ground\nat H1\n  cap G2\n")
    assert not seen(RULE, changed(feeder("6", "12", 60), ("at LP\n", more), ends))


def test_of_several_circuits_in_a_raceway_the_one_that_asks_for_most_counts() -> None:
    more = """breaker LP.5 15 A
wire B1 14 THWN-2 blue 100 ft from LP to H1 in R1
wire B2 14 THWN-2 white 100 ft from LP to H1 in R1
L1 is lampholder 60 W in H1
at LP
  B1 -- LP.5
  B2 -- LP.neutral
at H1
  B1 -- L1.hot
  B2 -- L1.neutral
at LP
"""
    text = feeder("6", "12", 60).replace("at LP\n", more, 1)
    (one,) = seen(RULE, text)
    assert one.need.guard.name == "LP.1"
    first = text.replace("breaker LP.1 60 A 2-pole\n", "").replace(
        "LP.5 15 A\n", "LP.5 15 A\nbreaker LP.1 60 A 2-pole\n"
    )
    assert [one.need.guard.name for one in seen(RULE, first)] == ["LP.1"]


def test_wires_side_by_side_between_two_places_share_their_ground() -> None:
    text = (
        feeder("6", "12", 60).replace(" in R1", "").replace("raceway R1 PVC 2 in 100 ft from LP to H1\n", "")
    )
    (one,) = seen(RULE, text)
    assert one.need.size == "10"
    elsewhere = text.replace(
        "wire G 12 THWN-2 green 100 ft from LP to H1",
        "box B junction 42 cu in\nwire G 12 THWN-2 green 100 ft from LP to B",
    )
    elsewhere = elsewhere.replace("at H1\n", "at B\n  cap G\nat H1\n").replace(
        "  A2 -- H1.b\n  cap G\n", "  A2 -- H1.b\n"
    )
    assert not seen(RULE, elsewhere)


def test_each_cable_has_its_own_ground() -> None:
    # A cable's ground does not serve the cable beside it.
    text = one_load("14/2 NM-B 20 ft", breaker="15 A") + "cable W2 10/2 NM-B 20 ft from LP to B\n"
    assert not seen(RULE, text + "at LP\n  cap W2.bare\nat B\n  cap W2.bare\n")


def test_green_in_a_thermostats_cable_is_no_ground() -> None:
    text = feeder("6", "10", 60).replace("at LP\n", "cable TW 18/5 CL2 100 ft from LP to H1\nat LP\n")
    assert not seen(RULE, text)


def test_aluminum_is_looked_up_in_its_own_column() -> None:
    # Table 250.122: 60 A asks for 10 AWG copper or 8 AWG aluminum.
    text = feeder("4", "10", 60)
    for color in ("black", "red", "green"):
        text = text.replace(f"THWN-2 {color}", f"THWN-2 {color} aluminum")
    (one,) = seen(RULE, text)
    assert (one.need.material, one.need.listed) == ("aluminum", "8")


def test_beyond_the_table_nothing_is_asked() -> None:
    assert not seen(RULE, feeder("6", "12", 60).replace("LP.1 60 A", "LP.1 6001 A"))


def test_a_ground_as_large_as_the_hots_is_asked_for_by_the_table() -> None:
    (one,) = seen(RULE, feeder("14", "16", 15, "1/2 in"))
    assert (one.need.size, one.need.listed, one.need.capped) == ("14", "14", False)


def test_beside_the_way_back_of_a_fused_control_circuit_nothing_grows() -> None:
    """NEC 250.122(B) asks it of ungrounded conductors: the neutral that a 5 A fuse shares is none."""
    text = """board "A control circuit behind a fuse"
panel LP 120/240 V, 10 kA available
breaker LP.1 40 A 2-pole
box E junction 400 cu in
raceway R EMT 3/4 in 20 ft from LP to E
wire A 8 THHN black 21 ft from LP to E in R
wire B 8 THHN red 21 ft from LP to E in R
wire N 8 THHN white 21 ft from LP to E in R
wire G 10 THHN green 21 ft from LP to E in R
F1 is fuse 5 A in E
P is circulator in E
H is heater 6000 W in E
at LP
  A -- LP.1.a
  B -- LP.1.b
  N -- LP.neutral
  G -- LP.ground
at E
  A -- pigtail -- H.a -- pigtail -- F1.line
  B -- H.b
  F1.load -- P.hot
  N -- pigtail -- P.neutral
  G -- pigtail -- H.ground -- pigtail -- P.ground
"""
    assert not seen(RULE, text)
    (one,) = seen(RULE, changed(text, ("G 10 THHN", "G 12 THHN")))
    assert (one.need.guard.name, one.need.size) == ("LP.1", "10")


def test_a_jumper_to_one_device_has_the_size_for_what_feeds_it() -> None:
    """NEC 250.122(A): XF is behind fuses of 1 A, and the contactor beside it behind 30 A."""
    text = changed(THIN, ("wire xb 16", "wire xb 14"))
    assert not seen(RULE, text)
    (one,) = seen(
        RULE,
        changed(
            text,
            ("  xg -- XF.ground\n", "  xg -- XF.ground -- pigtail -- D1.ground\n"),
            ("F1 is fuse", "D1 is disconnect-2-pole 30 A in E\nF1 is fuse"),
        ),
    )
    assert (one.conductor.name, one.need.size) == ("xg", "10")


@pytest.mark.parametrize(("tail", "least"), [("pigtail 12", "12"), ("pigtail 10", "10"), ("pigtail", "10")])
def test_a_jumper_to_a_device_behind_a_pigtail_has_the_size_for_that(tail: str, least: str) -> None:
    """NEC 250.122(A): no larger than the wires that feed it, and those are the pigtail's size."""

    def behind(size: str) -> str:
        return changed(
            THIN,
            ("wire xb 16", "wire xb 14"),
            ("wire xg 14", f"wire xg {size}"),
            ("F1 is fuse", "C is low-pressure-control in E\nF1 is fuse"),
            ("  xg -- XF.ground\n", "  xg -- C.ground\n"),
            ("  Q1 -- M.L1\n", f"  Q1 -- {tail} -- C.a -- pigtail 10 -- M.L1\n"),
        )

    (one,) = seen(RULE, behind("14"))
    assert (one.conductor.name, one.need.size, one.need.listed) == ("xg", least, "10")
    assert not seen(RULE, behind(least))


def test_a_pigtail_larger_than_need_be_says_that_it_is_one() -> None:
    """NEC 250.122(B): the jumper grows with the pigtail, which is smaller than the wire that it comes off."""
    text = changed(
        THIN,
        ("wire xb 16", "wire xb 14"),
        ("breaker LP.1 30 A", "breaker LP.1 15 A"),
        ("F1 is fuse", "C is low-pressure-control in E\nF1 is fuse"),
        ("  xg -- XF.ground\n", "  xg -- C.ground\n"),
        ("  Q1 -- M.L1\n", "  Q1 -- pigtail 12 -- C.a -- pigtail 10 -- M.L1\n"),
    )
    (one,) = (one for one in check(text).findings if one.rule == "grounding-conductor-size")
    assert "The pigtail of Q1 is 12 AWG where 14 AWG would do" in (one.help or "")


def test_the_bond_of_a_transformer_goes_by_what_the_transformer_feeds() -> None:
    """NEC 250.30(A)(1) (from memory): for a control circuit no smaller than its wires, nor than 14 AWG."""
    text = changed(THIN, ("wire xb 16", "wire xb 14"))
    (one,) = seen(RULE, THIN)
    assert (one.conductor.name, one.size, one.severity) == ("xb", "14", "violation")
    (one,) = seen(RULE, changed(text, ("wire x1 14", "wire x1 12")))
    assert (one.conductor.name, one.size) == ("xb", "12")
    # With a wire of the supply's ground at that end it is no bond, but a part of that.
    both = changed(text, ("  xb -- XF.X2\n", "  xb -- xg -- pigtail -- XF.X2\n"), ("  xg -- XF.ground\n", ""))
    assert [(one.conductor.name, one.need.size) for one in seen(RULE, both)] == [("xg", "10")]
