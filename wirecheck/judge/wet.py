"""Which places are wet, and which runs lie in one."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.model.board import Raceway


@question
def wet_places(case: Case) -> frozenset[str]:
    """The boxes that are said to be wet, and where a device stands that is made to stand outdoors."""
    boxes = {box.name for box in case.board.boxes.values() if box.wet}
    return frozenset(boxes | {one.place for one in case.board.devices.values() if one.part.outdoors})


def wet_end(case: Case, raceway: Raceway) -> str | None:
    """The wet place that a raceway ends in: then it is wet inside, all the way (300.9)."""
    return next((place for place in raceway.places if place in wet_places(case)), None)


def wet_run(case: Case, name: str) -> str | None:
    """The wet place that a run comes to, by itself or in its raceway; None where it lies dry."""
    if not wet_places(case):
        return None
    run = case.board.runs[name]
    raceway = case.board.raceways.get(run.raceway or "")
    places = [*(end.place for end in run.ends), *(raceway.places if raceway is not None else ())]
    return next((place for place in places if place in wet_places(case)), None)
