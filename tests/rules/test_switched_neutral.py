"""Switches in the neutral, and those that may be there."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, LIGHT, LOOP, STAIR, changed, own, reported, seen
from tests.samples import board
from wirecheck import check, files
from wirecheck.judge.case import Case
from wirecheck.rules.switched_neutral import RULE, FusedGround

WIRES = "  W1.black -- S1.line\n  W2.black -- S1.load\n  W1.white -- W2.white\n"
NEUTRAL = changed(LIGHT, (WIRES, "  W1.white -- S1.line\n  W2.white -- S1.load\n  W1.black -- W2.black\n"))
TWO_POLES = changed(
    LIGHT,
    ("S1 is single-pole-switch", "S1 is double-pole-switch"),
    (WIRES, "  W1.black -- S1.line-1\n  W2.black -- S1.load-1\n"
            "  W1.white -- S1.line-2\n  W2.white -- S1.load-2\n"),
)  # fmt: skip


@pytest.mark.parametrize("text", [STAIR, LOOP, CHAIN, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_switch_in_the_white_wire() -> None:
    """NEC 2023 404.2(B)."""
    (found,) = seen(RULE, NEUTRAL)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "S1")
    assert (found.near, found.far, [load.name for load in found.loads]) == ("S1.line", "S1.load", ["L1"])
    assert NEUTRAL.splitlines()[found.at.span.line - 1] == "  W1.white -- S1.line"
    assert len(found.copper) == 2
    assert reported(NEUTRAL) == ["switched-neutral"]


def test_what_is_no_switch_is_passed_over() -> None:
    text = changed(NEUTRAL, ("S1 is", "TH is line-voltage-thermostat in A\nS1 is"))
    assert [found.subject for found in seen(RULE, text)] == ["S1"]


def test_a_light_on_the_whole_neutral_is_not_behind_the_switch() -> None:
    text = changed(
        NEUTRAL,
        ("  W1.white -- S1.line\n", "  W1.white -- pigtail -- L2.neutral -- pigtail -- S1.line\n"),
        ("  W1.black -- W2.black\n", "  W1.black -- W2.black -- pigtail -- L2.hot\n"),
        ("S1 is", "L2 is lampholder 60 W in A\nS1 is"),
    )
    (found,) = seen(RULE, text)
    assert [load.name for load in found.loads] == ["L1"]


def test_a_light_without_a_hot_is_not_live() -> None:
    assert not seen(RULE, changed(NEUTRAL, ("W2.black -- L1.hot", "cap W2.black")))


def test_either_screw_may_be_the_one_at_the_neutral() -> None:
    turned = NEUTRAL.replace("S1.line", "S1.x").replace("S1.load", "S1.line").replace("S1.x", "S1.load")
    (found,) = seen(RULE, turned)
    assert (found.near, found.far) == ("S1.load", "S1.line")


def test_two_switches_in_one_neutral_name_what_is_behind_each() -> None:
    text = changed(
        NEUTRAL,
        ("  W1.black -- W2.black\n", "  W1.black -- W2.black -- W3.black\n  W3.white -- S2.load\n"),
        ("  W1.white -- S1.line\n", "  W1.white -- pigtail -- S1.line -- pigtail -- S2.line\n"),
        ("S1 is", "box C octagon 15.5 cu in\ncable W3 14/2 NM-B 4 ft from A to C\n"
                  "S2 is single-pole-switch in A\nL2 is lampholder 60 W in C\nS1 is"),
    ) + "at C\n  W3.black -- L2.hot\n  W3.white -- L2.neutral\n"  # fmt: skip
    assert [(one.subject, [load.name for load in one.loads]) for one in seen(RULE, text)] == [
        ("S2", ["L2"]),
        ("S1", ["L1"]),
    ]


def test_three_way_switches_in_the_neutral_are_one_problem_each() -> None:
    """Only the one that the neutral comes to: the other gets it through a switch."""
    text = changed(
        STAIR,
        ("  W1.black -- S1.common\n", "  W1.white -- S1.common\n"),
        ("  W1.white -- W2.white\n", "  W1.black -- W2.white\n"),
        ("  W3.black -- S2.common\n", "  W3.white -- S2.common\n"),
        ("  W2.white -- W3.white\n", "  W2.white -- W3.black\n"),
    )
    (found,) = seen(RULE, text)
    assert (found.subject, found.near, [load.name for load in found.loads]) == ("S1", "S1.common", ["L1"])


def test_a_two_pole_switch_may_open_both() -> None:
    """NEC 2023 404.2(B), exception: all conductors at once."""
    assert not seen(RULE, TWO_POLES)


def test_two_poles_that_do_not_open_together_may_not() -> None:
    part = (
        'part crossed-switch "Two poles, each closed while the other is open"\nsource "a test"\n'
        "terminal line-1 hot\nterminal load-1 switched\nterminal line-2 hot\nterminal load-2 switched\n"
        "terminal ground ground\npositions on, off\nline-1 -- load-1 when on\nline-2 -- load-2 when off\n"
    )
    text = TWO_POLES.replace("double-pole-switch", "crossed-switch")
    made = board(text, {"crossed-switch": part})
    assert not made.problems
    assert [found.subject for found in RULE.find(Case(made))] == ["S1"]


def test_a_switch_in_a_neutral_that_nothing_uses_is_none() -> None:
    text = changed(
        NEUTRAL, ("  W2.black -- L1.hot\n  W2.white -- L1.neutral\n", "  cap W2.black\n  cap W2.white\n")
    )
    assert not seen(RULE, text)


def test_a_control_circuit_may_switch_its_common() -> None:
    """24 V: no hand is hurt there."""
    text = changed(
        NEUTRAL,
        ("L1 is lampholder 60 W in B", "L1 is bell in B"),
    )
    part = (
        'part bell "A bell of a low voltage"\nsource "a test"\nterminal hot hot\nterminal neutral neutral\n'
        "terminal ground ground\nload bell lamp from hot to neutral, 5 W at {volts} V\n"
    )
    for volts, told in ((49, 0), (50, 1)):
        made = board(text, {"bell": part.format(volts=volts)})
        assert not made.problems
        assert len(list(RULE.find(Case(made)))) == told


def test_what_follows_from_swapped_wires_is_reported_there() -> None:
    text = changed(
        LIGHT,
        ("  W1.black -- LP.3\n  W1.white -- LP.neutral\n", "  W1.white -- LP.3\n  W1.black -- LP.neutral\n"),
    )
    assert [one.subject for one in seen(RULE, text)] == ["S1"]
    assert reported(text) == ["reversed-polarity"]


def test_beside_a_reversed_light_a_right_one_is_still_told_of() -> None:
    """One of two lights is swapped: the switch opens the neutral of the other all the same."""
    text = changed(
        NEUTRAL,
        ("  W2.black -- L1.hot\n  W2.white -- L1.neutral\n",
         "  W2.black -- W3.black -- pigtail -- L1.hot\n  W2.white -- W3.white -- pigtail -- L1.neutral\n"),
        ("S1 is", "box C octagon 15.5 cu in\ncable W3 14/2 NM-B 4 ft from B to C\n"
                  "L2 is lampholder 60 W in C\nS1 is"),
    ) + "at C\n  W3.white -- L2.hot\n  W3.black -- L2.neutral\n  W3.bare -- L2.ground\n"  # fmt: skip
    (found,) = seen(RULE, text)
    assert [load.name for load in found.loads] == ["L2", "L1"]
    assert {"reversed-polarity", "switched-neutral"} <= set(reported(text))


RELAY = """\
board "A pump behind a relay"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A square 30.3 cu in
K is relay-dpdt in A
T is class-2-transformer in A
P is motor in A
S is single-pole-switch in A
cable W1 14/2 NM-B 11 ft from LP to A
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.bare -- T.ground -- pigtail -- S.ground
  W1.black -- S.line
  S.load -- T.primary-hot -- HOT
  W1.white -- T.primary-neutral -- NEUTRAL
