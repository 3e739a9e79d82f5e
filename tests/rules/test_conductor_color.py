"""Colors and marks against what the copper is used for."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import (
    COOLING,
    HALVES,
    LIGHT,
    LOOP,
    STAIR,
    at,
    case,
    changed,
    own,
    reported,
    said,
    seen,
)
from wirecheck import files
from wirecheck.model.board import Join
from wirecheck.rules.conductor_color import (
    POWER_COLORS,
    RULE,
    ColorsSwapped,
    GroundAsHot,
    HotColorAs,
    MarkedAsNoHot,
    Miscolored,
    SingleWhiteAsHot,
    UnusualColor,
    WhiteComesBack,
    WhiteMarked,
    WhiteNotMarked,
    WhiteOnGround,
)


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, LIGHT, HALVES])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_every_kind_at_line_voltage_is_among_them() -> None:
    """Reversed polarity hides each of them."""
    kinds = {kind.__name__ for kind in Miscolored.__subclasses__()}
    assert {kind.__name__ for kind in (*POWER_COLORS, UnusualColor)} == kinds


# ------------------------------------------------------- the white of a cable


@pytest.mark.parametrize("end", ["W1.black -- W2.white marked black", "W2.white marked black -- S1.line"])
def test_a_white_hot_must_be_marked_at_each_end(end: str) -> None:
    """NEC 2023 200.7(C)."""
    bare = end.replace(" marked black", "")
    text = changed(LOOP, (end, bare))
    (found,) = seen(RULE, text)
    assert isinstance(found, WhiteNotMarked)
    assert (found.severity, found.stage, found.subject, found.partly) == (
        "violation",
        "trim",
        "W2.white",
        True,
    )
    assert at(text, found) == bare
    assert found.copper == {case(text).uses.piece["W2.white@A"]}
    assert {one.rule for one in wirecheck.check(text).findings} <= {"conductor-color", "neutral-at-switch"}


def test_a_white_hot_that_is_marked_nowhere_is_found_once() -> None:
    (found,) = seen(RULE, own("conductor-color", "not-marked-anywhere"))
    assert [join.place for join in found.joins] == ["B", "A"]
    assert not found.partly


def test_gray_is_as_white() -> None:
    """200.6(A): white or gray."""
    assert not seen(RULE, WIRE.format(size="12", color="grey", mark="", at="LP.neutral"))
    text = WIRE.format(size="12", color="gray", mark="", at="LP.3")
    assert {type(one) for one in seen(RULE, text)} == {SingleWhiteAsHot}


def test_in_a_switch_loop_the_white_is_the_feed() -> None:
    """NEC 2023 200.7(C)(1)."""
    (found,) = seen(RULE, own("conductor-color", "back-on-the-white"))
    assert isinstance(found, WhiteComesBack)
    assert (found.severity, found.subject, found.feed.name) == ("violation", "W2.white", "W2.black")
    (found,) = seen(RULE, own("conductor-color", "back-on-the-white-from-another-cable"))
    assert isinstance(found, WhiteComesBack)
    assert (found.subject, found.feed) == ("W3.white", None)


def test_the_marked_white_may_come_back_to_a_receptacle_of_240_volts_or_be_a_traveler() -> None:
    """It comes back only to what works against a neutral."""
    assert not seen(RULE, files.rule_board("conductor-color", "right"))
    traveler = changed(
        STAIR,
        ("cable W2 14/3", "cable W2 14/4"),
        ("  W2.red -- S1.traveler-2\n", "  W2.white marked red -- S1.traveler-2\n  cap W2.red\n"),
        ("  W2.red -- S2.traveler-2\n", "  W2.white marked red -- S2.traveler-2\n  cap W2.red\n"),
        ("  W1.white -- W2.white\n", "  W1.white -- W2.blue marked white\n"),
        ("  W2.white -- W3.white\n", "  W2.blue marked white -- W3.white\n"),
    )
    assert [type(one) for one in seen(RULE, traveler)] == [HotColorAs]


def test_the_way_back_to_a_switched_half_of_a_receptacle() -> None:
    """An outlet works against a neutral as a lamp does."""
    text = changed(
        HALVES,
        ("W2 14/3", "W2 14/4"),
        ("  W2.red -- S1.load\n", "  W2.white marked red -- S1.load\n  cap W2.red\n"),
        ("  W2.red -- R1.hot\n", "  W2.white marked red -- R1.hot\n  cap W2.red\n"),
        ("  W2.black -- R1.hot\n", "  cap W2.black\n"),
        ("W1.black -- W2.black -- pigtail -- S1.line", "W1.black -- S1.line\n  cap W2.black"),
        ("  W1.white -- W2.white\n", "  W1.white -- W2.blue marked white\n"),
        ("  W2.white -- R1.neutral\n", "  W2.blue marked white -- R1.neutral\n"),
    )
    assert {type(one) for one in seen(RULE, text)} == {ColorsSwapped}


def test_a_mark_on_a_neutral_is_taken_off() -> None:
    text = own("conductor-color", "mark-on-a-neutral")
    (found,) = seen(RULE, text)
    assert isinstance(found, WhiteMarked)
    assert (found.severity, found.subject, found.use, found.marked.marked) == (
        "violation",
        "W1.white",
        "neutral",
        "black",
    )
    # The end that is not marked is the odd one of the two.
    assert (at(text, found), found.place, found.here) == ("W1.white -- LP.neutral", "A", True)
    both = own("conductor-color", "mark-on-both-ends-of-a-neutral")
    (found,) = seen(RULE, both)
    assert (at(both, found), found.place, found.here) == ("W1.white marked black -- LP.neutral", "LP", False)


@pytest.mark.parametrize(
    ("mark", "kinds"), [("white", []), ("gray", []), ("green", [WhiteMarked]), ("red", [WhiteMarked])]
)
def test_marks_on_a_neutral(mark: str, kinds: list[type]) -> None:
    text = changed(STAIR, ("W1.white -- W2.white", f"W1.white marked {mark} -- W2.white"))
    assert [type(one) for one in seen(RULE, text)] == kinds


def test_a_white_that_is_a_hot_and_is_marked_as_none() -> None:
    """NEC 2023 200.7(C)."""
    text = own("conductor-color", "white-marked-green")
    (found,) = seen(RULE, text)
    assert isinstance(found, MarkedAsNoHot)
    assert (found.severity, found.subject, found.marked.marked) == ("violation", "W2.white", "green")
    assert at(text, found) == "W1.black -- W2.white marked green"
    one_end = changed(text, ("W1.black -- W2.white marked green", "W1.black -- W2.white marked black"))
    (found,) = seen(RULE, one_end)
    assert at(one_end, found) == "W2.white marked green -- S1.line"


def test_a_hot_that_is_marked_white() -> None:
    text = own("conductor-color", "hot-marked-white")
    (found,) = seen(RULE, text)
    assert isinstance(found, MarkedAsNoHot)
    assert at(text, found) == "W2.black marked white -- L1.hot"
    assert not seen(RULE, changed(text, ("black marked white", "black marked red")))


# --------------------------------------------------------------- two at once


def test_swapped_colors_within_one_cable_are_one_mistake() -> None:
    """What works and misleads: W3's black is the neutral and its white the switched hot, from end to end."""
    text = own("conductor-color", "swapped")
    (found,) = seen(RULE, text)
    assert isinstance(found, ColorsSwapped)
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "W3")
    assert [one.name for one in found.conductors] == ["W3.white", "W3.black"]
    assert at(text, found) == "W3.white -- S2.common"
    assert text.splitlines()[found.other.span.line - 1].strip() == "W2.white -- W3.black"
    piece = case(text).uses.piece
    assert found.copper == {piece["W3.white@B"], piece["W3.black@B"]}


