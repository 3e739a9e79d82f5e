"""A load in the way of what goes on to the next one: the two are in series, and belong abreast."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wirecheck.mend.bench import SUITS, Item, suits
from wirecheck.mend.candidate import Candidate
from wirecheck.mend.edits import Abreast
from wirecheck.model.board import Device


def abreast(
    device: Device,
    listed: Sequence[Item],
    here: Mapping[str, Item],
    warm: Mapping[str, float],
    takes: frozenset[str],
) -> Iterator[Candidate]:
    """What goes on from the far side of a load, from its near side, and the far side on what passes it by.

    `takes` are the leads of what takes power, as the next load.
    """
    for pair in _sides(device):
        for near, far in (pair, pair[::-1]):
            if near not in here or far not in here or not (warm[near] and warm[far]):
                continue
            onward = here[far].company
            if len(onward) != 1 or not here[near].company or far in here[near].company:
                continue
            goes_on = here[onward[0]]
            if goes_on.feeds or not (goes_on.is_end or goes_on.name in takes):
                continue
            for beside in listed:
                apart = {near, far, goes_on.name, *here[near].company}.isdisjoint(
                    {beside.name, *beside.company}
                )
                first = not any(one < beside.name for one in beside.company)
                if not beside.company or beside.purpose == "ground" or not first or not apart:
                    continue
                gain = suits(goes_on, here[near].company, here) + suits(here[far], (beside.name,), here)
                weight = SUITS + warm[near] + (gain + warm[far] + warm[beside.name]) / 2
                yield Candidate(Abreast(goes_on.place, near, far, goes_on.name, beside.name), weight)


def _sides(device: Device) -> Iterator[tuple[str, str]]:
    """The two screws of each load of a device; of one that has but two, those, whatever is between them."""
    screws = {name for name, spec in device.part.terminals.items() if spec.role != "ground"}
    pairs = [(load.a, load.b) for load in device.part.loads if {load.a, load.b} <= screws]
    if len(screws) == 2 and not pairs and any(_takes_power(child) for child in device.children):
        pairs = [(min(screws), max(screws))]
    for a, b in pairs:
        yield f"{device.name}.{a}", f"{device.name}.{b}"


def _takes_power(device: Device) -> bool:
    return bool(device.part.loads) or any(map(_takes_power, device.children))
