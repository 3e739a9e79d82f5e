"""Supports and make-up lengths against the trade's common rules."""

import pytest

from wirecheck.tables.code import edition
from wirecheck.tables.supports import FOOT, INCH, support

NEC = edition(2023)


def test_nonmetallic_cable() -> None:
    """NEC 334.30: every 4-1/2 ft, within 12 in; 314.17: 8 in at a nonmetallic box without clamps."""
    found = support("NM-B", code=NEC)
    assert found is not None
    assert found.every == pytest.approx(4.5 * FOOT)
    assert found.within == pytest.approx(12 * INCH)
    assert found.nonmetallic_box == pytest.approx(8 * INCH)
    assert found.source == "NEC 2023 334.30"


def test_raceways() -> None:
    """NEC 358.30, 352.30, 356.30."""
    assert support("EMT", code=NEC).every == pytest.approx(10 * FOOT)
    assert support("emt", code=NEC).within == pytest.approx(3 * FOOT)
    assert support("PVC", 1.25 * INCH, code=NEC).every == pytest.approx(5 * FOOT)
    assert support("PVC", code=NEC).every == pytest.approx(3 * FOOT)
    assert support("LFNC", code=NEC).every == pytest.approx(3 * FOOT)
    assert support("EMT", code=NEC).nonmetallic_box is None
    assert support("CL2", code=NEC) is None


def test_make_up() -> None:
    """NEC 300.14 and 314.17."""
    assert NEC.limit("free conductor") == pytest.approx(6 * INCH)
    assert NEC.limit("free conductor outside the opening") == pytest.approx(3 * INCH)
    assert NEC.limit("small opening") == pytest.approx(8 * INCH)
    assert NEC.limit("jacket in the box") == pytest.approx(0.25 * INCH)
    assert NEC.section("free conductor", "jacket in the box") == "NEC 2023 300.14, 314.17(B)(2), 334.19"
