"""How full a raceway is; NEC 2023 Chapter 9 Tables 1, 4 and 5."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, seen
from wirecheck.rules.raceway_fill import RULE, Overfilled, UnknownFill


def conduit(raceway: str, *wires: str) -> str:
    """A raceway with wires in it."""
    laid = "".join(f"wire H{i} {wire} 30 ft from LP to A in R1\n" for i, wire in enumerate(wires))
    return (
        'board "Conduit"\npanel LP 120/240 V\nbox A square 30.3 cu in\n'
        f"raceway R1 {raceway} from LP to A\n{laid}"
    )


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# NEC Informative Annex C Table C.1 (from memory): 1/2 in EMT holds twelve 14 THHN, nine 12, five 10.
@pytest.mark.parametrize(("size", "most"), [("14", 12), ("12", 9), ("10", 5)])
def test_the_handbooks_count(size: str, most: int) -> None:
    assert not seen(RULE, conduit("EMT 1/2 in 30 ft", *[f"{size} THHN black"] * most))
    (found,) = seen(RULE, conduit("EMT 1/2 in 30 ft", *[f"{size} THHN black"] * (most + 1)))
    assert type(found) is Overfilled
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "R1")
    assert len(found.runs) == most + 1
    assert found.fill.limit == pytest.approx(0.4)


def test_the_exact_fill_passes() -> None:
    """Of 1/2 in EMT, 0.304 sq in, 40 % are 0.1216 sq in; wires of two sizes are not rounded up (note 7)."""
    mixed = ["14 THHN black"] * 9 + ["12 THHN black"] * 2
    # 9 x 0.0097 + 2 x 0.0133 = 0.1139 sq in of 0.1216.
    assert not seen(RULE, conduit("EMT 1/2 in 30 ft", *mixed))
    assert seen(RULE, conduit("EMT 1/2 in 30 ft", *mixed, "14 THHN black"))


# Note 4: a nipple of up to 24 in may be filled to 60 %; ten 12 THHN are 43.8 % of 1/2 in EMT.
@pytest.mark.parametrize(
    ("length", "over"),
    [("24 in", False), ("2 ft", False), ("24.03 in", False), ("24-1/16 in", True), ("30 ft", True)],
)
def test_a_nipple_may_be_fuller(length: str, over: bool) -> None:
    assert bool(seen(RULE, conduit(f"EMT 1/2 in {length}", *["12 THHN black"] * 10))) is over


def test_a_bare_wire_counts_as_bare() -> None:
    """Table 8: 10 AWG bare is 0.011 sq in (stranded), with THHN 0.0211; three THHN and one fill 1/2 in."""
    wires = ["8 THHN black"] * 3
    assert not seen(RULE, conduit("EMT 1/2 in 30 ft", *wires, "10 THHN bare"))
    assert seen(RULE, conduit("EMT 1/2 in 30 ft", *wires, "10 THHN green"))


def test_cables_and_empty_raceways_are_not_counted() -> None:
    assert not seen(RULE, conduit("EMT 1/2 in 30 ft"))
    assert not seen(RULE, conduit("EMT 16 mm 30 ft"))
    cable = "cable W1 6/3 NM-B 30 ft from LP to A in R1\n"
    assert not seen(RULE, conduit("EMT 1/2 in 30 ft") + cable)
    assert not seen(RULE, conduit("EMT 1/2 in 30 ft", *["10 THHN black"] * 6) + cable)


@pytest.mark.parametrize(
    ("raceway", "wire", "missing"),
    [
        ("LFNC 3 in 30 ft", "14 THHN black", None),
        ("EMT 16 mm 30 ft", "14 THHN black", None),
        ("EMT 1/2 in 30 ft", "14 RHW black", "H1"),
    ],
)
def test_what_no_table_has_is_said_and_not_guessed(raceway: str, wire: str, missing: str | None) -> None:
    (found,) = seen(RULE, conduit(raceway, "14 THHN black", wire))
    assert type(found) is UnknownFill
    assert (found.severity, found.stage, found.subject) == ("advice", "rough-in", "R1")
    assert (found.conductor.name if found.conductor else None) == missing


def test_one_raceway_that_no_table_has_does_not_hide_the_next() -> None:
    text = conduit("EMT 16 mm 30 ft", "14 THHN black").replace(
        "wire H0", "raceway R2 EMT 1/2 in 30 ft from LP to A\nwire H0"
    )
    text += "".join(f"wire G{i} 10 THHN black 30 ft from LP to A in R2\n" for i in range(6))
    assert [one.subject for one in seen(RULE, text)] == ["R1", "R2"]
