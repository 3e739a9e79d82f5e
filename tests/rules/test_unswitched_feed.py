"""Alarms behind a switch: which lose their power, by what, and where their wire leaves what is switched."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, changed, reported, seen
from wirecheck import files
from wirecheck.rules.unswitched_feed import RULE

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
