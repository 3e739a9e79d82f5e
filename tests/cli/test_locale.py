"""What the commands write in other locales: programs read the same bytes everywhere, files are UTF-8."""

from __future__ import annotations

import ast
import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from junitparser import JUnitXml

from tests.cli.boards import RIGHT, ROOT, wirecheck
from tests.report import sarif

# Mistakes and names with letters beyond ASCII, the Turkish ones among them, and values with fractions.
BOARD = RIGHT.replace('"Boathouse lamp"', '"Lämpchen IıİiŞ 灯"').replace("BP.3 15 A", "BP.3 17.5 A")
BOARD = BOARD.replace("22 ft", "22.75 ft")
NAME = "Lämpchen ışık 灯.wire"

# Python's own help in the C locale is off, so that it writes what the locale says.
PLAIN = {"PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0", "PYTHONIOENCODING": ""}
LOCALES = {
    "C": {"LC_ALL": "C", **PLAIN},
    "POSIX": {"LC_ALL": "POSIX", **PLAIN},
    "C with UTF-8": {"LC_ALL": "C.UTF-8"},
    "German": {"LC_ALL": "de_DE.UTF-8", "LANGUAGE": "de"},
    "German, Latin-1": {"LC_ALL": "de_DE.ISO-8859-1", **PLAIN},
    "Turkish": {"LC_ALL": "tr_TR.UTF-8", "LANGUAGE": "tr"},
    "Latin-1 output": {"PYTHONIOENCODING": "latin-1:strict"},
    "ASCII output": {"PYTHONIOENCODING": "ascii:strict"},
    "UTF-16 output": {"PYTHONIOENCODING": "utf-16"},
    "code page 437 output": {"PYTHONIOENCODING": "cp437"},
}
QUICK = ("C", "German, Latin-1", "UTF-16 output")
FORMATS = ("json", "sarif", "junit", "github")


@pytest.fixture(scope="session")
def locales(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A folder with the German and the Turkish locale, where this system can make them; else they mean C."""
    folder = tmp_path_factory.mktemp("locales")
    program = shutil.which("localedef")
    for name in ("de_DE.UTF-8", "de_DE.ISO-8859-1", "tr_TR.UTF-8"):
        if program:
            language, _, letters = name.partition(".")
            asked = [program, "-i", language, "-f", letters, str(folder / name)]
            subprocess.run(asked, capture_output=True, check=False)
    return str(folder)


@pytest.fixture
def board(tmp_path: Path) -> Path:
    path = tmp_path / NAME
    path.write_text(BOARD, encoding="utf-8")
    return path


def in_locale(name: str, locales: str, board: Path, *arguments: str) -> bytes:
    """What a command writes in a locale about the board of its folder."""
    done = wirecheck(*arguments, folder=board.parent, LOCPATH=locales, **LOCALES[name])
    assert done.returncode in (0, 1), done.stderr
    assert done.stderr == b""
    out: bytes = done.stdout
    return out


def made_sense_of(form: str, written: bytes) -> None:
    """Read a report as a program does, which takes it for UTF-8; its file's and board's names are in it."""
    if form == "json":
        (file,) = json.loads(written)["files"]
        assert file["file"] == NAME
        assert "I\u0131\u0130i\u015e \u706f" in file["board"]
    elif form == "sarif":
        assert sarif.valid(written)["runs"][0]["artifacts"]
    elif form == "junit":
        assert [suite.name for suite in JUnitXml.fromstring(written)] == [NAME]
    else:
        assert f"file={NAME},line=" in written.decode("utf-8")


def slow(each: str) -> Any:
    """A case that is tried with the long tests."""
    return pytest.param(each, marks=pytest.mark.slow)


@pytest.mark.slow
@pytest.mark.parametrize("name", [each if each in QUICK else slow(each) for each in LOCALES])
@pytest.mark.parametrize("form", [each if each in ("github", "junit") else slow(each) for each in FORMATS])
def test_programs_read_the_same_in_every_locale(name: str, form: str, locales: str, board: Path) -> None:
    written = in_locale(name, locales, board, "check", NAME, "--format", form)
    made_sense_of(form, written)
    assert b"17.5 A" in written
    output = board.parent / "report"
    in_locale("C with UTF-8", locales, board, "check", NAME, "--format", form, "-o", "report")
    assert output.read_bytes() == written


@pytest.mark.slow
@pytest.mark.parametrize("name", LOCALES)
def test_files_are_the_same_in_every_locale(name: str, locales: str, board: Path) -> None:
    asked = (
        ("check", NAME, "-o", "report.txt"),
        ("checklist", NAME, "-o", "list.html"),
        ("checklist", NAME, "-o", "list.txt"),
        ("draw", NAME, "-o", "board.svg"),
        ("draw", ".", "-o", "all.html"),
    )
    for *arguments, output in asked:
        in_locale(name, locales, board, *arguments, output)
        in_locale("C with UTF-8", locales, board, *arguments, f"plain-{output}")
        here, there = (board.parent / f"{begin}{output}" for begin in ("", "plain-"))
        assert here.read_bytes() == there.read_bytes()
        assert "灯" in here.read_text("utf-8")


@pytest.mark.slow
@pytest.mark.parametrize("name", ["Latin-1 output", "code page 437 output"])
def test_a_terminal_shows_what_it_can(name: str, locales: str, board: Path) -> None:
    """What it cannot show is its number; the numbers of the trade have their points."""
    shown = in_locale(name, locales, board, "check", NAME).decode("latin-1")
    assert "\\u706f" in shown
    assert in_locale(name, locales, board, "energize", NAME, "-f", "json").isascii()


@pytest.mark.slow
def test_no_number_and_no_word_follows_the_locale() -> None:
    """No code asks for the locale, none writes a number by it (the format n), and none a date."""
    for path in sorted((ROOT / "wirecheck").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = {alias.name for alias in node.names} | {getattr(node, "module", None)}
                assert not names & {"locale", "gettext"}, path
            if isinstance(node, ast.FormattedValue) and isinstance(node.format_spec, ast.JoinedStr):
                last = node.format_spec.values[-1]
                assert not (isinstance(last, ast.Constant) and str(last.value).endswith("n")), path
            if isinstance(node, ast.Attribute):
                assert node.attr not in ("strftime", "setlocale", "strcoll", "strxfrm"), path
