"""What was done to the wires inside a cabinet: a jumper put in, a lead off, two leads exchanged."""

from __future__ import annotations

from wirecheck.language import syntax
from wirecheck.language.syntax import Statement, Word
from wirecheck.language.words import nearest
from wirecheck.model.board import Altered, Device
from wirecheck.model.devices import every_device
from wirecheck.model.draft import Draft


def alterations(statements: tuple[Statement, ...], draft: Draft) -> tuple[Altered, ...]:
    """Each of them in order, with its points known and in one piece of equipment."""
    said = [one for one in statements if isinstance(one, syntax.AlterStatement)]
    if not said:
        return ()
    devices = {device.name: device for device in every_device(draft.devices)}
    found = []
    for statement in said:
        owners = [_owner(word, devices, draft) for word in statement.points]
        outers = dict.fromkeys(owner.outer for owner in owners if owner is not None)
        if None in owners:
            continue
        if len(outers) > 1:
            draft.wrong(
                "syntax",
                f"{' and '.join(word.text for word in statement.points)} are not in one cabinet.",
                statement.span,
                "A wire from one to another is a wire line, with its ends joined.",
            )
        elif len({word.text for word in statement.points}) < len(statement.points):
            draft.wrong("syntax", f"{statement.points[0].text} stands here twice.", statement.span)
        else:
            points = tuple(word.text for word in statement.points)
            found.append(Altered(statement.act, next(iter(outers)), points, statement.span))
    return tuple(found)


def _owner(word: Word, devices: dict[str, Device], draft: Draft) -> Device | None:
    """The part whose terminal a word names; a name that is none is told, with those that it has."""
    if draft.broken & {word.path[0]}:
        return None
    device = devices.get(word.within)
    if device is not None and word.path[-1] in device.part.terminals:
        return device
    if device is not None:
        near = nearest(word.path[-1], list(device.part.terminals))
        advice = (
            f"Did you mean {word.within}.{near}?" if near else f"It has {', '.join(device.part.terminals)}."
        )
        draft.wrong("unknown-name", f"{word.within} has no terminal {word.path[-1]}.", word.span, advice)
    else:
        inside = [f"{one.name}.{screw}" for one in devices.values() for screw in one.part.terminals]
        draft.unknown(word, "The terminal", inside)
    return None
