"""What conductors may carry as they lie, by the method of NEC 310.15, and which size would do."""

from __future__ import annotations

import pytest

from tests.rules.circuits import LAMP, bunched, feeder, one_load
from tests.rules.hands import case
from wirecheck.judge.sizing import carries, first_size, larger_sizes, may_have, terminal_limit
from wirecheck.tables.ampacity import conductor_ampacity
from wirecheck.tables.code import LATEST
from wirecheck.tables.published import NotInTable


@pytest.mark.parametrize(
    ("circuits", "ambient", "expected"),
    [
        # The method of 310.15(B) and (C), by hand: 30 A (12 AWG, 90 C column) x ambient x bunching,
        # then no more than the 20 A of the 60 C column (110.14(C)).
        (1, 30, 20.0),
        (2, 30, 20.0),  # 4 wires: 30 x 0.80 = 24, capped at 20
        (4, 40, 30 * 0.91 * 0.70),  # 8 wires at 40 C: 19.1
        (5, 30, 30 * 0.50),  # 10 wires: 15
        (11, 45, 30 * 0.87 * 0.45),  # 22 wires at 45 C
    ],
)
def test_ampacity_is_corrected_adjusted_and_capped(circuits: int, ambient: float, expected: float) -> None:
    board = case(bunched(circuits, ambient))
    assert carries(board, board.board.conductors["H1"], 20).result == pytest.approx(expected)


@pytest.mark.parametrize(
    ("kind", "wet", "expected"),
    [
        # Table 310.4(1): XHHW is good for 90 C where it is dry and for 75 C where it is wet.
        ("XHHW", "", 30 * 0.50),
        ("XHHW", " wet", 25 * 0.50),
        ("XHHW-2", " wet", 30 * 0.50),
        # What may not be there at all is said elsewhere.
        ("THHN", " wet", 30 * 0.50),
    ],
)
def test_in_a_wet_place_the_insulation_stands_less(kind: str, wet: str, expected: float) -> None:
    board = case(
        bunched(5).replace("THHN", kind).replace("box B junction 100 cu in", f"box B junction 100 cu in{wet}")
    )
    steps = carries(board, board.board.conductors["H1"], 20)
    assert steps.corrected == pytest.approx(expected)


@pytest.mark.parametrize(("rating", "limit"), [(100, 60), (101, 75)])
def test_a_splice_does_not_limit_and_the_rating_tells(rating: float, limit: float) -> None:
    # 110.14(C)(1): 60 C up to 100 A, 75 C above.
    board = case(
        'board "A"\ncable W1 1/0/2 SER 10 ft from A to B\nbox A junction 99 cu in\nbox B junction 99 cu in\n'
    )
    assert terminal_limit(board, board.board.conductors["W1.black"], rating) == limit


def test_a_marked_screw_limits_by_its_mark_and_the_least_of_two_ends_counts() -> None:
    board = case(feeder("6", "10", 60))
    heater, breaker = (board.board.terminals[name].spec.rated for name in ("H1.a", "LP.1.a"))
    assert (heater, breaker) == (90, 75)
    assert terminal_limit(board, board.board.conductors["A1"], 60) == 75
    lamp = case(one_load(part="lampholder 60 W", screws=LAMP))
    assert lamp.board.terminals["H1.hot"].spec.rated is not None
    assert terminal_limit(lamp, lamp.board.conductors["W1.black"], 15) == min(
        75, lamp.board.terminals["H1.hot"].spec.rated
    )


def test_what_no_table_holds_is_raised() -> None:
    board = case(one_load("14/2 NM-B aluminum 20 ft"))
    with pytest.raises(NotInTable):
        carries(board, board.board.conductors["W1.black"], 15)


@pytest.mark.parametrize(
    ("size", "next_up", "amps", "by"),
    [
        # NEC 240.4(D): 15 A for 14 AWG, also where its own ampacity says the same; 20 A for 12, 30 A for 10.
        ("14", True, 15, "small conductor"),
        ("12", True, 20, "small conductor"),
        ("10", True, 30, "small conductor"),
        # 8 AWG NM-B: 40 A in the 60 C column, a standard rating. 6 AWG: 55 A, and 60 A is the next up.
        ("8", True, 40, "ampacity"),
        ("6", True, 60, "next size up"),
        ("6", False, 55, "ampacity"),
    ],
)
def test_the_largest_protection_and_what_sets_it(size: str, next_up: bool, amps: float, by: str) -> None:
    limit = may_have(conductor_ampacity("NM-B", size, code=LATEST), next_up, code=LATEST)
    assert (limit.amps, limit.by) == (amps, by)


def test_a_small_conductor_in_the_heat_goes_by_its_ampacity() -> None:
    # 14 AWG NM-B at 70 C: 25 x 0.58 = 14.5 A; the next rating up is the 15 A that 240.4(D) sets too.
    steps = conductor_ampacity("NM-B", "14", ambient=70, code=LATEST)
    assert may_have(steps, False, code=LATEST).by == "ampacity"
    assert may_have(steps, False, code=LATEST).amps == pytest.approx(14.5)
    assert may_have(steps, True, code=LATEST).by == "small conductor"


def test_larger_sizes_run_to_the_end_of_their_series() -> None:
    assert list(larger_sizes("1500 kcmil", code=LATEST)) == ["1750 kcmil", "2000 kcmil"]
    assert next(larger_sizes("2.5 mm2", code=LATEST)) == "4 mm2"


def test_the_first_size_that_does() -> None:
    board = case(one_load())
    wire = board.board.conductors["W1.black"]
    sizes = ["22", "14", "12", "10"]
    assert first_size(board, wire, 20, sizes, lambda steps: steps.result >= 20) == "12"
    assert first_size(board, wire, 20, sizes, lambda steps: steps.result >= 31) is None
    # The table has no 22 AWG: it is passed over, not an end.
    assert first_size(board, wire, 20, sizes, lambda steps: True) == "14"
