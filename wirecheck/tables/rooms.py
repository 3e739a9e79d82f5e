"""What the code asks of the kinds of place of a dwelling.

Sources: NEC 210.8(A), 210.11(C), 210.12, 210.52, 404.2(C), 406.12.
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.tables.code import LATEST, Code


class Asked(NamedTuple):
    """What is asked of one kind of place, each by the section that asks for it; empty where none does.

    `ground_fault` : its receptacles have ground-fault protection; `where` says of which, where not of all
    `arc_fault` : circuits that feed something there have arc-fault protection
    `switch_neutral` : a neutral comes to the switches of its lights
    `tamper_resistant` : its receptacles are tamper-resistant
    `weather` : its receptacles are weather-resistant
    `own_circuit` : its receptacles have a circuit of 20 A, with no other outlets
    `no_panel` : no panel may be there
    """

    ground_fault: str
    where: str
    arc_fault: str
    switch_neutral: str
    tamper_resistant: str
    weather: str
    own_circuit: str
    no_panel: str


SPACES = ("tub", "shower")
"""The kinds of place that are a part of a bath, and are said apart for what may not be in them."""

ROOMS = tuple(row["room"] for row in LATEST.rows("rooms"))
"""The kinds of place that a `room` line may name."""

OTHER_WORDS = {
    **dict.fromkeys(("bathroom", "restroom", "washroom", "powder-room", "toilet"), "bath"),
    **dict.fromkeys(("outside", "porch", "patio", "deck", "balcony", "yard"), "outdoors"),
    **dict.fromkeys(("furnace-room", "boiler-room", "utility-room"), "mechanical-room"),
    **dict.fromkeys(("hallway", "corridor", "foyer", "entry"), "hall"),
    **dict.fromkeys(("stairway", "staircase", "stairwell"), "stairs"),
    **dict.fromkeys(("family-room", "den", "lounge"), "living-room"),
    "loft": "attic",
    "cellar": "basement",
    "wardrobe": "closet",
}
"""What kinds of place are called in a house, with the kind that may be meant: common practice.

By its letters alone `bathroom` is nearest to `bedroom`, of which the code asks no ground-fault protection.
"""


def asked(room: str, *, code: Code) -> Asked:
    """What an edition asks of a kind of place.

    Raises
    ------
    KeyError
        For a kind that is none of `ROOMS`.

    Examples
    --------
    >>> from wirecheck.tables.code import edition
    >>> asked("kitchen", code=edition(2023)).ground_fault, asked("kitchen", code=edition(2020)).where
    ('NEC 2023 210.8(A)(6)', 'that serve a countertop')
    >>> asked("attic", code=edition(2023)).ground_fault
    ''
    """
    row = code.keyed("rooms", "room")[room,]
    told = {name: row[name] for name in Asked._fields}
    return Asked(
        **{name: f"{code.name} {said}" if said and name != "where" else said for name, said in told.items()}
    )
