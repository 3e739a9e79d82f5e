"""The texts that the fuzzer begins with, and its changes to them, by one who knows the language."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from random import Random

TESTS = Path(__file__).parent.parent

_TOKEN = re.compile(r'"[^"\n]*"?|--|\d[\w./-]*|[A-Za-z_][\w.-]*|[^\s\w]')
_NUMBER = re.compile(r"(?<![\w.-])[\d.]+(?:[-/][\d/]+)?(?![\w.-])")
_NAME = re.compile(r"(?<![\w.-])[A-Z][A-Za-z0-9-]*(?![\w-])")
_UNIT = re.compile(r"(?<=\d )(?:cu in|[A-Za-z]{1,5}2?|%)(?!\w)")

NUMBERS = (
    *("0", "1", "2", "3", "4", "7", "10", "14", "15", "60", "90", "120", "240", "0.5", "1/2", "1-1/2", "0/0"),
    *("0.000000000000001", "0.1", "99", "200", "999", "1000", "65536", "99999999", "9999999999999999999"),
    *("1e9", "-1", "4/0", "00", "1/0", "7.5", "1.0", "3/4", ".5", "5.", "40"),
)
UNITS = (
    *(
        "ft",
        "in",
        "m",
        "cm",
        "mm",
        "mm2",
        "cu in",
        "A",
        "mA",
        "kA",
        "V",
        "W",
        "kW",
        "VA",
        "kVA",
        "ohm",
        "kohm",
    ),
    *("hp", "F", "C", "s", "min", "ms", "h", "Hz", "%", "kcmil", "AWG", ""),
)
SIGNS = (
    "--",
    ",",
    "(",
    ")",
    '"',
    "#",
    " ",
    "\t",
    "\n",
    "\r\n",
    "\\",
    ".",
    "-",
    "=",
    "\u2013",
    "\x00",
    "\ufffd",
    "&<>",
)


def seeds(parts: bool) -> list[str]:
    """All boards of the house, or all parts, the shortest first; what was found is among them."""
    from wirecheck import files

    folders = [files.folder("parts")] if parts else [files.folder("boards"), TESTS]
    paths = {path for folder in folders for path in folder.rglob("*.wire")}
    texts = (path.read_text("utf-8", "replace") for path in sorted(paths))
    return sorted((text for text in texts if parts == _is_part(text)), key=len)


def pieces(texts: list[str], longest: int) -> list[str]:
    r"""Texts that are short enough as they are, and the longer ones cut up between lines.

    >>> pieces(["a\nb\ncc"], 4)
    ['a\nb', 'cc']
    """
    made = []
    for text in texts:
        piece = ""
        for line in text.split("\n"):
            longer = f"{piece}\n{line}" if piece else line
            if piece and len(longer) > longest:
                made.append(piece)
                longer = line
            piece = longer
        made.append(piece)
    return [*dict.fromkeys(made)]


def _is_part(text: str) -> bool:
    return text.lstrip().startswith("part ")


class Writer:
    """Changes texts: words, numbers, units and names for others; lines left out, moved, brought in."""

    def __init__(self, texts: list[str], random: Random) -> None:
        self.random = random
        self.texts = texts
        self.lines = sorted({line for text in texts for line in text.split("\n") if line.strip()})
        self.words = sorted({word for line in self.lines for word in _TOKEN.findall(line)})
        self.changes: tuple[Callable[[list[str]], None], ...] = (
            *(self.word, self.word, self.word, self.number, self.number, self.unit, self.sign),
            *(self.leave_out, self.leave_out, self.twice, self.move, self.bring_in, self.bring_in),
            *(self.change_over, self.rename, self.take_name),
        )

    def changed(self, text: str, longest: int) -> str:
        """The text with one to four changes."""
        lines = text.split("\n")
        for _ in range(self.random.choice((1, 1, 1, 2, 2, 3, 4))):
            self.random.choice(self.changes)(lines)
            if not lines:
                lines.append("")
        made = "\n".join(lines)
        if len(made) <= longest:
            return made
        return made[:longest].rpartition("\n")[0] or made[:longest]

    def _put(
        self, lines: list[str], at: int, pattern: re.Pattern[str], words: tuple[str, ...] | list[str]
    ) -> None:
        """One of the matches of a line becomes one of the words."""
        found = list(pattern.finditer(lines[at]))
        if found:
            match = self.random.choice(found)
            lines[at] = lines[at][: match.start()] + self.random.choice(words) + lines[at][match.end() :]

    def _at(self, lines: list[str]) -> int:
        return self.random.randrange(len(lines))

    def word(self, lines: list[str]) -> None:
        """A word becomes another one, of the same text as often as not."""
        here = _TOKEN.findall(lines[self._at(lines)]) if self.random.random() < 0.5 else []
        self._put(lines, self._at(lines), _TOKEN, here or self.words)

    def number(self, lines: list[str]) -> None:
        """A number becomes another one."""
        self._put(lines, self._at(lines), _NUMBER, NUMBERS)

    def unit(self, lines: list[str]) -> None:
        """A unit becomes another one."""
        self._put(lines, self._at(lines), _UNIT, UNITS)

    def sign(self, lines: list[str]) -> None:
        """A sign comes in somewhere."""
        at = self._at(lines)
        column = self.random.randint(0, len(lines[at]))
        lines[at] = lines[at][:column] + self.random.choice(SIGNS) + lines[at][column:]

    def leave_out(self, lines: list[str]) -> None:
        """Some lines go."""
        at = self._at(lines)
        del lines[at : at + self.random.choice((1, 1, 1, 2, 5))]

    def twice(self, lines: list[str]) -> None:
        """Some lines stand there twice."""
        at = self._at(lines)
        lines[at:at] = lines[at : at + self.random.choice((1, 1, 2, 5))]

    def move(self, lines: list[str]) -> None:
        """A line stands elsewhere."""
        line = lines.pop(self._at(lines))
        lines.insert(self.random.randint(0, len(lines)), line)

    def bring_in(self, lines: list[str]) -> None:
        """A line of another text comes in."""
        lines.insert(self.random.randint(0, len(lines)), self.random.choice(self.lines))

    def change_over(self, lines: list[str]) -> None:
        """From some line on it is another text."""
        other = self.random.choice(self.texts).split("\n")
        lines[self._at(lines) :] = other[self.random.randrange(len(other)) :]

    def rename(self, lines: list[str]) -> None:
        """A name is another one wherever it stands."""
        text = "\n".join(lines)
        names = _NAME.findall(text)
        if names:
            old = re.escape(self.random.choice(names))
            new = self.random.choice((*names, "X", "LP", "A.b", "1", "at", "a-very-long-name-" * 3))
            lines[:] = re.sub(rf"(?<![\w.-]){old}(?![\w-])", new, text).split("\n")

    def take_name(self, lines: list[str]) -> None:
        """A word becomes a name of the same text."""
        names = _NAME.findall("\n".join(lines))
        if names:
            self._put(lines, self._at(lines), _NAME, names)
