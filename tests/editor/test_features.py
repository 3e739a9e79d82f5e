"""The features by themselves, on small texts."""

import contextlib

import pytest

from tests.cli.boards import RIGHT
from tests.editor.features import all_of, end_of, read
from wirecheck import check, files
from wirecheck.editor.completion import completions
from wirecheck.editor.found import found
from wirecheck.editor.hover import hover
from wirecheck.editor.layout import laid_out
from wirecheck.editor.names import CannotRename, made, renamed, uses
from wirecheck.editor.outline import folds, outline
from wirecheck.editor.tokens import tokens
from wirecheck.language.rewriting import rewritten
from wirecheck.language.tidy import tidy


def offered(text):
    return [one.text for one in completions(read(text), *end_of(text))]


HEAD = RIGHT[: RIGHT.index("at BP")]


@pytest.mark.parametrize(
    ("typed", "some", "none"),
    [
        ("at ", ("BP", "A", "B"), ("S1", "W1")),
        ("at A\n  W1.black -- ", ("W2.black", "S1.line", "S1.load", "pigtail"), ("W1.black", "L1.hot")),
        ("at A\n  W1.black -- S1.line\n  W2.black -- S1.", ("S1.load", "S1.ground"), ("S1.line",)),
        ("at A\n  W1.black -- S1.line\n  W", ("W1.white", "W2.black"), ("W1.black",)),
        ("at BP\n  W1.white -- BP.neutral\n  W1.black -- BP.", ("BP.3", "BP.neutral"), ()),
        ("at A\n  cap ", ("W1.black",), ("L1.hot",)),
        ("S2 is 3-", ("3-way-switch",), ("lampholder",)),
        ("S2 is lampholder 60 W in ", ("A", "B"), ("W1",)),
        ("cable W3 14/2 ", ("NM-B", "CL2"), ("A",)),
        ("cable W3 14/2 NM-B 9 ", ("ft", "m"), ("V", "A")),
        ("cable W3 14/2 NM-B 9 ft from ", ("BP", "A", "B"), ("W1",)),
        ("cable W3 14/2 NM-B 9 ft from A ", ("to",), ("from",)),
        ("cable W3 14/2 NM-B 9 ft from A (", ("free", "secured"), ()),
        ("breaker BP.5 15 ", ("A",), ("V", "W")),
        ("breaker BP.5 15 A ", ("gfci", "2-pole", "tied"), ("metal",)),
        ("box C ", ("device", "octagon"), ("metal",)),
        ("L2 is lampholder 60 ", ("W",), ("ft",)),
        ("bre", ("breaker",), ("box",)),
        ("expect ", ("L1", "end"), ()),
        ("room ", ("kitchen",), ("A",)),
        ("# at ", (), ("A",)),
        ('board "at ', (), ("A",)),
    ],
)
def test_what_may_come_next(typed, some, none):
    names = offered(HEAD + typed)
    assert set(some) <= set(names), names
    assert not set(none) & set(names), names


def test_a_name_leads_to_where_it_is_made_and_used():
    now = read(RIGHT + "at A\n  S1.line -- -- W1.black\n")
    lines = now.rows
    line = next(n for n, row in enumerate(lines, 1) if row == "  W1.black -- S1.line")
    assert [one.span.line for one in made(now, line, 4)] == [9]
    there = uses(now, line, 16)
    assert [lines[one.span.line - 1][one.span.column - 1 : one.span.end_column - 1] for one in there] == [
        "S1"
    ] * len(there)
    # The one in the line that cannot be read is among them.
    assert there[-1].span.line == len(lines) - 1


@pytest.mark.parametrize("name", ["BP", "A", "W1", "S1", "L1"])
def test_a_board_with_another_name_has_the_same_findings(name):
    text = RIGHT.replace("breaker BP.3 15 A", "breaker BP.3 20 A").replace("W2.white -- L1.neutral", "")
    now = read(text)
    at = next(one for one in now.mentions if one.name == name)
    renewed = rewritten(text, renamed(now, at.span.line, at.span.column, "NEW-1"))
    assert renewed != text
    before, after = check(text, effort=0), check(renewed, effort=0)
    said = [(one.rule, one.severity, one.line, one.value) for one in before.findings]
    assert said and said == [(one.rule, one.severity, one.line, one.value) for one in after.findings]


@pytest.mark.parametrize("to", ["S1", "at", "a b", "W1.x", "", "1-1/2", "leg-a", "x" * 200, '"', "é"])
def test_a_name_that_cannot_be_given(to):
    with pytest.raises(CannotRename):
        renamed(read(RIGHT), 6, 5, to)


def test_a_breaker_keeps_its_space():
    with pytest.raises(CannotRename, match=r"BP\.3 is called by its space"):
        renamed(read(RIGHT), 4, 12, "5")


