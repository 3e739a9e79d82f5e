"""Two-pole switches of which one pole does not open its hot."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, changed, reported, seen
from tests.rules.motors import SMALL
from wirecheck.rules import pole_bypassed
from wirecheck.rules.pole_bypassed import RULE

HEATER = """\
board "A heater on a two-pole switch"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A 2-pole
box A device 22.5 cu in
cable W1 12/2 NM-B 22 ft from LP to A
cable W2 12/2 NM-B 9 ft from A to H1
S1 is double-pole-switch in A
H1 is baseboard-heater 1500 W 240 V
at LP
  W1.black -- LP.1.a
  W1.white marked black -- LP.1.b
  W1.bare -- LP.ground
at A
  W1.black -- S1.line-1
  W2.black -- S1.load-1
  W1.white marked black -- S1.line-2
  W2.white marked black -- S1.load-2
  W1.bare -- W2.bare -- pigtail -- S1.ground
at H1
  W2.black -- H1.L1
  W2.white marked black -- H1.L2
  W2.bare -- H1.ground
"""
ONE, OTHER = (
    "  W1.black -- S1.line-1\n  W2.black -- S1.load-1\n",
    ("  W1.white marked black -- S1.line-2\n  W2.white marked black -- S1.load-2\n"),
)
SPLICED = "W1.white marked black -- W2.white marked black"


@pytest.mark.parametrize("text", [HEATER, STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("old", "new", "live", "pole", "line"),
    [
        # Spliced past the switch, whose screws stay empty.
        (ONE, "  W1.black -- W2.black\n", "H1.L1", "S1.line-1", 14),
        (OTHER, f"  {SPLICED}\n", "H1.L2", "S1.line-2", 16),
        # The wire of the heater on the other hot, and its own pole left open.
        (
            "  W1.black -- S1.line-1\n",
            "  W1.black -- W2.white -- S1.line-1\n  cap W2.white\n",
            "H1.L2",
            "S1.line-2",
            14,
        ),
        # Both wires on one screw; the other is empty, or a tail comes to it.
        (OTHER, f"  {SPLICED} -- pigtail -- S1.line-2\n", "H1.L2", "S1.line-2", 16),
        (OTHER, f"  {SPLICED} -- pigtail -- S1.load-2\n", "H1.L2", "S1.line-2", 16),
        (OTHER, f"  {SPLICED} -- pigtail -- S1.line-2 -- S1.load-2\n", "H1.L2", "S1.line-2", 16),
    ],
)
def test_a_hot_that_goes_around_a_pole(old: str, new: str, live: str, pole: str, line: int) -> None:
    """NEC 2023 424.20(A): in the off position all ungrounded conductors are open."""
    (found,) = seen(RULE, changed(HEATER, (old, new)))
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "S1")
    assert [screw.name for screw in found.screws] == [live]
    assert (found.around.a, found.at.span.line) == (pole, line)
    assert [load.device for load in found.loads] == ["H1.element"]
    assert len(found.copper) == 1


def test_a_wire_of_the_heater_on_the_other_hot_leaves_its_own_pole_open() -> None:
    text = changed(
        HEATER,
        ("  W1.black -- S1.line-1\n", "  W1.black -- W2.white marked black -- S1.line-1\n"),
        (OTHER, "  W1.white marked black -- S1.line-2\n"),
    )
    (found,) = seen(RULE, text)
    assert (found.around.a, found.screws[0].name) == ("S1.line-2", "H1.L2")
    assert found.at.span.line == 14


def test_all_heaters_that_stay_live_are_one_problem() -> None:
    text = changed(
        HEATER,
        (OTHER, f"  {SPLICED} -- W3.white\n"),
        ("  W2.black -- S1.load-1\n", "  W2.black -- W3.black -- pigtail -- S1.load-1\n"),
        ("S1 is", "cable W3 12/2 NM-B 9 ft from A to H2\nH2 is baseboard-heater 500 W 240 V\nS1 is"),
    )
    (found,) = seen(RULE, f"{text}at H2\n  W3.black -- H2.L1\n  W3.white -- H2.L2\n")
    assert {screw.name for screw in found.screws} == {"H1.L2", "H2.L2"}
    assert {load.device for load in found.loads} == {"H1.element", "H2.element"}


def test_where_both_poles_open_a_hot_it_is_the_one_of_the_leg_that_stays() -> None:
    """The second pole switches another heater, and the first heater's hot is taken before it."""
    text = changed(
        HEATER,
        (OTHER, f"  {SPLICED} -- pigtail -- S1.line-2\n  W3.white -- S1.load-2\n"),
        ("  W2.black -- S1.load-1\n", "  W2.black -- W3.black -- pigtail -- S1.load-1\n"),
        ("S1 is", "cable W3 12/2 NM-B 9 ft from A to H2\nH2 is baseboard-heater 500 W 240 V\nS1 is"),
    )
    (found,) = seen(RULE, f"{text}at H2\n  W3.black -- H2.L1\n  W3.white -- H2.L2\n")
    assert (found.around.a, [screw.name for screw in found.screws]) == ("S1.line-2", ["H1.L2"])


