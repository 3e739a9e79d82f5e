"""The rules of the house that no other tool holds: who prints, who opens files, what travels along."""

import ast
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
CORE = sorted(
    path
    for path in (ROOT / "wirecheck").rglob("*.py")
    if path.relative_to(ROOT / "wirecheck").parts[0] not in ("cli", "files.py", "__main__.py")
)
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


def called(tree):
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            function = node.func
            if isinstance(function, ast.Name):
                yield function.id, node.lineno
            elif isinstance(function, ast.Attribute):
                yield function.attr, node.lineno


@pytest.mark.parametrize("path", CORE, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_the_core_neither_prints_nor_opens_files(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert [(name, line) for name, line in called(tree) if name in OPENING | SAYING] == []


def test_the_walk_above_sees_what_it_looks_for():
    tree = ast.parse("print(1)\nPath('x').read_text()\nopen('x')")
    assert {name for name, _ in called(tree)} & (OPENING | SAYING) == {"print", "read_text", "open"}


def test_the_top_level_holds_nothing_else():
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "wirecheck", "grammar", "tests", "boards"}
    tracked = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    made = {path.name for path in ROOT.glob("*.egg-info")} | {"build", "dist", "__pycache__"}
    assert tracked - made <= allowed


def test_no_check_is_switched_off():
    for path in (ROOT / "wirecheck").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        for mark in ("# " + "noqa", "# type: " + "ignore", "TO" + "DO:", "FIX" + "ME"):
            assert mark not in text, f"{path} has {mark}"


def test_the_wheel_takes_the_folders_beside_the_package():
    build = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert build["force-include"] == {"grammar": "wirecheck/grammar", "boards": "wirecheck/boards"}
