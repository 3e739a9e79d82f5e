"""A coil does not get the voltage that pulls it in, gets far too much, or buzzes.

At the moment a contactor pulls in it draws several times what it holds
with, and the long thin wire or the small transformer drops most then.

Source: NEMA ICS 2: 85 to 110 % of rated volts (from memory); 20 V at a 24 V coil is common practice
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import COILS, Contact, Load, Winding
from wirecheck.circuit.routes import Routes, routes
from wirecheck.circuit.settle import Settled, starting
from wirecheck.judge import made_up, purpose, ways
from wirecheck.judge.case import Case
from wirecheck.judge.drop import nominal_volts
from wirecheck.judge.finding import Note
from wirecheck.judge.machine_screw import machine_screw
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.supply import too_much
from wirecheck.judge.two_hots import TwoHots
from wirecheck.judge.voltages import is_line, takes_two_hots
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import Span
from wirecheck.model.board import Run
from wirecheck.model.colors import NEUTRAL_COLORS

# How far from its rated volts a transformer may be fed (common practice). By ANSI C84.1, from memory, what is
# on 120 V gets 108 V to 126 V (range A), and for a while 104 V to 127 V (range B).
TAP_TOLERANCE = 0.10
# Below this share of its rated volts a coil or a primary is not fed at all, and other rules say why; but for
# a coil that has more than that of what it is on, as one of 240 V on 24 V.
FED = 0.2
# Above so many times its primary volts what is on a transformer does not last: it takes the square of that
# (common practice).
BURNS = 1.5
# The share of the missing volts that one run must lose for it to be the one to look at.
MOST_OF_IT = 0.5
MOST_NAMED = 3


class Chatters(Problem):
    """What finds no rest in a state: coils, or else contacts."""

    restless: tuple[Load | Contact, ...]
    state: Settled


class WrongTap(Problem):
    """A transformer that is fed `fed` volts, and gives `given`; its source is one of `nominal` volts."""

    winding: Winding
    fed: float
    given: float
    nominal: float | None
    state: Settled

    @property
    def high(self) -> bool:
        """Whether it is fed too much, and not too little."""
        return self.fed > self.winding.primary_volts


class TooMuch(TwoHots):
    """A coil with `present` volts, from two hots or from another source."""

    load: Load
    present: float
    state: Settled

    @property
    def loads(self) -> tuple[Load, ...]:
        """The coil that it is about."""
        return (self.load,)


class TooLittle(Problem):
    """A coil with `present` volts that does not pull in, and `others` on the same run with theirs.

    `run` loses `lost` volts out and back; None where no run loses most of what is missing. `nominal`
    are the volts, by rating, of what it is fed from, where those are too few by themselves.
    """

    load: Load
    present: float
    run: Run | None
    lost: float
    others: tuple[tuple[Load, float], ...]
    nominal: float | None
    state: Settled

    @property
    def loads(self) -> tuple[Load, ...]:
        """All coils that it is about."""
        return (self.load, *(load for load, _ in self.others))


class LetsGo(Problem):
    """A coil that is left `left` volts in the moment in which `motors` start."""

    load: Load
    left: float
    motors: tuple[Load, ...]
    state: Settled


Kind = Chatters | WrongTap | TooMuch | TooLittle | LetsGo


def find(case: Case) -> Iterator[Kind]:
    """Every coil and transformer in every state that lasts, and the moments in which motors start."""
    seen: dict[tuple[type[Kind], str], Kind] = {}
    for settled in case.states:
        for one in _in_state(case, settled):
            known = seen.setdefault((type(one), one.subject), one)
            if isinstance(one, TooLittle) and isinstance(known, TooLittle) and _is_less(one, known):
                seen[type(one), one.subject] = one
    yield from (one for one in seen.values() if not isinstance(one, TooLittle))
    yield from _by_place([one for one in seen.values() if isinstance(one, TooLittle)])
    yield from _let_go(case)


def _is_less(one: TooLittle, known: TooLittle) -> bool:
    """Whether a meter shows less: else the plainer state is told, which comes first."""
    return one.present < known.present and volts(one.present) != volts(known.present)


def _in_state(case: Case, settled: Settled) -> Iterator[Kind]:
    """Where nothing comes to rest, or something opens, there are no volts that last."""
    state = settled.first or settled
    if state.chattering:
        yield _chatters(case, state)
    elif not settled.opened:
        yield from _volts(case, state)


def _chatters(case: Case, state: Settled) -> Chatters:
    contacts = {contact.name: contact for contact in case.circuit.contacts}
    named = tuple(case.circuit.load.get(name) or contacts[name] for name in state.chattering)
    # What runs on their contacts only follows.
    restless = tuple(one for one in named if isinstance(one, Load) and one.kind in COILS) or named
    first = restless[0]
    return Chatters(
        at=_at(case, first),
        about=first,
        severity="fault",
        stage="final",
        copper=_copper(case, *((one.a, one.b) for one in restless)),
        restless=restless,
        state=state,
    )


def _volts(case: Case, state: Settled) -> Iterator[Kind]:
    """What gets the wrong volts in a state."""
    for winding in case.circuit.windings:
        fed = state.across(*winding.primary)
        if fed > FED * winding.primary_volts and _off(fed, winding):
            yield WrongTap(
                at=_at(case, winding),
                about=winding,
                severity="hazard" if fed > BURNS * winding.primary_volts else "fault",
                stage="final",
                copper=_copper(case, winding.primary, winding.secondary),
                winding=winding,
                fed=fed,
                given=state.across(*winding.secondary),
                nominal=_source_volts(case, winding),
                state=state,
            )
    for load in case.circuit.loads:
        # What another load gets is the matter of wrong-voltage and voltage-drop.
        if load.kind in COILS:
            present = state.load_volts(load)
            if too_much(load, present):
                hot = _second_hot(case, load, state)
                join = made_up.join_at(case, hot) if hot else None
                yield TooMuch(
                    at=spot(join) if join else _at(case, load),
                    about=load,
                    severity="hazard",
                    stage="final",
                    copper=_copper(case, (load.a, load.b)),
                    load=load,
                    second_hot=hot,
                    present=present,
                    state=state,
                )
            elif (
                "senses" not in load.flags
                and load.name not in state.running
                and _is_fed(case, load, present, state)
            ):
                yield _too_little(case, load, present, state)


def _second_hot(case: Case, load: Load, state: Settled) -> str | None:
    """The screw with a hot of a coil made for one hot and the neutral, where its other side has one, too.

    The neutral comes there by some wire. It is the side with less on its way that opens: what switches a
    coil is in its own hot.
    """
    place, wires = case.circuit.around[load.device][0].place, case.board.conductors.values()
    comes = any(one.color in NEUTRAL_COLORS and one.end_in(place) for one in wires)
    if not (comes and any(abs(leg.volts / load.volts - 1) <= TAP_TOLERANCE for leg in case.circuit.legs)):
        return None
    passes = ways.conducting(state)
    found = [ways.way(case, legs(case), (end,), passes) for end in reversed(load.ends)]
    fed = [way for way in found if way is not None]
    if len({way.points[0] for way in fed}) < len(load.ends):
        return None
    return machine_screw(case, min(fed, key=lambda way: len(way.contacts)).points[-1])


def _is_fed(case: Case, load: Load, present: float, state: Settled) -> bool:
    """Whether the volts that a coil has are those of its source, if too few, and no more than a trace."""
    if present > FED * load.volts or present <= FED * FED * load.volts:
        return present > FED * load.volts
    nominal = _between(case, routes(case.circuit, state), (load.a, load.b))
    return nominal is not None and present > FED * nominal


def _source_volts(case: Case, winding: Winding) -> float | None:
    """The volts of what feeds a transformer's primary, by its rating."""
    return _between(case, case.routes, winding.primary)


