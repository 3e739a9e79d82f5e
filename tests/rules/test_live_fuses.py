"""Disconnects whose fuses stay live with them open; NEC 2023 240.40, 404.6(C)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, case, changed, seen
from wirecheck.rules.live_fuses import RULE

BOARDS = Path(__file__).parents[2] / "boards" / "rules" / "live-fuses"
RIGHT, WRONG = (BOARDS.joinpath(f"{name}.wire").read_text(encoding="utf-8") for name in ("right", "wrong"))
LIVE_FUSE = """\
part live-fuse "A switch with one fuse, in its own box"
terminal top hot, sizes 14 to 4
terminal bottom switched, sizes 14 to 4
inner is fuse with current 15 A
inner.load -- bottom
"""


@pytest.mark.parametrize("text", [RIGHT, STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_fed_from_the_bottom_both_fuses_stay_live() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "D")
    assert [screw.name for screw in found.screws] == ["D.load-1", "D.load-2"]
    assert [screw.name for screw in found.blades] == ["D.line-1", "D.line-2"]
    assert WRONG.splitlines()[found.at.span.line - 1].strip().startswith("W1.black -- D.load-1")
    assert len(found.copper) == 4


@pytest.mark.parametrize("pole", ["1", "2"])
def test_one_of_the_two_fed_from_the_bottom(pole: str) -> None:
    wires = {"1": ("W1.black", "W2.black"), "2": ("W1.white marked red", "W2.white marked red")}
    feed, unit = wires[pole]
    text = changed(
        RIGHT,
        (f"{feed} -- D.line-{pole}", f"{feed} -- D.load-{pole}"),
        (f"  {unit} -- D.load-{pole}", f"  {unit} -- D.line-{pole}"),
    )
    (found,) = seen(RULE, text)
    assert [screw.name for screw in (*found.screws, *found.blades)] == [f"D.load-{pole}", f"D.line-{pole}"]
    assert len(found.copper) == 2


def test_a_hot_that_goes_around_the_blades_leaves_a_fuse_live() -> None:
    text = changed(RIGHT, ("W1.black -- D.line-1", "W1.black -- D.line-1 -- D.load-1"))
    (found,) = seen(RULE, text)
    assert [screw.name for screw in found.screws] == ["D.load-1"]


def test_without_fuses_or_with_a_fuse_elsewhere_there_is_none_to_touch() -> None:
    plain = WRONG.replace("fused-disconnect with current 30 A, fuse 25 A", "disconnect-2-pole 30 A")
    assert not seen(RULE, plain)
    # A fuse beside the switch of the board has the breaker before it.
    text = changed(
        plain,
        ("  W2.black -- D.line-1\n", "  W2.black -- F.load\n  F.line -- D.line-1\n"),
        ("H is baseboard", "F is fuse 25 A in D\nH is baseboard"),
    )
    assert not seen(RULE, text)


def test_it_takes_a_hand_to_open_it() -> None:
    """A machine's own contact before a fuse is no disconnect."""
    for moves, found in (("", 1), ("moved by pressure\n", 0)):
        part = LIVE_FUSE + "positions on, off\n" + moves + "top -- inner.line when on\n"
        text = changed(
            WRONG,
            ("D is fused-disconnect with current 30 A, fuse 25 A", "D is live-fuse"),
            ("W1.black -- D.load-1  # finds: live-fuses", "W1.black -- D.bottom"),
            ("  W2.black -- D.line-1\n", "  W2.black -- D.top\n"),
            ("  W1.white marked red -- D.load-2\n", ""),
            ("  W2.white marked red -- D.line-2\n", "  W1.white -- W2.white\n"),
            ("  W1.bare -- W2.bare -- D.ground\n", "  W1.bare -- W2.bare\n"),
        )
        assert len(list(RULE.find(case(text, **{"live-fuse": part})))) == found
