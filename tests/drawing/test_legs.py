"""The legs of a panel under its breakers: each pole has its dot on the bar of its leg."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.drawing import geometry
from tests.drawing.test_ladder import signs
from tests.drawing.test_wiring import BOARDS, of_text
from wirecheck import files
from wirecheck.drawing.picture import draw
from wirecheck.judge.case import Case
from wirecheck.model.board import Board

KITCHEN = files.folder("boards") / "kitchen-multiwire"


def dots(board: Board) -> dict[str, geometry.Shape]:
    """The dot of each pole and each lug, on the bar of its leg, under its own screw and its breaker."""
    picture = geometry.read(draw(board))
    taps = {shape.id.removeprefix("leg-of-"): shape for shape in picture.of("tap")}
    bars = {shape.id: shape for shape in picture.of("leg")}
    screws = {shape.id.removeprefix("terminal-"): shape for shape in picture.of("terminal")}
    poles = {name for breaker in board.breakers.values() for name, _ in breaker.poles}
    drawn = [panel for panel in board.panels.values() if f"leg-{panel.name}.a" in bars]
    lugs = {panel.lug(leg): (panel, leg) for panel in drawn if panel.fed for leg in panel.legs}
    assert set(taps) == poles | set(lugs)
    for name, (panel, leg) in lugs.items():
        x, y = geometry.middle(taps[name])
        assert geometry.near(bars[f"leg-{panel.name}.{leg}"].points, (x, y), 0.1)
        assert x == pytest.approx(geometry.middle(screws[name])[0], abs=0.1)
    for breaker in board.breakers.values():
        body = next(shape for shape in picture.of("device") if shape.id == f"device-{breaker.name}")
        for name, leg in breaker.poles:
            x, y = geometry.middle(taps[name])
            assert geometry.near(bars[f"leg-{breaker.panel}.{leg}"].points, (x, y), 0.1)
            assert x == pytest.approx(geometry.middle(screws[name])[0], abs=0.1)
            assert y > body.box[3]
    for panel in board.panels.values():
        room = next(shape for shape in picture.of("room") if shape.id == f"room-{panel.name}")
        own = [bar for bar in bars.values() if bar.id in {f"leg-{panel.name}.{leg}" for leg in panel.legs}]
        assert all(geometry.inside(bar.box, room.box) for bar in own)
        assert len({bar.box[1] for bar in own}) == len(own)
    return taps


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, marks=[pytest.mark.slow] * bool(number % 40))
        for number, path in enumerate(path for path in BOARDS if path.stem == "right")
    ],
    ids=lambda path: path.parent.name,
)
def test_each_pole_is_on_its_leg(path: Path) -> None:
    dots(of_text(path.read_text("utf-8")))


def test_two_hots_on_one_leg_are_seen() -> None:
    heights = {}
    for name in ("right", "wrong-same-leg"):
        taps = dots(of_text((KITCHEN / f"{name}.wire").read_text("utf-8")))
        heights[name] = len({round(geometry.middle(tap)[1], 1) for tap in taps.values()})
    assert heights == {"right": 2, "wrong-same-leg": 1}


def test_a_leg_is_live_though_the_breaker_is_off() -> None:
    case = Case(of_text((KITCHEN / "right.wire").read_text("utf-8")))
    off = dict.fromkeys(case.board.breakers, "off")
    picture = geometry.read(draw(case.board, state=case.standing(off)))
    live = {shape.id for shape in picture.of("live")}
    assert {"live-0-leg-TP.a", "live-0-leg-TP.b"} <= live
    assert not any("conductor" in name or "W1" in name for name in live)


@pytest.mark.parametrize(("name", "there"), [("right", True), ("wrong-no-handle-tie", False)])
def test_a_handle_tie_is_a_bar_from_handle_to_handle(name: str, there: bool) -> None:
    board = of_text((KITCHEN / f"{name}.wire").read_text("utf-8"))
    picture = geometry.read(draw(board))
    ties = picture.of("tie")
    assert [tie.id for tie in ties] == ["tie-TP.15"] * there
    screws = {shape.id: geometry.middle(shape) for shape in picture.of("terminal")}
    names = {shape.id: shape.box[1] for shape in picture.texts}
    for tie in ties:
        ends = sorted(x for x, _ in (tie.points[0], tie.points[-1]))
        over = sorted(screws[f"terminal-{breaker}"][0] for breaker in ("TP.13", "TP.15"))
        assert ends == pytest.approx(over, abs=0.1)
        assert screws["terminal-TP.13"][1] < tie.box[1] < tie.box[3] < names["label-TP.13"]
    ladder = geometry.read(draw(board, kind="ladder"))
    said = [text.text for text in ladder.texts]
    assert ("tied to TP.15" in said, "tied to TP.13" in said) == (there, there)
    one, other = (signs(ladder)[f"contact-{breaker}"] for breaker in ("TP.13", "TP.15"))
    links = [link for link in ladder.of("link") if link.id.startswith("tie-")]
    assert len(links) == there
    for link in links:
        # From the arc of the one to the other, and all words over it: it strikes none and underlines none.
        assert one[2] - 1.5 < link.box[0] <= one[2] and other[0] - 3 < link.box[2] < other[0]
        assert one[1] < link.box[1] < one[3]
        words = [text.box for text in ladder.texts if text.id.startswith("contact-TP.13.words")]
        assert len(words) == 3 and all(box[3] < link.box[1] for box in words)


def test_the_poles_of_one_breaker_are_each_under_its_screw_and_linked() -> None:
    dryer = files.folder("boards") / "dryer-outlet" / "right.wire"
    picture = geometry.read(draw(of_text(dryer.read_text("utf-8"))))
    screws = {shape.id.rpartition(".")[2]: geometry.middle(shape)[0] for shape in picture.of("terminal")}
    drawn = {name: (box[0] + box[2]) / 2 for name, box in signs(picture).items()}
    (link,) = (shape for shape in picture.of("sign") if shape.id == "link-TP.30-1")
    for name, screw in (("sign-TP.30", "a"), ("sign-TP.30/2", "b")):
        assert drawn[name] == pytest.approx(screws[screw], abs=0.2)
    assert [link.box[0], link.box[2]] == pytest.approx([screws["a"], screws["b"]], abs=0.2)
