"""A wire connector holds more or fewer wires than it is listed for, or wires of another size.

A connector grips only the combinations that are printed on its package. With too many wires it does not
reach them all; with too few, or too thin ones, it turns on empty, and one pulls out as the device is pushed
into its box. A joint is judged where its line names a connector, and another line says what that one holds.
A mix of sizes that it does not list is held to its thickest, its thinnest and its most.

Source: NEC 110.14(B), 110.3(B); UL 486C (from memory)
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Literal, NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Some
from wirecheck.model.board import Connector, Join
from wirecheck.tables.sizes import area

# How much of what a connector is listed for a message names.
MOST_NAMED = 8

Combination = tuple[Some, ...]
Why = Literal["many", "few", "size", "mix"]


class Joined(NamedTuple):
    """What is under a connector: how many wires of each size, pigtails of no size that is said, and leads."""

    sizes: Counter[str]
    tails: int
    leads: int

    @property
    def number(self) -> int:
        """How many they are."""
        return self.sizes.total() + self.tails + self.leads


class NotListed(Problem):
    """A joint that its connector is not listed for, and `why`; `limit` is the number that it holds."""

    join: Join
    connector: Connector
    joined: Joined
    why: Why
    limit: int | None


def find(case: Case) -> Iterator[NotListed]:
    """Each joint whose line names a connector that another line says something of."""
    for join in case.board.joins:
        connector = join.connector
        if connector is None or not connector.combinations:
            continue
        joined, first = _joined(case, join)
        found = _wrong(connector, joined) if joined.sizes else None
        if found is not None:
            yield NotListed(
                at=spot(join),
                about=case.board.conductors[first],
                severity="violation",
                stage="trim" if joined.leads else "rough-in",
                copper=frozenset(case.uses.piece[one.point] for one in join.members if one.point),
                join=join,
                connector=connector,
                joined=joined,
                why=found[0],
                limit=found[1],
            )


def _joined(case: Case, join: Join) -> tuple[Joined, str]:
    """What is under the connector of a join, and its first wire."""
    leads = [
        name
        for name, members in join.under.items()
        if "lead" in case.board.terminals[name].spec.flags and all(one.kind != "pigtail" for one in members)
    ]
    members = [one for one in (join.members if leads else join.splice) if one.kind != "terminal"]
    wires = [one.name for one in members if one.kind == "end"]
    said = [one.size for one in members if one.size is not None]
    sizes = Counter([*said, *(case.board.conductors[name].size for name in wires)])
    return Joined(sizes, len(members) - sizes.total(), len(leads)), next(iter(wires), "")


def _wrong(connector: Connector, joined: Joined) -> tuple[Why, int | None] | None:
    """Why a connector is not listed for what is under it, and how many it holds; None where it may be."""
    sizes, combinations = joined.sizes, connector.combinations
    if not joined.leads:
        if any(_holds(one, joined) for one in combinations):
            return None
        of_these = [one for one in combinations if {some.size.text for some in one} == set(sizes)]
        if of_these and len(sizes) == 1:
            most = max(some.most for (some,) in of_these)
            least = min(some.least for (some,) in of_these)
            return ("many", most) if joined.number > most else ("few", least)
        if len(sizes) == 1 or of_these:
            return ("mix" if of_these else "size"), None
    areas = [area(some.size.text) for one in combinations for some in one]
    if any(not min(areas) <= area(size) <= max(areas) for size in sizes):
        return "size", None
    most = max(sum(some.most for some in one) for one in combinations)
    return ("many", most) if joined.number > most else None


def _holds(combination: Combination, joined: Joined) -> bool:
    """Whether wires are a combination, with the pigtails of no size as any one of them."""
    for tail in joined.sizes:
        all_of_it = joined.sizes + Counter({tail: joined.tails})
        if {some.size.text for some in combination} == set(all_of_it) and all(
            some.least <= all_of_it[some.size.text] <= some.most for some in combination
        ):
            return True
    return False


def words(problem: NotListed, case: Case) -> Words:
    """What is in the joint, and what the connector is listed for."""
    joined, connector = problem.joined, problem.connector
    each = [
        _some(number, size) for size, number in sorted(joined.sizes.items(), key=lambda one: area(one[0]))
    ]
    if joined.tails:
        each.append(f"{joined.tails} pigtail{'s' if joined.tails > 1 else ''}")
    if joined.leads:
        each.append(f"{joined.leads} lead{'s' if joined.leads > 1 else ''}")
    listed_for = listed([_words(one) for one in connector.combinations], MOST_NAMED)
    section = case.code.section("ends of wires are joined or capped", "equipment as its instructions say")
    match problem.why:
        case "many":
            limit, why = f"it holds {problem.limit} at most", "It does not reach all of them."
        case "few":
            limit, why = f"it takes {problem.limit} at least", "It grips them loosely, and one pulls out."
        case "size":
            limit, why = "it is listed for no such size", "It does not hold them."
        case "mix":
            limit, why = "it is listed for no such mix", "It may not reach all of them."
    return Words(
        message=f"Connector {connector.name} is on {listed(each, MOST_NAMED)}, and {limit}. {why}",
        help=f"{connector.name} is listed for {listed_for}. Use a connector that is listed for what is "
        "there, or divide it into two joints, with a jumper of the circuit's size between them.",
        source=f"{section}; UL 486C",
        value=None if problem.limit is None else float(joined.number),
        limit=None if problem.limit is None else float(problem.limit),
        unit=None if problem.limit is None else "wires",
    )


def _some(number: int, size: str) -> str:
    return f"{number} wire{'s' if number > 1 else ''} of {gauge(size)}"


def _words(combination: Combination) -> str:
    """A combination as its line says it."""
    return " and ".join(
        f"{some.least}{f' to {some.most}' if some.most > some.least else ''} of {gauge(some.size.text)}"
        for some in combination
    )


RULE = rule(__name__, "rough-in", "trim", severities=("violation",), find=find, words=words)
