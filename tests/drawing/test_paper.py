"""Drawings on sheets of paper: readable, nothing lost, and the same letters where two sheets join."""

from __future__ import annotations

import re
from collections import Counter
from itertools import combinations, pairwise, product
from pathlib import Path

import pytest

import wirecheck
from tests.drawing import geometry
from wirecheck import files
from wirecheck.circuit.meter import INDUCED
from wirecheck.drawing.area import LEAST_ON_PAPER, SCREEN, Area
from wirecheck.drawing.boxes import frame_box, line_box, mark_box
from wirecheck.drawing.colors import INSULATION
from wirecheck.drawing.cuts import (
    CLEAR,
    HEADS,
    NEAR,
    SHEATHS,
    TIGHT,
    Cut,
    cut_for,
    devices_cut,
    laid_out,
    smallest,
)
from wirecheck.drawing.foot import KINDS as KEYS
from wirecheck.drawing.foot import RUNNING
from wirecheck.drawing.joins import ROUND, Join, joins, rows_again
from wirecheck.drawing.opened import leaves
from wirecheck.drawing.paper import on_paper
from wirecheck.drawing.picture import KINDS, sheet
from wirecheck.drawing.render import SIZES, to_pdf, to_svg
from wirecheck.drawing.sheet import Line, Sheet, Words, dot_source
from wirecheck.drawing.strips import pulled
from wirecheck.drawing.ticks import TICKS
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.model.colors import COLORS
from wirecheck.picture import Picture

FOLDER = files.folder("boards")
SAMPLE = ["stair-light/right.wire", "two-stage-furnace/right.wire"]
THREE = (
    "reversing-starter/",
    "motor-control-transformer/",
    "motor-starter/",
    "two-transformers/",
    "condensate-pump/",
    "two-speed-blower/",
    "two-units-one-thermostat/",
    "dual-fuel/right.wire ladder",
    "dual-fuel/wrong-w2-straight-to-the-furnace.wire ladder",
    *(
        f"dual-fuel/{name}.wire wiring"
        for name in (
            "right",
            "wrong-common-of-the-kit-left-off",
            "wrong-w2-straight-to-the-furnace",
            "wrong-y-out-and-w-out-swapped",
            "wrong-y-around-the-kit",
        )
    ),
    "dual-fuel/wrong-common-of-the-kit-left-off.wire ladder",
    "timer-defrost/wrong-limit-jumpered.wire wiring",
)
"""What takes three sheets: a box of so many devices, with as long a ladder, that two rows are not enough;
rooms of which no layout on two sheets leaves each device whole; a kit between a furnace and a heat pump, that
is laid out side by side for a screen;
rungs that make two columns, 5 points higher than two sheets of Letter; rooms that two sheets are a hundredth
too narrow for, or of which they leave a device in two, once nothing is where a printer prints nothing; a
panel of which two sheets leave a breaker without its bus."""
ALL = sorted(str(path.relative_to(FOLDER)) for path in Path(str(FOLDER)).glob("*/*.wire"))
RIGHT = sorted(path.parent.name for path in Path(str(FOLDER)).glob("*/right.wire"))


