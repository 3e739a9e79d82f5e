"""The numbers of the arithmetic that is told."""

from __future__ import annotations

import re

from wirecheck.judge.size_words import arithmetic, gauge
from wirecheck.tables.ampacity import conductor_ampacity
from wirecheck.tables.code import LATEST


def numbers(text: str) -> list[float]:
    return [float(one) for one in re.findall(r"\d+\.?\d*", text)]


def test_every_step_that_counts_is_told() -> None:
    # 12 AWG THHN: 30 A; 40 C: x 0.91; 6 wires: x 0.8; = 21.8 A; 60 C column: 20 A.
    told = arithmetic(conductor_ampacity("THHN", "12", ambient=40, current_carrying=6, code=LATEST))
    assert numbers(told) == [12, 90, 30, 0.91, 40, 0.8, 6, 21.8, 60, 20, 20]


def test_heat_alone_and_bunching_alone_are_told_alone() -> None:
    hot = arithmetic(conductor_ampacity("THHN", "12", ambient=40, code=LATEST))
    assert numbers(hot) == [12, 90, 30, 0.91, 40, 27.3, 60, 20, 20]
    many = arithmetic(conductor_ampacity("THHN", "12", current_carrying=6, code=LATEST))
    assert numbers(many) == [12, 90, 30, 0.8, 6, 24, 60, 20, 20]


def test_a_wire_that_no_terminal_limits_has_the_value_of_its_table() -> None:
    assert numbers(arithmetic(conductor_ampacity("CL2", "18", code=LATEST))) == [18, 60, 6]


def test_sizes_bear_their_unit() -> None:
    assert [gauge(size) for size in ("14", "1/0", "2.5 mm2")] == ["14 AWG", "1/0 AWG", "2.5 mm2"]
