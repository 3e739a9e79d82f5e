"""Wire connectors, and what each is listed to hold, as the `connector` lines of a board say."""

from __future__ import annotations

from wirecheck.language import syntax
from wirecheck.language.syntax import Statement
from wirecheck.model.board import Connector
from wirecheck.model.draft import Draft
from wirecheck.tables.sizes import trade_size

# What is marked on a connector that takes aluminum and copper together (UL 486C, from memory).
BOTH_METALS = "AL-CU"


def connectors(statements: tuple[Statement, ...], draft: Draft) -> dict[str, Connector]:
    """Each connector that a line declares, by its name."""
    found: dict[str, Connector] = {}
    for statement in statements:
        if not isinstance(statement, syntax.ConnectorStatement) or not draft.declare(statement.name):
            continue
        name = statement.name.text
        for combination in statement.combinations:
            for some in combination:
                try:
                    trade_size(some.size.text)
                except LookupError as unknown:
                    draft.wrong("syntax", f"{unknown}.", some.size.span, "Sizes are written as 14 AWG.")
                    draft.broken.add(name)
        if name not in draft.broken:
            found[name] = Connector(name, statement.combinations, name == BOTH_METALS, statement.span)
    return found
