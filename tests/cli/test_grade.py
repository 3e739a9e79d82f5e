"""`wirecheck grade` as an instructor runs it: what it prints and writes, and what it refuses."""

import csv
import io
import json
import os
import sqlite3

import pytest
from click.testing import CliRunner

from tests.cli.boards import PART, wirecheck
from tests.grading.classroom import answer, exercise_file, works
from tests.grading.stair import RIGHT, TEXT, stair, with_changes
from wirecheck.cli import commands
from wirecheck.cli._attempts import Ended
from wirecheck.cli._class import Worked, result
from wirecheck.cli._sources import Named

LOOSE = with_changes(("  W2.bare -- W3.bare -- pigtail -- S2.ground\n", "  W2.bare -- W3.bare\n"))
SWAPPED = with_changes(
    ("W2.red -- S2.traveler-2", "W2.red -- S2.common"), ("W3.black -- S2.common", "W3.black -- S2.traveler-2")
)


def named(who, text=RIGHT):
    return with_changes(("code nec 2023", f'code nec 2023\nstudent "{who}"'), text=text)


@pytest.fixture
def desk(tmp_path, monkeypatch):
    """A folder with the exercise, and three works in a folder of their own."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "exercise.wire").write_text(TEXT)
    (tmp_path / "class").mkdir()
    (tmp_path / "class" / "ana.wire").write_text(named("Ana Ruiz"))
    (tmp_path / "class" / "bo.wire").write_text(LOOSE)
    (tmp_path / "class" / "cy.wire").write_text("")
    return tmp_path


def grade(*arguments, stdin=None):
    """The command in this process."""
    return CliRunner().invoke(commands, ["grade", "--effort", "0", *map(os.fspath, arguments)], input=stdin)


def rows(text):
    return list(csv.DictReader(io.StringIO(text)))


def one_line(text):
    return " ".join(text.split())


def test_the_file_that_a_student_begins_with(desk):
    started = grade("exercise.wire", "--start")
    assert started.exit_code == 0
    (desk / "bare.wire").write_text(with_changes((" A hazard costs the stage.", ""), text=TEXT))
    said = one_line(grade("bare.wire", "--start").stderr)
    assert "One of these costs all points of its stage: a hazard." in said
    lines = started.stdout.split("\n")
    assert lines[:3] == [
        'board "Stair light from two landings"',
        'student ""  # write your name between the quotes',
        'for "Stair light from two landings"',
    ]
    assert "cable W1 14/2 NM-B 18 ft from TP to FOOT" in lines and "expect L1 from S1, S2" in lines
    assert "  # screws: S1.common, S1.traveler-1, S1.traveler-2 and S1.ground" in lines
    text = with_changes((" A hazard costs the stage.", ""), text=started.stdout)
    assert "costs" not in text and "points" not in text and " -- " not in text
    # As it is, it is worth nothing, and it says why; joined as the board that ships it has everything.
    done = grade("exercise.wire", "-", stdin=started.stdout)
    assert "0 of 100 points" in done.output and "Nothing is joined in it yet." in done.output
    joined = RIGHT[RIGHT.index("\nat TP") : RIGHT.index("\nexpect")]
    full = started.stdout[: started.stdout.index("\nat TP")] + joined + "\nexpect L1 from S1, S2\n"
    assert "-: 100 of 100 points" in grade("exercise.wire", "-", stdin=full).output
    # It may be written as a new board, and never where one is.
    assert grade("exercise.wire", "--start", "-o", "start.txt").exit_code == 0
    assert (desk / "start.txt").read_text() == started.stdout
    assert grade("exercise.wire", "--start", "-o", "start.wire").exit_code == 0
    assert (desk / "start.wire").read_text() == started.stdout
    for place in ("exercise.wire", "class/bo.wire"):
        done = grade("exercise.wire", "--start", "-o", place)
        assert done.exit_code == 2 and "ends in .wire" in done.output
    assert (desk / "exercise.wire").read_text() == TEXT and (desk / "class/bo.wire").read_text() == LOOSE


@pytest.mark.slow
@pytest.mark.parametrize("name", ["stair-light", "kitchen-multiwire", "cooling-hookup"])
def test_every_exercise_that_ships_starts_and_its_answer_is_right(name, tmp_path):
    started = wirecheck("grade", exercise_file(name), "--start")
    assert (started.returncode, started.stderr) == (0, b"")
    (tmp_path / "start.txt").write_bytes(started.stdout)
    (tmp_path / "right.wire").write_text(answer(name).text())
    done = wirecheck(
        "grade", exercise_file(name), tmp_path / "start.txt", tmp_path / "right.wire", "--format", "csv"
    )
    first, second = rows(done.stdout.decode())
    assert (first["score"], first["refused"]) == ("0", "Nothing is joined in it yet.")
    assert (second["score"], second["refused"]) == (second["of"], "")


def test_one_work_is_a_sheet_and_several_are_a_class(desk):
    sheet = grade("exercise.wire", "class/bo.wire")
    assert sheet.exit_code == 0 and sheet.output.startswith("bo: 70 of 100 points\n")
    assert "-30, all of the stage" in sheet.output and "de-energize" in sheet.output
    done = grade("exercise.wire", "class", "exercise.wire")
    assert done.exit_code == 0
    assert "Stair light from two landings: 3 works" in done.output
    assert [line.split() for line in done.output.split("\n") if line.startswith(("Ana", "bo", "cy"))] == [
        ["Ana", "Ruiz", "30", "30", "40", "100", "0"],
        ["bo", "30", "0", "40", "70", "1"],
        ["cy", "0", "0", "0", "0", "not", "graded"],
    ]
    assert "cy (class/cy.wire): There is nothing in it." in one_line(done.output)
    assert "To teach again" in done.output


@pytest.mark.slow
def test_the_formats_tell_the_same_and_an_output_is_what_is_printed(desk):
    shown = grade("exercise.wire", "class", "--format", "csv")
    data = json.loads(grade("exercise.wire", "class", "--format", "json").stdout)
    assert [(one["student"], one["score"]) for one in rows(shown.stdout)] == [
        ("Ana Ruiz", "100"),
        ("bo", "70"),
        ("cy", "0"),
    ]
    assert [one["score"] for one in data["works"]] == [100, 70, 0] and data["class"]["works"] == 3
    for form in ("csv", "json", "text"):
        printed = grade("exercise.wire", "class", "--format", form)
        assert grade("exercise.wire", "class", "--format", form, "-o", "out").stdout == ""
        assert (desk / "out").read_bytes() == printed.stdout_bytes


@pytest.mark.slow
def test_a_stage_is_graded_by_itself(desk):
    done = grade("exercise.wire", "class", "--stage", "trim", "--format", "json")
    first, second, third = json.loads(done.stdout)["works"]
    assert [one["points"] for one in (first, second, third)] == [30, 30, 30]
    assert [one["score"] for one in (first, second, third)] == [30, 0, 0]
    # What belongs to a later stage is not asked yet.
    (desk / "dark.wire").write_text(SWAPPED)
    assert grade("exercise.wire", "dark.wire", "--stage", "trim").output.startswith("dark: 30 of 30 points")
    assert grade("exercise.wire", "dark.wire", "--stage", "final").output.startswith("dark: 20 of 40 points")


@pytest.mark.slow
def test_a_page_for_each_work_and_one_for_the_class(desk):
    done = grade("exercise.wire", "class", "--pages", "pages/of/today", "--format", "csv")
    assert done.exit_code == 0
    pages = sorted(os.listdir("pages/of/today"))
    assert pages == ["001-ana.html", "002-bo.html", "003-cy.html", "class.html"]
    whole = (desk / "pages/of/today/class.html").read_text()
    assert all(f'href="{page}"' in whole for page in pages[:3])
    assert grade("exercise.wire", "class", "--pages", "exercise.wire").exit_code == 2
    assert (desk / "exercise.wire").read_text() == TEXT


@pytest.mark.slow
def test_a_record_keeps_every_attempt_and_what_was_judged_by_eye(desk):
    assert grade("exercise.wire", "--record", "none.db").exit_code == 2
    assert not (desk / "none.db").exists()
    for _ in range(2):
        assert grade("exercise.wire", "class", "--record", "term.db").exit_code == 0
    (desk / "class" / "bo.wire").write_text(named("Bo", RIGHT))
    assert grade("exercise.wire", "class/bo.wire", "--record", "term.db").exit_code == 0
    by_eye = ("--by-eye", "ana ruiz", "--stage", "trim", "--record", "term.db")
    done = grade("exercise.wire", *by_eye, "--points", "27.5", "--note", "neat, one plate missing")
    assert (done.exit_code, done.output) == (0, "ana ruiz, trim: 27.5 of 30 points by eye.\n")
    shown = grade("exercise.wire", "--record", "term.db", "--format", "json")
    data = json.loads(shown.stdout)
    assert [one["file"] for one in data["attempts"]] == [
        *["class/ana.wire", "class/bo.wire", "class/cy.wire"] * 2,
        "class/bo.wire",
    ]
    counts = {(one["student"], one["stage"]): one["counts"] for one in data["marks"]}
    assert (counts["Ana Ruiz", "trim"], counts["Ana Ruiz", "final"]) == (27.5, 40)
    assert (counts["Bo", "trim"], counts["cy", "trim"]) == (30, 0)
    assert "neat, one plate missing" in grade("exercise.wire", "--record", "term.db").output
    # The class and its gradebook have what was judged by eye beside what was graded.
    done = grade("exercise.wire", "class", "--record", "term.db", "--format", "csv")
    assert (rows(done.stdout)[0]["trim by eye"], rows(done.stdout)[0]["total"]) == ("27.5", "97.5")
    with sqlite3.connect(desk / "term.db") as kept:
        assert kept.execute("PRAGMA integrity_check").fetchone() == ("ok",)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (["--points", "nan"], "trim is worth 30 points"),
        (["--points", "31"], "trim is worth 30 points"),
        (["--points", "-1"], "-1"),
        ([], "--by-eye needs --record, --stage and --points"),
        (["--points", "3", "class"], "--by-eye grades nothing: leave the works out"),
        (["--points", "3", "--by-eye", " "], "name the student"),
    ],
)
def test_a_mark_by_eye_is_one_of_the_exercise(desk, arguments, why):
    done = grade("exercise.wire", "--by-eye", "Ana", "--stage", "trim", "--record", "term.db", *arguments)
    assert done.exit_code == 2 and why in done.output


def test_a_mark_of_somebody_else_is_pointed_out(desk):
    grade("exercise.wire", "class", "--record", "term.db")
    done = grade(
        "exercise.wire", "--by-eye", "Anna", "--stage", "trim", "--record", "term.db", "--points", "3"
    )
    assert done.exit_code == 0 and "nothing of Anna was in term.db before" in done.output
    (desk / "stages.wire").write_text(with_changes(("stage trim 30 points\n", ""), text=TEXT))
    done = grade("stages.wire", "--by-eye", "Ana", "--stage", "trim", "--record", "term.db", "--points", "3")
    assert done.exit_code == 2 and "the exercise has no stage trim" in done.output


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ([], "Name the works to grade, or --start, or a --record."),
        (["class", "--start"], "--start grades nothing: leave the works out."),
        (["exercise.wire"], "there is no work here to grade."),
        (["class", "--stage", "paint"], "paint"),
        (["class", "--effort", "few"], "few"),
        (["class", "--jobs", "0"], "0"),
        (["class", "-o", "class/bo.wire"], "it ends in .wire"),
        (["class", "-o", "exercise.txt"], "is read by this command"),
        (["class", "-o", "bo.txt"], "is read by this command"),
        (["class", "-o", "term.db", "--record", "term.db"], "the record stays what it is"),
        (["class", "-o", "./class/../term.db", "--record", "term.db"], "the record stays what it is"),
        (["class", "--record", "p/class.html", "--pages", "p"], "the record stays what it is"),
        (["class", "-o", "p/class.html", "--pages", "p"], "the page of the class goes there"),
        # A work that is called as the class's page, and one that a page's name leads to.
        (["pages/class.html", "--pages", "pages"], "pages/class.html is read by this command"),
        (["bo.txt", "--pages", "sheets"], "sheets/001-bo.html is read by this command"),
        (["class", "--record", "class/bo.wire"], "cannot be used as the record"),
        (["class", "--record", "bo.txt"], "bo.txt cannot be used as the record: it is not a record."),
        (["class", "--record", "nowhere/term.db"], "the folder for it is not there"),
        (["class", "--record", "class"], "cannot be used as the record: it is a folder"),
    ],
)
def test_what_is_asked_wrongly_is_said_and_nothing_is_touched(desk, arguments, why):
    os.link("exercise.wire", "exercise.txt")
    os.link("class/bo.wire", "bo.txt")
    os.mkdir("pages")
    os.mkdir("sheets")
    os.link("class/bo.wire", "pages/class.html")
    os.symlink("../bo.txt", "sheets/001-bo.html")
    before = {path: path.read_bytes() for path in desk.rglob("*") if path.is_file()}
    done = grade("exercise.wire", *arguments)
    assert done.exit_code == 2 and why in one_line(done.output), done.output
    assert not done.stdout or done.stdout.startswith("Usage")
    after = {path: path.read_bytes() for path in desk.rglob("*") if path.is_file()}
    assert {path: after[path] for path in before} == before


def test_all_mistakes_of_an_exercise_are_said(desk):
    wrong = with_changes(
        ("stage trim 30 points", "stage trimm 30 points"),
        ("a violation costs 5 points", "a vilation costs 5 points"),
        ("S2 is 3-way-switch", "S2 is 3-way-swich"),
        ("expect L1 from S1, S2", "expect L7 from S1, S2"),
        text=TEXT,
    )
    (desk / "exercise.wire").write_text(wrong)
    done = grade("exercise.wire", "class", "--record", "term.db")
    said = one_line(done.output)
    assert done.exit_code == 2 and not (desk / "term.db").exists()
    for part in ("Did you mean trim?", "vilation is no severity", "3-way-swich", "L7"):
        assert part in said
    assert "exercise.wire cannot be used: on line 8" in said
    for text, why in ((RIGHT, "no exercise is begun in it"), ("", "no exercise is begun in it")):
        (desk / "exercise.wire").write_text(text)
        assert why in one_line(grade("exercise.wire", "--start").output)
    assert grade("nowhere.wire", "class").exit_code == 2


def test_a_folder_of_works_may_hold_the_exercise_parts_and_other_exercises(desk):
    (desk / "pull-chain.wire").write_text(PART)
    (desk / "other.wire").write_text(with_changes(("Stair light", "Hall light"), text=TEXT))
    (desk / "faults.wire").write_text('faults for "Stair light"\nfault 1 L1 burnt out\n')
    (desk / ".hidden.wire").write_text(RIGHT)
    (desk / "readme.txt").write_text("To Friday.")
    done = grade(
        "exercise.wire", desk, desk / "class" / "bo.wire", "class/../class/bo.wire", "--format", "csv"
    )
    assert [one["student"] for one in rows(done.stdout)] == ["Ana Ruiz", "bo", "cy"]
    assert "Skipped, since each holds a part, an exercise, faults or a report, and no board" in one_line(
        done.stderr
    )
    assert all(name in done.stderr for name in ("other.wire", "pull-chain.wire", "faults.wire"))
    # Named by itself, such a file is somebody's work, and worth nothing.
    done = grade("exercise.wire", "other.wire", "pull-chain.wire", "nobody.wire", "--format", "csv")
    assert [one["score"] for one in rows(done.stdout)] == ["0", "0", "0"]
    assert [one["refused"].split(",")[0] for one in rows(done.stdout)] == [
        "It is not a board: it is an exercise",
        "It is not a board: it is a part",
        "nobody.wire cannot be read: there is no such file or folder.",
    ]


@pytest.mark.slow
def test_two_works_under_one_name_are_both_there_and_it_is_said(desk):
    (desk / "class" / "thief.wire").write_text(named(" ana  RUIZ ", LOOSE))
    done = grade("exercise.wire", "class", "--format", "json", "--record", "term.db", "--pages", "pages")
    data = json.loads(done.stdout)
    assert [one["student"] for one in data["works"]] == ["Ana Ruiz", "bo", "cy", "ana  RUIZ"]
    assert data["class"]["one_name"] == [
        {"student": "Ana Ruiz", "files": ["class/ana.wire", "class/thief.wire"]}
    ]
    assert "Works under one name" in (desk / "pages" / "class.html").read_text()
    text = one_line(grade("exercise.wire", "class").output)
    assert "Ana Ruiz: class/ana.wire and class/thief.wire" in text


NAMES = [
    "=cmd|' !A0.wire",
    "-o.wire",
    "@sum(A1).wire",
    "a b\tc.wire",
    "new\nline.wire",
    "<script>alert(1)<script>.wire",
    "..wire",
    "..%2f..%2fclass.wire",
    "\u202egnp.wire",
    "na\u00efve \U0001f50c.wire",
    "\udcff\udcfe.wire",
    "n" * 250 + ".wire",
    "class.html.wire",
    "con.wire",
]


@pytest.mark.slow
def test_files_of_all_names_are_graded_and_have_a_page(desk):
    (desk / "odd").mkdir()
    for number, name in enumerate(NAMES):
        (desk / "odd" / name).write_text(RIGHT if number % 2 else LOOSE)
    done = grade("exercise.wire", "odd", "--pages", "pages", "--record", "term.db", "--format", "csv")
    assert done.exit_code == 0
    table = rows(done.stdout)
    # What begins with a dot is hidden, and not a work.
    assert len(table) == len(NAMES) - 2
    assert sorted(one["score"] for one in table) == ["100"] * 6 + ["70"] * 6
    assert not any(one["student"].lstrip('"').startswith(tuple("=+-@\t\r")) for one in table)
    pages = os.listdir("pages")
    assert len(pages) == len(NAMES) - 1 and all(page.isascii() and len(page) < 80 for page in pages)
    assert not any(
        set(page) - set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-.") for page in pages
    )
    again = grade("exercise.wire", "odd", "--record", "term.db", "--format", "csv")
    assert again.stdout == done.stdout


def test_standard_input_is_a_work_as_any(desk):
    done = grade("exercise.wire", "-", "class/bo.wire", "--format", "csv", stdin=named("Di", RIGHT))
    assert [(one["student"], one["file"], one["score"]) for one in rows(done.stdout)] == [
        ("Di", "'-", "100"),
        ("bo", "class/bo.wire", "70"),
    ]


@pytest.mark.slow
def test_it_is_quiet_and_whole_as_a_process(desk):
    for name, text in works("stair-light", 8):
        (desk / "class" / name).write_text(text)
    first = wirecheck("grade", "exercise.wire", "class", "--format", "csv", "--pages", "one", "--jobs", "1")
    second = wirecheck("grade", "exercise.wire", "class", "--format", "csv", "--pages", "two", "--jobs", "2")
    assert (first.returncode, first.stderr) == (second.returncode, second.stderr) == (0, b"")
    assert first.stdout == second.stdout and len(rows(first.stdout.decode())) == 11
    assert sorted(os.listdir("one")) == sorted(os.listdir("two"))
    for page in os.listdir("one"):
        assert (desk / "one" / page).read_bytes() == (desk / "two" / page).read_bytes()


@pytest.mark.slow
def test_a_slip_in_a_name_is_not_entered_by_eye(desk):
    """What is entered stays."""
    grade("exercise.wire", "class/ana.wire", "--record", "term.db")
    common = ("exercise.wire", "--stage", "trim", "--record", "term.db", "--points", "3")
    slip = (*common, "--by-eye", "Ana Riuz")
    done = grade(*slip)
    assert done.exit_code == 2 and "nothing was entered. Did you mean Ana Ruiz?" in one_line(done.output)
    assert "Riuz" not in grade("exercise.wire", "--record", "term.db").output
    # She may be another student after all.
    assert "name one student" in grade(*slip, "--by-eye", "Ana Riux").output
    assert grade(*slip, "--by-eye", "Ana Riuz").exit_code == 0
    assert "Riuz" in grade("exercise.wire", "--record", "term.db").output
    assert grade(*slip).exit_code == 0


def test_a_work_that_took_too_long_has_the_name_that_it_says():
    ended = Ended("It took too long.", "")
    for student, said in (("Ana Ruiz", "Ana Ruiz"), (None, "ana")):
        done = result(Named("class/ana.wire", True), Worked(ended, student), stair(), None)
        assert (done.sheet.student, done.sheet.score) == (said, 0)


@pytest.mark.slow
def test_what_is_no_wire_file_in_a_folder_is_said(desk):
    (desk / "class" / "di.wire.txt").write_text(RIGHT)
    (desk / "class" / ".hidden").write_text("")
    done = grade("exercise.wire", "class", "-f", "csv")
    assert done.exit_code == 0 and len(rows(done.stdout)) == 3
    assert one_line(done.stderr) == (
        "wirecheck: Passed over is 1 file whose name does not end in .wire: class/di.wire.txt."
    )
