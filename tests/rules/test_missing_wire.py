"""Terminals of control wiring without a wire, for want of which something does not work."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import at, changed, own, reported, said, seen
from tests.rules.hookups import BENCH, HOOKUP, LIVE, STAT, hooked
from wirecheck import files
from wirecheck.rules.missing_wire import RULE, Unheard, Unpowered, Unsent, Unused

BOARDS = files.folder("boards")
LIVELY = LIVE.replace("part live", "part stat")


def right(board: str) -> str:
    return (BOARDS / board / "right.wire").read_text(encoding="utf-8")


def every(text: str, **parts: str) -> list[Unpowered | Unheard | Unsent | Unused]:
    return list(RULE.find(hooked(text, **parts)))


def found(text: str, **parts: str) -> list[Unpowered | Unheard | Unsent | Unused]:
    """Those for want of which something does not work."""
    return [one for one in every(text, **parts) if not isinstance(one, Unused)]


@pytest.mark.parametrize("board", ["heating-call", "oil-furnace", "condensing-furnace", "two-transformers"])
def test_terminals_that_nobody_needs_are_not_spoken_of(board: str) -> None:
    assert seen(RULE, right(board)) == []
    assert found(HOOKUP, stat=LIVELY) == []


# ---------------------------------------------------------------- unpowered


NO_COMMON = changed(HOOKUP, ("  TW.blue -- TS.Com\n", "  cap TW.blue\n"))


def test_a_thermostat_without_its_common() -> None:
    (one,) = found(NO_COMMON, stat=LIVELY)
    assert isinstance(one, Unpowered)
    assert (one.subject, one.severity, one.stage, at(NO_COMMON, one)) == (
        "TS.Com",
        "advice",
        "final",
        "TS is stat",
    )
    assert one.offers is not None and one.offers.name == "F.C"
    assert one.copper


def test_a_wire_that_is_capped_there_is_offered_before_a_new_one() -> None:
    """One that comes from where it should lies in the box already; else a spare of the cable."""

    def told(*changes: tuple[str, str]) -> str | None:
        text = changed(right("heat-cool-hookup"), ("  TW.blue -- TS.C\n", "  cap TW.blue\n"), *changes)
        (one,) = said(RULE, text)
        return one.help

    assert told() == "Put TW.blue on TS.C: it comes from F.C, and is capped in TS."
    away = ("  TW.blue -- OW.white -- F.C\n", "  cap TW.blue\n  OW.white -- F.C\n")
    spare = "Bring TW.blue, which is a spare, from F.C to TS.C."
    assert told(away) == spare
    # Of several spares the one of the usual color, though the others were drawn first.
    more = ("cable TW 18/5", "cable SP 18/3 CL2 45 ft from F to TS\ncable TW 18/5")
    spares = [("\nat F\n", "\nat F\n  cap SP.red\n  cap SP.white\n  cap SP.green\n"),
              ("\nat TS\n", "\nat TS\n  cap SP.red\n  cap SP.white\n  cap SP.green\n")]  # fmt: skip
    assert told(away, more, *spares) == spare


@pytest.mark.parametrize(("board", "lives"), [("heat-cool-hookup", False), ("condensing-furnace", True)])
def test_a_shipped_thermostat_without_its_common(board: str, lives: bool) -> None:
    text = changed(right(board), ("  TW.blue -- TS.C\n", "  cap TW.blue\n"))
    (one,) = seen(RULE, text)
    assert isinstance(one, Unpowered)
    assert ("optional" in one.terminal.spec.flags) == lives
    assert one.severity == ("advice" if lives else "fault")
    assert one.offers is not None and one.offers.name == "F.C"


def test_what_needs_no_power_lacks_none() -> None:
    assert found(NO_COMMON, stat=STAT) == []


def test_what_does_not_stand_by_is_none_of_it() -> None:
    assert found(NO_COMMON, stat=LIVELY.replace(", standby", "")) == []


def test_what_has_its_power_by_another_terminal_is_content() -> None:
    """A second common, joined inside, is a place to land and no more."""
    stat = LIVELY.replace(
        "calls heat", "terminal Com2 class-2-common, carries common\nCom2 -- Com\ncalls heat"
    )
    assert found(HOOKUP, stat=stat) == []
    # And a terminal that the load is not on lacks nothing either.
    fed = LIVELY.replace("from Rh to Com,", "from Rh to Com2,").replace(
        "calls heat", "terminal Com2 class-2-common, carries common\ncalls heat"
    )
    assert [one.subject for one in found(HOOKUP, stat=fed)] == ["TS.Com2"]
    assert [one.subject for one in found(NO_COMMON, stat=fed)] == ["TS.Com2"]


def test_both_terminals_may_be_empty() -> None:
    text = changed(NO_COMMON, ("  TW.red -- TS.Rh\n", "  cap TW.red\n"))
    assert [one.subject for one in found(text, stat=LIVELY) if isinstance(one, Unpowered)] == [
        "TS.Rh",
        "TS.Com",
    ]


def test_where_no_terminal_of_the_equipment_has_it_to_give() -> None:
    bench = BENCH.replace("carries common, ", "")
    (one,) = found(NO_COMMON, stat=LIVELY, bench=bench)
    assert isinstance(one, Unpowered) and one.offers is None
    # What carries nothing that is known has nothing like it either.
    stat = LIVELY.replace("carries common, ", "")
    (one,) = found(NO_COMMON, stat=stat, bench=bench)
    assert isinstance(one, Unpowered) and one.offers is None


def test_another_thermostat_has_nothing_to_give() -> None:
    text = changed(NO_COMMON, ("F is bench\n", "Z is stat\nF is bench\n"))
    assert {
        one.offers.name for one in found(text, stat=LIVELY) if isinstance(one, Unpowered) and one.offers
    } <= {
        "F.R",
        "F.C",
    }


def test_only_control_wiring_is_looked_at() -> None:
    """A board of 120 V that has no feed is the matter of other rules."""
    bench = BENCH + "load board electronics from L1 to N, 5 VA at 120 V, standby\n"
    text = changed(HOOKUP, ("  PF.black -- F.L1\n", "  cap PF.black\n"))
    assert found(text, bench=bench) == []


def test_a_machine_whose_dead_board_is_reported_is_not_told_of_twice() -> None:
    """Its power stops at the wire that was left off: that says it."""
    text = changed(right("heat-pump"), ("  OW.red -- HP.R\n", "  cap OW.red\n"))
    (one,) = seen(RULE, text)
    assert isinstance(one, Unpowered) and (one.subject, one.load.device) == ("HP.R", "HP")
    told = [found.rule for found in wirecheck.check(text).findings]
    assert "dead-outlet" in told and "missing-wire" not in told


def test_where_a_call_stops_at_the_terminal_that_says_it() -> None:
    text = changed(right("heat-cool-hookup"), ("  TW.blue -- TS.C\n", "  cap TW.blue\n"))
    assert [one.subject for one in seen(RULE, text)] == ["TS.C"]
    told = [found.rule for found in wirecheck.check(text).findings]
    assert "call-continuity" in told and "missing-wire" not in told
    # Where no line asks for a call that needs it, it is advice for itself.
    lines = (line for line in text.splitlines() if not line.startswith("expect"))
    alone = wirecheck.check("\n".join([*lines, ""])).findings
    assert [found.rule for found in alone] == ["missing-wire"]


# ------------------------------------------------------------------ unheard

WAITS = BENCH.replace(
    "load blowing lamp from G to C, 5 VA at 24 V",
    "state fan off, on\nfan goes from off to on when G has 18 V to C\n"
    "load blowing lamp from X to C, 5 VA at 24 V\nR -- X when fan is on",
)
NO_FAN = changed(
    HOOKUP,
    ("  TW.green -- TS.Fan\n", "  cap TW.green\n"),
    ("  TW.green -- F.G\n", "  cap TW.green\n"),
    ("expect fan runs F.blowing\n", ""),
)


def test_a_call_that_no_wire_carries() -> None:
    (one,) = found(NO_FAN, bench=WAITS)
    assert isinstance(one, Unheard)
    assert (one.subject, one.call, one.waits.name) == ("TS.Fan", "fan", "F.G")
    assert (one.severity, one.stage, at(NO_FAN, one)) == ("advice", "final", "TS is stat") and one.copper
    # A contact that waits for volts is closed by no call alone.
    lives = STAT + "terminal S contact, optional\nFan -- S when Fan has 18 V to Com\n"
    assert [one.subject for one in found(NO_FAN, bench=WAITS, stat=lives)] == ["TS.Fan"]


def test_a_fan_call_of_a_furnace_that_nobody_hears_is_advice_unless_it_is_expected() -> None:
    text = changed(
        right("condensing-furnace"),
        ("  TW.green -- F.G\n", "  cap TW.green\n"),
        ("  TW.green -- TS.G\n", "  cap TW.green\n"),
    )
    assert seen(RULE, text) == []
    assert reported(text).count("call-continuity") == 1
    unasked = changed(text, ("expect fan runs F.blower\n", ""))
    (one,) = seen(RULE, unasked)
    assert isinstance(one, Unheard) and (one.subject, one.waits.name) == ("TS.G", "F.G")
    assert reported(unasked) == []


def test_a_call_that_a_line_asks_for_is_judged_by_that() -> None:
    assert found(NO_FAN + "expect fan runs F.blowing\n", bench=WAITS) == []


def test_a_call_that_runs_something_is_heard() -> None:
    """The thermostat has two terminals for it, and one has its wire."""
    stat = (
        STAT.replace("calls heat", "terminal Fan2 class-2, carries fan\ncalls heat")
        + "Rh -- Fan2 when call fan\n"
    )
    text = changed(HOOKUP, ("expect fan runs F.blowing\n", ""))
    assert found(text, stat=stat, bench=WAITS) == []


def test_what_runs_anyway_is_not_run_by_the_call() -> None:
    always = WAITS.replace("R -- X when fan is on", "R -- X when fan is on or fan is off")
    (one,) = found(NO_FAN, bench=always)
    assert one.subject == "TS.Fan"


def test_a_call_that_nothing_waits_for_is_not_for_this_board() -> None:
    assert found(NO_FAN, bench=BENCH) == []
    # Nor is one of whose terminals one has nothing that waits for it.
    stat = (
        STAT.replace("calls heat", "terminal O class-2, carries changeover-cool\ncalls heat")
        + "Rh -- O when call fan\n"
    )
    assert found(NO_FAN, stat=stat, bench=WAITS) == []


def test_power_is_no_call() -> None:
    """The feed of a thermostat is an end of its contacts too, and nothing waits for it."""
    text = changed(NO_FAN, ("  TW.red -- TS.Rh\n", "  cap TW.red\n"))
    assert [one.subject for one in found(text, bench=WAITS)] == ["TS.Fan"]


def test_a_call_that_more_than_one_thermostat_makes_is_asked_by_its_own() -> None:
    text = changed(
        NO_FAN,
        ("F is bench\n", "F is bench\nZ is stat\n"),
        ("at LP\n", "cable ZW 18/5 CL2 10 ft from F to Z\nat LP\n"),
        ("  TW.red -- F.R\n", "  TW.red -- ZW.red -- F.R\n"),
        (
            "  cap TW.green\nat TS\n",
            "  cap TW.green\n  ZW.green -- F.G\n  cap ZW.blue\n  cap ZW.white\n  cap ZW.yellow\nat Z\n"
            "  ZW.red -- Z.Rh\n  ZW.green -- Z.Fan\n  cap ZW.blue\n  cap ZW.white\n  cap ZW.yellow\nat TS\n",
        ),
    )
    told = [(one.subject, one.call) for one in found(text, bench=WAITS) if isinstance(one, Unheard)]
    assert told == [("TS.Fan", "fan")]


# ------------------------------------------------------------------- unsent


@pytest.mark.parametrize(
    ("terminal", "raised"), [("W2 class-2, holds 2,", True), ("W2 class-2, optional, holds 2,", False)]
)
def test_what_a_control_sends_and_no_wire_carries(terminal: str, raised: bool) -> None:
    text = own("missing-wire", "defrost-not-heard")
    part = files.part_text("heat-pump") or ""
    assert part.count("W2 class-2, carries second-heat, holds 2,") == 1
    part = part.replace(
        "W2 class-2, carries second-heat, holds 2,",
        terminal.replace("class-2,", "class-2, carries second-heat,"),
    )
    told = [one for one in found(text, **{"heat-pump": part}) if isinstance(one, Unsent)]
    assert [(one.subject, one.hears.name) for one in told] == [("HP.W2", "A.W2")] * raised
    for one in told:
        assert (one.severity, one.stage, at(text, one)[:5]) == ("advice", "final", "HP is") and one.copper


def test_where_nobody_hears_it_nothing_is_sent() -> None:
    text = own("missing-wire", "defrost-not-heard")
    deaf = changed(text, ("  TW.white -- A.W2\n", "  cap TW.white\n"))
    assert not [one for one in seen(RULE, deaf) if isinstance(one, Unsent)]


def test_what_only_listens_sends_nothing() -> None:
    """A terminal that waits for a call of another, and no contact of its own ends there."""
    listener = """part listener "A board that waits for the fan"
