"""The library: parts looked up by name, read when they are first asked for.

It opens no file: it is given the functions that do, and keeps what it has read
as long as it lives. A part that is made of parts brings those with it.
"""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Callable, Iterable, Mapping
from itertools import chain, islice
from typing import NamedTuple

from wirecheck.language.reader import read
from wirecheck.language.syntax import DeviceStatement, PartTitle, Syntax
from wirecheck.language.words import nearest
from wirecheck.parts.part import Part
from wirecheck.parts.read import part

# A part within a part within a part: no equipment goes deeper, and a file that does is a slip.
MOST_DEEP = 12
# Parts inside one part, all levels counted: a bound for files that double at each level.
MOST_INSIDE = 500
# Names that a misspelt one is compared with, and misspelt ones for which that is done.
MOST_COMPARED = 300
MOST_NEAR = 50


class PartFile(NamedTuple):
    """What was found under a part's name: the text of its file, or why that is not read.

    `file` is its path, as the user would type it, and None for a part that ships. `beside` is whether it
    lies beside the board, where whoever wrote the board may have written it. `unread` is why it cannot be
    used, in words that follow "since", and `help` what to do about that.
    """

    text: str
    file: str | None = None
    beside: bool = False
    unread: str = ""
    help: str | None = None


def not_used(file: str, before: str | None) -> str:
    """That a part's file is not used, since a part that ships has its name, or one that comes before it.

    >>> not_used("work/lampholder.wire", None)
    'work/lampholder.wire is not used, since a part that ships has its name.'
    """
    why = f"{before} comes before it" if before else "a part that ships has its name"
    return f"{file} is not used, since {why}."


