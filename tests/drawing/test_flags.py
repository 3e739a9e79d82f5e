"""The flag of a finding stands on what the finding is about."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

import wirecheck
from tests.drawing import geometry
from tests.drawing.test_wiring import BOARDS, about, of_text
from tests.samples import shipped
from wirecheck import files
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.drawing.flags import flags
from wirecheck.drawing.picture import draw, sheet
from wirecheck.drawing.rooms import rooms_of
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Mend
from wirecheck.language.syntax import Span
from wirecheck.model.board import Board
from wirecheck.report.formats.text import render

BOARD = of_text(
    """board "Flags"
panel LP 120/240 V
breaker LP.1 20 A 2-pole
breaker LP.2 15 A
box A device metal
box B octagon
raceway R1 EMT 1/2 in 9 ft from LP to A
wire H1 14 THHN black 9 ft from LP to A in R1
wire H2 14 THHN white 9 ft from LP to A in R1
cable W1 14/2 NM-B 9 ft from LP to A
cable W2 14/3 NM-B 9 ft from A to B
S1 is single-pole-switch in A
F is gas-furnace
D1 is duplex-receptacle in B
at LP
  W1.black -- LP.2
at A
  W1.black -- W2.black -- S1.line
  cap W2.red
at B
  W2.black -- D1.hot
"""
)
CIRCUIT: Circuit = circuit(BOARD)


def spot(finding: Finding, board: Board = BOARD) -> str:
    """The one thing that the flag of a finding stands on."""
    (found,) = flags(board, rooms_of(board), [finding]).at
    return found


DEVICES = CIRCUIT.devices
JOINS = {join.place: join for join in reversed(BOARD.joins)}


@pytest.mark.parametrize(
    ("thing", "on"),
    [
        (BOARD.terminals["S1.line"], "S1.line"),
        (BOARD.terminals["A.ground"], "A.ground"),
        (BOARD.terminals["LP.1.a"], "LP.1.a"),
        (BOARD.terminals["LP.2"], "LP.2"),
        (BOARD.devices["S1"], "S1"),
        (DEVICES["F.limit"], "F"),
        (BOARD.breakers["LP.1"], "LP.1"),
        (BOARD.boxes["B"], "B"),
        (BOARD.panels["LP"], "LP"),
        (BOARD.runs["W2"], "W2"),
        (BOARD.runs["H2"], "R1"),
        (BOARD.raceways["R1"], "R1"),
        (CIRCUIT.load["F.blower"], "F"),
        (CIRCUIT.outlets[0], "D1"),
        (CIRCUIT.windings[0], "F"),
        (CIRCUIT.legs[1], "LP"),
        (next(one for one in CIRCUIT.protections if one.device == "LP.2"), "LP.2"),
        (next(one for one in CIRCUIT.protections if one.device == "F.fuse"), "F"),
        (CIRCUIT.variables["F.limit"], "F"),
        (CIRCUIT.variables["LP.1"], "LP.1"),
        (CIRCUIT.point["W2.red@B"], "W2.red@B"),
        (CIRCUIT.point["S1.load"], "S1.load"),
        (CIRCUIT.point["F.limit.a"], "F"),
        (CIRCUIT.point["LP.leg-a"], "LP"),
        (None, ""),
    ],
    ids=lambda one: one if isinstance(one, str) else type(one).__name__,
)
def test_a_flag_stands_on_what_is_drawn_of_the_thing(thing: object, on: str) -> None:
    assert spot(about(thing)) == on


def test_a_wires_flag_stands_at_the_end_that_the_hand_would_change() -> None:
    black, red = BOARD.conductors["W2.black"], BOARD.conductors["W2.red"]
    assert spot(about(black, changed=JOINS["A"])) == "W2.black@A"
    assert spot(about(black, changed=JOINS["B"])) == "W2.black@B"
    assert spot(about(black, changed=BOARD.runs["W2"].ends[0])) == "W2.black@A"
    assert spot(about(black, changed=BOARD.runs["W2"].ends[1])) == "W2.black@B"
    # Where the hand changes something else: the end that is joined to nothing, or the first one.
    assert spot(about(red)) == "W2.red@B"
    assert spot(about(black)) == "W2.black@A"
    assert spot(about(BOARD.conductors["W1.white"])) == "W1.white@LP"


def test_a_finding_about_the_text_stands_where_its_line_joins_something() -> None:
    line = JOINS["B"].span.line
    found = Finding("unknown-name", "fault", "words", Span(line, 1, line, 9), "line")
    assert spot(found) == "W2.black@B"
    assert spot(found._replace(span=Span(1, 1, 1, 9))) == ""


def test_what_is_not_on_the_picture_has_its_flag_at_the_title() -> None:
    stray = of_text('board "Other"\npanel XP 120 V\nL1 is lampholder 60 W in A')
    assert spot(about(stray.panels["XP"]), BOARD) == ""


def placed(finding: Finding, board: Board = BOARD) -> tuple[list[str], list[str]]:
    """The spots of a finding's full flags, and those of its small ones, in order of their names."""
    found = [
        (flag.name, spot, flag.small)
        for spot, here in flags(board, rooms_of(board), [finding]).at.items()
        for flag in here
    ]
    assert len({name for name, _, _ in found}) == len(found)
    full, small = ([spot for _, spot, each in sorted(found) if each == which] for which in (False, True))
    return full, small


