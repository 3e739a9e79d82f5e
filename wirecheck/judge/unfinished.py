"""What of a board was not judged, since it takes more work than is spent on one board, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.settle import MOST_OPENINGS
from wirecheck.judge.case import Case
from wirecheck.language.listing import listed
from wirecheck.language.reader import on_one_line

# More names than this in one line tell a reader nothing.
MOST_NAMED = 12


def unfinished(case: Case, text: str) -> tuple[str, ...]:
    """The lines, the calls and the rules that the work ended before, each kind in a sentence; none as a rule.

    Parameters
    ----------
    text : the board's text, whose lines are named.
    """
    left = tuple(_left(case, text))
    return ("The board takes more work than is spent on one. Divide it into several.", *left) if left else ()


def _left(case: Case, text: str) -> Iterator[str]:
    left = case.all_left()
    if "line" in left:
        yield f"Not judged: {listed((on_one_line(text, one.span) for one in left['line']), MOST_NAMED)}."
    if "calls" in left:
        calls = [" and ".join(made) or "nothing called" for made in left["calls"]]
        yield f"Not played to the end: {listed(calls, MOST_NAMED)}."
    if "alone" in left:
        yield "Not all tried: limits, pressure switches and their like in each of their positions."
    if case.work.bounded:
        yield f"Not followed: what opens beyond the first {MOST_OPENINGS} breakers, fuses and transformers."
    if "rule" in left:
        yield f"Judged in part only: {listed(left['rule'], MOST_NAMED)}."
    if "causes" in left:
        yield "Some of what is found may only follow from something else that is found."
