"""What kind of place the boxes and devices of a board are in, as its `room` lines say."""

from __future__ import annotations

from wirecheck.language import syntax
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Statement
from wirecheck.language.words import nearest
from wirecheck.model.board import Room
from wirecheck.model.draft import Draft
from wirecheck.tables.rooms import OTHER_WORDS, ROOMS


def rooms(statements: tuple[Statement, ...], draft: Draft) -> dict[str, Room]:
    """The room of each place that a line names; a device in no box is its own place.

    A device that is in a box is in the room of its box, and is not asked for here.
    """
    found: dict[str, Room] = {}
    for statement in statements:
        if not isinstance(statement, syntax.RoomStatement):
            continue
        kind = statement.kind.text
        if kind not in ROOMS:
            near = OTHER_WORDS.get(kind.casefold()) or nearest(kind, ROOMS)
            draft.wrong(
                "syntax",
                f"{kind} is no kind of place.",
                statement.kind.span,
                f"Did you mean {near}?" if near else f"A room is one of: {listed(ROOMS)}.",
            )
        places = []
        for word in statement.places:
            device = draft.devices.get(word.text)
            if device is not None and device.place != word.text:
                draft.wrong(
                    "syntax",
                    f"{word.text} is in {device.place}.",
                    word.span,
                    f"Name the box here: {device.place}.",
                )
            elif word.text in draft.broken:
                continue
            elif word.text not in draft.places:
                draft.unknown(word, "The place", list(draft.places))
            elif word.text in found or word.text in places:
                draft.wrong("syntax", f"{word.text} has a room already.", word.span)
            else:
                places.append(word.text)
        if kind in ROOMS:
            there = frozenset(places)
            plugged = (one.name for one in draft.devices.values() if one.place in there and one.part.outlets)
            room = Room(kind, tuple(places), tuple(plugged), statement.span)
            found.update(dict.fromkeys(places, room))
    return found
