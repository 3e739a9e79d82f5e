"""Every message in one file that a person reads: a change of words shows as a change of that file."""

from tests.words.printed import FILE, OWN, printed
from wirecheck.rules import rules


def test_the_messages_are_those_in_the_file() -> None:
    assert printed() == FILE.read_text(encoding="utf-8"), "see it: python -m tests.words.printed --write"


def test_the_boards_of_their_own_are_those_of_rules() -> None:
    assert {path.name for path in OWN.iterdir()} <= {rule.name for rule in rules()}
