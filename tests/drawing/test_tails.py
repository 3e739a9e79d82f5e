"""Pigtails and jumpers have the color of what they carry, as the circuit tells where their copper leads."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.drawing.test_wiring import BOARDS, of_text
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.uses import uses
from wirecheck.drawing.colors import UNTOLD
from wirecheck.drawing.picture import draw, sheet
from wirecheck.model.colors import GROUND_COLORS, HOT_COLORS, NEUTRAL_COLORS

RIGHT = [path for path in BOARDS if path.stem == "right"]
MAY_BE = {
    "hot": HOT_COLORS,
    "switched": HOT_COLORS,
    "neutral": NEUTRAL_COLORS,
    "ground": GROUND_COLORS,
    # The wires of a thermostat have colors of their own, and green is the fan's.
    "class-2": (*HOT_COLORS, *NEUTRAL_COLORS, "green", UNTOLD),
}
ELSE = (*HOT_COLORS, UNTOLD)


def tails(text: str) -> dict[str, str]:
    """The color of each tail, by the screws that it is on."""
    drawn = [line for line in sheet(of_text(text)).lines if line.kind.startswith(("jumper ", "pigtail "))]
    return {
        " ".join(sorted(word for word in line.title.split() if "." in word)): line.kind.split()[-1]
        for line in drawn
    }


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * bool(n % 40)) for n, path in enumerate(RIGHT)],
    ids=[path.parent.name for path in RIGHT],
)
def test_no_tail_has_the_color_of_what_it_does_not_carry(path: Path) -> None:
    text = path.read_text("utf-8")
    used = uses(circuit(of_text(text)))
    for screws, color in tails(text).items():
        for screw in screws.split():
            use = used.of(screw)
            assert color in MAY_BE.get(use, ELSE), (screws, use, color)


CONTROL = """board "Control"
panel LP 120/240 V
breaker LP.1 15 A
breaker LP.2 20 A 2-pole
box E junction 400 cu in metal
cable W1 14/2 NM-B 10 ft from LP to E
cable W2 12/2 NM-B 10 ft from LP to E
C is line-contactor 30 A in E
V is solenoid-valve 120 V in E
S is solenoid-valve 120 V in E
CP is capacitor-start-compressor in E
CR is current-relay in E
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W2.black -- LP.2.a
  W2.white marked red -- LP.2.b
at E
  W1.black -- V.a -- S.a
  W1.white -- V.b -- S.b -- pigtail -- CR.L
  W2.black -- C.line-1
  W2.white marked red -- pigtail -- C.line-2 -- pigtail -- C.coil-b
  C.load-1 -- CP.C
  CR.S -- CP.S
  E.ground -- V.ground
"""


def test_a_tail_has_the_color_of_the_wire_that_it_goes_on_from() -> None:
    found = tails(CONTROL)
    assert found["V.a"] == found["S.a"] == "black"
    assert found["V.b"] == found["S.b"] == found["CR.L"] == "white"
    assert found["C.line-2"] == found["C.coil-b"] == "red"


def test_a_tail_without_a_wire_has_that_of_its_screws_or_of_where_its_copper_leads() -> None:
    found = tails(CONTROL)
    assert found["C.load-1 CP.C"] == "black"
    assert found["E.ground V.ground"] == "green"


def test_where_nothing_tells_a_tail_has_a_color_that_no_insulation_has() -> None:
    assert tails(CONTROL)["CP.S CR.S"] == UNTOLD


GROUNDED = """board "A secondary that is grounded, and a coil on pigtails"
panel SP 480Y/277 V
breaker SP.1 15 A 2-pole
box E junction 400 cu in metal
cable W1 14/2 MC 10 ft from SP to E
K is contactor-3-pole 30 A with coil 120 V in E
T is control-transformer 100 VA with primary 480 V in E
F is fuse 1 A in E
at SP
  W1.black -- SP.1.a
  W1.white marked red -- SP.1.b
  W1.green -- SP.ground
at E
  W1.black -- T.H1
  W1.white marked red -- T.H2
  W1.green -- E.ground
  T.ground -- pigtail -- E.ground
  T.X2 -- pigtail -- E.ground
  T.X1 -- pigtail -- F.line
  F.load -- pigtail -- K.A1
  K.A2 -- pigtail -- T.X2
"""


def test_the_return_to_a_grounded_secondary_is_white_and_its_bond_green() -> None:
    found = tails(GROUNDED)
    assert found["K.A2 T.X2"] == "white"
    assert found["E.ground T.X2"] == "green"


def test_a_return_by_way_of_the_grounds_is_told_apart_from_one_to_a_grounded_secondary() -> None:
    for screw, astray in (("T.X2", False), ("E.ground", True)):
        board = of_text(GROUNDED.replace("K.A2 -- pigtail -- T.X2", f"K.A2 -- pigtail -- {screw}"))
        assert ("returns on the" in draw(board, kind="ladder")) == astray, screw
