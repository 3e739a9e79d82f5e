"""The font of the pictures: where its files are, and how wide each of its letters is, as they say.

Source: OpenType 1.9.1: the tables `head` (units to the em), `hhea` and `hmtx` (widths of glyphs) and `cmap`
(the glyph of a letter, in format 4).
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from pathlib import Path

from wirecheck import files

_BASIC, _WINDOWS = 1, 3
"""The encoding of a map that has the letters of Unicode to U+FFFF, and whose platform numbers it so."""
_FORMAT = 4
_SPACE, _NO_BREAK = 0x20, 0xA0


class NotAFont(ValueError):
    """A file is no font, or has no map of letters that is read here."""


def paths() -> tuple[Path, Path]:
    """The regular and the bold face, as files.

    >>> [path.name for path in paths()]
    ['Vera.ttf', 'VeraBd.ttf']
    """
    return files.font_path(bold=False), files.font_path(bold=True)


def widths(bold: bool) -> dict[int, float]:
    """How wide each letter is that the font has, in thousandths of its size.

    >>> widths(False)[ord("m")], widths(True)[ord("m")]
    (974.12109375, 1041.9921875)
    """
    return widths_in(files.font(bold))


def widths_in(face: bytes) -> dict[int, float]:
    """The same of any font, by the number of the letter.

    Parameters
    ----------
    face : what is in a font's file

    Raises
    ------
    NotAFont
        It is none.

    Examples
    --------
    >>> widths_in(b"no font at all")
    Traceback (most recent call last):
    wirecheck.font.NotAFont: ...
    """
    try:
        tables = _tables(face)
        em = struct.unpack_from(">H", tables["head"], 18)[0]
        wide = struct.unpack_from(">H", tables["hhea"], 34)[0]
        advances = [struct.unpack_from(">H", tables["hmtx"], 4 * glyph)[0] for glyph in range(wide)]
        # The glyphs after those that have a width have that of the last.
        found = {
            letter: advances[min(glyph, wide - 1)] * 1000 / em for letter, glyph in _glyphs(tables["cmap"])
        }
        # Whatever its glyph says, it is set as a space is, at which no line breaks.
        return found | {_NO_BREAK: found[_SPACE]}
    except (struct.error, KeyError, IndexError, ZeroDivisionError) as error:
        raise NotAFont("the file holds no font that can be read") from error


def _tables(face: bytes) -> dict[str, bytes]:
    """The tables of a font, by their names."""
    found = {}
    for number in range(struct.unpack_from(">H", face, 4)[0]):
        name, _, start, size = struct.unpack_from(">4sLLL", face, 12 + 16 * number)
        found[name.decode("latin-1")] = face[start : start + size]
    return found


def _glyphs(maps: bytes) -> Iterator[tuple[int, int]]:
    """Each letter that has a glyph, with it."""
    count = struct.unpack_from(">H", maps, 2)[0]
    places = [struct.unpack_from(">HHL", maps, 4 + 8 * number) for number in range(count)]
    start = next((place for platform, of, place in places if (platform, of) == (_WINDOWS, _BASIC)), None)
    if start is None or struct.unpack_from(">H", maps, start)[0] != _FORMAT:
        raise NotAFont("the font has no map of letters in format 4")
    double = struct.unpack_from(">H", maps, start + 6)[0]
    lasts, firsts, deltas, offsets = (
        start + 14 + place for place in (0, 2 + double, 2 + 2 * double, 2 + 3 * double)
    )
    for segment in range(0, double, 2):
        last, first, delta, offset = (
            struct.unpack_from(">H", maps, place + segment)[0] for place in (lasts, firsts, deltas, offsets)
        )
        for letter in range(first, min(last, 0xFFFE) + 1):
            glyph = letter
            if offset:
                glyph = struct.unpack_from(">H", maps, offsets + segment + offset + 2 * (letter - first))[0]
            if not offset or glyph:
                glyph = (glyph + delta) & 0xFFFF
            if glyph:
                yield letter, glyph
