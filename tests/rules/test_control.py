"""Calls judged: what does not run and why, what runs besides, order, volts, safeties, missing wires."""

from __future__ import annotations

import pytest

from wirecheck import check, files
from wirecheck.judge.finding import Finding

BOARDS = files.folder("boards")


def right(board: str) -> str:
    return (BOARDS / board / "right.wire").read_text(encoding="utf-8")


def found(text: str, rule: str) -> list[Finding]:
    return [finding for finding in check(text).findings if finding.rule == rule]


def changed(board: str, *edits: tuple[str, str]) -> str:
    text = right(board)
    for old, new in edits:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def line(text: str, words: str) -> int:
    (number,) = (n for n, each in enumerate(text.splitlines(), 1) if words in each)
    return number


# ------------------------------------------------------------ the open place


@pytest.mark.parametrize(
    ("board", "joined", "capped", "says"),
    [
        (
            "condensing-furnace",
            "  TW.white -- F.W\n",
            "TW.white",
            "The path to F.W comes as far as TW.white at F",
        ),
        ("condensing-furnace", "  TW.green -- TS.G\n", "TW.green", "comes as far as TS.G at TS"),
        (
            "oil-furnace",
            "  TW.white -- TS.W\n",
            "TW.white",
            "The path to F.call-relay comes as far as TS.W at TS",
        ),
        ("oil-furnace", "  PF.white -- F.N\n", "PF.white", "F.transformer gives no 24 V"),
        ("boiler-two-zones", "  E2.white -- ZV2.end-2\n", "E2.white", "ZV2"),
        ("heat-pump", "  TW.orange -- TS.O\n", "TW.orange", "comes as far as TS.O at TS"),
        ("heat-pump", "  OW.blue -- HP.C\n", "OW.blue", "HP.contactor is not pulled in"),
        ("walk-in-cooler", "  TW.black -- W.T-2\n", "TW.black", "comes as far as TW.black at W"),
        ("ice-machine", "  PN.white -- M.N\n", "PN.white", "comes as far as PN.white at M"),
    ],
)
def test_a_wire_left_off_is_named_where_it_was_left_off(
    board: str, joined: str, capped: str, says: str
) -> None:
    text = changed(board, (joined, f"  cap {capped}\n"))
    findings = found(text, "call-continuity")
    assert len(findings) == 1, findings
    assert says in findings[0].message
    caps = [n for n, each in enumerate(text.splitlines(), 1) if each == f"  cap {capped}"]
    assert findings[0].span.line in caps
    assert findings[0].help and "join" in findings[0].help


def test_one_open_place_is_told_once_for_all_calls_that_it_stops() -> None:
    text = changed("split-air-conditioner", ("  TW.red -- TS.R\n", "  cap TW.red\n"))
    (finding,) = found(text, "call-continuity")
    assert "The same stops" in finding.message
    assert "heat" in finding.message and "fan" in finding.message


def test_the_way_through_another_zone_is_no_way() -> None:
    # Zone 2's end switch is off; that zone 1's thermostat is open is as it should be.
    text = changed("boiler-two-zones", ("  E2.red -- ZV2.end-1\n", "  cap E2.red\n"))
    (finding,) = found(text, "call-continuity")
    assert "Z1" not in finding.message.replace("Z1.heat", "")
    assert finding.help == "At ZV2, join E2.red to ZV2.end-1."


# ------------------------------------------------------------------- order


def test_a_wrong_order_is_told_with_its_times() -> None:
    text = changed(
        "condensing-furnace",
        (
            "F.inducer, then F.igniter, then F.gas-valve, then F.blower",
            "F.igniter, then F.inducer, F.gas-valve, F.blower",
        ),
    )
    (finding,) = found(text, "call-continuity")
    assert finding.message.startswith("With heat called, F.inducer begins after 0 s and F.igniter after 18 s")
    assert finding.subject == "F.inducer"


def test_what_begins_at_the_same_moment_does_not_come_after() -> None:
    text = changed(
        "split-air-conditioner", ("CU.compressor, CU.fan, F.blower", "CU.compressor, then CU.fan, F.blower")
    )
    assert len(found(text, "call-continuity")) == 1


def test_a_fan_that_runs_at_rest_has_its_place_when_it_comes_back() -> None:
    # A freezer's fans run between defrosts, stop in one, and come back last (common practice).
    assert found(right("walk-in-freezer"), "call-continuity") == []
    text = changed(
        "walk-in-freezer",
        ("W.condenser-fan, then W.evaporator-fans", "then W.condenser-fan, W.evaporator-fans"),
    )
    assert len(found(text, "call-continuity")) == 1


# --------------------------------------------------------------- crosstalk


