"""What a call runs besides, and the wire or the jumper that makes it; crossed wires that no line shows."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, case, changed, own, reported, said, seen
from tests.rules.hookups import BENCH, HOOKUP, LIVE, hooked, made
from wirecheck import files
from wirecheck.judge.swaps import Misplaced, Swapped
from wirecheck.language.syntax import ExpectRuns
from wirecheck.rules.call_crosstalk import RULE, CrossedUnasked, RunsToo

BOARDS = files.folder("boards")
IDLE = HOOKUP + "expect idle runs nothing\n"
LIVELY = {"stat": LIVE.replace("part live", "part stat")}


def right(board: str) -> str:
    return (BOARDS / board / "right.wire").read_text(encoding="utf-8")


def found(text: str, **parts: str) -> list[RunsToo | CrossedUnasked]:
    return list(RULE.find(hooked(text, **parts)))


def runs(text: str, **parts: str) -> RunsToo:
    """The one mistake by which something runs that should not."""
    (one,) = [one for one in found(text, **parts) if isinstance(one, RunsToo)]
    return one


def calls(one: RunsToo) -> dict[str, list[str]]:
    return {extra.line.calls[0].text: [load.name for load in extra.loads] for extra in one.extras}


@pytest.mark.parametrize("board", ["condensing-furnace", "walk-in-cooler"])
def test_right_boards_are_right(board: str) -> None:
    assert not seen(RULE, right(board))
    assert not found(IDLE)


# ----------------------------------------------------------------- crossed


def test_a_wire_on_another_terminal_runs_what_is_there() -> None:
    text = made(IDLE, "F: TW.green -- F.W")
    one = runs(text)
    assert calls(one) == {"fan": ["F.heating"]}
    assert (at(text, one), one.severity, one.stage, one.subject) == (
        "TW.green -- F.W",
        "fault",
        "final",
        "F.heating",
    )
    assert isinstance(one.swap, Misplaced) and one.swap.meant.name == "F.G"
    assert one.jumper is None and one.copper


def test_two_wires_on_each_others_terminals_are_one_mistake() -> None:
    text = made(IDLE, "F: TW.white -- F.Y", "F: TW.yellow -- F.W")
    one = runs(text)
    assert calls(one) == {"heat": ["F.cooling"], "cool": ["F.heating"]}
    assert isinstance(one.swap, Swapped)
    assert [crossed.here.name for crossed in one.crossings] == ["F.Y", "F.W"]


def test_a_wire_for_which_there_is_no_terminal_is_taken_off() -> None:
    text = own("call-crosstalk", "green-on-a-furnace-without-g")
    (one,) = seen(RULE, text)
    assert one.swap is None and one.jumper is None
    assert [(crossed.here.name, crossed.meant) for crossed in one.crossings] == [("F.T-2", None)]
    assert "TW.green" in at(text, one)


def test_where_no_swap_mends_every_call_the_first_wire_is_still_put_where_it_belongs() -> None:
    """Two mistakes at once: the fan's wire on the heat terminal, and the cooling wire left off."""
    text = changed(made(IDLE, "F: TW.green -- F.W"), ("  TW.yellow -- F.Y\n", "  cap TW.yellow\n"))
    one = runs(text)
    assert isinstance(one.swap, Misplaced)
    assert (one.swap.here.name, one.swap.meant.name) == ("F.W", "F.G")
    assert at(text, one) == "TW.green -- F.W"


# ----------------------------------------------------------------- jumpers


@pytest.mark.parametrize(
    ("board", "jumper", "ties"),
    [
        ("oil-furnace", "  TW.white -- F.T-2\n", "F.T-1 -- F.T-2"),
        ("condensing-furnace", "  TW.white -- F.W\n", "F.R -- F.W"),
        ("condensing-furnace", "  TW.white -- F.W\n", "F.R -- F.G"),
        ("walk-in-cooler", "  TW.black -- TS.b\n", "TS.a -- TS.b"),
        ("boiler-two-zones", "  E1.white -- ZV1.end-2\n", "ZV1.end-1 -- ZV1.end-2"),
        ("packaged-unit", "  TW.yellow -- P.Y\n", "P.R -- P.Y"),
    ],
)
def test_a_jumper_is_found_as_the_line_that_it_is(board: str, jumper: str, ties: str) -> None:
    text = changed(right(board), (jumper, f"{jumper}  {ties}\n"))
    (one,) = seen(RULE, text)
    assert isinstance(one, RunsToo)
    assert "idle" in {extra.line.calls[0].text for extra in one.extras}
    assert at(text, one) == ties
    assert one.jumper is not None
    assert [member.name for member in one.jumper.members] == ties.split(" -- ")


