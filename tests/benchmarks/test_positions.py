"""What every position of the switches costs: six that feel each other, and forty that do not."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import pytest

import wirecheck
from wirecheck.judge.case import Case
from wirecheck.report import position_table

HEAD = ['board "Positions"', "panel LP 120/240 V, 10 kA available"]


def hall(switches: int) -> str:
    """A light turned over from many places: a 3-way switch at each end, 4-way switches between."""
    lines = [*HEAD, "breaker LP.3 15 A", "box O octagon 21.5 cu in", "L1 is lampholder 60 W in O"]
    lines += [
        "cable T0 14/2 NM-B 20 ft from LP to B1",
        f"cable T{switches} 14/2 NM-B 11 ft from B{switches} to O",
    ]
    joins = ["at LP", "T0.black -- LP.3", "T0.white -- LP.neutral", "T0.bare -- LP.ground"]
    for each in range(1, switches + 1):
        end = each in (1, switches)
        lines += [f"box B{each} device 22.5 cu in", f"S{each} is {'3' if end else '4'}-way-switch in B{each}"]
        joins.append(f"at B{each}")
        if each > 1:
            lines.append(f"cable T{each - 1} 14/3 NM-B 12 ft from B{each - 1} to B{each}")
        into, out = ("traveler", "traveler") if end else ("in", "out")
        for side, cable in ((into, each - 1), (out, each)):
            if cable in (0, switches):
                joins.append(f"T{cable}.black -- S{each}.common")
            else:
                joins += [f"T{cable}.black -- S{each}.{side}-1", f"T{cable}.red -- S{each}.{side}-2"]
        joins += [
            f"T{each - 1}.white -- T{each}.white",
            f"T{each - 1}.bare -- T{each}.bare -- pigtail -- S{each}.ground",
        ]
    joins += [
        "at O",
        f"T{switches}.black -- L1.hot",
        f"T{switches}.white -- L1.neutral",
        f"T{switches}.bare -- L1.ground",
    ]
    return "\n".join(
        [*lines, *joins, "expect L1 from " + ", ".join(f"S{n}" for n in range(1, switches + 1)), ""]
    )


def rooms(count: int) -> str:
    """Rooms with a switch and a light each, eight on a breaker."""
    lines, joins, landed = [*HEAD], [], ["at LP"]
    for each in range(1, count + 1):
        first, last = each % 8 == 1, each % 8 == 0 or each == count
        origin = "LP" if first else f"A{each - 1}"
        lines += [
            f"box A{each} device 20.3 cu in",
            f"box O{each} octagon 15.5 cu in",
            f"S{each} is single-pole-switch in A{each}",
            f"L{each} is lampholder 60 W in O{each}",
            f"cable W{each} 14/2 NM-B 12 ft from {origin} to A{each}",
            f"cable V{each} 14/2 NM-B 11 ft from A{each} to O{each}",
        ]
        if first:
            lines.append(f"breaker LP.{each // 8 + 1} 15 A")
            landed += [
                f"W{each}.black -- LP.{each // 8 + 1}",
                f"W{each}.white -- LP.neutral",
                f"W{each}.bare -- LP.ground",
            ]
        on = {color: "" if last else f" -- W{each + 1}.{color}" for color in ("black", "white", "bare")}
        tail = "" if last else " -- pigtail"
        joins += [
            f"at A{each}",
            f"W{each}.black{on['black']}{tail} -- S{each}.line",
            f"V{each}.black -- S{each}.load",
            f"W{each}.white -- V{each}.white{on['white']}",
            f"W{each}.bare -- V{each}.bare{on['bare']} -- pigtail -- S{each}.ground",
            f"at O{each}",
            f"V{each}.black -- L{each}.hot",
            f"V{each}.white -- L{each}.neutral",
            f"V{each}.bare -- L{each}.ground",
        ]
    return "\n".join([*lines, *landed, *joins, *(f"expect L{n} from S{n}" for n in range(1, count + 1)), ""])


def positions(text: str) -> tuple[Case, str]:
    """The whole way from the text to the table."""
    _, board = wirecheck.assemble(text)
    assert not board.problems
    case = Case(board)
    return case, position_table.render(case)


@pytest.mark.parametrize(
    ("text", "rows", "seconds"),
    [(hall(6), 64, 1.0), (rooms(40), 80, 5.0)],
    ids=["six that feel each other", "forty rooms"],
)
def test_every_position(benchmark: Callable[..., Any], text: str, rows: int, seconds: float) -> None:
    started = time.perf_counter()
    case, _ = positions(text)
    took = time.perf_counter() - started
    assert sum(len(table.rows) for table in position_table.group_tables(case)) == rows
    assert took < seconds
    benchmark(positions, text)


def test_a_switch_more_in_a_hall_doubles_its_rows_and_no_worse() -> None:
    """Rooms that do not feel each other are added, not multiplied: forty are forty small tables."""
    assert [len(next(position_table.group_tables(positions(hall(n))[0])).rows) for n in (3, 4, 5)] == [
        8,
        16,
        32,
    ]
