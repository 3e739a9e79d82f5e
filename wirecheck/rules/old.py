"""What makes a function a rule, and the manual that its docstring is.

A rule takes a `Case` and yields findings. Its docstring has a first line, then
the reason, then `Source:`, `Wrong:` and `Right:`; both boards run as tests.
"""

from __future__ import annotations

import inspect
import textwrap
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Stage

Check = Callable[[Case], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Manual:
    """What `wirecheck rules NAME` prints. `stages` are those the rule has findings for."""

    name: str
    summary: str
    why: str
    source: str
    wrong: str
    right: str
    stages: tuple[Stage, ...]


def rule(*stages: Stage, until: Stage = "final") -> Callable[[Check], Check]:
    """Mark a function as a rule whose findings belong to these stages of the work.

    It is asked of boards that are built no further than `until`: what other
    rules tell better once more is built need not be told twice.
    """

    def mark(check: Check) -> Check:
        check.__dict__["stages"] = stages
        check.__dict__["until"] = until
        return check

    return mark


def manual(check: Check) -> Manual:
    """The manual of a rule, read from its docstring."""
    summary, _, rest = inspect.cleandoc(check.__doc__ or "").partition("\n")
    sections = {"why": "", "source": "", "wrong": "", "right": ""}
    current = "why"
    for line in rest.splitlines():
        head, colon, tail = line.partition(":")
        if colon and head.lower() in ("source", "wrong", "right"):
            current = head.lower()
            line = tail.strip()
        sections[current] += line + "\n"
    return Manual(
        name=name(check),
        summary=summary.strip(),
        why=sections["why"].strip(),
        source=" ".join(sections["source"].split()),
        wrong=textwrap.dedent(sections["wrong"].lstrip("\n")).rstrip() + "\n",
        right=textwrap.dedent(sections["right"].lstrip("\n")).rstrip() + "\n",
        stages=check.__dict__["stages"],
    )


def name(check: Check) -> str:
    """The rule's name in words: the function's, with hyphens."""
    return getattr(check, "__name__", "").replace("_", "-")
