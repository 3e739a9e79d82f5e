"""The sections and limits of an edition: each is used, and each that a rule cites is there."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from wirecheck import files
from wirecheck.rules import rules
from wirecheck.tables.code import LATEST

ROOM = Path(files.__file__).parent
SECTIONS, LIMITS = LATEST.rows("sections"), LATEST.rows("limits")
MATTERS = [row["matter"] for row in (*SECTIONS, *LIMITS)]

# A section as it is cited: 110.14(A), Table 310.16, Chapter 9 Table 4. What another standard numbers so
# stands behind a letter (C84.1), or has more digits before its point.
_CITED = re.compile(
    r"Chapter 9 Table \d+(?:\([A-Z]\))?|(?:Table )?(?<![\w.])\d{2,3}\.\d+(?:\([A-Za-z0-9]+\))*(?![\w.]*\d)"
)


@cache
def trees() -> dict[Path, ast.Module]:
    """The code of the package, file by file."""
    return {path: ast.parse(path.read_text(encoding="utf-8")) for path in sorted(ROOM.rglob("*.py"))}


def cited(source: str) -> Iterator[str]:
    """Every section of the code in a source, as "NEC 110.14(A), Table 310.16; UL 943"."""
    for part in source.split(";"):
        if "NEC" in part or "Chapter 9" in part:
            yield from _CITED.findall(part)


def held() -> set[str]:
    """Every section that a table of the edition names, and the wider ones that these are parts of."""
    tables = [path.stem for path in (files.folder("tables") / LATEST.folder).glob("*.csv")]
    columns = [
        written
        for table in tables
        for row in LATEST.rows(table)
        for column, written in row.items()
        if column in ("section", "cap_section", "dry_section") or (table == "rooms" and written[:1].isdigit())
    ]
    exact = {section for written in columns for section in re.split(r", | and ", written)}
    return exact | {section[: place.start()] for section in exact for place in re.finditer(r"\(", section)}


def test_what_a_source_cites_is_read() -> None:
    source = "NEC 110.14(A), 210.4(B) and Table 310.16; ANSI C84.1; UL 5085-3; Chapter 9 Table 11(A), 725.136"
    assert list(cited(source)) == [
        *("110.14(A)", "210.4(B)", "Table 310.16", "Chapter 9 Table 11(A)", "725.136")
    ]
    assert list(cited("NEC 110.22, 210.7; OSHA 29 CFR 1910.147")) == ["110.22", "210.7"]


@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule.name)
def test_every_section_of_a_manual_is_held(rule) -> None:
    assert set(cited(rule.manual.source)) <= held()


@pytest.mark.slow
def test_every_matter_is_asked_for_by_its_name() -> None:
    words = {
        node.value
        for tree in trees().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert [matter for matter in MATTERS if matter not in words] == []


@pytest.mark.slow
def test_every_matter_that_is_asked_for_is_held() -> None:
    asked = {
        argument.value
        for tree in trees().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
        if node.func.attr in ("section", "limit")
        for argument in node.args
        if isinstance(argument, ast.Constant)
    }
    assert asked <= set(MATTERS)


def test_a_matter_stands_once_and_so_does_a_section() -> None:
    assert len(MATTERS) == len(set(MATTERS))
    sections = [row["section"] for row in SECTIONS]
    assert len(sections) == len(set(sections))


@pytest.mark.parametrize("rows", [SECTIONS, LIMITS], ids=["sections", "limits"])
def test_rows_stand_in_the_order_of_the_code(rows) -> None:
    def place(section: str) -> tuple[object, ...]:
        bare = section.replace("Table ", "").replace("Article ", "")
        words = re.findall(r"\d+|[A-Za-z()]+", bare)
        return (
            bare.startswith("Chapter"),
            [(word.isalpha(), int(word) if word.isdigit() else word) for word in words],
        )

    order = [(*place(row["section"]), row["section"]) for row in rows]
    assert order == sorted(order)
    assert {row["checked"] for row in rows} <= {"public text", "memory"}
