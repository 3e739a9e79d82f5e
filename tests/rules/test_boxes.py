"""The rough-in against worked examples and limits whose source is named beside them."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed, line, said
from wirecheck.rules.boxes import (
    box_fill,
    cable_support,
    free_conductor,
    neutral_at_switch,
    raceway_fill,
    separate_grounds,
)


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
    found = said(box_fill, text)
    return found[0].value if found else None


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
    # 314.16(B)(4): a device wider than 2 in takes two for each gang: (3 + 1 + 4) x 5.00 for 6 AWG.
    "a range outlet two gangs wide": (
        "", "6/3", "R1 is range-receptacle in A", "W1.black -- R1.hot-1", 40.0,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", EXAMPLES)
def test_box_fill_of_worked_examples(name: str) -> None:
    options, cables, inside, joins, cubic_inches = EXAMPLES[name]
    for volume, fits in ((cubic_inches, True), (cubic_inches + 0.05, True), (cubic_inches - 0.05, False)):
        text = filled(f"square {volume} cu in {options}", cables, inside, joins)
        assert needs(text) == (None if fits else cubic_inches)


def test_box_fill_shows_its_arithmetic() -> None:
    text = filled(
        "device 12.5 cu in clamps", "12/2,12/2", "R1 is duplex-receptacle in A", "W1.black -- R1.hot"
    )
    (found,) = said(box_fill, text)
    assert line(text, found) == "box A device 12.5 cu in clamps"
    assert (found.value, found.limit, found.unit) == (18.0, 12.5, "cu in")
    assert found.help is not None
    assert found.help.splitlines()[:4] == [
        "4 x 12 AWG wire: 4 x 2.25 = 9 cu in",
        "R1, two a gang, 12 AWG: 2 x 2.25 = 4.5 cu in",
        "clamps, one together, 12 AWG: 1 x 2.25 = 2.25 cu in",
        "2 grounds, one together, 12 AWG: 1 x 2.25 = 2.25 cu in",
    ]


@pytest.mark.parametrize(
    ("box", "holds"),
    # NEC Table 314.16(A); ganged device boxes add up.
    [
        ("device 3 x 2 x 2-3/4 in", 14.0),
        ("octagon 4 x 1-1/2 in", 15.5),
        ("device 3 x 2 x 2-3/4 in 2-gang", 28.0),
    ],
)
def test_a_trade_size_has_the_volume_of_the_table(box: str, holds: float) -> None:
    (found,) = said(box_fill, filled(f"{box} metal", "12/2,12/2,12/2,12/2,12/2,12/2"))
    assert found.limit == holds


def test_a_size_that_is_in_no_table_is_asked_for_and_not_guessed() -> None:
    (found,) = said(box_fill, filled("device 3 x 2 x 9 in", "12/2"))
    assert found.severity == "advice"
    assert found.value is None


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
    assert needs(text) == pytest.approx(total, abs=0.006)


# NEC 2023 300.14 (6 in), 314.17(B)(2) (1/4 in).
@pytest.mark.parametrize(
    ("measure", "right"),
    [("free 6 in", True), ("free 5-3/4 in", False), ("jacket 1/4 in", True), ("jacket 1/8 in", False)],
)
def test_free_conductor_and_jacket(measure: str, right: bool) -> None:
    text = changed(STAIR, ("to A (free 7 in, secured 8 in)", f"to A ({measure})"))
    found = said(free_conductor, text)
    assert len(found) == (0 if right else 1)
    if found:
        assert text.splitlines()[found[0].span.line - 1][found[0].span.column - 1 :].startswith(measure)


def test_a_measure_that_was_not_taken_is_no_finding() -> None:
    assert not said(free_conductor, LOOP)
    assert not said(cable_support, LOOP)


# NEC 2023 334.30: 12 in and 4-1/2 ft; 314.17(B)(2): 8 in at a single-gang nonmetallic box without clamps.
@pytest.mark.parametrize(
    ("box", "measure", "right"),
    [
        ("device 20.3 cu in", "secured 8 in", True),
        ("device 20.3 cu in", "secured 8-1/2 in", False),
        ("device 20.3 cu in clamps", "secured 12 in", True),
        ("device 20.3 cu in clamps", "secured 13 in", False),
        ("device 34 cu in 2-gang", "secured 12 in", True),
        ("device 20.3 cu in metal", "secured 12 in", True),
        ("octagon 20.3 cu in", "secured 12 in", True),
        ("device 20.3 cu in", "every 54 in", True),
        ("device 20.3 cu in", "every 55 in", False),
    ],
)
def test_cable_support(box: str, measure: str, right: bool) -> None:
    text = filled(box, "14/2").replace("from LP to A", f"from LP to A ({measure})")
    found = said(cable_support, text)
    assert len(found) == (0 if right else 1)


def test_separate_grounds_are_found_at_the_second_one() -> None:
    text = changed(STAIR, ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- S1.ground"))
    # W2's ground is then open: that is another rule's finding, and not two grounds.
    assert not said(separate_grounds, text)


def test_neutral_at_switch_is_advice_and_one_location_is_enough() -> None:
    (found,) = said(neutral_at_switch, LOOP)
    assert (found.severity, found.subject) == ("advice", "A")
    assert not said(neutral_at_switch, STAIR)


def test_raceway_fill_by_the_handbooks_count() -> None:
    """NEC Informative Annex C Table C.1 (from memory): 1/2 in EMT holds twelve 14 THHN, nine 12, five 10."""
    for size, most in (("14", 12), ("12", 9), ("10", 5)):
        for count in (most, most + 1):
            wires = "".join(f"wire H{i} {size} THHN black 30 ft from LP to A in R1\n" for i in range(count))
            text = (
                'board "Conduit"\npanel LP 120/240 V\nbox A square 30.3 cu in\n'
                f"raceway R1 EMT 1/2 in 30 ft from LP to A\n{wires}"
            )
            assert len(said(raceway_fill, text)) == (count > most)


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_the_samples_are_right(text: str) -> None:
    board = case(text)
    rules = (box_fill, free_conductor, cable_support, separate_grounds, raceway_fill, neutral_at_switch)
    assert not list(itertools.chain.from_iterable(rule(board) for rule in rules))
