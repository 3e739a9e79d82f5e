"""The mistake behind the findings: made by hand on right boards, and named by the search."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.boards.mutations import mutants
from tests.boards.work import Work, work
from tests.mend.marked import offered
from tests.rules.hands import changed
from wirecheck import NotABoard, check, draw, files
from wirecheck.judge.finding import Finding
from wirecheck.report.report import Report

RIGHT = {
    name: work((files.folder("boards") / name / "right.wire").read_text(encoding="utf-8"))
    for name in ("stair-light", "gfci-circuit", "kitchen-multiwire")
}

SHIPS = files.folder("boards")
STAIR = (SHIPS / "stair-light" / "right.wire").read_text(encoding="utf-8")


def mistaken(board: str, words: str) -> Work:
    """A right board with one mistake, by the words of the mistake."""
    return next(one.work for one in mutants(RIGHT[board]) if one.words == words)


def worse(report: Report) -> list[Finding]:
    return [one for one in report.findings if one.severity != "advice"]


def same(text: str, other: Work) -> bool:
    """Whether a text says the same wiring, whatever the order of its lines."""

    def lines(one: Work) -> list[tuple[str, ...]]:
        return sorted(tuple(sorted(line.strip().split(" -- "))) for line in one.text().splitlines())

    return lines(work(text)) == lines(other)


@pytest.mark.parametrize(
    ("board", "words"),
    [
        ("stair-light", "W1.black and W1.white exchanged in FOOT"),
        ("stair-light", "W1.black and W2.black exchanged in FOOT"),
        ("stair-light", "W3.bare left loose in LIGHT"),
        ("stair-light", "W3.white capped in LIGHT"),
        ("stair-light", "W1.bare -- W2.bare -- pigtail -- S1.ground not made in FOOT"),
        ("stair-light", "no tail to S2.ground"),
        ("stair-light", "W1.bare -- W2.bare -- pigtail -- S1.ground without its pigtail"),
        ("stair-light", "W2.black and W2.white exchanged at both ends"),
        ("stair-light", "TP.1 of 30 A"),
        ("stair-light", "free 5.5 in of W3 at LIGHT"),
        ("gfci-circuit", "line and load of G1 exchanged"),
        ("kitchen-multiwire", "W1.red and W1.white exchanged in TP"),
    ],
)
def test_one_mistake_is_named_and_put_right(board: str, words: str) -> None:
    wrong = mistaken(board, words)
    report = check(wrong.text(), effort=400)
    (finding,) = worse(report)
    assert 1 <= len(finding.mends) <= 3
    for number in range(1, len(finding.mends) + 1):
        assert worse(check(report.mended(number))) == []
    assert same(report.mended(1), RIGHT[board]) or "of 30 A" in words or "5.5 in" in words or "G1" in words


def test_what_follows_stands_under_its_mistake() -> None:
    text = mistaken("stair-light", "W3.black and W3.bare exchanged in LIGHT").text()
    alone = worse(check(text))
    (finding,) = worse(check(text, effort=400))
    assert len(alone) > 1
    assert {(one.rule, one.subject) for one in (finding, *finding.follows)} == {
        (one.rule, one.subject) for one in alone
    }
    assert finding.severity == "hazard"


def test_two_mistakes_are_two() -> None:
    first = mistaken("stair-light", "W3.black and W3.white exchanged in LIGHT").text()
    text = first.replace("breaker TP.1 15 A", "breaker TP.1 30 A")
    report = check(text, effort=400)
    assert [bool(one.mends) for one in worse(report)] == [True, True]
    once = report.mended(1)
    assert len(worse(check(once, effort=400))) == 1
    (left,) = worse(check(once, effort=400))
    assert worse(check(check(once, effort=400).mended(1))) == [] and left.mends


def test_nothing_is_tried_on_a_right_board(monkeypatch: pytest.MonkeyPatch) -> None:
    import wirecheck.mend.search as searching

    monkeypatch.setattr(searching, "search", None)
    right = RIGHT["stair-light"].text()
    assert worse(check(right, effort=400)) == []
    assert draw(right, effort=400).dot == draw(right).dot


def test_without_effort_nothing_is_tried_and_the_findings_are_as_they_were() -> None:
    text = mistaken("stair-light", "W3.black and W3.bare exchanged in LIGHT").text()
    assert check(text) == check(text, effort=0)
    assert not any(one.mends or one.follows for one in check(text).findings)


def test_where_the_effort_ends_the_findings_are_there_and_the_report_says_so() -> None:
    text = mistaken("stair-light", "W1.white marked black in FOOT").text()
    report = check(text, effort=2)
    assert report.ended
    assert [one.rule for one in worse(report)] == [one.rule for one in worse(check(text))]
    assert "--effort" in str(report)
    assert all("Look again, with the power off, at " in (one.help or "") for one in worse(report))


def test_what_could_not_be_read_keeps_its_help() -> None:
    report = check('board "Shed"\npanel LP 120 V\nS1 is single-pole-swich', effort=400)
    assert report.findings[0].help


def test_a_wire_is_never_capped_nor_an_expectation_dropped_to_be_silent() -> None:
    """The hot of the light lies loose: it is joined, and not capped."""
    text = mistaken("stair-light", "W3.black left loose in LIGHT").text()
    report = check(text, effort=400)
    assert all("cap W3.black" not in report.mended(number) for number in range(1, len(report.mends) + 1))
    assert "expect L1 from S1, S2" in report.mended(1)


def test_a_screw_that_a_line_names_among_several_is_known() -> None:
    """R2.hot-1 and R2.hot-2 are two screws of one side."""
    text = """board "Two receptacles"
