"""Boards that many tests start from, and short ways to them."""

from __future__ import annotations

from pathlib import Path

from wirecheck import files
from wirecheck.assembly import shipped_parts
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.language.reader import read
from wirecheck.model.board import Board
from wirecheck.model.build import build
from wirecheck.parts.library import Library

SAMPLES = Path(__file__).parent / "language" / "samples"


def board(text: str, parts: dict[str, str] | None = None) -> Board:
    """A board from its text, with parts of the test's own before the shipped ones."""
    own = parts or {}
    library = Library(
        lambda name: own.get(name) or files.part_text(name), lambda: [*own, *files.part_names()]
    )
    return build(read(text), library)


def shipped(name: str) -> Board:
    """A board that ships, wired right."""
    text = (files.folder("boards") / name / "right.wire").read_text(encoding="utf-8")
    return build(read(text), shipped_parts())


def wired(text: str, parts: dict[str, str] | None = None) -> Circuit:
    """The circuit of a board that has no problems."""
    made = board(text, parts)
    assert not made.problems, made.problems
    return circuit(made)


def fed(*lines: str) -> str:
    """A board with a panel, a 15 A breaker LP.3, and these lines."""
    return "\n".join(('board "Test"', "panel LP 120/240 V, 10 kA available", "breaker LP.3 15 A", *lines, ""))