def mended(finding: Finding, *at: str, follows: tuple[Finding, ...] = ()) -> Finding:
    mend = Mend("mistake", "remedy", (), at=at)
    return finding._replace(mends=(mend, mend._replace(at=("LP.2",))), follows=follows)


LAMP, SWITCH = about(BOARD.devices["D1"]), about(BOARD.terminals["S1.line"])


def test_the_flag_of_a_mistake_stands_on_what_the_hand_would_change() -> None:
    assert placed(LAMP) == (["D1"], [])
    assert placed(mended(LAMP, "W1.black@A")) == (["W1.black@A"], ["D1"])
    # Of two that are swapped each has it, and nothing has it twice.
    assert placed(mended(LAMP, "W1.black@A", "W2.black@A", "W1.black@A")) == (
        ["W1.black@A", "W2.black@A"],
        ["D1"],
    )
    assert placed(mended(LAMP, "D1")) == (["D1"], [])
    assert placed(mended(LAMP, "H1")) == (["R1"], ["D1"])


def test_the_flag_of_a_jumper_that_should_go_stands_on_the_jumper() -> None:
    jumped = of_text(
        'board "Jumped"\npanel LP 120 V\nbreaker LP.2 15 A\nF is gas-furnace\n'
        "cable W1 14/2 NM-B 9 ft from LP to F\n"
        "at F\n  W1.black -- F.R\n  F.R -- F.W\n  F.R -- F.C\n"
    )
    there = about(jumped.devices["F"])
    assert placed(mended(there, "F.W", "F.R"), jumped) == (["jumper-F-1"], ["F"])
    assert placed(mended(there, "F.R", "F.C"), jumped) == (["jumper-F-2"], ["F"])
    assert placed(mended(there, "F.R", "F.Y"), jumped) == (["F.R", "F.Y"], ["F"])
    # With the wires that it lies between.
    assert placed(mended(there, "W1.black@F", "F.W", "F.R"), jumped)[0] == ["W1.black@F", "jumper-F-1"]
    # It is drawn: between the jumper's ends and on it.
    picture = geometry.read(draw(jumped, [mended(there, "F.W", "F.R"), mended(there, "F.R", "F.C")]))
    shapes = {shape.id: shape for shape in picture.shapes}
    for number in (1, 2):
        flag, jumper = shapes[f"finding-{number}"], shapes[f"jumper-F-{number}"]
        assert geometry.near(jumper.points, geometry.middle(flag), 6.7)


