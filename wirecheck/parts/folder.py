"""The part files of a folder: each found by the part's name, and read when it is asked for.

A part is in the file of its own name: `chime` is in `chime.wire`. So no other file is opened for it, however
many lie there, and none can stand in for a part by a name that only its inside says.
"""

from __future__ import annotations

from wirecheck import inputs
from wirecheck.parts.library import PartFile

NO_PART = "it holds no part"
MOST_OF_A_BOARD = 512 * 1024
"""What the part files beside a board may come to in all: 512 KiB, some 100 pieces of equipment."""


class PartFolder:
    """The part files of one folder.

    Parameters
    ----------
    folder : its path; empty for the current folder.
    beside : whether a board lies in it, so that whoever wrote the board may have written the parts too.
    most : the bytes that are read of it in all.

    Examples
    --------
    >>> PartFolder("boards", beside=True).find("demo").unread
    'it holds no part'
    """

    def __init__(self, folder: str, beside: bool, most: int = MOST_OF_A_BOARD) -> None:
        self._folder = folder
        self._beside = beside
        self._most = most
        self._left = most
        self._names: list[str] | None = None

    def find(self, name: str) -> PartFile | None:
        """The file of that part, with its text or why it is not read; None where there is no such file."""
        file = inputs.part_path(self._folder, name)
        if file is None:
            return None
        found = PartFile("", file, self._beside)
        try:
            data = inputs.read_part(file, self._folder)
        except FileNotFoundError:
            return None
        except (OSError, ValueError) as error:
            return found._replace(unread=inputs.reason(error))
        if inputs.part_name(data) is None:
            return found._replace(
                unread=NO_PART, help=f'A part\'s file begins with: part {name} "What it is"'
            )
        if len(data) > inputs.MOST_PART_BYTES:
            return found._replace(
                unread=f"it is larger than {inputs.MOST_PART_BYTES // 1024} KiB, which no part is",
                help="Divide it into parts that it is made of.",
            )
        if len(data) > self._left:
            most = f"{self._most // 1024} KiB"
            return found._replace(unread=f"the part files of this board come to more than {most}")
        self._left -= len(data)
        return found._replace(text=data.decode("utf-8", "replace"))

    def names(self) -> list[str]:
        """The names of the files, whatever they hold, in order of the alphabet; none is opened."""
        if self._names is None:
            self._names = inputs.part_names_in(self._folder)
        return self._names

    def taken(self, name: str, before: str | None) -> str | None:
        """The path of that part's file, where it holds a part and is another file than the one before it."""
        file = inputs.part_path(self._folder, name)
        if file is None or not inputs.begins_a_part(file, self._folder):
            return None
        return None if before and inputs.same(file, before) else file
