"""Rules about a wire's ends: left loose, crowded under a screw, of the wrong size or color."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.pieces import pieces
from wirecheck.judge.case import Case
from wirecheck.judge.control_wires import OddColor, odd_colors
from wirecheck.judge.crossing import explained, meant_for
from wirecheck.judge.finding import Finding, Note, Severity
from wirecheck.judge.old_blame import GROUND_COLORS, NEUTRAL_COLORS
from wirecheck.model.board import Conductor, Join, Member, Run, Terminal
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.faults import ground_ties
from wirecheck.rules.old import rule
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area, trade_size
from wirecheck.tables.thermostat_colors import usual_colors

# From this size up a wire of another color may be marked as a neutral or a ground: 200.6(B), 250.119.
LARGE = "4"
LIVE = ("hot", "switched", "either", "mixed")
# How many wires one message names.
MOST_NAMED = 6


# An end of a run that is joined to nothing: the run, its conductor, and which end.
Loose = tuple[Run, Conductor, int]


@rule("trim")
def loose_conductor(case: Case) -> Iterator[Finding]:
    """A wire's end is joined to nothing and not capped.

    A loose end may be live now or when a switch is moved, and it touches
    whatever it is pushed against when the device goes in.

    Source: NEC 2023 110.14(B), 300.14
    """
    board = case.board
    if board.problems:
        # A line that could not be read may be the one that joins it.
        return
    joined: dict[str, Join] = {}
    for join in board.joins:
        for member in join.members:
            joined[member.point] = join
    groups: dict[tuple[str, str], list[Loose]] = {}
    for run in board.runs.values():
        for which in (0, 1):
            loose = [
                (run, one, which)
                for one in run.conductors
                if one.ends[which] not in joined and one.ends[which] not in board.capped
            ]
            if not loose or _told_by_open_ground(case, [one for _, one, _ in loose], which):
                continue
            place = run.ends[which].place
            if len(loose) == len(run.conductors):
                groups[place, run.name] = loose
                continue
            # A splice that was never made leaves several of one kind: one finding for them.
            for end in loose:
                kind = _purpose(end[1]) if run.kind not in CLASS_2_CABLES else run.name
                groups.setdefault((place, kind), []).append(end)
    for (place, _), loose in groups.items():
        yield _loose(case, place, loose, joined)
    for join in board.joins:
        ends = [member for member in join.members if member.kind != "pigtail"]
        if len(ends) == 1 and ends[0].kind == "end":
            yield Finding(
                rule="loose-conductor",
                severity="violation",
                message=f"{ends[0].name} has a tail in {join.place} that leads to nothing.",
                span=join.span,
                subject=ends[0].name,
                source="NEC 2023 110.14(B)",
                help="Bring the tail to a screw, or cap the wire.",
                stage="trim",
            )


def _told_by_open_ground(case: Case, loose: list[Conductor], which: int) -> bool:
    """Whether a loose ground leaves a ground screw without its way home: `open-ground` says that."""
    if any(one.color not in GROUND_COLORS for one in loose):
        return False
    piece = pieces(case.board.terminals, ground_ties(case))
    grounded = {piece[f"{panel}.ground"] for panel in case.board.panels}
    beyond = {piece[one.ends[1 - which]] for one in loose}
    place = loose[0].places[which]
    return any(
        terminal.spec.role == "ground"
        and piece[terminal.name] not in grounded
        and (terminal.place == place or piece[terminal.name] in beyond)
        for terminal in case.board.terminals.values()
    )


def _purpose(conductor: Conductor) -> str:
    color = conductor.color
    return "ground" if color in GROUND_COLORS else "neutral" if color in NEUTRAL_COLORS else "hot"


def _loose(case: Case, place: str, loose: list[Loose], joined: dict[str, Join]) -> Finding:
    run, _, which = loose[0]
    end = run.ends[which]
    runs = {one.name: one.ends[side].span for one, _, side in loose}
    names = [one.name for _, one, _ in loose]
    live = [one.name for _, one, side in loose if case.uses.of(one.ends[side]) in LIVE]
    far = [joined[one.ends[1 - side]] for _, one, side in loose if one.ends[1 - side] in joined]
    spare = not far
    severity: Severity = "hazard" if live else "violation"
    many = len(names) > 1
    why = "A loose end can touch what it should not."
    if live:
        why = f"{_listed(live)} {_are(live)} fed at the other end, so the bare copper is live."
    elif run.kind in CLASS_2_CABLES:
        if spare:
            severity = "advice"
            why = "Spares touch others in time; wrap or cap them."
        else:
            why = "Where it touches another wire of the cable, the 24 V is shorted or something runs."
    return Finding(
        rule="loose-conductor",
        severity=severity,
        message=f"{_listed(names)} {_are(names)} joined to nothing in {place} and not capped. {why}",
        span=end.span,
        subject=run.name if many and len(runs) == 1 else names[0],
        source="common practice" if severity == "advice" else "NEC 2023 110.14(B)",
        help=f"Join {'each' if many else 'it'} where it belongs, or cap {'each' if many else 'it'}: "
        + ", ".join(f"cap {name}" for name in names[:MOST_NAMED]),
        also=(
            *(Note(f"{name} comes in here", span) for name, span in list(runs.items())[1:MOST_NAMED]),
            *(Note("the other end is joined here", join.span) for join in far[:3]),
        ),
        stage="trim",
    )


def _are(names: list[str]) -> str:
    return "are" if len(names) > 1 else "is"


def _listed(names: list[str]) -> str:
    if len(names) > MOST_NAMED:
        return ", ".join(names[:MOST_NAMED]) + f" and {len(names) - MOST_NAMED} more"
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


@rule("trim")
def terminal_size(case: Case) -> Iterator[Finding]:
    """A wire is too large, too small or of the wrong metal for its screw.

    What a screw is not made for it does not hold: a thin wire slips out, a thick
    one stands beside the clamp, and aluminum under a copper screw creeps,
    oxidizes and burns.

    Source: NEC 2023 110.14, 110.3(B)
    """
    board = case.board
    aluminum: dict[tuple[str, str], list[tuple[Conductor, Terminal, Join]]] = {}
    for join in board.joins:
        for name, members in join.under.items():
            terminal = board.terminals[name]
            for member in members:
                if member.kind != "end":
                    continue
                conductor = board.conductors[member.name]
                if conductor.material == "aluminum" and "copper" in terminal.spec.flags:
                    aluminum.setdefault((conductor.run, terminal.owner), []).append(
                        (conductor, terminal, join)
                    )
                elif (finding := _misfit(conductor, terminal, join)) is not None:
                    yield finding
    for (run, owner), cases in aluminum.items():
        conductor, terminal, join = cases[0]
        names = [one.name for one, _, _ in cases]
        yield Finding(
            rule="terminal-size",
            severity="hazard",
            message=f"{_listed(names)} {_are(names)} aluminum, and the screws of {owner} "
            "are made for copper only. Aluminum creeps and oxidizes under them, until the joint glows.",
            span=join.span,
            subject=owner,
            source="NEC 2023 110.14, 404.14(C), 406.3(C)",
            help=f"Use a device marked CO/ALR, or copper cable in place of {run}. Copper and aluminum are "
            "spliced only with connectors listed for both.",
            also=tuple(Note(f"{one.name} too", there.span) for one, _, there in cases[1:4]),
            stage="trim",
        )


def _misfit(conductor: Conductor, terminal: Terminal, join: Join) -> Finding | None:
    if terminal.spec.sizes is None:
        return None
    smallest, largest = terminal.spec.sizes
    try:
        metal, least, most = area(conductor.size), area(smallest), area(largest)
    except NotInTable:
        return None
    if least * (1 - 1e-9) <= metal <= most * (1 + 1e-9):
        return None
    large = metal > most
    why = "it is too large to lie under it" if large else "it is too thin to be held"
    return Finding(
        rule="terminal-size",
        severity="violation",
        message=f"{conductor.name} is {_gauge(conductor.size)}, and {terminal.name} takes "
        f"{_gauge(smallest)} to {_gauge(largest)}: {why}.",
        span=join.span,
        subject=terminal.name,
        source="NEC 2023 110.14, 110.3(B)",
        help="Splice it to a tail of a size that the screw takes, if the breaker allows that size, "
        "or use a device made for it."
        if large
        else "Use the wire that the circuit asks for.",
        stage="trim",
    )


def _gauge(size: str) -> str:
    name = trade_size(size)
    return name if name.endswith(("kcmil", "mm2")) else f"{name} AWG"


@rule("trim")
def conductor_color(case: Case) -> Iterator[Finding]:
    """A wire's color says something else than what it is used for.

    The next person believes the color: white and gray are neutrals, bare and
    green are grounds, any other color is a hot. A white of a cable may serve as
    a hot when it is marked at every end; in a switch loop it takes the feed to
    the switch, never the way back to the light.

    Source: NEC 2023 200.6, 200.7(C), 250.119, 310.6; colors of thermostat cable: common practice
    """
    made_up = {
        member.point: (join, member)
        for join in case.board.joins
        for member in join.members
        if member.kind == "end"
    }
    pieces, wires = explained(case)
    yield from map(_thermostat_color, odd_colors(case))
    for run in case.board.runs.values():
        if run.kind in CLASS_2_CABLES:
            continue
        wrong = [
            finding
            for conductor in run.conductors
            if case.uses.piece[conductor.ends[0]] not in pieces and conductor.name not in wires
            for finding in _judged(case, run, conductor, made_up)
        ]
        if len(wrong) == 2 and {found.severity for found in wrong} == {"violation"} and _exchanged(case, run):
            yield _exchange(run, wrong)
        else:
            yield from wrong


MadeUp = dict[str, tuple[Join, Member]]


def _judged(case: Case, run: Run, conductor: Conductor, made_up: MadeUp) -> Iterator[Finding]:
    """What is wrong with one conductor's color, for what its copper is joined to."""
    ends = [made_up[end] for end in conductor.ends if end in made_up]
    if not ends:
        return
    use = case.uses.of(conductor.ends[0])
    live = use in ("hot", "switched", "either")
    if conductor.color in GROUND_COLORS:
        # Where metal hangs on it, `energized-metal` says so.
        if live and not _serves(case, conductor, "ground"):
            yield _color(
                conductor,
                _odd_end(case, conductor, made_up),
                f"{conductor.name} is {conductor.color} and serves as a hot. Everyone takes it for the "
                "ground and lays a hand on it.",
                "Use an insulated wire for the hot; a bare or green wire is a ground and nothing else.",
                "NEC 2023 250.119",
                "hazard",
            )
        return
    unmarked = [(join, member) for join, member in ends if member.marked is None]
    marks = {member.marked for _, member in ends if member.marked is not None}
    if conductor.color in NEUTRAL_COLORS:
        if live:
            yield from _white_as_hot(case, run, conductor, unmarked, marks, made_up)
        elif use in ("neutral", "ground") and marks - NEUTRAL_COLORS:
            marked = next(end for end in ends if end[1].marked is not None)
            # One end says hot and the other neutral: the end that is not marked is the odd one.
            yield _color(
                conductor,
                unmarked[0] if unmarked else marked,
                f"{conductor.name} is marked {marked[1].marked}, as a hot is, in {marked[0].place}, "
                f"and {'here' if unmarked else 'there'} it is among the {use}s.",
                "If it shall be a hot, bring it to the hots and mark it here too; if it is the neutral, take "
                "the mark off.",
                "NEC 2023 200.6, 200.7",
            )
        elif use == "ground" and not _serves(case, conductor, "neutral"):
            # Where a load comes back on it, `ground-as-neutral` says so.
            yield _color(
                conductor,
                _odd_end(case, conductor, made_up),
                f"{conductor.name} is {conductor.color} and is on the ground. Whoever takes it for a neutral "
                "one day sends current over bare metal.",
                f"Bring {conductor.name} to the neutrals, or cap it.",
                "NEC 2023 200.6, 250.142(B)",
            )
        return
    if use not in ("neutral", "ground"):
        return
    bare = [one for one in run.conductors if one.color in GROUND_COLORS]
    if use == "ground" and any(case.uses.of(one.ends[0]) in LIVE for one in bare):
        # The two were exchanged: what the bare wire does now is the finding.
        return
    right = NEUTRAL_COLORS if use == "neutral" else GROUND_COLORS
    if _at_least(conductor.size, LARGE) and not unmarked and marks <= right:
        return
    name = "neutral" if use == "neutral" else "ground"
    yield _color(
        conductor,
        _odd_end(case, conductor, made_up),
        f"{conductor.name} is {conductor.color}, the color of a hot, and serves as a {name}.",
        f"Use the {'white' if use == 'neutral' else 'bare or green'} wire for the {name}. "
        f"Only {LARGE} AWG and larger may be marked as one instead, at every end.",
        "NEC 2023 200.6(A)" if use == "neutral" else "NEC 2023 250.119",
    )


