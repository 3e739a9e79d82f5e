"""A wire's end is joined to nothing and not capped.

A loose end may be live now or when a switch is moved, and it touches whatever it is pushed
against when the device goes in.

Source: NEC 110.14(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note, Severity
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Join, Member

LIVE = ("hot", "switched", "either", "mixed")
# How many wires one message names, and how many far ends it points at.
MOST_NAMED = 6
MOST_FAR = 3


class LooseEnds(Problem):
    """Ends that lie loose in one place and belong together: each conductor, and which end of it (0 or 1).

    `live` are the conductors that are fed at the other end, `far` the joins of the other ends.
    """

    ends: tuple[tuple[Conductor, int], ...]
    live: tuple[Conductor, ...]
    far: tuple[Join, ...]

    @property
    def place(self) -> str:
        """Where they lie."""
        conductor, which = self.ends[0]
        return conductor.places[which]


class LooseTail(Problem):
    """A wire has a tail that goes to no screw."""

    wire: Member
    place: str


def find(case: Case) -> Iterator[LooseEnds | LooseTail]:
    """Each group of loose ends in a place, and each tail that leads to nothing."""
    for ends in _groups(case):
        yield _loose(case, ends)
    for join in case.board.joins:
        others = [member for member in join.members if member.kind != "pigtail"]
        if len(others) == 1 and others[0].kind == "end":
            yield LooseTail(
                at=spot(join),
                about=case.board.conductors[others[0].name],
                severity="violation",
                stage="trim",
                copper=frozenset((case.uses.piece[others[0].point],)),
                wire=others[0],
                place=join.place,
            )


def _groups(case: Case) -> Iterator[list[tuple[Conductor, int]]]:
    """The loose ends that are one omission: a whole cable's, or in one place those of one purpose."""
    by_run: dict[tuple[str, int], list[tuple[Conductor, int]]] = {}
    for conductor, which in made_up.loose_ends(case):
        by_run.setdefault((conductor.run, which), []).append((conductor, which))
    # A splice that was never made leaves several of one purpose.
    groups: dict[tuple[str, str], list[tuple[Conductor, int]]] = {}
    for (name, _), ends in by_run.items():
        run = case.board.runs[name]
        whole = len(ends) == len(run.conductors)
        for conductor, which in ends:
            together = whole or purpose.is_class_2(conductor)
            kind = name if together else purpose.of_color(conductor.color)
            groups.setdefault((conductor.places[which], kind), []).append((conductor, which))
    yield from groups.values()


def _loose(case: Case, ends: list[tuple[Conductor, int]]) -> LooseEnds:
    first, which = ends[0]
    live = tuple(one for one, side in ends if case.uses.of(one.ends[side]) in LIVE)
    far = [join for one, side in ends if (join := made_up.join_at(case, one.ends[1 - side])) is not None]
    spare = not far and purpose.is_class_2(first)
    severity: Severity = "hazard" if live else "advice" if spare else "violation"
    one_run = len({one.run for one, _ in ends}) == 1
    return LooseEnds(
        at=spot(made_up.run_end(case, first, which)),
        about=case.board.runs[first.run] if one_run and len(ends) > 1 else first,
        severity=severity,
        stage="trim",
        copper=frozenset(case.uses.piece[one.ends[side]] for one, side in ends),
        ends=tuple(ends),
        live=live,
        far=tuple(far),
    )


def words(problem: LooseEnds | LooseTail, case: Case) -> Words:
    """Which ends are loose, what they can do there, and that each is joined or capped."""
    sections = case.code.section("ends of wires are joined or capped")
    if isinstance(problem, LooseTail):
        return Words(
            message=f"{problem.wire.name} has a tail in {problem.place} that leads to nothing.",
            help="Bring the tail to a screw, or cap the wire.",
            source=sections,
        )
    names = list(dict.fromkeys(one.name for one, _ in problem.ends))
    verb, each = ("are", "each") if len(names) > 1 else ("is", "it")
    runs = {one.run: made_up.run_end(case, one, side) for one, side in problem.ends}
    return Words(
        message=f"{listed(names, MOST_NAMED)} {verb} joined to nothing in {problem.place} and not capped. "
        + _why(problem),
        help=f"{'With the breaker off, join' if problem.live else 'Join'} {each} where it belongs, "
        f"or cap {each}: " + ", ".join(f"cap {name}" for name in names[:MOST_NAMED]),
        source="common practice" if problem.severity == "advice" else sections,
        also=(
            *(Note(f"{name} comes in here", end.span) for name, end in list(runs.items())[1:MOST_NAMED]),
            *(Note("the other end is joined here", join.span) for join in problem.far[:MOST_FAR]),
        ),
    )


def _why(problem: LooseEnds) -> str:
    if problem.live:
        verb = "are" if len(problem.live) > 1 else "is"
        names = listed((one.name for one in problem.live), MOST_NAMED)
        return f"{names} {verb} fed at the other end, so the bare copper is live."
    if not purpose.is_class_2(problem.ends[0][0]):
        return "A loose end can touch what it should not."
    if problem.severity == "advice":
        return "Spares touch others in time: wrap or cap them."
    return "If it touches another wire of the cable, it shorts the transformer or makes something run."


RULE = rule(__name__, "trim", find=find, words=words)
