"""Whether equipment has a compressor that is sealed with its motor: then it is one of NEC Article 440."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.model.board import Device


def has_compressor(case: Case, device: Device) -> bool:
    """Whether a sealed compressor is in a device, or in what is in it."""
    return device.name in _around_compressors(case)


@question
def _around_compressors(case: Case) -> frozenset[str]:
    return frozenset(
        device.name
        for load in case.circuit.loads
        if "hermetic" in load.flags
        for device in case.circuit.around[load.device]
    )
