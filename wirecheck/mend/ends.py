"""An end of a wire within one place, in words: by what it is on, since the wire has another end there.

Each such end goes through the words of a mend under a sign of its own, and is named when they are made.
"""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from wirecheck.language.names import of_end
from wirecheck.mend.edits import Edit, Exchange, ExchangeAll, IntoWire, Mark, Meet, Rotate, Tail
from wirecheck.mend.sheet import Sheet
from wirecheck.model.board import Board

# What says of an end that it changes where that is now only if the end's name does.
AT_A_SCREW = (Exchange, ExchangeAll, IntoWire, Mark, Meet, Rotate, Tail)
_SIGN = re.compile("(\\A|\\. )?\ue000(\\d+)\ue001")


class Ends(NamedTuple):
    """The `signs` of the ends of such wires in a place, by name; what each is `called`, in their order."""

    signs: dict[str, str]
    called: tuple[str, ...]

    def signed(self, value: Any) -> Any:
        """An edit, or what is in it, with the signs for the ends."""
        if isinstance(value, str):
            return self.signs.get(value, value)
        if isinstance(value, tuple):
            inside = map(self.signed, value)
            return type(value)(*inside) if hasattr(value, "_fields") else tuple(inside)
        return value

    def said(self, words: str) -> str:
        """Words with each end by its name, in capitals where a sentence begins with it."""

        def name(match: re.Match[str]) -> str:
            begins, called = match[1], self.called[int(match[2])]
            if begins is not None and " " in called:
                called = called[:1].upper() + called[1:]
            return (begins or "") + called

        return _SIGN.sub(name, words)


def ends_of(edit: Edit, sheet: Sheet, board: Board) -> Ends:
    """The ends of the wires that stay in the place of an edit."""
    place = getattr(edit, "place", "") if sheet.staying else ""
    staying = [one for one in board.conductors.values() if one.places == (place, place)]
    if not staying:
        return Ends({}, ())
    named = _names(edit)
    signs: dict[str, str] = {}
    called: list[str] = []
    for end in (end for wire in staying for end in wire.by_place):
        signs[end] = f"\ue000{len(called)}\ue001"
        wire = of_end(end)
        beside = sheet.beside(place, end) if end in named else ()
        screws = [one for one in beside if board.screws.get(one, one) in board.terminals]
        if end not in named or (beside and not isinstance(edit, AT_A_SCREW)):
            called.append(wire)
        elif not beside:
            called.append(f"the free end of {wire}")
        else:
            where = f"at {screws[0]}" if screws else f"with {of_end(beside[0])}"
            called.append(f"the end of {wire} {where}")
    return Ends(signs, tuple(called))


def _names(value: object) -> list[str]:
    if isinstance(value, tuple):
        return [name for each in value for name in _names(each)]
    return [value] if isinstance(value, str) else []
