"""Each rule's manual, run: its wrong board raises the rule, its right board nothing worse than advice."""

import pytest

from wirecheck import check
from wirecheck.rules import manuals

MANUALS = manuals()


@pytest.mark.parametrize("name", MANUALS)
def test_the_manual_says_what_why_and_on_what_authority(name):
    manual = MANUALS[name]
    assert manual.summary and manual.why and manual.source and manual.stages
    assert manual.wrong.startswith("board ") or name in ("syntax", "unknown-name", "unknown-part")


@pytest.mark.parametrize("name", MANUALS)
def test_the_wrong_board_raises_the_rule(name):
    assert name in {
        finding.rule for finding in check(MANUALS[name].wrong, stage=MANUALS[name].stages[-1]).findings
    }


@pytest.mark.parametrize("name", MANUALS)
def test_the_right_board_gives_nothing_worse_than_advice(name):
    worse = [found for found in check(MANUALS[name].right).findings if found.severity != "advice"]
    assert worse == []