def test_one_number_has_one_color() -> None:
    hazard = about(BOARD.devices["D1"])._replace(severity="hazard")
    advice = about(BOARD.devices["S1"])._replace(severity="advice")
    picture = geometry.read(draw(BOARD, [mended(hazard, "LP.2", follows=(advice,))]))
    shapes = {shape.id: shape for shape in picture.shapes if not shape.text}
    assert shapes["suffers-1-2"].stroke == shapes["finding-1"].fill


def test_without_a_mend_the_flag_stands_on_what_the_findings_own_line_joins() -> None:
    """Not on the lamp or the panel that suffers: that has a small one."""
    cable = BOARD.runs["W2"]
    for thing, changed, cause, suffers in [
        (BOARD.devices["S1"], JOINS["A"], "S1.line", "S1"),
        (CIRCUIT.load["F.blower"], JOINS["B"], "W2.black@B", "F"),
        (CIRCUIT.legs[0], JOINS["LP"], "W1.black@LP", "LP"),
        (BOARD.terminals["D1.hot"], JOINS["B"], "D1.hot", ""),
        (CIRCUIT.outlets[0], BOARD.conductors["W2.red"], "W2.red@B", "D1"),
        (cable, cable.ends[1], "W2.black@B", "W2"),
        (BOARD.panels["LP"], BOARD.breakers["LP.2"], "LP", ""),
        # The disconnect that is too far off, the cable that is too thin.
        (BOARD.devices["D1"], BOARD.devices["S1"], "S1", "D1"),
        (CIRCUIT.load["F.blower"], BOARD.devices["F"], "F", ""),
        (BOARD.devices["D1"], BOARD.runs["W2"], "W2", "D1"),
    ]:
        assert placed(about(thing, changed=changed)) == ([cause], [suffers] if suffers else []), cause


def test_without_a_mend_the_flag_of_a_path_that_stops_stands_on_the_bare_screw_that_it_should_go_on_to() -> (
    None
):
    board = of_text(
        'board "Bare"\npanel LP 120 V, 10 kA available\nbreaker LP.2 15 A\nbox B device 20 cu in\n'
        "cable W1 14/2 NM-B 9 ft from LP to B\nD1 is duplex-receptacle in B\n"
        "at LP\n  W1.black -- LP.2\n  W1.white -- LP.neutral\n  W1.bare -- LP.ground\n"
        "at B\n  W1.black -- D1.hot\n  W1.bare -- D1.ground\n  cap W1.white\nexpect D1 live\n"
    )
    (dead,) = (one for one in findings(Case(board)) if one.rule == "dead-outlet")
    assert placed(dead, board) == (["D1.neutral"], ["D1"])
    assert placed(mended(dead, "W1.white@B"), board) == (["W1.white@B"], ["D1"])


def test_the_flag_of_a_motor_that_lacks_a_line_stands_on_the_lead_that_has_none() -> None:
    board = of_text(
        (files.folder("boards") / "water-chiller" / "wrong-a-line-left-off.wire").read_text("utf-8")
    )
    (lost,) = (one for one in findings(Case(board)) if one.rule == "phase-loss")
    assert placed(lost, board) == (["COMP.T3"], ["COMP"])


def test_what_is_wrong_at_one_end_of_a_cable_has_its_flag_at_that_end() -> None:
    run = BOARD.runs["W2"]
    for end, place in zip(run.ends, ("A", "B"), strict=True):
        assert placed(mended(about(run, changed=end), "W2")) == ([f"W2.black@{place}"], ["W2"])
    assert placed(mended(about(run), "W2")) == (["W2"], [])


