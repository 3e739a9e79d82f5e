"""What waits for itself."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, STAIR, at, case, changed, own, reported, seen
from wirecheck import check, files
from wirecheck.judge.circles import circle
from wirecheck.rules.own_contact import RULE

BOARDS = files.folder("boards") / "rules" / "own-contact"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")
PUMP_DOWN = own("own-contact", "pump-down")
CLOCK = (files.folder("boards") / "water-heater-on-time-clock" / "right.wire").read_text(encoding="utf-8")
FREEZER = (files.folder("boards") / "walk-in-freezer" / "right.wire").read_text(encoding="utf-8")

SEAL_IN = """\
board "A start button and a contact that holds"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
box A square 42 cu in
cable W1 14/2 NM-B 9 ft from LP to A
T is class-2-transformer in A
K is relay-dpdt in A
START is push-button in A
M is motor in A
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
at A
  W1.black -- T.primary-hot -- pigtail -- K.common-1
  W1.white -- T.primary-neutral -- M.b
  M.a -- K.no-1
  T.secondary-r -- START.a -- pigtail -- K.common-2
  START.b -- pigtail -- K.no-2 -- pigtail -- K.coil-a
  T.secondary-c -- K.coil-b
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, RIGHT, SEAL_IN, CLOCK, FREEZER])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_transformer_behind_its_own_contactor() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject) == ("fault", "final", "T1")
    assert [(one.of.name, one.for_.name) for one in found.circle.links] == [("C1", "T1"), ("T1", "C1")]
    assert (found.link.contact.name, found.link.point) == (found.circle.links[1].contact.name, "C1.load-1")
    assert found.circle.links[0].contact is None
    assert found.dead == {"T1", "C1", "CMP"}
    assert at(WRONG, found).startswith("CMP.a -- T1.primary-hot")
    assert len(found.copper) > 2
    # That the compressor does not run in a call is no second mistake.
    assert "own-contact" in reported(WRONG)
    assert "call-continuity" not in reported(WRONG)


def test_one_side_behind_it_is_enough() -> None:
    text = changed(
        WRONG,
        ("CMP.a -- T1.primary-hot -- pigtail -- C1.load-1", "CMP.a -- C1.load-1"),
        ("PF.black -- C1.line-1", "PF.black -- T1.primary-hot -- pigtail -- C1.line-1"),
    )
    (found,) = seen(RULE, text)
    assert (found.subject, found.link.point) == ("T1", "C1.load-2")


def test_a_contact_that_holds_needs_a_start() -> None:
    text = SEAL_IN.replace("  START.b -- pigtail -- K.no-2 -- pigtail -- K.coil-a", "  K.no-2 -- K.coil-a")
    (found,) = seen(RULE, text)
    assert [(one.of.name, one.for_.name) for one in found.circle.links] == [("K", "K")]
    assert found.dead == {"K", "M"}


def test_a_closed_contact_needs_none() -> None:
    text = changed(WRONG, ("C1 is contactor 30 A", "C1 is relay-dpdt"))
    for old, new in (("line-1", "common-1"), ("line-2", "common-2"), ("load-1", "nc-1"), ("load-2", "nc-2")):
        text = text.replace(f"C1.{old}", f"C1.{new}")
    assert not seen(RULE, text)
    assert seen(RULE, text.replace("C1.nc", "C1.no"))


def test_two_relays_that_wait_for_each_other() -> None:
    text = changed(
        SEAL_IN,
        ("START is push-button in A", "START is relay-spst in A"),
        (
            "  T.secondary-r -- START.a -- pigtail -- K.common-2\n",
            "  T.secondary-r -- START.common -- pigtail -- K.common-2\n",
        ),
        (
            "  START.b -- pigtail -- K.no-2 -- pigtail -- K.coil-a\n",
            "  START.no -- K.coil-a\n  K.no-2 -- START.coil-a\n",
        ),
        ("K.coil-b", "K.coil-b -- START.coil-b"),
    )
    (found,) = seen(RULE, text)
    assert {one.of.name for one in found.circle.links} == {"K", "START"}