class Library:
    """Parts by name.

    Parameters
    ----------
    text_of : the text of the part file of that name, or a `PartFile` that says where it is from; None
        where there is none.
    names : every name that `text_of` knows.
    words : other words for its parts, in small letters, each with its part and what to know of it.
    first : a library whose parts come before these; it never asks for one of these, not even inside its own.
    taken : the file of that name that `text_of` would read, where it is another than that of the part of
        this name in `first`.

    Examples
    --------
    >>> texts = {"link": 'part link "A wire"\\nterminal a contact\\nterminal b contact\\na -- b'}
    >>> library = Library(texts.get, lambda: texts)
    >>> library.part("link").title
    'A wire'
    >>> library.part("chain") is None
    True
    >>> library.missing("lnik")
    ('There is no part called lnik in the library.', 'Did you mean link?')
    """

    def __init__(
        self,
        text_of: Callable[[str], str | PartFile | None],
        names: Callable[[], Iterable[str]],
        first: Library | None = None,
        taken: Callable[[str, str | None], str | None] = lambda name, before: None,
        words: Callable[[], Mapping[str, tuple[str, str]]] = dict,
    ) -> None:
        self._text_of = text_of
        self._names = names
        self._first = first
        self._taken = taken
        self._words = words
        self._read: dict[str, Part | None] = {}
        self._unread: dict[str, PartFile] = {}
        self._inside: dict[str, int] = {}
        self._deep: dict[str, int] = {}
        self._near: dict[str, str | None] = {}

    def names(self) -> list[str]:
        """Every part's name, in order of the alphabet; nothing is read for it."""
        return sorted({*self._names(), *(self._first.names() if self._first else ())})

    def part(self, name: str) -> Part | None:
        """The part of that name, or None where the library has none; `missing` says why."""
        return self._part(name, ())

    def missing(self, name: str) -> tuple[str, str | None]:
        """Why there is no part of that name, and what to do: the near name, or what its file lacks."""
        found = self.unread(name)
        if found is not None:
            return f"The part {name} is not read from {found.file}, since {found.unread}.", found.help
        near, note = self._meant(name)
        advice = f"Did you mean {near}?" if near else "See the list with: wirecheck parts"
        advice += f" {note}" if note else ""
        if self._first is not None:
            advice += f"{'' if near else '.'} A part of your own is in the file of its name, {name}.wire."
        return f"There is no part called {name} in the library.", advice

    def passed_over(self, name: str) -> tuple[str, str | None] | None:
        """The file that is not used since a part of its name comes before it, and the file of that part."""
        before = self._first.part(name) if self._first else None
        file = self._taken(name, before.file) if before else None
        return (file, before.file) if before and file else None

    def unread(self, name: str) -> PartFile | None:
        """The file of a part that was asked for, where it is there and cannot be used."""
        return self._unread.get(name) or (self._first.unread(name) if self._first else None)

    def _knows(self, name: str) -> bool:
        return self._part(name, ()) is not None or self.unread(name) is not None

    def _part(self, name: str, around: tuple[str, ...]) -> Part | None:
        if self._first is not None and self._first._knows(name):
            return self._first.part(name)
        if name not in self._read:
            self._read[name] = None  # Whoever asks for it meanwhile is inside it.
            self._read[name] = self._made(name, around)
        return self._read[name]

    def _made(self, name: str, around: tuple[str, ...]) -> Part | None:
        """The part of a file, where there is one and it can be used."""
        found = self._text_of(name)
        if found is None:
            return None
        if isinstance(found, str):
            found = PartFile(found)
        file = found.file or f"{name}.wire"
        source = read(found.text, file)
        title = next((one.name.text for one in source.statements if isinstance(one, PartTitle)), name)
        if title != name:
            found = found._replace(
                unread=f"the part in it is called {title}",
                help=f"Give both one name: call the file {title}.wire, or begin it with: part {name}",
            )
        if found.unread:
            self._unread[name] = found._replace(text="", file=file)
            return None
        return self._make(name, source, around)._replace(name=name, file=found.file, beside=found.beside)

    def _make(self, name: str, source: Syntax, around: tuple[str, ...]) -> Part:
        """Read a part, and before it the parts that it is made of."""
        refused: dict[str, tuple[str, str | None]] = {}
        count = deep = 1
        for child in _children(source):
            reason = refused.get(child) or self._refusal(child, (*around, name))
            if reason is None:
                count += self._count(child)
                if count > MOST_INSIDE:
                    reason = (f"With {child}, {name} would be made of more than {MOST_INSIDE} parts.", None)
            if reason is None:
                deep = max(deep, 1 + self._levels(child))
            else:
                refused[child] = reason
        self._inside[name] = min(count, MOST_INSIDE)
        self._deep[name] = deep
        return part(source, self._all_read(), refused)

    def _count(self, name: str) -> int:
        """The parts that a part is made of, itself counted."""
        return self._inside.get(name) or (self._first._count(name) if self._first else 1)

    def _levels(self, name: str) -> int:
        """How many parts stand in one another in a part, itself counted."""
        return self._deep.get(name) or (self._first._levels(name) if self._first else 1)

    def _all_read(self) -> Mapping[str, Part | None]:
        return ChainMap(self._read, self._first._read) if self._first else self._read

    def _refusal(self, name: str, around: tuple[str, ...]) -> tuple[str, str | None] | None:
        """Why a part cannot be inside those around it, if it cannot."""
        if name in around:
            circle = ", which is in ".join(reversed(around[around.index(name) :]))
            return f"{name} cannot be inside itself: {name} is in {circle}.", None
        if len(around) > MOST_DEEP:
            return f"{name} would be the {len(around)}th part within a part; {MOST_DEEP} is the most.", None
        if self._part(name, around) is None:
            return self.missing(name)
        levels = len(around) + self._levels(name) - 1
        if levels > MOST_DEEP:
            return f"With {name} there would be {levels} parts within a part; {MOST_DEEP} is the most.", None
        return None

    def _meant(self, name: str) -> tuple[str | None, str]:
        """The part that a word of the trade stands for, or that a misspelt name is near, and what to know."""
        words = {**(self._first._words() if self._first else {}), **self._words()}
        written = name.casefold().replace("_", "-")
        if written in words:
            return words[written]
        near, word = self._nearest(name), nearest(written, words)
        if word is not None and word != near and (near is None or nearest(written, (near, word)) == word):
            return words[word]
        return near, ""

    def _nearest(self, name: str) -> str | None:
        """The part that a misspelt name most likely meant; a file that holds no part is none."""
        if name not in self._near and len(self._near) < MOST_NEAR:
            self._near[name] = None
            before = self._first.names() if self._first else []
            for names in (chain(before, islice(self._names(), MOST_COMPARED)), before):
                near = nearest(name, names)
                if near is not None and self.part(near) is not None:
                    self._near[name] = near
                    break
        return self._near.get(name)


def _children(source: Syntax) -> Iterable[str]:
    """The parts that a part file names as its own, each as often as it does."""
    return (said.part.text for said in source.statements if isinstance(said, DeviceStatement))
