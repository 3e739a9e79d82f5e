"""What is written: whole or not at all, in the place that is meant, and nothing beside it."""

import errno
import os
import signal
import socket
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from wirecheck import whole

ROOT = Path(__file__).parent.parent


def test_a_file_is_replaced_whole_and_keeps_its_mode_and_its_link(tmp_path):
    board, link = tmp_path / "b.wire", tmp_path / "link.wire"
    board.write_bytes(b"old")
    board.chmod(0o640)
    link.symlink_to(board)
    whole.write_whole(link, b"new")
    assert (board.read_bytes(), link.is_symlink()) == (b"new", True)
    assert stat.S_IMODE(board.stat().st_mode) == 0o640
    assert sorted(path.name for path in tmp_path.iterdir()) == ["b.wire", "link.wire"]


def test_a_new_file_has_the_usual_mode(tmp_path):
    whole.write_whole(tmp_path / "new.wire", b"x")
    (tmp_path / "other").write_bytes(b"x")
    assert (tmp_path / "new.wire").stat().st_mode == (tmp_path / "other").stat().st_mode


def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch):
    board = tmp_path / "b.wire"
    board.write_bytes(b"old")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space"):
        whole.write_whole(board, b"new")
    assert board.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["b.wire"]


def names(folder):
    return sorted(path.name for path in folder.iterdir())


@pytest.mark.parametrize("way", ["without a name", "with a name"])
def test_both_ways_of_writing_leave_the_file_and_nothing_else(tmp_path, monkeypatch, way):
    if way == "with a name":
        monkeypatch.delattr(os, "O_TMPFILE")
    for data in (b"one", b"two", b""):
        whole.write_whole(tmp_path / "file", data)
        assert ((tmp_path / "file").read_bytes(), names(tmp_path)) == (data, ["file"])


@pytest.mark.parametrize("call", ["link", "replace", "fsync"])
@pytest.mark.parametrize("way", ["without a name", "with a name"])
@pytest.mark.parametrize("stop", [KeyboardInterrupt, OSError(errno.ENOSPC, "No space left on device")])
def test_what_stops_a_write_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch, call, way, stop):
    """After the call as well as before it: the name beside the file is there then."""
    (tmp_path / "file").write_bytes(b"old")
    if way == "with a name":
        monkeypatch.delattr(os, "O_TMPFILE")
        call = "fsync" if call == "link" else call

    def stopped(done, *arguments, **named):
        if call == "link":
            done(*arguments, **named)
        raise stop

    done = getattr(os, call)
    monkeypatch.setattr(os, call, lambda *arguments, **named: stopped(done, *arguments, **named))
    if call == "link" and isinstance(stop, OSError):
        whole.write_whole(tmp_path / "file", b"new")  # The other way did it.
    else:
        with pytest.raises(type(stop) if isinstance(stop, OSError) else stop):
            whole.write_whole(tmp_path / "file", b"new")
        assert (tmp_path / "file").read_bytes() == b"old"
    assert names(tmp_path) == ["file"]


def test_a_name_that_is_taken_while_the_file_is_written_is_replaced(tmp_path, monkeypatch):
    link = os.link

    def taken(source, target, **named):
        if target == tmp_path / "file":
            target.write_bytes(b"theirs")
        link(source, target, **named)

    monkeypatch.setattr(os, "link", taken)
    whole.write_whole(tmp_path / "file", b"ours")
    assert ((tmp_path / "file").read_bytes(), names(tmp_path)) == (b"ours", ["file"])


def killed_between_two_names(folder):
    """A process that is killed where nothing can be done about it; its number."""
    program = (
        "import os, signal, sys; from wirecheck import whole\n"
        "os.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)\n"
        "whole.write_whole(sys.argv[1], b'new')"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program, folder / "file"], env={**os.environ, "PYTHONPATH": str(ROOT)}
    ) as run:
        assert run.wait() == -signal.SIGKILL
    return run.pid


def test_what_a_killed_process_left_is_cleared_away_once_it_is_old(tmp_path):
    """Only what is ours by its name, a file, old, and of a process that is gone."""
    (tmp_path / "file").write_bytes(b"old")
    process = killed_between_two_names(tmp_path)
    (left,) = tmp_path.glob(f".wirecheck-{process}-*")
    assert (tmp_path / "file").read_bytes() == b"old"
    for name in (
        f".wirecheck-{os.getpid()}-0123456789abcdef",
        f".wirecheck-{process}-0123",
        ".wirecheck-notes",
        f"wirecheck-{process}-0123456789abcdef",
    ):
        (tmp_path / name).write_bytes(b"")
        os.utime(tmp_path / name, (0, 0))
    (tmp_path / f".wirecheck-{process}-aaaaaaaaaaaaaaaa").mkdir()
    (tmp_path / f".wirecheck-{process}-bbbbbbbbbbbbbbbb").symlink_to("file")
    stay = sorted({*names(tmp_path)} - {left.name})
    whole._clear_away.cache_clear()
    whole.write_whole(tmp_path / "file", b"new")
    assert names(tmp_path) == sorted([*stay, left.name]), "it is not old yet"
    os.utime(left, (time.time() - 3700, time.time() - 3700))
    whole._clear_away.cache_clear()
    whole.write_whole(tmp_path / "file", b"newer")
    assert names(tmp_path) == stay


@pytest.mark.parametrize(
    "name", ["board.wire", "board.WIRE", "soft.txt", "new.Wire", "chain.txt", "nowhere.txt"]
)
def test_an_output_is_never_a_board(tmp_path, name):
    (tmp_path / "board.wire").write_bytes(b"board")
    (tmp_path / "soft.txt").symlink_to("board.wire")
    (tmp_path / "chain.txt").symlink_to("soft.txt")
    (tmp_path / "nowhere.txt").symlink_to("nowhere.wire")
    before = names(tmp_path)
    with pytest.raises(whole.IsABoard, match=r"ends in \.wire"):
        whole.put_out(tmp_path / name, b"report")
    assert ((tmp_path / "board.wire").read_bytes(), names(tmp_path)) == (b"board", before)


def test_a_pipe_a_socket_and_a_folder_take_nothing_and_a_device_does(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(str(tmp_path / "socket"))
    for name, why in (("pipe", "it is a pipe"), ("socket", "it is a socket"), (".", "directory")):
        with pytest.raises(OSError, match=why):
            whole.write_whole(tmp_path / name, b"x")
    whole.write_whole(os.devnull, b"x")
    with pytest.raises(OSError, match="No space"):
        whole.write_whole("/dev/full", b"x")


def test_a_new_file_is_written_without_a_name_where_the_system_can(tmp_path, monkeypatch):
    """So that a process that is killed leaves nothing: no file has a name before it is whole."""
    monkeypatch.setattr(os, "fsync", lambda _: seen.append(names(tmp_path)))
    seen = []
    whole.write_whole(tmp_path / "file", b"new")
    whole.write_whole(tmp_path / "file", b"newer")
    assert seen == [[], ["file"]] or not hasattr(os, "O_TMPFILE")
