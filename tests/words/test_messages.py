"""Every message in one file that a person reads: a change of words shows as a change of that file."""

import re

import pytest

from tests.words.printed import FILE, OWN, printed, reports
from wirecheck.judge.finding import Finding
from wirecheck.rules import rules

# Rules with something to say of a box, a run or a line of text, and not of copper.
NO_COPPER = frozenset(
    (
        "syntax",
        "altered-equipment",
        "arc-fault-protection",
        "equipment-ground-fault",
        "ground-fault-protection",
        "handle-tie",
        "panel-place",
        "receptacle-for-place",
        "room-circuits",
        "service-receptacle",
        "tub-and-shower",
        "unknown-name",
        "unknown-part",
        "box-fill",
        "raceway-fill",
        "missing-raceway",
        "wet-place",
        "cable-support",
        "free-conductor",
        "neutral-at-switch",
        "heating-circuit",
        "class-2-supply",
    )
)


@pytest.mark.slow
def test_the_messages_are_those_in_the_file() -> None:
    assert printed() == FILE.read_text(encoding="utf-8"), "see it: python -m tests.words.printed --write"


def test_the_boards_of_their_own_are_those_of_rules() -> None:
    assert {path.name for path in OWN.iterdir()} <= {rule.name for rule in rules()}


@pytest.mark.slow
def test_every_finding_is_whole() -> None:
    """Whatever is found has its place, its copper and its source, and is said in sentences."""
    found = [finding for rule in rules() for _, findings in reports(rule.name) for finding in findings]
    assert len(found) > 500
    for finding in found:
        assert _has_its_objects(finding), finding
        assert _has_its_numbers(finding), finding
        for text in (finding.message, finding.help, *(note.message for note in finding.also)):
            assert text is None or _is_said_in_sentences(text), text


def _has_its_objects(finding: Finding) -> bool:
    problem = finding.problem
    return bool(
        problem is not None
        and isinstance(problem.copper, frozenset)
        and (problem.copper or finding.rule in NO_COPPER)
        and (problem.at.of is not None or problem.about is None)
        and problem.at.span == finding.span
        and all(note.span.line > 0 for note in finding.also)
    )


def _has_its_numbers(finding: Finding) -> bool:
    numbers = (finding.value, finding.limit)
    return all(number is None or number == number for number in numbers) and (
        (finding.unit is None) == (numbers == (None, None))
    )


def _is_said_in_sentences(text: str) -> bool:
    """It shouts nothing, and a sentence after another begins as one."""
    shouted = re.search(r"(?:\b[A-Z]+\b ){4}", re.sub(r"\S*[\d.-]\S*", "", text))
    return not shouted and "XX" not in text and not re.search(r"[a-z]\. [a-z]+ [a-z]+ ", text)
