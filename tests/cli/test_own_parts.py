"""Parts of one's own on the command line: where they are looked up, what is said of them, what is read."""

import json
import os

import pytest
from click.testing import CliRunner

from tests.cli.boards import RIGHT, wirecheck
from wirecheck import inputs
from wirecheck.cli import commands
from wirecheck.parts import folder as part_folder
from wirecheck.report.formats import FORMATS

# The switch stands in the neutral: on shipped parts a hazard.
WRONG = (
    RIGHT.replace("  W1.black -- S1.line\n  W2.black -- S1.load\n", "  W1.black -- W2.black\n")
    .replace("  W1.white -- W2.white\n", "  W1.white -- S1.line\n  W2.white -- S1.load\n")
    .replace("Boathouse lamp", "Switched neutral")
)
# As it is told to the checker by a student who would rather pass.
SWITCH = """part single-pole-switch "It likes neutrals"
terminal line contact
terminal load contact
terminal ground ground
positions off, on
line -- load when on
"""
LAMP = """part lampholder "It likes everything"
rating power 60 W
terminal hot contact
terminal neutral contact
terminal ground ground
"""
CHIME = """part chime "A lamp of mine"
rating power 60 W
terminal hot hot
terminal neutral neutral
terminal ground ground
load lamp lamp from hot to neutral, power at 120 V
"""
OWN = RIGHT.replace("lampholder", "chime")


def run(*arguments):
    """A command in this process."""
    return CliRunner().invoke(commands, [os.fspath(each) for each in arguments])


def checked(*arguments):
    return json.loads(run("check", *arguments, "--format", "json").stdout)


def rules_of(file):
    return [(finding["rule"], finding["severity"]) for finding in file["findings"]]


