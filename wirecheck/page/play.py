"""A call played out in time: its steps in words, one picture of what every step shows, and its chart."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wirecheck.page.question import Question


def play_answer(path: str, asked: Question) -> str:
    """The calls that are made, from rest to rest, in the words of `wirecheck sequence`.

    Parameters
    ----------
    path : where the board's file is, beside which its own parts may lie
    asked : the text, the calls, and what is held where it was moved to
    """
    from wirecheck.assembly import NotABoard, assemble, library_beside
    from wirecheck.circuit.call import play_call
    from wirecheck.circuit.work import WorkEnds
    from wirecheck.drawing.colors import PAGES
    from wirecheck.drawing.picture import draw_states
    from wirecheck.drawing.render import to_svg
    from wirecheck.drawing.sheet import dot_source
    from wirecheck.drawing.steps import spans
    from wirecheck.drawing.timing import timing_strip
    from wirecheck.judge.case import Case
    from wirecheck.page.answers import TOO_MUCH, area_of, as_far_as_there, sized
    from wirecheck.report.sequence import clock, ending, events

    try:
        case = Case(assemble(asked.text, asked.file, library_beside(path))[1])
        moved, calls = as_far_as_there(case, asked)
        if not calls:
            return json.dumps({"refused": "Make a call first: it is what is played."})
        played = play_call(case.circuit, calls, moved)
    except NotABoard as error:
        return json.dumps({"refused": f"This is no board yet: {error}."})
    except WorkEnds:
        return json.dumps({"refused": TOO_MUCH})
    told = [{"moment": "before", "says": ["at rest"]}]
    told += [
        {"moment": clock(step.time), "says": [event.text for event in events(step)]} for step in played.steps
    ]
    states = [played.before, *(step.settled for step in played.steps)]
    drawn = draw_states(case.board, states, "wiring", asked.colors, area_of(asked), ticked=True)
    only = {part: spans(shown) for part, shown in drawn.only.items()}
    area = area_of(asked)
    chart = timing_strip(played, PAGES[asked.colors], area.width / area.least)
    return json.dumps(
        {
            "steps": told,
            "picture": sized(drawn.svg),
            "only": only,
            "chart": sized(to_svg(dot_source(chart))),
            "ending": ending(case, played),
        }
    )
