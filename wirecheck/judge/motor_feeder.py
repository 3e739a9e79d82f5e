"""The largest breaker or fuse of a feeder for motors, which must let the largest of them start."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Protection, Winding
from wirecheck.circuit.routes import OVERCURRENT
from wirecheck.judge.case import Case
from wirecheck.judge.currents import drawers
from wirecheck.judge.motor_current import in_its_motor
from wirecheck.judge.motor_limit import counts, is_counted, motor_limit
from wirecheck.judge.question import question
from wirecheck.tables.overcurrent import previous_standard


class MotorFeeder(NamedTuple):
    """What a breaker or fuse may have that has others after it with motors behind them, in A.

    `first` is the most that the circuit of `motor` may have, of all the largest; `others` is what the rest
    takes. The two together come to `most`, a standard rating: for wires that carry what they `must`, which
    is all of it and a quarter more for the largest motor.
    """

    motor: Load
    first: float
    others: float
    most: float
    must: float


@question
def motor_feeders(case: Case) -> Mapping[str, MotorFeeder]:
    """The feeders with motors behind them, by the name of their breaker or fuse."""
    behind: dict[tuple[Protection, str], dict[str, Load | Winding]] = {}
    for of, _, a, b in drawers(case):
        for ahead in (*_ahead(case, a), *_ahead(case, b)):
            behind.setdefault(ahead, {})[of.name] = of
    # What may be plugged in is no fixed load, and nothing but the feeder's own guard keeps its wires from it.
    corded = {
        protection
        for outlet in case.circuit.outlets
        for point in (outlet.hot, outlet.neutral)
        for protection, _ in _ahead(case, point)
    }
    told: dict[str, MotorFeeder] = {}
    for (protection, _), there in behind.items():
        # What stands on another pole alone is not counted on this one (430.24, 430.62 by each line).
        one = _feeder(case, there.values(), protection.kind == "fuse")
        if one is not None and protection not in corded:
            told[protection.name] = max(one, told.get(protection.name, one), key=lambda pole: pole.most)
    return told


def _ahead(case: Case, point: str) -> list[tuple[Protection, str]]:
    """The breakers and fuses on the way to a point, each by its pole, but for the last: the feeders' own."""
    steps = case.routes.back(case.circuit.node[point])
    guards = [(step.of, step.name) for step in steps if isinstance(step.of, Protection)]
    return [guard for guard in guards if guard[0].kind in OVERCURRENT][:-1]


def _feeder(case: Case, there: Iterable[Load | Winding], fuse: bool) -> MotorFeeder | None:
    """What one pole may have, by all that hangs on it; what controls a motor is not counted beside it."""
    there = tuple(there)
    amps = {
        one.name: counts(case, one)
        for one in there
        if is_counted(case, one) and not in_its_motor(case.circuit, one, there)
    }
    limits = (motor_limit(case, [one], fuse) for one in there if one.name in amps)
    first = max((limit for limit in limits if limit is not None), key=lambda limit: limit.most, default=None)
    if first is None:
        return None
    others = sum(amps.values()) - amps[first.motor.name]
    most = previous_standard(first.most + others, fuse, code=case.code)
    if most is None:
        return None
    more = case.code.limit("extra for the largest motor") * amps[first.motor.name]
    return MotorFeeder(first.motor, first.most, others, most, sum(amps.values()) + more)
