"""Two hots and one neutral; NEC 2023 210.4, 240.15(B)(2), 300.13(B)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed, reported, said, seen
from wirecheck import check
from wirecheck.rules.multiwire_circuit import RULE, BetweenTwo, NotTogether, OnSameLeg, ThroughDevice

BOARDS = Path(__file__).parent / "boards" / "multiwire-circuit"
PANEL = "panel LP 120/240 V, 10 kA available\n"


def board(name: str) -> str:
    return (BOARDS / f"{name}.wire").read_text(encoding="utf-8")


def multiwire(one: str, other: str, second: str = "LP.3") -> str:
    """Two 15 A breakers, black and red, one white."""
    return f"""board "Two hots and one neutral"
{PANEL}breaker LP.1 15 A {one}
breaker {second} 15 A {other}
box B junction 42 cu in
H1 is baseboard-heater 1200 W 120 V in B
H2 is baseboard-heater 960 W 120 V in B
cable W1 14/3 NM-B 20 ft from LP to B
at LP
  W1.black -- LP.1
  W1.red -- {second}
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- H1.L1
  W1.red -- H2.L1
  W1.white -- pigtail -- H1.L2 -- pigtail -- H2.L2
  W1.bare -- pigtail -- H1.ground -- pigtail -- H2.ground
"""


def line(text: str, problem: Any) -> str:
    return text.splitlines()[problem.at.span.line - 1].strip()


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# ----------------------------------------------------------- two breakers


def test_opposite_legs_must_open_together() -> None:
    """210.4(B)."""
    text = multiwire("leg a", "leg b")
    (found,) = seen(RULE, text)
    assert type(found) is NotTogether
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "LP.3")
    assert (found.one.name, found.other.name, found.neutral.name) == ("LP.1", "LP.3", "W1.white")
    assert (found.in_one_cable, found.joined) == (True, False)
    assert line(text, found) == "breaker LP.3 15 A leg b"
    piece = case(text).uses.piece
    assert found.hots == {piece["LP.1"], piece["LP.3"]} and found.copper == {piece["W1.white@B"]}


@pytest.mark.parametrize(("one", "other"), [("leg a", "leg b tied to LP.1"), ("leg a tied to LP.3", "leg b")])
def test_a_handle_tie_opens_both(one: str, other: str) -> None:
    assert not seen(RULE, multiwire(one, other))


def test_a_two_pole_breaker_opens_both() -> None:
    text = changed(
        multiwire("2-pole", "leg b"),
        ("breaker LP.3 15 A leg b\n", ""), ("W1.black -- LP.1\n", "W1.black -- LP.1.a\n"),
        ("W1.red -- LP.3", "W1.red -- LP.1.b"),
    )  # fmt: skip
    assert not seen(RULE, text)


def test_on_one_leg_the_currents_add_in_the_neutral() -> None:
    """210.4(A); a tie changes nothing there. 14 AWG in NM-B may carry 15 A (334.80)."""
    text = multiwire("leg a", "leg a tied to LP.1")
    (found,) = seen(RULE, text)
    assert type(found) is OnSameLeg
    assert (found.severity, found.stage, found.subject) == ("hazard", "rough-in", "LP.3")
    assert (found.leg, found.ampacity, found.neutral.name) == ("LP.leg-a", pytest.approx(15), "W1.white")
    assert found.hots == {case(text).uses.piece[f"LP.{number}"] for number in (1, 3)}
    (words,) = said(RULE, text)
    assert (words.value, words.limit, words.unit) == (30, 15, "A")


def test_an_ampacity_that_no_table_has_is_left_out() -> None:
    (found,) = (one for one in seen(RULE, board("one-leg-through-device")) if type(one) is OnSameLeg)
    assert found.ampacity is None


def test_two_circuits_with_a_neutral_each_share_nothing() -> None:
    apart = changed(
        board("joined-by-mistake"),
        (
            "W1.white -- W2.white -- L1.neutral -- L2.neutral",
            "W1.white -- L1.neutral\n  W2.white -- L2.neutral",
        ),
        (
            "W3.white -- W4.white -- L3.neutral -- L4.neutral",
            "W3.white -- L3.neutral\n  W4.white -- L4.neutral",
        ),
    )
    assert not seen(RULE, apart)


def test_handles_are_tied_where_hots_lie_in_one_cable() -> None:
    (first, *_) = said(RULE, board("one-cable"))
    assert first.help is not None
    assert "breaker LP.3 ... tied to LP.1" in first.help


def test_neutrals_that_were_joined_by_mistake_are_not_meant_for_one_handle() -> None:
    """Each hot lies in a cable of its own: tying the handles, or moving one, is no remedy."""
    same, opposite = seen(RULE, board("joined-by-mistake"))
    assert (type(same), type(opposite)) == (OnSameLeg, NotTogether)
    assert (same.one.name, same.other.name) == ("LP.1", "LP.5")
    assert (opposite.one.name, opposite.other.name) == ("LP.3", "LP.6")
    assert not same.in_one_cable
    assert not opposite.in_one_cable
    for one in said(RULE, board("joined-by-mistake")):
        assert one.help is not None
        assert "tie" not in one.help
        assert "two-pole" not in one.help


def test_a_borrowed_neutral_is_reported_where_it_is_borrowed() -> None:
    """The line that the hand would change is the join, and no breaker's."""
    text = changed(
        board("joined-by-mistake"),
        (
            "W1.white -- W2.white -- L1.neutral -- L2.neutral",
            "W2.white -- L1.neutral -- L2.neutral\n  cap W1.white",
        ),
    )
    first, _ = seen(RULE, text)
    assert type(first) is OnSameLeg
    assert (line(text, first), first.neutral.name) == ("W2.white -- L1.neutral -- L2.neutral", "W2.white")
    assert reported(text) == ["multiwire-circuit", "multiwire-circuit"]
    # What is meant for one cable is changed at the breaker, and so are hots that are joined.
    for name, where in (("one-cable", "breaker LP.3 20 A"), ("two-feeds", "breaker LP.5 15 A")):
        assert line(board(name), seen(RULE, board(name))[0]) == where


