"""A board of many stair lights, each with a panel of its own."""

import re

from wirecheck import files

_NAME = re.compile(r"(?<![\w.-])(TP|FOOT|HEAD|LIGHT|W\d|S\d|L\d)(?![\w-])")


def many(lines):
    """A right board of at least so many lines."""
    text = (files.folder("boards") / "stair-light/right.wire").read_text()
    rows = [row for row in text.split("\n") if not row.startswith(("board", "code", "#"))]
    made, number = ['board "Many"'], 0
    while len(made) < lines:
        number += 1
        made += [_NAME.sub(lambda name, n=number: f"{name[0]}x{n}", row) for row in rows]
    return "\n".join(made)