@pytest.mark.parametrize(
    ("board", "jumper", "runs"),
    [
        ("oil-furnace", "  TW.white -- F.T-2\n", "F.T-1 -- F.T-2"),
        ("condensing-furnace", "  TW.white -- F.W\n", "F.R -- F.W"),
        ("condensing-furnace", "  TW.white -- F.W\n", "F.R -- F.G"),
        ("walk-in-cooler", "  TW.black -- TS.b\n", "TS.a -- TS.b"),
        ("boiler-two-zones", "  E1.white -- ZV1.end-2\n", "ZV1.end-1 -- ZV1.end-2"),
        ("packaged-unit", "  TW.yellow -- P.Y\n", "P.R -- P.Y"),
    ],
)
def test_a_jumper_is_found_as_the_line_that_it_is(board: str, jumper: str, runs: str) -> None:
    text = changed(board, (jumper, f"{jumper}  {runs}\n"))
    (finding,) = found(text, "call-crosstalk")
    assert finding.subject == "idle"
    assert finding.span.line == line(text, f"  {runs}")
    assert all(screw in (finding.help or "") for screw in runs.split(" -- "))


def test_a_reversing_valve_on_the_wrong_letter_is_moved_back() -> None:
    text = changed("heat-pump", ("  TW.orange -- TS.O\n", "  TW.orange -- TS.B\n"))
    (crossed,) = found(text, "call-crosstalk")
    (stopped,) = found(text, "call-continuity")
    assert crossed.help == stopped.help == "Move the wire from TS.B to TS.O."


# ---------------------------------------------------------------- safeties


def test_a_safety_that_rests_open_is_opened_and_not_closed() -> None:
    # A pressure switch and a damper's end switch stand open at rest; opening them is their trip.
    assert found(right("condensing-furnace"), "safety-bypass") == []
    assert found(right("boiler-two-zones"), "safety-bypass") == []


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (("  FW.white -- OW.red\n", "  FW.white -- OW.red -- F.Y\n"), "FS is wired around"),
        (
            (
                "  TW.yellow -- FW.red -- F.Y\n  FW.white -- OW.red\n  TW.green -- F.G\n",
                "  TW.yellow -- OW.red -- F.Y\n  TW.green -- FW.red\n  FW.white -- F.G\n",
            ),
            "FS is not in the way of CU.compressor",
        ),
    ],
)
def test_a_float_switch_that_guards_nothing_says_how(edit: tuple[str, str], says: str) -> None:
    findings = found(changed("float-switch-in-y", edit), "safety-bypass")
    assert findings and says in findings[0].message
    assert findings[0].severity == "hazard"


# ------------------------------------------------------------ missing wires


def test_a_powered_thermostat_without_c_is_told_what_is_missing() -> None:
    text = changed("heat-cool-hookup", ("  TW.blue -- TS.C\n", "  cap TW.blue\n"))
    (finding,) = found(text, "missing-wire")
    assert finding.severity == "advice"
    assert finding.message == "No wire is on TS.C: TS has no power at all."
    assert "F.C" in (finding.help or "")


def test_a_thermostat_with_batteries_is_told_that_it_lives_on_them() -> None:
    text = changed("condensing-furnace", ("  TW.blue -- TS.C\n", "  cap TW.blue\n"))
    (finding,) = found(text, "missing-wire")
    assert "lives on batteries alone" in finding.message


def test_a_fan_call_that_nobody_hears_is_advice_unless_it_is_expected() -> None:
    without = (("  TW.green -- F.G\n", "  cap TW.green\n"), ("  TW.green -- TS.G\n", "  cap TW.green\n"))
    expected = changed("condensing-furnace", *without)
    assert [f.subject for f in found(expected, "missing-wire")] == []
    assert len(found(expected, "call-continuity")) == 1
    unasked = changed("condensing-furnace", *without, ("expect fan runs F.blower\n", ""))
    (finding,) = found(unasked, "missing-wire")
    assert finding.subject == "TS.G"
    assert "a call for fan reaches nothing, and F.G, which waits for it, never hears it" in finding.message


@pytest.mark.parametrize("board", ["heating-call", "oil-furnace", "condensing-furnace", "two-transformers"])
def test_terminals_that_nobody_needs_are_not_spoken_of(board: str) -> None:
    assert found(right(board), "missing-wire") == []


def test_a_wire_that_a_defrost_needs_and_does_not_have_is_told() -> None:
    text = (files.folder("boards") / "heat-pump" / "right.wire").read_text(encoding="utf-8")
    told = check(text.replace("  OW.white -- HP.W2", "  cap OW.white")).findings
    (missing,) = [finding for finding in told if finding.rule == "missing-wire"]
    assert missing.subject == "HP.W2" and "A.W2 never hears it" in missing.message
    assert not [finding for finding in check(text).findings if finding.rule == "missing-wire"]
