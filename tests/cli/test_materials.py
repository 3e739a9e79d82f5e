"""`wirecheck materials`, run as the user runs it."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.cli.boards import ROOT
from tests.rules.hands import STAIR
from wirecheck.caution import CAUTION
from wirecheck.cli import commands

SHOWN = re.compile(
    r"<!-- materials -->\n```\n\$ wirecheck (?P<command>.*)\n(?P<said>(?:.*\n)*?)```\n<!-- /materials -->"
)


@pytest.fixture
def board(tmp_path: Path) -> Path:
    path = tmp_path / "stair.wire"
    path.write_text(STAIR, encoding="utf-8")
    return path


def run(*arguments: object) -> Result:
    return CliRunner().invoke(commands, ["materials", *map(str, arguments)])


def counts(done: Result) -> dict[str, str]:
    return {row[1]: row[2] for row in csv.reader(io.StringIO(done.stdout, newline=""))}


def test_the_list_in_the_readme_is_what_the_tool_says(monkeypatch: pytest.MonkeyPatch) -> None:
    shown = SHOWN.search((ROOT / "README.md").read_text(encoding="utf-8"))
    assert shown is not None
    monkeypatch.chdir(ROOT)
    done = CliRunner().invoke(commands, shown["command"].split())
    assert (done.exit_code, done.stderr) == (0, "")
    # The caution stands once in the README, at its head.
    head, _, rest = done.stdout.partition("\n\n")
    said = rest.partition("\n\n")
    assert " ".join(said[0].split()) == CAUTION
    assert shown["said"] == f"{head}\n...\n\n{said[2]}"


def test_a_class_and_a_folder_add_up(board: Path) -> None:
    one, class_of_six = run(board, "-f", "csv"), run(board, "--class", 6, "-f", "csv")
    assert counts(one)["3-way-switch, 15 A"] == "2" and counts(class_of_six)["3-way-switch, 15 A"] == "12"
    (board.parent / "again.wire").write_text(STAIR, encoding="utf-8")
    (board.parent / "gong.wire").write_text('part gong "A gong"\n', encoding="utf-8")
    both = run(board.parent, "--class", 3, "-f", "csv")
    assert (both.exit_code, both.stdout, both.stderr) == (0, class_of_six.stdout, "")
    assert run(board.parent, "--class", 3).stdout.startswith("Materials: 2 boards, 3 of each\n")


@pytest.mark.parametrize("form", ["text", "csv", "html"])
def test_a_wrong_board_is_listed_as_it_is_written_and_says_so(board: Path, form: str) -> None:
    board.write_text(STAIR.replace("W3.black -- L1.hot\n", "") + "W9.blakc -- S1.common\n", encoding="utf-8")
    done = run(board, "-f", form)
    said = " ".join(done.output.split())
    assert done.exit_code == 0
    assert "Not all of" in said and "could be read" in said and "The check finds" in said
    assert "device box, 20.3 cu in" in said


def test_what_is_no_board_is_refused_and_stops_no_other(board: Path) -> None:
    (board.parent / "note.wire").write_text("Dear diary\n", encoding="utf-8")
    done = run(board.parent)
    assert done.exit_code == 2
    assert "note.wire is not a board" in done.stderr and "Materials: Stair light" in done.stdout


def test_it_writes_to_a_file_and_to_no_board(board: Path) -> None:
    page = board.parent / "list.html"
    assert run(board, "-f", "html", "-o", page).output == ""
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert run(board, "-o", board).exit_code == 2 and board.read_text(encoding="utf-8") == STAIR


def test_slack_is_what_is_asked(board: Path) -> None:
    plain = run(board, "--slack", 0).stdout
    assert "more than what is cut" not in plain and "buy 36 ft" in plain
    assert "25 % more than what is cut" in " ".join(run(board, "--slack", 25).stdout.split())
