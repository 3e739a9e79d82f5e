"""Two speed taps of one motor have power at once.

The taps are points of one winding. Two of them on one hot short the part of the winding between them:
current goes around in it that nothing outside limits, and it burns out, whichever speed was meant. A
changeover contact chooses between two taps; two switches, or two contacts of two relays, do not.

A motor with electronics of its own is no such motor: its taps only tell it how fast to turn.

Source: common practice: one speed tap has power at a time, and a changeover contact chooses it
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled
from wirecheck.judge import calls
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.machine_screw import machine_screw
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Device


class BothTaps(Problem):
    """The `speeds` of one motor that run at once in `state`, and the screws of their taps."""

    motor: Device
    speeds: tuple[Load, ...]
    taps: tuple[str, ...]
    state: Settled


def find(case: Case) -> Iterator[BothTaps]:
    """Each motor with taps, in the first state in which two of its speeds run."""
    for device, speeds in grouped(
        (one.device, one) for one in case.circuit.loads if _is_winding(one)
    ).items():
        if len(speeds) > 1:
            yield from _at_once(case, device, speeds)


def _is_winding(load: Load) -> bool:
    """Whether it is a winding on the line: a single-phase motor, and no electronics."""
    return load.kind == "motor" and load.c is None and load.model != "constant-power"


def _at_once(case: Case, device: str, speeds: tuple[Load, ...]) -> Iterator[BothTaps]:
    for state in _states(case):
        running = tuple(one for one in speeds if one.name in state.running)
        # What two speeds share is the lead that both come back on.
        shared = set.intersection(*(set(one.ends) for one in running)) if len(running) > 1 else None
        if not shared:
            continue
        taps = tuple(machine_screw(case, end) for one in running for end in one.ends if end not in shared)
        motor = case.circuit.around[device][0]
        join = join_at(case, taps[0])
        yield BothTaps(
            at=spot(join or motor),
            about=motor,
            severity="hazard",
            stage="final",
            copper=frozenset(case.uses.piece[tap] for tap in taps),
            motor=motor,
            speeds=running,
            taps=taps,
            state=state,
        )
        return


def _states(case: Case) -> Iterator[Settled]:
    """Those of the board, and those of the calls that an `expect` line makes together; none with a short."""
    together = (calls.made(line) for line in calls.asked(case))
    plays = (played for made in together if len(made) > 1 for played in case.tried(made))
    steps = (step.settled for played in plays for step in played.steps)
    return (state for state in (*case.states, *steps) if not state.opened)


def words(problem: BothTaps, case: Case) -> Words:
    """Which taps have power in which state, what that does, and what chooses between them."""
    when = case.when(problem.state, *(one.name for one in problem.speeds))
    _, *others = problem.taps
    joins = [(tap, join_at(case, tap)) for tap in others]
    return Words(
        message=f"{listed(problem.taps)} have power at once{when}: the part of {problem.motor.name}'s "
        "winding that lies between them is shorted, and burns out.",
        help="Let a changeover contact choose the tap: the feed on its moving contact, a tap on each side.",
        source="common practice: one speed tap has power at a time",
        look=f"Follow the feed of each of {listed(problem.taps)} back, with the power off. One changeover "
        "contact should choose between them: a feed that goes around it should come off.",
        also=tuple(Note(f"{tap} is the other tap", join.span) for tap, join in joins if join is not None),
    )


RULE = rule(__name__, "final", severities=("hazard",), find=find, words=words)
