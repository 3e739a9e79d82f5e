"""Every kind of mend in one file that a person reads: a change of words shows as a change of that file."""

from tests.words.mends import EDITS, FILE, KINDS, VALUES, mends, printed
from wirecheck.mend.edits import Change, Together
from wirecheck.mend.words import NAMED


def test_the_mends_are_those_in_the_file() -> None:
    assert printed() == FILE.read_text(encoding="utf-8"), "see it: python -m tests.words.printed --write"


def test_every_edit_and_every_value_is_said() -> None:
    assert {type(edit) for edit in EDITS} | {Change, Together} == set(KINDS)
    assert {value.what for value in VALUES} > NAMED


def test_every_mend_is_said_in_whole_sentences() -> None:
    for line in mends():
        if not line.endswith(":"):
            text = line.strip().removeprefix("to do: ")
            assert text[0].isupper(), text
            assert text.endswith(".") and ".." not in text and "  " not in text and " ." not in text, text
