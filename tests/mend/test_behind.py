"""No mend brings out what is behind a contact, or goes around one: it would run, or be live, with no call."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import case, changed, own
from wirecheck import check, files
from wirecheck.judge.behind import behind, bridged, called_for_good, defeated, fed_back, past, stopping
from wirecheck.mend.harm import hurts, served

BOARDS = Path(__file__).parent / "boards"
BY_HAND = Path(__file__).parents[1] / "boards" / "by_hand"


def board(name: str) -> str:
    """A board by fresh hands for which a mend was offered that hurts; or a right one, to be changed."""
    return (BOARDS / f"{name}.wire").read_text(encoding="utf-8")


def offered(text: str) -> list[str]:
    """The mistakes that are named."""
    return [one.mistake for one in check(text, effort=400).mends]


CLOCK = (files.folder("boards") / "water-heater-on-time-clock" / "right.wire").read_text("utf-8")
LOAD_1, LOAD_2 = "  W2.black -- TC.load-1\n", "  W2.white marked red -- TC.load-2\n"
FANS = board("three-fans-under-a-screw")


def test_what_is_behind_a_contact_stays_behind_it() -> None:
    one = changed(FANS, ("  K.T1 -- HA.a\n", ""), ("K.L1\n", "K.L1\n  H1 -- HA.a\n"))
    before, after = served([case(FANS)]), served([case(one)])
    assert (before.behind["HA", "K"], after.behind["HA", "K"]) == (2, 1)
    assert hurts(before, after, ())
    assert not hurts(before, after, {"HA"})
    assert not hurts(after, before, ())


def test_a_contact_that_opens_something_is_not_wired_around() -> None:
    text = changed(FANS, ("H1 -- K.L1", "H1 -- K.L1 -- K.T1"))
    assert bridged(case(FANS)) == frozenset()
    assert bridged(case(text)) == {"K.L1--T1"}
    assert hurts(served([case(FANS)]), served([case(text)]), {"HA", "HB", "HC", "K"})


def test_a_source_is_on_no_load_screw() -> None:
    text = changed(FANS, ("H1 -- K.L1", "H1 -- K.T1"))
    assert (set(fed_back(case(FANS))), set(fed_back(case(text)))) == (set(), {"K.T1"})
    assert hurts(served([case(FANS)]), served([case(text)]), {"HA", "HB", "HC", "K"})


@pytest.mark.slow
def test_the_feed_of_a_disconnect_is_not_moved_to_its_load_screw() -> None:
    """It would be live with the handle down, and the other hot go around it as before."""
    assert offered(board("hot-past-the-disconnect")) == [
        "At DS, DC.black is with PC.black, and belongs on DS.load-1."
    ]


@pytest.mark.slow
def test_a_start_capacitor_is_not_fed_from_the_line_side() -> None:
    """By way of it and of the relay's contact the windings would be live with no call."""
    text = board("start-capacitor-on-the-common")
    assert [one.mistake for one in check(text, effort=4000).mends][:1] == [
        "At CB, SC.a is joined with K.load-1, CC, MA and PR.5, and belongs with CR and MB."
    ]


AHEAD = board("leads-ahead-of-the-contactor")
JOINED = "  F2.black -- pigtail 10 -- K.line-1 -- CC -- MA -- pigtail 14 -- PR.5\n"


@pytest.mark.parametrize(
    "instead",
    [
        # The feed on the load screw, behind a disconnect that a hand may close; the other hot on both poles.
        "  CC -- MA -- pigtail 14 -- PR.5 -- pigtail 10 -- K.line-1\n  F2.black -- K.load-1\n",
        "  F2.black -- CC -- MA -- pigtail 14 -- PR.5\n  K.line-1 -- K.line-2\n",
    ],
    ids=["feed", "other hot"],
)
def test_leads_go_behind_a_contactor_by_its_load_screw(instead: str) -> None:
    blamed = ("CP.compressor", "FM", "K", "CP", "PR")
    before = served([case(AHEAD)])
    assert {device for _, device in before.past} == {"K"}
    assert hurts(before, served([case(changed(AHEAD, (JOINED, instead)))]), blamed)
    behind_it = "  CC -- MA -- pigtail 14 -- PR.5 -- pigtail 10 -- K.load-1\n  F2.black -- K.line-1\n"
    assert not hurts(before, served([case(changed(AHEAD, (JOINED, behind_it)))]), blamed)


@pytest.mark.slow
def test_a_lead_ahead_of_the_contactor_goes_to_its_load_screw() -> None:
    text = (files.folder("boards") / "rules" / "hot-past-contactor" / "wrong.wire").read_text(
        encoding="utf-8"
    )
    assert offered(text) == ["At CB, B2 is with A2, and belongs on K.load-2."]


