"""Whether a wire is of the size and the metal that its screw is made for; NEC 2023 110.14."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, case, changed, seen
from wirecheck.rules.terminal_size import RULE, TooThick, TooThin, WrongMetal


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# A lampholder's screws take 14 to 12 AWG copper, as its part says.
@pytest.mark.parametrize(
    ("size", "kind"),
    [
        ("16", TooThin), ("14", None), ("2.08 mm2", TooThin), ("2.1 mm2", None), ("12", None),
        ("3.3 mm2", None), ("3.31 mm2", TooThick), ("10", TooThick),
    ],
)  # fmt: skip
def test_sizes_at_a_lampholder(size: str, kind: type | None) -> None:
    text = changed(
        STAIR,
        ("cable W3 14/2", f"wire H1 {size} THHN black 11 ft from C to B\ncable W3 14/2"),
        ("  W3.black -- L1.hot\n", "  H1 -- L1.hot\n"),
    )
    found = seen(RULE, text)
    assert [type(one) for one in found] == ([] if kind is None else [kind])
    for one in found:
        assert (one.severity, one.stage, one.subject) == ("violation", "trim", "L1.hot")
        assert one.sizes == ("14", "12")
        assert text.splitlines()[one.at.span.line - 1] == "  H1 -- L1.hot"


def test_aluminum_on_copper_screws_is_one_hazard_for_a_cable() -> None:
    text = changed(STAIR, ("cable W3 14/2 NM-B ", "cable W3 12/2 NM-B aluminum "))
    switch, lamp = seen(RULE, text)
    assert {type(switch), type(lamp)} == {WrongMetal}
    assert (lamp.severity, lamp.stage, lamp.subject) == ("hazard", "trim", "L1")
    assert [wire.name for wire, _ in lamp.wires] == ["W3.black", "W3.white", "W3.bare"]
    assert text.splitlines()[lamp.at.span.line - 1] == "  W3.black -- L1.hot"
    assert switch.subject == "S2"


def test_its_metal_goes_before_its_size() -> None:
    text = changed(STAIR, ("cable W3 14/2 NM-B ", "cable W3 10/2 NM-B aluminum "))
    assert [(type(one), one.subject) for one in seen(RULE, text)] == [(WrongMetal, "S2"), (WrongMetal, "L1")]


def test_aluminum_may_be_on_screws_for_both() -> None:
    """A breaker's and a bar's take either metal, as their parts say, of a size that fits."""
    text = changed(STAIR, ("cable W1 14/2 NM-B ", "cable W1 12/2 NM-B aluminum "))
    assert {one.subject for one in seen(RULE, text)} == {"S1"}
    thick = changed(STAIR, ("cable W1 14/2 NM-B ", "cable W1 2/2 SER aluminum "))
    assert [(type(one), one.subject) for one in seen(RULE, thick)] == [(TooThick, "LP.3"), (WrongMetal, "S1")]


def test_a_pigtail_is_as_the_screw_needs_it() -> None:
    text = changed(STAIR, ("  W3.black -- L1.hot\n", "  W3.black -- pigtail -- L1.hot\n"),
                   ("cable W3 14/2", "cable W3 10/2"))  # fmt: skip
    assert "L1.hot" not in {one.subject for one in seen(RULE, text)}


PART = """part glow "A lamp"
terminal hot hot, brass screw{sizes}
terminal neutral neutral, silver screw
terminal ground ground, green screw
load lamp lamp from hot to neutral, 20 W at 120 V
"""


@pytest.mark.parametrize(
    ("sizes", "found"),
    [("", 0), (", sizes 12 to 10", 1), (", sizes 18 to 0.001 mm2", 0), (", sizes 14 to 14", 0)],
)
def test_a_screw_that_does_not_say_its_sizes_is_not_judged(sizes: str, found: int) -> None:
    text = changed(STAIR, ("L1 is lampholder 60 W in B", "L1 is glow in B"))
    assert len(list(RULE.find(case(text, glow=PART.format(sizes=sizes))))) == found


def test_a_metal_box_and_a_breaker_have_screws_of_their_own() -> None:
    """Parts of the user's own may say of any screw that it is for copper only."""
    breaker = 'part breaker "A breaker"\nterminal load hot, sizes 14 to 4, copper\n'
    box = 'part metal-box "A box"\nterminal ground ground, green screw, copper\n'
    panel = 'part panel "Bars"\nterminal neutral neutral, bar, copper\nterminal ground ground, bar\n'
    text = changed(
        STAIR,
        ("cable W1 14/2 NM-B ", "cable W1 12/2 NM-B aluminum "),
        ("box A device 20.3 cu in", "box A device 20.3 cu in metal"),
        ("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- A.ground"),
    )
    board = case(text, **{"breaker": breaker, "metal-box": box, "panel": panel})
    assert [one.subject for one in RULE.find(board)] == ["LP.3", "LP", "S1", "A"]


@pytest.mark.parametrize(
    ("breaker", "size", "found"),
    [
        ("30 A 2-pole", "4", 0),
        ("30 A 2-pole", "3", 2),
        ("60 A 2-pole", "2", 0),
        ("60 A 2-pole", "1", 2),
        ("100 A 2-pole", "2/0", 0),
        ("100 A 2-pole", "3/0", 2),
        ("60 A 2-pole gfci", "4", 2),  # the lugs of those that watch are small ones
    ],
)
def test_a_larger_breaker_has_larger_lugs(breaker: str, size: str, found: int) -> None:
    text = f"""board "A feeder on its breaker"
panel LP 120/240 V, 10 kA available
breaker LP.2 {breaker}
box A device 42 cu in
cable FD {size}/3 SER aluminum 25 ft from LP to A
at LP
  FD.black -- LP.2.a
  FD.red -- LP.2.b
  FD.white -- LP.neutral
  FD.bare -- LP.ground
"""
    assert len([one for one in seen(RULE, text) if one.terminal.owner == "LP.2"]) == found
