"""What a rule makes of a problem: a finding, its numbers as they are shown."""

from __future__ import annotations

import sys
import types

import pytest

from tests.rules.hands import STAIR, case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.rules import rules
from wirecheck.rules.terminal_crowding import RULE


@pytest.mark.parametrize(
    ("value", "limit", "unit", "shown"),
    [
        (15.02, 15.0, "A", (15.02, 15.0)),
        (21.25, 20.0, "A", (21.3, 20.0)),
        (0.00624, 0.006, "A", (0.0062, 0.006)),
        (12.0625, 11.999999999999998, "in", (12.0625, 12.0)),
        (20.0, 20.04, "A", (20.0, 20.04)),
        (7.7e-8, None, "V", (0.0, None)),
        (None, 3.04, "%", (None, 3.0)),
        (3.0, 1.0, "wires", (3.0, 1.0)),
        (3.14159, 2.5, None, (3.14, 2.5)),
    ],
)
def test_a_finding_has_its_numbers_as_they_are_shown(value, limit, unit, shown) -> None:
    board = case(STAIR)
    device = board.board.devices["S1"]
    problem = Problem(at=spot(device), about=device, severity="violation", stage="trim")
    words = Words("It is too much.", value=value, limit=limit, unit=unit)
    finding = RULE._replace(words=lambda problem, case: words).finding(problem, board)
    assert (finding.value, finding.limit, finding.unit) == (*shown, unit)
    assert (finding.rule, finding.subject, finding.span) == ("terminal-crowding", "S1", device.span)


MANUAL = "Too many wires.\n\nThey slip out,\nand burn.\n\nSource: NEC 110.14(A);\n  UL 486\n"


def made(name: str, text: str | None, *stages: str, **more: object) -> object:
    """The rule that a file of that name and docstring would hold."""
    module = types.ModuleType(name, text)
    sys.modules[name] = module
    try:
        return rule(name, *stages, find=lambda case: (), words=lambda problem, case: Words(""), **more)
    finally:
        del sys.modules[name]


def test_a_rule_is_named_after_its_file_and_its_manual_is_the_docstring() -> None:
    one = made("a.room.of_many_rules", MANUAL, "trim", "final")
    assert (one.name, one.stages, one.until) == ("of-many-rules", ("trim", "final"), "final")
    manual = one.manual
    assert (manual.name, manual.summary, manual.stages) == (
        "of-many-rules",
        "Too many wires.",
        ("trim", "final"),
    )
    assert (manual.why, manual.source) == ("They slip out,\nand burn.", "NEC 110.14(A); UL 486")
    assert made("x_y", MANUAL, "rough-in", until="trim").until == "trim"


@pytest.mark.parametrize(
    ("text", "stages", "more", "said"),
    [
        (None, ["trim"], {}, "manual of the rule"),
        ("", ["trim"], {}, "manual of the rule"),
        ("Too many wires.\n\nSource: NEC 110.14(A)", ["trim"], {}, "manual of the rule"),
        ("Too many wires.\n\nThey slip out.", ["trim"], {}, "manual of the rule"),
        ("\n\nThey slip out.\n\nSource: ", ["trim"], {}, "manual of the rule"),
        (MANUAL, [], {}, "the rule of-many has no stage"),
        (
            MANUAL,
            ["light-up"],
            {},
            "the rule of-many has a stage 'light-up'; there are rough-in, trim, final",
        ),
        (MANUAL, ["trim"], {"until": "never"}, "there are rough-in, trim, final"),
    ],
)
def test_a_rule_without_what_it_needs_is_refused(text, stages, more, said) -> None:
    with pytest.raises(ValueError, match=said):
        made("a.of_many", text, *stages, **more)


def test_it_is_asked_from_its_first_stage_to_its_last() -> None:
    one = made("x", MANUAL, "trim", until="trim")
    assert [one.asked(stage) for stage in ("rough-in", "trim", "final")] == [False, True, False]
    both = made("x", MANUAL, "rough-in", "final")
    assert [both.asked(stage) for stage in ("rough-in", "trim", "final")] == [True, True, True]
    assert len({each.name for each in rules()}) == len(rules()) > 40
