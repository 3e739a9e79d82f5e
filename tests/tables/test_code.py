"""An edition of the code is a value: another one in its place, and what is found and cited follows."""

import shutil
from pathlib import Path

import pytest

import wirecheck
from tests.rules.hands import STAIR, case
from wirecheck import files
from wirecheck.circuit.circuit import wire_ohms
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding
from wirecheck.language.reader import read
from wirecheck.model.board import Board
from wirecheck.model.build import build
from wirecheck.tables.boxes import box_volume, conductor_volume
from wirecheck.tables.code import EDITIONS, NEAR, Code, edition
from wirecheck.tables.published import NotInTable

ROOM = files.folder("tables")
NEC = edition(2023)


def made_up(folder: Path, table: str, *changes: tuple[str, str]) -> Code:
    """An edition of a year to come, which says one thing otherwise."""
    copy = folder / "nec-2099"
    shutil.copytree(ROOM / NEC.folder, copy)
    text = (copy / f"{table}.csv").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    (copy / f"{table}.csv").write_text(text, encoding="utf-8")
    return Code("NEC 2099", 2099, str(copy))


def board(code: Code, text: str = STAIR) -> Board:
    return case(text).board._replace(code=code)


def found(code: Code, rule: str, text: str = STAIR) -> list[Finding]:
    return [one for one in findings(Case(board(code, text))) if one.rule == rule]


def test_a_table_of_another_edition_decides_and_is_cited(tmp_path: Path) -> None:
    other = made_up(tmp_path, "conductor_volumes", ("14,2.00", "14,2.75"))
    assert conductor_volume("14", code=other) == pytest.approx(1.375 * conductor_volume("14", code=NEC))
    assert found(NEC, "box-fill") == []
    told = found(other, "box-fill")
    assert {one.subject for one in told} >= {"A"}
    assert all(one.source == "NEC 2099 314.16(B)" for one in told)


def test_a_limit_of_another_edition_decides_and_is_cited(tmp_path: Path) -> None:
    other = made_up(tmp_path, "limits", ("free conductor,6,in", "free conductor,7.5,in"))
    assert found(NEC, "free-conductor") == []
    told = found(other, "free-conductor")
    assert told and all(one.limit == pytest.approx(7.5) and one.source == "NEC 2099 300.14" for one in told)


def test_a_section_of_another_edition_is_cited(tmp_path: Path) -> None:
    crowded = STAIR.replace("W1.black -- S1.common\n", "W1.black -- S1.common\n  W1.white -- S1.common\n")
    other = made_up(tmp_path, "sections", ("under a screw,110.14(A)", "under a screw,110.99"))
    sources = [one.source for code in (NEC, other) for one in found(code, "terminal-crowding", crowded)]
    assert sources == ["NEC 2023 110.14(A)", "NEC 2099 110.99"]


def test_the_ohms_of_wire_are_those_of_the_edition(tmp_path: Path) -> None:
    other = made_up(tmp_path, "conductor_resistance", ("14,3.07,", "14,30.7,"))
    boards = [board(code) for code in (NEC, other)]
    ohms = [wire_ohms(one.conductors["W1.black"], one, 75.0).real for one in boards]
    assert ohms == pytest.approx([22 * 3.07e-3, 22 * 30.7e-3])


def test_what_a_table_lacks_is_said_of_the_edition(tmp_path: Path) -> None:
    other = made_up(tmp_path, "box_volumes")
    with pytest.raises(NotInTable, match=r"NEC 2099 Table 314.16\(A\) lists no"):
        box_volume("octagon", "9 x 9", code=other)


def test_a_limit_stands_with_its_section() -> None:
    assert NEC.limit("voltage drop of a branch circuit") == 0.03
    assert NEC.limit("free conductor") == pytest.approx(0.1524)
    assert NEC.section("free conductor") == "NEC 2023 300.14"
    for missing in (NEC.limit, NEC.section):
        with pytest.raises(KeyError):
            missing("the color of the van")


@pytest.mark.parametrize("year", [*EDITIONS, *NEAR, 1999, 2100])
def test_any_year_is_judged_by_the_nearest_edition(year: int) -> None:
    code = edition(year)
    assert code.year in EDITIONS and code.name == f"NEC {code.year}"
    assert all(abs(code.year - year) <= abs(other - year) for other in EDITIONS)
    assert build(read(f"code nec {year}\n{STAIR}"), wirecheck.shipped_parts()).code == code
