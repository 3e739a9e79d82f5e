"""A sheet goes to plain data and back, and loses nothing on the way."""

import json

import pytest
from hypothesis import given

from tests.grading.strategies import sheets
from wirecheck.grading.plain import NotASheet, as_json, plain_sheet, sheet_of, sheet_of_json
from wirecheck.grading.sheet import Sheet, StageScore

SMALL = Sheet("a.wire", "Ana", "Shed", (StageScore("trim", 30.0, 20.5, False),), remarks=("Look.",))


def kinds(value):
    """The types of all that is in a value: 1 and 1.0 are equal, and not the same."""
    return type(value), [kinds(each) for each in value] if isinstance(value, tuple) else None


@given(sheets)
def test_it_comes_back_as_it_was(sheet):
    text = as_json(sheet)
    assert text.isascii() and "\n" not in text
    again = sheet_of_json(text)
    assert (again, kinds(again), as_json(again)) == (sheet, kinds(sheet), text)
    assert json.loads(text) == plain_sheet(sheet)
    assert sheet_of(plain_sheet(sheet)) == sheet


def test_its_bytes_are_these():
    """A record keeps them: where this changes, older records must still be read."""
    assert as_json(SMALL) == (
        '{"file":"a.wire","student":"Ana","exercise":"Shed",'
        '"stages":[{"stage":"trim","points":30.0,"score":20.5,"lost":false}],'
        '"taken":[],"remarks":["Look."],"refused":"","trace":{"same":"","comments":[],"names":[]}}'
    )


def test_what_an_older_version_did_not_know_is_as_usual():
    old = '{"file":"a.wire","student":"Ana","exercise":"Shed","stages":[]}'
    assert sheet_of_json(old) == Sheet("a.wire", "Ana", "Shed", ())


@pytest.mark.parametrize(
    "wrong",
    [
        "",
        "{",
        "null",
        "[]",
        "7",
        '"a"',
        "{}",
        '{"file":"a","student":"b","exercise":"c"}',
        '{"file":"a","student":"b","exercise":"c","stages":{}}',
        '{"file":"a","student":"b","exercise":"c","stages":"trim"}',
        '{"file":"a","student":"b","exercise":"c","stages":[7]}',
        '{"file":"a","student":"b","exercise":"c","stages":[{"stage":"trim"}]}',
        '{"file":"a","student":"b","exercise":"c","stages":[],"more":1}',
        "[" * 100_000,
    ],
)
def test_what_tells_of_no_sheet_is_refused(wrong):
    with pytest.raises(NotASheet):
        sheet_of_json(wrong)


def test_a_sheet_whose_points_are_no_number_has_no_json():
    with pytest.raises(ValueError):
        as_json(SMALL._replace(stages=(StageScore("trim", float("nan"), 0.0, False),)))
