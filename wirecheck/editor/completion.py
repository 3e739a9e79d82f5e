"""What may be written next: the grammar says of what kind, and the board which of that kind there are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Literal, NamedTuple

from wirecheck.drawing.colors import INSULATION
from wirecheck.editor.loose import free_screws, loose_wires, place_at
from wirecheck.editor.opened import Opened
from wirecheck.editor.part_names import names_of_part, offered_in_part
from wirecheck.language.begun import Begun, begun
from wirecheck.language.mentions import Kind
from wirecheck.language.part_mentions import Kind as PartKind
from wirecheck.language.quantity import SYMBOLS, units_of
from wirecheck.language.words import FORMS, OF_TROUBLES
from wirecheck.model.board import Board
from wirecheck.model.connectors import BOTH_METALS
from wirecheck.model.joins import PUSHED
from wirecheck.model.places import (
    ADDITIONS,
    BOX_FLAGS,
    BOX_KINDS,
    BREAKER_FLAGS,
    GANGS,
    PANEL_FLAGS,
)
from wirecheck.model.runs import CLASS_2_CABLES, MEASURES, POWER_CABLES
from wirecheck.parts.part import Part
from wirecheck.tables.code import LATEST
from wirecheck.tables.rooms import ROOMS

Sort = Literal["statement", "word", "part", "place", "wire", "screw", "device", "unit", "value"]

MOST = 500
"""The most that is offered at once: what more there is comes up once a letter is typed."""

# What the next number of a statement may be, by the word that begins it.
_DIMENSIONS = {
    "ambient": ("temperature",),
    "panel": ("voltage", "current"),
    "subpanel": ("voltage", "current"),
    "breaker": ("current", "length"),
    "box": ("volume", "length"),
    "bundle": ("length",),
    "connector": ("area",),
    "cable": ("length",),
    "wire": ("length", "area"),
    "raceway": ("length",),
}
_NAMED = {"NAME", "LOAD", "SOURCE", "CAP", "STAGE"}


class Offer(NamedTuple):
    """What may be written from `column` on, in the place of what is begun there."""

    text: str
    sort: Sort
    detail: str
    column: int


def completions(now: Opened, line: int, column: int) -> tuple[Offer, ...]:
    """What may be written at a place, the likeliest first; each begins with what is written there.

    Examples
    --------
    >>> from wirecheck.assembly import shipped_parts
    >>> from wirecheck.editor.opened import opened
    >>> text = 'board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A\\nbox A device 18 cu in\\n'
    >>> text += "cable W1 14/2 NM-B 9 ft from LP to A\\nat LP\\n  W1.black -- LP.1\\n  W"
    >>> [offer.text for offer in completions(opened(text, "-", shipped_parts()), 8, 4)][:2]
    ['W1.white', 'W1.bare']
    """
    now_begun = begun(now.rows, line, column)
    if now_begun is None:
        return ()
    found: dict[str, Offer] = {}
    letters = now_begun.prefix.casefold()
    for text, sort, detail in _offered(now, now_begun, line):
        if text not in found and text[: len(letters)].casefold() == letters and text != now_begun.prefix:
            found[text] = Offer(text, sort, detail, now_begun.column)
            if len(found) == MOST:
                break
    return tuple(found.values())


Offered = Iterator[tuple[str, Sort, str]]


def _offered(now: Opened, here: Begun, line: int) -> Offered:
    if here.number:
        yield from ((unit, "unit", "") for unit in _units(now, here))
        return
    if not here.words:
        if now.board is not None:
            yield from _members(now.board, place_at(now.syntax, line), line, set())
        # An empty text may become anything.
        plain = now.board is not None and bool(now.board.title)
        for word, form in FORMS.items():
            if not plain or word in _OF_A_BOARD:
                yield word, "statement", form
        yield from ((name, "device", "") for name in _names(now, "device"))
        yield from _of_part_file(now, here)
        return
    if here.may & _NAMED and now.board is not None:
        yield from _names_for(now, now.board, here, line)
    elif here.may & _NAMED:
        yield from _of_part_file(now, here)
    for word in here.keywords():
        yield word, "word", ""


_OF_A_BOARD = frozenset(FORMS) - {
    *OF_TROUBLES,
    *("exercise", "stage", "show", "part", "source", "rating", "terminal", "positions", "moved", "senses"),
    *("stands", "serves", "calls", "state", "load", "transforms", "protects", "outlet", "fills"),
}


def _units(now: Opened, here: Begun) -> Iterable[str]:
    """The units that fit; those that the ratings of a device have come from its part."""
    dimensions = dict.fromkeys(_DIMENSIONS.get(here.first, ()))
    part = _part(now, here)
    for rating in part.ratings.values() if part else ():
        dimensions |= dict.fromkeys(getattr(value, "dimension", "") for value in rating.values)
    return [unit for one in dimensions for unit in units_of(one)] or SYMBOLS


def _part(now: Opened, here: Begun) -> Part | None:
    """The part of the device whose line this is."""
    texts = [text for _, text in here.words]
    return now.library.part(texts[2]) if len(texts) > 2 and texts[1] == "is" else None


def _names_for(now: Opened, board: Board, here: Begun, line: int) -> Offered:
    """The names and plain words that may come next."""
    texts = [text for _, text in here.words]
    if here.last == "is" and len(texts) == 2:
        yield from ((name, "part", "") for name in now.library.names())
    elif len(texts) > 1 and texts[1] == "is":
        yield from _of_device(now, board, here, texts)
    elif here.last == "--" or (texts[0] == "cap" and len(texts) == 1) or "--" in texts:
        yield from _of_join(now, board, here, line, texts)
    elif texts[0] in _WORDS:
        yield from _WORDS[texts[0]](now, board, texts)


def _of_part_file(now: Opened, here: Begun) -> Offered:
    """The names of a part's own things, and behind `is` the parts that it may be made of."""
    if here.last == "is" and len(here.words) == 2 and names_of_part(now):
        yield from ((name, "part", "") for name in now.library.names())
    for name, kind in offered_in_part(now, here):
        yield name, _SORTS[kind], kind


