"""Wiring by hand: what a hand does to a wire's end or a screw, as a change of the board's text.

Each deed is one of the changes that a mend makes (`wirecheck/mend/edits.py`), so that a board that is wired
by hand reads as one that was mended.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Literal, NamedTuple, get_args

from wirecheck.language.names import of_end

if TYPE_CHECKING:
    from wirecheck.mend.edits import Edit
    from wirecheck.mend.sheet import Sheet
    from wirecheck.model.board import Board
    from wirecheck.page.question import Question

Act = Literal["put", "swap", "off", "cap", "mark", "tail"]
"""Put on a screw or on another wire; exchange two; take off; cap; mark in a color; splice with a tail."""
ACTS: tuple[Act, ...] = get_args(Act)


class Deed(NamedTuple):
    """What a hand does in a place to a wire's end or a screw, `one`; `other` is where it goes, or a color."""

    act: Act
    place: str
    one: str
    other: str = ""


class CannotBe(ValueError):
    """A deed that the board has no place for; the message says why."""


def deed_answer(path: str, asked: Question) -> str:
    """The board's text with the deed done, or why it cannot be.

    Parameters
    ----------
    path : where the board's file is, beside which its own parts may lie
    asked : the text, and the deed
    """
    from wirecheck.assembly import NotABoard, library_beside, read
    from wirecheck.mend.sheet import sheet
    from wirecheck.model.build import build

    assert asked.deed is not None
    try:
        syntax = read(asked.text, asked.file)
        before = sheet(syntax)
        board = build(syntax, library_beside(path))
        done = _done(before, board, asked.deed)
    except NotABoard as error:
        return json.dumps({"refused": f"This is no board yet: {error}."})
    except CannotBe as error:
        return json.dumps({"refused": str(error)})
    return json.dumps({"text": done.text(), "says": _said(before, done, board, asked.deed)})


def _done(now: Sheet, board: Board, deed: Deed) -> Sheet:
    """The sheet with the deed done.

    Raises
    ------
    CannotBe
        The board lacks what is named in that place, or nothing changes.
    """
    from wirecheck.language.words import nearest
    from wirecheck.mend.edits import edited

    wires, screws = wires_in(board, deed.place), screws_in(board, deed.place)
    for name in (deed.one, *([deed.other] if deed.act in ("put", "swap") else [])):
        if name not in wires and name not in screws:
            near = nearest(name, [*wires, *screws])
            raise CannotBe(f"There is no {name} in {deed.place}.{f' Did you mean {near}?' if near else ''}")
    if deed.act in ("put", "swap") and deed.one == deed.other:
        raise CannotBe(f"{deed.one} is where it is.")
    changed = _off(now, deed) if deed.act == "off" else _joined(now, deed, screws)
    edit = None if changed else _edit(now, board, deed, wires)
    if edit is not None:
        changed = edited(now, edit)
    # What a sheet means leaves out caps and tails, which the other deeds change.
    if changed is None or (deed.act in ("put", "swap") and changed.meaning == now.meaning):
        raise CannotBe(_why_not(deed))
    return changed


def _edit(now: Sheet, board: Board, deed: Deed, wires: tuple[str, ...]) -> Edit | None:
    from wirecheck.drawing.colors import INSULATION
    from wirecheck.mend.edits import Cap, Exchange, Jumper, Mark, Move, Pigtail, Tail

    place, one, other = deed.place, deed.one, deed.other
    match deed.act:
        case "swap":
            return Exchange(place, one, other)
        case "cap" if one in wires:
            return Cap(place, one)
        case "mark" if one in wires and (not other or other in INSULATION):
            return Mark(place, one, other or None)
        case "tail" if one not in wires:
            return Pigtail(place, one)
        case "put" if one in wires:
            return Move(place, one, other, fresh=_is_bar(board, other))
        case "put" if other in wires and _stays(now, board, place, other):
            leaves = sorted(_beside(now, place, one) - {one})
            return None if other in leaves else Tail(place, other, one, leaves[0] if leaves else None)
        case "put" if other in wires:
            return Move(place, other, one, fresh=_is_bar(board, one))
        case "put" if _beside(now, place, one):
            return Jumper(place, other, one)
        case "put":
            return Jumper(place, one, other)
    return None


