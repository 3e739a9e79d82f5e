"""The standard layout, as one change of the rows that are not in it yet."""

from __future__ import annotations

from wirecheck.language.mentions import rows
from wirecheck.language.rewriting import TextEdit
from wirecheck.language.syntax import Span
from wirecheck.language.tidy import NotOurs, file_tidied


def laid_out(text: str) -> TextEdit | None:
    r"""The change that puts a text in the standard layout; None where it is, or is better left as it is.

    >>> laid_out('board "Shed"\nat  A\n')
    TextEdit(span=Span(line=2, column=1, end_line=2, end_column=6), text='at A')
    >>> laid_out("all: tests") is None
    True
    """
    try:
        tidied = file_tidied(text)
    except NotOurs:
        return None
    before, after = rows(text), rows(tidied)
    if before == after:
        return None
    most = min(len(before), len(after)) - 1
    same = next((number for number in range(most) if before[number] != after[number]), most)
    ends = next((n for n in range(most - same) if before[-1 - n] != after[-1 - n]), most - same)
    end = len(before) - ends
    span = Span(same + 1, 1, end, len(before[end - 1]) + 1)
    return TextEdit(span, "\n".join(after[same : len(after) - ends]))