def lies_on_paper(name: str, kind: str, page: str) -> int:
    """Hold a board's picture on paper to all that is asked of it; how many sheets it takes."""
    board = wirecheck.assemble((FOLDER / name).read_text("utf-8"))[1]
    drawn = sheet(board, findings(Case(board)) if kind == "wiring" else (), kind, page=page)
    cut = cut_for(drawn, page)
    papers = on_paper(drawn, page)
    assert len(papers) == cut.sheets and cut.clear in (CLEAR, TIGHT)
    told: Counter[str] = Counter()
    letters: dict[str, int] = Counter()
    told_keys = set[str]()
    for paper in papers:
        size = re.search(
            r'<svg width="([\d.]+)pt" height="([\d.]+)pt"\s+viewBox="0.00 0.00 ([\d.]+) ([\d.]+)"', paper
        )
        assert size is not None
        wide, high, inner_wide, inner_high = map(float, size.groups())
        assert sorted((wide, high)) == sorted(round(side, 2) for side in SIZES[page])
        scale = min(wide / inner_wide, high / inner_high)
        picture = geometry.read(paper)
        # The ground covers the paper, so that no band of it is left without.
        ground = next(shape for shape in picture.shapes if shape.id == "page")
        assert geometry.inside((2, 2, wide / scale - 2, high / scale - 2), ground.box, 1.0)
        # No line of a cut goes through the words of the head, which are written whole over it.
        heads = [text for text in picture.texts if text.id in HEADS or "caution" in text.classes]
        for cut_line, head in product(picture.of("cut"), heads):
            assert not geometry.overlap(cut_line.box, head.box), (cut_line.id, head.id)
        for text in picture.texts:
            assert scale * _size(paper, text.id) >= LEAST_ON_PAPER - 0.01, (text.id, text.text)
            # No words are where many a printer prints nothing.
            edge = cut.clear / scale - 0.1
            printed = (edge, edge, inner_wide - edge, inner_high - edge)
            assert geometry.inside(text.box, printed, 1.0), (text.id, text.text)
            if "join" in text.classes:
                letters[text.text] += 1
            elif {"key", "legend"} & set(text.classes):
                if "label" in text.classes:
                    told_keys.add(text.text)
            elif not {"sheet", "join-name", "join-color"} & set(text.classes):
                told[text.id] += 1
    # Every word of the drawing is on one sheet, whole, and each entry of the key at the foot of one; every
    # mark is on both sides of its cut.
    written = [mark for mark in drawn.marks if isinstance(mark, Words) and mark.text.strip()]
    assert told == Counter(mark.id for mark in written if mark.kind not in KEYS)
    entries = {mark.text for mark in written if mark.kind in KEYS and mark.kind != RUNNING}
    assert len(papers) == 1 or entries == told_keys
    assert set(letters.values()) <= {2}
    # A cut between two ladders goes through no wire.
    assert bool(letters) == (cut.sheets > 1) or kind == "ladder"
    return cut.sheets


def _size(svg: str, name: str) -> float:
    found = re.search(rf'<g id="{re.escape(_escaped(name))}" .*?font-size="([\d.]+)"', svg, re.DOTALL)
    assert found is not None, name
    return float(found[1])


def _escaped(name: str) -> str:
    return name.replace("&", "&amp;").replace("'", "&#39;")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", SAMPLE)
def test_a_board_on_paper(name: str, kind: str) -> None:
    assert lies_on_paper(name, kind, "letter") <= 2


@pytest.mark.slow
@pytest.mark.parametrize("page", SIZES)
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ALL)
def test_every_board_on_paper(name: str, kind: str, page: str) -> None:
    assert lies_on_paper(name, kind, page) <= (3 if f"{name} {kind}".startswith(THREE) else 2)


def test_each_color_of_the_language_is_painted() -> None:
    assert INSULATION.keys() == set(COLORS)


def test_colors_of_one_gray_have_strokes_of_their_own() -> None:
    """Printed in gray, two insulations differ by their strokes, or by 1.6 to 1 at least."""
    for (one, paint), (other, second) in combinations(INSULATION.items(), 2):
        if paint != second:
            assert TICKS.get(one) != TICKS.get(other) or geometry.contrast(paint, second) > 1.6, (one, other)


def test_wires_on_paper_have_strokes_and_those_on_a_screen_none() -> None:
    board = wirecheck.assemble((FOLDER / SAMPLE[1]).read_text("utf-8"))[1]
    lines = sheet(board, page="letter").lines
    found = {line.id for line in lines if line.kind == "ticks"}
    wires = {line.id for line in lines if line.title and TICKS.keys() & set(line.kind.split())}
    assert found == {f"ticks-{name}" for name in wires} and len(found) > 3
    assert not any(line.kind == "ticks" for line in sheet(board).lines)


