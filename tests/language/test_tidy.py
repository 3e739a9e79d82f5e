"""The standard layout."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wirecheck.language.reader import comment_begins, read
from wirecheck.language.tidy import NotOurs, file_tidied, tidy

SAMPLES = sorted((Path(__file__).parent / "samples").glob("*.wire"))
SOURCE = "\n".join(path.read_text() for path in SAMPLES)


def meaning(text):
    """What a file says, without its places."""
    return re.sub(r"Span\([^)]*\)", "", repr(read(text).statements))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_are_tidy(path):
    assert tidy(path.read_text()) == path.read_text()


def test_the_layout():
    untidy = """\ufeff

# head
board   "Hall  #1"#title


at  A\t
# feed
W1.black--  #c1\r
 # c2
S1.common#feed
cap W2.red
breaker LP.3 15A
cable W1 14/2 NM-B 22ft from LP(free 8in,secured 8 in)to A ( free 7 in )
rating current 15A or 20A"what  it,carries"
# foot


"""
    assert (
        tidy(untidy)
        == """# head
board "Hall  #1"  #title

at A
  # feed
  W1.black --  #c1
    # c2
    S1.common  #feed
  cap W2.red
breaker LP.3 15 A
cable W1 14/2 NM-B 22 ft from LP (free 8 in, secured 8 in) to A (free 7 in)
rating current 15 A or 20 A "what  it,carries"
# foot
"""
    )


def test_broken_lines_are_left_as_they_are():
    text = (
        "at A\nW1.black   -  S1.line\n   breaker LP.3  15   V\nW2.black  --  S1.load  \n\x07 box\nbad \xff\n"
    )
    assert tidy(text).split("\n")[1:] == [
        "W1.black   -  S1.line",
        "   breaker LP.3  15   V",
        "  W2.black -- S1.load",
        "\x07 box",
        "bad \xff",
        "",
    ]


def test_a_file_with_more_mistakes_than_are_read_is_left_alone():
    text = "oh no   no\n" * 200
    assert tidy(text) == text


@pytest.mark.parametrize("text", ["", "\n", "  \n\n\t\n"])
def test_nothing_stays_nothing(text):
    assert tidy(text) == ""


def shaken(draw):
    """The samples with their spaces and blank lines changed and comments put in."""
    lines = []
    for line in SOURCE.split("\n"):
        change = draw(st.integers(0, 5))
        space = draw(st.sampled_from([" ", "  ", "\t", " \t "]))
        if change == 0 and '"' not in line:
            line = line.replace(" ", space)
        elif change == 1:
            line += space + "# note " + str(len(lines))
        elif change == 2:
            line = line.strip()
        elif change == 3 and " -- " in line:
            line = line.replace(" -- ", " --\n" if len(space) == 1 else "--")
        elif change == 4:
            line = f"{space}\n\n{space}# above\n{line}"
        lines.append(line)
    return "\n".join(lines)


@pytest.mark.slow
@settings(max_examples=25)
@given(st.data())
def test_a_tidied_board_says_the_same_and_stays_as_it_is(data):
    text = shaken(data.draw)
    tidied = tidy(text)
    assert read(text).problems == ()
    assert meaning(tidied) == meaning(text)
    assert tidy(tidied) == tidied
    assert comments(tidied) == comments(text)
    assert "\n\n\n" not in tidied and not re.search(r"[ \t]\n", tidied)


WORDS = sorted({*SOURCE.split(), "#", '"', "(", ",", "--", "15A", "6in", "x"})


@given(
    st.lists(st.sampled_from([*WORDS, "\n", "\n", "  ", "\t"]), max_size=60).map(" ".join)
    | st.text(max_size=200)
)
def test_any_text_stays_as_it_is_once_tidied(text):
    tidied = tidy(text)
    assert tidy(tidied) == tidied
    assert meaning(tidied) == meaning(text)


def comments(text):
    """Every comment of a text, in order."""
    lines = text.split("\n")
    return [line[comment_begins(line) :].strip() for line in lines if comment_begins(line) < len(line)]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "it is no board and no part"),
        ("# only this\n", "it is no board and no part"),
        ("all: test\n\tpytest\n", "it is no board and no part"),
        ('board "A"\nnot this\nnor that\n', "more of it is mistakes than is understood"),
        ('board "A"\n' + "not this\n" * 200, "it has more than 100 mistakes"),
        ("\n" * 300_000, "the file is larger than 250000 lines, which no board is"),
    ],
)
def test_a_file_that_is_not_ours_is_not_tidied(text, why):
    with pytest.raises(NotOurs) as refused:
        file_tidied(text)
    assert str(refused.value) == why


@pytest.mark.parametrize(
    "text",
    [
        'part a "A"\nterminal  b contact',
        "breaker  LP.3 15 A",
        'board "A"\nbox  B octagon 15.5 cu in\nzz',
    ],
)
def test_a_file_that_is_ours_is_tidied_with_its_mistakes(text):
    """A part, a board that is not begun yet, a board of which one line is not understood."""
    assert file_tidied(text) == tidy(text) != text


@given(
    st.lists(
        st.one_of(
            st.sampled_from(
                ['board "A"', "breaker  LP.3 15A", "at A", "W1.black--S1.line", "# x", '"', "\\", ","]
            ),
            st.text(max_size=20),
        ),
        max_size=12,
    ).map("\n".join)
)
@settings(max_examples=50)
def test_nothing_but_spaces_changes_in_a_file(text):
    try:
        tidied = file_tidied(text)
    except NotOurs:
        return
    assert "".join(tidied.split()) == "".join(text.removeprefix("\ufeff").split())
    assert file_tidied(tidied) == tidied
