"""The colors of insulation, jackets, screws and pages, and how well they stand apart.

Contrast is that of WCAG 2.2 (W3C Recommendation, "contrast ratio" and
"relative luminance"): non-text parts need 3:1, small text 4.5:1.
"""

from __future__ import annotations

from dataclasses import dataclass

LEAST_CONTRAST, LEAST_TEXT_CONTRAST = 3.0, 4.5

INSULATION = {
    "black": "#1a1a1a",
    "white": "#ffffff",
    "gray": "#9a9a9a",
    "grey": "#9a9a9a",
    "bare": "#b87a3c",
    "green": "#11823b",
    "green-yellow": "#11823b",
    "red": "#d01c1f",
    "blue": "#1d5fc4",
    "yellow": "#f5d000",
    "orange": "#e8760a",
    "brown": "#7b4a1e",
    "purple": "#8a3fa8",
    "violet": "#8a3fa8",
    "pink": "#f09ab8",
    "tan": "#d2b48c",
}
UNKNOWN_INSULATION = "#5b6b7b"
UNTOLD = "untold"
"""What the color of a wire is called of which nothing tells its color; it is drawn in no insulation's."""

JACKETS = {
    "14": "#f3f1ea",
    "12": "#f6e7a6",
    "10": "#f3cda2",
}
"""NM-B jackets by size (common practice: 14 white, 12 yellow, 10 orange)."""
JACKET = "#e9ebee"
RACEWAY = "#d5dae0"

SCREWS = {
    "brass": "#d6a83a",
    "black": "#3a3a3a",
    "silver": "#d9dde1",
    "white": "#d9dde1",
    "green": "#2f9e55",
    "copper": "#c07a45",
    "red": "#d01c1f",
}
SCREW = "#b9c0c7"
CAP = "#a5c8ec"
"""A connector over a wire that is not used: in the color of no screw."""

SEVERITY = {"hazard": "#b00020", "violation": "#a84300", "fault": "#6a2c91", "advice": "#1c5d99"}

LIVE = {
    "a": "#d56a00",
    "b": "#b83fbd",
    "c": "#6a63d8",
    "low": "#0c8a9e",
    "derived": "#d0447a",
    "apart": "#5f8a14",
}
LIVE_DASH = {
    "a": "solid",
    "b": "dashed",
    "c": "dash-dot",
    "low": "dotted",
    "derived": "long-dash",
    "apart": "dash-dots",
}
"""The glow around a live wire, told apart by its dash too: leg a, leg b, leg c, 24 V, line voltage that a
transformer makes, not tied to ground."""


@dataclass(frozen=True, slots=True)
class Page:
    """The colors of a page: its ground and ink, the grounds of rooms and devices, and of what runs."""

    ground: str
    ink: str
    faint: str
    room: str
    device: str
    lit: str


PAPER = Page(
    ground="#ffffff", ink="#1a1a1a", faint="#5a6068", room="#f7f8fa", device="#ffffff", lit="#ffdf80"
)
DARK = Page(ground="#15181c", ink="#f0f2f4", faint="#aeb6bf", room="#1f242a", device="#2a3038", lit="#6b5410")
PAGES = {"paper": PAPER, "dark": DARK}


def luminance(color: str) -> float:
    """Relative luminance of an sRGB color written `#rrggbb` (WCAG 2.2).

    >>> luminance("#ffffff"), luminance("#000000")
    (1.0, 0.0)
    """
    channels = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colors, from 1 to 21 (WCAG 2.2).

    >>> contrast("#ffffff", "#000000")
    21.0
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def insulation(color: str) -> str:
    """The color in which a conductor of that insulation is drawn.

    >>> insulation("white")
    '#ffffff'
    """
    return INSULATION.get(color, UNKNOWN_INSULATION)


def casing(color: str, ground: str) -> str:
    """The color of the thin casing that sets a wire off from its ground.

    Black or white, whichever makes the wire or its casing stand out from the
    ground, so that no wire is lost on any page.

    >>> casing("#ffffff", "#ffffff"), casing("#1a1a1a", "#ffffff"), casing("#1a1a1a", "#15181c")
    ('#1a1a1a', '#ffffff', '#ffffff')
    """
    dark, light = "#1a1a1a", "#ffffff"
    if contrast(color, ground) >= LEAST_CONTRAST:
        return light if contrast(ground, light) < contrast(ground, dark) else dark
    return dark if contrast(ground, dark) > contrast(ground, light) else light


def on_page(color: str, page: Page) -> str:
    """A jacket's color as it is on paper; on a dark page, most of the page's own color with it.

    >>> on_page("#ffffff", PAPER), on_page("#ffffff", DARK)
    ('#ffffff', '#444649')
    """
    if page is not DARK:
        return color
    parts = (
        round(int(color[i : i + 2], 16) * 0.2 + int(page.ground[i : i + 2], 16) * 0.8) for i in (1, 3, 5)
    )
    return "#" + "".join(f"{part:02x}" for part in parts)


def readable(color: str, page: Page) -> str:
    """A color in which small words can be read on a page; the page's ink where it cannot.

    >>> readable("#b00020", PAPER), readable("#b00020", DARK)
    ('#b00020', '#f0f2f4')
    """
    return color if contrast(color, page.ground) >= LEAST_TEXT_CONTRAST else page.ink


def text_on(color: str) -> str:
    """Black or white, whichever reads better on that color.

    >>> text_on("#b00020")
    '#ffffff'
    """
    return "#ffffff" if contrast(color, "#ffffff") >= contrast(color, "#000000") else "#000000"
