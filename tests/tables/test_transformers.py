"""Transformers against NEC Table 450.3(B) and Chapter 9 Table 11(A), by hand."""

import pytest

from wirecheck.tables.code import edition
from wirecheck.tables.published import NotInTable
from wirecheck.tables.transformers import class_2_limit, primary_protection, secondary_protection

NEC = edition(2023)


def test_primary_only() -> None:
    # 40 VA at 120 V: 0.333 A, below 2 A, 300 %: 1.0 A.
    assert primary_protection(40 / 120, code=NEC) == pytest.approx(1.0)
    # 500 VA at 120 V: 4.17 A, below 9 A, 167 %: 6.96 A.
    assert primary_protection(500 / 120, code=NEC) == pytest.approx(6.958, abs=0.001)
    # 1 kVA at 480 V is 2.08 A: 167 %; just below 2 A: 300 %.
    assert primary_protection(1000 / 480, code=NEC) == pytest.approx(3.479, abs=0.001)
    assert primary_protection(1.99, code=NEC) == pytest.approx(5.97)
    # 3 kVA at 240 V: 12.5 A, 125 %: 15.6 A, next standard 20 A (note 1).
    assert primary_protection(12.5, code=NEC) == 20
    # 12 A: 125 % is 15 A, itself standard.
    assert primary_protection(12, code=NEC) == 15
    assert primary_protection(0, code=NEC) == 0


def test_with_protection_at_the_secondary_the_primary_may_have_more() -> None:
    """Table 450.3(B): 250 %, rounded down; under 2 A 300 % without it is more."""
    assert primary_protection(5, True, code=NEC) == 12.5
    assert primary_protection(20, True, code=NEC) == 50
    assert primary_protection(1, True, code=NEC) == 3


def test_secondary() -> None:
    assert secondary_protection(40 / 24, code=NEC) == pytest.approx(2.783, abs=0.001)
    assert secondary_protection(20, code=NEC) == 25


def test_class_2() -> None:
    """NEC Chapter 9 Table 11(A); the trade's 4.2 A at 24 V is 100 / 24."""
    limited, protected = class_2_limit(24, code=NEC), class_2_limit(24, inherent=False, code=NEC)
    assert (limited.nameplate_va, limited.overcurrent) == (100, None)
    assert protected.overcurrent == pytest.approx(100 / 24)
    assert protected.nameplate_va == 100
    assert class_2_limit(16, code=NEC).nameplate_va == 80
    for volts in (31, 120, 0, -24):
        with pytest.raises(NotInTable):
            class_2_limit(volts, code=NEC)
