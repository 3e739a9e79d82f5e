"""The other commands as a user runs them."""

import json
import re

import pytest

from tests.cli.boards import MISSPELT, PART, RIGHT, ROOT, wirecheck


def test_help_names_every_command_and_the_exit_statuses():
    done = wirecheck("--help")
    assert done.returncode == 0
    text = done.stdout.decode()
    for name in ("demo", "check", "draw", "rules", "parts", "tidy"):
        assert re.search(rf"^  {name} ", text, re.MULTILINE)
    assert "0 for nothing worse than advice, 1 for findings" in text
    assert "de-energize" in text


@pytest.mark.slow
def test_every_command_explains_itself():
    for name in ("demo", "check", "draw", "rules", "parts", "tidy"):
        done = wirecheck(name, "--help")
        assert (done.returncode, done.stderr) == (0, b"")
        assert b"Options:" in done.stdout


@pytest.mark.slow
def test_completion_knows_commands_parts_and_rules():
    def completed(*words):
        done = wirecheck(
            _WIRECHECK_COMPLETE="bash_complete",
            COMP_WORDS=" ".join(("wirecheck", *words)),
            COMP_CWORD=str(len(words)),
        )
        return {line.partition(",")[2] for line in done.stdout.decode().splitlines()}

    assert "check" in completed("ch")
    assert "3-way-switch" in completed("parts", "3-")
    assert "voltage-drop" in completed("rules", "vol")


def test_demo_shows_findings_and_leaves_a_picture_and_nothing_else(tmp_path):
    done = wirecheck("demo", folder=tmp_path)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"switching" in done.stdout
    mistake = "At LOFT, RISE.black and LEG.black are swapped."
    picture = (tmp_path / "demo.svg").read_text()
    assert mistake in done.stdout.decode() and mistake in " ".join(re.sub(r"<[^>]*>", " ", picture).split())
    assert [path.name for path in tmp_path.iterdir()] == ["demo.svg"]
    assert "<svg" in (tmp_path / "demo.svg").read_text()[:2000]


@pytest.mark.parametrize(
    ("ending", "begins"),
    [
        ("svg", b"<?xml"),
        pytest.param("png", b"\x89PNG", marks=pytest.mark.slow),
        pytest.param("pdf", b"%PDF", marks=pytest.mark.slow),
        ("dot", b"graph"),
    ],
)
def test_draw_by_the_ending(tmp_path, ending, begins):
    (tmp_path / "board.wire").write_text(RIGHT)
    done = wirecheck("draw", "board.wire", "-o", f"out.{ending}", folder=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    assert (
        (tmp_path / f"out.{ending}")
        .read_bytes()
        .lstrip()
        .removeprefix(b"strict ")
        .removeprefix(b"di")[:5]
        .startswith(begins)
    )


@pytest.mark.slow
def test_draw_refuses_what_it_cannot_do(tmp_path):
    (tmp_path / "board.wire").write_text(RIGHT)
    (tmp_path / "old.svg").write_text("old")
    (tmp_path / "pull-chain.wire").write_text(PART)
    for arguments in (
        ["board.wire", "-o", "out.gif"],
        ["missing.wire", "-o", "old.svg"],
        ["pull-chain.wire", "-o", "old.svg"],
    ):
        done = wirecheck("draw", *arguments, folder=tmp_path)
        assert done.returncode == 2
        assert done.stderr
        assert b"Traceback" not in done.stderr
    assert (tmp_path / "old.svg").read_text() == "old"
    assert not (tmp_path / "out.gif").exists()


def test_rules_lists_them_and_explains_one():
    listed = wirecheck("rules")
    assert listed.returncode == 0
    assert b"overcurrent-protection" in listed.stdout
    assert b"(hazard)" in listed.stdout
    page = wirecheck("rules", "overcurrent-protection").stdout.decode()
    for said in ("Can be: violation", "Source: ", "240.4(D)", "Wrong:", "Right:", "breaker"):
        assert said in page
    wrong = wirecheck("rules", "overcurrent-protecton")
    assert wrong.returncode == 2
    assert b"Did you mean overcurrent-protection?" in wrong.stderr


@pytest.mark.slow
def test_parts_lists_them_and_shows_one(tmp_path):
    listed = wirecheck("parts")
    assert listed.returncode == 0
    assert b"3-way-switch" in listed.stdout
    page = wirecheck("parts", "gas-furnace").stdout.decode()
    for said in ("Terminals", "The heat call", "24 V, carries heat, ", "Sequence of operation", "when "):
        assert said in page
    wrong = wirecheck("parts", "gas-furnance")
    assert wrong.returncode == 2
    assert b"Did you mean gas-furnace?" in wrong.stderr
    (tmp_path / "pull-chain.wire").write_text(PART)
    assert b"A pull chain" in wirecheck("parts", "pull-chain.wire", folder=tmp_path).stdout
    assert b"A pull chain" in wirecheck("parts", "pull-chain", folder=tmp_path).stdout
    (tmp_path / "board.wire").write_text(RIGHT)
    assert wirecheck("parts", "board.wire", folder=tmp_path).returncode == 2


@pytest.mark.slow
def test_tidy_lays_out_and_keeps_the_meaning(tmp_path):
    board = tmp_path / "board.wire"
    board.write_text(RIGHT.replace("  W1.black -- S1.line", "W1.black   --S1.line   # the feed"))
    assert wirecheck("tidy", "--check", board).returncode == 1
    done = wirecheck("tidy", board)
    assert (done.returncode, done.stderr) == (0, b"")
    assert "  W1.black -- S1.line  # the feed\n" in board.read_text()
    again = wirecheck("tidy", "--check", board)
    assert (again.returncode, again.stdout) == (0, b"")
    assert json.loads(wirecheck("check", board, "--format", "json").stdout)["files"][0]["findings"] == []


def test_tidy_from_a_pipe_and_of_a_file_with_mistakes(tmp_path):
    done = wirecheck("tidy", "-", stdin="at  A\nW1.black--S1.common\n")
    assert (done.returncode, done.stdout) == (0, b"at A\n  W1.black -- S1.common\n")
    broken = tmp_path / "broken.wire"
    broken.write_bytes(b'board "A"\nbox \xff device\n')
    assert wirecheck("tidy", broken).returncode == 2
    assert broken.read_bytes() == b'board "A"\nbox \xff device\n'
    (tmp_path / "misspelt.wire").write_text(MISSPELT)
    assert wirecheck("tidy", tmp_path / "misspelt.wire").returncode == 0
    assert (tmp_path / "misspelt.wire").read_text() == MISSPELT


def test_the_picture_in_the_readme_is_the_one_that_is_drawn(tmp_path):
    wirecheck("draw", ROOT / "boards/demo.wire", "-o", tmp_path / "demo.svg")
    drawn, kept = (tmp_path / "demo.svg").read_bytes(), (ROOT / "boards/demo.svg").read_bytes()
    assert drawn == kept, "draw it anew: wirecheck draw boards/demo.wire -o boards/demo.svg"