def test_a_small_flag_stands_on_each_thing_that_suffers_from_it() -> None:
    follows = (SWITCH, LAMP, SWITCH, about(BOARD.terminals["LP.2"]))
    assert placed(mended(LAMP, "LP.2", follows=follows)) == (["LP.2"], ["D1", "S1.line"])
    # What follows from a finding without a mend suffers from it too.
    assert placed(LAMP._replace(follows=(SWITCH,))) == (["D1"], ["S1.line"])


def test_a_mistake_that_is_not_drawn_has_its_flag_on_what_the_finding_is_about() -> None:
    assert placed(mended(LAMP, "nowhere", follows=(about(None)._replace(span=Span(1, 1, 1, 9)),))) == (
        ["D1"],
        [],
    )
    assert placed(mended(about(None)._replace(span=Span(1, 1, 1, 9)), "LP.2")) == (["LP.2"], [])


SOMEWHERE = [*BOARD.terminals, *BOARD.runs, *BOARD.boxes, "W1.black@A", "W2.red@B", "nowhere", ""]
ABOUT = [about(thing) for thing in (*BOARD.terminals.values(), *BOARD.runs.values(), BOARD.panels["LP"])]


@given(
    st.lists(
        st.tuples(
            st.sampled_from([*ABOUT, about(None)]),
            st.lists(st.sampled_from(SOMEWHERE), max_size=4),
            st.lists(st.sampled_from([*ABOUT, about(None)]), max_size=4),
        ),
        max_size=5,
    )
)
def test_wherever_flags_stand_each_finding_has_one_and_no_spot_has_a_number_twice(
    told: list[tuple[Finding, list[str], list[Finding]]],
) -> None:
    found = [mended(finding, *at, follows=tuple(follows)) for finding, at, follows in told]
    there = flags(BOARD, rooms_of(BOARD), found).at
    full = {flag.number for here in there.values() for flag in here if not flag.small}
    assert full == set(range(1, len(found) + 1))
    for here in there.values():
        assert len({flag.number for flag in here}) == len(here)
    names = [flag.name for here in there.values() for flag in here]
    assert len(set(names)) == len(names)
    assert not any(flag.small for flag in there.get("", []))


@pytest.mark.slow
def test_every_finding_of_the_boards_that_ship_has_a_spot() -> None:
    """But for what is about the text, and for a thing that the board does not place."""
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case

    for path in sorted(files.folder("boards").glob("*/*.wire")):
        board = of_text(path.read_text("utf-8"))
        found = [each for each in findings(Case(board)) if each.problem and each.problem.about]
        assert "" not in flags(board, rooms_of(board), found).at, path


def test_low_voltage_beside_power_is_flagged_where_they_are_together() -> None:
    """The words of the cable may stand at its far end."""
    board = shipped("condenser-fan-cycling")
    (found,) = (one for one in findings(Case(board)) if one.rule == "class-2-separation")
    (spot,), (cable,) = placed(found, board)
    assert (spot.partition("@")[2], cable) == ("CB", "OW")


def test_two_wires_that_belong_together_have_a_flag_each_and_it_covers_neither_end() -> None:
    path = files.folder("boards") / "hall-fed-at-light" / "wrong-return-not-spliced.wire"
    picture = geometry.read(wirecheck.draw(path, effort=400).svg)
    marks = {shape.id: shape.box for shape in picture.shapes if shape.classes & {"flag", "loose"}}
    ends = [marks[f"loose-{wire}@DOOR"] for wire in ("W3.black", "W4.black")]
    flagged = [marks["finding-1"], marks["finding-1-2"]]
    for end in ends:
        near = [flag for flag in flagged if max(flag[0] - end[2], end[0] - flag[2]) < 6]
        assert any(abs(flag[1] + flag[3] - end[1] - end[3]) < 4 for flag in near), (end, flagged)
        assert not any(geometry.overlap(flag, end) for flag in flagged), (end, flagged)


