"""What statements say, to compare them: without their places in the text."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from typing import Any

from wirecheck.language.syntax import Quantity, Span, Word


def _text(word: Word) -> str:
    """A word as it is written."""
    return word.text


def _value(quantity: Quantity) -> tuple[str, float]:
    """A value, whatever its unit is: a foot is no binary fraction of a meter, nor a degree of another."""
    return quantity.dimension, float(f"{quantity.value:.9g}")


def saying(
    value: Any,
    word: Callable[[Word], Any] = _text,
    quantity: Callable[[Quantity], Any] = _value,
) -> Any:
    """What a statement says, or a piece of one: two say the same where these are equal.

    Parameters
    ----------
    word, quantity : what each word and each quantity in it says

    Examples
    --------
    >>> from wirecheck.language.reader import read
    >>> metric, trade = read("ambient 30 C\\nambient 86 F").statements
    >>> saying(metric), saying(metric) == saying(trade)
    (('Ambient', ('temperature', 30.0), None), True)
    """

    def of(value: Any) -> Any:
        kind = type(value)
        if kind is Word:
            return word(value)
        if kind is Quantity:
            return quantity(value)
        if kind is Span:
            return None
        if isinstance(value, tuple):
            return kind.__name__, *map(of, value)
        if is_dataclass(value):
            return tuple(of(getattr(value, field.name)) for field in fields(value))
        return value

    return of(value)