"""
OPENS_NEUTRAL = RELAY.replace("HOT", "P.a").replace("NEUTRAL", "K.common-1\n  P.b -- K.no-1")


@pytest.mark.parametrize("contact", ["no", "nc"])
def test_a_relay_in_the_neutral(contact: str) -> None:
    """NEC 430.85 (from memory): whichever way its contact stands at rest."""
    text = OPENS_NEUTRAL.replace("no-1", f"{contact}-1")
    (found,) = seen(RULE, text)
    assert (found.severity, found.subject, found.near) == ("hazard", "K", "K.common-1")
    assert [one.name for one in found.loads] == ["P"]


def test_a_relay_in_the_hot_is_right() -> None:
    assert not seen(RULE, RELAY.replace("HOT", "K.common-1\n  P.a -- K.no-1").replace("NEUTRAL", "P.b"))


BOTH = RELAY.replace("HOT", "K.common-1\n  P.a -- K.no-1").replace("NEUTRAL", "K.common-2\n  P.b -- K.no-2")


def test_two_poles_that_open_together_may_open_both() -> None:
    """Behind a switch too, so that the hot is one that is switched."""
    assert not seen(RULE, BOTH)


@pytest.mark.parametrize(
    "wires",
    [
        "K.nc-1 -- P.a",  # the hot comes while the neutral is open
        "K.common-1 -- P.a",  # the hot goes around its pole
    ],
)
def test_two_poles_of_which_the_hots_leaves_it_live_may_not(wires: str) -> None:
    around = BOTH.replace("T.primary-hot -- K.common-1", "T.primary-hot -- K.common-1 -- P.a")
    text = around if "common" in wires else BOTH.replace("P.a -- K.no-1", "P.a -- K.nc-1")
    (found,) = seen(RULE, text)
    assert found.near == "K.common-2"


def test_a_control_that_heat_moves() -> None:
    text = OPENS_NEUTRAL.replace("K is relay-dpdt in A", "K is limit-switch in A")
    text = text.replace("K.common-1", "K.a").replace("K.no-1", "K.b")
    (found,) = seen(RULE, text)
    assert (found.subject, found.near, found.far) == ("K", "K.a", "K.b")


def test_a_transformer_and_a_receptacle_behind_it_count_too() -> None:
    text = changed(
        NEUTRAL,
        ("  W2.black -- L1.hot\n  W2.white -- L1.neutral\n  W2.bare -- L1.ground\n",
         "  W2.black -- T.primary-hot -- pigtail -- R.hot\n  W2.bare -- T.ground -- pigtail -- R.ground\n"
         "  W2.white -- T.primary-neutral -- pigtail -- R.neutral\n"),
        ("L1 is lampholder 60 W in B", "T is class-2-transformer in B\nR is single-receptacle 15 A in B"),
    )  # fmt: skip
    (found,) = seen(RULE, text)
    assert [one.device for one in found.loads] == ["T", "R"]


def test_what_a_load_opens_inside_is_its_makers_matter() -> None:
    """A small compressor's protector is on its first lead, whichever that is given."""
    text = RELAY.replace("P is motor", "P is small-compressor")
    text = text.replace("HOT", "P.b").replace("NEUTRAL", "P.a")
    assert not seen(RULE, text)


