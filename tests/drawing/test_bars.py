"""What a panel joins to its neutral bar by itself is drawn: its bond, and the leads of its breakers."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.drawing import geometry
from tests.drawing.test_wiring import BOARDS, of_text
from wirecheck.drawing.colors import insulation
from wirecheck.drawing.picture import draw
from wirecheck.model.board import Board


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
    own = {each.name: each for each in board.breakers.values() if f"{each.name}.neutral" in board.terminals}
    leads = {shape.id.removeprefix("lead-of-") for shape in picture.of("lead") if "lead-of-" in shape.id}
    assert leads == {f"{name}.neutral" for name in own}
    for name, breaker in own.items():
        lead, trunk = shapes[f"lead-{name}.neutral"], shapes[f"lead-{breaker.panel}"]
        assert lead.stroke == trunk.stroke == insulation("white")
        body, screw = shapes[f"device-{name}"], shapes[f"terminal-{name}.neutral"]
        assert lead.points[0] == pytest.approx((geometry.middle(screw)[0], body.box[3]), abs=0.6)
        assert geometry.near(trunk.points, lead.points[-1], 0.1)
        assert geometry.near(shapes[f"terminal-{breaker.panel}.neutral"].points, trunk.points[0], 6.0)
        (room,) = (shape for shape in picture.of("room") if shape.id == f"room-{breaker.panel}")
        assert geometry.inside(trunk.box, room.box)
        assert not any(geometry.crosses(trunk, device.box) for device in picture.of("device"))


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, marks=[pytest.mark.slow] * (path.parent.name != "garage-panel"))
        for path in BOARDS
        if path.stem == "right"
    ],
    ids=lambda path: path.parent.name,
)
def test_a_bond_joins_the_bars_and_each_watching_breaker_has_its_lead(path: Path) -> None:
    joined_by_itself(of_text(path.read_text("utf-8")))