panel LP 120/240 V, 10 kA available
breaker LP.4 20 A
box B device 20.3 cu in
box C device 20.3 cu in
cable W2 12/2 NM-B 10 ft from LP (free 7 in) to B (free 7 in, secured 8 in)
cable W3 12/2 NM-B 10 ft from B (free 7 in, secured 8 in) to C (free 7 in, secured 8 in)
R2 is duplex-receptacle 20 A in B
R3 is duplex-receptacle 20 A in C
at LP
  W2.black -- LP.4
  W2.white -- LP.neutral
  W2.bare -- LP.ground
at B
  W2.black -- R2.hot-1
  W3.black -- R2.hot-2
  W2.white -- R2.neutral-1
  W3.white -- R2.neutral-2
  W2.bare -- W3.bare -- pigtail -- R2.ground
at C
  W3.white -- R3.hot
  W3.black -- R3.neutral
  W3.bare -- R3.ground
expect R2 live
expect R3 live
"""
    report = check(text, effort=400)
    (finding,) = worse(report)
    assert finding.rule == "reversed-polarity"
    assert worse(check(report.mended(1))) == []


@pytest.mark.slow
def test_no_mend_is_offered_that_only_hides_a_finding_behind_another() -> None:
    """Both hots on one leg: no volts are lost on the way any more, and the heater is dead."""
    right = work((files.folder("boards") / "baseboard-heater" / "right.wire").read_text(encoding="utf-8"))
    wrong = next(one.work for one in mutants(right) if one.words == "W1 of 9000 ft")
    report = check(wrong.text(), effort=400)
    assert [one.rule for one in worse(report)] == ["voltage-drop"]
    assert [one.mistake for one in report.mends] == [
        "Cable W1 is said to be 9000 ft long, more than one pulls in one piece."
    ]
    assert worse(check(report.mended(1))) == []


@pytest.mark.slow
def test_a_length_that_one_can_pull_is_not_doubted() -> None:
    right = (files.folder("boards") / "baseboard-heater" / "right.wire").read_text(encoding="utf-8")
    long = re.sub(r"(cable W1 .*?) [0-9]+ ft from", r"\1 990 ft from", right)
    assert long != right and not any("in one piece" in one.mistake for one in check(long, effort=400).mends)


SHIPPED = sorted(
    path
    for path in files.folder("boards").glob("*/wrong-*.wire")
    if path.parent.name in ("stair-light", "doorbell", "gfci-circuit", "baseboard-heater")
)


@pytest.mark.slow
@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_every_mend_that_is_offered_for_a_shipped_board_does(path: Path) -> None:
    report = check(path, effort=400)
    found = {(one.rule, one.subject) for one in worse(check(path))}
    for number in range(1, len(report.mends) + 1):
        left = {(one.rule, one.subject) for one in worse(check(report.mended(number)))}
        assert left < found


def test_a_wire_that_is_spliced_on_its_way_is_known_by_the_letter_at_its_end() -> None:
    """Yellow and orange go on by a splice at the air handler: swapped at the thermostat, they are there."""
    path = files.folder("boards") / "heat-pump" / "wrong-y-and-o-exchanged.wire"
    (finding,) = check(path, effort=400).findings
    assert [one.mistake for one in finding.mends] == ["At TS, TW.yellow and TW.orange are swapped."]
    assert {one.rule for one in finding.follows} == {"conductor-color"}


def test_where_no_mend_is_found_the_report_says_where_to_look() -> None:
    path = files.folder("boards") / "bathroom" / "wrong-bare-as-neutral.wire"
    for finding in check(path, effort=10).findings:
        assert finding.mends or (finding.help or "").startswith("Look again, with the power off, at ")


def shipped(name: str) -> list[str]:
    """The mistakes that are offered for a shipped board, by what they are."""
    return [one.mistake for one in check(files.folder("boards") / f"{name}.wire", effort=400).mends]


@pytest.mark.slow
def test_what_does_more_than_another_mend_is_not_offered() -> None:
    """One end is not marked: to mark both again is no other way."""
    assert shipped("cooling-call/wrong-white-not-marked") == [
        "At D, PC.white is not a neutral, and is not marked."
    ]


def test_the_wires_of_a_cable_go_to_one_side_of_a_thermostat() -> None:
    told = shipped("baseboard-heater/wrong-line-and-load-exchanged")
    assert "At WALL, W1.white and W2.black are swapped." in told
    assert "At WALL, W1.black and W2.black are swapped." not in told


def test_a_thermostat_wire_goes_under_its_screw_without_a_pigtail() -> None:
    assert shipped("cooling-call/wrong-common-not-landed-outside") == [
        "At F, OW.white is joined to nothing, and belongs on F.C with TW.blue."
    ]


@pytest.mark.slow
def test_a_thermostat_cable_that_is_too_thin_becomes_heavier() -> None:
    assert shipped("heat-cool-hookup/wrong-long-thin-run") == ["Cable OW is 22/2, and should be 18/2."]


def test_a_wire_goes_to_the_side_where_the_other_of_its_cable_is() -> None:
    path = Path(__file__).parent.parent / "boards/by_hand/last-look/heater-one-pole-past-switch.wire"
    first = check(path, effort=400).mends[0]
    assert first.mistake == "At A, W2.white is with W1.white, and belongs on S1.load-2."


@pytest.mark.slow
def test_the_switch_of_a_pump_is_brought_into_no_common() -> None:
    """A ground fault goes past it there; inside of a machine it is no other than one of its own."""
    told = shipped("condensate-pump/wrong-safety-leads-joined")
    assert told and not any("OW.white" in one or "TW.blue" in one for one in told)


def test_a_raceway_that_is_too_full_becomes_larger() -> None:
    assert shipped("rules/raceway-fill/wrong")[0] == "Raceway R1 is 3/8 in, and should be 1/2 in."


@pytest.mark.slow
def test_while_another_mistake_is_left_one_mend_of_each_is_told() -> None:
    """Of the edits that bring the white its color one puts the other leg on the pilot's hot."""
    path = Path(__file__).parent.parent / "boards/by_hand/controls/coil-240-to-neutral.wire"
    (mend,) = check(path, effort=400).mends
    assert mend.mistake == "At CP, TW.black and TW.white are swapped."


