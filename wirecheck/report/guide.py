"""The guide: lessons with boards to type, and what the commands then say."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from wirecheck.caution import CAUTION
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.numbers import counted
from wirecheck.report.paragraphs import columns, wrapped

_BLOCK = re.compile(
    r"^```(?P<added>\+ )?(?P<name>\S+)\n(?P<inside>.*?)^```\n|(?P<words>(?:^(?!```)[^\n]+\n)+)",
    re.MULTILINE | re.DOTALL,
)
_CONSOLE = "console"


class Words(NamedTuple):
    """A paragraph."""

    text: str


class Typed(NamedTuple):
    """What goes into a file: as a new one, or at the end of one that an earlier lesson began."""

    file: str
    added: bool
    text: str


class Asked(NamedTuple):
    """Commands, each behind a `$`, with what they say; three dots stand for what is left out."""

    text: str


class Lesson(NamedTuple):
    """A lesson as it is read from its text."""

    number: int
    title: str
    blocks: tuple[Words | Typed | Asked, ...]


def lessons(texts: Iterable[str]) -> tuple[Lesson, ...]:
    r"""The lessons of some texts, in their order.

    Parameters
    ----------
    texts : a lesson each, in Markdown: a heading, paragraphs, and blocks between fences. A block's first line
        has the name of a file, behind a plus where it is added to that, or `console`.

    Examples
    --------
    >>> lessons(["# One line\n\nType it:\n\n```a.wire\nboard \"A\"\n```\n"])[0].blocks
    (Words(text='Type it:'), Typed(file='a.wire', added=False, text='board "A"\n'))
    """
    return tuple(_lesson(number, text) for number, text in enumerate(texts, 1))


def _lesson(number: int, text: str) -> Lesson:
    heading, _, rest = text.partition("\n")
    return Lesson(number, heading.removeprefix("# "), tuple(_block(found) for found in _BLOCK.finditer(rest)))


def _block(found: re.Match[str]) -> Words | Typed | Asked:
    if found["words"]:
        return Words(" ".join(found["words"].replace("`", "").split()))
    if found["name"] == _CONSOLE:
        return Asked(found["inside"])
    return Typed(found["name"], bool(found["added"]), found["inside"])


def typed(given: Iterable[Lesson]) -> dict[str, tuple[str, ...]]:
    """The files of some lessons, each with the texts that it has had from its beginning on."""
    texts: dict[str, tuple[str, ...]] = {}
    for block in (block for lesson in given for block in lesson.blocks):
        if isinstance(block, Typed):
            before = texts.get(block.file, ())
            begun = "".join(before[-1:]) if block.added else ""
            texts[block.file] = (*before, begun + block.text)
    return texts


def listing(given: Sequence[Lesson]) -> str:
    """The lessons with their numbers."""
    rows = columns([(f"{one.number:2}", one.title) for one in given])
    return f"{rows}\nFor one of them: wirecheck guide LESSON\n"


def page(lesson: Lesson, number: int, paint: Paint = unpainted) -> str:
    """A lesson as it is printed, of so many.

    Examples
    --------
    >>> print(page(Lesson(1, "One line", (Words("Type it:"), Typed("a.wire", False, 'board "A"'))), 2))
    Lesson 1 of 2: One line
    <BLANKLINE>
    Type it:
    <BLANKLINE>
        board "A"
    <BLANKLINE>
    ...
    Next: wirecheck guide 2
    """
    heading = f"Lesson {lesson.number} of {number}: {lesson.title}"
    last = lesson.number == number
    end = (
        f"That was the last of {counted(number, 'lesson')}."
        if last
        else f"Next: wirecheck guide {lesson.number + 1}"
    )
    return f"{told(heading, lesson, paint)}\n{wrapped(CAUTION, '')}\n\n{end}\n"


def told(heading: str, lesson: Lesson, paint: Paint = unpainted) -> str:
    """What a lesson says, under a heading."""
    return "\n\n".join([paint(heading, "heading"), *map(_printed, lesson.blocks)]) + "\n"


def _printed(block: Words | Typed | Asked) -> str:
    if isinstance(block, Words):
        return wrapped(block.text, "")
    return textwrap.indent(block.text.strip("\n"), "    ")
