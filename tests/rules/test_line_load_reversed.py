"""Ground-fault devices that power comes to from the wrong side, and what has half of its wires past one."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, COOLING, LIGHT, changed, own, reported, said, seen
from wirecheck import files
from wirecheck.rules.line_load_reversed import (
    RULE,
    FedFromBehind,
    FedFromBothSides,
    HalfPast,
    SwitchReversed,
    WiredAround,
)

BEHIND = CHAIN.replace("G1.line", "G1.x").replace("G1.load", "G1.line").replace("G1.x", "G1.load")
IN = "  W1.white -- G1.line-neutral\n"
THIRD = "cable W3 12/2 NM-B 30 ft from LP to B"
OUT = "  W2.white -- G1.load-neutral\n"


def line(text: str, number: int) -> str:
    return text.splitlines()[number - 1].strip()


@pytest.mark.parametrize("text", [CHAIN, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_fed_from_behind() -> None:
    """NEC 2023 110.3(B): LINE and LOAD as marked."""
    (found,) = seen(RULE, BEHIND)
    assert isinstance(found, FedFromBehind)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "G1")
    assert [screw.name for screw in found.screws] == ["G1.load-hot", "G1.load-neutral"]
    assert line(BEHIND, found.at.span.line) == "W1.black -- G1.load-hot"
    assert len(found.copper) == 2
    assert reported(BEHIND) == ["line-load-reversed"]


def test_one_wire_of_the_feed_on_each_side() -> None:
    text = changed(
        CHAIN,
        ("W1.white -- G1.line-neutral", "W2.white -- G1.line-neutral"),
        ("W2.white -- G1.load-neutral", "W1.white -- G1.load-neutral"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, FedFromBothSides)
    assert [screw.name for screw in found.screws] == ["G1.load-neutral"]
    assert line(text, found.at.span.line) == "W1.white -- G1.load-neutral"


@pytest.mark.parametrize("tail", ["", " -- pigtail -- G1.load-hot"])
def test_a_way_around_the_device(tail: str) -> None:
    """Of one pole, or of both: joined before and after it."""
    text = changed(
        CHAIN,
        (IN, "  W1.white -- W2.white -- pigtail -- G1.line-neutral -- pigtail -- G1.load-neutral\n"),
        (OUT, ""),
        ("  W1.black -- G1.line-hot\n", f"  W1.black -- pigtail -- G1.line-hot{tail}\n"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, WiredAround)
    assert (found.severity, len(found.screws)) == ("hazard", 2 if tail else 1)
    assert line(text, found.at.span.line).startswith("W1.black" if tail else "W1.white")


def test_one_pole_from_behind_and_the_other_around_is_a_feed_from_both_sides() -> None:
    text = changed(
        BEHIND,
        (
            "  W1.white -- G1.load-neutral\n",
            "  W1.white -- pigtail -- G1.load-neutral -- pigtail -- G1.line-neutral\n",
        ),
        ("  W2.white -- G1.line-neutral\n", "  cap W2.white\n"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, FedFromBothSides)
    assert [screw.name for screw in found.screws] == ["G1.load-hot"]


def test_a_ground_on_a_load_screw_is_no_feed() -> None:
    text = changed(CHAIN, (OUT, "  cap W2.white\n"), ("pigtail -- G1.ground", "pigtail -- G1.load-neutral"))
    assert not seen(RULE, text)


def test_a_neutral_taken_from_the_line_screw() -> None:
    text = changed(CHAIN, (IN, "  W1.white -- W2.white -- pigtail -- G1.line-neutral\n"), (OUT, ""))
    (found,) = seen(RULE, text)
    assert isinstance(found, HalfPast)
    assert (found.severity, found.stage, found.subject) == ("fault", "trim", "G1")
    assert found.fork == found.at.of
    assert [user.name for user in found.users] == ["R1.top", "R1.bottom"]
    assert line(text, found.at.span.line) == "W1.white -- W2.white -- pigtail -- G1.line-neutral"
    assert reported(text) == ["line-load-reversed"]


def test_a_hot_taken_from_the_line_screw_of_a_light() -> None:
    text = changed(
        CHAIN,
        ("  W1.black -- G1.line-hot\n", "  W1.black -- W2.black -- pigtail -- G1.line-hot\n"),
        ("  W2.black -- G1.load-hot\n", ""),
        ("R1 is duplex-receptacle 20 A", "R1 is lampholder 60 W"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, HalfPast)
    assert line(text, found.fork.span.line) == "W1.black -- W2.black -- pigtail -- G1.line-hot"
    assert [user.name for user in found.users] == ["R1"]


def test_a_hot_of_another_cable_is_at_the_load_screw_of_the_neutral() -> None:
    text = changed(
        CHAIN,
        ("R1 is", f"{THIRD}\nR1 is"),
        ("at A\n", "  W3.black -- LP.3\nat A\n"),
        ("  W2.black -- R1.hot\n", "  W3.black -- R1.hot\n  cap W2.black\n"),
    )
    (found,) = seen(RULE, text)
    assert found.fork is None
    assert line(text, found.at.span.line) == "W2.white -- G1.load-neutral"


def test_a_line_screw_that_nothing_comes_to_has_no_fork() -> None:
    text = changed(
        CHAIN,
        ("R1 is", f"{THIRD}\nR1 is"),
        ("at A\n", "  W3.white -- LP.neutral\nat A\n"),
        (IN, "  cap W1.white\n"),
        (OUT, "  cap W2.white\n"),
        ("  W2.white -- R1.neutral\n", "  W3.white -- R1.neutral\n"),
    )
    (found,) = seen(RULE, text)
    assert found.fork is None


def test_a_splice_in_a_box_before_the_device() -> None:
    text = changed(
        CHAIN,
        ("box A", "box J octagon 21.5 cu in\nbox A"),
        (
            "W1 12/2 NM-B 20 ft from LP to A",
            "W0 12/2 NM-B 20 ft from LP to J\ncable W1 12/2 NM-B 9 ft from J to A",
        ),
        ("R1 is", "cable W3 12/2 NM-B 30 ft from J to B\nR1 is"),
        ("  W1.black -- LP.3\n  W1.white -- LP.neutral\n", "  W0.black -- LP.3\n  W0.white -- LP.neutral\n"),
        ("  W1.bare -- LP.ground\n", "at J\n  W0.black -- W1.black\n  W0.white -- W1.white -- W3.white\n"),
        (OUT, "  cap W2.white\n"),
        ("  W2.white -- R1.neutral\n", "  W3.white -- R1.neutral\n"),
    )
    (found,) = seen(RULE, text)
    assert line(text, found.at.span.line) == "W0.white -- W1.white -- W3.white"


def test_a_neutral_that_does_not_come_by_the_device_at_all() -> None:
    """Then the line is that of the wire that does go through it."""
    text = changed(
        CHAIN,
        ("R1 is", f"{THIRD}\nR1 is"),
        ("at A\n", "  W3.white -- LP.neutral\nat A\n"),
        (OUT, "  cap W2.white\n"),
        ("  W2.white -- R1.neutral\n", "  W3.white -- R1.neutral\n"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, HalfPast)
    assert found.fork is None
    assert line(text, found.at.span.line) == "W2.black -- G1.load-hot"


def test_where_the_hot_goes_through_a_switch_too_it_is_the_line_of_the_load_screw() -> None:
    text = changed(
        CHAIN,
        ("R1 is duplex-receptacle 20 A", f"{THIRD}\nS1 is single-pole-switch in A\nR1 is lampholder 60 W"),
        ("  W2.black -- G1.load-hot\n", "  G1.load-hot -- S1.line\n  W2.black -- S1.load\n"),
        ("at A\n", "  W3.white -- LP.neutral\nat A\n"),
        (OUT, "  cap W2.white\n"),
        ("  W2.white -- R1.neutral\n", "  W3.white -- R1.neutral\n"),
    )
    (found,) = seen(RULE, text)
    assert line(text, found.at.span.line) == "G1.load-hot -- S1.line"


def test_both_wires_past_the_device_are_right() -> None:
    text = changed(
        CHAIN,
        ("  W1.black -- G1.line-hot\n", "  W1.black -- W2.black -- pigtail -- G1.line-hot\n"),
        (IN, "  W1.white -- W2.white -- pigtail -- G1.line-neutral\n"),
        ("  W2.black -- G1.load-hot\n" + OUT, ""),
    )
    assert not seen(RULE, text)


def test_a_side_that_is_fed_by_nothing_goes_neither_way() -> None:
    assert not seen(RULE, changed(CHAIN, (OUT, "  cap W2.white\n")))


def test_a_hot_taken_before_the_device_without_a_neutral_is_half_of_nothing() -> None:
    text = changed(
        CHAIN,
        ("  W1.black -- G1.line-hot\n", "  W1.black -- W2.black -- pigtail -- G1.line-hot\n"),
        ("  W2.black -- G1.load-hot\n", ""),
        (OUT, "  cap W2.white\n"),
    )
    assert not seen(RULE, text)


def test_each_device_is_judged() -> None:
    text = changed(
        CHAIN,
        ("R1 is duplex-receptacle 20 A in B", "R1 is gfci-receptacle with current 20 A in B"),
        ("R1.hot", "R1.load-hot"),
        ("R1.neutral", "R1.load-neutral"),
    )
    assert [found.subject for found in seen(RULE, text)] == ["R1"]


def test_a_breaker_has_no_line_and_load_to_swap() -> None:
    text = changed(
        CHAIN,
        ("LP.3 20 A", "LP.3 20 A gfci"),
        ("G1 is gfci-receptacle with current 20 A in A\n", ""),
        ("  W1.black -- G1.line-hot\n", "  W1.black -- W2.black\n"),
        (IN, "  W1.white -- W2.white\n"),
        ("  W2.black -- G1.load-hot\n" + OUT, ""),
        ("  W1.bare -- W2.bare -- pigtail -- G1.ground\n", "  W1.bare -- W2.bare\n"),
    )
    assert not seen(RULE, text)


UNIT = (files.folder("boards") / "cooling-call" / "right.wire").read_text(encoding="utf-8")


def _turned(*poles: int) -> str:
    text = UNIT
    for pole in poles:
        line, load = f"D.line-{pole}\n", f"D.load-{pole}\n"
        text = text.replace(line, "D.x\n").replace(load, line).replace("D.x\n", load)
    return text


@pytest.mark.parametrize("poles", [(1,), (2,), (1, 2)])
def test_a_disconnect_that_is_fed_from_behind_stays_live_where_it_should_be_dead(
    poles: tuple[int, ...],
) -> None:
    """NEC 404.6(C) (from memory), 110.3(B): what the marks LINE and LOAD say."""
    assert not seen(RULE, UNIT)
    (found,) = seen(RULE, _turned(*poles))
    assert isinstance(found, SwitchReversed)
    assert [one.name for one in found.screws] == [f"D.load-{pole}" for pole in poles]
    assert [one.name for one in found.lines] == [f"D.line-{pole}" for pole in poles]
    assert (found.subject, found.severity) == ("D", "advice")
    assert "D.load" in line(_turned(*poles), found.at.span.line)


SWITCH = own("line-load-reversed", "two-pole-switch")


@pytest.mark.parametrize("part", ["double-pole-switch", "line-voltage-thermostat", "pump-pressure-switch"])
def test_so_does_what_else_opens_two_hots_by_itself(part: str) -> None:
    """NEC 110.3(B): what the marks LINE and LOAD say."""
    text = changed(SWITCH, ("double-pole-switch", part), ("expect H1.element from S\n", ""))
    (found,) = seen(RULE, text)
    assert isinstance(found, SwitchReversed)
    assert [one.name for one in found.screws] == ["S.load-1", "S.load-2"]
    assert (found.subject, found.severity, found.disconnect) == ("S", "advice", False)
    right = text.replace("S.line", "S.x").replace("S.load", "S.line").replace("S.x", "S.load")
    assert not seen(RULE, right)


def test_a_switch_of_one_pole_has_no_side_for_its_feed() -> None:
    """UL 20 (from memory): its two screws are alike."""
    text = LIGHT.replace("S1.line", "S1.x").replace("S1.load", "S1.line").replace("S1.x", "S1.load")
    assert not seen(RULE, text)


def test_that_of_a_disconnect_with_fuses_is_told_of_its_fuses() -> None:
    text = (files.folder("boards") / "rules" / "live-fuses" / "wrong.wire").read_text(encoding="utf-8")
    assert not seen(RULE, text)


def test_a_device_without_slots_has_no_outlets_of_its_own() -> None:
    board = files.folder("boards") / "kitchen-appliances" / "wrong-line-and-load.wire"
    (finding,) = said(RULE, board.read_text("utf-8"))
    assert "outlets" not in finding.message
    assert "What it protects is then fed from the wrong side" in finding.message
