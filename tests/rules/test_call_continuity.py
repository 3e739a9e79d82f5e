"""What a call leaves standing, and where its path stops; what begins before its turn."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, at, changed, own, reported, said, seen
from tests.rules.hookups import BENCH, HOOKUP, hooked, made
from wirecheck import files
from wirecheck.judge import calls
from wirecheck.judge.continuity import (
    HeldOpen,
    NotJoined,
    OthersCall,
    Standing,
    TooLittle,
    TwoSources,
)
from wirecheck.judge.swaps import Misplaced, Swapped
from wirecheck.rules.call_continuity import RULE, NotRunning, OutOfOrder

BOARDS = files.folder("boards")
FURNACE = (BOARDS / "condensing-furnace" / "right.wire").read_text(encoding="utf-8")


def right(board: str) -> str:
    return (BOARDS / board / "right.wire").read_text(encoding="utf-8")


def found(text: str, **parts: str) -> list[NotRunning | OutOfOrder]:
    return list(RULE.find(hooked(text, **parts)))


def stopped(text: str, **parts: str) -> NotRunning:
    """The one call that lacks something."""
    (one,) = found(text, **parts)
    assert isinstance(one, NotRunning)
    return one


@pytest.mark.parametrize("board", ["condensing-furnace", "walk-in-cooler"])
def test_right_boards_are_right(board: str) -> None:
    assert not seen(RULE, right(board))
    assert not found(HOOKUP)


# ------------------------------------------------------------ the open place


@pytest.mark.parametrize(
    ("board", "joined", "capped", "comes_to"),
    [
        ("condensing-furnace", "  TW.white -- F.W\n", "TW.white", "TW.white@F"),
        ("condensing-furnace", "  TW.green -- TS.G\n", "TW.green", "TS.G"),
        ("oil-furnace", "  TW.white -- TS.W\n", "TW.white", "TS.W"),
        ("oil-furnace", "  PF.white -- F.N\n", "PF.white", "PF.white@F"),
        ("boiler-two-zones", "  E2.white -- ZV2.end-2\n", "E2.white", "ZV2.end-2"),
        ("heat-pump", "  TW.orange -- TS.O\n", "TW.orange", "TS.O"),
        ("heat-pump", "  OW.blue -- HP.C\n", "OW.blue", "OW.blue@HP"),
        ("walk-in-cooler", "  TW.black -- W.T-2\n", "TW.black", "TW.black@W"),
        ("ice-machine", "  PN.white -- M.N\n", "PN.white", "PN.white@M"),
    ],
)
def test_a_wire_left_off_is_named_where_it_was_left_off(
    board: str, joined: str, capped: str, comes_to: str
) -> None:
    text = changed(right(board), (joined, f"  cap {capped}\n"))
    (one,) = seen(RULE, text)
    assert isinstance(one, NotRunning) and isinstance(one.stop.end, NotJoined)
    assert {one.stop.end.here.name, one.stop.end.on.name} & {comes_to}
    assert (at(text, one), one.severity, one.stage) == (f"cap {capped}", "fault", "final")
    assert reported(text).count("call-continuity") == 1


def test_one_open_place_is_one_mistake_for_all_calls_that_it_stops() -> None:
    text = changed(HOOKUP, ("  TW.red -- TS.Rh\n", "  cap TW.red\n"))
    one = stopped(text)
    assert [line.calls[0].text for line in one.lines] == ["heat", "cool", "fan"]
    assert ([load.name for load in one.missing], one.subject) == (["F.heating"], "F.heating")
    assert at(text, one) == "cap TW.red"
    assert one.swap is None and one.opened == ()


def test_each_open_place_is_a_mistake_of_its_own() -> None:
    text = changed(
        HOOKUP,
        ("  TW.white -- TS.W-E\n", "  cap TW.white\n"),
        ("  TW.yellow -- TS.Y1\n", "  cap TW.yellow\n"),
    )
    assert [at(text, one) for one in found(text)] == ["cap TW.white", "cap TW.yellow"]


def test_all_that_a_call_lacks_is_told_with_it() -> None:
    text = changed(
        HOOKUP,
        ("expect heat runs F.heating\n", "expect heat runs F.heating, F.blowing, F.cooling\n"),
    )
    one = stopped(made(text, "F: TW.white -- F.W -- F.Y"))
    assert [load.name for load in one.missing] == ["F.blowing"]
    assert one.copper
    two = stopped(text)
    assert [load.name for load in two.missing] == ["F.blowing", "F.cooling"]


def test_where_no_line_of_wiring_is_at_fault_it_is_that_of_the_board() -> None:
    """One hot and the neutral come to an outdoor unit for 240 V: its path is whole."""
    text = (
        changed(
            COOLING,
            ("breaker LP.2 30 A 2-pole", "breaker LP.2 30 A"),
            ("PC.black -- LP.2.a", "PC.black -- LP.2"),
            ("PC.white marked red -- LP.2.b", "PC.white -- LP.neutral"),
            ("PC.white marked red -- D.line-2", "PC.white -- D.line-2"),
        )
        + "expect cool runs CU.compressor\n"
    )
    (one,) = seen(RULE, text)
    assert isinstance(one.stop.end, TooLittle) and one.at.of is one.lines[0]
    assert at(text, one) == "expect cool runs CU.compressor"


def test_the_place_is_looked_for_in_the_state_in_which_most_of_it_runs() -> None:
    """The pump of a call that comes later is looked for when the first of it runs already."""
    slow = (
        BENCH
        + """state timer resting, done