def _between(case: Case, known: Routes, ends: tuple[str, str]) -> float | None:
    """The volts by rating between what two points come from; None where they come from two sources."""
    one, other = (known.origins.get(case.circuit.node[end]) for end in ends)
    return None if one is None or other is None else nominal_volts(case, one, other)


def _off(volts: float, winding: Winding) -> bool:
    """Whether volts are further from a transformer's tap than it may be fed."""
    return abs(volts / winding.primary_volts - 1) > TAP_TOLERANCE


def _too_little(case: Case, load: Load, present: float, state: Settled) -> TooLittle:
    run, lost = _steepest(case, state)
    blamed = run if lost > MOST_OF_IT * (load.pulls_in - present) else None
    nominal = _between(case, routes(case.circuit, state), (load.a, load.b))
    low = nominal if nominal and nominal < (1 - TAP_TOLERANCE) * load.volts else None
    # One of two hots that is missing is looked for on the way back.
    back = made_up.join_at(case, load.b) if low and is_line(case, low) else None
    return TooLittle(
        at=spot(back) if back else spot(blamed) if blamed else _at(case, load),
        about=load,
        severity="fault",
        stage="final",
        copper=_copper(case, (load.a, load.b)),
        load=load,
        present=present,
        run=blamed,
        lost=lost,
        others=(),
        nominal=low,
        state=state,
    )


