"""Each rule's manual and its boards: the wrong one raises what it is marked with, the right one nothing."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.boards.test_boards import marks
from wirecheck import check, files
from wirecheck.cli import commands
from wirecheck.judge.finding import NOT_CHECKED, STAGES, Stage
from wirecheck.rules import manuals, rules

MANUALS = manuals()
RULES = [rule.name for rule in rules()]
FOLDER = files.folder("boards") / "rules"
# Asked of a rough-in only: a finished board is told the same mistake by what it does.
UNTIL: dict[str, Stage] = {"open-splice": "rough-in"}


def board(name: str, which: str) -> str:
    return (FOLDER / name / f"{which}.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", MANUALS)
def test_the_manual_says_what_why_and_on_what_authority(name: str) -> None:
    manual = MANUALS[name]
    assert manual.summary and manual.why and manual.source and manual.stages


def test_there_is_one_for_each_rule_and_for_a_file_that_was_not_checked() -> None:
    assert sorted(MANUALS) == sorted([*RULES, NOT_CHECKED])
    assert all(name == manual.name for name, manual in MANUALS.items())


@pytest.mark.parametrize("name", RULES)
def test_the_wrong_board_raises_the_rule_and_what_it_is_marked_with(name: str) -> None:
    text = board(name, "wrong")
    found = check(text, stage=UNTIL.get(name, STAGES[-1])).findings
    assert name in {each.rule for each in found}
    worse = sorted((each.span.line, each.rule) for each in found if each.severity != "advice")
    assert worse == sorted(marks(text).elements())


@pytest.mark.parametrize("name", RULES)
def test_the_right_board_raises_nothing_worse_than_advice(name: str) -> None:
    found = check(board(name, "right")).findings
    assert [each for each in found if each.severity != "advice" or each.rule == name] == []


def test_every_rule_has_its_two_boards_and_no_other_lies_there() -> None:
    assert {path.relative_to(FOLDER) for path in FOLDER.rglob("*.wire")} == {
        Path(name, f"{which}.wire") for name in RULES for which in ("wrong", "right")
    }


@pytest.mark.slow
def test_the_boards_tidy_to_themselves() -> None:
    result = CliRunner().invoke(commands, ["tidy", "--check", str(FOLDER)])
    assert result.exit_code == 0, result.output
