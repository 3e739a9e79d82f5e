"""A safety opened in every state of every call, and the proof that it stops what it should."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from tests.rules.hands import LIGHT, case, changed
from tests.rules.hookups import BENCH, HOOKUP, hooked, made
from wirecheck.circuit.circuit import Variable
from wirecheck.judge import safeties
from wirecheck.judge.case import Case
from wirecheck.judge.safeties import Jumper, Proof, Stuck, Welded, opened_position
from wirecheck.language.syntax import Span

# A float switch in the white wire, and one in none.
SWITCHED = changed(
    HOOKUP,
    ("TS is stat\n", "TS is stat\nFS is float-switch\nX is float-switch\n"),
    ("at LP\n", "cable FW 18/2 CL2 5 ft from F to FS\nat LP\n"),
    ("  TW.white -- F.W\n", "  TW.white -- FW.red\n  FW.white -- F.W\n"),
    ("at TS\n", "at FS\n  FW.red -- FS.a\n  FW.white -- FS.b\nat TS\n"),
)
STOPS = SWITCHED + "expect FS stops F.heating\n"


def variable(*values: str) -> Variable:
    return Variable("S", "S", values, "water", True, Span(1, 1, 1, 1))


def opened(told: Case, safety: str, loads: Iterable[str]) -> list[tuple[str, list[str], list[str]]]:
    """Call, what ran, what runs on."""
    found = safeties.opened(
        told.circuit,
        safeties.played(told),
        told.circuit.variables[safety],
        [told.circuit.load[name] for name in loads],
    )
    return [(one.call, [load.name for load in one.ran], [load.name for load in one.runs_on]) for one in found]


# ------------------------------------------------------------------ opening


@pytest.mark.parametrize(
    ("values", "position"),
    [
        (("closed", "open"), "open"),
        (("open", "closed"), "open"),
        (("on", "off"), "off"),
        (("out", "in"), "out"),
        (("cold", "warm"), "warm"),
    ],
)
def test_where_a_safety_stands_when_it_has_tripped(values: tuple[str, ...], position: str) -> None:
    assert opened_position(variable(*values)) == position


def test_it_is_opened_in_each_state_in_which_one_of_the_loads_runs() -> None:
    told = hooked(SWITCHED)
    assert opened(told, "FS", ["F.heating", "F.cooling"]) == [
        ("heat", ["F.heating"], []),
        ("cool", ["F.cooling"], ["F.cooling"]),
    ]
    assert opened(told, "FS", ["F.blowing", "F.blowing"]) == [("fan", ["F.blowing"], ["F.blowing"])]
    assert opened(told, "FS", []) == []


def test_no_call_is_one_of_the_states() -> None:
    told = hooked(made(SWITCHED, "F: TW.red -- F.R -- F.W"))
    # It is the same state of the load in each of the calls, and another state of the board.
    assert opened(told, "FS", ["F.heating"]) == [
        (call, ["F.heating"], ["F.heating"]) for call in ("", "heat", "cool", "fan")
    ]


CONTROL = """part bench "A lamp behind a control"
terminal L1 hot
terminal N neutral
terminal ground ground
terminal R class-2, carries power, holds 3
terminal C class-2-common, carries common, holds 3
terminal W class-2, carries heat, holds 3
terminal Y class-2, carries cool, holds 3
terminal G class-2, carries fan, holds 3
transformer is class-2-transformer
L1 -- transformer.primary-hot
N -- transformer.primary-neutral
ground -- transformer.ground
transformer.secondary-r -- R
transformer.secondary-c -- C
state control idle, burning, ending
control goes from idle to burning when W has 18 V to C
control goes from burning to ending{after} when not W has 18 V to C
control goes from ending to idle{later}
R -- heating.a when control is burning
R -- cooling.a when control is ending
heating is motor
cooling is motor
heating.b -- C -- cooling.b
"""


CALLED = changed(
    STOPS,
    ("expect heat runs F.heating\nexpect cool runs F.cooling\nexpect fan runs F.blowing\n", ""),
)


def control(after: str = "", later: str = " when W has 18 V to C") -> Case:
    bench = CONTROL.format(after=after, later=later).replace("is motor", "is small")
    return hooked(CALLED, bench=bench, small=SMALL)


SMALL = """part small "A motor of 24 V"
terminal a contact
terminal b contact
load motor motor from a to b, 5 VA at 24 V
"""


def test_a_control_does_at_once_what_it_does_without_delay() -> None:
    assert opened(control(), "FS", ["F.heating"]) == [("heat", ["F.heating"], [])]
    # What takes its time has not been done in the moment in which the safety opens.
    assert opened(control(" after 5 s"), "FS", ["F.heating"]) == [("heat", ["F.heating"], ["F.heating"])]


def test_one_move_follows_the_other() -> None:
    """From ending it goes on to idle at once, and the second motor does not stay on."""
    told = control(later=" when not W has 18 V to C")
    (one,) = safeties.opened(
        told.circuit, safeties.played(told), told.circuit.variables["FS"], [told.circuit.load["F.heating"]]
    )
    assert one.after.positions["F.control"] == "idle"
    assert one.after.positions["FS"] == "open"
    stays = control()
    (one,) = safeties.opened(
        stays.circuit,
        safeties.played(stays),
        stays.circuit.variables["FS"],
        [stays.circuit.load["F.heating"]],
    )
    assert one.after.positions["F.control"] == "ending"
    assert one.after.running == {"F.cooling"}


def test_a_control_that_moves_without_end_is_let_go() -> None:
    """With heat called and the switch open, it goes round and round."""
    around = " when not W has 18 V to C and G has 18 V to C"
    bench = CONTROL.format(after="", later=around).replace("is motor", "is small")
    text = changed(
        CALLED, ("  TW.white -- FW.red\n", "  TW.white -- FW.red -- F.G\n"), ("  TW.green -- F.G\n", "")
    )
    told = hooked(text, bench=bench + f"control goes from idle to ending{around}\n", small=SMALL)
    assert opened(told, "FS", ["F.heating"]) == [("heat", ["F.heating"], [])]


# ------------------------------------------------------------------- proofs


def proof(told: Case, faults: bool = True) -> Proof:
    (found,) = safeties.proofs(told, faults=faults)
    return found


def fault(one: object) -> str:
    match one:
        case Stuck(safety):
            return f"stuck {safety.name}"
        case Welded(contact):
            return f"welded {contact.name}"
        case Jumper(screw, other):
            return f"jumper {screw.name} {other.name}"
    return ""


def test_a_safety_in_series_stops_its_load() -> None:
    found = proof(hooked(STOPS))
    assert (found.safety.name, [load.name for load in found.loads]) == ("FS", ["F.heating"])
    assert (found.calls, found.states, found.runs_on) == (("heat",), 1, ())


def test_single_faults_that_defeat_it() -> None:
    """Behind the switch a jumper from power to the heat terminal goes around it; ahead of it none does."""
    found = proof(hooked(STOPS))
    assert [fault(one) for one in found.defeated] == ["jumper F.R F.W"]
    # One other float switch, no contact but those of a thermostat, and two screws of each of three devices:
    # of five and one that wait for wires at the equipment 15, of the thermostat 10, of the other switch 1.
    assert found.tried == 1 + 15 + 10 + 1


def test_faults_are_left_out_on_demand() -> None:
    found = proof(hooked(STOPS), faults=False)
    assert (found.defeated, found.tried) == ((), 0)


def test_what_runs_on_without_any_fault() -> None:
    found = proof(
        hooked(changed(STOPS, ("FS stops F.heating", "FS stops F.heating, F.cooling"))), faults=False
    )
    assert [load.name for load in found.runs_on] == ["F.cooling"]
    assert (found.calls, found.states) == (("heat", "cool"), 2)


def test_lines_about_one_safety_are_one_proof() -> None:
    found = proof(hooked(STOPS + "expect FS stops F.cooling\n"), faults=False)
    assert [load.name for load in found.loads] == ["F.heating", "F.cooling"]


def test_one_safety_may_be_asked_for() -> None:
    told = hooked(STOPS + "expect X stops F.cooling\n")
    assert [one.safety.name for one in safeties.proofs(told, faults=False)] == ["FS", "X"]
    assert [one.safety.name for one in safeties.proofs(told, ["X"], faults=False)] == ["X"]


def test_a_contact_of_the_equipment_welds_and_a_stuck_safety_defeats_another() -> None:
    """Two switches side by side, either of which lets the lamp burn: stuck, the one defeats the other."""
    text = changed(
        STOPS,
        ("cable FW", "cable XW 18/2 CL2 5 ft from F to X\ncable FW"),
        ("  TW.white -- FW.red\n", "  TW.white -- FW.red -- XW.red\n"),
        ("  FW.white -- F.W\n", "  FW.white -- XW.white -- F.W\n"),
        ("at TS\n", "at X\n  XW.red -- X.a\n  XW.white -- X.b\nat TS\n"),
    )
    found = proof(hooked(text))
    assert [load.name for load in found.runs_on] == ["F.heating"]
    assert "stuck X" in [fault(one) for one in found.defeated]
    assert "jumper X.a X.b" in [fault(one) for one in found.defeated]
    assert "stuck FS" not in [fault(one) for one in found.defeated]
    assert "jumper FS.a FS.b" not in [fault(one) for one in found.defeated]


def test_a_welded_relay_defeats_what_stops_its_coil() -> None:
    relay = "pull is coil\nW -- pull.a\npull.b -- C\nR -- heating.a when pull runs\n"
    bench = BENCH.replace(
        "load heating lamp from W to C, 5 VA at 24 V", relay + "heating is small\nheating.b -- C"
    )
    found = proof(hooked(STOPS, bench=bench, small=SMALL))
    assert "welded F.R--heating.a" in [fault(one) for one in found.defeated]
    # A contact that a call or a safety moves does not weld.
    welded = {one.contact.scope for one in found.defeated if isinstance(one, Welded)}
    assert welded.isdisjoint(("TS", "FS", "X"))


def test_boards_without_such_lines_prove_nothing() -> None:
    assert list(safeties.proofs(hooked(SWITCHED))) == []
    assert list(safeties.proofs(case('board "Empty"\npanel LP 120/240 V, 10 kA available\n'))) == []


def test_its_own_welded_contact_is_no_fault_beside_it() -> None:
    """A switch that a line names: were it welded, there would be no switch."""
    found = proof(case(LIGHT + "expect S1 stops L1\n"))
    assert (found.safety.name, found.states, found.runs_on) == ("S1", 1, ())
    assert (found.defeated, found.tried) == ((), 0)
