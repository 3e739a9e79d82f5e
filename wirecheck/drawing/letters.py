"""How wide words are: the measure that places are computed from.

The drawings are set in Bitstream Vera Sans, whose file travels with reportlab
(Bitstream Vera license); DejaVu Sans has the same letters and widths, and
Verdana nearly so, which is why a page asks for these three in that order.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from functools import lru_cache
from itertools import pairwise

from wirecheck import font

FAMILY = "DejaVu Sans,Bitstream Vera Sans,Verdana,sans-serif"
SMALLEST = 8.5
"""The size of the smallest words on a drawing: at a screw, in a flag, at a sign."""
BOLD_FAMILY = f"bold,{FAMILY}"
"""How a bold label is told to Graphviz, which knows no weights of these faces; `render` makes it a weight."""


_advances = lru_cache(maxsize=2)(font.widths)


@lru_cache(maxsize=8192)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line of text, in points.

    A letter that the font has not is taken as one em, the widest that the
    faces which stand in for it use.

    >>> round(text_width("common", 10), 1)
    43.6
    """
    return _length(text, bold) * size / 1000


@lru_cache(maxsize=8192)
def _length(text: str, bold: bool) -> float:
    """Width of a line of text in thousandths of its size; a sum of them is exact, in any order."""
    advances = _advances(bold)
    return sum(advances.get(ord(letter), 1000.0) for letter in text)


_WORD = re.compile(r"\(?line \d\S*|\d[\d.,/]* (?:cu in|V|A|W|VA|kA|ft|in|s)\b\S*|\S+")
"""A word, or a number with its unit or with the word before it."""
_PART = re.compile(r"[^-.]*[-.]+|[^-.]+")
"""A part of a word, with the hyphen or the dot behind it."""


def wrap(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Lines of a text, none wider than `width` points where its words allow.

    >>> wrap("W1.black is loose at A", 60, 8)
    ['W1.black is', 'loose at A']

    A number stays with its unit or with the word before it.

    >>> wrap("It gets 14.5 V (line 9).", 45, 8)
    ['It gets', '14.5 V', '(line 9).']
    """
    lines: list[str] = []
    line, long = "", 0.0
    space = _length(" ", bold)
    for word in _WORD.findall(text):
        for number, piece in enumerate(_pieces(word, width, size, bold)):
            more = _length(piece, bold)
            if not line:
                line, long = piece, more
            elif number or (long + space + more) * size / 1000 > width:
                lines.append(line)
                line, long = piece, more
            else:
                line, long = f"{line} {piece}", long + space + more
    return [*lines, line] if line else lines


def evenly(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Lines of a text as few as by `wrap`, and about as long as one another: none has but a letter.

    >>> wrap("cutout out-1 to lower a", 90, 8.5), evenly("cutout out-1 to lower a", 90, 8.5)
    (['cutout out-1 to lower', 'a'], ['cutout out-1', 'to lower a'])
    """
    lines = wrap(text, width, size, bold)
    if len(lines) < 2:
        return lines
    widest = max(text_width(word, size, bold) for word in _WORD.findall(text))
    least = max(text_width(text, size, bold) / len(lines), widest)
    narrower = range(math.ceil(least), int(width))
    found = bisect_left(narrower, -len(lines), key=lambda wide: -len(wrap(text, wide, size, bold)))
    return wrap(text, narrower[found], size, bold) if found < len(narrower) else lines


def _pieces(word: str, width: float, size: float, bold: bool) -> list[str]:
    """A word, cut where it is wider than the column: behind its hyphens and dots where that is enough.

    >>> _pieces("power-vent-water-heater", 70, 8.5, False), _pieces("compressoroverload", 60, 8.5, False)
    (['power-vent-', 'water-heater'], ['compresso', 'roverload'])
    """
    most = width * 1000 / size
    if _length(word, bold) <= most:
        return [word]
    pieces: list[str] = []
    for part in _PART.findall(word):
        if pieces and _length(pieces[-1] + part, bold) <= most:
            pieces[-1] += part
            continue
        if pieces and _length(part, bold) > most:
            part = pieces.pop() + part
        counts = range(math.ceil(_length(part, bold) / most), len(part) + 1)
        cuts = (_even_pieces(part, count) for count in counts)
        pieces += next(
            (cut for cut in cuts if all(_length(piece, bold) <= most for piece in cut)), list(part)
        )
    return pieces


def _even_pieces(part: str, count: int) -> list[str]:
    ends = [len(part) * number // count for number in range(count + 1)]
    return [part[start:end] for start, end in pairwise(ends)]


def shorten(text: str, width: float, size: float, bold: bool = False) -> str:
    """The text, or as much of it as fits with three dots after.

    >>> shorten("a very long title indeed", 60, 8)
    'a very long...'
    """
    if text_width(text, size, bold) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle].rstrip() + "...", size, bold) <= width:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "..."


def printable(text: str) -> str:
    r"""The text without the characters that a picture cannot hold.

    >>> printable("a\x00b\tc")
    'a?b c'
    """
    return "".join(" " if letter in "\t\n\r" else letter if letter.isprintable() else "?" for letter in text)
