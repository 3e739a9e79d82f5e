"""What a piece of a text is, for whoever shows the text to give it colors, or none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from wirecheck.judge.finding import Severity

Look = Literal["heading"] | Severity
Paint = Callable[[str, Look], str]
"""Gives a piece of text its look; it is called with text that is already plain."""


def unpainted(text: str, look: Look) -> str:
    """The text as it is, whatever it is.

    >>> unpainted("HAZARD", "hazard")
    'HAZARD'
    """
    return text