def test_hots_that_are_joined_too_are_no_two_hots_to_move() -> None:
    """On two legs they would be a dead short."""
    (found,) = seen(RULE, board("two-feeds"))
    assert type(found) is OnSameLeg
    assert found.joined
    (words,) = said(RULE, board("two-feeds"))
    assert words.help is not None
    assert "two-pole" not in words.help


def test_a_ground_that_brings_current_back_is_no_neutral() -> None:
    """What is wrong with it is that it carries current at all; other rules say so."""
    text = changed(
        multiwire("leg a", "leg b"),
        ("W1.white -- pigtail -- H1.L2 -- pigtail -- H2.L2", "cap W1.white"),
        ("H2.ground\n", "H2.ground -- pigtail -- H1.L2 -- pigtail -- H2.L2\n"),
    )
    assert not seen(RULE, text)


def test_a_winding_has_no_legs() -> None:
    """Two fuses on one transformer share its common: no circuit of a panel's legs."""
    text = f"""board "Two valves"
{PANEL}breaker LP.1 15 A
T1 is class-2-transformer 40 VA
box B junction 60 cu in
F1 is fuse 2 A in B
F2 is fuse 2 A in B
V1 is solenoid-valve in B
V2 is solenoid-valve in B
cable W1 14/2 NM-B 11 ft from LP to T1
cable C1 18/2 CL2 20 ft from T1 to B
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
at T1
  W1.black -- T1.primary-hot
  W1.white -- T1.primary-neutral
  C1.red -- T1.secondary-r
  C1.white -- T1.secondary-c
at B
  C1.red -- F1.line -- F2.line
  F1.load -- V1.a
  F2.load -- V2.a
  C1.white -- V1.b -- V2.b
"""
    assert not seen(RULE, text)


def test_fuses_that_open_one_by_one() -> None:
    (found,) = seen(RULE, board("fuses"))
    assert type(found) is NotTogether
    assert (found.one.name, found.other.name, found.in_one_cable) == ("F1", "F2", True)
    (words,) = said(RULE, board("fuses"))
    assert words.help is not None
    assert "tied" not in words.help


@pytest.mark.parametrize(("fuse", "wire"), [("F1", "black"), ("F2", "red")])
def test_a_fuse_and_a_breaker_have_no_handles_to_tie(fuse: str, wire: str) -> None:
    text = changed(
        board("fuses"),
        (f"  W1.{wire} -- {fuse}.line\n", f"  W1.{wire} -- W2.{wire}\n"),
        (f"  W2.{wire} -- {fuse}.load\n", ""),
    )
    (found,) = said(RULE, text)
    assert found.help is not None
    assert "tied" not in found.help


def test_the_fuses_of_one_disconnect_open_together() -> None:
    text = changed(
        board("fuses"),
        ("box A junction 42 cu in\n", ""),
        ("F1 is fuse 15 A in A\nF2 is fuse 15 A in A\n", "A is fused-disconnect with fuse 15 A\n"),
    )
    for fuse, pole in (("F1", "1"), ("F2", "2")):
        text = text.replace(f"{fuse}.line", f"A.line-{pole}").replace(f"{fuse}.load", f"A.load-{pole}")
    assert not seen(RULE, text)