def test_what_is_told_of_a_wire_and_of_a_breaker():
    now = read(RIGHT)
    line = now.rows.index("  W1.black -- BP.3") + 1
    assert hover(now, line, 6).rows == (
        "W1.black, by its color a hot or a switched wire",
        "14 NM-B, copper, 22 ft from BP to A",
        f"At BP: BP.3 (line {line})",
        f"At A: S1.line (line {line + 5})",
    )
    assert "15 A on leg b of BP" in hover(now, line, 18).rows
    assert (
        hover(now, now.rows.index("S1 is single-pole-switch in A") + 1, 10)
        .rows[0]
        .startswith("single-pole-s")
    )
    assert hover(now, 1, 12) is None


def test_the_outline_and_the_folds():
    now = read("# one\n# two\n" + RIGHT)
    names = [one.name for one in outline(now)]
    assert names[:3] == ["Boathouse lamp", "BP", "BP.3"]
    assert names[-4:] == ["at BP", "at A", "at B", "expect L1 from S1"]
    assert [(one.first, one.last) for one in folds(now)] == [(1, 2), (17, 20), (22, 26), (28, 31)]


def test_a_wire_has_the_name_of_its_color():
    now = read(RIGHT)
    line = now.rows.index("  W1.white -- W2.white") + 1
    marks = [one.marks for one in tokens(now) if one.line == line and one.role == "property"]
    assert marks == [("white",), ("white",)]
    single = read(RIGHT + "wire H1 12 THHN red 9 ft from A to B\n")
    assert [one.marks for one in tokens(single) if "declaration" in one.marks][-1] == ("declaration", "red")


def test_the_layout_is_that_of_tidy():
    text = RIGHT.replace("\nbox B", "\n\n\nbox   B").replace("  W1.bare", "W1.bare")
    assert rewritten(text, [laid_out(text)]) == tidy(text)
    assert laid_out(tidy(text)) is None


def test_what_is_found_of_each_kind_of_text():
    wrong = RIGHT.replace("breaker BP.3 15 A", "breaker BP.3 20 A")
    one = found(None, wrong, "-", 20)[0]
    assert (one.rule, one.severity, one.span.line) == ("overcurrent-protection", "violation", 4)
    assert rewritten(wrong, one.mends[0].edits) == RIGHT
    assert found(None, 'part x "X"\nterminal a hott', "-", 0)[0].span.line == 2
    assert found(None, 'exercise "X"\nstage final', "-", 0)[0].rule == "syntax"
    assert found(None, "", "-", 0) == ()


HOSTILE = (
    "",
    "\ufeffpanel LP 120 V\r\nat LP\r  \U0001f4a1 -- LP.\u202e",
    "\x00\n\ud800\n# \U0001f4a1 é\nat \udfff",
    'board "' + "\U0001f4a1" * 3000 + '"\nat A',
    "at " + "." * 50,
    "-- " * 600 + "\n" + ", " * 600,
    "W1." * 100 + "\nW1 is W1 is W1",
    "at A\n" + "  a --\n" * 300,
    "expect\nat\ncap\nis\n--\n,\n(\n)",
)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text(text):
    rows = text.split("\n")
    all_of(text, [(1, 1), (1, 9), end_of(text), (len(rows) + 5, 1), (2, 10_000)])
    with contextlib.suppress(UnicodeEncodeError):
        found(None, text, "-", 0)


@pytest.mark.slow
@pytest.mark.parametrize(
    "name", ["demo", "stair-light/right", "doorbell/right", "dryer-outlet/right", "two-gang-box/right"]
)
def test_no_prefix_of_a_board_is_too_little(name):
    text = (files.folder("boards") / f"{name}.wire").read_text()
    for length in range(len(text) + 1):
        begun = text[:length]
        all_of(begun, [end_of(begun)])


@pytest.mark.slow
def test_no_prefix_of_a_part_is_too_little():
    text = files.part_text("3-way-switch")
    for length in range(len(text) + 1):
        all_of(text[:length], [end_of(text[:length])])


@pytest.mark.slow
@pytest.mark.parametrize("name", ["stair-light/right", "heat-pump/right", "reversing-starter/right"])
def test_every_thing_of_a_board_can_have_another_name(name):
    text = (files.folder("boards") / f"{name}.wire").read_text()
    now = read(text)
    said = [(one.rule, one.line, one.value) for one in check(text, effort=0).findings]
    for one in now.mentions:
        if one.makes and one.kind != "breaker":
            renewed = rewritten(text, renamed(now, one.span.line, one.span.column, "NEW-1"))
            after = check(renewed, effort=0)
            assert [(each.rule, each.line, each.value) for each in after.findings] == said