terminal Fan class-2, carries fan
terminal C class-2-common, carries common
state fan off, on
fan goes from off to on when Fan has 18 V to C
Fan -- C when fan is {when}
"""
    text = changed(HOOKUP, ("TS is stat\n", "TS is stat\nK is listener\n"))
    # Its common is an end of that contact too, and is no call.
    assert [one.subject for one in found(text, listener=listener.format(when="on"))] == ["K.Fan"]
    silent = listener.replace("Fan -- C when fan is {when}\n", "")
    assert found(text, listener=silent) == []


def test_a_thermostat_sends_nothing_but_calls() -> None:
    text = changed(HOOKUP, ("  TW.green -- TS.Fan\n", "  cap TW.green\n"))
    assert found(text) == []


# ------------------------------------------------------------------- unused


CONTROL = """board "A low-pressure control that nothing feeds"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
box A junction 100 cu in
cable W 14/2 NM-B 20 ft from LP to A
L1 is lampholder in A
LPC is low-pressure-control in A
at LP
  W.black -- LP.1
  W.white -- LP.neutral
  W.bare -- LP.ground
at A
  W.black -- L1.hot
  W.white -- L1.neutral
"""
FED = "  W.black -- L1.hot\n", "  W.black -- L1.hot -- LPC.a\n"


def unused(text: str, **parts: str) -> list[str]:
    return [one.subject for one in every(text, **parts) if isinstance(one, Unused)]


def test_a_screw_that_its_part_needs_is_remarked_on_without_any_expect_line() -> None:
    assert unused(CONTROL) == ["LPC.a", "LPC.b"]
    text = changed(CONTROL, FED)
    (one,) = every(text)
    assert isinstance(one, Unused)
    assert (one.subject, one.severity, one.stage, at(text, one)) == (
        "LPC.b",
        "advice",
        "final",
        "LPC is low-pressure-control in A",
    )
    assert one.copper


@pytest.mark.parametrize(
    ("flags", "remarked"),
    [("", True), (", optional", False), (", lead", False), (", holds 2", True)],
)
def test_what_is_optional_and_what_is_a_lead_is_not(flags: str, remarked: bool) -> None:
    part = f"""part spare "A screw"
