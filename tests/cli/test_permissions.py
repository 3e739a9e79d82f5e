"""What the user may not read or write is said in a sentence, and stops nothing else.

Permissions bind an administrator as well, once the process gives up the right to pass over them.
"""

import ctypes
import os

import pytest

from tests.cli.boards import NEVER_LIT, RIGHT, wirecheck

UNTIDY = RIGHT.replace("  W1.black -- S1.line", "W1.black   --S1.line")
# The numbers that Linux gives to what a process gives up, <linux/prctl.h> and <linux/capability.h>.
DROP_FROM_BOUNDING_SET, PASS_OVER_PERMISSIONS, PASS_OVER_READING = 24, 1, 2


def bound_by_permissions():
    """What the program that is started now may not do; who is no administrator has none of it to give up."""
    for right in (PASS_OVER_PERMISSIONS, PASS_OVER_READING):
        ctypes.CDLL(None).prctl(DROP_FROM_BOUNDING_SET, right, 0, 0, 0)


def bound(*arguments, folder):
    return wirecheck(*arguments, folder=folder, preexec_fn=bound_by_permissions)


@pytest.fixture
def work(tmp_path):
    """Boards: one may not be read, one not be listed, one not be written, one not in its folder."""
    for name in ("board.wire", "closed.wire", "shut/in.wire", "kept.wire", "still/in.wire"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(UNTIDY)
    for name, mode in (("closed.wire", 0), ("shut", 0), ("kept.wire", 0o444), ("still", 0o555)):
        (tmp_path / name).chmod(mode)
    yield tmp_path
    (tmp_path / "shut").chmod(0o700)
    (tmp_path / "still").chmod(0o700)


NOT_READ = [
    f"wirecheck: {name} cannot be read: you do not have permission." for name in ("shut", "closed.wire")
]


@pytest.mark.slow
@pytest.mark.parametrize("command", [("check", "."), ("draw", ".", "-o", "page.html")])
def test_what_may_not_be_read_is_named_and_the_rest_goes_on(work, command):
    done = bound(*command, folder=work)
    assert done.returncode == 2
    assert sorted(done.stderr.decode().splitlines()) == sorted(NOT_READ)
    page = done.stdout if command[0] == "check" else (work / "page.html").read_bytes()
    for name in ("board.wire", "kept.wire", "still/in.wire"):
        assert name.encode() in page


def test_what_may_not_be_written_stays_and_the_rest_is_tidied(work):
    done = bound("tidy", ".", folder=work)
    assert done.returncode == 2
    assert sorted(done.stderr.decode().splitlines()) == sorted(
        NOT_READ
        + [
            f"wirecheck: {name} cannot be written: you do not have permission. Nothing was changed."
            for name in ("kept.wire", "still/in.wire")
        ]
    )
    assert done.stdout == b"board.wire tidied\n"
    for name in ("closed.wire", "shut"):
        (work / name).chmod(0o700)
    for name in ("closed.wire", "shut/in.wire", "kept.wire", "still/in.wire"):
        assert (work / name).read_text() == UNTIDY
    assert sorted(os.listdir(work / "still")) == ["in.wire"]


@pytest.mark.slow
def test_a_file_named_by_itself_and_an_output(work):
    (work / "board.wire").write_text(NEVER_LIT)
    for named in ("closed.wire", "shut/in.wire"):
        done = bound("check", named, folder=work)
        assert (done.returncode, done.stdout) == (2, b"")
        assert done.stderr.decode() == f"wirecheck: {named} cannot be read: you do not have permission.\n"
    (work / "report.txt").write_text("old")
    (work / "report.txt").chmod(0o444)
    for output in ("report.txt", "still/report.txt", "shut/report.txt"):
        done = bound("check", "board.wire", "-o", output, folder=work)
        assert done.returncode == 2
        assert done.stderr.decode() == (
            f"wirecheck: {output} cannot be written: you do not have permission. Nothing was changed.\n"
        )
    assert (work / "report.txt").read_text() == "old"
    assert os.listdir(work / "still") == ["in.wire"]