def _serves(case: Case, conductor: Conductor, role: str) -> bool:
    """Whether a screw of that role is on the same copper."""
    piece = case.uses.piece[conductor.ends[0]]
    return any(
        terminal.spec.role == role and case.uses.piece[terminal.name] == piece
        for terminal in case.board.terminals.values()
        if terminal.owner not in case.board.panels
    )


def _white_as_hot(
    case: Case,
    run: Run,
    conductor: Conductor,
    unmarked: list[tuple[Join, Member]],
    marks: set[str],
    made_up: MadeUp,
) -> Iterator[Finding]:
    white = conductor.color
    if not run.jacketed:
        yield _color(
            conductor,
            _odd_end(case, conductor, made_up),
            f"{conductor.name} is a single {white} wire and serves as a hot. Only the {white} of a cable "
            "may be marked as one; a single wire is bought in its color.",
            "Pull a black, red or blue wire in its place.",
            "NEC 2023 200.7(A), 200.7(C)",
        )
    elif marks & (NEUTRAL_COLORS | GROUND_COLORS):
        marked = next(end for end in made_up.values() if end[1].name == conductor.name and end[1].marked)
        yield _color(
            conductor,
            marked,
            f"{conductor.name} serves as a hot and is marked {marked[1].marked}, which is no hot's color.",
            "Mark it black or red at every end.",
            "NEC 2023 200.7(C)",
        )
    elif unmarked:
        first = unmarked[0]
        once = "one of its ends is" if marks else "it is"
        yield _color(
            conductor,
            first,
            f"{conductor.name} is {white} and serves as a hot, and {once} not marked in {first[0].place}. "
            "The next person takes it for a neutral.",
            f"Wrap colored tape around it at every end, and write: {conductor.name} marked black",
            "NEC 2023 200.7(C)",
            also=tuple(Note(f"not marked in {join.place} either", join.span) for join, _ in unmarked[1:]),
        )
    elif _comes_back(case, conductor):
        feed = _feed_beside(case, run, conductor)
        yield _color(
            conductor,
            made_up[conductor.ends[0]] if conductor.ends[0] in made_up else made_up[conductor.ends[1]],
            f"{conductor.name} brings the switched hot back from the switch"
            + (f", and {feed} takes the feed. " if feed else ". ")
            + f"In a switch loop the marked {white} is the feed or a traveler; the way back to the light is "
            "another color.",
            f"Exchange {conductor.name} and {feed} at both ends."
            if feed
            else f"Bring it back on a colored wire of {run.name}, and use the marked {white} for the feed or "
            "a traveler.",
            "NEC 2023 200.7(C)(1)",
        )


