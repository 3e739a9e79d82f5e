"""A picture as a value: shown by a notebook, saved in the form that its file's ending names."""

from __future__ import annotations

import os
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from wirecheck import whole
from wirecheck.arguments import WrongArgument

if TYPE_CHECKING:
    from wirecheck.drawing.sheet import Sheet

Kind = Literal["wiring", "ladder"]
Colors = Literal["paper", "dark"]
Paper = Literal["letter", "a4"]

ENDINGS = (".svg", ".png", ".pdf", ".dot")


@dataclass(frozen=True)
class Picture:
    """A drawn board, or the chart of a call; a notebook shows it.

    Attributes
    ----------
    sheet : every shape in its place, by name
    page : `letter` or `a4` where it is for paper: one sheet, or several that join; else None
    """

    sheet: Sheet
    page: Paper | None = None

    @cached_property
    def dot(self) -> str:
        """Its source for Graphviz, for `neato -n2`."""
        from wirecheck.drawing.sheet import dot_source

        return dot_source(self.sheet)

    @cached_property
    def svg(self) -> str:
        """It as SVG; every part has an id and a title."""
        from wirecheck.drawing.paper import printed
        from wirecheck.drawing.screen import on_screen

        return printed(self.sheet, self.page) if self.page else on_screen(self.sheet)

    def data(self, ending: str) -> bytes:
        """It as the content of a file.

        Raises
        ------
        WrongArgument
            Where the ending is none of `.svg`, `.png`, `.pdf` and `.dot`.
        """
        from wirecheck.drawing.paper import on_paper
        from wirecheck.drawing.render import to_pdf, to_png

        known_ending(ending, ending)
        if ending == ".dot":
            return self.dot.encode()
        if ending == ".svg":
            return self.svg.encode()
        if ending == ".png":
            return to_png(self.svg)
        return to_pdf(*(on_paper(self.sheet, self.page) if self.page else [self.svg]))

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write it to a file that ends in `.svg`, `.png`, `.pdf` or `.dot`, whole or not at all.

        Raises
        ------
        WrongArgument
            Where the file ends in something else.
        OSError
            Where the file cannot be written.
        """
        whole.put_out(path, self.data(ending_of(path)))

    def _repr_svg_(self) -> str:
        return self.svg


def ending_of(path: str | os.PathLike[str]) -> str:
    """The ending of a picture's file.

    Raises
    ------
    WrongArgument
        Where it is none that a picture has.

    Examples
    --------
    >>> ending_of("stair.PNG")
    '.png'
    """
    ending = os.path.splitext(os.fspath(path))[1].lower()
    known_ending(ending, os.fspath(path))
    return ending


def known_ending(ending: str, name: str) -> None:
    """Refuse an ending that no picture has."""
    if ending not in ENDINGS:
        raise WrongArgument(f"{name} must end in one of: {' '.join(ENDINGS)}")