timer goes from resting to done after 10 s when W has 18 V to C
timer goes from done to resting when not W has 18 V to C
R -- Y when timer is done
"""
    )
    text = changed(
        HOOKUP, ("expect heat runs F.heating\n", "expect heat runs F.heating, F.cooling, F.blowing\n")
    )
    one = stopped(text, bench=slow)
    assert [load.name for load in one.missing] == ["F.blowing"]


def test_the_way_through_another_zone_is_no_way() -> None:
    # Zone 2's end switch is off; that zone 1's thermostat is open is as it should be.
    text = changed(right("boiler-two-zones"), ("  E2.red -- ZV2.end-1\n", "  cap E2.red\n"))
    (one,) = seen(RULE, text)
    assert (one.stop.end.here.name, one.stop.end.on.name) == ("E2.red@ZV2", "ZV2.end-1")


@pytest.mark.parametrize("scope", ["held", "standing"])
def test_a_device_that_does_not_do_its_work_is_one_mistake_for_all_its_contacts(scope: str) -> None:
    """Nothing in the wiring is open: the equipment itself keeps it from all calls."""
    bench = BENCH
    for name, letter in (("heating", "W"), ("cooling", "Y")):
        load = f"load {name} lamp from {letter} to C, 5 VA at 24 V"
        when = "call emergency" if scope == "held" else "duty is awake"
        bench = bench.replace(load, f"{name} is small\n{name}.b -- C\n{letter} -- {name}.a when {when}")
    bench += "calls emergency\nstate duty asleep, awake\nduty goes from asleep to awake when call emergency\n"
    small = """part small "A motor of 24 V"
