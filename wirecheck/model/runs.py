"""Cables, wires and raceways: conductors from place to place."""

from __future__ import annotations

from wirecheck.language import syntax
from wirecheck.language.syntax import Span, Word
from wirecheck.language.words import nearest
from wirecheck.model.board import Conductor, Raceway, Run, RunEnd
from wirecheck.model.draft import Draft
from wirecheck.tables.cable_grounds import cable_ground
from wirecheck.tables.sizes import trade_size

CLASS_2_CABLES = frozenset(("CL2", "CL2P", "CL2R", "CL3", "CL3P", "CL3R"))
POWER_CABLES = frozenset(("NM-B", "UF-B", "SER", "SEU", "MC", "AC", "TC-ER"))
ARMORED = frozenset(("MC", "AC"))
POWER_COLORS = {
    1: ("black",),
    2: ("black", "white"),
    3: ("black", "red", "white"),
    4: ("black", "red", "blue", "white"),
}
# The insulated wires of a cable that has no white: its bare wire is around them.
OWN_COLORS = {"SEU": {2: ("black", "red")}}
# The ground of a power cable where it is no bare wire: green in MC and TC-ER; the armor of AC is its ground.
GROUNDS = {"MC": ("green",), "AC": (), "TC-ER": ("green",)}
# Its ground is among those that its size counts: 14/4 of tray cable is three wires and the green one.
COUNTED = frozenset(("TC-ER",))
CLASS_2_COLORS = ("red", "white", "green", "yellow", "blue", "brown", "orange", "black")
MEASURES = ("free", "jacket", "secured", "every", "bend", "diameter")


def _ends(ends: tuple[syntax.RunEnd, syntax.RunEnd], draft: Draft) -> tuple[RunEnd, RunEnd] | None:
    known = [draft.place(end.place) for end in ends]
    if not all(known):
        return None
    first, second = (_end(end, draft) for end in ends)
    return first, second


def _end(end: syntax.RunEnd, draft: Draft) -> RunEnd:
    measures: dict[str, float] = {}
    spans: dict[str, Span] = {}
    for measure in end.measures:
        if measure.name.text not in MEASURES:
            near = nearest(measure.name.text, list(MEASURES))
            draft.wrong(
                "syntax",
                f"{measure.name.text} is not a measure of a cable's end. The measures are: "
                + ", ".join(MEASURES)
                + ".",
                measure.name.span,
                f"Did you mean {near}?" if near else None,
            )
        elif measure.value.dimension == "length":
            measures[measure.name.text] = measure.value.value
            spans[measure.name.text] = measure.span
    return RunEnd(
        place=end.place.text,
        free=measures.get("free"),
        jacket=measures.get("jacket"),
        secured=measures.get("secured"),
        every=measures.get("every"),
        spans=spans,
        span=end.span,
        bend=measures.get("bend"),
        diameter=measures.get("diameter"),
    )


def _raceway_name(word: Word | None, draft: Draft) -> str | None:
    if word is None:
        return None
    if word.text in draft.broken:
        return None
    if word.text not in draft.raceways:
        draft.unknown(word, "The raceway", list(draft.raceways))
        return None
    return word.text


def add_raceway(statement: syntax.RacewayStatement, draft: Draft) -> None:
    """A raceway between two places."""
    if not draft.declare(statement.name):
        return
    ends = _ends(statement.ends, draft)
    if ends is None:
        return
    name = statement.name.text
    draft.raceways[name] = Raceway(
        name=name,
        kind=statement.kind.text,
        size=statement.size.value,
        size_text=statement.size.text,
        length=statement.length.value,
        ends=ends,
        runs=(),
        span=statement.span,
    )


def add_cable(statement: syntax.CableStatement, draft: Draft) -> None:
    """A cable with the conductors that its kind and count give it."""
    if not draft.declare(statement.name):
        return
    kind = statement.kind.text
    low_voltage = kind in CLASS_2_CABLES
    if not low_voltage and kind not in POWER_CABLES:
        known = sorted(POWER_CABLES | CLASS_2_CABLES)
        near = nearest(kind, known)
        draft.wrong(
            "syntax",
            f"{kind} is not a kind of cable.",
            statement.kind.span,
            f"Did you mean {near}?" if near else "Cables are: " + ", ".join(known) + ".",
        )
    ground: tuple[str, ...] = ()
    least, most, told = 1, max(POWER_COLORS), ", and the ground."
    if low_voltage:
        most, told = len(CLASS_2_COLORS), "."
        colors = CLASS_2_COLORS[: statement.count]
    else:
        ground = GROUNDS.get(kind, ("bare",))
        counted = len(ground) if kind in COUNTED else 0
        insulated = statement.count - counted
        own = OWN_COLORS.get(kind, {}).get(insulated)
        colors = own or POWER_COLORS.get(insulated, POWER_COLORS[most])
        if counted:
            least, most, told = least + counted, most + counted, ", the ground among them."
    if not least <= statement.count <= most:
        draft.wrong(
            "syntax",
            f"There is no {kind} cable with {statement.count} conductors.",
            statement.span,
            f"It has {least} to {most}{told}",
        )
    ends = _ends(statement.ends, draft)
    if ends is None:
        draft.broken.add(statement.name.text)
        return
    _run(statement, (*colors, *ground), ground, ends, draft)


def add_wire(statement: syntax.WireStatement, draft: Draft) -> None:
    """A single conductor."""
    if not draft.declare(statement.name):
        return
    ends = _ends(statement.ends, draft)
    if ends is None:
        draft.broken.add(statement.name.text)
        return
    _run(statement, (statement.color.text,), (), ends, draft)


def _run(
    statement: syntax.CableStatement | syntax.WireStatement,
    colors: tuple[str, ...],
    grounds: tuple[str, ...],
    ends: tuple[RunEnd, RunEnd],
    draft: Draft,
) -> None:
    name, size = statement.name.text, statement.size.text
    jacketed = isinstance(statement, syntax.CableStatement)
    material = "aluminum" if statement.aluminum else "copper"
    try:
        trade_size(size)
    except LookupError as unknown:
        draft.wrong(
            "syntax", f"{unknown}.", statement.size.span, "Sizes are written as 14, 1/0, 250 or 2.5 mm2."
        )
        draft.broken.add(name)
        return
    raceway = _raceway_name(statement.raceway, draft)
    places = (ends[0].place, ends[1].place)
    second = "'" if places[0] == places[1] else ""
    conductors = []
    for color in colors:
        conductor = f"{name}.{color}" if jacketed else name
        conductors.append(
            Conductor(
                name=conductor,
                size=cable_ground(statement.kind.text, material, size) if color in grounds else size,
                material=material,
                insulation=statement.kind.text,
                color=color,
                length=statement.length.value,
                places=places,
                ends=(f"{conductor}@{places[0]}", f"{conductor}@{places[1]}{second}"),
                run=name,
                raceway=raceway,
                span=statement.span,
            )
        )
    draft.conductors.update((conductor.name, conductor) for conductor in conductors)
    draft.runs[name] = Run(
        name=name,
        kind=statement.kind.text,
        jacketed=jacketed,
        conductors=tuple(conductors),
        length=statement.length.value,
        ends=ends,
        raceway=raceway,
        span=statement.span,
    )
    if raceway is not None:
        way = draft.raceways[raceway]
        draft.raceways[raceway] = way._replace(runs=(*way.runs, name))
