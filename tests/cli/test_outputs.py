"""No output lands on an input; what takes no output ends the run in a sentence, or in none."""

import fcntl
import os
import shutil
import subprocess
import sys

import pytest

from tests.cli.boards import NEVER_LIT, PART, RIGHT, ROOT, wirecheck

# Its report is more than a small pipe holds.
LARGE = RIGHT + "".join(f"cap W1.black{number}\n" for number in range(90))


@pytest.fixture
def work(tmp_path):
    """A board that goes by several names, and a part beside it that does too."""
    (tmp_path / "in.wire").write_text(NEVER_LIT)
    (tmp_path / "notes.txt").write_text(NEVER_LIT)
    (tmp_path / "pull-chain.wire").write_text(PART)
    (tmp_path / "within").mkdir()
    os.link(tmp_path / "in.wire", tmp_path / "hard.txt")
    os.link(tmp_path / "pull-chain.wire", tmp_path / "part.html")
    (tmp_path / "soft.txt").symlink_to("in.wire")
    (tmp_path / "other.svg").symlink_to("within/../notes.txt")
    return tmp_path


def kept(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("check in.wire -o in.wire", "in.wire cannot be written: it ends in .wire"),
        ("check in.wire -o within/../in.wire", "within/../in.wire cannot be written: it ends in .wire"),
        ("check in.wire -o new.WIRE", "new.WIRE cannot be written: it ends in .wire"),
        ("check in.wire -o pull-chain.wire", "pull-chain.wire cannot be written: it ends in .wire"),
        ("check in.wire -o soft.txt", "soft.txt cannot be written: it ends in .wire"),
        ("check in.wire -o hard.txt", "hard.txt is read by this command"),
        ("check in.wire -o part.html", "part.html is read by this command"),
        ("check . -o hard.txt", "hard.txt is read by this command"),
        ("check notes.txt -o notes.txt", "notes.txt is read by this command"),
        ("check in.wire notes.txt -o within/../notes.txt", "within/../notes.txt is read by this command"),
        ("draw notes.txt -o other.svg", "other.svg is read by this command"),
        ("draw . -o part.html", "part.html is read by this command"),
        ("draw in.wire --steps --call heat -o part.html", "part.html is read by this command"),
        ("checklist in.wire -o soft.txt", "soft.txt cannot be written: it ends in .wire"),
        ("materials notes.txt -o notes.txt", "notes.txt is read by this command"),
        ("labels notes.txt -o notes.txt", "notes.txt is read by this command"),
        ("checklist notes.txt -o notes.txt", "notes.txt is read by this command"),
        ("sequence notes.txt --call heat -o other.svg", "other.svg is read by this command"),
        ("sequence in.wire --faults notes.txt --fault 1 -o other.svg", "other.svg is read by this command"),
        ("trouble in.wire --sheet --faults notes.txt -o notes.txt", "notes.txt is read by this command"),
        ("trouble in.wire --sheet --script notes.txt -o notes.txt", "notes.txt is read by this command"),
    ],
)
def test_no_output_lands_on_an_input(work, command, said):
    before = kept(work)
    done = wirecheck(*command.split(), folder=work)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.decode().startswith(f"wirecheck: {said}")
    assert len(done.stderr.splitlines()) == 1
    assert kept(work) == before


def test_no_output_lands_on_a_part_of_a_folder_that_is_named_for_them(work):
    (work / "within" / "mine.wire").write_text(PART)
    os.link(work / "within" / "mine.wire", work / "mine.txt")
    done = wirecheck("check", "in.wire", "--parts", "within", "-o", "mine.txt", folder=work)
    assert (done.returncode, done.stdout) == (2, b"")
    assert (work / "mine.txt").read_text() == PART


def test_nor_on_the_file_that_standard_input_comes_from(work):
    with (work / "notes.txt").open("rb") as board:
        done = subprocess.run(
            [sys.executable, "-m", "wirecheck", "check", "-", "-o", "notes.txt"],
            stdin=board,
            cwd=work,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            check=False,
        )
    assert done.returncode == 2
    assert (work / "notes.txt").read_text() == NEVER_LIT


@pytest.mark.slow
def test_the_demo_draws_over_no_board(work):
    (work / "demo.svg").symlink_to("in.wire")
    done = wirecheck("demo", folder=work)
    assert done.returncode == 2
    assert (work / "in.wire").read_text() == NEVER_LIT


