"""That a large board is diagnosed while somebody waits.

J. de Kleer ("Focusing on probable diagnoses", AAAI 1991, from memory) reports circuits of some 3,000
components diagnosed in under a minute.
"""

from __future__ import annotations

import time

import pytest

from tests.circuit.houses import stairs
from tests.samples import board
from wirecheck.faults.words import said
from wirecheck.judge.state_name import StateName
from wirecheck.troubles.diagnosis import Diagnosis, diagnosis
from wirecheck.troubles.observed import Look, Read
from wirecheck.troubles.shop import Shop

LIGHTS = 215
COMPONENTS = 3_000
SECONDS = 5.0


def diagnosed(text: str) -> tuple[Shop, Diagnosis]:
    """All single faults of a board of lights, ranked after five readings at one that is dark."""
    made, rest = board(text), StateName()
    assert len(made.devices) + len(made.conductors) + len(made.breakers) >= COMPONENTS
    shop = Shop(made)
    found = [Look(rest, "L7", "runs", False)]
    for points, volts in (
        (("L7.hot", "L7.neutral"), 0.0),
        (("S7.common", "S7.ground"), 120.0),
        (("T7.common", "T7.ground"), 120.0),
        (("T7.traveler-1", "T7.ground"), 120.0),
        (("X7.black@B7", "L7.ground"), 0.0),
    ):
        found.append(Read(rest, "volts", points, volts))
    return shop, diagnosis(shop, found)


@pytest.mark.slow
def test_three_thousand_components(benchmark) -> None:
    text = stairs(LIGHTS)
    start = time.process_time()
    shop, told = benchmark.pedantic(diagnosed, args=(text,), rounds=1)
    assert time.process_time() - start < SECONDS
    assert len(told.out) + len(told.explanations) == len(shop.suspects) > 10_000
    likely = {said(one.faults[0], shop.good.circuit) for one in told.explanations}
    assert likely == {"open X7.black", "open X7.black at C7"}
