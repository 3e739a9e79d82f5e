"""Whether a box is surely one gang wide."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.limit import over
from wirecheck.judge.question import question
from wirecheck.judge.tape import INCH
from wirecheck.model.board import Box

# The largest nonmetallic box of one gang that is commonly sold; a larger one may have two (common practice).
# Table 314.16(A) agrees: its deepest device box, 3 x 2 x 3-1/2 in, has 18.0 cu in.
LARGEST_OF_ONE_GANG = 22.5 * INCH**3


@question
def _yokes(case: Case) -> dict[str, float]:
    """The yokes in each place that has any; a device two gangs wide counts two."""
    yokes: dict[str, float] = {}
    for device in case.board.devices.values():
        yokes[device.place] = yokes.get(device.place, 0) + device.part.fills.get("yoke", 0)
    return yokes


def surely_one_gang(case: Case, box: Box) -> bool:
    """Whether a device box has one gang: as its line says, or else by what is in it and its volume."""
    if box.gangs is not None:
        return box.gangs == 1
    large = box.volume is not None and over(box.volume, LARGEST_OF_ONE_GANG)
    return not large and _yokes(case).get(box.name, 0) < 2