def test_a_wire_on_two_terminals_at_once_ties_them_too() -> None:
    text = made(IDLE, "F: TW.red -- F.R -- F.W")
    one = runs(text)
    assert one.jumper is not None and at(text, one) == "TW.red -- F.R -- F.W"
    assert one.swap is None


def test_two_terminals_that_carry_the_same_may_well_be_tied() -> None:
    """Where both of a splice's terminals carry heat, it is not what makes the lamp burn."""
    bench = BENCH.replace("terminal X class-2,", "terminal X class-2, carries heat,")
    text = changed(made(IDLE, "F: TW.white -- F.W -- F.X"), ("at F\n", "at F\n  F.R -- F.Y\n"))
    one = runs(text, bench=bench)
    assert at(text, one) == "F.R -- F.Y"


def test_each_mistake_is_told_for_itself() -> None:
    """Two jumpers: without the one the other still runs its lamp, and each line has its own."""
    text = changed(IDLE, ("expect idle runs nothing", "expect idle runs F.cooling"))
    text = changed(
        text, ("at F\n", "at F\n  F.R -- F.Y\n"), ("expect fan runs", "expect fan runs nothing\n#")
    )
    (one,) = [one for one in found(text) if isinstance(one, RunsToo)]
    assert (at(text, one), calls(one)) == ("expect fan runs nothing", {"fan": ["F.blowing"]})
    both = changed(text, ("expect idle runs F.cooling", "expect idle runs nothing"))
    assert [at(both, one) for one in found(both)] == ["expect fan runs nothing", "F.R -- F.Y"]


# ------------------------------------------------------------------- swaps


def test_a_reversing_valve_on_the_wrong_terminal_is_moved_back() -> None:
    text = own("call-crosstalk", "reversing-valve-on-b")
    (one,) = (each for each in seen(RULE, text) if isinstance(each, RunsToo))
    assert isinstance(one.swap, Misplaced)
    assert [crossed.spliced for crossed in one.crossings] == [True]
    assert (one.swap.here.name, one.swap.meant.name) == ("TS.B", "TS.O")
    assert at(text, one) == "TW.orange -- TS.B"
    # What the cooling call lacks for it is the same mistake.
    assert [rule for rule in reported(text) if rule.startswith("call")] == ["call-crosstalk"]


def test_what_no_wire_makes_is_told_at_the_line_that_says_otherwise() -> None:
    text = changed(IDLE, ("expect fan runs F.blowing", "expect fan runs nothing"))
    one = runs(text)
    assert (one.swap, one.jumper, one.crossings) == (None, None, ())
    assert at(text, one) == "expect fan runs nothing" and isinstance(one.at.of, ExpectRuns)


def test_crossed_wires_come_before_jumpers() -> None:
    text = changed(made(IDLE, "F: TW.green -- F.W"), ("at F\n", "at F\n  F.X -- F.Y\n"))
    one = runs(text)
    assert one.crossings and one.jumper is None


# ----------------------------------------------------------------- unasked


def test_a_valve_that_is_to_cool_and_runs_to_heat_is_told_of_without_a_line_that_asks() -> None:
    """The outdoor unit has no terminal for the other season; spliced at the indoor unit or not."""
    text = own("call-crosstalk", "reversing-valve-on-b")
    quiet = "".join(f"{line}\n" for line in text.splitlines() if not line.startswith("expect"))
    (one,) = seen(RULE, quiet)
    assert isinstance(one, CrossedUnasked) and one.severity == "fault"
    assert (one.subject, at(quiet, one)) == ("TS.B", "TW.orange -- TS.B")
    assert isinstance(one.swap, Misplaced) and one.swap.meant.name == "TS.O"
    assert not seen(RULE, changed(quiet, ("TW.orange -- TS.B", "TW.orange -- TS.O")))


def unasked(text: str, **parts: str) -> list[CrossedUnasked]:
    return [one for one in found(text, **parts) if isinstance(one, CrossedUnasked)]


ONLY_HEAT = changed(HOOKUP, ("expect cool runs F.cooling\nexpect fan runs F.blowing\n", ""))
SWAPPED = ("F: TW.yellow -- F.G", "F: TW.green -- F.Y")


def test_crossed_wires_that_no_line_shows() -> None:
    text = made(ONLY_HEAT, *SWAPPED)
    (one,) = unasked(text)
    assert [crossed.conductor.name for crossed in one.crossings] == ["TW.yellow", "TW.green"]
    assert (at(text, one), one.subject, one.severity, one.stage) == (
        "TW.yellow -- F.G",
        "F.G",
        "fault",
        "final",
    )
    assert isinstance(one.swap, Swapped) and one.copper
    assert not runs_too(text)


