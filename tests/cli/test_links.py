"""Nothing is followed out of the folder that was named, and what is no file is not waited for."""

import os
import socket
import subprocess

import pytest

from tests.cli.boards import NEVER_LIT, PART, RIGHT, wirecheck
from wirecheck import inputs
from wirecheck.cli._sources import unreadable

UNTIDY = RIGHT.replace("  W1.black -- S1.line", "W1.black   --S1.line")


@pytest.fixture
def work(tmp_path):
    """A folder with a board of its own, links out of it to a board, a folder and to nothing, and a pipe."""
    folder, out = tmp_path / "work", tmp_path / "out"
    folder.mkdir()
    out.mkdir()
    (folder / "own.wire").write_text(UNTIDY)
    (out / "theirs.wire").write_text(UNTIDY)
    (folder / "theirs.wire").symlink_to(out / "theirs.wire")
    (folder / "folder").symlink_to(out)
    (folder / "nothing.wire").symlink_to("../nothing.wire")
    os.mkfifo(folder / "pipe.wire")
    return folder


def passed(folder):
    return [
        f"wirecheck: {folder}/{name} is passed over: {why}."
        for name, why in (
            ("folder", "it leads out of the folder"),
            ("nothing.wire", "it leads out of the folder"),
            ("pipe.wire", "it is a pipe, not a file"),
            ("theirs.wire", "it leads out of the folder"),
        )
    ]


@pytest.mark.parametrize("command", [("check", "--format", "sarif"), ("tidy",), ("tidy", "--check")])
def test_a_folder_is_read_without_what_leads_out_of_it(work, command):
    done = wirecheck(*command, work)
    assert done.stderr.decode().splitlines() == passed(work)
    assert b"theirs" not in done.stdout
    assert done.returncode == (1 if "--check" in command else 0)
    assert (work / "../out/theirs.wire").read_text() == UNTIDY
    assert ((work / "own.wire").read_text() == UNTIDY) is (command != ("tidy",))


@pytest.mark.slow
def test_a_folder_is_drawn_without_what_leads_out_of_it(work):
    (work / "own.wire").write_text('board "Own"\n')
    done = wirecheck("draw", work, "-o", work / "page.html")
    assert (done.returncode, done.stderr.decode().splitlines()) == (0, passed(work))
    assert b"theirs" not in (work / "page.html").read_bytes()


def test_a_folder_that_the_user_names_by_a_link_is_followed(work, tmp_path):
    (tmp_path / "named").symlink_to(work)
    done = wirecheck("check", tmp_path / "named", "--quiet")
    assert (done.returncode, done.stdout) == (0, b"")
    assert len(done.stderr.splitlines()) == 4


@pytest.mark.slow
def test_a_folder_of_folders_is_walked_to_its_end(tmp_path):
    """Deeper than Python calls itself, and with links that lead in a circle."""
    (tmp_path / "round").symlink_to(tmp_path)
    here = os.open(tmp_path, os.O_RDONLY)
    for _ in range(1200):
        os.mkdir("a", dir_fd=here)
        deeper = os.open("a", os.O_RDONLY, dir_fd=here)
        os.close(here)
        here = deeper
    os.close(os.open("b.wire", os.O_CREAT, dir_fd=here))
    os.close(here)
    try:
        found = list(inputs.boards_in(tmp_path, pytest.fail, pytest.fail))
        assert [os.path.relpath(path, tmp_path) for path in found] == ["a/" * 1200 + "b.wire"]
    finally:
        # Python's own removal of folders calls itself.
        subprocess.run(["rm", "-r", tmp_path / "a"], check=True)


def test_a_part_beside_a_board_that_leads_elsewhere_is_not_read(tmp_path):
    """What an error would show of it is somebody's secret."""
    work = tmp_path / "work"
    work.mkdir()
    (tmp_path / "secret").write_text("part pull-chain\nhunter2 is the password\n")
    (work / "pull-chain.wire").symlink_to(tmp_path / "secret")
    (work / "board.wire").write_text(RIGHT + "P1 is pull-chain in A\n")
    done = wirecheck("check", work / "board.wire")
    assert done.returncode == 1
    assert b"hunter2" not in done.stdout + done.stderr
    (work / "pull-chain.wire").unlink()
    os.mkfifo(work / "pull-chain.wire")
    again = wirecheck("check", work / "board.wire")
    assert again.returncode == 1
    for report, why in ((done, b"leads out of the folder"), (again, b"is a pipe")):
        assert why in b" ".join(report.stdout.split())


