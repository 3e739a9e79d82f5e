"""Near names and plain words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.language.grammar import keywords
from wirecheck.language.reader import read
from wirecheck.language.words import FORMS, NAMED_FORMS, expected, nearest


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        *(("brekaer", "breaker"), ("Cable", "cable"), ("ta", "at"), ("pannel", "panel")),
        *(("expct", "expect"), ("termnial", "terminal"), ("zzz", None), ("", None)),
    ],
)
def test_the_nearest_word(written, meant):
    assert nearest(written, FORMS) == meant


@given(st.text(max_size=300), st.lists(st.text(max_size=20), max_size=5))
def test_the_nearest_name_is_one_of_them(name, candidates):
    assert nearest(name, candidates) in [None, *candidates]


def test_an_exact_name_is_nearest():
    assert nearest("S1.line", ["S1.load", "S1.line"]) == "S1.line"


@pytest.mark.parametrize("form", [*FORMS.values(), *NAMED_FORMS.values()])
def test_forms_that_messages_show_can_be_read(form):
    for statement in form.split("; "):
        assert read(statement).problems == ()


def test_what_is_expected_reads_as_a_sentence():
    assert expected({"FROM", "NAME", "$END"}, keywords(), "expect") == 'a name, "from" or the end of the line'
    assert expected({"AMOUNT"}, keywords(), "breaker") == "a current, as 15 A"
    assert expected(set(), keywords(), "") == ""
