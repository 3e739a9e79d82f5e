"""Panels, breakers and boxes: where wires come to."""

from __future__ import annotations

import cmath
import math

from wirecheck.language import syntax
from wirecheck.language.syntax import Word
from wirecheck.language.words import nearest
from wirecheck.model.board import Box, Breaker, Panel, Terminal
from wirecheck.model.draft import Draft, add_terminals, known_flags, part_with

BOX_KINDS = ("device", "octagon", "square", "junction")
GANGS = {"1-gang": 1, "2-gang": 2, "3-gang": 3, "4-gang": 4}
POLES = {"1-pole": 1, "2-pole": 2, "3-pole": 3}
BOX_FLAGS = ("metal", "nonmetallic", "clamps", "wet", *GANGS)
BREAKER_FLAGS = (*POLES, "gfci", "afci", "no-neutral", "lockable")

OWN_BREAKERS = ("gfci", "afci")
# Parts of the library that a line of their own brings, and that line.
WRITTEN = {
    "panel": "panel LP 120/240 V",
    "breaker": "breaker LP.3 15 A",
    **{f"{kind}-breaker": f"breaker LP.3 15 A {kind}" for kind in OWN_BREAKERS},
    "metal-box": "box A square 30.3 cu in metal",
}

SYSTEMS = {
    "120": {"a": 120 + 0j},
    "120/240": {"a": 120 + 0j, "b": -120 + 0j},
    "240": {"a": 120 + 0j, "b": -120 + 0j},
    "208Y/120": {leg: cmath.rect(120, -math.tau * turn / 3) for turn, leg in enumerate("abc")},
}


def add_panel(statement: syntax.PanelStatement, draft: Draft) -> None:
    """A panel with its legs and its bars."""
    if not draft.declare(statement.name):
        return
    name = statement.name.text
    legs = SYSTEMS.get(statement.system.text)
    if legs is None:
        draft.wrong(
            "syntax",
            f"No panel has {statement.system.text} V.",
            statement.system.span,
            "A panel has 120 V, 120/240 V, 240 V or 208Y/120 V.",
        )
        legs = SYSTEMS["120/240"]
    part = part_with("panel", ("neutral", "ground"), statement.span, draft)
    if part is None:
        draft.broken.add(name)
        return
    available = statement.available.value if statement.available else None
    draft.panels[name] = Panel(name, statement.system.text, legs, available, statement.span)
    draft.places[name] = statement.name.span
    add_terminals(part, name, name, draft)


def add_box(statement: syntax.BoxStatement, draft: Draft) -> None:
    """A box, with a ground screw where it is metal."""
    if not draft.declare(statement.name):
        return
    if statement.kind.text not in BOX_KINDS:
        near = nearest(statement.kind.text, list(BOX_KINDS))
        draft.wrong(
            "syntax",
            f"{statement.kind.text} is not a kind of box.",
            statement.kind.span,
            f"Did you mean {near}?" if near else "Boxes are: " + ", ".join(BOX_KINDS) + ".",
        )
    flags = known_flags(statement.flags, BOX_FLAGS, "A box", draft)
    name = statement.name.text
    draft.boxes[name] = Box(
        name=name,
        kind=statement.kind.text,
        volume=statement.volume.value if statement.volume else None,
        trade_size=statement.trade_size.text if statement.trade_size else None,
        metal="metal" in flags,
        clamps="clamps" in flags,
        wet="wet" in flags,
        gangs=max((GANGS[flag] for flag in flags if flag in GANGS), default=None),
        span=statement.span,
    )
    draft.places[name] = statement.name.span
    part = part_with("metal-box", ("ground",), statement.span, draft) if "metal" in flags else None
    if part is not None:
        add_terminals(part, name, name, draft)


def add_breaker(statement: syntax.BreakerStatement, draft: Draft) -> None:
    """A breaker on the legs that its position tells."""
    if not draft.declare(statement.name, inside=True):
        return
    name = statement.name.text
    owner, position = statement.name.within, statement.name.path[-1]
    panel = draft.panels.get(owner)
    if owner in draft.broken:
        draft.broken.add(name)
        return
    if panel is None:
        word = Word(owner or name, statement.name.span)
        draft.unknown(word, "The panel", list(draft.panels))
        return
    if not position.isdigit() or len(position) > 3 or int(position) == 0:
        draft.wrong(
            "syntax",
            f"{name} does not say which position of the panel it is in.",
            statement.name.span,
            f"Positions are numbered from 1, as in {owner}.3.",
        )
        return
    flags = known_flags(statement.flags, BREAKER_FLAGS, "A breaker", draft)
    count = max((POLES[flag] for flag in flags if flag in POLES), default=1)
    legs = list(panel.legs)
    if count > len(legs):
        draft.wrong(
            "syntax",
            f"{name} has {count} poles, and {owner} has {len(legs)} leg{'s' if len(legs) > 1 else ''}.",
            statement.span,
        )
        count = len(legs)
    first = (int(position) - 1) // 2 % len(legs)
    if statement.leg is not None:
        if statement.leg.text in legs:
            first = legs.index(statement.leg.text)
        else:
            draft.wrong(
                "syntax",
                f"{owner} has no leg {statement.leg.text}.",
                statement.leg.span,
                "Its legs are " + ", ".join(legs) + ".",
            )
    taken = [legs[(first + pole) % len(legs)] for pole in range(count)]
    if count == len(legs):
        taken = legs
    labels = [""] if count == 1 else list("abc"[:count])
    names = [f"{name}.{label}" if label else name for label in labels]
    kind = next((flag for flag in OWN_BREAKERS if flag in flags), None)
    part = part_with(f"{kind}-breaker" if kind else "breaker", ("load",), statement.span, draft)
    if part is None:
        draft.broken.add(name)
        return
    spec = part.terminals["load"]
    for terminal, label in zip(names, labels, strict=True):
        draft.terminals[terminal] = Terminal(terminal, name, label, owner, spec)
    neutral = part.terminals.get("neutral") if "no-neutral" not in flags else None
    if neutral is not None:
        draft.terminals[f"{name}.neutral"] = Terminal(f"{name}.neutral", name, neutral.name, owner, neutral)
    draft.breakers[name] = Breaker(
        name=name,
        panel=owner,
        amps=statement.rating.value,
        poles=tuple(zip(names, taken, strict=True)),
        flags=flags,
        tied=statement.tied.text if statement.tied else None,
        span=statement.span,
        rating_span=statement.rating.span,
    )