def runs_too(text: str) -> list[RunsToo]:
    return [one for one in found(text) if isinstance(one, RunsToo)]


def test_where_all_calls_are_asked_for_and_right_a_bare_contact_has_no_first_wire() -> None:
    """Power and the one call of a thermostat that is a contact may be on each other's terminals."""
    text = changed(
        made(ONLY_HEAT, "TS: TW.red -- TS.W-E", "TS: TW.white -- TS.Rh"),
        ("  TW.yellow -- TS.Y1\n", "  cap TW.yellow\n"),
        ("  TW.green -- TS.Fan\n", "  cap TW.green\n"),
    )
    contact = """part stat "A thermostat for heat"
terminal Rh class-2, carries power
terminal Com class-2-common, carries common, optional
terminal W-E class-2, carries heat
calls heat
Rh -- W-E when call heat
"""
    assert not unasked(text, stat=contact)
    # One that lives on its feed does not live on a call.
    live = contact + "load display electronics from Rh to Com, 1 VA at 24 V, standby\n"
    assert unasked(text, stat=live)


def test_what_lines_ask_for_and_is_right_is_right() -> None:
    """Two calls of a bare contact pull two relays, each the other's, and the lines want no work of either."""
    bench = BENCH.replace("load heating lamp", "load heating coil").replace(
        "load cooling lamp", "load cooling coil"
    )
    text = made(HOOKUP, "F: TW.white -- F.Y", "F: TW.yellow -- F.W")
    for load in ("heating", "cooling"):
        text = text.replace(f"runs F.{load}", "runs nothing")
    assert not unasked(text, bench=bench)
    assert unasked(changed(text, ("expect cool runs nothing\n", "")), bench=bench)
    assert unasked(text, bench=bench, stat=LIVELY["stat"])


def test_both_devices_must_have_both_terminals() -> None:
    """A second stage on the one stage that the equipment has is meant so."""
    stat = LIVELY["stat"].replace(
        "terminal Y1 class-2, carries cool", "terminal Y1 class-2, carries second-heat"
    )
    text = made(ONLY_HEAT, "F: TW.yellow -- F.W")
    assert not unasked(text, stat=stat)
    # The other way round: what the wire is on here the other device lacks.
    bench = BENCH.replace("terminal X class-2,", "terminal X class-2, carries second-heat,")
    assert not unasked(made(ONLY_HEAT, "F: TW.white -- F.X"), bench=bench)
    # With both on both it is crossed.
    assert unasked(
        changed(made(ONLY_HEAT, "F: TW.yellow -- F.W", "F: TW.white -- F.X")), stat=stat, bench=bench
    )


def test_the_two_ends_of_a_coil_may_be_swapped() -> None:
    lamp = """part lamp-24 "A lamp between two terminals"
terminal W class-2, carries heat
terminal C class-2-common, carries common
load heating lamp from W to C, 5 VA at 24 V
"""
    text = changed(
        HOOKUP,
        ("TS is stat\n", "TS is stat\nK is lamp-24\n"),
        ("at LP\n", "cable KW 18/2 CL2 10 ft from F to K\nat LP\n"),
        ("  TW.white -- F.W\n", "  TW.white -- KW.white -- F.W\n"),
        ("  TW.blue -- F.C\n", "  TW.blue -- KW.red -- F.C\n"),
        ("at TS\n", "at K\n  KW.red -- K.W\n  KW.white -- K.C\nat TS\n"),
        ("expect fan runs F.blowing\n", ""),
        ("expect heat runs F.heating\n", "expect heat runs F.heating, K.heating\n"),
    )
    assert not unasked(text, **{"lamp-24": lamp})


def test_it_is_told_only_where_nothing_shows_it() -> None:
    """Where a call runs something else or lacks something, that names the crossed wires."""
    furnace = right("condensing-furnace")
    unshown = own("call-crosstalk", "yellow-and-green-unasked")
    assert [type(one) for one in seen(RULE, unshown)] == [CrossedUnasked]
    assert "call-crosstalk" in reported(unshown)
    swapped = changed(
        furnace,
        ("  TW.white -- F.W\n", "  TW.green -- F.W\n"),
        ("  TW.green -- F.G\n", "  TW.white -- F.G\n"),
    )
    assert [type(one) for one in seen(RULE, swapped)] == [RunsToo, CrossedUnasked]
    assert [rule for rule in reported(swapped) if rule.startswith("call")] == ["call-crosstalk"]
    lacking = own("call-continuity", "white-on-g")
    assert CrossedUnasked in [type(one) for one in seen(RULE, lacking)]
    assert [rule for rule in reported(lacking) if rule.startswith("call")] == ["call-continuity"]


