"""Sizes of conductors, and the arithmetic of what they may carry, in words."""

from __future__ import annotations

from wirecheck.language.quantity import amps, rounded
from wirecheck.model.board import Conductor
from wirecheck.tables.ampacity import Ampacity


def gauge(size: str) -> str:
    """A size with its unit.

    >>> gauge("14"), gauge("250 kcmil"), gauge("4/0")
    ('14 AWG', '250 kcmil', '4/0 AWG')
    """
    return size if " " in size else f"{size} AWG"


def named_size(conductor: Conductor) -> str:
    """A conductor's size and metal: "14 AWG copper", "2.5 mm2 copper"."""
    return f"{gauge(conductor.size)} {conductor.material}"


def arithmetic(steps: Ampacity) -> str:
    """The way from the table's value to the ampacity, step by step.

    >>> from wirecheck.tables.code import LATEST as nec
    >>> from wirecheck.tables.ampacity import conductor_ampacity
    >>> print(arithmetic(conductor_ampacity("NM-B", "14", code=nec)))
    By the table, 14 AWG copper with 90 C insulation carries 25 A. Its terminals or its cable hold it to the
    60 C column: 15 A. Its ampacity is the least of these, 15 A.
    """
    told = (
        f"By the table, {gauge(steps.size)} {steps.material} with {steps.insulation_c:g} C insulation "
        f"carries {amps(steps.table)}"
    )
    if steps.correction != 1:
        told += f", x {rounded(steps.correction)} for {rounded(steps.ambient)} C around it"
    if steps.adjustment != 1:
        told += f", x {rounded(steps.adjustment)} for {steps.current_carrying} wires together that count"
    if steps.correction != 1 or steps.adjustment != 1:
        told += f" = {amps(steps.corrected)}"
    if steps.cap is None:
        return f"{told}. That is its ampacity."
    return (
        f"{told}. Its terminals or its cable hold it to the {steps.terminal_c:g} C column: "
        f"{amps(steps.cap)}. Its ampacity is the least of these, {amps(steps.result)}."
    )