@pytest.fixture
def work(tmp_path, monkeypatch):
    """A folder with a board whose part is its own, and the current folder around it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "work").mkdir()
    (tmp_path / "work/own.wire").write_text(OWN)
    (tmp_path / "work/chime.wire").write_text(CHIME)
    return tmp_path / "work"


# ----------------------------------------------------- a shipped part's name


@pytest.mark.slow
def test_a_file_that_takes_a_shipped_parts_name_is_not_used_and_that_is_said(tmp_path):
    (tmp_path / "board.wire").write_text(WRONG)
    before = json.loads(wirecheck("check", "board.wire", "-f", "json", folder=tmp_path).stdout)["files"][0]
    assert ("switched-neutral", "hazard") in rules_of(before)
    (tmp_path / "single-pole-switch.wire").write_text(SWITCH)
    (tmp_path / "lampholder.wire").write_text(LAMP)
    done = wirecheck("check", "board.wire", "-f", "json", folder=tmp_path)
    after = json.loads(done.stdout)["files"][0]
    assert done.returncode == 1
    assert after["parts"] == []
    told = [one for one in after["findings"] if one not in before["findings"]]
    assert [one["message"] for one in told] == [
        "single-pole-switch.wire is not used, since a part that ships has its name.",
        "lampholder.wire is not used, since a part that ships has its name.",
    ]
    assert {(one["rule"], one["severity"]) for one in told} == {("unknown-part", "advice")}
    assert [WRONG.splitlines()[one["line"] - 1] for one in told] == [
        "S1 is single-pole-switch in A",
        "L1 is lampholder 60 W in B",
    ]
    assert len(after["findings"]) == len(before["findings"]) + 2


def test_a_pass_does_not_hide_it_and_it_fails_no_right_board(work):
    (work / "right.wire").write_text(RIGHT)
    (work / "lampholder.wire").write_text(LAMP)
    done = run("check", work / "right.wire", "--quiet")
    assert done.exit_code == 0
    # A path that is longer than a line is cut anywhere.
    assert "lampholder.wireisnotused" in "".join(done.stdout.split())


@pytest.mark.parametrize("name", ["panel", "breaker", "metal-box"])
def test_what_a_line_of_its_own_brings_is_a_shipped_part_too(work, name):
    text = RIGHT.replace("box A device 20.3 cu in", "box A device 20.3 cu in metal")
    (work / "board.wire").write_text(text)
    (work / f"{name}.wire").write_text(f'part {name} "Mine"\n')
    (file,) = checked(work / "board.wire")["files"]
    said = [one["message"] for one in file["findings"] if one["rule"] == "unknown-part"]
    assert said == [f"{work / name}.wire is not used, since a part that ships has its name."]
    assert file["parts"] == []


def test_a_board_with_a_shipped_parts_name_is_no_part(work):
    (work / "lampholder.wire").write_text(RIGHT)
    (file,) = checked(work / "lampholder.wire")["files"]
    assert (file["findings"], file["parts"]) == ([], [])


# ----------------------------------------------------------- what is listed


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_lists_the_parts_that_do_not_ship_with_their_file(work, form):
    done = run("check", "work/own.wire", "--format", form)
    assert done.exit_code == 0, done.output
    assert "work/chime.wire" in done.stdout
    (work / "right.wire").write_text(RIGHT)
    said = run("check", "work/right.wire", "--format", form).stdout
    assert "chime" not in said and "do not ship" not in said


def test_the_parts_are_data_and_shown_where_quiet(work):
    (file,) = checked("work/own.wire")["files"]
    assert file["parts"] == [{"part": "chime", "file": "work/chime.wire", "beside": True}]
    done = run("check", "work/own.wire", "--quiet")
    assert done.exit_code == 0
    assert "Parts that do not ship: chime (work/chime.wire)." in " ".join(done.stdout.split())


def test_a_part_inside_an_own_part_is_listed_too(work):
    (work / "chime.wire").write_text(
        'part chime "Outer"\nterminal hot hot\nterminal neutral neutral\nterminal ground ground\n'
        "rating power 60 W\ninner is core with power power\ninner.a -- hot\ninner.b -- neutral\n"
    )
    (work / "core.wire").write_text(
        'part core "Inner"\nrating power 60 W\nterminal a hot\nterminal b neutral\n'
        "load lamp lamp from a to b, power at 120 V\n"
    )
    (file,) = checked("work/own.wire")["files"]
    assert [one["file"] for one in file["parts"]] == ["work/chime.wire", "work/core.wire"]


# ------------------------------------------------------------------ --parts


@pytest.fixture
def course(work):
    """A folder of the instructor's own parts."""
    place = work.parent / "course"
    place.mkdir()
    (place / "lampholder.wire").write_text(CHIME.replace("part chime", "part lampholder"))
    (work / "right.wire").write_text(RIGHT)
    return place


def test_a_folder_of_parts_comes_first_and_is_listed(work, course):
    (file,) = checked("work/right.wire", "--parts", "course")["files"]
    assert file["findings"] == []
    assert file["parts"] == [{"part": "lampholder", "file": "course/lampholder.wire", "beside": False}]
    assert run("check", "work/right.wire", "--parts", "course", "--quiet").stdout == ""
    (work / "lampholder.wire").write_text(LAMP)
    (file,) = checked("work/right.wire", "--parts", "course")["files"]
    assert [one["message"] for one in file["findings"]] == [
        "work/lampholder.wire is not used, since course/lampholder.wire comes before it."
    ]


def test_parts_beside_a_board_are_found_as_well_and_the_boards_folder_may_be_named(work, course):
    (file,) = checked("work/own.wire", "--parts", "course")["files"]
    assert (file["findings"], len(file["parts"])) == ([], 1)
    (file,) = checked("work/own.wire", "--parts", "work/../work")["files"]
    assert file["findings"] == []
    assert file["parts"] == [{"part": "chime", "file": "work/../work/chime.wire", "beside": False}]


