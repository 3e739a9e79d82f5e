"""What would only silence the report is never a mend: power, protection or a control taken away."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import STAIR, case, changed, own
from wirecheck import check, files
from wirecheck.mend.harm import hurts, run_besides, served, unguarded
from wirecheck.mend.search import OF_SIZES

BY_HAND = Path(__file__).parent.parent / "boards" / "by_hand"


def mends(path: Path) -> list[str]:
    """All that is offered for a board, in words."""
    return [f"{one.mistake} {one.remedy}" for one in check(path, effort=400).mends]


def test_no_receptacle_is_taken_out_from_behind_its_ground_fault_device() -> None:
    """The neutral beyond goes past the device: it is brought behind it, and the hot stays there."""
    (only,) = mends(files.folder("boards") / "gfci-circuit" / "wrong-neutral-past-the-gfci.wire")
    assert only.startswith("At B1, W2.white is with W1.white, and belongs on G1.load-neutral.")


@pytest.mark.slow
def test_no_control_is_taken_out() -> None:
    """A low-pressure control stands across the line: neither it nor the feed is taken off to be silent."""
    report = check(BY_HAND / "controls" / "lpc-across-line.wire", effort=150)
    mended = [report.mended(number) for number in range(1, len(report.mends) + 1)]
    assert all("-- LPC.a" in text and "-- LPC.b" in text and "PF.black -- JA.a" in text for text in mended)


def test_no_load_that_worked_is_dead_after() -> None:
    path = BY_HAND / "controls" / "release-on-cold-side.wire"
    assert not any("TM.feed" in one for one in mends(path))


LAMPS = """board "Two lamps"
panel LP 120 V
breaker LP.1 15 A
box A device 34 cu in
cable W1 14/2 NM-B 20 ft from LP to A
L1 is lampholder 60 W in A
G1 is gfci-receptacle in A
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- G1.line-hot
  W1.white -- G1.line-neutral
  G1.load-hot -- L1.hot
  G1.load-neutral -- L1.neutral
"""


def test_what_worked_and_is_not_to_blame_must_work_after() -> None:
    before = served([case(LAMPS)])
    after = served([case(LAMPS.replace("  G1.load-hot -- L1.hot\n", ""))])
    assert hurts(before, after, ())
    assert not hurts(after, before, ())


def test_an_outlet_may_be_dead_that_is_to_blame_and_nothing_that_does_work() -> None:
    """It may have had its volts because of the mistake; what does work is there to do it."""
    dead = changed(LAMPS, ("  W1.black -- G1.line-hot\n", ""))
    alone = [
        changed(
            text,
            ("L1 is lampholder 60 W in A\n", ""),
            ("  G1.load-hot -- L1.hot\n", ""),
            ("  G1.load-neutral -- L1.neutral\n", ""),
        )
        for text in (LAMPS, dead)
    ]
    before, after = (served([case(text)]) for text in alone)
    assert hurts(before, after, ())
    assert not hurts(before, after, before.working)
    lit, unlit = served([case(LAMPS)]), served([case(dead)])
    assert hurts(lit, unlit, lit.working)


def test_what_is_behind_a_ground_fault_device_is_counted() -> None:
    around = LAMPS.replace("  G1.load-hot -- L1.hot\n", "").replace("G1.line-hot", "G1.line-hot -- L1.hot")
    before, after = served([case(LAMPS)]), served([case(around)])
    assert unguarded(before, after) == 1
    assert unguarded(after, before) == unguarded(before, before) == 0
    assert not hurts(before, after, ())


def test_an_arc_fault_device_is_no_guard_of_persons() -> None:
    """It opens on 50 mA to ground, and a Class A device on 6 mA (UL 943): one is not the other's stead."""
    arcs = LAMPS.replace("gfci-receptacle", "afci-receptacle")
    shock, arc, both = (served([case(text)]) for text in (LAMPS, arcs, LAMPS.replace("gfci-", "afci-gfci-")))
    # The lamp beyond it, and its own two outlets.
    assert unguarded(shock, arc) == unguarded(arc, shock) == 3
    assert unguarded(both, shock) == unguarded(both, arc) == 3
    assert unguarded(shock, both) == unguarded(arc, both) == 0


def test_no_neutral_that_serves_a_load_is_capped_nor_its_splice_with_a_ground_made_neat() -> None:
    """The white and the bare share a screw: what only mends the crowding there leaves the shock."""
    offered = mends(files.folder("boards") / "rules" / "ground-as-neutral" / "wrong.wire")
    assert not any("cap it" in one or "W1.white and W1.bare are under one screw" in one for one in offered)


