"""A board as hands know it: what is in the boxes, what runs between them, and what is under each connector.

Made from a text by the language's reader alone, changed by `mutations`, judged by `oracle`, and written
back as text. Inches, feet, cubic inches, amperes and watts, as the trade says them.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass, field

from wirecheck.language import syntax
from wirecheck.language.reader import read

INCH = 0.0254
FOOT = 0.3048
COLORS = {2: ("black", "white"), 3: ("black", "red", "white"), 4: ("black", "red", "blue", "white")}
LOW = ("red", "white", "green", "yellow", "blue", "brown", "orange", "black")


@dataclass
class Breaker:
    name: str
    amps: float
    flags: list[str]
    leg: str | None
    tied: str | None

    @property
    def poles(self) -> list[str]:
        return [f"{self.name}.a", f"{self.name}.b"] if "2-pole" in self.flags else [self.name]

    def legs(self) -> list[str]:
        """A panel's rows alternate between its legs; a two-pole breaker takes both."""
        if "2-pole" in self.flags:
            return ["a", "b"]
        return [self.leg or "ab"[(int(self.name.rpartition(".")[2]) - 1) // 2 % 2]]

    def line(self) -> str:
        words = ["breaker", self.name, f"{self.amps:g} A", *self.flags]
        words += [f"leg {self.leg}"] if self.leg else []
        words += [f"tied to {self.tied}"] if self.tied else []
        return " ".join(words)


# What a box of its kind has, and an extension adds to it, in cubic inches (NEC 2023 Table 314.16(A)).
LISTED = {("octagon", "4 x 1-1/2"): 15.5, ("square", "4 x 1-1/2"): 21.0}


@dataclass
class Box:
    name: str
    kind: str
    volume: float | None
    trade_size: str | None
    flags: list[str]
    added: list[tuple[str, float]] = field(default_factory=list)

    @property
    def room(self) -> float | None:
        """All its cubic inches, with what is put on it; None where nothing says them."""
        own = self.volume
        if own is None:
            own = LISTED.get((self.kind, (self.trade_size or "").removesuffix(" in")))
        return None if own is None else own + sum(more for _, more in self.added)

    def line(self) -> str:
        size = f"{self.volume:.4f}".rstrip("0").rstrip(".") + " cu in" if self.volume else self.trade_size
        words = " ".join(["box", self.name, self.kind, *([size] if size else []), *self.flags])
        return ", ".join([words, *(text for text, _ in self.added)])


@dataclass
class Cable:
    """A cable, or a single wire where `color` is given. `ends` are (place, measures in inches)."""

    name: str
    size: str
    count: int
    kind: str
    aluminum: bool
    feet: float
    ends: list[tuple[str, dict[str, float]]]
    color: str | None = None
    raceway: str | None = None

    def conductors(self) -> dict[str, str]:
        """Each conductor's name with its color."""
        if self.color is not None:
            return {self.name: self.color}
        if self.low:
            return {f"{self.name}.{color}": color for color in LOW[: self.count]}
        if self.kind == "TC-ER":
            # Its count has the ground in it.
            return {f"{self.name}.{color}": color for color in (*COLORS[self.count - 1], "green")}
        if self.kind == "SEU":
            # Two insulated wires, and a bare one around them that is their neutral.
            return {f"{self.name}.{color}": color for color in ("black", "red")} | {
                f"{self.name}.bare": "bare neutral"
            }
        return {f"{self.name}.{color}": color for color in (*COLORS[self.count], "bare")}

    @property
    def low(self) -> bool:
        return self.kind.startswith("CL")

    def places(self) -> tuple[str, str]:
        return self.ends[0][0], self.ends[1][0]

    def line(self) -> str:
        if self.color is not None:
            head = f"wire {self.name} {self.size} {self.kind} {self.color}"
        else:
            head = f"cable {self.name} {self.size}/{self.count} {self.kind}"
        head += " aluminum" if self.aluminum else ""
        ends = []
        for place, measures in self.ends:
            said = ", ".join(f"{name} {value:g} in" for name, value in measures.items())
            ends.append(f"{place} ({said})" if said else place)
        tail = f" in {self.raceway}" if self.raceway else ""
        return f"{head} {self.feet:g} ft from {ends[0]} to {ends[1]}{tail}"


@dataclass
class Device:
    name: str
    part: str
    settings: str
    values: list[float]
    place: str | None

    def line(self) -> str:
        words = [self.name, "is", self.part, self.settings, f"in {self.place}" if self.place else ""]
        return " ".join(word for word in words if word)


@dataclass
class Join:
    """`members` are (name, mark) pairs; a pigtail has no name, and its size for a mark.

    Of the `options` one may be the name of its connector, another that its wires are pushed in.
    """

    place: str
    members: list[tuple[str | None, str | None]]
    options: list[str] = field(default_factory=list)

    def line(self) -> str:
        members = " -- ".join(
            f"pigtail {mark or ''}".strip() if name is None else f"{name} marked {mark}" if mark else name
            for name, mark in self.members
        )
        return "  " + ", ".join([members, *self.options])


@dataclass
class Work:
    """A whole board; `head` are lines that are kept as they stand."""

    head: list[str] = field(default_factory=list)
    panels: dict[str, str] = field(default_factory=dict)
    subpanels: list[str] = field(default_factory=list)
    bonded: list[str] = field(default_factory=list)
    detached: list[str] = field(default_factory=list)
    breakers: list[Breaker] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    cables: list[Cable] = field(default_factory=list)
    devices: list[Device] = field(default_factory=list)
    joins: list[Join] = field(default_factory=list)
    caps: list[tuple[str, str]] = field(default_factory=list)
    expects: list[syntax.Statement] = field(default_factory=list)
    expect_lines: list[str] = field(default_factory=list)

    def copy(self) -> Work:
        """Another one, to be changed; what is never changed is shared."""
        other = copy.copy(self)
        other.breakers = [copy.copy(one) for one in self.breakers]
        for one in other.breakers:
            one.flags = list(one.flags)
        other.boxes = [copy.copy(one) for one in self.boxes]
        for box in other.boxes:
            box.flags, box.added = list(box.flags), list(box.added)
        other.cables = [copy.copy(one) for one in self.cables]
        for cable in other.cables:
            cable.ends = [(place, dict(measures)) for place, measures in cable.ends]
        other.devices = [copy.copy(one) for one in self.devices]
        other.joins = [Join(join.place, list(join.members), list(join.options)) for join in self.joins]
        other.caps = list(self.caps)
        return other

    def text(self) -> str:
        lines = list(self.head)
        for things in (self.breakers, self.boxes, self.cables, self.devices):
            lines += [thing.line() for thing in things]
        places = dict.fromkeys([join.place for join in self.joins] + [place for place, _ in self.caps])
        for place in places:
            lines.append(f"at {place}")
            lines += [join.line() for join in self.joins if join.place == place and len(join.members) > 1]
            lines += [f"  cap {name}" for where, name in self.caps if where == place]
        return "\n".join([*lines, *self.expect_lines]) + "\n"

    def conductors(self) -> dict[str, tuple[Cable, str]]:
        return {name: (cable, color) for cable in self.cables for name, color in cable.conductors().items()}


def _inches(quantity: syntax.Quantity) -> float:
    return round(quantity.value / INCH, 6)


def _ends(statement: syntax.CableStatement | syntax.WireStatement) -> list[tuple[str, dict[str, float]]]:
    return [
        (end.place.text, {measure.name.text: _inches(measure.value) for measure in end.measures})
        for end in statement.ends
    ]


def work(text: str) -> Work:
    """The board that a text describes."""
    told = Work()
    lines = text.splitlines()
    place = ""
    for one in read(text, "-").statements:
        written = "\n".join(lines[one.span.line - 1 : one.span.end_line])
        match one:
            case syntax.PanelStatement():
                told.panels[one.name.text] = one.system.text
                told.subpanels += [one.name.text] if one.fed else []
                told.bonded += [one.name.text for word in one.flags if word.text == "bonded"]
                told.detached += [one.name.text for word in one.flags if word.text == "detached"]
                told.head.append(written)
            case syntax.BreakerStatement():
                flags = [word.text for word in one.flags]
                leg, tied = one.leg and one.leg.text, one.tied and one.tied.text
                told.breakers.append(Breaker(one.name.text, one.rating.value, flags, leg, tied))
            case syntax.BoxStatement():
                volume = one.volume.value / INCH**3 if one.volume else None
                added = [_added(one.kind.text, more) for more in one.added]
                size = one.trade_size.text if one.trade_size else None
                flags = [word.text for word in one.flags]
                told.boxes.append(Box(one.name.text, one.kind.text, volume, size, flags, added))
            case syntax.CableStatement() | syntax.WireStatement():
                single = isinstance(one, syntax.WireStatement)
                told.cables.append(
                    Cable(
                        one.name.text,
                        one.size.text,
                        1 if isinstance(one, syntax.WireStatement) else one.count,
                        one.kind.text,
                        one.aluminum,
                        round(one.length.value / FOOT, 6),
                        _ends(one),
                        one.color.text if single and isinstance(one, syntax.WireStatement) else None,
                        one.raceway.text if one.raceway else None,
                    )
                )
            case syntax.DeviceStatement():
                told.devices.append(_device(one))
            case syntax.AtStatement():
                place = one.place.text
            case syntax.JoinStatement():
                members = [
                    (end.name.text if end.name else None, _mark(end.marked if end.name else end.size))
                    for end in one.ends
                ]
                options = [
                    " ".join([option.name.text, *([option.value.text] if option.value else [])])
                    for option in one.options
                ]
                told.joins.append(Join(place, members, options))
            case syntax.CapStatement():
                told.caps.append((place, one.name.text))
            case (
                syntax.ExpectFrom()
                | syntax.ExpectLive()
                | syntax.ExpectRuns()
                | syntax.ExpectStops()
                | syntax.ExpectStarts()
                | syntax.ExpectEnd()
            ):
                told.expects.append(one)
                told.expect_lines.append(written)
            case _:
                told.head.append(written)
    return told


def _mark(word: syntax.Word | None) -> str | None:
    return None if word is None else word.text


def _added(kind: str, more: syntax.Addition) -> tuple[str, float]:
    """The words of what is put on a box, and its room; a cover that says nothing has none of its own."""
    said = [*(word.text for word in more.words)]
    said += [one.text for one in (more.volume, more.trade_size) if one is not None]
    if more.volume is not None:
        return " ".join(said), more.volume.value / INCH**3
    size = more.trade_size.text.removesuffix(" in") if more.trade_size else ""
    return " ".join(said), LISTED[kind, size] if size else 0.0


def _device(one: syntax.DeviceStatement) -> Device:
    bare, named, values = [], [], []
    for setting in one.settings:
        value = setting.value.text
        if isinstance(setting.value, syntax.Quantity):
            values.append(setting.value.value)
        (named if setting.name else bare).append(f"{setting.name.text} {value}" if setting.name else value)
    settings = " ".join(bare) + (" with " + ", ".join(named) if named else "")
    return Device(one.name.text, one.part.text, settings.strip(), values, one.place and one.place.text)
