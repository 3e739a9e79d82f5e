"""The caution stands in every output, word for word, and in the README."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.boards import RIGHT, wirecheck
from wirecheck import check, files
from wirecheck.caution import CAUTION
from wirecheck.report.formats import render
from wirecheck.rules import manuals

ROOT = Path(__file__).parent.parent


def flat(text: str) -> str:
    """The words of a text, whatever its lines, its tags and its quotation marks are."""
    return " ".join(re.sub(r"<[^>]*>|\*\*|^> ", " ", text, flags=re.MULTILINE).split())


def test_the_readme_has_it() -> None:
    assert CAUTION in flat((ROOT / "README.md").read_text(encoding="utf-8"))


@pytest.mark.parametrize("form", ["text", "sarif"])
def test_a_report_has_it(form: str) -> None:
    assert CAUTION in flat(render(form, [check(RIGHT)], manuals()))


@pytest.mark.slow
@pytest.mark.parametrize(
    "arguments",
    [
        ["--help"],
        ["checklist", "-"],
        ["materials", "-"],
        ["labels", "-"],
        ["energize", "-"],
        ["energize", "-", "--set", "S1=on"],
        ["draw", "-", "-o", "-"],
        ["draw", "-", "-o", "-", "--kind", "ladder"],
    ],
)
def test_a_command_says_it(arguments: list[str]) -> None:
    assert CAUTION in flat(wirecheck(*arguments, stdin=RIGHT).stdout.decode())


@pytest.mark.parametrize(
    "arguments",
    [
        ["sequence", "--call", "heat", "-o", "page.svg"],
        ["draw", "--call", "heat", "--steps", "-o", "page.html"],
        ["checklist", "-o", "page.html"],
        ["materials", "-f", "html", "-o", "page.html"],
    ],
)
@pytest.mark.slow
def test_a_page_has_it(arguments: list[str], tmp_path: Path) -> None:
    path = files.folder("boards") / "heating-call" / "right.wire"
    done = wirecheck(*arguments, path, folder=tmp_path)
    assert (done.returncode, done.stderr) == (0, b"")
    assert CAUTION in flat((tmp_path / arguments[-1]).read_text(encoding="utf-8"))
