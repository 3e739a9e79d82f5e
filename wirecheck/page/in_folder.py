"""What a page asks for of the folder that is served, read within bounds."""

from __future__ import annotations

from wirecheck import inputs

MOST_TEXT = 100_000
"""The longest text that a page takes: ten times the longest board that ships."""


class NotInFolder(LookupError):
    """What is asked for is not in the folder, or is none of what it should be; the message says so."""


def text_in(folder: str, file: str, called: str, absent: str) -> tuple[str, bytes]:
    """Where a file of the folder is, and what is in it.

    Parameters
    ----------
    called : what it is called where it cannot be read
    absent : what is said where it is not there, or too long

    Raises
    ------
    NotInFolder
        It is not there, or cannot be read.
    """
    path = inputs.path_in(folder, file)
    try:
        text = inputs.read_board(path) if path is not None else b""
    except OSError as error:
        raise NotInFolder(f"{called} cannot be read: {inputs.reason(error)}.") from error
    if path is None or len(text) > MOST_TEXT:
        raise NotInFolder(absent)
    return path, text
