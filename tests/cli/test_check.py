"""`wirecheck check` as a user runs it."""

import json
import os
import pty
import subprocess
import sys

import pytest

from tests.cli.boards import MISSPELT, NEVER_LIT, PART, RIGHT, ROOT, wirecheck


@pytest.fixture
def folder(tmp_path):
    for name, text in {
        "right": RIGHT,
        "misspelt": MISSPELT,
        "inner/dark": NEVER_LIT,
        "pull-chain": PART,
    }.items():
        path = tmp_path / f"{name}.wire"
        path.parent.mkdir(exist_ok=True)
        path.write_text(text)
    return tmp_path


def files_of(done):
    return {
        each["file"]: [found["rule"] for found in each["findings"]]
        for each in json.loads(done.stdout)["files"]
    }


def test_right_work_passes(folder):
    done = wirecheck("check", "right.wire", folder=folder)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"1 board checked: no problem found." in done.stdout
    assert b"no permit" in done.stdout


def test_findings_are_status_1_and_point_at_their_line(folder):
    done = wirecheck("check", "misspelt.wire", folder=folder)
    assert done.returncode == 1
    assert b"S1 is single-pole-swich in A" in done.stdout
    assert b"^^^^^^^^^^^^^^^" in done.stdout
    assert b"Did you mean single-pole-switch?" in done.stdout


def test_a_folder_is_its_boards_however_deep_and_not_its_parts(folder):
    done = wirecheck("check", folder, "--format", "json")
    assert done.returncode == 1
    found = files_of(done)
    assert sorted(os.path.relpath(name, folder) for name in found) == [
        "inner/dark.wire",
        "misspelt.wire",
        "right.wire",
    ]
    assert found[str(folder / "right.wire")] == []
    assert "unknown-part" in found[str(folder / "misspelt.wire")]


def test_one_bad_file_stops_no_other(folder):
    (folder / "empty.wire").write_text("")
    (folder / "letter.wire").write_text("Dear instructor,\nmy dog ate the board.\n")
    bad = ["missing.wire", "empty.wire", "letter.wire", "pull-chain.wire"]
    done = wirecheck("check", *bad, "right.wire", "--format", "json", folder=folder)
    assert done.returncode == 2
    assert files_of(done) == {"right.wire": []}
    complaints = done.stderr.decode().splitlines()
    assert len(complaints) == len(bad)
    for complaint, name in zip(complaints, bad, strict=True):
        assert complaint.startswith(f"wirecheck: {name} ")
    assert "Traceback" not in done.stderr.decode()


def test_standard_input(folder):
    done = wirecheck("check", "-", "--format", "json", stdin=RIGHT, folder=folder)
    assert (done.returncode, files_of(done)) == (0, {"-": []})


@pytest.mark.slow
def test_a_file_named_twice_is_checked_once(folder):
    done = wirecheck("check", "right.wire", "./right.wire", ".", "--format", "json", folder=folder)
    assert list(files_of(done)) == ["right.wire", "misspelt.wire", "inner/dark.wire"]


def test_an_empty_folder_is_no_work_done(tmp_path):
    done = wirecheck("check", tmp_path)
    assert done.returncode == 2
    assert b"no .wire file" in done.stderr


@pytest.mark.parametrize(
    "arguments", [["check"], ["check", "x.wire", "--format", "yaml"], ["chekc", "x.wire"], ["-z"]]
)
def test_bad_usage_is_status_2(arguments, folder):
    done = wirecheck(*arguments, folder=folder)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr


@pytest.mark.slow
def test_quiet_is_silent_on_right_work_only(folder):
    assert wirecheck("check", "-q", "right.wire", folder=folder).stdout == b""
    done = wirecheck("check", "--quiet", "right.wire", "misspelt.wire", folder=folder)
    assert done.returncode == 1
    assert b"unknown-part" in done.stdout
    assert b"boards checked" not in done.stdout


def test_a_stage_asks_nothing_of_later_ones(folder):
    rough = wirecheck("check", "inner/dark.wire", "--stage", "rough-in", "--format", "json", folder=folder)
    lit = wirecheck("check", "inner/dark.wire", "--format", "json", folder=folder)
    assert "switching" not in files_of(rough)["inner/dark.wire"]
    assert "switching" in files_of(lit)["inner/dark.wire"]


@pytest.mark.slow
def test_a_part_of_ones_own_beside_the_board_is_found(folder):
    own = RIGHT.replace("single-pole-switch", "my-switch")
    (folder / "own.wire").write_text(own)
    assert wirecheck("check", "own.wire", folder=folder).returncode == 1
    shipped = (ROOT / "wirecheck/parts/shipped/single-pole-switch.wire").read_text()
    (folder / "my-switch.wire").write_text(shipped.replace("part single-pole-switch", "part my-switch"))
    done = wirecheck("check", folder / "own.wire")
    assert (done.returncode, done.stderr) == (0, b""), done.stdout


