"""The report for people."""

import unicodedata
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.report.findings import CLEAN, HOSTILE, MANUALS, PORCH
from wirecheck.caution import CAUTION
from wirecheck.language.syntax import Span
from wirecheck.report.formats.text import findings_only, render
from wirecheck.report.plain import excerpt, plain


def seen(*reports):
    return render(reports, MANUALS)


def test_a_finding_says_what_where_how_much_why_and_what_to_do():
    text = seen(PORCH)
    for said in (
        "Porch light (boards/porch light.wire)",
        "1. VIOLATION: overcurrent-protection, LP.3",
        "the smallest wire behind it is 14 AWG copper.",
        "line 3 | breaker LP.3 20 A",
        "Here it is 20 A; the limit is 15 A.",
        "Why: A wire that carries more than it can lose",
        "Source: NEC 2023 240.4(D)",
        "To do: Put in a 15 A breaker, or pull 12 AWG.",
        "With line 4: this cable is 14 AWG",
        "1 board checked: 1 hazard, 1 violation, 1 fault, 1 piece of advice.",
    ):
        assert said in text


@pytest.mark.parametrize(
    ("value", "limit", "unit", "said"),
    [
        (119.93, 108, "V", "Here it is 120 V; the limit is 108 V."),
        (15.02, 15, "A", "Here it is 15.02 A; the limit is 15 A."),
        (20.25, 20.3, "cu in", "Here it is 20.25 cu in; the limit is 20.3 cu in."),
        (4.5, 6, "in", "Here it is 4-1/2 in; the limit is 6 in."),
        (0.0062, 0.006, "A", "Here it is 6.2 mA; the limit is 6 mA."),
        (2, 1, "wires", "Here it is 2 wires; the limit is 1 wire."),
        (1027.4, None, "A", "Here it is 1030 A."),
        (None, 3.0, "%", "The limit is 3 %."),
    ],
)
def test_numbers_are_those_of_a_good_meter_and_never_read_the_same(value, limit, unit, said):
    found = PORCH.findings[0]._replace(value=value, limit=limit, unit=unit)
    assert said in " ".join(seen(replace(PORCH, findings=(found,))).split())


def test_marks_stand_under_what_is_meant():
    lines = seen(PORCH).splitlines()
    line = next(number for number, text in enumerate(lines) if "breaker LP.3 20 A" in text and "|" in text)
    assert lines[line + 1].index("^^^^") == lines[line].index("20 A")
    assert lines[line + 1].count("^") == 4


def test_the_caution_is_there_once_whatever_was_found():
    for text in (seen(PORCH, CLEAN, PORCH), seen(CLEAN)):
        assert " ".join(text.split()).count(CAUTION) == 1


def test_a_clean_board_says_so():
    assert "No problem found." in seen(CLEAN)
    assert "1 board checked: no problem found." in seen(CLEAN)


def test_quiet_keeps_the_findings_and_drops_the_rest():
    assert findings_only([CLEAN], {}) == ""
    quiet = findings_only([CLEAN, PORCH], {})
    assert "Clean" not in quiet
    assert "boards checked" not in quiet
    assert "LP.3" in quiet


def test_the_reason_of_a_rule_is_told_once():
    assert seen(PORCH, PORCH).count("Why: A wire") == 1


def test_nothing_of_a_hostile_file_reaches_the_terminal():
    text = seen(HOSTILE)
    assert {unicodedata.category(char) for char in text} & {"Cc", "Cf", "Cs"} == {"Cc"}
    assert {char for char in text if unicodedata.category(char) == "Cc"} == {"\n"}
    assert not any(line.lstrip().startswith("::") for line in text.splitlines())


@given(st.text())
def test_plain_keeps_columns_and_nothing_that_moves_the_cursor(text):
    shown = plain(text)
    assert len(shown) == len(text)
    assert shown.isascii() or not {unicodedata.category(char) for char in shown} & {
        "Cc",
        "Cf",
        "Cs",
        "Zl",
        "Zp",
    }
    assert "\x1b" not in shown


@given(st.text(), st.integers(1, 9), st.integers(1, 3000), st.integers(0, 5), st.integers(1, 3000))
def test_an_excerpt_never_fails_and_stays_narrow(text, line, column, more, end_column):
    shown = excerpt(text, Span(line, column, line + more, end_column))
    if shown is not None:
        assert len(shown.line) <= 102
        assert "^" in shown.marks


def test_a_long_line_is_cut_to_the_part_that_matters():
    line = "x" * 5000 + "HERE" + "y" * 5000
    shown = excerpt(line, Span(1, 5001, 1, 5005))
    start = shown.marks.index("^")
    assert shown.line[start : start + 4] == "HERE"
    assert shown.marks.count("^") == 4
    assert shown.line.startswith("...")
    assert shown.line.endswith("...")


def test_wide_characters_move_the_marks():
    # The first character is two columns wide, so the third stands in the fourth column.
    assert excerpt("\u7bb1 A 20", Span(1, 3, 1, 4)).marks == "   ^"