def test_a_larger_transformer_is_no_mend_of_a_short() -> None:
    offered = mends(BY_HAND / "first-month" / "button-beside-the-bell.wire")
    assert offered
    assert all(
        one.startswith("At CH, FB.red and FB.white lie across CH.front and CH.trans") for one in offered
    )


def test_low_voltage_is_never_joined_to_power() -> None:
    apart = LAMPS.replace("at LP\n", "T1 is class-2-transformer in A\nat LP\n")
    joined = apart + "  W1.bare -- T1.secondary-c\n"
    assert hurts(served([case(apart)]), served([case(joined)]), ())
    assert not hurts(served([case(joined)]), served([case(joined)]), ())


@pytest.mark.slow
@pytest.mark.parametrize(
    "path",
    [
        files.folder("boards") / "rules" / "heat-and-cool" / "wrong.wire",
        BY_HAND / "traps" / "thermostat-splice-in-outlet-box.wire",
    ],
    ids=lambda path: path.stem,
)
def test_no_call_is_joined_to_a_white_or_a_bare_to_be_silent(path: Path) -> None:
    assert mends(path) == []


def test_no_fuse_is_taken_out() -> None:
    """The fuse is in the white: it goes into the black, and nothing goes around it."""
    offered = mends(BY_HAND / "traps" / "fuse-in-the-white.wire")
    assert offered
    assert all(
        one.startswith("At SF, FU is in the white wire, and belongs in the hot one.") for one in offered
    )


def test_no_ground_fault_device_gives_way_to_a_plain_one() -> None:
    (only,) = mends(files.folder("boards") / "rules" / "line-load-reversed" / "wrong.wire")
    assert only.startswith("At A, the two sides of G1 are swapped.")


def test_no_circuit_gives_up_its_breaker() -> None:
    """Two hots behind one breaker would be silent, and the other breaker for nothing."""
    (only,) = mends(files.folder("boards") / "split-wired-receptacle" / "wrong-two-single-breakers.wire")
    assert only == "Breaker TP.36 should be tied to TP.34. Put a listed handle tie on the two."


@pytest.mark.slow
def test_a_float_switch_goes_back_into_the_wire_of_what_it_should_stop_and_into_no_other() -> None:
    """In R it would stop the compressor too, and the heat with it."""
    text = (files.folder("boards") / "float-switch-in-y" / "right.wire").read_text(encoding="utf-8")
    moved = (
        ("TW.yellow -- FW.red -- F.Y", "FW.red -- F.Y"),
        ("FW.white -- OW.red", "FW.white -- OW.red -- TW.yellow"),
    )
    wrong = changed(text, *moved)
    offered = check(wrong, effort=400).mends
    assert offered and not any("TW.red" in one.mistake or "TW.red" in one.remedy for one in offered)


@pytest.mark.slow
def test_no_mend_takes_one_way_from_a_motor_that_is_reversed() -> None:
    """Were both contactors to bring the lines in one order, nothing would turn it back."""
    path = files.folder("boards") / "reversing-starter" / "wrong-interlocks-left-out.wire"
    report = check(path, effort=400)
    assert [one.rule for one in report.findings] == ["short-circuit"]
    assert not any("swapped" in mend.mistake for mend in report.mends)


SWAPPED_THROWS = changed(
    own("call-crosstalk", "fans-held-back-past-the-clock"),
    ("DF.warm-side --", "DF.cold-side --"),
)


def test_what_a_line_asks_for_is_not_silenced_though_a_problem_names_it() -> None:
    """Both sides of the heater on one leg: nothing ends its work at once any more, since it has none."""
    dead = changed(
        SWAPPED_THROWS,
        ("  P2.white marked black -- K.L2\n", "  P2.white marked black -- WH.black -- pigtail -- K.L2\n"),
        ("DF.common -- WH.black", "DF.common"),
    )
    before, after = served([case(SWAPPED_THROWS)]), served([case(dead)])
    assert hurts(before, after, {"H"})
    assert not hurts(after, before, {"H"})


@pytest.mark.parametrize(
    ("text", "hot"),
    [(LAMPS + "expect L1 live\n", "  G1.load-hot -- L1.hot\n"), (STAIR, "  W3.black -- L1.hot\n")],
    ids=["live", "by switches"],
)
def test_what_a_line_wants_of_switches_or_live_is_not_silenced(text: str, hot: str) -> None:
    before, after = served([case(text)]), served([case(changed(text, (hot, "")))])
    assert hurts(before, after, {"L1"})


