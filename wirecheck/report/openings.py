"""What opened by itself, and why, in words."""

from __future__ import annotations

from wirecheck.circuit.opening import Opening
from wirecheck.language.quantity import amps


def opened(opening: Opening, when: str = "") -> str:
    """What opened, when, and the amps that made it, against what it takes.

    >>> opened(Opening("LP.3", "overload", 640.0, 15.0), " with S1 on")
    'LP.3 opens with S1 on: 640 A, and it is rated 15 A'
    """
    passed, limit = amps(opening.amps, opening.limit), amps(opening.limit, opening.amps)
    match opening.kind:
        case "burned":
            return f"{opening.name} burns out{when}: {passed} from a winding rated {limit}"
        case "limited":
            return f"{opening.name} shuts itself off{when}: {passed}, and it limits itself to {limit}"
        case "ground-fault":
            return f"{opening.name} trips on a ground fault{when}: {passed} goes out and does not come back"
    return f"{opening.name} opens{when}: {passed}, and it is rated {limit}"