# ------------------------------------------------------- from hot to hot


def test_what_is_connected_between_two_breakers() -> None:
    """240.15(B)(2)."""
    heaters, light = seen(RULE, board("between"))
    assert (type(heaters), type(light)) == (BetweenTwo, BetweenTwo)
    assert (heaters.severity, heaters.stage, heaters.subject) == ("violation", "rough-in", "LP.3")
    assert [one.name for one in heaters.takers] == ["H1.element", "H2.element"]
    assert (heaters.meant, heaters.joined) == (True, False)
    assert [one.name for one in light.takers] == ["L1"]
    # A lamp for 120 V belongs on one hot: no handle tie for it.
    assert not light.meant
    assert line(board("between"), light) == "breaker LP.4 15 A"


def test_a_tie_or_one_breaker_puts_it_right() -> None:
    tied = board("between").replace("breaker LP.3 20 A", "breaker LP.3 20 A tied to LP.1")
    assert [one.subject for one in seen(RULE, tied)] == ["LP.4"]


def test_between_a_hot_and_itself_is_nothing_to_open() -> None:
    """Two breakers of one leg at the two ends of a lamp: it stands dark, and is no load between legs."""
    text = board("between").replace("breaker LP.4 15 A", "breaker LP.6 15 A").replace("LP.4\n", "LP.6\n")
    assert [one.subject for one in seen(RULE, text)] == ["LP.3"]


@pytest.mark.parametrize(
    ("device", "screws", "meant"),
    [
        ("class-2-transformer 40 VA in A", ("primary-hot", "primary-neutral"), False),
        ("single-receptacle-240 15 A in A", ("hot-1", "hot-2"), True),
        ("duplex-receptacle 15 A in A", ("hot", "neutral"), False),
    ],
)
def test_receptacles_and_transformers_count(device: str, screws: tuple[str, str], meant: bool) -> None:
    text = f"""board "Between"
{PANEL}breaker LP.1 15 A
breaker LP.3 15 A
box A device 42 cu in
X is {device}
cable W1 14/2 NM-B 20 ft from LP to A
at LP
  W1.black -- LP.1
  W1.white marked red -- LP.3
at A
  W1.black -- X.{screws[0]}
  W1.white marked red -- X.{screws[1]}
"""
    (found,) = seen(RULE, text)
    assert type(found) is BetweenTwo
    assert found.meant is meant


# -------------------------------------------------------- through devices


MULTI = board("one-cable").replace("breaker LP.3 20 A", "breaker LP.3 20 A tied to LP.1")


def test_a_shared_neutral_goes_through_no_device() -> None:
    """300.13(B)."""
    (found,) = seen(RULE, MULTI)
    assert type(found) is ThroughDevice
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "R1")
    assert [one.name for one in found.neutrals] == ["W1.white", "W2.white"]
    assert found.volts == pytest.approx(240)
    assert line(MULTI, found) == "W1.white -- W2.white -- R1.neutral"
    assert found.copper == {case(MULTI).uses.piece["R1.neutral"]}


@pytest.mark.parametrize(
    ("new", "found"),
    [
        ("W1.white -- W2.white -- pigtail -- R1.neutral", 0),
        ("W1.white -- R1.neutral\n  W2.white -- R1.neutral", 1),
        ("W1.white -- pigtail -- R1.neutral\n  W2.white -- R1.neutral", 1),
        # Two screws with the tab between them hold it no better than one.
        ("W1.white -- R1.neutral-1\n  W2.white -- R1.neutral-2", 1),
        ("W1.white -- W2.white -- pigtail -- R1.neutral-1", 0),
        ("W1.white -- R1.neutral-1\n  W2.white -- R1.neutral-2", 1),
        # The end of a run: nothing goes on from there.
        ("W1.white -- R1.neutral\n  cap W2.white", 0),
    ],
)
def test_it_is_spliced_and_brought_by_a_pigtail(new: str, found: int) -> None:
    text = changed(MULTI, ("W1.white -- W2.white -- R1.neutral", new))
    through = [one for one in seen(RULE, text) if type(one) is ThroughDevice]
    assert len(through) == found
    # The last of the lines that bring it to the device.
    assert {line(text, one) for one in through} <= {new.rpartition("  ")[2]}


