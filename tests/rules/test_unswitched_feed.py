"""Alarms behind a switch: which lose their power, by what, and where their wire leaves what is switched."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, case, changed, own, reported, seen
from wirecheck import files
from wirecheck.rules.unswitched_feed import RULE, SwitchedTransformer

FOLDER = files.folder("boards") / "rules" / "unswitched-feed"
RIGHT = (FOLDER / "right.wire").read_text(encoding="utf-8")
WRONG = (FOLDER / "wrong.wire").read_text(encoding="utf-8").replace("  # finds: unswitched-feed", "")


def test_an_alarm_ahead_of_the_switch_is_right() -> None:
    assert not seen(RULE, RIGHT)


def test_an_alarm_on_the_switched_leg() -> None:
    (one,) = seen(RULE, WRONG)
    assert (one.subject, one.severity, one.stage) == ("SA1", "violation", "final")
    assert ([load.name for load in one.loads], one.switches) == (["SA1"], ("S1",))
    assert (one.dark.positions, bool(one.copper)) == ({"S1": "off"}, True)
    assert at(WRONG, one) == "W2.red -- W3.black -- pigtail -- L1.hot"
    assert reported(WRONG) == ["unswitched-feed"]


def test_two_alarms_from_one_join_are_one_mistake() -> None:
    text = changed(
        WRONG,
        ("SA1 is smoke-alarm\n",
         "SA1 is smoke-alarm\nSA2 is smoke-alarm\ncable W4 14/3 NM-B 9 ft from SA1 to SA2\n"),
        ("  W3.black -- SA1.hot\n  W3.white -- SA1.neutral\n  cap W3.bare\n",
         "  W3.black -- W4.black -- SA1.hot\n  W3.white -- W4.white -- SA1.neutral\n  W3.bare -- W4.bare\n"
         "  W4.red -- SA1.interconnect\nat SA2\n  W4.black -- SA2.hot\n  W4.white -- SA2.neutral\n"
         "  W4.red -- SA2.interconnect\n  cap W4.bare\n"),
    )  # fmt: skip
    (one,) = seen(RULE, text)
    assert [load.name for load in one.loads] == ["SA1", "SA2"]
    assert at(text, one) == "W2.red -- W3.black -- pigtail -- L1.hot"


def test_an_alarm_with_a_switch_of_its_own_is_told_at_the_switch() -> None:
    text = changed(
        WRONG,
        ("  W2.red -- W3.black -- pigtail -- L1.hot\n", "  W2.red -- W3.black\n"),
        ("L1 is lampholder 60 W in B\n", ""),
        ("  W2.white -- W3.white -- pigtail -- L1.neutral\n  W2.bare -- W3.bare -- pigtail -- L1.ground\n",
         "  W2.white -- W3.white\n  W2.bare -- W3.bare\n"),
        ("expect L1 from S1\n", ""),
    )  # fmt: skip
    (one,) = seen(RULE, text)
    assert at(text, one) == "W2.red -- S1.load"


@pytest.mark.parametrize("line", ["expect SA1 live\n", ""])
def test_what_the_board_expects_of_it_follows(line: str) -> None:
    assert reported(WRONG + line) == ["unswitched-feed"]


def test_an_alarm_that_nothing_feeds_is_dead_and_not_switched() -> None:
    assert not seen(RULE, changed(RIGHT, ("  W2.black -- W3.black\n", "  cap W2.black\n  cap W3.black\n")))


def test_other_loads_may_be_switched() -> None:
    assert not seen(RULE, changed(WRONG, ("SA1 is smoke-alarm", "SA1 is lampholder 60 W")))


# ------------------------------------------------------------- transformers

BELL = own("unswitched-feed", "bell-transformer").replace("  # finds: unswitched-feed", "")


def test_a_bells_transformer_on_the_wire_of_a_switched_light() -> None:
    (one,) = seen(RULE, BELL)
    assert isinstance(one, SwitchedTransformer)
    assert (one.subject, one.severity, one.stage) == ("DT", "fault", "final")
    assert ([load.name for load in one.loads], [lamp.name for lamp in one.lamps], one.switches) == (
        ["CH.front-bell"],
        ["L1"],
        ("S1",),
    )
    assert at(BELL, one) == "W2.black -- W3.black -- pigtail -- L1.hot"
    assert reported(BELL) == ["unswitched-feed"]
    # What the board expects of the bell follows from it.
    assert reported(BELL + "expect CH.front-bell from PF\n") == ["unswitched-feed"]


def test_a_transformer_ahead_of_the_switch_is_right() -> None:
    """Its hot goes with the feed, by a cable of three from the switch's box."""
    text = changed(
        BELL,
        ("cable W2 14/2 NM-B 12 ft", "cable W2 14/3 NM-B 12 ft"),
        ("  W1.black -- S1.line\n", "  W1.black -- W2.red -- pigtail -- S1.line\n"),
        ("  W2.black -- W3.black -- pigtail -- L1.hot\n", "  W2.black -- L1.hot\n  W2.red -- W3.black\n"),
    )
    assert not seen(RULE, text)


def test_a_transformer_behind_a_switch_of_its_own_may_be_meant() -> None:
    text = changed(BELL, ("L1 is lampholder 60 W in B", "L1 is duplex-receptacle 15 A in B"))
    assert not seen(RULE, text.replace("expect L1 from S1\n", ""))


def test_a_transformer_that_feeds_lamps_alone_may_be_switched_with_others() -> None:
    chime = files.part_text("doorbell-chime").replace("bell bell", "bell lamp")
    text = changed(BELL, ("CH is doorbell-chime", "CH is own-lamps"))
    part = chime.replace("part doorbell-chime", "part own-lamps")
    assert not list(RULE.find(case(text, **{"own-lamps": part})))


def test_a_transformer_with_nothing_on_it_is_missed_by_nobody() -> None:
    text = changed(BELL, ("  B1.red -- DT.secondary-1\n", "  cap B1.red\n"))
    assert not seen(RULE, text)