def _steepest(case: Case, state: Settled) -> tuple[Run | None, float]:
    """The Class 2 run that loses the most volts, out and back, in a state."""
    lost: dict[str, float] = {}
    for wire, impedance in zip(case.circuit.wires, case.circuit.cold_wires, strict=True):
        conductor = wire.conductor
        if purpose.is_class_2(conductor):
            drop = abs(state.amps.get(conductor.name, 0)) * abs(impedance.ohms)
            lost[conductor.run] = lost.get(conductor.run, 0.0) + drop
    worst = max(lost, key=lambda name: lost[name], default=None)
    return (None, 0.0) if worst is None else (case.board.runs[worst], lost[worst])


def _by_place(weak: list[TooLittle]) -> Iterator[TooLittle]:
    """One long run is one mistake, however many coils it feeds: the weakest stands for them."""
    places: dict[Span, list[TooLittle]] = {}
    for one in weak:
        places.setdefault(one.at.span, []).append(one)
    for there in places.values():
        first, *others = sorted(there, key=lambda one: one.present - one.load.pulls_in)
        yield first.but(
            others=tuple((one.load, one.present) for one in others),
            copper=frozenset().union(*(one.copper for one in there)),
        )


def _let_go(case: Case) -> Iterator[LetsGo]:
    """Coils that let go in the moment in which motors start."""
    steps = [step for call in case.heard for step in case.played([call]).steps]
    moments = [(step.settled, [c.name for c in step.changes if c.kind == "runs"]) for step in steps]
    rest = case.at_rest
    told: set[str] = set()
    for settled, started in (*moments, (rest, sorted(rest.running))):
        motors = tuple(load for name in started if (load := case.circuit.load[name]).kind == "motor")
        held = [load for load in case.circuit.loads if load.kind in COILS and load.name in settled.running]
        if not motors or not held or settled.opened:
            continue
        moment = starting(settled, [motor.name for motor in motors])
        for load in held:
            if load.name not in moment.running and load.name not in told:
                told.add(load.name)
                yield LetsGo(
                    at=_at(case, load),
                    about=load,
                    severity="fault",
                    stage="final",
                    copper=_copper(case, (load.a, load.b)),
                    load=load,
                    left=moment.load_volts(load),
                    motors=motors,
                    state=moment,
                )


def _at(case: Case, of: Load | Contact | Winding) -> Spot:
    """The line of the outermost device that something is in."""
    return spot(case.circuit.around[of.scope if isinstance(of, Contact) else of.device][0])


def _copper(case: Case, *pairs: tuple[str, str]) -> frozenset[int]:
    return frozenset(case.uses.piece[point] for pair in pairs for point in pair)


