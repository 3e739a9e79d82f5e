"""Of several mends that do, those that a teacher would tell: the plainest, once each, none of them odd."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import case
from wirecheck import check, files
from wirecheck.language.reader import read
from wirecheck.mend.edits import Exchange, Move
from wirecheck.mend.plainer import plainer
from wirecheck.mend.sheet import sheet

BOARDS = Path(__file__).parent / "boards"
SHIPS = files.folder("boards")

# What is told on boards by fresh hands: on each something else was told besides, or first.
TOLD = [
    (
        "call-past-the-pressure-switch",
        ("X2.red is on HPS.b and LPS.a, and belongs on HPS.a", "jumper to LPS.a"),
    ),
    (
        "pressure-switch-left-out",
        ("LPS.a and LPS.b are joined to nothing, and belong in series with K.coil-a",),
    ),
    ("run-and-start-swapped", ("At CP, CR and CS are swapped",)),
    ("feed-behind-the-pressure-switch", ("the jumper to LPC.a is on HPC.b, and belongs on HPC.a",)),
    ("overload-contact-passed", ("the jumper to KM.A2 is on OL.96, and belongs on OL.95",)),
    ("condenser-common-on-r", ("CW.white is on F.R, and belongs on F.C",)),
    ("cable-on-the-line-screws", ("belong on G1.load-hot and G1.load-neutral", "no ground-fault protection")),
    ("hot-past-the-dual-function", ("W2.black is on DF.line-hot with W1.black, and belongs on DF.load-hot",)),
    ("breaker-too-large-for-the-feeder", ("should be 30 A", "should be 6 AWG")),
    ("w2-and-o-swapped", ("At HP, TO.white and TO.green are swapped",)),
    ("ground-loose-at-the-switch", ("C.bare is joined to nothing, and belongs on PS.ground with B.bare",)),
    ("neutral-out-of-the-splice", ("belongs with M2.white and XF.primary-neutral",)),
    ("humidifier-on-r", ("HW.white is on F.R, and belongs on F.W",)),
    ("heater-past-its-limit", ("HC.black is with E1.red, and belongs on HS.b",)),
]


@pytest.mark.slow
@pytest.mark.parametrize(("name", "words"), TOLD, ids=[name for name, _ in TOLD])
def test_what_is_told_is_what_a_teacher_would_say(name: str, words: tuple[str, ...]) -> None:
    told = [one.mistake for one in check(BOARDS / f"{name}.wire", effort=400).mends]
    assert len(told) == len(words)
    assert all(word in one for word, one in zip(words, told, strict=True)), told


@pytest.mark.slow
def test_the_coil_of_a_start_relay_is_not_fed_from_the_line_side() -> None:
    """By way of it the windings would be live with no call."""
    told = [one.mistake for one in check(BOARDS / "relay-coil-on-the-run-side.wire", effort=4000).mends]
    assert [one.split("belongs ")[1] for one in told] == ["with CC and MA."]


@pytest.mark.slow
def test_no_control_comes_between_two_calls() -> None:
    """A float switch from Y to G would run the condenser with the fan, until there is water."""
    mends = check(BOARDS / "float-across-the-call.wire", effort=4000).mends
    assert not any("F.G" in one.mistake for one in mends)


@pytest.mark.slow
def test_a_cap_comes_off_before_its_wire_is_spliced() -> None:
    (only,) = check(BOARDS / "neutral-of-the-other-circuit.wire", effort=400).mends
    assert only.remedy == "Take the cap off Q1.white. Take Q2.white out, and splice it with Q1.white."


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "never"),
    [
        # The element would glow with no call, and its limit open what is live for good.
        ("element-on-the-feed", "belong in series with H2.a"),
        # The compressor would take its current through the thermostat.
        ("fan-ahead-of-the-contactor", "K.line-1 is joined with"),
        # A ground fault goes past a control in the common.
        ("float-joined-to-itself", "OW.white and FW.red are swapped"),
    ],
)
def test_what_is_silent_and_hurts_is_not_told(name: str, never: str) -> None:
    told = [one.mistake for one in check(BOARDS / f"{name}.wire", effort=400).mends]
    assert not any(never in one for one in told)


def test_a_strap_is_named_where_it_is() -> None:
    """Other screws are on the same neutral, and the first of all was named."""
    (only,) = check(BOARDS / "strap-left-in-the-dryer.wire", effort=0).findings
    assert only.subject == "DY.neutral"


TWO_BOXES = """board "Two boxes"
panel LP 120 V
breaker LP.1 15 A
box A device 34 cu in
box B device 34 cu in
cable W1 14/2 NM-B 20 ft from LP to A
cable W2 14/3 NM-B 10 ft from A to B
L1 is lampholder 60 W in B
L2 is lampholder 60 W in B
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
at A
  W1.black -- W2.black
  W1.white -- W2.white
  cap W2.red
at B
  W2.black -- L1.hot
  W2.red -- L2.hot
  W2.white -- L1.neutral