@pytest.mark.slow
def test_the_report_is_written_whole_or_not_at_all(folder):
    report = folder / "report.json"
    report.write_text("old")
    report.chmod(0o640)
    done = wirecheck(
        "check", "right.wire", "--format", "json", "-o", report, "--color", "always", folder=folder
    )
    assert (done.returncode, done.stdout) == (0, b"")
    assert json.loads(report.read_text())["summary"]["hazard"] == 0
    assert report.stat().st_mode & 0o777 == 0o640
    assert sorted(path.name for path in folder.iterdir() if path.name.startswith(".")) == []
    failed = wirecheck("check", "right.wire", "-o", folder / "no" / "such" / "folder", folder=folder)
    assert failed.returncode == 2
    assert b"cannot be written" in failed.stderr
    onto_folder = wirecheck("check", "right.wire", "-o", folder / "inner", folder=folder)
    assert onto_folder.returncode == 2
    assert (folder / "inner" / "dark.wire").read_text() == NEVER_LIT


@pytest.mark.slow
def test_colors_go_where_they_are_asked_for(folder):
    assert b"\x1b[" not in wirecheck("check", "misspelt.wire", folder=folder).stdout
    assert b"\x1b[" in wirecheck("check", "misspelt.wire", "--color", "always", folder=folder).stdout


def on_a_terminal(folder, *arguments, **environment):
    """The output of a command that is given a terminal."""
    leader, follower = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "wirecheck", *arguments],
        cwd=folder,
        env={"PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "TERM": "xterm", **environment},
        stdout=follower,
        stderr=follower,
        stdin=subprocess.DEVNULL,
    )
    os.close(follower)
    told = b""
    try:
        while more := os.read(leader, 4096):
            told += more
    except OSError:  # Linux says so when the other end is closed.
        pass
    os.close(leader)
    process.wait(60)
    return told


@pytest.mark.slow
def test_a_terminal_gets_colors_unless_told_otherwise(folder):
    assert b"\x1b[" in on_a_terminal(folder, "check", "misspelt.wire")
    assert b"\x1b[" not in on_a_terminal(folder, "check", "misspelt.wire", NO_COLOR="1")
    assert b"\x1b[" not in on_a_terminal(folder, "check", "misspelt.wire", TERM="dumb")
    assert b"\x1b[" not in on_a_terminal(folder, "check", "misspelt.wire", "--color", "never")


@pytest.mark.slow
def test_progress_is_shown_on_long_work_and_leaves_the_report_alone(folder):
    for number in range(10):
        (folder / f"copy-{number}.wire").write_text(RIGHT)
    assert b"Checking" in on_a_terminal(folder, "check", ".")
    assert b"Checking" not in on_a_terminal(folder, "check", ".", "--quiet")
    assert wirecheck("check", ".", folder=folder).stderr == b""


def test_a_reader_that_leaves_early_is_no_trouble(folder):
    process = subprocess.Popen(
        [sys.executable, "-m", "wirecheck", "parts", "--color", "always"],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    process.stdout.close()
    errors = process.stderr.read()
    process.stderr.close()
    assert process.wait(60) == 141
    assert errors == b""


def test_a_full_disk_is_told(folder):
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "wirecheck", "check", "right.wire"],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 2
    assert b"could not be written" in done.stderr
    assert b"Traceback" not in done.stderr


HOSTILE = {
    "not UTF-8": b'board "A"\nbox \xff\xfe A device\n',
    "UTF-16": 'board "A"\n'.encode("utf-16"),
    "NUL": b'board "A"\x00\nbox A\x00 device\n',
    "a line of 1 MB": b'board "A"\n' + b"x" * 1_000_000,
    "nested": b'board "A"\n' + b"(" * 100_000,
    "joins without end": b'board "A"\n' + b"A -- \n" * 100_000,
    "terminal commands": 'board "\x1b]0;gone\x07\x1b[2J\u202e"\n\x9b31m is \x1b[31m\n'.encode(),
    "CRLF, a BOM and tabs": b"\xef\xbb\xbf" + RIGHT.replace("\n", "\r\n").replace("  ", "\t").encode(),
    "larger than a board can be": b'board "A"\n' + b"# nothing\n" * 1_800_000,
}


@pytest.mark.slow
@pytest.mark.parametrize("name", HOSTILE)
def test_whatever_the_bytes_there_is_an_answer(name):
    done = wirecheck("check", "-", stdin=HOSTILE[name])
    told = (done.stdout + done.stderr).decode()
    assert done.returncode in (1, 2) or name.startswith("CRLF")
    assert done.returncode == 0 or not name.startswith("CRLF")
    assert "Traceback" not in told
    assert not {char for char in told if char < " " or "\x7f" <= char < "\xa0" or char == "\u202e"} - {"\n"}
    assert len(told) < 200_000


def test_a_terminal_that_lacks_a_character_gets_an_answer_too(folder):
    (folder / "wide.wire").write_text(RIGHT.replace("Boathouse", "\u7bb1 B\u00f6\u00f6t"), encoding="utf-8")
    done = wirecheck("check", "wide.wire", folder=folder, PYTHONIOENCODING="latin-1")
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"\\u7bb1 B\xf6\xf6t lamp" in done.stdout
