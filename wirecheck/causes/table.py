"""The one table of causes: a problem of the first kind hides one of the second where the relation holds.

No rule knows another. A row is read: where there is a CAUSE, an EFFECT that is so RELATED to it
follows from it, BECAUSE.
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.causes.relations import Relation, from_its_secondary, same_screw, same_transformers
from wirecheck.judge.problem import Problem
from wirecheck.rules import coil_voltage, transformer_phase
from wirecheck.rules.tab_in_place import TabInPlace
from wirecheck.rules.terminal_crowding import Crowded


class Row(NamedTuple):
    """One kind of consequence."""

    cause: type[Problem]
    effect: type[Problem]
    related: Relation
    because: str


TABLE: tuple[Row, ...] = (
    Row(TabInPlace, Crowded, same_screw, "with the tab broken off each hot has a screw of its own"),
    Row(
        coil_voltage.WrongTap,
        coil_voltage.TooMuch,
        from_its_secondary,
        "a transformer that is fed too much gives too much",
    ),
    Row(
        coil_voltage.WrongTap,
        coil_voltage.TooLittle,
        from_its_secondary,
        "a transformer that is fed too little gives too little",
    ),
    Row(
        transformer_phase.OutOfPhase,
        transformer_phase.TiedOnOneSide,
        same_transformers,
        "what meets on both sides meets on each",
    ),
    Row(
        transformer_phase.FedBackward,
        transformer_phase.TiedOnOneSide,
        same_transformers,
        "what meets on both sides meets on each",
    ),
)