@pytest.mark.slow
def test_sheets_are_pages_of_a_pdf_and_one_picture_elsewhere() -> None:
    board = wirecheck.assemble((FOLDER / SAMPLE[1]).read_text("utf-8"))[1]
    picture = Picture(sheet(board, page="letter"), "letter")
    sheets = cut_for(picture.sheet, "letter").sheets
    assert sheets == 2
    assert picture.data(".pdf").count(b"/MediaBox") == sheets
    ids = re.findall(r'<g id="([^"]*)"', picture.svg)
    assert len(ids) == len(set(ids))
    assert to_pdf(*on_paper(picture.sheet, "letter")) == picture.data(".pdf")


def _drawn(name: str, kind: str) -> tuple[Sheet, Cut]:
    board = wirecheck.assemble((FOLDER / name / "right.wire").read_text("utf-8"))[1]
    drawn = sheet(board, kind=kind, page="letter")
    return drawn, cut_for(drawn, "letter")


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(
            name, marks=[pytest.mark.slow] * (name not in ("garage-vehicle-outlet", "two-transformers"))
        )
        for name in RIGHT
    ],
)
def test_a_cut_goes_beside_every_device_and_leaves_no_sheet_nearly_empty(name: str) -> None:
    drawn, cut = _drawn(name, "wiring")
    assert not list(devices_cut(drawn, cut))
    for ends in (cut.across, cut.down):
        pieces = [end - start for start, end in pairwise(ends)]
        assert min(pieces) > 0.25 * sum(pieces) / len(pieces)


@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=[pytest.mark.slow] * (name != "dual-fuel")) for name in RIGHT],
)
def test_a_ladder_has_its_heading_on_the_sheet_of_its_first_rung(name: str) -> None:
    drawn, cut = _drawn(name, "ladder")
    headings = [mark for mark in drawn.marks if mark.kind == "heading"]
    assert headings
    rails = [line for line in drawn.lines if line.kind == "rail"]
    for at in cut.down[1:-1]:
        for heading in headings:
            assert not heading.y - heading.size < at < heading.y + 30, heading.text
        # No rail is cut off at its very end.
        for rail in rails:
            low = min(y for piece in rail.pieces for _, y in piece)
            assert not low - 9 < at < low + 6, rail.id


@pytest.mark.parametrize(
    ("name", "kind"),
    [("cooling-call", "wiring"), ("float-switch-in-r", "wiring"), ("common-wire-kit", "ladder")],
)
def test_a_cut_goes_between_boxes_and_between_ladders(name: str, kind: str) -> None:
    drawn, cut = _drawn(name, kind)
    assert cut.sheets == 2
    boxes = [frame_box(frame) for frame in drawn.frames]
    boxes += [line_box(line) for line in drawn.lines if line.kind in ("wire", "sign contact", "sign load")]
    for axis, places in enumerate((cut.across, cut.down)):
        for at, box in product(places[1:-1], boxes):
            assert not box[2 * axis] < at < box[2 * axis + 1], (name, at, box)


def test_a_strip_let_in_at_a_cut_keeps_it_away_from_the_screws_of_a_device() -> None:
    drawn, cut = _drawn("boiler-two-zones", "wiring")
    longer, there = pulled(drawn, cut)
    devices, far = ([frame for frame in each.frames if frame.kind == "device"] for each in (drawn, longer))
    assert any(frame.y - NEAR < at < frame.y for at in cut.down[1:-1] for frame in devices)
    assert not any(frame.y - NEAR < at < frame.y for at in there.down[1:-1] for frame in far)
    # Nothing is lost or bent by it.
    assert [line.id for line in longer.lines] == [line.id for line in drawn.lines]
    assert [len(line.pieces) for line in longer.lines] == [len(line.pieces) for line in drawn.lines]


