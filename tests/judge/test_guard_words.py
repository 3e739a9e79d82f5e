"""Breakers and fuses in words."""

from __future__ import annotations

from tests.judge.test_guards import FUSED
from tests.rules.hands import case
from wirecheck.judge.guard_words import begun, kind, opens


def test_a_breaker_trips_and_a_fuse_blows() -> None:
    breaker, fuse, _ = case(FUSED).circuit.protections
    assert (kind(breaker), opens(breaker), begun(breaker)) == ("breaker", "trips", "Breaker LP.2")
    assert (kind(fuse), opens(fuse), begun(fuse)) == ("fuse", "blows", "Fuse D.fuse-1")
