"""The devices that a hot comes to from the wrong side, and where it goes over."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, COOLING, LIGHT, LOOP, STAIR, case, changed
from wirecheck.judge.reversals import Reversal, reversals

SWAPPED = changed(
    CHAIN,
    ("  W2.black -- R1.hot\n  W2.white -- R1.neutral\n", "  W2.white -- R1.hot\n  W2.black -- R1.neutral\n"),
)


def found(text: str) -> list[Reversal]:
    return list(reversals(case(text)))


def line(text: str, number: int) -> str:
    return text.splitlines()[number - 1].strip()


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, CHAIN, LIGHT])
def test_right_boards_have_none(text: str) -> None:
    assert not found(text)


def test_both_ways_from_a_device_that_is_swapped_at_its_screws() -> None:
    (one,) = found(SWAPPED)
    assert (one.device.name, one.screw.name) == ("R1", "R1.neutral")
    assert line(SWAPPED, one.hot.join.span.line) == "W2.black -- R1.neutral"
    assert (one.hot.inner, one.hot.outer, one.hot.before) == ("R1.neutral", "W2.black@B", ("R1.neutral",))
    assert one.neutral is not None
    assert line(SWAPPED, one.neutral.join.span.line) == "W2.white -- R1.hot"
    assert (one.neutral.inner, one.neutral.outer) == ("R1.hot", "W2.white@B")
    assert one.neutral.before == ("R1.hot",)


def test_a_device_with_two_neutral_screws_is_one_and_so_is_each_beyond_it() -> None:
    text = changed(
        CHAIN,
        ("  W1.black -- G1.line-hot\n  W1.white -- G1.line-neutral\n",
         "  W1.white -- G1.line-hot\n  W1.black -- G1.line-neutral\n"),
    )  # fmt: skip
    first, second = found(text)
    assert [first.screw.name, second.screw.name] == ["G1.line-neutral", "R1.neutral"]
    assert first.hot.join == second.hot.join
    assert second.hot.before == (
        *("R1.neutral", "W2.white@B", "W2.white@A", "G1.load-neutral", "G1.line-neutral"),
    )
    assert second.neutral is not None
    assert second.neutral.before[-1] == "G1.line-hot"


@pytest.mark.parametrize("screws", ["L1.hot -- L1.neutral", "L1.neutral"])
def test_a_switched_hot_counts_too_and_the_neutral_need_not_be_there(screws: str) -> None:
    hot, neutral = "W2.black -- L1.hot", "W2.white -- L1.neutral"
    text = changed(LIGHT, (hot, f"W2.black -- {screws}"), (neutral, "cap W2.white"))
    (one,) = found(text)
    assert (one.device.name, one.neutral) == ("L1", None)


def test_a_switched_neutral_on_the_hot_screw_is_the_way_of_the_neutral() -> None:
    text = changed(
        LIGHT,
        ("  W1.black -- LP.3\n  W1.white -- LP.neutral\n", "  W1.white -- LP.3\n  W1.black -- LP.neutral\n"),
    )
    (one,) = found(text)
    assert one.neutral is not None
    assert line(text, one.neutral.join.span.line) == "W1.black -- LP.neutral"
    assert one.neutral.inner == "W1.black@LP"


def test_of_two_joins_where_it_goes_over_the_one_nearest_to_the_source_counts() -> None:
    """Black to white in A and white to black to the silver screw in B."""
    text = changed(
        LIGHT,
        ("W2.white -- L1.neutral", "W2.white -- W3.black"),
        ("S1 is", "box C octagon 15.5 cu in\ncable W3 14/2 NM-B 4 ft from B to C\nS1 is"),
        ("  W1.white -- W2.white\n", "  W1.black -- W2.white -- pigtail -- S1.line\n  cap W1.white\n"),
        ("  W1.black -- S1.line\n", ""),
        ("L1 is lampholder 60 W in B", "L1 is lampholder 60 W in B\nL2 is lampholder 60 W in C"),
    ) + "at C\n  W3.black -- L2.neutral\n"  # fmt: skip
    (one,) = found(text)
    assert line(text, one.hot.join.span.line) == "W1.black -- W2.white -- pigtail -- S1.line"


def test_a_wire_marked_at_one_end_alone_goes_over_at_no_join_and_the_screw_is_named() -> None:
    text = changed(
        LIGHT,
        ("  W1.black -- LP.3\n  W1.white -- LP.neutral\n",
         "  W1.white marked black -- LP.3\n  W1.black -- LP.neutral\n"),
    )  # fmt: skip
    (one,) = found(text)
    assert line(text, one.hot.join.span.line) == "W2.white -- L1.neutral"
    assert one.hot.before[-1] == "LP.leg-b"


def test_the_neutral_screw_of_a_breaker_is_no_device() -> None:
    text = changed(
        LIGHT,
        ("LP.3 15 A", "LP.3 15 A gfci"),
        ("  W1.white -- LP.neutral\n", "  W1.white -- LP.3.neutral\n"),
    )
    assert not found(text)


@pytest.mark.parametrize(
    ("white", "bare"),
    [("L1.ground", "cap W2.bare"), ("cap W2.white", "L1.ground"), ("cap W2.white", "L1.hot")],
)
def test_a_neutral_on_another_screw_and_a_ground_on_the_hot_one_are_no_way_of_the_neutral(
    white: str, bare: str
) -> None:
    def put(wire: str, to: str) -> str:
        return f"  {to}\n" if to.startswith("cap") else f"  {wire} -- {to}\n"

    text = changed(
        LIGHT,
        ("W2.black -- L1.hot", "W2.black -- L1.neutral"),
        ("  W2.white -- L1.neutral\n", put("W2.white", white)),
        ("  W2.bare -- L1.ground\n", put("W2.bare", bare)),
    )
    (one,) = found(text)
    assert one.neutral is None


def test_a_screw_with_both_is_shorted_and_not_swapped() -> None:
    text = changed(
        CHAIN,
        (
            "  W2.black -- R1.hot\n  W2.white -- R1.neutral\n",
            "  W2.black -- W2.white -- pigtail -- R1.neutral\n",
        ),
    )
    assert not found(text)
