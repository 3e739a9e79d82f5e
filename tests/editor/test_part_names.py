"""The names of a part file in the editor: what they are, where they are used, which may come next."""

import pytest

from tests.editor.features import all_of, end_of, read
from wirecheck import files
from wirecheck.editor.completion import completions
from wirecheck.editor.hover import hover
from wirecheck.editor.names import made, uses
from wirecheck.language import syntax
from wirecheck.language.part_mentions import part_mentions
from wirecheck.language.reader import read as read_text

PART = """part pump "A pump that runs on its own call"
rating blower 9 A
rating delay 30 s
terminal L hot
terminal N neutral
terminal W class-2
terminal C class-2-common
calls water
state control idle, running
load blower motor from L to N, blower at 120 V
W -- C when call water and blower runs
control goes from idle to running after delay when W has 18 V to C
"""


def place(line, word, nth=0):
    """The line and the column of a word."""
    row, at = PART.splitlines()[line - 1], -1
    for _ in range(nth + 1):
        at = row.index(word, at + 1)
    return line, at + 1


def spots(found):
    return [(one.span.line, one.span.column) for one in found]


@pytest.mark.parametrize(
    ("at", "makes", "used"),
    [
        (place(2, "blower"), place(2, "blower"), [place(10, "blower", 1)]),
        (place(10, "blower"), place(10, "blower"), [place(11, "blower")]),
        (place(11, "blower"), place(10, "blower"), [place(11, "blower")]),
        (place(12, "delay"), place(3, "delay"), [place(12, "delay")]),
        (place(11, "W"), place(6, "W"), [place(11, "W"), place(12, "W")]),
        (place(11, "water"), place(8, "water"), [place(11, "water")]),
        (place(12, "control"), place(9, "control"), [place(12, "control")]),
    ],
)
def test_a_name_leads_to_its_line_and_a_rating_is_no_load(at, makes, used):
    now = read(PART)
    assert spots(made(now, *at)) == [makes]
    assert sorted(spots(uses(now, *at))) == sorted([makes, *used])


def test_hover_tells_the_line_and_the_uses():
    now = read(PART)
    assert hover(now, *place(11, "W")).rows == ("terminal W class-2", "Used on lines 11 and 12")
    assert hover(now, *place(4, "L")).rows == ("terminal L hot", "Used on line 10")
    assert hover(read('part x "X"\nterminal a hot'), 2, 10).rows == ("terminal a hot", "Not used")


@pytest.mark.parametrize(
    ("typed", "some", "none"),
    [
        ("load m motor from ", ("L", "N", "W"), ("blower", "water")),
        ("load m motor from L to N, ", ("blower", "delay"), ("W", "water")),
        ("W -- ", ("C", "L"), ("water",)),
        ("W -- C when call ", ("water",), ("W",)),
        ("W -- C when ", ("control", "blower", "W"), ("delay",)),
        ("con", ("control",), ("L",)),
        ("K is ", ("contactor-2-pole",), ("W",)),
    ],
)
def test_what_may_come_next(typed, some, none):
    text = PART + typed
    names = [one.text for one in completions(read(text), *end_of(text))]
    assert set(some) <= set(names), names
    assert not set(none) & set(names), names


@pytest.mark.slow
@pytest.mark.parametrize("name", files.part_names())
def test_every_screw_that_a_shipped_part_uses_is_known(name):
    text = files.part_text(name)
    source = read_text(text)
    found = part_mentions(source)
    rows = text.splitlines()
    for one in found:
        assert rows[one.span.line - 1][one.span.column - 1 : one.span.end_column - 1] == one.name
    at = {(one.span.line, one.span.column): one for one in found}
    for statement in source.statements:
        if isinstance(statement, syntax.JoinStatement):
            for end in statement.ends:
                mention = at[end.name.span.line, end.name.span.column]
                assert mention.kind in ("terminal", "device")
    assert {(one.name, one.kind) for one in found if one.makes} >= {(one.name, one.kind) for one in found}


@pytest.mark.slow
def test_a_part_that_is_half_written_has_all_that_can_be_read_of_it():
    for end in range(0, len(PART), 7):
        text = PART[:end]
        all_of(text, [end_of(text)])