def test_one_color_alone_is_not_swapped() -> None:
    text = changed(
        own("conductor-color", "swapped"),
        ("  W2.white -- W3.black\n", "  cap W3.black\n  cap W2.white\n"),
        ("  W3.black -- L1.neutral\n", "  cap W3.black\n"),
    )
    assert [type(one) for one in seen(RULE, text)] == [WhiteNotMarked]


def test_two_mistakes_of_one_kind_in_a_cable_are_not_a_swap() -> None:
    """Two colored wires on the ground, or two whites that are hot: each is to be put right by itself."""
    grounded = changed(
        LIGHT,
        ("W2 14/2", "W2 14/4"),
        ("W1.bare -- W2.bare -- pigtail", "W1.bare -- W2.bare -- W2.red -- W2.blue -- pigtail"),
        ("  W2.bare -- L1.ground\n", "  W2.bare -- W2.red -- W2.blue -- L1.ground\n"),
    )
    assert [type(one) for one in seen(RULE, grounded)] == [HotColorAs, HotColorAs]
    ground_and_hot = changed(
        LIGHT,
        ("W2 14/2", "W2 14/3"),
        ("W1.bare -- W2.bare -- pigtail", "W1.bare -- W2.bare -- W2.red -- pigtail"),
        ("  W2.bare -- L1.ground\n", "  W2.bare -- W2.red -- L1.ground\n"),
        ("  W2.black -- S1.load\n", "  W2.white -- S1.load\n  cap W2.black\n"),
        ("  W2.black -- L1.hot\n  W2.white -- L1.neutral\n", "  W2.white -- L1.hot\n  cap W2.black\n"),
        ("  W1.white -- W2.white\n", "  cap W1.white\n"),
    )
    assert {type(one) for one in seen(RULE, ground_and_hot)} == {WhiteNotMarked, HotColorAs}


