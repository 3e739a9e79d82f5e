"""Raceway fill against the counts of NEC Annex C."""

import math
from itertools import pairwise

import pytest

from wirecheck.tables.code import edition
from wirecheck.tables.published import NotInTable
from wirecheck.tables.raceways import SQUARE_INCH, conductor_area, raceway_area, raceway_fill
from wirecheck.tables.sizes import area

NEC = edition(2023)

INCH = 0.0254

# NEC Annex C, Tables C.1 (EMT) and C.11 (PVC schedule 40): most THHN conductors of one size (from memory).
ANNEX_C = {
    ("EMT", 0.5): {"14": 12, "12": 9, "10": 5, "8": 3},
    ("EMT", 0.75): {"14": 22, "12": 16, "10": 10, "8": 6},
    ("EMT", 1.0): {"14": 35, "12": 26, "10": 16, "8": 9},
    ("PVC", 0.5): {"14": 11, "12": 8, "10": 5, "8": 3},
    ("PVC", 0.75): {"14": 21, "12": 15, "10": 9, "8": 5},
    ("PVC", 1.0): {"14": 34, "12": 25, "10": 15, "8": 9},
}

# NEC Chapter 9 Table 4: internal diameters in inches.
DIAMETERS = {
    ("EMT", 0.5): 0.622,
    ("EMT", 0.75): 0.824,
    ("EMT", 1): 1.049,
    ("EMT", 1.25): 1.380,
    ("EMT", 1.5): 1.610,
    ("EMT", 2): 2.067,
    ("FMC", 0.5): 0.635,
    ("FMC", 0.75): 0.824,
    ("FMC", 1): 1.020,
    ("FMC", 2): 2.040,
    ("LFNC", 0.5): 0.632,
    ("LFNC", 0.75): 0.830,
    ("LFNC", 1): 1.054,
    ("LFNC", 2): 2.033,
    ("IMC", 0.5): 0.660,
    ("IMC", 1): 1.105,
    ("RMC", 0.75): 0.836,
    ("RMC", 2): 2.083,
    ("ENT", 0.5): 0.560,
    ("PVC", 0.5): 0.602,
    ("PVC", 0.75): 0.804,
    ("PVC", 1): 1.029,
    ("PVC-80", 0.5): 0.526,
}


@pytest.mark.parametrize(("raceway", "counts"), ANNEX_C.items())
def test_counts_of_annex_c(raceway: tuple[str, float], counts: dict[str, int]) -> None:
    kind, inches = raceway
    for wire, most in counts.items():
        full = raceway_fill(kind, inches * INCH, [("THHN", wire)] * most, code=NEC)
        assert full.area <= full.allowed * (1 + 1e-9)
        over = raceway_fill(kind, inches * INCH, [("THHN", wire)] * (most + 1), code=NEC)
        assert over.area > over.allowed * (1 + 1e-9)


@pytest.mark.parametrize(("key", "diameter"), DIAMETERS.items())
def test_areas_are_those_of_the_internal_diameters(key: tuple[str, float], diameter: float) -> None:
    kind, inches = key
    assert raceway_area(kind, inches * INCH, code=NEC) / SQUARE_INCH == pytest.approx(
        math.pi / 4 * diameter**2, abs=0.0016
    )


def test_areas_run_upwards() -> None:
    for column in ("thhn", "xhhw", "thw", "bare"):
        values = [float(row[column]) for row in NEC.rows("conductor_areas") if row[column]]
        assert all(low < high for low, high in pairwise(values))


def test_insulation_takes_room() -> None:
    for row in NEC.rows("conductor_areas"):
        for column in ("thhn", "xhhw", "thw"):
            if row[column]:
                assert float(row[column]) * SQUARE_INCH > 1.2 * area(row["size"])
        if len(row["bare"]) > 4 and float(row["bare"]) > 0.01:
            assert float(row["bare"]) * SQUARE_INCH == pytest.approx(area(row["size"]) * 4 / 3, rel=0.08)


def test_fill_limits_by_number() -> None:
    """NEC Chapter 9 Table 1: 53 % for one, 31 % for two, 40 % for more; 60 % in a nipple (note 4)."""
    limits = [raceway_fill("EMT", INCH, [("THHN", "10")] * count, code=NEC).limit for count in (1, 2, 3, 9)]
    assert limits == [0.53, 0.31, 0.40, 0.40]
    assert raceway_fill("EMT", INCH, [("THHN", "10")] * 9, nipple=True, code=NEC).limit == 0.60


def test_mixed_conductors_are_added() -> None:
    """By hand: three 10 THHN and a bare 10 in 1/2 in LFNC: 3 x 0.0211 + 0.011 = 0.0743 of 0.1256 sq in."""
    fill = raceway_fill("LFNC", INCH / 2, [("THHN", "10")] * 3 + [("bare", "10")], code=NEC)
    assert fill.area / SQUARE_INCH == pytest.approx(0.0743)
    assert fill.allowed / SQUARE_INCH == pytest.approx(0.1256)


def test_what_the_tables_do_not_have_is_refused() -> None:
    with pytest.raises(NotInTable, match="3/4"):
        raceway_area("EMT", 0.9 * INCH, code=NEC)
    with pytest.raises(NotInTable, match="EMT"):
        raceway_area("hose", INCH, code=NEC)
    with pytest.raises(NotInTable):
        conductor_area("THHN", "2.5 mm2", code=NEC)
    with pytest.raises(NotInTable):
        conductor_area("NM-B", "12", code=NEC)
