"""The devices that a board can have, to choose from: each with its words, its values and a picture."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from wirecheck.language.syntax import Quantity, Word

if TYPE_CHECKING:
    from wirecheck.model.board import Device
    from wirecheck.page.question import Question
    from wirecheck.parts.library import Library
    from wirecheck.parts.part import Part


def parts_answer(path: str, asked: Question) -> str:
    """All parts of the library and of the board's folder that a line for a device can name.

    Parameters
    ----------
    path : where the board's file is, beside which its own parts may lie
    asked : whose board it is; nothing else of it counts
    """
    from wirecheck import files
    from wirecheck.assembly import library_beside

    library = library_beside(path)
    words: dict[str, list[str]] = {}
    for word, (name, _) in files.part_words().items():
        words.setdefault(name, []).append(word)
    parts = [part for name in library.names() if (part := library.part(name)) is not None]
    devices = _devices(parts, library)
    return json.dumps(
        {
            "parts": [
                _told(part, words.get(part.name, []), devices[part.name])
                for part in parts
                if part.name in devices
            ]
        }
    )


def _told(part: Part, words: list[str], device: Device) -> dict[str, Any]:
    from wirecheck.drawing.small import small_picture
    from wirecheck.model.devices import as_said

    roles = {terminal.role for terminal in part.terminals.values()}
    return {
        "name": part.name,
        "title": part.title,
        "words": words,
        "values": [
            {
                "name": one.name,
                "values": [as_said(part, one, value) for value in one.values if _can_be_said(value)],
                "says": one.text,
            }
            for one in part.ratings.values()
        ],
        # A machine has a case of its own, and a thermostat of 24 V hangs on its own plate.
        "alone": bool(part.children or (part.calls and roles & {"class-2", "class-2-common"})),
        "picture": small_picture(device),
    }


def _can_be_said(value: Quantity | Word) -> bool:
    """Whether a line can give a value: before `in` a number without a unit is so many inches."""
    return value.text != "none" and not (isinstance(value, Quantity) and value.dimension == "number")


def _devices(parts: list[Part], library: Library) -> dict[str, Device]:
    """One of each part, on a board of no use, since only a device has signs."""
    from wirecheck.language import reader
    from wirecheck.model.build import build

    lines = "\n".join(f"D{number} is {part.name}" for number, part in enumerate(parts))
    board = build(reader.read(f'board "All"\n{lines}'), library)
    return {device.part.name: device for device in board.devices.values()}
