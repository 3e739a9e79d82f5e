"""Tables that are safe to open in a spreadsheet, and that say what the sheets say.

Source: RFC 4180; OWASP, "CSV Injection"
"""

import csv
import io
import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tests.grading.strategies import NUMBERS, TEXTS, sheets
from wirecheck.grading.gradebook import gradebook, history, marks_rows
from wirecheck.grading.marks import Attempt, ByEye, Mark, Scored, marks
from wirecheck.grading.sheet import Sheet, StageScore, Taken
from wirecheck.report.spreadsheet import cells, no_formula

FORMULAS = "=+-@"
HOSTILE = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    "  =1",
    "\u3000=1",
    "\xa0-1",
    "\u200b=1",
    "\ufeff=1",
    "\uff1d1",
    "\uff0b1",
    "\uff0d1",
    "\uff201",
    "\ufe661",
    "\u22121",
    '"=1',
    "\uff02=1",
    "a;=1",
    "a|=1",
    "a\t=1",
    "a\n=1",
    'a; "=1',
    ";;=1",
    "\x00=1",
)


def read(text, separator=","):
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))


def begins_a_formula(cell):
    """As any program could see it, also one that makes plain letters of others, or drops what it cannot."""
    seen = unicodedata.normalize("NFKC", cell).replace("\ufffd", "").replace("\u2212", "-")
    return seen.lstrip('" \t\r\n').startswith(tuple(FORMULAS))


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_is_a_formula_wherever_a_cell_ends(text):
    row = ("Ana", text, "Bo")
    assert read(cells([row])) == [["Ana", no_formula(text), "Bo"]]
    for separator in ",;|\t":
        for each in read(cells([row, row]), separator):
            assert not any(begins_a_formula(cell) for cell in each), (separator, each)


WORST = st.text('=-; |,"\ta\r\uff1d\u3000', max_size=8)


@given(st.lists(st.tuples(TEXTS | WORST, WORST), min_size=1, max_size=3))
@example([("=", "\u207a")])
def test_no_text_of_any_kind_is_a_formula(rows):
    text = cells(rows)
    assert read(text) == [[no_formula(cell) for cell in row] for row in rows]
    for separator in ",;|\t":
        assert not any(begins_a_formula(cell) for row in read(text, separator) for cell in row)


def test_every_form_of_those_characters_is_seen():
    for code in range(0x3000):
        begins = unicodedata.normalize("NFKC", chr(code))[0]
        assert (no_formula(chr(code))[0] == "'") == (begins in {*FORMULAS, "\u2212", "'"}), hex(code)


@pytest.mark.parametrize(
    "text", ["Ana", "Ruiz-Berg", "a=b", "5 - 3", 'the "new" one', "a, b", "", "José", "'"]
)
def test_a_text_that_is_none_stays_as_it_is(text):
    assert read(cells([(text, "x")])) == [[text, "x"]]


def test_numbers_stay_numbers():
    assert cells([(5, 5.0, 2.5, -3, -0.5, 0.1 + 0.2, 12345678, None, 1e300)]) == (
        "5,5,2.5,-3,-0.5,0.3,12345678,,1e+300\r\n"
    )
    assert cells([(float("-inf"), float("nan"))]) == "'-inf,nan\r\n"


def test_it_is_as_the_format_says():
    """Lines end in CR LF, and what holds a comma or a quote stands in quotes, with its own quotes doubled."""
    assert cells([("a", "b,c"), ('d "e"', "f")]) == 'a,"b,c"\r\n"d ""e""",f\r\n'
    assert cells([]) == ""


# ---------------------------------------------------------------- what stands in them


def taken(stage="trim"):
    return Taken(stage, 5.0, 5.0, "box-fill", "violation", 3, "", "Full.", (), (), "", "Full.")


ANA = Sheet(
    "ana.wire",
    "Ana",
    "Shed",
    (StageScore("rough-in", 40.0, 35.0, False), StageScore("trim", 60.0, 55.5, False)),
    (taken("rough-in"), taken()),
)
BO = Sheet(
    "bo.wire",
    "=Bo",
    "Shed",
    (StageScore("rough-in", 40.0, 0.0, True), StageScore("trim", 60.0, 0.0, True)),
    refused="There is nothing in it.",
)


def eye(student, stage, points, note="", at="2026-01-05T09:00:00Z", exercise="Shed"):
    return ByEye(at, student, exercise, stage, points, note)


def table(rows):
    headings, *others = read(cells(rows))
    return [dict(zip(headings, row, strict=True)) for row in others]