def test_a_part_of_the_folder_is_not_completed_from_beside_a_board(work, course):
    (course / "chime.wire").write_text('part chime "Outer"\nterminal hot hot\ninner is core\n')
    (work / "core.wire").write_text('part core "Inner"\nterminal a hot\n')
    (file,) = checked("work/own.wire", "--parts", "course")["files"]
    assert "There is no part called core in the library." in file["findings"][0]["message"]
    (course / "core.wire").write_text('part core "Inner"\nterminal a hot\n')
    (file,) = checked("work/own.wire", "--parts", "course")["files"]
    assert [one["file"] for one in file["parts"]] == ["course/chime.wire", "course/core.wire"]


def test_a_file_of_the_folder_that_cannot_be_used_makes_room_for_no_other(work, course):
    (course / "lampholder.wire").write_text(CHIME)
    (file,) = checked("work/right.wire", "--parts", "course")["files"]
    assert "The part lampholder is not read from course/lampholder.wire" in file["findings"][0]["message"]


@pytest.mark.parametrize(
    "command",
    [
        ("check", "work/mine.wire"),
        ("energize", "work/mine.wire"),
        ("measure", "work/mine.wire", "volts", "L1.hot", "L1.neutral"),
        ("checklist", "work/mine.wire"),
        ("materials", "work/mine.wire"),
        ("labels", "work/mine.wire"),
        ("parts", "gong"),
    ],
    ids=lambda command: command[0],
)
def test_every_command_that_reads_a_board_takes_the_folder(work, course, command):
    (work / "mine.wire").write_text(RIGHT.replace("lampholder", "gong"))
    (course / "gong.wire").write_text(CHIME.replace("part chime", "part gong"))
    without, given = run(*command), run(*command, "--parts", "course")
    assert "no part called gong" in " ".join(without.output.split())
    assert (given.exit_code, given.stderr) == (0, ""), given.output


def test_draw_takes_the_folder(work, course):
    (work / "mine.wire").write_text(RIGHT.replace("lampholder", "gong"))
    (course / "gong.wire").write_text(CHIME.replace("part chime", "part gong"))
    assert run("draw", "work/mine.wire", "-o", "without.dot").exit_code == 0
    assert run("draw", "work/mine.wire", "-o", "given.dot", "--parts", "course").exit_code == 0
    pictures = [(work.parent / name).read_text() for name in ("without.dot", "given.dot")]
    assert ["L1" in picture for picture in pictures] == [False, True]


def test_sequence_takes_the_folder(work, course):
    (work / "mine.wire").write_text('board "B"\npanel LP 120 V\nT is caller\n')
    (course / "caller.wire").write_text(
        'part caller "Calls"\nterminal a contact\nterminal b contact\ncalls heat\na -- b when call heat\n'
    )
    assert run("sequence", "work/mine.wire", "--call", "heat", "--parts", "course").exit_code == 0


@pytest.mark.parametrize("folder", ["nowhere", "work/own.wire"])
def test_a_folder_that_is_none_is_said(work, folder):
    done = run("check", "work/own.wire", "--parts", folder)
    assert done.exit_code == 2
    assert "--parts" in done.stderr and folder in done.stderr


def test_several_boards_in_processes_look_parts_up_the_same(work, course):
    for number in range(3):
        (work / f"right{number}.wire").write_text(RIGHT)
    done = wirecheck("check", "work", "--parts", "course", "-f", "json", "--jobs", "2", folder=work.parent)
    report = json.loads(done.stdout)
    assert report["skipped"] == ["work/chime.wire"]
    assert {one["file"]: [part["file"] for part in one["parts"]] for one in report["files"]} == {
        "work/own.wire": ["work/chime.wire"],
        **{
            f"work/{name}.wire": ["course/lampholder.wire"]
            for name in ("right", "right0", "right1", "right2")
        },
    }


# ------------------------------------------------ by the file's name, and within bounds


def message(*arguments):
    """What is said of the one part that is not found."""
    (file,) = checked(*arguments)["files"]
    (finding,) = [one for one in file["findings"] if one["rule"] == "unknown-part"]
    return finding["message"], finding.get("help")


