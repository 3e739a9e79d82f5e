"""A number that cannot be meant, in any shipped part and in any board, ends no command."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.everything import failures
from tests.parts.shelf import SHIPPED
from tests.spoiled import board_of, spoiled, with_part
from wirecheck import files

BOARDS = sorted(Path(__file__).parents[1].glob("boards/*/right.wire"))
PARTS = sorted(files.part_names())
SAMPLE = 4
# All of them take an hour; so many are left out between two that are tried.
SHARE = 18


def _part(name: str) -> list[tuple[int, str, str]]:
    return list(spoiled(files.part_text(name) or ""))


def test_a_sample_of_spoiled_parts() -> None:
    every = [(name, *one) for name in PARTS for one in _part(name)]
    for name, line, bad, text in Random(11).sample(every, SAMPLE):
        assert failures(board_of(name), with_part(name, text)) == {}, (name, line, bad)


def test_a_sample_of_spoiled_boards() -> None:
    boards = [path for path in BOARDS if path.stat().st_size < 1500]
    every = [(path.parent.name, *one) for path in boards for one in spoiled(path.read_text())]
    for name, line, bad, text in Random(11).sample(every, SAMPLE):
        assert failures(text, SHIPPED) == {}, (name, line, bad)


@pytest.mark.slow
@pytest.mark.parametrize("name", PARTS)
def test_an_eighteenth_of_the_numbers_of_a_part_spoiled(name: str) -> None:
    for line, bad, text in _part(name)[len(name) % SHARE :: SHARE]:
        assert failures(board_of(name), with_part(name, text)) == {}, (line, bad)


@pytest.mark.slow
@pytest.mark.parametrize("path", BOARDS, ids=lambda path: path.parent.name)
def test_some_of_the_numbers_of_a_board_spoiled(path: Path) -> None:
    for line, bad, text in [*spoiled(path.read_text())][:: 4 * SHARE]:
        assert failures(text, SHIPPED) == {}, (line, bad)