def test_a_valve_behind_the_contactor_that_its_pressure_pulls_in() -> None:
    (found,) = seen(RULE, PUMP_DOWN)
    assert (found.subject, found.link.point) == ("SOL", "C1.load-1")
    assert [(one.of.name, one.for_.name) for one in found.circle.links] == [("C1", "SOL"), ("SOL", "C1")]
    assert at(PUMP_DOWN, found).startswith("CMP.a -- TW.black")


AHEAD = changed(
    PUMP_DOWN,
    ("CMP.a -- TW.black -- pigtail -- C1.load-1", "CMP.a -- C1.load-1"),
    ("PF.black -- pigtail", "PF.black -- TW.black -- pigtail"),
)


def test_ahead_of_the_contactor_it_brings_the_pressure() -> None:
    assert not seen(RULE, AHEAD)


def test_without_a_valve_the_pressure_comes_from_elsewhere() -> None:
    text = changed(
        PUMP_DOWN,
        ("SOL is solenoid-valve with voltage 240 V", "SOL is heater"),
    )
    assert not seen(RULE, text)


def test_a_machine_that_runs_brings_pressure_too() -> None:
    text = changed(
        PUMP_DOWN,
        ("LPC is", "PUMP is motor with voltage 240 V in CP\nLPC is"),
        ("PF.black -- pigtail", "PF.black -- PUMP.a -- pigtail"),
        ("SOL.b -- pigtail", "SOL.b -- PUMP.b -- pigtail"),
    )
    assert not seen(RULE, text)


def test_a_safety_waits_for_no_pressure() -> None:
    assert not seen(RULE, changed(PUMP_DOWN, ("LPC is low-pressure-control", "LPC is low-pressure")))


def test_without_a_source_there_is_no_circle() -> None:
    text = changed(
        SEAL_IN, ("panel LP 120/240 V, 10 kA available\nbreaker LP.1 15 A\n", "box LP square 42 cu in\n")
    )
    text = text.replace("  W1.black -- LP.1\n  W1.white -- LP.neutral\n", "  cap W1.black\n")
    assert circle(case(text)) is None


def test_what_no_wire_comes_to_is_in_no_circle() -> None:
    text = changed(WRONG, ("PF.black -- C1.line-1", "cap PF.black"))
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("board", "screws", "mend"),
    [
        ("clock", ["TC.load-1", "TC.load-2"], "At T, the two sides of TC are swapped."),
        ("clock-one-pole", ["TC.load-2"], "At T, W1.white and W2.white are swapped."),
    ],
)
def test_a_clock_behind_the_contacts_that_it_moves(board: str, screws: list[str], mend: str) -> None:
    """Common practice: once they open it stands still, and it never closes them again."""
    text = own("own-contact", board)
    (found,) = seen(RULE, text)
    assert [one.name for one in found.screws] == screws
    assert [one.name for one in found.lines] == [name.replace("load", "line") for name in screws]
    assert (found.severity, found.subject, found.clock.name) == ("fault", "TC", "TC")
    assert screws[0] in at(text, found)
    # That its load screws stay live, and what hangs on its line screws dies, is no second mistake.
    assert reported(text) == ["own-contact"]
    (told,) = check(text, effort=400).findings
    assert [one.mistake for one in told.mends] == [mend]


def test_a_clock_behind_the_contact_of_another_is_no_such() -> None:
    """A clock that counts the hours of its compressor is behind that one's control."""
    behind = own("own-contact", "clock")
    right = behind.replace("TC.line", "TC.x").replace("TC.load", "TC.line").replace("TC.x", "TC.load")
    text = changed(
        right,
        ("TC is time-clock", "D is disconnect-2-pole in T\nTC is time-clock"),
        ("W1.black -- TC.line-1", "W1.black -- D.line-1\n  D.load-1 -- TC.line-1"),
        ("W1.white marked black -- TC.line-2", "W1.white marked black -- D.line-2\n  D.load-2 -- TC.line-2"),
    )
    assert not seen(RULE, right)
    assert not seen(RULE, text)
