"""Whether a box has room for what is in it, against worked examples whose source is named beside them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import wirecheck
from tests.judge.test_fill import HOOK
from tests.rules.hands import COOLING, STAIR, case, line, own, said, seen
from tests.samples import board
from wirecheck.rules.box_fill import RULE, Overfull, UnknownVolume
from wirecheck.tables.boxes import CUBIC_INCH, Allowance


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def filled(box: str, cables: str, inside: str = "", joins: str = "") -> str:
    """A board with one box A and cables to it from panel LP, made up only as far as `joins` say."""
    named = [name for name in cables.split(",") if name]
    runs = "\n".join(f"cable W{i} {size} NM-B 20 ft from LP to A" for i, size in enumerate(named, 1))
    return (
        'board "One box"\npanel LP 120/240 V, 10 kA available\n'
        f"box A {box}\n{runs}\n{inside}\n{'at A' if joins else ''}\n{joins}\n"
    )


def needs(text: str) -> float | None:
    """What the box is found to need, in cubic inches; None where nothing is found."""
    found = seen(RULE, text)
    return round(found[0].fill / CUBIC_INCH, 6) if found else None


# Each: (box without its volume, cables, devices, joins, cubic inches, source of the example).
EXAMPLES = {
    # NEC 2023 314.16(B)(1) to (5): 4 conductors + clamps + 2 for the yoke + 1 for grounds = 8 x 2.25.
    "two 12/2 cables, clamps, a duplex receptacle": (
        "clamps", "12/2,12/2", "R1 is duplex-receptacle in A",
        "W1.black -- W2.black -- pigtail -- R1.hot", 18.0,
    ),
    # 314.16(B): the same in 14 AWG, 8 x 2.00.
    "two 14/2 cables, clamps, a switch": (
        "clamps", "14/2,14/2", "S1 is single-pole-switch in A", "W1.black -- S1.line", 16.0,
    ),
    # 314.16(B): 4 x 2.00 + 2 x 2.25; clamps, yoke (2) and grounds by the 12 AWG: 4 x 2.25.
    "mixed sizes, the yoke by the largest wire on it": (
        "clamps", "14/2,14/2,12/2", "R1 is duplex-receptacle in A", "W3.black -- R1.hot", 21.5,
    ),
    # 314.16(B)(4): the yoke by the 14 AWG that is on it: 8 + 4.5 + 2.25 (clamps) + 4 + 2.25 (grounds).
    "mixed sizes, the yoke by the smaller wire on it": (
        "clamps", "14/2,14/2,12/2", "R1 is duplex-receptacle in A", "W1.black -- R1.hot", 21.0,
    ),
    # 314.16(B)(5), 2020 and later: six grounds are 1 + 2 x 1/4 allowances: 12 x 2.00 + 1.5 x 2.00.
    "grounds past four": ("", "14/2,14/2,14/2,14/2,14/2,14/2", "", "", 27.0),
    # 314.16(B)(1): four 12/2 cables and a receptacle, no clamps: (8 + 1 + 2) x 2.25.
    "four 12/2 cables and a receptacle": (
        "", "12/2,12/2,12/2,12/2", "R1 is duplex-receptacle in A", "W1.black -- R1.hot", 24.75,
    ),
    # 314.16(B)(4): a wide device takes two for each gang: (3 + 4) x 5.00 for 6 AWG, 2.50 for the ground.
    "a range outlet two gangs wide": (
        "", "6/3", "R1 is range-receptacle in A", "W1.black -- R1.hot-1", 37.5,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", EXAMPLES)
def test_box_fill_of_worked_examples(name: str) -> None:
    options, cables, inside, joins, cubic_inches = EXAMPLES[name]
    for volume, fits in ((cubic_inches, True), (cubic_inches + 0.05, True), (cubic_inches - 0.05, False)):
        text = filled(f"square {volume} cu in {options}", cables, inside, joins)
        assert needs(text) == (None if fits else cubic_inches)


def test_the_arithmetic_item_by_item() -> None:
    text = filled(
        "device 12.5 cu in clamps",
        "12/2,12/2",
        "R1 is duplex-receptacle in A",
        "W1.black -- W2.black -- R1.hot",
    )
    (found,) = seen(RULE, text)
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "A")
    assert found.volume == pytest.approx(12.5 * CUBIC_INCH)
    assert found.filling.allowances == (
        Allowance("wires", 4, "12", 4),
        Allowance("yoke", 1, "12", 2),
        Allowance("clamps", 1, "12", 1),
        Allowance("grounds", 2, "12", 1),
    )
    (words,) = said(RULE, text)
    assert line(text, words) == "box A device 12.5 cu in clamps"
    assert (words.value, words.limit, words.unit) == (pytest.approx(18.0), pytest.approx(12.5), "cu in")


@pytest.mark.parametrize(
    ("box", "holds"),
    # NEC Table 314.16(A); ganged device boxes add up.
    [
        ("device 3 x 2 x 2-3/4 in", 14.0),
        ("octagon 4 x 1-1/2 in", 15.5),
        ("device 3 x 2 x 2-3/4 in 2-gang", 28.0),
        # Only device boxes are ganged together.
        ("octagon 4 x 1-1/2 in 2-gang", 15.5),
        # What is stamped in the box counts, gangs and all.
        ("device 17.5 cu in 2-gang", 17.5),
    ],
)
def test_a_trade_size_has_the_volume_of_the_table(box: str, holds: float) -> None:
    (found,) = seen(RULE, filled(f"{box} metal", "12/2,12/2,12/2,12/2,12/2,12/2"))
    assert found.volume == pytest.approx(holds * CUBIC_INCH)


def test_a_size_that_is_in_no_table_is_asked_for_and_not_guessed() -> None:
    (found,) = seen(RULE, filled("device 3 x 2 x 9 in", "12/2"))
    assert type(found) is UnknownVolume
    assert (found.severity, found.stage, found.subject) == ("advice", "rough-in", "A")


def test_a_box_whose_volume_nobody_gave_is_not_judged() -> None:
    assert not seen(RULE, filled("junction", "12/2,12/2,12/2,12/2"))


def test_wires_larger_than_the_table_counts_are_not_judged() -> None:
    """314.16 counts up to 6 AWG; boxes of larger ones go by 314.28."""
    (found,) = seen(RULE, filled("junction 17.4 cu in", "6/3"))
    assert type(found) is Overfull
    assert not seen(RULE, filled("junction 1 cu in", "4/3"))


def test_what_begins_and_ends_in_the_box_does_not_count() -> None:
    text = filled("square 6 cu in", "14/2") + "wire J1 14 THHN black 6 in from A to A\n"
    # 314.16(B)(1): 2 conductors + 1 ground, 3 x 2.00; the jumper is not counted.
    assert needs(text) is None
    assert needs(text.replace("6 cu in", "5.9 cu in")) == 6.0


VOLUME = {"14": 2.0, "12": 2.25, "10": 2.5}


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.sampled_from(["14/2", "14/3", "12/2", "12/3", "10/2"]), min_size=1, max_size=9),
    st.booleans(),
)
def test_box_fill_is_plain_arithmetic(cables: list[str], clamps: bool) -> None:
    """Counted here from the cables' own names, in quarters, by another way."""
    sizes = [cable.split("/")[0] for cable in cables]
    insulated = sum(
        int(cable.split("/")[1]) * VOLUME[size] for cable, size in zip(cables, sizes, strict=True)
    )
    largest = max(VOLUME[size] for size in sizes)
    total = insulated + largest * (1 + 0.25 * max(0, len(cables) - 4)) + largest * clamps
    text = filled(f"square 1 cu in {'clamps' if clamps else ''}", ",".join(cables))
    assert needs(text) == pytest.approx(total)


