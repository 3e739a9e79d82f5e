"""Write the parser's tables: `python -m wirecheck.language.compile`, after the grammar changes."""

from __future__ import annotations

import io
import json
import pickle
import sys

from wirecheck.files import grammar_text, tables_path
from wirecheck.language.grammar import build, made_for
from wirecheck.whole import write_whole


def tables(grammar: str) -> str:
    """The parser's tables as JSON, with what they were made for."""
    saved = io.BytesIO()
    build(grammar).save(saved, exclude_options=["edit_terminals"])
    # lark saves as a pickle; JSON can be read without running anything.
    contents = pickle.loads(saved.getvalue())
    return (
        json.dumps({"made-for": made_for(grammar), **contents}, sort_keys=True, separators=(",", ":")) + "\n"
    )


def main() -> None:
    """Write the tables where `grammar.parser` looks for them."""
    path = tables_path()
    write_whole(path, tables(grammar_text()).encode())
    sys.stdout.write(f"{path}\n")


if __name__ == "__main__":
    main()