def test_the_list_names_the_line_that_the_report_shows() -> None:
    """It shows at one line, and the hand changes another: both speak of that one."""
    path = files.folder("boards") / "air-compressor" / "wrong-green-left-off.wire"
    report = wirecheck.check(path, effort=400)
    (found,) = (one for one in report.findings if one.severity != "advice")
    assert found.to_change.line != found.line
    (listed,) = re.findall(r"\(violation\), line (\d+)", wirecheck.draw(path, effort=400).svg)
    assert int(listed) == found.to_change.line
    assert f"line {listed} | " in render([report], {})


@pytest.mark.slow
def test_the_flag_of_a_bond_is_on_its_strap() -> None:
    board = next(path for path in BOARDS if path.stem == "wrong-bond-left-in")
    text = board.read_text("utf-8")
    drawn = sheet(of_text(text), wirecheck.check(text, effort=400).findings)
    (strap,) = (line for line in drawn.lines if line.id == "bond-GP")
    (flag,) = (mark for mark in drawn.marks if mark.id == "finding-1")
    (left, y), (right, _) = strap.pieces[0]
    assert flag.x == pytest.approx((left + right) / 2)
    assert 0 < y - flag.y < 12


@pytest.mark.parametrize(
    ("name", "end"),
    [
        ("condensing-furnace", "TW.white@F"),
        ("economizer", "TW.brown@P"),
        ("heat-cool-hookup", "TW.green@F"),
    ],
)
def test_a_flag_leads_no_end_across_the_wire_beside_it(name: str, end: str) -> None:
    """Its wire would have to be longer by the flag; so the cap stands before it, and that at the end."""
    wrong = {"condensing-furnace": "white", "economizer": "y2", "heat-cool-hookup": "g"}[name]
    board = of_text((files.folder("boards") / name / f"wrong-{wrong}-left-off.wire").read_text("utf-8"))
    drawn = sheet(board, [about(board.conductors[end.partition("@")[0]], "fault", changed=None)])
    flag = next(mark for mark in drawn.marks if mark.id == "finding-1")
    caps = {mark.id: mark for mark in drawn.marks if mark.kind in ("cap", "loose")}
    cap = caps.get(f"cap-{end}") or caps[f"loose-{end}"]
    assert abs(flag.x - cap.x) >= (flag.width + cap.width) / 2
    (own,) = (line for line in drawn.lines if line.id == f"conductor-{end.partition('@')[0]}")
    path = own.pieces[0] if abs(own.pieces[0][0][0] - flag.x) < 0.01 else own.pieces[0][::-1]
    (x, y), (start, _) = path[:2]
    assert (x, round(flag.y - y, 1)) == (pytest.approx(flag.x), -0.9)
    for wire in drawn.lines:
        if wire.kind.startswith(("conductor ", "pigtail ", "jumper ")) and wire is not own:
            for (x0, y0), (x1, y1) in pairwise(wire.pieces[0]):
                upright = abs(x0 - x1) < 0.01 and min(y0, y1) < y < max(y0, y1)
                crossed = upright and min(start, x) - 1 < x0 < max(start, x) + flag.width / 2 + 1
                assert not crossed, (wire.id, x0)


def test_where_no_mend_is_known_the_rule_s_own_word_stands_in_the_list() -> None:
    path = files.folder("boards") / "reversing-starter" / "wrong-interlocks-left-out.wire"
    picture = geometry.read(wirecheck.draw(path, effort=400).svg)
    told = " ".join(text.text for text in picture.texts if text.id.startswith("listed-1-line"))
    assert "F.21 to F.22 and R.21 to R.22, belongs before the coil of the other contactor" in told


def test_where_a_mend_is_known_the_rule_s_own_word_does_not_speak_against_it() -> None:
    path = files.folder("boards") / "motor-starter" / "wrong-coil-of-another-voltage.wire"
    picture = geometry.read(wirecheck.draw(path, effort=400).svg)
    assert not any("Feed it" in text.text for text in picture.texts)
