"""Each edit in the text that it makes: what it changes, what it leaves, and its other way."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.samples import board
from wirecheck import files
from wirecheck.language.reader import read
from wirecheck.mend import words
from wirecheck.mend.edits import (
    Abreast,
    Behind,
    Cap,
    Change,
    Edit,
    Exchange,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    IntoWire,
    Land,
    Mark,
    Move,
    Part,
    Pigtail,
    Rotate,
    Tail,
    Unbridge,
    edited,
)
from wirecheck.mend.sheet import sheet

BOX = """at A
  W1.black -- S1.line  # the feed
  W2.black -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
  cap W2.red
at B
  W2.black -- L1.hot
"""


def made(text: str, edit: Edit) -> str:
    changed = edited(sheet(read(text)), edit)
    assert changed is not None
    # What the sheet says and what the text says are the same.
    told = [_plain(one) for one in read(changed.text()).statements]
    assert told == [_plain(one) for one in changed.now.statements]
    return changed.text()


def _plain(value: object) -> object:
    """A statement without its places in the text."""
    if isinstance(value, tuple):
        fields = getattr(value, "_fields", None)
        if fields:
            return [type(value).__name__, *(_plain(getattr(value, one)) for one in fields if one != "span")]
        return [_plain(one) for one in value]
    return value


@pytest.mark.parametrize(
    ("edit", "gone", "new"),
    [
        (
            Exchange("A", "W1.black", "W2.black"),
            {"  W1.black -- S1.line  # the feed", "  W2.black -- S1.load"},
            {"  W2.black -- S1.line  # the feed", "  W1.black -- S1.load"},
        ),
        (
            Exchange("A", "W2.white", "W2.red"),
            {"  W1.white -- W2.white", "  cap W2.red"},
            {"  W1.white -- W2.red", "  cap W2.white"},
        ),
        (
            Move("A", "W2.red", "S1.load"),
            {"  W2.black -- S1.load", "  cap W2.red"},
            {"  W2.black -- W2.red -- S1.load"},
        ),
        (
            Move("A", "W2.red", "S1.load", pigtail=True, marked="black"),
            {"  W2.black -- S1.load", "  cap W2.red"},
            {"  W2.black -- W2.red marked black -- pigtail -- S1.load"},
        ),
        (
            Move("A", "W2.red", "W1.bare"),
            {"  W1.bare -- W2.bare -- pigtail -- S1.ground", "  cap W2.red"},
            {"  W1.bare -- W2.bare -- W2.red -- pigtail -- S1.ground"},
        ),
        (
            Move("A", "W1.white", "W2.red"),
            {"  W1.white -- W2.white", "  cap W2.red"},
            {"  W1.white -- W2.red"},
        ),
        (
            Move("A", "W1.black", "A.ground", fresh=True),
            {"  W1.black -- S1.line  # the feed"},
            {"  W1.black -- A.ground"},
        ),
        (
            Part("A", "S1.ground", "W1.bare"),
            {"  W1.bare -- W2.bare -- pigtail -- S1.ground"},
            {"  W1.bare -- W2.bare"},
        ),
        (
            Tail("A", "W1.white", "S1.x"),
            {"  W1.white -- W2.white"},
            {"  W1.white -- W2.white -- pigtail -- S1.x"},
        ),
        (
            Tail("A", "S1.line", "S1.load", "W2.black", lead=True),
            {"  W1.black -- S1.line  # the feed", "  W2.black -- S1.load"},
            {"  S1.load -- pigtail -- W1.black -- pigtail -- S1.line  # the feed"},
        ),
        (
            Tail("A", "W1.bare", "S1.load", "W2.black", lead=True),
            {"  W1.bare -- W2.bare -- pigtail -- S1.ground", "  W2.black -- S1.load"},
            {"  W1.bare -- W2.bare -- pigtail -- S1.ground -- pigtail -- S1.load"},
        ),
        (Cap("A", "W1.white"), {"  W1.white -- W2.white"}, {"  cap W1.white"}),
        (Mark("A", "W2.white", "black"), {"  W1.white -- W2.white"}, {"  W1.white -- W2.white marked black"}),
        (
            ExchangeSides("S1", "A", (("S1.line", "S1.load"),)),
            {"  W1.black -- S1.line  # the feed", "  W2.black -- S1.load"},
            {"  W1.black -- S1.load  # the feed", "  W2.black -- S1.line"},
        ),
        (
            ExchangeThroughout("W2.black", "W2.white", ("A", "B")),
            {"  W2.black -- S1.load", "  W1.white -- W2.white", "  W2.black -- L1.hot"},
            {"  W2.white -- S1.load", "  W1.white -- W2.black", "  W2.white -- L1.hot"},
        ),
        (Gather("B", ("W2.bare",), ("L1.ground",)), set(), {"  W2.bare -- L1.ground"}),
        (
            Gather("B", ("W2.bare", "W3.bare"), ("L1.ground",)),
            set(),
            {"  W2.bare -- W3.bare -- pigtail -- L1.ground"},
        ),
    ],
)
def test_an_edit_changes_its_lines_and_no_other(edit: Edit, gone: set[str], new: set[str]) -> None:
    before, after = BOX.splitlines(), made(BOX, edit).splitlines()
    assert set(before) - set(after) == gone
    assert set(after) - set(before) == new
    assert len(after) == len(before) - len(gone) + len(new)


def test_wires_of_two_lines_under_one_screw_get_one_pigtail() -> None:
    text = "at A\n  W1.black -- S1.line\n  W2.black -- S1.line\n  W3.black -- S1.load\n"
    assert made(text, Pigtail("A", "S1.line")) == (
        "at A\n  W1.black -- W2.black -- pigtail -- S1.line\n  W3.black -- S1.load\n"
    )


def test_a_place_that_nothing_was_joined_in_gets_its_own_line() -> None:
    assert made(BOX, Move("C", "W9.black", "C.hot")) == BOX + "at C\n  W9.black -- C.hot\n"


def test_a_change_keeps_the_comments_of_its_line() -> None:
    text = "breaker LP.1 20 A # large\nbox A octagon # old\n  15.5 cu in # low\n"
    told = sheet(read(text))
    assert made(text, Change(0, "LP.1", "rating", "20 A", "15 A", "breaker LP.1 15 A")) == text.replace(
        "20 A", "15 A"
    )
    assert told.edits() == ()


@pytest.mark.parametrize(
    "edit",
    [
        Exchange("A", "W1.white", "W2.white"),
        Exchange("A", "W8.black", "W9.black"),
        Move("A", "W2.red", "S1.ground", pigtail=True),
        Tail("A", "W1.white", "S1.ground"),
        Pigtail("A", "S1.ground"),
        Pigtail("A", "S1.line"),
        Part("A", "S1.line", "S1.load"),
        Mark("A", "W2.red", "black"),
    ],
)
def test_what_cannot_be_done_or_changes_nothing_is_none(edit: Edit) -> None:
    assert edited(sheet(read(BOX)), edit) is None


WIRES = ("W1.black", "W2.black", "W1.white", "W2.white", "W1.bare", "W2.bare")


@given(st.sampled_from(WIRES), st.sampled_from(WIRES))
def test_an_exchange_made_twice_is_none(one: str, other: str) -> None:
    first = edited(sheet(read(BOX)), Exchange("A", one, other))
    if first is not None:
        again = edited(sheet(read(first.text())), Exchange("A", one, other))
        assert again is not None
        assert again.text() == BOX


def test_a_cable_goes_from_one_side_of_a_device_to_the_other() -> None:
    text = """at A
  W1.black -- W2.black -- pigtail -- G1.line-hot
  W1.white -- G1.line-neutral
  W2.white -- G1.line-neutral