@pytest.mark.slow
def test_a_jumper_on_the_other_throw_of_a_thermostat_is_named() -> None:
    """Its end is moved to the throw that closes when the coil is warm, and nothing else is."""
    report = check(SWAPPED_THROWS, effort=400)
    assert [one.mistake for one in report.mends] == [
        "At E, the jumper to DT.release is on DF.cold-side, and belongs on DF.warm-side."
    ]
    assert check(report.mended(1)).findings == ()


FREEZER = own("call-stops", "fan-past-the-clock")


def test_no_load_is_put_in_series_with_another() -> None:
    """The fan through the defrost heater has 209 V of 240 V and stops in a defrost; the heater has 46 V."""
    through = changed(
        FREEZER, ("EC.white marked red -- HC", "HC"), ("-- HC.black", "-- HC.black -- EC.white marked red")
    )
    before, after = served([case(FREEZER)]), served([case(through)])
    assert ("HT", "EF") in after.starved and not before.starved
    assert hurts(before, after, {"EF"})
    assert not hurts(after, before, {"EF"})


def test_a_mend_that_runs_what_no_problem_names_is_behind_one_that_does_not() -> None:
    """With the two swapped, the fan stops in a defrost and the compressor is past the clock instead."""
    swapped = changed(
        FREEZER,
        ("P.black -- EC.black --", "P.black -- TC.black --"),
        ("  TC.black -- DT.c", "  EC.black -- DT.c"),
    )
    moved = changed(
        FREEZER,
        ("P.black -- EC.black --", "P.black --"),
        ("  TC.black -- DT.c", "  TC.black -- EC.black -- DT.c"),
    )
    before = served([case(FREEZER)])
    assert run_besides(before, served([case(swapped)]), {"EF"}) == 1
    assert run_besides(before, served([case(moved)]), {"EF"}) == 0


@pytest.mark.slow
def test_the_fan_past_the_clock_is_brought_behind_it() -> None:
    for text in (FREEZER, changed(FREEZER, ("stops EF", "stops EF, COMP"))):
        report = check(text, effort=400)
        (only,) = report.mends
        assert only.mistake == (
            "At DT, EC.black is with P.black, and belongs in a splice with TC.black and a pigtail to DT.cool."
        )


@pytest.mark.slow
@pytest.mark.parametrize(
    ("board", "mistake"),
    [
        # A coil that has its volts by way of another one has them by chance.
        ("timer-defrost/wrong-clock-without-its-second-hot", "At CP, no pigtail goes from E2 to TM.common."),
        # Of the settings of a charger the nearest that its breaker may serve.
        ("garage-vehicle-outlet/wrong-charger-set-high", "EV is 40 A, and should be 32 A."),
        # A load that got nothing, with both leads on the hot, may be behind a contact by one lead alone.
        (
            "fresh-air-damper/wrong-damper-back-to-r",
            "At FA, DW.white is on FA.R with AW.red, and belongs on FA.C with AW.blue.",
        ),
    ],
)
def test_what_a_looker_circled_is_no_mend(board: str, mistake: str) -> None:
    report = check(files.folder("boards") / f"{board}.wire", effort=400)
    assert report.mends[0].mistake == mistake


def test_what_has_the_wrong_volts_is_not_dead_after() -> None:
    """Both leads of the second heater on one hot: nothing is said of it, since the first one hides it."""
    text = own("wrong-voltage", "one-pole-for-two-heaters")
    dead = changed(
        text, (" -- W3.white marked red", ""), ("W3.black -- H1", "W3.black -- W3.white marked red -- H1")
    )
    before, after = served([case(text)]), served([case(dead)])
    assert "H2.element" in before.ill_fed
    assert hurts(before, after, {"H1.element", "H2.element"})
    assert not hurts(before, before, ())


@pytest.mark.slow
@pytest.mark.parametrize(
    ("board", "screws"),
    [
        # A limit with contacts of 10 A in the wire of 12.5 A: it is no reason to put it in the fan's wire.
        ("heater-limit-of-10-amperes", ("HS.a", "HS.b")),
        # A thermostat's wire on a circuit of 30 A: a jumper past the thermostat would let the machine run on.
        ("room-thermostat-on-the-machine-feed", ("W.T-1", "W.T-2")),
    ],
)
def test_what_is_too_small_takes_no_safety_out_and_starts_nothing(
    board: str, screws: tuple[str, str]
) -> None:
    report = check(Path(__file__).parent / "boards" / f"{board}.wire", effort=400)
    sizes = [one for one in report.findings if one.rule in OF_SIZES]
    assert sizes
    offered = [mend.mistake + mend.remedy for one in sizes for mend in one.mends]
    assert not any(screw in words for words in offered for screw in screws)
