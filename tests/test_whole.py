"""What is written: whole or not at all, in the place that is meant, and nothing beside it."""

import os
import stat

import pytest

from wirecheck import whole


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