@pytest.mark.slow
def test_a_file_that_the_user_names_may_be_a_link_but_is_not_rewritten_through_it(tmp_path):
    board, link = tmp_path / "board.wire", tmp_path / "link.wire"
    board.write_text(UNTIDY)
    link.symlink_to(board)
    assert wirecheck("check", link).returncode == 0
    done = wirecheck("tidy", link)
    assert done.returncode == 2
    assert done.stderr.decode() == (
        f"wirecheck: {link} was left as it is: it is a link. Name the file that it leads to, {board}.\n"
    )
    assert board.read_text() == UNTIDY
    inside = wirecheck("tidy", tmp_path)
    assert inside.stderr.decode() == f"wirecheck: {link} is passed over: it is a link.\n"
    assert (inside.returncode, board.read_text() != UNTIDY, link.is_symlink()) == (0, True, True)


@pytest.mark.slow
@pytest.mark.parametrize("command", ["check", "tidy", "energize"])
def test_what_is_no_file_is_refused_in_a_sentence(tmp_path, command):
    os.mkfifo(tmp_path / "pipe.wire")
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(str(tmp_path / "socket.wire"))
    names = {"pipe.wire": "a pipe", "socket.wire": "a socket", "/dev/zero": "a device"}
    for together in [["pipe.wire"]] if command == "energize" else [list(names)]:
        done = wirecheck(command, *together, folder=tmp_path)
        assert (done.returncode, done.stdout) == (2, b"")
        assert done.stderr.decode().splitlines() == [
            f"wirecheck: {name} cannot be read: it is {names[name]}, not a file." for name in together
        ]


@pytest.mark.slow
def test_a_pipe_that_a_shell_makes_is_read(tmp_path):
    reading, writing = os.pipe()
    os.write(writing, NEVER_LIT.encode())
    os.close(writing)
    done = wirecheck("check", "/dev/stdin", stdin=NEVER_LIT)
    assert done.returncode == 1
    again = wirecheck("check", f"/dev/fd/{reading}", pass_fds=[reading])
    assert again.stdout == done.stdout.replace(b"/dev/stdin", f"/dev/fd/{reading}".encode())
    os.close(reading)


def test_a_file_that_is_gone_when_its_turn_comes_is_named_and_the_rest_go_on(tmp_path):
    """A link to nothing in the folder is as a file that was there when the folder was listed."""
    (tmp_path / "board.wire").write_text(RIGHT)
    (tmp_path / "gone.wire").symlink_to("nothing.wire")
    (tmp_path / "pull-chain.wire").write_text(PART)
    done = wirecheck("check", tmp_path, "--format", "json")
    assert done.returncode == 2
    assert f"{tmp_path}/gone.wire cannot be read: there is no such file or folder." in done.stderr.decode()
    assert b"board.wire" in done.stdout


NO_BOARDS = {
    "Makefile": b"all: test\n\ntest:\n\tpytest   -q\n\n\n# the end  \n",
    "setup.py": b"# a comment of mine\nimport os\n\n\ndef f():\n    return  1\n",
    "setup.wire": b"# a comment of mine\nimport os\n\n\ndef f():\n    return  1\n",
    "titled": b'board "A"\nimport os\nimport sys\n\n\nprint(  os )\n',
    "binary": b"\x00\x01\x02board",
    "picture": b"\x89PNG\r\n\x1a\n\xff\xfe",
    "one.wire": b"board\r\n\r\n\r\n",
    "empty.wire": b"",
    "notes.txt": b"   # nothing but this   \n\n\n",
    "prose.wire": b'board "A"\n' + b"what is this?\n" * 200,
    "long": b"x" * 5000 + b"\n",
}


def test_what_is_no_board_is_left_byte_for_byte(tmp_path):
    for name, data in NO_BOARDS.items():
        (tmp_path / name).write_bytes(data)
    (tmp_path / "board.wire").write_text(UNTIDY)
    done = wirecheck("tidy", *NO_BOARDS, "board.wire", folder=tmp_path)
    assert (done.returncode, done.stdout) == (2, b"board.wire tidied\n")
    for line, (name, data) in zip(done.stderr.decode().splitlines(), NO_BOARDS.items(), strict=True):
        assert line.startswith(f"wirecheck: {name} was left as it is: ")
        assert (tmp_path / name).read_bytes() == data


@pytest.mark.parametrize(
    ("named", "meant"),
    [
        ("attic.wire", "attic.wire.txt"),
        ("stari.wire", "stair.wire"),
        ("stair.wrie", "stair.wire"),
        ("stari", "stair.wire"),
        ("no.wire", ""),
        ("class.wire", ""),
    ],
)
def test_a_file_that_is_not_there_gets_the_near_one(tmp_path, named, meant):
    for name in ("attic.wire.txt", "stair.wire", "oq.wire", "class.db", ".hidden"):
        (tmp_path / name).touch()
    said = unreadable(str(tmp_path / named), FileNotFoundError(2, "")).message
    path = tmp_path / named
    near = f" Did you mean {tmp_path / meant}?" if meant else ""
    assert said == f"{path} cannot be read: there is no such file or folder.{near}"
