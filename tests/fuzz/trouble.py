"""A text that does what none may: what came of it, how it is found again, and how it is made small."""

from __future__ import annotations

import signal
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import NamedTuple

from tests.fuzz.targets import Target, attempt

MOST_SECONDS = 2.0
"""No text may take longer, in the time of the processor."""
ENDLESS = 20.0
"""After so long a text is stopped."""


class Endless(BaseException):
    """A text that would not come to its end; not an Exception, so that nothing holds it up."""


class Trouble(NamedTuple):
    """What a text did, and where: texts of one place are one trouble."""

    place: str
    words: str


def armed() -> None:
    """Let the clock of the processor stop what does not end."""

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise Endless

    signal.signal(signal.SIGVTALRM, stop)


def trouble(target: Target, data: bytes, most: float = MOST_SECONDS) -> Trouble | None:
    """What is wrong with what a target does with a text, or None."""
    begun = time.process_time()
    signal.setitimer(signal.ITIMER_VIRTUAL, ENDLESS)
    try:
        attempt(target, data)
    except Exception as error:
        return Trouble(*_place(error))
    except Endless as error:
        return Trouble(f"endless: {_place(error)[0]}", f"not done after {ENDLESS:g} s")
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
    took = time.process_time() - begun
    return Trouble("slow", f"it took {took:.1f} s") if took > most else None


def _place(error: BaseException) -> tuple[str, str]:
    """Where in the house an exception began, and its last words."""
    frames = traceback.extract_tb(error.__traceback__)
    ours = [frame for frame in frames if "wirecheck" in Path(frame.filename).parts] or frames
    at = ours[-1]
    kind = type(error).__name__
    name = Path(at.filename).stem
    return f"{kind} in {name}.{at.name}", f"{kind}: {error} ({name}.py:{at.lineno} {at.line})"


def smaller(data: bytes, holds: Callable[[bytes], bool], tries: int = 400) -> bytes:
    r"""The text with all lines left out, and then words, that are not needed for what holds of it.

    >>> smaller(b"a\nb\nc d\ne", lambda data: b"c" in data)
    b'c'
    """
    for separator in (b"\n", b" "):
        pieces = data.split(separator)
        size = len(pieces) // 2
        while size and tries > 0:
            start = 0
            while start < len(pieces) and tries > 0:
                fewer = pieces[:start] + pieces[start + size :]
                tries -= 1
                if fewer and holds(separator.join(fewer)):
                    pieces = fewer
                else:
                    start += size
            size //= 2
        data = separator.join(pieces)
    return data