HAND = sorted((Path(__file__).parents[1] / "boards/by_hand/few-mistakes").glob("*.wire"))
ASKED = [path for path in HAND if "# mend:" in (text := path.read_text("utf-8")) and "# finds:" in text]


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (at % 3 > 0)) for at, path in enumerate(ASKED)],
    ids=lambda path: path.stem,
)
def test_as_many_mistakes_are_named_as_a_hand_would_mend(path: Path) -> None:
    report = check(path, effort=400)
    assert len(worse(report)) == path.read_text("utf-8").count("# mend:")
    assert all(finding.mends for finding in worse(report))
    while report.mends:
        report = check(report.mended(1), effort=400)
    assert worse(report) == []


BY_HAND = Path(__file__).parent.parent / "boards" / "by_hand"

TAUGHT = [
    # A protector stops nothing where it is in the way of what only helps a motor start.
    (
        SHIPS,
        "reach-in-cooler/wrong-protector-jumpered",
        "At E, OP.1 and OP.3 are joined with each other, as if nothing were between them: OP.3 belongs "
        "with CP.C alone.",
    ),
    # The feed goes to the line side, and each cable to one side.
    (SHIPS, "baseboard-heater/wrong-line-and-load-exchanged", "At WALL, W1.white and W2.black are swapped."),
    (BY_HAND, "controls/thermostat-feed-across-pole", "At A, W1.white and W2.black are swapped."),
    (SHIPS, "rules/live-fuses/wrong", "At D, the two sides of D are swapped."),
    # What opens a neutral belongs in the hot.
    (
        BY_HAND,
        "controls/one-pole-contactor-breaks-neutral",
        "At CP, W1.black and W1.white are swapped, and so are W2.black and W2.white.",
    ),
    (BY_HAND, "traps/relay-in-the-white", "At K, K is in the white wire, and belongs in the hot one."),
    (
        SHIPS,
        "two-gang-box/wrong-neutral-switched",
        "At WALL, S2 is in the white wire, and belongs in the hot one.",
    ),
    # A jumper or a tail is on the wrong screw, or in the wrong splice.
    (
        BY_HAND,
        "controls/crankcase-heater-on-no",
        "At CP, the jumper to CCH.a is on K1.no, and belongs on K1.nc.",
    ),
    (
        BY_HAND,
        "controls/release-on-cold-side",
        "At CP, the jumper to TM.release is on TT.cold-side, and belongs on TT.warm-side.",
    ),
    (SHIPS, "rules/heat-without-air/wrong", "At CP, what is on SQ.m2 and what is on SQ.m4 are swapped."),
    (SHIPS, "rules/held-off/wrong", "At WF, TW.black is with PF.black, and belongs on WF.T-1."),
    (
        BY_HAND,
        "controls/coil-to-other-transformer",
        "At CP, the jumper to KC.coil-b is on TRH.secondary-c, and belongs on TRC.secondary-c.",
    ),
    (
        SHIPS,
        "two-gang-box/wrong-second-fed-from-the-first",
        "At WALL, S2.line is joined with W2.black and S1.load, and belongs with W1.black.",
    ),
    (
        BY_HAND,
        "lighting/second-light-on-through-wire",
        "At C, L2.hot is joined with W3.black and W4.black, and belongs with W3.red, which is capped.",
    ),
    (SHIPS, "one-transformer/wrong-red-on-rh-alone", "At TS, no jumper goes from TS.RH to TS.RC."),
    (
        SHIPS,
        "two-transformers/wrong-jumper-left-in",
        "At TS, a jumper joins TS.RC and TS.RH, and should not be there.",
    ),
    # A safety belongs in the power wire or in that of the call.
    (
        BY_HAND,
        "hookups/float-in-the-common",
        "At F, FW.red and FW.white are in the wrong wire, and belong in series with TW.yellow: FW.white "
        "with TW.yellow, and FW.red on F.Y with OW.red.",
    ),
    (
        SHIPS,
        "float-switch-in-r/wrong-across-r-and-c",
        "At F, FW.red and FW.white lie across F.R and F.C, and belong in series with TW.red: FW.white "
        "with TW.red, and FW.red on F.R.",
    ),
    (
        BY_HAND,
        "traps/float-after-the-splice",
        "At F, TW.yellow is with FW.red and OW.red, and belongs on F.Y with FW.white.",
    ),
    (
        SHIPS,
        "heat-cool-hookup/wrong-float-switch-jumpered",
        "At F, FW.red and FW.white are joined with each other, as if nothing were between them: FW.white "
        "belongs with TW.yellow and F.Y alone.",
    ),
    (
        SHIPS,
        "condensate-pump/wrong-in-the-heat-call",
        "At F, FW.red and FW.white are in the wrong wire, and belong in series with TW.yellow: FW.white "
        "with TW.yellow, and FW.red on F.Y with OW.red.",
    ),
    # The call comes into a kit by the one and goes out by the other; on no screw is a third wire's splice.
    (
        SHIPS,
        "dual-fuel/wrong-w2-straight-to-the-furnace",
        "At F, KO.white and KW.white are joined to nothing, and belong in series with TW.white: KW.white "
        "with TW.white, and KO.white on F.W with OW.white.",
    ),
    (
        SHIPS,
        "dual-fuel/wrong-y-around-the-kit",
        "At F, KO.yellow and KW.yellow are joined to nothing, and belong in series with TW.yellow: KW.yellow "
        "with TW.yellow, and KO.yellow with OW.yellow.",
    ),
    (
        SHIPS,
        "kitchen-multiwire/wrong-neutral-through-the-device",
        "At LEFT, W2.white is on G1.load-neutral, and belongs in a splice with W1.white and a pigtail to "
        "G1.line-neutral.",
    ),
    # A wire that gives way to another one goes to its own letter, and does not hang there live.
    (
        SHIPS,
        "heat-pump-b/wrong-common-on-b",
        "At TS, TW.blue is on TS.B, where TW.brown belongs, and TW.brown is capped. TW.blue belongs on TS.C.",
    ),
    # The tab that goes, and no other.
    (BY_HAND, "lighting/tab-left-in", "R1 still has its tab on the hot side, between the brass screws."),
    (
        SHIPS,
        "split-wired-receptacle/wrong-tab-left-in",
        "R1 still has its tab on the hot side, between the brass screws.",
    ),
    # Two conductors of both cables; a bare for a white; a spare; the leg of a breaker and its tie.
    (
        SHIPS,
        "hall-fed-at-light/wrong-blacks-on-the-4-way",
        "At DOOR, W3.black and W3.red are swapped, and so are W4.black and W4.red.",
    ),
    (
        SHIPS,
        "bathroom/wrong-bare-as-neutral",
        "At SHOWER, W4.bare is on VF.neutral, where W4.white belongs, and W4.white is capped. "
        "A jumper goes from there to VF.ground.",
    ),
    (SHIPS, "rules/loose-conductor/wrong", "At B, W1.red is joined to nothing, and has no cap."),
    (SHIPS, "rules/multiwire-circuit/wrong", "Breaker LP.5 should be on leg b, and tied to LP.1."),
    # A control is left out, across two wires, in the wrong one, or its two sides are joined.
    (
        SHIPS,
        "motor-starter/wrong-overload-not-in-the-control",
        "At E, OL.95 and OL.96 are joined to nothing, and belong in series with C.A2: OL.96 with C.A2, "
        "and OL.95 with K2.",
    ),
    (
        SHIPS,
        "sump-pump/wrong-float-in-the-neutral",
        "At J, FS.line and FS.load are in the wrong wire, and belong in series with SP.hot: FS.load with "
        "SP.hot, and FS.line with W1.black.",
    ),
    (
        SHIPS,
        "sump-pump/wrong-float-across-the-pump",
        "At J, FS.load and FS.line lie across SP.neutral and SP.hot, and belong in series with W1.black: "
        "FS.line with W1.black, and FS.load on SP.hot.",
    ),
    (
        SHIPS,
        "pump-down-cooler/wrong-pressure-control-in-the-solenoid",
        "At CP, LPC.a and LPC.b are in the wrong wire, and belong in series with K.coil-a: LPC.b with "
        "K.coil-a, and LPC.a on HP.b.",
    ),
    # What a contact stops, or waits for, is on its other side.
    (
        SHIPS,
        "motor-starter/wrong-holding-contact-across-both",
        "At B, C2 is on STOP.a with C1, and belongs on STOP.b and START.a.",
    ),
    (
        SHIPS,
        "reach-in-cooler/wrong-capacitor-past-the-relay",
        "At E, the jumper to SC.a is on CR.L, and belongs on CR.S.",
    ),
    # Leads and screws without a wire; a tap, a fuse, a transformer.
    (
        SHIPS,
        "reach-in-cooler/wrong-start-left-off",
        "At E, SC.b and CP.S are joined to nothing, and belong together.",
    ),
    (
        SHIPS,
        "capacitor-compressor/wrong-capacitors-left-off-start",
        "At E, no jumper goes from PR.2 to CP.S.",
    ),
    (
        SHIPS,
        "motor-control-transformer/wrong-tap-for-another-voltage",
        "T is on its tap for 240 V, and should be on 480 V.",
    ),
    (
        SHIPS,
        "water-chiller/wrong-fuse-of-30-amperes",
        "F1 is fused at 30 A, and should be fused at 20 A or less.",
    ),
    (BY_HAND, "hookups/old-valves-small-transformer", "X is 40 VA, and should be 75 VA or more."),
    # A bare of one cable for a white of another.
    (
        SHIPS,
        "dimmer-and-fan-control/wrong-ground-as-neutral",
        "At SHELF, W4.bare is on L1.neutral, where W3.white belongs, and W3.white is capped. "
        "W4.bare belongs on L1.ground.",
    ),
]


