"""What must stay dry, in a wet place; NEC 2023 300.9, 310.10(C), 334.12(B)(4), 348.12(1), 410.10(A)."""

from __future__ import annotations

import pytest

from tests.rules.circuits import outdoor_unit
from tests.rules.hands import COOLING, LOOP, STAIR, case, seen
from wirecheck.judge.wet import wet_run
from wirecheck.rules.wet_place import RULE, DryLight, DryRaceway, DryRun


def laid(box: str, *runs: str, raceway: str = "PVC 1 in", ends: str = "from LP to A") -> str:
    """Runs to a box, and a raceway."""
    return (
        'board "A box and what comes to it"\npanel LP 120/240 V\n'
        f"box A {box}\nbox B square 30.3 cu in\nraceway R1 {raceway} 30 ft {ends}\n" + "\n".join(runs) + "\n"
    )


def cable(kind: str, where: str = "from LP to A in R1") -> str:
    return f"cable W1 12/2 {kind} 30 ft {where}"


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# By the column of Table 310.4(1), and by each cable's own article.
@pytest.mark.parametrize(
    ("kind", "section"),
    [
        ("NM-B", "NEC 2023 334.12(B)(4)"),
        ("AC", "NEC 2023 320.12(2)"),
        ("UF-B", None),
        ("SER", None),
        ("MC", None),
        ("CL2", None),
    ],
)
@pytest.mark.parametrize(
    "where", ["from LP to A in R1", "from LP to A", "from A to LP", "from LP to B in R1"]
)
def test_cables(kind: str, section: str | None, where: str) -> None:
    found = seen(RULE, laid("square 30.3 cu in wet", cable(kind, where)))
    assert len(found) == (section is not None)
    for one in found:
        assert type(one) is DryRun
        assert (one.severity, one.stage, one.subject, one.place) == ("violation", "rough-in", "W1", "A")
        assert (one.section, one.others, one.at.span.line) == (section, (), 6)
        assert (one.raceway.name if one.raceway else None) == ("R1" if "R1" in where else None)


@pytest.mark.parametrize(
    ("box", "where"),
    [
        ("square 30.3 cu in", "from LP to A in R1"),
        ("square 30.3 cu in wet", "from LP to B"),
        ("square 30.3 cu in wet", "from B to B"),
    ],
)
def test_what_lies_dry_is_right(box: str, where: str) -> None:
    assert not seen(RULE, laid(box, cable("NM-B", where)))


@pytest.mark.parametrize(
    ("kind", "found"),
    [("THHN", 1), ("RHH", 1), ("THWN", 0), ("THWN-2", 0), ("XHHW", 0), ("THHW", 0), ("ETFE", 0)],
)
def test_wires(kind: str, found: int) -> None:
    wires = [f"wire {name} 12 {kind} {name} 30 ft from LP to A in R1" for name in ("black", "white", "green")]
    told = seen(RULE, laid("square 30.3 cu in wet", *wires))
    assert len(told) == found
    for one in told:
        assert isinstance(one, DryRun) and one.raceway is not None
        assert (one.subject, one.section, one.raceway.name) == ("black", "NEC 2023 310.10(C)", "R1")
        assert [other.name for other in one.others] == ["white", "green"]


def test_wires_of_two_kinds_are_two_matters() -> None:
    wires = [f"wire {kind} 12 {kind} black 30 ft from LP to A in R1" for kind in ("THHN", "RHH", "THWN")]
    assert [one.subject for one in seen(RULE, laid("square 30.3 cu in wet", *wires))] == ["THHN", "RHH"]


def test_a_wire_in_no_raceway_is_told_elsewhere() -> None:
    assert not seen(RULE, laid("square 30.3 cu in wet", "wire H 12 THHN black 30 ft from LP to A"))


@pytest.mark.parametrize(
    ("box", "raceway", "ends", "found"),
    [
        ("square 30.3 cu in wet", "FMC 1/2 in", "from LP to A", 1),
        ("square 30.3 cu in wet", "FMC 1/2 in", "from A to LP", 1),
        ("square 30.3 cu in", "FMC 1/2 in", "from LP to A", 0),
        ("square 30.3 cu in wet", "FMC 1/2 in", "from LP to B", 0),
        ("square 30.3 cu in wet", "LFMC 1/2 in", "from LP to A", 0),
        ("square 30.3 cu in wet", "EMT 1/2 in", "from LP to A", 0),
    ],
)
def test_raceways(box: str, raceway: str, ends: str, found: int) -> None:
    told = seen(RULE, laid(box, raceway=raceway, ends=ends))
    assert len(told) == found
    for one in told:
        assert isinstance(one, DryRaceway)
        assert (one.severity, one.stage, one.subject) == ("violation", "rough-in", "R1")
        assert (one.place, one.section, one.at.span.line) == ("A", "NEC 2023 348.12(1)", 5)


@pytest.mark.parametrize(("kind", "found"), [("10/2 NM-B", 1), ("10/2 UF-B", 0)])
def test_a_part_that_stands_outdoors_makes_its_place_wet(kind: str, found: int) -> None:
    told = seen(RULE, outdoor_unit(25, kind, mca=21.4))
    assert [getattr(one, "place", None) for one in told] == ["CU"] * found


@pytest.mark.parametrize(
    ("box", "label", "found"),
    [
        # Who says nothing of the mark may not have looked; a mark that is said is one.
        ("octagon 21 cu in wet", "", ["advice"]),
        ("octagon 21 cu in wet", ", label damp-rated", ["violation"]),
        ("octagon 21 cu in wet", ", label wet-rated", []),
        ("octagon 21 cu in", "", []),
        ("octagon 21 cu in", ", label damp-rated", []),
    ],
)
def test_a_light_in_a_wet_box_is_marked_for_it(box: str, label: str, found: list[str]) -> None:
    """NEC 2023 410.10(A)."""
    told = seen(RULE, laid(box, f"L1 is lampholder with power 60 W{label} in A"))
    assert [(type(one), one.subject, one.severity) for one in told] == [
        (DryLight, "L1", how) for how in found
    ]


def test_where_nothing_is_wet_no_run_is() -> None:
    assert wet_run(case(STAIR), "W1") is None