def test_three_mistakes_in_a_cable_are_three() -> None:
    text = changed(
        own("conductor-color", "swapped"),
        ("W3 14/2", "W3 14/3"),
        ("W2.bare -- W3.bare -- pigtail", "W2.bare -- W3.bare -- W3.red -- pigtail"),
        ("  W3.bare -- L1.ground\n", "  W3.bare -- W3.red -- L1.ground\n"),
    )
    assert len(seen(RULE, text)) == 3


# ----------------------------------------------------------- bare and green


def test_a_bare_wire_is_no_traveler() -> None:
    """NEC 2023 250.119."""
    text = own("conductor-color", "bare-traveler")
    (found,) = seen(RULE, text)
    assert isinstance(found, GroundAsHot)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "W2.bare")
    assert at(text, found) == "W2.bare -- S1.traveler-2"


def test_bare_wires_on_one_copper_are_one_mistake() -> None:
    text = own("conductor-color", "bare-hots")
    (found,) = seen(RULE, text)
    assert [one.name for one in found.conductors] == ["W3.bare", "W4.bare"]
    # Where it first meets a hot's screw.
    assert at(text, found) == "W3.bare -- S2.common"
    assert found.copper == {case(text).uses.piece["W4.bare@D"]}


def test_live_metal_is_reported_instead_of_the_bare_wire_that_brings_it() -> None:
    text = changed(
        LIGHT,
        ("  W2.black -- S1.load\n", "  W2.bare -- S1.load\n  cap W2.black\n"),
        ("W1.bare -- W2.bare", "W1.bare"),
        ("  W2.black -- L1.hot\n", "  cap W2.black\n"),
        ("  W2.bare -- L1.ground\n", "  W2.bare -- L1.hot -- L1.ground\n"),
    )
    assert [type(one) for one in seen(RULE, text)] == [GroundAsHot]
    assert "conductor-color" not in reported(text)
    assert "energized-metal" in reported(text)


def test_a_short_where_bare_and_hot_are_swapped_is_one_mistake() -> None:
    """At S1, the bare of W1 takes the place of the black of W2, and the black that of the bare."""
    text = changed(
        STAIR,
        ("  W2.black -- S1.traveler-1\n", "  W1.bare -- S1.traveler-1\n"),
        ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W2.black -- W2.bare -- pigtail -- S1.ground"),
    )
    assert GroundAsHot in {type(one) for one in seen(RULE, text)}
    assert [rule for rule in reported(text) if rule != "switching"] == ["short-circuit"]