FUSE = changed(
    NEUTRAL,
    ("S1 is single-pole-switch", "S1 is fuse 10 A"),
    ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- W2.bare"),
)


@pytest.mark.parametrize(("near", "far"), [("line", "load"), ("load", "line")])
def test_a_fuse_in_the_white_wire(near: str, far: str) -> None:
    """NEC 2023 240.22."""
    text = FUSE.replace("S1.line", f"S1.{near}").replace("W2.white -- S1.load", f"W2.white -- S1.{far}")
    (found,) = seen(RULE, text)
    assert (found.severity, found.subject, found.near, found.far) == (
        "hazard",
        "S1",
        f"S1.{near}",
        f"S1.{far}",
    )
    assert [one.name for one in found.loads] == ["L1"]
    assert text.splitlines()[found.at.span.line - 1] == f"  W1.white -- S1.{near}"
    assert len(found.copper) == 1


def test_a_fuse_in_the_black_wire_is_right() -> None:
    turned = FUSE.replace("W1.white -- S1.line\n  W2.white -- S1.load\n  W1.black -- W2.black", "HERE")
    text = turned.replace("HERE", "W1.black -- S1.line\n  W2.black -- S1.load\n  W1.white -- W2.white")
    assert not seen(RULE, text)


def test_a_fuse_in_the_white_with_a_switch_in_it_too() -> None:
    """Behind a switch the white is still the neutral."""
    text = changed(
        FUSE,
        ("  W1.white -- S1.line\n", "  W1.white -- S2.line\n  S2.load -- S1.line\n"),
        ("L1 is", "S2 is single-pole-switch in A\nL1 is"),
    )
    assert sorted(found.subject for found in seen(RULE, text)) == ["S1", "S2"]


def test_a_fuse_that_something_goes_around_leaves_nothing_live() -> None:
    assert not seen(RULE, changed(FUSE, ("W2.white -- S1.load", "W2.white -- S1.load -- S1.line")))


def test_a_ground_fault_device_opens_both() -> None:
    assert not seen(RULE, CHAIN)


GROUNDED = own("switched-neutral", "fuse-in-the-grounded-side")
FUSED = "  TX.X2 -- pigtail 14 -- F3.line\n"
ON_GROUND = "  TX.X2 -- pigtail 14 -- GB.ground\n"
BACK = "  K.A2 -- pigtail 14 -- F3.load\n"
# The same fuse in the hot side.
IN_HOT = changed(
    GROUNDED,
    (FUSED, "  TX.X1 -- pigtail 14 -- F3.line\n"),
    (BACK, "  K.A2 -- pigtail 14 -- TX.X2\n"),
    ("  TX.X1 -- P1\n", "  F3.load -- P1\n"),
)


