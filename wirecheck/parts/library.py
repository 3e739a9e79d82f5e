"""The library: parts looked up by name, read when they are first asked for.

It opens no file: it is given the functions that do, and keeps what it has read
as long as it lives. A part that is made of parts brings those with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from wirecheck.language.reader import read
from wirecheck.language.syntax import DeviceStatement, Syntax
from wirecheck.language.words import nearest
from wirecheck.parts.part import Part
from wirecheck.parts.read import part

# A part within a part within a part: no equipment goes deeper, and a file that does is a slip.
MOST_DEEP = 12
# Parts inside one part, all levels counted: a bound for files that double at each level.
MOST_INSIDE = 500


class Library:
    """Parts by name.

    Parameters
    ----------
    text_of : the text of the part file of that name, or None where there is none;
        a user's own part comes before a shipped one of the same name.
    names : every name that `text_of` knows.

    Examples
    --------
    >>> texts = {"link": 'part link "A wire"\\nterminal a contact\\nterminal b contact\\na -- b'}
    >>> library = Library(texts.get, lambda: texts)
    >>> library.part("link").title
    'A wire'
    >>> library.part("chain") is None
    True
    """

    def __init__(self, text_of: Callable[[str], str | None], names: Callable[[], Iterable[str]]) -> None:
        self._text_of = text_of
        self._names = names
        self._read: dict[str, Part | None] = {}
        self._inside: dict[str, int] = {}

    def names(self) -> list[str]:
        """Every part's name, in order of the alphabet; nothing is read for it."""
        return sorted(self._names())

    def part(self, name: str) -> Part | None:
        """The part of that name, or None where the library has none."""
        return self._part(name, ())

    def _part(self, name: str, around: tuple[str, ...]) -> Part | None:
        if name not in self._read:
            text = self._text_of(name)
            self._read[name] = None if text is None else self._make(name, text, around)
        return self._read[name]

    def _make(self, name: str, text: str, around: tuple[str, ...]) -> Part:
        """Read a part, and before it the parts that it is made of."""
        source = read(text, f"{name}.wire")
        inside: dict[str, Part] = {}
        refused: dict[str, tuple[str, str | None]] = {}
        count = 1
        for child in _children(source):
            reason = self._refusal(child, (*around, name))
            if reason is None:
                count += self._inside.get(child, 1)
                if count > MOST_INSIDE:
                    reason = (f"With {child}, {name} would be made of more than {MOST_INSIDE} parts.", None)
            if reason is not None:
                refused[child] = reason
        inside = {inner: made for inner, made in self._read.items() if made is not None}
        self._inside[name] = min(count, MOST_INSIDE)
        return part(source, inside, refused)

    def _refusal(self, name: str, around: tuple[str, ...]) -> tuple[str, str | None] | None:
        """Why a part cannot be inside those around it, if it cannot."""
        if name in around:
            circle = ", which is in ".join(reversed(around[around.index(name) :]))
            return f"{name} cannot be inside itself: {name} is in {circle}.", None
        if len(around) > MOST_DEEP:
            return f"{name} would be the {len(around)}th part within a part; {MOST_DEEP} is the most.", None
        if self._part(name, around) is None:
            near = nearest(name, self.names())
            advice = f"Did you mean {near}?" if near else "See the list with: wirecheck parts"
            return f"There is no part called {name} in the library.", advice
        return None


def _children(source: Syntax) -> Iterable[str]:
    """The parts that a part file names as its own, each as often as it does."""
    return (said.part.text for said in source.statements if isinstance(said, DeviceStatement))
