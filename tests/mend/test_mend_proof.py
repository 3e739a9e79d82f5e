"""The mistake that was made is the one that is named: a sample here, all of them in the long tests."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from tests.boards.hookups import hookup_judge, hookup_mutants
from tests.boards.test_proof import HOOKUPS, SHOP
from tests.boards.work import work
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
@pytest.mark.parametrize(
    ("board", "words"),
    [
        ("common-wire-kit", "a jumper from TS.Y to S.YG"),
        ("condensate-pump", "FW.red moved to FW.white -- CP.NC in CP"),
        ("condensate-pump", "FW.white moved to FW.red -- CP.COM in CP"),
        ("condensate-pump", "TW.red and FW.red exchanged in F"),
        ("condensate-pump", "TW.red and OW.red exchanged in F"),
        ("condensing-furnace", "a jumper from TS.R to TS.Y"),
        ("dehumidifier", "a jumper from D.DH to D.G-out"),
        ("dehumidifier", "a jumper from D.DH to D.R-fan"),
        ("humidifier", "TW.blue moved to F.Y"),
        ("two-transformers", "AW.green moved to AH.W2"),
        ("two-transformers", "a jumper from AH.R to AH.W2"),
    ],
)
def test_a_mistake_is_named_first_that_once_was_not_or_whose_mend_failed(board: str, words: str) -> None:
    right = work(dict(HOOKUPS)[board])
    (mutant,) = (one for one in hookup_mutants(right) if one.words == words)
    proof = MendProof()
    proof.count(board, mutant, hookup_judge(right))
    assert proof.share("first") == 1, proof.missed
    assert not proof.failing, proof.failing


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
