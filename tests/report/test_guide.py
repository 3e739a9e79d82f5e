"""The guide: each lesson is walked as a beginner would, and says what the commands then say."""

from __future__ import annotations

import doctest
import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.cli.boards import wirecheck
from wirecheck import files
from wirecheck.caution import CAUTION
from wirecheck.cli import commands
from wirecheck.report import guide

LESSONS = guide.lessons(files.lesson_texts())
SAYS = doctest.OutputChecker()


def ask(*arguments: object) -> tuple[int, str, str]:
    done = CliRunner().invoke(commands, ["guide", *map(str, arguments)])
    return done.exit_code, done.stdout, done.stderr


def commands_of(block: guide.Asked) -> list[tuple[str, str]]:
    """Each command with what it says."""
    found = re.findall(r"^\$ wirecheck (.*)\n((?:(?!\$ ).*\n)*)", block.text, re.MULTILINE)
    assert "".join(f"$ wirecheck {line}\n{said}" for line, said in found) == block.text
    return found


def test_there_are_ten_and_all_of_their_text_is_in_their_blocks() -> None:
    assert len(LESSONS) == 10
    for text, lesson in zip(files.lesson_texts(), LESSONS, strict=True):
        assert all(not isinstance(one, guide.Words) or "```" not in one.text for one in lesson.blocks)
        fences = sum(not isinstance(one, guide.Words) for one in lesson.blocks)
        assert (text.count("```"), text.startswith("# ")) == (2 * fences, True)


def test_a_lesson_is_printed_with_its_boards_as_they_are_typed_and_the_caution() -> None:
    status, said, _ = ask(5)
    assert status == 0 and "\n      W1.black -- S1.line\n" in said and "`" not in said
    assert said.startswith("Lesson 5 of 10: Which wire goes where\n") and said.endswith("wirecheck guide 6\n")
    assert CAUTION in " ".join(said.split())
    assert ask()[1].count("\n") == 12
    assert all(len(line) <= 92 for number in range(1, 11) for line in ask(number)[1].splitlines())


@pytest.mark.parametrize("given", [("0",), ("11",), ("-3",), ("two",), ("--save", "."), ("1", "2")])
def test_what_is_no_lesson_is_refused(given: tuple[str, ...]) -> None:
    status, said, error = ask(*given)
    assert (status, said) == (2, "") and error


def test_a_lesson_that_is_not_there_is_said_with_those_that_are() -> None:
    for given in ("three", "99999999999", "11"):
        assert f"There is no lesson {given}: they go from 1 to 10." in ask(given)[2]


def test_files_are_saved_as_a_lesson_leaves_them_and_over_nothing_of_ones_own(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "folder"
    for number in (1, 10, 3):
        assert ask(number, "--save", folder)[0] == 0
    assert "cable W2" in (folder / "attic.wire").read_text()
    assert "at LP" not in (folder / "attic.wire").read_text()
    (folder / "short.wire").write_text("mine")
    status, _, error = ask(7, "--save", folder)
    assert status == 2 and "short.wire is not as a lesson left it" in error
    assert "at LP" not in (folder / "attic.wire").read_text()
    assert ask(1, "--save", folder / "attic.wire")[0] == 2


@pytest.mark.slow
def test_the_lessons_are_so(tmp_path: Path) -> None:
    """In one folder, from the first to the last, each command as a process."""
    asked = 0
    for lesson in LESSONS:
        for block in lesson.blocks:
            match block:
                case guide.Typed(file, added, text):
                    path = tmp_path / file
                    assert path.exists() is added, file
                    with path.open("a", encoding="utf-8") as opened:
                        opened.write(text)
                case guide.Asked():
                    for line, said in commands_of(block):
                        done = wirecheck(*shlex.split(line), folder=tmp_path)
                        found = done.stdout.decode()
                        assert done.stderr == b"" and done.returncode in (0, 1)
                        assert SAYS.check_output(said, found, doctest.ELLIPSIS), (lesson.number, line, found)
                        asked += 1
    assert asked == 22 and (tmp_path / "attic.svg").stat().st_size > 1000
    assert {path.name for path in tmp_path.glob("*.wire")} == set(guide.typed(LESSONS))
    for name, texts in guide.typed(LESSONS).items():
        assert (tmp_path / name).read_text(encoding="utf-8") == texts[-1]