# Whose search plays many calls, or tries many edits.
LONG = (
    "traps/float-",
    "two-transformers",
    "heat-cool-hookup/wrong-float",
    "float-switch-in-r",
    "hall-fed-at-light",
    "motor-",
    "sump-pump",
    "pump-down-cooler",
    "reach-in-cooler",
    "capacitor-compressor",
    "water-chiller",
    "hookups/old-valves",
    "dimmer-and-fan-control",
)

TWO_SLIPS = "few-mistakes/baseboard-two-slips.wire"


@pytest.mark.slow
def test_a_mend_of_each_of_several_mistakes_does_on_the_board_as_it_is_written() -> None:
    report = check(BY_HAND / TWO_SLIPS, effort=400)
    # What follows from a mistake is told with it, and stands by itself once another one is mended.
    before = {(one.rule, one.subject) for one in worse(check(BY_HAND / TWO_SLIPS))}
    for number in range(1, len(report.mends) + 1):
        after = {(one.rule, one.subject) for one in worse(check(report.mended(number)))}
        assert after < before


@pytest.mark.parametrize(
    ("folder", "name", "mistake"),
    [
        pytest.param(*one, id=one[1], marks=[pytest.mark.slow] * (at % 3 > 0 or one[1].startswith(LONG)))
        for at, one in enumerate(TAUGHT)
    ],
)
def test_the_first_mend_is_what_a_teacher_would_say(folder: Path, name: str, mistake: str) -> None:
    report = check(folder / f"{name}.wire", effort=400)
    (finding,) = worse(report)
    assert finding.mends[0].mistake == mistake
    assert worse(check(report.mended(1))) == []