def test_the_two_wires_of_a_bare_contact_may_be_swapped() -> None:
    """Between RH and W the thermostat is a contact, and RC has a transformer of its own."""
    text = (files.folder("boards") / "two-transformers" / "right.wire").read_text(encoding="utf-8")
    assert "BW.red -- TS.RH" in text and "BW.white -- TS.W" in text
    swapped = text.replace("BW.red -- TS.RH", "BW.red -- TS.W").replace(
        "BW.white -- TS.W", "BW.white -- TS.RH"
    )
    assert not seen(RULE, swapped)


# ------------------------------------------------------------ without a call


ALWAYS = made(HOOKUP, "F: TW.red -- F.R -- F.Y")
COOLS = "expect heat runs F.heating\n", "expect heat runs F.heating, F.cooling\n"


def test_a_call_whose_load_runs_without_it_is_told_with_the_join_that_makes_it() -> None:
    text = changed(ALWAYS, COOLS, ("expect fan runs F.blowing\n", ""))
    one = runs(text)
    assert [(extra.uncalled, extra.line.calls[0].text) for extra in one.extras] == [(True, "cool")]
    assert calls(one) == {"cool": ["F.cooling"]}
    assert one.jumper is not None and at(text, one) == "TW.red -- F.R -- F.Y"


def test_what_runs_besides_is_told_first() -> None:
    one = runs(changed(ALWAYS, ("expect cool runs F.cooling\n", "")))
    assert not any(extra.uncalled for extra in one.extras)


def test_what_stops_it_at_rest_hides_what_the_call_does_not_begin() -> None:
    """The limit stands beside the relay's contact: the lamp burns with no call, and does so in it."""
    text = own("safety-bypass", "limit-beside-sequencer")
    (one,) = seen(RULE, text)
    assert isinstance(one, RunsToo) and [extra.uncalled for extra in one.extras] == [True]
    assert "call-continuity" not in reported(text)


def test_what_runs_by_no_crossed_wire_is_told_with_its_way() -> None:
    text = own("call-crosstalk", "limit-in-place-of-a-fan-switch")
    (one,) = seen(RULE, text)
    assert isinstance(one, RunsToo) and not one.crossings
    assert (one.jumper, one.swap) == (None, None)
    told = RULE.words(one, case(text)).message
    assert all(point in told for point in ("LP.3", "W1.black", "LIM.a", "LIM.b", "W2.black", "BL.a"))


def test_what_a_call_stops_at_once_and_for_good_is_not_run_by_it() -> None:
    """The clock opens the fans' hot, and the coil is warm by the time that it closes again."""
    assert reported(own("call-crosstalk", "fans-held-back-past-the-clock")) == []


def test_of_two_ways_that_is_told_in_which_something_should_open() -> None:
    """The compressor goes around its thermostat: not its way back on the other hot is told."""
    text = changed(
        own("call-stops", "fan-past-the-clock"),
        (
            "  TC.black -- DT.cool\n  TC.white marked black -- CC.black\n",
            "  TC.black -- CC.black -- pigtail 12 -- DT.cool\n  cap TC.white\n",
        ),
    )
    (found,) = said(RULE, text)
    assert (
        "COMP gets its power by this way: LP.leg-a to LP.2.a to P.black to DT.feed to DT.cool to CC.black"
        in found.message
    )


@pytest.mark.parametrize(
    ("board", "told"),
    [
        (
            "two-speed-blower/wrong-taps-exchanged",
            "With cool called, BL.low-speed runs instead of BL.high-speed.",
        ),
        (
            "two-speed-blower/wrong-green-and-yellow-exchanged",
            "With fan called, CU.compressor and CU.fan run instead of BL.low-speed.",
        ),
        ("humidifier/wrong-humidistat-fed-from-r", "With humidify called, H runs, and should not."),
        # The high fire comes on besides the low one, and not in place of the blower that waits for its time.
        (
            "two-stage-furnace/wrong-jumper-w1-to-w2",
            "With heat called, F.inducer.high-speed and F.gas-valve.high-fire run too, and should not.",
        ),
    ],
)
def test_what_runs_in_the_place_of_what_should_is_told_with_it(board: str, told: str) -> None:
    messages = [one.message for one in said(RULE, (BOARDS / f"{board}.wire").read_text(encoding="utf-8"))]
    assert any(told in one for one in messages)


def test_a_fan_that_should_run_at_rest_is_not_wrong_in_a_call() -> None:
    text = (BOARDS / "reach-in-cooler" / "wrong-evaporator-fan-behind-the-thermostat.wire").read_text("utf-8")
    assert not seen(RULE, text)
