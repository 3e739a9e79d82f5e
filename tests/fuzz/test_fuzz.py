"""What the fuzzer found stays mended, and the fuzzer can find and make small what is wrong."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.fuzz import texts
from tests.fuzz.targets import TARGETS, Target
from tests.fuzz.trouble import armed, smaller, trouble
from wirecheck import inputs

FOUND = sorted((Path(__file__).parent / "found").glob("*.wire"))


@pytest.mark.parametrize("path", FOUND, ids=lambda path: path.stem)
def test_what_was_found_is_mended(path: Path) -> None:
    armed()
    data = path.read_bytes()
    for target in TARGETS.values():
        if target.parts == bool(inputs.part_name(data)):
            assert trouble(target, data) is None


@pytest.mark.parametrize("name", TARGETS)
def test_a_target_takes_what_ships(name: str) -> None:
    armed()
    target = TARGETS[name]
    for text in texts.seeds(target.parts)[:3]:
        assert trouble(target, text.encode()) is None


def test_an_exception_is_told_by_its_place() -> None:
    armed()

    def broken(data: bytes) -> None:
        raise AttributeError(data)

    found = trouble(Target(broken, (), 1), b"a")
    assert found is not None
    assert found.place == "AttributeError in test_fuzz.broken"
    slow = trouble(Target(lambda data: None, (), 1), b"a", most=-1.0)
    assert slow is not None and slow.place == "slow"


def test_changes_are_the_same_from_the_same_dice_and_keep_to_the_length() -> None:
    begin = texts.seeds(parts=False)[:40]

    def made(seed: int) -> list[str]:
        writer = texts.Writer(begin, Random(seed))
        return [writer.changed(text, 300) for text in begin for _ in range(20)]

    first = made(1)
    assert first == made(1) and first != made(2)
    assert max(map(len, first)) <= 300
    assert len(set(first)) > 700


def test_a_text_is_made_as_small_as_what_is_wrong_with_it() -> None:
    text = texts.seeds(parts=False)[100].encode()
    assert smaller(text, lambda data: b"panel" in data) == b"panel"
