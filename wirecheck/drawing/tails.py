"""The colors of pigtails and jumpers. No line of a board tells them, so each has that of what it carries.

A pigtail has the color of a wire in its splice, and a jumper that of the nearest wire that is joined with it
in its room: its mark where it is marked. Where no wire is joined with it, its screws say what it is for, and
else where its copper leads. Where nothing tells, it has a color that is no insulation's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence

from wirecheck.circuit.uses import Uses
from wirecheck.drawing.colors import UNTOLD
from wirecheck.drawing.copper import in_order
from wirecheck.drawing.places import EndLabel
from wirecheck.drawing.rooms import Pin, Room, Slot, Splice
from wirecheck.judge.purpose import of_conductor, of_terminal

OF_PURPOSE = {"hot": "black", "neutral": "white", "ground": "green"}
OF_USE = {"hot": "black", "switched": "black", "either": "black", "neutral": "white", "ground": "white"}
"""Of screws that are no ground's: what leads to the ground from one is the grounded side of a secondary."""


def pigtail_color(splice: Splice, words: Mapping[str, EndLabel]) -> str:
    """The color of the pigtails of a splice with wires in it."""
    return _color(in_order(splice), [tail.slot for tail in splice.tails], words)


def row_color(room: Room, splice: Splice, words: Mapping[str, EndLabel], used: Callable[[], Uses]) -> str:
    """The color of the pigtails of a row of nothing but screws; the rest is as for `jumper_color`."""
    return _of_screws(room, [tail.slot for tail in splice.tails], words, used)


def jumper_color(room: Room, number: int, words: Mapping[str, EndLabel], used: Callable[[], Uses]) -> str:
    """The color of a room's jumper, the first one's number being 0.

    Parameters
    ----------
    words : what stands at each conductor's end, by its point
    used : what each screw of the board is used for; it is asked where no wire tells
    """
    return _of_screws(room, [tail.slot for tail in room.jumpers[number]], words, used)


def _of_screws(
    room: Room, screws: list[Slot], words: Mapping[str, EndLabel], used: Callable[[], Uses]
) -> str:
    """The color of what joins screws and no wire: that of the nearest wires on them, else of their use."""
    for pins in _joined(room, screws):
        if pins:
            return _color(pins, screws, words)
    purposes = {purpose for slot in screws if (purpose := of_terminal(slot.terminal)) is not None}
    if purposes == {"neutral", "ground"}:
        return OF_PURPOSE["ground"]
    if len(purposes) == 1:
        return OF_PURPOSE[purposes.pop()]
    return OF_USE.get(used().of(screws[0].terminal.name), UNTOLD)


def _color(pins: Sequence[Pin], screws: Sequence[Slot], words: Mapping[str, EndLabel]) -> str:
    """Of wires that are joined, the color that most have: of those that are for what the screws are for."""
    wanted = {of_terminal(slot.terminal) for slot in screws} - {None}
    meant = [pin for pin in pins if of_conductor(pin.conductor, words[pin.point].marked) in wanted] or pins
    colors = Counter(words[pin.point].marked or pin.conductor.color for pin in meant)
    return colors.most_common(1)[0][0]


def _joined(room: Room, screws: Sequence[Slot]) -> Iterator[list[Pin]]:
    """The wires on screws, then those on what is joined with these in the room, and so on."""
    seen = {slot.terminal.name for slot in screws}
    grounds = any(of_terminal(slot.terminal) == "ground" for slot in screws)
    splices: set[int] = set()
    waiting = list(screws)
    while waiting:
        pins: list[Pin] = []
        beyond: list[Slot] = []
        for tail in [tail for slot in waiting for tail in slot.tails]:
            if tail.pin is not None:
                pins.append(tail.pin)
            elif tail.splice is not None and id(tail.splice) not in splices:
                splices.add(id(tail.splice))
                pins += tail.splice.pins
                beyond += [other.slot for other in tail.splice.tails]
            elif tail.jumper is not None:
                beyond += [other.slot for other in room.jumpers[tail.jumper]]
        yield pins
        waiting = []
        for slot in beyond:
            # Behind a ground's screw are grounds, also where one side of a secondary is bonded to it.
            passed = grounds or of_terminal(slot.terminal) != "ground"
            if passed and slot.terminal.name not in seen:
                seen.add(slot.terminal.name)
                waiting.append(slot)
