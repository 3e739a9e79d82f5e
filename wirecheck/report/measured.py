"""The number of a finding against its limit, in a sentence."""

from __future__ import annotations

from wirecheck.judge.finding import Finding
from wirecheck.report.numbers import quantity


def measured(finding: Finding) -> str:
    """What it is here, and the limit; nothing of a finding without a number.

    >>> from wirecheck.language.syntax import Span
    >>> measured(Finding("voltage-drop", "fault", "Low.", Span(1, 1, 1, 2), "W1", 4.0, 3.0, "%"))
    'Here it is 4 %; the limit is 3 %.'
    """
    if finding.value is None:
        return "" if finding.limit is None else f"The limit is {quantity(finding.limit, finding.unit)}."
    here = quantity(finding.value, finding.unit, finding.limit)
    if finding.limit is None:
        return f"Here it is {here}."
    return f"Here it is {here}; the limit is {quantity(finding.limit, finding.unit, finding.value)}."
