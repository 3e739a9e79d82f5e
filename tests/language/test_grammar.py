"""The grammar, its tables, and that they are one."""

import json
import re

from wirecheck import files
from wirecheck.language import grammar
from wirecheck.language.compile import tables

RULE = re.compile(r"^[?!]?[a-z_]+(\.\d+)?:|^[A-Z_]+(\.\d+)?:", re.MULTILINE)


def test_the_tables_are_current():
    # Another version of lark only makes them unused, so it is no fault of theirs.
    kept = json.loads(files.tables_text())["made-for"].partition(", ")
    now = grammar.made_for(files.grammar_text()).partition(", ")
    assert kept[2] == now[2], "run python -m wirecheck.language.compile"


def test_tables_and_grammar_give_the_same_parser():
    built, loaded = grammar.build(files.grammar_text()), grammar.parser()
    assert {each.name: each.pattern.to_regexp() for each in built.terminals} == {
        each.name: each.pattern.to_regexp() for each in loaded.terminals
    }
    for statement in (
        "cable W1 14/2 NM-B 22 ft from LP (free 8 in) to A in R1",
        "control goes from a to b after 15 s when not c is d or call heat and e has 18 V to f",
        "W1.white marked black -- pigtail -- load when up",
    ):
        assert built.parse(statement) == loaded.parse(statement)


def test_tables_of_another_grammar_are_not_used(monkeypatch):
    other = files.grammar_text().replace('"ambient"', '"surroundings"')
    monkeypatch.setattr(grammar, "grammar_text", lambda: other)
    parser = grammar.parser.__wrapped__()
    assert parser.parse("surroundings 30 C").data == "ambient"


def test_missing_tables_cost_time_alone(monkeypatch):
    monkeypatch.setattr(grammar, "tables_text", lambda: None)
    assert grammar.parser.__wrapped__().parse("at A").data == "at"


def test_what_is_written_is_what_is_loaded(monkeypatch):
    text = tables(files.grammar_text())
    monkeypatch.setattr(grammar, "tables_text", lambda: text)
    assert grammar.parser.__wrapped__().parse("ambient 30 C").data == "ambient"


def test_every_rule_of_the_grammar_has_its_comment():
    blocks = [block for block in files.grammar_text().split("\n\n") if RULE.search(block)]
    assert len(blocks) > 50
    without = [block for block in blocks if not block.lstrip().startswith("//")]
    assert without == []