def test_every_kind_of_content_has_its_line() -> None:
    """No part that ships has a stud or a hickey."""
    board = case(
        filled("octagon 8 cu in clamps", "14/2,14/2", "L1 is hook in A\nR1 is duplex-receptacle in A"),
        hook=HOOK,
    )
    (found,) = RULE.find(board)
    assert [one.of for one in found.filling.allowances] == ["wires", "yoke", "clamps", "fittings", "grounds"]
    told = RULE.words(found, board).help
    assert told is not None
    # A line for each, and the sum.
    assert len(told.splitlines()) == 6


def ringed(box: str) -> str:
    """Three 12/2 cables and a receptacle, which need 20.25 cu in, in a box."""
    return filled(box, "12/2,12/2,12/2", "R1 is duplex-receptacle in A", "W1.black -- R1.hot")


# NEC 2023 314.16(A): what is put on a box counts with the volume that is marked on it, or by Table 314.16(A).
@pytest.mark.parametrize(
    ("box", "holds"),
    [
        ("square 4 x 1-1/4 in", 18.0),
        ("square 4 x 1-1/4 in, ring", 18.0),
        ("square 4 x 1-1/4 in, 1-gang plaster ring 2.2 cu in", 20.2),
        ("square 4 x 1-1/4 in, 1-gang plaster ring 2.25 cu in", None),
        ("square 4 x 1-1/4 in, mud ring 1 cu in, domed cover 1.2 cu in", 20.2),
        ("square 4 x 1-1/4 in, mud ring 1 cu in, raised cover 1.3 cu in", None),
        ("octagon 4 x 1-1/2 in", 15.5),
        ("octagon 4 x 1-1/2 in, extension 4 x 1-1/2 in", None),
        ("octagon 15.5 cu in metal, extension ring 4 cu in", 19.5),
        ("octagon 15.5 cu in metal, extension ring 4.75 cu in", None),
        ("square, ring 3 cu in", None),
    ],
)
def test_what_is_put_on_a_box_adds_to_it(box: str, holds: float | None) -> None:
    found = seen(RULE, ringed(box))
    assert [round(one.volume / CUBIC_INCH, 6) for one in found] == ([] if holds is None else [holds])


