"""The colors that wires come in and are marked with, by what each says that a wire is for.

A board names them in these words. Whoever paints, completes or asks for a color has it from here.

Source: NEC 200.6 and 250.119 for neutrals and grounds; the others are common practice
"""

from __future__ import annotations

HOT_COLORS = ("black", "red", "blue", "yellow", "orange", "brown", "purple", "violet", "pink", "tan")
NEUTRAL_COLORS = ("white", "gray", "grey")
# Green with a yellow stripe is a ground too.
GROUND_COLORS = ("bare", "green", "green-yellow")
COLORS = (*HOT_COLORS, *NEUTRAL_COLORS, *GROUND_COLORS)
# What can be wound around a wire: there is no tape that makes one bare.
MARKS = tuple(color for color in COLORS if color != "bare")

OTHER_COLORS = {
    "bk": "black",
    "rd": "red",
    "bu": "blue",
    "ye": "yellow",
    "og": "orange",
    "bn": "brown",
    "vt": "violet",
    "pk": "pink",
    "wh": "white",
    "gy": "gray",
    "gn": "green",
    "gnye": "green-yellow",
    "braun": "brown",
    "copper": "bare",
    "uninsulated": "bare",
}
"""What colors are called, with the one that is meant, where letters alone do not tell it.

Those of two letters are as IEC 60757 has them, from memory.
"""
