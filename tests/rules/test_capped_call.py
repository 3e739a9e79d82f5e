"""Wires of calls that end under a cap: common practice for 24 V controls."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, changed, own, reported, said, seen, shipped
from tests.rules.hookups import HOOKUP, hooked
from wirecheck import files
from wirecheck.rules.capped_call import RULE, CappedCall, ToCallers

RIGHT = shipped("capped-call")
WRONG = shipped("capped-call", "wrong")
BOARDS = files.folder("boards")


def unasked(board: str) -> str:
    """A board that ships, without the lines that say what it should do."""
    lines = (BOARDS / board / "right.wire").read_text(encoding="utf-8").splitlines()
    return "\n".join([*(line for line in lines if not line.startswith("expect")), ""])


@pytest.mark.parametrize("board", ["heat-pump", "dual-fuel", "humidifier", "two-transformers"])
def test_a_spare_under_caps_at_both_ends_is_right(board: str) -> None:
    assert not seen(RULE, unasked(board))


def test_the_wire_of_a_thermostats_call_under_a_cap_at_the_furnace() -> None:
    (found,) = seen(RULE, WRONG)
    assert isinstance(found, CappedCall)
    assert (found.subject, found.severity, found.stage, at(WRONG, found)) == (
        "TS.G",
        "fault",
        "final",
        "cap TW.green  # finds: capped-call",
    )
    assert (found.capped.name, found.place) == ("TW.green", "F")
    assert found.beside is not None and found.beside.name == "F.G"
    assert [one.name for one in found.waits] == ["F.G"]
    assert reported(WRONG) == ["capped-call"]


def test_the_wire_of_what_waits_under_a_cap_at_the_thermostat() -> None:
    text = own("capped-call", "screw-left-empty-at-the-thermostat")
    (found,) = seen(RULE, text)
    assert (found.subject, found.place, found.beside.name) == ("F.G", "TS", "TS.G")
    assert reported(text) == ["capped-call"]


def test_a_wire_that_is_off_both_screws_is_a_spare() -> None:
    assert not seen(RULE, changed(WRONG, ("  TW.green -- TS.G\n", "  cap TW.green\n")))


def test_a_wire_that_lies_loose_is_another_matter() -> None:
    text = changed(WRONG, ("  cap TW.green  # finds: capped-call\n", ""))
    assert not seen(RULE, text)
    assert "loose-conductor" in reported(text)


def test_what_has_no_screw_for_a_call_does_not_wait_for_it() -> None:
    """A second stage of heat that a furnace of one stage has no use for."""
    text = changed(WRONG, ("TS is heat-cool-thermostat", "TS is heat-pump-thermostat"), ("TS.W\n", "TS.B\n"))
    assert {one.given.spec.carries for one in seen(RULE, text)} == {"fan"}


def test_what_has_its_call_by_another_wire_waits_for_nothing() -> None:
    """A second wire of the call that stops half way is no more than a spare."""
    text = changed(
        RIGHT,
        ("  cap TW.yellow\nat TS\n", "  cap TW.yellow\nat TS\n  TW.yellow -- TW.green -- TS.G\n"),
        ("  TW.green -- TS.G\n  TW.blue -- TS.C\n  cap TW.yellow\n", "  TW.blue -- TS.C\n"),
    )
    assert not seen(RULE, text)


def test_a_call_that_a_line_asks_for_is_judged_by_that() -> None:
    text = WRONG + "expect fan runs F.blower\nexpect cool runs F.blower\n"
    assert not seen(RULE, text)
    assert reported(text) == ["call-continuity"]
    # Where one of the calls of a screw has no line, it says it, unless that of another says why.
    half = WRONG + "expect fan runs F.blower\n"
    assert seen(RULE, half)
    assert reported(half) == ["call-continuity"]


def test_power_and_common_are_no_calls() -> None:
    for wire, screw in (("blue", "C"), ("red", "R")):
        text = changed(RIGHT, (f"  TW.{wire} -- F.{screw}\n", f"  cap TW.{wire}\n"))
        assert not seen(RULE, text)


def test_a_thermostat_that_lives_on_its_common_calls_too() -> None:
    text = changed(unasked("heat-cool-hookup"), ("  TW.white -- F.W\n", "  cap TW.white\n"))
    (found,) = seen(RULE, text)
    assert (found.subject, found.beside.name) == ("TS.W", "F.W")
    assert reported(text) == ["capped-call"]


def test_the_outdoor_unit_calls_for_auxiliary_heat_itself() -> None:
    """In its defrost: what it sends is nothing that waits."""
    capped = changed(
        unasked("heat-pump"), ("  TW.white -- OW.white -- A.W2\n", "  OW.white -- A.W2\n  cap TW.white\n")
    )
    (found,) = seen(RULE, capped)
    assert (found.subject, found.beside.name) == ("TS.W2", "A.W2")
    assert [one.name for one in found.waits] == ["A.W2"]
    # At the thermostat's end the wire that waits has the outdoor unit on it as well.
    (found,) = seen(RULE, changed(unasked("heat-pump"), ("  TW.white -- TS.W2\n", "  cap TW.white\n")))
    assert (found.subject, found.beside.name) == ("A.W2", "TS.W2")
    alone = own("capped-call", "defrost-alone")
    (found,) = seen(RULE, alone)
    assert isinstance(found, ToCallers)
    assert [one.name for one in found.callers] == ["HP.W2"]
    assert reported(alone) == ["capped-call"]


def test_a_splice_of_two_caps_and_one_that_no_wire_goes_on_from() -> None:
    (found,) = seen(RULE, own("capped-call", "splice-not-made"))
    assert (found.subject, found.capped.name, found.beside.name) == ("TS.O", "TW.orange", "OW.green")
    (found,) = seen(RULE, own("capped-call", "not-brought-on"))
    assert (found.subject, found.beside) == ("TS.O", None)
    assert "bring it on to HP.O" in (said(RULE, own("capped-call", "not-brought-on"))[0].help or "")


def test_what_power_calls_for_good_waits_for_nothing() -> None:
    text = changed(WRONG, ("  TW.red -- F.R\n", "  TW.red -- F.R -- F.G\n"))
    assert not seen(RULE, text)


def test_the_terminals_letters_do_not_matter() -> None:
    text = changed(HOOKUP, ("  TW.green -- F.G\n", "  cap TW.green\n"), ("expect fan runs F.blowing\n", ""))
    (found,) = list(RULE.find(hooked(text)))
    assert (found.subject, found.beside.name) == ("TS.Fan", "F.G")


def test_a_coil_that_is_dead_for_it_says_it() -> None:
    text = changed(unasked("heat-pump"), ("  TW.yellow -- OW.yellow\n", "  cap TW.yellow\n  cap OW.yellow\n"))
    assert seen(RULE, text)
    assert reported(text) == ["dead-outlet"]
