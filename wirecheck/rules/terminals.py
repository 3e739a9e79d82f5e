"""Rules about a wire's ends: left loose, crowded under a screw, of the wrong size or color."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.model.board import Conductor, Join, Terminal
from wirecheck.rules.old import rule
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area, trade_size

# From this size up a wire of another color may be marked as a neutral or a ground: 200.6(B), 250.119.
LARGE = "4"
LIVE = ("hot", "switched", "either", "mixed")
# How many wires one message names.
MOST_NAMED = 6


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
