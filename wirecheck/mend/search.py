"""The fewest edits after which nothing is found: each try is the real check.

One edit that clears all is the mistake. Where none does, the edit that clears some and brings nothing
new is one of several mistakes, and the search goes on with what is left.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from itertools import product
from typing import NamedTuple

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.work import Work, WorkEnds
from wirecheck.findings import Seen, problems, standing
from wirecheck.judge.case import Case
from wirecheck.judge.finding import STAGES, Stage
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import Problem
from wirecheck.judge.rule import Rule
from wirecheck.language.syntax import Syntax
from wirecheck.mend.candidate import Candidate
from wirecheck.mend.candidates import DEAREST, candidates
from wirecheck.mend.edits import (
    Abreast,
    Change,
    Edit,
    ExchangeAll,
    Gather,
    IntoWire,
    Land,
    Protect,
    Refit,
    Together,
    ToSpace,
    TwoPole,
    edited,
)
from wirecheck.mend.harm import Served, hurts, moves_a_safety, run_besides, served, unguarded
from wirecheck.mend.heat import objects
from wirecheck.mend.plainer import plainer
from wirecheck.mend.preferred import least, preferred
from wirecheck.mend.sheet import Sheet, sheet
from wirecheck.mend.spots import spots
from wirecheck.mend.ties import Ties, ties
from wirecheck.mend.tried import Drawbacks, Key, Tried
from wirecheck.model.board import Board, Box, Device, Join
from wirecheck.model.build import build
from wirecheck.parts.library import Library
from wirecheck.rules import rules

# How many mends of one mistake are shown, and how many mistakes are looked for one after the other.
MOST_SHOWN = 3
MOST_MISTAKES = 6
# Where one edit does, so many more are tried for another that does, and none that is so much less likely.
# What clears a part alone is asked of all the rules: that is dear, and so many more of it are tried.
MORE_TRIES, MORE_PARTIAL = 24, 4
# How many of the likeliest are tried where no single edit clears all; what part of the effort, in percent,
# goes before that, and what part of the work.
MOST_PARTIAL = 80
WHOLE, WHOLE_WORK = 60, 0.6
LESS_LIKELY = 1.5
# What asks how large something is, or how much of it there is, and never where it belongs.
OF_SIZES = frozenset(
    (
        "ampacity",
        "box-fill",
        "connector-size",
        "contact-rating",
        "grounding-conductor-size",
        "overcurrent-protection",
        "pigtail-size",
        "push-in-terminal",
        "raceway-fill",
        "terminal-crowding",
        "terminal-size",
        "voltage-drop",
    )
)
# What a try may cost, in steps of work, on the average of all, and the most of what is left that one may.
STEPS_A_TRY = 2_000
SHARE, LATER_SHARE = 0.25, 0.75

SeenBySystem = list[tuple[Case, list[Seen]]]
"""All that the rules see, by the systems of the board."""


class Search(NamedTuple):
    """For each mistake the mends that do, the likeliest first; what is left; `ended` by the effort."""

    mistakes: tuple[tuple[Tried, ...], ...]
    left: frozenset[Key]
    tries: int
    ended: bool


def search(syntax: Syntax, case: Case, library: Library, stage: Stage, effort: int) -> Search:
    """The mistakes of a board, each with the edits that put it right.

    Parameters
    ----------
    syntax, case : what the text says, and the board that it describes
    effort : how many edits are tried at most
    """
    now = sheet(syntax)
    looking = _Looking(library, stage, effort)
    mistakes: list[tuple[Tried, ...]] = []
    left: frozenset[Key] = frozenset()
    # How many mistakes stand whatever else is left, and what is left by them.
    sure, left_by_sure = 0, left
    while len(mistakes) < MOST_MISTAKES:
        seen = [(system, problems(system, stage)) for system in case.systems]
        if case.all_left():
            break
        left = _reported(seen)
        if sure == len(mistakes):
            left_by_sure = left
        found = looking.one_mistake(now, case.board, seen) if left and looking.tries < effort else ()
        if not found:
            break
        sure += sure == len(mistakes) and found[0].apart
        mistakes.append(found)
        looking.made.append(found[0].edit)
        now = found[0].sheet
        left -= found[0].clears
        if not left:
            break
        case = Case(build(now.now, library), looking.work)
    if left:
        # What clears one problem of a thing and leaves another is a mistake where the rest is one too.
        mistakes, left = mistakes[:sure], left_by_sure
    ended = looking.tries >= effort or looking.work.over
    return Search(tuple(mistakes), left, looking.tries, ended)


def _keys(seen: Iterable[Seen]) -> frozenset[Key]:
    """What is worse than advice, by rule and thing."""
    return frozenset((rule.name, problem.subject) for rule, problem in seen if problem.severity != "advice")


def _reported(seen: SeenBySystem) -> frozenset[Key]:
    """What of it stands by itself, and is reported."""
    return frozenset().union(*(_keys(standing(told, system)) for system, told in seen))


def _same_act(edit: Edit, other: Edit) -> bool:
    """Whether both are one act: another value or tab of the same thing, or two ends the other way round."""
    match edit, other:
        case Change(), Change():
            same = (edit.number, edit.what, edit.place) == (other.number, other.what, other.place)
        case Refit(), Refit():
            same = (edit.device, edit.now) == (other.device, other.now)
        case Protect(), Protect():
            same = edit.breaker == other.breaker
        case ExchangeAll(), ExchangeAll():
            ends = [{end for pair in one.pairs for end in pair} for one in (edit, other)]
            same = edit.place == other.place and ends[0] == ends[1]
        case Abreast(), Abreast():
            same = (edit.place, {edit.near, edit.far}) == (other.place, {other.near, other.far})
        case TwoPole(), TwoPole():
            same = {edit.breaker, edit.other} == {other.breaker, other.other}
        case ToSpace(), ToSpace():
            # Of two that a tie should reach, either goes to the other.
            pairs = [{one.breaker, one.beside} if one.beside else one.breaker for one in (edit, other)]
            same = pairs[0] == pairs[1] and edit.tie == other.tie
        case IntoWire(), IntoWire():
            same = (edit.place, edit.wire) == (other.place, other.wire)
            same = same and {edit.first, edit.second} == {other.first, other.second}
        case Together(), Together():
            # Another size for the same wires.
            lines = [[(each.number, each.what, each.place) for each in one.changes] for one in (edit, other)]
            same = lines[0] == lines[1]
        case Land(), Land():
            sets = [[set(each) for each in zip(*one.pairs, strict=True)] for one in (edit, other)]
            same = edit.place == other.place and sets[0] == sets[1]
        case _:
            same = False
    return same


def _moved(edits: Iterable[Edit], system: Case) -> frozenset[int]:
    """The copper of what some edits change."""
    piece = system.uses.piece
    moved = [point for edit in edits for point in spots(edit, system.board)]
    # The screws that are brought to wires are changed as these are.
    moved += [screw for edit in edits if isinstance(edit, Gather) for screw in edit.screws]
    return frozenset(piece[point] for point in moved if point in piece)


def _own(problem: Problem, system: Case) -> frozenset[int]:
    """The copper of a problem, and that of each device that it names."""
    around, piece = system.circuit.devices, system.uses.piece
    named = {getattr(one, "device", None) or getattr(one, "name", "") for one in objects(problem, False)}
    outer = {around[name].outer for name in named if name in around}
    screws = (one.name for one in system.board.terminals.values() if one.owner in outer)
    return problem.copper | {piece[name] for name in screws}


def _leaves_the_root(mend: Tried, seen: SeenBySystem) -> bool:
    """Whether an edit clears what follows, and leaves what it follows from.

    That is found on the same line, or on its copper; or what is moved is that of another problem, and of none
    that it clears; or it only makes room, and what is moved is of a device that does not work.
    """
    left = [
        (system, rule, problem)
        for system, told in seen
        for rule, problem in standing(told, system)
        if problem.severity != "advice" and (rule.name, problem.subject) not in mend.clears
    ]
    problems = [problem for _, _, problem in left]
    cleared = [
        problem for _, told in seen for rule, problem in told if (rule.name, problem.subject) in mend.clears
    ]
    moved = frozenset[int]().union(*(_moved((mend.edit,), system) for system, _ in seen))
    makes_room = {rule for rule, _ in mend.clears} <= OF_SIZES and not isinstance(
        mend.edit, Change | Together
    )
    # What is crowded is so because of what does not work there.
    if makes_room and any(
        rule.name not in OF_SIZES and not moved.isdisjoint(_own(problem, system))
        for system, rule, problem in left
    ):
        return True
    strays = any(one.copper & moved for one in problems) and not any(one.copper & moved for one in cleared)
    return strays or any(
        one.at.span == other.at.span or (one.copper & other.copper and _stands_before(one, other, mend.edit))
        for one in problems
        for other in cleared
    )


def _stands_before(one: Problem, other: Problem, edit: Edit) -> bool:
    """Whether what an edit clears may come of another problem of its copper: a hazard, or a bad joint.

    What a device is asked to carry comes of how it is joined, and no other rating parts what is joined wrong.
    """
    if isinstance(edit, Change) and isinstance(one.at.of, Join) and isinstance(other.at.of, Device):
        return True
    return one.severity == "hazard" and other.severity != "hazard"


def _wiring(board: Board) -> tuple[object, ...]:
    """What a change of the text can change of a system, without its places in the text."""
    joins = [
        (join.place, [(one.point, one.marked, one.size) for one in join.members], _how(join))
        for join in board.joins
    ]
    breakers = [(one.name, one.amps, one.poles, one.flags, one.tied) for one in board.breakers.values()]
    panels = [(one.name, one.main, one.bus, one.bonded) for one in board.panels.values()]
    boxes = [_room(one) for one in board.boxes.values()]
    runs = [(one.name, one.kind, one.length, one.conductors) for one in board.runs.values()]
    values = [(one.name, one.values) for one in board.devices.values()]
    return joins, panels, breakers, boxes, runs, values, tuple(board.capped), tuple(board.raceways.values())


def _room(box: Box) -> tuple[object, ...]:
    added = [(one.kind, one.volume, one.trade_size) for one in box.added]
    return box.name, box.volume, box.trade_size, box.clamps, box.gangs, added


def _how(join: Join) -> tuple[str | None, bool]:
    return join.connector.name if join.connector else None, join.pushed


class _Start(NamedTuple):
    """A board that edits are tried on, and what is seen of it.

    `reported` is what stands by itself of what is `known`; `before` is how the board is served, `blamed` what
    the problems name; `told` is what is seen, by rules: the likeliest to be seen still after an edit. `clean`
    are the systems in which nothing is seen, by their devices: they are not judged again.
    """

    sheet: Sheet
    known: frozenset[Key]
    reported: frozenset[Key]
    before: Served
    blamed: frozenset[str]
    told: dict[str, list[Problem]]
    clean: dict[tuple[str, ...], Board]


def _start(now: Sheet, seen: SeenBySystem) -> _Start:
    told: dict[str, list[Problem]] = {}
    for rule, problem in (one for _, system_told in seen for one in system_told):
        told.setdefault(rule.name, []).append(problem)
    named = [
        one
        for problems in told.values()
        for problem in problems
        if problem.severity != "advice"
        for one in objects(problem, circuits=False)
    ]
    # A motor that should run at one speed may run at another because of the mistake.
    motors = {one.device for one in named if isinstance(one, Load) and one.kind == "motor"}
    speeds = (
        load.name
        for system, _ in seen
        for load in system.circuit.loads
        if load.kind == "motor" and load.device in motors
    )
    blamed = frozenset((*(getattr(one, "name", "") for one in named), *speeds))
    return _Start(
        now,
        frozenset().union(*(_keys(system_told) for _, system_told in seen)),
        _reported(seen),
        served(system for system, _ in seen),
        blamed,
        told,
        {tuple(system.board.devices): system.board for system, listed in seen if not _keys(listed)},
    )


class _Looking:
    """The tries of one search."""

    def __init__(self, library: Library, stage: Stage, effort: int) -> None:
        self.library = library
        self.stage = stage
        self.effort = effort
        self.tries = 0
        self.work = Work(effort * STEPS_A_TRY)
        # Steps of work that each rule took: the quickest refuses an edit first.
        self.took: dict[str, float] = {}
        # The board as it is written, on which each mend has to do by itself, and the mends of it so far.
        self.first: _Start | None = None
        self.made: list[Edit] = []
        # Whether the last one lets show by itself what one of these puts right.
        self.waited = False
        # Edits that clear what some rule sees, and not all: likely the mend of one of several mistakes.
        self.hopeful: dict[Edit, frozenset[str]] = {}
        # Whether the last try was such an edit.
        self.passed: frozenset[str] = frozenset()
        # What a rule of ties refused where only so much may stay, and whether it was such an edit.
        self.refused: dict[tuple[frozenset[Key], Ties], frozenset[str]] = {}
        # The ties that leave open what a try would show.
        self.untold: Ties | None = None

    def one_mistake(self, now: Sheet, board: Board, seen: SeenBySystem) -> tuple[Tried, ...]:
        """The edits that clear all, or else those that clear most and bring nothing new."""
        try:
            start = _start(now, seen)
        except WorkEnds:
            return ()
        firing = {rule for _, told in seen for rule, one in told if _keys([(rule, one)])}
        base = ties(board, now)
        # What ties nothing else clears no rule of ties. It may clear another, and has to be tried for that.
        self.untold = None if all(rule.of_ties for rule in firing) else base
        if self.untold is None:
            self.refused[frozenset(), base] = frozenset()
        self.first = self.first or start
        listed = [
            one
            for system, told in seen
            for one in candidates(
                [problem for _, problem in told if problem.severity != "advice"], system, now, self.library
            )
        ]
        fires = {rule.name for rule in firing}
        hopeful = self._hopeful(fires)
        listed.sort(key=lambda one: (one.edit not in hopeful, -one.weight))
        half = self.tries + (self.effort - self.tries) * WHOLE // 100
        with self.work.share(WHOLE_WORK):
            whole = self._tried(listed, start, frozenset(), half)
        if whole:
            shown = preferred(whole)[:MOST_SHOWN]
            return tuple(self._plainer(mend, start, seen) for mend in shown)
        hopeful = self._hopeful(fires)
        likely = [one for one in listed if one.edit in hopeful]
        partial = self._tried(likely, start, start.known, self.effort)
        if not partial:
            likely = [one for one in listed[:MOST_PARTIAL] if one.edit not in hopeful]
            partial = self._tried(likely, start, start.known, self.effort)
        apart = [mend for mend in partial if mend.apart and not _leaves_the_root(mend, seen)]
        partial = apart or [mend._replace(apart=False) for mend in partial]
        most = max(partial, key=lambda mend: len(mend.clears), default=None)
        # While something else is left, what an edit does is not wholly known: the likeliest alone is told.
        return tuple(least([mend for mend in partial if most and mend.clears == most.clears]))[:1]

    def _hopeful(self, fires: Collection[str]) -> set[Edit]:
        """The edits that clear some rule of these."""
        return {edit for edit, cleared in self.hopeful.items() if not cleared.isdisjoint(fires)}

    def _tried(
        self,
        listed: Sequence[Candidate],
        start: _Start,
        may_stay: frozenset[Key],
        most: int,
    ) -> list[Tried]:
        """The edits after which nothing is seen but what may stay, and not all of that."""
        found: list[Tried] = []
        last, least = most, -DEAREST
        for edit, weight in listed:
            if self.tries >= last or weight < least or self.work.over:
                break
            if any(_same_act(edit, mend.edit) for mend in found):
                continue
            try:
                changed = edited(start.sheet, edit)
            except ValueError:
                continue
            if changed is None or any(changed.meaning == mend.sheet.meaning for mend in found):
                continue
            left = self._left(changed, start, may_stay)
            if self.passed:
                self.hopeful[edit] = self.passed
            if left is not None and self._does_alone(edit, start, start.reported - left[0]):
                mend = Tried(edit, changed, start.reported - left[0], *left[1:], waits=self.waited)
                if not found:
                    least = weight - LESS_LIKELY
                # What runs a load besides is not what the others have to be close to.
                if not mend.runs_besides and all(one.runs_besides for one in found):
                    last = min(most, self.tries + (MORE_PARTIAL if may_stay else MORE_TRIES))
                found.append(mend)
        return found

    def _plainer(self, mend: Tried, start: _Start, seen: SeenBySystem) -> Tried:
        """A mend, or the plainer one that does as well."""
        for system, _ in seen:
            edit = plainer(mend.edit, start.sheet, system.board)
            changed = edited(start.sheet, edit) if edit is not None else None
            if edit is None or changed is None:
                continue
            self.tries += 1
            left = self._left(changed, start, frozenset())
            if left is not None and left[1] <= mend.drawbacks and self._does_alone(edit, start, mend.clears):
                return mend._replace(edit=edit, sheet=changed)
        return mend

    def _does_alone(self, edit: Edit, start: _Start, clears: frozenset[Key]) -> bool:
        """Whether an edit does so on the board as it is written too, where the others are not made yet.

        What another mistake keeps from working then is no harm: it works once that one is put right.
        """
        first, self.waited = self.first, False
        if first is None or start is first:
            return True
        alone = edited(first.sheet, edit)
        if alone is None:
            return False
        left = self._left(alone, first, first.known, first_of_several=True, edit=edit)
        told = ((name, one) for name, problems in first.told.items() for one in problems)
        faults = {(name, one.subject) for name, one in told if one.severity == "fault"}
        # What does not work for two mistakes works once both are put right.
        clears &= first.reported
        return left is not None and (clears - faults or clears).isdisjoint(left[0])

    def _left(
        self,
        changed: Sheet,
        start: _Start,
        may_stay: frozenset[Key],
        first_of_several: bool = False,
        edit: Edit | None = None,
    ) -> tuple[frozenset[Key], Drawbacks, bool, Served] | None:
        """What is still reported after an edit, its drawbacks, `apart`, and how the board is served then.

        None where something is that was not reported before, all that was still is, or the edit hurts.
        """
        self.passed = frozenset()
        board = build(changed.now, self.library)
        tied = ties(board, changed)
        told = not (first_of_several or tied == self.untold)
        known = self.refused.get((may_stay, tied)) if told else None
        self.tries += known is None
        if board.problems:
            return None
        touched = self._touched(board, start) if known is None else []
        try:
            # What is left for a further mistake is little, and the edit that clears the rest asks all rules.
            with self.work.share(SHARE if start is self.first else LATER_SHARE):
                # What it takes to build it, and to ask the rules, goes by its text, or its screws and wires.
                parts = 12 * len(board.terminals) + 11 * len(board.conductors)
                cost = max(board.length // 3, parts)
                if known is not None:
                    # No rule is asked: that costs less, and is no try.
                    self.work.spend(cost // 2)
                    self.passed = known
                    return None
                self.work.spend(cost)
                left = self._seen(touched, start, may_stay, first_of_several, tied, edit)
                after = served(touched) if left is not None else start.before
        except WorkEnds:
            return None
        # A board that is not judged whole is not known to be right.
        if left is None or any(system.left for system in touched) or hurts(start.before, after, start.blamed):
            return None
        # What runs for good is not as it should be, though no line says that it should not.
        if not may_stay and after.runs_by_itself:
            return None
        reported, advice, apart = left
        cleared = {rule for rule, _ in start.reported - reported}
        if cleared <= OF_SIZES and moves_a_safety(start.before, after):
            return None
        besides = run_besides(start.before, after, start.blamed)
        uncalled = len(after.uncalled & start.blamed)
        lost = unguarded(start.before, after)
        drawbacks = (lost, besides, uncalled, after.doubled, after.stopped, advice, after.odd)
        return reported, drawbacks, apart, after

    def _seen(
        self,
        touched: Sequence[Case],
        start: _Start,
        may_stay: frozenset[Key],
        first_of_several: bool,
        tied: Ties,
        edit: Edit | None,
    ) -> tuple[frozenset[Key], int, bool] | None:
        left: SeenBySystem = []
        still: set[Key] = set()
        cleared: set[str] = set()
        advice = 0
        firing = {name for name, _ in start.known}
        same = tied == self.untold
        # Of an edit that ties nothing new the rules of ties are known: what else it clears is seen first.
        order = sorted(
            self._asked(), key=lambda one: (one.name not in firing, same and one.of_ties, self._cost(one))
        )
        for system, rule in product(touched, order):
            begun = self.work.spent
            told: list[Seen] = []
            refused = not may_stay and rule.surely(system, start.told.get(rule.name, ()))
            for problem in rule.find(system) if not refused else ():
                waits = first_of_several and (
                    problem.severity == "fault" or self._waits(problem, system, edit)
                )
                if waits and (rule.name, problem.subject) not in may_stay:
                    self.waited |= problem.severity in ("hazard", "violation")
                    continue
                if self._reached(problem.stage):
                    told.append((rule, problem))
                    if not _keys(told) <= may_stay:
                        break
            self.took[rule.name] = (self._cost(rule) + self.work.spent - begun) / 2
            still |= _keys(told)
            if refused or not still <= may_stay or len(still) == len(start.known):
                self.passed = frozenset(cleared if refused or still <= start.known else ())
                if rule.of_ties and not first_of_several and (refused or not _keys(told) <= may_stay):
                    self.refused[may_stay, tied] = self.passed
                return None
            if rule.name in firing and not told:
                cleared.add(rule.name)
            advice += sum(problem.severity == "advice" for _, problem in told)
            left.append((system, told))
        together = grouped((id(system), one) for system, told in left for one in told)
        systems = {id(system): system for system, _ in left}
        reported = _reported([(systems[key], list(told)) for key, told in together.items()])
        if first_of_several:
            faults = (one for _, told in left for one in told if one[1].severity == "fault")
            reported -= _keys(faults) - start.reported
        self.passed = frozenset(cleared)
        gone = start.reported - reported
        apart = {subject for _, subject in gone}.isdisjoint(subject for _, subject in reported)
        return (reported, advice, apart) if reported < start.reported else None

    def _waits(self, problem: Problem, system: Case, edit: Edit | None) -> bool:
        """Whether a problem shows since an edit lets something work, and is that of a mend made before.

        It lies on what that one moves, and not on what this one does.
        """
        if edit is None or not self.made:
            return False
        own = _own(problem, system)
        return own.isdisjoint(_moved((edit,), system)) and not own.isdisjoint(_moved(self.made, system))

    def _cost(self, rule: Rule) -> float:
        return self.took.get(rule.name, 0.0)

    def _touched(self, board: Board, start: _Start) -> list[Case]:
        """The systems of a board but those that are as they were when nothing was seen in them."""
        touched = []
        for system in Case(board, self.work).systems:
            was = start.clean.get(tuple(system.board.devices))
            if was is None or _wiring(was) != _wiring(system.board):
                touched.append(system)
        return touched

    def _asked(self) -> list[Rule]:
        return [rule for rule in rules() if rule.asked(self.stage)]

    def _reached(self, stage: Stage) -> bool:
        return STAGES.index(stage) <= STAGES.index(self.stage)
