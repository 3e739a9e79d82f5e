"""Where to look, where no mend was found."""

from __future__ import annotations

import pytest

from tests.rules.hands import own
from wirecheck import check
from wirecheck.judge.finding import Finding
from wirecheck.judge.problem import Problem, Spot
from wirecheck.language.syntax import Span
from wirecheck.mend.looks import where_to_look
from wirecheck.model.board import Join

AT = Span(3, 1, 3, 9)
PROBLEM = Problem(at=Spot(AT, Join("A", (), (), {}, AT)), about=None, severity="fault", stage="final")
FOUND = Finding("switching", "fault", "L1 is dark.", AT, "L1", problem=PROBLEM)


def test_the_word_of_the_rule_goes_before_that_of_the_place() -> None:
    said = "Look again, with the power off, at this joint in A, and at the other ends of its wires."
    assert where_to_look(FOUND) == said
    assert where_to_look(FOUND._replace(look="In LP.")) == "In LP."


def test_what_the_text_alone_says_has_no_place() -> None:
    assert where_to_look(FOUND._replace(problem=None)) is None
    assert where_to_look(FOUND._replace(problem=PROBLEM.but(at=Spot(AT, None)))) is None


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        ("control-ground/held-around-start", "Bring the grounded side straight to C, and STOP and START"),
        ("grounded-secondary/control-of-120-volts", "Bring one side of it, T.X2, to ground."),
    ],
)
def test_a_remedy_that_says_what_belongs_there_is_said_without_a_mend(rule: str, said: str) -> None:
    text = own(*rule.split("/"))
    (told,) = (one for one in check(text, effort=40).findings if one.severity != "advice")
    assert not told.mends
    assert told.help is not None
    assert told.help.startswith(said)
