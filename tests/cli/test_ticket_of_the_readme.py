"""The ticket in the README is what the tool says, to the letter."""

from __future__ import annotations

import re

from tests.cli.boards import ROOT, wirecheck

README = ROOT / "README.md"
TICKET = re.compile(
    r"<!-- ticket -->\n```\n\$ wirecheck (?P<command>.*)\n(?P<told>(?:.*\n)*?)```\n<!-- /ticket -->"
)


def test_the_ticket_in_the_readme_is_what_the_tool_says(tmp_path) -> None:
    """The lines that it shows as typed are asked again."""
    shown = TICKET.search(README.read_text(encoding="utf-8"))
    asked = "".join(f"{line[2:]}\n" for line in shown["told"].splitlines() if line.startswith("> "))
    script = tmp_path / "asked.txt"
    script.write_text(asked)
    words = [str(script) if word == "asked.txt" else word for word in shown["command"].split()]
    done = wirecheck(*words, folder=ROOT)
    assert (done.returncode, done.stderr) == (0, b"")
    assert shown["told"] == done.stdout.decode()