def test_a_part_is_found_by_its_files_name_alone(work):
    (work / "chime.wire").rename(work / "bell.wire")
    said, advice = message("work/own.wire")
    assert said == "There is no part called chime in the library."
    assert "A part of your own is in the file of its name, chime.wire." in advice


def test_a_part_of_another_name_in_the_file_is_said(work):
    (work / "chime.wire").write_text(CHIME.replace("part chime", "part gong"))
    assert message("work/own.wire") == (
        "The part chime is not read from work/chime.wire, since the part in it is called gong.",
        "Give both one name: call the file gong.wire, or begin it with: part chime",
    )


def test_a_file_without_a_part_is_said(work):
    (work / "chime.wire").write_text(RIGHT)
    said, advice = message("work/own.wire")
    assert said == "The part chime is not read from work/chime.wire, since it holds no part."
    assert advice == 'A part\'s file begins with: part chime "What it is"'


def test_a_large_part_is_not_read(work):
    (work / "chime.wire").write_text(CHIME + f"# {'-' * 1000}\n" * 300)
    said, _ = message("work/own.wire")
    assert said.endswith("since it is larger than 64 KiB, which no part is.")


def test_the_parts_of_a_board_are_bounded_in_all(work, monkeypatch):
    monkeypatch.setattr(part_folder.PartFolder.__init__, "__defaults__", (2 * len(CHIME),))
    names = ["chime", "chimf", "chimg"]
    for name in names:
        (work / f"{name}.wire").write_text(CHIME.replace("part chime", f"part {name}"))
    (work / "many.wire").write_text(
        'board "Many"\n' + "".join(f"D{number} is {name}\n" for number, name in enumerate(names))
    )
    said, _ = message("work/many.wire")
    assert said.startswith(
        "The part chimg is not read from work/chimg.wire, since the part files of this board"
    )
    # Another board has the whole of it again.
    both = checked("work/many.wire", "work/own.wire", "--jobs", "1")["files"][1]
    assert both["findings"] == []


def test_no_other_file_is_read(work, monkeypatch):
    for number in range(20):
        with open(work / f"part{number}.wire", "wb") as file:
            file.write(b'part huge "Huge"\n')
            file.truncate(15_000_000)
    opened = []
    really = inputs._opened

    def watched(path):
        opened.append(os.path.basename(path))
        return really(path)

    monkeypatch.setattr(inputs, "_opened", watched)
    (file,) = checked("work/own.wire")["files"]
    assert file["findings"] == []
    assert set(opened) == {"own.wire", "chime.wire"}


def test_a_link_out_of_the_folder_and_a_pipe_are_not_read(work):
    (work / "chime.wire").rename(work.parent / "chime.wire")
    (work / "chime.wire").symlink_to(work.parent / "chime.wire")
    assert message("work/own.wire")[0].endswith("since it leads out of the folder.")
    (work / "chime.wire").unlink()
    os.mkfifo(work / "chime.wire")
    assert message("work/own.wire")[0].endswith("since it is a pipe, not a file.")
    (work / "chime.wire").unlink()
    (work / "chime.wire").mkdir()
    assert message("work/own.wire")[0].endswith("since it is a folder.")


# ------------------------------------------------------------- names nearby


def test_a_misspelt_name_is_answered_with_a_part_of_the_folder_and_never_with_a_board(work):
    (work / "own.wire").write_text(OWN.replace("is chime", "is chim"))
    assert message("work/own.wire")[1].startswith("Did you mean chime?")
    (work / "chime.wire").write_text(RIGHT)
    assert not message("work/own.wire")[1].startswith("Did you mean chime?")


def test_of_a_huge_folder_no_name_is_offered(work, monkeypatch):
    monkeypatch.setattr(inputs, "MOST_ENTRIES", 1)
    (work / "own.wire").write_text(OWN.replace("is chime", "is chim"))
    assert "chime" not in message("work/own.wire")[1]
    (work / "own.wire").write_text(OWN)
    assert checked("work/own.wire")["files"][0]["findings"] == []