@pytest.mark.parametrize(
    "name", ["baseboard-heater/wrong-half-the-voltage", "cooling-call/wrong-white-not-marked"]
)
def test_a_white_is_marked_as_its_other_end_is(name: str) -> None:
    (only,) = check(SHIPS / f"{name}.wire", effort=400).mends
    assert "ark it red there" in only.remedy


def test_the_jumpers_to_heat_and_fan_stay_where_another_is_wrong() -> None:
    """The board would be silent with heater and fan exchanged on the clock, and no teacher would say it."""
    assert len(check(BY_HAND / "controls" / "release-on-cold-side.wire", effort=400).mends) == 1


def test_the_tab_that_stays_is_named() -> None:
    (only,) = check(BY_HAND / "lighting" / "tab-left-in.wire", effort=400).mends
    assert only.remedy == (
        "Break out that tab alone, so that each half has a hot of its own. "
        "Leave the one between the silver screws: both halves share that neutral."
    )


def test_a_rules_own_guess_gives_way_to_a_mend() -> None:
    """What the rule takes for the cause stands in its message until a mend says what it is."""
    path = BY_HAND / "controls" / "crankcase-heater-on-no.wire"
    (alone,) = (one for one in check(path).findings if one.rule == "call-continuity")
    (found,) = worse(check(path, effort=400))
    assert alone.message == (
        "With nothing called, CCH does not run. The wire that belongs on K1.nc is on K1.no."
    )
    assert found.message == "With nothing called, CCH does not run."
    assert found.help is None
    assert all(one.help is None for one in found.follows)


