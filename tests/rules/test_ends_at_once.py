"""What a call starts and stops in the same moment."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, case, changed, own, reported
from wirecheck import files
from wirecheck.rules.ends_at_once import RULE, EndsAtOnce

BOARDS = files.folder("boards") / "rules" / "ends-at-once"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")
FED = own("ends-at-once", "fed-from-the-beginning")
FREEZER = (files.folder("boards") / "walk-in-freezer" / "right.wire").read_text(encoding="utf-8")
CLOCK = files.part_text("defrost-timer") or ""
RELEASED = "clock goes from defrosting to ended when release-coil runs"


def clock(line: str) -> str:
    """A defrost clock that something else releases."""
    return changed(CLOCK, (RELEASED, line), ("defrost-timer", "clock"))


def found(text: str, **parts: str) -> list[EndsAtOnce]:
    return list(RULE.find(case(text, **parts)))


def with_clock(text: str, line: str) -> list[EndsAtOnce]:
    return found(changed(text, ("TM is defrost-timer", "TM is clock")), clock=clock(line))


@pytest.mark.parametrize("text", [RIGHT, FREEZER])
def test_right_boards_are_right(text: str) -> None:
    assert not found(text)


def test_a_release_on_the_cold_side_ends_each_defrost_as_it_begins() -> None:
    (one,) = found(WRONG)
    assert (one.severity, one.stage, one.subject, one.call) == ("fault", "final", "HT", "defrost")
    assert [load.name for load in one.loads] == ["HT"]
    assert (one.move.variable, one.move.target) == ("TM.clock", "ended")
    assert one.swap is not None
    assert (one.swap.here.name, one.swap.meant.name) == ("TT.cold-side", "TT.warm-side")
    assert at(WRONG, one).startswith("TT.cold-side -- TM.release")
    assert len(one.copper) == 2


def test_that_it_does_not_run_and_that_a_screw_is_empty_are_no_second_mistake() -> None:
    assert reported(WRONG) == ["ends-at-once"]


def test_without_a_screw_to_move_to_the_join_of_the_release_is_to_blame() -> None:
    (one,) = found(FED)
    assert [load.name for load in one.loads] == ["HT", "H2"]
    assert one.swap is None
    assert at(FED, one).endswith("TM.release")


def test_no_screw_that_runs_it_without_a_call_is_offered() -> None:
    text = changed(FED, ("  TM.cool -- EF.a\n", ""), ("expect idle runs EF\n", ""))
    (one,) = found(text)
    assert one.swap is None


def test_no_screw_that_puts_another_call_wrong_is_offered() -> None:
    (one,) = found(WRONG + "expect idle runs nothing\n")
    assert one.swap is None
    assert at(WRONG, one).startswith("TT.cold-side -- TM.release")


def test_what_runs_for_a_second_has_run() -> None:
    later = RELEASED.replace("ended", "ended after 1 s")
    assert with_clock(WRONG, RELEASED)
    assert not with_clock(WRONG, later)


def test_volts_at_a_terminal_end_it_too() -> None:
    (one,) = with_clock(WRONG, RELEASED.replace("release-coil runs", "release has 180 V to common"))
    assert one.swap is not None and one.swap.meant.name == "TT.warm-side"
    (one,) = with_clock(FED, RELEASED.replace("release-coil runs", "common has 180 V to release"))
    assert at(FED, one).endswith("TM.release")


def test_where_it_cannot_be_told_the_device_is_to_blame() -> None:
    (one,) = with_clock(WRONG, RELEASED + " and call defrost")
    assert one.swap is None
    assert at(changed(WRONG, ("TM is defrost-timer", "TM is clock")), one) == "TM is clock in CP"


@pytest.mark.parametrize(
    ("part", "wires"),
    [
        # A hand runs it, or another call.
        ("single-pole-switch", ("line", "load")),
        ("cooling-thermostat", ("a", "b")),
    ],
)
def test_what_runs_longer_in_another_way_works(part: str, wires: tuple[str, str]) -> None:
    text = changed(
        WRONG,
        ("HS is", f"S is {part} in CP\nHS is"),
        ("  PF.black -- TM.feed\n", f"  PF.black -- pigtail -- TM.feed -- pigtail -- S.{wires[0]}\n"),
        ("  HS.b -- HT.a\n", f"  HS.b -- pigtail -- HT.a -- pigtail -- S.{wires[1]}\n"),
    )
    assert not found(text)


def test_what_does_no_work_has_nothing_to_end() -> None:
    part = 'part board "A board"\nterminal a line\nterminal b line\nload board electronics from a to b, {}\n'
    text = changed(WRONG, ("HT is heater with power 1200 W, voltage 240 V", "HT is part-of-ours"))
    text = changed(text, ("expect HS stops HT\n", ""), ("expect defrost runs HT\n", ""))
    listed = part.format("5 VA at 240 V").replace("part board", "part part-of-ours")
    assert not found(text, **{"part-of-ours": listed})
    assert found(text, **{"part-of-ours": listed.replace("electronics", "heater")})


def test_what_trips_as_it_ends_is_another_mistake() -> None:
    short = clock(RELEASED) + "feed -- common when clock is ended\n"
    assert not found(changed(WRONG, ("TM is defrost-timer", "TM is clock")), clock=short)