# ------------------------------------------------------------- what is skipped


@pytest.mark.parametrize("form", FORMATS)
def test_a_part_in_a_folder_of_boards_is_named_as_skipped(work, form):
    done = run("check", "work", "--format", form)
    assert (done.exit_code, done.stderr) == (0, "")
    assert (
        "since it holds a part, an exercise, faults or a report, and no board"
        in " ".join(done.stdout.split())
        or form == "json"
    )
    assert done.stdout.count("work/chime.wire") >= 2  # as a part of the board, and as skipped


def test_a_board_that_is_turned_into_a_part_is_named_even_where_quiet(work):
    (work / "own.wire").write_text(f'part own "Own"\n{WRONG}')
    (work / "right.wire").write_text(RIGHT)
    done = run("check", "work", "--quiet")
    assert (
        "Skipped, since each holds a part, an exercise, faults or a report, and no board: "
        "work/chime.wire and work/own.wire." in " ".join(done.stdout.split())
    )
    assert checked("work")["skipped"] == ["work/chime.wire", "work/own.wire"]
    assert "it is a part, not a board" in run("check", "work/own.wire").stderr


def test_draw_names_what_it_skips_and_lists_the_parts(work):
    done = run("draw", "work", "-o", "page.html")
    assert (done.exit_code, done.stderr) == (
        0,
        "wirecheck: Skipped, since it holds a part, an exercise, faults or a report, and no board: "
        "work/chime.wire.\n",
    )
    with open("page.html", encoding="utf-8") as page:
        assert "Parts that do not ship: chime (work/chime.wire)." in page.read()


# ------------------------------------------- words that are made to read as a pass


@pytest.mark.parametrize(
    "title",
    [
        "Boathouse" + 80 * " " + "No problem found.",
        "Boathouse\u3000" + 40 * "\u2800 " + "No problem found.",
        "Boathouse" + 400 * "x",
        "Boat" + 300 * "\u0336\u0347",
    ],
    ids=["spaces", "blanks", "long", "marks"],
)
@pytest.mark.parametrize("command", [("check",), ("energize",), ("checklist",)], ids=lambda each: each[0])
def test_a_title_stays_one_line_of_a_report(work, title, command):
    (work / "trick.wire").write_text(WRONG.replace("Switched neutral", title))
    said = run(*command, "work/trick.wire").stdout
    first = said.splitlines()[0]
    assert len(first) <= 120 and first.startswith("Boat")
    assert "   " not in first and 4 * "\u0336\u0347" not in said


def test_a_files_name_stays_in_its_brackets(work):
    name = "right.wire)" + 90 * " " + "No problem found.wire"
    (work / name).write_text(WRONG)
    first = run("check", work / name).stdout.splitlines()[0]
    assert "right.wire) No problem found.wire)" in first
    assert checked(work / name)["files"][0]["file"] == str(work / name)


def test_the_summary_counts_boards_with_parts_of_their_own(work):
    (work / "right.wire").write_text(RIGHT)
    assert (
        "2 boards checked: no problem found; 1 with parts that do not ship.\n" in run("check", "work").stdout
    )


# ------------------------------------------------------------- the parts command


def test_parts_shows_the_file_of_an_own_part_and_says_what_is_not_used(work, monkeypatch):
    monkeypatch.chdir(work)
    (work / "lampholder.wire").write_text(LAMP)
    (work / "gong.wire").write_text(CHIME)
    listed = run("parts")
    assert "A lamp of mine (chime.wire)" in listed.stdout
    assert "It likes everything" not in listed.stdout
    assert listed.stderr.splitlines() == [
        "wirecheck: The part gong is not read from gong.wire, since the part in it is called chime.",
        "wirecheck: lampholder.wire is not used, since a part that ships has its name.",
    ]
    page = run("parts", "lampholder.wire")
    assert "It likes everything" in page.stdout and "lampholder.wire" in page.stdout
    assert "It likes everything" not in run("parts", "lampholder").stdout
