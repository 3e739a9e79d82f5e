"""What a voltage says of a circuit: that it is one at line voltage, or one between two hots."""

from __future__ import annotations

from wirecheck.judge.case import Case

# More than one leg has to ground and less than two have between them: 127 V and 208 V (common practice).
TWO_HOTS = 180.0
# Volts to ground that a touch feels (common practice: what a tester calls live).
LIVE_VOLTS = 30.0


def is_line(case: Case, volts: float) -> bool:
    """Whether a circuit of that voltage is one that hands must be kept from: no 24 V control circuit."""
    return volts >= case.code.limit("live parts to be guarded")


def takes_two_hots(volts: float) -> bool:
    """Whether what is made for that voltage lies between two hots.

    >>> takes_two_hots(120), takes_two_hots(208), takes_two_hots(240)
    (False, True, True)
    """
    return volts >= TWO_HOTS
