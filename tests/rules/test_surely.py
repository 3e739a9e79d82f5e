"""What a rule surely finds, told without the reason: it finds it, and what it found before is there still."""

from __future__ import annotations

import pytest

import wirecheck
from wirecheck import files
from wirecheck.judge.case import Case
from wirecheck.rules import rules

QUICK = [
    rule
    for rule in rules()
    if rule.name in ("call-continuity", "call-crosstalk", "dead-outlet", "loose-conductor", "safety-bypass")
]


def board(name: str, which: str) -> Case:
    return Case(
        wirecheck.assemble((files.folder("boards") / "rules" / name / f"{which}.wire").read_bytes())[1]
    )


@pytest.mark.parametrize("rule", QUICK, ids=lambda rule: rule.name)
def test_what_was_found_is_surely_there_still(rule) -> None:
    found = list(rule.find(board(rule.name, "wrong")))
    assert found and rule.surely(board(rule.name, "wrong"), found)
    right = board(rule.name, "right")
    assert not rule.surely(right, found) and not list(rule.find(right))


@pytest.mark.parametrize("rule", QUICK, ids=lambda rule: rule.name)
@pytest.mark.parametrize("name", [rule.name for rule in QUICK])
def test_what_is_sure_is_found(rule, name: str) -> None:
    case = board(name, "wrong")
    if rule.surely(case, ()):
        assert any(problem.severity != "advice" for problem in rule.find(board(name, "wrong")))


def test_a_rule_that_tells_nothing_quicker_is_sure_of_nothing() -> None:
    others = [rule for rule in rules() if rule not in QUICK]
    case = board("short-circuit", "wrong")
    assert not any(rule.surely(case, list(rule.find(case))) for rule in others)