@pytest.mark.slow
def test_an_output_goes_where_users_send_it(work):
    report = wirecheck("check", "in.wire", folder=work).stdout
    assert report
    assert wirecheck("check", "in.wire", "-o", "-", folder=work).stdout == report
    assert wirecheck("check", "in.wire", "-o", "/dev/stdout", folder=work).stdout == report
    assert wirecheck("check", "in.wire", "-o", "/dev/stderr", folder=work).stderr == report
    nowhere = wirecheck("check", "in.wire", "-o", "/dev/null", folder=work)
    assert (nowhere.returncode, nowhere.stdout, nowhere.stderr) == (1, b"", b"")


def test_what_was_in_a_file_that_standard_output_goes_to_stays_before_it(work):
    """As with `>> file`: it is open already, and is not replaced."""
    with (work / "log").open("ab") as log:
        log.write(b"before\n")
        log.flush()
        subprocess.run(
            [sys.executable, "-m", "wirecheck", "check", "in.wire", "-o", "/dev/stdout"],
            stdout=log,
            cwd=work,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            check=False,
        )
    assert (work / "log").read_bytes().startswith(b"before\nBoathouse lamp")


@pytest.mark.slow
def test_a_folder_a_pipe_and_a_full_disk_take_no_output(work):
    os.mkfifo(work / "pipe")
    for name, why in (
        ("within", "it is a folder"),
        ("pipe", "it is a pipe, not a file"),
        ("/dev/full", "the disk is full"),
        ("none/report.txt", "there is no such file or folder"),
        ("x" * 300, "its name is too long"),
        ("in.wire/report.txt", "part of its path is not a folder"),
    ):
        done = wirecheck("check", "in.wire", "-o", name, folder=work)
        assert done.returncode == 2
        assert done.stderr.decode() == f"wirecheck: {name} cannot be written: {why}. Nothing was changed.\n"


def shell(line, folder):
    """A line of the shell, for what only a shell does: the streams that are closed, full, or left early."""
    command = f"{sys.executable} -W error -m wirecheck"
    return subprocess.run(
        [shutil.which("bash"), "-c", line.replace("wirecheck", command, 1)],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        timeout=60,
        check=False,
    )


FULL = b"wirecheck: the output could not be written: No space left on device.\n"


@pytest.mark.slow
@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("kind", ["text", "sarif"])
def test_no_part_of_a_report_is_lost_without_a_word(work, kind, unbuffered):
    """A pipe takes a part and its reader leaves, as `| head -1` does: that is not the whole of it."""
    (work / "large.wire").write_text(LARGE)
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": unbuffered}
    command = [sys.executable, "-m", "wirecheck", "check", "large.wire", "-f", kind]
    with subprocess.Popen(
        command, cwd=work, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as run:
        fcntl.fcntl(run.stdout, fcntl.F_SETPIPE_SZ, 4096)
        assert run.stdout.read(1)
        run.stdout.close()
        assert (run.wait(60), run.stderr.read()) == (141, b"")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("line", "status", "said"),
    [
        ("wirecheck check in.wire >&-", 1, b""),
        ("wirecheck check in.wire 2>&- >/dev/null", 1, b""),
        ("wirecheck check none.wire 2>&-", 2, b""),
        ("wirecheck check in.wire -o report.txt >&- 2>&- <&-", 1, b""),
        ("wirecheck check - <&- 2>/dev/null", 2, b""),
        ("wirecheck check in.wire >/dev/full", 2, FULL),
        ("wirecheck check in.wire >/dev/full 2>&1", 2, b""),
        ("wirecheck check none.wire 2>/dev/full", 2, b""),
        ("wirecheck check --none 2>/dev/full", 2, b""),
        ("wirecheck --help >/dev/full", 2, FULL),
        ("wirecheck check --help >/dev/full", 2, FULL),
        ("wirecheck tidy - <in.wire >/dev/full", 2, FULL),
        ("wirecheck draw in.wire -o - >/dev/full", 2, FULL),
        ("wirecheck check large.wire | true; exit ${PIPESTATUS[0]}", 141, b""),
        ("wirecheck check large.wire -o /dev/stdout | true; exit ${PIPESTATUS[0]}", 141, b""),
        ("wirecheck rules 2>&1 | true; exit ${PIPESTATUS[0]}", 141, b""),
    ],
)
def test_an_output_that_is_closed_full_or_left_early(work, line, status, said):
    (work / "large.wire").write_text(LARGE)
    done = shell(line, work)
    assert (done.returncode, done.stderr) == (status, said)
    if "report.txt" in line:
        assert (work / "report.txt").read_bytes().startswith(b"Boathouse lamp")
