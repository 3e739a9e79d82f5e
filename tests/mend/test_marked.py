"""On boards that were made wrong on purpose no mend fails, and most are cleared by what is offered."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.mend.marked import by_hand, offered, ships
from tests.mend.proof import EFFORT, worse
from tests.mend.unmended import UNMENDED
from wirecheck import check, files

SHIPS = files.folder("boards")

SAMPLES = [
    pytest.param(paths[at::24], least, id=f"{name} {at}")
    for name, paths, least in (("by hand", by_hand(), 0.4), ("ships", ships(), 0.7))
    for at in (0, 8, 16)
]


@pytest.mark.slow
@pytest.mark.parametrize(("paths", "least"), SAMPLES)
def test_no_mend_fails_and_most_boards_are_cleared(paths: list[Path], least: float) -> None:
    counts: Counter[str] = Counter()
    for path in paths:
        told = offered(path)
        assert not told["mends that fail"], path
        counts.update(told)
    assert counts["cleared"] >= least * counts["boards"]


@pytest.mark.slow
def test_a_board_leaves_the_list_of_those_without_a_mend_when_it_has_one() -> None:
    """Each reason there is of the search as it is."""
    assert set(UNMENDED) <= {str(path.relative_to(SHIPS).with_suffix("")) for path in SHIPS.rglob("*.wire")}
    for name in UNMENDED:
        found = worse(check(SHIPS / f"{name}.wire", effort=EFFORT))
        assert any(not finding.mends for finding in found), name
