"""The colors of wires that run far inside a room, named again over them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import pytest

from tests.drawing import generated, geometry
from tests.drawing.geometry import Box
from tests.drawing.test_wiring import BOARDS, WIRES, of_text
from tests.samples import shipped
from wirecheck import files
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.places import FLAG
from wirecheck.drawing.sheet import Frame, Sheet, Words
from wirecheck.language.quantity import feet

FAR = 340.0


def pieces_in_rooms(drawn: Sheet) -> Iterator[tuple[str, str, Box]]:
    """The pieces of wires that lie in a room: the wire, its color, and the box around the piece."""
    rooms = [each for each in drawn.frames if each.kind.startswith("room")]
    for line in drawn.lines:
        for piece in line.pieces if line.kind.startswith(WIRES) else ():
            for (x0, y0), (x1, y1) in pairwise(piece):
                box = min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)
                if any(geometry.inside(box, frame(room)) for room in rooms):
                    yield line.id, line.kind.split(" ")[1], box


def frame(room: Frame) -> Box:
    return room.x, room.y, room.x + room.width, room.y + room.height


def words_within(drawn: Sheet) -> list[Words]:
    return [mark for mark in drawn.marks if isinstance(mark, Words) and mark.kind == "label within"]


def words_stand_on_their_wires(drawn: Sheet) -> int:
    """Each word is close over a level wire of its color, and no wire runs through it; how many there are."""
    words, pieces = words_within(drawn), list(pieces_in_rooms(drawn))
    for word in words:
        box = word.x - word.width / 2, word.y - 4.5, word.x + word.width / 2, word.y + 4.5
        under = [
            each for each in pieces if each[2][0] < box[0] and box[2] < each[2][2] and each[2][1] > word.y
        ]
        _, color, (_, top, _, low) = min(under, key=lambda each: each[2][1])
        called = word.text.partition(", marked ")[0]
        assert (color, top, top - word.y < 9) == (called, low, True), word.id
        for name, _, piece in pieces:
            near = (
                min(box[2], piece[2]) - max(box[0], piece[0]),
                min(box[3], piece[3]) - max(box[1], piece[1]),
            )
            assert min(near) < -3.0, (word.id, name)
    return len(words)


def test_wires_of_a_wide_room_are_named_again_where_they_come_down() -> None:
    path = files.folder("boards") / "reach-in-cooler" / "right.wire"
    drawn = sheet(of_text(path.read_text("utf-8")))
    assert {word.id: word.text for word in words_within(drawn)} == {
        "within-W1.white@E": "white",
        "within-EF.a": "black",
        "within-EF.ground": "bare",
    }
    assert words_stand_on_their_wires(drawn) == 3
    screws = {mark.id: mark.x for mark in drawn.marks}
    near = {word.id: abs(word.x - screws["terminal-CR.L"]) for word in words_within(drawn)}
    assert near["within-W1.white@E"] < 30


def test_a_wire_that_is_marked_is_named_again_with_its_mark() -> None:
    """A white wire that is a hot (NEC 2023 200.7(C)) reads as a neutral where its mark is left off."""
    drawn = sheet(shipped("heat-pump"))
    texts = {word.id: word.text for word in words_within(drawn)}
    assert texts["within-PH.white@TP"] == "white, marked red"
    assert words_stand_on_their_wires(drawn)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["rooftop-unit", "economizer", "two-units-one-thermostat"])
def test_a_long_wire_close_under_another_has_its_word_on_itself(name: str) -> None:
    drawn = sheet(shipped(name))
    assert words_stand_in_their_wires(drawn)


def words_stand_in_their_wires(drawn: Sheet) -> list[str]:
    """In a gap of its own wire, which goes on on both sides, and clear of all others; the wires' names."""
    words = [mark for mark in drawn.marks if isinstance(mark, Words) and mark.kind == "label inline"]
    gaps = {line.id: line for line in drawn.lines if line.kind == "inline"}
    assert len(words) == len(gaps)
    wires = []
    for word in words:
        gap = gaps[f"{word.id}-gap"]
        ((left, y), (right, _)) = gap.pieces[0]
        box = left, y - gap.pen / 2, right, y + gap.pen / 2
        own = geometry.stands_on(word)
        wires.append(own)
        assert left < word.x - word.width / 2 and word.x + word.width / 2 < right
        for wire, color, piece in pieces_in_rooms(drawn):
            if wire == own and piece[1] == piece[3] == word.y and piece[0] < word.x < piece[2]:
                single = own.removeprefix("conductor-")
                said = word.text in (color, single, f"{single} {color}")
                assert said or own.startswith("jumper-"), word.id
                assert piece[0] + 10 < left and right < piece[2] - 10
            else:
                assert not geometry.overlap(piece, box, -1.2), (word.id, wire)
    return wires


