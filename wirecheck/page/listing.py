"""What is in a folder: its boards, its exercises and its lists of faults, by what their heads say."""

from __future__ import annotations

import os
from typing import NamedTuple

from wirecheck import inputs
from wirecheck.page.views import Listed

MOST_LISTED = 2000
"""The most boards in the list of a folder."""


class Inside(NamedTuple):
    """What is in a folder, each in order of name, and in sentences what of it is not listed."""

    boards: list[Listed]
    exercises: list[Listed]
    faults: list[Listed]
    left: list[str]


def inside(folder: str) -> Inside:
    """What is in a folder: of a list of faults the title is that of its board."""
    found = Inside([], [], [], [])
    refused: list[OSError] = []
    more = 0
    for number, path in enumerate(inputs.boards_in(folder, refused.append, lambda path, why: None)):
        if number >= MOST_LISTED:
            more += 1
            continue
        try:
            head = inputs.read_head(path)
        except OSError as error:
            refused.append(error)
            continue
        name = inputs.shown_path(os.path.relpath(path, folder).replace(os.sep, "/"))
        one = Listed(name, inputs.title_of(head))
        if inputs.is_exercise(head):
            found.exercises.append(one)
        elif inputs.is_of_troubles(head):
            found.faults.append(one)
        elif not inputs.is_beside_boards(head):
            found.boards.append(one)
    if more:
        found.left.append(f"Not listed: {more} more files.")
    if refused:
        found.left.append(f"Not listed, since they cannot be read: {len(refused)} files or folders.")
    return found