def test_what_has_one_hot_past_a_disconnect_is_not_brought_ahead_of_it() -> None:
    """Silent, since no hot goes around it any more: both do."""
    half = changed(CLOCK, ("TC.line-2\n", "pigtail -- TC.line-2 -- W2.white marked red\n"), (LOAD_2, ""))
    whole = changed(half, ("W1.black -- TC.line-1", "W1.black -- W2.black -- TC.line-1"), (LOAD_1, ""))
    right, one, none = (served([case(text)]) for text in (CLOCK, half, whole))
    assert "WH.upper" in one.disconnected
    assert "WH.upper" not in none.disconnected
    assert hurts(one, none, {"WH", "WH.upper", "WH.lower", "TC"})
    assert not hurts(one, right, {"WH", "WH.upper", "WH.lower", "TC"})


HEATERS = board("heaters-in-conduit")


def test_a_leg_goes_past_a_contact_where_the_same_contacts_open_it_too() -> None:
    """A hot that no pole of the thermostat opens is no leg that it opens."""
    around = changed(HEATERS, ("  X2 -- TH.load-2\n", ""), ("W1 -- TH.line-1", "W1 -- X2 -- TH.line-1"))
    assert [(one.load.name, one.device) for one in past(case(around))] == [("H1.element", "TH")]
    one_pole = changed(
        HEATERS,
        ("  X2 -- TH.load-2\n", ""),
        ("  W2 -- TH.line-2\n", "  W2 -- X2\n  cap TH.line-2\n  cap TH.load-2\n"),
    )
    assert behind(case(one_pole))["H1.element", "TH"] == 1
    assert past(case(one_pole)) == past(case(HEATERS)) == ()


@pytest.mark.slow
@pytest.mark.parametrize("without", ["none", "idle", "all"])
def test_three_leads_under_a_screw_are_spliced_and_none_goes_to_the_line_side(without: str) -> None:
    text = board("three-leads-under-a-screw")
    lines = [line for line in text.splitlines(keepends=True) if line.startswith("expect")]
    taken = {"none": [], "idle": lines[-1:], "all": lines}[without]
    found = offered(changed(text, *((line, "") for line in taken)))
    assert found[0].endswith("the jumper to CF.a and the jumper to CF2.a are under one screw, K.T1.")
    assert not any("J1" in one or "K.L1" in one for one in found)


@pytest.mark.slow
def test_three_leads_under_each_of_two_screws_stay_behind_the_contactor() -> None:
    report = check(FANS, effort=400)
    assert ["under one screw" in one.mends[0].mistake for one in report.findings] == [True, True]
    assert not any("H1" in one.remedy or "H2" in one.remedy for one in report.mends)


@pytest.mark.slow
def test_a_lead_of_a_capacitor_does_not_go_past_the_contactor() -> None:
    """From its line side the start winding would be live with no call, by way of the capacitor."""
    found = offered((BY_HAND / "condenser" / "capacitor-on-start-alone.wire").read_text(encoding="utf-8"))
    assert len(found) == 2
    assert all("belongs with CC.black and FC.black" in one for one in found)


@pytest.mark.slow
@pytest.mark.parametrize("line", ["", "expect idle runs nothing\n"], ids=["no idle", "idle"])
@pytest.mark.parametrize(
    ("name", "mistake"),
    [
        ("pump-on-the-feed", "At B, W4.black is on B.L1, and belongs on B.pump-hot."),
        ("burner-past-the-limit", "At AQ, W3.black is on AQ.L1, and belongs on AQ.B1."),
    ],
)
def test_a_feed_on_the_line_goes_to_the_switched_screw(name: str, mistake: str, line: str) -> None:
    assert offered(board(name) + line) == [mistake]


@pytest.mark.slow
def test_no_bridge_is_made_over_a_pole_for_a_hot_that_was_not_pulled() -> None:
    text = "".join(
        line for line in HEATERS.splitlines(keepends=True) if not line.strip().startswith(("X2", "wire X2"))
    )
    assert not any("TH." in one for one in offered(text))


@pytest.mark.slow
def test_no_leads_are_swapped_to_make_a_ground_large_enough() -> None:
    """The heater stands between a hot and the neutral: with the thin wire as its hot, the ground would do."""
    text = changed(
        HEATERS,
        ("LP.2 20 A 2-pole", "LP.2 20 A"),
        ("XHHW-2 brown", "XHHW-2 white"),
        ("W1 -- LP.2.a", "W1 -- LP.2"),
        ("W2 -- LP.2.b", "W2 -- LP.neutral"),
    )
    assert not any("swapped" in one for one in offered(text))


KIT = board("start-kit")
RC_TAIL, TO_S, SC_TAIL = "  RC.b -- pigtail 14 -- PR.2\n", "  PR.2 -- CP.S\n", "SC.b -- pigtail 14 -- PR.1\n"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("changes", "mistakes"),
    [
        (
            [
                (RC_TAIL, "  RC.b -- pigtail 14 -- PR.1\n"),
                (TO_S, "  PR.1 -- CP.S\n"),
                (SC_TAIL, "SC.b -- pigtail 14 -- PR.2\n"),
            ],
            ["At U, what is on PR.1 and what is on PR.2 are swapped."],
        ),
        (
            [(RC_TAIL, "  RC.b -- pigtail 14 -- SC.b\n")],
            ["At U, the jumper to RC.b is on SC.b, and belongs on CP.S."],
        ),
        ([(SC_TAIL, "SC.b -- RC.b\n")], ["At U, the jumper to SC.b is on RC.b, and belongs on PR.1."]),
    ],
    ids=["swapped", "run capacitor behind the relay", "start capacitor past the relay"],
)
def test_no_start_relay_takes_the_run_capacitor_out(
    changes: list[tuple[str, str]], mistakes: list[str]
) -> None:
    assert offered(changed(KIT, *changes)) == mistakes


