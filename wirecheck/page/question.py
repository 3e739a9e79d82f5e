"""What a browser asks of a board: its text, the state that it is put in, where the meter's leads are.

A browser may send anything. What is no question, or a larger one than a page asks, is refused here.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, NamedTuple

from wirecheck.arguments import QUANTITIES, Quantity
from wirecheck.inputs import MOST_NAME, as_text
from wirecheck.page.deeds import ACTS, Deed
from wirecheck.page.placing import WHATS, Placing
from wirecheck.picture import Colors

MOST_BYTES = 1024 * 1024
"""The largest question: 1 MiB. The longest board that ships has 10 KB."""
MOST_NAMED = 500
"""The most switches that are moved, and the most calls that are made."""
LEAST, MOST = 150.0, 4000.0
"""How wide and how high the room for a picture is, in points."""


class NotAQuestion(ValueError):
    """What came is no question that the page asks."""


class Question(NamedTuple):
    """A board as it stands in the page, and what is asked of it.

    Attributes
    ----------
    file : the name of its file in the folder, whether or not it still says the same
    text : what stands in the page
    power : whether the power is on; then `moved` and `calls` say in which state it is shown
    mends : whether the changes that put it right are looked for, which is asked by an address of its own
    colors, width, height : how the picture is drawn, and the room for it, in points
    quantity, points : what the meter measures, and between what; None where it is put away
    deed : what a hand does to the board; None where it does nothing
    placing : what it puts on the board; None where nothing
    name, code : who asks, where she has handed in before
    """

    file: str
    text: str
    power: bool = False
    moved: Mapping[str, str] = {}
    calls: tuple[str, ...] = ()
    mends: bool = False
    colors: Colors = "paper"
    width: float = 780.0
    height: float = 500.0
    quantity: Quantity | None = None
    points: tuple[str, ...] = ()
    deed: Deed | None = None
    placing: Placing | None = None
    name: str = ""
    code: str = ""


def question(data: bytes) -> Question:
    """What was sent, as a question.

    Raises
    ------
    NotAQuestion
        It is none.

    Examples
    --------
    >>> question(b'{"file": "ana.wire", "text": "board", "calls": ["heat"]}').calls
    ('heat',)
    >>> question(b'[]')
    Traceback (most recent call last):
    wirecheck.page.question.NotAQuestion: the question is no object
    """
    try:
        sent = json.loads(data)
    except (ValueError, RecursionError) as error:
        raise NotAQuestion("the question is no JSON") from error
    if not isinstance(sent, dict):
        raise NotAQuestion("the question is no object")
    quantity = sent.get("quantity")
    if quantity is not None and quantity not in QUANTITIES:
        raise NotAQuestion("quantity is not one that a meter has")
    return Question(
        _text(sent.get("file"), "file", MOST_NAME),
        _text(sent.get("text"), "text", MOST_BYTES),
        sent.get("power") is True,
        _moved(sent.get("moved", {})),
        _names(sent.get("calls", []), "calls", MOST_NAMED),
        colors="dark" if sent.get("colors") == "dark" else "paper",
        width=_length(sent.get("width", 780)),
        height=_length(sent.get("height", 500)),
        quantity=quantity,
        points=_names(sent.get("points", []), "points", 2),
        deed=_deed(sent.get("deed")),
        placing=_placing(sent.get("placing")),
        name=_text(sent.get("name") or "", "name", MOST_NAME),
        code=_text(sent.get("code") or "", "code", MOST_NAME),
    )


def _deed(sent: Any) -> Deed | None:
    if sent is None:
        return None
    if not isinstance(sent, dict) or sent.get("act") not in ACTS:
        raise NotAQuestion("deed is nothing that hands do")
    return Deed(
        sent["act"], *(_text(sent.get(name, ""), "deed", MOST_NAME) for name in ("place", "one", "other"))
    )


def _placing(sent: Any) -> Placing | None:
    if sent is None:
        return None
    if not isinstance(sent, dict) or sent.get("what") not in WHATS:
        raise NotAQuestion("placing is nothing that is placed")
    words = (_text(sent.get(name, ""), "placing", MOST_NAME) for name in Placing._fields[1:])
    return Placing(sent["what"], *words)


def _text(sent: Any, what: str, most: int) -> str:
    if not isinstance(sent, str) or len(sent) > most:
        raise NotAQuestion(f"{what} is no text, or too long a one")
    return as_text(sent)


def _names(sent: Any, what: str, most: int) -> tuple[str, ...]:
    if not isinstance(sent, list) or len(sent) > most:
        raise NotAQuestion(f"{what} is no list, or too long a one")
    return tuple(_text(one, what, MOST_NAME) for one in sent)


def _moved(sent: Any) -> dict[str, str]:
    if not isinstance(sent, dict) or len(sent) > MOST_NAMED:
        raise NotAQuestion("moved is no object, or too large a one")
    return {_text(name, "moved", MOST_NAME): _text(value, "moved", MOST_NAME) for name, value in sent.items()}


def _length(sent: Any) -> float:
    if not isinstance(sent, int | float) or isinstance(sent, bool) or sent != sent:
        raise NotAQuestion("width or height is no number")
    return float(min(max(sent, LEAST), MOST))
