"""Which neutrals are shared by what, and what opens together."""

from __future__ import annotations

import pytest

from tests.rules.hands import case
from tests.rules.test_multiwire_circuit import board, multiwire
from wirecheck.judge.multiwire import between, open_together, returning, sharing

FUSED = """\
board "Breakers and fuses"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A
breaker LP.3 20 A
breaker LP.5 20 A 2-pole
box A junction 42 cu in
X is twin
Y is pair
Z is pair-with-handle
V is pair-with-float
"""
TWIN = """\
part twin "Two fuses that open together"
terminal a contact
terminal b contact
terminal c contact
terminal d contact
protects a to b, c to d at 15 A, fuse
"""
PAIR = """\
part pair "Two fuses"
terminal a contact
terminal b contact
terminal c contact
terminal d contact
one is fuse with current 15 A
other is fuse with current 15 A
a -- one.line
one.load -- b
c -- other.line
other.load -- d
"""
HANDLE = PAIR.replace("part pair", "part pair-with-handle") + "positions on, off\n"
FLOAT = PAIR.replace("part pair", "part pair-with-float") + "positions up, down\nmoved by water\n"


@pytest.mark.parametrize(
    ("one", "other", "together"),
    [
        ("LP.1", "LP.1", True),
        ("LP.1", "LP.3", False),
        ("LP.5", "LP.5", True),
        ("LP.1", "Y.one", False),
        ("Y.one", "LP.1", False),
        ("X", "X", True),
        ("Y.one", "Y.one", True),
        ("Y.one", "Y.other", False),
        ("Y.one", "Z.one", False),
        ("Z.one", "Z.other", True),
        ("V.one", "V.other", False),
    ],
)
def test_what_opens_together(one: str, other: str, together: bool) -> None:
    parts = {"twin": TWIN, "pair": PAIR, "pair-with-handle": HANDLE, "pair-with-float": FLOAT}
    made = case(FUSED, **parts)
    named = {protection.name: protection for protection in made.circuit.protections}
    assert open_together(made, named[one], named[other]) is together


def test_what_a_neutral_brings_back() -> None:
    told = returning(case(multiwire("leg a", "leg b")))
    assert [(one.conductor.name, [zone.protection.name for zone in one.zones]) for one in told] == [
        ("W1.white", ["LP.1", "LP.3"])
    ]


@pytest.mark.parametrize(
    ("name", "neutrals", "in_one_cable", "joined"),
    [
        ("one-cable", ["W1.white", "W2.white"], True, False),
        # The hots lie in a raceway and then in a cable, and so do their neutrals.
        ("one-leg-through-device", ["N1", "W2.white"], True, False),
        ("fuses", ["W1.white", "W2.white"], True, False),
        ("two-feeds", ["W1.white", "W3.white"], True, True),
    ],
)
def test_two_hots_and_their_neutrals(
    name: str, neutrals: list[str], in_one_cable: bool, joined: bool
) -> None:
    (one,) = sharing(case(board(name)))
    assert [neutral.name for neutral in one.neutrals] == neutrals
    assert (one.in_one_cable, one.joined) == (in_one_cable, joined)


def test_what_is_between_two_fuses_is_not_between_two_breakers() -> None:
    """240.15(B)(2) is about breakers; a fuse opens by itself (240.15(A))."""
    text = board("fuses").replace(
        "H1 is baseboard-heater 1200 W 120 V", "H1 is baseboard-heater 1200 W 240 V"
    )
    text = text.replace("-- H1.L2 -- pigtail --", "--").replace("W2.red -- H2.L1", "W2.red -- H2.L1 -- H1.L2")
    made = case(text)
    assert {
        zone.protection.name for zone in made.zones if "H1.element" in {load.name for load in zone.loads}
    } == {"F1", "F2"}
    assert between(made) == ()


THREE = """board "Three tied handles"
panel LP 208Y/120 V, 10 kA available
breaker LP.1 20 A{first}
breaker LP.3 20 A{second}
breaker LP.5 20 A{third}
"""


@pytest.mark.parametrize(
    ("first", "second", "third", "together"),
    [
        ("", " tied to LP.1", " tied to LP.3", {"13", "15", "35"}),
        (" tied to LP.3", " tied to LP.5", "", {"13", "15", "35"}),
        (" tied to LP.3", "", " tied to LP.3", {"13", "15", "35"}),
        ("", " tied to LP.1", "", {"13"}),
        ("", "", "", set()),
    ],
)
def test_handles_that_are_tied_each_to_the_next_open_together(
    first: str, second: str, third: str, together: set[str]
) -> None:
    board = case(THREE.format(first=first, second=second, third=third))
    by_name = {one.name: one for one in board.circuit.protections}
    pairs = ((a, b) for a, b in ("13", "15", "35"))
    assert {
        a + b for a, b in pairs if open_together(board, by_name[f"LP.{a}"], by_name[f"LP.{b}"])
    } == together
