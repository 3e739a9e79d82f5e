"""Breakers and outlets that give way to others: two poles for one and one, four wires for three."""

from __future__ import annotations

import pytest

from tests.mend.proof import EFFORT, worse
from wirecheck import assemble, check, files
from wirecheck.mend.poles import two_poles
from wirecheck.mend.sheet import sheet

BOARDS = files.folder("boards")
WELL = (BOARDS / "well-pump" / "right.wire").read_text("utf-8")
DRYER = (BOARDS / "old-dryer-outlet" / "right.wire").read_text("utf-8")


def single(text: str, kind: str = "", rating: str = "15 A") -> str:
    """The well's pump on two breakers of one pole."""
    one = "breaker TP.28 15 A 2-pole gfci lockable"
    two = f"breaker TP.28 15 A{kind} lockable\nbreaker TP.30 {rating}{kind} lockable"
    assert one in text
    return text.replace(one, two).replace("TP.28.a", "TP.28").replace("TP.28.b", "TP.30")


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["", " gfci"])
def test_two_single_breakers_of_one_pump_are_one_of_two_poles_again(kind: str) -> None:
    """The well is outdoors: the breaker in their place guards against ground faults, whatever they did."""
    report = check(single(WELL, kind), effort=EFFORT)
    (mend,) = report.mends
    assert mend.mistake == "TP.28 and TP.30 are single-pole breakers, and one 2-pole breaker belongs there."
    assert ("with ground-fault protection" in mend.remedy) is not kind
    assert sorted(report.mended(1).replace("lockable", "").split()) == sorted(
        WELL.replace("lockable", "").split()
    )
    assert mend.at == ("TP.28", "TP.30")


def test_only_two_breakers_that_are_alike_and_stand_alone_are_one() -> None:
    """Which of two ratings is right, nobody knows; and what is tied is one already."""
    other = "breaker TP.30 15 A lockable"
    for said, lacking, kinds in (
        (other, ("TP.30",), [("gfci",)]),
        (other.replace("A ", "A gfci "), (), [()]),
        (other, (), []),
        ("breaker TP.30 20 A lockable", ("TP.30",), []),
        (f"{other} tied to TP.28", ("TP.30",), []),
    ):
        syntax, board = assemble(single(WELL).replace(other, said))
        breakers = tuple(board.breakers.values())
        made = list(two_poles(breakers, lacking, board, sheet(syntax)))
        assert [one.kinds for one in made[:1]] == kinds
        assert {one.breaker for one in made[:1]} <= {"TP.28"}


@pytest.mark.slow
def test_where_a_tie_does_no_breaker_is_bought() -> None:
    path = BOARDS / "split-wired-receptacle" / "wrong-two-single-breakers.wire"
    assert check(path, effort=EFFORT).mends[0].remedy == "Put a listed handle tie on the two."


NEW = (
    "Run a cable of 10/3 NM-B in the place of W1, and put in a dryer-receptacle. W1.black and W1.red are the "
    "hots, W1.white is the neutral, and W1.bare goes on TP.ground and D1.ground. Take the bonding strap out "
    "of what is plugged in."
)


@pytest.mark.parametrize("wrong", ["new-outlet-on-three-wires", "ground-wire-as-the-neutral"])
def test_a_dryer_on_three_wires_in_new_work_is_on_four(wrong: str) -> None:
    """NEC 2023 250.140(A): the frame is grounded by a ground of its own, and no more by the neutral."""
    report = check(BOARDS / "old-dryer-outlet" / f"wrong-{wrong}.wire", effort=EFFORT)
    assert [mend.remedy for mend in report.mends] == [NEW]
    mended = report.mended(1)
    assert not worse(check(mended))
    assert "D1 is dryer-receptacle in A" in mended and "cable W1 10/3 NM-B 28 ft" in mended
    at_the_outlet = mended[mended.index("at A") : mended.index("expect")].split("\n")
    assert [line.strip() for line in at_the_outlet if line.strip()] == [
        "at A",
        "W1.black -- D1.hot-1",
        "W1.red -- D1.hot-2",
        "W1.white -- D1.neutral",
        "W1.bare -- D1.ground",
    ]


@pytest.mark.slow
def test_a_metal_box_is_on_the_new_ground_too() -> None:
    text = DRYER.replace("2-1/8 in\n", "2-1/8 in metal\n").replace("-3-wire existing in", "-3-wire in")
    report = check(text, effort=EFFORT)
    assert "W1.bare -- pigtail -- D1.ground -- pigtail -- A.ground" in report.mended(1)
    assert not worse(check(report.mended(1)))


@pytest.mark.slow
def test_wires_of_two_cables_are_not_one_cable() -> None:
    """What brings the neutral by itself is no cable to run anew."""
    text = DRYER.replace("-3-wire existing in", "-3-wire in")
    text = text.replace("cable W1", "cable W2 10/2 SEU 28 ft from TP to A\ncable W1")
    text = text.replace("W1.bare", "W2.bare")
    assert not any("bonding strap" in mend.remedy for mend in check(text, effort=EFFORT).mends)


@pytest.mark.slow
@pytest.mark.parametrize(
    "name",
    [
        "old-range-outlet/wrong-new-work",
        "old-range-outlet/wrong-from-a-subpanel",
        "rules/three-wire-outlet/wrong",
    ],
)
def test_a_range_or_dryer_that_ships_on_three_wires_is_on_four(name: str) -> None:
    report = check(BOARDS / f"{name}.wire", effort=EFFORT)
    assert not worse(check(report.mended(1)))
