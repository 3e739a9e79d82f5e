"""What is told is what the hand did: the wire that is wrong goes back, and what stands right stays."""

from __future__ import annotations

import pytest

from tests.mend.proof import EFFORT, worse
from tests.rules.hands import LIGHT, changed
from wirecheck import check, files
from wirecheck.assembly import assemble
from wirecheck.mend.crossed import crossed, doubled, uncrossed
from wirecheck.mend.edits import Exchange, Tail
from wirecheck.model.board import Board

SHIPS = files.folder("boards")

# The one mend that is told of each board, by its mistake, and what of the board it changes.
TOLD = [
    # What is joined to itself is parted where it stands, and goes in no other wire's way.
    (
        "water-chiller/wrong-flow-switch-jumpered",
        "At E, FS.a and FS.b are joined with each other, as if nothing were between them: FS.b belongs "
        "with HP.a alone.",
        ("FS.a", "FS.b"),
    ),
    (
        "condenser-fan-cycling/wrong-high-pressure-jumpered",
        "At CB, HP.a and HP.b are joined with each other, as if nothing were between them: HP.b belongs "
        "with DB.in alone.",
        ("HP.a", "HP.b"),
    ),
    (
        "rules/safety-bypass/wrong",
        "At F, FW.red and FW.white are joined with each other, as if nothing were between them: FW.white "
        "belongs with TW.red alone.",
        ("FW.red@F", "FW.white@F"),
    ),
    (
        "economizer/wrong-jumper-for-the-outdoor-thermostat",
        "At P, OW.red and OW.white are joined with each other, as if nothing were between them: OW.white "
        "belongs with E.OA-2 alone.",
        ("OW.red@P", "OW.white@P", "E.OA-1", "E.OA-2"),
    ),
    # What is on the wrong side of a control moves, and the control stays.
    (
        "water-chiller/wrong-pump-behind-the-flow-switch",
        "At E, P1.hot is joined with FS.b and HP.a, and belongs with FS.a and TH.b.",
        ("P1.hot",),
    ),
    (
        "rack-compressor/wrong-thermostat-carries-the-coil",
        "At E, LPC.a is joined with TH.b and LLS.a, and belongs with TH.a and F1.load.",
        ("LPC.a",),
    ),
    (
        "furnace-on-a-sequencer/wrong-low-speed-past-the-relay",
        "At CP, the jumper to SQ.m1 is on FR.common, and belongs on FR.nc.",
        ("SQ.m1",),
    ),
    # What runs day and night is on R in place of a call, whatever its color says for that.
    (
        "two-units-one-thermostat/wrong-coil-on-red",
        "At P1, R1.red is on P1.R with TW.red, and belongs in a splice with TW.yellow and a pigtail to P1.Y.",
        ("R1.red@P1",),
    ),
    # Past several controls in series: behind the last of them, which nothing is on.
    (
        "water-chiller/wrong-past-both-pressure-switches",
        "At E, the jumper to C.A1 is on HP.a, and belongs on LP.b.",
        ("C.A1",),
    ),
    # A load that hangs elsewhere goes behind its own limit, which nothing is on, and the limit stays.
    (
        "furnace-on-a-sequencer/wrong-both-elements-behind-one-limit",
        "At CP, the jumper to H2.a is on LS1.b, and belongs on LS2.b.",
        ("H2.a",),
    ),
    # What lies idle has its place, and no screw stays bare.
    (
        "dehumidifier/wrong-fan-call-around-it",
        "At F, GW.green and IW.green are joined to nothing, and belong in series with TW.green: IW.green "
        "with TW.green, and GW.green on F.G.",
        ("GW.green@F", "IW.green@F", "TW.green@F"),
    ),
    (
        "fresh-air-damper/wrong-fan-call-around-it",
        "At F, AW.green and IW.green are joined to nothing, and belong in series with TW.green: IW.green "
        "with TW.green, and AW.green on F.G.",
        ("AW.green@F", "IW.green@F", "TW.green@F"),
    ),
    (
        "primary-secondary-boiler/wrong-system-circulator-left-off",
        "At B, C2.black is capped, and belongs on B.system-pump-hot.",
        ("C2.black@B",),
    ),
    (
        "water-chiller/wrong-a-line-left-off",
        "At E, C.T3 and COMP.T3 are joined to nothing, and belong together.",
        ("C.T3", "COMP.T3"),
    ),
    # Two are swapped at the end where they do not bear the names or numbers of their screws.
    ("aquastat-boiler/wrong-zc-and-zr-exchanged", "At SR, ZC and ZR are swapped.", ("ZC@SR", "ZR@SR")),
    ("rack-compressor/wrong-two-lines-exchanged", "At SP, A1 and A2 are swapped.", ("A1@SP", "A2@SP")),
    ("motor-starter/wrong-lines-exchanged", "At M, M1 and M2 are swapped.", ("M1@M", "M2@M")),
    (
        "reversing-starter/wrong-lines-not-exchanged",
        "At E, what is on R.T1 and what is on R.T3 are swapped.",
        ("R.T1", "R.T3"),
    ),
    (
        "reversing-starter/wrong-one-line-twice",
        "At E, R.L2 is joined with D.load-1, F.L1, R.L1 and C1, and belongs with D.load-2, F.L2 and OL.96.",
        ("R.L2",),
    ),
    # The wire that lies under the right screw stays on it.
    (
        "packaged-unit/wrong-r-to-c",
        "At P, TW.blue and P.C are joined with TW.red and P.R, and should not be.",
        ("TW.blue@P",),
    ),
    # The plain cause of two findings, and not what clears the one.
    (
        "workshop-outlets/wrong-saw-on-one-leg-and-neutral",
        "At TP, W1.white is on TP.neutral, and belongs on TP.6.b.",
        ("W1.white@TP", "W1.white@SAW"),
    ),
    # A jumper is told only where no wire is on the screw: else that would go with it.
    (
        "rules/call-stops/wrong",
        "At CP, EF.a is joined with W1.black, TM.feed and TT.common, and belongs with TM.cool alone.",
        ("EF.a",),
    ),
    (
        "bathroom/wrong-bare-as-neutral",
        "At SHOWER, W4.bare is on VF.neutral, where W4.white belongs, and W4.white is capped. "
        "A jumper goes from there to VF.ground.",
        ("W4.white@SHOWER", "W4.bare@SHOWER", "VF.neutral", "VF.ground"),
    ),
    # What is on the wall stays, and a label says what it says.
    (
        "rules/mixed-metals/wrong",
        "At A, the splice of W1.black lacks a connector for aluminum with copper.",
        ("W1.black@A",),
    ),
    ("dryer-outlet/wrong-washer-receptacle-of-15-amperes", "WR is 15 A, and should be 20 A.", ("WR",)),
    ("bath-lights/wrong-cable-for-less-heat", "Cable W3 is UF-B, and should be NM-B.", ("W3",)),
]