def _comes_back(case: Case, conductor: Conductor) -> bool:
    """Whether a wire is the way from a switch to the hot side of what works against a neutral."""
    uses, circuit = case.uses, case.circuit
    if uses.of(conductor.ends[0]) != "switched":
        return False
    sides = [side for load in circuit.loads for side in ((load.a, load.b), (load.b, load.a))]
    sides += [
        (f"{device.name}.{spec.hot}", f"{device.name}.{spec.neutral}")
        for device in circuit.devices.values()
        for spec in device.part.outlets
    ]
    piece = uses.piece[conductor.ends[0]]
    return any(uses.piece[hot] == piece and uses.of(other) == "neutral" for hot, other in sides)


def _feed_beside(case: Case, run: Run, conductor: Conductor) -> str | None:
    """The wire of the same cable that takes the feed to the switch, if one does."""
    uses = case.uses
    legs = uses.legs(conductor.ends[0])
    return next(
        (
            other.name
            for other in run.conductors
            if other is not conductor and uses.of(other.ends[0]) == "hot" and uses.legs(other.ends[0]) == legs
        ),
        None,
    )


def _exchanged(case: Case, run: Run) -> bool:
    """Whether a neutral color is a hot and a hot color the neutral, in one cable."""
    uses = {
        one.color in NEUTRAL_COLORS: case.uses.of(one.ends[0])
        for one in run.conductors
        if one.color not in GROUND_COLORS
    }
    return uses.get(False) == "neutral" and uses.get(True) in ("hot", "switched", "either")