def test_the_arithmetic_of_what_is_put_on_a_box() -> None:
    (found,) = said(RULE, ringed("square 4 x 1-1/4 in, 1-gang ring, extension 1 cu in"))
    assert "the box with its ring and extension holds 19 cu in" in found.message
    assert found.help is not None and found.help.splitlines()[-4:-1] == [
        "the box alone holds 18 cu in",
        "its ring adds nothing: no volume is marked on it",
        "its extension adds 1 cu in",
    ]


def test_an_extension_by_a_size_that_no_table_lists() -> None:
    (found,) = seen(RULE, ringed("square 4 x 1-1/2 in, extension 4 x 9 in"))
    assert (type(found), found.size) == (UnknownVolume, "4 x 9")


def test_a_ring_says_how_many_gangs_a_box_has() -> None:
    boxes = case(filled("square 30.3 cu in, 2-gang ring", "14/2")).board.boxes
    assert (boxes["A"].gangs, [one.kind for one in boxes["A"].added]) == (2, ["ring"])
    assert case(filled("square 30.3 cu in, ring", "14/2")).board.boxes["A"].gangs is None


@pytest.mark.parametrize("added", ["collar 3 cu in", "2-gang 3 cu in", "ring 3 A"])
def test_what_is_not_put_on_a_box(added: str) -> None:
    assert [one.rule for one in board(filled(f"square 30.3 cu in, {added}", "14/2")).problems] == ["syntax"]


def test_an_extension_mends_a_box_that_is_too_small() -> None:
    report = wirecheck.check(own("box-fill", "ring"), effort=300)
    assert "Box A should have an extension of 4 x 1-1/2 in." in {one.mistake for one in report.mends}
