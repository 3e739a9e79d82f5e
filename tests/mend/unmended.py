"""The wrong boards that ship and have no mend for something on them, each with the reason.

A board leaves the list when the search learns its mistake.
"""

from __future__ import annotations

ANOTHER_WAY = "it is wired another way from the first cable on: no edit or two make it right"
ANOTHER_DEVICE = "it takes another device, with other screws, and wires that are parted for it"
LONGER = "more wire or another run is needed, and what is too short cannot be made longer"
SEVERAL = "several joints change at once: no part of it clears what is found"
FORMS_A_JOIN = "a new joint between two screws or splices, which no edit makes yet"
UNREADABLE = "a line could not be read, and comes first"
DANGER = "what is tried would put a bare or a white in another's place, or takes a control out"

UNMENDED = {
    "air-compressor/wrong-leads-joined-for-120-volts": "the motor's volts and amperes change together",
    "air-compressor/wrong-single-pole-switch": ANOTHER_DEVICE,
    "condensate-pump/wrong-safety-on-120-volts": SEVERAL,
    "garage-panel/wrong-no-rod": LONGER,
    "garage-panel/wrong-three-wires-to-the-garage": LONGER,
    "reversing-starter/wrong-interlocks-left-out": SEVERAL,
    "three-switch-hall/wrong-3-way-in-place-of-4-way": ANOTHER_DEVICE,
    "two-speed-blower/wrong-both-taps-joined": SEVERAL,
    "two-speed-blower/wrong-switch-in-the-white": SEVERAL,
    "two-units-one-thermostat/wrong-fed-from-the-first-unit": ANOTHER_WAY,
    "two-units-one-thermostat/wrong-relay-left-out": ANOTHER_WAY,
    "rules/backfeed/wrong": ANOTHER_WAY,
    "rules/both-taps/wrong": ANOTHER_DEVICE,
    "rules/cable-support/wrong": "two measures of one cable",
    "rules/class-2-separation/wrong": ANOTHER_WAY,
    "rules/class-2-supply/wrong": ANOTHER_DEVICE,
    "rules/coil-voltage/wrong": ANOTHER_DEVICE,
    "rules/dimmer-load/wrong": "what the lines want is exchanged with the wires",
    "rules/disconnecting-means/wrong": LONGER,
    "rules/fastened-equipment/wrong": ANOTHER_WAY,
    "rules/free-conductor/wrong": LONGER,
    "rules/ground-as-neutral/wrong": DANGER,
    "rules/grounded-secondary/wrong": FORMS_A_JOIN,
    "rules/heat-and-cool/wrong": ANOTHER_WAY,
    "rules/heating-circuit/wrong": ANOTHER_WAY,
    "rules/missing-raceway/wrong": LONGER,
    "rules/open-splice/wrong": "the ends in the other box are for a later stage",
    "rules/own-contact/wrong": SEVERAL,
    "rules/panel-place/wrong": ANOTHER_WAY,
    "rules/parallel-conductors/wrong": ANOTHER_WAY,
    "rules/resting-heater/wrong": SEVERAL,
    "rules/separate-grounds/wrong": FORMS_A_JOIN,
    "rules/subpanel-lugs/wrong": ANOTHER_WAY,
    "rules/syntax/wrong": UNREADABLE,
    "rules/transformer-phase/wrong": "the cable between the two should not be there",
    "rules/unknown-name/wrong": UNREADABLE,
    "rules/unknown-part/wrong": UNREADABLE,
    "rules/vehicle-circuit/wrong": ANOTHER_WAY,
}