def test_what_meets_at_a_lead_is_spliced_there() -> None:
    """A light has no screws: its lead and the two whites are under one connector."""
    text = changed(
        MULTI,
        ("R1 is split-receptacle 20 A in A", "R1 is luminaire 60 W in A"),
        ("R1.hot-top", "R1.hot"),
        ("  W1.red -- W2.red -- pigtail -- R1.hot-bottom", "  W1.red -- W2.red"),
    )
    assert "W1.white -- W2.white -- R1.neutral" in text and not seen(RULE, text)


def test_a_neutral_of_one_hot_may_go_through_a_device() -> None:
    text = MULTI.replace("W1.red -- LP.3", "cap W1.red")
    assert not seen(RULE, text)


def test_on_one_leg_nothing_stands_between_the_hots() -> None:
    (found,) = (one for one in seen(RULE, board("one-leg-through-device")) if type(one) is ThroughDevice)
    assert found.volts == 0


def test_of_a_wye_two_legs_are_208_volts_apart() -> None:
    (found,) = seen(RULE, MULTI.replace("panel LP 120/240 V", "panel LP 208Y/120 V"))
    assert found.volts == pytest.approx(208, abs=0.2)


def test_neutrals_on_a_bar_go_through_no_device() -> None:
    more = """breaker LP.2 15 A leg a
breaker LP.4 15 A leg b tied to LP.2
H3 is baseboard-heater 1200 W 120 V in B
H4 is baseboard-heater 960 W 120 V in B
cable W2 14/3 NM-B 20 ft from LP to B
at LP
  W2.black -- LP.2
  W2.red -- LP.4
  W2.white -- LP.neutral
at B
  W2.black -- H3.L1
  W2.red -- H4.L1
  W2.white -- pigtail -- H3.L2 -- pigtail -- H4.L2
"""
    assert not seen(RULE, multiwire("leg a", "leg b tied to LP.1") + more)


# ----------------------------------------------------- what follows from it


@pytest.mark.parametrize(("leg", "rule"), [("leg a", "backfeed"), ("leg b", "short-circuit")])
def test_two_hots_that_are_one_wire_are_one_mistake(leg: str, rule: str) -> None:
    text = changed(
        multiwire("leg a", leg),
        ("W1.black -- H1.L1", "W1.black -- W1.red -- pigtail -- H1.L1 -- pigtail -- H2.L1"),
        ("  W1.red -- H2.L1\n", ""),
    )
    assert all(one.joined for one in seen(RULE, text))
    assert "multiwire-circuit" in reported(text, "rough-in")
    assert rule in reported(text)
    assert "multiwire-circuit" not in reported(text)


def test_a_short_on_one_of_two_hots_hides_nothing() -> None:
    text = changed(multiwire("leg a", "leg b"), ("W1.red -- H2.L1", "W1.red -- W1.white -- H2.L1"))
    assert "multiwire-circuit" in reported(text)


def test_one_handle_for_both_settles_the_neutral_and_what_is_between() -> None:
    text = multiwire("leg a", "leg b") + (
        "H3 is baseboard-heater 1000 W 240 V in B\nat B\n  W1.black -- H3.L1\n  W1.red -- H3.L2\n"
    )
    assert {type(one) for one in seen(RULE, text)} == {NotTogether, BetweenTwo}
    found = [one.problem for one in check(text).findings if one.rule == "multiwire-circuit"]
    assert [type(one) for one in found] == [NotTogether]


def test_the_two_halves_of_a_tandem_are_on_one_leg() -> None:
    text = multiwire("", "", second="LP.1B").replace("LP.1 ", "LP.1A ").replace("LP.1\n", "LP.1A\n")
    (found,) = seen(RULE, text)
    assert isinstance(found, OnSameLeg)
    assert {found.one.name, found.other.name} == {"LP.1A", "LP.1B"}


@pytest.mark.parametrize(
    ("one", "other", "ends"),
    [
        ("20 A", "20 A", None),
        ("20 A gfci", "20 A", "LP.1 trips too: what comes back is not what went out."),
        ("20 A gfci", "20 A gfci", "LP.1 and LP.3 trip too: what comes back is not what went out."),
    ],
)
def test_what_compares_out_and_back_trips(one: str, other: str, ends: str | None) -> None:
    text = changed(board("one-cable"), ("breaker LP.1 20 A", f"breaker LP.1 {one}"))
    text = changed(text, ("breaker LP.3 20 A", f"breaker LP.3 {other}"))
    (first, *_) = said(RULE, text)
    assert first.message.endswith(ends) if ends else "trip" not in first.message
