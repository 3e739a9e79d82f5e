"""What people call things: each word leads to a part that ships, and so does a slip in one."""

from __future__ import annotations

import pytest

from tests.parts.shelf import of
from wirecheck import check, files, shipped_parts
from wirecheck.parts.library import Library

WORDS = files.part_words()


def test_every_word_leads_to_a_part_that_ships_and_none_is_one() -> None:
    names = set(files.part_names())
    assert {part for part, _ in WORDS.values()} <= names
    assert not names & set(WORDS)
    assert all(word == word.casefold() and "_" not in word for word in WORDS)


@pytest.mark.parametrize(
    ("word", "part"),
    [
        ("outlet", "duplex-receptacle"),
        ("Light", "lampholder"),
        ("hot_tub", "spa"),
        ("dimmer-swtich", "dimmer"),
        ("recepticle", "duplex-receptacle"),
        ("lampholdr", "lampholder"),
        ("evcharger", "vehicle-charger"),
    ],
)
def test_a_word_of_the_trade_or_a_slip_leads_to_its_part(word: str, part: str) -> None:
    assert f"Did you mean {part}?" in (shipped_parts().missing(word)[1] or "")


def test_what_a_word_leaves_open_is_said() -> None:
    found = check('board "x"\nR1 is tr-outlet 15 A\n').findings
    told = next(one for one in found if one.rule == "unknown-part")
    assert (
        told.help is not None and "duplex-receptacle? Write tamper-resistant after its rating." in told.help
    )


def test_a_library_beside_knows_the_words_of_the_one_before_it() -> None:
    beside = Library(lambda name: None, lambda: (), first=shipped_parts())
    assert beside.missing("fridge")[1] == (
        "Did you mean single-receptacle? It has a cord: build the receptacle that it plugs into. "
        "A part of your own is in the file of its name, fridge.wire."
    )
    assert of().missing("fridge")[1] == "See the list with: wirecheck parts"
