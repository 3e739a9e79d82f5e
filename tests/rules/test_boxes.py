"""The rough-in against worked examples and limits whose source is named beside them."""

from __future__ import annotations

import itertools

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed, said
from tests.rules.test_box_fill import filled
from wirecheck.rules.boxes import (
    cable_support,
    free_conductor,
    neutral_at_switch,
    raceway_fill,
    separate_grounds,
)


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
    rules = (free_conductor, cable_support, separate_grounds, raceway_fill, neutral_at_switch)
    assert not list(itertools.chain.from_iterable(rule(board) for rule in rules))
