"""What calls should run, what they run, and when it begins."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

from tests.rules.hands import case, changed
from tests.rules.hookups import BENCH, HOOKUP, LIVE, STAT, hooked, made
from wirecheck import files
from wirecheck.circuit.circuit import Load
from wirecheck.circuit.play import Play
from wirecheck.judge import calls
from wirecheck.judge.case import Case

IDLE = HOOKUP + "expect idle runs nothing\n"


def names(loads: tuple[Load, ...]) -> list[str]:
    return [load.name for load in loads]


def extra(told: Case) -> dict[str, list[str]]:
    return {calls.named(line): names(calls.extra(told, line)) for line in calls.asked(told)}


def missing(told: Case) -> dict[str, list[str]]:
    return {calls.named(line): names(calls.missing(told, line)) for line in calls.asked(told)}


def test_what_lines_say_of_calls() -> None:
    told = hooked(changed(IDLE, ("expect heat runs", "expect heat and fan runs F.blowing, then")))
    heat, cool, fan, idle = calls.asked(told)
    assert (calls.made(heat), calls.made(idle)) == (("heat", "fan"), ())
    assert (calls.named(heat), calls.named(idle)) == ("heat and fan", "idle")
    assert calls.when_called(heat) == "With heat and fan called"
    assert calls.when_called(idle) == "With nothing called"
    assert names(calls.wanted(told, heat)) == ["F.blowing", "F.heating"]
    assert calls.wanted(told, idle) == ()
    assert calls.played(told, cool).rest.calls == {"cool"}
    assert calls.played(told, idle).rest.calls == frozenset()
    assert names(calls.wanted(told, fan)) == ["F.blowing"]


def test_lines_for_the_same_calls_are_read_together() -> None:
    """What one names, the other leaves to it; what neither names is held against the first alone."""
    text = changed(IDLE, ("expect heat runs", "expect heat runs F.blowing\nexpect heat runs"))
    told = hooked(text)
    assert [names(calls.extra(told, line)) for line in calls.asked(told)] == [[]] * 5
    told = hooked(made(text, "F: TW.white -- F.W -- F.Y"))
    assert [names(calls.extra(told, line)) for line in calls.asked(told)][:2] == [["F.cooling"], []]


def test_a_line_that_says_that_nothing_runs_is_not_read_with_another() -> None:
    told = hooked(IDLE + "expect cool runs nothing\n")
    assert [names(calls.extra(told, line)) for line in calls.asked(told)][-1] == ["F.cooling"]


def test_an_outlet_is_no_load() -> None:
    bench = BENCH + "outlet face from L1 to N\n"
    told = hooked(changed(HOOKUP, ("runs F.heating", "runs F.face, F.heating")), bench=bench)
    assert names(calls.wanted(told, calls.asked(told)[0])) == ["F.heating"]


def test_lines_about_other_things_are_no_calls() -> None:
    text = HOOKUP + "expect F.heating from TS\n"
    told = hooked(text, stat=STAT + "positions off, on\n")
    assert [calls.named(line) for line in calls.asked(told)] == ["heat", "cool", "fan"]


def test_a_right_board_lacks_nothing_and_runs_nothing_besides() -> None:
    told = hooked(IDLE)
    assert missing(told) == {"heat": [], "cool": [], "fan": [], "idle": []} == extra(told)
    assert calls.all_right(told)


def test_what_is_missing_and_what_runs_besides() -> None:
    told = hooked(made(IDLE, "F: TW.white -- F.Y", "F: TW.yellow -- F.W"))
    assert missing(told) == {"heat": ["F.heating"], "cool": ["F.cooling"], "fan": [], "idle": []}
    assert extra(told) == {"heat": ["F.cooling"], "cool": ["F.heating"], "fan": [], "idle": []}
    assert not calls.all_right(told)


@pytest.mark.parametrize(
    "join",
    ["F: TW.white -- F.X", "F: TW.white -- F.W -- F.Y"],
)
def test_either_is_not_right(join: str) -> None:
    """Something missing and nothing besides, and the other way round."""
    assert not calls.all_right(hooked(made(HOOKUP, join)))


JUMPER = made(IDLE, "F: TW.red -- F.R -- F.Y")


def test_what_runs_with_no_call_is_held_against_the_line_for_idle() -> None:
    told = hooked(JUMPER)
    assert extra(told) == {"heat": [], "cool": [], "fan": [], "idle": ["F.cooling"]}


def test_without_such_a_line_it_is_held_against_every_call() -> None:
    told = hooked(changed(JUMPER, ("expect idle runs nothing\n", "")))
    assert extra(told) == {"heat": ["F.cooling"], "cool": [], "fan": ["F.cooling"]}


def test_what_only_moves_contacts_or_stands_by_does_no_work() -> None:
    """A relay that pulls in besides is no work done for a call, nor is a display or a board that waits."""
    told = hooked(made(HOOKUP, "F: TW.white -- F.W -- F.X"))
    assert extra(told)["heat"] == []
    assert extra(hooked(HOOKUP, stat=LIVE.replace("part live", "part stat")))["heat"] == []
    bench = BENCH.replace(
        "blowing lamp from G to C, 5 VA at 24 V", "blowing lamp from G to C, 5 VA at 24 V, standby"
    )
    assert extra(hooked(made(HOOKUP, "F: TW.white -- F.W -- F.G"), bench=bench))["heat"] == []
    assert extra(hooked(made(HOOKUP, "F: TW.white -- F.W -- F.G")))["heat"] == ["F.blowing"]


@pytest.mark.parametrize("kind", ["lamp", "heater", "motor", "igniter", "valve", "bell"])
def test_what_does_work(kind: str) -> None:
    bench = BENCH.replace("load blowing lamp", f"load blowing {kind}")
    assert extra(hooked(made(HOOKUP, "F: TW.white -- F.W -- F.G"), bench=bench))["heat"] == ["F.blowing"]


@pytest.mark.parametrize("kind", ["coil", "electronics"])
def test_what_steers(kind: str) -> None:
    bench = BENCH.replace("load blowing lamp", f"load blowing {kind}")
    assert extra(hooked(made(HOOKUP, "F: TW.white -- F.W -- F.G"), bench=bench))["heat"] == []


# ------------------------------------------------------------------- begins


def acted(*steps: tuple[float, str, str]) -> Play:
    """A play of (time, calls, what runs)."""
    states = (
        SimpleNamespace(
            time=time,
            settled=SimpleNamespace(calls=frozenset(called.split()), running=frozenset(runs.split())),
        )
        for time, called, runs in steps
    )
    return cast("Play", SimpleNamespace(steps=tuple(states)))


def test_times_are_counted_from_the_call() -> None:
    play = acted((0, "", ""), (5, "heat", "fan"), (8, "heat", "fan fire"), (9, "heat", "fire"))
    assert calls.begins(play) == {"fan": 0, "fire": 3}


def test_what_ran_before_and_does_not_stop_does_not_begin() -> None:
    assert calls.begins(acted((0, "", "board"), (0, "heat", "board fan"))) == {"fan": 0}


def test_what_stops_and_comes_back_begins_then_and_only_once() -> None:
    play = acted((0, "", "fan"), (0, "cool", ""), (4, "cool", "fan"), (6, "cool", ""), (7, "cool", "fan"))
    assert calls.begins(play) == {"fan": 4}


def test_what_runs_for_less_than_a_moment_has_not_begun() -> None:
    play = acted((0, "heat", "fan"), (0, "heat", ""), (2, "heat", "fire"))
    assert calls.begins(play) == {"fire": 2}


def test_with_no_call_times_are_counted_from_the_beginning() -> None:
    assert calls.begins(acted((0, "", ""), (3, "", "fan"))) == {"fan": 3}


def test_what_ran_before_the_first_call_is_not_counted() -> None:
    """The blower that starts when the power comes on has begun for no call."""
    play = acted((0, "", ""), (3, "", "fan"), (9, "heat", "fan"), (12, "heat", "fan fire"))
    assert calls.begins(play) == {"fire": 3}
    assert calls.runs(play) == {"fan", "fire"}


# --------------------------------------------------------------------- runs


def test_what_stops_with_a_call_is_not_run_by_it() -> None:
    assert calls.runs(acted((0, "", "pump fan"), (5, "heat", "fan"))) == {"fan"}
    assert calls.runs(acted((0, "", "pump"), (5, "heat", "pump"), (35, "heat", ""))) == frozenset()
    assert calls.runs(acted((0, "", "pump"), (5, "heat", ""), (35, "heat", "pump"))) == {"pump"}


def test_what_runs_with_nothing_called_is_run() -> None:
    assert calls.runs(acted((0, "", "fan"))) == {"fan"}
    assert calls.runs(acted((0, "", ""), (3, "", "fan"))) == {"fan"}


RESTS = BENCH.replace("load cooling lamp from Y", "R -- Y when not relay runs\nload cooling lamp from Y")


def test_a_load_on_a_contact_that_the_call_opens_is_missing() -> None:
    text = changed(
        made(HOOKUP, "F: TW.white -- F.X"), ("expect heat runs F.heating", "expect heat runs F.cooling")
    )
    assert missing(hooked(text, bench=RESTS))["heat"] == ["F.cooling"]
    assert missing(hooked(text.replace("TW.white -- F.X", "TW.white -- F.W"), bench=RESTS))["heat"] == []


# ------------------------------------------------------------------ unmoved


def unmoved(told: Case) -> dict[str, list[str]]:
    return {calls.named(line): names(calls.unmoved(told, line)) for line in calls.asked(told)}


ALWAYS = made(HOOKUP, "F: TW.red -- F.R -- F.Y")


def test_a_call_whose_load_runs_without_it_does_nothing() -> None:
    told = hooked(ALWAYS)
    assert unmoved(told) == {"heat": [], "cool": ["F.cooling"], "fan": []}
    assert unmoved(hooked(HOOKUP)) == {"heat": [], "cool": [], "fan": []}
    assert not calls.all_right(hooked(changed(ALWAYS, ("expect heat runs", "expect heat runs F.cooling,"))))


def test_a_call_that_runs_something_else_besides_does_something() -> None:
    told = hooked(changed(ALWAYS, ("expect heat runs", "expect heat runs F.cooling,")))
    assert unmoved(told)["heat"] == []


def test_what_should_run_with_no_call_is_said_by_the_line_for_idle() -> None:
    told = hooked(ALWAYS + "expect idle runs F.cooling\n")
    assert unmoved(told) == {"heat": [], "cool": [], "fan": [], "idle": []}


ECONOMIZER = (files.folder("boards") / "economizer" / "right.wire").read_text(encoding="utf-8")
FREE = "expect free-cooling and cool runs E.damper, P.blower"


@pytest.mark.parametrize(
    ("line", "besides"),
    [
        # The line for cooling alone has the compressor, and this one leaves out all that waits for its call.
        (FREE, ["P.compressor", "P.fan-outdoor"]),
        # One of two that wait for the same may go unsaid.
        (f"{FREE}, P.compressor", []),
    ],
)
def test_what_a_line_for_fewer_calls_names_is_left_out_on_purpose(line: str, besides: list[str]) -> None:
    jumper = ("  E.Y1-out -- P.Y\n", "  E.Y1-out -- P.Y\n  E.Y1-in -- E.Y1-out\n")
    told = extra(case(changed(ECONOMIZER, jumper, (FREE, line))))
    assert told["free-cooling and cool"] == besides
    assert told["cool"] == told["free-cooling and second-cool"] == []


def test_a_line_alone_may_name_some_steps_of_a_sequence() -> None:
    kept = "\n".join(
        one for one in ECONOMIZER.splitlines() if not one.startswith(("expect cool", "expect second"))
    )
    jumper = ("  E.Y1-out -- P.Y\n", "  E.Y1-out -- P.Y\n  E.Y1-in -- E.Y1-out\n")
    assert extra(case(changed(kept, jumper)))["free-cooling and cool"] == []


BY_HAND = Path(__file__).parents[1] / "boards" / "by_hand" / "subpanels"
OFFICE = (BY_HAND / "mech-room-208.wire").read_text(encoding="utf-8")
# A second heater that is fed past the thermostat of the first.
PAST = (
    (
        "cable W4 12/2 MC",
        "cable W9 12/2 MC 8 ft from T to B2\nB2 is baseboard-heater with voltage 208 V\ncable W4 12/2 MC",
    ),
    ("  W2.black -- TS.line-1", "  W2.black -- W9.black -- TS.line-1"),
    ("  W2.white marked red -- TS.line-2", "  W2.white marked red -- W9.white marked red -- TS.line-2"),
    ("at BH\n", "at B2\n  W9.black -- B2.L1\n  W9.white marked red -- B2.L2\nat BH\n"),
)


def test_what_shares_a_subpanel_alone_is_no_matter_of_a_call() -> None:
    """A water heater goes by its own thermostat; what hangs on the wires of the room's does not."""
    assert extra(case(OFFICE)) == {"heat": []}
    assert extra(case(changed(OFFICE, *PAST))) == {"heat": ["B2.element"]}


