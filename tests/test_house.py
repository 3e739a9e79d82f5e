"""The rules of the house that no other tool holds: who prints, who opens files, what travels along."""

import ast
import functools
import importlib
import subprocess
import tomllib
from pathlib import Path

import pytest

from wirecheck import files
from wirecheck.model import places
from wirecheck.parts import part, read
from wirecheck.rules import rules

ROOT = Path(__file__).parent.parent
CORE = sorted(
    path
    for path in (ROOT / "wirecheck").rglob("*.py")
    if path.relative_to(ROOT / "wirecheck").parts[0]
    not in ("cli", "files.py", "inputs.py", "kept.py", "record.py", "whole.py", "__main__.py")
)
CODE = sorted((ROOT / "wirecheck").rglob("*.py"))
OPENING = {
    "open",
    "fdopen",
    "read_text",
    "read_bytes",
    "write_text",
    "write_bytes",
    "unlink",
    "mkdir",
    "rename",
}
SAYING = {"print", "echo", "secho", "input", "breakpoint"}


CUTTING = {"partition", "rpartition", "split", "startswith", "endswith", "removeprefix", "removesuffix"}
# Who may take text apart: the language, and these, each for a text that is no name of a board's thing.
CUTS = {
    "files.py": "the lines of a table that are comments",
    "inputs.py": "paths",
    "assembly.py": "whether a text is a path",
    "judge/rule.py": "the name of a rule's module, and its docstring",
    "grading/handed_out.py": "the lines of a student's text",
    "grading/starting.py": "the lines of an exercise",
    "grading/tracing.py": "the lines of a student's text",
    "editor/hover.py": "the row of a word",
    "editor/outline.py": "the rows of a statement",
    "editor/tokens.py": "the rows of a text",
    "report/guide.py": "the paragraphs of a lesson",
    "report/paragraphs.py": "words, folded to the width of a page",
    "report/manual.py": "the paragraphs of a docstring",
    "report/manual_pages.py": "the paragraphs of a docstring",
    "cli/__init__.py": "the files of commands",
    "cli/_states.py": "NAME=POSITION",
    "cli/checklist.py": "the ending of a file",
    "cli/grade.py": "the ending of a file",
    "cli/parts.py": "the ending of a file, and a name that is begun in the shell",
    "cli/trouble.py": "the ending of a file",
    "cli/rules.py": "a name that is begun in the shell",
    "tables": "cells of published tables, which have forms of their own, and trade sizes",
}
# The letters on thermostats. (Units of the trade, such as W and C, are the language's.)
LETTERS = {
    "R",
    "RC",
    "RH",
    "Rc",
    "Rh",
    "C",
    "W",
    "W1",
    "W2",
    "W3",
    "Y",
    "Y1",
    "Y2",
    "G",
    "O",
    "B",
    "O/B",
    "E",
}
# Words of the language that are names of parts as well.
WORDS = {
    *part.KINDS,
    *part.SENSED,
    *read.PROTECTION_OPTIONS,
    *places.BOX_KINDS,
    "panel",
    "lug",
    "breaker",
    "metal-box",
}


@functools.cache
def called(module):
    return list(calls(module))


def calls(module):
    for node in ast.walk(module):
        if isinstance(node, ast.Call):
            function = node.func
            if isinstance(function, ast.Name):
                yield function.id, node.lineno
            elif isinstance(function, ast.Attribute):
                yield function.attr, node.lineno


@functools.cache
def tree(path):
    return ast.parse(path.read_text(encoding="utf-8"))


def test_the_core_neither_prints_nor_opens_files():
    used = [(place(path), *one) for path in CORE for one in called(tree(path))]
    assert [one for one in used if one[1] in OPENING | SAYING] == []


def place(path):
    return path.relative_to(ROOT / "wirecheck").as_posix()


def strings(module):
    """The strings of a module that are no docstrings, with their lines."""
    said = {id(node.value) for node in ast.walk(module) if isinstance(node, ast.Expr)}
    for node in ast.walk(module):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in said:
            yield node.value, node.lineno


def test_no_name_is_taken_apart():
    """A board's things are objects that know their owner, their screw and their place."""
    for path in CODE:
        room = place(path).split("/")[0]
        if room != "language" and room not in CUTS and place(path) not in CUTS:
            cuts = [(name, line) for name, line in called(tree(path)) if name in CUTTING]
            assert cuts == [], place(path)


@pytest.mark.parametrize("name", CUTS)
def test_who_may_take_text_apart_does(name):
    path = ROOT / "wirecheck" / name
    paths = path.rglob("*.py") if path.is_dir() else [path]
    assert any(used in CUTTING for one in paths for used, _ in called(tree(one)))


def test_no_code_knows_a_part_by_its_name_or_a_thermostat_by_its_letters():
    """What a part is and what its screws carry stands in its file."""
    parts = set(files.part_names()) - WORDS
    for path in CODE:
        units = {"C", "W", "E"} if path.parent.name == "language" else set()
        known = [one for one in strings(tree(path)) if one[0] in parts | (LETTERS - units)]
        assert known == [], place(path)


def test_the_rules_room_holds_nothing_but_rules():
    """But for the list of them, each file ends in its rule, which bears its name."""
    room = ROOT / "wirecheck" / "rules"
    for path in sorted(room.rglob("*.py")):
        if path.name != "__init__.py":
            module = importlib.import_module(f"wirecheck.rules.{path.stem}")
            assert module.RULE.name == path.stem.replace("_", "-")
            last = ast.parse(path.read_text(encoding="utf-8")).body[-1]
            assert isinstance(last, ast.Assign) and ast.unparse(last.targets[0]) == "RULE", path
    assert {rule.name.replace("-", "_") for rule in rules()} == {
        path.stem for path in room.glob("*.py") if path.name != "__init__.py"
    }


def test_the_walk_above_sees_what_it_looks_for():
    module = ast.parse("print(1)\nPath('x').read_text()\nopen('x')")
    assert {name for name, _ in called(module)} & (OPENING | SAYING) == {"print", "read_text", "open"}


def test_the_top_level_holds_nothing_else():
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "wirecheck", "grammar", "tests", "boards"}
    # What git has, and not what lies there: the README's demo leaves its picture beside it.
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
    top = {Path(path).parts[0] for path in tracked.splitlines()}
    assert {name for name in top if not name.startswith(".")} == allowed


def test_no_check_is_switched_off():
    for path in (ROOT / "wirecheck").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        for mark in ("# " + "noqa", "# type: " + "ignore", "TO" + "DO:", "FIX" + "ME"):
            assert mark not in text, f"{path} has {mark}"


def test_the_wheel_takes_the_folders_beside_the_package():
    build = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert build["force-include"] == {"grammar": "wirecheck/grammar", "boards": "wirecheck/boards"}