def test_a_stub_at_a_cut_has_the_strokes_of_its_color() -> None:
    drawn, cut = _drawn("boiler-two-zones", "wiring")
    assert [len(pieces) for pieces in (cut.across, cut.down)] == [2, 3]
    longer, there = pulled(drawn, cut)
    at = there.down[1]
    through = {
        line.id
        for line in longer.lines
        if line.kind == "conductor red" and line_box(line)[2] < at < line_box(line)[3]
    }
    _, second = on_paper(drawn, "letter")
    assert through and through <= {name[6:] for name in re.findall(r'<g id="(ticks-[^"]*)"', second)}


def test_a_wire_that_is_marked_at_both_ends_has_its_tape_on_the_next_sheet_too() -> None:
    """A white with red tape is a hot: "white" alone, with the tape on another sheet, tells a neutral."""
    drawn, _ = _drawn("one-transformer", "wiring")
    _, second = on_paper(drawn, "letter")
    texts = geometry.read(second).texts
    assert "marked so at both its ends" in second
    assert "tape: marked that color" in {text.text for text in texts}
    # It drives out no word beside it, its own wire's or the next one's.
    told = [text.text for text in texts if "join-color" in text.classes]
    assert told == ["black", "white", "black", "red"]
    plain, _ = _drawn("boiler-two-zones", "wiring")
    assert "marked so at both its ends" not in on_paper(plain, "letter")[1]


def test_a_wire_from_the_sheet_before_has_its_color_told_again() -> None:
    drawn, _ = _drawn("boiler-two-zones", "wiring")
    first, second = map(geometry.read, on_paper(drawn, "letter"))
    told = [text for text in second.texts if "join-color" in text.classes]
    assert [text.text for text in told] == ["black", "white", "bare", "red", "white"]
    assert not any("join-color" in text.classes for text in first.texts)
    for word, text in product(told, second.texts):
        assert word is text or not geometry.overlap(word.box, text.box), (word.text, text.text)


STUB, HUGGED = 20.0, 20.0
SLIVERS = {"timer-defrost wiring": "the lower edge of a panel, whose buses the sheet has no room for else"}
"""Boards of which a sheet has no more than the edge of a room, and why."""


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        pytest.param(
            name, kind, marks=[pytest.mark.slow] * (f"{name} {kind}" not in ("economizer wiring", *SLIVERS))
        )
        for name, kind in product(RIGHT, KINDS)
    ],
)
def test_a_cut_parts_nothing_from_what_tells_what_it_is(name: str, kind: str) -> None:
    drawn, cut = _drawn(name, kind)
    longer, there = pulled(drawn, cut)
    words = [mark for mark in longer.marks if isinstance(mark, Words)]
    for axis, at in [(axis, at) for axis, cuts in enumerate((there.across, there.down)) for at in cuts[1:-1]]:
        for frame in longer.frames:
            start, end = frame_box(frame)[2 * axis : 2 * axis + 2]
            if frame.kind != "device" and start < at < end and f"{name} {kind}" not in SLIVERS:
                assert min(at - start, end - at) > HUGGED, (frame.id, at)
        for line in longer.lines:
            start, end = line_box(line)[2 * axis : 2 * axis + 2]
            # A breaker is with its bus, a contact with its name and with what is said of it.
            assert line.kind != "stab" or not start < at < end, (line.id, at)
            if line.kind in ("sign contact", "sign contact upright", "sign load"):
                parts = f"{line.id}.name-", f"{line.id}.words-"
                own = [mark_box(mark) for mark in words if mark.id.startswith(parts)]
                ends = [(start, end), *(box[2 * axis : 2 * axis + 2] for box in own)]
                assert len({low > at for low, _ in ends} | {high > at for _, high in ends}) == 1, (
                    line.id,
                    at,
                )
        for mark in longer.marks:
            # Each screw has a piece of its wires.
            assert mark.kind != "terminal" or not axis or abs(mark.y - at) > STUB, (mark.id, at)
            # A color's word is with the wire under it.
            assert mark.kind != "label end" or not axis or not mark.y < at < mark.y + 8.6, (mark.id, at)


