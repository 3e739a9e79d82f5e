"""Every mistake with a wire's end on the boards whose wires bear no thermostat letters.

The oracle is connectivity by scipy and a table of the few contacts and loads, typed here: what each call
energizes, and which screws of line voltage and of ground hang together. Where either is no longer as on the
right board, the checker must say something worse than advice.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

import pytest
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from tests.boards.mutations import Mutant, end_capped, end_left_loose, end_moved, ends_exchanged
from tests.boards.work import Work, work
from wirecheck import check, files


class Equipment(NamedTuple):
    """What is wired to what: `buttons` close a pair of screws; a load of `loads` may close another pair.

    `supply` is the pair of a low-voltage source, `asks` a pair whose joining is itself the call. `alike` are
    screws of line voltage that may change places, `inside` those that a wire of the machine's own joins.
    """

    supply: tuple[str, str] | None
    buttons: dict[str, tuple[str, str]]
    loads: dict[str, tuple[str, str]]
    moved: dict[str, tuple[str, str]]
    asks: tuple[str, str] | None
    alike: tuple[tuple[str, str], ...]
    inside: tuple[tuple[str, str], ...] = ()


EQUIPMENT = {
    "boiler-two-zones": Equipment(
        ("X.secondary-r", "X.secondary-c"),
        {"Z1": ("Z1.R", "Z1.W"), "Z2": ("Z2.R", "Z2.W")},
        {"ZV1": ("ZV1.motor-1", "ZV1.motor-2"), "ZV2": ("ZV2.motor-1", "ZV2.motor-2")},
        {"ZV1": ("ZV1.end-1", "ZV1.end-2"), "ZV2": ("ZV2.end-1", "ZV2.end-2")},
        ("B.T-1", "B.T-2"),
        (("TP.21", "TP.23"), ("X.primary-hot", "X.primary-neutral")),
        (("B.N", "B.pump-neutral"),),
    ),
    "doorbell": Equipment(
        ("DT.secondary-1", "DT.secondary-2"),
        {"front": ("PF.a", "PF.b"), "rear": ("PR.a", "PR.b")},
        {"front-bell": ("CH.front", "CH.trans"), "rear-bell": ("CH.rear", "CH.trans")},
        {},
        None,
        (),
    ),
    "primary-secondary-boiler": Equipment(
        None,
        {"heat": ("TS.R", "TS.W")},
        {},
        {},
        ("B.T-1", "B.T-2"),
        # Both circulators begin with the call.
        (("B.boiler-pump-hot", "B.system-pump-hot"), ("P1.hot", "P2.hot")),
        (("B.N", "B.boiler-pump-neutral"), ("B.N", "B.system-pump-neutral")),
    ),
    "power-vent-water-heater": Equipment(None, {}, {}, {}, None, ()),
    "walk-in-cooler": Equipment(
        None,
        {"cool": ("TS.a", "TS.b")},
        {},
        {},
        ("W.T-1", "W.T-2"),
        (("W.L1", "W.L2"), ("TP.30.a", "TP.30.b")),
        (("W.L1", "W.T-1"),),
    ),
    "walk-in-freezer": Equipment(
        None,
        {"cool": ("TS.a", "TS.b")},
        {},
        {},
        ("W.T-1", "W.T-2"),
        (("W.L1", "W.L2"), ("TP.32.a", "TP.32.b")),
    ),
    # Number to number between the units; the supply may come either way round.
    "ductless-pair": Equipment(
        None,
        {},
        {},
        {},
        None,
        (
            ("TP.10.a", "TP.10.b"),
            ("D.line-1", "D.line-2"),
            ("D.load-1", "D.load-2"),
            ("D.line-1", "D.load-1"),
            ("D.line-2", "D.load-2"),
        ),
        (("O.L1", "O.1"), ("O.L2", "O.2")),
    ),
    "ice-machine": Equipment(None, {}, {}, {}, None, (("SW.line", "SW.load"),)),
}
LOW = ("secondary", "motor-", "end-", "T-1", "T-2", "CH.", "PF.", "PR.", "Z1.", "Z2.", "TS.a", "TS.b")


def tied(board: Work, closed: tuple[tuple[str, str], ...]) -> dict[str, int]:
    """The piece of copper that each screw and wire is part of."""
    pairs = [*closed]
    for join in board.joins:
        names = [name for name, _ in join.members if name is not None]
        pairs += itertools.pairwise(names)
    names = list(dict.fromkeys([*board.conductors(), *screws(board), *itertools.chain(*pairs)]))
    place = {name: number for number, name in enumerate(names)}
    rows, columns = [place[a] for a, _ in pairs], [place[b] for _, b in pairs]
    matrix = coo_array(([1] * len(pairs), (rows, columns)), shape=(len(names), len(names)))
    labels = connected_components(matrix, directed=False)[1]
    return {name: int(labels[number]) for name, number in place.items()}


def screws(board: Work) -> list[str]:
    """Every screw, by the text of the parts."""
    told = [f"{panel}.{bar}" for panel in board.panels for bar in ("neutral", "ground")]
    told += itertools.chain(*(breaker.poles for breaker in board.breakers))
    for device in board.devices:
        for line in (files.part_text(device.part) or "").splitlines():
            if line.startswith("terminal "):
                told.append(f"{device.name}.{line.split()[1]}")
    return told


def control(board: Work, equipment: Equipment) -> list[object]:
    """For each set of buttons: what is energized, whether the call is made and the supply shorted."""
    told: list[object] = []
    for count in range(len(equipment.buttons) + 1):
        for pressed in itertools.combinations(equipment.buttons, count):
            closed = (*equipment.inside, *(equipment.buttons[name] for name in pressed))
            on: frozenset[str] = frozenset()
            for _ in range(3):
                piece = tied(
                    board, (*closed, *(equipment.moved[name] for name in on if name in equipment.moved))
                )
                if equipment.supply is not None:
                    sides = {piece[side] for side in equipment.supply}
                    loads = equipment.loads.items()
                    on = frozenset(name for name, (a, b) in loads if {piece[a], piece[b]} == sides)
            shorted = equipment.supply is not None and len({piece[side] for side in equipment.supply}) == 1
            asks = equipment.asks is not None and piece[equipment.asks[0]] == piece[equipment.asks[1]]
            told.append((pressed, on, asks, shorted))
    return told


def power(
    board: Work, swapped: tuple[tuple[str, str], ...], inside: tuple[tuple[str, str], ...]
) -> frozenset[frozenset[str]]:
    """Which screws of line voltage and ground hang together, those of low voltage apart from them as one."""
    names = {a: b for pair in swapped for a, b in (pair, pair[::-1])}
    groups: dict[int, set[str]] = {}
    for name, piece in tied(board, inside).items():
        if name in screws(board):
            low = any(word in name for word in LOW)
            groups.setdefault(piece, set()).add("low voltage" if low else names.get(name, name))
    return frozenset(frozenset(group) for group in groups.values() if group != {"low voltage"})


def mistakes(board: Work) -> Iterator[Mutant]:
    places: dict[str, list[str]] = {}
    boxes = {device.name: device.place or device.name for device in board.devices}
    for screw in screws(board):
        owner = screw.partition(".")[0]
        places.setdefault(boxes.get(owner, owner), []).append(screw)
    for change in (end_moved(board, places), ends_exchanged(board), end_left_loose(board), end_capped(board)):
        for words, changed in change:
            yield Mutant("", words, changed)


@pytest.mark.slow
@pytest.mark.parametrize("name", EQUIPMENT)
def test_every_wire_that_changes_what_works_is_found(name: str) -> None:
    text = (files.folder("boards") / name / "right.wire").read_text(encoding="utf-8")
    right, equipment = work(text), EQUIPMENT[name]
    works, hangs = control(right, equipment), power(right, (), equipment.inside)
    flips = [
        tuple(itertools.compress(equipment.alike, chosen))
        for chosen in itertools.product((False, True), repeat=len(equipment.alike))
    ]
    missed, changed = [], 0
    for mutant in mistakes(right):
        same = control(mutant.work, equipment) == works
        if same and any(power(mutant.work, flip, equipment.inside) == hangs for flip in flips):
            continue
        changed += 1
        if all(finding.severity == "advice" for finding in check(mutant.work.text()).findings):
            missed.append(mutant.words)
    assert changed > 20
    assert missed == []