"""


def test_wires_are_exchanged_where_each_has_a_screw_and_not_in_splices() -> None:
    spliced = TWO_BOXES.replace("W1.black -- W2.black", "W1.black -- W2.black -- W2.red").replace(
        "  cap W2.red\n", ""
    )
    for text, edit, other in (
        (spliced, Exchange("A", "W2.black", "W2.red"), Exchange("B", "W2.black", "W2.red")),
        (TWO_BOXES, Exchange("A", "W2.black", "W2.red"), None),
        (spliced, Exchange("B", "W2.black", "W2.red"), None),
        (spliced, Exchange("A", "W1.black", "W2.red"), None),
    ):
        assert plainer(edit, sheet(read(text)), case(text).board) == other


def test_a_wire_goes_where_another_is_before_both_have_a_tail() -> None:
    tail = Move("B", "W2.red", "L1.hot", pigtail=True)
    told = sheet(read(TWO_BOXES)), case(TWO_BOXES).board
    assert plainer(tail, *told) == Move("B", "W2.red", "L1.hot")
    assert plainer(Move("B", "W2.red", "L1.hot"), *told) is None


DAMPER = """board "A control between two greens"
panel LP 120 V
F is gas-furnace
FA is fresh-air-control
TS is heat-cool-thermostat
cable AW 18/5 CL2 9 ft from F to FA
cable IW 18/5 CL2 9 ft from FA to TS
at FA
  AW.green -- FA.G-in
  IW.green -- FA.G-out
"""


def test_two_wires_on_two_screws_of_a_device_are_exchanged_and_not_put_on_one() -> None:
    told = sheet(read(DAMPER)), case(DAMPER).board
    for to in ("IW.green", "FA.G-out"):
        assert plainer(Move("FA", "AW.green", to), *told) == Exchange("FA", "AW.green", "IW.green")
    # What is on an empty screw, or shares its own, goes alone.
    assert plainer(Move("FA", "AW.green", "FA.C"), *told) is None
    shared = DAMPER.replace("-- FA.G-in", "-- AW.blue -- FA.G-in")
    assert plainer(Move("FA", "AW.green", "IW.green"), sheet(read(shared)), case(shared).board) is None


PAIR = """board "Two units of a pair"
panel LP 120/240 V
O is ductless-outdoor with mca 8.4 A, mocp 15 A
I is ductless-indoor
cable LW 14/4 TC-ER 22 ft from O to I
at O
  LW.black -- O.3
  LW.white marked blue -- O.2
  LW.red -- O.1
at I
  LW.black -- I.1
  LW.white marked blue -- I.2
  LW.red -- I.3
"""


def test_two_wires_are_exchanged_where_they_lie_against_the_order_of_their_cable() -> None:
    told = sheet(read(PAIR)), case(PAIR).board
    assert plainer(Exchange("I", "LW.black", "LW.red"), *told) == Exchange("O", "LW.black", "LW.red")
    assert plainer(Exchange("O", "LW.black", "LW.red"), *told) is None
    # White lies before red.
    inside = PAIR.replace("LW.white marked blue -- I.2", "LW.red -- I.2").replace(
        "LW.red -- I.3", "LW.white -- I.3"
    )
    outside = inside.replace("LW.black -- O.3", "LW.red -- O.3").replace("LW.red -- O.1", "LW.black -- O.1")
    told = sheet(read(outside)), case(outside).board
    assert plainer(Exchange("I", "LW.red", "LW.white"), *told) is None
    assert plainer(Exchange("O", "LW.red", "LW.white"), *told) == Exchange("I", "LW.red", "LW.white")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("condenser-fan-cycling/wrong-both-on-the-line-side", "COMP.a and FC.a are on K.line-1"),
        ("condenser-fan-cycling/wrong-fan-fed-ahead-of-the-contact", "the jumper to FC.a is on K.line-1"),
        ("dehumidifier/wrong-in-and-out-swapped", "GW.green and IW.green are swapped"),
        ("fresh-air-damper/wrong-in-and-out-swapped", "AW.green and IW.green are swapped"),
        ("ductless-pair/wrong-1-and-3-swapped-outdoors", "At O, LW.black and LW.red are swapped"),
        ("ductless-pair/wrong-2-and-3-swapped-inside", "At I, LW.red and LW.white are swapped"),
    ],
)
def test_one_mend_is_told_of_what_is_on_the_wrong_screws(name: str, said: str) -> None:
    (only,) = check(SHIPS / f"{name}.wire", effort=4000).mends
    assert said in only.mistake


def test_a_mark_that_does_by_itself_is_told_without_a_swap_of_two_hots() -> None:
    text = (SHIPS / "cooling-call" / "right.wire").read_text(encoding="utf-8")
    (found,) = check(text.replace("PC.white marked red", "PC.white"), effort=400).findings
    assert [(found.rule, len(found.mends))] == [("conductor-color", 1)]
    assert found.mends[0].remedy.startswith("Mark it")
