"""The pages of a class and of a student, on a screen and on paper."""

import re
import shutil
import subprocess

import pytest

from tests.grading.classroom import ANSWERS, answer, exercise_file
from tests.grading.stair import RIGHT, stair, with_changes
from wirecheck import shipped_parts
from wirecheck.drawing.area import LEAST_ON_PAPER
from wirecheck.drawing.page import size
from wirecheck.grading.board_drawn import LONG, SHORT, Drawn, drawn
from wirecheck.grading.exercise import exercise
from wirecheck.grading.judging import Judging
from wirecheck.grading.pages import STYLE, class_page, student_page
from wirecheck.grading.scoring import graded
from wirecheck.grading.sheet import Sheet, StageScore
from wirecheck.grading.whole_class import whole_class
from wirecheck.language.reader import read
from wirecheck.model.build import build

UPRIGHT, LYING = (540.0, LONG), (720.0, SHORT)
"""What a Letter page has for a picture within margins of half an inch, below a line of words."""


def sheet_of(who="Ana", trim=0.0, lost=True, refused="", file="work/a.wire"):
    stages = (StageScore("trim", 30.0, trim, lost), StageScore("final", 70.0, 70.0, False))
    return Sheet(file, who, "Shed", stages, refused=refused)


def test_paper_is_letter_and_nothing_is_cut():
    printed = STYLE[STYLE.index("@media print") :]
    assert "@page { size: letter; margin: 36pt;" in printed
    assert "tr, li, .caution, .plot, .board { break-inside: avoid; }" in printed
    assert "thead { display: table-header-group; }" in printed
    # A total is no footer of every page.
    assert "tfoot { display: table-row-group; }" in printed
    assert "a { color: inherit; text-decoration: none; }" in printed


def test_a_stage_says_in_words_what_its_color_says():
    page = student_page(sheet_of())
    assert re.search(r'>trim <span class="small">lost whole</span>.*>0 of 30<', page)
    assert re.search(r'>final <span class="small">no mistake found</span>.*>70 of 70<', page)


def test_a_sheet_names_the_file_and_not_the_instructors_folder():
    assert "work/" not in student_page(sheet_of()) and "· a.wire<" in student_page(sheet_of())


def test_every_picture_has_the_students_name_over_it():
    one = '<svg width="90pt" height="45pt"><g id="graph0"></g></svg>'
    two = Drawn(one, parts=(one, one.replace("90pt", "9pt")))
    heads = re.findall(
        r'<section class="([^"]*)" tabindex="0"[^>]*><h2>(.*?)</h2>', student_page(sheet_of("<Ana>"), two)
    )
    assert heads == [
        ("board on-screen", "&lt;Ana&gt;: the board"),
        ("board part lying", "&lt;Ana&gt;: the board. Sheet 1 of 2"),
        ("board part", "&lt;Ana&gt;: the board. Sheet 2 of 2"),
    ]
    assert '<section class="board lying" ' in student_page(sheet_of(), Drawn(one, lies=True))
    assert '<section class="board" ' in student_page(sheet_of(), Drawn(one))


def test_a_class_says_what_a_stage_is_worth_and_which_was_lost_whole():
    done = whole_class(stair(), [sheet_of(), sheet_of("Ben", refused="It is empty.")], {})
    page = class_page(done)
    assert 'trim <span class="small">of 30</span>' in page
    assert page.count("0*") == 1 and "* The stage was lost whole to one mistake." in page
    assert (
        "*" not in class_page(whole_class(stair(), [sheet_of(trim=30.0, lost=False)], {})).split("<body>")[1]
    )


def printed_size(svg, room):
    """The smallest words of a picture on paper, in points."""
    width, height = size(svg)
    box = re.search(r'viewBox="[-\d.]+ [-\d.]+ ([\d.]+)', svg)
    shown = min(1.0, room[0] / width, room[1] / height) * width / float(box[1])
    return min(map(float, re.findall(r'font-size="([\d.]+)"', svg))) * shown


@pytest.mark.slow
@pytest.mark.parametrize("name", ANSWERS)
def test_every_word_of_a_printed_picture_is_readable(name):
    picture = drawn(build(read(answer(name).text()), shipped_parts()), (), "as questions")
    if not picture.parts:
        assert printed_size(picture.whole, LYING if picture.lies else UPRIGHT) >= LEAST_ON_PAPER - 0.01
    for part in picture.parts:
        room = LYING if size(part)[0] > size(part)[1] else UPRIGHT
        assert printed_size(part, room) >= LEAST_ON_PAPER - 0.01


SWAPPED = with_changes(
    ("W3.black -- L1.hot", "W3.black -- L1.neutral"), ("W3.white -- L1.neutral", "W3.white -- L1.hot")
)


def pages_of(path, folder):
    """The sizes of the pages that a browser prints, in points."""
    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    out = folder / "page.pdf"
    subprocess.run(
        [
            program, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
            f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={out}", path.as_uri(),
        ],
        capture_output=True, timeout=120, check=True,
    )  # fmt: skip
    boxes = re.findall(rb"/MediaBox \[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", out.read_bytes())
    return [(float(wide), float(high)) for wide, high in boxes]


@pytest.mark.slow
@pytest.mark.chromium
@pytest.mark.parametrize(
    ("name", "text", "pages"),
    [
        ("stair-light", RIGHT, 2),
        ("stair-light", SWAPPED, 2),
        ("kitchen-multiwire", "", 1),
        ("cooling-hookup", "", 3),
    ],
)
def test_a_students_sheet_on_paper(name, text, pages, tmp_path):
    """The words, and the board below them or on the back; a hookup's board on two sheets that join."""
    given = exercise(exercise_file(name).read_text("utf-8"), name, shipped_parts())
    judging = Judging(shipped_parts(), None, 100, given.shown, {}, {})
    done = graded(given, text or answer(name).text(), "a.wire", "Ana", judging)
    path = tmp_path / "page.html"
    path.write_text(student_page(done.sheet, done.picture), "utf-8")
    sizes = pages_of(path, tmp_path)
    assert len(sizes) == pages and {frozenset(one) for one in sizes} == {frozenset((612.0, 792.0))}


@pytest.mark.slow
@pytest.mark.chromium
def test_a_class_of_200_on_paper(tmp_path):
    sheets = [sheet_of(f"Student {number}", file=f"{number}.wire") for number in range(200)]
    path = tmp_path / "class.html"
    path.write_text(class_page(whole_class(stair(), sheets, {})), "utf-8")
    sizes = pages_of(path, tmp_path)
    assert sizes == [(612.0, 792.0)] * len(sizes) and 5 <= len(sizes) <= 7