@pytest.mark.parametrize(("board", "mistake", "at"), TOLD, ids=[board for board, _, _ in TOLD])
def test_the_one_mend_is_what_was_done(board: str, mistake: str, at: tuple[str, ...]) -> None:
    report = check(SHIPS / f"{board}.wire", effort=EFFORT)
    assert [(one.mistake, one.at) for one in report.mends] == [(mistake, at)]
    assert not worse(check(report.mended(1)))


def test_two_hots_are_not_spliced_past_a_switch_that_waits_for_them() -> None:
    """And the grounds, which the board is about, are told."""
    mends = check(SHIPS / "rules/open-splice/wrong.wire", effort=EFFORT).mends
    assert [one.mistake for one in mends] == [
        "At A, W1.bare and W2.bare are joined to nothing, and belong together."
    ]


# The switch of a light, with the feed and the wire to the light loose beside it.
SWITCH = changed(LIGHT, ("  W1.black -- S1.line\n  W2.black -- S1.load\n", "")) + "expect L1 from S1\n"


def test_two_loose_hots_go_on_the_switch_between_them() -> None:
    (only,) = check(SWITCH, effort=EFFORT).mends
    assert only.remedy == "Put W1.black on S1.line and W2.black on S1.load."


def test_a_white_that_goes_to_a_hot_is_marked_at_both_ends() -> None:
    (only,) = check(SHIPS / "workshop-outlets/wrong-saw-on-one-leg-and-neutral.wire", effort=EFFORT).mends
    assert only.remedy == "Take it out, and put it on TP.6.b, and mark it black at TP and SAW."


def board_of(name: str) -> Board:
    return assemble((SHIPS / f"{name}.wire").read_text("utf-8"))[1]


def test_lines_go_by_the_order_of_their_screws() -> None:
    """On a right board none crosses and none is double; what reverses crosses the first and the last."""
    right = board_of("rack-compressor/right")
    assert not [*crossed(right), *doubled(right)]
    swaps = [one.edit for one in crossed(board_of("rack-compressor/wrong-two-lines-exchanged"))]
    assert swaps == [Exchange("SP", "A1", "A2"), Exchange("D", "A1", "A2")]
    wrong = board_of("reversing-starter/wrong-one-line-twice")
    tails = [one.edit for one in doubled(wrong)]
    assert Tail("E", "D.load-2", "R.L2", leaves="R.L1", lead=True) in tails
    (swap,) = uncrossed(wrong.devices["R"], wrong)
    assert swap.edit == Exchange("E", "R.T1", "R.T3")
    # A motor has lines, and none of them is a load.
    assert not list(uncrossed(wrong.devices["M"], wrong))


@pytest.mark.parametrize(
    ("name", "head", "crowded"),
    [
        ("packaged-unit/wrong-r-to-c", "short-circuit", 1),
        # Where a wire too many is all there is, it is the mistake.
        ("rules/terminal-crowding/wrong", "terminal-crowding", 0),
    ],
)
def test_what_a_wire_too_many_does_is_told_before_that_it_crowds_its_screw(
    name: str, head: str, crowded: int
) -> None:
    (finding,) = worse(check(SHIPS / f"{name}.wire", effort=400))
    assert finding.rule == head
    assert [one.rule for one in finding.follows].count("terminal-crowding") == crowded
