"""Cables, wires and raceways: conductors from place to place."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from wirecheck.language import syntax
from wirecheck.language.names import second_end
from wirecheck.language.syntax import Span, Word
from wirecheck.language.words import nearest
from wirecheck.model.board import Conductor, Raceway, Run, RunEnd
from wirecheck.model.colors import COLORS, OTHER_COLORS
from wirecheck.model.draft import Draft
from wirecheck.tables.ampacity import UNRATED, insulations
from wirecheck.tables.cable_grounds import cable_ground
from wirecheck.tables.code import LATEST
from wirecheck.tables.raceways import OTHER_RACEWAYS, is_raceway_size, raceway_kinds, raceway_sizes
from wirecheck.tables.sizes import is_made, sizes_beside

CLASS_2_CABLES = frozenset(("CL2", "CL2P", "CL2R", "CL3", "CL3P", "CL3R"))
POWER_CABLES = frozenset(("NM-B", "UF-B", "SER", "SEU", "MC", "AC", "TC-ER"))
CABLES = tuple(sorted(POWER_CABLES | CLASS_2_CABLES))
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
STRIPED = " A striped wire has the color under its stripes."
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


def known_color(word: Word, known: tuple[str, ...], what: str, draft: Draft, more: str = "") -> str:
    """The color that a word says or most likely means; one that is not known is a problem."""
    return _meant(word, known, f"color {what}", "Colors", draft, more, OTHER_COLORS)


def _meant(
    word: Word,
    known: tuple[str, ...],
    what: str,
    all_of: str,
    draft: Draft,
    more: str = "",
    others: Mapping[str, str] = MappingProxyType({}),
) -> str:
    """The word of a set that is said or most likely meant; one that is not of it is a problem.

    What is near none stays as it is, and the set is listed as `all_of`. `others` are what people say for it.
    """
    if word.text in known:
        return word.text
    other = others.get(word.text.casefold())
    near = other if other in known else draft.near(word.text, known)
    advice = f"Did you mean {near}?" if near else f"{all_of} are: {', '.join(known)}.{more}"
    draft.wrong("syntax", f"{word.text} is not a {what}.", word.span, advice)
    return near or word.text


def sized(word: Word, advice: str, draft: Draft) -> str | None:
    """The size that a word says; one that wire does not come in is a problem, and taken as the next larger.

    None for what is no size at all.
    """
    try:
        made = is_made(word.text, code=LATEST)
    except LookupError as unknown:
        draft.wrong("syntax", f"{unknown}.", word.span, advice)
        return None
    if made:
        return word.text
    beside = sizes_beside(word.text, code=LATEST)
    message = f"{word.text} is not a size that wire comes in."
    draft.wrong("syntax", message, word.span, f"The sizes next to it are {' and '.join(beside)}.")
    return beside[-1]


def _insulation(word: Word, draft: Draft) -> str:
    """The insulation that a word says or most likely means; a misspelt one is a problem.

    One that is near none is left: wire is made in more kinds than any table has, and the rules that would
    ask the tables of it say that they cannot.
    """
    known = (*insulations(code=LATEST), "BARE")
    written = word.text.upper()
    if written in known or written in UNRATED:
        return word.text
    # Of letters that stand for words one is sooner mistaken than left out: THWM is THWN, and not THW.
    alike = [one for one in known if len(one) == len(written) > 3]
    close = [one for one in known if abs(len(one) - len(written)) < 2]
    near = draft.near(word.text, alike) or draft.near(word.text, close)
    if near is None:
        return word.text
    draft.wrong("syntax", f"{word.text} is not a kind of wire.", word.span, f"Did you mean {near}?")
    return near


def _raceway_kind(statement: syntax.RacewayStatement, draft: Draft) -> str:
    """The kind of raceway that is said or most likely meant; an unknown kind or size is a problem."""
    known = raceway_kinds(code=LATEST)
    kind = _meant(statement.kind, known, "kind of raceway", "Raceways", draft, others=OTHER_RACEWAYS)
    if kind not in known:
        return kind
    # A conduit that is sized in meters is of another standard than those that the tables hold.
    size = statement.size
    if not size.metric and not is_raceway_size(kind, size.value, code=LATEST):
        sizes = ", ".join(raceway_sizes(kind, code=LATEST))
        draft.wrong("syntax", f"No {kind} is {size.text}.", size.span, f"{kind} comes in: {sizes} in.")
    return kind


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
    kind = _raceway_kind(statement, draft)
    ends = _ends(statement.ends, draft)
    if ends is None:
        return
    name = statement.name.text
    draft.raceways[name] = Raceway(
        name=name,
        kind=kind,
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
    kind = _meant(statement.kind, CABLES, "kind of cable", "Cables", draft)
    low_voltage = kind in CLASS_2_CABLES
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
    _run(statement, kind, (*colors, *ground), ground, ends, draft)


def add_wire(statement: syntax.WireStatement, draft: Draft) -> None:
    """A single conductor."""
    if not draft.declare(statement.name):
        return
    kind = _insulation(statement.kind, draft)
    color = known_color(statement.color, COLORS, "that wire comes in", draft, STRIPED)
    ends = _ends(statement.ends, draft)
    # What a wire of no known color is for, nobody can say.
    if ends is None or color not in COLORS:
        draft.broken.add(statement.name.text)
        return
    _run(statement, kind, (color,), (), ends, draft)


def _run(
    statement: syntax.CableStatement | syntax.WireStatement,
    kind: str,
    colors: tuple[str, ...],
    grounds: tuple[str, ...],
    ends: tuple[RunEnd, RunEnd],
    draft: Draft,
) -> None:
    name = statement.name.text
    jacketed = isinstance(statement, syntax.CableStatement)
    material = "aluminum" if statement.aluminum else "copper"
    size = sized(statement.size, "Sizes are written as 14, 1/0, 250 or 2.5 mm2.", draft)
    if size is None:
        draft.broken.add(name)
        return
    raceway = _raceway_name(statement.raceway, draft)
    places = (ends[0].place, ends[1].place)
    conductors = []
    for color in colors:
        conductor = f"{name}.{color}" if jacketed else name
        back = f"{conductor}@{places[1]}"
        conductors.append(
            Conductor(
                name=conductor,
                size=cable_ground(kind, material, size) if color in grounds else size,
                material=material,
                insulation=kind,
                color=color,
                length=statement.length.value,
                places=places,
                ends=(f"{conductor}@{places[0]}", second_end(back) if places[0] == places[1] else back),
                run=name,
                raceway=raceway,
                span=statement.span,
            )
        )
    draft.conductors.update((conductor.name, conductor) for conductor in conductors)
    draft.runs[name] = Run(
        name=name,
        kind=kind,
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
