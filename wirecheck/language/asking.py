"""What somebody at a bench asks for, a line each: make a call, move a switch, look, read a meter."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.language.words import nearest

MOST_LETTERS = 500
"""The longest line that is understood."""

FORMS = {
    "call": "call heat; call nothing",
    "set": "set S1 down",
    "power": "power off; power on",
    "lift": "lift TW.white@F",
    "land": "land TW.white@F",
    "replace": "replace F.fuse",
    "reset": "reset LP.1",
    "wait": "wait 20 s (after a call is made); wait (until all has had its time)",
    "look": "look",
    "volts": "volts F.R F.C",
    "ohms": "ohms F.fuse.line F.fuse.load",
    "amps": "amps PG.black",
    "diagnose": "diagnose F.fuse blown",
    "help": "help",
    "stop": "stop",
}
"""How each is written, by its first word."""

_WORDS = {
    "set": (2, 2),
    "power": (1, 1),
    "lift": (1, 1),
    "land": (1, 1),
    "replace": (1, 1),
    "reset": (1, 1),
    "wait": (0, 2),
    "look": (0, 0),
    "volts": (2, 2),
    "ohms": (2, 2),
    "amps": (1, 1),
    "help": (0, 0),
    "stop": (0, 0),
    "call": (1, 20),
    "diagnose": (2, 20),
}


class NotUnderstood(ValueError):
    """A line that asks for nothing; the message says what would do."""


class Asked(NamedTuple):
    """What is asked for: the first word, and those after it."""

    verb: str
    words: tuple[str, ...] = ()


def asked(line: str) -> Asked | None:
    """What a line asks for; None for an empty one and for a comment.

    Raises
    ------
    NotUnderstood

    Examples
    --------
    >>> asked("volts F.R to F.C")
    Asked(verb='volts', words=('F.R', 'F.C'))
    >>> asked("  # a note") is None
    True
    >>> asked("ohm F.R F.C")
    Traceback (most recent call last):
    wirecheck.language.asking.NotUnderstood: "ohm" is not known. Did you mean: ohms F.fuse.line F.fuse.load
    >>> asked("diagnose poor W1.white at E, 15 ohm").words
    ('poor', 'W1.white', 'at', 'E,', '15', 'ohm')
    """
    if len(line) > MOST_LETTERS:
        raise NotUnderstood(f"that line has {len(line)} letters, and {MOST_LETTERS} are the most.")
    words = line.partition("#")[0].split()
    if not words:
        return None
    verb = words[0].rstrip(",").casefold()
    rest = words[1:]
    # The commas of a fault are its own; elsewhere they only stand between names.
    if verb != "diagnose":
        rest = " ".join(rest).replace(",", " ").split()
    if verb not in FORMS:
        near = nearest(verb, FORMS)
        known = f"Did you mean: {FORMS[near]}" if near else f"There are: {', '.join(FORMS)}"
        raise NotUnderstood(f'"{words[0]}" is not known. {known}')
    if verb in ("volts", "ohms"):
        rest = [word for word in rest if word != "to"]
    if verb == "call":
        rest = [word for word in rest if word != "and"]
    least, most = _WORDS[verb]
    if not least <= len(rest) <= most:
        raise NotUnderstood(f"It is written: {FORMS[verb]}")
    return Asked(verb, tuple(rest))
