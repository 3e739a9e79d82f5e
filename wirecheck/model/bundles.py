"""Which cables lie together on their way, as the `bundle` lines of a board say."""

from __future__ import annotations

from wirecheck.language import syntax
from wirecheck.language.syntax import Statement
from wirecheck.model.board import Bundle
from wirecheck.model.draft import Draft


def bundles(statements: tuple[Statement, ...], draft: Draft) -> dict[str, Bundle]:
    """The bundle of each cable that a line names. What lies in a raceway is bunched by that."""
    found: dict[str, Bundle] = {}
    for statement in statements:
        if not isinstance(statement, syntax.BundleStatement):
            continue
        runs = []
        for word in statement.runs:
            run = draft.runs.get(word.text)
            if word.text in draft.broken:
                continue
            if run is None:
                draft.unknown(word, "The cable", list(draft.runs))
            elif run.raceway is not None:
                draft.wrong("syntax", f"{word.text} lies in {run.raceway}.", word.span)
            elif word.text in found or word.text in runs:
                draft.wrong("syntax", f"{word.text} is in a bundle already.", word.span)
            else:
                runs.append(word.text)
        bundle = Bundle(tuple(runs), statement.length.value, statement.span)
        found.update(dict.fromkeys(runs, bundle))
    return found
