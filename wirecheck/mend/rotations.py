"""Three ends of one place, each where the next belongs: no two of them exchanged put that right."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

from wirecheck.mend.bench import SUITS, Item, suits
from wirecheck.mend.candidate import Candidate
from wirecheck.mend.edits import Rotate
from wirecheck.tables.thermostat_colors import usual_colors

# How much less likely three wires are taken for each other than two; how many of a place are looked at.
OF_THREE = 2.0
MOST_ENDS = 60


def rotations(
    listed: Sequence[Item], here: Mapping[str, Item], warm: Mapping[str, float]
) -> Iterator[Candidate]:
    """Each three ends that suit better where the next of them is; of two hots the one may do as well."""
    ends = [item for item in listed if item.is_end and item.company][:MOST_ENDS]
    gains: dict[str, dict[str, float]] = {}
    for end, place in itertools.permutations(ends, 2):
        if (end.purpose is None) != (place.purpose is None):
            continue  # a thermostat's wire is not taken for one of power
        gain = _fits(end, place.company, here) - _fits(end, end.company, here)
        if gain >= 0 and place.name not in end.company:
            gains.setdefault(end.name, {})[place.name] = gain
    better = {one: [other for other, gain in then.items() if gain] for one, then in gains.items()}
    for one, others in better.items():
        for other in others:
            for last in better.get(other, ()):
                back = gains.get(last, {}).get(one)
                if back is not None:
                    gain = gains[one][other] + gains[other][last] + back
                    heat = warm[one] + warm[other] + warm[last]
                    # The rotation is named from the first of its three on.
                    turned = min((one, other, last), (other, last, one), (last, one, other))
                    yield Candidate(Rotate(here[one].place, turned), (gain + heat) * 2 / 3 - OF_THREE)


def _fits(end: Item, company: Sequence[str], here: Mapping[str, Item]) -> float:
    """How well an end suits some company, also by the color that its letter usually has."""
    usual = {color for name in company for letter in here[name].carries for color in usual_colors(letter)}
    return suits(end, company, here) + SUITS * (end.color in usual)
