"""A teacher sets prices by severity: what a rule's findings can be is declared, and true."""

import ast
import inspect
import sys

import pytest

from wirecheck import check_file, files
from wirecheck.judge.finding import SEVERITIES
from wirecheck.rules import rules


def given_by(source):
    """The severities that a file gives, and does not just ask for, the gravest first."""
    tree = ast.parse(source)
    asked = {id(one) for node in ast.walk(tree) if isinstance(node, ast.Compare) for one in ast.walk(node)}
    told = {
        one.value
        for one in ast.walk(tree)
        if isinstance(one, ast.Constant) and id(one) not in asked and not _declares(tree, one)
    }
    return tuple(each for each in SEVERITIES if each in told)


def _declares(tree, one):
    """Whether a constant belongs to the declaration itself."""
    words = [node for node in ast.walk(tree) if isinstance(node, ast.keyword) and node.arg == "severities"]
    return any(one in ast.walk(word) for word in words)


@pytest.mark.slow
@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule.name)
def test_a_rule_declares_what_its_findings_can_be(rule):
    declared = rule.manual.severities
    assert declared == given_by(inspect.getsource(sys.modules[rule.find.__module__]))
    report = check_file(files.folder("boards") / "rules" / rule.name / "wrong.wire")
    every = [each for one in report.findings for each in (one, *one.follows)]
    assert {one.severity for one in every if one.rule == rule.name} <= {*declared}


def test_every_rule_declares_what_its_findings_can_be():
    assert [one.name for one in rules() if not one.manual.severities] == []
