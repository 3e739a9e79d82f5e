"""Taps of a feeder: NEC 240.21(B)(1), 10 ft and a tenth; (B)(2), 25 ft and a third."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import case, changed, seen
from wirecheck.judge.guards import allowed, guarded
from wirecheck.rules.overcurrent_protection import RULE, ThinTap

BY_HAND = Path(__file__).parents[1] / "boards" / "by_hand" / "subpanels"


def tapped(size: str, feet: int, main: int | None, ahead: int = 100) -> str:
    """A feeder of 100 A in a raceway box, and a subpanel that is tapped from it."""
    own = f", {main} A main" if main else ""
    wires = (("a", "black"), ("b", "red"), ("n", "white"), ("g", "green"))
    lines = [f'board "A tap"\npanel LP 120/240 V, 10 kA available\nbreaker LP.2 {ahead} A 2-pole']
    lines += ["subpanel MP 120/240 V, 100 A main", f"subpanel SP 120/240 V{own}", "breaker SP.1 20 A"]
    lines += ["breaker MP.1 20 A", "box J junction 300 cu in metal"]
    lines += ["raceway R1 EMT 1-1/2 in 20 ft from LP to J", "raceway R2 EMT 1-1/2 in 20 ft from J to MP"]
    lines += [f"raceway R3 EMT 1-1/4 in {feet} ft from J to SP"]
    for name, color in wires:
        gauge = "8" if name == "g" else "1"
        lines += [f"wire F{name} {gauge} THHN {color} 20 ft from LP to J in R1"]
        lines += [f"wire M{name} {gauge} THHN {color} 20 ft from J to MP in R2"]
        lines += [f"wire T{name} {size} THHN {color} {feet} ft from J to SP in R3"]
    ends = {"a": "a", "b": "b", "n": "neutral", "g": "ground"}
    lines += ["at LP", "  Fa -- LP.2.a", "  Fb -- LP.2.b", "  Fn -- LP.neutral", "  Fg -- LP.ground", "at J"]
    lines += [f"  F{name} -- M{name} -- T{name}" for name in "abn"]
    lines += ["  Fg -- Mg -- Tg -- pigtail -- J.ground", "at MP"]
    lines += [f"  M{name} -- MP.{end}" for name, end in ends.items()] + ["at SP"]
    lines += [f"  T{name} -- SP.{end}" for name, end in ends.items()]
    return "\n".join(lines) + "\n"


def limits(text: str) -> dict[str, tuple[float, str]]:
    """For each wire, the largest breaker that it may have, and what sets that."""
    board = case(text)
    (guard,) = (one for one in guarded(board) if one.name == "LP.2")
    return {one.conductor.name: (one.limit.amps, one.limit.by) for one in allowed(board, guard)}


# At terminals of 75 C, 8 AWG carries 50 A and 12 AWG 25 A (Table 310.16).
@pytest.mark.parametrize(
    ("size", "feet", "main", "found"),
    [
        ("8", 10, 40, 0),
        ("8", 11, 40, 0),  # a third of 100 A is less than 50 A
        ("8", 25, 40, 0),
        ("8", 26, 40, 1),  # no tap any more
        ("8", 10, 60, 1),  # it ends in more than it carries
        ("8", 10, None, 1),  # it ends in no breaker
        ("12", 10, 25, 0),
        ("12", 11, 25, 1),  # 25 A is less than a third of 100 A
    ],
)
def test_how_long_and_how_thin_a_tap_may_be(size: str, feet: int, main: int | None, found: int) -> None:
    assert len(seen(RULE, tapped(size, feet, main))) == found


def test_what_a_tap_may_be_behind() -> None:
    """Ten times its ampacity up to 10 ft, three times that up to 25 ft."""
    assert limits(tapped("8", 10, 40))["Ta"] == (pytest.approx(500), "tap")
    assert limits(tapped("8", 25, 40))["Ta"] == (pytest.approx(150, rel=2e-3), "tap")
    assert limits(tapped("8", 25, 40))["Ma"][1] != "tap"


def test_a_thin_wire_that_begins_at_the_breaker_is_no_tap() -> None:
    text = tapped("8", 10, 40).replace("wire Fa 1 ", "wire Fa 8 ").replace("wire Fb 1 ", "wire Fb 8 ")
    assert [one.worst.conductor.name for one in seen(RULE, text)] == ["Fa"]


FUSED = (BY_HAND / "ten-foot-tap.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("edits", "found"),
    [
        ((), []),
        # The switch ahead of the fuses is no end of the tap; its fuses are.
        ((("fuse 30 A, 3 ft", "fuse 40 A, 3 ft"),), ["TooLarge"]),
        # 12 AWG carries 25 A, and the fuses are 30 A.
        ((("wire TA 10", "wire TA 12"), ("wire TB 10", "wire TB 12")), ["TooLarge"]),
        # 10 AWG carries 35 A, a third of 60 A and more.
        ((("THHN black 7 ft", "THHN black 18 ft"),), []),
    ],
)
def test_a_tap_may_end_in_the_fuses_of_a_disconnect(
    edits: tuple[tuple[str, str], ...], found: list[str]
) -> None:
    ahead = [one for one in seen(RULE, changed(FUSED, *edits)) if "LP.9" in (one.subject, one.guard.name)]
    assert [type(one).__name__ for one in ahead] == found


def test_a_thin_tap_is_told_by_itself_with_its_ground() -> None:
    text = (BY_HAND / "tap-too-thin.wire").read_text(encoding="utf-8")
    (thin,) = seen(RULE, text)
    assert isinstance(thin, ThinTap)
    assert text.splitlines()[thin.at.span.line - 1].startswith("wire TA 12")
    assert (thin.size, [one.name for one in thin.grounds]) == ("10", ["TE"])
    assert not seen(RULE, changed(text, ("wire TA 12", "wire TA 10"), ("wire TB 12", "wire TB 10")))
