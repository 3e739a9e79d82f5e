"""What is kept from run to run: found again where it is whole and only the user's, and never needed."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from wirecheck import kept, renderer

ROOT = Path(__file__).parent.parent
SOURCE, MADE = b"what it was made of", b"what was made"


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder of caches of its own, and in it the program's, which is not there yet."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "wirecheck"


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_it_is_found_again_and_only_for_its_source(folder):
    assert kept.kept("thing", SOURCE) is None
    kept.keep("thing", SOURCE, MADE)
    assert kept.kept("thing", SOURCE) == MADE
    assert kept.kept("thing", SOURCE + b"2") is None
    kept.keep("thing", SOURCE + b"2", b"other")
    assert (kept.kept("thing", SOURCE), kept.kept("thing", SOURCE + b"2")) == (None, b"other")
    assert names(folder) == ["thing"]


def test_nobody_else_can_read_or_write_it(folder):
    before = os.umask(0)
    try:
        kept.keep("thing", SOURCE, MADE)
    finally:
        os.umask(before)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE((folder / "thing").stat().st_mode) == 0o600


@pytest.mark.parametrize("place", range(0, 32 + len(MADE), 5))
def test_one_bit_that_is_spoiled_makes_it_nothing(folder, place):
    kept.keep("thing", SOURCE, MADE)
    data = bytearray((folder / "thing").read_bytes())
    data[place] ^= 1
    (folder / "thing").write_bytes(data)
    assert kept.kept("thing", SOURCE) is None
    kept.keep("thing", SOURCE, MADE)
    assert kept.kept("thing", SOURCE) == MADE


@pytest.mark.parametrize("length", [0, 7, 32, 40])
def test_one_that_is_cut_off_is_nothing(folder, length):
    kept.keep("thing", SOURCE, MADE)
    (folder / "thing").write_bytes((folder / "thing").read_bytes()[:length])
    assert kept.kept("thing", SOURCE) is None


@pytest.mark.parametrize("mode", [0o620, 0o602])
def test_a_file_that_others_can_write_to_is_not_read_and_is_made_anew(folder, mode):
    kept.keep("thing", SOURCE, MADE)
    (folder / "thing").chmod(mode)
    assert kept.kept("thing", SOURCE) is None
    kept.keep("thing", SOURCE, MADE)
    assert kept.kept("thing", SOURCE) == MADE
    assert stat.S_IMODE((folder / "thing").stat().st_mode) == 0o600


@pytest.mark.parametrize("mode", [0o770, 0o707])
def test_a_folder_that_others_can_write_to_is_not_used(folder, mode):
    kept.keep("thing", SOURCE, MADE)
    folder.chmod(mode)
    assert kept.kept("thing", SOURCE) is None
    kept.keep("new", SOURCE, MADE)
    assert names(folder) == ["thing"]


def test_what_belongs_to_another_is_not_used(folder, monkeypatch):
    kept.keep("thing", SOURCE, MADE)
    user = os.geteuid()
    monkeypatch.setattr(os, "geteuid", lambda: user + 1)
    assert kept.kept("thing", SOURCE) is None
    kept.keep("new", SOURCE, MADE)
    assert names(folder) == ["thing"]


def test_nothing_is_made_in_a_home_of_another(folder, monkeypatch):
    user = os.geteuid()
    monkeypatch.setattr(os, "geteuid", lambda: user + 1)
    kept.keep("thing", SOURCE, MADE)
    assert not folder.parent.exists()


def test_no_link_and_no_pipe_is_read(folder, tmp_path):
    kept.keep("thing", SOURCE, MADE)
    (folder / "thing").rename(tmp_path / "elsewhere")
    (folder / "thing").symlink_to(tmp_path / "elsewhere")
    os.mkfifo(folder / "pipe")
    assert kept.kept("thing", SOURCE) is None
    assert kept.kept("pipe", SOURCE) is None
    kept.keep("thing", SOURCE, MADE)
    assert not (folder / "thing").is_symlink()
    (folder / "real").mkdir()
    kept.keep("real", SOURCE, MADE)
    assert kept.kept("real", SOURCE) is None


def test_where_there_is_no_place_nothing_is_kept_and_nothing_said(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("no folder")
    for place in (tmp_path / "file", Path("/dev/null"), Path("/proc")):
        monkeypatch.setenv("XDG_CACHE_HOME", str(place))
        kept.keep("thing", SOURCE, MADE)
        assert kept.kept("thing", SOURCE) is None


def test_a_path_that_is_not_absolute_is_passed_over(tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("HOME", str(tmp_path))
    for said in ("", "here"):
        monkeypatch.setenv("XDG_CACHE_HOME", said)
        kept.keep("thing", SOURCE, MADE)
        assert (tmp_path / ".cache" / "wirecheck" / "thing").is_file()
    monkeypatch.setenv("HOME", "nowhere")
    assert kept.kept("thing", SOURCE) is None


@pytest.mark.parametrize(("platform", "inside"), [("darwin", "Library/Caches"), ("win32", "Local")])
def test_other_systems_have_their_own_folders(tmp_path, monkeypatch, platform, inside):
    monkeypatch.setattr(sys, "platform", platform)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "Local"))
    kept.keep("thing", SOURCE, MADE)
    assert (tmp_path / inside / "wirecheck" / "thing").is_file()


# ---------------------------------------------------------------- the renderer


@pytest.fixture
def anew():
    """The renderer as a new process has it, before and after."""
    renderer._running.cache_clear()
    yield renderer._running.cache_clear
    renderer._running.cache_clear()


@pytest.mark.slow
def test_the_renderer_is_kept_and_draws_the_same(folder, anew, monkeypatch):
    import wasmtime

    first = renderer.rendered('graph g { a [pos="0,0"] }')
    assert names(folder) == [renderer.NAME]
    anew()
    monkeypatch.setattr(wasmtime.Module, "__init__", None)  # It is not compiled again.
    assert renderer.rendered('graph g { a [pos="0,0"] }') == first


@pytest.mark.slow
def test_what_was_compiled_by_another_version_is_compiled_anew(folder, anew):
    from wirecheck import files

    kept.keep(renderer.NAME, files.graphviz_code(), b"\x7fELF of another version")
    assert renderer.rendered("graph g { }").endswith("</svg>\n")
    assert len((folder / renderer.NAME).read_bytes()) > 1_000_000


def test_a_source_that_is_none_is_refused_and_the_next_is_drawn():
    with pytest.raises(ValueError):
        renderer.rendered("graph {")
    assert renderer.rendered("graph g { }").endswith("</svg>\n")


@pytest.mark.slow
def test_the_command_draws_the_same_with_and_without_a_cache_and_says_nothing(tmp_path):
    """The first run, the second, a spoiled file, one that can write nothing, a folder of boards."""
    board = ROOT / "boards" / "stair-light" / "right.wire"
    cache = tmp_path / "cache"

    def drawn(what, where, name="picture.svg"):
        command = [sys.executable, "-m", "wirecheck", "draw", str(what), "-o", str(tmp_path / name)]
        environment = {**os.environ, "XDG_CACHE_HOME": str(where)}
        run = subprocess.run(command, capture_output=True, text=True, env=environment, cwd=ROOT)
        assert (run.returncode, run.stderr) == (0, "")
        return (tmp_path / name).read_bytes()

    first = drawn(board, cache)
    file = cache / "wirecheck" / renderer.NAME
    whole = file.read_bytes()
    assert drawn(board, cache) == first
    file.write_bytes(whole[: len(whole) // 2])
    assert drawn(board, cache) == first
    assert len(file.read_bytes()) == len(whole)
    assert drawn(board, "/dev/null") == first
    folder = drawn(ROOT / "boards" / "stair-light", cache, "page.html")
    file.unlink()
    assert drawn(ROOT / "boards" / "stair-light", cache, "page.html") == folder
    assert names(cache / "wirecheck") == [renderer.NAME]
