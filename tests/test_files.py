"""What travels with the package is found."""

from wirecheck import files


def test_what_ships_is_found():
    assert files.grammar_text().startswith("// The board language")
    assert files.tables_path().is_file()
