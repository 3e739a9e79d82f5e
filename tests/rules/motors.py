"""A motor on three phases with its starter, as a text to change."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck import files

BOARDS = files.folder("boards")
STARTER = (BOARDS / "motor-starter" / "right.wire").read_text(encoding="utf-8")
SMALL = (BOARDS / "rules" / "phase-loss" / "right.wire").read_text(encoding="utf-8")


def group(
    motors: Mapping[str, tuple[str, int]],
    feeder: int,
    size: str,
    panel: str = "480Y/277 V",
    wires: str = "THWN-2",
) -> str:
    """A feeder of three phases to a panel with motors: the part of each, and its breaker."""
    lines = ['board "Motors on a feeder"', f"panel LP {panel}, 22 kA available, 400 A bus"]
    lines += [f"breaker LP.2 {feeder} A 3-pole", f"subpanel SP {panel}, 400 A bus"]
    colors = {"a": "black", "b": "red", "c": "blue"}
    lines += [f"wire F{leg} {size} {wires} {color} 60 ft from LP to SP" for leg, color in colors.items()]
    lines += [f"wire FG 2 {wires} green 60 ft from LP to SP"]
    at_panel, at_motors = [f"  F{leg} -- SP.{leg}" for leg in colors], []
    for place, (name, (part, breaker)) in enumerate(motors.items()):
        slot = 6 * place + 1
        lines += [f"breaker SP.{slot} {breaker} A 3-pole", f"{name} is {part}"]
        lines += [
            f"wire {name}{leg} 4 {wires} {color} 20 ft from SP to {name}" for leg, color in colors.items()
        ]
        at_panel += [f"  {name}{leg} -- SP.{slot}.{leg}" for leg in colors]
        at_motors += [f"at {name}"]
        at_motors += [f"  {name}{leg} -- {name}.T{screw}" for screw, leg in enumerate(colors, 1)]
    lines += ["at LP", *(f"  F{leg} -- LP.2.{leg}" for leg in colors), "  FG -- LP.ground"]
    return "\n".join([*lines, "at SP", *at_panel, "  FG -- SP.ground", *at_motors]) + "\n"
