"""What the user gives is bounded, is of the folder that was named, and is never waited for."""

import os
import socket
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wirecheck import inputs


def test_a_large_file_is_read_one_byte_past_the_bound(tmp_path, monkeypatch):
    monkeypatch.setattr(inputs, "MOST_BYTES", 10)
    board = tmp_path / "b.wire"
    board.write_bytes(b"x" * 50)
    assert len(inputs.read_board(board)) == 11
    with pytest.raises(OSError, match="b2"):
        inputs.read_board(tmp_path / "b2.wire")


def boards_in(folder):
    """The boards of a folder, what of it is passed over and why, and the folders that are refused."""
    refused, passed = [], []
    boards = list(inputs.boards_in(folder, refused.append, lambda path, why: passed.append((path, why))))
    return (
        [os.path.relpath(path, folder) for path in boards],
        [(os.path.relpath(path, folder), why) for path, why in passed],
        [os.path.relpath(error.filename, folder) for error in refused],
    )


def test_boards_of_a_folder_come_in_order_and_links_are_not_followed(tmp_path):
    for name in ("b.wire", "a.wire", "a.txt", ".hidden.wire", "in/c.wire", ".git/d.wire"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text("")
    (tmp_path / "in" / "again").symlink_to(tmp_path)
    assert boards_in(tmp_path) == (["a.wire", "b.wire", "in/c.wire"], [], [])


def test_a_pipe_in_a_folder_is_passed_by_and_a_broken_link_is_not(tmp_path):
    os.mkfifo(tmp_path / "pipe.wire")
    (tmp_path / "gone.wire").symlink_to(tmp_path / "nothing")
    (tmp_path / "here.wire").write_text('board "Here"')
    assert boards_in(tmp_path) == (
        ["gone.wire", "here.wire"],
        [("pipe.wire", "it is a pipe, not a file")],
        [],
    )


def socket_at(path):
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(str(path))


def test_what_a_folder_holds_is_its_own(tmp_path):
    """A link may lead about in the folder, and not out of it; nor is a way through another folder its own."""
    (tmp_path / "work").mkdir()
    (tmp_path / "out").mkdir()
    work, secret = tmp_path / "work", tmp_path / "out/secret.wire"
    secret.write_text("secret")
    (work / "own.wire").write_text("own")
    (work / "again.wire").symlink_to("own.wire")
    (work / "gone.wire").symlink_to("nothing.wire")
    (work / "file.wire").symlink_to(secret)
    (work / "chain.wire").symlink_to("file.wire")
    (work / "nowhere.wire").symlink_to("../nowhere.wire")
    (work / "out").symlink_to(tmp_path / "out")
    (work / "self.wire").symlink_to("self.wire")
    os.mkfifo(work / "pipe.wire")
    socket_at(work / "socket.wire")
    for name in ("own.wire", "again.wire", "gone.wire", "self.wire"):
        assert inputs.not_of_folder(work / name, work) == ""
    for name in ("file.wire", "chain.wire", "nowhere.wire", "out/secret.wire", "../out/secret.wire"):
        assert inputs.not_of_folder(work / name, work) == "it leads out of the folder", name
    assert inputs.not_of_folder(work / "pipe.wire", work) == "it is a pipe, not a file"
    assert inputs.not_of_folder(work / "socket.wire", work) == "it is a socket, not a file"
    assert inputs.not_of_folder("/dev/null", "/dev") == "it is a device, not a file"
    through = tmp_path / "through"
    through.symlink_to(work)
    assert inputs.not_of_folder(through / "own.wire", through) == ""
    assert inputs.not_of_folder(through / "own.wire", work) == ""


def test_a_pipe_a_socket_and_a_device_are_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.wire")
    socket_at(tmp_path / "socket.wire")
    for path in (tmp_path / "pipe.wire", tmp_path / "socket.wire", "/dev/zero"):
        with pytest.raises(inputs.NotAFile, match="not a file"):
            inputs.read_board(path)


def inside(folder, path):
    return Path(os.path.realpath(path)).is_relative_to(os.path.realpath(folder))


NAMES = st.sampled_from(["a", "b", "a.wire", "b.wire", "c.wire", ".d.wire", "e.txt"])
KINDS = st.sampled_from(["file", "link", "pipe"])
ENTRIES = st.lists(st.tuples(st.lists(NAMES, min_size=1, max_size=3), KINDS, st.integers(0, 9)), max_size=9)


@given(ENTRIES)
@settings(max_examples=40)
def test_every_board_of_a_folder_is_found_once_and_none_of_elsewhere(entries):
    """Folders of files, of pipes, and of links to anything there is, in it and out of it."""
    with TemporaryDirectory() as place:
        folder, out = Path(place, "work"), Path(place, "out")
        for each in (folder / "a", out / "b"):
            each.mkdir(parents=True)
        (out / "theirs.wire").write_text("theirs")
        targets = [folder, out, out / "b", out / "theirs.wire", place, folder / "nothing"]
        targets += ["nothing", "..", "a.wire"]
        for names, kind, target in entries:
            path = folder.joinpath(*names)
            try:
                path.parent.mkdir(parents=True, exist_ok=True)
            except OSError:
                continue
            if os.path.lexists(path) or not inside(folder, path.parent):
                continue
            if kind == "link":
                path.symlink_to([*targets, path][target])
            elif kind == "pipe":
                os.mkfifo(path)
            else:
                path.write_text("ours")
        found, passed, refused = boards_in(folder)
        assert refused == []
        assert len(found) == len(set(found))
        for name in found:
            path = folder / name
            assert inside(folder, path)
            assert not path.exists() or path.is_dir() or path.read_text() == "ours"
        plain = {
            os.path.relpath(path, folder)
            for path in folder.rglob("*.wire")
            if path.is_file() and not path.is_symlink() and ".d.wire" not in path.parts
        }
        assert plain <= set(found)
        assert {name for name, _ in passed}.isdisjoint(found)