_SORTS: dict[PartKind, Sort] = {
    "terminal": "screw",
    "rating": "value",
    "load": "device",
    "outlet": "device",
    "state": "word",
    "call": "value",
    "position": "value",
    "device": "device",
}


def _of_device(now: Opened, board: Board, here: Begun, texts: list[str]) -> Offered:
    if here.last == "in":
        yield from _places(board)
    elif here.last in ("of", "from"):
        yield from ((name, "device", "") for name in _names(now, "device"))
    else:
        part = _part(now, here)
        for rating in part.ratings.values() if part else ():
            if "with" in texts:
                yield rating.name, "value", rating.text
            for value in rating.values:
                yield value.text, "value", rating.text or rating.name


def _of_join(now: Opened, board: Board, here: Begun, line: int, texts: list[str]) -> Offered:
    if here.last == "marked":
        yield from ((color, "value", "") for color in INSULATION)
    elif here.last == "connector":
        yield from ((name, "word", "") for name in (*_names(now, "connector"), BOTH_METALS))
    elif here.last == ",":
        yield "connector", "word", ""
        yield PUSHED, "word", ""
    elif here.last in ("--", "cap"):
        yield from _members(board, place_at(now.syntax, line), line, set(texts))


def _members(board: Board, place: str, line: int, joined: set[str]) -> Offered:
    """The wires of a place that are loose, and the screws of it that are free."""
    if not place:
        return
    for wire in loose_wires(board, place, line):
        if wire.name not in joined:
            other = wire.places[0] if wire.places[1] == place else wire.places[1]
            yield wire.name, "wire", f"to {other}"
    for screw in free_screws(board, place, line):
        if screw.name not in joined or "bar" in screw.spec.flags:
            yield screw.name, "screw", screw.spec.text


def _places(board: Board) -> Offered:
    yield from ((name, "place", "panel") for name in board.panels)
    yield from ((name, "place", f"{box.kind} box") for name, box in board.boxes.items())
    for name, device in board.devices.items():
        if device.place == name:
            yield name, "place", device.part.name


def _names(now: Opened, *kinds: Kind) -> list[str]:
    return list(dict.fromkeys(one.name for one in now.mentions if one.makes and one.kind in kinds))


