"""What a panel joins to its neutral bar by itself is drawn: its bond, and the leads of its breakers."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.drawing import geometry
from tests.drawing.test_wiring import BOARDS, of_text
from tests.samples import shipped
from wirecheck.drawing.colors import insulation
from wirecheck.drawing.picture import draw, sheet
from wirecheck.judge.case import Case
from wirecheck.model.board import Board


def shapes_of_text(picture: geometry.Picture) -> dict[str, geometry.Shape]:
    return {shape.id: shape for shape in picture.shapes if shape.text}


def joined_by_itself(board: Board) -> None:
    picture = geometry.read(draw(board))
    shapes = {shape.id: shape for shape in picture.shapes if not shape.text}
    bonds = {name for name, panel in board.panels.items() if panel.bonded}
    assert {shape.id for shape in picture.of("bond")} == {
        f"bond-{name}{edge}" for name in bonds for edge in ("", "-edge")
    }
    for name in bonds:
        strap, bars = (
            shapes[f"bond-{name}"],
            [shapes[f"terminal-{name}.{bar}"] for bar in ("neutral", "ground")],
        )
        for end in (strap.points[0], strap.points[-1]):
            assert any(geometry.near(bar.points, end, 6.0) for bar in bars)
        assert strap.box[0] >= bars[0].box[2] - 0.2 and strap.box[2] <= bars[1].box[0] + 0.2
        # A thin line leads from it to its word, which stands under the names of the bars.
        words, leader = shapes_of_text(picture)[f"label-bond-{name}"], shapes[f"leader-bond-{name}"]
        (x, top), (_, low) = leader.points[0], leader.points[-1]
        assert strap.box[0] < x < strap.box[2] and 0 < top - strap.points[0][1] < 5
        assert words.box[0] < x < words.box[2] and low < words.box[1] + 2
    own = {each.name: each for each in board.breakers.values() if f"{each.name}.neutral" in board.terminals}
    leads = {shape.id for shape in picture.of("lead") if not shape.id.endswith("-edge")}
    assert leads == {f"lead-{name}.neutral" for name in own}
    for name, breaker in own.items():
        lead, bar = shapes[f"lead-{name}.neutral"], shapes[f"terminal-{breaker.panel}.neutral"].box
        assert lead.stroke == insulation("white")
        body, screw = shapes[f"device-{name}"], shapes[f"terminal-{name}.neutral"]
        assert lead.points[0] == pytest.approx((geometry.middle(screw)[0], body.box[3]), abs=0.6)
        # On itself it says whose it is, so that it is not taken for the load's neutral that goes on.
        said = shapes_of_text(picture)[f"lead-{name}.neutral-within"]
        assert said.text == f"pigtail of {name}"
        assert geometry.near(lead.points, geometry.middle(said), 0.6)
        x, y = lead.points[-1]
        assert bar[0] + 2 < x < bar[2] - 2 and y == pytest.approx(bar[3], abs=0.6)
        (room,) = (shape for shape in picture.of("room") if shape.id == f"room-{breaker.panel}")
        left, top, right, bottom = lead.box
        assert geometry.inside((left - 6, top, right + 6, bottom + 6), room.box)
        assert not any(geometry.crosses(lead, device.box) for device in picture.of("device"))
        for other in leads - {lead.id}:
            # Each runs by itself, within or around another: no two look joined.
            one, two = sorted((lead.box, shapes[other].box))
            assert one[0] + 6 < two[0] and two[2] + 6 < one[2] and two[3] + 6 < one[3]


def test_the_lead_of_a_breaker_carries_what_comes_back_to_its_neutral_screw() -> None:
    case = Case(shipped("sump-pump"))
    for calls, carries in ((case.calls, True), ((), False)):
        picture = sheet(case.board, state=case.standing({}, calls))
        flows = {line.title for line in picture.lines if line.kind == "flow"}
        assert ("conductor-W1.white carries current" in flows) == carries
        assert ("lead-TP.36.neutral carries current" in flows) == carries


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, marks=[pytest.mark.slow] * (path.parent.name != "garage-panel"))
        for path in BOARDS
        if path.stem == "right"
    ],
    ids=lambda path: path.parent.name,
)
def test_a_bond_joins_the_bars_and_each_watching_breaker_has_a_lead_of_its_own(path: Path) -> None:
    joined_by_itself(of_text(path.read_text("utf-8")))