def _joined(now: Sheet, deed: Deed, screws: tuple[str, ...]) -> Sheet | None:
    """A wire of its own between two screws that have nothing on them, as inside a machine; else nothing.

    Raises
    ------
    CannotBe
        Both have something on them, and one is to be put on the other.
    """
    from wirecheck.mend.sheet import as_join

    both = (deed.one, deed.other)
    used = [_beside(now, deed.place, name) for name in both]
    if deed.act != "put" or not set(both).issubset(screws) or used[0] & used[1]:
        return None
    if all(used):
        raise CannotBe(f"{deed.one} and {deed.other} both have something on them: take one off first.")
    return None if any(used) else now.added(deed.place, as_join(tuple((name, None) for name in both)))


def _stays(now: Sheet, board: Board, place: str, wire: str) -> bool:
    """Whether a wire stays where it is while a screw is put on it: in a splice, or on a screw."""
    return any(name != wire and not _is_bar(board, name) for name in _beside(now, place, wire))


def _off(now: Sheet, deed: Deed) -> Sheet | None:
    """A wire's end or a screw out of its join, or the cap off an end."""
    from wirecheck.language.syntax import CapStatement
    from wirecheck.mend.edits import Part, edited

    for number, line in now.inside(deed.place):
        if isinstance(line.statement, CapStatement) and line.statement.name.text == deed.one:
            return now.changed(number, None)
    for *_, members in now.joins(deed.place):
        joined = [name for name, _ in members if name is not None]
        if deed.one in joined:
            beside = next((name for name in joined if name != deed.one), deed.one)
            return edited(now, Part(deed.place, deed.one, beside))
    return None


def _beside(now: Sheet, place: str, name: str) -> frozenset[str]:
    """What is joined with a wire's end or a screw in a place, itself among it; nothing where nothing is."""
    for *_, members in now.joins(place):
        joined = frozenset(each for each, _ in members if each is not None)
        if name in joined:
            return joined
    return frozenset()


def _said(before: Sheet, after: Sheet, board: Board, deed: Deed) -> str:
    """What was done, and what is on nothing since."""
    one, other = deed.one, deed.other
    alone = _beside(after, deed.place, other) == {one, other}
    tail = "" if alone or one not in board.terminals or other in board.terminals else " by a tail"
    words = {
        "put": f"{one} is on {other}{tail}.",
        "swap": f"{one} and {other} are swapped.",
        "off": f"{one} is off.",
        "cap": f"{one} is capped.",
        "mark": f"{one} is marked {other}." if other else f"{one} has no mark.",
        "tail": f"{one} has a tail.",
    }[deed.act]
    was = _beside(before, deed.place, one) | _beside(before, deed.place, other)
    left = [each for each in sorted(was - {one, other}) if not _beside(after, deed.place, each)]
    wires = [of_end(each) for each in left if each not in board.terminals]
    screws = [each for each in left if each in board.terminals and not _is_bar(board, each)]
    told = [
        f"{' and '.join(names)} {'is' if len(names) == 1 else 'are'} {what}."
        for names, what in ((wires, "loose"), (screws, "empty"))
        if names
    ]
    return " ".join([words, *told])


def _why_not(deed: Deed) -> str:
    match deed.act:
        case "off":
            return f"{deed.one} is on nothing in {deed.place}."
        case "tail":
            return f"For a splice with a tail to {deed.one}, two wires or more must be on that screw."
        case "mark":
            return f"{deed.one} must be joined in {deed.place}, and is marked in a color that wires have."
    return f"That changes nothing at {deed.one} in {deed.place}, or cannot be done there."


def _is_bar(board: Board, name: str) -> bool:
    """Whether it is a bar, which has a screw of its own for each wire."""
    return name in board.terminals and "bar" in board.terminals[name].spec.flags


def places_of(board: Board) -> list[str]:
    """The places in which something can be wired."""
    places = [place for conductor in board.conductors.values() for place in conductor.places]
    return list(dict.fromkeys([*places, *(terminal.place for terminal in board.terminals.values())]))


def wires_in(board: Board, place: str) -> tuple[str, ...]:
    """The wires with an end in a place, as a join there names them."""
    return tuple(conductor.name for conductor in board.conductors.values() if place in conductor.places)


def screws_in(board: Board, place: str) -> tuple[str, ...]:
    """The screws in a place."""
    return tuple(terminal.name for terminal in board.terminals.values() if terminal.place == place)