def test_a_class_has_a_row_for_each_work_and_the_eye_beside_the_tool():
    judged = [
        eye("ana", "trim", 40.0, "first look"),
        eye("ANA ", "trim", 58.0, "second look"),
        eye("Di", "rough-in", 12.0, "on paper"),
        eye("Ana", "final", 99.0),
        eye("Ana", "trim", 99.0, exercise="Barn"),
    ]
    ana, bo, di = table(gradebook([ANA, BO], judged))
    assert ana == {
        "student": "Ana",
        "file": "ana.wire",
        "exercise": "Shed",
        "rough-in": "35",
        "rough-in by eye": "",
        "rough-in note": "",
        "trim": "55.5",
        "trim by eye": "58",
        "trim note": "second look",
        "score": "90.5",
        "total": "93",
        "of": "100",
        "mistakes": "2",
        "refused": "",
    }
    assert (bo["student"], bo["total"], bo["of"], bo["refused"]) == ("'=Bo", "0", "100", BO.refused)
    assert (di["student"], di["file"], di["rough-in"], di["rough-in by eye"]) == ("Di", "", "", "12")
    assert (di["score"], di["total"], di["of"], di["mistakes"]) == ("", "12", "", "")


@given(
    st.lists(sheets, max_size=3), st.lists(st.builds(eye, TEXTS, st.just("trim"), NUMBERS, TEXTS), max_size=2)
)
def test_every_row_has_a_cell_for_each_heading(works, judged):
    rows = read(cells(gradebook(works, judged)))
    assert {len(row) for row in rows} == {len(rows[0])}
    assert [row[1] for row in rows[1 : len(works) + 1]] == [no_formula(one.file) for one in works]


def test_a_class_without_works_is_its_headings():
    assert cells(gradebook([])) == "student,file,exercise,score,total,of,mistakes,refused\r\n"


def test_marks_have_the_newest_of_both():
    scored = [
        Scored("2026-01-05T08:00:00Z", "Ana", "Shed", "old.wire", StageScore("trim", 60.0, 10.0, False)),
        Scored("2026-01-06T08:00:00Z", " ana", "shed", "new.wire", StageScore("trim", 60.0, 50.0, False)),
        Scored("2026-01-05T08:00:00Z", "Ana", "Shed", "old.wire", StageScore("rough-in", 40.0, 40.0, False)),
    ]
    judged = [eye("Ana", "trim", 45.0, "a"), eye("Ana", "trim", 44.0, "b"), eye("Bo", "final", 1.0)]
    rows = read(cells(marks_rows(marks(scored, judged))))
    assert rows[1:] == [
        ["Ana", "Shed", "rough-in", "40", "", "", "40", "40", "old.wire", "2026-01-05T08:00:00Z"],
        [" ana", "shed", "trim", "50", "44", "b", "44", "60", "new.wire", "2026-01-06T08:00:00Z"],
        ["Bo", "Shed", "final", "", "1", "", "1", "", "", "2026-01-05T09:00:00Z"],
    ]
    assert Mark("Ana", "Shed", "trim", None).counts is None


def test_the_history_has_every_attempt_and_every_entry_in_order_of_time():
    attempt = Attempt(7, "2026-01-05T10:00:00Z", "1.0", "e0", None, 2, "ana.wire", "d0", ANA)
    again = attempt._replace(run=8, at="2026-01-05T08:00:00Z", sheet=BO, file="bo.wire", version="0.9")
    rows = read(cells(history([attempt, again], [eye("Ana", "trim", 58.0, "@me")])))
    assert rows == [
        ["at", "student", "exercise", "stage", "points", "of", "judged by", "note", "run", "file", "digest"],
        [again.at, "'=Bo", "Shed", "rough-in", "0", "40", "wirecheck 0.9", BO.refused, "8", "bo.wire", "d0"],
        [again.at, "'=Bo", "Shed", "trim", "0", "60", "wirecheck 0.9", BO.refused, "8", "bo.wire", "d0"],
        ["2026-01-05T09:00:00Z", "Ana", "Shed", "trim", "58", "", "eye", "'@me", "", "", ""],
        [attempt.at, "Ana", "Shed", "rough-in", "35", "40", "wirecheck 1.0", "", "7", "ana.wire", "d0"],
        [attempt.at, "Ana", "Shed", "trim", "55.5", "60", "wirecheck 1.0", "", "7", "ana.wire", "d0"],
    ]
