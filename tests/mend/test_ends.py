"""A wire that stays in one place has two ends there: a mend moves the one that is wrong, and says which."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.mend.proof import EFFORT, worse
from tests.rules.hands import case, changed
from wirecheck import check, files
from wirecheck.language.reader import read
from wirecheck.mend.bench import items
from wirecheck.mend.edits import Cap, Exchange, Move, edited
from wirecheck.mend.sheet import sheet

BOARDS = Path(__file__).parent / "boards"


def board(name: str) -> str:
    """A right board, whose control wires stay in one place."""
    return (BOARDS / f"{name}.wire").read_text("utf-8")


SWITCHES = board("two-switches-in-one-box")
FAN = board("exhaust-fan")
FREEZER = board("freezer-with-a-defrost-clock")
STARTER, TRANSFORMER = (
    (files.folder("boards") / name / "right.wire").read_text("utf-8")
    for name in ("motor-starter", "motor-control-transformer")
)


def test_each_end_has_its_own_name_and_its_own_company() -> None:
    here = items(case(SWITCHES))["A"]
    assert (here["J"].company, here["J'"].company) == (("S1.load",), ("S2.line",))
    assert (here["J"].other, here["J'"].other, here["J"].wire) == ("J'", "J", "J")
    assert here["S1.load"].company == ("J",)
    assert here["W1.black"].other == ""


def test_an_edit_is_of_one_end_and_the_line_names_the_wire() -> None:
    now = sheet(read(SWITCHES))
    assert [members for _, _, members in now.joins("A")][1:3] == [
        (("J", None), ("S1.load", None)),
        (("J'", None), ("S2.line", None)),
    ]
    for edit, was, then in (
        (Move("A", "J'", "S2.load"), "  J -- S2.line\n  W2.black -- S2.load", "  W2.black -- J -- S2.load"),
        (Exchange("A", "J'", "W2.black"), "  J -- S2.line\n  W2.black", "  W2.black -- S2.line\n  J"),
    ):
        made = edited(now, edit)
        assert made is not None
        assert made.text() == changed(SWITCHES, (was, then))
    capped = edited(now, Cap("A", "J'"))
    assert capped is not None
    assert "cap J\n" in capped.text()
    assert [name for _, name in capped.caps("A")] == ["J'"]


# What was done, what is told of it, and what to do.
TOLD = {
    "in a ground's place": (
        changed(
            SWITCHES, ("  J -- S1.load\n", "  J -- S1.ground\n"), ("  G1 -- S1.ground\n", "  G1 -- S1.load\n")
        ),
        "At A, the end of J at S1.ground and the end of G1 at S1.load are swapped.",
        "The end of J at S1.ground goes on S1.load, and the end of G1 at S1.load on S1.ground.",
    ),
    "capped": (
        changed(SWITCHES, ("  J -- S1.load\n", "  cap J\n")),
        "At A, the free end of J is capped, and belongs on S1.load.",
        "Take the cap off. Put it on S1.load.",
    ),
    "on a ground screw": (
        changed(SWITCHES, ("  J -- S2.line\n", "  J -- S2.ground\n"), ("  G2 -- S2.ground\n", "  cap G2\n")),
        "At A, J is on S2.ground, where the free end of G2 belongs, and the free end of G2 is capped. J "
        "belongs on S2.line.",
        "Take the cap off. Take J off S2.ground, and put the free end of G2 there. Then put J on S2.line.",
    ),
    "past a switch, with the feed under its screw": (
        changed(SWITCHES, ("  J -- S1.load\n", "  J -- S1.line\n")),
        "At A, J is on S1.line, and belongs on S1.load.",
        "Take it out, and put it on S1.load.",
    ),
    "the ground on the side of the buttons": (
        changed(FAN, ("  X1 -- T.X1\n", "  X1 -- XG -- T.X1\n"), ("  X2 -- XG -- T.X2\n", "  X2 -- T.X2\n")),
        "At MP, XG is on T.X1 with X1, and belongs on T.X2 with X2.",
        "Take it out, and put it on T.X2 with X2.",
    ),
    "a line of the transformer on the other line": (
        changed(FAN, ("  P1 -- F1.line\n", ""), ("  P4 -- T.H2\n", "  P1 -- P4 -- T.H2\n")),
        "At MP, P1 is on T.H2 with P4, and belongs on F1.line.",
        "Take it out, and put it on F1.line.",
    ),
    "the heater's wire on the fan's thermostat": (
        changed(
            FREEZER,
            ("  E3 -- H1 -- pigtail 12 -- TT.common\n", "  M3 -- FD.common\n  E3 -- H1\n  M3 -- TT.common\n"),
            ("wire MG", "wire M3 12 THHN black 1 ft from EV to EV\nwire MG"),
        ),
        "At EV, M3 is on FD.common, and belongs with E3 and H1.",
        "Take it out, and splice it with E3 and H1.",
    ),
    "the same, with no line that says what it should do": (
        changed(
            FREEZER,
            ("  E3 -- H1 -- pigtail 12 -- TT.common\n", "  M3 -- FD.common\n  E3 -- H1\n  M3 -- TT.common\n"),
            ("wire MG", "wire M3 12 THHN black 1 ft from EV to EV\nwire MG"),
            ("expect cool runs LLS, COMP, EF\n", ""),
            ("expect end of cool stops LLS, then COMP\n", ""),
            ("expect defrost runs HT\n", ""),
            ("expect defrost stops EF\n", ""),
        ),
        "At EV, M3 is on FD.common, and belongs with E3 and H1.",
        "Take it out, and splice it with E3 and H1.",
    ),
    "on the coil's other side": (
        changed(STARTER, ("  K3 -- C.A1\n", ""), ("  C.A2 -- OL.95\n", "  K3 -- C.A2 -- OL.95\n")),
        "At E, K3 is on C.A2 and OL.95, and belongs on C.A1.",
        "Take it out, and put it on C.A1.",
    ),
    "off a fuse": (
        changed(TRANSFORMER, ("  K2 -- F2.line\n", ""), ("  C.T3 -- OL.L3\n", "  K2 -- C.T3 -- OL.L3\n")),
        "At E, K2 is on C.T3 and OL.L3, and belongs on F2.line.",
        "Take it out, and put it on F2.line.",
    ),
}
QUICK = 4


@pytest.mark.parametrize(
    ("text", "mistake", "remedy"),
    [
        pytest.param(*told, id=name, marks=[pytest.mark.slow] * (number >= QUICK))
        for number, (name, told) in enumerate(TOLD.items())
    ],
)
def test_the_first_mend_is_of_the_end_that_was_wrong(text: str, mistake: str, remedy: str) -> None:
    report = check(text, effort=EFFORT)
    assert (report.mends[0].mistake, report.mends[0].remedy) == (mistake, remedy)
    assert not worse(check(report.mended(1)))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("text", "mistakes"),
    [
        (
            changed(FAN, ("  X4 -- OL.95\n", "  X4 -- OL.96\n")),
            ["At MP, X4 is on OL.96, and belongs on OL.95.", "At MP, X2 is on OL.96, and belongs on OL.95."],
        ),
        (
            changed(FREEZER, ("  N4 -- LPC.b\n", "  N4 -- LPC.a\n")),
            ["At CB, N3 is on LPC.a, and belongs on LPC.b.", "At CB, N4 is on LPC.a, and belongs on LPC.b."],
        ),
    ],
    ids=["overload", "pressure control"],
)
def test_of_two_wires_on_one_side_of_a_contact_either_belongs_on_the_other(
    text: str, mistakes: list[str]
) -> None:
    report = check(text, effort=EFFORT)
    assert [one.mistake for one in report.mends] == mistakes
    assert not any(worse(check(report.mended(number))) for number in (1, 2))


@pytest.mark.slow
def test_what_is_crowded_by_a_wire_that_does_nothing_there_has_no_mend_of_its_own() -> None:
    """On the next line's screw it would be no better."""
    text = changed(
        TRANSFORMER, ("  C3 -- K3 -- C.14\n", "  C3 -- C.14\n"), ("M2 -- OL.T2", "M2 -- K3 -- OL.T2")
    )
    assert all("OL.T3" not in one.mistake for one in check(text, effort=EFFORT).mends)