@pytest.mark.slow
def test_the_search_ends_on_every_board_there_is() -> None:
    tests = Path(__file__).parents[1]
    tried = 0
    for path in sorted([*files.folder("boards").rglob("*.wire"), *tests.rglob("*.wire")]):
        try:
            report = check(path, effort=40)
        except NotABoard:
            continue
        tried += 1
        for number in range(1, len(report.mends) + 1):
            assert report.mended(number) != report.text, path
    assert tried > 800


STARTER = (SHIPS / "motor-starter" / "right.wire").read_text(encoding="utf-8")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("relay", "plate", "trips"),
    [
        # 16.1 A x 1.25 = 20.125 A, and x 1.15 = 18.515 A; a relay that says nothing trips at 19 A.
        ("with trips 25 A", "current 16.1 A", "20.1 A"),
        ("with trips 12 A", "current 16.1 A", "20.1 A"),
        ("with trips 25 A", "service-factor 1.0, current 16.1 A", "18.5 A"),
        ("", "current 12 A", "15 A"),
    ],
)
def test_an_overload_relay_is_set_for_its_motor(relay: str, plate: str, trips: str) -> None:
    text = STARTER.replace("with trips 19 A", relay).replace("current 16.1 A", plate)
    report = check(text, effort=200)
    assert "motor-overload" in {one.rule for one in report.findings}
    assert report.mends[0].mistake.endswith(f", and should trip at {trips}.")
    assert not [one for one in check(report.mended(1)).findings if one.rule == "motor-overload"]


