"""The checklist: its numbers against handbook examples, its lines against the rules, its page to a parser."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rules.hands import STAIR, case, changed
from wirecheck import files
from wirecheck.judge.finding import STAGES
from wirecheck.report import checklist, checklist_html
from wirecheck.report.checklist import Line, Section

BOARDS = files.folder("boards")
RIGHT = sorted(BOARDS.glob("*/right.wire"))


def lines(text: str, stage: str = "final") -> dict[str, Line]:
    return {line.point: line for section in checklist.checklist(case(text), stage) for line in section.lines}


def named(path: Path) -> str:
    return str(path.relative_to(BOARDS))


def test_box_fill_is_that_of_the_worked_example() -> None:
    """Two 12/2 cables, clamps, a duplex receptacle: 4 + 1 + 1 + 2 at 2.25, 18.0 cu in (NEC 314.16(B))."""
    text = """\
board "Worked example"
panel LP 120/240 V, 10 kA available
breaker LP.3 20 A
box A device 18 cu in clamps
box B junction 21 cu in
cable W1 12/2 NM-B 20 ft from LP to A
cable W2 12/2 NM-B 20 ft from A to B
R1 is duplex-receptacle 20 A in A
"""
    assert lines(text)["Box A, device"] == Line("Box A, device", "fill 18 cu in", "at most 18 cu in")
    tight = changed(text, ("18 cu in clamps", "17.9 cu in clamps"))
    assert lines(tight)["Box A, device"].wrong


def test_the_lengths_are_those_of_the_code() -> None:
    """NEC 300.14: 6 in; 314.17(B)(2): 1/4 in of jacket, 8 in to a one-gang box; 334.30: 12 in, 4-1/2 ft."""
    told = lines(STAIR)
    assert told["W1 in A"].here == "free 7 in, jacket ____ in, secured 8 in"
    assert told["W1 in A"].limit == "at least 6 in, 1/4 in; at most 8 in"
    assert told["W3 in B"].limit == "at least 6 in, 1/4 in; at most 12 in"
    assert told["W1, supports"] == Line("W1, supports", "every ____ in", "at most 54 in")


@pytest.mark.parametrize(
    ("old", "new", "point"),
    [
        ("box A device 20.3 cu in", "box A device 12 cu in", "Box A, device"),
        ("to A (free 7 in", "to A (free 4 in", "W1 in A"),
        ("(free 6 in, secured 10 in)", "(free 6 in, secured 14 in)", "W3 in B"),
        ("(free 6 in, secured 10 in)", "(free 6 in, every 60 in)", "W3, supports"),
        ("LP.3 15 A", "LP.3 20 A", "Breaker LP.3"),
        ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- S1.ground", "Grounds in A"),
        ("W3.bare -- pigtail -- S2", "W3.bare -- S2", "S2 in C, 3-way-switch"),
    ],
)
def test_what_a_rule_finds_is_marked_on_its_line(old: str, new: str, point: str) -> None:
    assert not lines(STAIR)[point].wrong
    assert lines(changed(STAIR, (old, new)))[point].wrong


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, marks=[pytest.mark.slow] * (at % 3 > 0), id=named(path))
        for at, path in enumerate(RIGHT)
    ],
)
def test_a_right_board_has_nothing_to_mend(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    sections = checklist.checklist(case(text))
    assert [section.stage for section in sections] == list(STAGES)
    assert not any(section.note for section in sections)
    assert [line for section in sections for line in section.lines if line.wrong] == []
    assert all(section.lines for section in sections)


def test_the_screws_are_told_with_their_wires() -> None:
    lamp = lines(STAIR)["L1 in B, lampholder"]
    assert lamp.here == "hot (brass) W3.black; neutral (silver) W3.white; ground (green) W3.bare"
    assert lamp.limit == "1 wire a screw"


def test_each_switch_row_is_read() -> None:
    told = lines(STAIR)
    assert told["S1 up, S2 down"] == Line("S1 up, S2 down", "L1 -", "off: 0 V")
    assert told["S1 up, S2 up"].here == "L1 on 120 V"


def test_the_drop_is_ohms_law() -> None:
    """0.5 A through 2 x 49 ft of 14 AWG at 30 C: Table 8 gives 3.07 ohm/kft at 75 C, a = 0.00323."""
    ohms = 2 * 49 * 3.07e-3 * (1 + 0.00323 * (30 - 75))
    drop = lines(STAIR)["Drop to L1, the most"]
    volts = float(drop.here.partition(": ")[2].partition(" V")[0])
    assert volts == pytest.approx(0.5 * ohms, rel=0.02)
    assert drop.limit == "at most 3 %"


def test_what_a_ground_fault_device_takes() -> None:
    path = BOARDS / "gfci-circuit" / "right.wire"
    told = lines(path.read_text(encoding="utf-8"))
    assert told["G1, test button"].here == "takes G1, R2, R3"
    assert told["R3"].here == "hot-neutral 120 V, hot-ground 120 V, neutral-ground 0 V"


def test_power_is_not_put_on_a_hazard() -> None:
    live = changed(
        STAIR, ("W3.black -- L1.hot", "W3.bare -- L1.hot"), ("W3.bare -- L1.ground", "W3.black -- L1.ground")
    )
    last = checklist.checklist(case(live))[-1]
    assert last.lines == ()
    assert last.note.startswith("Do not put power on")


@pytest.mark.parametrize(("stage", "count"), [("rough-in", 1), ("trim", 2), ("final", 3)])
def test_the_list_goes_as_far_as_the_stage(stage: str, count: int) -> None:
    assert len(checklist.checklist(case(STAIR), stage)) == count


def test_the_text_keeps_to_its_page() -> None:
    text = checklist.render("Stair", checklist.checklist(case(STAIR)))
    assert max(map(len, text.splitlines())) <= 88
    assert text.count("[ ]") == len(lines(STAIR))
    assert text.index("de-energize") < text.index("Rough-in")


class Page(HTMLParser):
    """What a page shows and what it is made of, read by the standard library."""

    VOID = ("meta", "br")

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[str] = []
        self.attributes: set[str] = set()
        self.words: list[str] = []
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes |= {name for name, _ in attrs}
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open[-1:] != ["style"]:
            self.words.append(data)


def page(title: str = "Stair") -> str:
    return checklist_html.render(title, "stair.wire", checklist.checklist(case(STAIR)))


def test_the_page_says_what_the_text_says() -> None:
    words = " ".join(Page(page()).words)
    for line in lines(STAIR).values():
        assert line.point in words
        assert line.here in words
        assert line.limit in words
    assert "de-energize" in words


def test_the_page_is_whole_in_itself() -> None:
    told = Page(page())
    assert not {"script", "link", "img", "iframe", "object"} & set(told.tags)
    assert told.attributes <= {"lang", "charset", "http-equiv", "name", "content", "class"}
    assert "url(" not in page() and "@import" not in page()


@given(st.text(max_size=60))
def test_no_name_becomes_markup(name: str) -> None:
    hostile = name + "</style><script>alert(1)</script>\"'&"
    section = Section("trim", hostile, (Line(hostile, hostile, hostile, True),))
    told = Page(checklist_html.render(hostile, hostile, [section]))
    assert "script" not in told.tags
    assert "".join(told.words).count("<script>alert(1)</script>") == 7


def test_the_print_is_as_large_as_the_sheet_allows() -> None:
    """The more lines, the smaller; never below what can be read."""
    sizes = []
    for count in (5, 40, 50, 60, 200):
        section = Section("trim", "", tuple(Line(f"P{n}", "here", "limit") for n in range(count)))
        sizes.append(
            float(checklist_html.render("", "", [section]).partition("--print: ")[2].partition("pt")[0])
        )
    assert sizes == sorted(sizes, reverse=True)
    assert (sizes[0], sizes[-1]) == (9.5, 6.0)


def test_a_metal_box_is_bonded_or_it_is_marked() -> None:
    metal = changed(STAIR, ("box A device 20.3 cu in", "box A device 20.3 cu in metal"))
    assert lines(metal)["Metal box A"] == Line("Metal box A", "not bonded", "tail to its screw", True)
    joined = "W1.bare -- W2.bare -- pigtail -- S1.ground"
    bonded = changed(metal, (joined, f"{joined} -- pigtail -- A.ground"))
    assert lines(bonded)["Metal box A"] == Line("Metal box A", "bonded", "tail to its screw")


def test_a_mistake_on_a_device_marks_its_line_and_no_other() -> None:
    """The wire on a screw of S1 is crowded: S1's line is marked, and not that of S2 or L1."""
    crowded = lines(
        changed(STAIR, ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- W2.bare -- S1.ground"))
    )
    marked = [point for point, line in crowded.items() if line.wrong]
    assert marked == ["S1 in A, 3-way-switch"]


def test_how_a_wire_is_under_its_screw() -> None:
    text = changed(
        STAIR,
        ("  W1.black -- S1.common\n", "  W1.black -- S1.common, push-in\n"),
        ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- W2.bare -- pigtail 14 -- S1.ground"),
    )
    here = lines(text)["S1 in A, 3-way-switch"].here
    assert here.startswith("common (black) W1.black, pushed in; ") and here.endswith(
        "ground (green) 14 AWG tail"
    )