def _exchange(run: Run, wrong: list[Finding]) -> Finding:
    hot, neutral = sorted(wrong, key=lambda found: found.span)
    return Finding(
        rule="conductor-color",
        severity="violation",
        message=f"{hot.subject} and {neutral.subject} have changed places: in {run.name} the white is a hot "
        "and a colored wire is the neutral.",
        span=hot.span,
        subject=run.name,
        source="NEC 2023 200.6, 200.7",
        help=f"Exchange {hot.subject} and {neutral.subject} at both ends of {run.name}.",
        also=(Note("and here", neutral.span),),
        stage="trim",
    )


def _odd_end(case: Case, conductor: Conductor, made_up: MadeUp) -> tuple[Join, Member]:
    """The end at which it is joined with what it does not say that it is; else its first end."""
    ends = [made_up[end] for end in conductor.ends if end in made_up]
    for join, member in ends:
        own = meant_for(member, case.board)
        if any(meant_for(other, case.board) not in (own, None) for other in join.members):
            return join, member
    return ends[0]


def _at_least(size: str, least: str) -> bool:
    try:
        return area(size) >= area(least) * (1 - 1e-9)
    except NotInTable:
        return False


def _color(
    conductor: Conductor,
    end: tuple[Join, Member],
    message: str,
    remedy: str,
    source: str,
    severity: Severity = "violation",
    also: tuple[Note, ...] = (),
) -> Finding:
    return Finding(
        rule="conductor-color",
        severity=severity,
        message=message,
        span=end[0].span,
        subject=conductor.name,
        source=source,
        help=remedy,
        also=also,
        stage="trim",
    )


def _thermostat_color(odd: OddColor) -> Finding:
    """Advice where a wire of a usual color is there and another was taken."""
    screw = odd.terminal.spec
    return Finding(
        rule="conductor-color",
        severity="advice",
        message=f"{odd.conductor.name} is on {screw.name}, where {' or '.join(usual_colors(screw.carries))} "
        "is usual. The next technician will look twice.",
        span=odd.join.span,
        subject=odd.conductor.name,
        source="common practice",
        help=f"Use {odd.better.name} for {screw.name} at both ends.",
        stage="trim",
    )