def test_a_fuse_in_the_grounded_side_of_a_control_circuit() -> None:
    """NEC 2023 240.22: no overcurrent device in series with any conductor that is intentionally grounded."""
    (found,) = seen(RULE, GROUNDED)
    assert isinstance(found, FusedGround)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "F3")
    assert (found.near, found.far, found.hot) == ("F3.line", "F3.load", "TX.X1")
    assert [one.name for one in found.loads] == ["K"]
    assert GROUNDED.splitlines()[found.at.span.line - 1] == FUSED.rstrip()
    assert reported(GROUNDED) == ["switched-neutral"]
    (told,) = check(GROUNDED, effort=400).findings
    assert [one.mistake for one in told.mends] == [
        "At E, F3.line and F3.load are in the wrong wire, and belong in series with P1: F3.load with P1, and "
        "F3.line on TX.X1."
    ]
    assert reported(IN_HOT) == []


def test_a_fuse_between_the_grounded_side_and_the_ground() -> None:
    """Once it blows the whole circuit floats, and the first wire that touches metal is its ground."""
    text = changed(
        GROUNDED,
        (FUSED, "  TX.X2 -- F3.line\n"),
        (ON_GROUND, ""),
        (BACK, "  K.A2 -- pigtail 14 -- F3.load -- pigtail 14 -- GB.ground\n"),
    )
    (found,) = seen(RULE, text)
    assert (found.subject, found.near, found.far) == ("F3", "F3.load", "F3.line")


def test_a_fuse_in_either_side_of_what_floats_is_in_no_ground() -> None:
    assert not seen(RULE, changed(GROUNDED, (ON_GROUND, "")))


def test_a_fuse_that_a_wire_goes_around_opens_no_grounded_side() -> None:
    text = changed(GROUNDED, (BACK, "  K.A2 -- pigtail 14 -- F3.load\n  K.A2 -- TX.X2\n"))
    assert not seen(RULE, text)


def test_of_a_changeover_one_throw_is_closed_at_a_time() -> None:
    """A relay that gives a lamp the hot or the ground ties the two no more than it ties a load to itself."""
    text = changed(
        GROUNDED,
        ("GB is ground-bar", "SEL is relay-spdt in E\nGB is ground-bar"),
        ("  TX.X1 -- P1\n", "  TX.X1 -- P1\n  TX.X1 -- SEL.no\n  TX.X2 -- SEL.nc\n"),
    )
    found = [one for one in seen(RULE, text) if isinstance(one, FusedGround)]
    assert [(one.subject, one.hot) for one in found] == [("F3", "TX.X1")]
    hot = changed(
        IN_HOT,
        ("GB is ground-bar", "SEL is relay-spdt in E\nGB is ground-bar"),
        ("  F3.load -- P1\n", "  F3.load -- P1\n  F3.load -- SEL.no\n  TX.X2 -- SEL.nc\n"),
    )
    assert not [one for one in seen(RULE, hot) if isinstance(one, FusedGround)]


def test_what_opens_there_as_a_motor_is_overloaded_is_no_fuse() -> None:
    """NEC 430.36 with 240.22, exception 2: an overload; its contact is often in the grounded side."""
    assert not seen(
        RULE, (files.folder("boards") / "motor-control-transformer" / "right.wire").read_text("utf-8")
    )


LOW = """\
board "A contactor on 24 V with a fuse in its common"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
box A square 42 cu in
cable W1 14/2 NM-B 9 ft from LP to A
T is class-2-transformer in A
F is fuse 3 A in A
TH is heat-only-thermostat in A
K is relay-dpdt in A
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- T.primary-hot
  W1.white -- T.primary-neutral
  W1.bare -- T.ground -- pigtail 18 -- T.secondary-c
  T.secondary-r -- TH.R
  TH.W -- K.coil-a
  T.secondary-c -- F.line
  F.load -- K.coil-b
"""


def test_where_no_hand_is_hurt_it_is_against_the_code_all_the_same() -> None:
    (found,) = seen(RULE, LOW)
    assert (found.severity, found.subject, [one.name for one in found.loads]) == ("violation", "F", ["K"])


def test_a_fuse_in_a_grounded_side_is_found_however_many_relays_stand_elsewhere() -> None:
    idle = "".join(f"Q{one} is relay-spdt in E\n" for one in range(8))
    (found,) = seen(RULE, changed(GROUNDED, ("\nat E\n", f"\n{idle}\nat E\n")))
    assert isinstance(found, FusedGround) and found.subject == "F3"
