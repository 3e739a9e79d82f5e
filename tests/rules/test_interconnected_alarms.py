"""Alarms that do not hear of each other, and leads on what is not theirs."""

from __future__ import annotations

import pytest

from tests.rules.hands import LIGHT, changed, reported, seen
from wirecheck import files
from wirecheck.rules.interconnected_alarms import RULE, LeadOnPower, LeadsApart

ALARMS = """\
board "Three alarms"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A octagon 21.5 cu in
box B octagon 21.5 cu in
box C octagon 21.5 cu in
cable W1 14/2 NM-B 22 ft from LP to A
cable W2 14/3 NM-B 16 ft from A to B
cable W3 14/3 NM-B 16 ft from B to C
A1 is smoke-alarm in A
A2 is smoke-alarm in B
A3 is smoke-alarm in C
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- W2.black -- pigtail -- A1.hot
  W1.white -- W2.white -- pigtail -- A1.neutral
  W1.bare -- W2.bare
  W2.red -- A1.interconnect
at B
  W2.black -- W3.black -- pigtail -- A2.hot
  W2.white -- W3.white -- pigtail -- A2.neutral
  W2.bare -- W3.bare
  W2.red -- W3.red -- pigtail -- A2.interconnect
at C
  W3.black -- A3.hot
  W3.white -- A3.neutral
  W3.red -- A3.interconnect
  cap W3.bare
"""
FIRST, MIDDLE, LAST = (
    "  W2.red -- A1.interconnect\n",
    "  W2.red -- W3.red -- pigtail -- A2.interconnect\n",
    "  W3.red -- A3.interconnect\n",
)


def line(text: str, number: int) -> str:
    return text.splitlines()[number - 1]


@pytest.mark.parametrize("text", [ALARMS, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)
    assert not reported(text)


def test_an_alarm_beyond_an_open_place() -> None:
    """NFPA 72 (2022) 29.8.2.1 (from memory): all alarms of a dwelling sound together."""
    text = changed(ALARMS, (MIDDLE, "  W2.red -- A2.interconnect\n  cap W3.red\n"))
    (found,) = seen(RULE, text)
    assert isinstance(found, LeadsApart)
    assert (found.severity, found.stage, found.subject) == ("fault", "trim", "A3")
    assert [one.name for one in found.first] == ["A1.interconnect", "A2.interconnect"]
    assert [one.name for one in found.leads] == ["A3.interconnect"]
    assert line(text, found.at.span.line) == "  W3.red -- A3.interconnect"
    assert len(found.copper) == 2
    assert reported(text) == ["interconnected-alarms"]


def test_two_open_places_are_two_problems() -> None:
    text = changed(ALARMS, (MIDDLE, "  cap W2.red\n  cap W3.red\n"))
    assert [found.subject for found in seen(RULE, text)] == ["A2", "A3"]


@pytest.mark.parametrize(
    ("first", "last", "at"),
    [
        (FIRST, "  cap W3.red\n", "  W2.red -- A1.interconnect"),
        ("  cap W2.red\n", LAST, "  W3.red -- A3.interconnect"),
        ("  cap W2.red\n", "  cap W3.red\n", "A3 is smoke-alarm in C"),
    ],
)
def test_the_line_is_that_of_a_lead_that_is_joined(first: str, last: str, at: str) -> None:
    text = changed(ALARMS, (FIRST, first), (LAST, last), (MIDDLE, "  cap W2.red\n  cap W3.red\n"))
    found = seen(RULE, text)[-1]
    assert (found.subject, line(text, found.at.span.line)) == ("A3", at)


def test_one_alarm_alone_has_nobody_to_tell() -> None:
    text = changed(
        ALARMS,
        ("A1 is smoke-alarm in A\n", ""),
        ("A2 is smoke-alarm in B\n", ""),
        ("  W1.black -- W2.black -- pigtail -- A1.hot\n", "  W1.black -- W2.black\n"),
        ("  W1.white -- W2.white -- pigtail -- A1.neutral\n", "  W1.white -- W2.white\n"),
        ("  W2.black -- W3.black -- pigtail -- A2.hot\n", "  W2.black -- W3.black\n"),
        ("  W2.white -- W3.white -- pigtail -- A2.neutral\n", "  W2.white -- W3.white\n"),
        (FIRST, "  cap W2.red\n"),
        (MIDDLE, "  cap W2.red\n  cap W3.red\n"),
        (LAST, "  cap W3.red\n"),
    )
    assert not seen(RULE, text)


def test_what_is_cut_off_by_a_loose_end_or_an_unread_line_is_reported_there() -> None:
    loose = changed(ALARMS, (LAST, ""))
    assert len(seen(RULE, loose)) == 1
    assert reported(loose) == ["loose-conductor"]
    unread = changed(ALARMS, (LAST, "  W3.rde -- A3.interconnect\n"))
    assert reported(unread) == ["unknown-name"]


@pytest.mark.parametrize(
    ("wire", "use", "at"),
    [
        # Red among blacks could be a hot: then it is blamed where the lead is.
        ("black", "hot", "  W2.red -- W3.red -- pigtail -- A2.interconnect"),
        ("white", "neutral", "  W1.white -- W2.white -- W2.red -- pigtail -- A1.neutral"),
        ("bare", "ground", "  W1.bare -- W2.bare -- W2.red"),
    ],
)
def test_a_lead_on_power(wire: str, use: str, at: str) -> None:
    spliced = f"  W1.{wire} -- W2.{wire}"
    text = changed(ALARMS, (spliced, f"{spliced} -- W2.red"), (FIRST, ""))
    found = next(one for one in seen(RULE, text) if isinstance(one, LeadOnPower))
    assert (found.severity, found.stage, found.subject, found.use) == ("hazard", "trim", "A2", use)
    assert [one.name for one in found.leads] == ["A2.interconnect", "A3.interconnect"]
    assert line(text, found.at.span.line) == at
    assert len(found.copper) == 1
    # That A1 does not hear of the others is the same mistake.
    assert reported(text).count("interconnected-alarms") == 1


def test_a_lead_on_a_white_wire_is_blamed_at_its_own_screw() -> None:
    text = changed(
        ALARMS,
        (LAST, "  cap W3.red\n"),
        ("  W3.white -- A3.neutral\n", "  W3.white -- pigtail -- A3.neutral -- pigtail -- A3.interconnect\n"),
    )
    found = next(one for one in seen(RULE, text) if isinstance(one, LeadOnPower))
    assert (
        line(text, found.at.span.line) == "  W3.white -- pigtail -- A3.neutral -- pigtail -- A3.interconnect"
    )


def test_the_board_that_ships_is_right() -> None:
    path = files.folder("boards") / "smoke-alarms" / "right.wire"
    assert not seen(RULE, path.read_text(encoding="utf-8"))
