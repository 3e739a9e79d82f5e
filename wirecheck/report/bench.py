"""What comes of each thing that is asked for at a bench, in words."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from wirecheck.language.asking import FORMS
from wirecheck.language.listing import listed
from wirecheck.report.paragraphs import columns, wrapped
from wirecheck.report.readings import said
from wirecheck.report.signs import shown
from wirecheck.troubles.bench import Answer
from wirecheck.troubles.trials import Seen


def answered(answer: Answer) -> str:
    """An answer as lines of text."""
    lines = []
    if answer.reading is not None and answer.settled is not None:
        lines.append(said(answer.reading, answer.asked.words, answer.settled).rstrip("\n"))
    elif answer.seen is not None:
        lines.append(wrapped(looked(answer.seen, answer.pulled), ""))
    elif answer.done:
        lines.append(wrapped(f"Now: {answer.done}.", ""))
    if answer.unsafe:
        lines.append(wrapped(f"Unsafe! {answer.unsafe}", ""))
    return "\n".join(lines) + "\n"


def looked(seen: Seen, pulled: Collection[str] = ()) -> str:
    """What is seen, in sentences; `pulled` are the relays that are pulled in."""
    told = []
    if seen.runs:
        told.append(f"On: {listed(sorted(seen.runs))}.")
    gone = sorted(seen.ran - seen.runs)
    if gone:
        told.append(f"Ran and stopped: {listed(gone)}.")
    if pulled:
        told.append(f"Pulled in: {listed(sorted(pulled))}.")
    if seen.opened:
        told.append(f"Open by itself: {listed(sorted(seen.opened))}.")
    told += (f"{clause}." for clause in shown(seen.signs))
    return " ".join(told) or "Nothing runs."


def helped(verbs: Iterable[str]) -> str:
    """How each thing that can be asked for is written."""
    return columns([(verb, FORMS[verb]) for verb in verbs])
