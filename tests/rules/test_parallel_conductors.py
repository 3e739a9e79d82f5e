"""Conductors in parallel; NEC 2023 310.10(G)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import COOLING, HALVES, LOOP, STAIR, at, changed, reported, said, seen
from wirecheck import files
from wirecheck.rules.parallel_conductors import RULE, TooThin, Unlike

BOARDS = Path(__file__).parent / "boards"
FOLDER = files.folder("boards") / "rules" / "parallel-conductors"
WRONG = (FOLDER / "wrong.wire").read_text(encoding="utf-8")
RIGHT = (FOLDER / "right.wire").read_text(encoding="utf-8")


def board(name: str) -> str:
    return (BOARDS / "parallel-conductors" / f"{name}.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, HALVES, RIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_two_tens_for_a_fifty_are_one_mistake() -> None:
    (found,) = seen(RULE, WRONG)
    assert type(found) is TooThin
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "K1")
    assert [[one.name for one in together] for together in found.sets] == [["K1", "K2"], ["K3", "K4"]]
    assert (found.guard.name, found.enough, found.size) == ("LP.2", False, "6")
    assert at(WRONG, found).startswith("wire K1 10 THHN black")
    (words,) = said(RULE, WRONG)
    assert words.help is not None and "6 AWG copper" in words.help
    assert [note.span.line for note in words.also] == [8]
    assert reported(WRONG) == ["parallel-conductors"]


def test_of_two_sizes_the_smaller_counts() -> None:
    (found,) = seen(RULE, WRONG.replace("wire K1 10", "wire K1 8"))
    assert [one.name for one in found.sets[0]] == ["K2", "K1"]


def test_one_large_wire_does_not_help_a_thin_one() -> None:
    (found,) = seen(RULE, WRONG.replace("wire K1 10", "wire K1 1/0"))
    assert [one.name for one in found.sets[0]] == ["K2", "K1"]


@pytest.mark.parametrize(("size", "thin"), [("1", True), ("1/0", False), ("2/0", False)])
def test_from_1_0_up_they_may(size: str, thin: bool) -> None:
    text = changed(
        board("unlike"), ("K1 1/0 THHN black 60", f"K1 {size} THHN black 62"), ("K2 1/0", f"K2 {size}")
    )
    assert [type(one) for one in seen(RULE, text)] == [TooThin] * thin


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("K1 1/0 THHN black 60", "K1 1/0 THHN black 60"),
        ("K1 1/0 THHN black 60", "K1 2/0 THHN black 62"),
        ("K1 1/0 THHN black 60", "K1 1/0 XHHW black 62"),
        ("K1 1/0 THHN black 60", "K1 1/0 THHN aluminum black 62"),
    ],
)
def test_they_are_alike(old: str, new: str) -> None:
    if "aluminum" in new:
        new = "K1 1/0 THHN black aluminum 62"
    (found,) = seen(RULE, changed(board("unlike"), (old, new)))
    assert type(found) is Unlike
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "K1")
    assert [one.name for one in found.conductors] == ["K1", "K2"]
    assert at(changed(board("unlike"), (old, new)), found) == "K1 -- K2 -- pigtail -- H1.L1"


def test_a_color_is_no_difference() -> None:
    text = changed(board("unlike"), ("K1 1/0 THHN black 60", "K1 1/0 THHN blue 62"))
    assert not seen(RULE, text)


def test_a_spare_beside_the_hot_is_taken_off() -> None:
    (found,) = seen(RULE, board("spare"))
    assert (found.enough, found.size, found.guard.name) == (True, None, "LP.1")
    (words,) = said(RULE, board("spare"))
    assert words.help is not None and "W1.red" in words.help
    assert at(board("spare"), found) == "W1.black -- W1.red -- pigtail -- L1.hot"
    assert found.at.span.line == 12
    assert reported(board("spare")) == ["parallel-conductors"]


def test_joined_at_one_end_alone_they_are_not() -> None:
    for place in (0, 1):
        text = board("spare")
        first = text.index("W1.black -- W1.red -- ")
        cut = first if place == 0 else text.index("W1.black -- W1.red -- ", first + 1)
        text = text[:cut] + "W1.black -- " + text[cut + len("W1.black -- W1.red -- ") :] + "  cap W1.red\n"
        assert not seen(RULE, text)


def test_two_screws_with_a_tab_join_them_too() -> None:
    (found,) = seen(RULE, board("through-the-screws"))
    assert {one.name for one in found.conductors} == {"W1.white", "W2.white"}
    assert reported(board("through-the-screws")) == ["parallel-conductors"]


def test_what_nothing_protects_has_no_size() -> None:
    text = changed(
        board("spare"), ("W1.red -- pigtail -- LP.1", "W1.red -- pigtail -- L2.hot"),
        ("L1 is", "L2 is lampholder 60 W in LP\nL1 is"),
    )  # fmt: skip
    (found,) = seen(RULE, text)
    assert (found.guard, found.enough, found.size) == (None, True, None)


def test_what_no_table_has_is_not_known_to_be_enough() -> None:
    (found,) = seen(RULE, WRONG.replace("THHN black", "ETFE black"))
    assert (found.enough, found.size) == (False, None)
    (words, *_) = said(RULE, WRONG.replace("THHN black", "ETFE black"))
    assert words.help is not None and "AWG" not in words.help


def test_grounds_may_lie_in_parallel() -> None:
    """Those of two cables between two boxes are joined at both ends (250.148)."""
    text = changed(
        board("spare"),
        ("W1.black -- W1.red -- pigtail -- LP.1", "W1.black -- LP.1\n  W1.red marked green -- LP.ground"),
        ("W1.black -- W1.red -- pigtail -- L1.hot", "W1.black -- L1.hot"),
        ("W1.bare -- L1.ground", "W1.bare -- W1.red -- pigtail -- L1.ground"),
    )
    assert not seen(RULE, text)


def test_class_2_wires_may_lie_in_parallel() -> None:
    text = (BOARDS / "out-and-back" / "bell.wire").read_text(encoding="utf-8")
    assert not seen(
        RULE,
        text.replace("at V1\n  C1.red", "at V1\n  C2.red -- C1.red").replace(
            "C1.red -- X1", "C1.red -- C2.red -- X1"
        ),
    )


def test_neutrals_of_two_circuits_are_that_mistake() -> None:
    text = (BOARDS / "multiwire-circuit" / "joined-by-mistake.wire").read_text(encoding="utf-8")
    assert len(seen(RULE, text)) == 2
    assert "parallel-conductors" not in reported(text)


def test_a_breaker_too_large_for_other_wires_too_is_reported_besides() -> None:
    more = "box C junction 42 cu in\ncable W9 14/2 NM-B 9 ft from B to C\nat B\n  W9.black -- K1\n"
    assert "overcurrent-protection" in reported(WRONG + more)