def words(problem: Kind, case: Case) -> Words:
    """The volts that a coil has, those that it needs, and what to change."""
    match problem:
        case Chatters():
            return Words(
                message=f"{listed([one.name for one in problem.restless], MOST_NAMED)} never settles"
                f"{case.when(problem.state)}: pulling in takes away what holds it. It buzzes until something "
                "burns.",
                help="Do not feed a coil through a contact that it opens itself. Its supply must not sag "
                "when it pulls in.",
                source="common practice",
            )
        case WrongTap():
            return _words_of_tap(problem)
        case TooMuch(load=load):
            return Words(
                message=f"{load.name} gets {volts(problem.present, load.volts)}{case.when(problem.state)} "
                f"and is made for {volts(load.volts)}: it burns out, or worse.",
                help=f"Feed it from a source of {volts(load.volts)}.",
                stands=True,
                source="the part's own rating",
                value=problem.present,
                limit=load.works_to,
                unit="V",
                also=_here(case, problem),
            )
        case TooLittle():
            return _words_of_too_little(problem, case)
        case LetsGo(load=load):
            start = "starts" if len(problem.motors) == 1 else "start"
            return Words(
                message=f"{load.name} lets go{case.when(problem.state, load.name)} when "
                f"{listed([motor.name for motor in problem.motors], MOST_NAMED)} {start}. The starting "
                f"current leaves it {volts(problem.left, load.drops_out)}, and it needs "
                f"{volts(load.drops_out, problem.left)} to hold. "
                "Then the motor stops, the coil pulls in again, and so on: it chatters until its contacts "
                "weld.",
                help="Use thicker or shorter wire to the motor, or put the transformer on another circuit.",
                source="the part's own rating; NEMA MG 1: locked-rotor current (from memory)",
                value=problem.left,
                limit=load.drops_out,
                unit="V",
            )


def _here(case: Case, problem: TooMuch | TooLittle) -> tuple[Note, ...]:
    """The line of the coil, where the problem is told at another one."""
    span = _at(case, problem.load).span
    return (Note(f"{problem.load.name} is in this", span),) if problem.at.span != span else ()


def _words_of_tap(problem: WrongTap) -> Words:
    winding, fed, source = problem.winding, problem.fed, problem.nominal
    follows = "coils on it run hot and burn out early" if problem.high else "coils on it may not pull in"
    if problem.severity == "hazard":
        follows = "what is on it burns out"
    remedy = f"feed it {volts(winding.primary_volts)}"
    if source is not None and _off(source, winding):
        remedy = f"with the power off, move its primary wire to the {volts(source)} tap, or {remedy}"
    elif source is not None:
        remedy = f"its source is one of {volts(source)}: look for what takes the rest on the way"
    return Words(
        message=f"{winding.name} is made, or tapped, for {volts(winding.primary_volts)} and gets "
        f"{volts(fed)}. Its {volts(winding.secondary_volts)} side stands at {volts(problem.given)}, and "
        f"{follows}.",
        help=f"{remedy[0].upper()}{remedy[1:]}.",
        source="common practice: within 10 % of its rated voltage; ANSI C84.1 for the supply (from memory)",
        value=fed,
        limit=winding.primary_volts * (1 + (TAP_TOLERANCE if problem.high else -TAP_TOLERANCE)),
        unit="V",
    )


def _words_of_too_little(problem: TooLittle, case: Case) -> Words:
    load, run = problem.load, problem.run
    lost = f" {run.name} alone loses {volts(problem.lost)}." if run is not None else ""
    here = _here(case, problem)
    remedy = (
        "Shorten the run or use thicker wire, take other coils off its transformer, or use a larger "
        "transformer."
    )
    if problem.nominal is not None:
        lost = f" It is fed from {volts(problem.nominal)} and is made for {volts(load.volts)}."
        two = is_line(case, problem.nominal) and takes_two_hots(load.volts)
        legs = ": two hots of different legs, and no neutral" if two else ""
        remedy = f"Turn the power off, and feed it from {volts(load.volts)}{legs}."
    return Words(
        message=f"{load.name} gets {volts(problem.present, load.pulls_in)}{case.when(problem.state)} while "
        f"it tries to pull in, and needs {volts(load.pulls_in, problem.present)}. It hums, stays out and "
        f"overheats.{lost}",
        help=remedy,
        source="the part's own rating; 20 V at a 24 V coil is common practice",
        value=problem.present,
        limit=load.pulls_in,
        unit="V",
        also=(
            *here,
            *(
                Note(f"{other.name} gets {volts(present)} too", _at(case, other).span)
                for other, present in problem.others
            ),
        ),
    )


RULE = rule(__name__, "final", severities=("hazard", "fault"), find=find, words=words, of_ties=True)