terminal a contact{flags}
"""
    text = CONTROL.replace("low-pressure-control", "spare")
    assert unused(text, spare=part) == (["LPC.a"] if remarked else [])


def test_of_a_ground_another_rule_speaks() -> None:
    assert "LPC.ground" not in unused(CONTROL)
    assert unused(changed(CONTROL, ("LPC is low-pressure-control", "LPC is ground-bar"))) == []


def test_what_a_thermostat_can_call_for_is_asked_for_by_the_equipment() -> None:
    stat = changed(CONTROL, ("LPC is low-pressure-control", "LPC is heat-only-thermostat"))
    assert unused(stat) == ["LPC.R"]


def test_one_empty_screw_is_told_once() -> None:
    assert [one.subject for one in every(NO_COMMON, stat=LIVELY)] == ["F.X", "TS.Com"]


def test_where_something_does_not_work_that_is_told() -> None:
    text = own("missing-wire", "control-without-load")
    assert [one.subject for one in seen(RULE, text)] == ["LPC.b"]
    assert [one.rule for one in wirecheck.check(text).findings] == ["missing-wire"]
    dark = changed(text, ("  W.white -- L1.neutral\n", "  cap W.white\n"))
    assert {"LPC.b", "L1.neutral"} == {one.subject for one in seen(RULE, dark)}
    assert "missing-wire" not in [one.rule for one in wirecheck.check(dark).findings]
    astray = changed(text, ("at A\n", "at A\n  W.blak -- LPC.b\n"))
    assert "missing-wire" not in [one.rule for one in wirecheck.check(astray).findings]
    crowded = changed(text, ("  W.bare -- pigtail --", "  W.bare -- L1.hot\n  W.bare -- pigtail --"))
    assert "missing-wire" not in [one.rule for one in wirecheck.check(crowded).findings]


def test_a_mistake_in_another_place_leaves_the_screw_empty_all_the_same() -> None:
    text = own("missing-wire", "control-without-load")
    loose = changed(
        text, ("cable W", "box B junction 100 cu in\ncable V 14/2 NM-B 20 ft from LP to B\ncable W")
    )
    rules = [one.rule for one in wirecheck.check(loose).findings]
    assert "loose-conductor" in rules and "missing-wire" in rules
    here = changed(text, ("cable W", "cable V 14/2 NM-B 20 ft from LP to A\ncable W"))
    rules = [one.rule for one in wirecheck.check(here).findings]
    assert "loose-conductor" in rules and "missing-wire" not in rules


def test_a_screw_that_a_jumper_goes_to_is_not_said_to_have_no_wire() -> None:
    text = own("altered-equipment", "jumper-to-a-relays-common")
    assert not seen(RULE, text)
    without = changed(text, ("  jumper Z1.H -- Z1.COM  # finds: altered-equipment\n", ""))
    assert [one.subject for one in seen(RULE, without)] == ["Z1.COM"]


@pytest.mark.parametrize(
    ("control", "joined", "empty"),
    [
        ("termination-thermostat", ("common", "warm-side"), []),
        ("termination-thermostat", ("common", "cold-side"), []),
        ("termination-thermostat", ("common",), ["LPC.warm-side", "LPC.cold-side"]),
        ("termination-thermostat", ("warm-side",), ["LPC.common", "LPC.cold-side"]),
        # Both ways of what a hand moves are used.
        ("3-way-switch", ("common", "traveler-1"), ["LPC.traveler-2"]),
    ],
)
def test_of_a_changeover_that_moves_by_itself_one_side_will_do(
    control: str, joined: tuple[str, ...], empty: list[str]
) -> None:
    screws = "".join(f" -- LPC.{screw}" for screw in joined)
    text = CONTROL.replace("low-pressure-control", control)
    assert unused(changed(text, (FED[0], f"  W.black -- L1.hot{screws}\n"))) == empty


AHEAD = own("missing-wire", "pump-ahead-of-its-relay")


def test_what_hangs_ahead_of_an_empty_screw_is_named() -> None:
    (one,) = seen(RULE, AHEAD)
    assert isinstance(one, Unused) and one.ahead is not None
    assert (one.subject, one.ahead.screw, one.ahead.wire) == ("AQ.C1", "AQ.ZC", "CR.black")
    assert [load.name for load in one.ahead.loads] == ["CI"]
    assert at(AHEAD, one).startswith("CR.black -- AQ.ZC")


@pytest.mark.parametrize(
    "edit",
    [
        # Another relay of its own stands before it, and the burner is no load of the empty screw.
        ("  CR.black -- CI.hot\n", "  cap CR.black\n"),
        ("CI is circulator", "CI is relay-spst"),
    ],
)
def test_where_nothing_hangs_there_nothing_is_named(edit: tuple[str, str]) -> None:
    text = changed(AHEAD, edit)
    if "relay" in edit[1]:
        text = (
            text.replace("CI.hot", "CI.common")
            .replace("CI.neutral", "CI.no")
            .replace("  CR.green -- CI.ground\n", "")
        )
    assert all(one.ahead is None for one in seen(RULE, text) if isinstance(one, Unused))