terminal a contact
terminal b contact
load motor motor from a to b, 5 VA at 24 V
"""
    one = stopped(HOOKUP, bench=bench, small=small)
    assert isinstance(one.stop.end, HeldOpen | Standing)
    assert [line.calls[0].text for line in one.lines] == ["heat", "cool"]


# ------------------------------------------------------------------- swaps


def test_two_wires_on_each_others_terminals() -> None:
    text = made(HOOKUP, "F: TW.white -- F.Y", "F: TW.yellow -- F.W")
    one = stopped(text)
    assert isinstance(one.swap, Swapped)
    assert (one.swap.one.name, one.swap.other.name, at(text, one)) == (
        "TW.white",
        "TW.yellow",
        "TW.white -- F.Y",
    )
    assert [line.calls[0].text for line in one.lines] == ["heat", "cool"]


def test_a_wire_on_another_terminal() -> None:
    text = made(HOOKUP, "F: TW.white -- F.X")
    one = stopped(text)
    # It is the call's own wire that belongs there: one from R to W would run it, and never stop it.
    assert one.swap is None and isinstance(one.stop.end, NotJoined)
    assert (one.stop.end.here.name, one.stop.end.on.name) == ("TW.white@F", "F.W")
    text = changed(made(HOOKUP, "F: TW.white -- F.G"), ("  TW.green -- F.G\n", "  cap TW.green\n"))
    text = changed(text, ("expect fan runs F.blowing\n", ""))
    one = stopped(text)
    assert isinstance(one.swap, Misplaced) and one.swap.meant.name == "F.W"
    assert at(text, one) == "TW.white -- F.G"


@pytest.mark.parametrize(
    ("board", "comes_to"),
    [("two-stage-furnace/wrong-y-not-landed", "F"), ("economizer/wrong-yellow-around-it", "P")],
)
def test_a_call_comes_as_far_as_its_own_wire_and_not_as_far_as_the_power(board: str, comes_to: str) -> None:
    first, *_ = said(RULE, (BOARDS / f"{board}.wire").read_text(encoding="utf-8"))
    assert f"comes as far as TW.yellow at {comes_to} and goes no further" in first.message


def test_a_coil_between_two_transformers() -> None:
    text = own("call-continuity", "two-sources")
    one = stopped(text)
    assert isinstance(one.stop.end, TwoSources) and one.stop.wanted.of.name == "K"
    assert (one.stop.end.one.name, one.stop.end.other.name) == ("TA", "TB")
    assert at(text, one) == "K.coil-b -- TB.secondary-c"
    assert not found(changed(text, ("K.coil-b -- TB.secondary-c", "K.coil-b -- TA.secondary-c")))


def test_nor_does_a_spare_wire_join_the_two() -> None:
    text = changed(
        own("call-continuity", "two-sources"),
        ("cable TW 18/2 CL2", "cable TW 18/3 CL2"),
        ("at TS\n", "  cap TW.green\nat TS\n  cap TW.green\n"),
    )
    assert isinstance(stopped(text).stop.end, TwoSources)


def test_a_wire_that_is_on_the_other_side_comes_off_before_it_is_joined() -> None:
    text = changed(
        right("cooling-call"),
        ("  TW.blue -- OW.white -- F.C\n", "  TW.blue -- F.C\n"),
        ("  TW.red -- F.R\n", "  TW.red -- OW.white -- F.R\n"),
    )
    one = stopped(text)
    assert isinstance(one.stop.end, NotJoined) and [wire.name for wire in one.stop.end.off] == ["OW.white"]
    assert {one.stop.end.here.name, one.stop.end.on.name} == {"F.C", "OW.white@F"}


# ------------------------------------------------------------------- order


def test_a_wrong_order_is_told_with_its_times() -> None:
    text = own("call-continuity", "igniter-before-inducer")
    (one,) = seen(RULE, text)
    assert isinstance(one, OutOfOrder)
    assert (one.load.name, one.begins, one.first.name, one.first_begins) == ("F.inducer", 0, "F.igniter", 18)
    assert (one.subject, one.severity, one.stage) == ("F.inducer", "fault", "final")
    column = text.splitlines()[one.at.span.line - 1].index("F.inducer") + 1
    assert one.at.span.column == column and one.copper
    (finding,) = said(RULE, text)
    assert finding.message == (
        "With heat called, F.inducer should wait until F.igniter runs: it begins after 0 s, and F.igniter "
        "after 18 s."
    )


def test_what_begins_together_is_told_by_what_should_wait() -> None:
    text = (BOARDS / "condenser-fan-cycling" / "wrong-fan-control-jumpered.wire").read_text(encoding="utf-8")
    messages = [one.message for one in said(RULE, text)]
    assert messages == ["With cool called, CF begins together with COMP, and should wait until COMP runs."]


def test_what_follows_a_then_waits_for_all_before_it() -> None:
    """`expect cool runs COMP, F.blower, then CF` names two that CF waits for, in whichever order."""
    text = (BOARDS / "condenser-fan-cycling" / "right.wire").read_text(encoding="utf-8")
    runs = "expect cool runs COMP, F.blower, then CF"
    assert found(text) == found(text.replace(runs, "expect cool runs F.blower, COMP, then CF")) == []
    for first, other in (("COMP", "F.blower"), ("F.blower", "COMP")):
        early = text.replace(runs, f"expect cool runs CF, then {first}, {other}")
        (one,) = (one for one in found(early) if isinstance(one, OutOfOrder))
        assert (one.load.name, one.first.name) == (first, "CF")
    # What is named beside it, without a `then` of its own, may begin at once.
    assert found(text.replace(runs, "expect cool runs COMP, then CF, F.blower")) == []


TIMED = """state timer resting, done
timer goes from resting to done after {seconds} s when W has 18 V to C
timer goes from done to resting when not W has 18 V to C
R -- Y when timer is done
"""


@pytest.mark.parametrize(
    ("steps", "raised"),
    [
        ("F.heating, then F.cooling", []),
        ("F.cooling, then F.heating", ["F.heating"]),
        ("F.cooling, F.heating", []),
    ],
)
def test_then_means_after(steps: str, raised: list[str]) -> None:
    text = changed(HOOKUP, ("expect heat runs F.heating\n", f"expect heat runs {steps}\n"))
    told = found(text, bench=BENCH + TIMED.format(seconds=5))
    assert [one.subject for one in told] == raised


def test_what_begins_at_the_same_moment_does_not_come_after() -> None:
    text = changed(
        made(HOOKUP, "F: TW.white -- F.W -- F.Y"),
        ("expect heat runs F.heating\n", "expect heat runs F.heating, then F.cooling\n"),
    )
    assert [one.subject for one in found(text) if isinstance(one, OutOfOrder)] == ["F.cooling"]


def test_each_pair_of_steps_is_looked_at() -> None:
    text = changed(
        HOOKUP,
        ("expect heat runs F.heating\n", "expect heat runs F.heating, then F.cooling, then F.blowing\n"),
    )
    bench = BENCH + TIMED.format(seconds=5) + "R -- G when timer is done\n"
    assert [one.subject for one in found(text, bench=bench)] == ["F.blowing"]


def test_a_fan_that_runs_at_rest_has_its_place_when_it_comes_back() -> None:
    # A freezer's fans run between defrosts, stop in one, and come back last (common practice).
    assert seen(RULE, right("walk-in-freezer")) == []
    text = changed(
        right("walk-in-freezer"),
        ("W.heater, then W.evaporator-fans", "W.evaporator-fans, then W.heater"),
    )
    assert len(seen(RULE, text)) == 1


def test_what_runs_before_the_call_and_does_not_stop_has_no_place_in_an_order() -> None:
    bench = BENCH + TIMED.format(seconds=5) + "R -- G when timer is resting or timer is done\n"
    text = changed(HOOKUP, ("expect heat runs F.heating\n", "expect heat runs F.blowing, then F.heating\n"))
    assert found(text, bench=bench) == []
    assert found(text.replace("F.blowing, then F.heating", "F.heating, then F.blowing"), bench=bench) == []


# -------------------------------------------------------------- what it follows from


def test_a_short_is_the_mistake_and_not_what_it_leaves_dark() -> None:
    text = made(HOOKUP, "F: TW.white -- F.W -- F.C")
    assert stopped(text).opened
    shipped = changed(FURNACE, ("  TW.white -- F.W\n", "  TW.white -- F.W -- F.C\n"))
    assert "call-continuity" not in reported(shipped)
    assert "short-circuit" in reported(shipped)


def test_what_opens_in_one_call_and_not_in_another_is_told_apart() -> None:
    text = made(
        changed(HOOKUP, ("  TW.red -- TS.Rh\n", "  TW.red -- TS.Rh\n")),
        "F: TW.white -- F.C",
        "F: TW.yellow -- F.X",
    )
    opened = {line.calls[0].text: bool(one.opened) for one in found(text) for line in one.lines}
    assert opened["heat"] and not opened["cool"]


def test_a_coil_that_starves_is_the_mistake_and_not_what_waits_for_it() -> None:
    text = (BOARDS / "heat-cool-hookup" / "wrong-long-thin-run.wire").read_text(encoding="utf-8")
    weak = [one for one in seen(RULE, text) if isinstance(one, NotRunning)]
    assert weak and all(isinstance(one.stop.end, TooLittle) for one in weak)
    assert reported(text) == ["coil-voltage"]


def test_a_crossed_wire_that_runs_something_else_is_told_by_what_it_runs() -> None:
    text = changed(
        FURNACE,
        ("  TW.white -- TS.W\n", "  TW.green -- TS.W\n"),
        ("  TW.green -- TS.G\n", "  TW.white -- TS.G\n"),
    )
    assert seen(RULE, text)
    assert [one for one in reported(text) if one.startswith("call")] == ["call-crosstalk"]


def test_what_finds_no_rest_keeps_the_call_from_running() -> None:
    """A thermostat that lives on its feed, with a jumper from a call to common, lets go as it pulls in."""
    text = (BOARDS / "heat-cool-hookup" / "right.wire").read_text(encoding="utf-8")
    jumper = changed(text, ("at TS\n", "at TS\n  TS.C -- TS.G\n"))
    assert seen(RULE, jumper)
    assert "call-continuity" not in reported(jumper) and "coil-voltage" in reported(jumper)
    # But where a swap of wires mends it, that is what to do.
    crossed = changed(
        text,
        ("  TW.yellow -- FW.red -- F.Y\n", "  TW.blue -- FW.red -- F.Y\n"),
        ("  TW.blue -- OW.white -- F.C\n", "  TW.yellow -- OW.white -- F.C\n"),
    )
    assert "coil-voltage" not in reported(crossed) and "call-continuity" in reported(crossed)


def test_what_runs_without_a_call_has_no_place_in_an_order() -> None:
    text = changed(
        FURNACE,
        ("  TW.white -- F.W\n", "  TW.white -- F.W\n  F.R -- F.W\n"),
    )
    assert "call-continuity" not in reported(text)


# ---------------------------------------------------------- before the call


def test_what_the_call_stops_is_not_run_by_it() -> None:
    """A circulator on the closed contact of a relay runs before the call, and stops with it."""
    text = own("call-continuity", "circulator-on-the-closed-contact")
    (one,) = seen(RULE, text)
    assert isinstance(one, NotRunning) and [load.name for load in one.missing] == ["P"]
    assert isinstance(one.stop.end, NotJoined) and at(text, one) == "K1.nc -- W2.black"
    assert reported(text).count("call-continuity") == 1


def test_what_runs_on_for_a_while_is_looked_for_when_it_has_stopped() -> None:
    bench = BENCH + (
        "state timer resting, done\n"
        "timer goes from resting to done after 10 s when W has 18 V to C\n"
        "R -- Y when timer is resting\n"
    )
    one = stopped(changed(HOOKUP, ("heat runs F.heating", "heat runs F.cooling, F.heating")), bench=bench)
    assert [load.name for load in one.missing] == ["F.cooling"]
    assert not isinstance(one.stop.end, TooLittle)


def test_a_wire_that_stops_it_is_told_before_what_waits_for_its_time() -> None:
    """The heater waits for the compressor to stop, and not for the clock that has given up long since."""
    text = (BOARDS / "walk-in-freezer" / "wrong-thermostat-on-l1.wire").read_text(encoding="utf-8")
    (one,) = seen(RULE, text)
    assert isinstance(one, NotRunning) and [load.name for load in one.missing] == ["W.heater"]
    assert isinstance(one.stop.end, HeldOpen)


def test_what_waits_for_another_thermostat_does_not_belong_in_the_way() -> None:
    """End switches in series: each zone alone stops at that of the other, and its own is closed by then."""
    text = changed(
        right("boiler-two-zones"),
        ("  E1.red -- E2.red -- B.T-1\n", "  E1.red -- B.T-1\n"),
        ("  E1.white -- E2.white -- B.T-2\n", "  E1.white -- E2.red\n  E2.white -- B.T-2\n"),
    )
    ends = {}
    for one in seen(RULE, text):
        assert isinstance(one, NotRunning) and isinstance(one.stop.end, OthersCall)
        ends[calls.named(one.lines[0])] = (
            one.stop.end.contact.scope,
            one.stop.end.caller.scope,
            at(text, one),
        )
    assert ends == {
        "Z1.heat": ("ZV2.end", "Z2", "ZV2 is zone-valve"),
        "Z2.heat": ("ZV1.end", "Z1", "ZV1 is zone-valve"),
    }
    assert not any("closes when" in one.message for one in said(RULE, text))
