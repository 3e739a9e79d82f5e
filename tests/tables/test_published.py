"""Every table says where it comes from and how it was checked, and can be read."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import wirecheck.tables
from wirecheck.files import table_rows
from wirecheck.tables.ampacity import conductor_ampacity, insulation
from wirecheck.tables.boxes import box_volume, conductor_volume
from wirecheck.tables.code import edition
from wirecheck.tables.published import NotInTable, material_named
from wirecheck.tables.raceways import conductor_area, raceway_area
from wirecheck.tables.resistance import impedance, resistance
from wirecheck.tables.sizes import trade_size
from wirecheck.tables.supports import support
from wirecheck.tables.trips import trip_seconds

NEC = edition(2023)

ROOM = Path(wirecheck.tables.__file__).parent
TABLES = {path.relative_to(ROOM).with_suffix("").as_posix(): path for path in sorted(ROOM.rglob("*.csv"))}
SOURCES = ("NFPA 70", "IEC 60228", "UL 489", "Common practice")


@pytest.mark.parametrize("name", TABLES)
def test_header_names_its_source_and_how_it_was_checked(name: str) -> None:
    header = [line for line in TABLES[name].read_text(encoding="utf-8").splitlines() if line.startswith("#")]
    text = " ".join(header)
    assert any(source in text for source in SOURCES)
    assert "Checked:" in text


@pytest.mark.parametrize("name", TABLES)
def test_rows_are_whole_and_no_row_stands_twice(name: str) -> None:
    rows = table_rows(name)
    assert rows
    assert all(None not in row and None not in row.values() for row in rows)
    assert len({tuple(row.values()) for row in rows}) == len(rows)


@given(st.text(max_size=60), st.text(max_size=60))
def test_any_text_is_answered_or_refused_with_words(first: str, second: str) -> None:
    questions = (
        lambda: trade_size(first),
        lambda: material_named(first),
        lambda: insulation(first, code=NEC),
        lambda: resistance(first, second, code=NEC),
        lambda: impedance("12", "copper", first, code=NEC),
        lambda: conductor_ampacity(first, second, code=NEC),
        lambda: box_volume(first, second, code=NEC),
        lambda: conductor_volume(first, code=NEC),
        lambda: raceway_area(first, 0.0127, code=NEC),
        lambda: conductor_area(first, second, code=NEC),
        lambda: support(first, code=NEC),
        lambda: trip_seconds(first, 15, 20),
    )
    for question in questions:
        try:
            question()
        except NotInTable as refusal:
            assert len(str(refusal)) > 10


@given(st.floats(), st.floats(), st.integers())
def test_any_number_is_answered_or_refused(ambient: float, other: float, count: int) -> None:
    try:
        steps = conductor_ampacity("THHN", "12", "copper", ambient, count, 60, code=NEC)
        assert 0 <= steps.result <= 20
        trip_seconds("breaker", other, ambient)
        resistance("12", temperature=other, code=NEC)
    except NotInTable:
        pass
