"""What is no question of the page is refused, whatever it is."""

import json

import pytest

from wirecheck.page.question import LEAST, MOST, MOST_BYTES, NotAQuestion, question


def sent(**more):
    return json.dumps({"file": "a.wire", "text": "board", **more}).encode()


def test_a_question_is_read_with_what_it_leaves_out():
    asked = question(sent(moved={"S1": "up"}, power=True, width=600, quantity="volts", points=["a", "b"]))
    assert (asked.moved, asked.power, asked.width, asked.points) == ({"S1": "up"}, True, 600, ("a", "b"))
    assert (asked.calls, asked.mends, asked.colors, asked.height) == ((), False, "paper", 500)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\xff{}",
        b"[" * 100_000,
        b"1" * 10_000,
        b'"text"',
        b"{}",
        sent(file=7),
        sent(text=None),
        sent(text="a" * (MOST_BYTES + 1)),
        sent(moved=[]),
        sent(moved={"S1": 1}),
        sent(calls="heat"),
        sent(calls=[1]),
        sent(calls=["a"] * 501),
        sent(points=["a", "b", "c"]),
        sent(width="wide"),
        sent(width=True),
        sent(width=float("nan")),
        sent(quantity="watts"),
        sent(quantity=["volts"]),
    ],
    ids=range(20),
)
def test_what_is_none_is_refused(data):
    with pytest.raises(NotAQuestion):
        question(data)


def test_a_room_for_the_picture_is_held_within_bounds():
    asked = question(sent(width=1e300, height=-5))
    assert (asked.width, asked.height) == (MOST, LEAST)


def test_halves_of_characters_become_whole_ones():
    assert question(b'{"file": "a.wire", "text": "\\ud800"}').text == "\N{REPLACEMENT CHARACTER}"
