"""Reading whole files: samples, spans, recovery, hostile bytes."""

import gc
import random
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wirecheck.inputs import MOST_BYTES
from wirecheck.language import reader, syntax
from wirecheck.language.reader import MOST_COLUMNS, MOST_LINES, MOST_PROBLEMS, read

SAMPLES = sorted((Path(__file__).parent / "samples").glob("*.wire"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_have_no_problem(path):
    text = path.read_text()
    result = read(text)
    assert result.problems == () and result.broken == frozenset()
    written = sum(1 for line in text.splitlines() if line.strip())
    assert len(result.statements) == written


def leaves(value):
    """Every word and quantity of a statement."""
    if isinstance(value, (syntax.Word, syntax.Quantity)):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from leaves(each)
    elif hasattr(value, "__slots__"):
        for name in value.__slots__:
            yield from leaves(getattr(value, name))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_span_covers_its_text(path):
    text = path.read_text()
    lines = text.split("\n")
    for statement in read(text).statements:
        whole = statement.span
        assert lines[whole.line - 1].strip() == lines[whole.line - 1][whole.column - 1 : whole.end_column - 1]
        for leaf in leaves(statement):
            span = leaf.span
            covered = lines[span.line - 1][span.column - 1 : span.end_column - 1]
            if isinstance(statement, syntax.CableStatement) and leaf is statement.size:
                assert covered == f"{statement.size.text}/{statement.count}"
            elif isinstance(statement, syntax.PanelStatement) and leaf is statement.system:
                assert covered == "120/240 V"
            elif isinstance(statement, syntax.BoardTitle):
                assert covered == f'"{leaf.text}"'
            else:
                assert covered == leaf.text


def test_spans_of_what_is_made_of_several_words():
    text = "  cable W1 14/2 NM-B 22 ft from LP ( free 8 in ) to A  # note"
    (cable,) = read(text).statements
    (measure,) = cable.ends[0].measures
    spans = [cable.span, cable.ends[0].span, measure.span, cable.ends[1].span]
    assert [text[span.column - 1 : span.end_column - 1] for span in spans] == [
        "cable W1 14/2 NM-B 22 ft from LP ( free 8 in ) to A",
        "LP ( free 8 in )",
        "free 8 in",
        "A",
    ]


def test_a_statement_goes_on_after_a_dash_or_a_comma():
    text = "W1.bare --  # feed\n  # the ground\n\tW2.bare -- pigtail --\r\n  S1.ground # tail\nat B"
    result = read(text)
    join, at = result.statements
    assert [end.name and end.name.text for end in join.ends] == ["W1.bare", "W2.bare", None, "S1.ground"]
    assert join.span == (1, 1, 4, 12)
    assert [end.span for end in join.ends] == [(1, 1, 1, 8), (3, 2, 3, 9), (3, 13, 3, 20), (4, 3, 4, 12)]
    assert at.span == (5, 1, 5, 5)
    assert result.problems == ()


def test_a_mistake_on_a_later_line_of_a_statement_has_its_own_place():
    (problem,) = read("expect L1 from S1,\n  S2,\n  S3 S4\nat B").problems
    assert problem.span == (3, 6, 3, 8)


def test_a_promise_to_go_on_that_is_not_kept():
    result = read("at A\nW1.black --\n\nat B\nW2.black -- S1.common,\nbox C device")
    assert [problem.span for problem in result.problems] == [(2, 12, 2, 12), (5, 23, 5, 23)]
    assert [type(each).__name__ for each in result.statements] == [
        *("AtStatement", "AtStatement", "BoxStatement")
    ]


def test_a_statement_swallowed_by_a_dash_is_read_all_the_same():
    result = read("W1.black --\nat B\nW2.black -- S1.common")
    (problem,) = result.problems
    assert problem.span == (1, 12, 1, 12)
    assert problem.message == "the line ends too soon: nothing follows what it ends in"
    assert [type(each).__name__ for each in result.statements] == ["AtStatement", "JoinStatement"]


MISTAKES = [
    ("brekaer LP.3 15 A", (1, 8), "begins no statement", 'did you mean "breaker"'),
    ('Board "x"', (1, 6), "begins no statement", 'did you mean "board"'),
    ("board Stair", (7, 12), "expected words in quotes", 'board "Stair light"'),
    ("board 'Stair'", (7, 8), "no meaning", "write a plain quote"),
    ("at box B", (8, 9), "expected the end of the line", "at B"),
    ("wire W2 14/2 NM-B 11 ft from LP to A", (22, 24), "written as a cable is", 'did you mean "cable"'),
    ("cable 14/2 NM-B 11 ft from LP to A", (9, 10), 'a name comes after "cable"', "cable W1 14/2 NM-B"),
    ('board "Stair', (7, 13), "does not end on this line", 'end it with "'),
    ("cable W1 14/2 NM-B 22 ft form LP to A", (26, 30), 'expected "from"', 'did you mean "from"'),
    ("cable W1 14/2 NM-B 22 from LP to A", (20, 22), "without a unit: give a length, as 22 ft or 7 m", None),
    ("cable W1 14/2 NM-B 22 fet from LP to A", (23, 26), "no unit known here", 'did you mean "ft"'),
    ("cable W1 14/2 NM-B 22 A from LP to A", (20, 24), "22 A is a current", None),
    ("cable W1 14 NM-B 22 ft from LP to A", (10, 12), "size and count of wires, as 14/2", "it is written"),
    ("cable W1 14/2 NM-B 22 ft from LP (free 8) to A", (40, 41), "without a unit", None),
    ("cable W1 14/2 NM-B 22 ft from LP (free 8 in to A", (45, 47), '")" or a comma', "it is written"),
    ("W1.black -- pigtail 10 black -- S1.line", (24, 29), "its size, and no color", "write: pigtail 10"),
    ("W1.white -- pigtail white -- L1.neutral", (21, 26), "and no color", "pigtail, or with a size"),
    ("W1.white -- pigtail 12 awgs -- L1.neutral", (24, 28), "no unit known here", 'did you mean "AWG"'),
    ("breaker LP.3 15 V", (14, 18), "give a current, as 15 A", None),
    ("breaker LP.3", (13, 13), "ends too soon: expected a current, as 15 A", "breaker LP.3 15 A"),
    ("box A device 20.3", (14, 18), "give a volume, as 20.3 cu in", None),
    ("L1 is lampholder 60 in B", (24, 25), '"60 in" is so many inches', "60 W in B"),
    ("L1 is lampholder 60, 5 A in B", (18, 20), "60 is a number without a unit", None),
    ("L1 iss lampholder", (4, 7), "cannot stand here", 'did you mean "is"'),
    ("W1.black S1.common", (10, 19), 'comes "--" or "is"', "W1.black -- S1.common"),
    ("W1.black - S1.common", (10, 11), "no meaning", "two hyphens"),
    ("W1.black \u2013 S1.common", (10, 11), "no meaning", "two hyphens"),
    ("W1.black\u00a0-- S1.common", (9, 10), "no meaning", "a plain space"),
    ("box K\u00fcche device", (6, 7), "cannot be in a name", "letters a to z"),
    ("W1.white markd black -- S1.line", (10, 15), "cannot stand here", None),
    ("expect L1 form S1", (11, 15), "cannot stand here", 'did you mean "from"'),
    ("expect heat runs F.a, than F.b", (28, 31), "cannot stand here", 'did you mean "then"'),
    ("box A device 1/0 cu in", (14, 23), "not a fraction", None),
    ("breaker LP.3 " + "9" * 400 + " A", (14, 416), "slip in the number", None),
    ("ambient 9999 C", (9, 15), "slip in the number", None),
]


def test_every_mistake_of_a_file_is_told_in_one_run():
    text = "\n".join(line for line, *_ in MISTAKES)
    problems = read(text).problems
    assert len(problems) == len(MISTAKES)
    for number, (problem, (line, columns, said, advice)) in enumerate(
        zip(problems, MISTAKES, strict=True), 1
    ):
        assert (problem.span.line, problem.span.end_line) == (number, number), line
        assert (problem.span.column, problem.span.end_column) == columns, (line, problem)
        assert said in problem.message, (line, problem)
        assert advice is None or advice in (problem.help or ""), (line, problem)
        assert problem.rule == "syntax"


def test_several_wrong_values_of_one_statement_are_all_told():
    problems = read("cable W1 14/2 NM-B 22 A from LP (free 8) to A (free 7 V)").problems
    assert [problem.span.column for problem in problems] == [20, 39, 53]


def test_names_of_broken_declarations_are_kept_so_that_nobody_calls_them_unknown():
    text = "cable W1 14/2 NM-B 22 from LP to A\nbraeker LP.3 15 A\nS1 is\nS2 is x 5\nW8.red - S1.line"
    assert read(text).broken == {"W1", "LP.3", "S1", "S2"}


def test_joins_below_a_broken_at_do_not_go_to_the_place_before():
    result = read("at A\nW1.black -- S1.common\nta B\nW2.black -- S2.common\nat\nW3.black -- S3.line")
    places = [each.place.text for each in result.statements if isinstance(each, syntax.AtStatement)]
    assert places == ["A", "B", ""]
    assert "" in result.broken and "B" not in result.broken


# ------------------------------------------------------------ hostile files


def test_line_ends_and_marks_of_other_editors():
    plain = read("box A device\nbox B device\n")
    for text in (
        "box A device\r\nbox B device\r\n",
        "box A device\rbox B device\r",
        "\ufeffbox A device\nbox B device\n",
        b"\xef\xbb\xbfbox A device\r\nbox B device\r\n",
    ):
        result = read(text)
        assert result.statements == plain.statements and result.problems == ()
        assert result.text == plain.text


def test_tabs_count_as_one_column():
    (join,) = read("\tW1.black\t--\tS1.common").statements
    assert [end.span.column for end in join.ends] == [2, 14]


@pytest.mark.parametrize(
    ("data", "column", "said"),
    [
        (b"box A device # 75\xb0 C", 18, "no text"),
        (b"box \x00A device", 5, "cannot be seen (U+0000)"),
        (b"# a comment\x1b[2J", 12, "cannot be seen (U+001B)"),
        ("box A\u202e device".encode(), 6, "cannot be seen (U+202E)"),
        ("box A \ud800 device", 7, "cannot be seen (U+D800)"),
    ],
)
def test_what_is_no_text_is_told_once_a_line(data, column, said):
    result = read(data)
    (problem,) = result.problems
    assert problem.span == (1, column, 1, column + 1)
    assert said in problem.message
    assert result.text.isprintable()


def test_a_file_of_another_encoding_is_told_in_few_words():
    result = read('board "Hall"\nbox A device\n'.encode("utf-16"))
    assert 1 <= len(result.problems) <= 4
    assert result.statements == ()


def test_a_line_of_a_megabyte_gives_one_problem():
    for text in ("x" * 1_000_000, "#" * 1_000_000, "W -- " * 200_000, '"' * 1_000_000, "1" * 1_000_000):
        result = read(f"box A device\n{text}\nbox B device")
        (problem,) = result.problems
        assert problem.span == (2, 1, 2, MOST_COLUMNS + 1)
        assert f"{len(text)} characters" in problem.message and len(problem.message) < 100
        assert len(result.statements) == 2


def test_a_statement_over_very_many_lines_is_bounded():
    result = read("a --\n" * (3 * MOST_LINES) + "b")
    assert 1 <= len(result.problems) <= 4


@pytest.mark.parametrize(
    ("data", "most"),
    [(b"box A device " * (MOST_BYTES // 13 + 1), "16 MiB"), (b"\r\n" * 250_001, "250000 lines")],
)
def test_a_file_that_is_too_large_is_not_read(data, most):
    result = read(data)
    assert result.statements == ()
    assert [problem.message for problem in result.problems] == [
        f"the file is larger than {most}, which no board is"
    ]


def test_reading_stops_after_so_many_mistakes_and_says_so():
    result = read("what might be\n" * 10_000)
    assert len(result.problems) == MOST_PROBLEMS + 1
    assert result.problems[-1].message == "100 mistakes so far: the file was read no further than line 100"
    assert len(read("what might be\n" * MOST_PROBLEMS).problems) <= MOST_PROBLEMS + 1


def test_messages_stay_short_whatever_is_written():
    for line in ("x" * 1900, "box " + "y" * 1900 + " z (", "W1 -- " + "(" * 1900, "at A " + "9" * 1900):
        for problem in read(line).problems:
            assert len(problem.message) < 300


def holds(text, result):
    """Whatever the text: every span lies in it, statements and problems are in order."""
    lines = result.text.split("\n")
    for problem in result.problems:
        assert 1 <= problem.span.line <= len(lines) + 1
        assert problem.span.column >= 1 and problem.message
    starts = [statement.span for statement in result.statements]
    assert starts == sorted(starts)
    assert all(span.end_line <= len(lines) for span in starts)


@given(st.binary(max_size=400))
def test_any_bytes_are_read(data):
    holds(data, read(data))


@given(st.text(max_size=400))
def test_any_text_is_read(text):
    holds(text, read(text))


SOURCE = "\n".join(path.read_text() for path in SAMPLES)
GOES = 'control goes to idle after delay when not a and b or call heat # " ( ) , -- part load terminal cap'
WORDS = sorted({*SOURCE.split(), *GOES.split()})


@given(st.lists(st.sampled_from([*WORDS, "\n", "\n", " "]), max_size=80))
def test_any_words_of_the_language_are_read(words):
    text = " ".join(words)
    holds(text, read(text))


@pytest.mark.slow
@given(st.integers(0, 2**32))
def test_a_board_with_slips_of_the_pen_is_read_and_the_rest_is_kept(seed):
    chance = random.Random(seed)
    lines = SOURCE.split("\n")
    changed = sorted(chance.sample(range(len(lines)), 5))
    for number in changed:
        line = lines[number]
        place = chance.randrange(len(line) + 1)
        cut = chance.randrange(3)
        lines[number] = (
            line[:place] + chance.choice(["", " ", "x", "9", "#", '"', "(", "\x00"]) + line[place + cut :]
        )
    text = "\n".join(lines)
    result = read(text)
    holds(text, result)
    # A line that was not touched, and no neighbour either, is read as before.
    before = {each.span.line: each for each in read(SOURCE).statements}
    after = {each.span.line: each for each in result.statements}
    for number, statement in before.items():
        if not any(line + 1 in (number - 1, number, number + 1) for line in changed):
            assert after[number] == statement


def test_reading_keeps_nothing_between_files():
    first = read("at A\nboxx B device")
    read("W1 --\n" * 30)
    assert read("at A\nboxx B device") == first


def test_bounds_are_what_messages_say():
    assert (reader.MOST_PROBLEMS, reader.MOST_COLUMNS, MOST_BYTES) == (100, 2000, 16 * 1024 * 1024)


@pytest.mark.parametrize("active", [True, False])
def test_the_collector_is_left_as_it_was(active):
    before = gc.isenabled()
    try:
        (gc.enable if active else gc.disable)()
        read("at A")
        assert gc.isenabled() == active
    finally:
        (gc.enable if before else gc.disable)()