@pytest.mark.parametrize(("part", "screw"), [("3-way-switch", "traveler-1"), ("single-pole-switch", "load")])
def test_a_switch_of_one_pole_opens_one_hot_and_no_more(part: str, screw: str) -> None:
    common = "common" if part.startswith("3") else "line"
    text = changed(
        HEATER,
        ("double-pole-switch", part),
        (ONE, f"  W1.black -- S1.{common}\n  W2.black -- S1.{screw}\n"),
        (OTHER, f"  {SPLICED}\n"),
    )
    assert not seen(RULE, text)


def test_a_hot_that_goes_past_in_another_box_is_shown_at_the_device() -> None:
    text = changed(
        HEATER,
        (OTHER, "  W1.white marked black -- S1.line-2\n  W2.white -- S1.load-2\n"),
        ("S1 is", "cable W3 12/2 NM-B 22 ft from LP to H1\nS1 is"),
        ("at A\n", "  W3.white -- LP.1.b\nat A\n"),
        ("  W2.white marked black -- H1.L2\n", "  W2.white -- W3.white -- H1.L2\n"),
    )
    (found,) = seen(RULE, text)
    assert found.at.of == found.device


def test_a_relay_of_dry_contacts_may_open_one_hot() -> None:
    text = changed(
        HEATER,
        ("double-pole-switch", "relay-dpdt"),
        (ONE, "  W1.black -- S1.common-1\n  W2.black -- S1.no-1\n"),
        (OTHER, f"  {SPLICED}\n"),
        ("pigtail -- S1.ground", "pigtail"),
    )
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("part", "one"), [("line-contactor", ("line-1", "load-1")), ("sequencer", ("m1", "m2"))]
)
def test_what_a_coil_moves_need_not_open_both_hots(part: str, one: tuple[str, str]) -> None:
    """A control that a call moves is no disconnect: NEC 424.20(B), 430.84."""
    text = changed(
        HEATER,
        ("double-pole-switch", part),
        (ONE, f"  W1.black -- S1.{one[0]}\n  W2.black -- S1.{one[1]}\n"),
        (OTHER, f"  {SPLICED}\n"),
        ("pigtail -- S1.ground", "pigtail"),
    )
    assert not seen(RULE, text)


def test_a_three_way_switch_is_passed_over() -> None:
    text = changed(HEATER, (OTHER, f"  {SPLICED}\n"), ("S1 is", "S0 is 3-way-switch in A\nS1 is"))
    text = changed(
        text, ("  W1.black -- S1.line-1\n", "  W1.black -- S0.common\n  S0.traveler-1 -- S1.line-1\n")
    )
    assert [found.subject for found in seen(RULE, text)] == ["S1"]


def test_the_ends_swapped_at_one_pole_go_around_nothing() -> None:
    turned = (
        HEATER.replace("S1.line-2", "S1.x").replace("S1.load-2", "S1.line-2").replace("S1.x", "S1.load-2")
    )
    assert not seen(RULE, turned)


def test_a_load_whose_two_sides_are_one_piece_is_not_half_live() -> None:
    text = changed(HEATER, (OTHER, f"  {SPLICED} -- W2.black\n"), ("  W2.black -- S1.load-1\n", ""))
    assert not seen(RULE, text)


def test_a_heater_between_hot_and_neutral_is_no_matter_of_poles() -> None:
    text = changed(HEATER, ("1500 W 240 V", "1500 W 120 V"), (OTHER, f"  {SPLICED}\n"))
    assert not seen(RULE, text)


def test_a_heater_that_nothing_feeds_on_the_other_side_is_not_live_by_this() -> None:
    text = changed(
        HEATER,
        (OTHER, f"  {SPLICED}\n"),
        ("  W2.black -- S1.load-1\n", "  cap W2.black\n"),
    )
    assert not seen(RULE, text)


def test_a_heater_that_the_switch_does_not_command_at_all_is_none() -> None:
    text = changed(HEATER, (OTHER, f"  {SPLICED}\n"), (ONE, "  W1.black -- W2.black\n"))
    assert not seen(RULE, text)


def test_it_is_one_finding() -> None:
    assert reported(changed(HEATER, (OTHER, f"  {SPLICED}\n"))) == ["pole-bypassed"]


def test_a_board_of_three_way_switches_is_not_followed_at_all(monkeypatch: pytest.MonkeyPatch) -> None:
    """The copper of the whole board for each switch would cost the square of a house."""
    followed: list[object] = []
    monkeypatch.setattr(pole_bypassed, "left_live", lambda *given: followed.append(given))
    assert not seen(RULE, STAIR)
    assert followed == []


PAST = (
    ("  W1.white marked blue -- D.line-3\n", "  W1.white marked blue -- W2.white marked blue\n"),
    ("  W2.white marked blue -- D.load-3\n", ""),
)


@pytest.mark.parametrize("leg", ["a", "b", "c"])
def test_each_of_three_lines_is_opened(leg: str) -> None:
    """430.103: a disconnect opens all lines of a motor, the third as the others."""
    turned = {"a": "cab", "b": "abc", "c": "bca"}[leg]
    text = changed(SMALL, *PAST)
    for one, other in zip("abc", turned, strict=True):
        text = text.replace(f"-- SP.1.{one}\n", f"-- SP.1.{other}!\n")
    (found,) = seen(RULE, text.replace("!\n", "\n"))
    assert (found.device.name, [load.name for load in found.loads]) == ("D", ["M"])
    assert not seen(RULE, SMALL)