# -------------------------------------------------------------- single wires


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
    ("size", "color", "mark", "at", "kind"),
    [
        ("12", "black", "", "LP.3", None),
        ("12", "white", "", "LP.neutral", None),
        ("12", "gray", "", "LP.neutral", None),
        ("12", "green", "", "LP.ground", None),
        # 200.7(C): only the white of a cable may be marked as a hot.
        ("12", "white", "marked black", "LP.3", SingleWhiteAsHot),
        # 200.6(A) and (B): from 4 AWG up another color may be marked as the neutral.
        ("12", "black", "marked white", "LP.neutral", HotColorAs),
        ("6", "black", "marked white", "LP.neutral", HotColorAs),
        ("4", "black", "marked white", "LP.neutral", None),
        ("4", "black", "marked gray", "LP.neutral", None),
        ("4", "black", "marked green", "LP.neutral", HotColorAs),
        ("4", "black", "", "LP.neutral", HotColorAs),
        ("2", "black", "marked white", "LP.neutral", None),
        ("25 mm2", "black", "marked white", "LP.neutral", None),
        ("16 mm2", "black", "marked white", "LP.neutral", HotColorAs),
        ("12", "black", "", "LP.neutral", HotColorAs),
        # 250.119: the same for the ground.
        ("12", "black", "marked green", "LP.ground", HotColorAs),
        ("6", "black", "marked green", "LP.ground", HotColorAs),
        ("4", "black", "marked green", "LP.ground", None),
        ("4", "black", "marked white", "LP.ground", HotColorAs),
        ("12", "white", "", "LP.ground", WhiteOnGround),
        ("12", "white", "marked green", "LP.ground", WhiteOnGround),
        ("12", "white", "marked gray", "LP.ground", WhiteOnGround),
        ("12", "white", "marked red", "LP.ground", WhiteMarked),
        ("12", "green", "", "LP.3", GroundAsHot),
        ("12", "green", "marked black", "LP.3", GroundAsHot),
        ("12", "green-yellow", "", "LP.3", GroundAsHot),
        # Joined at one end only to what it is not for, it is as wrong.
        ("12", "black", "marked white", "LP.3", MarkedAsNoHot),
    ],
)
def test_single_wires_by_use(size: str, color: str, mark: str, at: str, kind: type | None) -> None:
    text = WIRE.format(size=size, color=color, mark=mark, at=at)
    found = seen(RULE, text)
    assert {type(one) for one in found} == ({kind} if kind else set())
    for one in found:
        assert one.severity == ("hazard" if kind is GroundAsHot else "violation")
        assert isinstance(one.at.of, Join)
        if isinstance(one, HotColorAs):
            assert one.use == at.removeprefix("LP.")


def test_one_end_without_its_mark_is_enough() -> None:
    """200.6(B): at each end."""
    text = WIRE.format(size="4", color="black", mark="marked white", at="LP.neutral")
    text = changed(text, ("H1 marked white -- LP.neutral", "H1 -- LP.neutral"))
    assert [(type(one), one.subject) for one in seen(RULE, text)] == [(HotColorAs, "H1")]


