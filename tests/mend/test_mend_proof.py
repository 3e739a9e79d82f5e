"""The mistake that was made is the one that is named: a sample here, all of them in the long tests."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from tests.boards.test_proof import HOOKUPS, SHOP
from tests.mend.proof import MendProof, named, named_hookups

Record = Callable[[str, object], None]

# What is aimed at: the first mend, one of three; and that no mend fails.
FIRST, AMONG_THREE = 0.97, 0.98


def judged(proof: MendProof, record: Record, first: float, three: float) -> None:
    """The figures go to the table at the end of the run."""
    record("mend proof", proof.figures())
    assert not proof.failing, proof.failing[:3]
    missed = "\n".join(proof.missed[:5])
    assert proof.share("first") >= first, missed
    assert proof.share("among three") >= three, missed


@pytest.mark.slow
def test_a_sample_of_mistakes_is_named(record_property: Record) -> None:
    chosen = Random(7)
    judged(named(SHOP, lambda number: chosen.random() < 0.002), record_property, 0.9, 0.9)


@pytest.mark.slow
def test_a_sample_of_mistakes_on_thermostat_wires_is_named(record_property: Record) -> None:
    chosen = Random(7)
    judged(named_hookups(HOOKUPS, lambda number: chosen.random() < 0.01), record_property, 0.9, 0.9)


@pytest.mark.slow
@pytest.mark.parametrize(("name", "text"), SHOP, ids=[name for name, _ in SHOP])
def test_a_twelfth_of_the_mistakes_on_a_board_that_ships_is_named(
    name: str, text: str, record_property: Record
) -> None:
    chosen = Random(name)
    judged(named([(name, text)], lambda number: chosen.random() < 1 / 12), record_property, 0.9, 0.9)


@pytest.mark.slow
def test_a_fiftieth_of_the_mistakes_on_thermostat_wires_is_named(record_property: Record) -> None:
    chosen = Random(50)
    judged(named_hookups(HOOKUPS, lambda number: chosen.random() < 1 / 50), record_property, 0.95, 0.95)