@pytest.mark.slow
def test_a_board_on_which_it_takes_long_to_say_why_is_searched_too() -> None:
    """To say what keeps the fan from running takes more of the work than to judge the board."""
    text = (SHIPS / "dual-fuel" / "right.wire").read_text(encoding="utf-8")
    report = check(text.replace("  TW.green -- TS.G\n", ""), effort=200)
    assert not report.ended
    assert [one.mistake for one in report.mends] == [
        "At TS, TW.green is joined to nothing, and belongs on TS.G."
    ]


def test_a_cable_ahead_of_the_device_that_should_guard_it_goes_behind_it() -> None:
    right = (SHIPS / "kitchen-appliances" / "right.wire").read_text(encoding="utf-8")
    wrong = right.replace("GB.load-hot", "GB.line-hot").replace("GB.load-neutral", "GB.line-neutral")
    (found,) = worse(check(wrong, effort=400))
    assert (found.rule, found.subject) == ("equipment-ground-fault", "DW")
    assert [one.remedy for one in found.mends if "GB" in one.remedy] == [
        "Move W4.black to GB.load-hot and W4.white to GB.load-neutral."
    ]
    (mend,) = (one for one in found.mends if "GB" in one.remedy)
    assert mend.mistake == (
        "At COUNTER, W4.black and W4.white are on GB.line-hot and GB.line-neutral, and belong on "
        "GB.load-hot and GB.load-neutral."
    )


def test_mends_that_differ_in_a_tail_alone_are_one() -> None:
    text = (BY_HAND / "kitchen-and-bath" / "whites-of-two-circuits.wire").read_text(encoding="utf-8")
    (found,) = worse(check(text, effort=400))
    assert [one.remedy for one in found.mends] == ["Take W1.white out, and put it on R1.neutral alone."]


