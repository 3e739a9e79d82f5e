"""A box is too small for what is in it.

Wires that are pressed into a box lose their insulation at sharp edges, joints come loose when the
device is pushed in, and the heat has nowhere to go. Each wire, device, clamp and the grounds
together need so much room. A plaster ring, an extension or a domed cover adds what is marked on it, or the
volume of a box of its size; one with no mark adds nothing.

Source: NEC Table 314.16(A), 314.16(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.fill import Filling, added_volume, fillings, own_volume
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.language.listing import listed
from wirecheck.language.quantity import rounded, shown
from wirecheck.model.board import Box
from wirecheck.tables.boxes import CUBIC_INCH, Allowance, box_volume, conductor_volume
from wirecheck.tables.code import Code
from wirecheck.tables.published import NotInTable


class UnknownVolume(Problem):
    """A box, or what is put on it, by a trade size that no table has."""

    box: Box
    size: str


class Overfull(Problem):
    """A box that holds less than its contents need, in cubic meters."""

    filling: Filling
    fill: float
    volume: float


def find(case: Case) -> Iterator[UnknownVolume | Overfull]:
    """Each box by its own line."""
    for filling in fillings(case):
        box, volume, fill = filling.box, filling.volume, filling.fill
        sizes = (box.trade_size, *(one.trade_size for one in box.added))
        unknown = next((size for size in sizes if size and not _is_listed(box, size, case.code)), None)
        if volume is None and unknown is not None:
            yield UnknownVolume(
                at=spot(box), about=box, severity="advice", stage="rough-in", box=box, size=unknown
            )
        if volume is not None and fill is not None and filling.over:
            yield Overfull(
                at=spot(box),
                about=box,
                severity="violation",
                stage="rough-in",
                filling=filling,
                fill=fill,
                volume=volume,
            )


def _is_listed(box: Box, size: str, code: Code) -> bool:
    try:
        return box_volume(box.kind, size, code=code) > 0
    except NotInTable:
        return False


def words(problem: UnknownVolume | Overfull, case: Case) -> Words:
    """The room that there is and the room that it takes, item by item as it is worked out by hand."""
    match problem:
        case UnknownVolume(box=box, size=size):
            return Words(
                message=f"The table of standard boxes does not list {box.name} by its size, "
                f"{size}. Whether everything fits is not checked.",
                help="Read the volume stamped inside the box and write it, as in: 20.3 cu in",
                source=case.code.section("volumes of metal boxes"),
            )
        case Overfull(filling=filling, fill=fill, volume=volume):
            return Words(
                message=f"{filling.box.name} is too small: what is in it needs {_cubic(fill, volume)}, and "
                f"the box{_with(filling.box)} holds {_cubic(volume, fill)}. Wires that are pressed in get "
                "nicked, and joints pull loose.",
                help="\n".join(
                    (
                        *_arithmetic(filling, case.code),
                        *_room(filling.box, case.code),
                        f"Together {_cubic(fill)}. Use a larger box, or take something out of this one.",
                    )
                ),
                source=case.code.section("room that a box's contents need"),
                value=fill / CUBIC_INCH,
                limit=volume / CUBIC_INCH,
                unit="cu in",
            )


def _arithmetic(filling: Filling, code: Code) -> Iterator[str]:
    yokes = iter(filling.yokes)
    for one in filling.allowances:
        volume = conductor_volume(one.size, code=code)
        what = f"{next(yokes).name}, two wires a gang" if one.of == "yoke" else _counted(one, code)
        yield (
            f"{what}, {gauge(one.size)}: {rounded(one.number)} x {rounded(volume / CUBIC_INCH)} = "
            f"{_cubic(one.number * volume)}"
        )


def _with(box: Box) -> str:
    """What is put on a box, as words that follow it."""
    kinds = list(dict.fromkeys(one.kind for one in box.added))
    return f" with its {listed(kinds, len(kinds))}" if kinds else ""


def _room(box: Box, code: Code) -> Iterator[str]:
    """The room that a box has by itself, and what each thing that is put on it adds."""
    own = own_volume(box, code)
    if box.added and own is not None:
        yield f"the box alone holds {_cubic(own)}"
    for one in box.added:
        volume = added_volume(box, one, code)
        marked = one.volume is not None or one.trade_size is not None
        yield f"its {one.kind} adds {_cubic(volume) if marked else 'nothing: no volume is marked on it'}"


def _counted(one: Allowance, code: Code) -> str:
    """What an allowance is for, and how it is counted."""
    match one.of:
        case "clamps":
            return "the clamps, all as one wire"
        case "fittings":
            return "the stud and hickey, one wire each"
        case "grounds":
            together = code.limit("grounds that count as one conductor")
            beyond = one.count - together
            more = f" and a quarter for each beyond the first {together:g}" if beyond > 0 else ""
            return f"{one.count} grounds, all as one wire{more}" if one.count > 1 else "1 ground"
    return f"{one.count} wires" if one.count > 1 else "1 wire"


def _cubic(volume: float, beside: float | None = None) -> str:
    return shown(volume, "volume", beside=beside)


RULE = rule(__name__, "rough-in", severities=("violation", "advice"), find=find, words=words)