def _plain(words: Iterable[str]) -> Offered:
    yield from ((word, "word", "") for word in words)


def _of_run(now: Opened, board: Board, texts: list[str]) -> Offered:
    if texts[-1] in ("from", "to"):
        yield from _places(board)
    elif texts[-1] == "in":
        yield from ((name, "place", "raceway") for name in _names(now, "raceway"))
    elif texts[-1] in ("(", ",") and "(" in texts:
        yield from _plain(MEASURES)
    elif texts[0] == "cable" and len(texts) == 3:
        yield from _plain(sorted(POWER_CABLES | CLASS_2_CABLES))
    elif texts[0] == "wire" and len(texts) == 3:
        yield from _plain(dict.fromkeys(row["insulation"] for row in LATEST.rows("insulation")))
    elif texts[0] == "wire" and len(texts) == 4:
        yield from _plain(INSULATION)


def _of_box(_now: Opened, _board: Board, texts: list[str]) -> Offered:
    if len(texts) == 2:
        yield from _plain(BOX_KINDS)
    elif "," in texts:
        yield from _plain((*ADDITIONS, *GANGS))
    elif len(texts) > 2:
        yield from _plain(BOX_FLAGS)


def _of_breaker(now: Opened, board: Board, texts: list[str]) -> Offered:
    if len(texts) == 1:
        yield from ((name, "place", "panel") for name in board.panels)
    elif texts[-1] == "to":
        yield from ((name, "device", "breaker") for name in board.breakers)
    elif texts[-1] in ("of", "from"):
        yield from ((name, "device", "") for name in _names(now, "device"))
    elif texts[-1] == "leg":
        panel = next((one for one in board.panels.values() if board.breakers.get(texts[1])), None)
        yield from _plain(panel.legs if panel else ("a", "b", "c"))
    elif len(texts) > 2:
        yield from _plain(BREAKER_FLAGS)


def _of_room(_now: Opened, board: Board, texts: list[str]) -> Offered:
    if len(texts) == 1:
        yield from _plain(ROOMS)
    else:
        yield from _places(board)
        yield from ((name, "device", device.part.name) for name, device in board.devices.items())


def _of_expect(_now: Opened, board: Board, texts: list[str]) -> Offered:
    if len(texts) == 1 or texts[-1] in ("of", "and"):
        calls = dict.fromkeys(call for device in board.devices.values() for call in device.part.calls)
        yield from ((call, "value", "call") for call in calls)
    if texts[-1] not in ("of", "and"):
        for name, device in board.devices.items():
            yield name, "device", device.part.name
            for load in device.part.loads:
                yield f"{name}.{load.name}", "device", load.kind
            for child in device.children:
                yield child.name, "device", child.part.name


def _of_place(_now: Opened, board: Board, texts: list[str]) -> Offered:
    if len(texts) == 1:
        yield from _places(board)


def _of_bundle(now: Opened, _board: Board, texts: list[str]) -> Offered:
    if texts[-1] in ("bundle", ","):
        yield from ((name, "wire", "") for name in _names(now, "cable"))


def _of_inside(_now: Opened, board: Board, texts: list[str]) -> Offered:
    if texts[-1] in ("jumper", "--", "lift", "swap", ","):
        for device in board.devices.values():
            yield from (
                (f"{device.name}.{name}", "screw", one.text) for name, one in device.part.terminals.items()
            )
            for child in device.children:
                for name, one in child.part.terminals.items():
                    yield f"{child.name}.{name}", "screw", one.text


def _of_panel(_now: Opened, _board: Board, texts: list[str]) -> Offered:
    if texts[0] == "subpanel" and len(texts) > 2:
        yield from _plain(PANEL_FLAGS)


_WORDS: dict[str, Callable[[Opened, Board, list[str]], Offered]] = {
    "cable": _of_run,
    "wire": _of_run,
    "raceway": _of_run,
    "box": _of_box,
    "breaker": _of_breaker,
    "room": _of_room,
    "expect": _of_expect,
    "at": _of_place,
    "bundle": _of_bundle,
    "jumper": _of_inside,
    "lift": _of_inside,
    "swap": _of_inside,
    "panel": _of_panel,
    "subpanel": _of_panel,
}
