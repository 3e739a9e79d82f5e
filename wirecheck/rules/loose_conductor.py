"""A wire's end, or a lead of a device, is joined to nothing and not capped.

A loose end may be live now or when a switch is moved, and it touches whatever it is pushed
against when the device goes in. A lead that is not used is capped too: it comes with its end bare.
A screw that is not used stays empty.

Source: NEC 110.14(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.settle import copper
from wirecheck.judge import made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note, Severity
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Device, Join, Member, Terminal

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


class LooseLeads(Problem):
    """Leads of a device that are joined to nothing; `live` are those that are fed through the device."""

    device: Device
    leads: tuple[Terminal, ...]
    live: tuple[Terminal, ...]


def find(case: Case) -> Iterator[LooseEnds | LooseTail | LooseLeads]:
    """Each group of loose ends in a place, each device's loose leads, and each tail that leads to nothing."""
    for ends in _groups(case):
        yield _loose(case, ends)
    yield from _loose_leads(case)
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


def surely(case: Case, before: object) -> bool:
    """Whether an end lies loose that is no spare of a thermostat's cable; whether it is live is not asked."""
    return any(not purpose.is_class_2(conductor) for conductor, _ in made_up.loose_ends(case))


def _loose_leads(case: Case) -> Iterator[LooseLeads]:
    """The loose leads of each device that something is joined to; a ground's lead is of another rule."""
    for device in case.board.devices.values():
        terminals = [case.board.terminals[f"{device.name}.{name}"] for name in device.part.terminals]
        leads = tuple(
            terminal
            for terminal in terminals
            if "lead" in terminal.spec.flags
            and terminal.spec.role != "ground"
            and made_up.is_loose(case, terminal.name)
        )
        used = any(one.name in made_up.joins(case) for one in terminals if one.spec.role != "ground")
        if leads and used:
            live = tuple(one for one in leads if case.uses.of(one.name) in LIVE)
            yield LooseLeads(
                at=spot(device),
                about=leads[0] if len(leads) == 1 else device,
                severity="hazard" if live else "advice",
                stage="trim",
                copper=frozenset(case.uses.piece[one.name] for one in leads),
                device=device,
                leads=leads,
                live=live,
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


def words(problem: LooseEnds | LooseTail | LooseLeads, case: Case) -> Words:
    """Which ends are loose, what they can do there, and that each is joined or capped."""
    sections = case.code.section("ends of wires are joined or capped")
    if isinstance(problem, LooseTail):
        return Words(
            message=f"{problem.wire.name} has a tail in {problem.place} that leads to nothing.",
            help="Bring the tail to a screw, or cap the wire.",
            source=sections,
        )
    if isinstance(problem, LooseLeads):
        return _lead_words(problem, sections)
    names = list(dict.fromkeys(one.name for one, _ in problem.ends))
    verb, each = ("are", "each") if len(names) > 1 else ("is", "it")
    runs = {one.run: made_up.run_end(case, one, side) for one, side in problem.ends}
    return Words(
        message=f"{listed(names, MOST_NAMED)} {verb} joined to nothing in {problem.place} and not capped. "
        + ((not problem.live and _apart(problem, case)) or _why(problem)),
        help=f"{'With the breaker off, join' if problem.live else 'Join'} {each} where it belongs, "
        f"or cap {each}: " + ", ".join(f"cap {name}" for name in names[:MOST_NAMED]),
        source="common practice" if problem.severity == "advice" else sections,
        also=(
            *(Note(f"{name} comes in here", end.span) for name, end in list(runs.items())[1:MOST_NAMED]),
            *(Note("the other end is joined here", join.span) for join in problem.far[:MOST_FAR]),
        ),
    )


def _lead_words(problem: LooseLeads, sections: str) -> Words:
    names = [one.name for one in problem.leads]
    many = len(names) > 1
    verb, each = ("are leads", "each") if many else ("is a lead", "it")
    why = f"{'Their ends are' if many else 'Its end is'} bare, and can touch what {'they' if many else 'it'} "
    why += "should not."
    if problem.live:
        fed = listed((one.name for one in problem.live), MOST_NAMED)
        why = f"{fed} {'are' if len(problem.live) > 1 else 'is'} fed through {problem.device.name}, so the "
        why += "bare copper is live."
    return Words(
        message=f"{listed(names, MOST_NAMED)} {verb} with nothing on {'them' if many else 'it'}. {why}",
        help=f"{'With the breaker off, join' if problem.live else 'Join'} {each} where it belongs, or cap "
        f"{each}: " + ", ".join(f"cap {name}" for name in names[:MOST_NAMED]),
        source=sections,
    )


def _apart(problem: LooseEnds, case: Case) -> str:
    """What a loose neutral does that two hots share: it leaves what they feed in series between them.

    Source: NEC 300.13(B) forbids that a device carries such a neutral on, for that reason.
    """
    # Through the contacts of a receptacle that watches for faults, too.
    piece, node = copper(case.at_rest), case.circuit.node
    far = {piece[node[one.ends[1 - side]]] for one, side in problem.ends}
    pairs = [(one.hot, one.neutral) for one in case.circuit.outlets]
    pairs += [pair for load in case.circuit.loads for pair in ((load.a, load.b), (load.b, load.a))]
    fed = [case.uses.legs(hot) for hot, neutral in pairs if piece[node[neutral]] in far]
    hots = set().union(*(legs for legs in fed if len(legs) == 1))
    if len(hots) < 2:
        return ""
    return (
        "Two hots share it as their neutral: without it, what they feed is in series between them, and what "
        "needs the least current there gets too many volts and burns out. Its bare end is live as soon as "
        "something is on."
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


RULE = rule(
    __name__, "trim", severities=("hazard", "violation", "advice"), find=find, words=words, surely=surely
)
