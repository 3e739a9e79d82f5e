"""The timing chart, judged from its own geometry: time to scale, no word on another, nothing left out."""

from __future__ import annotations

import functools
import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drawing.geometry import Picture, inside, overlap, read
from tests.parts.hookups import hookup
from wirecheck.circuit.call import CallPlayed, play_call
from wirecheck.drawing.render import to_svg
from wirecheck.drawing.sheet import dot_source
from wirecheck.drawing.timing import axis, levels, rows, timing_sheet

CALLS = [
    ("gas-furnace", ("heat",), {}),
    ("gas-furnace", ("heat",), {"F.flame": "off"}),
    ("oil-furnace", ("heat",), {}),
    ("condensing-unit", ("cool",), {}),
    ("heat-pump", ("auxiliary",), {}),
    ("heat-pump", ("heat",), {"HP.coil-sensor": "cold"}),
    ("packaged-unit", ("heat", "cool"), {}),
    ("boiler", ("Z1.heat",), {}),
    ("walk-in-freezer", ("cool", "defrost"), {}),
    ("ice-machine", ("ice",), {}),
]
IDS = ["-".join((name, *calls, *held)) for name, calls, held in CALLS]


@functools.cache
def played(index: int) -> CallPlayed:
    name, calls, held = CALLS[index]
    return play_call(hookup(name), calls, held)


@functools.cache
def picture(index: int) -> Picture:
    return read(to_svg(dot_source(timing_sheet(played(index), "A call, by " + CALLS[index][0]))))


@pytest.mark.parametrize("index", range(len(CALLS)), ids=IDS)
def test_no_words_lie_on_words(index: int) -> None:
    for one, other in itertools.combinations(picture(index).texts, 2):
        assert not overlap(one.box, other.box, 0.5), (one.text, other.text)


@pytest.mark.parametrize("index", range(len(CALLS)), ids=IDS)
def test_all_words_are_on_the_page(index: int) -> None:
    (page,) = picture(index).of("frame")[:1]
    for words in picture(index).texts:
        assert inside(words.box, page.box, 1.0), words.text


@pytest.mark.parametrize("index", range(len(CALLS)), ids=IDS)
def test_words_below_a_bar_are_clear_of_every_bar(index: int) -> None:
    bars = picture(index).of("bar")
    for words in picture(index).of("state"):
        if not words.text:
            continue
        over = [bar for bar in bars if overlap(words.box, bar.box, 0.5)]
        assert all(inside(words.box, bar.box, 1.5) for bar in over), words.text


@pytest.mark.parametrize("index", range(len(CALLS)), ids=IDS)
def test_every_load_and_state_has_its_row_and_every_moment_its_words(index: int) -> None:
    told = played(index)
    names = {shape.text for shape in picture(index).of("row") if shape.text}
    assert set(told.calls) <= names
    ran = {
        load.name
        for load in told.before.circuit.loads
        if "standby" not in load.flags and any(load.name in step.settled.running for step in told.steps)
    }
    lasting = {row.name for row in rows(told) if row.kind == "load"}
    assert lasting <= ran and lasting <= names
    times = [shape.text for shape in picture(index).of("time") if shape.text]
    starts = {span.start for row in rows(told) for span in row.spans}
    assert len(times) >= len(starts | {0.0})


@pytest.mark.parametrize("index", range(len(CALLS)), ids=IDS)
def test_the_same_call_gives_the_same_chart(index: int) -> None:
    name, calls, held = CALLS[index]
    again = timing_sheet(play_call(hookup(name), calls, held), "A call, by " + name)
    assert dot_source(again) == dot_source(timing_sheet(played(index), "A call, by " + name))


def seconds(text: str) -> float:
    """A moment as the chart writes it, in seconds."""
    if text.endswith(" s"):
        return float(text.removesuffix(" s"))
    parts = [float(part) for part in re.sub(r" (min|h)$", "", text).split(":")]
    if text.endswith(" h"):
        return sum(part * unit for part, unit in zip(parts, (3600, 60, 1), strict=False))
    return sum(part * unit for part, unit in zip(parts, (60, 1), strict=False))


def test_the_furnace_is_drawn_to_scale() -> None:
    # No wait of this call is long, so one scale holds for all of it.
    moments = [(seconds(s.text), s.box[0]) for s in picture(0).of("time") if s.text]
    (first, start), (last, end) = min(moments), max(moments)
    for time, x in moments:
        assert x == pytest.approx(start + (end - start) * (time - first) / (last - first), abs=0.6)


@given(st.lists(st.floats(0, 20000, allow_nan=False), min_size=2, max_size=30, unique=True))
def test_an_axis_keeps_order_and_one_scale(times: list[float]) -> None:
    told = axis(times, 100.0, 2000.0)
    assert list(told.times) == sorted(times)
    assert list(told.places) == sorted(told.places)
    assert told.places[0] == 100.0
    broken = {(each.start, each.end) for each in told.breaks}
    scales = [
        (after - before) / (end - start)
        for (start, end), (before, after) in zip(
            itertools.pairwise(told.times), itertools.pairwise(told.places), strict=True
        )
        if not any(abs(start - a) < 1e-9 for a, _ in broken) and end - start > 0.01
    ]
    assert not scales or max(scales) == pytest.approx(min(scales), rel=1e-3)


@given(st.lists(st.tuples(st.floats(0, 500), st.floats(1, 80)), max_size=25))
def test_words_and_leaders_keep_clear(spots: list[tuple[float, float]]) -> None:
    ordered = sorted((start, start + width) for start, width in spots)
    told = levels(ordered)
    for (one, level), (other, further) in itertools.combinations(list(zip(ordered, told, strict=True)), 2):
        # The later one's leader goes from its level to line 0, at its left end.
        if other[0] < one[1]:
            assert level > further


def test_tripped_protection_and_held_safeties_are_told() -> None:
    told = play_call(hookup("gas-furnace"), ["heat"], {"F.limit": "open"})
    words = {s.text for s in read(to_svg(dot_source(timing_sheet(told, "Held")))).texts}
    assert "Held all the while: F.limit open." in words
