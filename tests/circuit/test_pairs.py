"""Which calls of different devices are made together: those that can feel each other, two and two."""

from __future__ import annotations

import itertools

from tests.samples import board
from wirecheck.circuit import pairs as module
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.pairs import LEAST_PAIRS, pairs
from wirecheck.circuit.positions import groups
from wirecheck.circuit.routes import routes, zones
from wirecheck.model.devices import callers

HEATER = """cable A{n} 12/2 NM-B 20 ft from LP to B{n}
cable C{n} 12/2 NM-B 20 ft from B{n} to H{n}
box B{n} device 20.3 cu in
TH{n} is line-voltage-thermostat in B{n}
H{n} is baseboard-heater 1000 W 240 V
at B{n}
  A{n}.black -- TH{n}.line-1
  A{n}.white -- TH{n}.line-2
  C{n}.black -- TH{n}.load-1
  C{n}.white -- TH{n}.load-2
at H{n}
  C{n}.black -- H{n}.L1
  C{n}.white -- H{n}.L2
"""


def heaters(*breakers: int) -> str:
    """Heaters, each with its thermostat, on these breakers."""
    text = 'board "Heaters"\npanel LP 120/240 V, 10 kA available\n'
    text += "".join(f"breaker LP.{number} 20 A 2-pole\n" for number in dict.fromkeys(breakers))
    for n, number in enumerate(breakers, 1):
        text += HEATER.format(n=n) + f"at LP\n  A{n}.black -- LP.{number}.a\n  A{n}.white -- LP.{number}.b\n"
    return text


def found(text: str) -> tuple[tuple[tuple[str, str], ...], bool]:
    made = board(text)
    assert not made.problems
    wiring = circuit(made)
    return pairs(wiring, callers(made), groups(wiring), zones(wiring, routes(wiring)))


def test_two_thermostats_on_one_breaker_are_called_together_in_both_orders() -> None:
    one, other = "TH1.heat", "TH2.heat"
    assert found(heaters(1, 1)) == (((one, other), (other, one)), True)


def test_on_breakers_of_their_own_they_do_not_feel_each_other() -> None:
    assert found(heaters(1, 2)) == ((), True)
    assert found(heaters(1, 2, 1))[0] == (("TH1.heat", "TH3.heat"), ("TH3.heat", "TH1.heat"))


def test_one_thermostat_makes_no_pair() -> None:
    assert found(heaters(1)) == ((), True)


CONTROL = """board "Two thermostats on one transformer"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
box A junction 300 cu in
cable W 14/2 NM-B 20 ft from LP to A
T1 is class-2-transformer in A
K1 is relay-spst in A
K2 is relay-spst in A
TS1 is heat-cool-thermostat in A
TS2 is cooling-thermostat in A
at LP
  W.black -- LP.1
  W.white -- LP.neutral
at A
  W.black -- T1.primary-hot
  W.white -- T1.primary-neutral
  T1.secondary-r -- TS1.R -- TS2.a
  TS1.W -- K1.coil-a
  TS1.Y -- K1.coil-a
  TS2.b -- K2.coil-a
  K1.coil-b -- K2.coil-b -- T1.secondary-c
"""


def test_calls_of_one_thermostat_are_not_made_together() -> None:
    every, whole = found(CONTROL)
    assert whole
    # TS1 and TS2 both make a call for cool: each has it under its own name too.
    makers = {"heat": 1, "fan": 1, "TS1.cool": 1, "TS2.cool": 2}
    assert set(every) == {
        pair for pair in itertools.permutations(makers, 2) if makers[pair[0]] != makers[pair[1]]
    }
    assert len(every) == len(set(every))


def test_a_bound_is_told(monkeypatch) -> None:
    monkeypatch.setattr(module, "MOST_SOLVED", 0)
    monkeypatch.setattr(module, "LEAST_PAIRS", 6)
    assert found(heaters(1, 1, 1))[1]
    assert len(found(heaters(1, 1, 1))[0]) == 6
    monkeypatch.setattr(module, "LEAST_PAIRS", 5)
    every, whole = found(heaters(1, 1, 1))
    assert (len(every), whole) == (5, False)
    assert LEAST_PAIRS == 24
