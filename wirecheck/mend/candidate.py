"""An edit that is worth a try."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.mend.edits import Edit


class Candidate(NamedTuple):
    """An edit and how likely it is the mistake turned round; more is likelier."""

    edit: Edit
    weight: float