def test_no_cut_line_is_taken_for_a_rail() -> None:
    drawn, cut = _drawn("two-stage-furnace", "ladder")
    assert len(cut.across) == 3
    for paper in on_paper(drawn, "letter"):
        line = re.search(r'<g id="cut-[^"]*" class="edge cut dash-dots">.*?</g>', paper, re.DOTALL)
        assert line is not None and "stroke-dasharray" in line[0]
    longer, there = pulled(drawn, cut)
    rails = [x for line in longer.lines if line.kind == "rail" for piece in line.pieces for x, _ in piece]
    assert min(abs(x - there.across[1]) for x in rails) > 20


def test_a_drawing_is_as_large_as_its_pieces_have_room() -> None:
    drawn, cut = _drawn("economizer", "ladder")
    assert cut.scale * smallest(drawn) > 1.02 * LEAST_ON_PAPER
    wide = max(end - start for start, end in pairwise(cut.across)) * cut.scale
    high = max(end - start for start, end in pairwise(cut.down)) * cut.scale
    assert wide > 0.95 * (cut.size[0] - 2 * CLEAR) or high > 0.85 * (cut.size[1] - 2 * CLEAR)


def test_a_cable_has_one_mark_and_no_mark_is_a_letter_of_the_drawing() -> None:
    drawn, cut = _drawn("cooling-call", "wiring")
    found = joins(drawn, cut)
    cables = [line_box(line) for line in drawn.lines if line.kind in SHEATHS and line.id[-5:] == "-edge"]
    through = [box for box in cables if any(box[2] < at < box[3] for at in cut.down[1:-1])]
    assert len(found) == len(through) > 1
    words = {mark.text for mark in drawn.marks if isinstance(mark, Words)}
    assert not words & {join.mark for join in found} and {"C", "D"} <= words


def test_marks_stand_beside_one_another() -> None:
    drawn, cut = _drawn("dual-fuel", "wiring")
    found = joins(drawn, cut)
    assert len(found) > 10
    for one, other in combinations(found, 2):
        assert one.at != other.at or abs(other.shown - one.shown) * cut.scale > ROUND


def test_each_mark_stands_at_its_own_wires() -> None:
    """No line to a mark leans farther than half a circle: wires that stand nearer have one mark together."""
    drawn, cut = _drawn("dual-fuel", "wiring")
    found = joins(drawn, cut)
    assert any(join.wide for join in found)
    assert all(abs(join.shown - join.along) * cut.scale <= ROUND / 2 for join in found)


def test_a_rung_that_is_cut_has_its_line_number_on_both_sheets() -> None:
    drawn, _ = _drawn("ductless-pair", "ladder")
    first, second = map(geometry.read, on_paper(drawn, "letter"))
    numbers = {text.text for text in first.texts if "row" in text.classes}
    again = {text.text for text in second.texts if {"join", "join-name"} & set(text.classes)}
    # No letter more: dashes, a mechanical link, are no wire.
    assert numbers == {str(number) for number in range(1, 11)} == again - {"TP.10, L1 to L2 (240 V)"}


def test_a_ladder_that_is_cut_has_no_line_again_that_has_nothing_there() -> None:
    drawn = Sheet("", "#ffffff", 100, 100)
    for number in range(3):
        drawn.write(f"row-{number}", str(number), 0, 20 * number, 9, "#000000", kind="row")
    drawn.lines.append(Line("wire", "", (((9, 0), (60, 0), (60, 20), (90, 20)),), "#000000", kind="wire"))
    here = [Join(0, 50, 0, "0", 0)]
    assert [again.text for again in rows_again(drawn, here)] == ["1"]  # On line 2 is nothing beyond the cut.


def test_rungs_stay_whole_on_sheets_where_the_drawing_is_a_bit_smaller() -> None:
    drawn, cut = _drawn("boiler-two-zones", "ladder")
    assert cut.sheets == 2 and not joins(drawn, cut) and cut.scale > 0.8


def test_a_box_that_is_cut_has_its_name_again() -> None:
    drawn, _ = _drawn("timer-defrost", "wiring")
    _, second = map(geometry.read, on_paper(drawn, "letter"))
    assert [text.text for text in second.texts if "join-name" in text.classes] == ["TP"]


