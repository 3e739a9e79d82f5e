"""Panels, breakers and boxes: where wires come to."""

from __future__ import annotations

import cmath
import math

from wirecheck.language import syntax
from wirecheck.language.names import Position, position
from wirecheck.language.syntax import Word
from wirecheck.language.words import nearest
from wirecheck.model.board import Addition, Box, Breaker, Panel, Terminal
from wirecheck.model.draft import Draft, add_terminals, known_flags, part_with
from wirecheck.tables.breaker_lugs import largest_in_lug

BOX_KINDS = ("device", "octagon", "square", "junction")
GANGS = {"1-gang": 1, "2-gang": 2, "3-gang": 3, "4-gang": 4}
MAIN = "main"
POLES = {"1-pole": 1, "2-pole": 2, "3-pole": 3}
# What is put on a box, the most telling word first, and what else it is called.
ADDITIONS = ("extension", "ring", "cover")
CALLED = ("plaster", "mud", "domed", "raised")
BOX_FLAGS = ("metal", "nonmetallic", "clamps", "wet", "accessible", *GANGS)
PANEL_FLAGS = ("bonded", "detached")
BREAKER_FLAGS = (*POLES, "gfci", "afci", "no-neutral", "lockable")

OWN_BREAKERS = ("gfci", "afci")
# Parts of the library that a line of their own brings, and that line.
WRITTEN = {
    "panel": "panel LP 120/240 V",
    "breaker": "breaker LP.3 15 A",
    **{f"{kind}-breaker": f"breaker LP.3 15 A {kind}" for kind in OWN_BREAKERS},
    "metal-box": "box A square 30.3 cu in metal",
    "lug": "subpanel SP 120/240 V",
}

SYSTEMS = {
    "120": {"a": 120 + 0j},
    "120/240": {"a": 120 + 0j, "b": -120 + 0j},
    "240": {"a": 120 + 0j, "b": -120 + 0j},
    "208Y/120": {leg: cmath.rect(120, -math.tau * turn / 3) for turn, leg in enumerate("abc")},
    "480Y/277": {leg: cmath.rect(277, -math.tau * turn / 3) for turn, leg in enumerate("abc")},
    # A delta whose one winding has its middle grounded: leg b is the high one (NEC 408.3(E)(1)).
    "120/240 delta": {"a": 120 + 0j, "b": -120j * math.sqrt(3), "c": -120 + 0j},
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
            "A panel has 120 V, 120/240 V, 240 V, 208Y/120 V, 480Y/277 V or 120/240 V delta.",
        )
        legs = SYSTEMS["120/240"]
    part = part_with("panel", ("neutral", "ground"), statement.span, draft)
    if part is None:
        draft.broken.add(name)
        return
    draft.places[name] = statement.name.span
    panel = draft.panels[name] = Panel(
        name=name,
        system=statement.system.text,
        legs=legs,
        available=statement.available.value if statement.available else None,
        span=statement.span,
        main=statement.main.value if statement.main else None,
        bus=statement.bus.value if statement.bus else None,
        fed=statement.fed,
    )
    add_terminals(part, name, name, draft)
    if statement.fed:
        _add_lugs(statement, panel, draft)
    elif statement.flags:
        draft.wrong(
            "syntax",
            f"{statement.flags[0].text} is said of a subpanel, and {name} is the source of the board.",
            statement.flags[0].span,
            f"If a breaker of another panel feeds it, write: subpanel {name} {statement.system.text} V",
        )


def _add_lugs(statement: syntax.PanelStatement, panel: Panel, draft: Draft) -> None:
    """The lugs of a subpanel, those of its main breaker where it has one, and what its line says of it."""
    name = panel.name
    flags = known_flags(statement.flags, PANEL_FLAGS, "A subpanel", draft)
    draft.panels[name] = panel._replace(bonded="bonded" in flags, detached="detached" in flags)
    if statement.available is not None:
        draft.wrong(
            "syntax",
            f"What {name} has available follows from its feeder.",
            statement.available.span,
            "Say it of the panel that is the source.",
        )
    part = part_with("lug", ("lug",), statement.span, draft)
    if part is None:
        return
    main = f"{name}.{MAIN}"
    owner = name if statement.main is None else main
    for leg in panel.legs:
        draft.terminals[panel.lug(leg)] = Terminal(panel.lug(leg), owner, leg, name, part.terminals["lug"])
    if statement.main is not None:
        draft.declared[main] = statement.main.span
        draft.breakers[main] = Breaker(
            name=main,
            panel=name,
            amps=statement.main.value,
            poles=tuple((panel.lug(leg), leg) for leg in panel.legs),
            flags=frozenset(pole for pole, count in POLES.items() if count == len(panel.legs)),
            tied=None,
            span=statement.span,
            rating_span=statement.main.span,
        )


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
    gangs = [GANGS[flag] for flag in flags if flag in GANGS]
    added = []
    for one in statement.added:
        addition, wide = _addition(one, draft)
        gangs += wide
        added += addition
    name = statement.name.text
    draft.boxes[name] = Box(
        name=name,
        kind=statement.kind.text,
        volume=statement.volume.value if statement.volume else None,
        trade_size=statement.trade_size.text if statement.trade_size else None,
        metal="metal" in flags,
        clamps="clamps" in flags,
        wet="wet" in flags,
        accessible="accessible" in flags,
        gangs=max(gangs, default=None),
        span=statement.span,
        added=tuple(added),
    )
    draft.places[name] = statement.name.span
    part = part_with("metal-box", ("ground",), statement.span, draft) if "metal" in flags else None
    if part is not None:
        add_terminals(part, name, name, draft)