def test_the_odd_end_is_the_one_among_others() -> None:
    text = changed(
        STAIR,
        ("  W1.white -- W2.white\n", "  W1.white -- W2.red\n"),
        ("  W2.red -- S1.traveler-2\n", "  W2.white -- S1.traveler-2\n"),
        ("  W2.red -- S2.traveler-2\n", "  W2.white -- S2.traveler-2\n"),
        ("  W2.white -- W3.white\n", "  W2.red -- W3.white\n"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, ColorsSwapped)
    assert at(text, found) == "W2.white -- S1.traveler-2"


def test_a_wire_that_is_joined_to_nothing_says_nothing() -> None:
    text = changed(LIGHT, ("W2 14/2", "W2 14/3"), ("at B\n", "  cap W2.red\nat B\n  cap W2.red\n"))
    assert not seen(RULE, text)


def test_a_white_that_neutrals_come_back_on_is_told_by_the_current() -> None:
    """A white on the ground bar: with a neutral screw on it, it is worse than its color."""
    text = own("ground-as-neutral", "neutral-on-the-ground-bar")
    assert [type(one) for one in seen(RULE, text)] == [WhiteOnGround]
    assert reported(text) == ["ground-as-neutral"]
    spare = changed(text, ("  W1.white -- R1.neutral\n", "  cap W1.white\n"))
    assert "conductor-color" in reported(spare)


def test_a_black_that_took_the_place_of_the_bare_wire_is_no_mistake_of_its_own() -> None:
    text = changed(
        LIGHT,
        ("  W1.black -- LP.3\n", "  W1.bare -- LP.3\n"),
        ("  W1.bare -- LP.ground\n", "  W1.black -- LP.ground\n"),
    )
    text = changed(
        text,
        ("  W1.black -- S1.line\n", "  W1.bare -- S1.line\n"),
        ("W1.bare -- W2.bare", "W1.black -- W2.bare"),
    )
    assert {type(one) for one in seen(RULE, text)} == {GroundAsHot, HotColorAs}
    assert reported(text) == ["conductor-color"]


def test_reversed_polarity_explains_the_colors_on_its_way() -> None:
    text = changed(
        LIGHT,
        ("  W1.black -- LP.3\n", "  W1.white -- LP.3\n"),
        ("  W1.white -- LP.neutral\n", "  W1.black -- LP.neutral\n"),
    )
    assert seen(RULE, text)
    assert "conductor-color" not in reported(text)
    assert "reversed-polarity" in reported(text)


# -------------------------------------------------------------- thermostats


def test_thermostat_colors_are_advice() -> None:
    """Common practice."""
    found = seen(RULE, own("conductor-color", "thermostat"))
    assert {type(one) for one in found} == {UnusualColor}
    assert [(one.subject, one.odd.better.name, one.odd.terminal.spec.carries) for one in found] == [
        ("TW.white", "TW.yellow", "cool"),
        ("TW.yellow", "TW.white", "heat"),
    ]
    assert {one.severity for one in found} == {"advice"}


def test_a_wire_of_the_color_of_another_terminal_is_not_dressed_as_right() -> None:
    """From like to like it is no harm; with its other end elsewhere the color may be what is right."""
    alike = said(RULE, own("conductor-color", "thermostat"))
    assert [one.help for one in alike] == [
        "Swap TW.white and TW.yellow at both ends.",
        "Swap TW.yellow and TW.white at both ends.",
    ]
    (one,) = said(
        RULE,
        changed(COOLING, ("  TW.white -- F.W\n", "  TW.white -- F.G\n"), ("TW.green -- F.G", "cap TW.green")),
    )
    assert one.message == "TW.white is on G, where green is usual. Its color is usual for W."
    assert one.help == "If it is meant for F.W, put it there. If not, use TW.green for G at both ends."


PUMP = own("grounded-secondary", "control-of-120-volts")
CG_MOVED = ("AG -- MG -- CG -- pigtail", "AG -- MG -- pigtail")


@pytest.mark.slow
@pytest.mark.parametrize("wire", ["C1 14 THHN black", "C3 14 THHN blue", "K4 14 THHN red"])
def test_behind_a_transformer_that_nothing_grounds_there_is_no_neutral(wire: str) -> None:
    """NEC 200.7(A): white is for the grounded conductor, and an isolated secondary has none."""
    white = changed(PUMP, (wire, f"{wire.rsplit(' ', 1)[0]} white"))
    assert {type(one) for one in seen(RULE, white)} == {SingleWhiteAsHot}


@pytest.mark.slow
@pytest.mark.parametrize("splice", ["C2 -- C.13", "C.A2 -- OL.95", "K4 -- T.X2"])
def test_a_green_wire_in_a_splice_of_the_control_circuit(splice: str) -> None:
    (found,) = seen(RULE, changed(PUMP, CG_MOVED, (splice, f"{splice} -- CG")))
    assert (type(found), found.severity) == (GroundAsHot, "hazard")


@pytest.mark.slow
def test_where_one_side_is_grounded_white_is_right_on_that_side() -> None:
    grounded = changed(PUMP, ("  K4 -- T.X2\n", "  K4 -- T.X2 -- pigtail -- E.ground\n"))
    (red,) = seen(RULE, grounded)
    assert isinstance(red, HotColorAs) and (red.subject, red.use) == ("K4", "neutral")
    white = changed(grounded, ("K4 14 THHN red", "K4 14 THHN white"))
    assert not seen(RULE, white)
    # What goes on from there to metal and nothing else is a ground, and white is wrong on that.
    (metal,) = seen(RULE, changed(white, ("MG 10 THHN green", "MG 10 THHN white")))
    assert isinstance(metal, WhiteOnGround) and metal.subject == "MG"