def test_a_rail_that_is_cut_has_its_name_again() -> None:
    drawn, cut = _drawn("two-units-one-thermostat", "ladder")
    found = joins(drawn, cut)
    cut_rails = {
        line.id
        for line in drawn.lines
        for join in found
        if line.kind == "rail" and line_box(line)[0] < join.along < line_box(line)[1]
    }
    _, second = map(geometry.read, on_paper(drawn, "letter"))
    again = [text.text for text in second.texts if "join-name" in text.classes]
    assert again == [join.name for join in found if join.name] and len(again) == 4 and cut_rails


def test_each_sheet_has_the_key_of_what_is_on_it_and_says_which_sheet_joins_where() -> None:
    drawn, _ = _drawn("cooling-call", "wiring")
    papers = [geometry.read(paper) for paper in on_paper(drawn, "letter")]
    keys = [[text.text for text in paper.texts if "key" in text.classes] for paper in papers]
    # On the first is a panel alone, and the cables from it: no wire of a thermostat.
    assert "neutral bar" in keys[0] and "neutral bar" not in keys[1]
    assert {"green screw: ground", "red", "blue"} <= set(keys[1]) and not {"red", "blue"} & set(keys[0])
    for paper, told in zip(
        papers, ("1 of 2. Sheet 2 joins below.", "2 of 2. Sheet 1 joins above."), strict=True
    ):
        assert next(text.text for text in paper.texts if text.id == "sheet").endswith(told)


def test_the_middle_one_of_three_sheets_has_a_key() -> None:
    drawn, _ = _drawn("condensate-pump", "wiring")
    papers = [geometry.read(paper) for paper in on_paper(drawn, "letter")]
    keys = [{text.text for text in paper.texts if "key" in text.classes} for paper in papers]
    assert len(keys) == 3 and {"red", "yellow", "blue", "green"} <= keys[1] and "neutral bar" not in keys[1]


def test_a_sheet_without_room_for_its_key_says_where_it_is() -> None:
    drawn, _ = _drawn("timer-defrost", "wiring")
    papers = [geometry.read(paper) for paper in on_paper(drawn, "letter")]
    keys = [{text.text for text in paper.texts if "key" in text.classes} for paper in papers]
    told = [next(text.text for text in paper.texts if text.id == "sheet") for paper in papers]
    assert not keys[0] and told[0].endswith("The key is on sheet 2.")
    assert "brown" in keys[1] and "key" not in told[1]


def test_what_fills_many_sheets_is_not_laid_out_for_a_few() -> None:
    tried: list[Area] = []

    def lay(area: Area) -> Sheet:
        tried.append(area)
        return Sheet("", "#ffffff", 9_000, 9_000)

    assert laid_out(lay, "letter").width == 9_000
    assert len(tried) == 2  # one sheet, lying and upright


def test_the_insides_of_a_board_are_those_that_are_drawn_one_by_one() -> None:
    board = wirecheck.assemble('board "Heat"\nF is gas-furnace\nG is oil-furnace')[1]
    for name, leaf in zip(("F", "G"), leaves(board)[2:], strict=True):
        assert leaf.name == f"Inside {name}"
        assert leaf.svg == to_svg(dot_source(sheet(board, fit=SCREEN, inside=name)))
        assert leaf.sheets == on_paper(sheet(board, page="letter", inside=name), "letter")


def test_only_the_sheet_with_a_tap_that_is_not_dead_tells_what_that_is() -> None:
    case = Case(wirecheck.assemble((FOLDER / "two-speed-blower" / "right.wire").read_text("utf-8"))[1])
    papers = on_paper(sheet(case.board, page="letter", state=case.standing({}, ("cool",))), "letter")
    read = [geometry.read(paper).texts for paper in papers]
    assert len(papers) > 1
    for texts in read:
        told = any(text.text.startswith(f"{INDUCED}: ") for text in texts)
        assert told == any(text.text == INDUCED for text in texts)
