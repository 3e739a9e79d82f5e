"""Where the editions differ in what a rule cites, against the rows in which the older ones are amended."""

from __future__ import annotations

import ast
import re
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner

from wirecheck import files, rules
from wirecheck.cli import commands
from wirecheck.report.manual import page
from wirecheck.tables.code import EDITIONS, edition
from wirecheck.tables.editions import Difference, Said, differences

AMENDED = {
    row["matter"]
    for year in EDITIONS[:-1]
    for table in ("sections", "limits")
    for row in files.table_rows(f"nec-{year}/{table}")
}
ROOM = Path(rules.__file__).parent


def of(source: str) -> dict[str, Difference]:
    found = differences(source)
    assert found is not None
    return {one.matter: one for one in found}


# NEC 314.16(B)(5) counts a quarter for each ground beyond four from 2020 on; 210.8(A) goes to 250 V then.
@pytest.mark.parametrize(
    ("source", "matter", "said", "moved"),
    [
        (
            "NEC 314.16(B)", "allowance of each ground beyond those",
            (Said((2017,), "0", "314.16(B)(5)"), Said((2020, 2023), "0.25", "314.16(B)(5)")), False,
        ),
        (
            "NEC 210.8(A)", "volts of receptacles with ground-fault protection",
            (Said((2017,), "125 V", "210.8(A)"), Said((2020, 2023), "250 V", "210.8(A)")), False,
        ),
        (
            "NEC 210.8(D)(12)", "ground-fault protection of microwave ovens",
            (Said((2017, 2020), "", ""), Said((2023,), "asked", "210.8(D)(12)")), False,
        ),
        (
            "NEC Table 310.16", "ampacities",
            (Said((2017,), "asked", "Table 310.15(B)(16)"), Said((2020, 2023), "asked", "Table 310.16")),
            True,
        ),
        (
            "NEC 210.8(A)", "ground-fault protection of receptacles: kitchen",
            (
                Said((2017, 2020), "those that serve a countertop", "210.8(A)(6)"),
                Said((2023,), "all of them", "210.8(A)(6)"),
            ),
            False,
        ),
        (
            "NEC 210.12", "arc-fault protection of circuits: kitchen, kitchen-cabinet, laundry, bedroom, "
            "living-room, dining-room, hall, closet",
            (Said((2017, 2020), "all of them", "210.12(A)"), Said((2023,), "all of them", "210.12(B)")), True,
        ),
    ],
)  # fmt: skip
def test_what_each_edition_says(source: str, matter: str, said: tuple[Said, ...], moved: bool) -> None:
    found = of(source)[matter]
    assert (found.said, found.moved) == (said, moved)


def test_what_asks_for_something_else_comes_first() -> None:
    moved = [one.moved for one in of("NEC 314.16(B), 310.15(C)(1)").values()]
    assert True in moved and False in moved and moved == sorted(moved)


def test_only_what_is_cited_is_told() -> None:
    assert differences("NEC 300.14") == ()
    # A section of another standard, or of no standard, is none of the code's.
    assert differences("common practice") is None
    assert differences("UL 210.8(A)") is None
    # A part is not the whole, nor is what only begins alike.
    assert "volumes of conductors" not in of("NEC 314.16(B)(5)")
    assert "volumes of conductors" in of("NEC 314.16(B)")
    assert differences("NEC 314.1") == ()


@pytest.mark.parametrize("rule", rules.rules(), ids=lambda rule: rule.name)
def test_what_a_rule_asks_by_name_and_editions_say_otherwise_is_in_its_manual(rule) -> None:
    module = ast.parse((ROOM / f"{rule.name.replace('-', '_')}.py").read_text(encoding="utf-8"))
    asked = {node.value for node in ast.walk(module) if isinstance(node, ast.Constant)} & AMENDED
    assert asked <= of(rule.manual.source).keys() if asked else True


def test_every_amended_row_differs_from_the_edition_after_it() -> None:
    for older, newer in pairwise(EDITIONS):
        for table in ("sections", "limits", "rooms"):
            for row in files.table_rows(f"nec-{older}/{table}"):
                key = next(iter(row))
                other = edition(newer).keyed(table, key)[row[key],]
                assert {**row, "checked": ""} != {**other, "checked": ""}, row


def test_the_manual_prints_them() -> None:
    told = CliRunner().invoke(commands, ["rules", "box-fill"]).output
    assert re.search(
        r"Editions differ:\n  - Allowance of each ground beyond those\. NEC 2017: 0 \(314\.16\(B\)\(5\)\); "
        r"NEC 2020 and\s+2023: 0\.25 \(314\.16\(B\)\(5\)\)\.\n",
        told,
    )
    assert "In another section by edition:\n  - Volumes of conductors. NEC 2017 and 2020:" in told
    same = CliRunner().invoke(commands, ["rules", "backfeed"]).output
    assert "Editions: in NEC 2017, 2020 and 2023 it is the same, as far as it is held here." in same
    assert "Editions" not in CliRunner().invoke(commands, ["rules", "switching"]).output


def test_a_manual_without_them() -> None:
    manual = rules.manuals()["box-fill"]
    assert "dition" not in page(manual, "", "")
