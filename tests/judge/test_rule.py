"""What a rule makes of a problem: a finding, its numbers as they are shown."""

from __future__ import annotations

import pytest

from tests.rules.hands import STAIR, case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.rules.terminal_crowding import RULE


@pytest.mark.parametrize(
    ("value", "limit", "unit", "shown"),
    [
        (15.02, 15.0, "A", (15.02, 15.0)),
        (21.25, 20.0, "A", (21.3, 20.0)),
        (0.00624, 0.006, "A", (0.0062, 0.006)),
        (12.0625, 11.999999999999998, "in", (12.0625, 12.0)),
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