@pytest.mark.parametrize(
    ("old", "new", "rules", "lines"),
    [
        (["W1.black -- S1.common"], ["W1.blak -- S1.common"], ["unknown-name"], "line 28 right: it"),
        (["W1.white -- W2.white"], ["W1.white - W2.white"], ["syntax"], "line 31 right: it"),
        (
            ["W1.black -- S1.common", "W1.white -- W2.white"],
            ["W1.blak -- S1.common", "W1.white - W2.white"],
            ["unknown-name", "syntax"],
            "lines 28 and 31 right: they",
        ),
    ],
)
def test_what_could_not_be_read_comes_first_and_no_remedy_beside_it(
    old: list[str], new: list[str], rules: list[str], lines: str
) -> None:
    """The joint that the line says would be made twice by who follows the remedy for what it lacks."""
    report = check(changed(STAIR, *zip(old, new, strict=True)))
    found = report.findings
    assert [one.rule for one in found] == [*rules, "switching"]
    assert found[-1].help == f"First put {lines} could not be read."
    assert all("Did you mean" in one.help or "--" in one.help for one in found[:-1])


def test_advice_is_told_after_what_is_wrong() -> None:
    """Its line comes first: the cable's is before the joint's."""
    found = check(
        changed(STAIR, ("9 ft from HEAD", "90 ft from HEAD"), ("TP.1 15 A", "TP.1 20 A"), ("60 W", "1200 W"))
    ).findings
    advice = [one.severity == "advice" for one in found]
    assert True in advice and False in advice and advice == sorted(advice)


@pytest.mark.slow
@pytest.mark.parametrize(
    "name",
    [
        "air-compressor/wrong-one-hot-past-the-pressure-switch",
        "common-wire-kit/wrong-yellow-straight-to-y",
        "economizer/wrong-yellow-around-it",
        "motor-starter/wrong-holding-contact-left-off",
        "reversing-starter/wrong-holding-contact-left-off",
        "rules/pole-bypassed/wrong",
        "timer-defrost/wrong-cool-and-defrost-exchanged",
        "timer-defrost/wrong-fans-blow-in-defrost",
        "timer-defrost/wrong-solenoid-ahead-of-the-clock",
    ],
)
def test_the_mistake_of_a_board_that_ships_is_put_right_by_its_first_mend(name: str) -> None:
    """What goes around two idle screws, a contact left off on one side, two throws, what is past a clock."""
    told = offered(SHIPS / f"{name}.wire")
    assert told["right again"] and told["cleared"] and not told["mends that fail"]


@pytest.mark.slow
def test_a_call_that_goes_around_a_kit_goes_through_it() -> None:
    """The call comes in by its in, and goes out by its out."""
    path = SHIPS / "dual-fuel" / "wrong-y-around-the-kit.wire"
    (first, *_) = check(path, effort=400).mends
    assert first.mistake.startswith(
        "At F, KO.yellow and KW.yellow are joined to nothing, and belong in series"
    )
    assert offered(path)["cleared"]


def test_advice_that_goes_with_one_of_two_mistakes_stands_under_that_one() -> None:
    """The odd color is that of a wire on the wrong screw, and nothing of hot and neutral that are swapped."""
    path = files.folder("boards") / "boiler-two-zones" / "right.wire"
    text = changed(
        path.read_text(encoding="utf-8"),
        ("E1.red -- E2.red -- B.T-1", "E1.red -- E2.red -- E2.white -- B.T-1"),
        ("E1.white -- E2.white -- B.T-2", "E1.white -- B.T-2"),
        ("PB.black -- B.L1", "PB.white -- B.L1"),
        ("PB.white -- B.N", "PB.black -- B.N"),
    )
    found = {one.rule: one for one in check(text, effort=400).findings}
    assert {rule: [each.rule for each in one.follows] for rule, one in found.items()} == {
        "call-continuity": ["conductor-color"],
        "reversed-polarity": [],
    }


@pytest.mark.parametrize(
    ("board", "mistake"),
    [
        (
            "water-chiller/wrong-coil-between-two-hots",
            "At E, C.A2 is joined with D.load-2 and C.L2, and belongs with AN.",
        ),
        (
            "rack-compressor/wrong-neutral-and-a-hot-exchanged",
            "At E, C.A2 is joined with B2 and C.L2, and belongs with BN.",
        ),
    ],
)
def test_a_coil_between_two_hots_gets_the_neutral_before_it_is_changed(board: str, mistake: str) -> None:
    path = files.folder("boards") / f"{board}.wire"
    report = check(path, effort=400)
    assert report.mends[0].mistake == mistake
