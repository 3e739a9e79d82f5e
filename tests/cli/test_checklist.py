"""`wirecheck checklist`, run as the user runs it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.rules.hands import STAIR
from wirecheck.cli import commands


@pytest.fixture
def board(tmp_path: Path) -> Path:
    path = tmp_path / "stair.wire"
    path.write_text(STAIR, encoding="utf-8")
    return path


def run(*arguments: object) -> Result:
    return CliRunner().invoke(commands, ["checklist", *map(str, arguments)])


def test_it_prints_the_list(board: Path) -> None:
    result = run(board)
    assert result.exit_code == 0, result.output
    assert "Stair light from two landings" in result.output
    assert "[ ] Box A, device" in result.output
    assert "\x1b" not in result.output


def test_it_stops_at_the_stage(board: Path) -> None:
    result = run(board, "--stage", "rough-in")
    assert "Rough-in" in result.output
    assert "Trim" not in result.output


@pytest.mark.parametrize("name", ["list.html", "list.txt"])
def test_it_writes_what_the_ending_says(board: Path, tmp_path: Path, name: str) -> None:
    out = tmp_path / name
    result = run(board, "-o", out)
    assert result.exit_code == 0
    assert result.output == ""
    text = out.read_text(encoding="utf-8")
    assert text.startswith("<!DOCTYPE html>") == name.endswith(".html")
    assert "Box A, device" in text
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([name, "stair.wire"])


def test_another_ending_is_refused_and_nothing_is_written(board: Path, tmp_path: Path) -> None:
    result = run(board, "-o", tmp_path / "list.doc")
    assert result.exit_code == 2
    assert ".html or .txt" in result.output
    assert not (tmp_path / "list.doc").exists()


def test_what_is_no_board_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "note.wire"
    path.write_text("Dear diary\n", encoding="utf-8")
    assert run(path).exit_code == 2
    assert run(tmp_path / "none.wire").exit_code == 2


def test_a_board_with_a_line_that_cannot_be_read_says_so(board: Path) -> None:
    board.write_text(STAIR + "W9.blakc -- S1.common\n", encoding="utf-8")
    result = run(board)
    assert "not all of" in result.stderr
    assert "Not in this list: 1 line that could not be understood." in " ".join(result.stdout.split())
    assert "[ ] Box A, device" in result.output


def test_it_names_the_mistakes_that_the_check_finds(tmp_path: Path) -> None:
    path = tmp_path / "stair.wire"
    swapped = STAIR.replace("W3.black -- L1.hot", "W3.white -- L1.hot")
    swapped = swapped.replace("W3.white -- L1.neutral", "W3.black -- L1.neutral")
    path.write_text(swapped, encoding="utf-8")
    said = " ".join(run(path).output.split())
    assert "The check found 1 mistake in this stage. At B, W3.black and W3.white are swapped." in said
    said = " ".join(run(path, "--effort", "0").output.split())
    assert "The check found 1 mistake in this stage." in said and "are swapped" not in said
