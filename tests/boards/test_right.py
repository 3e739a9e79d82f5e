"""Right boards in every form of the language that the shipped boards leave out, and single mistakes on them.

The boards lie in `right/`, each in order by the code and by common practice: panels of one voltage and of
three phases, metric tape and metric cable, wires in conduit, jumpers in a box, aluminum, controls of single
parts, a part of the board's own beside it, lines in any order. A right one is silent beyond advice. A
mistake is a few words exchanged; what it must raise, and on which line, was judged by hand.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from wirecheck import check
from wirecheck.cli._sources import Shelf
from wirecheck.inputs import part_name
from wirecheck.judge.finding import Finding

FOLDER = Path(__file__).parent / "right"
BOARDS = [path for path in sorted(FOLDER.glob("*.wire")) if part_name(path.read_bytes()) is None]

Edits = tuple[tuple[str, str], ...]


def worse(path: Path, text: bytes) -> list[Finding]:
    """The findings worse than advice, with the parts that lie beside the board."""
    report = check(text, file=path.name, library=Shelf().beside(str(path)))
    return [finding for finding in report.findings if finding.severity != "advice"]


@pytest.mark.parametrize("path", BOARDS, ids=lambda path: path.stem)
def test_right_work_is_told_nothing_worse_than_advice(path: Path) -> None:
    assert worse(path, path.read_bytes()) == []


# The board, what is exchanged in it, and each rule with the beginning of the line that it points at.
MISTAKES: list[tuple[str, Edits, set[tuple[str, str]]]] = [
    (
        "single-voltage-panel",
        (("free 18 cm", "free 10 cm"),),
        {("free-conductor", "cable C1")},
    ),
    ("single-voltage-panel", (("secured 20 cm", "secured 40 cm"),), {("cable-support", "cable C1")}),
    ("single-voltage-panel", (("every 1.2 m", "every 1.5 m"),), {("cable-support", "cable C1")}),
    ("single-voltage-panel", (("jacket 1 cm", "jacket 3 mm"),), {("free-conductor", "cable C1")}),
    ("single-voltage-panel", (("P1.1 15 A", "P1.1 20 A"),), {("overcurrent-protection", "breaker P1.1")}),
    ("single-voltage-panel", (("M device 18", "M device 8"),), {("box-fill", "box M")}),
    ("single-voltage-panel", ((" -- pigtail -- N.ground", ""),), {("open-ground", "box N")}),
    ("single-voltage-panel", (("afci", "leg b"),), {("syntax", "breaker P1.2")}),
    (
        "single-voltage-panel",
        (
            (
                "C1.black -- S.line\nC2.black -- S.load\nC1.white -- C2.white",
                "C1.white -- S.line\nC2.white -- S.load\nC1.black -- C2.black",
            ),
        ),
        {("switched-neutral", "C1.white -- S.line")},
    ),
    (
        "panel-240-only",
        (("W.white marked black -- H.b", "W.white -- H.b"),),
        {("conductor-color", "W.white -- H.b")},
    ),
    ("panel-240-only", (("  W.bare -- H.ground\n", ""),), {("open-ground", "H is")}),
    (
        "panel-240-only",
        (("3000 W 240 V", "1500 W 120 V"),),
        {("wrong-voltage", "H is")},
    ),
    (
        "jumper-in-one-box",
        (("U.black -- S1.load", "V.black -- S1.load"), ("V.black -- S2.load", "U.black -- S2.load")),
        {("switching", "V.black -- S1.load")},
    ),
    (
        "jumper-in-one-box",
        (("wire J1 14 THHN black", "wire J1 14 THHN green"),),
        {("conductor-color", "F.black -- J1 -- J2")},
    ),
    (
        "jumper-in-one-box",
        (("F.bare -- U.bare -- V.bare", "F.bare -- U.bare"),),
        {("open-ground", "cable V")},
    ),
    (
        "split-receptacle-room",
        (("R2 is duplex-receptacle 15 A", "R2 is duplex-receptacle 20 A"),),
        {("receptacle-rating", "R2 is")},
    ),
    (
        "split-receptacle-room",
        (("W3.black -- R2.hot", "W3.white -- R2.hot"), ("W3.white -- R2.neutral", "W3.black -- R2.neutral")),
        {("reversed-polarity", "W3.black -- R2.neutral")},
    ),
    ("downstream-gfci", (("W3 12/2", "W3 14/2"),), {("overcurrent-protection", "breaker LP.3")}),
    (
        "downstream-gfci",
        (("W2.white -- W3.white -- pigtail", "W2.white -- W3.white -- W3.bare -- pigtail"),),
        {("ground-as-neutral", "W2.white -- W3.white -- W3.bare")},
    ),
    ("ser-aluminum-range", (("6/3 SER", "8/3 SER"),), {("overcurrent-protection", "breaker LP.5")}),
    (
        "ser-aluminum-range",
        (("W.white -- RR.neutral", "W.bare -- RR.neutral"), ("W.bare -- RR.ground", "W.white -- RR.ground")),
        {("ground-as-neutral", "W.bare -- RR.neutral")},
    ),
    (
        "fused-control",
        (("C3.red -- HL.a\n  C4.red -- HL.b", "C3.red -- C4.red -- pigtail -- HL.a"),),
        {("safety-bypass", "C3.red -- C4.red -- pigtail -- HL.a")},
    ),
    (
        "fused-control",
        (("C2 18/2 CL2 30 ft", "C2 18/2 CL2 900 ft"),),
        {("coil-voltage", "cable C2")},
    ),
    (
        "fused-control",
        (("C4.white -- C5.white -- pigtail -- K.coil-b", "C4.white -- K.coil-b\n cap C5.white"),),
        {("call-continuity", "cap C5.white")},
    ),
    (
        "fused-control",
        (("  P.bare -- T.ground\n", ""),),
        {("open-ground", "T is")},
    ),
    (
        "two-systems",
        (("A1.yellow -- T1.Y\nA1.green -- T1.G", "A1.green -- T1.Y\nA1.yellow -- T1.G"),),
        {("call-crosstalk", "A1.yellow -- T1.G")},
    ),
    (
        "two-systems",
        (
            ("A1.white -- F1.W", "A1.yellow -- F1.W"),
            ("A1.yellow -- O1.red -- F1.Y", "A1.white -- O1.red -- F1.Y"),
        ),
        {("call-crosstalk", "A1.yellow -- F1.W")},
    ),
    (
        "two-systems",
        (("breaker LP.2 30 A", "breaker LP.2 40 A"),),
        {("overcurrent-protection", "breaker LP.2")},
    ),
    ("two-systems", (("cable Q1 10/2", "cable Q1 14/2"),), {("ampacity", "cable Q1")}),
    (
        "two-systems",
        (("Q1.white marked red -- LP.2.b", "Q1.white marked red -- LP.ground"),),
        {("wrong-voltage", "C1 is"), ("conductor-color", "Q1.white marked red -- LP.ground")},
    ),
    (
        "feeder-and-fuses",
        (("fuse 35 A", "fuse 50 A"),),
        {("overcurrent-protection", "D is")},
    ),
    (
        "emt-multiwire",
        (("AG -- BG -- pigtail", "AG -- pigtail"),),
        {("loose-conductor", "wire BG")},
    ),
    (
        "emt-multiwire",
        (("wire A2 12 THHN red 31 ft", "wire A2 12 THHN white 31 ft"),),
        {("conductor-color", "A2 -- LP.1.b")},
    ),
    (
        "switch-loop",
        (("SL.white marked black -- S.line", "SL.white -- S.line"),),
        {("conductor-color", "SL.white -- S.line")},
    ),
    (
        "own-part",
        (("W2.black -- H.black", "W2.white -- H.black"), ("W2.white -- H.white", "W2.black -- H.white")),
        {("reversed-polarity", "W2.black -- H.white")},
    ),
]


@pytest.mark.parametrize(("name", "edits", "expected"), MISTAKES)
def test_a_mistake_is_told_once_on_its_line(name: str, edits: Edits, expected: set[tuple[str, str]]) -> None:
    path = FOLDER / f"{name}.wire"
    text = path.read_text(encoding="utf-8")
    for before, after in edits:
        assert before in text
        text = text.replace(before, after, 1)
    found = worse(path, text.encode())
    lines = [line.strip() for line in text.splitlines()]
    assert len(found) == len(expected)
    for finding in found:
        line = lines[finding.span.line - 1]
        assert any(rule == finding.rule and line.startswith(begins) for rule, begins in expected), finding


def test_a_raceway_of_no_known_size_is_said_to_be_left_unchecked() -> None:
    text = (
        (FOLDER / "emt-multiwire.wire").read_text(encoding="utf-8").replace("R1 EMT 1/2 in", "R1 EMT 16 mm")
    )
    (told,) = [one for one in check(text).findings if one.rule == "raceway-fill"]
    assert (told.severity, told.subject, told.value) == ("advice", "R1", None)


def test_a_screw_with_wires_that_do_not_belong_together_is_not_told_to_be_spliced() -> None:
    text = (FOLDER / "panel-240-only.wire").read_text(encoding="utf-8")
    text = text.replace("W.bare -- B.ground", "W.bare -- B.2.a")
    (told,) = [one for one in check(text).findings if one.rule == "terminal-crowding"]
    assert told.help is not None and "do not belong together" in told.help and "pigtail" not in told.help


def test_a_white_on_the_bar_beside_a_breaker_of_its_own_neutral_is_a_fault() -> None:
    right = (FOLDER / "split-receptacle-room.wire").read_text(encoding="utf-8")
    wrong = right.replace("W1.white -- LP.8.neutral", "W1.white -- LP.neutral")
    (told,) = [one for one in check(wrong).findings if one.rule == "breaker-neutral"]
    assert told.severity == "fault" and told.help is not None and "LP.8.neutral" in told.help


def test_devices_that_come_with_the_trim_are_not_missed_in_the_rough_in() -> None:
    text = (FOLDER / "switch-loop.wire").read_text(encoding="utf-8")
    bare = "\n".join(line for line in text.splitlines() if " is " not in line)
    assert [one for one in check(bare, stage="rough-in").findings if one.severity != "advice"] == []
    assert {one.rule for one in check(bare, stage="trim").findings} >= {"unknown-name"}
    wrong = bare.replace("P.white -- B1.neutral", "P.whte -- B1.neutral")
    assert [one.rule for one in check(wrong, stage="rough-in").findings if one.severity != "advice"] == [
        "unknown-name"
    ]