def _addition(said: syntax.Addition, draft: Draft) -> tuple[list[Addition], list[int]]:
    """What is put on a box, and how many gangs it is wide where it says so."""
    words = known_flags(said.words, (*ADDITIONS, *CALLED, *GANGS), "What is put on a box", draft)
    kind = next((word for word in ADDITIONS if word in words), None)
    if kind is None:
        if words:
            draft.wrong(
                "syntax",
                "What is put on a box is a ring, an extension or a cover.",
                said.span,
                "Write: 1-gang ring 3.5 cu in, with the volume that is marked on it.",
            )
        return [], []
    volume = said.volume.value if said.volume else None
    trade_size = said.trade_size.text if said.trade_size else None
    gangs = [GANGS[word] for word in words if word in GANGS]
    return [Addition(kind, volume, trade_size, said.span)], gangs


def add_breaker(statement: syntax.BreakerStatement, draft: Draft) -> None:
    """A breaker on the legs that its position tells."""
    if not draft.declare(statement.name, inside=True):
        return
    name = statement.name.text
    owner, at = statement.name.within, position(statement.name.path[-1])
    panel = draft.panels.get(owner)
    if owner in draft.broken:
        draft.broken.add(name)
        return
    if panel is None:
        word = Word(owner or name, statement.name.span)
        draft.unknown(word, "The panel", list(draft.panels))
        return
    if at is None and statement.name.path[-1] == MAIN:
        draft.wrong(
            "syntax",
            f"The main breaker of {owner} stands on the line of {owner} itself.",
            statement.name.span,
            f"Write there: {statement.rating.text} main",
        )
        return
    if at is None:
        draft.wrong(
            "syntax",
            f"{name} does not say which position of the panel it is in.",
            statement.name.span,
            f"Positions are numbered from 1, as in {owner}.3; a tandem breaker is {owner}.3A and {owner}.3B.",
        )
        return
    flags = known_flags(statement.flags, BREAKER_FLAGS, "A breaker", draft)
    count = max((POLES[flag] for flag in flags if flag in POLES), default=1)
    legs = list(panel.legs)
    if at.half:
        count = _half(statement, at, count, draft)
    if count > len(legs):
        draft.wrong(
            "syntax",
            f"{name} has {count} poles, and {owner} has {len(legs)} leg{'s' if len(legs) > 1 else ''}.",
            statement.span,
        )
        count = len(legs)
    _in_free_spaces(statement.name, at, count, draft)
    first = legs.index(panel.leg_at(at.space))
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
    twin = draft.breakers.get(f"{owner}.{at.space}{at.other_half}") if at.half else None
    if twin is not None and twin.poles[0][1] != legs[first]:
        draft.wrong(
            "syntax",
            f"{name} and {twin.name} are one tandem breaker, and both halves of it are on one leg.",
            statement.span,
            f"{twin.name} is on leg {twin.poles[0][1]}. Give {name} a space of its own for the other leg.",
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
    lug = largest_in_lug(statement.rating.value) if kind is None else None
    if lug is not None and spec.sizes is not None:
        spec = spec._replace(sizes=(spec.sizes[0], lug))
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
        sights=statement.sights,
        spaces=at.spaces(count),
    )


def _in_free_spaces(name: Word, at: Position, count: int, draft: Draft) -> None:
    """Put a breaker of so many poles into its spaces. Where another fills one of them, that is a problem."""
    for space in at.spaces(count):
        other = draft.spaces.setdefault((name.within, space), name)
        there = position(other.path[-1])
        # The halves of a tandem breaker share their space; a whole one in it has words of its own.
        if other is name or (at.half and there is not None and there.space == space):
            continue
        draft.wrong(
            "syntax",
            f"{name.text} is in space {space} of {name.within}: "
            f"so is {other.text}, on line {other.span.line}.",
            name.span,
            "Each pole fills a space, and those of one side are numbered 1, 3, 5 or 2, 4, 6: "
            "a 2-pole breaker in 2 fills 2 and 4.",
        )
        return


def _half(statement: syntax.BreakerStatement, at: Position, count: int, draft: Draft) -> int:
    """How many poles a half of a tandem breaker has: one. A whole breaker in its space is a problem."""
    name, whole = statement.name.text, f"{statement.name.within}.{at.space}"
    before = draft.breakers.get(whole)
    if before is not None:
        draft.wrong(
            "syntax",
            f"{name} is half of a tandem breaker, and {whole} is in that space, on line {before.span.line}.",
            statement.name.span,
            f"A tandem is two breakers in one space: {whole}A and {whole}B.",
        )
    if count > 1:
        draft.wrong(
            "syntax",
            f"{name} is half of a tandem breaker, and both halves are on one leg: it has one pole.",
            statement.span,
            f"A breaker of {count} poles has spaces of its own.",
        )
    return 1