"""
    after = made(text, Land("A", (("W2.black", "G1.load-hot"), ("W2.white", "G1.load-neutral"))))
    assert "W1.black -- pigtail -- G1.line-hot" in after and "W1.white -- G1.line-neutral" in after
    assert "W2.black -- G1.load-hot" in after and "W2.white -- G1.load-neutral" in after


def test_what_is_capped_loses_its_cap_where_it_goes_into_a_wire() -> None:
    told = sheet(read("at P\n  W1.yellow -- P.Y\n  cap E.in\n  cap E.out"))
    edit = IntoWire("P", "E.out", "E.in", "W1.yellow")
    changed = edited(told, edit)
    assert changed is not None
    assert changed.text().split("\n") == ["at P", "  E.out -- P.Y", "  W1.yellow -- E.in", "  "]


SERIES = """at A
  W1.black -- L1.hot
  W1.white -- W2.white
  W2.black -- L1.neutral
"""


def test_a_load_in_the_way_of_the_next_is_abreast_of_it() -> None:
    """What goes on is spliced with the feed, and the far screw with the wire that passes."""
    declared = "".join(f"cable {name} 14/2 NM-B 9 ft from LP to A\n" for name in ("W1", "W2"))
    abreast = made(declared + SERIES, Abreast("A", "L1.hot", "L1.neutral", "W2.black", "W1.white"))
    assert abreast == (
        f"{declared}at A\n  W1.black -- W2.black -- pigtail -- L1.hot\n"
        "  W1.white -- W2.white -- pigtail -- L1.neutral\n"
    )
    # Loads whose own leads are joined are spliced so, too.
    leads = made(
        "at A\n  K.a -- H1.a\n  H1.b -- H2.a\n  H2.b -- K.b\n", Abreast("A", "H1.a", "H1.b", "H2.a", "H2.b")
    )
    assert leads == (
        "at A\n  K.a -- pigtail -- H1.a -- pigtail -- H2.a\n  H2.b -- pigtail -- K.b -- pigtail -- H1.b\n"
    )


def test_what_hangs_on_the_line_side_goes_to_the_load_side_as_it_is_joined() -> None:
    text = "at A\n  K1 -- pigtail -- K.line -- pigtail -- M.a -- F.a\n"
    assert made(text, Behind("A", ("M.a", "F.a"), "K.line", "K.load")) == (
        "at A\n  K1 -- pigtail -- K.line\n  K.load -- pigtail -- M.a -- F.a\n"
    )
    taken = sheet(read(f"{text}  K.load -- F.b\n"))
    assert edited(taken, Behind("A", ("M.a", "F.a"), "K.line", "K.load")) is None


def test_three_ends_each_go_where_the_next_is() -> None:
    text = "at A\n  W1.black -- S1.a\n  W2.black -- S1.b\n  W3.white marked red -- S1.c\n"
    assert made(text, Rotate("A", ("W1.black", "W2.black", "W3.white"))) == (
        "at A\n  W3.white marked red -- S1.a\n  W1.black -- S1.b\n  W2.black -- S1.c\n"
    )


@given(st.permutations(("W1.black", "W2.black", "W1.white")))
def test_three_rotations_are_none(ends: list[str]) -> None:
    text = "at A\n  W1.black -- S1.a\n  W2.black -- S1.b\n  W1.white -- S1.c\n"
    turned = sheet(read(text))
    for _ in range(3):
        again = edited(turned, Rotate("A", tuple(ends)))
        assert again is not None and again.text() != turned.text()
        turned = again
    assert turned.text() == text


@pytest.mark.parametrize(
    ("name", "part", "mistake", "remedy"),
    [
        (
            "rack-compressor/wrong-low-pressure-jumpered",
            Part("E", "LPC.a", "LPC.b"),
            "At E, a jumper joins LPC.a and LPC.b, and should not be there.",
            "Take it off LPC.a, and leave LPC.b and HP.a joined.",
        ),
        # The pigtail to HS.a is that of its feed, and stays.
        (
            "timer-defrost/wrong-limit-jumpered",
            Part("EV", "HS.a", "HS.b"),
            "At EV, a jumper joins HS.a and HS.b, and should not be there.",
            "Take it off HS.a, and leave HS.b and HT.a joined.",
        ),
    ],
)
def test_what_bridges_a_control_is_called_a_jumper(name: str, part: Part, mistake: str, remedy: str) -> None:
    text = (files.folder("boards") / f"{name}.wire").read_text(encoding="utf-8")
    assert words.told(part, sheet(read(text)), board(text)) == (mistake, remedy)


def test_a_join_is_parted_between_the_ends_of_a_contact() -> None:
    joined = "at A\n  W1.a -- pigtail -- S1.a -- pigtail -- S1.b -- pigtail -- L1.a -- pigtail -- L2.a\n"
    assert made(joined, Unbridge("A", "S1.a", "S1.b", ("L1.a", "L2.a"))) == (
        "at A\n  W1.a -- pigtail -- S1.a\n  S1.b -- pigtail -- L1.a -- pigtail -- L2.a\n"
    )
    assert edited(sheet(read(joined)), Unbridge("A", "S1.a", "S1.b", ("L3.a",))) is None


def test_a_mark_comes_on_both_ends_of_a_wire_that_moves() -> None:
    text = "at A\n  W1.white -- A.neutral\nat B\n  W1.white -- R1.hot-2\n"
    assert made(text, Move("A", "W1.white", "A.1", marked="red", far="B")) == (
        "at A\n  W1.white marked red -- A.1\nat B\n  W1.white marked red -- R1.hot-2\n"
    )