@pytest.mark.slow
def test_no_fan_that_no_line_names_is_dead_after() -> None:
    """What holds it back has its two sides swapped: then nothing turns it in any state."""
    assert not any("DTS" in one for one in offered(board("fan-past-the-clock")))


SAW, TANK = board("band-saw"), board("tank-pump")
NO_LINES = [
    (line + "\n", "") for line in SAW.splitlines() if line.startswith("expect") and "starts" not in line
]
JUMPERED = ("  G2 -- C2 -- GO.a\n  C3 -- GO.b\n", "  G2 -- C2 -- C3 -- pigtail -- GO.a -- pigtail -- GO.b\n")
ABREAST = (
    ("  C1 -- ST1.a\n  G1 -- ST1.b\n", "  C1 -- G1 -- ST1.a\n"),
    ("GO.a\n", "GO.a -- pigtail -- ST1.b\n"),
)


def test_no_motor_runs_by_itself_that_waits_for_a_button() -> None:
    text = changed(SAW, JUMPERED)
    assert not served([case(SAW)]).runs_by_itself
    assert served([case(text)]).runs_by_itself
    assert hurts(served([case(SAW)]), served([case(text)]), {"M", "C", "GO"})


def test_no_start_button_lies_around_a_stop_button() -> None:
    """Whoever leans on it cannot be stopped."""
    text = changed(
        SAW, ("  G2 -- C2 -- GO.a\n", "  G2 -- C2\n"), ("  C1 -- ST1.a\n", "  C1 -- ST1.a -- GO.a\n")
    )
    assert (set(defeated(case(SAW))), set(defeated(case(text)))) == (set(), {("ST1", "GO"), ("ST2", "GO")})
    assert hurts(served([case(SAW)]), served([case(text)]), {"M", "C", "GO"})


def test_a_stop_button_that_stopped_something_stops_something() -> None:
    text = changed(SAW, *ABREAST)
    assert (set(stopping(case(SAW))), set(stopping(case(text)))) == ({"ST1", "ST2"}, set())
    assert hurts(served([case(SAW)]), served([case(text)]), {"M", "C", "ST1", "ST2"})


def test_no_call_is_tied_to_what_carries_power() -> None:
    """The outdoor unit would be called for good, and no line has to say that it should rest."""
    right = changed(
        (files.folder("boards") / "split-air-conditioner" / "right.wire").read_text("utf-8"),
        ("expect idle runs nothing\n", ""),
    )
    off = changed(right, ("-- OW.red -- F.Y", "-- F.Y"))
    text = changed(off, ("TW.red -- F.R", "TW.red -- OW.red -- F.R"))
    assert (set(called_for_good(case(off))), set(called_for_good(case(text)))) == (set(), {"CU.Y"})
    assert hurts(served([case(off)]), served([case(text)]), {"CU", "CU.contactor", "CU.compressor", "CU.fan"})


def test_what_a_safety_alone_parts_from_power_is_called_for_good() -> None:
    """A float switch is closed as long as nothing has gone wrong, and a thermostat is not."""
    text = own("safety-bypass", "beside-the-thermostat")
    assert set(called_for_good(case(text))) == {"F.Y", "CU.Y", "TS.Y"}
    assert not set(called_for_good(case(changed(text, ("TW.red -- FW.red -- F.R", "TW.red -- F.R")))))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("changes", "mistake"),
    [
        ([JUMPERED], "At B, GO.a and GO.b are joined with each other, as if nothing were between them"),
        (ABREAST, "At B, ST1.a and ST1.b lie across C1 and GO.a, and belong in series with G2"),
    ],
    ids=["start jumpered", "stops abreast"],
)
def test_a_starter_without_lines_for_its_stops_is_mended_without_harm(
    changes: list[tuple[str, str]], mistake: str
) -> None:
    """With the start button around the stop buttons, nothing would be found."""
    (mend,) = check(changed(SAW, *changes, *NO_LINES), effort=4000).mends
    assert mend.mistake.startswith(mistake)


def test_a_float_that_calls_for_a_pump_is_not_left_out() -> None:
    past = changed(TANK, ("  F1 -- FL.line\n  F2 -- FL.load\n", "  F1 -- F2 -- FL.line\n"))
    out = changed(TANK, ("  F1 -- FL.line\n  F2 -- FL.load\n", "  F1 -- F2\n"))
    assert hurts(served([case(past)]), served([case(out)]), {"M", "FL", "K"})
