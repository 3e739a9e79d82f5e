"""Libraries for the tests of the parts room."""

from __future__ import annotations

from wirecheck import files
from wirecheck.language.reader import read
from wirecheck.parts.library import Library
from wirecheck.parts.part import Part
from wirecheck.parts.read import part

SHIPPED = Library(files.part_text, files.part_names)


def of(**texts: str) -> Library:
    """A library of just these part files; an underscore in a name stands for a hyphen."""
    named = {name.replace("_", "-"): text for name, text in texts.items()}
    return Library(named.get, lambda: named)


def alone(text: str) -> Part:
    """The part that a text describes, with no library behind it."""
    return part(read(text, "part.wire"))
