"""The board while it is being gathered: what is known so far, and every mistake seen on the way."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Protocol

from wirecheck.language.names import fault
from wirecheck.language.syntax import Problem, Span, Word
from wirecheck.language.words import nearest
from wirecheck.model.board import Box, Breaker, Conductor, Connector, Device, Panel, Raceway, Run, Terminal
from wirecheck.parts.library import not_used
from wirecheck.parts.part import Part

MOST_PROBLEMS = 200
# Names that are compared with misspelled ones: a bound for a board of many of both.
MOST_COMPARED = 50_000
"""The most mistakes that are reported of one board."""


class Parts(Protocol):
    """What the board needs of a library of parts."""

    def part(self, name: str) -> Part | None:
        """The part of that name, or None."""

    def missing(self, name: str) -> tuple[str, str | None]:
        """Why there is no part of that name, and what to do."""

    def passed_over(self, name: str) -> tuple[str, str | None] | None:
        """The file that is not used since a part of its name comes before it, and the file of that part."""


@dataclass
class Draft:
    """The board while it is being gathered."""

    library: Parts
    problems: list[Problem]
    panels: dict[str, Panel] = field(default_factory=dict)
    breakers: dict[str, Breaker] = field(default_factory=dict)
    # For each panel and space the name of the breaker that fills it.
    spaces: dict[tuple[str, int], Word] = field(default_factory=dict)
    boxes: dict[str, Box] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    conductors: dict[str, Conductor] = field(default_factory=dict)
    raceways: dict[str, Raceway] = field(default_factory=dict)
    devices: dict[str, Device] = field(default_factory=dict)
    terminals: dict[str, Terminal] = field(default_factory=dict)
    # Each of several screws of a terminal, and the terminal.
    screws: dict[str, str] = field(default_factory=dict)
    connectors: dict[str, Connector] = field(default_factory=dict)
    places: dict[str, Span] = field(default_factory=dict)
    declared: dict[str, Span] = field(default_factory=dict)
    # Declared, and not to be made out: what is said of them later is passed over in silence.
    broken: set[str] = field(default_factory=set)
    full: bool = False
    compared: int = 0
    # How much more may be inside the board's devices.
    room: int = 8_000
    # How much is inside each part.
    inside: dict[str, int] = field(default_factory=dict)
    remarks: list[Problem] = field(default_factory=list)
    # Every part that was asked for, and each kept once.
    parts: dict[str, Part | None] = field(default_factory=dict)

    def wrong(
        self, rule: str, message: str, span: Span, advice: str | None = None, later: bool = False
    ) -> None:
        """Keep a problem; after `MOST_PROBLEMS` of them only that there are more."""
        if len(self.problems) < MOST_PROBLEMS:
            self.problems.append(Problem(rule, message, span, advice, later))
        elif not self.full:
            self.full = True
            self.problems.append(
                Problem(
                    "syntax",
                    f"There are more than {MOST_PROBLEMS} mistakes: those after this line are not listed.",
                    span,
                    "Fix the first ones, and check again.",
                )
            )

    def near(self, name: str, names: Collection[str]) -> str | None:
        """The name that was most likely meant; None too where too many were compared before."""
        self.compared += len(names)
        return nearest(name, names) if not self.full and self.compared < MOST_COMPARED else None

    def unknown(self, word: Word, what: str, names: list[str], later: bool = False) -> None:
        """Keep a problem about a name that nothing bears, with the near one."""
        near = self.near(word.text, names)
        self.wrong(
            "unknown-name",
            f"{what} {word.text} is not on this board.",
            word.span,
            near and f"Did you mean {near}?",
            later,
        )

    def part(self, name: str, span: Span) -> Part | None:
        """The part of a name, or None; a file beside the board that is not used for it is remarked."""
        if name not in self.parts:
            self.parts[name] = self.library.part(name)
            passed_over = self.library.passed_over(name)
            if passed_over:
                advice = "Give your own part a name of its own: in its file, as the file's name, and here."
                self.remarks.append(Problem("unknown-part", not_used(*passed_over), span, advice))
        return self.parts[name]

    def declare(self, word: Word, inside: bool = False) -> bool:
        """Whether a name can be given and is new; one that is not is a problem.

        Parameters
        ----------
        inside : whether it is the name of something inside another thing, as `LP.3`.
        """
        before = self.declared.get(word.text)
        wrong = None if inside else fault(word.text)
        if wrong is not None:
            self.wrong("syntax", wrong.message, word.span, wrong.advice)
            self.broken.add(word.text)
            return False
        if before is None:
            self.declared[word.text] = word.span
            return True
        self.wrong(
            "syntax",
            f"{word.text} is already the name of something, on line {before.line}.",
            word.span,
            "Give each thing a name of its own.",
        )
        return False

    def place(self, word: Word) -> bool:
        """Whether the name is a place: a panel, a box, or a device that is in no box."""
        if word.text in self.places:
            return True
        if word.text in self.broken or not word.text:
            return False
        device = self.devices.get(word.text)
        if device is not None:
            self.wrong(
                "unknown-name",
                f"{word.text} is inside {device.place}, so wires come to {device.place}.",
                word.span,
                f"Write {device.place} here.",
            )
        else:
            self.unknown(word, "The place", list(self.places))
        return False


def known_flags(words: tuple[Word, ...], known: tuple[str, ...], what: str, draft: Draft) -> frozenset[str]:
    """The words of a statement that may be said of this; the others are problems."""
    for word in words:
        if word.text not in known:
            near = nearest(word.text, list(known))
            draft.wrong(
                "syntax",
                f"{what} cannot be {word.text}. It can be: " + ", ".join(known) + ".",
                word.span,
                f"Did you mean {near}?" if near else None,
            )
    return frozenset(word.text for word in words if word.text in known)


def part_with(name: str, screws: tuple[str, ...], span: Span, draft: Draft) -> Part | None:
    """A part that a line of the language brings, where it has the screws which that line means."""
    part = draft.part(name, span)
    missing = [screw for screw in screws if part is not None and screw not in part.terminals]
    if part is None or missing:
        draft.wrong(
            "unknown-part",
            f"The part {name}, which this line brings, has no {missing[0] if missing else 'file'}.",
            span,
            "Check the part's file first.",
        )
        return None
    return part


def add_terminals(part: Part, owner: str, place: str, draft: Draft) -> None:
    """Give an owner the terminals of a part that the language itself knows."""
    for spec in part.terminals.values():
        name = f"{owner}.{spec.name}"
        draft.terminals[name] = Terminal(name, owner, spec.name, place, spec)