@pytest.mark.parametrize(
    "name", ["motor-starter", pytest.param("motor-control-transformer", marks=pytest.mark.slow)]
)
def test_a_wire_whose_words_stand_beside_has_its_name_on_itself_and_no_line_to_them(name: str) -> None:
    """The words of several wires at the wall, with a line to each, looked like more wires."""
    board = shipped(name)
    drawn = sheet(board)
    assert not [line for line in drawn.lines if line.kind == "told"]
    named = set(words_stand_in_their_wires(drawn))
    wires = [line for line in drawn.lines if line.kind.startswith("conductor ")]
    words = [mark for mark in drawn.marks if isinstance(mark, Words)]
    inner = [each for each in board.conductors.values() if each.places[0] == each.places[1]]
    assert len(inner) >= 6
    listed = []
    for each in inner:
        (told,) = (word for word in words if word.id in [f"label-{end}" for end in each.ends])
        (size,) = (word for word in words if word.id == f"label-{each.name}")
        assert (told.text, size.text) == (
            f"{each.name} {each.color}",
            f"{each.size} {each.insulation}, {feet(each.length)}",
        )
        assert told.y == size.y
        (path,) = (wire.pieces[0] for wire in wires if wire.id == f"conductor-{each.name}")
        (left, right) = sorted(x for x, _ in path)[:: len(path) - 1]
        over = left < told.x < right
        assert over != (f"conductor-{each.name}" in named), each.name
        listed += [] if over else [(told.x - told.width / 2, told.y), (size.x - size.width / 2, size.y)]
    # One under the other, in two columns, with what they are over them.
    heading = next(word for word in words if word.id == "label-within-E")
    assert heading.text == "Wires within E"
    columns = {round(x, 3) for x, _ in listed}
    assert len(columns) == 2 and round(heading.x - heading.width / 2, 3) == min(columns)
    assert sorted({round(y - heading.y, 3) for _, y in listed}) == [
        FLAG * number for number in range(1, len(inner) + 1)
    ]
    # Either all have their color on themselves, or none.
    said = {word.text for word in words if word.kind == "label inline"}
    with_color, bare = {f"{each.name} {each.color}" for each in inner}, {each.name for each in inner}
    assert with_color <= said or bare <= said


def test_a_wire_within_a_box_that_is_marked_says_which_end_is() -> None:
    text = (
        'board "Short"\npanel LP 120/240 V\nbreaker LP.2 15 A 2-pole\nbox B junction 42 cu in\n'
        "wire P1 12 THHN white 2 ft from B to B\ncable W1 14/2 NM-B 9 ft from LP to B\n"
        "C1 is run-capacitor 5 uF in B\nC2 is run-capacitor 5 uF in B\nat B\n"
        "  P1 marked red -- C1.a\n  P1 -- C2.b\n"
    )
    for marked, said in (
        (text, "P1 white, marked red on the left"),
        (text.replace("P1 -- C2", "P1 marked red -- C2"), "P1 white, marked red"),
    ):
        words = [mark.text for mark in sheet(of_text(marked)).marks if isinstance(mark, Words)]
        assert words.count(said) == words.count("12 THHN, 2 ft") == 1


def test_a_long_jumper_says_which_screws_it_joins() -> None:
    board = shipped("reach-in-cooler")
    drawn = sheet(board)
    said = {mark.text for mark in drawn.marks if isinstance(mark, Words) and mark.kind == "label inline"}
    joined = {frozenset(member.point for member in join.members) for join in board.joins}
    assert all(any({*text.split(" to ")} <= join for join in joined) for text in said)
    assert "OP.3 to CP.C" in said


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(path.parent.name, marks=[pytest.mark.slow] * (path.parent.name != "two-gang-box"))
        for path in BOARDS
        if path.stem == "right"
    ],
)
def test_no_word_stands_beside_the_same_word_of_what_its_wire_goes_on_as(name: str) -> None:
    drawn = sheet(shipped(name))
    ends = [mark for mark in drawn.marks if isinstance(mark, Words) and mark.kind == "label end"]
    for word in words_within(drawn):
        for end in ends:
            if end.y == word.y and end.text == word.text:
                assert abs(end.x - word.x) - (end.width + word.width) / 2 > 60, (word.id, end.id)


@pytest.mark.slow
def test_words_in_the_gaps_of_wires_on_every_board() -> None:
    """And of the jumpers that are long, most say what they join."""
    named, long = 0, 0
    for path in files.folder("boards").rglob("right.wire"):
        drawn = sheet(of_text(path.read_text("utf-8")))
        named += sum(wire.startswith("jumper-") for wire in words_stand_in_their_wires(drawn))
        long += sum(
            sum(abs(x1 - x0) + abs(y1 - y0) for (x0, y0), (x1, y1) in pairwise(line.pieces[0])) > FAR
            for line in drawn.lines
            if line.kind.startswith("jumper ")
        )
    assert named > 50 and 2 * named > long, (named, long)


@pytest.mark.slow
def test_words_within_rooms_of_generated_boards_stand_on_their_wires() -> None:
    boards = [of_text(generated.board(seed)) for seed in range(200)]
    assert sum(words_stand_on_their_wires(sheet(board)) for board in boards) > 500


@pytest.mark.slow
def test_most_wires_that_run_far_in_a_room_are_named_again() -> None:
    """But those over which a wire of the other side lies half a row away.

    Words are apart from all others and from flags: `test_wiring` holds every picture to that.
    """
    count, named = 0, []
    for path in BOARDS:
        drawn = sheet(of_text(path.read_text("utf-8")))
        count += words_stand_on_their_wires(drawn)
        words = words_within(drawn)
        for name, _, (left, y, right, low) in pieces_in_rooms(drawn):
            if right - left > FAR and y == low and name.startswith("conductor"):
                named.append(any(left < word.x < right and 0 < y - word.y < 9 for word in words))
    assert count > 900
    assert len(named) > 200 and 4 * sum(named) > 3 * len(named)
