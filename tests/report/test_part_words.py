"""The page of a part file's words has every word that the reader knows, and every form on it can be read."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest
from click.testing import CliRunner

from wirecheck import check_file, files
from wirecheck.cli import commands
from wirecheck.language import syntax
from wirecheck.language.reader import read
from wirecheck.parts import part
from wirecheck.parts import read as reading
from wirecheck.report import part_words

PAGE = part_words.page(files.grammar_text())
ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("table", part_words.TABLES, ids=lambda table: table.title)
def test_every_word_of_the_reader_has_its_meaning_and_no_other_has(table: part_words.Table) -> None:
    assert list(table.use) == list(table.meanings)
    assert all(table.meanings.values())


def test_every_table_of_the_reader_is_on_the_page() -> None:
    told = [list(table.use) for table in part_words.TABLES]
    tables = {name: value for name, value in vars(reading).items() if name.endswith("_OPTIONS")}
    tables |= {name: getattr(part, name) for name in ("ROLES", "CARRIES", "KINDS", "TERMINAL_FLAGS")}
    tables |= {name: getattr(part, name) for name in ("WHERE", "SERVES", "SENSED", "FILLINGS")}
    assert len(tables) == 13
    for name, words in tables.items():
        assert list(words) in told, name
    assert [*part.MOVERS, "safety"] in told
    for words in told:
        for word in words:
            assert re.search(rf"(?m)^  {re.escape(word)}\s", PAGE), word


def test_every_form_of_a_statement_can_be_read_and_none_is_missing() -> None:
    forms = [form for form, _ in (*part_words.forms(files.grammar_text()), *part_words.SHARED)]
    told = read("\n".join(forms), "forms.wire")
    assert told.problems == ()
    assert {type(one) for one in told.statements} == set(get_args(syntax.PartStatement))
    assert all(form in PAGE for form in forms)


def test_every_form_of_a_condition_can_be_read_and_none_is_missing() -> None:
    seen = set()
    for form in part_words.CONDITIONS:
        told = read(f"a -- b when {form}", "condition.wire")
        assert told.problems == ()
        (join,) = told.statements
        assert isinstance(join, syntax.JoinStatement)
        seen |= {type(one) for one in conditions(join.when)}
    assert seen == set(get_args(syntax.Condition))


def conditions(condition: syntax.Condition | None) -> list[syntax.Condition]:
    match condition:
        case None:
            return []
        case syntax.AllOf(facts) | syntax.AnyOf(facts):
            return [condition, *(one for fact in facts for one in conditions(fact))]
        case syntax.Negation(fact):
            return [condition, *conditions(fact)]
    return [condition]


def test_the_command_prints_the_page() -> None:
    result = CliRunner().invoke(commands, ["parts", "--words"])
    assert result.exit_code == 0 and result.output.rstrip() == PAGE.rstrip()


@pytest.mark.slow
def test_the_tutorial_of_the_readme_runs_as_it_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its text is written down block by block, and its lines are changed as it says."""
    monkeypatch.chdir(tmp_path)
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    section = re.search(r"(?s)<!-- tutorial -->(.*?)<!-- /tutorial -->", text)
    assert section
    begins, contacts, board, said, stage, better = re.findall(r"(?s)```\n(.*?)```", section[1])
    right = (files.folder("boards") / "two-stage-furnace" / "right.wire").read_text(encoding="utf-8")
    for line in board.splitlines():
        old = {"TS is my-stat": "TS is two-stage-thermostat", "TW.yellow -- TS.Y": "TW.yellow -- TS.Y1"}
        assert right.count(f"{old[line.strip()]}\n") == 1
        right = right.replace(f"{old[line.strip()]}\n", f"{line.strip()}\n")
    Path("my-board.wire").write_text(right, encoding="utf-8")
    mine = Path("my-stat.wire")
    mine.write_text(begins, encoding="utf-8")
    shown = CliRunner().invoke(commands, ["parts", "my-stat"]).output
    assert "Thermostat for two stages of heat" in shown and "Mistakes" not in shown
    mine.write_text(begins + contacts, encoding="utf-8")
    output = CliRunner().invoke(commands, ["check", "my-board.wire", "--effort", "0"]).output
    assert " ".join(said.split()) in " ".join(output.split())
    (line,) = stage.splitlines()
    assert contacts.count("R -- W1 when call heat\n") == 1
    staged = begins + contacts.replace("R -- W1 when call heat\n", f"{line}\n")
    mine.write_text(staged, encoding="utf-8")
    assert check_file("my-board.wire").passes
    mine.write_text(staged + better, encoding="utf-8")
    assert CliRunner().invoke(commands, ["parts", "my-stat"]).output.count("Mistakes") == 0
    assert check_file("my-board.wire").passes