def test_with_a_line_for_idle_that_says_all_that_runs() -> None:
    idle = "expect heat runs BH.element\n", "expect heat runs BH.element\nexpect idle runs nothing\n"
    assert extra(case(changed(OFFICE, idle))) == {"heat": [], "idle": ["WH.upper"]}


def test_a_light_that_a_line_gives_to_its_own_switch_is_no_matter_of_idle() -> None:
    lit = ("L1 is luminaire 40 W", "L1 is lampholder 60 W")
    idle = ("expect heat runs BH.element\n", "expect heat runs BH.element\nexpect idle runs WH.upper\n")
    text = changed(OFFICE, lit, idle)
    assert extra(case(text)) == {"heat": [], "idle": []}
    assert extra(case(changed(text, ("expect L1 from S1", "# no line")))) == {"heat": [], "idle": ["L1"]}


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("heat",), "for heat"),
        (("heat", "cool", "fan"), "for heat, cool and fan"),
        # Two calls at once are one, and no list.
        (("heat and fan",), "for heat and fan together"),
        (("heat and cool", "fan"), "for heat and cool together, and for fan"),
    ],
)
def test_calls_are_told_one_by_one(lines: tuple[str, ...], told: str) -> None:
    text = HOOKUP + "".join(f"expect {line} runs nothing\n" for line in lines)
    assert calls.all_named(calls.asked(hooked(text))[-len(lines) :]) == told


@pytest.mark.parametrize(("more", "told"), [("", []), ("expect heat stops F.blowing\n", ["F.blowing"])])
def test_what_should_run_at_rest_is_not_held_against_a_call(more: str, told: list[str]) -> None:
    """Its own line says that it does not; one that says that the call stops it is broken too."""
    text = HOOKUP + "expect idle runs F.blowing\n" + more
    joined = hooked(made(text, "F: TW.white -- F.W -- F.G"))
    assert missing(joined)["idle"] == ["F.blowing"]
    assert extra(joined)["heat"] == told
