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


def test_an_older_edition_differs_where_its_rows_say_so() -> None:
    """314.16(B)(5): from 2020 on each ground beyond four is a quarter, before all count as one."""
    beyond = [edition(year).limit("allowance of each ground beyond those") for year in EDITIONS]
    assert beyond == [0, 0.25, 0.25]
    assert [edition(year).section("ampacities") for year in EDITIONS] == [
        *("NEC 2017 Table 310.15(B)(16)", "NEC 2020 Table 310.16", "NEC 2023 Table 310.16")
    ]
    assert [edition(year).section("volumes of conductors") for year in EDITIONS] == [
        *("NEC 2017 Table 314.16(B)", "NEC 2020 Table 314.16(B)", "NEC 2023 Table 314.16(B)(1)")
    ]
    assert [edition(year).section("free conductor") for year in EDITIONS] == [
        f"NEC {year} 300.14" for year in EDITIONS
    ]


@pytest.mark.parametrize("year", EDITIONS[:-1])
def test_each_row_of_an_older_edition_takes_the_place_of_one(year: int) -> None:
    folder = ROOM / f"nec-{year}"
    for path in folder.glob("*.csv"):
        newest = {next(iter(row.values())) for row in NEC.rows(path.stem)}
        own = files.table_rows(f"{folder.name}/{path.stem}")
        assert [row for row in own if next(iter(row.values())) not in newest] == []
        assert [row for row in own if row["checked"] not in ("public text", "memory")] == []
        # A row that says what the next edition says is none.
        later = edition(EDITIONS[EDITIONS.index(year) + 1]).rows(path.stem)
        assert [row for row in own if row in later] == []


def test_a_full_box_is_judged_by_the_edition_of_its_board() -> None:
    """Five cables of 14/2 and no device: 10 x 2.00 and the grounds, 2.00 or 2.50 cu in."""
    runs = "".join(f"cable W{n} 14/2 NM-B 9 ft from LP to A\n" for n in range(5))
    text = f'board "Many"\ncode nec 2017\npanel LP 120/240 V\nbox A square 22.2 cu in\n{runs}'
    for year, full in ((2017, False), (2020, True), (2023, True)):
        told = wirecheck.check(text.replace("2017", str(year)), stage="rough-in").findings
        assert any(one.rule == "box-fill" for one in told) == full


@pytest.mark.parametrize("year", [*EDITIONS, *NEAR, 1999, 2100])
def test_any_year_is_judged_by_the_nearest_edition(year: int) -> None:
    code = edition(year)
    assert code.year in EDITIONS and code.name == f"NEC {code.year}"
    assert all(abs(code.year - year) <= abs(other - year) for other in EDITIONS)
    assert build(read(f"code nec {year}\n{STAIR}"), wirecheck.shipped_parts()).code == code
